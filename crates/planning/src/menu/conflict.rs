//! Conflicts of the menu: who or what stands in the way of a sitting or a session, and what would mend it.

use jiff::civil::DateTime;
use larderwright_model::{
    Conflict, Contact, Diet, Eater, Item, Meal, Need, Session, Sitting, Snapshot, Stage, Where,
};

use super::cost::{self, Over};
use super::problem::{Problem, Slot};
use super::search::State;
use super::serving;
use super::stores::is_unshopped;
use crate::{facts, order};

/// Sittings for which no meal is left, told before any search.
pub(super) fn before_search(problem: &Problem<'_>) -> Option<Conflict> {
    if problem.slots.is_empty() {
        return Some(Conflict {
            stage: Stage::Menu,
            message: "nobody sits down to eat this week".into(),
            wishes: vec!["no sitting is listed".into()],
            mends: vec!["list at least one sitting in the household file".into()],
        });
    }
    let slot = problem.slots.iter().find(|slot| slot.candidates.is_empty())?;
    Some(nothing_to_serve(problem, slot))
}

/// A day and time as people say it: `Thu 3 Dec 18:30`.
pub(crate) fn say(at: DateTime) -> String {
    at.strftime("%a %-d %b %H:%M").to_string()
}

pub(super) fn sitting_name(sitting: &Sitting) -> String {
    let word = match sitting.occasion {
        larderwright_model::Occasion::Breakfast => "breakfast",
        larderwright_model::Occasion::Lunch => "lunch",
        larderwright_model::Occasion::Dinner => "dinner",
        larderwright_model::Occasion::Snack => "snack",
        larderwright_model::Occasion::PackedCold | larderwright_model::Occasion::PackedHot => "packed meal",
    };
    format!("{word} on {}", say(sitting.at))
}

fn nothing_to_serve(problem: &Problem<'_>, slot: &Slot<'_>) -> Conflict {
    let snapshot = problem.snapshot;
    let sitting = &snapshot.sittings[slot.index];
    let serves = sitting.serves();
    let meals: Vec<&Meal> = match snapshot.household.wishes.fixed.get(&sitting.id) {
        Some(fixed) => snapshot.meals.get(fixed).into_iter().collect(),
        None => {
            let off = &snapshot.household.wishes.off_meals;
            let fitting = snapshot
                .meals
                .values()
                .filter(|meal| meal.at.iter().any(|occasion| serves.contains(occasion)));
            fitting.filter(|meal| !off.contains(&meal.id)).collect()
        }
    };
    if meals.is_empty() {
        return no_meal_at_all(snapshot, sitting);
    }
    let eaters: Vec<&Eater> = sitting
        .eaters
        .iter()
        .filter_map(|id| snapshot.household.eater(id))
        .collect();
    let barred = |who: &[&Eater]| meals.iter().all(|meal| !eaters_can(snapshot, meal, who));
    if barred(&eaters) {
        let smallest = smallest(&eaters, &barred);
        return eaters_in_the_way(sitting, &smallest, &meals);
    }
    not_reached(problem, slot, &meals)
}

/// Drops whoever is not needed for the conflict, so that leaving out any one of the rest mends it.
fn smallest<'a>(eaters: &[&'a Eater], barred: &impl Fn(&[&Eater]) -> bool) -> Vec<&'a Eater> {
    let mut kept: Vec<&Eater> = eaters.to_vec();
    let mut ix = 0;
    while ix < kept.len() {
        let mut fewer = kept.clone();
        fewer.remove(ix);
        if !fewer.is_empty() && barred(&fewer) {
            kept = fewer;
        } else {
            ix += 1;
        }
    }
    kept
}

fn eaters_can(snapshot: &Snapshot, meal: &Meal, eaters: &[&Eater]) -> bool {
    let needed = meal
        .elements
        .iter()
        .filter(|element| element.need != Need::Optional);
    needed.into_iter().all(|element| {
        eaters.iter().all(|eater| {
            element.options.iter().any(|option| {
                facts::makeup(snapshot, &option.item).is_some_and(|makeup| {
                    facts::on_the_table(eaters, &makeup) && facts::may_have(eater, &makeup).is_ok()
                })
            })
        })
    })
}

fn eaters_in_the_way(sitting: &Sitting, eaters: &[&Eater], meals: &[&Meal]) -> Conflict {
    let names: Vec<&str> = eaters.iter().map(|eater| eater.name.as_str()).collect();
    let name = sitting_name(sitting);
    Conflict {
        stage: Stage::Menu,
        message: format!(
            "none of {} meals suits {} at {name}",
            meals.len(),
            names.join(" and ")
        ),
        wishes: eaters.iter().map(|eater| wish_of(eater)).collect(),
        mends: vec![
            format!("let {} eat something else at {name}", names.join(" or ")),
            "switch more meals on, or add a meal of your own with an option they can eat".into(),
            "state the allergy or the diet less strictly, if that is true".into(),
        ],
    }
}

/// An eater's limits in the household's words.
pub(super) fn wish_of(eater: &Eater) -> String {
    let mut parts: Vec<String> = Vec::new();
    match eater.diet {
        Diet::Everything => {}
        Diet::Pescatarian => parts.push("eats fish but no meat".into()),
        Diet::Vegetarian => parts.push("is vegetarian".into()),
        Diet::Vegan => parts.push("is vegan".into()),
    }
    for avoid in &eater.avoid {
        parts.push(format!("avoids {}", format!("{avoid:?}").to_lowercase()));
    }
    for (allergen, contact) in &eater.allergies {
        let how = match contact {
            Contact::Plate => "not on the plate",
            Contact::Traces => "no traces",
            Contact::Severe => "severe: not on the table",
        };
        parts.push(format!("must not have {} ({how})", allergen.word()));
    }
    let all = if parts.is_empty() {
        "has no limits stated".to_string()
    } else {
        parts.join(", ")
    };
    format!("{} {all}", eater.name)
}

fn no_meal_at_all(snapshot: &Snapshot, sitting: &Sitting) -> Conflict {
    let off = snapshot.household.wishes.off_meals.len();
    Conflict {
        stage: Stage::Menu,
        message: format!(
            "no meal that is switched on is meant for {}",
            sitting_name(sitting)
        ),
        wishes: vec![format!("{off} meals are switched off"), sitting_name(sitting)],
        mends: vec!["switch a meal on again".into(), "drop the sitting".into()],
    }
}

fn not_reached(problem: &Problem<'_>, slot: &Slot<'_>, meals: &[&Meal]) -> Conflict {
    let snapshot = problem.snapshot;
    let sitting = &snapshot.sittings[slot.index];
    let name = sitting_name(sitting);
    if slot.too_slow {
        return Conflict {
            stage: Stage::Menu,
            message: format!("no meal is ready for {name} in {} minutes", sitting.minutes),
            wishes: vec![format!("{name}, {} minutes", sitting.minutes)],
            mends: vec![
                format!("give {name} more than {} minutes", sitting.minutes),
                "let a second burner, a microwave or a toaster help".into(),
            ],
        };
    }
    if is_unshopped(snapshot, sitting.leaves_fridge()) {
        return nothing_bought(snapshot, &name);
    }
    let mut wishes = vec![name.clone()];
    let mut mends = Vec::new();
    let wanted: Vec<usize> = components_of(problem, meals);
    let too_early = wanted
        .iter()
        .any(|comp| slot.supplies[*comp].is_empty() && problem.fits.iter().any(|session| session[*comp]));
    for (ix, session) in snapshot.sessions.iter().enumerate() {
        let shortest = wanted
            .iter()
            .map(|comp| &problem.comps[*comp])
            .min_by_key(|comp| comp.chain);
        let fitting = wanted.iter().filter(|comp| problem.fits[ix][**comp]).count();
        wishes.push(format!(
            "session {} to {}, in which {fitting} of the {} components wanted can be cooked",
            say(session.from),
            session.to.strftime("%H:%M"),
            wanted.len()
        ));
        if let Some(comp) = shortest.filter(|_| fitting < wanted.len()) {
            mends.push(format!(
                "make the session on {} longer: even {} takes {} from first step to box",
                session.from.strftime("%A"),
                comp.component.name.to_lowercase(),
                larderwright_quantity::duration_text(comp.chain)
            ));
        }
    }
    cold_and_time(snapshot, sitting, too_early, (&mut wishes, &mut mends));
    if mends.is_empty() {
        mends.push("switch more meals or components on".into());
    }
    Conflict {
        stage: Stage::Menu,
        message: format!("nothing can be on the table for {name}"),
        wishes,
        mends,
    }
}

/// What warmth on the way and days in between have to do with it.
fn cold_and_time(
    snapshot: &Snapshot,
    sitting: &Sitting,
    too_early: bool,
    (wishes, mends): (&mut Vec<String>, &mut Vec<String>),
) {
    let name = sitting_name(sitting);
    if let Where::Packed(packed) = sitting.place
        && !packed.stays_cold()
    {
        wishes.push(format!("carried for {} hours without cold", packed.hours));
        mends.push(format!("let an ice pack go along to {name}"));
    }
    if too_early {
        mends.push(format!(
            "cook in a session closer to {name}, so that what is cooked still keeps"
        ));
        let kitchen = &snapshot.household.kitchen;
        if !kitchen.boxes.iter().any(|kind| kind.freezes && kind.count > 0) {
            mends.push("add boxes that may go into the freezer".into());
        } else if !kitchen.freezer.is_positive() {
            mends.push("make room in a freezer".into());
        }
    }
}

/// No shopping is home in time, and what is at home does not suffice.
fn nothing_bought(snapshot: &Snapshot, name: &str) -> Conflict {
    Conflict {
        stage: Stage::Order,
        message: format!("what is at home makes no meal for {name}, and no shopping is home before it"),
        wishes: vec![order::trips_said(snapshot), name.to_owned()],
        mends: vec![
            format!("add a shopping day before {name}"),
            "tick what is at home, if more is there than is ticked".into(),
        ],
    }
}

fn components_of(problem: &Problem<'_>, meals: &[&Meal]) -> Vec<usize> {
    let options = meals
        .iter()
        .flat_map(|meal| &meal.elements)
        .flat_map(|element| &element.options);
    let wanted: Vec<&str> = options
        .filter_map(|option| match &option.item {
            Item::Component(id) => Some(id.as_str()),
            Item::Food(_) => None,
        })
        .collect();
    (0..problem.comps.len())
        .filter(|ix| wanted.contains(&problem.comps[*ix].component.id.as_str()))
        .collect()
}

/// What the best menu found still cannot do.
pub(super) fn after_search(problem: &Problem<'_>, state: &State) -> Option<Conflict> {
    if cost::cost(problem, state).hard == 0 {
        return None;
    }
    let snapshot = problem.snapshot;
    if let Some(slot) = serving::walk(problem, state, &mut |_| {}).slot {
        return Some(too_much_for(problem, &problem.slots[slot], state));
    }
    let overs = cost::overs(problem, state);
    let mut wishes: Vec<String> = overs.iter().map(|over| shortage(snapshot, *over).0).collect();
    wishes.push(format!("{} sittings", snapshot.sittings.len()));
    let mut mends: Vec<String> = overs.iter().map(|over| shortage(snapshot, *over).1).collect();
    mends.push("take a sitting out of the plan".into());
    Some(Conflict {
        stage: Stage::Menu,
        message: "the sessions, the boxes or the fridge cannot hold what the week's plates need".into(),
        wishes,
        mends,
    })
}

/// A session as people say it.
pub(super) fn session_name(session: &Session) -> String {
    format!(
        "session {} to {}",
        say(session.from),
        session.to.strftime("%H:%M")
    )
}

/// What there is too little of, as a wish of the household, and what would mend it.
fn shortage(snapshot: &Snapshot, over: Over) -> (String, String) {
    let session = |ix: usize| session_name(&snapshot.sessions[ix]);
    let litres = |volume: i64| format!("{}.{} l", volume / 1_000_000, volume % 1_000_000 / 100_000);
    match over {
        Over::Hands(ix, minutes) | Over::Together(ix, minutes) => (
            session(ix),
            format!(
                "{minutes} more minutes of hands in {}: a longer session, or one more cook",
                session(ix)
            ),
        ),
        Over::Oven(ix, minutes) => (
            session(ix),
            format!("{minutes} more minutes of an oven rack in {}", session(ix)),
        ),
        Over::Burners(ix, minutes) => (
            session(ix),
            format!("{minutes} more minutes of a burner in {}", session(ix)),
        ),
        Over::Components(ix, count) => (
            format!(
                "at most {} components in a session",
                snapshot.household.wishes.components_max
            ),
            format!("{count} more components in {}", session(ix)),
        ),
        Over::Fridge(volume) => (
            "room in the fridge".into(),
            format!("{} more room in the fridge", litres(volume)),
        ),
        Over::Freezer(volume) => (
            "room in the freezer".into(),
            format!("{} more room in the freezer", litres(volume)),
        ),
        Over::Boxes(volume) => (
            "the boxes listed".into(),
            format!("boxes for {} more", litres(volume)),
        ),
    }
}

fn too_much_for(problem: &Problem<'_>, slot: &Slot<'_>, state: &State) -> Conflict {
    let snapshot = problem.snapshot;
    let sitting = &snapshot.sittings[slot.index];
    let name = sitting_name(sitting);
    let meal = slot.candidates[state.meals[slot.index]].meal;
    let eaters = sitting
        .eaters
        .iter()
        .filter_map(|id| snapshot.household.eater(id));
    let mut wishes: Vec<String> = eaters.map(wish_of).collect();
    wishes.push(format!(
        "at most {} components in a session",
        snapshot.household.wishes.components_max
    ));
    for session in &snapshot.sessions {
        wishes.push(session_name(session));
    }
    Conflict {
        stage: Stage::Menu,
        message: format!(
            "not every plate of {} can be filled at {name}",
            meal.name.to_lowercase()
        ),
        wishes,
        mends: vec![
            "let one more component into a session".into(),
            "make a session longer or add one nearer to the sitting".into(),
            format!("let somebody eat elsewhere at {name}"),
        ],
    }
}
