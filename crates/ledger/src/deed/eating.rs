//! Eating: lots go onto plates; something comes back.

use std::collections::BTreeMap;

use larderwright_model::{
    Account, Cover, EaterId, EventId, Fact, FoodId, Goods, Item, LotCard, LotId, MealId, Move, Place, Plate,
    Portion, PortionSource, Reported, ServedFact, SittingId,
};
use larderwright_quantity::{Mass, Rounding, mul_div};

use super::Deed;
use crate::stock::{Price, Stock};

/// What a sitting eats, and what unwritten foods are thought to cost.
pub struct Plates<'a> {
    /// Which sitting.
    pub sitting: &'a SittingId,
    /// The plates as planned.
    pub plates: &'a [&'a Plate],
    /// How much of the plan was eaten, per thousand; more for more people.
    pub permille: i64,
    /// As purchased for an edible mass of a food.
    pub purchased: &'a dyn Fn(&FoodId, Mass) -> Mass,
    /// Prices of foods that nobody wrote down.
    pub price: &'a dyn Fn(&FoodId) -> Price,
    /// A portion as it would be by the appetite that was stated.
    pub stated: &'a dyn Fn(&Plate, &Portion) -> Mass,
}

/// The event that presumes a sitting to have gone as planned; every report takes its place.
#[must_use]
pub fn presumed_id(sitting: &SittingId) -> EventId {
    EventId::new(&format!("presumed:{sitting}"))
}

/// A sitting was served. Lots give what they have: a plate that fell short was short.
#[must_use]
pub fn served(stock: &mut Stock, plates: &Plates<'_>, reported: Reported) -> Deed {
    let mut deed = Deed::of(Fact::Served(ServedFact {
        sitting: plates.sitting.clone(),
        meal: plates.plates.first().map(|plate| plate.meal.clone()),
        eaters: eaters(plates),
        covers: u32::try_from(plates.plates.len()).expect("a table seats few"),
        planned: plates
            .plates
            .iter()
            .flat_map(|plate| {
                plate
                    .portions
                    .iter()
                    .map(|portion| (plates.stated)(plate, portion))
            })
            .sum(),
        reported,
    }));
    if reported == Reported::Presumed {
        deed.id = Some(presumed_id(plates.sitting));
    } else {
        deed.corrects = Some(presumed_id(plates.sitting));
    }
    for (source, mass) in drawn(plates) {
        let eaten = Mass::from_mg(mul_div(mass.mg(), plates.permille, 1000, Rounding::Nearest));
        match source {
            PortionSource::Lot(lot) => deed.moves.extend(stock.take_lot(&lot, eaten, &Account::Eaten)),
            PortionSource::Food(food) => deed.moves.extend(bought(stock, plates, &food, eaten)),
        }
    }
    deed
}

fn eaters(plates: &Plates<'_>) -> Vec<EaterId> {
    let covers = plates.plates.iter().map(|plate| &plate.cover);
    covers
        .filter_map(|cover| match cover {
            Cover::Eater(id) => Some(id.clone()),
            Cover::Guest(_) => None,
        })
        .collect()
}

/// Masses by source, each source once.
fn drawn(plates: &Plates<'_>) -> BTreeMap<PortionSource, Mass> {
    let mut drawn = BTreeMap::new();
    for portion in plates.plates.iter().flat_map(|plate| &plate.portions) {
        *drawn.entry(portion.source.clone()).or_insert(Mass::ZERO) += portion.mass;
    }
    drawn
}

/// A food as bought: the edible part is eaten, the rest is trim.
fn bought(stock: &mut Stock, plates: &Plates<'_>, food: &FoodId, eaten: Mass) -> Vec<Move> {
    let ap = (plates.purchased)(food, eaten);
    let mut trim = ap.saturating_sub(eaten);
    let mut moves = Vec::new();
    for step in stock.take_food(food, ap, &Account::Eaten, (plates.price)(food)) {
        let peel = trim.min(step.mass);
        trim -= peel;
        if peel.is_positive() {
            moves.push(Move {
                mass: peel,
                to: Account::Trim,
                worth: 0,
                ..step.clone()
            });
        }
        if step.mass > peel {
            moves.push(Move {
                mass: step.mass - peel,
                ..step
            });
        }
    }
    moves
}

/// Nobody ate here.
#[must_use]
pub fn skipped(sitting: &SittingId) -> Deed {
    let fact = ServedFact {
        sitting: sitting.clone(),
        meal: None,
        eaters: Vec::new(),
        covers: 0,
        planned: Mass::ZERO,
        reported: Reported::Skipped,
    };
    Deed {
        corrects: Some(presumed_id(sitting)),
        ..Deed::of(Fact::Served(fact))
    }
}

/// What was left in a pot or on a dish.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LeftOver {
    /// Its label: the earliest date of what is in it.
    pub card: LotCard,
    /// How much.
    pub mass: Mass,
    /// What it is worth.
    pub worth: i64,
    /// Where it goes.
    pub place: Place,
    /// After which sitting.
    pub sitting: Option<SittingId>,
}

/// What was left becomes a lot of its own.
#[must_use]
pub fn left_over(left: LeftOver) -> Deed {
    let step = Move {
        lot: left.card.lot.clone(),
        from: Account::Eaten,
        to: Account::Place(left.place),
        mass: left.mass,
        worth: left.worth,
    };
    Deed {
        cards: vec![left.card],
        moves: vec![step],
        ..Deed::of(Fact::LeftOver {
            sitting: left.sitting,
        })
    }
}

/// What came back on plates is thrown away, as a part of everything that was served.
#[must_use]
pub fn returned(sitting: &SittingId, served: &[Move], mass: Mass) -> Deed {
    let eaten: Vec<&Move> = served.iter().filter(|step| step.to == Account::Eaten).collect();
    let total: Mass = eaten.iter().map(|step| step.mass).sum();
    let mut left = mass.min(total);
    let mut rest = total;
    let mut moves = Vec::new();
    for step in eaten {
        let part = Mass::from_mg(mul_div(
            left.mg(),
            step.mass.mg(),
            rest.mg().max(1),
            Rounding::Nearest,
        ))
        .min(step.mass);
        left -= part;
        rest -= step.mass;
        if part.is_positive() {
            moves.push(Move {
                from: Account::Eaten,
                to: Account::Bin,
                mass: part,
                worth: mul_div(step.worth, part.mg(), step.mass.mg().max(1), Rounding::Nearest),
                lot: step.lot.clone(),
            });
        }
    }
    Deed {
        moves,
        ..Deed::of(Fact::Returned {
            sitting: sitting.clone(),
        })
    }
}

/// The goods of a dish or of the one component left.
#[must_use]
pub fn left_goods(items: &[Item], meal: &MealId) -> Goods {
    match items {
        [Item::Component(id)] => Goods::Component(id.clone()),
        [Item::Food(id)] => Goods::Food(id.clone()),
        _ => Goods::Dish(meal.clone()),
    }
}

/// The identifier of a left-over lot.
#[must_use]
pub fn left_over_lot(sitting: &SittingId, number: usize) -> LotId {
    LotId::new(&format!("left-over@{sitting}/{number}"))
}
