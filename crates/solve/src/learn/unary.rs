//! Items of which no two may run at once.
//!
//! For a set W of present items let `e` be their soonest start, `l` their latest end and `p` the sum of their
//! durations.
//! - Overload: `p > l - e` is a conflict.
//! - Edge-finding: if W with an item `i` outside needs more than from the soonest start of all to `l`, then `i`
//!   ends last, and starts no sooner than `e(V) + p(V)` for every part V of W.
//! - Not first: if `i` outside W ends too late at its soonest for all of W to follow by `l`, then something of W ends
//!   before `i` starts: it starts no sooner than the least soonest end in W.
//!
//! All are applied in either direction of time. Baptiste, Le Pape and Nuijten, "Constraint-based
//! scheduling" (2001), by plain loops: sets are small, and the window of every deduction is at hand for its
//! grounds, which are as loose as the excess of work permits.
//!
//! Cost: square of the number of items, and its logarithm.

use super::domain::Lit;
use super::domain::Side;
use super::item::{Item, View, sides};
use super::solver::Rule;
use super::state::{Clash, State};

#[derive(Debug)]
pub(crate) struct Unary {
    items: Vec<Item>,
    /// Present items by soonest start, with their soonest start and latest end when the run began.
    open: Vec<Span>,
    ends: Vec<i32>,
    /// Places in `open`, the latest soonest end first.
    by_end: Vec<usize>,
    /// Those that end by a time, with the work up to each.
    late: Vec<(usize, i32)>,
    grounds: Vec<Lit>,
    /// Calls that the last of the deductions is to let pass, and how many its last rest was.
    resting: u32,
    rest: u32,
    found: bool,
}

/// The longest rest.
const REST_MAX: u32 = 255;

#[derive(Clone, Copy, Debug)]
struct Span {
    item: Item,
    start: i32,
    end: i32,
}

/// A set of items that end by a time: those of `open` from `from` on.
#[derive(Clone, Copy, Debug)]
struct Window {
    from: usize,
    end: i32,
    /// Soonest start of the set.
    start: i32,
    /// Sum of durations.
    work: i32,
    /// The greatest soonest start plus work of a part of the set, and the first of that part.
    reach: i32,
    reach_from: usize,
}

impl Unary {
    pub(crate) fn new(items: Vec<Item>) -> Self {
        Self {
            items,
            open: Vec::new(),
            ends: Vec::new(),
            by_end: Vec::new(),
            late: Vec::new(),
            grounds: Vec::new(),
            resting: 0,
            rest: 0,
            found: false,
        }
    }

    fn pass(&mut self, state: &mut State, view: View) -> Result<(), Clash> {
        self.open.clear();
        let present = self.items.iter().filter(|item| item.is_present(state));
        let span = |item: &Item| Span {
            item: *item,
            start: view.start(state, item),
            end: view.end(state, item),
        };
        self.open.extend(present.map(span));
        if self.open.len() < 2 {
            return Ok(());
        }
        self.open.sort_by_key(|span| span.start);
        self.ends.clear();
        self.ends.extend(self.open.iter().map(|span| span.end));
        self.ends.sort_unstable();
        self.ends.dedup();
        state.work += (self.open.len() * self.ends.len()) as u64 / 2;
        (0..self.ends.len()).try_for_each(|at| self.sweep(state, view, self.ends[at]))?;
        if self.resting > 0 {
            return Ok(());
        }
        state.work += (self.open.len() * self.ends.len()) as u64 / 2;
        self.by_end.clear();
        self.by_end.extend(0..self.open.len());
        let open = &self.open;
        self.by_end
            .sort_by_key(|at| std::cmp::Reverse(open[*at].start + open[*at].item.duration));
        (0..self.ends.len()).try_for_each(|at| self.not_first(state, view, self.ends[at]))
    }

    /// Items that cannot go before all of those that end by a time.
    fn not_first(&mut self, state: &mut State, view: View, end: i32) -> Result<(), Clash> {
        let mut work = 0;
        self.late.clear();
        for &at in &self.by_end {
            if self.open[at].end <= end {
                work += self.open[at].item.duration;
                self.late.push((at, work));
            }
        }
        for at in 0..self.open.len() {
            let span = self.open[at];
            let spare = end - span.start - span.item.duration;
            let own = if span.end <= end { span.item.duration } else { 0 };
            if work - own <= spare {
                continue;
            }
            let place = self.late.iter().position(|(other, _)| *other == at);
            let without = |count: usize, sum: i32| match place {
                Some(place) if place <= count => sum - own,
                _ => sum,
            };
            // The work grows with the set, so the first set that is too much has the latest soonest ends.
            let mut count = self.late.partition_point(|(_, sum)| *sum <= spare);
            while without(count, self.late[count].1) <= spare {
                count += 1;
            }
            self.waits_for_one(state, view, (at, count, end))?;
        }
        Ok(())
    }

    /// The item at a place starts after the soonest end of one of the first of `late`.
    fn waits_for_one(
        &mut self,
        state: &mut State,
        view: View,
        (at, last, end): (usize, usize, i32),
    ) -> Result<(), Clash> {
        let span = self.open[at];
        let first_end = self.open[self.late[last].0];
        let reach = first_end.start + first_end.item.duration;
        if reach <= view.start(state, &span.item) {
            return Ok(());
        }
        self.found = true;
        let set = || self.late[..=last].iter().filter(|(other, _)| *other != at);
        let work: i32 = set().map(|(other, _)| self.open[*other].item.duration).sum();
        let excess = span.start + span.item.duration + work - end - 1;
        let early = excess / 2;
        self.grounds.clear();
        for (other, _) in self.late[..=last].iter().filter(|(other, _)| *other != at) {
            let item = self.open[*other].item;
            self.grounds.push(view.starts_from(&item, reach - item.duration));
            self.grounds.push(view.ends_by(&item, end + excess - early));
            self.grounds.extend(item.present);
        }
        self.grounds
            .push(view.starts_from(&span.item, span.start - early));
        self.grounds.extend(span.item.present);
        debug_assert!(
            self.grounds.iter().all(|lit| state.is_true(*lit)),
            "grounds are true"
        );
        state.post(view.starts_from(&span.item, reach), &self.grounds)
    }

    /// Lets the set of items that end by a time grow from the one that starts last.
    fn sweep(&mut self, state: &mut State, view: View, end: i32) -> Result<(), Clash> {
        let mut window = Window {
            from: self.open.len(),
            end,
            start: i32::MAX,
            work: 0,
            reach: i32::MIN,
            reach_from: 0,
        };
        for at in (0..self.open.len()).rev() {
            let span = self.open[at];
            if span.end <= end {
                window.from = at;
                window.start = span.start;
                window.work += span.item.duration;
                if span.start + window.work > window.reach {
                    window.reach = span.start + window.work;
                    window.reach_from = at;
                }
                if window.start + window.work > end {
                    return self.overload(state, view, window);
                }
            } else if window.work > 0 && span.start + window.work + span.item.duration > end {
                self.goes_last(state, view, window, at)?;
            }
        }
        if window.work == 0 {
            return Ok(());
        }
        // Items that start inside the window of the whole set.
        for at in window.from + 1..self.open.len() {
            let span = self.open[at];
            if span.end > end && window.start + window.work + span.item.duration > end {
                self.goes_last(state, view, window, at)?;
            }
        }
        Ok(())
    }

    /// `slack` is by how much the latest ends of the set may be later than the window's.
    fn explain_set(
        &mut self,
        state: &State,
        view: View,
        window: Window,
        starts: impl Fn(usize) -> i32,
        slack: i32,
    ) {
        self.grounds.clear();
        for at in window.from..self.open.len() {
            let span = self.open[at];
            if span.end <= window.end {
                self.grounds.push(view.starts_from(&span.item, starts(at)));
                self.grounds.push(view.ends_by(&span.item, window.end + slack));
                self.grounds.extend(span.item.present);
            }
        }
        debug_assert!(
            self.grounds.iter().all(|lit| state.is_true(*lit)),
            "grounds are true"
        );
    }

    fn overload(&mut self, state: &mut State, view: View, window: Window) -> Result<(), Clash> {
        let spare = window.start + window.work - window.end - 1;
        let early = spare / 2;
        self.explain_set(state, view, window, |_| window.start - early, spare - early);
        state.fail(&self.grounds)
    }

    /// The item at a place outside the set comes after the whole set.
    fn goes_last(&mut self, state: &mut State, view: View, window: Window, at: usize) -> Result<(), Clash> {
        let span = self.open[at];
        if window.reach <= view.start(state, &span.item) {
            return Ok(());
        }
        let start = window.start.min(span.start);
        let slack = start + window.work + span.item.duration - window.end - 1;
        let reach_start = self.open[window.reach_from].start;
        let starts = |other: usize| {
            if other >= window.reach_from {
                reach_start
            } else {
                start
            }
        };
        self.explain_set(state, view, window, starts, slack);
        self.grounds.push(view.starts_from(&span.item, start));
        self.grounds.extend(span.item.present);
        state.post(view.starts_from(&span.item, window.reach), &self.grounds)
    }
}

impl Rule for Unary {
    fn sides(&self) -> Vec<Side> {
        sides(&self.items)
    }

    fn rank(&self) -> usize {
        2
    }

    fn run(&mut self, state: &mut State) -> Result<(), Clash> {
        self.pass(state, View::Ahead)?;
        self.pass(state, View::Back)?;
        if self.resting > 0 {
            self.resting -= 1;
        } else {
            self.rest = if self.found {
                0
            } else {
                (2 * self.rest + 1).min(REST_MAX)
            };
            self.resting = self.rest;
        }
        self.found = false;
        Ok(())
    }
}
