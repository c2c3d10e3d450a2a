//! The shop: what was bought becomes lots.

use jiff::civil::{Date, DateTime};
use larderwright_ledger::Deed;
use larderwright_ledger::deed::{self, Purchase};
use larderwright_model::{
    Food, FoodId, Household, Keep, LotId, OrderLine, Place, Reported, RuleId, ShopId, StorageClass,
};
use larderwright_quantity::{Mass, Money, Rounding, System, mass_text, mul_div};
use larderwright_reference::KeepingLookup;
use larderwright_store::Store;
use larderwright_views::Words;

use super::names::goods_name;
use super::{Home, HomeError, Now, Told};
use crate::catalogue::foods;

/// What a cook says of something bought.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Buying {
    /// What.
    pub food: FoodId,
    /// How many packs.
    pub count: i64,
    /// Mass of one pack; `None` for the usual one.
    pub pack: Option<Mass>,
    /// What they cost together.
    pub price: Option<Money>,
    /// The date printed on the pack.
    pub printed: Option<Date>,
}

impl<S: Store> Home<S> {
    /// Something was bought outside any plan, or of a plan's order when a line of it fits.
    ///
    /// # Errors
    /// When the store fails or no pack is known.
    pub async fn bought(&self, buying: Buying, now: &Now) -> Result<Told, HomeError> {
        let household = self.household().await?;
        let food = food_of(&household, &buying.food)?;
        let at = now.minute();
        let line = self.open_line(&buying, at).await?;
        let (pack, pack_mass, estimate) = pack_of(&food, &buying, line.as_ref())?;
        let trip = line.map(|line| line.shop);
        let mut purchase = Purchase {
            lot: LotId::new(&format!("{}@{}", buying.food, at.strftime("%Y-%m-%dT%H:%M"))),
            food: buying.food.clone(),
            pack: pack.clone(),
            pack_mass,
            count: buying.count,
            price: buying.price,
            estimate,
            trip: trip.clone(),
            printed: buying.printed,
            at,
            place: place_of(&food),
            keep: keep_of(&household, &food, at),
            reported: Reported::Told,
        };
        purchase.lot = self.free_lot(purchase.lot).await?;
        let words = Words::of(&household);
        let line = format!(
            "bought {} × {pack} of {}: {} in the {}",
            buying.count,
            goods_name(&larderwright_model::Goods::Food(buying.food.clone())),
            words.mass(pack_mass.times(buying.count)),
            purchase.place.word()
        );
        let id = trip.map(|trip| deed::bought_id(&trip, &buying.food, &pack));
        let deed = match id {
            Some(id) => ordered(deed::bought(purchase), id, Reported::Told),
            None => deed::bought(purchase),
        };
        let told = self.tell(vec![deed], now).await?;
        Ok(Told {
            lines: vec![line],
            ..told
        })
    }

    /// The line of a current order that this purchase ticks off.
    async fn open_line(&self, buying: &Buying, at: DateTime) -> Result<Option<OrderLine>, HomeError> {
        for week in self.weeks_at(at).await? {
            let done = self.bought_lines(&week.plan).await?;
            let fits = |line: &&OrderLine| {
                line.food == buying.food
                    && buying.pack.is_none_or(|mass| mass == line.pack_mass)
                    && !done.contains(&deed::bought_id(&line.shop, &line.food, &line.pack))
            };
            if let Some(line) = week.plan.order.lines.iter().find(fits) {
                return Ok(Some(line.clone()));
            }
        }
        Ok(None)
    }

    async fn weeks_at(&self, at: DateTime) -> Result<Vec<super::Week>, HomeError> {
        let mut weeks = Vec::new();
        for monday in super::reality::weeks_around(at.date()) {
            weeks.extend(self.current(monday).await?);
        }
        Ok(weeks)
    }

    /// The lines of an order that were bought, by the identifiers of buying them.
    ///
    /// # Errors
    /// When the store fails.
    pub async fn bought_lines(
        &self,
        plan: &larderwright_model::WeekPlan,
    ) -> Result<std::collections::BTreeSet<larderwright_model::EventId>, HomeError> {
        let mut done = std::collections::BTreeSet::new();
        let trips: std::collections::BTreeSet<&ShopId> =
            plan.order.lines.iter().map(|line| &line.shop).collect();
        for trip in trips {
            let subject = larderwright_ledger::Subject::Trip(trip.clone());
            let events = self.store.events_about(&subject).await?;
            done.extend(events.into_iter().map(|event| event.id));
        }
        Ok(done)
    }

    /// Every line of a trip that is not bought yet was bought as it stands on the order sheet.
    ///
    /// # Errors
    /// When there is no such trip.
    pub async fn bought_all(&self, trip: Option<&ShopId>, now: &Now) -> Result<Told, HomeError> {
        let mut told = Told::default();
        for week in self.current_weeks(now).await? {
            let first = week.plan.order.lines.iter().map(|line| line.shop.clone()).min();
            let wanted = trip.cloned().or(first);
            let deeds = self
                .order_deeds(&week, wanted.as_ref(), (now.minute(), Reported::Told))
                .await?;
            if !deeds.is_empty() {
                let count = deeds.len();
                let more = self.tell(deeds, now).await?;
                told = told.and(Told {
                    lines: vec![format!(
                        "bought {count} lines of the order of {}",
                        wanted.as_ref().map_or("", |trip| trip.as_str())
                    )],
                    ..more
                });
            }
        }
        if told.lines.is_empty() {
            told.lines
                .push("everything on the order is bought already".into());
        }
        Ok(told)
    }

    /// Buying every open line of a trip.
    pub(crate) async fn order_deeds(
        &self,
        week: &super::Week,
        trip: Option<&ShopId>,
        (at, reported): (DateTime, Reported),
    ) -> Result<Vec<Deed>, HomeError> {
        let household = &week.snapshot.household;
        let done = self.bought_lines(&week.plan).await?;
        let lines = week
            .plan
            .order
            .lines
            .iter()
            .filter(|line| trip.is_none_or(|trip| line.shop == *trip));
        let mut deeds = Vec::new();
        for line in lines {
            let id = deed::bought_id(&line.shop, &line.food, &line.pack);
            if done.contains(&id) {
                continue;
            }
            deeds.push(line_deed(household, line, (at, reported))?);
        }
        Ok(deeds)
    }

    /// The total of a receipt.
    ///
    /// # Errors
    /// When the store fails.
    pub async fn receipt(&self, trip: Option<ShopId>, total: Money, now: &Now) -> Result<Told, HomeError> {
        let trip = match trip {
            Some(trip) => Some(trip),
            None => {
                let weeks = self.current_weeks(now).await?;
                let lines = weeks.iter().flat_map(|week| &week.plan.order.lines);
                let today = now.minute().date().to_string();
                let past = lines
                    .map(|line| &line.shop)
                    .filter(|shop| *shop.as_str() <= *today);
                past.max().cloned()
            }
        };
        let line = match &trip {
            Some(trip) => format!("noted the receipt of the trip of {trip}"),
            None => "noted the receipt".to_owned(),
        };
        let told = self.tell(vec![deed::receipt(trip, total)], now).await?;
        Ok(Told {
            lines: vec![line],
            ..told
        })
    }

    /// A lot identifier that is not taken yet.
    pub(crate) async fn free_lot(&self, wanted: LotId) -> Result<LotId, HomeError> {
        let mut lot = wanted.clone();
        let mut number = 1;
        while self.store.lot(&lot).await?.is_some() {
            number += 1;
            lot = LotId::new(&format!("{wanted}/{number}"));
        }
        Ok(lot)
    }
}

/// Buying a line of an order as it stands there.
pub(crate) fn line_deed(
    household: &Household,
    line: &OrderLine,
    (at, reported): (DateTime, Reported),
) -> Result<Deed, HomeError> {
    let food = food_of(household, &line.food)?;
    let lot = LotId::new(&format!("{}@{}/{}", line.food, line.shop, line.pack));
    let purchase = Purchase {
        lot,
        food: line.food.clone(),
        pack: line.pack.clone(),
        pack_mass: line.pack_mass,
        count: line.count,
        price: None,
        estimate: line.price,
        trip: Some(line.shop.clone()),
        printed: None,
        at,
        place: place_of(&food),
        keep: keep_of(household, &food, at),
        reported,
    };
    let id = deed::bought_id(&line.shop, &line.food, &line.pack);
    Ok(ordered(deed::bought(purchase), id, reported))
}

/// Label and mass of one pack, and what all of them probably cost: as on the order, as said, or the smallest known.
fn pack_of(
    food: &Food,
    buying: &Buying,
    line: Option<&OrderLine>,
) -> Result<(String, Mass, Money), HomeError> {
    let by_mass = |price: Money, mass: Mass, of: Mass| {
        Money::from_minor(mul_div(
            price.minor(),
            mass.mg(),
            of.mg().max(1),
            Rounding::Nearest,
        ))
    };
    match (line, buying.pack, food.packs.first()) {
        (Some(line), None, _) => {
            let price = line
                .price
                .scale(buying.count, line.count.max(1), Rounding::Nearest);
            Ok((line.pack.clone(), line.pack_mass, price))
        }
        (_, Some(mass), first) => {
            let known = food.packs.iter().find(|pack| pack.size.mass == mass);
            let label = known.map_or_else(|| mass_text(mass, System::Metric), |pack| pack.size.label.clone());
            let price = known
                .or(first)
                .map_or(Money::ZERO, |pack| by_mass(pack.price, mass, pack.size.mass));
            Ok((label, mass, price.times(buying.count)))
        }
        (None, None, Some(pack)) => Ok((
            pack.size.label.clone(),
            pack.size.mass,
            pack.price.times(buying.count),
        )),
        (None, None, None) => Err(HomeError::unknown(
            format!("no pack of {} is known", food.name),
            "Say how much it was: `--pack \"400 g\"`.",
        )),
    }
}

/// Buying a line of an order: a word takes the place of what was presumed.
fn ordered(deed: Deed, id: larderwright_model::EventId, reported: Reported) -> Deed {
    let presumed = super::presume::bought_presumed_id(&id);
    match reported {
        Reported::Presumed => Deed {
            id: Some(presumed),
            ..deed
        },
        Reported::Told | Reported::Skipped => Deed {
            id: Some(id),
            corrects: Some(presumed),
            ..deed
        },
    }
}

/// A food as this household buys it.
pub(crate) fn food_of(household: &Household, id: &FoodId) -> Result<Food, HomeError> {
    let ids = std::iter::once(id.clone()).collect();
    foods(household, &ids).remove(id).ok_or_else(|| {
        HomeError::unknown(
            format!("there is no food `{id}`"),
            "`larderwright food NAME --list` shows foods with names like it.",
        )
    })
}

/// Where a food is put away.
pub(crate) fn place_of(food: &Food) -> Place {
    match food.storage {
        StorageClass::Fridge | StorageClass::FridgeShort => Place::Fridge,
        StorageClass::Freezer => Place::Freezer,
        StorageClass::Cupboard | StorageClass::Counter | StorageClass::Tap => Place::Cupboard,
    }
}

/// Until when a chilled food keeps as bought, where the guidance has a figure.
fn keep_of(household: &Household, food: &Food, at: DateTime) -> Option<Keep> {
    (place_of(food) == Place::Fridge).then_some(())?;
    days_from(household, food, (at, Which::AsBought))
}

/// Which figure of the table is asked for.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Which {
    /// Unopened in the fridge.
    AsBought,
    /// Opened.
    Opened,
    /// In the freezer.
    Frozen,
}

/// Days from a moment on, as the food table knows them for the household's guidance.
pub(crate) fn days_from(household: &Household, food: &Food, (at, which): (DateTime, Which)) -> Option<Keep> {
    let row = larderwright_reference::food(food.id.as_str())?;
    let KeepingLookup::Figures(keeping) = row.keeping_under(household.profile) else {
        return None;
    };
    let (low, high) = match which {
        Which::AsBought => keeping.fridge_days?,
        Which::Opened => keeping.opened_days?,
        Which::Frozen => keeping.freezer_days?,
    };
    let end = |days: u16| larderwright_safety::keeping::end_of_day(at.date(), i64::from(days));
    Some(Keep {
        best_by: end(low),
        use_by: end(high),
        rule: RuleId::new(&format!("food.{}", food.id)),
        source: keeping.source.to_owned(),
    })
}
