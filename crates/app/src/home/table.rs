//! The table: what is eaten tonight, and what is said of it afterwards.

use std::collections::BTreeMap;

use jiff::civil::DateTime;
use larderwright_ledger::Deed;
use larderwright_ledger::deed::{self, LeftOver, Plates};
use larderwright_ledger::{Stock, Subject};
use larderwright_model::{
    Account, Cover, Fact, FoodId, Goods, Item, Keep, LotCard, LotId, Move, Place, Plate, Portion,
    PortionSource, Profile, Reported, Scales, Sitting, SittingId,
};
use larderwright_quantity::{Mass, Rounding, mul_div};
use larderwright_safety::keeping::{self, KeepClass};
use larderwright_store::Store;
use larderwright_views::Words;
use larderwright_views::page::sitting::SittingPage;

use super::kitchen::price_of;
use super::names::{find_sitting, goods_name, sitting_words};
use super::{Home, HomeError, Now, Told, Week};

/// What a sitting wants.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tonight {
    /// The sitting.
    pub sitting: Sitting,
    /// When to start, so that it is on the table in time.
    pub start: DateTime,
    /// What to take out, warm and put together, and every plate.
    pub page: SittingPage,
    /// What is not there as planned, and what to do.
    pub missing: Vec<String>,
}

impl<S: Store> Home<S> {
    /// The week and sitting a cook means; later plans of a week know fewer sittings than earlier ones.
    async fn sitting(&self, name: &str, now: &Now) -> Result<(Week, Sitting), HomeError> {
        let mut missing = None;
        for monday in super::reality::weeks_around(now.minute().date()) {
            for week in self.lineage(monday).await?.into_iter().rev() {
                match find_sitting(&week.snapshot.sittings, name, now.minute()) {
                    Ok(sitting) => return Ok((week, sitting)),
                    Err(error) => missing = Some(error),
                }
            }
        }
        Err(missing.unwrap_or_else(|| {
            HomeError::unknown(
                "there is no plan for this week",
                "Plan one with `larderwright plan`.",
            )
        }))
    }

    /// What the next sitting wants, or the one named.
    ///
    /// # Errors
    /// When there is no plan or no such sitting.
    pub async fn tonight(&self, name: Option<&str>, now: &Now) -> Result<Tonight, HomeError> {
        let (week, sitting) = match name {
            Some(name) => self.sitting(name, now).await?,
            None => {
                let week = self.this_week(now).await?;
                let done = super::reality::Done::of(&self.week_events(week.head.monday).await?);
                let next = week
                    .snapshot
                    .sittings
                    .iter()
                    .find(|sitting| sitting.at >= now.minute() && !done.sittings.contains(&sitting.id));
                let sitting = next.cloned().ok_or_else(|| {
                    HomeError::unknown("nobody sits down to eat again this week", "Plan the next week.")
                })?;
                (week, sitting)
            }
        };
        let stock = Stock::of(self.store.open_lots().await?);
        told_tonight(&week, &sitting, &stock).ok_or_else(|| {
            HomeError::unknown(
                format!("the plan does not know the sitting `{}`", sitting.id),
                "Plan the week anew.",
            )
        })
    }

    /// A sitting took place. `permille` of the plan was eaten: a thousand as planned, more for more people.
    ///
    /// # Errors
    /// When there is no such sitting.
    pub async fn served(&self, name: &str, permille: i64, now: &Now) -> Result<Told, HomeError> {
        let (week, sitting) = self.sitting(name, now).await?;
        // What was presumed or said before comes back before it is counted anew.
        let subject = Subject::Sitting(sitting.id.clone());
        let same = |fact: &Fact| matches!(fact, Fact::Served(fact) if fact.sitting == sitting.id);
        let stock = self.stock_without(&subject, &same).await?;
        let deed = self.served_deed(&week, &sitting, stock, (permille, Reported::Told));
        let words = Words::of(&week.snapshot.household);
        let line = format!(
            "{}: {} eaten",
            sitting_words(&sitting.id),
            words.mass(deed_mass(&deed))
        );
        self.say(deed, line, now).await
    }

    pub(crate) fn served_deed(
        &self,
        week: &Week,
        sitting: &Sitting,
        mut stock: Stock,
        (permille, reported): (i64, Reported),
    ) -> Deed {
        let plates: Vec<&Plate> = week
            .plan
            .plates
            .iter()
            .filter(|plate| plate.sitting == sitting.id)
            .collect();
        let purchased = |food: &FoodId, mass: Mass| {
            let share = week.snapshot.foods.get(food).map(|food| food.edible.value);
            share.map_or(mass, |share| share.undo(mass, Rounding::Up))
        };
        let plates = Plates {
            sitting: &sitting.id,
            plates: &plates,
            permille,
            purchased: &purchased,
            price: &|food| price_of(&week.snapshot, food),
            stated: &|plate, portion| stated_portion(week, plate, portion),
        };
        deed::served(&mut stock, &plates, reported)
    }

    /// Nobody ate at a sitting.
    ///
    /// # Errors
    /// When there is no such sitting.
    pub async fn skipped(&self, name: &str, now: &Now) -> Result<Told, HomeError> {
        let (_, sitting) = self.sitting(name, now).await?;
        let line = format!(
            "{}: nobody ate here; nothing was taken",
            sitting_words(&sitting.id)
        );
        self.say(deed::skipped(&sitting.id), line, now).await
    }

    /// The moves of what was served at a sitting, as it counts now.
    async fn served_moves(&self, sitting: &SittingId) -> Result<Vec<Move>, HomeError> {
        let subject = Subject::Sitting(sitting.clone());
        let events = self.store.events_about(&subject).await?;
        let served = events
            .iter()
            .filter(|event| matches!(event.fact, Fact::Served(_)));
        Ok(served.flat_map(|event| event.moves.clone()).collect())
    }

    /// What was left in the pot becomes a lot with the earliest date of what is in it. With a component named it is
    /// that component, else the dish.
    ///
    /// # Errors
    /// When there is no such sitting, or nothing was served there.
    pub async fn left_over(
        &self,
        name: &str,
        mass: Mass,
        component: Option<&str>,
        now: &Now,
    ) -> Result<Told, HomeError> {
        let (week, sitting) = self.sitting(name, now).await?;
        let mut moves = self.served_moves(&sitting.id).await?;
        if moves.is_empty() {
            self.served(sitting.id.as_str(), 1000, now).await?;
            moves = self.served_moves(&sitting.id).await?;
        }
        let at = now.minute();
        let profile = week.snapshot.household.profile;
        let (keep, reheated) = self.earliest_of(&moves, component, (profile, at)).await?;
        let goods = match (
            component,
            week.plan.plates.iter().find(|plate| plate.sitting == sitting.id),
        ) {
            (Some(component), _) => Goods::Component(component.into()),
            (None, Some(plate)) => Goods::Dish(plate.meal.clone()),
            (None, None) => Goods::Dish("unknown".into()),
        };
        let lot = self.free_lot(deed::left_over_lot(&sitting.id, 1)).await?;
        let total: Mass = moves.iter().map(|step| step.mass).sum();
        let worth: i64 = moves.iter().map(|step| step.worth).sum();
        let card = LotCard {
            lot: lot.clone(),
            goods,
            made: at,
            keep: keep.clone(),
            printed: None,
            pack: String::new(),
            boxes: Vec::new(),
        };
        let left = LeftOver {
            worth: mul_div(worth, mass.mg(), total.mg().max(1), Rounding::Nearest),
            card: card.clone(),
            mass,
            place: Place::Fridge,
            sitting: Some(sitting.id.clone()),
        };
        let mut deeds = vec![deed::left_over(left)];
        if reheated {
            deeds.push(Deed::of(Fact::Reheated { lot: lot.clone() }));
        }
        let told = self.tell(deeds, now).await?;
        let words = Words::of(&week.snapshot.household);
        let until = keep.map_or_else(String::new, |keep| {
            format!("; use by {}", words.until(keep.use_by))
        });
        Ok(Told {
            lines: vec![format!(
                "put away {} of {}{until}",
                words.mass(mass),
                goods_name(&card.goods)
            )],
            ..told
        })
    }

    /// The earliest date of what was served and of left-overs as such, and whether any of it was cooked before.
    async fn earliest_of(
        &self,
        moves: &[Move],
        component: Option<&str>,
        (profile, at): (Profile, DateTime),
    ) -> Result<(Option<Keep>, bool), HomeError> {
        let mut keeps = vec![keeping::fridge(profile, KeepClass::Leftovers, at, at)];
        let mut cooked = false;
        for step in moves {
            let state = self.store.lot(&step.lot).await?;
            let card = state.and_then(|state| state.card);
            let wanted = |card: &LotCard| component.is_none_or(|wanted| card.goods.as_str() == wanted);
            if let Some(card) = card.filter(wanted) {
                cooked |= matches!(card.goods, Goods::Component(_));
                keeps.extend(card.keep);
            }
        }
        Ok((keeping::earliest(&keeps).cloned(), cooked))
    }

    /// What came back on plates was thrown away.
    ///
    /// # Errors
    /// When there is no such sitting.
    pub async fn returned(&self, name: &str, mass: Mass, now: &Now) -> Result<Told, HomeError> {
        let (week, sitting) = self.sitting(name, now).await?;
        let moves = self.served_moves(&sitting.id).await?;
        let deed = deed::returned(&sitting.id, &moves, mass);
        let mass = Words::of(&week.snapshot.household).mass(mass);
        let line = format!("{mass} came back on plates at {}", sitting_words(&sitting.id));
        self.say(deed, line, now).await
    }
}

/// A portion without what was learnt of its eater: only what follows appetite had followed that.
fn stated_portion(week: &Week, plate: &Plate, portion: &Portion) -> Mass {
    let Cover::Eater(eater) = &plate.cover else {
        return portion.mass;
    };
    let meal = week.snapshot.meals.get(&plate.meal);
    let element = meal.and_then(|meal| meal.elements.iter().find(|element| element.id == portion.element));
    let scales = element.is_some_and(|element| element.scales == Scales::Appetite);
    match week.snapshot.habits.get(eater) {
        Some(habit) if scales => Mass::from_mg(mul_div(
            portion.mass.mg(),
            1000,
            habit.permille().max(1),
            Rounding::Nearest,
        )),
        _ => portion.mass,
    }
}

fn deed_mass(deed: &Deed) -> Mass {
    let event_moves = deed.moves.iter().filter(|step| step.to == Account::Eaten);
    event_moves.map(|step| step.mass).sum()
}

/// What a sitting wants, in words, with what is really there; `None` when the plan does not know the sitting.
fn told_tonight(week: &Week, sitting: &Sitting, stock: &Stock) -> Option<Tonight> {
    let of_sitting = |plate: &&Plate| plate.sitting == sitting.id;
    let plates: Vec<&Plate> = week.plan.plates.iter().filter(of_sitting).collect();
    let services = &week.plan.services;
    let service = services.iter().find(|service| service.sitting == sitting.id);
    let length = service.map_or(0, |service| service.length.mins(Rounding::Up));
    Some(Tonight {
        sitting: sitting.clone(),
        start: sitting
            .leaves_fridge()
            .saturating_sub(jiff::Span::new().minutes(length)),
        page: larderwright_views::page::sitting::sitting(&week.snapshot, &week.plan, &sitting.id)?,
        missing: missing(week, &plates, stock),
    })
}

/// Lots that hold less than the sitting wants.
fn missing(week: &Week, plates: &[&Plate], stock: &Stock) -> Vec<String> {
    let words = Words::of(&week.snapshot.household);
    let mut wanted: BTreeMap<&LotId, (String, Mass)> = BTreeMap::new();
    for portion in plates.iter().flat_map(|plate| &plate.portions) {
        if let (PortionSource::Lot(lot), Item::Component(id)) = (&portion.source, &portion.item) {
            let name = || (goods_name(&Goods::Component(id.clone())), Mass::ZERO);
            wanted.entry(lot).or_insert_with(name).1 += portion.mass;
        }
    }
    let mut lines = Vec::new();
    for (lot, (name, mass)) in wanted {
        match stock.lot(lot) {
            None => lines.push(format!(
                "{name} is not in the house; plan the rest of the week anew"
            )),
            Some(state) if state.mass() < mass => {
                lines.push(format!(
                    "{name}: {} there, {} wanted",
                    words.mass(state.mass()),
                    words.mass(mass)
                ));
            }
            Some(state) if state.place() == Some(Place::Freezer) => lines.push(format!(
                "{name} is still in the freezer: warm it from frozen, in the microwave or with a splash of water in a \
                 closed pan, until it steams all through"
            )),
            Some(_) => {}
        }
    }
    lines
}
