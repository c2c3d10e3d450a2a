//! What a page says when it cannot do what was asked: mapped to a response here, once.

use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use maud::html;

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
}

impl Refusal {
    /// There is no such page.
    pub(crate) fn missing(what: impl Into<String>) -> Self {
        Self {
            status: StatusCode::NOT_FOUND,
            title: "Not here",
            message: what.into(),
            help: "Go back, or start from the week.".into(),
        }
    }

    /// A form that cannot be used.
    pub(crate) fn form(message: impl Into<String>, help: impl Into<String>) -> Self {
        Self {
            status: StatusCode::UNPROCESSABLE_ENTITY,
            title: "Not understood",
            message: message.into(),
            help: help.into(),
        }
    }

    /// Somebody changed the thing in the meantime.
    pub(crate) fn overtaken(message: impl Into<String>) -> Self {
        Self {
            status: StatusCode::CONFLICT,
            title: "Something changed meanwhile",
            message: message.into(),
            help: "Look at it as it is now, and choose again.".into(),
        }
    }

    /// A write that no page of ours sent.
    pub(crate) fn elsewhere() -> Self {
        Self {
            status: StatusCode::FORBIDDEN,
            title: "Not from here",
            message: "This change was sent by a page that is not Larderwright’s.".into(),
            help: "Open Larderwright itself and make the change there.".into(),
        }
    }
}

impl From<DeskError> for Refusal {
    fn from(error: DeskError) -> Self {
        match error {
            DeskError::Empty { .. } => Self {
                status: StatusCode::NOT_FOUND,
                title: "No plan yet",
                message: error.to_string(),
                help: "Plan a week first: `larderwright plan --household FILE --week 2026-W49`, or `larderwright demo`."
                    .into(),
            },
            DeskError::Overtaken => {
                Self::overtaken("The week was changed by somebody else after you looked at it.")
            }
            other => Self {
                status: StatusCode::INTERNAL_SERVER_ERROR,
                title: "A fault",
                message: other.words(),
                help: "Nothing was lost. Look at the folder that is named, then load the page again.".into(),
            },
        }
    }
}

impl IntoResponse for Refusal {
    fn into_response(self) -> Response {
        let frame = Frame::new(self.title).slim();
        let body = html! {
            header.block { div { h1 { (self.title) } } }
            p.lead { (self.message) }
            p { (self.help) }
            p.row { a.btn href=(Route::Week) { "To the week" } }
        };
        (self.status, page(&frame, &body)).into_response()
    }
}
