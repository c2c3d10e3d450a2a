//! Sources and cautions, and the review.

use axum::extract::State;
use larderwright_views::page::review::{ReviewPage, review as review_view};
use larderwright_views::page::sources::{SourcesPage, sources as view};
use maud::{Markup, html};

use super::Answer;
use crate::Pages;
use crate::layout::{Frame, page};
use crate::parts::{block, named, sect, told};
use crate::routes::Route;

/// Sources and cautions.
pub(crate) async fn sources(State(pages): State<Pages>) -> Answer {
    let week = pages.desk.week().await?;
    Ok(render(&view(&week.snapshot, &week.plan)))
}

/// Sources and cautions laid out.
pub(crate) fn render(view: &SourcesPage) -> Markup {
    let frame = Frame::new("Sources and cautions")
        .here(Route::Sources)
        .css(&["css/table.css"]);
    let body = html! {
        (block(&view.block))
        (sect("caution", "Cautions", ""))
        ul.cautions { @for words in &view.cautions { li { (words) } } }
        (sect("limits", "Limits in force", "time, temperature, depth"))
        (told(&view.limits))
        (sect("keeping", "How long this week’s food keeps", ""))
        @for (name, rows) in &view.keeping { h3.sub3 { (name) } (told(rows)) }
        @if !view.findings.is_empty() { (sect("rules", "Rules that spoke this week", "")) (told(&view.findings)) }
        (sect("prices", "Prices", ""))
        (told(&view.prices))
        (sect("marks", "What the marks mean", ""))
        (named(&view.marks))
    };
    page(&frame, &body)
}

/// The review.
pub(crate) async fn review(State(pages): State<Pages>) -> Answer {
    let week = pages.desk.week().await?;
    Ok(render_review(&review_view(&week.snapshot, &week.plan)))
}

/// The review laid out.
pub(crate) fn render_review(view: &ReviewPage) -> Markup {
    let frame = Frame::new("Review").here(Route::Review).css(&["css/table.css"]);
    let happened = view.rows.iter().any(|row| !row.happened.is_empty());
    let body = html! {
        (block(&view.block))
        section.tb {
            table role="table" aria-label="Planned and reported" {
                thead role="rowgroup" { tr role="row" {
                    th role="columnheader" scope="col" { "What" } th.r role="columnheader" scope="col" { "Planned" }
                    @if happened { th.r role="columnheader" scope="col" { "Reported" } }
                } }
                tbody role="rowgroup" {
                    @for row in &view.rows {
                        tr role="row" {
                            th role="rowheader" scope="row" { (row.name) }
                            td.r role="cell" data-name="Planned" { (row.planned) }
                            @if happened { td.r role="cell" data-name="Reported" { (row.happened) } }
                        }
                    }
                }
            }
        }
        p.note { (view.words) }
    };
    page(&frame, &body)
}
