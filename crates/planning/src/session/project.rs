//! The network of a session: every step of every batch as tasks with modes, lags and visits.
//!
//! Time is whole minutes from the start of the window. A task's mode says whose hands, which size of
//! pot and which board; likes are told apart only when the schedule is read back.

mod clean;
mod cooling;
mod equipment;
mod joint;
mod task;

use std::collections::{BTreeMap, BTreeSet};

use larderwright_model::{
    Batch, BatchId, Conflict, Equipment, Hygiene, LoadPlan, Lot, Session, Skill, Snapshot, Step, StepId,
};
use larderwright_quantity::{Rounding, Seconds, Temperature};
use larderwright_safety::altitude::MOIST_HEAT;
use larderwright_solve::project::{
    Hold, Lag, Lengths, Mode, Offset, Project, ProjectBuilder, ProjectError, TaskIx,
};

use super::rooms::{self, Rooms};
use super::{oven, text};
use crate::facts;
use crate::practice::{CLEAR_DOWN, PREFLIGHT};
pub(super) use task::{Kind, TaskInfo, certain};

/// Runs may spill over the window by this much, so that a run that does not fit can be told by how much.
const SPILL_MIN: i64 = 1440;

/// A project and what its tasks mean.
pub(super) struct Network {
    pub project: Project,
    pub batches: Vec<Batch>,
    pub tasks: Vec<TaskInfo>,
    pub rooms: Rooms,
}

impl Network {
    /// Whether work of several batches is done in one.
    pub(super) fn is_joint(&self) -> bool {
        self.tasks.iter().any(|task| !task.others.is_empty())
    }
}

/// Whether loads that share one load before them keep the stated longest wait.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Waits {
    /// They do.
    Stated,
    /// They may wait longer: there is no other way.
    Loose,
}

/// How a network is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Manner {
    pub waits: Waits,
    /// Whether like work of several batches, such as dicing onions, is one task.
    pub joint: bool,
}

/// One load of one step on its way into the project.
#[derive(Clone, Copy)]
struct Load<'a> {
    batch: &'a Batch,
    step: &'a Step,
    plan: LoadPlan,
    number: i64,
    oven: Option<Temperature>,
    /// Which size of pot it is done in, by position in the rooms; the same for the whole batch.
    pot: Option<usize>,
    /// The severe allergens in its batch, as bits.
    severe: u64,
}

/// Tasks in the oven with its temperature, and uses of boards and blender.
type Special = (Vec<(usize, Temperature)>, clean::Uses);

struct Builder<'a> {
    snapshot: &'a Snapshot,
    manner: Manner,
    inner: ProjectBuilder,
    rooms: Rooms,
    tasks: Vec<TaskInfo>,
    ixs: Vec<TaskIx>,
    /// Tasks done in a pot.
    pots: BTreeSet<usize>,
    /// Tasks of each batch and step, by load.
    placed: BTreeMap<(BatchId, StepId), Vec<usize>>,
    batches: Vec<&'a Batch>,
    /// How many washes of boards and blender there are.
    washes: i64,
}

/// Builds the project of a session.
///
/// # Errors
/// A step that nobody in the session may do, or that this kitchen has no room for.
pub(super) fn build(
    snapshot: &Snapshot,
    session: &Session,
    (batches, lots): (&[&Batch], &[Lot]),
    manner: Manner,
) -> Result<Network, Conflict> {
    assemble(snapshot, session, (batches, lots), manner).map_err(|error| rooms::refused(session, &error))
}

fn assemble<'a>(
    snapshot: &'a Snapshot,
    session: &Session,
    (batches, lots): (&[&'a Batch], &[Lot]),
    manner: Manner,
) -> Result<Network, ProjectError> {
    let mut inner = ProjectBuilder::new(session.window().mins(Rounding::Down) + SPILL_MIN)?;
    let raw_meat = batches
        .iter()
        .any(|batch| steps(snapshot, batch).any(|step| step.hygiene == Hygiene::RawMeat));
    let rooms = Rooms::new(snapshot, session, raw_meat, &mut inner)?;
    let mut builder = Builder {
        snapshot,
        manner,
        inner,
        rooms,
        tasks: Vec::new(),
        ixs: Vec::new(),
        pots: BTreeSet::new(),
        placed: BTreeMap::new(),
        batches: batches.to_vec(),
        washes: 0,
    };
    let preflight = builder.add_fixed(Kind::Preflight, text::PREFLIGHT, PREFLIGHT.minutes(0), true)?;
    let loads = builder.loads(batches);
    let preheat = if loads.iter().any(|load| load.oven.is_some()) {
        Some(builder.add_preheat()?)
    } else {
        None
    };
    let (oven_tasks, surfaces) = builder.place(&loads, (preflight, preheat))?;
    builder.keep_oven_temperatures(&oven_tasks)?;
    builder.keep_clean(&surfaces)?;
    let mut ends = Vec::new();
    for batch in batches {
        ends.push(builder.add_pack_out(batch, lots)?);
    }
    let clear_down = builder.add_fixed(Kind::ClearDown, text::CLEAR_DOWN, CLEAR_DOWN.minutes(0), true)?;
    for end in ends {
        builder.lag(end, clear_down, 0, None)?;
    }
    for task in 0..clear_down {
        if matches!(builder.tasks[task].kind, Kind::Step | Kind::CleanDown) {
            builder.lag(task, clear_down, 0, None)?;
        }
    }
    let batches = batches.iter().map(|batch| (*batch).clone()).collect();
    Ok(Network {
        project: builder.inner.build()?,
        batches,
        tasks: builder.tasks,
        rooms: builder.rooms,
    })
}

/// The steps of a batch's way that are done in the session.
fn steps<'a>(snapshot: &'a Snapshot, batch: &Batch) -> impl Iterator<Item = &'a Step> {
    let component = &snapshot.components[&batch.component];
    let way = component
        .way(&batch.way)
        .expect("a batch is made in a way of its component");
    way.steps.iter().filter(|step| !step.lead)
}

impl<'a> Builder<'a> {
    fn loads(&self, batches: &[&'a Batch]) -> Vec<Load<'a>> {
        let snapshot = self.snapshot;
        let kitchen = &snapshot.household.kitchen;
        let severe = clean::severe(snapshot);
        let mut loads = Vec::new();
        for batch in batches {
            for step in steps(snapshot, batch) {
                let plan = step
                    .load_plan(batch.x, kitchen)
                    .expect("batches are sized so that every step fits");
                for number in 1..=plan.loads {
                    let severe = severe.get(&batch.component).copied().unwrap_or(0);
                    loads.push(Load {
                        batch,
                        step,
                        plan,
                        number,
                        oven: None,
                        pot: None,
                        severe,
                    });
                }
            }
        }
        self.choose_pots(&mut loads);
        if let Some(oven) = kitchen.oven {
            let hot: Vec<usize> = (0..loads.len())
                .filter(|ix| loads[*ix].step.uses.contains(&Equipment::Rack))
                .collect();
            let ranges: Vec<_> = hot.iter().filter_map(|ix| loads[*ix].step.oven).collect();
            let with_range = hot.iter().filter(|ix| loads[**ix].step.oven.is_some());
            let chosen = oven::temperatures(&ranges, &oven, snapshot.household.system);
            for (ix, temperature) in with_range.copied().collect::<Vec<_>>().into_iter().zip(chosen) {
                loads[ix].oven = Some(temperature);
            }
        }
        loads
    }

    /// Adds all loads, like work once where that is wanted, and what has to go before them. Returns the tasks in the
    /// oven with its temperature, and the uses of boards and blender.
    fn place(
        &mut self,
        loads: &[Load<'_>],
        (preflight, preheat): (usize, Option<usize>),
    ) -> Result<Special, ProjectError> {
        let mut oven_tasks: Vec<(usize, Temperature)> = Vec::new();
        let mut surfaces = clean::Uses::default();
        let joined = if self.manner.joint {
            joint::like_work(loads)
        } else {
            BTreeMap::new()
        };
        let mut placed: Vec<Option<usize>> = vec![None; loads.len()];
        for (at, load) in loads.iter().enumerate() {
            let group = joined.get(&at).map_or(&[][..], Vec::as_slice);
            if placed[at].is_some() {
                continue;
            }
            let others: Vec<&Load<'_>> = group.iter().map(|other| &loads[*other]).collect();
            let task = self.add_load(load, &others)?;
            placed[at] = Some(task);
            for other in group {
                placed[*other] = Some(task);
            }
            if let (Some(temperature), Some(preheat)) = (load.oven, preheat) {
                self.lag(preheat, task, 0, None)?;
                oven_tasks.push((task, temperature));
            }
            self.note_use(&mut surfaces, (load, task));
        }
        for (load, task) in loads.iter().zip(placed) {
            self.precede(load, task.expect("every load was placed"), preflight)?;
        }
        Ok((oven_tasks, surfaces))
    }

    fn push(&mut self, info: TaskInfo, modes: Vec<Mode>) -> Result<usize, ProjectError> {
        self.ixs.push(self.inner.task(modes)?);
        self.tasks.push(info);
        Ok(self.tasks.len() - 1)
    }

    fn lag(&mut self, from: usize, to: usize, min: i64, max: Option<i64>) -> Result<(), ProjectError> {
        self.inner.lag(Lag {
            from: self.ixs[from],
            to: self.ixs[to],
            min,
            max,
        })
    }

    /// One mode for each way of putting `hands` pairs of hands on it.
    fn hand_modes(&self, hands: u32, skill: Skill) -> Vec<Vec<usize>> {
        let able: Vec<usize> = (0..self.rooms.cooks.len())
            .filter(|ix| self.rooms.cooks[*ix].0.can(skill))
            .collect();
        match hands {
            0 => vec![Vec::new()],
            1 => able.into_iter().map(|cook| vec![cook]).collect(),
            _ => {
                let pairs = able
                    .iter()
                    .enumerate()
                    .flat_map(|(n, a)| able[n + 1..].iter().map(move |b| vec![*a, *b]));
                pairs.collect()
            }
        }
    }

    fn with_hands(&self, mut mode: Mode, cooks: &[usize]) -> Mode {
        for cook in cooks {
            mode = mode.using(self.rooms.cooks[*cook].1, 1);
        }
        mode
    }

    fn add_fixed(
        &mut self,
        kind: Kind,
        (title, text): (&str, &str),
        minutes: i64,
        hands: bool,
    ) -> Result<usize, ProjectError> {
        let cooks = self.hand_modes(u32::from(hands), Skill::Any);
        let modes = cooks
            .iter()
            .map(|cooks| self.with_hands(Mode::lasting(minutes), cooks))
            .collect();
        self.add_set(kind, (title, text), (minutes, modes, cooks))
    }

    /// Adds a task of a set length.
    fn add_set(
        &mut self,
        kind: Kind,
        (title, text): (&str, &str),
        (minutes, modes, cooks): (i64, Vec<Mode>, Vec<Vec<usize>>),
    ) -> Result<usize, ProjectError> {
        let info = TaskInfo {
            kind,
            title: title.into(),
            text: text.into(),
            cue: String::new(),
            batch: None,
            others: Vec::new(),
            step: None,
            load: 1,
            oven: None,
            cooks,
            lengths: certain(minutes),
        };
        self.push(info, modes)
    }

    fn add_preheat(&mut self) -> Result<usize, ProjectError> {
        let minutes = self
            .snapshot
            .household
            .kitchen
            .oven
            .map_or(10, |oven| oven.preheat_min)
            .max(1);
        let task = self.add_fixed(Kind::Preheat, text::PREHEAT, minutes, false)?;
        self.inner.late(self.ixs[task])?;
        Ok(task)
    }

    /// Adds a load, done together with like work of other batches.
    fn add_load(&mut self, load: &Load<'_>, others: &[&Load<'_>]) -> Result<usize, ProjectError> {
        let lengths = self.joint_minutes(load, others);
        let likely = lengths.likely;
        let cooks = self.hand_modes(load.step.hands, load.step.skill);
        let mut modes = Vec::new();
        let mut mode_cooks = Vec::new();
        for uses in self.uses(load) {
            for hands in &cooks {
                let mode = uses
                    .iter()
                    .fold(Mode::lasting(likely), |mode, (resource, amount)| {
                        mode.using(*resource, *amount)
                    });
                modes.push(self.with_hands(mode, hands));
                mode_cooks.push(hands.clone());
            }
        }
        let step = load.step;
        let title = if load.plan.loads > 1 {
            format!("{} {} of {}", step.title, load.number, load.plan.loads)
        } else {
            step.title.clone()
        };
        let info = TaskInfo {
            kind: Kind::Step,
            title,
            text: step.text.clone(),
            cue: step.cue.clone(),
            batch: Some(load.batch.id.clone()),
            others: others.iter().map(|other| other.batch.id.clone()).collect(),
            step: Some(step.id.clone()),
            load: load.number,
            oven: load.oven,
            cooks: mode_cooks,
            lengths,
        };
        let task = self.push(info, modes)?;
        if load.pot.is_some() {
            self.pots.insert(task);
        }
        let same_step = self
            .placed
            .entry((load.batch.id.clone(), step.id.clone()))
            .or_default();
        let earlier = same_step.last().copied();
        same_step.push(task);
        if let Some(earlier) = earlier {
            // Loads of a step start in order: they are alike, so nothing is lost.
            self.lag(earlier, task, -likely, None)?;
        }
        for other in others {
            let key = (other.batch.id.clone(), other.step.id.clone());
            self.placed.entry(key).or_default().push(task);
        }
        self.add_visits(load, task, likely)?;
        Ok(task)
    }

    /// Length of a load in whole minutes, heat-up and oven departure included.
    fn minutes(&self, load: &Load<'_>) -> Lengths {
        let household = &self.snapshot.household;
        let heat = load
            .step
            .heat_up(load.plan.x, &household.kitchen, household.altitude_m);
        let departure = match (load.step.oven, load.oven) {
            (Some(range), Some(set)) => {
                range
                    .per_degree
                    .scale(set.deci_c() - range.best.deci_c(), 10, Rounding::Up)
            }
            _ => Seconds::from_secs(0),
        };
        let whole = |law: Seconds| {
            (heat + law + departure)
                .max(Seconds::from_secs(60))
                .mins(Rounding::Up)
        };
        let law = &load.step.law;
        let high_up = |time: Seconds| {
            if facts::is_moist_meat(load.step) {
                time + MOIST_HEAT.extra(time, household.altitude_m)
            } else {
                time
            }
        };
        Lengths {
            low: whole(high_up(law.low(load.plan.x))),
            likely: whole(high_up(law.likely(load.plan.x))),
            high: whole(high_up(law.high(load.plan.x))),
        }
    }

    fn add_visits(&mut self, load: &Load<'_>, parent: usize, length: i64) -> Result<(), ProjectError> {
        let Some(visit) = &load.step.visit else {
            return Ok(());
        };
        let every = visit.every.mins(Rounding::Nearest).max(2);
        let minutes = visit.hands.mins(Rounding::Up).max(1);
        let slack = every / 4;
        let mut at = every;
        while at + minutes < length {
            let cooks = self.hand_modes(1, load.step.skill);
            let modes = cooks
                .iter()
                .map(|cooks| self.with_hands(Mode::lasting(minutes), cooks))
                .collect();
            let info = TaskInfo {
                kind: Kind::Visit { of: parent },
                title: format!("See to {}", name_of(self.snapshot, load.batch)),
                text: visit.text.clone(),
                cue: String::new(),
                batch: Some(load.batch.id.clone()),
                others: Vec::new(),
                step: Some(load.step.id.clone()),
                load: load.number,
                oven: load.oven,
                cooks,
                lengths: certain(minutes),
            };
            let task = self.push(info, modes)?;
            let (min, max) = ((at - slack).max(1), (at + slack).min(length - minutes));
            self.inner.offset(Offset {
                task: self.ixs[task],
                of: self.ixs[parent],
                min,
                max,
            })?;
            at += every;
        }
        Ok(())
    }

    fn precede(&mut self, load: &Load<'_>, task: usize, preflight: usize) -> Result<(), ProjectError> {
        self.lag(preflight, task, 0, None)?;
        for after in &load.step.after {
            let before = self
                .placed
                .get(&(load.batch.id.clone(), after.step.clone()))
                .cloned()
                .unwrap_or_default();
            let pairwise = i64::try_from(before.len()).unwrap_or(0) == load.plan.loads && load.plan.loads > 1;
            let number = usize::try_from(load.number - 1).unwrap_or(0);
            for (n, from) in before.iter().enumerate() {
                if pairwise && n != number {
                    continue;
                }
                let min = after.min.mins(Rounding::Up);
                let single = pairwise || (before.len() == 1 && load.plan.loads == 1);
                // What stands in a pot goes on in it at once.
                let in_pot = load.pot.is_some() && self.pots.contains(from);
                let stated = if in_pot {
                    Some(min)
                } else {
                    after.max.map(|max| max.mins(Rounding::Down).max(min))
                };
                // A load waits from the last of the earlier loads that it needs.
                let place = usize::try_from(load.number).unwrap_or(1) * before.len();
                let needed = place
                    .div_ceil(usize::try_from(load.plan.loads).unwrap_or(1).max(1))
                    .max(1)
                    - 1;
                let max = stated
                    .filter(|_| single || (self.manner.waits == Waits::Stated && n == needed && !in_pot));
                self.lag(*from, task, min, max)?;
                if load.step.hands == 0 || max.is_some() {
                    self.inner.hold(Hold {
                        from: self.ixs[*from],
                        to: self.ixs[task],
                        weight: 1,
                    })?;
                }
            }
        }
        Ok(())
    }

    /// The tasks after which nothing else of the batch is cooked.
    fn sinks(&self, batch: &Batch) -> Vec<usize> {
        let all: Vec<&Step> = steps(self.snapshot, batch).collect();
        let is_last = |step: &&&Step| {
            !all.iter()
                .any(|other| other.after.iter().any(|after| after.step == step.id))
        };
        let last = all.iter().filter(is_last);
        last.flat_map(|step| {
            self.placed
                .get(&(batch.id.clone(), step.id.clone()))
                .cloned()
                .unwrap_or_default()
        })
        .collect()
    }
}

fn name_of(snapshot: &Snapshot, batch: &Batch) -> String {
    snapshot.components[&batch.component].name.to_lowercase()
}
