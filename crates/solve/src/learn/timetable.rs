//! The capacity rule: at no time is more held than is there.
//!
//! Between its latest start and its soonest end an item surely holds its amount. Where these sure parts
//! exceed the capacity there is a conflict; where they leave too little, an item that would have to run
//! there is pushed away. Every deduction is explained at one point in time `t`, by `t - d < s <= t` for items
//! that together fill it (Schutt, Feydy, Stuckey and Wallace, "Explaining the cumulative propagator", 2011);
//! a push over a longer stretch is made of pushes each of which crosses one point.
//!
//! Cost: n log n and, for every item that can be pushed, the steps of the profile it meets.

use super::domain::{Lit, Side};
use super::item::{Item, sides};
use super::solver::Rule;
use super::state::{Clash, State};

/// The sure load is `load` from `from` to `to`. No sure part begins or ends inside.
#[derive(Clone, Copy, Debug)]
struct Step {
    from: i32,
    to: i32,
    load: i32,
}

#[derive(Debug)]
pub(crate) struct Timetable {
    /// By falling amount.
    items: Vec<Item>,
    capacity: i32,
    steps: Vec<Step>,
    load_max: i32,
    /// The sure parts that the profile was built from.
    parts: Vec<Option<(i32, i32)>>,
    /// Least and most start, and presence, with which the item was last found in its place.
    settled: Vec<(i32, i32, bool)>,
    /// The last run came to its end, so that what has not changed since needs no second look.
    whole: bool,
    events: Vec<(i32, i32)>,
    grounds: Vec<Lit>,
}

impl Timetable {
    /// No item may exceed the capacity alone.
    pub(crate) fn new(mut items: Vec<Item>, capacity: i32) -> Self {
        debug_assert!(
            items.iter().all(|item| item.amount <= capacity),
            "no item exceeds the capacity alone"
        );
        items.sort_by_key(|item| std::cmp::Reverse(item.amount));
        Self {
            steps: Vec::new(),
            load_max: 0,
            parts: vec![None; items.len()],
            settled: vec![(0, 0, false); items.len()],
            whole: false,
            items,
            capacity,
            events: Vec::new(),
            grounds: Vec::new(),
        }
    }

    /// Takes up the sure parts; says whether one has changed.
    fn update_parts(&mut self, state: &State) -> bool {
        let mut changed = false;
        for (item, part) in self.items.iter().zip(&mut self.parts) {
            let (from, to) = (state.most(item.start), state.least(item.start) + item.duration);
            let now = (from < to && item.is_present(state)).then_some((from, to));
            changed |= now != *part;
            *part = now;
        }
        changed
    }

    fn build_profile(&mut self) {
        self.events.clear();
        for (item, part) in self.items.iter().zip(&self.parts) {
            if let Some((from, to)) = part {
                self.events.extend([(*from, item.amount), (*to, -item.amount)]);
            }
        }
        self.events.sort_unstable();
        self.steps.clear();
        self.load_max = 0;
        let (mut load, mut since) = (0, 0);
        for &(time, change) in &self.events {
            if load > 0 && since < time {
                self.load_max = self.load_max.max(load);
                self.steps.push(Step {
                    from: since,
                    to: time,
                    load,
                });
            }
            load += change;
            since = time;
        }
    }

    /// Puts the conditions under which items other than `skip` hold `needed` at a time into the grounds.
    fn explain(&mut self, state: &State, (time, needed): (i32, i32), skip: Option<usize>) {
        let runs = |item: &Item| {
            state.most(item.start) <= time
                && time < state.least(item.start) + item.duration
                && item.is_present(state)
        };
        self.grounds.clear();
        let mut held = 0;
        for (at, item) in self.items.iter().enumerate() {
            if held >= needed {
                return;
            }
            if Some(at) != skip && runs(item) {
                held += item.amount;
                self.grounds.push(item.start.at_least(time - item.duration + 1));
                self.grounds.push(item.start.at_most(time));
                self.grounds.extend(item.present);
            }
        }
        debug_assert!(held >= needed, "the items that run at the time fill it");
    }

    fn check_overload(&mut self, state: &mut State) -> Result<(), Clash> {
        let over = self.steps.iter().find(|step| step.load > self.capacity);
        let Some(time) = over.map(|step| step.from) else {
            return Ok(());
        };
        self.explain(state, (time, self.capacity + 1), None);
        state.fail(&self.grounds)
    }

    /// Whether an item does not fit beside what others surely hold during a step.
    fn blocks(&self, step: Step, item: &Item, own: Option<(i32, i32)>) -> bool {
        let inside = own.is_some_and(|(from, to)| from <= step.from && step.to <= to);
        let others = if inside {
            step.load - item.amount
        } else {
            step.load
        };
        others + item.amount > self.capacity
    }

    fn standing(&self, state: &State, at: usize) -> (i32, i32, bool) {
        let item = &self.items[at];
        (
            state.least(item.start),
            state.most(item.start),
            item.is_present(state),
        )
    }

    fn push(&mut self, state: &mut State, at: usize) -> Result<(), Clash> {
        let item = self.items[at];
        if item.is_absent(state) {
            return Ok(());
        }
        let present = item.is_present(state);
        let (least, most) = (state.least(item.start), state.most(item.start));
        if least == most && present {
            return Ok(());
        }
        state.work += 1;
        if !present {
            return self.rule_out(state, at);
        }
        let own = (most < least + item.duration).then_some((most, least + item.duration));
        self.push_later(state, at, own)?;
        self.push_sooner(state, at, own)
    }

    fn push_later(&mut self, state: &mut State, at: usize, own: Option<(i32, i32)>) -> Result<(), Clash> {
        let item = self.items[at];
        let mut start = state.least(item.start);
        let mut next = self.steps.partition_point(|step| step.to <= start);
        while let Some(&step) = self.steps.get(next)
            && step.from < start + item.duration
        {
            if step.to <= start || !self.blocks(step, &item, own) {
                next += 1;
                continue;
            }
            let time = (start + item.duration).min(step.to) - 1;
            self.explain(state, (time, self.capacity + 1 - item.amount), Some(at));
            self.grounds.push(item.start.at_least(time - item.duration + 1));
            self.grounds.extend(item.present);
            start = time + 1;
            state.post(item.start.at_least(start), &self.grounds)?;
        }
        Ok(())
    }

    fn push_sooner(&mut self, state: &mut State, at: usize, own: Option<(i32, i32)>) -> Result<(), Clash> {
        let item = self.items[at];
        let mut start = state.most(item.start);
        let mut next = self
            .steps
            .partition_point(|step| step.from < start + item.duration);
        while next > 0 && self.steps[next - 1].to > start {
            let step = self.steps[next - 1];
            if step.from >= start + item.duration || !self.blocks(step, &item, own) {
                next -= 1;
                continue;
            }
            let time = start.max(step.from);
            self.explain(state, (time, self.capacity + 1 - item.amount), Some(at));
            self.grounds.push(item.start.at_most(time));
            self.grounds.extend(item.present);
            start = time - item.duration;
            state.post(item.start.at_most(start), &self.grounds)?;
        }
        Ok(())
    }

    /// An item that may be absent is, if wherever it starts it meets one and the same full point.
    fn rule_out(&mut self, state: &mut State, at: usize) -> Result<(), Clash> {
        let item = self.items[at];
        let (least, most) = (state.least(item.start), state.most(item.start));
        let full = self.steps.iter().find_map(|step| {
            let time = step.from.max(most);
            let met = time < step.to && time < least + item.duration;
            (met && self.blocks(*step, &item, None)).then_some(time)
        });
        let (Some(time), Some(present)) = (full, item.present) else {
            return Ok(());
        };
        self.explain(state, (time, self.capacity + 1 - item.amount), Some(at));
        self.grounds.push(item.start.at_least(time - item.duration + 1));
        self.grounds.push(item.start.at_most(time));
        state.post(present.negated(), &self.grounds)
    }
}

impl Rule for Timetable {
    fn sides(&self) -> Vec<Side> {
        sides(&self.items)
    }

    fn rank(&self) -> usize {
        1
    }

    fn run(&mut self, state: &mut State) -> Result<(), Clash> {
        state.work += self.items.len() as u64 / 2;
        let changed = self.update_parts(state) || !self.whole;
        self.whole = false;
        if changed {
            self.build_profile();
            state.work += 2 * self.events.len() as u64;
            self.check_overload(state)?;
        }
        for at in 0..self.items.len() {
            if self.load_max + self.items[at].amount <= self.capacity {
                break;
            }
            if changed || self.settled[at] != self.standing(state, at) {
                self.push(state, at)?;
                self.settled[at] = self.standing(state, at);
            }
        }
        self.whole = true;
        Ok(())
    }
}
