//! News for every device that is open: the name of what changed, nothing else; the page then asks for itself again.

use std::convert::Infallible;
use std::time::Duration;

use axum::extract::State;
use axum::http::StatusCode;
use axum::response::sse::{Event, KeepAlive, Sse};
use axum::response::{IntoResponse, Response};
use futures_util::stream::unfold;
use larderwright_store::Store;
use tokio::sync::broadcast::error::RecvError;

use crate::Pages;

/// The most devices that listen at once.
const LISTENERS_MAX: usize = 64;

/// A stream of topics.
pub(crate) async fn news<S: Store + 'static>(State(pages): State<Pages<S>>) -> Response {
    if pages.desk.listeners() >= LISTENERS_MAX {
        return StatusCode::SERVICE_UNAVAILABLE.into_response();
    }
    let stream = unfold(pages.desk.news(), |mut news| async move {
        let topic = match news.recv().await {
            Ok(topic) => topic,
            Err(RecvError::Lagged(_)) => "all",
            Err(RecvError::Closed) => return None,
        };
        Some((Ok::<_, Infallible>(Event::default().data(topic)), news))
    });
    let alive = KeepAlive::new().interval(Duration::from_secs(20));
    Sse::new(stream).keep_alive(alive).into_response()
}
