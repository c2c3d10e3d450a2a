//! Sheets as tables: what a printer or a wall wants. Labels have a form of their own.

use axum::extract::{Path, State};
use larderwright_store::Store;
use larderwright_views::{Align, RowKind, Section, Sheet, SheetKind, build};
use maud::{Markup, html};

use super::Answer;
use crate::Pages;
use crate::layout::{Frame, page};
use crate::parts::{block, sect};
use crate::refusal::Refusal;
use crate::routes::Route;

/// A sheet by its word.
pub(crate) async fn sheet<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Path(word): Path<String>,
) -> Answer {
    let kind =
        SheetKind::parse(&word).ok_or_else(|| Refusal::missing(format!("There is no sheet `{word}`.")))?;
    let week = pages.desk.week().await?;
    Ok(render(&build(kind, &week.snapshot, &week.plan)))
}

/// A sheet laid out.
pub(crate) fn render(sheet: &Sheet) -> Markup {
    let labels = sheet.kind == SheetKind::Labels;
    let frame = Frame::new(sheet.title.clone())
        .here(Route::Sheet(sheet.kind.word()))
        .css(if labels {
            &["css/labels.css"]
        } else {
            &["css/table.css"]
        })
        .js(&["js/paper.js"])
        .class("paper");
    let head = larderwright_views::page::Block {
        title: sheet.title.clone(),
        sub: sheet
            .fields
            .iter()
            .filter(|(name, _)| matches!(name.as_str(), "Household" | "Week"))
            .map(|(_, value)| value.clone())
            .collect::<Vec<_>>()
            .join(" · "),
        fields: sheet
            .fields
            .iter()
            .filter(|(name, _)| !matches!(name.as_str(), "Household" | "Week"))
            .map(|(name, value)| larderwright_views::page::Named::new(name.clone(), value.clone()))
            .collect(),
    };
    let body = html! {
        (block(&head))
        p.row.noprint { button.btn.quiet type="button" data-print hidden { "Print" } }
        @if labels {
            ul.lbs { @for section in &sheet.sections { (label(section)) } }
        } @else {
            @for (at, part) in sheet.sections.iter().enumerate() { (section(part, at)) }
        }
        @for note in &sheet.notes { p.ft { (note) } }
    };
    page(&frame, &body)
}

/// A section as a table; on a narrow page each row stands on its own with the names of its cells.
pub(crate) fn section(part: &Section, at: usize) -> Markup {
    let id = format!("s{at}");
    let heads: Vec<(&str, Align)> = part
        .columns
        .iter()
        .map(|column| (column.name.as_str(), column.align))
        .collect();
    let titled = heads.iter().any(|(name, _)| !name.is_empty());
    html! {
        div.tb {
            @if !part.title.is_empty() { (sect(&id, &part.title, "")) }
            @if !part.rows.is_empty() {
                table role="table" {
                    @if titled {
                        thead role="rowgroup" {
                            tr role="row" {
                                @for (name, align) in &heads {
                                    th role="columnheader" scope="col" class=[right(*align)] { (name) }
                                }
                            }
                        }
                    }
                    tbody role="rowgroup" {
                        @for line in &part.rows { (row(line, &heads)) }
                    }
                }
            }
            @for note in &part.notes { p.note { (note) } }
        }
    }
}

fn right(align: Align) -> Option<&'static str> {
    (align == Align::Right).then_some("r")
}

fn row(line: &larderwright_views::Row, heads: &[(&str, Align)]) -> Markup {
    let class = match line.kind {
        RowKind::Plain => "",
        RowKind::Head => "hd",
        RowKind::Sub => "sub",
        RowKind::Total => "sum",
        RowKind::Mind => "mind",
    };
    if line.kind == RowKind::Head || (line.kind == RowKind::Mind && line.cells.len() == 1) {
        let first = line.cells.first().map_or("", String::as_str);
        return html! { tr class=(class) role="row" { th role="rowheader" colspan=(heads.len()) { (first) } } };
    }
    html! {
        tr class=(class) role="row" {
            @for (at, (name, align)) in heads.iter().enumerate() {
                @let text = line.cells.get(at).map_or("", String::as_str);
                td role="cell" class=[right(*align)] data-name=[(!name.is_empty()).then_some(name)] { (cell(text)) }
            }
        }
    }
}

/// A box to tick with a pen stands before what is to be done.
fn cell(text: &str) -> Markup {
    match text.strip_prefix("[ ] ") {
        Some(rest) => html! { span.bx0 aria-hidden="true" {} (rest) },
        None => html! { (text) },
    }
}

fn label(section: &Section) -> Markup {
    let value = |name: &str| {
        let row = section
            .rows
            .iter()
            .find(|row| row.cells.first().is_some_and(|cell| cell == name));
        row.and_then(|row| row.cells.get(1)).map_or("", String::as_str)
    };
    let (name, number) = section.title.rsplit_once(", ").unwrap_or((&section.title, ""));
    let pull = value("pull");
    let (until, day) = if pull.is_empty() {
        ("use by", short(value("use by")))
    } else {
        ("frozen, pull", short(pull))
    };
    let minds = section.rows.iter().filter(|row| row.kind == RowKind::Mind);
    html! {
        li.lb {
            div.l1 { b { (name) } span { (number) br; (value("holds")) } }
            div.l2 { span { (until) } strong { (day) } }
            @if !pull.is_empty() { p { "then use by " (value("use by")) } }
            p { "made " (value("made")) " · for " (value("for")) }
            p { (value("serve")) }
            p.l3 {
                @for row in minds {
                    span { (row.cells.first().map_or("", String::as_str)) " " (row.cells.get(1).map_or("", String::as_str)) }
                }
            }
        }
    }
}

/// The day alone: parts of a date are held together, so that the first blank ends it.
fn short(text: &str) -> &str {
    text.split([' ', ',']).next().unwrap_or(text)
}
