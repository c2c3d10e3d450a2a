//! A session by its marks, and what the books say of it.

use jiff::Span;
use larderwright_e2e::Kitchen;
use larderwright_ledger::{Books, LotState};
use larderwright_model::{Account, Act, ActKind, Event, Fact, Measured, Place, Reported};
use larderwright_store::Store;

use crate::{Answer, get, post};

async fn books(kitchen: &Kitchen) -> (Vec<Event>, Books) {
    let kept = kitchen.desk.home().store().all_events(0, 1_000_000).await;
    let events: Vec<Event> = kept
        .expect("events are read")
        .into_iter()
        .map(|kept| kept.event)
        .collect();
    let books = Books::of(&events);
    (events, books)
}

fn run(kitchen: &Kitchen) -> &larderwright_model::Run {
    &kitchen.week.plan.runs[0]
}

fn first(kitchen: &Kitchen, wanted: impl Fn(&Act) -> bool) -> Act {
    let act = run(kitchen).acts.iter().find(|act| wanted(act));
    act.expect("the run has such an act").clone()
}

fn page(kitchen: &Kitchen) -> String {
    format!("/sessions/{}", run(kitchen).session)
}

async fn begin(kitchen: &Kitchen) {
    let start = run(kitchen).acts.iter().map(|act| act.start).min();
    kitchen.set(start.expect("the run has acts"));
    post(kitchen, &format!("{}/beginnings", page(kitchen)), &[]).await;
}

/// Marks acts done when they end, as far as they are meant.
async fn done(kitchen: &Kitchen, meant: impl Fn(&Act) -> bool) {
    let mut acts: Vec<&Act> = run(kitchen).acts.iter().collect();
    acts.sort_by_key(|act| (act.end, act.start));
    for act in acts.into_iter().filter(|act| meant(act)) {
        kitchen.set(kitchen.now().max(act.end));
        let answer = post(
            kitchen,
            &format!("{}/completions", page(kitchen)),
            &[("act", act.id.as_str())],
        )
        .await;
        assert!(answer.status.is_redirection(), "{}: {}", act.title, answer.status);
        // Hands are slower than machines: the pail of writes fills again.
        tokio::time::sleep(std::time::Duration::from_millis(10)).await;
    }
}

fn place_mass(lots: &[&LotState]) -> i64 {
    let held = lots.iter().flat_map(|lot| lot.held.values());
    held.map(|held| held.mass.mg()).sum()
}

#[tokio::test]
async fn a_session_cooked_to_its_end_stands_in_the_books_as_it_went() {
    let kitchen = Kitchen::open().await;
    begin(&kitchen).await;
    let first = run(&kitchen).acts[0].start;
    done(&kitchen, |_| true).await;
    let ended = post(&kitchen, &format!("{}/endings", page(&kitchen)), &[]).await;
    assert!(ended.status.is_redirection());
    let (events, books) = books(&kitchen).await;
    let own = kitchen
        .week
        .plan
        .batches
        .iter()
        .filter(|batch| batch.session == run(&kitchen).session);
    for batch in own {
        let state = &books.batches[&batch.id];
        let cooked = state.cooked.as_ref().expect("it was told");
        assert_eq!(cooked.reported, Reported::Told, "{}", batch.id);
        assert!(
            cooked.minutes.is_some(),
            "every step was said to be done: {}",
            batch.id
        );
        assert_eq!(state.in_pot.mass.mg(), 0, "{} is boxed whole", batch.id);
        let lots: Vec<&LotState> = books
            .lots
            .values()
            .filter(|lot| {
                lot.lot.as_str().contains(batch.component.as_str())
                    && lot.held.contains_key(&Place::Fridge) | lot.held.contains_key(&Place::Freezer)
            })
            .collect();
        assert!(
            place_mass(&lots) >= batch.yields[1].mg(),
            "{} is in the cold",
            batch.id
        );
    }
    let minutes = events.iter().find_map(|event| match &event.fact {
        Fact::SessionEnded {
            minutes,
            minutes_planned,
            ..
        } => Some((*minutes, *minutes_planned)),
        _ => None,
    });
    let (real, planned) = minutes.expect("the session's time is told");
    assert_eq!(real, kitchen.now().duration_since(first).as_mins());
    assert!(
        (planned - real).abs() <= 1,
        "everything went as planned: {real} and {planned}"
    );
    // Nothing is presumed that was told.
    let later = kitchen
        .now()
        .checked_add(Span::new().hours(5))
        .expect("a day has more hours");
    kitchen.set(later);
    get(&kitchen, "/larder").await;
    let (events, _) = self::books(&kitchen).await;
    let presumed = events
        .iter()
        .filter(|event| matches!(&event.fact, Fact::Cooked(fact) if fact.reported == Reported::Presumed));
    assert_eq!(presumed.count(), 0);
}

#[tokio::test]
async fn boxes_that_are_short_say_who_goes_short_and_teach() {
    let kitchen = Kitchen::open().await;
    begin(&kitchen).await;
    let boxing = first(&kitchen, |act| act.kind == ActKind::PackOut);
    let batch = boxing.batches[0].clone();
    done(&kitchen, |act| {
        act.end <= boxing.start && act.kind != ActKind::PackOut
    })
    .await;
    kitchen.set(kitchen.now().max(boxing.end));
    let to = format!("{}/packings", page(&kitchen));
    let wrong = post(&kitchen, &to, &[("batch", batch.as_str()), ("weight", "a lot")]).await;
    assert!(wrong.status.is_client_error(), "{}", wrong.status);
    let answer = post(
        &kitchen,
        &to,
        &[("batch", batch.as_str()), ("part", "500"), ("warm", "70F")],
    )
    .await;
    let said = said(&kitchen, &answer).await;
    assert!(said.contains("goes short"), "{said}");
    let (_, books) = books(&kitchen).await;
    let state = &books.batches[&batch];
    let cooked = state.cooked.as_ref().expect("it was told");
    assert!(matches!(cooked.measured, Measured::Filled(_)));
    assert_eq!(state.in_pot.mass.mg(), 0, "it is in its boxes");
    assert!(state.readings.iter().any(|reading| reading.temperature.is_some()));
    // Weighed after all: the later word takes the place of the earlier one, and nothing is taken twice.
    post(&kitchen, &to, &[("batch", batch.as_str()), ("weight", "1 kg")]).await;
    let (_, books) = self::books(&kitchen).await;
    let state = &books.batches[&batch];
    assert_eq!(
        state.cooked.as_ref().map(|fact| fact.output.mg()),
        Some(1_000_000)
    );
    assert_eq!(state.in_pot.mass.mg(), 0);
    assert_eq!(books.balance(&Account::Batch(batch)).mass.mg(), 0);
}

async fn said(kitchen: &Kitchen, answer: &Answer) -> String {
    let to = answer.headers.get("location").and_then(|to| to.to_str().ok());
    get(kitchen, to.expect("it leads to a page")).await.text
}

#[tokio::test]
async fn what_is_burnt_is_thrown_away_and_not_presumed() {
    let kitchen = Kitchen::open().await;
    begin(&kitchen).await;
    let hot = first(&kitchen, |act| act.kind == ActKind::Step && !act.who.is_empty());
    kitchen.set(hot.start);
    let mishap = [("act", hot.id.as_str()), ("what", "burnt")];
    let answer = post(&kitchen, &format!("{}/mishaps", page(&kitchen)), &mishap).await;
    assert!(answer.status.is_redirection(), "{}", answer.text);
    let page = said(&kitchen, &answer).await;
    assert!(page.contains("thrown away"), "the page says so");
    let later = kitchen
        .now()
        .checked_add(Span::new().hours(12))
        .expect("a day has more hours");
    kitchen.set(later);
    get(&kitchen, "/larder").await;
    let (events, books) = books(&kitchen).await;
    for batch in &hot.batches {
        let cooked = books.batches[batch].cooked.as_ref().expect("it was told");
        assert_eq!(cooked.output.mg(), 0);
        assert_eq!(cooked.reported, Reported::Told, "it is not presumed");
        assert!(
            !books
                .lots
                .values()
                .any(|lot| lot.lot.as_str().contains(batch.as_str()) && !lot.held.is_empty())
        );
        let lost = events
            .iter()
            .filter(|event| matches!(&event.fact, Fact::Cooked(fact) if fact.batch == *batch));
        let binned: i64 = lost
            .flat_map(|event| &event.moves)
            .filter(|step| step.to == Account::Bin)
            .map(|step| step.mass.mg())
            .sum();
        assert!(binned > 0, "what went in is thrown away");
    }
}

#[tokio::test]
async fn what_must_stop_drops_stays_on_the_shelf() {
    let kitchen = Kitchen::open().await;
    begin(&kitchen).await;
    let soon = kitchen
        .now()
        .checked_add(Span::new().minutes(40))
        .expect("a day has more hours");
    let by = format!("{:02}:{:02}", soon.hour(), soon.minute());
    let answer = post(&kitchen, &format!("{}/stops", page(&kitchen)), &[("by", &by)]).await;
    assert!(answer.status.is_redirection(), "{}", answer.text);
    let (events, books) = books(&kitchen).await;
    let dropped: Vec<_> = books
        .batches
        .values()
        .filter(|state| {
            state
                .cooked
                .as_ref()
                .is_some_and(|fact| fact.reported == Reported::Skipped)
        })
        .collect();
    assert!(!dropped.is_empty(), "forty minutes do not do it all");
    for state in dropped {
        let own = events
            .iter()
            .filter(|event| matches!(&event.fact, Fact::Cooked(fact) if fact.batch == state.batch));
        assert!(
            own.flat_map(|event| &event.moves).next().is_none(),
            "nothing was taken for {}",
            state.batch
        );
    }
}
