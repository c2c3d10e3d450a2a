//! The run as lanes for a wide page and as rows for a narrow one. Positions are whole steps of a grid, because a page
//! under a strict policy carries no styles of its own.

use std::collections::BTreeSet;

use jiff::civil::DateTime;
use larderwright_model::{Act, ActKind, Run};

use crate::book::Book;
use crate::page::live::{Pace, Progress, Stage};

/// The most steps across.
const STEPS_MAX: i64 = 240;

/// A run as it is drawn.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Timeline {
    /// Steps across.
    pub steps: i64,
    /// Where hours and half hours stand.
    pub hours: Vec<Tick>,
    /// Lanes from top to bottom.
    pub lanes: Vec<Lane>,
    /// The step of the present moment, with the time; `None` outside the run.
    pub now: Option<Tick>,
    /// The same run down the page.
    pub rows: Vec<Row>,
    /// Narrow rails beside the rows: oven, burners, cooling.
    pub rails: Vec<Rail>,
}

/// A moment on the grid.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tick {
    /// From the left, counted from one.
    pub at: i64,
    /// `2:30 pm`.
    pub words: String,
}

/// What a lane shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the variants say it")]
pub enum LaneKind {
    Hands,
    Oven,
    Burner,
    Cooling,
}

impl LaneKind {
    /// The word a style sheet knows it by.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Hands => "hands",
            Self::Oven => "oven",
            Self::Burner => "burner",
            Self::Cooling => "cool",
        }
    }
}

/// A lane across.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lane {
    /// What it shows.
    pub kind: LaneKind,
    /// `Dana`, `Burner 2`.
    pub name: String,
    /// What happens on it, from left to right, without overlap.
    pub bars: Vec<Bar>,
}

/// Something that lasts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bar {
    /// First step, counted from one.
    pub at: i64,
    /// How many steps.
    pub width: i64,
    /// What.
    pub words: String,
    /// `1:23 pm to 1:28 pm`.
    pub times: String,
    /// Where it stands in the session.
    pub stage: Stage,
    /// The oven heats up.
    pub heating: bool,
    /// How hot, from 1 to 3, for ovens.
    pub level: u8,
}

/// A line down the page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// When.
    pub at: String,
    /// Whose hands; empty when it looks after itself.
    pub who: String,
    /// What.
    pub title: String,
    /// Where, and until when.
    pub place: String,
    /// Where it stands in the session.
    pub stage: Stage,
}

/// A rail beside the rows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Rail {
    /// What it shows.
    pub kind: LaneKind,
    /// `oven`, `1`, `cool`.
    pub name: String,
    /// First row, counted from one, and how many rows.
    pub bars: Vec<(usize, usize)>,
}

/// Times of an act as it goes, or as planned.
fn pace(progress: &Progress, act: &Act) -> Pace {
    progress.pace(act)
}

/// The run as lanes and rows.
pub(crate) fn timeline(book: Book<'_>, run: &Run, progress: &Progress, now: DateTime) -> Timeline {
    let paces: Vec<(&Act, Pace)> = run
        .acts
        .iter()
        .map(|act| (act, pace(progress, act)))
        .filter(|(_, pace)| pace.stage != Stage::Dropped)
        .collect();
    let (Some(begin), Some(end)) = (
        paces.iter().map(|(_, pace)| pace.start).min(),
        paces.iter().map(|(_, pace)| pace.end).max(),
    ) else {
        return Timeline::default();
    };
    let grid = Grid::new(begin, end);
    let mut rows = paces.clone();
    rows.sort_by_key(|(act, pace)| (pace.start, act.who.is_empty()));
    Timeline {
        steps: grid.steps,
        hours: hours(book, grid, end),
        lanes: lanes(book, run, &paces, grid),
        now: (now >= begin && now < end).then(|| Tick {
            at: grid.step(now),
            words: book.clock(now),
        }),
        rails: rails(book, &rows),
        rows: rows.iter().map(|(act, pace)| row(book, act, *pace)).collect(),
    }
}

#[derive(Clone, Copy)]
struct Grid {
    begin: DateTime,
    minutes: i64,
    steps: i64,
}

fn minutes(from: DateTime, to: DateTime) -> i64 {
    to.duration_since(from).as_secs().div_euclid(60)
}

impl Grid {
    /// One, two, five, ten, fifteen or thirty minutes to a step, whatever fits.
    fn new(begin: DateTime, end: DateTime) -> Self {
        let all = minutes(begin, end).max(1);
        let fits = |step: &&i64| (all + **step - 1) / **step <= STEPS_MAX;
        let minutes = [1, 2, 5, 10, 15, 30].iter().find(fits).copied().unwrap_or(60);
        Self {
            begin,
            minutes,
            steps: ((all + minutes - 1) / minutes).min(STEPS_MAX),
        }
    }

    fn step(self, at: DateTime) -> i64 {
        (minutes(self.begin, at) / self.minutes).clamp(0, self.steps - 1) + 1
    }
}

fn hours(book: Book<'_>, grid: Grid, end: DateTime) -> Vec<Tick> {
    let every = if minutes(grid.begin, end) <= 240 { 30 } else { 60 };
    let first = (60 - i64::from(grid.begin.minute())) % every;
    let mut ticks = Vec::new();
    let mut at = first;
    while let Ok(time) = grid.begin.checked_add(jiff::Span::new().minutes(at)) {
        if time >= end {
            break;
        }
        ticks.push(Tick {
            at: grid.step(time),
            words: book.clock(time),
        });
        at += every;
    }
    ticks
}

fn lanes(book: Book<'_>, run: &Run, paces: &[(&Act, Pace)], grid: Grid) -> Vec<Lane> {
    let mut lanes = Vec::new();
    let cooks: BTreeSet<_> = paces.iter().flat_map(|(act, _)| &act.who).collect();
    for cook in cooks {
        let acts = paces.iter().filter(|(act, _)| act.who.contains(cook));
        lanes.push(Lane {
            kind: LaneKind::Hands,
            name: book.cooks(std::slice::from_ref(cook)),
            bars: bars(book, acts.copied(), grid),
        });
    }
    lanes.extend(oven(book, run, paces, grid));
    for burner in 1..=book.snapshot.household.kitchen.burners {
        let name = format!("burner {burner}");
        let acts = paces.iter().filter(|(act, _)| act.stations.contains(&name));
        let bars = bars(book, acts.copied(), grid);
        if !bars.is_empty() {
            lanes.push(Lane {
                kind: LaneKind::Burner,
                name: crate::book::capital(&name),
                bars,
            });
        }
    }
    lanes.extend(cooling(book, paces, grid));
    lanes
}

/// Bars in the order of time; what is shorter than a step still takes one, and nothing overlaps.
fn bars<'a>(book: Book<'_>, acts: impl Iterator<Item = (&'a Act, Pace)>, grid: Grid) -> Vec<Bar> {
    let mut acts: Vec<(&Act, Pace)> = acts.collect();
    acts.sort_by_key(|(_, pace)| (pace.start, pace.end));
    let mut free = 1;
    let mut bars = Vec::new();
    for (act, pace) in acts {
        let at = grid.step(pace.start).max(free);
        let until = (minutes(grid.begin, pace.end) + grid.minutes - 1) / grid.minutes + 1;
        let width = (until - at).max(1).min(grid.steps + 1 - at);
        if width < 1 {
            continue;
        }
        free = at + width;
        bars.push(bar(book, act, pace, (at, width)));
    }
    bars
}

fn bar(book: Book<'_>, act: &Act, pace: Pace, (at, width): (i64, i64)) -> Bar {
    Bar {
        at,
        width,
        words: act.title.clone(),
        times: format!("{} to {}", book.clock(pace.start), book.clock(pace.end)),
        stage: pace.stage,
        heating: act.kind == ActKind::Preheat,
        level: 1,
    }
}

/// One lane for the oven: heating up, then what is in it at which temperature.
fn oven(book: Book<'_>, run: &Run, paces: &[(&Act, Pace)], grid: Grid) -> Option<Lane> {
    let in_oven = |act: &Act| {
        act.kind == ActKind::Preheat || act.stations.iter().any(|station| station.starts_with("rack"))
    };
    let mut acts: Vec<(&Act, Pace)> = paces
        .iter()
        .filter(|(act, _)| in_oven(act) && act.who.is_empty())
        .copied()
        .collect();
    acts.sort_by_key(|(_, pace)| pace.start);
    if acts.is_empty() {
        return None;
    }
    let hottest = run.oven.iter().map(|setting| setting.temperature).max();
    let mut together: Vec<(DateTime, DateTime, Bar)> = Vec::new();
    for (act, pace) in acts {
        let mut bar = bar(book, act, pace, (1, 1));
        let degrees = act.oven.or_else(|| {
            let now = run
                .oven
                .iter()
                .find(|setting| setting.from <= act.start && act.start < setting.to);
            now.map(|setting| setting.temperature)
        });
        bar.level = match degrees {
            _ if act.kind == ActKind::Preheat => 1,
            degrees if degrees == hottest => 3,
            _ => 2,
        };
        if let (Some(degrees), false) = (degrees, act.kind == ActKind::Preheat) {
            bar.words = format!("{}: {}", book.temperature(degrees), act.title.to_lowercase());
        }
        match together.last_mut() {
            Some((_, end, last)) if pace.start < *end && last.heating == bar.heating => {
                last.words = format!("{}, {}", last.words, act.title.to_lowercase());
                *end = (*end).max(pace.end);
            }
            _ => together.push((pace.start, pace.end, bar)),
        }
    }
    let mut free = 1;
    let mut bars = Vec::new();
    for (start, end, bar) in together {
        let at = grid.step(start).max(free);
        let until = (minutes(grid.begin, end) + grid.minutes - 1) / grid.minutes + 1;
        let width = (until - at).max(1).min(grid.steps + 1 - at);
        if width >= 1 {
            free = at + width;
            bars.push(Bar { at, width, ..bar });
        }
    }
    Some(Lane {
        kind: LaneKind::Oven,
        name: "Oven".into(),
        bars,
    })
}

/// What cools, in as many lanes as cool at once.
fn cooling(book: Book<'_>, paces: &[(&Act, Pace)], grid: Grid) -> Vec<Lane> {
    let mut acts: Vec<(&Act, Pace)> = paces
        .iter()
        .filter(|(act, _)| act.kind == ActKind::Cool)
        .copied()
        .collect();
    acts.sort_by_key(|(_, pace)| pace.start);
    let mut shelves: Vec<Vec<(&Act, Pace)>> = Vec::new();
    for (act, pace) in acts {
        let free =
            |shelf: &&mut Vec<(&Act, Pace)>| shelf.last().is_none_or(|(_, last)| last.end <= pace.start);
        match shelves.iter_mut().find(free) {
            Some(shelf) => shelf.push((act, pace)),
            None => shelves.push(vec![(act, pace)]),
        }
    }
    let lane = |(at, shelf): (usize, Vec<(&Act, Pace)>)| Lane {
        kind: LaneKind::Cooling,
        name: if at == 0 {
            "Cooling".into()
        } else {
            format!("Cooling {}", at + 1)
        },
        bars: bars(book, shelf.into_iter(), grid),
    };
    shelves.into_iter().enumerate().map(lane).collect()
}

fn row(book: Book<'_>, act: &Act, pace: Pace) -> Row {
    let place: Vec<String> = act
        .stations
        .iter()
        .filter(|station| !station.starts_with("pot") && !station.starts_with("tray"))
        .map(|station| station.replace(' ', "\u{a0}"))
        .collect();
    let mut place = place.join(", ");
    if let Some(degrees) = act.oven {
        place = format!("oven {}", book.temperature(degrees));
    }
    if act.who.is_empty() {
        let until = format!("until\u{a0}{}", book.clock(pace.end));
        place = if place.is_empty() {
            until
        } else {
            format!("{place}, {until}")
        };
    }
    Row {
        at: book.clock(pace.start),
        who: if act.who.is_empty() {
            String::new()
        } else {
            book.cooks(&act.who)
        },
        title: act.title.clone(),
        place,
        stage: pace.stage,
    }
}

/// Rails for what is on the heat or cooling, from the row where it starts to the last row before it ends.
fn rails(book: Book<'_>, rows: &[(&Act, Pace)]) -> Vec<Rail> {
    let mut rails = Vec::new();
    let spans = |belongs: &dyn Fn(&Act) -> bool| -> Vec<(usize, usize)> {
        let mut free = 0;
        let mut spans = Vec::new();
        for (at, (_, pace)) in rows.iter().enumerate().filter(|(_, (act, _))| belongs(act)) {
            let end = rows
                .iter()
                .position(|(_, other)| other.start >= pace.end)
                .unwrap_or(rows.len());
            let at = at.max(free);
            if end > at {
                spans.push((at + 1, end - at));
                free = end;
            }
        }
        spans
    };
    let mut rail = |kind, name: String, bars: Vec<(usize, usize)>| {
        if !bars.is_empty() {
            rails.push(Rail { kind, name, bars });
        }
    };
    rail(
        LaneKind::Oven,
        "oven".into(),
        spans(&|act| {
            act.kind == ActKind::Preheat || act.stations.iter().any(|station| station.starts_with("rack"))
        }),
    );
    for burner in 1..=book.snapshot.household.kitchen.burners {
        let name = format!("burner {burner}");
        rail(
            LaneKind::Burner,
            burner.to_string(),
            spans(&|act| act.stations.contains(&name)),
        );
    }
    rail(
        LaneKind::Cooling,
        "cool".into(),
        spans(&|act| act.kind == ActKind::Cool),
    );
    rails
}

#[cfg(test)]
mod tests {
    use larderwright_testkit::sample;

    use super::*;

    fn check(now: DateTime) -> Timeline {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let book = Book::new(&snapshot, &plan);
        let run = &plan.runs[0];
        timeline(book, run, &Progress::planned(run), now)
    }

    fn start() -> DateTime {
        let plan = sample::plan();
        plan.runs[0]
            .acts
            .iter()
            .map(|act| act.start)
            .min()
            .expect("the run has acts")
    }

    #[test]
    fn bars_on_a_lane_never_overlap_and_stay_on_the_grid() {
        let line = check(start());
        for lane in &line.lanes {
            let mut free = 1;
            for bar in &lane.bars {
                assert!(bar.at >= free && bar.width >= 1, "{}: {}", lane.name, bar.words);
                free = bar.at + bar.width;
                assert!(free <= line.steps + 1, "{}: {}", lane.name, bar.words);
            }
        }
    }

    #[test]
    fn every_act_of_hands_is_a_bar_and_a_row() {
        let plan = sample::plan();
        let line = check(start());
        let hands: usize = line
            .lanes
            .iter()
            .filter(|lane| lane.kind == LaneKind::Hands)
            .map(|lane| lane.bars.len())
            .sum();
        let busy: usize = plan.runs[0].acts.iter().map(|act| act.who.len()).sum();
        assert_eq!(hands, busy);
        assert_eq!(line.rows.len(), plan.runs[0].acts.len());
    }

    #[test]
    fn rails_stay_beside_the_rows() {
        let line = check(start());
        for rail in &line.rails {
            for (at, rows) in &rail.bars {
                assert!(
                    *at >= 1 && *rows >= 1 && at + rows <= line.rows.len() + 1,
                    "{}",
                    rail.name
                );
            }
        }
    }

    #[test]
    fn the_present_is_drawn_only_while_the_run_lasts() {
        assert_eq!(check(start()).now.map(|tick| tick.at), Some(1));
        let before = start()
            .checked_sub(jiff::Span::new().minutes(1))
            .expect("the calendar has room");
        assert_eq!(check(before).now, None);
    }

    #[test]
    fn a_long_run_takes_larger_steps() {
        let begin = jiff::civil::date(2026, 11, 29).at(8, 0, 0, 0);
        let end = jiff::civil::date(2026, 11, 29).at(20, 0, 0, 0);
        let grid = Grid::new(begin, end);
        assert_eq!((grid.minutes, grid.steps), (5, 144));
        assert_eq!(grid.step(end), 144);
    }
}
