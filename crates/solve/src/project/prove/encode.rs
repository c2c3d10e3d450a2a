//! A project in terms of the kernel.
//!
//! Of each task: its start; if it has several modes, which of them, in order of duration, so that "the mode is
//! at least the second" means "it lasts at least as long as the second"; if these durations differ, its end.
//! Windows are arcs. What excludes each other, by a changeover or because a capacity does not hold both, has
//! a switch for the order in which they run. Capacities are rules.

use std::collections::{BTreeMap, BTreeSet};

use super::super::net::{Arc, Net, NetMode};
use super::super::schedule::Placement;
use super::super::types::{Project, Resource};
use super::due_inside;
use crate::learn::{Choice, Energy, Item, Lit, Side, Solver, Sum, Taste, Timetable, Unary, Var};

/// No time may exceed this, so that sums of a few times fit the kernel's 32 bits.
const TIME_MAX: i64 = 1 << 26;
/// More pairs than this are left to the rules.
const PAIRS_MAX: usize = 20_000;
/// Calls for which the energy of a resource is not looked at after it gave nothing.
const ENERGY_REST_MAX: u32 = 63;

/// A variable and what is to be added to it.
#[derive(Clone, Copy, Debug)]
struct Point {
    var: Var,
    shift: i32,
}

/// One usable mode of a task, and the statement that it is the one.
#[derive(Clone, Copy, Debug)]
struct Way {
    mode: usize,
    duration: i32,
    chosen: Option<Lit>,
}

#[derive(Debug)]
struct TaskVars {
    start: Var,
    end: Point,
    /// By rising duration.
    ways: Vec<Way>,
    which: Option<Var>,
}

/// Which rules a model has beyond those it cannot do without.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Rules {
    /// All that help to prove.
    All,
    /// Few, for a model that is soon made and soon forgotten.
    Few,
}

/// A project as variables, and how to read them.
#[derive(Debug)]
pub(super) struct Model {
    pub(super) solver: Solver,
    pub(super) makespan: Var,
    /// Weighted, if anything is due and the sum is in range.
    pub(super) lateness: Option<Var>,
    tasks: Vec<TaskVars>,
    /// Lateness of single tasks, with the due time.
    lates: Vec<(Var, usize, i32)>,
    /// True if the first task is to run before the second.
    switches: Vec<(Var, usize, usize)>,
    /// True if the task runs in its way of this position.
    picks: Vec<(Var, usize, usize)>,
    count: usize,
}

impl Model {
    /// The model, or none if a figure is beyond the kernel's range.
    pub(super) fn new(project: &Project, net: &Net, (taste, rules): (Taste, Rules)) -> Option<Self> {
        if project.horizon > TIME_MAX {
            return None;
        }
        let mut solver = Solver::new(taste);
        let makespan = solver.var(0, narrow(project.horizon));
        let mut model = Self {
            solver,
            makespan,
            lateness: None,
            tasks: Vec::with_capacity(net.len()),
            lates: Vec::new(),
            switches: Vec::new(),
            picks: Vec::new(),
            count: 1,
        };
        (0..net.len()).for_each(|task| model.add_task(net, task));
        model.add_windows(net);
        model.add_lateness(project)?;
        let mut pairs = model.add_changeovers(project);
        for (position, resource) in project.resources.iter().enumerate() {
            model.add_resource(net, (position, resource), (project.horizon, rules));
        }
        if rules == Rules::All {
            model.add_pairs(project, net, &mut pairs);
        }
        for (position, amount) in net.supplies.iter().enumerate() {
            model.add_supply(net, position, *amount);
        }
        let mut order: Vec<Var> = model.tasks.iter().map(|task| task.start).collect();
        order.push(makespan);
        model.solver.set_order(order);
        Some(model)
    }

    fn var(&mut self, least: i32, most: i32) -> Var {
        self.count += 1;
        self.solver.var(least, most)
    }

    fn add_task(&mut self, net: &Net, task: usize) {
        let possible =
            |mode: &&(usize, &NetMode)| mode.1.usable && mode.1.release + mode.1.duration <= mode.1.deadline;
        let mut modes: Vec<(usize, &NetMode)> = net.modes[task].iter().enumerate().collect();
        modes.retain(|mode| possible(&mode));
        modes.sort_by_key(|(index, mode)| (mode.duration, *index));
        let release = modes.iter().map(|(_, mode)| mode.release).min();
        let latest = modes.iter().map(|(_, mode)| mode.deadline - mode.duration).max();
        // Without a mode the domain is empty, and the solver refutes.
        let start = self.var(narrow(release.unwrap_or(1)), narrow(latest.unwrap_or(0)));
        let which = (modes.len() > 1).then(|| self.var(0, count(modes.len() - 1)));
        let mut ways: Vec<Way> = Vec::new();
        for (position, (index, mode)) in modes.iter().enumerate() {
            let chosen = which.map(|which| self.pick(which, (task, position), modes.len()));
            if let Some(chosen) = chosen {
                self.solver
                    .clause(&[chosen.negated(), start.at_least(narrow(mode.release))]);
                let latest = narrow(mode.deadline - mode.duration);
                self.solver.clause(&[chosen.negated(), start.at_most(latest)]);
            }
            ways.push(Way {
                mode: *index,
                duration: narrow(mode.duration),
                chosen,
            });
        }
        let end = self.end(start, &ways, which);
        self.solver.arc(end.var, self.makespan, end.shift, None);
        self.tasks.push(TaskVars {
            start,
            end,
            ways,
            which,
        });
    }

    /// The statement that a way of a task is the one.
    fn pick(&mut self, which: Var, (task, position): (usize, usize), number: usize) -> Lit {
        let at = count(position);
        if position == 0 {
            return which.at_most(0);
        }
        if position == number - 1 {
            return which.at_least(at);
        }
        let pick = self.var(0, 1);
        self.picks.push((pick, task, position));
        let chosen = pick.at_least(1);
        self.solver.clause(&[chosen.negated(), which.at_least(at)]);
        self.solver.clause(&[chosen.negated(), which.at_most(at)]);
        self.solver
            .clause(&[chosen, which.at_most(at - 1), which.at_least(at + 1)]);
        chosen
    }

    fn end(&mut self, start: Var, ways: &[Way], which: Option<Var>) -> Point {
        let shortest = ways.first().map_or(0, |way| way.duration);
        let longest = ways.last().map_or(0, |way| way.duration);
        let Some(which) = which.filter(|_| shortest < longest) else {
            return Point {
                var: start,
                shift: shortest,
            };
        };
        let horizon = self.solver.state().most(self.makespan);
        let end = self.var(0, horizon);
        self.solver.arc(start, end, shortest, None);
        self.solver.arc(end, start, -longest, None);
        for (position, pair) in (0..).zip(ways.windows(2)) {
            if pair[0].duration < pair[1].duration {
                let (shorter, longer) = (which.at_most(position), which.at_least(position + 1));
                self.solver.arc(start, end, pair[1].duration, Some(longer));
                self.solver.arc(end, start, -pair[0].duration, Some(shorter));
            }
        }
        Point { var: end, shift: 0 }
    }

    fn point(&self, task: usize, is_end: bool) -> Point {
        let vars = &self.tasks[task];
        if is_end {
            vars.end
        } else {
            Point {
                var: vars.start,
                shift: 0,
            }
        }
    }

    fn add_windows(&mut self, net: &Net) {
        for (task, arcs) in net.into.iter().enumerate() {
            for arc in arcs {
                let (sooner, later) = (
                    self.point(arc.other, arc.sooner_end),
                    self.point(task, arc.later_end),
                );
                // Beyond the range a window always holds or never does, as it does at its edge.
                let base = narrow(arc.base.clamp(-4 * TIME_MAX, 4 * TIME_MAX));
                self.solver
                    .arc(sooner.var, later.var, sooner.shift + base - later.shift, None);
            }
        }
    }

    fn add_lateness(&mut self, project: &Project) -> Option<()> {
        let horizon = project.horizon;
        let (mut terms, mut most): (Vec<(Side, i64)>, i64) = (Vec::new(), 0);
        for (task, described) in project.tasks.iter().enumerate() {
            let Some(due) = due_inside(project, described) else {
                continue;
            };
            let time = due.time.max(-TIME_MAX);
            most = most.saturating_add(due.weight.saturating_mul(horizon - time));
            let var = self.var(0, narrow(horizon - time));
            let end = self.tasks[task].end;
            self.solver.arc(end.var, var, end.shift - narrow(time), None);
            self.lates.push((var, task, narrow(time)));
            terms.push((var.lower(), due.weight));
        }
        if terms.is_empty() {
            return Some(());
        }
        let total = self.var(0, i32::try_from(most).ok().filter(|most| *most < i32::MAX / 4)?);
        self.solver.rule(Sum::new(terms, 0, total));
        self.lateness = Some(total);
        Some(())
    }

    /// The sum of all holds as a variable, or none if it is beyond the range.
    pub(super) fn add_holds(&mut self, project: &Project) -> Option<Var> {
        let mut weights: BTreeMap<Var, i64> = BTreeMap::new();
        let mut constant = 0;
        for hold in &project.holds {
            let (from, to) = (self.tasks[hold.from.0].end, self.tasks[hold.to.0].start);
            *weights.entry(to).or_default() += hold.weight;
            *weights.entry(from.var).or_default() -= hold.weight;
            constant -= hold.weight * i64::from(from.shift);
        }
        let sum: i64 = weights.values().map(|weight| weight.abs()).sum();
        let most = sum.checked_mul(project.horizon)?.checked_add(constant.abs())?;
        let most = i32::try_from(most).ok().filter(|most| *most < i32::MAX / 4)?;
        let terms = weights
            .iter()
            .filter(|(_, weight)| **weight != 0)
            .map(|(var, weight)| {
                let side = if *weight > 0 { var.lower() } else { var.upper() };
                (side, weight.abs())
            });
        let terms = terms.collect();
        let total = self.var(-most, most);
        self.solver.rule(Sum::new(terms, constant, total));
        Some(total)
    }

    fn way(&self, task: usize, mode: usize) -> Option<Way> {
        let mut ways = self.tasks[task].ways.iter();
        ways.find(|way| way.mode == mode).copied()
    }

    fn add_changeovers(&mut self, project: &Project) -> BTreeSet<(usize, usize, usize, usize)> {
        let mut pairs = BTreeSet::new();
        for change in &project.changeovers {
            let (a, b) = (change.a.0, change.b.0);
            let (Some(one), Some(other)) = (self.way(a, change.a_mode), self.way(b, change.b_mode)) else {
                continue;
            };
            let setup = |time: i64| narrow(time.min(2 * TIME_MAX));
            self.exclude((a, one, setup(change.a_to_b)), (b, other, setup(change.b_to_a)));
            pairs.insert((a, change.a_mode, b, change.b_mode));
            pairs.insert((b, change.b_mode, a, change.a_mode));
        }
        pairs
    }

    /// The two do not overlap in these ways; after each its set-up passes before the other starts.
    fn exclude(&mut self, (a, one, leaving): (usize, Way, i32), (b, other, entering): (usize, Way, i32)) {
        let (start_a, start_b) = (self.tasks[a].start, self.tasks[b].start);
        let (forth, back) = (one.duration + leaving, other.duration + entering);
        let first = self.var(0, 1);
        self.switches.push((first, a, b));
        self.solver.arc(start_a, start_b, forth, Some(first.at_least(1)));
        let conditions: Vec<Lit> = one.chosen.into_iter().chain(other.chosen).collect();
        if conditions.is_empty() {
            self.solver.arc(start_b, start_a, back, Some(first.at_most(0)));
            return;
        }
        let second = self.var(0, 1);
        self.switches.push((second, b, a));
        self.solver.arc(start_b, start_a, back, Some(second.at_least(1)));
        let mut clause = vec![first.at_least(1), second.at_least(1)];
        clause.extend(conditions.iter().map(|lit| lit.negated()));
        self.solver.clause(&clause);
        if forth + back > 0 {
            self.solver.clause(&[first.at_most(0), second.at_most(0)]);
        }
    }

    fn add_resource(
        &mut self,
        net: &Net,
        (position, resource): (usize, &Resource),
        (horizon, rules): (i64, Rules),
    ) {
        let amount = |task: usize, way: &Way| held(&net.modes[task][way.mode], position);
        let (mut items, mut core, mut varied) = (Vec::new(), Vec::new(), false);
        for (task, vars) in self.tasks.iter().enumerate() {
            let item = |duration: i32, amount: i32, present: Option<Lit>| Item {
                start: vars.start,
                duration,
                amount,
                present,
            };
            let ways = || vars.ways.iter().map(|way| (way.duration, amount(task, way)));
            let least = ways()
                .reduce(|a, b| (a.0.min(b.0), a.1.min(b.1)))
                .unwrap_or((0, 0));
            if least.0 > 0 && least.1 > 0 {
                core.push(item(least.0, least.1, None));
            }
            if ways().all(|way| way == least) {
                items.extend((least.0 > 0 && least.1 > 0).then(|| item(least.0, least.1, None)));
                continue;
            }
            varied = true;
            let used = vars.ways.iter().filter(|way| amount(task, way) > 0);
            items.extend(used.map(|way| item(way.duration, amount(task, way), way.chosen)));
        }
        let capacity = narrow(resource.capacity);
        let exceeds =
            |items: &[Item]| items.iter().map(|item| i64::from(item.amount)).sum::<i64>() > resource.capacity;
        let away = self.absences(resource, horizon);
        items.extend(&away);
        core.extend(&away);
        if !exceeds(&items) {
            return;
        }
        if capacity == 1 {
            self.solver.rule(Unary::new(items.clone()));
        }
        if rules == Rules::All && exceeds(&core) && (capacity > 1 || varied) {
            self.solver
                .rule(Energy::new(core.clone(), capacity, ENERGY_REST_MAX));
        }
        self.solver.rule(Timetable::new(items, capacity));
        if varied && exceeds(&core) {
            if capacity == 1 {
                self.solver.rule(Unary::new(core.clone()));
            }
            self.solver.rule(Timetable::new(core, capacity));
        }
    }

    /// The ways chosen spend no more of a supply than is there.
    fn add_supply(&mut self, net: &Net, position: usize, amount: i64) {
        let spent = |task: usize, way: &Way| {
            let spends = &net.modes[task][way.mode].spends;
            let own = spends.iter().find(|(supply, _)| *supply == position);
            own.map_or(0, |(_, amount)| *amount)
        };
        let (mut groups, mut left) = (Vec::new(), amount);
        for (task, vars) in self.tasks.iter().enumerate() {
            let least = vars.ways.iter().map(|way| spent(task, way)).min().unwrap_or(0);
            left -= least;
            let group = vars
                .ways
                .iter()
                .filter_map(|way| Some((spent(task, way) - least, way.chosen?)));
            let group: Vec<(i64, Lit)> = group.collect();
            if group.iter().any(|(extra, _)| *extra > 0) {
                groups.push(group);
            }
        }
        if left < 0 {
            self.solver.clause(&[]);
        } else if !groups.is_empty() {
            self.solver.rule(Choice::new(groups, left));
        }
    }

    /// What is away, as work at fixed times, never more than is there.
    fn absences(&mut self, resource: &Resource, horizon: i64) -> Vec<Item> {
        let inside = |time: i64| time.clamp(0, horizon);
        let mut events: Vec<(i64, i64)> = Vec::new();
        for away in &resource.absences {
            events.extend([(inside(away.from), away.amount), (inside(away.to), -away.amount)]);
        }
        events.sort_unstable();
        let (mut items, mut amount, mut since) = (Vec::new(), 0_i64, 0);
        for (time, change) in events {
            let held = amount.min(resource.capacity);
            if held > 0 && since < time {
                items.push(Item {
                    start: self.var(narrow(since), narrow(since)),
                    duration: narrow(time - since),
                    amount: narrow(held),
                    present: None,
                });
            }
            amount += change;
            since = time;
        }
        items
    }

    /// Switches for pairs that no capacity holds at once and no window orders.
    fn add_pairs(
        &mut self,
        project: &Project,
        net: &Net,
        known: &mut BTreeSet<(usize, usize, usize, usize)>,
    ) {
        let after = Followers::of(net);
        let clash = |one: &NetMode, other: &NetMode| {
            one.uses.iter().any(|(resource, amount)| {
                let beside = held(other, *resource);
                beside > 0 && amount + i64::from(beside) > project.resources[*resource].capacity
            })
        };
        let mut pairs = Vec::new();
        for a in 0..net.len() {
            for b in a + 1..net.len() {
                if after.holds(a, b) || after.holds(b, a) {
                    continue;
                }
                for one in &self.tasks[a].ways {
                    for other in &self.tasks[b].ways {
                        if clash(&net.modes[a][one.mode], &net.modes[b][other.mode])
                            && known.insert((a, one.mode, b, other.mode))
                        {
                            pairs.push(((a, *one, 0), (b, *other, 0)));
                        }
                    }
                }
            }
        }
        if pairs.len() <= PAIRS_MAX {
            pairs
                .into_iter()
                .for_each(|(one, other)| self.exclude(one, other));
        }
    }

    /// The task runs in this mode.
    pub(super) fn fix_mode(&mut self, task: usize, mode: usize) {
        let vars = &self.tasks[task];
        let position = vars.ways.iter().position(|way| way.mode == mode);
        if let (Some(which), Some(position)) = (vars.which, position) {
            self.solver.require(which.at_least(count(position)));
            self.solver.require(which.at_most(count(position)));
        }
    }

    /// The second task starts at least so long after the start of the first.
    pub(super) fn put_after(&mut self, first: usize, second: usize, time: i64) {
        let (first, second) = (self.tasks[first].start, self.tasks[second].start);
        self.solver.arc(first, second, narrow(time), None);
    }

    /// The schedule that values of all variables stand for.
    pub(super) fn placements(&self, values: &[i32]) -> Vec<Placement> {
        let place = |vars: &TaskVars| {
            let position = vars.which.map_or(0, |which| values[which.position()]);
            let way = vars.ways[usize::try_from(position).expect("positions are not negative")];
            let start = i64::from(values[vars.start.position()]);
            Placement {
                start,
                end: start + i64::from(way.duration),
                mode: way.mode,
            }
        };
        self.tasks.iter().map(place).collect()
    }

    /// Values of all variables that stand for a schedule; those of fixed ones are left out.
    pub(super) fn values(&self, placements: &[Placement]) -> Vec<i32> {
        let mut values = vec![0; self.count];
        let mut set = |var: Var, value: i32| values[var.position()] = value;
        let position = |task: usize| {
            let mut ways = self.tasks[task].ways.iter();
            ways.position(|way| way.mode == placements[task].mode)
                .unwrap_or(0)
        };
        for (task, vars) in self.tasks.iter().enumerate() {
            let (start, end) = (narrow(placements[task].start), narrow(placements[task].end));
            set(vars.start, start);
            if vars.end.var != vars.start {
                set(vars.end.var, end);
            }
            if let Some(which) = vars.which {
                set(which, count(position(task)));
            }
        }
        for (var, task, time) in &self.lates {
            set(*var, (narrow(placements[*task].end) - time).max(0));
        }
        for (var, task, wanted) in &self.picks {
            set(*var, i32::from(position(*task) == *wanted));
        }
        for (var, first, second) in &self.switches {
            set(
                *var,
                i32::from(placements[*first].end <= placements[*second].start),
            );
        }
        let last = placements.iter().map(|placement| placement.end).max();
        set(self.makespan, narrow(last.unwrap_or(0)));
        values
    }
}

/// How much of a resource a mode holds.
fn held(mode: &NetMode, resource: usize) -> i32 {
    let used = mode.uses.iter().find(|(used, _)| *used == resource);
    used.map_or(0, |(_, amount)| narrow(*amount))
}

fn narrow(value: i64) -> i32 {
    i32::try_from(value).expect("figures were checked to fit")
}

fn count(number: usize) -> i32 {
    i32::try_from(number).expect("counts fit")
}

/// Which tasks can only start when others have ended.
struct Followers {
    words: usize,
    bits: Vec<u64>,
}

impl Followers {
    fn of(net: &Net) -> Self {
        let words = net.len().div_ceil(64);
        let mut followers = Self {
            words,
            bits: vec![0; words * net.len()],
        };
        let waits = |arc: &&Arc| arc.sooner_end && !arc.later_end && arc.base >= 0;
        for (task, arcs) in net.into.iter().enumerate() {
            for arc in arcs.iter().filter(waits) {
                followers.bits[arc.other * words + task / 64] |= 1 << (task % 64);
            }
        }
        for middle in 0..net.len() {
            for first in 0..net.len() {
                if followers.holds(first, middle) {
                    for word in 0..words {
                        followers.bits[first * words + word] |= followers.bits[middle * words + word];
                    }
                }
            }
        }
        followers
    }

    fn holds(&self, first: usize, second: usize) -> bool {
        self.bits[first * self.words + second / 64] >> (second % 64) & 1 == 1
    }
}
