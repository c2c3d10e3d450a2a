//! The menu stage: a meal for every sitting, an option for every cover, a session for every component.
//!
//! A sound heuristic: construction, then threshold accepting over meals and active components, on
//! an exact cost of the whole week in whole numbers. How far from the best a week is at most is proven by a
//! bound below the programme (`programme`). What cannot be is told as a conflict in the words of the household.

mod account;
mod basket;
mod boxes;
mod candidates;
mod conflict;
mod cost;
mod deciding;
mod problem;
mod programme;
mod search;
mod serving;
mod stores;
mod variety;
mod why;
mod windows;

use std::collections::BTreeSet;

use larderwright_model::{
    Answer, Conflict, CoverChoice, MealId, Menu, MenuChoice, Pick, Report, SessionId, Snapshot, Stage, Supply,
};

use larderwright_quantity::{Rounding, mul_div};
use larderwright_solve::linear::{Programme, bound, mps, solution};

use crate::driver::Threads;
use crate::restrict::{Cut, Restrictions};
use problem::Problem;

pub use account::Account;
pub(crate) use conflict::say;
pub use why::{Why, why};
pub use windows::pull_time;

/// What the menu stage hands on.
#[derive(Clone, Debug)]
pub struct MenuResult {
    /// The menu.
    pub menu: Menu,
    /// Why.
    pub report: Report,
    /// Moves tried.
    pub work: u64,
    /// The week as the search holds it.
    pub held: Held,
}

/// A week as the search holds it, with the meals by name: under other restrictions they have other numbers.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Held {
    state: search::State,
    meals: Vec<MealId>,
}

impl Held {
    fn of(problem: &Problem<'_>, state: search::State) -> Self {
        let meal = |slot: &problem::Slot<'_>| slot.candidates[state.meals[slot.index]].meal.id.clone();
        Self {
            meals: problem.slots.iter().map(meal).collect(),
            state,
        }
    }

    /// The same week in a problem of the same snapshot; where a meal is no longer offered, the first that is.
    fn within(&self, problem: &Problem<'_>) -> search::State {
        let mut state = self.state.clone();
        for (slot, id) in problem.slots.iter().zip(&self.meals) {
            let own = slot
                .candidates
                .iter()
                .position(|candidate| candidate.meal.id == *id);
            state.meals[slot.index] = own.unwrap_or(0);
        }
        state
    }
}

/// The menu's choice as an integer programme, with the point that was chosen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stated {
    /// The programme, in 10^-9 points.
    pub programme: Programme,
    /// The chosen point.
    pub point: Vec<i64>,
    /// What the chosen week costs by the menu's own count, which the point never exceeds, in 10^-9 points.
    pub cost: i128,
    /// What columns stand for, a line each.
    pub legend: Vec<String>,
}

impl Stated {
    /// The programme in free MPS, its legend in comments.
    #[must_use]
    pub fn mps(&self) -> String {
        let legend: String = self.legend.iter().map(|line| format!("* {line}\n")).collect();
        legend + &mps("menu", &self.programme, programme::DECIMALS)
    }

    /// The point: a name and a value on each line, columns at zero left out.
    #[must_use]
    pub fn solution(&self) -> String {
        solution(&self.programme, &self.point)
    }
}

/// Cuts off what a week asks of a session, were its hands to shrink to so many thousandths.
#[must_use]
pub fn cut(
    snapshot: &Snapshot,
    restrict: &Restrictions,
    (held, session): (&Held, &SessionId),
    shrunk_permille: i64,
) -> Cut {
    let problem = Problem::new(snapshot, restrict);
    let own = snapshot.sessions.iter().position(|other| other.id == *session);
    let (mut components, mut hands_ms) = (BTreeSet::new(), 0);
    cost::told(&problem, &held.within(&problem), &mut |part| {
        if let cost::Part::Batch(comp, session, x) = part
            && Some(session) == own
        {
            components.insert(problem.comps[comp].component.id.clone());
            hands_ms += problem.comps[comp].hands.ms_at(x);
        }
    });
    Cut {
        session: session.clone(),
        components,
        hands_ms: hands_ms * shrunk_permille / 1000,
    }
}

/// Moves of the search for each pass over the programme that the proof may take.
const MOVES_PER_PASS: u64 = 16;

/// How far from the best a week is at most, proven by a bound below the programme; none where the bound found within the
/// snapshot's budget says little.
#[must_use]
pub fn proof(snapshot: &Snapshot, restrict: &Restrictions, held: &Held) -> Option<Proof> {
    let problem = Problem::new(snapshot, restrict);
    let cost = cost::cost(&problem, &held.within(&problem)).soft;
    let week = programme::Week::new(&problem);
    let unit = 10_i64.pow(programme::DECIMALS);
    // Parts of a point, rounded to less.
    let bound = bound(&week.programme, snapshot.menu_work / MOVES_PER_PASS).value;
    let bound = mul_div(bound, cost::FINE, unit, Rounding::Down);
    let over = mul_div((cost - bound).max(0), 1000, cost.max(1), Rounding::Up);
    (over < 1000).then_some(Proof {
        points: cost / cost::FINE,
        least: bound / cost::FINE,
        answer: if cost <= bound {
            Answer::Proven
        } else {
            Answer::Within(over)
        },
    })
}

/// How far from the best a week is at most.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Proof {
    /// What it costs, in points.
    pub points: i64,
    /// No menu of the week costs less.
    pub least: i64,
    /// The same as an answer.
    pub answer: Answer,
}

impl Proof {
    /// A sentence for the report.
    #[must_use]
    pub fn sentence(&self) -> String {
        format!(
            "this menu weighs {} points; no other one for this week can weigh less than {}",
            self.points, self.least
        )
    }
}

/// The menu of a week as a programme and a point of it.
#[must_use]
pub fn stated(snapshot: &Snapshot, restrict: &Restrictions, held: &Held) -> Stated {
    let problem = Problem::new(snapshot, restrict);
    let state = held.within(&problem);
    let week = programme::Week::new(&problem);
    let point = week.point(&state);
    let cost = i128::from(cost::cost(&problem, &state).parts());
    Stated {
        point,
        cost: cost * 10_i128.pow(programme::DECIMALS) / i128::from(cost::FINE),
        legend: week.legend(),
        programme: week.programme,
    }
}

/// The usual search, as the snapshot's budget says.
const USUAL: search::Effort = search::Effort {
    times: 1,
    salt: 0,
    until_fits: false,
};
/// The search after a later stage could not carry out a week: one worker goes on from it.
const AGAIN: search::Effort = search::Effort {
    times: 1,
    salt: 0xA6A1,
    until_fits: false,
};
/// The search before giving up.
const HARDER: search::Effort = search::Effort {
    times: 4,
    salt: 0x5EED_5EED,
    until_fits: false,
};

/// Chooses the menu; `earlier` is what was chosen before a later stage sent it back.
///
/// # Errors
/// The wishes that collide.
pub fn choose(
    snapshot: &Snapshot,
    restrict: &Restrictions,
    earlier: Option<&Held>,
    threads: Threads,
) -> Result<MenuResult, Conflict> {
    let problem = Problem::new(snapshot, restrict);
    if let Some(conflict) = conflict::before_search(&problem) {
        return Err(conflict);
    }
    let mut found = match earlier {
        Some(held) => search::search(&problem, threads, AGAIN, Some(&held.within(&problem))),
        None => search::search(&problem, threads, USUAL, None),
    };
    // Before wishes are said to collide, somebody looks anew, then harder and elsewhere.
    let others = if earlier.is_some() {
        &[USUAL, HARDER][..]
    } else {
        &[HARDER][..]
    };
    for effort in others {
        if conflict::after_search(&problem, &found.state).is_some() {
            let other = search::search(&problem, threads, *effort, None);
            let work = found.work + other.work;
            found = search::Found { work, ..other };
        }
    }
    if let Some(conflict) = conflict::after_search(&problem, &found.state) {
        return Err(deciding::named(snapshot, restrict, conflict, threads));
    }
    let menu = menu_of(&problem, &found.state);
    let report = report_of(&problem, &found);
    Ok(MenuResult {
        menu,
        report,
        work: found.work,
        held: Held::of(&problem, found.state),
    })
}

fn menu_of(problem: &Problem<'_>, state: &search::State) -> Menu {
    let week = serving::serve(problem, state);
    let choices = problem.slots.iter().zip(&week.plates).map(|(slot, plates)| {
        let candidate = &slot.candidates[state.meals[slot.index]];
        let covers = slot
            .covers
            .iter()
            .enumerate()
            .map(|(cover_ix, cover)| CoverChoice {
                cover: cover.clone(),
                picks: plates[cover_ix]
                    .iter()
                    .map(|served| pick_of(problem, candidate, served))
                    .collect(),
            });
        MenuChoice {
            sitting: problem.snapshot.sittings[slot.index].id.clone(),
            meal: candidate.meal.id.clone(),
            covers: covers.collect(),
        }
    });
    Menu {
        choices: choices.collect(),
    }
}

fn pick_of(problem: &Problem<'_>, candidate: &problem::Candidate<'_>, served: &serving::Served) -> Pick {
    let element = &candidate.meal.elements[served.element];
    let option = &element.options[candidate.elements[served.element].options[served.option].index];
    let supply = match served.source {
        serving::Source::Shop | serving::Source::Shelf(_) => Supply::Bought,
        serving::Source::Store(store) => Supply::Stored {
            lot: problem.snapshot.lots[problem.stores.lots[store].0].id.clone(),
        },
        serving::Source::Session(session, fate) => Supply::Made {
            session: problem.snapshot.sessions[session].id.clone(),
            fate,
        },
    };
    Pick {
        element: element.id.clone(),
        item: option.item.clone(),
        portion: option.portion,
        scales: element.scales,
        finish: option.finish,
        supply,
    }
}

fn report_of(problem: &Problem<'_>, found: &search::Found) -> Report {
    let mut chosen = Vec::new();
    for (session_ix, session) in problem.snapshot.sessions.iter().enumerate() {
        let names: Vec<&str> = problem
            .comps
            .iter()
            .enumerate()
            .filter(|(ix, _)| found.state.is_active(*ix, session_ix))
            .map(|(_, comp)| comp.component.name.as_str())
            .collect();
        if !names.is_empty() {
            chosen.push(format!(
                "{}: {} components, {}",
                say(session.from),
                names.len(),
                names.join(", ")
            ));
        }
    }
    let broken = variety::broken(problem, &found.state);
    let name = |id: &larderwright_model::MealId| problem.snapshot.meals[id].name.clone();
    chosen.extend(broken.twice.iter().map(|id| {
        format!(
            "{} twice: no other dinner fits what is wished and what can be cooked",
            name(id)
        )
    }));
    chosen.extend(broken.lately.iter().map(|id| {
        format!(
            "{} again so soon: no other dinner fits what is wished and what can be cooked",
            name(id)
        )
    }));
    let rejected = vec![format!(
        "{} other menus were weighed; the one kept costs {} points less than the first that worked",
        found.work,
        found.first_cost.saturating_sub(found.cost) / cost::FINE
    )];
    Report {
        stage: Stage::Menu,
        answer: Answer::Found,
        chosen,
        rejected,
    }
}
