//! Ticks and picks: small forms that work without script, and the posts that they make.

use axum::Form;
use axum::extract::State;
use axum::response::Redirect;
use larderwright_app::Now;
use larderwright_model::StockState;
use larderwright_store::Store;
use larderwright_views::page::shopping::key as shopping_key;
use maud::{Markup, html};
use serde::Deserialize;

use crate::Pages;
use crate::desk::Desk;
use crate::marks::{Entry, Level, Mark, TickKind};
use crate::pages::shopping::level;
use crate::refusal::Refusal;
use crate::routes::Route;

/// What a form of ticks sends.
#[derive(Debug, Deserialize)]
pub(crate) struct TickForm {
    /// Made by a script where it was ticked; the server makes one otherwise.
    id: Option<String>,
    /// `cart`, `label`, `unpacked`, `bed`, `home`.
    about: String,
    key: String,
    value: String,
    /// The page to go back to: `shop`, `larder`, or a sitting's identifier.
    back: Option<String>,
    /// The place on the page.
    at: Option<String>,
}

/// The longest key of a line.
const KEY_MAX: usize = 200;

/// A row that is ticked by tapping it anywhere.
pub(crate) fn tick(kind: TickKind, key: &str, on: bool, (at, words): (&str, &Markup)) -> Markup {
    tick_back(kind, key, on, (at, words, "shop"))
}

/// The same on another page.
pub(crate) fn tick_back(
    kind: TickKind,
    key: &str,
    on: bool,
    (at, words, back): (&str, &Markup, &str),
) -> Markup {
    html! {
        form.tickform method="post" action=(Route::Ticks) data-live="queue" {
            input type="hidden" name="about" value=(word(kind));
            input type="hidden" name="key" value=(key);
            input type="hidden" name="at" value=(at);
            input type="hidden" name="back" value=(back);
            button.buy id=(format!("{}-{at}", word(kind))) type="submit" name="value" value=(if on { "off" } else { "on" }) role="checkbox" aria-checked=(if on { "true" } else { "false" }) {
                span.tick aria-hidden="true" {}
                (words)
            }
        }
    }
}

/// A choice of three; none chosen is a state of its own.
pub(crate) fn pick(
    about: &str,
    key: &str,
    (name, words): (&str, &[&str; 3]),
    chosen: Option<Level>,
) -> Markup {
    html! {
        form.pickform method="post" action=(Route::Ticks) data-live="queue" {
            input type="hidden" name="about" value=(about);
            input type="hidden" name="key" value=(key);
            input type="hidden" name="at" value=(format!("{about}-{key}"));
            input type="hidden" name="back" value="shop";
            div.pick role="group" aria-label=(name) {
                @for word in words {
                    button id=(format!("{about}-{key}-{word}")) type="submit" name="value" value=(word) aria-pressed=(if level(word) == chosen { "true" } else { "false" }) { (word) }
                }
            }
        }
    }
}

fn word(kind: TickKind) -> &'static str {
    match kind {
        TickKind::Cart => "cart",
        TickKind::Label => "label",
        TickKind::Unpacked => "unpacked",
        TickKind::Bed => "bed",
    }
}

fn mark(form: &TickForm) -> Option<Mark> {
    let key = form.key.clone();
    let kind = match form.about.as_str() {
        "cart" => TickKind::Cart,
        "label" => TickKind::Label,
        "unpacked" => TickKind::Unpacked,
        "bed" => TickKind::Bed,
        "home" => {
            return Some(Mark::Home {
                food: key,
                level: level(&form.value)?,
            });
        }
        _ => return None,
    };
    let on = match form.value.as_str() {
        "on" => true,
        "off" => false,
        _ => return None,
    };
    Some(Mark::Tick { kind, key, on })
}

/// What of a tick is more than a mark goes into the household's books.
async fn told<S: Store>(desk: &Desk<S>, mark: &Mark, now: &Now) -> Result<(), Refusal> {
    match mark {
        Mark::Tick {
            kind: TickKind::Cart,
            key,
            on,
        } => {
            for week in desk.weeks().await? {
                let lines = &week.plan.order.lines;
                let Some(line) = lines.iter().find(|line| shopping_key(line) == *key) else {
                    continue;
                };
                if *on {
                    desk.home().into_cart(&week.snapshot.household, line, now).await?;
                } else {
                    desk.home().out_of_cart(line, now).await?;
                }
            }
        }
        Mark::Home { food, level } => {
            let state = match level {
                Level::Have => Some(StockState::Have),
                Level::Low => Some(StockState::Low),
                Level::Out => None,
            };
            desk.home().ticked(food, state, now).await?;
        }
        _ => {}
    }
    Ok(())
}

/// Takes a tick in and goes back to where it was made.
pub(crate) async fn ticks<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Form(form): Form<TickForm>,
) -> Result<Redirect, Refusal> {
    let unknown = || {
        Refusal::form(
            "This tick is not understood.",
            "Load the page again and tick once more.",
        )
    };
    if form.key.len() > KEY_MAX || form.key.is_empty() {
        return Err(unknown());
    }
    let mark = mark(&form).ok_or_else(unknown)?;
    let id = form.id.clone().filter(|id| good_id(id));
    let id = id.unwrap_or_else(|| pages.fresh_id());
    let now = pages.desk.now().await?;
    // A tick that waited for a network and was sent twice does not undo what came between.
    if !pages.desk.knows(&id) {
        told(&pages.desk, &mark, &now).await?;
        pages.drafts.forget();
    }
    let at = now.moment.at;
    pages.desk.mark(Entry { id, at, mark }).await?;
    Ok(Redirect::to(&back(&form)))
}

/// Identifiers made by a script: letters, digits and hyphens.
pub(crate) fn good_id(id: &str) -> bool {
    (8..=64).contains(&id.len())
        && id
            .bytes()
            .all(|byte| byte.is_ascii_alphanumeric() || byte == b'-')
}

fn back(form: &TickForm) -> String {
    let page = match form.back.as_deref() {
        Some("larder") => Route::Larder,
        Some("shop") | None => Route::Shopping,
        Some(sitting) => Route::Sitting(sitting.to_owned()),
    };
    let at = form.at.as_deref().unwrap_or("");
    let plain = at
        .bytes()
        .all(|byte| byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'_' | b'@' | b'/' | b'.'));
    if at.is_empty() || !plain {
        page.to_string()
    } else {
        format!("{page}#{at}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn form(about: &str, value: &str) -> TickForm {
        TickForm {
            id: None,
            about: about.into(),
            key: "x".into(),
            value: value.into(),
            back: None,
            at: None,
        }
    }

    #[test]
    fn only_what_is_known_is_marked() {
        assert!(mark(&form("cart", "on")).is_some());
        assert!(mark(&form("home", "low")).is_some());
        for (about, value) in [("cart", "low"), ("home", "on"), ("soup", "on"), ("lot", "gone")] {
            assert!(mark(&form(about, value)).is_none(), "{about} {value}");
        }
    }

    #[test]
    fn going_back_never_leaves_our_pages() {
        let mut form = form("cart", "on");
        form.back = Some("//example.org/".into());
        form.at = Some("x\r\nlocation: y".into());
        assert_eq!(back(&form), "/sittings/%2F%2Fexample.org%2F");
    }
}
