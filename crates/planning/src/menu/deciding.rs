//! Wishes that decide: where no week can be found, each wish is given up alone, and those are named with which alone a week
//! is found. Whoever gives up any one of them eats.

use larderwright_model::{Conflict, Snapshot};

use super::conflict::{after_search, before_search, session_name, sitting_name};
use super::problem::Problem;
use super::search::{self, Effort};
use crate::driver::Threads;
use crate::restrict::Restrictions;

/// How hard to look for a week without one wish: no longer than until one is found.
const LOOK: Effort = Effort {
    times: 2,
    salt: 0x0DEC_1DE5,
    until_fits: true,
};

/// A wish given up: in the household's words, what would mend it, and the week without it.
struct Without {
    wish: String,
    mend: String,
    snapshot: Snapshot,
    restrict: Restrictions,
}

/// The conflict, naming only wishes of which giving up any one is enough; as it was where there is none.
pub(super) fn named(
    snapshot: &Snapshot,
    restrict: &Restrictions,
    conflict: Conflict,
    threads: Threads,
) -> Conflict {
    let enough: Vec<Without> = each(snapshot, restrict)
        .into_iter()
        .filter(|without| can_be(&without.snapshot, &without.restrict, threads))
        .collect();
    if enough.is_empty() {
        return conflict;
    }
    let (wishes, mends) = enough
        .into_iter()
        .map(|without| (without.wish, without.mend))
        .unzip();
    Conflict {
        wishes,
        mends,
        ..conflict
    }
}

/// Whether a week is found that breaks nothing.
fn can_be(snapshot: &Snapshot, restrict: &Restrictions, threads: Threads) -> bool {
    let problem = Problem::new(snapshot, restrict);
    before_search(&problem).is_none()
        && after_search(&problem, &search::search(&problem, threads, LOOK, None).state).is_none()
}

/// Every wish that can be given up, alone.
fn each(snapshot: &Snapshot, restrict: &Restrictions) -> Vec<Without> {
    let mut all = unfixed(snapshot, restrict);
    let mut without = |(wish, mend): (String, String), change: &dyn Fn(&mut Snapshot, &mut Restrictions)| {
        let (mut snapshot, mut restrict) = (snapshot.clone(), restrict.clone());
        change(&mut snapshot, &mut restrict);
        all.push(Without {
            wish,
            mend,
            snapshot,
            restrict,
        });
    };
    let most = snapshot.household.wishes.components_max;
    without(
        (
            format!("at most {most} components in a session"),
            "let more components into a session".into(),
        ),
        &|snapshot, _| snapshot.household.wishes.components_max += 20,
    );
    for session in &snapshot.sessions {
        let name = session_name(session);
        without(
            (name.clone(), format!("a longer {name}, or one more cook")),
            &|_, restrict| {
                restrict.window_permille.insert(session.id.clone(), 4000);
                restrict.cuts.retain(|cut| cut.session != session.id);
            },
        );
    }
    without(
        (
            "room in fridge, freezer and boxes".into(),
            "more boxes, or more room in the fridge or the freezer".into(),
        ),
        &|_, restrict| restrict.room_permille *= 4,
    );
    if !snapshot.household.wishes.off_meals.is_empty() {
        without(
            (
                "meals that are off".into(),
                "let a meal that is off come back".into(),
            ),
            &|snapshot, _| snapshot.household.wishes.off_meals.clear(),
        );
    }
    if !snapshot.household.wishes.off_components.is_empty() {
        without(
            (
                "components that are off".into(),
                "let a component that is off come back".into(),
            ),
            &|snapshot, _| snapshot.household.wishes.off_components.clear(),
        );
    }
    all
}

/// Every meal that is fixed, no longer so.
fn unfixed(snapshot: &Snapshot, restrict: &Restrictions) -> Vec<Without> {
    let fixed = snapshot.household.wishes.fixed.iter();
    let without = fixed.filter_map(|(id, meal)| {
        let name = sitting_name(snapshot.sitting(id)?);
        let meal = snapshot.meals.get(meal)?.name.to_lowercase();
        let mut free = snapshot.clone();
        free.household.wishes.fixed.remove(id);
        Some(Without {
            wish: format!("{meal} at {name}"),
            mend: format!("another meal at {name}"),
            snapshot: free,
            restrict: restrict.clone(),
        })
    });
    without.collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::menu::problem::{Candidate, Thing};
    use larderwright_model::Need;
    use larderwright_testkit::random;

    #[test]
    fn giving_up_any_one_of_the_wishes_named_lets_a_week_be_found() {
        let mut met = 0;
        for seed in [0, 3, 7, 12, 21] {
            let mut snapshot = random::snapshot(seed);
            snapshot.household.wishes.components_max = 0;
            // Dinners that cannot do without something cooked.
            let problem = Problem::new(&snapshot, &Restrictions::default());
            let cooked = |candidate: &&Candidate<'_>| {
                candidate.elements.iter().any(|element| {
                    element.need != Need::Optional
                        && element
                            .options
                            .iter()
                            .all(|option| matches!(option.thing, Thing::Made(_)))
                })
            };
            let fixed = problem.slots.iter().filter_map(|slot| {
                let meal = slot.candidates.iter().find(cooked)?.meal.id.clone();
                Some((snapshot.sittings[slot.index].id.clone(), meal))
            });
            let fixed: Vec<_> = fixed.take(1).collect();
            snapshot.household.wishes.fixed.extend(fixed);
            let restrict = Restrictions::default();
            let Err(conflict) = crate::menu::choose(&snapshot, &restrict, None, Threads::Two) else {
                continue;
            };
            for without in each(&snapshot, &restrict) {
                if conflict.mends.contains(&without.mend) {
                    let found = crate::menu::choose(&without.snapshot, &without.restrict, None, Threads::Two);
                    assert!(found.is_ok(), "seed {seed}: without `{}`", without.wish);
                    assert!(conflict.wishes.contains(&without.wish));
                    met += 1;
                }
            }
        }
        assert!(met > 0, "no conflict could be mended");
    }
}
