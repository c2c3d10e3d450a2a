//! The table: what is eaten tonight, and what is said of it afterwards.

use std::collections::BTreeMap;

use jiff::civil::DateTime;
use larderwright_ledger::Deed;
use larderwright_ledger::Stock;
use larderwright_ledger::deed::{self, LeftOver, Plates};
use larderwright_model::{
    Account, Fact, FoodId, Goods, Item, Keep, LotCard, LotId, Move, Place, Plate, PortionSource, Profile,
    Reported, Service, ServiceVerb, Sitting, SittingId,
};
use larderwright_quantity::{Mass, Rounding, duration_text, mul_div};
use larderwright_safety::keeping::{self, KeepClass};
use larderwright_store::Store;

use super::kitchen::price_of;
use super::names::{find_sitting, goods_name, grams};
use super::{Home, HomeError, Now, Told, Week};

/// One thing to do before a sitting.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TonightStep {
    /// Minutes from the start.
    pub start_min: i64,
    /// Minutes it takes.
    pub minutes: i64,
    /// What to do.
    pub text: String,
}

/// What a sitting wants.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tonight {
    /// The sitting.
    pub sitting: Sitting,
    /// The meal's name.
    pub meal: String,
    /// When to start, so that it is on the table in time.
    pub start: DateTime,
    /// What to do, by start.
    pub steps: Vec<TonightStep>,
    /// Each plate in words.
    pub plates: Vec<String>,
    /// What is not there as planned, and what to do.
    pub missing: Vec<String>,
    /// What to do before bed: pull, soak.
    pub before_bed: Vec<String>,
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
        Ok(told_tonight(&week, &sitting, &stock))
    }

    /// A sitting took place. `permille` of the plan was eaten: a thousand as planned, more for more people.
    ///
    /// # Errors
    /// When there is no such sitting.
    pub async fn served(&self, name: &str, permille: i64, now: &Now) -> Result<Told, HomeError> {
        let (week, sitting) = self.sitting(name, now).await?;
        // What was presumed or said before comes back before it is counted anew.
        let stock = self.stock_without(&sitting.id).await?;
        let deed = self.served_deed(&week, &sitting, stock, (permille, Reported::Told));
        let line = format!("{}: {} eaten", sitting.id, grams(deed_mass(&deed)));
        self.say(deed, line, now).await
    }

    /// The stock as if a sitting had not been reported or presumed yet.
    async fn stock_without(&self, sitting: &SittingId) -> Result<Stock, HomeError> {
        let subject = larderwright_ledger::Subject::Sitting(sitting.clone());
        let events = self.store.events_about(&subject).await?;
        let mut lots: BTreeMap<LotId, larderwright_ledger::LotState> = BTreeMap::new();
        for lot in self.store.open_lots().await? {
            lots.insert(lot.lot.clone(), lot);
        }
        let served = events
            .iter()
            .filter(|event| matches!(event.fact, Fact::Served(_)));
        for lot in larderwright_ledger::lots_of(served) {
            let all = self
                .store
                .events_about(&larderwright_ledger::Subject::Lot(lot.clone()))
                .await?;
            let others = all
                .iter()
                .filter(|event| !matches!(&event.fact, Fact::Served(fact) if fact.sitting == *sitting));
            let state = larderwright_ledger::lot_state(&lot, others);
            lots.insert(lot, state);
        }
        Ok(Stock::of(lots.into_values()))
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
        };
        deed::served(&mut stock, &plates, reported)
    }

    /// Nobody ate at a sitting.
    ///
    /// # Errors
    /// When there is no such sitting.
    pub async fn skipped(&self, name: &str, now: &Now) -> Result<Told, HomeError> {
        let (_, sitting) = self.sitting(name, now).await?;
        let line = format!("{}: nobody ate here; nothing was taken", sitting.id);
        self.say(deed::skipped(&sitting.id), line, now).await
    }

    /// The moves of what was served at a sitting, as it counts now.
    async fn served_moves(&self, sitting: &SittingId) -> Result<Vec<Move>, HomeError> {
        let subject = larderwright_ledger::Subject::Sitting(sitting.clone());
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
        let until = keep.map_or_else(String::new, |keep| {
            format!("; use by {}", keep.use_by.strftime("%a %-d %b"))
        });
        Ok(Told {
            lines: vec![format!(
                "left over: {} of {} as {lot}{until}",
                grams(mass),
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
        let (_, sitting) = self.sitting(name, now).await?;
        let moves = self.served_moves(&sitting.id).await?;
        let deed = deed::returned(&sitting.id, &moves, mass);
        self.say(
            deed,
            format!("{} came back on plates at {}", grams(mass), sitting.id),
            now,
        )
        .await
    }
}

fn deed_mass(deed: &Deed) -> Mass {
    let event_moves = deed.moves.iter().filter(|step| step.to == Account::Eaten);
    event_moves.map(|step| step.mass).sum()
}

/// What a sitting wants, in words, with what is really there.
fn told_tonight(week: &Week, sitting: &Sitting, stock: &Stock) -> Tonight {
    let plates: Vec<&Plate> = week
        .plan
        .plates
        .iter()
        .filter(|plate| plate.sitting == sitting.id)
        .collect();
    let service = week
        .plan
        .services
        .iter()
        .find(|service| service.sitting == sitting.id);
    let length = service.map_or(0, |service| service.length.mins(Rounding::Up));
    let meal = plates
        .first()
        .and_then(|plate| week.snapshot.meals.get(&plate.meal));
    Tonight {
        sitting: sitting.clone(),
        meal: meal.map_or_else(String::new, |meal| meal.name.clone()),
        start: sitting
            .leaves_fridge()
            .saturating_sub(jiff::Span::new().minutes(length)),
        steps: service.map_or_else(Vec::new, |service| steps(week, service)),
        plates: plates.iter().map(|plate| plate_text(week, plate)).collect(),
        missing: missing(&plates, stock),
        before_bed: before_bed(week, sitting),
    }
}

fn steps(week: &Week, service: &Service) -> Vec<TonightStep> {
    let name = |item: &Item| match item {
        Item::Component(id) => week
            .snapshot
            .components
            .get(id)
            .map_or_else(|| id.to_string(), |component| component.name.clone()),
        Item::Food(id) => week
            .snapshot
            .foods
            .get(id)
            .map_or_else(|| id.to_string(), |food| food.name.clone()),
    };
    let text = |verb: &ServiceVerb| match verb {
        ServiceVerb::TakeOut(lot) => format!("take out {lot}"),
        ServiceVerb::Reheat(item, mass) => format!("reheat {}, {}", name(item), grams(*mass)),
        ServiceVerb::Toast(item, mass) => format!("toast {}, {}", name(item), grams(*mass)),
        ServiceVerb::Fry(item, mass) => format!("fry {}, {}", name(item), grams(*mass)),
        ServiceVerb::Assemble => "put the plates together".to_owned(),
    };
    let steps = service.steps.iter().map(|step| TonightStep {
        start_min: step.start.mins(Rounding::Down),
        minutes: step.length.mins(Rounding::Up),
        text: match step.appliance {
            Some(appliance) => format!(
                "{} ({appliance:?}, {})",
                text(&step.verb),
                duration_text(step.length)
            )
            .to_lowercase(),
            None => text(&step.verb),
        },
    });
    steps.collect()
}

fn plate_text(week: &Week, plate: &Plate) -> String {
    let who = match &plate.cover {
        larderwright_model::Cover::Eater(id) => week
            .snapshot
            .household
            .eater(id)
            .map_or_else(|| id.to_string(), |eater| eater.name.clone()),
        larderwright_model::Cover::Guest(number) => format!("guest {number}"),
    };
    let portions = plate.portions.iter().map(|portion| {
        let goods = match &portion.item {
            Item::Component(id) => Goods::Component(id.clone()),
            Item::Food(id) => Goods::Food(id.clone()),
        };
        format!("{} {}", goods_name(&goods), grams(portion.mass))
    });
    format!("{who}: {}", portions.collect::<Vec<_>>().join(", "))
}

/// Lots that hold less than the sitting wants.
fn missing(plates: &[&Plate], stock: &Stock) -> Vec<String> {
    let mut wanted: BTreeMap<&LotId, Mass> = BTreeMap::new();
    for portion in plates.iter().flat_map(|plate| &plate.portions) {
        if let PortionSource::Lot(lot) = &portion.source {
            *wanted.entry(lot).or_insert(Mass::ZERO) += portion.mass;
        }
    }
    let mut lines = Vec::new();
    for (lot, mass) in wanted {
        match stock.lot(lot) {
            None => lines.push(format!(
                "{lot} is not in the house; `larderwright plan --rest` plans the rest of the week anew"
            )),
            Some(state) if state.mass() < mass => {
                lines.push(format!("{lot}: {} there, {} wanted", grams(state.mass()), grams(mass)));
            }
            Some(state) if state.place() == Some(Place::Freezer) => lines.push(format!(
                "{lot} is still in the freezer: warm it from frozen, in the microwave or with a splash of water in a \
                 closed pan, until it steams all through"
            )),
            Some(_) => {}
        }
    }
    lines
}

/// What to pull and soak before the next morning.
fn before_bed(week: &Week, sitting: &Sitting) -> Vec<String> {
    let from = sitting.at.saturating_sub(jiff::Span::new().hours(2));
    let to = sitting.at.saturating_add(jiff::Span::new().hours(14));
    let soon = |at: DateTime| at >= from && at <= to;
    let pulls = week
        .plan
        .lots
        .iter()
        .filter_map(|lot| Some((lot.pull?, lot.id.clone())));
    let before = week
        .plan
        .carried
        .iter()
        .filter_map(|entry| Some((entry.pull?, entry.lot.clone())));
    let mut lines: Vec<(DateTime, String)> = pulls
        .chain(before)
        .filter(|(at, _)| soon(*at))
        .map(|(at, lot)| {
            (
                at,
                format!("{}: {lot} from the freezer into the fridge", at.strftime("%H:%M")),
            )
        })
        .collect();
    let leads = week
        .plan
        .runs
        .iter()
        .flat_map(|run| &run.leads)
        .filter(|lead| soon(lead.at));
    lines.extend(leads.map(|lead| (lead.at, format!("{}: {}", lead.at.strftime("%H:%M"), lead.title))));
    lines.sort();
    lines.into_iter().map(|(_, line)| line).collect()
}
