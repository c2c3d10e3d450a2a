//! The frame of every page: head, rail, sheet, and the list of other sheets at the foot.

use maud::{DOCTYPE, Markup, PreEscaped, html};

use crate::assets::{link, text};
use crate::routes::Route;

/// What a page's frame has to know.
#[derive(Clone, Debug)]
pub(crate) struct Frame {
    title: String,
    here: Option<Route>,
    sheets: Vec<&'static str>,
    scripts: Vec<&'static str>,
    class: &'static str,
    topic: &'static str,
    refresh: Option<i64>,
}

impl Frame {
    pub(crate) fn new(title: impl Into<String>) -> Self {
        Self {
            title: title.into(),
            here: None,
            sheets: Vec::new(),
            scripts: vec!["js/live.js"],
            class: "",
            topic: "",
            refresh: None,
        }
    }

    /// The word of the rail that is underlined.
    pub(crate) fn here(mut self, route: Route) -> Self {
        self.here = Some(route);
        self
    }

    /// Further style sheets.
    pub(crate) fn css(mut self, sheets: &[&'static str]) -> Self {
        self.sheets.extend(sheets);
        self
    }

    /// Further scripts.
    pub(crate) fn js(mut self, scripts: &[&'static str]) -> Self {
        self.scripts.extend(scripts);
        self
    }

    /// The class of the sheet.
    pub(crate) fn class(mut self, class: &'static str) -> Self {
        self.class = class;
        self
    }

    /// A narrow sheet.
    pub(crate) fn slim(self) -> Self {
        self.class("slim")
    }

    /// The page is loaded anew when somebody changes something of this topic.
    pub(crate) fn topic(mut self, topic: &'static str) -> Self {
        self.topic = topic;
        self
    }

    /// The page changes by itself after so many seconds.
    pub(crate) fn refresh(mut self, seconds: i64) -> Self {
        self.refresh = Some(seconds);
        self
    }
}

const RAIL: [(Route, &str); 5] = [
    (Route::Week, "Week"),
    (Route::Shopping, "Shop"),
    (Route::Session, "Session"),
    (Route::Larder, "Larder"),
    (Route::Tonight, "Tonight"),
];

const OTHERS: [(Route, &str); 9] = [
    (Route::Sheet("production"), "Production sheet"),
    (Route::Sheet("prep"), "Prep list"),
    (Route::Sheet("labels"), "Labels"),
    (Route::Sheet("pull"), "Pull list"),
    (Route::Recipes, "Recipes"),
    (Route::Foods, "Foods"),
    (Route::Household, "Household and kitchen"),
    (Route::Review, "Review"),
    (Route::Sources, "Sources and cautions"),
];

/// A whole page.
pub(crate) fn page(frame: &Frame, body: &Markup) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width,initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (frame.title) " · Larderwright" }
                link rel="preload" as="font" type="font/woff2" crossorigin href=(link("fonts/text-var.woff2"));
                link rel="preload" as="font" type="font/woff2" crossorigin href=(link("fonts/head-680.woff2"));
                link rel="stylesheet" href=(link("css/tokens.css"));
                link rel="stylesheet" href=(link("css/base.css"));
                @for sheet in &frame.sheets { link rel="stylesheet" href=(link(sheet)); }
                link rel="alternate" type="text/calendar" href=(Route::Calendar) title="Soaking, pulling, shopping, sessions";
                @for script in &frame.scripts { script type="module" src=(link(script)) {} }
            }
            body {
                a.skip href="#main" { "Skip to the sheet" }
                header { (rail(frame)) }
                main #main class=(class(frame)) tabindex="-1" data-topic=[topic(frame)] data-refresh=[frame.refresh] {
                    i.perf aria-hidden="true" {}
                    (body)
                }
                footer.foot0 { (others(frame)) }
                p #news .vh role="status" aria-live="polite" {}
            }
        }
    }
}

fn class(frame: &Frame) -> String {
    format!("sheet {}", frame.class).trim_end().to_owned()
}

fn topic(frame: &Frame) -> Option<&str> {
    (!frame.topic.is_empty()).then_some(frame.topic)
}

fn current(frame: &Frame, route: &Route) -> Option<&'static str> {
    (frame.here.as_ref() == Some(route)).then_some("page")
}

fn rail(frame: &Frame) -> Markup {
    html! {
        nav.rail aria-label="Sheets" {
            a.mark href=(Route::Week) { "Larderwright" }
            ul {
                @for (route, word) in &RAIL {
                    li { a href=(route) aria-current=[current(frame, route)] { (word) } }
                }
            }
        }
    }
}

fn others(frame: &Frame) -> Markup {
    html! {
        nav aria-label="More sheets" {
            ul.more {
                @for (route, word) in &OTHERS {
                    li { a href=(route) aria-current=[current(frame, route)] { (word) } }
                }
                li { a href=(Route::Calendar) { "Calendar" } }
            }
        }
    }
}

/// A page as one file that stands alone: its styles inside, no script, no fonts of its own.
pub(crate) fn file(title: &str, body: &Markup) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width,initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (title) " · Larderwright" }
                style {
                    (PreEscaped(without_fonts(text("css/tokens.css"))))
                    (PreEscaped(text("css/base.css")))
                    (PreEscaped(text("css/shop.css")))
                    (PreEscaped(text("css/larder.css")))
                }
            }
            body.alone { main.sheet { (body) } }
        }
    }
}

/// The tokens without the rules that fetch fonts.
fn without_fonts(css: &str) -> String {
    let lines = css.lines().filter(|line| !line.starts_with("@font-face"));
    lines.collect::<Vec<_>>().join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_into_a_page_is_escaped() {
        let text = page(&Frame::new("<b>\"x\"</b>"), &html! { p { "<script>" } }).into_string();
        assert!(text.contains("&lt;b&gt;") && text.contains("&lt;script&gt;"));
    }

    #[test]
    fn a_page_carries_no_script_or_style_of_its_own() {
        let text = page(&Frame::new("x").here(Route::Week), &html! {}).into_string();
        assert!(!text.contains("<style") && !text.contains("style=") && !text.contains("onclick"));
        assert_eq!(text.matches("aria-current").count(), 1);
    }

    #[test]
    fn a_file_that_stands_alone_asks_for_nothing() {
        let text = file("x", &html! { p { "y" } }).into_string();
        for word in ["src=", "<link", "url(", "@import", "http:", "https:"] {
            assert!(!text.contains(word), "{word}");
        }
    }
}
