//! What becomes of a schedule when lengths are not known: lengths are drawn, the order stays.
//!
//! Who goes before whom on each resource is kept as the schedule has it; a task starts at its planned time, or as soon
//! after it as everything before it is over. Lengths are drawn from independent triangles. Time is kept in
//! sixty-fourths of a unit; all arithmetic is in whole numbers, so that the same seed gives the same answer everywhere.

use super::schedule::{Placement, Schedule};
use super::types::{Project, ResourceIx};
use crate::random::Random;

/// How long a task takes: the least, the likely and the greatest length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Lengths {
    /// The least.
    pub low: i64,
    /// What the schedule counts on.
    pub likely: i64,
    /// The greatest.
    pub high: i64,
}

/// What many draws say.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Outlook {
    /// In how many of a thousand draws everything ends by the deadline.
    pub in_time: i64,
    /// The end that nine draws in ten keep, rounded up.
    pub nine_in_ten: i64,
    /// By task, by how much its running over moved the end, on average over all draws, in thousandths of a unit.
    pub delay: Vec<i64>,
}

/// Parts of a unit of time.
const FINE: i64 = 64;

/// Somebody before a task.
#[derive(Clone, Copy, Debug)]
struct Before {
    task: usize,
    /// From its end, or from its start.
    from_end: bool,
    /// Least difference, in parts.
    min: i64,
}

/// Draws the lengths of a schedule's tasks `draws` times. `lengths` has one entry per task.
///
/// # Panics
/// If there is not one placement and one entry per task, or a length is out of order.
#[must_use]
pub fn simulate(
    project: &Project,
    schedule: &Schedule,
    lengths: &[Lengths],
    (deadline, draws, seed): (i64, u32, u64),
) -> Outlook {
    assert_eq!(lengths.len(), project.tasks.len());
    assert!(
        lengths
            .iter()
            .all(|length| 0 <= length.low && length.low <= length.likely && length.likely <= length.high),
        "lengths stand in order"
    );
    let course = Course::of(project, schedule);
    let triangles: Vec<Triangle> = lengths.iter().map(|length| Triangle::of(*length)).collect();
    let mut random = Random::new(seed);
    let mut ends = Vec::new();
    let mut delay = vec![0_i64; lengths.len()];
    let mut run = Run::new(lengths.len());
    for _ in 0..draws {
        let end = course.run(&triangles, &mut random, &mut run);
        ends.push(end);
        for task in run.critical() {
            let over = run.length[task] - lengths[task].likely * FINE;
            delay[task] += over.max(0);
        }
    }
    ends.sort_unstable();
    let draws = i64::from(draws.max(1));
    let kept = ends.iter().filter(|end| **end <= deadline * FINE).count();
    let nine = ends.len().saturating_mul(9) / 10;
    Outlook {
        in_time: i64::try_from(kept).unwrap_or(draws) * 1000 / draws,
        nine_in_ten: ends
            .get(nine.min(ends.len().saturating_sub(1)))
            .map_or(0, |end| (end + FINE - 1).div_euclid(FINE)),
        delay: delay.into_iter().map(|sum| sum * 1000 / FINE / draws).collect(),
    }
}

/// A triangular distribution in parts of a unit.
struct Triangle {
    low: i64,
    high: i64,
    /// Below this part of 2^20 the rising side is drawn from.
    turn: i64,
    rising: i64,
    falling: i64,
}

const ONE: i64 = 1 << 20;

impl Triangle {
    fn of(length: Lengths) -> Self {
        let [low, likely, high] = [length.low, length.likely, length.high].map(|length| length * FINE);
        let width = high - low;
        Self {
            low,
            high,
            turn: if width == 0 {
                0
            } else {
                (likely - low) * ONE / width
            },
            rising: width * (likely - low),
            falling: width * (high - likely),
        }
    }

    /// The inverse of the distribution function at a random place.
    fn draw(&self, random: &mut Random) -> i64 {
        let at = i64::try_from(random.next_u64() >> 44).expect("twenty bits fit");
        let root = |part: i64, side: i64| {
            let square = i128::from(part) * i128::from(side) / i128::from(ONE);
            i64::try_from(square.isqrt()).expect("a root is small")
        };
        if at < self.turn {
            self.low + root(at, self.rising)
        } else {
            self.high - root(ONE - at, self.falling)
        }
    }
}

/// The order that the schedule stands for.
struct Course {
    /// Tasks by planned start.
    order: Vec<usize>,
    planned: Vec<i64>,
    before: Vec<Vec<Before>>,
}

/// One draw.
struct Run {
    start: Vec<i64>,
    length: Vec<i64>,
    /// Whose end or start decided the start, if not the plan.
    decided: Vec<Option<usize>>,
    last: usize,
}

impl Run {
    fn new(tasks: usize) -> Self {
        Self {
            start: vec![0; tasks],
            length: vec![0; tasks],
            decided: vec![None; tasks],
            last: 0,
        }
    }

    /// The tasks that decided the end, the last one first.
    fn critical(&self) -> impl Iterator<Item = usize> {
        let first = (!self.start.is_empty()).then_some(self.last);
        std::iter::successors(first, |task| self.decided[*task])
    }
}

impl Course {
    fn of(project: &Project, schedule: &Schedule) -> Self {
        let placements = &schedule.placements;
        assert_eq!(placements.len(), project.tasks.len());
        let mut order: Vec<usize> = (0..placements.len()).collect();
        order.sort_by_key(|task| (placements[*task].start, placements[*task].end, *task));
        let mut course = Self {
            planned: placements
                .iter()
                .map(|placement| placement.start * FINE)
                .collect(),
            before: vec![Vec::new(); placements.len()],
            order,
        };
        course.add_waits(project, placements);
        for resource in 0..project.resources.len() {
            course.add_queue(project, placements, ResourceIx(resource));
        }
        course
    }

    fn add(&mut self, task: usize, before: usize, from_end: bool, min: i64) {
        self.before[task].push(Before {
            task: before,
            from_end,
            min: min * FINE,
        });
    }

    fn add_waits(&mut self, project: &Project, placements: &[Placement]) {
        for lag in &project.lags {
            let (from, to) = (lag.from.0, lag.to.0);
            if lag.min >= 0 {
                self.add(to, from, true, lag.min);
            } else {
                // An overlap is counted from the start: its beginning does not move when the end does.
                let length = placements[from].end - placements[from].start;
                if length + lag.min >= 0 {
                    self.add(to, from, false, length + lag.min);
                }
            }
        }
        for offset in &project.offsets {
            self.add(offset.task.0, offset.of.0, false, offset.min);
        }
        for change in &project.changeovers {
            let (a, b) = (change.a.0, change.b.0);
            let concerned = placements[a].mode == change.a_mode && placements[b].mode == change.b_mode;
            if !concerned {
                continue;
            }
            if placements[a].end + change.a_to_b <= placements[b].start {
                self.add(b, a, true, change.a_to_b);
            } else {
                self.add(a, b, true, change.b_to_a);
            }
        }
    }

    /// Units of a resource are handed out as the schedule has it; whoever takes a unit waits for the one before.
    fn add_queue(&mut self, project: &Project, placements: &[Placement], resource: ResourceIx) {
        let units = usize::try_from(project.resources[resource.0].capacity).unwrap_or(0);
        let mut free: Vec<(i64, Option<usize>)> = vec![(0, None); units];
        for at in 0..self.order.len() {
            let task = self.order[at];
            let placement = placements[task];
            let uses = &project.tasks[task].modes[placement.mode].uses;
            let amount: i64 = uses
                .iter()
                .filter(|(used, _)| *used == resource)
                .map(|(_, amount)| amount)
                .sum();
            let mut left = usize::try_from(amount).unwrap_or(0);
            // The unit that became free last is taken first: the others stay free for those who need several.
            free.sort_unstable_by_key(|(until, _)| std::cmp::Reverse(*until));
            for unit in &mut free {
                if left == 0 || placement.end == placement.start {
                    break;
                }
                if unit.0 > placement.start {
                    continue;
                }
                if let Some(holder) = unit.1 {
                    self.add(task, holder, true, 0);
                }
                *unit = (placement.end, Some(task));
                left -= 1;
            }
        }
    }

    /// One draw; returns when everything has ended.
    fn run(&self, triangles: &[Triangle], random: &mut Random, run: &mut Run) -> i64 {
        let mut last = (0, 0);
        for &task in &self.order {
            let mut start = self.planned[task];
            let mut decided = None;
            for before in &self.before[task] {
                let reach = if before.from_end {
                    run.start[before.task] + run.length[before.task]
                } else {
                    run.start[before.task]
                };
                if reach + before.min > start {
                    start = reach + before.min;
                    decided = Some(before.task);
                }
            }
            run.start[task] = start;
            run.length[task] = triangles[task].draw(random);
            run.decided[task] = decided;
            last = last.max((start + run.length[task], task));
        }
        run.last = last.1;
        last.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::project::{Budget, Lag, Mode, ProjectBuilder, Threads, solve};

    fn exact(length: i64) -> Lengths {
        Lengths {
            low: length,
            likely: length,
            high: length,
        }
    }

    /// Two tasks on one pair of hands, a third beside them.
    fn small() -> (Project, Schedule) {
        let mut builder = ProjectBuilder::new(100).expect("a short horizon");
        let hands = builder.resource(1).expect("hands");
        let a = builder
            .task(vec![Mode::lasting(10).using(hands, 1)])
            .expect("a task");
        let b = builder
            .task(vec![Mode::lasting(20).using(hands, 1)])
            .expect("a task");
        builder.task(vec![Mode::lasting(5)]).expect("a task");
        let lag = Lag {
            from: a,
            to: b,
            min: 0,
            max: None,
        };
        builder.lag(lag).expect("a lag");
        let project = builder.build().expect("a project");
        let budget = Budget {
            work: 1000,
            seed: 1,
            threads: Threads::One,
        };
        let schedule = solve(&project, &budget)
            .schedule()
            .cloned()
            .expect("it can be scheduled");
        (project, schedule)
    }

    #[test]
    fn without_spread_the_plan_is_what_happens() {
        let (project, schedule) = small();
        let lengths = [exact(10), exact(20), exact(5)];
        let outlook = simulate(&project, &schedule, &lengths, (30, 100, 1));
        assert_eq!((outlook.in_time, outlook.nine_in_ten), (1000, 30));
        assert_eq!(outlook.delay, [0, 0, 0]);
        let outlook = simulate(&project, &schedule, &lengths, (29, 100, 1));
        assert_eq!(outlook.in_time, 0);
    }

    #[test]
    fn whoever_runs_over_on_the_chain_is_blamed_and_nobody_else() {
        let (project, schedule) = small();
        let wide = Lengths {
            low: 8,
            likely: 10,
            high: 30,
        };
        let aside = Lengths {
            low: 1,
            likely: 5,
            high: 25,
        };
        let outlook = simulate(&project, &schedule, &[wide, exact(20), aside], (40, 10_000, 7));
        assert!(outlook.delay[0] > 3000, "{outlook:?}");
        assert_eq!((outlook.delay[1], outlook.delay[2]), (0, 0), "{outlook:?}");
    }

    /// The mean of a triangle is a third of the sum of its corners; the chance to stay below its middle is known too.
    #[test]
    fn draws_follow_the_triangle() {
        let triangle = Triangle::of(Lengths {
            low: 10,
            likely: 20,
            high: 60,
        });
        let mut random = Random::new(3);
        let draws: Vec<i64> = (0..40_000).map(|_| triangle.draw(&mut random)).collect();
        let mean = draws.iter().sum::<i64>() / 40_000;
        assert!((mean - 30 * FINE).abs() < FINE / 2, "{mean}");
        let below = draws.iter().filter(|draw| **draw < 20 * FINE).count();
        // (20 - 10) / (60 - 10) = 0.2 of all.
        assert!((7_600..8_400).contains(&below), "{below}");
        assert!(draws.iter().all(|draw| (10 * FINE..=60 * FINE).contains(draw)));
    }

    #[test]
    fn the_same_seed_gives_the_same_answer() {
        let (project, schedule) = small();
        let wide = Lengths {
            low: 5,
            likely: 10,
            high: 30,
        };
        let lengths = [wide, wide, wide];
        let once = simulate(&project, &schedule, &lengths, (40, 500, 9));
        assert_eq!(once, simulate(&project, &schedule, &lengths, (40, 500, 9)));
    }
}
