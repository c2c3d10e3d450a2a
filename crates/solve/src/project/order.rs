//! Orders of tasks that respect precedence and keep visits beside their long task.

use super::net::Net;

/// What an order must respect.
#[derive(Clone, Debug)]
pub(super) struct Order {
    after: Vec<Vec<usize>>,
    waits: Vec<usize>,
    /// The task beside which a task should stay (itself for most), and its place there.
    group: Vec<(usize, i64)>,
}

impl Order {
    pub(super) fn of(net: &Net) -> Self {
        let count = net.len();
        let mut order = Self {
            after: vec![Vec::new(); count],
            waits: vec![0; count],
            group: (0..count).map(|task| (task, i64::MIN)).collect(),
        };
        let visits = net.visits.iter().map(|(long, visit, _)| (*long, *visit));
        let mut pairs: Vec<(usize, usize)> = net.precedences.iter().copied().chain(visits).collect();
        pairs.sort_unstable();
        pairs.dedup();
        for (first, second) in pairs {
            order.after[first].push(second);
            order.waits[second] += 1;
        }
        order.find_groups(net);
        order
    }

    /// Visits stay beside their long task, and what a tight lag ties to another beside that one.
    fn find_groups(&mut self, net: &Net) {
        let mut leader: Vec<usize> = (0..net.len()).collect();
        for (first, second) in &net.tight {
            leader[*second] = *first;
            self.group[*second].1 = i64::MAX;
        }
        for (long, visit, least) in &net.visits {
            leader[*visit] = *long;
            self.group[*visit].1 = *least;
        }
        for task in 0..net.len() {
            // A circle of leaders ends somewhere on the circle, the same place for all its tasks or not.
            self.group[task].0 = (0..net.len()).fold(task, |at, _| leader[at]);
        }
    }

    /// How many tasks directly or indirectly follow each task.
    pub(super) fn followers(&self) -> Vec<i64> {
        let reach = |task: usize| {
            let mut seen = vec![false; self.after.len()];
            let mut open = vec![task];
            let mut found = 0;
            while let Some(next) = open.pop() {
                for &follower in &self.after[next] {
                    if !std::mem::replace(&mut seen[follower], true) {
                        found += 1;
                        open.push(follower);
                    }
                }
            }
            found
        };
        (0..self.after.len()).map(reach).collect()
    }

    /// All tasks, smallest key first as far as precedence allows; ties go to the lower position. Where
    /// precedence runs in a circle it is broken at the smallest key.
    pub(super) fn sort(&self, keys: &[i64]) -> Vec<usize> {
        self.sort_by(|task| (keys[task], task))
    }

    /// As [`Order::sort`], but a group goes by the key of its first task and stays together if it can.
    pub(super) fn sort_grouped(&self, keys: &[i64]) -> Vec<usize> {
        self.sort_by(|task| {
            let (leader, place) = self.group[task];
            (keys[leader], leader, place, keys[task], task)
        })
    }

    fn sort_by<R: Ord>(&self, rank: impl Fn(usize) -> R) -> Vec<usize> {
        let count = self.after.len();
        let mut waits = self.waits.clone();
        let mut listed = vec![false; count];
        let mut ready: Vec<usize> = (0..count).filter(|task| waits[*task] == 0).collect();
        let mut list = Vec::with_capacity(count);
        while list.len() < count {
            let found = (0..ready.len()).min_by_key(|index| rank(ready[*index]));
            let task = match found {
                Some(index) => ready.swap_remove(index),
                None => (0..count)
                    .filter(|task| !listed[*task])
                    .min_by_key(|task| rank(*task))
                    .expect("a task is left while the list is short"),
            };
            listed[task] = true;
            list.push(task);
            for &follower in &self.after[task] {
                waits[follower] = waits[follower].saturating_sub(1);
                if waits[follower] == 0 && !listed[follower] {
                    ready.push(follower);
                }
            }
        }
        list
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::project::{Lag, Mode, Offset, ProjectBuilder, TaskIx};

    /// Four tasks of ten units; 0 before 1 at once, 3 a visit of 2.
    fn order() -> Order {
        let mut builder = ProjectBuilder::new(100).expect("a horizon");
        for _ in 0..4 {
            builder.task(vec![Mode::lasting(10)]).expect("a task");
        }
        let ix = TaskIx;
        builder
            .lag(Lag {
                from: ix(0),
                to: ix(1),
                min: 0,
                max: Some(2),
            })
            .expect("a lag");
        builder
            .offset(Offset {
                task: ix(3),
                of: ix(2),
                min: 4,
                max: 5,
            })
            .expect("an offset");
        Order::of(&Net::forwards(&builder.build().expect("no contradiction")))
    }

    #[test]
    fn a_plain_order_follows_the_keys_as_far_as_precedence_allows() {
        assert_eq!(order().sort(&[5, 1, 4, 6]), [2, 0, 1, 3]);
    }

    #[test]
    fn a_grouped_order_keeps_a_visit_and_a_tight_follower_beside_their_leader() {
        assert_eq!(order().sort_grouped(&[5, 9, 4, 8]), [2, 3, 0, 1]);
    }
}
