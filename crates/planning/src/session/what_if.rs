//! What would make a session shorter: one more of what the kitchen has, another pair of hands, or another way of making
//! one component. Each is scheduled like the session itself, from the same batches.

use jiff::Span;
use jiff::civil::DateTime;
use larderwright_model::{Batch, Cook, CookId, SessionId, Skill, Snapshot, Way, WeekPlan};
use larderwright_quantity::{Mass, Rounding};
use larderwright_solve::project::Objective;

use super::order;
use crate::driver::Threads;
use crate::{batches, facts};

/// One thing that would be different.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WhatIf {
    /// `one more burner`, `chickpeas from cans`.
    pub what: String,
    /// When the session would be over.
    pub finish: DateTime,
    /// By how many minutes sooner; negative when later, as a schedule that is only found may be.
    pub sooner_min: i64,
    /// Whether no better schedule exists in this case.
    pub proven: bool,
}

/// Schedules a session of a plan under each change, the one that saves most first. Changes that save nothing are there
/// too: that a fifth burner would not help is worth knowing.
///
/// # Panics
/// Panics when the plan was made from another snapshot.
#[must_use]
pub fn what_if(snapshot: &Snapshot, plan: &WeekPlan, session: &SessionId, threads: Threads) -> Vec<WhatIf> {
    let (Some(place), Some(run)) = (
        snapshot.sessions.iter().position(|known| known.id == *session),
        plan.runs.iter().find(|run| run.session == *session),
    ) else {
        return Vec::new();
    };
    let mut found: Vec<WhatIf> = cases(snapshot, plan, place)
        .into_iter()
        .filter_map(|case| {
            let session = &case.snapshot.sessions[place];
            let ordered = order(&case.snapshot, session, (&case.batches, &plan.lots), threads).ok()?;
            let minutes = Objective::of(&ordered.network.project, &ordered.schedule).makespan;
            let finish = session.from.saturating_add(Span::new().minutes(minutes));
            Some(WhatIf {
                what: case.what,
                finish,
                sooner_min: run.finish.duration_since(finish).as_mins(),
                proven: ordered.proven,
            })
        })
        .collect();
    found.sort_by(|one, other| (-one.sooner_min, &one.what).cmp(&(-other.sooner_min, &other.what)));
    found
}

/// A kitchen that is different in one thing.
struct Case {
    what: String,
    snapshot: Snapshot,
    batches: Vec<Batch>,
}

fn cases(snapshot: &Snapshot, plan: &WeekPlan, place: usize) -> Vec<Case> {
    let session = &snapshot.sessions[place];
    let own = |batch: &&Batch| batch.session == session.id;
    let own: Vec<Batch> = plan.batches.iter().filter(own).cloned().collect();
    let mut cases = Vec::new();
    let mut kitchen = |what: &str, change: &dyn Fn(&mut Snapshot)| {
        let mut changed = snapshot.clone();
        change(&mut changed);
        cases.push(Case {
            what: what.to_owned(),
            snapshot: changed,
            batches: own.clone(),
        });
    };
    kitchen("one more burner", &|changed| {
        changed.household.kitchen.burners += 1;
    });
    if snapshot.household.kitchen.oven.is_some() {
        kitchen("one more oven rack and tray", &|changed| {
            let kitchen = &mut changed.household.kitchen;
            if let Some(oven) = &mut kitchen.oven {
                oven.racks += 1;
            }
            if let Some(tray) = kitchen.trays.last_mut() {
                tray.count += 1;
            }
        });
    }
    kitchen("one more large pot", &|changed| {
        if let Some(pot) = changed.household.kitchen.pots.last_mut() {
            pot.count += 1;
        }
    });
    kitchen("one more pair of hands", &|changed| add_hands(changed, place));
    for batch in &own {
        cases.extend(other_ways(snapshot, &own, batch));
    }
    cases
}

/// Somebody who may do everything.
fn add_hands(snapshot: &mut Snapshot, place: usize) {
    let id = CookId::new("one-more-pair-of-hands");
    let skills = [Skill::Any, Skill::Knife, Skill::Stove];
    snapshot.household.cooks.push(Cook {
        id: id.clone(),
        name: "one more pair of hands".into(),
        may: skills.into_iter().collect(),
    });
    snapshot.sessions[place].cooks.push(id);
}

/// The session with one batch made in each of the other ways this kitchen can do.
fn other_ways(snapshot: &Snapshot, own: &[Batch], batch: &Batch) -> Vec<Case> {
    let component = &snapshot.components[&batch.component];
    let kitchen = &snapshot.household.kitchen;
    let can = |way: &&Way| way.id != batch.way && facts::can_make(way, kitchen);
    let ways = component.ways.iter().filter(can);
    ways.filter_map(|way| {
        let (min, step) = batches::min_and_step(snapshot, way);
        let x = size(batch, way, (min, step));
        let fits = way.steps.iter().all(|step| step.load_plan(x, kitchen).is_some());
        let changed = own.iter().map(|known| {
            let mut known = known.clone();
            if known.id == batch.id {
                known.way = way.id.clone();
                known.x = x;
            }
            known
        });
        fits.then(|| Case {
            what: format!("{} {}", component.name.to_lowercase(), way.name.to_lowercase()),
            snapshot: snapshot.clone(),
            batches: changed.collect(),
        })
    })
    .collect()
}

/// As much of a driver as makes the same yield in another way.
fn size(batch: &Batch, way: &Way, (min, step): (Mass, Mass)) -> Mass {
    let x = way.yields.likely.undo(batch.yields[1], Rounding::Up);
    x.round_to(step, Rounding::Up).max(min)
}

#[cfg(test)]
mod tests {
    use larderwright_testkit::sample;

    use super::*;

    #[test]
    fn more_of_anything_never_makes_a_proven_session_longer() {
        let snapshot = sample::snapshot();
        let plan = crate::plan_week(&snapshot, Threads::One).expect("the sample can be planned");
        let mut asked = 0;
        for run in &plan.runs {
            for answer in what_if(&snapshot, &plan, &run.session, Threads::One) {
                asked += 1;
                let more = answer.what.starts_with("one more");
                assert!(!(more && answer.proven) || answer.sooner_min >= 0, "{answer:?}");
            }
        }
        assert!(asked >= 4, "{asked}");
    }

    #[test]
    fn a_session_that_is_not_planned_has_no_answer() {
        let snapshot = sample::snapshot();
        let plan = sample::plan();
        assert!(what_if(&snapshot, &plan, &"never".into(), Threads::One).is_empty());
    }
}
