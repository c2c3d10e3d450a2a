//! The larder: what to use first, what to freeze and pull, lots by place, the look into the fridge, and what is said of a
//! lot.

use std::collections::BTreeMap;

use axum::Form;
use axum::extract::{Query, State};
use axum::response::Redirect;
use larderwright_app::home::{Look, ShelfLot};
use larderwright_app::{HomeError, Now, Told};
use larderwright_ledger::deed::Found;
use larderwright_model::{Goods, Household, Place, WasteReason};
use larderwright_quantity::{Amount, Mass, parse_amount_for};
use larderwright_store::Store;
use larderwright_views::page::larder::{
    LarderPage, LotLine, PlacePart, Pull, Standing, Urgent, larder as view,
};
use maud::{Markup, html};
use serde::Deserialize;

use super::Answer;
use crate::Pages;
use crate::layout::{Frame, page};
use crate::pages::cooling::{rooms, why};
use crate::parts::{block, guidance, lane, named, sect, tape};
use crate::refusal::Refusal;
use crate::routes::Route;
use crate::said::{self, with};

/// The larder.
pub(crate) async fn larder<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Query(asked): Query<said::Asked>,
) -> Answer {
    let week = pages.desk.week().await?;
    let now = pages.desk.now().await?;
    let shelf = pages.desk.home().shelf(&now).await?;
    let standing: Vec<Standing> = shelf.lots.iter().map(standing).collect();
    let view = view(&week.snapshot, &week.plan, &standing, now.minute());
    Ok(render(&view, &pages.said.strip(asked, &Route::Larder)))
}

/// A lot of the books as a page shows it.
pub(crate) fn standing(lot: &ShelfLot) -> Standing {
    Standing {
        id: lot.lot.to_string(),
        name: lot.name.clone(),
        cooked: matches!(lot.goods, Some(Goods::Component(_) | Goods::Dish(_))),
        made: lot.made,
        place: lot.place,
        mass: lot.mass,
        boxes: lot.boxes.clone(),
        use_by: lot.use_by,
        source: lot.source.clone(),
        marks: lot.marks.clone(),
    }
}

/// The larder laid out.
pub(crate) fn render(view: &LarderPage, strip: &Markup) -> Markup {
    let frame = Frame::new("Larder")
        .here(Route::Larder)
        .css(&["css/larder.css", "css/positions.css"])
        .class("lard")
        .topic("larder");
    let cooked = view.places.iter().any(|place| !place.lots.is_empty());
    let body = html! {
        (block(&view.block))
        (strip)
        @if view.places.is_empty() && view.coming.is_empty() { p.lead { "Nothing is in boxes. After a session its lots stand here, by their last day." } }
        (pressing(view))
        @if !view.pulls.is_empty() {
            (sect("pull", "Pull list", "from the freezer into the fridge, on a plate"))
            ul.todos { @for pull in &view.pulls { (one_pull(pull)) } }
        }
        @if cooked { (check(view)) }
        @for (at, place) in view.places.iter().enumerate() { (one_place(place, view, at)) }
        @if !view.coming.is_empty() {
            section.place aria-labelledby="coming" {
                (sect("coming", "To be cooked", "lots as planned"))
                (days(view))
                ul { @for lot in &view.coming { (one_lot(lot, view.days.len(), false)) } }
            }
        }
        (rooms(&view.rooms))
        @if !view.ticks.is_empty() {
            details.why { summary { "At home without an amount" } (named(&view.ticks)) }
        }
        (guidance(&view.guidance))
    };
    page(&frame, &body)
}

fn pressing(view: &LarderPage) -> Markup {
    html! {
        div.first {
            section aria-labelledby="uf" {
                h2 #uf { "Use first" }
                @if view.use_first.is_empty() { p { "Nothing presses in the next two days." } }
                ul { @for lot in &view.use_first { li class=[lot.past.then_some("urgent")] { b { (lot.what) } ", " (lot.until) @if !lot.plan.is_empty() { " · " (lot.plan) } @if lot.past { (discard(lot)) } } } }
            }
            @if !view.freeze.is_empty() {
                section aria-labelledby="fr" {
                    h2 #fr { "Freeze today" }
                    ul {
                        @for lot in &view.freeze {
                            li { b { (lot.what) } ", " (lot.until) " · " (lot.plan) (button(&lot.lot, "freeze", "Into the freezer", &lot.what)) }
                        }
                    }
                }
            }
        }
    }
}

fn discard(lot: &Urgent) -> Markup {
    html! {
        form method="post" action=(Route::Deeds) data-live {
            input type="hidden" name="lot" value=(lot.lot);
            input type="hidden" name="reason" value="past-date";
            button.btn.quiet type="submit" name="do" value="throw" aria-label=(format!("Throw away: {}", lot.what)) { "Throw away" }
        }
    }
}

/// A deed with one tap.
fn button(lot: &str, word: &str, words: &str, what: &str) -> Markup {
    html! {
        form method="post" action=(Route::Deeds) data-live {
            input type="hidden" name="lot" value=(lot);
            button.btn.quiet type="submit" name="do" value=(word) aria-label=(format!("{words}: {what}")) { (words) }
        }
    }
}

fn one_pull(pull: &Pull) -> Markup {
    html! {
        li {
            span.at { (pull.todo.when) }
            div { b { (pull.todo.title) } p { (pull.todo.text) } @if pull.due { (button(&pull.lot, "thaw", "It is in the fridge", &pull.todo.title)) } }
        }
    }
}

/// One form for a look at everything that was cooked: there, half, gone.
fn check(view: &LarderPage) -> Markup {
    let lots = || {
        view.places
            .iter()
            .flat_map(|place| place.lots.iter().map(move |lot| (place, lot)))
    };
    html! {
        details.check {
            summary { span { "Fridge check: one minute, " b { "there, half or gone" } } }
            form method="post" action=(Route::Looks) data-live {
                ul {
                    @for (at, (place, lot)) in lots().enumerate() {
                        li {
                            fieldset {
                                legend { (lot.name) " " small { (lot.boxes) " · " (place.name.to_lowercase()) } }
                                input type="hidden" name=(format!("lot{at}")) value=(lot.id);
                                @for word in ["there", "half", "gone"] {
                                    label.ck0 { input type="radio" name=(format!("found{at}")) value=(word); " " (word) }
                                }
                            }
                        }
                    }
                }
                p.note { "What you leave open stays as the books have it." }
                p.row { button.btn.main type="submit" { "That is what is there" } }
            }
        }
    }
}

fn days(view: &LarderPage) -> Markup {
    html! {
        div class=(format!("daysr n{}", view.days.len())) aria-hidden="true" {
            span {} span {}
            ol { @for day in &view.days { li { (day) } } }
            span {}
        }
    }
}

fn one_place(place: &PlacePart, view: &LarderPage, at: usize) -> Markup {
    let id = format!("p{at}");
    html! {
        section.place aria-labelledby=(id) {
            (sect(&id, &place.name, &place.cold))
            @if !place.lots.is_empty() {
                (days(view))
                ul { @for lot in &place.lots { (one_lot(lot, view.days.len(), true)) } }
            }
            @if !place.foods.is_empty() {
                ul.bought aria-label=(format!("{}: as bought", place.name)) { @for lot in &place.foods { (one_food(lot)) } }
            }
        }
    }
}

fn one_lot(lot: &LotLine, days: usize, real: bool) -> Markup {
    let class = match (lot.last_day, lot.frozen) {
        (true, _) => "lot urgent",
        (false, true) => "lot fz",
        (false, false) => "lot",
    };
    html! {
        li class=(format!("{class} n{days}")) id=(format!("lot-{}", lot.id)) {
            (tape(&lot.name, &lot.dates))
            div.facts {
                b { (lot.boxes) }
                span { (lot.plan) }
                @if !lot.mind.is_empty() { em { (lot.mind) } }
            }
            (lane(&lot.lane))
            @if real { (say(lot)) } @else { p.yet { "to be cooked" } (why(&lot.source)) }
        }
    }
}

fn one_food(lot: &LotLine) -> Markup {
    html! {
        li class=[lot.last_day.then_some("urgent")] id=(format!("lot-{}", lot.id)) {
            div.facts { b { (lot.name) ", " (lot.boxes) } span { (lot.dates) } @if !lot.mind.is_empty() { em { (lot.mind) } } }
            (say(lot))
        }
    }
}

/// What can be said of a lot, and why it has its date.
fn say(lot: &LotLine) -> Markup {
    let of = |words: &str| format!("{words}: {}, {}, {}", lot.name, lot.boxes, lot.dates);
    let act = |word: &str, words: &str| {
        html! { button.btn.quiet type="submit" name="do" value=(word) aria-label=(of(words)) { (words) } }
    };
    html! {
        details.say {
            summary aria-label=(of("Say something")) { "Say something" }
            form method="post" action=(Route::Deeds) data-live {
                input type="hidden" name="lot" value=(lot.id);
                div.row {
                    (act("open", "Opened"))
                    @if lot.frozen { (act("thaw", "Into the fridge")) } @else { (act("freeze", "Into the freezer")) }
                    (act("warm", "Warmed, put back"))
                }
                div.ask {
                    label { "Amount " input type="text" name="amount" size="8" placeholder="all of it" autocomplete="off" aria-label=(of("Amount")); }
                    (act("weigh", "This much is there"))
                    (act("give", "Given away"))
                }
                div.ask {
                    label { "Why " select name="reason" aria-label=(of("Why")) { @for (word, _) in WasteReason::WORDS { option value=(word) { (plain(word)) } } } }
                    (act("throw", "Throw away"))
                }
            }
            @if !lot.source.is_empty() { p.note { "Its date: " cite { (lot.source) } } }
        }
    }
}

fn plain(word: &str) -> String {
    word.replace('-', " ")
}

/// What somebody says of a lot.
#[derive(Debug, Deserialize)]
pub(crate) struct Said {
    lot: String,
    #[serde(rename = "do")]
    what: String,
    #[serde(default)]
    amount: String,
    reason: Option<String>,
}

/// An amount as a cook writes it; none means all.
pub(crate) fn mass(text: &str, household: &Household) -> Result<Option<Mass>, Refusal> {
    let text = text.trim();
    if text.is_empty() {
        return Ok(None);
    }
    match parse_amount_for(text, household.system) {
        Ok(Amount::Mass(mass)) => Ok(Some(mass)),
        Ok(_) => Err(Refusal::form(
            format!("`{text}` is no weight."),
            "Write it as the scale shows it, as in 300 g or 10 oz.",
        )),
        Err(error) => Err(Refusal::form(format!("{error}."), error.help())),
    }
}

/// Writes down what is said of a lot.
pub(crate) async fn deeds<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Form(said): Form<Said>,
) -> Result<Redirect, Refusal> {
    let household = pages
        .desk
        .household()
        .await?
        .ok_or(crate::desk::DeskError::NoHousehold)?;
    let now = pages.desk.now().await?;
    pages.desk.settle(&now).await?;
    let mass = mass(&said.amount, &household)?;
    let told = told(&pages, &said, (mass, &now)).await?;
    let number = pages.noted("larder", told);
    Ok(Redirect::to(&with(&Route::Larder, number)))
}

async fn told<S: Store + 'static>(
    pages: &Pages<S>,
    said: &Said,
    (mass, now): (Option<Mass>, &Now),
) -> Result<Told, Refusal> {
    let (home, lot) = (pages.desk.home(), said.lot.as_str());
    let answer: Result<Told, HomeError> = match said.what.as_str() {
        "open" => home.opened(lot, now).await,
        "freeze" => home.moved(lot, Place::Freezer, now).await,
        "thaw" => home.moved(lot, Place::Fridge, now).await,
        "warm" => home.reheated(lot, now).await,
        "give" => home.gave(lot, mass, "", now).await,
        "weigh" => match mass {
            Some(mass) => home.stocktake(lot, mass, now).await,
            None => {
                return Err(Refusal::form(
                    "How much is there?",
                    "Write an amount, as in 300 g; what is gone is thrown away, given away or said in the fridge check.",
                ));
            }
        },
        "throw" => {
            let reason = said.reason.as_deref().and_then(reason);
            let reason = reason.ok_or_else(|| Refusal::form("Why is it thrown away?", "Choose a reason."))?;
            home.discarded(lot, mass, reason, now).await
        }
        _ => return Err(Refusal::form("This is not understood.", "Load the page again.")),
    };
    Ok(answer?)
}

fn reason(word: &str) -> Option<WasteReason> {
    let mut words = WasteReason::WORDS.iter();
    words.find(|(known, _)| *known == word).map(|(_, reason)| *reason)
}

/// The most lots of one look.
const LOOKS_MAX: usize = 200;

/// Writes a look into fridge and freezer down.
pub(crate) async fn looks<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Form(fields): Form<BTreeMap<String, String>>,
) -> Result<Redirect, Refusal> {
    let now = pages.desk.now().await?;
    pages.desk.settle(&now).await?;
    let looks: Vec<Look> = (0..LOOKS_MAX)
        .filter_map(|at| {
            let lot = fields.get(&format!("lot{at}"))?;
            let found = match fields.get(&format!("found{at}"))?.as_str() {
                "there" => Found::There,
                "half" => Found::Half,
                "gone" => Found::Gone,
                _ => return None,
            };
            Some(Look {
                name: lot.clone(),
                found,
            })
        })
        .collect();
    if looks.is_empty() {
        return Err(Refusal::form(
            "Nothing was said of any lot.",
            "Choose there, half or gone for those you looked at.",
        ));
    }
    let told = pages.desk.home().checked(&looks, &now).await?;
    let number = pages.noted("larder", told);
    Ok(Redirect::to(&with(&Route::Larder, number)))
}
