//! Every route: its page comes with the headers of a strict policy, a form from elsewhere is refused, what is not there
//! is said kindly.

use axum::http::StatusCode;
use larderwright_e2e::Kitchen;
use larderwright_web::routes::Route;

use crate::{ask, body, form, get, post};

/// How a route is asked.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    /// A page.
    Reads,
    /// A form's place.
    Writes,
    /// Both.
    Both,
    /// It leads to another page.
    Leads,
    /// A stream.
    Streams,
}

/// Every route, filled in, with how it is asked. The match makes a forgotten one a fault of the build.
fn every(kitchen: &Kitchen) -> Vec<(Route, Kind)> {
    let session = kitchen.week.plan.runs[0].session.to_string();
    let sitting = kitchen.week.snapshot.sittings[0].id.to_string();
    let component = kitchen.week.plan.batches[0].component.to_string();
    let meal = kitchen.week.plan.menu.choices[0].meal.to_string();
    let monday = kitchen.week.monday.to_string();
    let all = [
        Route::Week,
        Route::WeekOf(monday),
        Route::Changes,
        Route::Plans,
        Route::Shopping,
        Route::ShoppingFile,
        Route::Ticks,
        Route::Unpackings,
        Route::Receipts,
        Route::Sheet("run"),
        Route::Session,
        Route::SessionOf(session.clone()),
        Route::Beginnings(session.clone()),
        Route::Completions(session.clone()),
        Route::Extensions(session.clone()),
        Route::Rests(session.clone()),
        Route::Absences(session.clone()),
        Route::Stops(session.clone()),
        Route::Mishaps(session.clone()),
        Route::Packings(session.clone()),
        Route::Endings(session),
        Route::Larder,
        Route::Deeds,
        Route::Looks,
        Route::Tonight,
        Route::Sitting(sitting.clone()),
        Route::Turns(sitting.clone()),
        Route::Servings(sitting.clone()),
        Route::SittingFile(sitting),
        Route::Recipes,
        Route::Recipe(component),
        Route::Meal(meal),
        Route::Foods,
        Route::Food("chickpea-dry".into()),
        Route::Household,
        Route::HouseholdFile,
        Route::Review,
        Route::Closings,
        Route::Undoings,
        Route::Sources,
        Route::Calendar,
        Route::News,
    ];
    all.into_iter()
        .map(|route| (route.clone(), kind(&route)))
        .collect()
}

fn kind(route: &Route) -> Kind {
    match route {
        Route::Week
        | Route::WeekOf(_)
        | Route::Shopping
        | Route::ShoppingFile
        | Route::Sheet(_)
        | Route::SessionOf(_)
        | Route::Larder
        | Route::Sitting(_)
        | Route::SittingFile(_)
        | Route::Recipes
        | Route::Recipe(_)
        | Route::Meal(_)
        | Route::Foods
        | Route::Food(_)
        | Route::Household
        | Route::Review
        | Route::Sources
        | Route::Calendar => Kind::Reads,
        Route::Session | Route::Tonight => Kind::Leads,
        Route::News => Kind::Streams,
        Route::Changes
        | Route::Plans
        | Route::HouseholdFile
        | Route::Rests(_)
        | Route::Absences(_)
        | Route::Stops(_)
        | Route::Mishaps(_)
        | Route::Turns(_) => Kind::Both,
        Route::Ticks
        | Route::Unpackings
        | Route::Receipts
        | Route::Beginnings(_)
        | Route::Completions(_)
        | Route::Extensions(_)
        | Route::Packings(_)
        | Route::Endings(_)
        | Route::Deeds
        | Route::Looks
        | Route::Servings(_)
        | Route::Closings
        | Route::Undoings => Kind::Writes,
    }
}

/// A page of a running session, and a turn, want to know which.
fn asked(kitchen: &Kitchen, route: &Route) -> String {
    let act = kitchen.week.plan.runs[0]
        .acts
        .iter()
        .find(|act| !act.batches.is_empty());
    match route {
        Route::Mishaps(_) => format!("{route}?act={}", act.map_or("", |act| act.id.as_str())),
        Route::Turns(_) => format!("{route}?what=out"),
        _ => route.to_string(),
    }
}

#[tokio::test]
async fn every_page_comes_with_a_strict_policy() {
    let kitchen = Kitchen::open().await;
    let begun = kitchen.week.plan.runs[0].acts[0].start;
    for (route, kind) in every(&kitchen) {
        // Slips belong to a session that runs.
        if let Route::Rests(id) = &route {
            kitchen.set(begun);
            post(&kitchen, &Route::Beginnings(id.clone()).to_string(), &[]).await;
        }
        if !matches!(kind, Kind::Reads | Kind::Both | Kind::Leads) {
            continue;
        }
        let answer = get(&kitchen, &asked(&kitchen, &route)).await;
        let expected = if kind == Kind::Leads {
            StatusCode::SEE_OTHER
        } else {
            StatusCode::OK
        };
        assert_eq!(answer.status, expected, "{route}: {}", answer.text);
        let policy = answer.headers["content-security-policy"]
            .to_str()
            .expect("it is plain");
        for word in [
            "default-src 'none'",
            "script-src 'self'",
            "frame-ancestors 'none'",
        ] {
            assert!(policy.contains(word), "{route}: {policy}");
        }
        assert_eq!(answer.headers["x-content-type-options"], "nosniff");
        let plain = |text: &str| {
            !text.contains("<script>") && !text.contains(" style=\"") && !text.contains(" onclick")
        };
        if !matches!(route, Route::ShoppingFile | Route::SittingFile(_)) {
            assert!(plain(&answer.text), "{route} carries script or style of its own");
        }
    }
}

#[tokio::test]
async fn a_form_from_elsewhere_is_refused_everywhere_and_changes_nothing() {
    use larderwright_store::Store;
    let kitchen = Kitchen::open().await;
    let count = || async {
        let events = kitchen.desk.home().store().all_events(0, 1_000_000).await;
        events.expect("events are read").len()
    };
    let before = count().await;
    for (route, kind) in every(&kitchen) {
        if !matches!(kind, Kind::Writes | Kind::Both) {
            continue;
        }
        for (name, value) in [
            ("sec-fetch-site", "cross-site"),
            ("origin", "http://example.org"),
            ("x-nothing", "at-all"),
        ] {
            let path = route.to_string();
            let request = form(&path)
                .header(name, value)
                .header("host", "127.0.0.1:8787")
                .body(body(&[]));
            let answer = ask(&kitchen, request.expect("the form is one")).await;
            assert_eq!(answer.status, StatusCode::FORBIDDEN, "{route} from {value}");
        }
    }
    assert_eq!(count().await, before);
}

#[tokio::test]
async fn an_empty_form_is_answered_kindly() {
    let kitchen = Kitchen::open().await;
    for (route, kind) in every(&kitchen) {
        if !matches!(kind, Kind::Writes | Kind::Both) {
            continue;
        }
        let answer = post(&kitchen, &route.to_string(), &[]).await;
        assert!(
            !answer.status.is_server_error(),
            "{route}: {} {}",
            answer.status,
            answer.text
        );
    }
}

#[tokio::test]
async fn what_is_not_there_is_said() {
    let kitchen = Kitchen::open().await;
    let wrong = || "no such thing".to_owned();
    for route in [
        Route::WeekOf(wrong()),
        Route::Sheet("nothing"),
        Route::SessionOf(wrong()),
        Route::Sitting(wrong()),
        Route::SittingFile(wrong()),
        Route::Recipe(wrong()),
        Route::Meal(wrong()),
        Route::Food(wrong()),
        Route::Turns(wrong()),
    ] {
        let answer = get(&kitchen, &route.to_string()).await;
        assert_eq!(answer.status, StatusCode::NOT_FOUND, "{route}");
        assert!(answer.text.contains("<h1"), "{route} is answered with a page");
    }
}

#[tokio::test]
async fn an_empty_house_leads_to_its_first_week() {
    let kitchen = Kitchen::empty().await;
    for (route, kind) in every(&kitchen) {
        if !matches!(kind, Kind::Reads | Kind::Leads | Kind::Both) {
            continue;
        }
        let answer = get(&kitchen, &asked(&kitchen, &route)).await;
        assert!(
            !answer.status.is_server_error(),
            "{route}: {} {}",
            answer.status,
            answer.text
        );
    }
}
