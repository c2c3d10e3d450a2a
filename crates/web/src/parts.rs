//! Parts that several pages are put together from. Each takes ready text and adds only its place on the sheet.

use maud::{Markup, html};

use larderwright_views::page::lines::{Lane, Piece, Stroke};
use larderwright_views::page::sitting::{Mark, MarkKind};
use larderwright_views::page::week::{PlateMark, Seat};
use larderwright_views::page::{Block, Named, Todo, Told};

/// The title block.
pub(crate) fn block(block: &Block) -> Markup {
    html! {
        header.block {
            div {
                h1 { (block.title) }
                @if !block.sub.is_empty() { p.sub { (block.sub) } }
            }
            @if !block.fields.is_empty() {
                dl.fields {
                    @for field in &block.fields { div { dt { (field.name) } dd { (field.value) } } }
                }
            }
        }
    }
}

/// A heading inside a sheet.
pub(crate) fn sect(id: &str, title: &str, words: &str) -> Markup {
    html! { div.sect { h2 id=(id) { (title) } @if !words.is_empty() { p { (words) } } } }
}

/// Names with their values.
pub(crate) fn named(rows: &[Named]) -> Markup {
    html! { dl.named { @for row in rows { div { dt { (row.name) } dd { (row.value) } } } } }
}

/// Things that are so, with what they rest on.
pub(crate) fn told(rows: &[Told]) -> Markup {
    html! {
        ul.told {
            @for row in rows {
                li {
                    b { (row.what) }
                    @if !row.why.is_empty() { span { (row.why) } }
                    @if !row.source.is_empty() { cite { (row.source) } }
                }
            }
        }
    }
}

/// Things to do, with their times.
pub(crate) fn todos(rows: &[Todo]) -> Markup {
    html! {
        ul.todos {
            @for row in rows {
                li { span.at { (row.when) } div { b { (row.title) } p { (row.text) } } }
            }
        }
    }
}

/// A strip of tape.
pub(crate) fn tape(name: &str, dates: &str) -> Markup {
    html! { span.tape { (name) @if !dates.is_empty() { small { (dates) } } } }
}

/// The table from above.
pub(crate) fn plates(marks: &[PlateMark], words: &str) -> Markup {
    html! {
        ul.plates aria-label=(words) {
            @for mark in marks {
                li class=[seat_class(mark.seat)] { span aria-hidden="true" { (mark.initial) } span.vh { (mark.name) } }
            }
        }
    }
}

fn seat_class(seat: Seat) -> Option<&'static str> {
    match seat {
        Seat::In => None,
        Seat::Own => Some("own"),
        Seat::Out => Some("out"),
    }
}

/// An allergen mark.
pub(crate) fn mark(mark: &Mark) -> Markup {
    let class = match mark.kind {
        MarkKind::Cleared | MarkKind::Has => "alg",
        MarkKind::Ask => "alg ask",
        MarkKind::May => "alg may",
    };
    html! {
        p.mk { span class=(class) { (mark.words) } @if !mark.of.is_empty() { " " small { (mark.of) } } }
    }
}

/// One day's piece of a keeping line.
pub(crate) fn piece(piece: &Piece) -> Markup {
    let class = match piece.stroke {
        Stroke::None => "ln",
        Stroke::Made => "ln fr a",
        Stroke::MadeLast => "ln fr a b",
        Stroke::Fridge => "ln fr",
        Stroke::Last => "ln fr b",
        Stroke::Frozen => "ln fz a",
        Stroke::Freezer => "ln fz",
        Stroke::Pulled => "ln up",
        Stroke::PulledLast => "ln up b",
    };
    html! { span class=(class) { @if !piece.words.is_empty() { span.cap { (piece.words) } } } }
}

/// A line over several days, for readers that do not hear drawings.
pub(crate) fn lane(lane: &Lane) -> Markup {
    html! { span.keep aria-hidden="true" { @for each in lane { (piece(each)) } } }
}

/// A slip: a change shown before it is accepted.
pub(crate) fn slip(tape_words: &str, title: &Markup, rows: &[(String, String)], buttons: &Markup) -> Markup {
    html! {
        section.slip aria-labelledby="slip" {
            span.tape { (tape_words) }
            h2 #slip { (title) }
            ul { @for (name, words) in rows { li { b { (name) } span { (words) } } } }
            (buttons)
        }
    }
}

/// The sentence about guidance at the foot of a sheet.
pub(crate) fn guidance(words: &str) -> Markup {
    html! { p.ft { (words) } }
}
