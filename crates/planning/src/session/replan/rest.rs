//! The rest of a session as a project: what is over is left to history, what goes on is held in its place.

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::DateTime;
use larderwright_model::{Act, BatchId, Conflict, Equipment, Run, Session, Snapshot};
use larderwright_quantity::Rounding;
use larderwright_solve::project::{
    self as solver, Absence, Budget, Changeover, Due, Hold, Lag, Mode, Offset, ProjectBuilder, ProjectError,
    ResourceIx, TaskIx,
};

use super::super::decode::{self, Kept};
use super::super::project::{Kind, Network, TaskInfo};
use super::super::rooms;
use super::{Progress, State};

/// Schedules spent on one attempt; chosen so that a dozen attempts take less than 0.3 s.
const WORK: u64 = 160;
/// What is spent where those find no order at all.
const WORK_AT_MOST: u64 = 20_000;
/// Weight of a minute that food waits beyond what the recipe states, and of no longer than that.
const WAIT_WEIGHT: i64 = 1;

/// How far a task has come, in minutes from the start of the session's window.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Stage {
    /// It ran from then to then.
    Over(i64, i64),
    /// It began then and ends then.
    Running(i64, i64),
    /// It has not begun.
    ToCome,
}

/// A session in its course.
pub(super) struct Course<'a> {
    pub snapshot: &'a Snapshot,
    pub session: &'a Session,
    pub network: &'a Network,
    /// By task, its act in the run so far.
    pub acts: Vec<Option<&'a Act>>,
    pub run: &'a Run,
    pub state: &'a State,
}

/// One way to go on.
pub(super) struct Attempt {
    pub run: Run,
    pub finish: DateTime,
    /// Minutes that food waits longer than it should.
    pub overdue: i64,
}

/// What is kept of the network, and where its tasks are now.
struct Rest {
    network: Network,
    kept: Kept,
}

impl Course<'_> {
    fn minute(&self, time: DateTime) -> i64 {
        time.duration_since(self.session.from).as_mins()
    }

    fn now(&self) -> i64 {
        self.minute(self.state.now)
    }

    /// How far a task has come. What should be over but is not takes another minute, again and again.
    pub(super) fn stage(&self, task: usize) -> Stage {
        let Some(act) = self.acts[task] else {
            return Stage::ToCome;
        };
        match self.state.acts.get(&act.id) {
            Some(Progress::Finished { at, end }) => {
                let (from, to) = (self.minute(*at), self.minute(*end));
                Stage::Over(from, to.max(from))
            }
            Some(Progress::Started { at, until }) => {
                let from = self.minute(*at).min(self.now());
                let planned = from + act.length().mins(Rounding::Up);
                let to = until.map_or(planned, |until| self.minute(until));
                Stage::Running(from, to.max(self.now() + 1))
            }
            Some(Progress::Failed) | None => Stage::ToCome,
        }
    }

    pub(super) fn has_begun(&self, task: usize) -> bool {
        self.stage(task) != Stage::ToCome
    }

    /// Whether the task puts food on the fire or into the oven.
    pub(super) fn is_hot(&self, task: usize) -> bool {
        let info = &self.network.tasks[task];
        let batch = self
            .network
            .batches
            .iter()
            .find(|batch| Some(&batch.id) == info.batch.as_ref());
        let (Some(batch), Some(step), Kind::Step) = (batch, &info.step, &info.kind) else {
            return false;
        };
        let way = self.snapshot.components[&batch.component].way(&batch.way);
        let own = way.and_then(|way| way.steps.iter().find(|own| own.id == *step));
        own.is_some_and(|step| {
            let hot = [
                Equipment::Burner,
                Equipment::Oven,
                Equipment::Rack,
                Equipment::Microwave,
                Equipment::PressureCooker,
            ];
            step.uses.iter().any(|used| hot.contains(used))
        })
    }

    /// Puts in order what is left without some batches.
    pub(super) fn attempt(&self, out: &BTreeSet<BatchId>) -> Result<Attempt, Conflict> {
        let rest = self
            .rest(out)
            .map_err(|error| rooms::refused(self.session, &error))?;
        let solve = |work: u64| {
            let budget = Budget {
                work,
                seed: self.snapshot.seed,
                threads: solver::Threads::One,
            };
            solver::solve(&rest.network.project, &budget)
        };
        // A full session in which nothing has begun may need more before there is any order at all.
        let answer = match solve(WORK) {
            solver::Answer::Stopped(_) => solve(WORK_AT_MOST),
            answer => answer,
        };
        let (schedule, bound) = match answer {
            solver::Answer::Proven(schedule, bound) | solver::Answer::Best(schedule, bound) => {
                (schedule, bound)
            }
            solver::Answer::Infeasible(conflict) => {
                return Err(super::super::impossible(
                    self.session,
                    &rest.network,
                    conflict.tasks(),
                ));
            }
            solver::Answer::Stopped(_) => {
                return Err(super::super::impossible(self.session, &rest.network, &[]));
            }
        };
        let overdue = solver::Objective::of(&rest.network.project, &schedule).lateness;
        let (standing, _) = super::super::standing(self.snapshot, self.session, &rest.network, &schedule);
        let mut run = decode::run(
            self.snapshot,
            self.session,
            (&rest.network, Some(&rest.kept)),
            (&schedule, &bound, standing),
        );
        run.leads.clone_from(&self.run.leads);
        run.leads
            .retain(|lead| run.acts.iter().any(|act| act.batches.contains(&lead.batch)));
        Ok(Attempt {
            finish: run.finish,
            run,
            overdue,
        })
    }

    /// What is over stays as a task of its real length that holds nothing; what is left out and not over goes.
    fn rest(&self, out: &BTreeSet<BatchId>) -> Result<Rest, ProjectError> {
        let project = &self.network.project;
        let longest = project.horizon().max(self.now() + project.horizon());
        let mut builder = ProjectBuilder::new(longest)?;
        self.add_resources(&mut builder)?;
        let (mut ixs, mut tasks): (BTreeMap<usize, TaskIx>, Vec<TaskInfo>) = (BTreeMap::new(), Vec::new());
        let mut kept = Kept::default();
        let mut left = self.capacities();
        for (task, info) in self.network.tasks.iter().enumerate() {
            let stage = self.stage(task);
            let is_out = info.batch.is_some() && info.batches().all(|batch| out.contains(batch));
            if is_out && !matches!(stage, Stage::Over(..)) {
                continue;
            }
            let (modes, cooks) = self.modes(task, stage, &mut left);
            let place = tasks.len();
            ixs.insert(task, builder.task(modes)?);
            let lengths = match stage {
                Stage::ToCome => info.lengths,
                Stage::Over(from, to) | Stage::Running(from, to) => super::super::project::certain(to - from),
            };
            let kind = match &info.kind {
                Kind::Visit { of } => ixs
                    .get(of)
                    .map_or(Kind::Step, |of| Kind::Visit { of: of.position() }),
                kind => kind.clone(),
            };
            tasks.push(TaskInfo {
                cooks,
                lengths,
                kind,
                ..info.clone()
            });
            if let Some(act) = self.acts[task] {
                kept.names.insert(place, act.id.clone());
                if stage != Stage::ToCome {
                    kept.begun.insert(place, (*act).clone());
                }
            }
            if project.tasks()[task].late && stage == Stage::ToCome {
                builder.late(ixs[&task])?;
            }
        }
        self.link(&mut builder, &ixs)?;
        let network = Network {
            project: builder.build()?,
            batches: self.network.batches.clone(),
            tasks,
            rooms: self.network.rooms.clone(),
        };
        Ok(Rest { network, kept })
    }

    fn add_resources(&self, builder: &mut ProjectBuilder) -> Result<(), ProjectError> {
        let horizon = 2 * self.network.project.horizon() + self.now().max(0);
        for (position, resource) in self.network.project.resources().iter().enumerate() {
            let ix = builder.resource(resource.capacity)?;
            let cook = self
                .network
                .rooms
                .cooks
                .iter()
                .find(|(_, own)| own.position() == position);
            let away = self
                .state
                .away
                .iter()
                .filter(|away| cook.is_some_and(|(cook, _)| cook.id == away.cook));
            for away in away {
                let from = self.minute(away.from).max(self.now());
                let to = away.to.map_or(horizon, |to| self.minute(to));
                if from < to {
                    builder.absence(ix, Absence { from, to, amount: 1 })?;
                }
            }
        }
        Ok(())
    }

    fn capacities(&self) -> Vec<i64> {
        let resources = self.network.project.resources().iter();
        resources.map(|resource| resource.capacity).collect()
    }

    /// The modes a task still has, and the cooks of each.
    fn modes(&self, task: usize, stage: Stage, left: &mut [i64]) -> (Vec<Mode>, Vec<Vec<usize>>) {
        let (own, info) = (&self.network.project.tasks()[task], &self.network.tasks[task]);
        let pinned = |from: i64, to: i64| Mode::lasting(to - from).not_before(from).not_after(from);
        match stage {
            // It may have begun before the window did; no plan depends on how long before.
            Stage::Over(from, to) => (vec![pinned(from.max(0), to.max(0))], vec![Vec::new()]),
            Stage::Running(from, to) => {
                let place = self.acted_mode(task);
                let mode = pinned(from.max(0), to);
                let uses = own.modes[place]
                    .uses
                    .iter()
                    .filter(|(ix, _)| self.is_held(*ix, to));
                // Cooks swap pots and hands: what cannot be true of the plan's stations is not held against it.
                let uses: Vec<(ResourceIx, i64)> = uses
                    .copied()
                    .filter(|(ix, amount)| {
                        let fits = *amount <= left[ix.position()];
                        left[ix.position()] -= if fits { *amount } else { 0 };
                        fits
                    })
                    .collect();
                (vec![Mode { uses, ..mode }], vec![info.cooks[place].clone()])
            }
            Stage::ToCome => {
                let later = |mode: &Mode| Mode {
                    earliest: mode.earliest.max(self.now()),
                    ..mode.clone()
                };
                (own.modes.iter().map(later).collect(), info.cooks.clone())
            }
        }
    }

    /// Hands that leave before it ends do not go on with it.
    fn is_held(&self, resource: ResourceIx, end: i64) -> bool {
        let cook = self.network.rooms.cooks.iter().find(|(_, own)| *own == resource);
        let leaves = |away: &super::Away| {
            let back = away.to.map_or(i64::MAX, |to| self.minute(to));
            self.minute(away.from) < end && self.now() < back
        };
        cook.is_none_or(|(cook, _)| {
            !self
                .state
                .away
                .iter()
                .any(|away| away.cook == cook.id && leaves(away))
        })
    }

    /// The mode in which the cooks of the act do the task; the first if none of them does it in any.
    fn acted_mode(&self, task: usize) -> usize {
        let ids = self.network.rooms.cook_ids();
        let who = |mode: &Vec<usize>| mode.iter().map(|cook| &ids[*cook]).collect::<Vec<_>>();
        let act = self.acts[task];
        let modes = &self.network.tasks[task].cooks;
        let same = |mode: &Vec<usize>| act.is_some_and(|act| act.who.iter().collect::<Vec<_>>() == who(mode));
        modes.iter().position(same).unwrap_or(0)
    }

    fn link(&self, builder: &mut ProjectBuilder, ixs: &BTreeMap<usize, TaskIx>) -> Result<(), ProjectError> {
        let project = &self.network.project;
        let pair = |a: TaskIx, b: TaskIx| Some((*ixs.get(&a.position())?, *ixs.get(&b.position())?));
        let mut due: BTreeMap<TaskIx, i64> = BTreeMap::new();
        for lag in project.lags() {
            let Some((from, to)) = pair(lag.from, lag.to) else {
                continue;
            };
            match (self.stage(lag.from.position()), self.stage(lag.to.position())) {
                (Stage::ToCome, Stage::ToCome) => builder.lag(Lag { from, to, ..*lag })?,
                (Stage::Over(..) | Stage::Running(..), Stage::ToCome) => {
                    let end = match self.stage(lag.from.position()) {
                        Stage::Over(_, end) | Stage::Running(_, end) => end,
                        Stage::ToCome => 0,
                    };
                    builder.lag(Lag {
                        from,
                        to,
                        min: lag.min,
                        max: None,
                    })?;
                    // What has waited too long already goes on as soon as it can.
                    if let Some(max) = lag.max {
                        let longest = project.tasks()[lag.to.position()]
                            .modes
                            .iter()
                            .map(|mode| mode.duration)
                            .max();
                        let by = end + max + longest.unwrap_or(0);
                        let known = due.entry(to).or_insert(by);
                        *known = by.min(*known);
                    }
                }
                // What has begun before its time cannot be helped.
                (_, Stage::Over(..) | Stage::Running(..)) => {}
            }
        }
        for (task, time) in due {
            builder.due(
                task,
                Due {
                    time,
                    weight: WAIT_WEIGHT,
                },
            )?;
        }
        self.link_rest(builder, &pair)
    }

    fn link_rest(
        &self,
        builder: &mut ProjectBuilder,
        pair: &dyn Fn(TaskIx, TaskIx) -> Option<(TaskIx, TaskIx)>,
    ) -> Result<(), ProjectError> {
        let project = &self.network.project;
        for offset in project.offsets() {
            let (visit, long) = (
                self.stage(offset.task.position()),
                self.stage(offset.of.position()),
            );
            let Some((task, of)) = pair(offset.task, offset.of) else {
                continue;
            };
            let max = match (visit, long) {
                (Stage::ToCome, Stage::ToCome) => offset.max,
                // A visit whose time has passed is made up for at once.
                (Stage::ToCome, Stage::Running(from, _) | Stage::Over(from, _)) => {
                    offset.max.max(self.now() - from + LATE_VISIT)
                }
                _ => continue,
            };
            builder.offset(Offset {
                task,
                of,
                min: offset.min,
                max,
            })?;
        }
        for change in project.changeovers() {
            let open = |task: TaskIx| self.stage(task.position()) == Stage::ToCome;
            let over = |task: TaskIx| matches!(self.stage(task.position()), Stage::Over(..));
            let Some((a, b)) = pair(change.a, change.b) else {
                continue;
            };
            if over(change.a) || over(change.b) || !(open(change.a) || open(change.b)) {
                continue;
            }
            let first = |task: TaskIx, mode: usize| if open(task) { mode } else { 0 };
            let (a_mode, b_mode) = (first(change.a, change.a_mode), first(change.b, change.b_mode));
            builder.changeover(Changeover {
                a,
                a_mode,
                b,
                b_mode,
                ..*change
            })?;
        }
        for hold in project.holds() {
            let is_open = self.stage(hold.to.position()) == Stage::ToCome;
            if let Some((from, to)) = pair(hold.from, hold.to).filter(|_| is_open) {
                builder.hold(Hold {
                    from,
                    to,
                    weight: hold.weight,
                })?;
            }
        }
        Ok(())
    }
}

/// Minutes within which a visit is made up for.
const LATE_VISIT: i64 = 15;
