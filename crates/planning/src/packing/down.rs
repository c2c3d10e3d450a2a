//! How hot batches are brought down, and when frozen lots are pulled: physics inside what guidance allows.
//!
//! Guidance asks a home for shallow boxes and an early fridge. That alone leaves the middle of a full box warm for hours,
//! so the simplest action is chosen by which every lot of the batch is likely to have 21.1 °C (70 °F) in the middle within the
//! time that the profile gives food out of the fridge. More and shallower boxes are taken only where there are any to
//! spare, so that nothing that guidance allows becomes impossible here. What cannot be mended is said, never hidden.

use std::collections::{BTreeMap, BTreeSet};

use jiff::Span;
use larderwright_model::{Batch, BoxId, Component, CoolingMethod, Fate, Lot, Session, SessionId, Snapshot};
use larderwright_quantity::{Length, Mass, Rounding, Seconds, mul_div};
use larderwright_safety::cooling::actions::{
    Action, Cold, Hot, Late, TRAY_LAYER, freezer_takes, rinses, stirs,
};
use larderwright_safety::keeping;

use super::boxes::{Shelf, Stay};
use super::trays_for;
use crate::facts;
use crate::keeping::class_of;
use crate::menu::say;

/// A lot never takes more than this many boxes beside those it needs by guidance.
const MORE_BOXES: u32 = 2;
/// Between freezing through and the pull there is at least so much.
const FROZEN_REST: Seconds = Seconds::from_hours(2);

/// What is on the table while a batch is brought down.
struct Down<'a, 'b> {
    snapshot: &'a Snapshot,
    shelf: &'b mut Shelf<'a>,
    lots: &'b mut [Lot],
    stays: &'b mut [Stay],
    /// Sessions in which nobody has an hour to wait for the freezer.
    hurried: &'b BTreeSet<SessionId>,
    /// How much hot food stands in the freezer for an hour, by session.
    in_freezer: BTreeMap<SessionId, Mass>,
}

/// Chooses an action for every hot batch and a pull for every frozen lot; returns what was done and what could not be.
pub(super) fn bring_down<'a>(
    snapshot: &'a Snapshot,
    batches: &[Batch],
    (lots, stays): (&mut [Lot], &mut [Stay]),
    shelf: &mut Shelf<'a>,
    hurried: &BTreeSet<SessionId>,
) -> (Vec<String>, Vec<String>) {
    let mut down = Down {
        snapshot,
        shelf,
        lots,
        stays,
        hurried,
        in_freezer: BTreeMap::new(),
    };
    let (mut done, mut not_done) = (Vec::new(), Vec::new());
    for batch in batches {
        match down.cool(batch) {
            Some(Ok(line)) => done.push(line),
            Some(Err(line)) => not_done.push(line),
            None => {}
        }
        let session = snapshot
            .session(&batch.session)
            .expect("a batch belongs to a session of the week");
        for ix in down.of(batch) {
            match down.pull(batch, session, ix) {
                Some(Ok(line)) => done.push(line),
                Some(Err(line)) => not_done.push(line),
                None => {}
            }
        }
    }
    (done, not_done)
}

fn cold(lot: &Lot) -> Cold {
    if lot.fate == Fate::Freezer {
        Cold::Freezer
    } else {
        Cold::Fridge
    }
}

fn method(action: Action) -> CoolingMethod {
    match action {
        Action::OpenBoxes => CoolingMethod::Shallow,
        Action::Trays => CoolingMethod::Trays,
        Action::IceBath => CoolingMethod::IceBath,
        Action::ColdWater => CoolingMethod::ColdWater,
        Action::FreezerFirst => CoolingMethod::FreezerFirst,
    }
}

impl Down<'_, '_> {
    fn of(&self, batch: &Batch) -> Vec<usize> {
        (0..self.lots.len())
            .filter(|ix| self.lots[*ix].origin == batch.id)
            .collect()
    }

    fn component(&self, batch: &Batch) -> &Component {
        &self.snapshot.components[&batch.component]
    }

    fn hot(&self, batch: &Batch) -> Hot {
        let component = self.component(batch);
        Hot::of(class_of(component), component.bulk.value)
    }

    /// The actions this kitchen can do with a batch, the simplest first; an hour in the freezer is for what they fail at.
    fn actions(&self, batch: &Batch) -> Vec<Action> {
        let component = self.component(batch);
        let kitchen = &self.snapshot.household.kitchen;
        let mut actions = vec![Action::OpenBoxes];
        if stirs(class_of(component)) {
            // Ice is made in a freezer.
            actions.extend(kitchen.freezer.is_positive().then_some(Action::IceBath));
        } else if trays_for(kitchen, component, batch.yields[1], TRAY_LAYER).is_some() {
            actions.push(Action::Trays);
        }
        if rinses(class_of(component)) && facts::is_plain_and_drained(component, &batch.way) {
            actions.push(Action::ColdWater);
        }
        actions
    }

    fn cool(&mut self, batch: &Batch) -> Option<Result<String, String>> {
        let own: Vec<usize> = self
            .of(batch)
            .into_iter()
            .filter(|ix| self.lots[*ix].fate != Fate::Cupboard)
            .collect();
        if own.is_empty() || self.lots[own[0]].cooling != CoolingMethod::Shallow {
            return None;
        }
        let hot = self.hot(batch);
        let profile = self.snapshot.household.profile;
        let actions = self.actions(batch);
        let late = |lot: &Lot, action| hot.late(profile, action, (lot.depth, cold(lot)));
        let passes = |lot: &Lot, action| late(lot, action).is_none();
        let as_they_are = actions
            .iter()
            .copied()
            .find(|action| own.iter().all(|ix| passes(&self.lots[*ix], *action)));
        let chosen = as_they_are.or_else(|| {
            // With an action that helps fewer boxes have to be added.
            let mut helping = actions.iter().rev().copied();
            helping.find(|action| self.spread(batch, &own, *action))
        });
        let chosen = chosen.or_else(|| self.freezer_first(batch, &own).then_some(Action::FreezerFirst));
        let action = chosen.unwrap_or(*actions.last().expect("open boxes are always there"));
        for ix in &own {
            self.lots[*ix].cooling = method(action);
        }
        let name = self.component(batch).name.to_lowercase();
        let slowest = own.iter().filter_map(|ix| {
            let lot = &self.lots[*ix];
            hot.through(action, lot.depth, cold(lot))
        });
        let minutes = slowest.max().map_or(0, |time| time.mins(Rounding::Up));
        Some(if chosen.is_some() {
            Ok(format!(
                "{name}: {}, its middle has 21 °C in about {minutes} min",
                words(action)
            ))
        } else {
            let missed = own.iter().filter_map(|ix| late(&self.lots[*ix], action));
            let missed = missed.max_by_key(|stage| stage.takes.map_or(i64::MAX, Seconds::secs));
            let help = self.would_help(batch, &own, action);
            Err(missed.map_or_else(String::new, |stage| not_down(&name, action, stage, &help)))
        })
    }

    /// What a cook can do about a batch that nothing here brings down in time: so many more boxes of a kind there are.
    fn would_help(&self, batch: &Batch, own: &[usize], action: Action) -> String {
        let profile = self.snapshot.household.profile;
        let hot = self.hot(batch);
        let component = self.component(batch);
        let mut missing: BTreeMap<&str, i64> = BTreeMap::new();
        for lot in own.iter().map(|ix| &self.lots[*ix]) {
            let deepest = hot.deepest_in_time(profile, action, cold(lot), lot.depth);
            let kinds = &self.snapshot.household.kitchen.boxes;
            let kind = lot
                .boxes
                .first()
                .and_then(|(id, _)| kinds.iter().find(|kind| kind.id == *id));
            let (Some(deepest), Some(kind)) = (deepest, kind) else {
                continue;
            };
            let each = mul_div(
                kind.volume.ul(),
                deepest.um(),
                kind.depth.um().max(1),
                Rounding::Down,
            );
            let volume = component.bulk.value.volume_of(lot.mass, Rounding::Up);
            let held: u32 = lot.boxes.iter().map(|(_, count)| count).sum();
            let more = mul_div(volume.ul(), 1, each.max(1), Rounding::Up) - i64::from(held);
            if more > 0 {
                *missing.entry(&kind.name).or_default() += more;
            }
        }
        let wanted: Vec<String> = missing
            .iter()
            .map(|(name, more)| format!("{more} more × {name}"))
            .collect();
        if wanted.is_empty() {
            "Cook less of it at a time, or in two sessions.".to_owned()
        } else {
            format!("{} would do, or less of it at a time.", wanted.join(", "))
        }
    }

    /// An hour in the freezer, where there is the time, the room and the cold for it; in shallower boxes if need be.
    fn freezer_first(&mut self, batch: &Batch, own: &[usize]) -> bool {
        let kitchen = &self.snapshot.household.kitchen;
        let stirred = stirs(class_of(self.component(batch)));
        let hot_already = self.in_freezer.get(&batch.session).copied().unwrap_or(Mass::ZERO);
        let hot_now = hot_already + own.iter().map(|ix| self.lots[*ix].mass).sum::<Mass>();
        if stirred || self.hurried.contains(&batch.session) || hot_now > freezer_takes(kitchen.freezer) {
            return false;
        }
        let before = (self.shelf.clone(), self.lots.to_vec());
        if self.spread(batch, own, Action::FreezerFirst) {
            let chilled = own.iter().filter(|ix| self.lots[**ix].fate == Fate::Fridge);
            let boxes: Vec<(BoxId, u32)> = chilled.flat_map(|ix| self.lots[*ix].boxes.clone()).collect();
            if self.shelf.stand_in_freezer(&boxes, self.stays[own[0]].from) {
                self.in_freezer.insert(batch.session.clone(), hot_now);
                return true;
            }
            *self.shelf = before.0;
            self.lots.clone_from_slice(&before.1);
        }
        false
    }

    /// Gives lots that are too deep for an action other boxes; changes all of them or none.
    fn spread(&mut self, batch: &Batch, own: &[usize], action: Action) -> bool {
        let hot = self.hot(batch);
        let profile = self.snapshot.household.profile;
        let before = (self.shelf.clone(), self.lots.to_vec());
        for ix in own {
            let lot = &self.lots[*ix];
            let late = hot.late(profile, action, (lot.depth, cold(lot)));
            let deepest = hot.deepest_in_time(profile, action, cold(lot), lot.depth);
            let done = late.is_none() || deepest.is_some_and(|deepest| self.shallower(batch, *ix, deepest));
            if !done {
                *self.shelf = before.0;
                self.lots.clone_from_slice(&before.1);
                return false;
            }
        }
        true
    }

    /// Takes shallower boxes for a lot, as long as it does not become a heap of boxes.
    fn shallower(&mut self, batch: &Batch, ix: usize, depth: Length) -> bool {
        let lot = &self.lots[ix];
        let volume = self.component(batch).bulk.value.volume_of(lot.mass, Rounding::Up);
        let count: u32 = lot.boxes.iter().map(|(_, count)| count).sum();
        let most = (count * 2).max(count + MORE_BOXES);
        let stay = self.stays[ix];
        let Some(packed) = self.shelf.retake((&lot.boxes, stay), (volume, depth), stay, most) else {
            return false;
        };
        self.lots[ix].boxes = packed.boxes;
        self.lots[ix].depth = packed.depth;
        true
    }

    /// Sees that a frozen lot is thawed through when it is wanted: shallower boxes, else a day more in the fridge.
    fn pull(&mut self, batch: &Batch, session: &Session, ix: usize) -> Option<Result<String, String>> {
        let lot = self.lots[ix].clone();
        let pull = lot.pull.filter(|_| lot.fate == Fate::Freezer)?;
        let sittings = lot.sittings.iter().filter_map(|id| self.snapshot.sitting(id));
        let wanted = sittings
            .clone()
            .map(larderwright_model::Sitting::leaves_fridge)
            .min()?;
        let last = sittings.map(|sitting| sitting.at).max()?;
        let hot = self.hot(batch);
        let there = Seconds::from_secs(wanted.duration_since(pull).as_secs());
        let needed = hot.thaws(lot.depth)?;
        if needed <= there {
            return None;
        }
        let flat = hot.deepest_thawed(there, lot.depth);
        if flat.is_some_and(|depth| self.shallower(batch, ix, depth)) {
            return None;
        }
        let name = self.component(batch).name.to_lowercase();
        let earlier = pull.saturating_sub(Span::new().days(1));
        let frozen = hot.freezes(lot.depth)? + FROZEN_REST;
        let class = class_of(self.component(batch));
        let profile = self.snapshot.household.profile;
        let keep = keeping::thawed(profile, class, session.from, session.from, earlier);
        let solid = earlier.duration_since(session.to).as_secs() >= frozen.secs();
        let stay = Stay {
            pull: Some(earlier),
            ..self.stays[ix]
        };
        if solid && keep.use_by >= last && self.shelf.move_stay(&lot.boxes, self.stays[ix], stay) {
            self.lots[ix].pull = Some(earlier);
            self.stays[ix] = stay;
            return Some(Ok(format!(
                "{name}: {} mm thick, pulled {}",
                lot.depth.mm(Rounding::Up),
                say(earlier)
            )));
        }
        Some(Err(format!(
            "{name}: {} mm thick, its middle may still be icy on the day; the microwave or the pan finishes it",
            lot.depth.mm(Rounding::Up)
        )))
    }
}

fn not_down(name: &str, action: Action, stage: Late, help: &str) -> String {
    let takes = stage.takes.map_or_else(
        || "never gets there".to_owned(),
        |takes| format!("takes about {} min", takes.mins(Rounding::Up)),
    );
    format!(
        "{name}: no way here brings its middle to {} °C in {} min; {} {takes}. {help}",
        stage.to.c(Rounding::Nearest),
        stage.within.mins(Rounding::Down),
        words(action)
    )
}

fn words(action: Action) -> &'static str {
    match action {
        Action::OpenBoxes => "open boxes",
        Action::Trays => "twenty minutes on trays",
        Action::IceBath => "ice water and a stir",
        Action::ColdWater => "cold water",
        Action::FreezerFirst => "an hour in the freezer first",
    }
}
