//! Choosing modes that the supplies can pay for: random choices, then repairs that spend less.
//!
//! Kolisch and Drexl, "Local search for nonpreemptive multi-mode resource-constrained project scheduling"
//! (1997), repair in this way; whether any choice is affordable is as hard as packing, so a repair may fail.

use super::net::Net;
use super::place::Wish;
use crate::random::Random;

/// Repairs tried, per task.
const REPAIRS_PER_TASK: usize = 6;

/// Makes every wish a mode, so that together they spend no more than there is; says whether that came about.
/// Without supplies nothing is done.
pub(super) fn afford(net: &Net, random: &mut Random, wishes: &mut [Wish]) -> bool {
    if net.supplies.is_empty() {
        return true;
    }
    let mut left = net.supplies.clone();
    for (task, wish) in wishes.iter_mut().enumerate() {
        let usable = (0..net.modes[task].len()).filter(|mode| net.modes[task][*mode].usable);
        let usable: Vec<usize> = usable.collect();
        let Some(mode) = wish.or_else(|| usable.get(random.below(usable.len())).copied()) else {
            return false;
        };
        *wish = Some(mode);
        spend(net, &mut left, (task, mode), 1);
    }
    for _ in 0..REPAIRS_PER_TASK * wishes.len() {
        if lacking(&left) == 0 {
            return true;
        }
        let task = random.below(wishes.len());
        let old = wishes[task].expect("every wish is a mode by now");
        spend(net, &mut left, (task, old), -1);
        let after = |mode: usize| {
            let mut left = left.clone();
            spend(net, &mut left, (task, mode), 1);
            lacking(&left)
        };
        let usable = (0..net.modes[task].len()).filter(|mode| net.modes[task][*mode].usable);
        // Of equals the last one found: an equally dear mode in place of the old one leads on.
        let found = usable
            .filter(|mode| *mode != old)
            .min_by_key(|mode| (after(*mode), *mode));
        let new = found.filter(|mode| after(*mode) <= after(old)).unwrap_or(old);
        wishes[task] = Some(new);
        spend(net, &mut left, (task, new), 1);
    }
    lacking(&left) == 0
}

fn spend(net: &Net, left: &mut [i64], (task, mode): (usize, usize), sign: i64) {
    for (supply, amount) in &net.modes[task][mode].spends {
        left[*supply] -= sign * amount;
    }
}

fn lacking(left: &[i64]) -> i64 {
    left.iter().map(|left| (-left).max(0)).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::project::{Mode, ProjectBuilder};

    #[test]
    fn a_choice_that_costs_too_much_is_repaired() {
        let mut builder = ProjectBuilder::new(20).expect("a horizon");
        let supply = builder.supply(5).expect("a supply");
        for _ in 0..3 {
            let modes = vec![
                Mode::lasting(1).spending(supply, 4),
                Mode::lasting(3).spending(supply, 1),
            ];
            builder.task(modes).expect("a task");
        }
        let net = Net::forwards(&builder.build().expect("no contradiction"));
        let mut wishes = vec![Some(0); 3];
        assert!(afford(&net, &mut Random::new(1), &mut wishes));
        let dear = wishes.iter().filter(|wish| **wish == Some(0)).count();
        assert_eq!(dear, 0, "four and one and one are more than five: {wishes:?}");
    }
}
