//! The household's file: started from a pattern, read and changed as text. What is typed stays on the page with every
//! mistake at its line until it can be kept.

use axum::Form;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use larderwright_app::HomeError;
use larderwright_records::Problem;
use larderwright_records::household::{PATTERNS, pattern};
use larderwright_store::Store;
use larderwright_views::page::Block;
use maud::{Markup, html};
use serde::Deserialize;

use super::Answer;
use crate::Pages;
use crate::layout::{Frame, page};
use crate::parts::{block, sect};
use crate::refusal::Refusal;
use crate::routes::Route;

/// What to start from.
#[derive(Debug, Default, Deserialize)]
pub(crate) struct Asked {
    pattern: Option<String>,
}

/// The file as it was typed.
#[derive(Debug, Deserialize)]
pub(crate) struct Typed {
    text: String,
    /// The version that was being changed; 0 for the first.
    version: u32,
}

/// Patterns to start from, for a house of which nothing is known yet.
pub(crate) fn start() -> Markup {
    let body = html! {
        (block(&Block { title: "Start a household".into(), sub: "one text file: who eats, the kitchen, the usual week".into(), fields: Vec::new() }))
        p.lead { "Take the pattern that is most like you. You get its text to change: names, allergies, pots, the days of shopping and cooking. Nothing is kept before you say so." }
        ul.starts {
            @for each in PATTERNS {
                li {
                    a.btn href=(format!("{}?pattern={}", Route::HouseholdFile, each.name)) { (named(each.name)) }
                    span { (each.about) }
                }
            }
        }
        p.note { "All of these households are invented. The same file works on the command line: " code { "larderwright plan --household home.toml" } "." }
    };
    page(
        &Frame::new("Start a household")
            .here(Route::Household)
            .css(&["css/table.css"]),
        &body,
    )
}

fn named(word: &str) -> String {
    let words = word.replace('-', " ");
    let mut letters = words.chars();
    let first = letters.next().map(|letter| letter.to_uppercase().to_string());
    format!("{}{}", first.unwrap_or_default(), letters.as_str())
}

/// The file, to be changed.
pub(crate) async fn file<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Query(asked): Query<Asked>,
) -> Answer {
    let kept = pages.desk.home().household_file().await?;
    let started = asked.pattern.as_deref().and_then(pattern);
    Ok(match (kept, started) {
        (Some(kept), None) => form(&kept.text, kept.version, &[]),
        (kept, Some(started)) => form(started.text, kept.map_or(0, |kept| kept.version), &[]),
        (None, None) => start(),
    })
}

/// Keeps the file, or shows it again with its mistakes.
pub(crate) async fn keep<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Form(typed): Form<Typed>,
) -> Result<Response, Refusal> {
    let text = typed.text.replace("\r\n", "\n");
    let kept = pages.desk.home().household_file().await?;
    let version = kept.as_ref().map_or(0, |kept| kept.version);
    let wrong = |problems: &[Problem]| {
        (StatusCode::UNPROCESSABLE_ENTITY, form(&text, version, problems)).into_response()
    };
    if version != typed.version && kept.is_none_or(|kept| kept.text != text) {
        let problem = Problem {
            line: 0,
            field: String::new(),
            message: "the file was changed elsewhere after you opened it; what you typed stands here, and keeping it now takes \
                      the place of the other change"
                .into(),
            help: String::new(),
        };
        return Ok(wrong(&[problem]));
    }
    let now = pages.desk.now().await?;
    let mistakes = larderwright_app::mistakes(&text, now.minute());
    if !mistakes.is_empty() {
        return Ok(wrong(&mistakes));
    }
    match pages.desk.home().keep_household(&text).await {
        Ok(_) => {}
        Err(HomeError::Household(problems)) => return Ok(wrong(&problems)),
        Err(error) => return Err(error.into()),
    }
    // The time of the new household's zone.
    let now = pages.desk.now().await?;
    pages.desk.home().take_in_stock(&now).await?;
    pages.drafts.forget();
    pages.desk.changed().await;
    let to = if version == 0 {
        Route::Plans
    } else {
        Route::Household
    };
    Ok(Redirect::to(&to.to_string()).into_response())
}

fn form(text: &str, version: u32, problems: &[Problem]) -> Markup {
    let frame = Frame::new(if problems.is_empty() {
        "The household’s file"
    } else {
        "Mistakes in the household’s file"
    })
    .here(Route::Household)
    .css(&["css/table.css"]);
    let rows = text.lines().count().clamp(12, 400) + 1;
    let body = html! {
        (block(&Block { title: "The household’s file".into(), sub: "lines that begin with # explain the others".into(), fields: Vec::new() }))
        @if !problems.is_empty() {
            section.strip.late aria-labelledby="wrong" {
                div {
                    h2 #wrong { (counted(problems.len())) }
                    p { "Nothing was kept, and nothing you typed is lost." }
                    ul.mistakes {
                        @for problem in problems {
                            li {
                                @if problem.line > 0 { a href=(format!("#l{}", problem.line)) { "Line " (problem.line) } ": " }
                                (problem.message) "."
                                @if !problem.help.is_empty() { " " (problem.help) }
                            }
                        }
                    }
                }
            }
        }
        form.file method="post" action=(Route::HouseholdFile) {
            input type="hidden" name="version" value=(version);
            label for="text" { "The file" }
            textarea #text name="text" rows=(rows) spellcheck="false" autocapitalize="off" autocomplete="off" wrap="off" aria-invalid=[(!problems.is_empty()).then_some("true")] { "\n" (text) }
            p.row { button.btn.main type="submit" { "Keep it" } a.btn href=(Route::Household) { "Leave it as it was" } }
        }
        @if !problems.is_empty() {
            (sect("numbered", "The same with numbered lines", "to find them"))
            ol.numbered tabindex="0" aria-labelledby="numbered" {
                @for (at, line) in text.lines().enumerate() {
                    @let here: Vec<&Problem> = problems.iter().filter(|problem| usize::try_from(problem.line) == Ok(at + 1)).collect();
                    li id=(format!("l{}", at + 1)) class=[(!here.is_empty()).then_some("bad")] {
                        code { (line) }
                        @for problem in here { strong { (problem.message) } }
                    }
                }
            }
        }
    };
    page(&frame, &body)
}

fn counted(count: usize) -> String {
    match count {
        1 => "One mistake".into(),
        count => format!("{count} mistakes"),
    }
}
