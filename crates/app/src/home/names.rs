//! Names: what a cook types, led to the lot, food, component or sitting that is meant; and events said in words.

use jiff::civil::Date;
use larderwright_ledger::LotState;
use larderwright_model::{
    Account, BatchId, CookedFact, Event, Fact, FoodId, Goods, LotId, Reported, Sitting, SittingId,
    StockState, WeekPlan,
};
use larderwright_reference::convert::resolve;
use larderwright_store::Store;
use larderwright_views::Words;

use super::{Home, HomeError};
use crate::catalogue::built_in;
use crate::nearest::nearest;

/// What a name means.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Named {
    /// Lots in the house, the one to be used first first.
    Lots(Vec<LotState>),
    /// A food of which nothing is in the house.
    Food(FoodId),
}

impl<S: Store> Home<S> {
    /// What a cook means by a name: a lot's identifier, or goods in the house, or any food.
    ///
    /// # Errors
    /// When nothing has that name.
    pub async fn find(&self, name: &str) -> Result<Named, HomeError> {
        if let Some(lot) = self.store.lot(&LotId::new(name)).await? {
            return Ok(Named::Lots(vec![lot]));
        }
        let stock = larderwright_ledger::Stock::of(self.store.open_lots().await?);
        let wanted = name.trim().to_lowercase().replace(' ', "-");
        let named = |lot: &&LotState| {
            let goods = lot.card.as_ref().map(|card| card.goods.as_str());
            goods.is_some_and(|goods| goods == wanted)
        };
        let exact = stock.lots().find(named).and_then(|lot| lot.card.as_ref());
        let goods = exact
            .map(|card| card.goods.clone())
            .or_else(|| the_one_called(&stock, name));
        if let Some(goods) = goods {
            let lots = stock.of_goods(&goods).into_iter().cloned();
            return Ok(Named::Lots(lots.collect()));
        }
        let food = self.food(name).await?;
        let lots = stock.of_goods(&Goods::Food(food.clone()));
        if lots.is_empty() {
            Ok(Named::Food(food))
        } else {
            Ok(Named::Lots(lots.into_iter().cloned().collect()))
        }
    }

    /// The one lot that is meant: the first to be used.
    ///
    /// # Errors
    /// When nothing of that name is in the house.
    pub async fn find_lot(&self, name: &str) -> Result<LotState, HomeError> {
        match self.find(name).await? {
            Named::Lots(lots) => Ok(lots.into_iter().next().expect("a name with lots has one")),
            Named::Food(food) => Err(HomeError::unknown(
                format!("nothing of `{food}` is in the house, as far as the books say"),
                format!("If it is there, say `larderwright stocktake {food} \"300 g\"` first."),
            )),
        }
    }

    /// The food of a name: the household's own first, then the food table.
    ///
    /// # Errors
    /// When no food has that name, with those that may be meant.
    pub async fn food(&self, name: &str) -> Result<FoodId, HomeError> {
        let wanted = name.trim().to_lowercase();
        if let Some(file) = self.household_file().await?
            && let Ok(household) = larderwright_records::household::parse_household(&file.text)
        {
            let own = household
                .foods
                .iter()
                .find(|food| food.id.as_str() == wanted || food.name.to_lowercase() == wanted);
            if let Some(food) = own {
                return Ok(food.id.clone());
            }
        }
        if larderwright_reference::food(&wanted).is_some() {
            return Ok(FoodId::new(&wanted));
        }
        match resolve(name, false) {
            Ok(resolved) => Ok(FoodId::new(resolved.food.id)),
            Err(_) => {
                let near = nearest(&wanted, larderwright_reference::all().iter().map(|row| row.id));
                let help = match near {
                    Some(near) => {
                        format!("Did you mean `{near}`? `larderwright food {name} --list` shows more.")
                    }
                    None => format!("`larderwright food {name} --list` shows foods with names like it."),
                };
                Err(HomeError::unknown(
                    format!("there is no food or lot `{name}`"),
                    help,
                ))
            }
        }
    }
}

/// The one thing in the house that goes by this name: whose name begins so up to its first comma (`milk` for milk,
/// whole), failing that the only one in whose name all the words stand.
fn the_one_called(stock: &larderwright_ledger::Stock, name: &str) -> Option<Goods> {
    let wanted = plain_words(name);
    let mut goods: Vec<(Goods, String)> = stock
        .lots()
        .filter_map(|lot| lot.card.as_ref())
        .map(|card| (card.goods.clone(), goods_name(&card.goods)))
        .collect();
    goods.sort();
    goods.dedup();
    let only = |fits: &dyn Fn(&str) -> bool| {
        let mut found = goods.iter().filter(|(_, known)| fits(known));
        let first = found.next();
        first
            .filter(|_| found.next().is_none())
            .map(|(goods, _)| goods.clone())
    };
    let head = |known: &str| known.split(',').next().map(plain_words) == Some(wanted.clone());
    let within = |known: &str| wanted.is_subset(&plain_words(known));
    if wanted.is_empty() {
        return None;
    }
    only(&head).or_else(|| only(&within))
}

/// The words of a name without their plural endings.
fn plain_words(name: &str) -> std::collections::BTreeSet<String> {
    let words = name
        .split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty());
    words
        .map(|word| word.to_lowercase().trim_end_matches('s').to_owned())
        .collect()
}

/// The sitting a cook means: its identifier, `thu-dinner`, `tonight` for the next dinner, or `dinner` for the next of
/// that name.
pub(crate) fn find_sitting(
    sittings: &[Sitting],
    name: &str,
    now: jiff::civil::DateTime,
) -> Result<Sitting, HomeError> {
    let wanted = name.trim().to_lowercase();
    let today = now.date();
    let weekday = |sitting: &Sitting| sitting.at.strftime("%a").to_string().to_lowercase();
    let fits = |sitting: &&Sitting| {
        let id = sitting.id.as_str();
        let occasion = id.get(11..).unwrap_or("");
        id == wanted
            || format!("{}-{occasion}", weekday(sitting)) == wanted
            || (wanted == "tonight" && sitting.at.date() == today && occasion.starts_with("dinner"))
            || (wanted == occasion && sitting.at.date() == today)
    };
    let found = sittings.iter().find(fits).cloned();
    found.ok_or_else(|| {
        let ids: Vec<&str> = sittings.iter().map(|sitting| sitting.id.as_str()).collect();
        HomeError::unknown(
            format!("there is no sitting `{name}` this week"),
            format!("The week's sittings: {}.", ids.join(", ")),
        )
    })
}

/// The batch a cook means in a plan: its identifier, or its component's.
pub(crate) fn find_batch<'a>(
    plan: &'a WeekPlan,
    name: &str,
) -> Result<&'a larderwright_model::Batch, HomeError> {
    let wanted = name.trim().to_lowercase().replace(' ', "-");
    let found = plan.batches.iter().find(|batch| batch.id.as_str() == wanted);
    let component = || {
        plan.batches
            .iter()
            .find(|batch| batch.component.as_str() == wanted)
    };
    found.or_else(component).ok_or_else(|| {
        let ids: Vec<&str> = plan
            .batches
            .iter()
            .map(|batch| batch.component.as_str())
            .collect();
        let help = match nearest(&wanted, ids.iter().copied()) {
            Some(near) => format!("Did you mean `{near}`?"),
            None => format!("The plan has: {}.", ids.join(", ")),
        };
        HomeError::unknown(format!("the plan has no batch `{name}`"), help)
    })
}

/// A food, component or meal by the name people say.
#[must_use]
pub fn goods_name(goods: &Goods) -> String {
    let larder = || built_in().ok();
    match goods {
        Goods::Food(id) => larderwright_reference::food(id.as_str())
            .map_or_else(|| id.to_string(), |row| row.name.to_owned()),
        Goods::Component(id) => {
            let component = larder().and_then(|larder| larder.components.get(id));
            component.map_or_else(|| id.to_string(), |component| component.name.clone())
        }
        Goods::Dish(id) => {
            let meal = larder().and_then(|larder| larder.meals.get(id));
            let name = meal.map_or_else(|| id.to_string(), |meal| meal.name.clone());
            format!("left over: {name}")
        }
    }
}

/// What a lot is, as people say it: its identifier begins with its goods.
fn lot_words(lot: &LotId) -> String {
    // What follows the sign is when and where it came from; `shelf:` and the like stand before its goods.
    let goods = lot.as_str().split('@').next().unwrap_or_default();
    let goods = goods.rsplit(':').next().unwrap_or_default();
    if larderwright_reference::food(goods).is_some() {
        return goods_name(&Goods::Food(goods.into()));
    }
    goods_name(&Goods::Component(goods.into()))
}

/// What a batch is, as people say it: its identifier begins with its component.
pub(crate) fn batch_words(batch: &BatchId) -> String {
    let component = batch.as_str().split('@').next().unwrap_or_default();
    goods_name(&Goods::Component(component.into()))
}

/// A sitting, as people say it: `Mon 30 Nov dinner`. Its identifier begins with its day.
#[must_use]
pub fn sitting_words(sitting: &SittingId) -> String {
    let id = sitting.as_str();
    let day: Option<Date> = id.get(..10).and_then(|day| day.parse().ok());
    match (day, id.get(11..)) {
        (Some(day), Some(rest)) => format!("{} {}", larderwright_views::day(day), rest.replace('-', " ")),
        _ => id.to_owned(),
    }
}

/// What a tick says of a food.
pub(crate) fn tick_words(state: Option<StockState>) -> &'static str {
    match state {
        Some(StockState::Have) => "there",
        Some(StockState::Low) => "running low",
        Some(StockState::Amount(_)) => "counted",
        None => "none left",
    }
}

fn presumed(reported: Reported) -> &'static str {
    if reported == Reported::Presumed {
        " (presumed)"
    } else {
        ""
    }
}

fn say_cooked(fact: &CookedFact, event: &Event, words: &Words) -> String {
    let name = goods_name(&Goods::Component(fact.component.clone()));
    if fact.reported == Reported::Skipped {
        format!("did not cook {name}")
    } else if fact.output.is_positive() {
        let out = words.mass(fact.output);
        format!("cooked {name}, {out} out{}", presumed(fact.reported))
    } else {
        let binned = event.moves.iter().filter(|step| step.to == Account::Bin);
        let mass = words.mass(binned.map(|step| step.mass).sum());
        format!("lost {name}, {mass} thrown away")
    }
}

/// What an event says, in a line.
pub(crate) fn say_event(event: &Event, words: &Words) -> String {
    let lots = || {
        let mut names: Vec<String> = event.moves.iter().map(|step| lot_words(&step.lot)).collect();
        names.extend(event.cards.iter().map(|card| goods_name(&card.goods)));
        names.sort();
        names.dedup();
        match names.len() {
            0 => String::new(),
            1..=3 => names.join(", "),
            more => format!("{more} things"),
        }
    };
    let mass = || words.mass(event.moves.iter().map(|step| step.mass).sum());
    match &event.fact {
        Fact::Bought { reported, .. } => format!("bought {}, {}{}", lots(), mass(), presumed(*reported)),
        Fact::Receipt { trip, total } => {
            let trip = trip.as_ref().map_or("the shop", |trip| trip.as_str());
            format!("receipt of {trip}: {}", words.money(*total))
        }
        Fact::Opened { lot } => format!("opened {}", lot_words(lot)),
        Fact::Counted => format!("counted {}", lots()),
        Fact::Ticked { food, state } => {
            let name = goods_name(&Goods::Food(food.clone()));
            format!("ticked {name}: {}", tick_words(*state))
        }
        Fact::Cooked(fact) => say_cooked(fact, event, words),
        Fact::Cooled { batch, readings } => {
            format!("cooled {}, {} readings", batch_words(batch), readings.len())
        }
        Fact::Stored { batch } => format!("{} went into boxes, {}", batch_words(batch), mass()),
        Fact::Moved => format!("moved {}", lots()),
        Fact::Thawed => format!("took {} out of the freezer", lots()),
        Fact::Served(fact) => match fact.reported {
            Reported::Skipped => format!("nobody ate at {}", sitting_words(&fact.sitting)),
            reported => format!(
                "served {} for {}{}",
                sitting_words(&fact.sitting),
                fact.covers,
                presumed(reported)
            ),
        },
        Fact::LeftOver { .. } => format!("left over: {}, {}", lots(), mass()),
        Fact::Returned { sitting } => format!("{} came back on plates at {}", mass(), sitting_words(sitting)),
        Fact::Discarded { reason } => {
            format!("threw away {} of {} ({})", mass(), lots(), reason.word())
        }
        Fact::GivenAway { to } if to.is_empty() => format!("gave away {} of {}", mass(), lots()),
        Fact::GivenAway { to } => format!("gave {} of {} to {to}", mass(), lots()),
        Fact::Reheated { lot } => format!("warmed {}", lot_words(lot)),
        Fact::LeftOut { lot, minutes } => format!("{} stood out for {minutes} minutes", lot_words(lot)),
        Fact::Checked => "looked into fridge and freezer".to_owned(),
        Fact::SessionEnded { session, minutes, .. } => {
            format!("the session of {session} took {minutes} minutes")
        }
        Fact::Closed { monday } => format!("closed the week of {monday}"),
        Fact::Undone => "took something back".to_owned(),
    }
}
