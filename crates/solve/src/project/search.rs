//! The search: a pool of schedules, each improved by justification, crossed and perturbed.
//!
//! A member of the pool is an order of tasks with wishes for their modes. It is scheduled forwards, then
//! again from its end backwards and forwards ("justification", Valls, Ballestín and Quintanilla 2005) for
//! as long as that helps. Children take a middle part of their order from a second parent (Hartmann 1998).

use super::afford::afford;
use super::net::Net;
use super::order::Order;
use super::place::{Placer, Plan, Wish};
use super::polish::shorten_holds;
use super::schedule::{Objective, Placement};
use super::types::Project;
use crate::random::Random;

/// Newcomers before children are made.
const POOL: usize = 30;
/// Children in a row without a new best before the pool is started afresh.
const STALE_MAX: usize = 40 * POOL;
/// How far a task is moved in a list at most.
const STEP: usize = 2;

/// What both workers share.
#[derive(Debug)]
pub(super) struct Field<'a> {
    pub(super) project: &'a Project,
    pub(super) ahead: &'a Net,
    pub(super) back: &'a Net,
    pub(super) order_ahead: Order,
    pub(super) order_back: Order,
    /// Rules of priority, as keys by task.
    pub(super) rules: Vec<Vec<i64>>,
    /// No schedule is better; the hold is unknown where nothing bounds it.
    pub(super) target: (i64, i64, Option<i64>),
}

#[derive(Clone, Debug)]
pub(super) struct Member {
    pub(super) objective: Objective,
    pub(super) placements: Vec<Placement>,
    list: Vec<usize>,
    wishes: Vec<Wish>,
}

/// One seeded search.
#[derive(Debug)]
pub(super) struct Worker<'a> {
    field: &'a Field<'a>,
    ahead: Placer<'a>,
    back: Placer<'a>,
    random: Random,
    pool: Vec<Member>,
    best: Option<Member>,
    /// Tries spent when the best was last improved.
    improved: u64,
    /// Newcomers since the beginning, and since the pool was last started.
    born: usize,
    drawn: usize,
    stale: usize,
    /// Choices of modes that no supply could pay for.
    excess: u64,
}

impl<'a> Worker<'a> {
    pub(super) fn new(field: &'a Field<'a>, seed: u64) -> Self {
        Self {
            field,
            ahead: Placer::new(field.ahead),
            back: Placer::new(field.back),
            random: Random::new(seed),
            pool: Vec::with_capacity(POOL),
            best: None,
            improved: 0,
            born: 0,
            drawn: 0,
            stale: 0,
            excess: 0,
        }
    }

    /// Searches until so many placements were tried in all, or nothing better can exist.
    pub(super) fn advance(&mut self, limit: u64) {
        while self.tries() + self.excess < limit && !self.is_done(limit) {
            let young = self.drawn < POOL || self.pool.is_empty();
            let (list, mut wishes) = if young { self.newcomer() } else { self.child() };
            let is_affordable = afford(self.field.ahead, &mut self.random, &mut wishes);
            self.excess += u64::from(!is_affordable);
            match is_affordable.then(|| self.schedule(list, wishes)).flatten() {
                Some(member) => self.admit(member),
                None => self.stale += 1,
            }
            if self.stale > STALE_MAX {
                self.stale = 0;
                self.drawn = 0;
                self.pool.clear();
            }
        }
    }

    pub(super) fn best(&self) -> Option<&Member> {
        self.best.as_ref()
    }

    /// Takes up a schedule found elsewhere if it is better than all found here.
    pub(super) fn take_up(&mut self, placements: &[Placement]) {
        let objective = Objective::measure(self.field.project, placements);
        if self.best.as_ref().is_some_and(|best| best.objective <= objective) {
            return;
        }
        let keys: Vec<i64> = placements.iter().map(|placement| placement.start).collect();
        self.admit(Member {
            objective,
            placements: placements.to_vec(),
            list: self.field.order_ahead.sort(&keys),
            wishes: placements.iter().map(|placement| Some(placement.mode)).collect(),
        });
    }

    pub(super) fn tries(&self) -> u64 {
        self.ahead.tries + self.back.tries
    }

    fn is_done(&self, limit: u64) -> bool {
        let (lateness, makespan, hold) = self.field.target;
        let Some(best) = &self.best else { return false };
        if best.objective.lateness > lateness || best.objective.makespan > makespan {
            return false;
        }
        hold.is_some_and(|hold| best.objective.hold <= hold) || self.tries() - self.improved > limit / 10
    }

    /// The best member and its equals, with holds shortened; the best of those.
    pub(super) fn polished(&self) -> Option<Member> {
        let best = self.best.clone()?;
        let (lateness, makespan) = (best.objective.lateness, best.objective.makespan);
        let alike =
            |member: &Member| member.objective.lateness == lateness && member.objective.makespan == makespan;
        let candidates =
            std::iter::once(best).chain(self.pool.iter().filter(|member| alike(member)).cloned());
        candidates
            .map(|mut member| {
                let (project, net) = (self.field.project, self.field.ahead);
                member.placements = shorten_holds(project, net, member.placements);
                member.objective = Objective::measure(project, &member.placements);
                member
            })
            .min_by_key(|member| member.objective)
    }

    fn admit(&mut self, member: Member) {
        if self
            .best
            .as_ref()
            .is_none_or(|best| member.objective < best.objective)
        {
            self.improved = self.tries();
            self.best = Some(member.clone());
            self.stale = 0;
        } else {
            self.stale += 1;
        }
        // Equals are refused: they would crowd out everything else and stop the search.
        if let Err(place) = self
            .pool
            .binary_search_by_key(&member.objective, |known| known.objective)
        {
            self.pool.insert(place, member);
            self.pool.truncate(POOL);
        }
    }

    /// A list by a rule of priority, groups together, perturbed except for the first of each rule.
    fn newcomer(&mut self) -> (Vec<usize>, Vec<Wish>) {
        let rules = &self.field.rules;
        let pure = self.born < rules.len();
        let rule = if pure {
            self.born
        } else {
            self.random.below(rules.len())
        };
        self.born += 1;
        self.drawn += 1;
        let mut keys = rules[rule].clone();
        let mut wishes = vec![None; keys.len()];
        if !pure {
            let spread = keys
                .iter()
                .max()
                .zip(keys.iter().min())
                .map_or(0, |(most, least)| most - least);
            let share = 5 + self.random.below(40);
            let noise = usize::try_from(spread).unwrap_or(0) * share / 100;
            for key in &mut keys {
                *key += i64::try_from(self.random.below(noise + 1)).unwrap_or(0);
            }
            self.perturb_wishes(&mut wishes, 25);
        }
        (self.field.order_ahead.sort_grouped(&keys), wishes)
    }

    fn perturb_wishes(&mut self, wishes: &mut [Wish], percent: usize) {
        for (wish, modes) in wishes.iter_mut().zip(&self.field.ahead.modes) {
            if modes.len() > 1 && self.random.chance(percent) {
                let mode = self.random.below(modes.len() + 1);
                *wish = modes.get(mode).filter(|described| described.usable).map(|_| mode);
            }
        }
    }

    fn child(&mut self) -> (Vec<usize>, Vec<Wish>) {
        let count = self.field.ahead.len();
        let known = self.pool.len();
        let first = self.random.below(known).min(self.random.below(known));
        let second = self.random.below(known);
        let (one, two) = (self.random.below(count + 1), self.random.below(count + 1));
        let (cut, until) = (one.min(two), one.max(two));
        let (mother, father) = (&self.pool[first], &self.pool[second]);
        let mut list: Vec<usize> = mother.list[..cut].to_vec();
        let mut wishes = mother.wishes.clone();
        let mut taken = vec![false; count];
        list.iter().for_each(|task| taken[*task] = true);
        for task in &father.list {
            if list.len() < until && !std::mem::replace(&mut taken[*task], true) {
                list.push(*task);
                wishes[*task] = father.wishes[*task];
            }
        }
        list.extend(mother.list.iter().filter(|task| !taken[**task]));
        self.perturb_list(&mut list);
        self.perturb_wishes(&mut wishes, 4);
        let mut keys = vec![0; count];
        for (key, task) in (0..).zip(&list) {
            keys[*task] = key;
        }
        (self.field.order_ahead.sort(&keys), wishes)
    }

    /// Moves a few tasks a short way.
    fn perturb_list(&mut self, list: &mut [usize]) {
        let count = list.len();
        for _ in 0..=self.random.below(count / 15 + 2) {
            let from = self.random.below(count);
            let to = (from + self.random.below(2 * STEP + 1))
                .saturating_sub(STEP)
                .min(count - 1);
            if from < to {
                list[from..=to].rotate_left(1);
            } else {
                list[to..=from].rotate_right(1);
            }
        }
    }

    fn schedule(&mut self, list: Vec<usize>, wishes: Vec<Wish>) -> Option<Member> {
        let plan = Plan {
            list: &list,
            wishes: &wishes,
            floor: 0,
        };
        let placements = self.ahead.run(&plan)?;
        let objective = Objective::measure(self.field.project, &placements);
        let mut member = Member {
            objective,
            placements,
            list,
            wishes,
        };
        while let Some(justified) = self.justify(&member) {
            let better = justified.objective < member.objective;
            if justified.objective <= member.objective {
                member = justified;
            }
            if !better {
                break;
            }
        }
        Some(member)
    }

    /// The same modes scheduled backwards from the makespan, then forwards in the order of that.
    fn justify(&mut self, member: &Member) -> Option<Member> {
        let horizon = self.field.ahead.horizon;
        let wishes: Vec<Wish> = member
            .placements
            .iter()
            .map(|placement| Some(placement.mode))
            .collect();
        let keys: Vec<i64> = member.placements.iter().map(|placement| -placement.end).collect();
        let list = self.field.order_back.sort(&keys);
        let floor = horizon - member.objective.makespan;
        let turned = self.back.run(&Plan {
            list: &list,
            wishes: &wishes,
            floor,
        })?;
        let keys: Vec<i64> = turned.iter().map(|placement| -placement.end).collect();
        let list = self.field.order_ahead.sort(&keys);
        let placements = self.ahead.run(&Plan {
            list: &list,
            wishes: &wishes,
            floor: 0,
        })?;
        let objective = Objective::measure(self.field.project, &placements);
        Some(Member {
            objective,
            placements,
            list,
            wishes,
        })
    }
}
