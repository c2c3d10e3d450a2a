//! What a page says when it cannot do what was asked: mapped to a response here, once.

use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use maud::html;

use larderwright_app::HomeError;

use crate::desk::DeskError;
use crate::layout::{Frame, page};
use crate::routes::Route;

/// Why a page says no.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Refusal {
    status: StatusCode,
    title: &'static str,
    message: String,
    help: String,
    way: (Route, &'static str),
}

/// Where one goes from most of them.
const WEEK: (Route, &str) = (Route::Week, "To the week");

impl Refusal {
    /// Something broke.
    pub(crate) fn fault(words: impl Into<String>) -> Self {
        Self {
            status: StatusCode::INTERNAL_SERVER_ERROR,
            title: "A fault",
            message: words.into(),
            help:
                "Nothing was lost. Load the page again; if it stays, `larderwright check` looks at the data."
                    .into(),
            way: WEEK,
        }
    }

    /// There is no such page.
    pub(crate) fn missing(what: impl Into<String>) -> Self {
        Self {
            status: StatusCode::NOT_FOUND,
            title: "Not here",
            message: what.into(),
            help: "Go back, or start from the week.".into(),
            way: WEEK,
        }
    }

    /// A form that cannot be used.
    pub(crate) fn form(message: impl Into<String>, help: impl Into<String>) -> Self {
        Self {
            status: StatusCode::UNPROCESSABLE_ENTITY,
            title: "Not understood",
            message: message.into(),
            help: help.into(),
            way: WEEK,
        }
    }

    /// Somebody changed the thing in the meantime.
    pub(crate) fn overtaken(message: impl Into<String>) -> Self {
        Self {
            status: StatusCode::CONFLICT,
            title: "Something changed meanwhile",
            message: message.into(),
            help: "Look at it as it is now, and choose again.".into(),
            way: WEEK,
        }
    }

    /// The week cannot be planned while somebody cooks.
    pub(crate) fn running(session: &str) -> Self {
        Self {
            status: StatusCode::CONFLICT,
            title: "Somebody is cooking",
            message: "A session runs just now. What it makes is known when it ends; the week is planned anew after that.".into(),
            help: "What changes in the kitchen now is said on the session’s own page.".into(),
            way: (Route::SessionOf(session.to_owned()), "To the session"),
        }
    }

    /// A write that no page of ours sent.
    pub(crate) fn elsewhere() -> Self {
        Self {
            status: StatusCode::FORBIDDEN,
            title: "Not from here",
            message: "This change was sent by a page that is not Larderwright’s.".into(),
            help: "Open Larderwright itself and make the change there.".into(),
            way: WEEK,
        }
    }
}

impl From<DeskError> for Refusal {
    fn from(error: DeskError) -> Self {
        match error {
            DeskError::NoHousehold => Self {
                status: StatusCode::NOT_FOUND,
                title: "Nobody lives here yet",
                message: "Larderwright plans from a household’s file: who eats, what they may not eat, the kitchen, the \
                          days of shopping and cooking."
                    .into(),
                help: "Start from a pattern, change it to yours, and plan the first week.".into(),
                way: (Route::Household, "Start a household"),
            },
            DeskError::NoWeek => Self {
                status: StatusCode::NOT_FOUND,
                title: "No plan yet",
                message: "The household is here; no week is planned yet.".into(),
                help: "Planning takes a few seconds, and you see the week before the house goes by it.".into(),
                way: (Route::Plans, "Plan a week"),
            },
            DeskError::Home(error) => error.into(),
            DeskError::Zone(_) => Self {
                help: "Write an area and a place into the household’s file, as in `Europe/Vienna`.".into(),
                way: (Route::Household, "To the household"),
                ..Self::fault(error.words())
            },
        }
    }
}

impl From<HomeError> for Refusal {
    fn from(error: HomeError) -> Self {
        match error {
            HomeError::Overtaken => {
                Self::overtaken("The week was changed by somebody else after you looked at it.")
            }
            HomeError::Unknown { message, .. } => Self {
                status: StatusCode::NOT_FOUND,
                title: "Not found",
                message: sentence(&message),
                ..Self::missing("")
            },
            HomeError::Refused(refusal) => Self {
                status: StatusCode::CONFLICT,
                title: "Cannot be planned",
                message: refusal.to_string(),
                ..Self::missing("")
            },
            other => Self::fault(DeskError::Home(other).words()),
        }
    }
}

impl From<larderwright_store::StoreError> for Refusal {
    fn from(error: larderwright_store::StoreError) -> Self {
        DeskError::from(error).into()
    }
}

/// A message as a sentence.
fn sentence(message: &str) -> String {
    let mut letters = message.chars();
    let first = letters.next().map(|letter| letter.to_uppercase().to_string());
    format!("{}{}.", first.unwrap_or_default(), letters.as_str())
}

impl IntoResponse for Refusal {
    fn into_response(self) -> Response {
        let frame = Frame::new(self.title).slim();
        let body = html! {
            header.block { div { h1 { (self.title) } } }
            p.lead { (self.message) }
            p { (self.help) }
            p.row { a.btn href=(self.way.0) { (self.way.1) } }
        };
        (self.status, page(&frame, &body)).into_response()
    }
}
