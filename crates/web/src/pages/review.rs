//! The look back: a week's figures, what was thrown away, what was learnt, prices, and what was said lately.

use axum::Form;
use axum::extract::{Query, State};
use axum::response::Redirect;
use jiff::civil::Date;
use larderwright_app::home::{Said, WeekReview};
use larderwright_ledger::prices::Paid;
use larderwright_model::{EventId, WasteReason};
use larderwright_store::Store;
use larderwright_views::Words;
use larderwright_views::page::Named;
use larderwright_views::page::review::{Happened, ReviewPage, review as view};
use maud::{Markup, html};
use serde::Deserialize;

use super::Answer;
use crate::Pages;
use crate::desk::Week;
use crate::layout::{Frame, page};
use crate::parts::{block, named, sect, told};
use crate::refusal::Refusal;
use crate::routes::Route;
use crate::said;

/// Which week, and what was said just now.
#[derive(Clone, Copy, Debug, Default, Deserialize)]
pub(crate) struct Asked {
    monday: Option<Date>,
    #[serde(default)]
    more: Option<u16>,
}

/// Lines of the history that are shown at first, and at most.
const LINES: usize = 30;
const LINES_MAX: u16 = 500;

/// The review of a week.
pub(crate) async fn review<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Query(asked): Query<Asked>,
    Query(noted): Query<said::Asked>,
) -> Answer {
    let week = match asked.monday {
        Some(monday) => pages.desk.week_of(monday).await?,
        None => None,
    };
    let week = match week {
        Some(week) => week,
        None => pages.desk.week().await?,
    };
    let looked = pages.desk.review(week.monday).await?;
    let history = pages
        .desk
        .home()
        .said_lately(asked.more.map_or(LINES, |more| usize::from(more.min(LINES_MAX))))
        .await?;
    let weeks = pages.desk.home().store().weeks().await?;
    let page = Page {
        view: view(&week.snapshot, &week.plan, &happened(&week, &looked.0, looked.2)),
        prices: price_rows(&looked.1, &week),
        monday: week.monday,
        weeks,
        strip: pages.said.strip(noted, &Route::Review),
        history,
    };
    Ok(render(&page))
}

struct Page {
    view: ReviewPage,
    prices: Vec<Named>,
    monday: Date,
    weeks: Vec<Date>,
    strip: Markup,
    history: Vec<Said>,
}

/// The review of the books as the page wants it.
fn happened(week: &Week, looked: &WeekReview, closed: bool) -> Happened {
    let review = &looked.review;
    let reason = |wanted: WasteReason| {
        let mut words = WasteReason::WORDS.iter();
        let found = words.find(|(_, reason)| *reason == wanted);
        found.map_or("", |(word, _)| word).replace('-', " ")
    };
    let title = |id: &larderwright_model::SessionId| {
        let session = week.snapshot.session(id);
        session.map_or_else(
            || format!("Session of {id}"),
            larderwright_views::page::session::session_title,
        )
    };
    Happened {
        plates: review.covers,
        presumed: review.covers_presumed,
        spent: (review.spent.minor() > 0).then_some(review.spent),
        estimated: !review.spent_known,
        eaten_worth: review.eaten.worth,
        waste: review
            .waste
            .iter()
            .map(|waste| {
                let name = larderwright_app::home::name_of_goods(&waste.goods);
                (name, reason(waste.reason), waste.held.mass, waste.held.worth)
            })
            .collect(),
        unaccounted: review.unaccounted.mass,
        given: review.given.mass,
        sessions: review
            .hours
            .iter()
            .map(|hours| (title(&hours.session), hours.planned, hours.real))
            .collect(),
        learnt: looked.learnt.clone(),
        closed,
    }
}

fn price_rows(prices: &[Paid], week: &Week) -> Vec<Named> {
    let words = Words::of(&week.snapshot.household);
    let name = |paid: &Paid| {
        larderwright_app::home::name_of_goods(&larderwright_model::Goods::Food(paid.food.clone()))
    };
    let row = |paid: &Paid| Named::new(format!("{}, {}", name(paid), paid.pack), words.money(paid.price));
    prices.iter().map(row).collect()
}

/// The review laid out.
fn render(shown: &Page) -> Markup {
    let view = &shown.view;
    let frame = Frame::new("Review")
        .here(Route::Review)
        .css(&["css/table.css"])
        .topic("all");
    let body = html! {
        (block(&view.block))
        (shown.strip)
        @if shown.weeks.len() > 1 {
            nav.turn aria-label="Other weeks" {
                @for monday in &shown.weeks {
                    a href=(format!("{}?monday={monday}", Route::Review)) aria-current=[(*monday == shown.monday).then_some("page")] { "Week of " (larderwright_views::day(*monday)) }
                }
            }
        }
        (figures(view))
        p.note { (view.words) }
        @if !view.waste.is_empty() { (sect("waste", "Thrown away", "")) (told(&view.waste)) }
        (sect("learnt", "Learnt", "for the weeks to come"))
        @if view.learnt.is_empty() { p.note { "Nothing yet: a weighed batch or a meal that was reported teaches; what is presumed does not." } }
        ul.notes { @for line in &view.learnt { li { (line) } } }
        section.noprint aria-labelledby="close" {
            (sect("close", "Close the week", "what nobody reported is presumed as planned"))
            @if view.closed { p.note { "This week is closed. What is said later still counts." } }
            @else {
                form method="post" action=(Route::Closings) {
                    input type="hidden" name="monday" value=(shown.monday);
                    p.row { button.btn type="submit" { "Close this week" } }
                }
            }
        }
        @if !shown.prices.is_empty() { details.why { summary { "Prices paid last" } (named(&shown.prices)) } }
        (history(shown))
    };
    page(&frame, &body)
}

fn figures(view: &ReviewPage) -> Markup {
    let happened = view.rows.iter().any(|row| !row.happened.is_empty());
    html! {
        section.tb {
            table role="table" aria-label="Planned and reported" {
                thead role="rowgroup" { tr role="row" {
                    th role="columnheader" scope="col" { "What" } th.r role="columnheader" scope="col" { "Planned" }
                    @if happened { th.r role="columnheader" scope="col" { "Happened" } }
                } }
                tbody role="rowgroup" {
                    @for row in &view.rows {
                        tr role="row" {
                            th role="rowheader" scope="row" { (row.name) }
                            td.r role="cell" data-name="Planned" { (row.planned) }
                            @if happened { td.r role="cell" data-name="Happened" { (row.happened) } }
                        }
                    }
                }
            }
        }
    }
}

/// What was said lately, each with a way to take it back.
fn history(shown: &Page) -> Markup {
    html! {
        (sect("history", "What was said lately", "newest first"))
        @if shown.history.is_empty() { p.note { "Nothing was said yet." } }
        ul.history {
            @for said in &shown.history {
                li class=[(!said.counts).then_some("out")] {
                    span.at { (said.when) }
                    div { @if said.counts { (said.line) } @else { del { (said.line) } " " small { "taken back or corrected" } } }
                    @if said.counts && !said.undoing {
                        form method="post" action=(Route::Undoings) data-live {
                            input type="hidden" name="event" value=(said.id);
                            input type="hidden" name="back" value=(Route::Review);
                            button.btn.quiet type="submit" aria-label=(format!("Take back: {}, {}", said.line, said.when)) { "Take back" }
                        }
                    }
                }
            }
        }
        @if shown.history.len() >= LINES { p.row.noprint { a.btn.quiet href=(format!("{}?monday={}&more={LINES_MAX}", Route::Review, shown.monday)) { "Show more" } } }
    }
}

/// Which week is closed.
#[derive(Debug, Deserialize)]
pub(crate) struct Closing {
    monday: Date,
}

/// Closes a week.
pub(crate) async fn closings<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Form(closing): Form<Closing>,
) -> Result<Redirect, Refusal> {
    let now = pages.desk.now().await?;
    let (told, _) = pages.desk.home().close(closing.monday, &now).await?;
    pages.desk.changed().await;
    let number = pages.noted("all", told);
    Ok(Redirect::to(&format!(
        "{}?monday={}&said={number}",
        Route::Review,
        closing.monday
    )))
}

/// What is taken back.
#[derive(Debug, Deserialize)]
pub(crate) struct Undoing {
    event: Option<String>,
    said: Option<u64>,
    back: String,
}

/// Pages that can be gone back to.
const BACK: [&str; 5] = ["/larder", "/review", "/shopping", "/sittings/", "/sessions/"];

/// Takes back what was said.
pub(crate) async fn undoings<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Form(undoing): Form<Undoing>,
) -> Result<Redirect, Refusal> {
    let now = pages.desk.now().await?;
    let events = match (&undoing.event, undoing.said) {
        (Some(event), _) => vec![EventId::new(event)],
        (None, Some(number)) => pages.said.events(number),
        (None, None) => Vec::new(),
    };
    let mut told = pages.desk.home().take_back(&events, &now).await?;
    // Taking back what was taken back is what the history is for.
    told.events.clear();
    pages.desk.changed().await;
    let number = pages.noted("all", told);
    Ok(Redirect::to(&format!("{}?said={number}", back(&undoing.back))))
}

/// A page of ours, whatever a form says.
fn back(text: &str) -> &str {
    let plain = text
        .bytes()
        .all(|byte| byte.is_ascii_alphanumeric() || matches!(byte, b'/' | b'-' | b'_' | b'%' | b'.'));
    let ours = BACK
        .iter()
        .any(|page| text == *page || (page.ends_with('/') && text.starts_with(page)));
    if plain && ours { text } else { "/review" }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn going_back_never_leaves_our_pages() {
        assert_eq!(back("/sittings/2026-11-30-dinner"), "/sittings/2026-11-30-dinner");
        for text in [
            "//example.org/",
            "https://example.org",
            "/sittings/\r\nlocation: x",
            "",
            "/nothing",
        ] {
            assert_eq!(back(text), "/review", "{text}");
        }
    }
}
