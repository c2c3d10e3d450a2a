//! Whole journeys: shop, cook a session that runs late and ends early, change the week; by keyboard alone, without
//! script, without a network, on two devices.

use jiff::civil::DateTime;
use larderwright_e2e::{Browser, Kitchen, journey};
use larderwright_model::{Occasion, PortionSource, SessionId};
use serde_json::Value;

const SPACE: u32 = 32;
const TAB: u32 = 9;
const ENTER: u32 = 13;

fn session(kitchen: &Kitchen) -> SessionId {
    kitchen.week.plan.runs[0].session.clone()
}

fn begin(kitchen: &Kitchen) -> DateTime {
    let acts = kitchen.week.plan.runs[0].acts.iter();
    acts.map(|act| act.start).min().expect("the first run has acts")
}

/// The state of the first line's box.
const FIRST: &str = "form.tickform button[id^=cart-]";

async fn checked(browser: &Browser, css: &str) -> bool {
    let element = browser.find(css).await;
    let state = element
        .attr("aria-checked")
        .await
        .expect("the element is still there");
    state.as_deref() == Some("true")
}

#[test]
fn ticks_in_the_shop_stay_and_reach_other_devices() {
    journey(|kitchen, browser| async move {
        browser.screen(390, 844).await;
        browser.goto(&kitchen.page("/shopping")).await;
        browser.tap(FIRST).await;
        browser.until("document.querySelector('.got')").await;
        browser.goto(&kitchen.page("/shopping")).await;
        assert!(checked(&browser, FIRST).await, "the tick was kept");
        // Another device: the same form, sent by hand.
        browser
            .until("performance.getEntriesByType('resource').some(e=>e.name.endsWith('/news'))||true")
            .await;
        browser
            .run_later(
                "const done=arguments[arguments.length-1];const b=document.querySelectorAll('button[id^=cart-]')[1];const f=new URLSearchParams(new FormData(b.form,b));fetch('/ticks',{method:'POST',body:f}).then(()=>done(1))",
            )
            .await;
        browser
            .until("document.querySelectorAll('.got').length===2")
            .await;
        browser
    });
}

#[test]
fn what_is_low_at_home_is_said_with_one_tap() {
    journey(|kitchen, browser| async move {
        browser.goto(&kitchen.page("/shopping")).await;
        browser.tap(".home .pick button[value=low]").await;
        browser
            .until("document.querySelector('.home [aria-pressed=true]')?.value==='low'")
            .await;
        browser
    });
}

#[test]
fn ticks_without_a_network_go_over_when_it_is_back() {
    journey(|kitchen, browser| async move {
        browser.goto(&kitchen.page("/shopping")).await;
        browser.until("document.querySelector('#main')").await;
        browser.network(false).await;
        browser.tap(FIRST).await;
        browser
            .until("JSON.parse(localStorage.getItem('larderwright-waiting')||'[]').length===1")
            .await;
        browser.until("!document.getElementById('offline').hidden").await;
        assert!(checked(&browser, FIRST).await, "it counts on this device at once");
        browser.network(true).await;
        browser
            .until("JSON.parse(localStorage.getItem('larderwright-waiting')||'[]').length===0")
            .await;
        browser.goto(&kitchen.page("/shopping")).await;
        assert!(checked(&browser, FIRST).await, "it went over");
        browser
    });
}

#[test]
fn the_shop_works_without_script() {
    journey(|kitchen, browser| async move {
        browser.script(false).await;
        browser.goto(&kitchen.page("/shopping")).await;
        browser.follow(FIRST).await;
        assert_eq!(browser.path().await, "/shopping");
        assert!(checked(&browser, FIRST).await);
        browser.follow(FIRST).await;
        assert!(!checked(&browser, FIRST).await, "a second tap takes it back");
        browser
    });
}

#[test]
fn a_session_is_cooked_without_script() {
    journey(|kitchen, browser| async move {
        kitchen.set(begin(&kitchen));
        browser.script(false).await;
        browser.goto(&kitchen.page("/session")).await;
        browser.follow("form[action$=beginnings] button").await;
        let first = browser.text(".cook .far").await;
        kitchen.pass(8);
        browser.follow(".acts .main").await;
        kitchen.pass(1);
        browser.goto(&kitchen.page("/session")).await;
        assert_ne!(browser.text(".cook .far").await, first, "the next act is now");
        browser
    });
}

/// Marks everything that should be done by now as done, the way a cook does: one tap after the other.
async fn done_so_far(kitchen: &Kitchen, browser: &Browser) {
    for _ in 0..60 {
        browser
            .goto(&kitchen.page(&format!("/sessions/{}", session(kitchen))))
            .await;
        if !browser.has(".lab em.late").await {
            return;
        }
        let tapped = browser
            .run("const late=[...document.querySelectorAll('.cook')].find(c=>c.querySelector('em.late'));const b=late.querySelector('.acts .main');b.click();return b.id")
            .await;
        let id = tapped.as_str().unwrap_or_default().to_owned();
        browser.until(&format!("!document.getElementById('{id}')")).await;
    }
    panic!("the cooks never caught up");
}

#[test]
fn a_session_runs_late_rests_and_ends_early() {
    journey(|kitchen, browser| async move {
        browser.screen(390, 844).await;
        kitchen.set(begin(&kitchen));
        let page = kitchen.page(&format!("/sessions/{}", session(&kitchen)));
        browser.goto(&page).await;
        browser.tap("form[action$=beginnings] button").await;
        browser.find(".cook .far").await;

        // Nobody taps for longer than any gap makes up for: everything behind moves.
        kitchen.pass(75);
        browser.goto(&page).await;
        browser.find(".strip.late").await;
        done_so_far(&kitchen, &browser).await;

        // It survives a reload, and the finish is told.
        browser.goto(&page).await;
        assert!(!browser.text(".fields dd").await.is_empty());

        // A rest first says what leaves the heat.
        browser.tap("a[href$=rests]").await;
        browser.find(".wait").await;
        browser.tap("form[action$=rests] .main").await;
        browser
            .until("document.body.textContent.includes('Resting since')")
            .await;
        kitchen.pass(10);
        browser.goto(&page).await;
        browser.tap(".strip .main").await;
        browser
            .until("!document.body.textContent.includes('Resting since')")
            .await;

        // Called away: shown before it counts.
        browser.tap("a[href$=absences]").await;
        browser.tap("form.ask .btn").await;
        browser.find(".slip").await;
        browser.tap(".slip a.btn").await;

        // Must stop in an hour: what is dropped is told, then it is so.
        browser.tap("a[href$=stops]").await;
        browser.tap("form.ask .btn").await;
        let slip = browser.text(".slip").await;
        assert!(slip.contains("session ends at"), "{slip}");
        browser.tap(".slip .main").await;
        browser.find(".cook").await;
        browser.goto(&page).await;
        browser.find(".cook").await;
        browser
    });
}

#[test]
fn timers_count_on_and_ring_by_words_too() {
    journey(|kitchen, browser| async move {
        let run = &kitchen.week.plan.runs[0];
        let passive = run
            .acts
            .iter()
            .filter(|act| act.who.is_empty())
            .min_by_key(|act| act.start)
            .expect("something cooks by itself");
        kitchen.set(begin(&kitchen));
        let page = kitchen.page(&format!("/sessions/{}", run.session));
        browser.goto(&page).await;
        browser.tap("form[action$=beginnings] button").await;
        browser.find(".cook").await;
        let wait = passive.start.duration_since(begin(&kitchen)).as_secs() / 60;
        for _ in 0..wait {
            kitchen.pass(1);
        }
        done_so_far(&kitchen, &browser).await;
        browser.goto(&page).await;
        if browser.has("[data-left]").await {
            let before = browser.text(".timers .dig").await;
            browser
                .until(&format!(
                    "document.querySelector('.timers .dig')?.textContent!=='{before}'"
                ))
                .await;
        }
        browser
    });
}

#[test]
fn more_people_come_and_the_week_shows_what_follows_first() {
    journey(|kitchen, browser| async move {
        let dinner = kitchen
            .week
            .snapshot
            .sittings
            .iter()
            .find(|sitting| sitting.occasion == Occasion::Dinner)
            .expect("the demo has dinners");
        let plates = dinner.covers();
        browser
            .goto(&kitchen.page(&format!("/sittings/{}", dinner.id)))
            .await;
        browser.tap("a[href*='what=more']").await;
        browser.tap("input[name=allergen][value=milk]").await;
        browser.tap("form.ask .btn").await;
        browser.find("[aria-labelledby=asked], #asked").await;
        browser.tap("p.row .btn.main").await;
        let slip = browser.text(".slip").await;
        assert!(
            slip.replace('\u{a0}', " ")
                .contains(&format!("{} plates", plates + 2)),
            "{slip}"
        );
        // Until it is accepted nothing is different.
        browser.tap(".slip .main").await;
        browser
            .until(&format!("location.pathname==='/sittings/{}'", dinner.id))
            .await;
        let cards = browser
            .run("return document.querySelectorAll('.plate').length")
            .await;
        assert_eq!(cards, Value::from(plates + 2));
        browser
    });
}

fn first_dinner(kitchen: &Kitchen) -> larderwright_model::Sitting {
    let sittings = kitchen.week.snapshot.sittings.iter();
    let mut dinners = sittings.filter(|sitting| sitting.occasion == Occasion::Dinner);
    dinners.next().cloned().expect("the demo has dinners")
}

/// The first dinner for which something was cooked before.
fn cooked_dinner(kitchen: &Kitchen) -> larderwright_model::Sitting {
    let plates = &kitchen.week.plan.plates;
    let cooked = |sitting: &&larderwright_model::Sitting| {
        let own = plates.iter().filter(|plate| plate.sitting == sitting.id);
        let mut portions = own.flat_map(|plate| &plate.portions);
        portions.any(|portion| matches!(portion.source, PortionSource::Lot(_)))
    };
    let sittings = kitchen.week.snapshot.sittings.iter();
    let mut dinners = sittings.filter(|sitting| sitting.occasion == Occasion::Dinner);
    dinners.find(cooked).cloned().expect("the demo cooks for dinners")
}

#[test]
fn a_meal_that_is_not_wanted_is_replaced() {
    journey(|kitchen, browser| async move {
        let page = kitchen.page(&format!("/sittings/{}", first_dinner(&kitchen).id));
        browser.goto(&page).await;
        let before = browser.text("h1").await;
        browser.tap("a[href*='what=other']").await;
        browser.tap(".instead li:last-child a.btn").await;
        let slip = browser.text(".slip").await;
        assert!(slip.contains("something else"), "{slip}");
        browser.tap(".slip .main").await;
        browser.until("location.pathname.startsWith('/sittings/')").await;
        browser.goto(&page).await;
        assert_ne!(browser.text("h1").await, before);
        browser
    });
}

#[test]
fn tonight_something_else_comes_from_the_fridge() {
    journey(|kitchen, browser| async move {
        let dinner = first_dinner(&kitchen);
        kitchen.set(dinner.at.saturating_sub(jiff::Span::new().hours(2)));
        let page = kitchen.page(&format!("/sittings/{}", dinner.id));
        browser.goto(&page).await;
        let before = browser.text("h1").await;
        browser.tap("a[href*='what=other']").await;
        let other = browser.text(".instead li:first-child b").await;
        assert_ne!(other, before);
        browser.tap(".instead li:first-child a.btn").await;
        browser.find(".slip .main").await;
        browser.tap(".slip .main").await;
        browser.until("location.pathname.startsWith('/sittings/')").await;
        browser.goto(&page).await;
        assert_eq!(browser.text("h1").await, other);
        browser
    });
}

#[test]
fn who_eats_out_sees_what_becomes_of_the_food_first_and_takes_it_back() {
    journey(|kitchen, browser| async move {
        let dinner = cooked_dinner(&kitchen);
        kitchen.set(dinner.at.saturating_sub(jiff::Span::new().hours(2)));
        let page = kitchen.page(&format!("/sittings/{}", dinner.id));
        browser.goto(&page).await;
        browser.tap("a[href*='what=out']").await;
        let slip = browser.text(".slip").await;
        assert!(slip.contains("stays in the fridge"), "{slip}");
        browser.tap(".slip .main").await;
        let said = browser.text(".said").await;
        assert!(said.contains("nobody ate here"), "{said}");
        browser.tap(".said button").await;
        browser
            .until("document.querySelector('.said')?.textContent.includes('taken back')")
            .await;
        browser
    });
}

#[test]
fn what_stood_out_too_long_is_thrown_away_and_said_so() {
    journey(|kitchen, browser| async move {
        let dinner = first_dinner(&kitchen);
        kitchen.set(dinner.at.saturating_add(jiff::Span::new().hours(3)));
        let page = kitchen.page(&format!("/sittings/{}", dinner.id));
        browser.goto(&page).await;
        browser.tap("a[href*='what=warm']").await;
        browser
            .run("const t=document.querySelector('input[name=since]');t.value='18:00'")
            .await;
        browser
            .run("document.querySelectorAll('input[name=lot]').forEach((box,at)=>{box.checked=at===0})")
            .await;
        browser.tap("form.ask .btn").await;
        let slip = browser.text(".slip").await;
        assert!(slip.contains("longer than the guidance allows"), "{slip}");
        browser.tap(".slip .main").await;
        let said = browser.text(".said").await;
        assert!(said.contains("threw away"), "{said}");
        browser
    });
}

#[test]
fn a_look_into_the_fridge_corrects_the_books_without_script() {
    journey(|kitchen, browser| async move {
        kitchen.set(
            first_dinner(&kitchen)
                .at
                .saturating_sub(jiff::Span::new().hours(2)),
        );
        browser.script(false).await;
        browser.goto(&kitchen.page("/larder")).await;
        browser.tap(".check summary").await;
        browser.tap(".check input[value=gone]").await;
        browser.follow(".check .btn.main").await;
        let said = browser.text(".said").await;
        assert!(said.contains("1 corrected"), "{said}");
        browser
    });
}

#[test]
fn a_household_starts_from_a_pattern_and_keeps_what_was_typed() {
    larderwright_e2e::journey_in(Kitchen::empty(), |kitchen, browser| async move {
        browser.goto(&kitchen.page("/week")).await;
        browser.tap("main .btn").await;
        browser.tap("a[href*='pattern=couple']").await;
        // A mistake stays on the page with its line.
        browser
            .run("const t=document.getElementById('text');t.value=t.value.replace('time_zone','time_zoned')")
            .await;
        browser.tap("form.file .main").await;
        let wrong = browser.text(".strip.late").await;
        assert!(wrong.contains("Line"), "{wrong}");
        let kept = browser
            .run("return document.getElementById('text').value.includes('time_zoned')")
            .await;
        assert_eq!(kept, Value::Bool(true));
        browser
            .run("const t=document.getElementById('text');t.value=t.value.replace('time_zoned','time_zone')")
            .await;
        browser.tap("form.file .main").await;
        browser.until("location.pathname==='/plans'").await;
        browser.tap("main form .btn.main").await;
        browser.find("form[method=post] .btn.main").await;
        browser.find(".wk").await;
        browser.tap("form[method=post] .btn.main").await;
        browser.until("location.pathname.startsWith('/weeks/')").await;
        browser.find(".wk").await;
        browser
    });
}

#[test]
fn everything_can_be_reached_by_keyboard_alone() {
    journey(|kitchen, browser| async move {
        browser.goto(&kitchen.page("/shopping")).await;
        // The first stop leads past the rail.
        browser.press("Tab", TAB).await;
        browser.until("document.activeElement?.className==='skip'").await;
        browser.press("Enter", ENTER).await;
        browser.until("location.hash==='#main'").await;
        let mut reached = false;
        for _ in 0..80 {
            browser.press("Tab", TAB).await;
            let id = browser.run("return document.activeElement?.id||''").await;
            let outline = browser
                .run("return getComputedStyle(document.activeElement).outlineStyle")
                .await;
            assert_ne!(outline, Value::from("none"), "focus is seen at {id}");
            if id.as_str().is_some_and(|id| id.starts_with("cart-")) {
                reached = true;
                break;
            }
        }
        assert!(reached, "a line can be reached");
        browser.press(" ", SPACE).await;
        browser
            .until("document.querySelector('[id^=cart-][aria-checked=true]')||document.querySelector('.got')")
            .await;
        browser
    });
}

#[test]
fn nothing_moves_for_those_who_do_not_want_it() {
    journey(|kitchen, browser| async move {
        browser.goto(&kitchen.page("/week")).await;
        let beat = browser
            .run("return getComputedStyle(document.documentElement).getPropertyValue('--beat').trim()")
            .await;
        assert_eq!(beat, Value::from("0ms"));
        browser
    });
}
