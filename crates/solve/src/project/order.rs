//! Orders of tasks that respect precedence and keep visits beside their long task.

use super::net::Net;

/// What an order must respect.
#[derive(Clone, Debug)]
pub(super) struct Order {
    after: Vec<Vec<usize>>,
    waits: Vec<usize>,
    /// The task beside which a task stays (itself for most), and its place there.
    beside: Vec<(usize, i64)>,
}

impl Order {
    pub(super) fn of(net: &Net) -> Self {
        let count = net.len();
        let mut order = Self {
            after: vec![Vec::new(); count],
            waits: vec![0; count],
            beside: (0..count).map(|task| (task, i64::MIN)).collect(),
        };
        let visits = net.visits.iter().map(|(long, visit, _)| (*long, *visit));
        let mut pairs: Vec<(usize, usize)> = net.precedences.iter().copied().chain(visits).collect();
        pairs.sort_unstable();
        pairs.dedup();
        for (first, second) in pairs {
            order.after[first].push(second);
            order.waits[second] += 1;
        }
        for (long, visit, least) in &net.visits {
            order.beside[*visit] = (*long, *least);
        }
        order
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
        let count = keys.len();
        let rank = |task: usize| {
            let (anchor, place) = self.beside[task];
            (keys[anchor], anchor, place, keys[task], task)
        };
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
