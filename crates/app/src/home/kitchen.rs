//! The kitchen: batches are cooked, cooled and put into boxes.

use jiff::civil::DateTime;
use larderwright_ledger::deed::{self, BatchInputs, Boxed};
use larderwright_ledger::{Deed, Price, Stock, Subject};
use larderwright_model::{
    Account, Batch, BatchId, CookedFact, Event, Fact, Fate, Food, FoodId, Keep, Lot, Measured, Place,
    Reading, Reported, SessionId, Snapshot, Way,
};
use larderwright_quantity::{Mass, Permille, Rounding, Temperature, mul_div};
use larderwright_safety::chilling;
use larderwright_safety::keeping::{self, KeepClass};
use larderwright_store::Store;
use larderwright_views::Words;

use super::names::{find_batch, sitting_words};
use super::{Home, HomeError, Now, Told, Week};
use crate::catalogue::built_in;

/// What a cook says of a batch.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Cooking {
    /// What the scale said of everything that came out.
    pub weighed: Option<Mass>,
    /// How full the boxes are, of what was planned, per thousand.
    pub filled: Option<Permille>,
    /// Minutes it really took.
    pub minutes: Option<i64>,
}

/// What a cook says of putting a batch into boxes.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Portioned {
    /// Masses of the lots in the order of the plan, where somebody weighed them.
    pub weighed: Vec<Mass>,
    /// Everything into the freezer, or everything into the fridge, against the plan.
    pub place: Option<Place>,
}

impl<S: Store> Home<S> {
    /// The plan that has a batch of this name and session, the latest one.
    async fn week_with_batch(&self, name: &str, now: &Now) -> Result<(Week, Batch), HomeError> {
        let mut missing = None;
        for week in self.current_weeks(now).await?.into_iter().rev() {
            match find_batch(&week.plan, name) {
                Ok(batch) => {
                    let batch = batch.clone();
                    return Ok((week, batch));
                }
                Err(error) => missing = Some(error),
            }
        }
        Err(missing.unwrap_or_else(|| {
            HomeError::unknown(
                "there is no plan to cook from",
                "Plan a week first, with `larderwright plan`.",
            )
        }))
    }

    /// A batch was cooked. Said again, the later word takes the place of the earlier one.
    ///
    /// # Errors
    /// When the plan has no such batch.
    pub async fn cooked(&self, name: &str, cooking: Cooking, now: &Now) -> Result<Told, HomeError> {
        let (week, batch) = self.week_with_batch(name, now).await?;
        let mut deed = self.cooked_deed(&week, &batch, cooking, Reported::Told).await?;
        // Every word names what would be presumed: the last one counts.
        deed.corrects = Some(super::presume::cooked_id(&batch.id));
        let output = match &deed.fact {
            Fact::Cooked(fact) => fact.output,
            _ => Mass::ZERO,
        };
        let told = self.tell(vec![deed], now).await?;
        let told = told.and(self.boxed_again(&week, &batch, now).await?);
        let short = self.who_goes_short(&week, &batch, output);
        let words = Words::of(&week.snapshot.household);
        let mut lines = vec![format!(
            "cooked {}: {} came out",
            component_name(&week, &batch),
            words.mass(output)
        )];
        lines.extend(short);
        Ok(Told { lines, ..told })
    }

    /// Boxes that were filled before the yield was known hold another share of it now.
    async fn boxed_again(&self, week: &Week, batch: &Batch, now: &Now) -> Result<Told, HomeError> {
        let subject = Subject::Batch(batch.id.clone());
        let events = self.store.events_about(&subject).await?;
        let is_stored = |event: &&Event| matches!(&event.fact, Fact::Stored { batch: of } if *of == batch.id);
        let last = events.iter().rfind(is_stored);
        let state = self.store.batch(&batch.id).await?;
        let (Some(last), Some(state)) = (last, state) else {
            return Ok(Told::default());
        };
        if state.in_pot.mass == Mass::ZERO {
            return Ok(Told::default());
        }
        let boxed_mass: Mass = last.moves.iter().map(|step| step.mass).sum();
        let boxed_worth: i64 = last.moves.iter().map(|step| step.worth).sum();
        let there = larderwright_ledger::Held {
            mass: state.in_pot.mass + boxed_mass,
            worth: state.in_pot.worth + boxed_worth,
        };
        let made = last.cards.first().map_or_else(|| now.minute(), |card| card.made);
        let boxes = boxed(week, batch, &Portioned::default(), (made, last.moment.at));
        let deed = deed::stored(batch, there, boxes).correcting(&super::presume::stored_id(&batch.id));
        self.tell_at(vec![deed], &last.moment, now).await
    }

    pub(crate) async fn cooked_deed(
        &self,
        week: &Week,
        batch: &Batch,
        cooking: Cooking,
        reported: Reported,
    ) -> Result<Deed, HomeError> {
        let fact = cooked_fact(week, batch, cooking, reported);
        self.pot_deed(week, (batch, fact), deed::cooked).await
    }

    /// What a batch takes from the shelves, as if nothing had been said of it yet.
    async fn pot_deed(
        &self,
        week: &Week,
        (batch, fact): (&Batch, CookedFact),
        deed: fn(&mut Stock, &BatchInputs<'_>, CookedFact) -> Deed,
    ) -> Result<Deed, HomeError> {
        let subject = Subject::Batch(batch.id.clone());
        let mut stock = self.stock_without(&subject, &cooks(&batch.id)).await?;
        let inputs = BatchInputs {
            batch,
            price: &|food| price_of(&week.snapshot, food),
            is_tap: &|food| week.snapshot.foods.get(food).is_some_and(Food::is_tap),
        };
        Ok(deed(&mut stock, &inputs, fact))
    }

    /// A batch was given up: when it is lost, its inputs are thrown away, else they stay on the shelves. Nothing is presumed
    /// of it afterwards.
    ///
    /// # Errors
    /// When the plan has no such batch.
    pub async fn not_cooked(&self, name: &str, lost: bool, now: &Now) -> Result<Told, HomeError> {
        let (week, batch) = self.week_with_batch(name, now).await?;
        let fact = cooked_fact(&week, &batch, Cooking::default(), Reported::Told);
        let mut deed = if lost {
            let fact = CookedFact {
                output: Mass::ZERO,
                ..fact
            };
            self.pot_deed(&week, (&batch, fact), deed::lost).await?
        } else {
            deed::not_cooked(fact)
        };
        deed.corrects = Some(super::presume::cooked_id(&batch.id));
        let mass: Mass = deed
            .moves
            .iter()
            .filter(|step| step.to == Account::Bin)
            .map(|step| step.mass)
            .sum();
        let words = Words::of(&week.snapshot.household);
        let name = component_name(&week, &batch);
        let said = if lost {
            format!("{name} is lost: {} thrown away", words.mass(mass))
        } else {
            format!("{name} was not cooked: what it wanted stays on the shelves")
        };
        let told = self.tell(vec![deed], now).await?;
        let lines = std::iter::once(said).chain(self.who_goes_short(&week, &batch, Mass::ZERO));
        Ok(Told {
            lines: lines.collect(),
            ..told
        })
    }

    /// Which sittings a short batch leaves short, first come first served.
    fn who_goes_short(&self, week: &Week, batch: &Batch, output: Mass) -> Vec<String> {
        let lots: Vec<&Lot> = week
            .plan
            .lots
            .iter()
            .filter(|lot| lot.origin == batch.id)
            .collect();
        let words = Words::of(&week.snapshot.household);
        let mut left = output;
        let mut lines = Vec::new();
        for sitting in &week.snapshot.sittings {
            for lot in &lots {
                let portions = week
                    .plan
                    .plates
                    .iter()
                    .filter(|plate| plate.sitting == sitting.id);
                let drawn: Mass = portions
                    .flat_map(|plate| &plate.portions)
                    .filter(|portion| {
                        matches!(&portion.source, larderwright_model::PortionSource::Lot(id) if *id == lot.id)
                    })
                    .map(|portion| portion.mass)
                    .sum();
                if drawn > left {
                    lines.push(format!(
                        "{} goes short: {} instead of {}",
                        sitting_words(&sitting.id),
                        words.mass(left),
                        words.mass(drawn)
                    ));
                }
                left = left.saturating_sub(drawn);
            }
        }
        lines
    }

    /// A batch was cooled: times, and temperatures where somebody measured. Says what the guidance says of it.
    ///
    /// # Errors
    /// When the plan has no such batch.
    pub async fn cooled(
        &self,
        name: &str,
        readings: Vec<(DateTime, Option<Temperature>)>,
        now: &Now,
    ) -> Result<Told, HomeError> {
        let (week, batch) = self.week_with_batch(name, now).await?;
        let readings = readings
            .into_iter()
            .map(|(at, temperature)| Reading { at, temperature })
            .collect();
        let told = self.tell(vec![deed::cooled(&batch.id, readings)], now).await?;
        let name = component_name(&week, &batch);
        let judged = self.judge_cooling(&week, &batch, now).await?;
        let late = judged.iter().filter(|finding| finding.correction.acts());
        let findings: Vec<String> = late
            .map(|finding| format!("{name}: {}", finding.words()))
            .collect();
        let mut lines = vec![format!("noted how {name} cooled")];
        let fine = judged.iter().filter(|finding| !finding.correction.acts());
        lines.extend(fine.map(chilling::LogFinding::words));
        Ok(Told {
            lines,
            findings: [told.findings, findings].concat(),
            ..told
        })
    }

    /// What the guidance says of how a batch cooled, by everything that was told of it so far.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn judge_cooling(
        &self,
        week: &Week,
        batch: &Batch,
        now: &Now,
    ) -> Result<Vec<chilling::LogFinding>, HomeError> {
        let class = week
            .snapshot
            .components
            .get(&batch.component)
            .and_then(|component| KeepClass::parse(component.keep.as_str()));
        let state = self.store.batch(&batch.id).await?;
        let (Some(class), Some(state)) = (class, state) else {
            return Ok(Vec::new());
        };
        let readings: Vec<_> = state
            .readings
            .iter()
            .map(|reading| (reading.at, reading.temperature))
            .collect();
        let subject = Subject::Batch(batch.id.clone());
        let events = self.store.events_about(&subject).await?;
        // What is only presumed is no line of a log.
        let told = || {
            events
                .iter()
                .rev()
                .filter(|event| !super::presume::is_presumed(event))
        };
        let at = |fits: &dyn Fn(&Fact) -> bool| {
            told()
                .find(|event| fits(&event.fact))
                .map(|event| event.moment.at)
        };
        let cooked = at(&|fact| matches!(fact, Fact::Cooked(fact) if fact.output.is_positive()));
        let boxed = at(&|fact| matches!(fact, Fact::Stored { .. }));
        let lines = chilling::lines(cooked, &readings, boxed);
        let row = keeping::rule(week.snapshot.household.profile, class);
        Ok(chilling::judge(row, &lines, now.minute()))
    }

    /// A batch went into its boxes.
    ///
    /// # Errors
    /// When the plan has no such batch, or nobody has said that it was cooked.
    pub async fn stored(&self, name: &str, portioned: &Portioned, now: &Now) -> Result<Told, HomeError> {
        let (week, batch) = self.week_with_batch(name, now).await?;
        let Some(state) = self.store.batch(&batch.id).await?.filter(|state| {
            state
                .cooked
                .as_ref()
                .is_some_and(|fact| fact.output.is_positive())
        }) else {
            return Err(HomeError::unknown(
                format!("nobody has said that {} was cooked", batch.component),
                format!("Say `larderwright cooked {}` first.", batch.component),
            ));
        };
        if !state.in_pot.mass.is_positive() {
            return Ok(Told::nothing(format!(
                "{} is in its boxes already",
                component_name(&week, &batch)
            )));
        }
        let made = self.made_at(&batch).await?.unwrap_or_else(|| now.minute());
        let boxed = boxed(&week, &batch, portioned, (made, now.minute()));
        let words = Words::of(&week.snapshot.household);
        let mut lines: Vec<String> = Vec::new();
        let presumed = super::presume::stored_id(&batch.id);
        let deed = deed::stored(&batch, state.in_pot, boxed).correcting(&presumed);
        for step in &deed.moves {
            let card = deed.cards.iter().find(|card| card.lot == step.lot);
            let use_by = card.and_then(larderwright_model::LotCard::use_by);
            let until = use_by.map_or_else(String::new, |at| format!(", use by {}", words.until(at)));
            let place = match step.to {
                Account::Place(place) => place.word(),
                _ => "house",
            };
            lines.push(format!(
                "{}: {} in the {place}{until}",
                component_name(&week, &batch),
                words.mass(step.mass)
            ));
        }
        let told = self.tell(vec![deed], now).await?;
        Ok(Told { lines, ..told })
    }

    /// When a batch was cooked, as told.
    pub(crate) async fn made_at(&self, batch: &Batch) -> Result<Option<DateTime>, HomeError> {
        let subject = Subject::Batch(batch.id.clone());
        let events = self.store.events_about(&subject).await?;
        let last = events
            .into_iter()
            .rev()
            .find(|event| cooks(&batch.id)(&event.fact));
        Ok(last.map(|event| event.moment.at))
    }

    /// Every batch of a session was cooked and stored as planned, and how long it took.
    ///
    /// # Errors
    /// When there is no such session.
    pub async fn session_done(
        &self,
        session: Option<&SessionId>,
        minutes: Option<i64>,
        now: &Now,
    ) -> Result<Told, HomeError> {
        let mut told = Told::default();
        for week in self.current_weeks(now).await? {
            let first = week.plan.runs.iter().map(|run| run.session.clone()).min();
            let wanted = session.cloned().or(first);
            let Some(run) = week
                .plan
                .runs
                .iter()
                .find(|run| Some(&run.session) == wanted.as_ref())
            else {
                continue;
            };
            for batch in week
                .plan
                .batches
                .iter()
                .filter(|batch| batch.session == run.session)
            {
                let state = self.store.batch(&batch.id).await?;
                let known = state.and_then(|state| state.cooked);
                if known.is_none() {
                    told = told.and(self.cooked(batch.id.as_str(), Cooking::default(), now).await?);
                }
                if known.is_none_or(|fact| fact.output.is_positive()) {
                    told = told.and(self.stored(batch.id.as_str(), &Portioned::default(), now).await?);
                }
            }
            if let Some(minutes) = minutes {
                let planned = run.acts.iter().map(|act| act.start).min();
                let planned = planned.map_or(0, |start| run.finish.duration_since(start).as_mins());
                let ended = Deed::of(Fact::SessionEnded {
                    session: run.session.clone(),
                    minutes,
                    minutes_planned: planned,
                });
                let more = self.tell(vec![ended], now).await?;
                told = told.and(Told {
                    lines: vec![format!("{minutes} minutes, planned {planned}")],
                    ..more
                });
            }
            return Ok(told);
        }
        Err(HomeError::unknown(
            "no plan has such a session",
            "See `larderwright sheet run`.",
        ))
    }
}

/// Whether a fact says how a batch was cooked.
fn cooks(batch: &BatchId) -> impl Fn(&Fact) -> bool + '_ {
    move |fact| matches!(fact, Fact::Cooked(fact) if fact.batch == *batch)
}

/// What is said of a batch that was cooked.
fn cooked_fact(week: &Week, batch: &Batch, cooking: Cooking, reported: Reported) -> CookedFact {
    let likely = batch.yields[1];
    let (output, measured) = match (cooking.weighed, cooking.filled) {
        (Some(mass), _) => (mass, Measured::Weighed),
        (None, Some(part)) => (part.of(likely, Rounding::Nearest), Measured::Filled(part)),
        (None, None) => (likely, Measured::Expected),
    };
    let by_law = |way: &Way| way.yields.likely.of(batch.x, Rounding::Nearest);
    CookedFact {
        batch: batch.id.clone(),
        component: batch.component.clone(),
        way: batch.way.clone(),
        session: Some(batch.session.clone()),
        x: batch.x,
        expected: by_recipe(week, batch).map_or(likely, by_law),
        output,
        measured,
        minutes: cooking.minutes,
        minutes_planned: planned_minutes(week, batch),
        reported,
    }
}

/// What a batch is, as people say it.
pub(crate) fn component_name(week: &Week, batch: &Batch) -> String {
    let component = week.snapshot.components.get(&batch.component);
    component.map_or_else(|| batch.component.to_string(), |component| component.name.clone())
}

/// The lots of a batch, with the dates that hold from when they are stored.
pub(crate) fn boxed(
    week: &Week,
    batch: &Batch,
    portioned: &Portioned,
    (made, stored): (DateTime, DateTime),
) -> Vec<Boxed> {
    let lots = week.plan.lots.iter().filter(|lot| lot.origin == batch.id);
    let class = week
        .snapshot
        .components
        .get(&batch.component)
        .and_then(|component| KeepClass::parse(component.keep.as_str()));
    let profile = week.snapshot.household.profile;
    lots.enumerate()
        .map(|(at, lot)| {
            let place = portioned.place.unwrap_or(match lot.fate {
                Fate::Fridge => Place::Fridge,
                Fate::Freezer => Place::Freezer,
                Fate::Cupboard => Place::Cupboard,
            });
            let keep: Option<Keep> = class.and_then(|class| match place {
                Place::Fridge => Some(keeping::fridge(profile, class, made, stored)),
                Place::Freezer => keeping::frozen(profile, class, stored),
                Place::Cupboard => keeping::cupboard(profile, class, made),
            });
            Boxed {
                lot: lot.id.clone(),
                place,
                planned: lot.mass,
                weighed: portioned.weighed.get(at).copied(),
                boxes: lot.boxes.clone(),
                made,
                keep,
            }
        })
        .collect()
}

/// The way of a batch as the recipe has it, without what was learnt.
fn by_recipe(week: &Week, batch: &Batch) -> Option<&'static Way> {
    let larder = built_in().ok()?;
    let known = week.snapshot.components.contains_key(&batch.component);
    let component = larder.components.get(&batch.component).filter(|_| known)?;
    component.ways.iter().find(|way| way.id == batch.way)
}

/// Minutes from a batch's first act to its last step, as they would be by the recipe's own laws.
fn planned_minutes(week: &Week, batch: &Batch) -> Option<i64> {
    let acts = week.plan.runs.iter().flat_map(|run| &run.acts);
    let own: Vec<_> = acts
        .filter(|act| act.batches.contains(&batch.id) && act.kind == larderwright_model::ActKind::Step)
        .collect();
    let start = own.iter().map(|act| act.start).min()?;
    let end = own.iter().map(|act| act.end).max()?;
    let planned = end.duration_since(start).as_mins();
    let secs = |way: &Way| -> i64 {
        let steps = way.steps.iter().filter(|step| !step.lead);
        steps.map(|step| step.law.likely(batch.x).secs()).sum()
    };
    let taught = week.snapshot.components.get(&batch.component)?;
    let taught = taught.ways.iter().find(|way| way.id == batch.way).map_or(0, secs);
    let own = by_recipe(week, batch).map_or(taught, secs);
    Some(mul_div(planned, own.max(1), taught.max(1), Rounding::Nearest))
}

/// What a kilogram of a food costs by its cheapest pack.
pub(crate) fn price_of(snapshot: &Snapshot, food: &FoodId) -> Price {
    let packs = snapshot.foods.get(food).into_iter().flat_map(|food| &food.packs);
    let per_kg = packs.map(|pack| {
        mul_div(
            pack.price.minor() * 1000,
            1_000_000,
            pack.size.mass.mg().max(1),
            Rounding::Nearest,
        )
    });
    Price {
        per_kg: per_kg.min().unwrap_or(0),
    }
}
