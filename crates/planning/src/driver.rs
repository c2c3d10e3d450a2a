//! The driver: the order of the stages, the retries, and the limit on retries.

use std::collections::BTreeSet;

use larderwright_model::{
    Batch, Carried, Conflict, CoolingMethod, Demand, Lot, Menu, Order, Purpose, Report, Run, SessionId,
    Sitting, Snapshot, Stage, Standing, WeekPlan, Work,
};
use larderwright_quantity::{Rounding, mul_div};

use crate::keeping::KeepingResult;
use crate::menu::{Held, Stated, say};
use crate::order::OrderProblem;
use crate::packing::PackingResult;
use crate::plates::{PlatesProblem, PlatesResult};
use crate::restrict::Restrictions;
use crate::{batches, carried, demand, keeping, menu, order, packing, plates, session};

/// How often a later stage may send the menu back.
const ROUNDS_MAX: u64 = 8;

/// On how many threads the searches run; it changes speed, never bytes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Threads {
    /// One after the other.
    One,
    /// Side by side.
    Two,
}

/// Why a round did not end in a plan.
enum Setback {
    /// The menu can try again under these restrictions; the conflict says why, should it be the last round.
    Again(Box<(Restrictions, Conflict)>),
    /// Nothing the menu does would help.
    Final(Box<Conflict>),
}

impl From<Conflict> for Setback {
    fn from(conflict: Conflict) -> Self {
        Self::Final(Box::new(conflict))
    }
}

/// Plans the week of a snapshot.
///
/// # Errors
/// The wishes that collide, and what would mend it.
pub fn plan_week(snapshot: &Snapshot, threads: Threads) -> Result<WeekPlan, Conflict> {
    let mut settled = settle(snapshot, threads)?;
    prove(snapshot, &mut settled);
    Ok(settled.plan)
}

/// Plans the week of a snapshot anew and states the menu of its last round as an integer programme.
///
/// # Errors
/// The wishes that collide, and what would mend it.
pub fn state_week(snapshot: &Snapshot, threads: Threads) -> Result<Stated, Conflict> {
    let settled = settle(snapshot, threads)?;
    Ok(menu::stated(snapshot, &settled.restrict, &settled.held))
}

/// A week that every stage has agreed to.
struct Settled {
    plan: WeekPlan,
    /// What the menu had to respect in the end.
    restrict: Restrictions,
    held: Held,
}

fn settle(snapshot: &Snapshot, threads: Threads) -> Result<Settled, Conflict> {
    let mut restrict = Restrictions::default();
    let mut work = Work::default();
    let mut last: Option<Conflict> = None;
    let mut held: Option<Held> = None;
    for _ in 0..ROUNDS_MAX {
        work.rounds += 1;
        match round((snapshot, threads), &restrict, &mut held, &mut work) {
            Ok(plan) => {
                let held = held.expect("a round that ends with a plan has chosen a menu");
                return Ok(Settled { plan, restrict, held });
            }
            Err(Setback::Final(conflict)) => return Err(told(last, *conflict)),
            Err(Setback::Again(again)) => {
                restrict = again.0;
                last = Some(again.1);
            }
        }
    }
    Err(last.expect("a round that ends without a plan leaves a conflict"))
}

/// Has the menu's report say how far from the best it is at most.
fn prove(snapshot: &Snapshot, settled: &mut Settled) {
    let proof = menu::proof(snapshot, &settled.restrict, &settled.held);
    let mut reports = settled.plan.reports.iter_mut();
    if let (Some(proof), Some(report)) = (proof, reports.find(|report| report.stage == Stage::Menu)) {
        report.answer = proof.answer;
        report.rejected.push(proof.sentence());
    }
}

/// A menu that fails under restrictions fails because of what led to them.
fn told(earlier: Option<Conflict>, now: Conflict) -> Conflict {
    match earlier {
        Some(earlier) if now.stage == Stage::Menu => earlier,
        _ => now,
    }
}

/// One round; it leaves behind what the menu chose, from which the next one goes on.
fn round(
    (snapshot, threads): (&Snapshot, Threads),
    restrict: &Restrictions,
    held: &mut Option<Held>,
    work: &mut Work,
) -> Result<WeekPlan, Setback> {
    let chosen = menu::choose(snapshot, restrict, held.as_ref(), threads)?;
    work.menu += chosen.work;
    let held = held.insert(chosen.held);
    let demand = demand::compute(snapshot, &chosen.menu);
    let sized = batches::size(snapshot, &demand)?;
    let ordered = order::compute(snapshot, &demand, &sized.batches)
        .map_err(|problem| out_of_reach(snapshot, restrict, &sized.batches, problem))?;
    let (packed, runs, run_reports) = pack_and_run(
        (snapshot, threads),
        (restrict, held),
        (&demand, &sized.batches),
        work,
    )?;
    let kept = keep(snapshot, restrict, &sized.batches, packed.lots, &runs)?;
    let served = serve(
        snapshot,
        restrict,
        (&chosen.menu, &demand),
        (&sized.batches, &kept.lots),
    )?;
    let mut reports = vec![
        chosen.report,
        demand_report(&demand),
        sized.report,
        ordered.report,
        packed.report,
    ];
    reports.extend(run_reports);
    reports.extend([kept.report.clone(), served.report.clone()]);
    let made = Made {
        carried: carried::carried(snapshot, &demand),
        menu: chosen.menu,
        batches: sized.batches,
        order: ordered.order,
        runs,
        reports,
    };
    Ok(week_plan(snapshot, *work, made, (kept, served)))
}

struct Made {
    carried: Vec<Carried>,
    menu: Menu,
    batches: Vec<Batch>,
    order: Order,
    runs: Vec<Run>,
    reports: Vec<Report>,
}

fn week_plan(
    snapshot: &Snapshot,
    work: Work,
    made: Made,
    (kept, served): (KeepingResult, PlatesResult),
) -> WeekPlan {
    WeekPlan {
        snapshot_hash: String::new(),
        parent: snapshot.parent.clone(),
        tables: snapshot.tables.clone(),
        profile: snapshot.household.profile,
        monday: snapshot.monday,
        work,
        menu: made.menu,
        batches: made.batches,
        lots: kept.lots,
        carried: made.carried,
        order: made.order,
        runs: made.runs,
        plates: served.plates,
        services: served.services,
        reports: made.reports,
        findings: Vec::new(),
    }
}

fn demand_report(demand: &Demand) -> Report {
    Report {
        stage: Stage::Demand,
        answer: larderwright_model::Answer::Computed,
        chosen: vec![format!(
            "{} portions, each to five grams or a whole unit",
            demand.draws.len()
        )],
        rejected: Vec::new(),
    }
}

/// What is needed before any shopping is home and is not in the house: the menu has to do without it.
fn out_of_reach(
    snapshot: &Snapshot,
    restrict: &Restrictions,
    batches: &[Batch],
    problem: OrderProblem,
) -> Setback {
    let mut restrict = restrict.clone();
    let learnt = match problem.unshopped {
        Some((_, Purpose::Batch(id))) => batches.iter().filter(|batch| batch.id == id).any(|batch| {
            let supply =
                |sitting: &Sitting| (batch.component.clone(), batch.session.clone(), sitting.id.clone());
            let before = restrict.supplies.len();
            restrict.supplies.extend(snapshot.sittings.iter().map(supply));
            restrict.supplies.len() > before
        }),
        Some((food, Purpose::Sitting(_))) => restrict.foods.insert(food),
        _ => false,
    };
    if learnt {
        Setback::Again(Box::new((restrict, problem.conflict)))
    } else {
        problem.conflict.into()
    }
}

fn less_room(restrict: &Restrictions, conflict: Conflict) -> Setback {
    let mut restrict = restrict.clone();
    restrict.room_permille = mul_div(restrict.room_permille, 85, 100, Rounding::Down);
    Setback::Again(Box::new((restrict, conflict)))
}

/// Packing and its runs. A way of cooling that takes an hour is given up before a meal is: where a session becomes too long
/// with one, its batches are packed again without.
fn pack_and_run(
    (snapshot, threads): (&Snapshot, Threads),
    (restrict, held): (&Restrictions, &Held),
    (demand, batches): (&Demand, &[Batch]),
    work: &mut Work,
) -> Result<(PackingResult, Vec<Run>, Vec<Report>), Setback> {
    let mut hurried = BTreeSet::new();
    loop {
        let packed = packing::pack(snapshot, demand, batches, &hurried)
            .map_err(|conflict| less_room(restrict, conflict))?;
        let waits = |session: &SessionId| {
            let own = batches.iter().filter(|batch| batch.session == *session);
            let ids: BTreeSet<_> = own.map(|batch| &batch.id).collect();
            let slow = |lot: &Lot| lot.cooling == CoolingMethod::FreezerFirst && ids.contains(&lot.origin);
            packed.lots.iter().any(slow)
        };
        match runs(
            (snapshot, threads),
            (restrict, held),
            (batches, &packed.lots),
            work,
        ) {
            Ok((runs, reports)) => return Ok((packed, runs, reports)),
            Err((session, _)) if waits(&session) && hurried.insert(session.clone()) => {}
            Err((_, setback)) => return Err(setback),
        }
    }
}

/// Which session stood in the way, and how.
type Stuck = (SessionId, Setback);

fn runs(
    (snapshot, threads): (&Snapshot, Threads),
    (restrict, held): (&Restrictions, &Held),
    (batches, lots): (&[Batch], &[Lot]),
    work: &mut Work,
) -> Result<(Vec<Run>, Vec<Report>), Stuck> {
    let mut runs = Vec::new();
    let mut reports = Vec::new();
    for session in &snapshot.sessions {
        if !batches.iter().any(|batch| batch.session == session.id) {
            continue;
        }
        let result = session::schedule(snapshot, session, batches, lots, threads)
            .map_err(|conflict| (session.id.clone(), conflict.into()))?;
        work.session += snapshot.session_work;
        if result.run.standing == Standing::WontFit {
            let setback = too_long(snapshot, (restrict, held), session, &result.run);
            return Err((session.id.clone(), setback));
        }
        runs.push(result.run);
        reports.push(result.report);
    }
    Ok((runs, reports))
}

/// Cuts off the batches that did not fit the session, unless they ask for less of the cook by as much as it ran over, and
/// lets the menu count on a little less of the window.
fn too_long(
    snapshot: &Snapshot,
    (restrict, held): (&Restrictions, &Held),
    session: &larderwright_model::Session,
    run: &Run,
) -> Setback {
    let window = session.window().secs();
    let length = run.finish.duration_since(session.from).as_secs().max(1);
    let shrunk = mul_div(1000, window, length, Rounding::Down);
    let before = restrict.window_permille.get(&session.id).copied().unwrap_or(1000);
    let share = mul_div(before, window * 98, length * 100, Rounding::Down);
    let mut restrict = restrict.clone();
    let cut = menu::cut(snapshot, &restrict, (held, &session.id), shrunk);
    restrict.cuts.push(cut);
    restrict
        .window_permille
        .insert(session.id.clone(), share.min(before - 20).max(50));
    Setback::Again(Box::new((restrict, overrun(session, run))))
}

fn overrun(session: &larderwright_model::Session, run: &Run) -> Conflict {
    let over = run.finish.duration_since(session.to).as_mins();
    Conflict {
        stage: Stage::Session,
        message: format!(
            "what the week needs from the session on {} is done at {}, {over} minutes after it should end",
            say(session.from),
            run.finish.strftime("%H:%M")
        ),
        wishes: vec![
            format!(
                "session {} to {}",
                say(session.from),
                session.to.strftime("%H:%M")
            ),
            format!("what decides it: {}", run.decided_by),
        ],
        mends: vec![
            format!(
                "let the session end at {} or start {over} minutes earlier",
                run.finish.strftime("%H:%M")
            ),
            "let another cook help".into(),
            "add a second session".into(),
        ],
    }
}

fn keep(
    snapshot: &Snapshot,
    restrict: &Restrictions,
    batches: &[Batch],
    lots: Vec<Lot>,
    runs: &[Run],
) -> Result<KeepingResult, Setback> {
    keeping::date(snapshot, batches, lots, runs).map_err(|short| {
        let mut restrict = restrict.clone();
        let conflict = Conflict {
            stage: Stage::Keeping,
            message: short.message,
            wishes: vec![
                format!("{} at {}", short.supply.0, short.supply.2),
                session_wish(&short.supply.1),
            ],
            mends: vec![
                "cook in a session closer to the sitting".into(),
                "eat it earlier in the week".into(),
            ],
        };
        restrict.supplies.insert(short.supply);
        Setback::Again(Box::new((restrict, conflict)))
    })
}

fn session_wish(session: &SessionId) -> String {
    format!("cooked in the session of {session}")
}

fn serve(
    snapshot: &Snapshot,
    restrict: &Restrictions,
    (menu, demand): (&Menu, &Demand),
    made: (&[Batch], &[Lot]),
) -> Result<PlatesResult, Setback> {
    plates::compute(snapshot, menu, demand, made).map_err(|problem| match problem {
        PlatesProblem::Conflict(conflict) => conflict.into(),
        PlatesProblem::TooSlow(sitting, meal) => {
            let mut restrict = restrict.clone();
            let conflict = Conflict {
                stage: Stage::Plates,
                message: format!("{meal} is not on the table in time at {sitting}"),
                wishes: vec![format!("{meal} at {sitting}")],
                mends: vec![
                    "give the sitting more minutes".into(),
                    "let a second burner or a microwave help".into(),
                ],
            };
            restrict.meals.insert((sitting, meal));
            Setback::Again(Box::new((restrict, conflict)))
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use larderwright_testkit::random;

    #[test]
    fn batches_that_do_not_fit_their_session_come_back_as_cuts_until_they_do() {
        let mut met = 0;
        for seed in [4, 9, 21, 60] {
            let snapshot = random::snapshot(seed);
            let settled = settle(&snapshot, Threads::Two).expect("the household can be planned");
            let rounds = usize::try_from(settled.plan.work.rounds).expect("few rounds");
            assert!(settled.restrict.cuts.len() < rounds, "seed {seed}");
            for cut in &settled.restrict.cuts {
                // Whoever is cut off does not come back as it was.
                let own = settled
                    .plan
                    .batches
                    .iter()
                    .filter(|batch| batch.session == cut.session);
                let now: std::collections::BTreeSet<_> = own.map(|batch| batch.component.clone()).collect();
                let held = menu::cut(&snapshot, &settled.restrict, (&settled.held, &cut.session), 1000);
                assert!(
                    !cut.components.is_subset(&now) || held.hands_ms <= cut.hands_ms,
                    "seed {seed}: {cut:?}"
                );
            }
            met += usize::from(settled.restrict.cuts.len() >= 2);
        }
        assert!(met > 0, "no household needs two such rounds");
    }
}
