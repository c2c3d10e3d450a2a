//! Reality: the snapshot of what is left of a week, from the household's file, the week's changes, and what the books
//! say is in the house.

use std::collections::{BTreeMap, BTreeSet};

use jiff::Span;
use jiff::civil::{Date, DateTime};
use larderwright_ledger::{Lessons, LotState, Stock, prices};
use larderwright_model::{
    Account, Component, Event, Fact, FoodId, Goods, Household, MealId, ParItem, Place, PriceEntry, Reported,
    SessionId, ShopId, SittingId, Snapshot, StockItem, StockState, StoredLot,
};
use larderwright_quantity::Mass;
use larderwright_store::Store;

use super::{Home, HomeError, Now};
use crate::changes::{Changes, document_name};
use crate::dates::monday_of;
use crate::{Options, build_snapshot};

/// Days of meals that count as eaten lately.
const LATELY_DAYS: i64 = 14;

/// What the books say of a week: what of it is over.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Done {
    pub(crate) trips: BTreeSet<ShopId>,
    pub(crate) sessions: BTreeSet<SessionId>,
    pub(crate) sittings: BTreeSet<SittingId>,
}

impl Done {
    pub(crate) fn of(events: &[Event]) -> Self {
        let mut done = Self::default();
        for event in events {
            match &event.fact {
                Fact::Bought { trip: Some(trip), .. } | Fact::Receipt { trip: Some(trip), .. } => {
                    done.trips.insert(trip.clone());
                }
                Fact::Cooked(fact) => done.sessions.extend(fact.session.clone()),
                Fact::SessionEnded { session, .. } => {
                    done.sessions.insert(session.clone());
                }
                Fact::Served(fact) => {
                    done.sittings.insert(fact.sitting.clone());
                }
                _ => {}
            }
        }
        done
    }
}

impl<S: Store> Home<S> {
    /// The week's changes and their document's version.
    ///
    /// # Errors
    /// When the document cannot be read.
    pub async fn changes(&self, monday: Date) -> Result<(Changes, u32), HomeError> {
        let name = document_name(monday);
        match self.store.document(&name).await? {
            None => Ok((Changes::default(), 0)),
            Some(document) => {
                let changes =
                    Changes::parse(&document.text).map_err(|cause| HomeError::Document { name, cause })?;
                Ok((changes, document.version))
            }
        }
    }

    /// Keeps the week's changes.
    ///
    /// # Errors
    /// When somebody else changed them meanwhile.
    pub async fn keep_changes(&self, monday: Date, changes: &Changes, version: u32) -> Result<(), HomeError> {
        let name = document_name(monday);
        match self.store.put_document(&name, &changes.text(), version).await? {
            larderwright_store::Put::Saved(_) => Ok(()),
            larderwright_store::Put::Overtaken(_) => Err(HomeError::Overtaken),
        }
    }

    /// The events of a week: from ten days before its Monday to its last day.
    pub(crate) async fn week_events(&self, monday: Date) -> Result<Vec<Event>, HomeError> {
        let from = monday.saturating_sub(Span::new().days(10));
        let to = monday.saturating_add(Span::new().days(7));
        Ok(self.store.events_between(from, to).await?)
    }

    /// The snapshot of a week from now on.
    ///
    /// # Errors
    /// When the household's file or the store cannot be read.
    pub async fn snapshot(
        &self,
        monday: Date,
        changes: &Changes,
        options: Options,
        now: &Now,
    ) -> Result<Snapshot, HomeError> {
        let at = now.minute();
        let household = self.household_now(at).await?;
        let options = Options {
            eaten_lately: self.eaten_lately(at).await?,
            ..options
        };
        let mut snapshot = build_snapshot(household, monday, at, options).map_err(HomeError::Household)?;
        let done = Done::of(&self.week_events(monday).await?);
        what_is_left(&mut snapshot, changes, &done);
        let lessons = self.lessons().await?;
        learn(&mut snapshot, &lessons);
        snapshot.lots = self.stored_lots(&snapshot).await?;
        Ok(snapshot)
    }

    /// The household with the stock, par levels and prices that the books know.
    async fn household_now(&self, at: DateTime) -> Result<Household, HomeError> {
        let mut household = self.household().await?;
        let lots = self.store.open_lots().await?;
        let ticks = self.store.ticks().await?;
        household.stock = stock_items(&household.stock, &lots, &ticks, at);
        let stock = Stock::of(lots);
        for par in &mut household.pars {
            let known = stock.mass_of(&Goods::Food(par.food.clone()));
            *par = ParItem {
                on_hand: known.max(par.on_hand.min(known)),
                ..par.clone()
            };
        }
        let bought = self.lately(&["bought"]).await?;
        let book = prices::paid(&bought);
        for paid in prices::latest(&book) {
            let entry = PriceEntry {
                food: paid.food.clone(),
                pack: paid.pack_mass,
                label: paid.pack.clone(),
                price: paid.price,
            };
            household
                .prices
                .retain(|known| known.food != entry.food || known.pack != entry.pack);
            household.prices.push(entry);
        }
        Ok(household)
    }

    /// What the household's own events teach.
    ///
    /// # Errors
    /// When the store fails.
    pub async fn lessons(&self) -> Result<Lessons, HomeError> {
        let kinds = ["cooked", "served", "left-over", "returned"];
        Ok(Lessons::of(&self.lately(&kinds).await?))
    }

    /// The events of these kinds in the last two years that anything happened: what lies further back says nothing of
    /// today's prices and kitchens.
    pub(crate) async fn lately(&self, kinds: &[&str]) -> Result<Vec<Event>, HomeError> {
        match self.store.last_events(1).await?.first() {
            None => Ok(Vec::new()),
            Some(last) => {
                let from = last.event.moment.at.date().saturating_sub(Span::new().years(2));
                Ok(self.store.events_of_since(kinds, from).await?)
            }
        }
    }

    /// Meals eaten lately, the last one first.
    async fn eaten_lately(&self, at: DateTime) -> Result<Vec<MealId>, HomeError> {
        let from = at.date().saturating_sub(Span::new().days(LATELY_DAYS));
        let events = self.store.events_between(from, at.date()).await?;
        let mut meals: Vec<(DateTime, MealId)> = events
            .iter()
            .filter_map(|event| match &event.fact {
                Fact::Served(fact) if fact.reported != Reported::Skipped => {
                    Some((event.moment.at, fact.meal.clone()?))
                }
                _ => None,
            })
            .collect();
        meals.sort_by(|one, other| other.cmp(one));
        let mut seen = BTreeSet::new();
        Ok(meals
            .into_iter()
            .map(|(_, meal)| meal)
            .filter(|meal| seen.insert(meal.clone()))
            .collect())
    }

    /// Lots of components that are in the house and within their date.
    async fn stored_lots(&self, snapshot: &Snapshot) -> Result<Vec<StoredLot>, HomeError> {
        let mut stored = Vec::new();
        for lot in self.store.open_lots().await? {
            let Some(component) = component_of(snapshot, &lot) else {
                continue;
            };
            let since = self.placed(&lot).await?;
            stored.extend(stored_lot(component, &lot, since, snapshot.now));
        }
        stored.sort_by(|one, other| (one.keep.use_by, &one.id).cmp(&(other.keep.use_by, &other.id)));
        Ok(stored)
    }

    /// When a lot came to where it is.
    async fn placed(&self, lot: &LotState) -> Result<Option<DateTime>, HomeError> {
        let Some(place) = lot.place() else {
            return Ok(None);
        };
        let subject = larderwright_ledger::Subject::Lot(lot.lot.clone());
        let events = self.store.events_about(&subject).await?;
        let moved = events.iter().rfind(|event| {
            let here =
                |step: &larderwright_model::Move| step.lot == lot.lot && step.to == Account::Place(place);
            event.moves.iter().any(here)
        });
        Ok(moved.map(|event| event.moment.at))
    }
}

/// What of a week still lies ahead.
fn what_is_left(snapshot: &mut Snapshot, changes: &Changes, done: &Done) {
    let now = snapshot.now;
    let sittings = changes.apply_sittings(std::mem::take(&mut snapshot.sittings));
    snapshot.sittings = sittings
        .into_iter()
        .filter(|sitting| sitting.leaves_fridge() >= now && !done.sittings.contains(&sitting.id))
        .collect();
    let sessions = changes.apply_sessions(std::mem::take(&mut snapshot.sessions));
    snapshot.sessions = sessions
        .into_iter()
        .filter(|session| session.from >= now && !done.sessions.contains(&session.id))
        .collect();
    let shops = changes.apply_shops(std::mem::take(&mut snapshot.shops));
    snapshot.shops = shops
        .into_iter()
        .filter(|shop| shop.at >= now && !done.trips.contains(&shop.id))
        .collect();
    let wishes = &mut snapshot.household.wishes;
    wishes
        .off_meals
        .extend(changes.off.iter().map(|meal| MealId::new(meal)));
    // A meal that is not wanted at one sitting is not served at all that week: a wish knows no sittings.
    let unwanted = changes.sittings.values().flat_map(|change| &change.not);
    wishes.off_meals.extend(unwanted.map(|meal| MealId::new(meal)));
    let here: BTreeSet<&SittingId> = snapshot.sittings.iter().map(|sitting| &sitting.id).collect();
    wishes.fixed.extend(changes.fixed());
    wishes.fixed.retain(|sitting, _| here.contains(sitting));
}

/// Components with the yields and times of this kitchen, eaters with their own appetite, and a sentence for each.
fn learn(snapshot: &mut Snapshot, lessons: &Lessons) {
    let mut learnt = Vec::new();
    for component in snapshot.components.values_mut() {
        let (taught, said) = lessons.teach(component);
        *component = taught;
        learnt.extend(said);
    }
    snapshot.habits = lessons.habits();
    for (eater, habit) in &snapshot.habits {
        let percent = (habit.permille() - 1000) / 10;
        if percent != 0
            && let Some(eater) = snapshot.household.eater(eater)
        {
            let word = if percent > 0 { "more" } else { "less" };
            learnt.push(format!(
                "{} eats {} % {word} than planned",
                eater.name,
                percent.abs()
            ));
        }
    }
    snapshot.learnt = learnt;
}

/// The tick list with what the books know of amounts: lots count for what they hold, unless they are past their date;
/// without lots the last tick counts, and failing that the household's file.
fn stock_items(
    file: &[StockItem],
    lots: &[LotState],
    ticks: &BTreeMap<FoodId, Option<StockState>>,
    at: DateTime,
) -> Vec<StockItem> {
    let mut known: BTreeMap<FoodId, Mass> = BTreeMap::new();
    for lot in lots {
        if let Some(Goods::Food(food)) = lot.card.as_ref().map(|card| &card.goods)
            && lot.use_by().is_none_or(|use_by| use_by >= at)
        {
            *known.entry(food.clone()).or_insert(Mass::ZERO) += lot.mass();
        }
    }
    let mut items: BTreeMap<FoodId, StockState> = file
        .iter()
        .filter(|item| !matches!(item.state, StockState::Amount(_)))
        .map(|item| (item.food.clone(), item.state))
        .collect();
    for (food, state) in ticks {
        match state {
            Some(state) => drop(items.insert(food.clone(), *state)),
            None => drop(items.remove(food)),
        }
    }
    items.extend(
        known
            .into_iter()
            .map(|(food, mass)| (food, StockState::Amount(mass))),
    );
    items
        .into_iter()
        .map(|(food, state)| StockItem { food, state })
        .collect()
}

fn component_of<'a>(snapshot: &'a Snapshot, lot: &LotState) -> Option<&'a Component> {
    match &lot.card.as_ref()?.goods {
        Goods::Component(id) => snapshot.components.get(id),
        Goods::Food(_) | Goods::Dish(_) => None,
    }
}

/// A lot as planning sees it; `None` when it is past its date or has none. It is made of anything that any way of its
/// component uses: which can was opened nobody wrote on the box.
fn stored_lot(
    component: &Component,
    lot: &LotState,
    since: Option<DateTime>,
    now: DateTime,
) -> Option<StoredLot> {
    let card = lot.card.as_ref()?;
    let keep = card.keep.clone()?;
    let use_by = card.use_by()?;
    let foods = component
        .ways
        .iter()
        .flat_map(|way| &way.inputs)
        .map(|input| input.food.clone());
    (use_by >= now).then(|| StoredLot {
        id: lot.lot.clone(),
        component: component.id.clone(),
        foods: foods.collect(),
        mass: lot.mass(),
        place: lot.place().unwrap_or(Place::Fridge),
        made: card.made,
        stored: since.unwrap_or(card.made),
        keep: larderwright_model::Keep { use_by, ..keep },
        boxes: card.boxes.clone(),
        reheated: lot.reheats > 0,
    })
}

/// The weeks whose sittings, sessions or trips touch a day: the week of the day and the one after, whose shopping may
/// lie before its Monday.
pub(crate) fn weeks_around(day: Date) -> [Date; 3] {
    let monday = monday_of(day);
    [
        monday.saturating_sub(Span::new().days(7)),
        monday,
        monday.saturating_add(Span::new().days(7)),
    ]
}
