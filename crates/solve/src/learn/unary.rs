//! Items of which no two may run at once.
//!
//! For a set W of present items let `e` be their soonest start, `l` their latest end and `p` the sum of their
//! durations.
//! - Overload: `p > l - e` is a conflict.
//! - Edge-finding: if W with an item `i` outside needs more than from the soonest start of all to `l`, then `i`
//!   ends last, and starts no sooner than `e(V) + p(V)` for every part V of W.
//!
//! Both are applied in either direction of time. Baptiste, Le Pape and Nuijten, "Constraint-based
//! scheduling" (2001), by plain loops: sets are small, and the window of every deduction is at hand for its
//! grounds, which are as loose as the excess of work permits.
//!
//! Cost: square of the number of items.

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
    grounds: Vec<Lit>,
}

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
            grounds: Vec::new(),
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
        (0..self.ends.len()).try_for_each(|at| self.sweep(state, view, self.ends[at]))
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
        self.pass(state, View::Back)
    }
}
