//! The order stage: packs to buy, by trip and department, less what is at home.
//!
//! Every need is covered at the least price that whole packs allow, in one size of pack where that costs little more; what
//! keeps and is left over from one trip serves the next. Par and standing items stand on the same sheet.

mod cover;

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::DateTime;
use larderwright_model::{
    Allergen, Answer, Batch, Conflict, Demand, Department, Food, FoodId, Item, Order, OrderLine, Purpose,
    Report, Shop, Snapshot, Stage, StockState, StockUse, StorageClass, Supply,
};
use larderwright_quantity::{Mass, Money, Rounding};

use crate::menu::say;

pub use cover::{Cover, cheapest_cover, handy_cover};

/// Lead work that would start at night starts up to so many hours earlier.
const NIGHT_H: i64 = 10;

/// What the order stage hands on.
#[derive(Clone, Debug)]
pub struct OrderResult {
    /// The order.
    pub order: Order,
    /// Why.
    pub report: Report,
}

/// Why there is no order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OrderProblem {
    /// In the household's words.
    pub conflict: Conflict,
    /// The food and what it is needed for, when it is needed before any shopping is home.
    pub unshopped: Option<(FoodId, Purpose)>,
}

impl From<Conflict> for OrderProblem {
    fn from(conflict: Conflict) -> Self {
        Self {
            conflict,
            unshopped: None,
        }
    }
}

/// A need for a food by a certain time.
struct Need {
    by: DateTime,
    ap: Mass,
    purpose: Purpose,
}

/// Decides what to buy.
///
/// # Errors
/// A food that no trip to the shop brings home in time, or that is sold in no known pack.
pub fn compute(snapshot: &Snapshot, demand: &Demand, batches: &[Batch]) -> Result<OrderResult, OrderProblem> {
    let needs = needs(snapshot, demand, batches);
    let readers = readers(snapshot, demand, batches);
    let mut order = Order::default();
    let mut rejected = Vec::new();
    for (id, list) in &needs {
        let food = &snapshot.foods[id];
        if food.is_tap() {
            continue;
        }
        Buyer {
            snapshot,
            food,
            order: &mut order,
            rejected: &mut rejected,
            readers: &readers,
        }
        .buy(list)?;
    }
    order.lines.sort_by(|a, b| key(a).cmp(&key(b)));
    let report = report(snapshot, &order, rejected);
    Ok(OrderResult { order, report })
}

/// For each food the allergens that somebody who eats it avoids.
type Readers = BTreeMap<FoodId, BTreeSet<Allergen>>;

fn key(line: &OrderLine) -> (&str, Department, &str, &str) {
    (
        line.shop.as_str(),
        line.department,
        line.food.as_str(),
        &line.pack,
    )
}

fn needs(snapshot: &Snapshot, demand: &Demand, batches: &[Batch]) -> BTreeMap<FoodId, Vec<Need>> {
    let mut needs: BTreeMap<FoodId, Vec<Need>> = BTreeMap::new();
    for batch in batches {
        let session = snapshot
            .session(&batch.session)
            .expect("a batch belongs to a session of the week");
        let by = start_of_work(snapshot, batch, session.from);
        for input in batch.inputs.iter().filter(|input| input.ap.is_positive()) {
            let need = Need {
                by,
                ap: input.ap,
                purpose: Purpose::Batch(batch.id.clone()),
            };
            needs.entry(input.food.clone()).or_default().push(need);
        }
    }
    for (food, plates) in plate_needs(snapshot, demand) {
        needs.entry(food).or_default().extend(plates);
    }
    for (food, need) in household_needs(snapshot) {
        needs.entry(food).or_default().push(need);
    }
    for list in needs.values_mut() {
        list.sort_by_key(|need| need.by);
    }
    needs
}

/// When the first input is needed: before the soak, which may be moved to the evening before.
fn start_of_work(snapshot: &Snapshot, batch: &Batch, session: DateTime) -> DateTime {
    let component = &snapshot.components[&batch.component];
    let way = component
        .way(&batch.way)
        .expect("a batch is made in a way of its component");
    let lead: i64 = way
        .steps
        .iter()
        .filter(|step| step.lead)
        .map(|step| step.law.likely(batch.x).secs())
        .sum();
    let evening = if lead > 0 { NIGHT_H * 3600 } else { 0 };
    session.saturating_sub(jiff::Span::new().seconds(lead + evening))
}

/// Foods eaten as they are: edible masses add up over the week before they are turned into as
/// purchased, so that rounding happens once.
fn plate_needs(snapshot: &Snapshot, demand: &Demand) -> BTreeMap<FoodId, Vec<Need>> {
    let mut edible: BTreeMap<FoodId, Vec<(DateTime, Mass, Purpose)>> = BTreeMap::new();
    for sitting in &snapshot.sittings {
        let mut here: BTreeMap<FoodId, Mass> = BTreeMap::new();
        for draw in demand
            .draws
            .iter()
            .filter(|draw| draw.sitting == sitting.id && draw.supply == Supply::Bought)
        {
            if let Item::Food(food) = &draw.item {
                *here.entry(food.clone()).or_insert(Mass::ZERO) += draw.mass;
            }
        }
        for (food, mass) in here {
            let entry = (
                sitting.leaves_fridge(),
                mass,
                Purpose::Sitting(sitting.id.clone()),
            );
            edible.entry(food).or_default().push(entry);
        }
    }
    let purchased = edible.into_iter().map(|(food, list)| {
        let share = snapshot.foods[&food].edible.value;
        let mut eaten = Mass::ZERO;
        let mut counted = Mass::ZERO;
        let needs = list.into_iter().map(|(by, mass, purpose)| {
            eaten += mass;
            let ap = share.undo(eaten, Rounding::Up) - counted;
            counted += ap;
            Need { by, ap, purpose }
        });
        let needs: Vec<Need> = needs.collect();
        (food, needs)
    });
    purchased.collect()
}

/// For each food the allergens that someone who will eat it has to read the label for.
fn readers(snapshot: &Snapshot, demand: &Demand, batches: &[Batch]) -> Readers {
    let mut readers: Readers = BTreeMap::new();
    for draw in &demand.draws {
        let larderwright_model::Cover::Eater(id) = &draw.cover else {
            continue;
        };
        let Some(eater) = snapshot
            .household
            .eater(id)
            .filter(|eater| !eater.allergies.is_empty())
        else {
            continue;
        };
        let foods: Vec<FoodId> = match &draw.item {
            Item::Food(food) => vec![food.clone()],
            Item::Component(component) => {
                let inputs = batches
                    .iter()
                    .filter(|batch| batch.component == *component)
                    .flat_map(|batch| &batch.inputs);
                inputs.map(|input| input.food.clone()).collect()
            }
        };
        for food in foods
            .into_iter()
            .filter(|food| has_to_be_read(&snapshot.foods[food]))
        {
            readers
                .entry(food)
                .or_default()
                .extend(eater.allergies.keys().copied());
        }
    }
    readers
}

fn has_to_be_read(food: &Food) -> bool {
    let may = food.allergens.as_ref().is_none_or(|known| {
        known
            .values()
            .any(|presence| *presence == larderwright_model::Presence::MayContain)
    });
    food.read_label || may
}

struct Buyer<'a> {
    snapshot: &'a Snapshot,
    food: &'a Food,
    order: &'a mut Order,
    rejected: &'a mut Vec<String>,
    readers: &'a Readers,
}

impl Buyer<'_> {
    fn buy(&mut self, needs: &[Need]) -> Result<(), OrderProblem> {
        let mut at_home = at_home(self.snapshot, self.food);
        let mut taken = Mass::ZERO;
        // What each trip has to bring: mass and purposes.
        let mut trips: BTreeMap<usize, (Mass, BTreeSet<Purpose>)> = BTreeMap::new();
        for need in needs {
            // What is at home is for cooking; par and standing items come on top of it.
            let restocks = matches!(need.purpose, Purpose::Par | Purpose::Standing);
            let from_stock = if restocks {
                Mass::ZERO
            } else {
                need.ap.min(at_home)
            };
            at_home -= from_stock;
            taken += from_stock;
            let rest = need.ap - from_stock;
            if rest.is_positive() {
                let shop = if restocks { 0 } else { self.trip(need)? };
                let trip = trips.entry(shop).or_insert((Mass::ZERO, BTreeSet::new()));
                trip.0 += rest;
                trip.1.insert(need.purpose.clone());
            }
        }
        if taken.is_positive() {
            self.order.from_stock.push(StockUse {
                food: self.food.id.clone(),
                mass: taken,
            });
        }
        Ok(self.cover(trips)?)
    }

    /// Which trip brings it: the first in time for what keeps, the last in time for what does not.
    fn trip(&self, need: &Need) -> Result<usize, OrderProblem> {
        let in_time: Vec<usize> = (0..self.snapshot.shops.len())
            .filter(|ix| self.snapshot.shops[*ix].at <= need.by)
            .collect();
        let short_lived = matches!(
            self.food.storage,
            StorageClass::FridgeShort | StorageClass::Counter
        );
        let trip = if short_lived {
            in_time.last()
        } else {
            in_time.first()
        };
        trip.copied().ok_or_else(|| OrderProblem {
            conflict: no_trip(self.snapshot, self.food, need),
            unshopped: Some((self.food.id.clone(), need.purpose.clone())),
        })
    }

    fn cover(&mut self, trips: BTreeMap<usize, (Mass, BTreeSet<Purpose>)>) -> Result<(), Conflict> {
        let mut carried: Vec<(usize, Mass)> = Vec::new();
        for (shop, (mass, purposes)) in trips {
            let mut missing = mass;
            if self.food.storage.keeps_beyond_a_week() {
                for (line, left) in &mut carried {
                    let use_now = missing.min(*left);
                    *left -= use_now;
                    missing -= use_now;
                    let line = &mut self.order.lines[*line];
                    line.used += use_now;
                    line.purposes.extend(purposes.iter().cloned());
                    line.purposes.sort();
                    line.purposes.dedup();
                }
            }
            if missing.is_positive() {
                let first = self.order.lines.len();
                self.add_lines(&self.snapshot.shops[shop], missing, &purposes)?;
                for ix in first..self.order.lines.len() {
                    let line = &self.order.lines[ix];
                    carried.push((ix, line.bought() - line.used));
                }
            }
        }
        Ok(())
    }

    fn add_lines(&mut self, shop: &Shop, need: Mass, purposes: &BTreeSet<Purpose>) -> Result<(), Conflict> {
        let best = handy_cover(need, &self.food.packs).ok_or_else(|| no_pack(self.food))?;
        if let Some(single) = runner_up(need, &self.food.packs, best.price) {
            self.rejected.push(format!("{}: {single}", self.food.name));
        }
        let labels = self
            .readers
            .get(&self.food.id)
            .map(|set| set.iter().copied().collect())
            .unwrap_or_default();
        push_lines(
            self.order,
            (self.food, shop),
            need,
            (best, purposes.iter().cloned().collect(), labels),
        );
        Ok(())
    }
}

/// Adds a line for every pack size used; `need` is counted as used from the first line on.
fn push_lines(
    order: &mut Order,
    (food, shop): (&Food, &Shop),
    need: Mass,
    (cover, purposes, read_label): (Cover, Vec<Purpose>, Vec<Allergen>),
) {
    let mut open = need;
    for (pack_ix, count) in cover
        .counts
        .into_iter()
        .enumerate()
        .filter(|(_, count)| *count > 0)
    {
        let pack = &food.packs[pack_ix];
        let used = open.min(pack.size.mass.times(count));
        open -= used;
        order.lines.push(OrderLine {
            shop: shop.id.clone(),
            department: food.department,
            food: food.id.clone(),
            pack: pack.size.label.clone(),
            pack_mass: pack.size.mass,
            count,
            price: pack.price.times(count),
            basis: pack.basis.clone(),
            purposes: purposes.clone(),
            used,
            read_label: read_label.clone(),
        });
    }
}

/// The dearest plausible alternative: one pack size alone, where that costs more.
fn runner_up(need: Mass, packs: &[larderwright_model::Pack], best: Money) -> Option<String> {
    let single = |pack: &larderwright_model::Pack| {
        let count = need.div_ceil_by(pack.size.mass);
        (pack.price.times(count), format!("{count} x {}", pack.size.label))
    };
    let dearer = packs
        .iter()
        .map(single)
        .filter(|(price, _)| *price > best)
        .min()?;
    Some(format!(
        "{} would cost {} more",
        dearer.1,
        (dearer.0 - best).minor()
    ))
}

/// What the tick list lets the plan count on: a usual pack for *have*, nothing for *low*.
/// What is counted on as being at home, as purchased.
pub(crate) fn at_home(snapshot: &Snapshot, food: &Food) -> Mass {
    let items = snapshot
        .household
        .stock
        .iter()
        .filter(|item| item.food == food.id);
    let mass = items.map(|item| match item.state {
        StockState::Have => food
            .packs
            .first()
            .map_or(Mass::from_g(500), |pack| pack.size.mass),
        StockState::Low => Mass::ZERO,
        StockState::Amount(mass) => mass,
    });
    mass.max().unwrap_or(Mass::ZERO)
}

/// Par levels to restore and standing items, bought on the first trip whatever is cooked.
fn household_needs(snapshot: &Snapshot) -> Vec<(FoodId, Need)> {
    let Some(shop) = snapshot.shops.first() else {
        return Vec::new();
    };
    let household = &snapshot.household;
    let par = household
        .pars
        .iter()
        .map(|par| (&par.food, par.level.saturating_sub(par.on_hand), Purpose::Par));
    let standing = household
        .standing
        .iter()
        .map(|item| (&item.food, item.mass, Purpose::Standing));
    let wanted = par.chain(standing).filter(|(_, mass, _)| mass.is_positive());
    wanted
        .map(|(food, ap, purpose)| {
            (
                food.clone(),
                Need {
                    by: shop.at,
                    ap,
                    purpose,
                },
            )
        })
        .collect()
}

fn report(snapshot: &Snapshot, order: &Order, rejected: Vec<String>) -> Report {
    let total: Money = order.lines.iter().map(|line| line.price).sum();
    let text = larderwright_quantity::fmt_money(total, &snapshot.household.currency);
    Report {
        stage: Stage::Order,
        answer: Answer::Proven,
        chosen: vec![
            format!(
                "{} lines for {text}, each need covered at the least price whole packs allow, in one size of pack where that costs little more",
                order.lines.len()
            ),
            format!("{} foods are taken from home", order.from_stock.len()),
        ],
        rejected,
    }
}

/// The trips of the week in words.
pub(crate) fn trips_said(snapshot: &Snapshot) -> String {
    let trips: Vec<String> = snapshot.shops.iter().map(|shop| say(shop.at)).collect();
    if trips.is_empty() {
        "no shopping day is listed".to_string()
    } else {
        format!("shopping: {}", trips.join(", "))
    }
}

fn no_trip(snapshot: &Snapshot, food: &Food, need: &Need) -> Conflict {
    let trips = trips_said(snapshot);
    Conflict {
        stage: Stage::Order,
        message: format!(
            "{} is needed by {}, before any shopping is home",
            food.name.to_lowercase(),
            say(need.by)
        ),
        wishes: vec![trips, format!("cook or eat at {}", say(need.by))],
        mends: vec![
            format!("add a shopping day before {}", say(need.by)),
            format!("tick {} as at home, if it is", food.id),
        ],
    }
}

fn no_pack(food: &Food) -> Conflict {
    Conflict {
        stage: Stage::Order,
        message: format!("no pack of {} is known", food.name.to_lowercase()),
        wishes: vec![format!("{} is on the menu", food.name.to_lowercase())],
        mends: vec![format!(
            "add a price with a pack size for {} to the household file",
            food.id
        )],
    }
}
