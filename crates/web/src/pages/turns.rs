//! Turns of an evening: what is asked, what would happen to the food, and what is written down once it is accepted.

use std::sync::Arc;

use axum::Form;
use axum::extract::{Path, Query, State};
use axum::response::Redirect;
use jiff::civil::{DateTime, Time};
use larderwright_app::{Now, Told};
use larderwright_ledger::Subject;
use larderwright_model::{Allergen, Fact, Place, Reported, Sitting, SittingId, WasteReason};
use larderwright_store::Store;
use larderwright_views::page::Block;
use larderwright_views::page::larder::Standing;
use larderwright_views::page::turns::{Evening, Turn};
use maud::{Markup, html};

use super::Answer;
use super::larder::standing;
use super::sitting::week_with;
use crate::Pages;
use crate::desk::Week;
use crate::drafts::{GUESTS_MAX, chosen};
use crate::layout::{Frame, page};
use crate::marks::{Entry, Mark};
use crate::parts::{block, guidance, sect, slip, told};
use crate::refusal::Refusal;
use crate::routes::Route;
use crate::said::with;

/// What a form of a turn sends; a key may come several times.
type Fields = Vec<(String, String)>;

/// The turns by the words of their addresses, with the words of their buttons.
pub(crate) const TURNS: [(&str, &str); 8] = [
    ("other", "Not this"),
    ("out", "Eating out"),
    ("gone", "Someone ate it"),
    ("more", "More people"),
    ("late", "Somebody eats later"),
    ("frozen", "Forgot to pull"),
    ("warm", "Left out"),
    ("power", "Power cut"),
];

/// A sitting with all that is looked at for a turn.
pub(crate) struct Table {
    pub(crate) week: Arc<Week>,
    sitting: Sitting,
    standing: Vec<Standing>,
    now: Now,
    /// Somebody said what was eaten.
    pub(crate) reported: bool,
}

impl Table {
    pub(crate) async fn of<S: Store + 'static>(pages: &Pages<S>, id: &str) -> Result<Self, Refusal> {
        let id = SittingId::new(id);
        let week = week_with(pages, &id).await?;
        let now = pages.desk.now().await?;
        let shelf = pages.desk.home().shelf(&now).await?;
        let sitting = week.snapshot.sitting(&id).cloned();
        let events = pages
            .desk
            .home()
            .store()
            .events_about(&Subject::Sitting(id.clone()))
            .await?;
        let said =
            |fact: &Fact| matches!(fact, Fact::Served(served) if served.reported != Reported::Presumed);
        Ok(Self {
            reported: events.iter().any(|event| said(&event.fact)),
            sitting: sitting
                .ok_or_else(|| Refusal::missing(format!("There is no sitting `{id}` in this week.")))?,
            standing: shelf.lots.iter().map(standing).collect(),
            week,
            now,
        })
    }

    pub(crate) fn evening(&self) -> Evening<'_> {
        Evening {
            snapshot: &self.week.snapshot,
            plan: &self.week.plan,
            sitting: &self.sitting,
            standing: &self.standing,
            now: self.now.minute(),
        }
    }

    /// Its time has come.
    pub(crate) fn over(&self) -> bool {
        self.sitting.leaves_fridge() <= self.now.minute()
    }

    fn id(&self) -> String {
        self.sitting.id.to_string()
    }
}

fn one<'a>(fields: &'a Fields, name: &str) -> Option<&'a str> {
    let found = fields
        .iter()
        .find(|(key, value)| key == name && !value.is_empty());
    found.map(|(_, value)| value.as_str())
}

fn all(fields: &Fields, name: &str) -> Vec<String> {
    fields
        .iter()
        .filter(|(key, _)| key == name)
        .map(|(_, value)| value.clone())
        .collect()
}

fn time(text: &str) -> Option<Time> {
    let (hour, minute) = text.split_once(':')?;
    Time::new(hour.parse().ok()?, minute.parse().ok()?, 0, 0).ok()
}

/// The last time the clock stood there.
fn since(text: Option<&str>, now: DateTime) -> Option<DateTime> {
    let at = now.date().to_datetime(time(text?)?);
    Some(if at > now {
        at.saturating_sub(jiff::Span::new().days(1))
    } else {
        at
    })
}

/// Where an hour ago stood, as a form wants it.
fn hour_ago(now: DateTime) -> String {
    clock(now.saturating_sub(jiff::Span::new().hours(1)))
}

fn clock(at: DateTime) -> String {
    format!("{:02}:{:02}", at.hour(), at.minute())
}

/// A turn: what is asked, and what would follow.
pub(crate) async fn turn<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Path(id): Path<String>,
    Query(fields): Query<Fields>,
) -> Answer {
    let table = Table::of(&pages, &id).await?;
    let what = one(&fields, "what").unwrap_or("");
    let name = TURNS.iter().find(|(word, _)| *word == what);
    let (_, name) = name.ok_or_else(|| Refusal::missing("There is no such turn."))?;
    let shown = match what {
        "other" => others(&pages, &table).await?,
        "out" => proposed(&table, "out", &table.evening().out(), &[]),
        "gone" => html! { (lots(&table, (what, &fields), &html! {})) (when_chosen(&table, what, &fields)) },
        "more" => more(&table, &fields),
        "late" => late(&table, &fields),
        "frozen" => frozen(&table),
        "warm" => {
            html! { (lots(&table, (what, &fields), &since_field(&table, &fields, "Out since"))) (when_chosen(&table, what, &fields)) }
        }
        _ => html! {
            form.ask method="get" action=(Route::Turns(table.id())) { (asked(what)) (since_field(&table, &fields, "No power since")) button.btn type="submit" { "Show what follows" } }
            (when_chosen(&table, what, &fields))
        },
    };
    let frame = Frame::new(*name)
        .here(Route::Tonight)
        .css(&["css/larder.css"])
        .class("ton");
    let sub = larderwright_views::page::changes::sitting_words(&table.week.snapshot, &table.week.plan, &id);
    let body = html! {
        (block(&Block { title: (*name).to_owned(), sub, fields: Vec::new() }))
        (shown)
        p.row.noprint { a.btn.quiet href=(Route::Sitting(id.clone())) { "Back to the sitting" } }
        (guidance(&larderwright_views::guidance(&table.week.snapshot, &table.week.plan)))
    };
    Ok(page(&frame, &body))
}

fn asked(what: &str) -> Markup {
    html! { input type="hidden" name="what" value=(what); input type="hidden" name="show" value="yes"; }
}

fn since_field(table: &Table, fields: &Fields, words: &str) -> Markup {
    let value = one(fields, "since").map_or_else(|| hour_ago(table.now.minute()), str::to_owned);
    html! { label { (words) " " input type="time" name="since" required value=(value); } }
}

/// Lots to be chosen from.
fn lots(table: &Table, (what, fields): (&str, &Fields), more: &Markup) -> Markup {
    let ticked = all(fields, "lot");
    let first = one(fields, "show").is_none();
    let choices: Vec<_> = table
        .evening()
        .choices()
        .into_iter()
        .filter(|choice| what != "warm" || !choice.frozen)
        .collect();
    html! {
        form.ask method="get" action=(Route::Turns(table.id())) {
            (asked(what))
            fieldset.choices {
                legend { "Which" }
                @if choices.is_empty() { p.note { "Nothing that was cooked is in the house." } }
                @for choice in &choices {
                    @let on = ticked.contains(&choice.lot) || (first && choice.tonight && what == "warm");
                    label.ck0 { input type="checkbox" name="lot" value=(choice.lot) checked[on]; " " (choice.words) @if choice.tonight { " " small { "for this sitting" } } }
                }
            }
            (more)
            @if !choices.is_empty() { button.btn type="submit" { "Show what follows" } }
        }
    }
}

/// What follows, once enough is said.
fn when_chosen(table: &Table, what: &str, fields: &Fields) -> Markup {
    if one(fields, "show").is_none() {
        return html! {};
    }
    let evening = table.evening();
    let chosen = all(fields, "lot");
    let from = since(one(fields, "since"), table.now.minute());
    let mut send: Vec<(&str, String)> = chosen.iter().map(|lot| ("lot", lot.clone())).collect();
    if let Some(since) = one(fields, "since") {
        send.push(("since", since.to_owned()));
    }
    match (what, from) {
        ("gone", _) if !chosen.is_empty() => proposed(table, what, &evening.gone(&chosen), &send),
        ("warm", Some(from)) if !chosen.is_empty() => {
            proposed(table, what, &evening.warm(&chosen, from), &send)
        }
        ("power", Some(from)) => {
            let turn = evening.power(from);
            if evening.spoiled(from).is_empty() {
                html! { (laid(&turn, &html! { p { "Nothing has to be written down yet. Keep both doors shut." } })) }
            } else {
                proposed(table, what, &turn, &send)
            }
        }
        _ => html! { p.strip { "Choose at least one." } },
    }
}

/// A turn on a slip, with what is sent when it is accepted.
fn proposed(table: &Table, what: &str, turn: &Turn, fields: &[(&str, String)]) -> Markup {
    let accept = match what {
        "power" => "Throw away what stood warm",
        "warm" => "Write it down",
        _ => "So it is",
    };
    let throws = what == "warm"
        && fields
            .iter()
            .find(|(name, _)| *name == "since")
            .and_then(|(_, text)| since(Some(text), table.now.minute()))
            .is_some_and(|from| table.evening().too_long(table.evening().minutes_since(from)));
    let buttons = html! {
        form method="post" action=(Route::Turns(table.id())) {
            input type="hidden" name="what" value=(what);
            @for (name, value) in fields { input type="hidden" name=(name) value=(value); }
            div.row {
                @if throws { button.btn.main type="submit" name="throw" value="yes" { "Throw it away" } }
                button class=(if throws { "btn" } else { "btn main" }) type="submit" { (accept) }
                a.btn href=(Route::Sitting(table.id())) { "Leave it" }
            }
        }
    };
    laid(turn, &buttons)
}

fn laid(turn: &Turn, buttons: &Markup) -> Markup {
    html! {
        (slip("If so", &html! { (turn.title) }, &turn.rows, buttons))
        @if !turn.told.is_empty() { (sect("says", "What guidance says", "")) (told(&turn.told)) }
    }
}

/// Three other plates from what is there.
async fn others<S: Store + 'static>(pages: &Pages<S>, table: &Table) -> Result<Markup, Refusal> {
    let week = &table.week;
    let Some(meal) = chosen(&week.plan, &table.sitting.id) else {
        return Ok(html! { p.lead { "Nothing is planned here." } });
    };
    let (changes, _) = pages.desk.home().changes(week.monday).await?;
    let found = pages
        .desk
        .home()
        .instead((week.monday, &changes), (&table.sitting.id, meal), 3, &table.now)
        .await?;
    let change = |meal: Option<&str>| {
        let meal = meal.map_or_else(String::new, |meal| format!("&meal={meal}"));
        format!(
            "{}?do=meal&show=yes&sitting={}&back={}{meal}",
            Route::Changes,
            table.id(),
            table.id()
        )
    };
    Ok(html! {
        @if found.is_empty() { p.lead { "Nothing else can be put together from what is thawed or in the fridge." } }
        @else { p.lead { "From what is thawed or in the fridge, within this sitting’s minutes:" } }
        ul.instead {
            @for other in &found {
                @let view = larderwright_views::page::sitting::sitting(&other.snapshot, &other.plan, &table.sitting.id);
                li {
                    div {
                        b { (other.name) } " " span.hot { (other.minutes) "\u{a0}min" }
                        @if let Some(view) = &view { span.why { @for (at, lot) in view.take_out.tapes.iter().enumerate() { @if at > 0 { ", " } (lot.name.to_lowercase()) } @if !view.take_out.fresh.is_empty() { " · fresh: " (view.take_out.fresh.join(", ")) } } }
                    }
                    a.btn href=(change(Some(other.meal.as_str()))) { "Show what follows" }
                }
            }
            li { div { b { "Whatever else fits the week best" } span.why { "may be bought or cooked for" } } a.btn href=(change(None)) { "Show what follows" } }
        }
    })
}

/// More people: who, and what they may not eat.
fn more(table: &Table, fields: &Fields) -> Markup {
    let guests = table.sitting.guests;
    let count: u32 = one(fields, "count")
        .and_then(|count| count.parse().ok())
        .unwrap_or(2)
        .min(GUESTS_MAX);
    let named = all(fields, "allergen");
    let allergens: Vec<Allergen> = Allergen::ALL
        .into_iter()
        .filter(|known| named.iter().any(|name| name == known.word()))
        .collect();
    let rows = table.evening().guests(&allergens);
    html! {
        form.ask method="get" action=(Route::Turns(table.id())) {
            (asked("more"))
            label { "How many more " input type="number" name="count" min="1" max=(GUESTS_MAX) value=(count) inputmode="numeric"; }
            fieldset.choices {
                legend { "What may none of them eat? Ask them." }
                @for allergen in Allergen::ALL {
                    label.ck0 { input type="checkbox" name="allergen" value=(allergen.word()) checked[allergens.contains(&allergen)]; " " (allergen.word().replace('-', " ")) }
                }
            }
            button.btn type="submit" { "Show what follows" }
        }
        @if one(fields, "show").is_some() {
            @if !rows.is_empty() { (sect("asked", "For what they told you", "on the plates of this sitting")) dl.named { @for (name, words) in &rows { div { dt { (name) } dd { (words) } } } } }
            p.note { "A guest’s plate is never shown as cleared: what you were told is not written down, and labels differ by brand." }
            p.row { a.btn.main href=(format!("{}?do=guests&show=yes&sitting={}&back={}&count={}", Route::Changes, table.id(), table.id(), guests + count)) { "See the week with " (count) " more" } }
        }
    }
}

/// Who eats later, and when.
fn late(table: &Table, fields: &Fields) -> Markup {
    let household = &table.week.snapshot.household;
    let who = one(fields, "eater");
    let usual = table.sitting.at.saturating_add(jiff::Span::new().hours(2));
    let at = one(fields, "at")
        .and_then(time)
        .map(|time| table.sitting.at.date().to_datetime(time));
    html! {
        form.ask method="get" action=(Route::Turns(table.id())) {
            (asked("late"))
            fieldset.choices {
                legend { "Who" }
                @for id in &table.sitting.eaters { label.ck0 { input type="radio" name="eater" value=(id) required checked[who == Some(id.as_str())]; " " (household.eater(id).map_or(id.as_str(), |eater| &eater.name)) } }
            }
            label { "Eats at " input type="time" name="at" required value=(clock(at.unwrap_or(usual))); }
            button.btn type="submit" { "Show what follows" }
        }
        @if let (Some(id), Some(at)) = (who, at) {
            @let name = household.eater(&id.into()).map_or(id, |eater| &eater.name);
            (proposed(table, "late", &table.evening().late(name, at), &[("eater", id.to_owned()), ("at", clock(at))]))
        }
    }
}

/// What is still frozen, and the ways out.
fn frozen(table: &Table) -> Markup {
    let turn = table.evening().frozen();
    if turn.rows.is_empty() {
        return html! { p.lead { "Nothing of this sitting is in the freezer." } };
    }
    let buttons = html! {
        form method="post" action=(Route::Turns(table.id())) {
            input type="hidden" name="what" value="frozen";
            div.row {
                button.btn.main type="submit" { "It is out of the freezer now" }
                a.btn href=(format!("{}?what=other", Route::Turns(table.id()))) { "Another plate" }
                a.btn href=(Route::Sitting(table.id())) { "Leave it" }
            }
        }
    };
    laid(&turn, &buttons)
}

/// A plate is kept back for somebody.
async fn kept_back<S: Store + 'static>(
    pages: &Pages<S>,
    table: &Table,
    fields: &Fields,
) -> Result<Told, Refusal> {
    let (eater, at) = (one(fields, "eater"), one(fields, "at").and_then(time));
    let (Some(eater), Some(at)) = (eater, at) else {
        return Err(Refusal::form(
            "Who eats later, and when?",
            "Choose somebody and a time.",
        ));
    };
    let mark = Mark::Later {
        sitting: table.id(),
        eater: eater.to_owned(),
        at: table.sitting.at.date().to_datetime(at),
    };
    let entry = Entry {
        id: pages.fresh_id(),
        at: table.now.moment.at,
        mark,
    };
    pages.desk.mark(entry).await?;
    Ok(Told {
        lines: vec!["their plate is kept back".into()],
        ..Told::default()
    })
}

/// Writes down a turn that was accepted.
pub(crate) async fn accept<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Path(id): Path<String>,
    Form(fields): Form<Fields>,
) -> Result<Redirect, Refusal> {
    let table = Table::of(&pages, &id).await?;
    let told = taken(&pages, &table, &fields).await?;
    let number = pages.noted("all", told);
    Ok(Redirect::to(&with(&Route::Sitting(id), number)))
}

async fn taken<S: Store + 'static>(
    pages: &Pages<S>,
    table: &Table,
    fields: &Fields,
) -> Result<Told, Refusal> {
    let (home, now) = (pages.desk.home(), &table.now);
    let evening = table.evening();
    let from = since(one(fields, "since"), now.minute());
    let mut told = Told::default();
    match (one(fields, "what").unwrap_or(""), from) {
        ("out", _) => told = home.skipped(&table.id(), now).await?,
        ("gone", _) => {
            let found = larderwright_ledger::deed::Found::Gone;
            let looks = all(fields, "lot")
                .into_iter()
                .map(|name| larderwright_app::home::Look { name, found });
            told = home.checked(&looks.collect::<Vec<_>>(), now).await?;
        }
        ("late", _) => told = kept_back(pages, table, fields).await?,
        ("frozen", _) => {
            let frozen = evening
                .choices()
                .into_iter()
                .filter(|choice| choice.tonight && choice.frozen);
            for choice in frozen {
                told = told.and(home.moved(&choice.lot, Place::Fridge, now).await?);
            }
        }
        ("warm", Some(from)) => {
            let minutes = evening.minutes_since(from);
            for lot in all(fields, "lot") {
                told = told.and(home.left_out(&lot, minutes, now).await?);
                if one(fields, "throw").is_some() {
                    told = told.and(home.discarded(&lot, None, WasteReason::LeftOut, now).await?);
                }
            }
        }
        ("power", Some(from)) => {
            for lot in evening.spoiled(from) {
                told = told.and(home.discarded(&lot, None, WasteReason::PowerCut, now).await?);
            }
        }
        _ => {
            return Err(Refusal::form(
                "This is not understood.",
                "Load the sitting again.",
            ));
        }
    }
    Ok(told)
}
