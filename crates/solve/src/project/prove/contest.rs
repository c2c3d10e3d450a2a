//! Two workers close the gap between the best schedule and the bound.
//!
//! The improver looks for a better schedule, by turns with the heuristic search and with the kernel near the best
//! one; the prover assumes that there is one by a
//! small value of the goal, and raises the bound when that is refuted. They work in rounds of equal work and
//! see each other's results between rounds only; where both close the gap in a round, the improver counts.
//! So one thread and two give the same answer.

use super::super::answer::Threads;
use super::super::check::check_schedule;
use super::super::net::Net;
use super::super::schedule::{Objective, Placement, Schedule};
use super::super::seek::Seeker;
use super::super::types::Project;
use super::encode::{Model, Rules};
use super::window::Windows;
use super::{Effort, WORK_PER_PLACEMENT};
use crate::learn::{Taste, Var, Verdict};

/// Work of the first round of each worker; later rounds grow by a quarter up to the last.
const ROUND_FIRST: u64 = 20_000;
/// And at least this per task, so that no round is shorter than a unit of the budget.
const ROUND_FIRST_PER_TASK: u64 = 4 * WORK_PER_PLACEMENT;
const ROUND_LAST: u64 = 1_000_000;
/// Shorter rounds are not worth a thread.
const ROUND_THREAD: u64 = 50_000;
/// What the prover spends on one value of the goal, unless it is the least.
const TARGET_WORK: u64 = 200_000;

/// What is to be made small.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Goal {
    Lateness,
    /// Among schedules that are no later than this, if anything is due.
    Makespan(Option<i64>),
    /// Among schedules that are no later than the first, if anything is due, and no longer than the second.
    Hold(Option<i64>, i64),
}

impl Goal {
    fn latest(self) -> Option<i64> {
        match self {
            Self::Lateness => None,
            Self::Makespan(latest) | Self::Hold(latest, _) => latest,
        }
    }

    fn longest(self) -> Option<i64> {
        match self {
            Self::Lateness | Self::Makespan(_) => None,
            Self::Hold(_, longest) => Some(longest),
        }
    }

    fn value(self, objective: &Objective) -> i64 {
        match self {
            Self::Lateness => objective.lateness,
            Self::Makespan(_) => objective.makespan,
            Self::Hold(..) => objective.hold,
        }
    }

    fn admits(self, objective: &Objective) -> bool {
        self.latest().is_none_or(|latest| objective.lateness <= latest)
            && self.longest().is_none_or(|longest| objective.makespan <= longest)
    }
}

/// The best schedule so far, and the least value of the goal that is not excluded.
#[derive(Clone, Debug)]
pub(super) struct Known {
    pub(super) best: Option<Vec<Placement>>,
    pub(super) lower: i64,
}

/// How far a contest came.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Outcome {
    /// The best schedule attains the bound.
    Closed,
    /// There is no schedule at all.
    Infeasible,
    /// The work ran out.
    Open,
}

/// What a contest is about, and what it may spend.
#[derive(Clone, Copy)]
pub(super) struct Contest<'a> {
    pub(super) project: &'a Project,
    pub(super) net: &'a Net,
    pub(super) goal: Goal,
    pub(super) effort: Effort<'a>,
}

impl Contest<'_> {
    /// Works until the gap is closed, the work is spent or a stop is asked for; says how, and what each worker
    /// spent. A round that has begun is ended.
    pub(super) fn run(&self, search: &mut Seeker<'_>, known: &mut Known) -> (Outcome, u64) {
        if self.is_closed(known) {
            return (Outcome::Closed, 0);
        }
        // Making the models takes about this long.
        let mut spent = (self.net.len() as u64).pow(2);
        if spent >= self.effort.work {
            return (Outcome::Open, 0);
        }
        let (Some(improver), Some(prover)) =
            (Worker::new(self, Role::Improver), Worker::new(self, Role::Prover))
        else {
            return (Outcome::Open, 0);
        };
        let mut workers = Workers {
            search,
            windows: Windows::new(self.effort.seed),
            improver,
            prover,
        };
        let mut quota = ROUND_FIRST.max(ROUND_FIRST_PER_TASK * self.net.len() as u64);
        let last = ROUND_LAST.max(quota);
        while spent < self.effort.work && !(self.effort.stop)() {
            let outcome = self.round(&mut workers, known, quota);
            spent += quota;
            if outcome != Outcome::Open {
                return (outcome, spent);
            }
            quota = (quota + quota / 4).min(last);
        }
        (Outcome::Open, spent)
    }

    fn round(&self, workers: &mut Workers<'_, '_>, known: &mut Known, quota: u64) -> Outcome {
        let (mut improved, mut proven) = (known.clone(), known.clone());
        let Workers {
            search,
            windows,
            improver,
            prover,
        } = workers;
        let (one, other) = if self.effort.threads == Threads::Two && quota >= ROUND_THREAD {
            std::thread::scope(|scope| {
                let side = scope.spawn(|| prover.round(&mut proven, quota));
                let own = self.improve((search, windows, improver), &mut improved, quota);
                (own, side.join().expect("a worker does not panic"))
            })
        } else {
            let own = self.improve((search, windows, improver), &mut improved, quota);
            // What the prover would find no longer counts.
            let needed = own == Outcome::Open;
            (
                own,
                if needed {
                    prover.round(&mut proven, quota)
                } else {
                    Outcome::Open
                },
            )
        };
        let (outcome, chosen) = match (one, other) {
            (Outcome::Open, Outcome::Open) => (Outcome::Open, None),
            (Outcome::Open, _) => (other, Some(proven.clone())),
            _ => (one, Some(improved.clone())),
        };
        *known = chosen.unwrap_or_else(|| {
            let lower = improved.lower.max(proven.lower);
            let value = |known: &Known| known.best.as_ref().map_or(i64::MAX, |best| self.value(best));
            let best = if value(&improved) <= value(&proven) {
                improved.best
            } else {
                proven.best
            };
            Known { best, lower }
        });
        if outcome == Outcome::Open && self.is_closed(known) {
            return Outcome::Closed;
        }
        outcome
    }

    /// A part of a round is heuristic search, a part goes to windows, the rest is the kernel's.
    fn improve(
        &self,
        (search, windows, kernel): (&mut Seeker<'_>, &mut Windows, &mut Worker<'_>),
        known: &mut Known,
        quota: u64,
    ) -> Outcome {
        let part = |percent: u64| quota * percent / 100;
        let seeking = part(self.effort.shares.seek);
        if seeking > 0 {
            self.seek(search, known, seeking);
        }
        let looking = if matches!(self.goal, Goal::Makespan(None)) {
            part(self.effort.shares.window)
        } else {
            0
        };
        self.look(windows, known, looking);
        if self.is_closed(known) {
            return Outcome::Closed;
        }
        kernel.round(known, quota - seeking - looking)
    }

    fn seek(&self, search: &mut Seeker<'_>, known: &mut Known, work: u64) {
        if let Some(best) = &known.best {
            search.take_up(best);
        }
        search.advance(search.tries() + work / WORK_PER_PLACEMENT);
        let better = search.best().filter(|(objective, placements)| {
            let value = self.value(placements);
            self.goal.admits(objective) && known.best.as_ref().is_none_or(|best| value < self.value(best))
        });
        if let Some((_, placements)) = better {
            known.best = Some(placements.to_vec());
        }
    }

    /// A window may cost more than there is for it; the next rounds pay that back.
    fn look(&self, windows: &mut Windows, known: &mut Known, work: u64) {
        windows.credit += i64::try_from(work).unwrap_or(i64::MAX / 2);
        while windows.credit > 0 && !self.is_closed(known) {
            let Some(best) = &known.best else { break };
            let found = windows.look(self.project, self.net, (best, known.lower));
            windows.credit -= i64::try_from(found.work).unwrap_or(i64::MAX / 2);
            if found.better.is_some() {
                known.best = found.better;
            }
        }
    }

    fn is_closed(&self, known: &Known) -> bool {
        known
            .best
            .as_ref()
            .is_some_and(|best| self.value(best) <= known.lower)
    }

    fn value(&self, placements: &[Placement]) -> i64 {
        self.goal.value(&Objective::measure(self.project, placements))
    }
}

struct Workers<'s, 'w> {
    windows: Windows,
    search: &'s mut Seeker<'w>,
    improver: Worker<'s>,
    prover: Worker<'s>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Role {
    Improver,
    Prover,
}

struct Worker<'a> {
    contest: &'a Contest<'a>,
    role: Role,
    model: Model,
    goal: Var,
    /// How many values of the goal the prover tries to exclude at once.
    step: i32,
    /// The value of the schedule that the wishes stand for.
    wished: i64,
}

impl<'a> Worker<'a> {
    fn new(contest: &'a Contest<'a>, role: Role) -> Option<Self> {
        let taste = Taste {
            restart: 100,
            clauses_max: 4000,
        };
        let mut model = Model::new(contest.project, contest.net, (taste, Rules::All))?;
        let goal = match contest.goal {
            Goal::Lateness => model.lateness?,
            Goal::Makespan(_) => model.makespan,
            Goal::Hold(..) => model.add_holds(contest.project)?,
        };
        if let (Some(total), Some(latest)) = (model.lateness, contest.goal.latest()) {
            model.solver.require(total.at_most(narrow(latest)));
        }
        if let Some(longest) = contest.goal.longest() {
            model.solver.require(model.makespan.at_most(narrow(longest)));
        }
        Some(Self {
            contest,
            role,
            model,
            goal,
            step: 1,
            wished: i64::MAX,
        })
    }

    fn round(&mut self, known: &mut Known, quota: u64) -> Outcome {
        let end = self.model.solver.work() + quota;
        self.follow(known);
        while self.model.solver.work() < end {
            let best = known.best.as_ref().map(|best| narrow(self.contest.value(best)));
            // What holds before any decision bounds the goal too.
            self.model.solver.reset();
            let lower = narrow(known.lower).max(self.model.solver.state().least(self.goal));
            known.lower = i64::from(lower);
            if let Some(best) = best {
                self.model.solver.require(self.goal.at_most(best - 1));
            }
            self.model.solver.require(self.goal.at_least(lower));
            let verdict = match self.role {
                Role::Improver => self.model.solver.search(&[], end),
                Role::Prover => self.prove(lower, best, known, end),
            };
            match verdict {
                Verdict::Found => self.take(known),
                Verdict::Refuted if known.best.is_none() => return Outcome::Infeasible,
                Verdict::Refuted => {
                    known.lower = best.map_or(known.lower, i64::from);
                    return Outcome::Closed;
                }
                Verdict::Untenable | Verdict::Stopped => {}
            }
            if self.contest.is_closed(known) {
                return Outcome::Closed;
            }
        }
        Outcome::Open
    }

    /// Wishes for the values of the best schedule; the prover keeps to its own way.
    fn follow(&mut self, known: &Known) {
        let Some(best) = known.best.as_ref().filter(|_| self.role == Role::Improver) else {
            return;
        };
        let value = self.contest.value(best);
        if value < self.wished {
            self.wished = value;
            self.model.solver.set_wishes(self.model.values(best));
        }
    }

    fn prove(&mut self, lower: i32, best: Option<i32>, known: &mut Known, end: u64) -> Verdict {
        let gap = best.map_or(i32::MAX / 4, |best| best - 1 - lower);
        let target = lower + (self.step - 1).min(gap / 2).max(0);
        let begun = self.model.solver.work();
        let limit = if target > lower {
            end.min(begun + TARGET_WORK)
        } else {
            end
        };
        let verdict = self.model.solver.search(&[self.goal.at_most(target)], limit);
        match verdict {
            Verdict::Untenable => {
                known.lower = i64::from(target) + 1;
                self.step = self.step.saturating_mul(2);
            }
            Verdict::Stopped => self.step = (self.step / 2).max(1),
            Verdict::Found | Verdict::Refuted => {}
        }
        verdict
    }

    fn take(&mut self, known: &mut Known) {
        let values = self.model.solver.values();
        let placements = self.model.placements(&values);
        debug_assert!(
            check_schedule(
                self.contest.project,
                &Schedule {
                    placements: placements.clone()
                }
            )
            .is_empty(),
            "what the kernel finds is a schedule"
        );
        if self.role == Role::Improver {
            self.wished = self.contest.value(&placements);
            self.model.solver.set_wishes(values);
        }
        known.best = Some(placements);
    }
}

fn narrow(value: i64) -> i32 {
    i32::try_from(value).expect("values of the goal fit where a model exists")
}
