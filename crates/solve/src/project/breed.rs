//! Genetic search over orders of the tasks of a plain project.
//!
//! A member is an order and its makespan. It is generated forwards, then from its end backwards and forwards
//! again for as long as that helps (Valls, Ballestín and Quintanilla, "Justification and RCPSP", 2005). A child
//! takes a middle part of its order from a second parent (Hartmann, "A competitive genetic algorithm for
//! resource-constrained project scheduling", 1998) and is changed a little.

use super::net::Net;
use super::plain::{Generator, Plain};
use super::schedule::Placement;
use super::types::Project;
use crate::random::Random;

/// Members of the first pool. Smaller pools soon hold nothing but kin: on the hardest projects of 120 tasks, 40
/// members ended at twice the excess of 300 after the same time.
const POOL_FIRST: usize = 300;
/// Children in a row without a new best, as a multiple of the pool, before a pool of twice the size is begun.
const STALE_FACTOR: usize = 40;
/// Looks at a unit of time that take as long as placing one task of any project once; measured.
pub(super) const STEPS_PER_TRY: u64 = 110;

#[derive(Clone, Debug)]
struct Member {
    makespan: u32,
    list: Vec<u32>,
}

/// One seeded search.
#[derive(Debug)]
pub(super) struct Breeder {
    ahead: Plain,
    back: Plain,
    /// The generators for either direction of time.
    forth: Generator,
    turned: Generator,
    random: Random,
    pool: Vec<Member>,
    pool_max: usize,
    pub(super) best: Option<(u32, Vec<Placement>)>,
    /// By task, minus the longest way from its end to the end of all.
    keys: Vec<i64>,
    longest: i64,
    /// The makespan that no schedule is shorter than.
    least: u32,
    stale: usize,
    born: usize,
}

impl Breeder {
    /// The search, if the project is plain. No schedule is shorter than `least`.
    pub(super) fn new(project: &Project, net: &Net, (least, seed): (i64, u64)) -> Option<Self> {
        let ahead = Plain::of(project, net)?;
        let back = ahead.turned();
        let tails = back.heads();
        let heads = ahead.heads();
        let length = |task: usize| i64::from(heads[task] + tails[task] + ahead.durations[task]);
        Some(Self {
            forth: Generator::new(&ahead),
            turned: Generator::new(&back),
            random: Random::new(seed),
            pool: Vec::new(),
            pool_max: POOL_FIRST,
            best: None,
            keys: tails.iter().map(|tail| -i64::from(*tail)).collect(),
            longest: (0..ahead.len()).map(length).max().unwrap_or(0),
            least: u32::try_from(least).unwrap_or(0),
            ahead,
            back,
            stale: 0,
            born: 0,
        })
    }

    pub(super) fn tries(&self) -> u64 {
        (self.forth.steps + self.turned.steps) / STEPS_PER_TRY
    }

    /// Searches until so many tries were made in all, or nothing better can exist.
    pub(super) fn advance(&mut self, limit: u64) {
        while self.tries() < limit && self.best.as_ref().is_none_or(|best| best.0 > self.least) {
            let (list, is_new) = if self.pool.len() < self.pool_max {
                (self.newcomer(), true)
            } else {
                (self.child(), false)
            };
            let before = self.best.as_ref().map_or(u32::MAX, |best| best.0);
            let member = self.justified(list);
            let better = member.makespan < before;
            self.stale = if better {
                0
            } else {
                self.stale + usize::from(!is_new)
            };
            self.admit(member, is_new);
            if self.stale > STALE_FACTOR * self.pool_max {
                self.stale = 0;
                self.pool_max *= 2;
                self.pool.clear();
            }
        }
    }

    /// Takes up a schedule found elsewhere.
    pub(super) fn take_up(&mut self, placements: &[Placement]) {
        let makespan = placements
            .iter()
            .map(|placement| placement.end)
            .max()
            .unwrap_or(0);
        if self
            .best
            .as_ref()
            .is_some_and(|best| i64::from(best.0) <= makespan)
        {
            return;
        }
        let mut list: Vec<u32> = self.tasks();
        list.sort_unstable_by_key(|task| (placements[*task as usize].start, self.ahead.rank[*task as usize]));
        let member = self.justified(list);
        self.admit(member, false);
    }

    fn tasks(&self) -> Vec<u32> {
        (0..).take(self.ahead.len()).collect()
    }

    /// A newcomer joins the pool; a child takes the place of the last, unless it is worse or there already.
    fn admit(&mut self, member: Member, is_new: bool) {
        let place = self
            .pool
            .partition_point(|known| known.makespan < member.makespan);
        let mut equals = self.pool[place..]
            .iter()
            .take_while(|known| known.makespan == member.makespan);
        if equals.any(|known| known.list == member.list) {
            self.stale += usize::from(is_new);
            return;
        }
        if !is_new && let Some(last) = self.pool.last() {
            let alike = member.makespan == last.makespan && self.random.chance(50);
            if member.makespan >= last.makespan && !alike {
                return;
            }
            self.pool.pop();
        }
        // Behind its equals: in front, the newest kin would be chosen most.
        let place = self
            .pool
            .partition_point(|known| known.makespan <= member.makespan);
        self.pool.insert(place, member);
    }

    /// The first by the longest way that follows, the others by that with some noise.
    fn newcomer(&mut self) -> Vec<u32> {
        let mut keys = self.keys.clone();
        if self.born > 0 {
            let noise = usize::try_from(self.longest).unwrap_or(0) * (5 + self.random.below(40)) / 100;
            for key in &mut keys {
                *key += i64::try_from(self.random.below(noise + 1)).unwrap_or(0);
            }
        }
        self.born += 1;
        self.sorted(&keys)
    }

    /// All tasks, the smallest key first as far as the waits allow.
    fn sorted(&self, keys: &[i64]) -> Vec<u32> {
        let count = self.ahead.len();
        let mut waits = vec![0_u32; count];
        self.ahead
            .after
            .iter()
            .flatten()
            .for_each(|task| waits[*task as usize] += 1);
        let mut ready: Vec<u32> = self
            .tasks()
            .into_iter()
            .filter(|task| waits[*task as usize] == 0)
            .collect();
        let mut list = Vec::with_capacity(count);
        while let Some(place) =
            (0..ready.len()).min_by_key(|place| (keys[ready[*place] as usize], ready[*place]))
        {
            let task = ready.swap_remove(place);
            list.push(task);
            for follower in &self.ahead.after[task as usize] {
                let waits = &mut waits[*follower as usize];
                *waits -= 1;
                if *waits == 0 {
                    ready.push(*follower);
                }
            }
        }
        list
    }

    fn child(&mut self) -> Vec<u32> {
        let (count, known) = (self.ahead.len(), self.pool.len());
        let first = self.random.below(known).min(self.random.below(known));
        let second = self.random.below(known);
        let (one, two) = (self.random.below(count + 1), self.random.below(count + 1));
        let (cut, until) = (one.min(two), one.max(two));
        let (mother, father) = (&self.pool[first].list, &self.pool[second].list);
        let mut list: Vec<u32> = mother[..cut].to_vec();
        let mut taken = vec![false; count];
        list.iter().for_each(|task| taken[*task as usize] = true);
        for task in father {
            if list.len() >= until {
                break;
            }
            if !std::mem::replace(&mut taken[*task as usize], true) {
                list.push(*task);
            }
        }
        list.extend(mother.iter().filter(|task| !taken[**task as usize]));
        for _ in 0..=self.random.below(count / 15 + 2) {
            let at = self.random.below(count.max(2) - 1);
            if at + 1 < count && !self.ahead.after[list[at] as usize].contains(&list[at + 1]) {
                list.swap(at, at + 1);
            }
        }
        list
    }

    /// Generates forwards, then backwards and forwards for as long as that helps.
    fn justified(&mut self, mut list: Vec<u32>) -> Member {
        let mut makespan = self.forth.run(&self.ahead, &list);
        self.note(makespan);
        loop {
            let mut turned = self.tasks();
            by_end(
                &mut turned,
                &self.back,
                (&self.forth.starts, &self.ahead.durations),
            );
            self.turned.run(&self.back, &turned);
            by_end(
                &mut turned,
                &self.ahead,
                (&self.turned.starts, &self.ahead.durations),
            );
            let again = self.forth.run(&self.ahead, &turned);
            self.note(again);
            if again <= makespan {
                list.clone_from(&turned);
            }
            if again >= makespan {
                return Member { makespan, list };
            }
            makespan = again;
        }
    }

    fn note(&mut self, makespan: u32) {
        if self.best.as_ref().is_some_and(|best| best.0 <= makespan) {
            return;
        }
        let place = |(start, duration): (&u32, &u32)| Placement {
            start: i64::from(*start),
            end: i64::from(start + duration),
            mode: 0,
        };
        let placements = self.forth.starts.iter().zip(&self.ahead.durations).map(place);
        self.best = Some((makespan, placements.collect()));
    }
}

/// Sorts tasks by their end in the other direction of time, the last first, ties in the order of the waits.
fn by_end(tasks: &mut [u32], plain: &Plain, (starts, durations): (&[u32], &[u32])) {
    tasks.sort_unstable_by_key(|task| {
        let task = *task as usize;
        let (start, end) = (starts[task], starts[task] + durations[task]);
        (std::cmp::Reverse(end), std::cmp::Reverse(start), plain.rank[task])
    });
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::project::{Lag, Mode, ProjectBuilder, Schedule, check_schedule};

    /// Seeded plain projects of eight tasks.
    fn project(seed: u64) -> Project {
        let mut random = Random::new(seed);
        let mut draw = |most: usize| i64::try_from(random.below(most)).expect("small");
        let mut builder = ProjectBuilder::new(60).expect("a horizon");
        let resources = [3, 2].map(|capacity| builder.resource(capacity).expect("a capacity"));
        let mut tasks = Vec::new();
        for _ in 0..8 {
            let mode = Mode::lasting(draw(6))
                .using(resources[0], draw(4))
                .using(resources[1], draw(3));
            tasks.push(builder.task(vec![mode]).expect("a task"));
        }
        for (at, from) in tasks.iter().enumerate() {
            for to in &tasks[at + 1..] {
                if draw(5) == 0 {
                    let lag = Lag {
                        from: *from,
                        to: *to,
                        min: draw(3),
                        max: None,
                    };
                    builder.lag(lag).expect("a lag");
                }
            }
        }
        builder.build().expect("no contradiction")
    }

    #[test]
    fn whatever_is_bred_is_a_schedule() {
        for seed in 0..300 {
            let project = project(seed);
            let mut breeder =
                Breeder::new(&project, &Net::forwards(&project), (0, seed)).expect("it is plain");
            breeder.advance(200);
            let (makespan, placements) = breeder.best.expect("a plain project has a schedule");
            assert_eq!(
                placements.iter().map(|placement| placement.end).max(),
                Some(i64::from(makespan))
            );
            assert_eq!(check_schedule(&project, &Schedule { placements }), vec![]);
        }
    }

    #[test]
    fn projects_with_longest_waits_are_not_plain() {
        let mut builder = ProjectBuilder::new(60).expect("a horizon");
        let [from, to] = [2, 3].map(|length| builder.task(vec![Mode::lasting(length)]).expect("a task"));
        builder
            .lag(Lag {
                from,
                to,
                min: 0,
                max: Some(4),
            })
            .expect("a lag");
        let project = builder.build().expect("no contradiction");
        assert!(Breeder::new(&project, &Net::forwards(&project), (0, 1)).is_none());
    }
}
