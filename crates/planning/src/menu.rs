//! The menu stage: a meal for every sitting, an option for every cover, a session for every component.
//!
//! A sound heuristic: construction, then threshold accepting over meals and active components, on
//! an exact cost of the whole week in whole numbers. It claims no bound. What cannot be is told
//! as a conflict in the words of the household.

mod basket;
mod boxes;
mod candidates;
mod conflict;
mod cost;
mod problem;
mod search;
mod serving;
mod stores;
mod variety;
mod windows;

use larderwright_model::{
    Answer, Conflict, CoverChoice, Menu, MenuChoice, Pick, Report, Snapshot, Stage, Supply,
};

use crate::driver::Threads;
use crate::restrict::Restrictions;
use problem::Problem;

pub(crate) use conflict::say;
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
}

/// The usual search, as the snapshot's budget says.
const USUAL: search::Effort = search::Effort { times: 1, salt: 0 };
/// The search before giving up.
const HARDER: search::Effort = search::Effort {
    times: 4,
    salt: 0x5EED_5EED,
};

/// Chooses the menu.
///
/// # Errors
/// The wishes that collide.
pub fn choose(
    snapshot: &Snapshot,
    restrict: &Restrictions,
    threads: Threads,
) -> Result<MenuResult, Conflict> {
    let problem = Problem::new(snapshot, restrict);
    if let Some(conflict) = conflict::before_search(&problem) {
        return Err(conflict);
    }
    let mut found = search::search(&problem, threads, USUAL);
    if conflict::after_search(&problem, &found.state).is_some() {
        // Before wishes are said to collide, somebody looks harder and elsewhere.
        let harder = search::search(&problem, threads, HARDER);
        let work = found.work + harder.work;
        found = search::Found { work, ..harder };
    }
    if let Some(conflict) = conflict::after_search(&problem, &found.state) {
        return Err(conflict);
    }
    let menu = menu_of(&problem, &found.state);
    let report = report_of(&problem, &found);
    Ok(MenuResult {
        menu,
        report,
        work: found.work,
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
        found.first_cost.saturating_sub(found.cost)
    )];
    Report {
        stage: Stage::Menu,
        answer: Answer::Found,
        chosen,
        rejected,
    }
}
