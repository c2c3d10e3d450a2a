//! The work that must fall into a window of time is at most what the capacity supplies there.
//!
//! An item surely spends `x = min(d, soonest end - a, b - latest start, b - a)` of its time in the window from
//! `a` to `b`, if that is positive. The sum of amount times `x` beyond capacity times `b - a` is a conflict. If
//! all but one leave so little that the last cannot spend even `x` in the window, and it cannot end before
//! `a + x`, it starts after `b - x`. Windows run from a soonest start to a latest end, in either direction of
//! time. After Erschler and Lopez, "Energy-based approach for task scheduling under time and resources
//! constraints" (1990), and Baptiste, Le Pape and Nuijten (2001).
//!
//! That an item spends `x` there is explained by `a + x - d <= s <= b - x`; energy that is not needed is
//! dropped or lessened. Cost: square of the number of items, cube at worst; when it derives nothing it rests
//! for a number of calls that doubles each time. It is never needed for a solution to be right.

use super::domain::{Lit, Side};
use super::item::{Item, View, sides};
use super::solver::Rule;
use super::state::{Clash, State};

#[derive(Debug)]
pub(crate) struct Energy {
    items: Vec<Item>,
    capacity: i64,
    spans: Vec<Span>,
    ends: Vec<i32>,
    pushes: Vec<(Item, Window)>,
    shares: Vec<Share>,
    grounds: Vec<Lit>,
    /// Calls to let pass, and how many the last rest was.
    resting: u32,
    rest: u32,
    rest_max: u32,
}

#[derive(Clone, Copy, Debug)]
struct Span {
    item: Item,
    start: i32,
    end: i32,
}

#[derive(Clone, Copy, Debug)]
struct Window {
    view: View,
    from: i32,
    to: i32,
}

/// What an item surely spends in a window.
#[derive(Clone, Copy, Debug)]
struct Share {
    item: Item,
    time: i32,
}

impl Share {
    fn energy(&self) -> i64 {
        i64::from(self.item.amount) * i64::from(self.time)
    }
}

impl Span {
    fn share(&self, from: i32, to: i32) -> i32 {
        let duration = self.item.duration;
        let (soonest_end, latest_start) = (self.start + duration, self.end - duration);
        let most = duration.min(soonest_end - from).min(to - latest_start);
        most.min(to - from).max(0)
    }
}

impl Window {
    fn span(self, state: &State, item: Item) -> Span {
        Span {
            item,
            start: self.view.start(state, &item),
            end: self.view.end(state, &item),
        }
    }

    fn supply(self, capacity: i64) -> i64 {
        capacity * i64::from(self.to - self.from)
    }
}

impl Energy {
    /// Rests for at most so many calls.
    pub(crate) fn new(items: Vec<Item>, capacity: i32, rest_max: u32) -> Self {
        Self {
            items,
            capacity: i64::from(capacity),
            spans: Vec::new(),
            ends: Vec::new(),
            pushes: Vec::new(),
            shares: Vec::new(),
            grounds: Vec::new(),
            resting: 0,
            rest: 0,
            rest_max,
        }
    }

    fn pass(&mut self, state: &mut State, view: View) -> Result<(), Clash> {
        self.spans.clear();
        let present = self.items.iter().filter(|item| item.is_present(state));
        self.spans.extend(present.map(|item| Span {
            item: *item,
            start: view.start(state, item),
            end: view.end(state, item),
        }));
        self.spans.sort_by_key(|span| span.start);
        self.ends.clear();
        self.ends.extend(self.spans.iter().map(|span| span.end));
        self.ends.sort_unstable();
        self.ends.dedup();
        state.work += (self.spans.len() * self.ends.len()) as u64;
        self.pushes.clear();
        for at in 0..self.ends.len() {
            self.sweep(state, view, self.ends[at])?;
        }
        for at in 0..self.pushes.len() {
            let (item, window) = self.pushes[at];
            self.push(state, item, window)?;
        }
        Ok(())
    }

    /// Widens the windows that end at a time, from the last start to the first.
    fn sweep(&mut self, state: &mut State, view: View, to: i32) -> Result<(), Clash> {
        let mut inside = 0_i64;
        let mut looked_at = 0;
        // The item that could spend most beyond what it surely does.
        let mut widest: Option<(i64, usize)> = None;
        let mut at = self.spans.len();
        while at > 0 {
            let from = self.spans[at - 1].start;
            while at > 0 && self.spans[at - 1].start == from {
                at -= 1;
                if from >= to {
                    continue;
                }
                let span = self.spans[at];
                let (share, amount) = (span.share(from, to), i64::from(span.item.amount));
                inside += amount * i64::from(share);
                let extra = amount * i64::from(span.item.duration.min(to - from) - share);
                if extra > 0 && widest.is_none_or(|(most, _)| extra > most) {
                    widest = Some((extra, at));
                }
            }
            if from >= to {
                continue;
            }
            let window = Window { view, from, to };
            let supply = window.supply(self.capacity);
            // Windows that their own items fill less than half are seldom worth the closer look.
            if 2 * inside < supply {
                continue;
            }
            looked_at += at;
            let outside = self.spans[..at]
                .iter()
                .map(|span| i64::from(span.item.amount) * i64::from(span.share(from, to)));
            let room = supply - inside - outside.sum::<i64>();
            if room < 0 {
                state.work += looked_at as u64;
                self.explain(state, window, None, supply + 1);
                return state.fail(&self.grounds);
            }
            if let Some((_, widest)) = widest.filter(|(extra, _)| *extra > room) {
                self.pushes.push((self.spans[widest].item, window));
            }
        }
        state.work += looked_at as u64;
        Ok(())
    }

    /// Says why items other than `skip` spend at least `needed` in a window, as loosely as can be.
    fn explain(&mut self, state: &State, window: Window, skip: Option<Item>, needed: i64) {
        self.shares.clear();
        for item in &self.items {
            if skip != Some(*item) && item.is_present(state) {
                let time = window.span(state, *item).share(window.from, window.to);
                if time > 0 {
                    self.shares.push(Share { item: *item, time });
                }
            }
        }
        let mut spare = self.shares.iter().map(Share::energy).sum::<i64>() - needed;
        debug_assert!(spare >= 0, "the items fill the window");
        self.shares.sort_by_key(Share::energy);
        self.grounds.clear();
        for share in &mut self.shares {
            let amount = i64::from(share.item.amount);
            let less = i64::from(share.time).min(spare / amount);
            spare -= less * amount;
            share.time -= i32::try_from(less).expect("no more than the time itself");
            if share.time > 0 {
                let (item, time) = (&share.item, share.time);
                self.grounds
                    .push(window.view.starts_from(item, window.from + time - item.duration));
                self.grounds
                    .push(window.view.ends_by(item, window.to - time + item.duration));
                self.grounds.extend(item.present);
            }
        }
    }

    fn push(&mut self, state: &mut State, item: Item, window: Window) -> Result<(), Clash> {
        let others = self
            .items
            .iter()
            .filter(|other| **other != item && other.is_present(state));
        let held: i64 = others
            .map(|other| {
                let share = window.span(state, *other).share(window.from, window.to);
                i64::from(other.amount) * i64::from(share)
            })
            .sum();
        state.work += self.items.len() as u64;
        let supply = window.supply(self.capacity);
        let (room, amount) = (supply - held, i64::from(item.amount));
        if room < 0 {
            return Ok(());
        }
        // The least time in the window for which there is no room.
        let Ok(time) = i32::try_from(room / amount + 1) else {
            return Ok(());
        };
        let span = window.span(state, item);
        let start = window.to - time + 1;
        let can_avoid = span.start + item.duration < window.from + time;
        if time > item.duration.min(window.to - window.from) || can_avoid || span.start >= start {
            return Ok(());
        }
        let needed = supply - i64::from(time) * amount + 1;
        self.explain(state, window, Some(item), needed);
        self.grounds
            .push(window.view.starts_from(&item, window.from + time - item.duration));
        self.grounds.extend(item.present);
        state.post(window.view.starts_from(&item, start), &self.grounds)
    }
}

impl Rule for Energy {
    fn sides(&self) -> Vec<Side> {
        sides(&self.items)
    }

    fn rank(&self) -> usize {
        3
    }

    fn run(&mut self, state: &mut State) -> Result<(), Clash> {
        if self.resting > 0 && state.level() > 1 {
            self.resting -= 1;
            return Ok(());
        }
        let before = state.trail.len();
        let outcome = self
            .pass(state, View::Ahead)
            .and_then(|()| self.pass(state, View::Back));
        self.rest = if outcome.is_err() || state.trail.len() > before {
            0
        } else {
            (2 * self.rest + 1).min(self.rest_max)
        };
        self.resting = self.rest;
        outcome
    }
}
