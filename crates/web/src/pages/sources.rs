//! Sources and cautions.

use axum::extract::State;
use larderwright_store::Store;
use larderwright_views::page::sources::{SourcesPage, sources as view};
use maud::{Markup, html};

use super::Answer;
use crate::Pages;
use crate::layout::{Frame, page};
use crate::parts::{block, sect, told};
use crate::routes::Route;

/// Sources and cautions.
pub(crate) async fn sources<S: Store + 'static>(State(pages): State<Pages<S>>) -> Answer {
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
    };
    page(&frame, &body)
}
