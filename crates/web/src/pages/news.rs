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
use tokio::time::timeout;

use crate::Pages;

/// How often it is looked whether another program has written something.
const LISTEN: Duration = Duration::from_secs(2);

/// The most devices that listen at once.
const LISTENERS_MAX: usize = 64;

/// A stream of topics.
pub(crate) async fn news<S: Store + 'static>(State(pages): State<Pages<S>>) -> Response {
    if pages.desk.listeners() >= LISTENERS_MAX {
        return StatusCode::SERVICE_UNAVAILABLE.into_response();
    }
    let stream = unfold((pages.desk.news(), pages.desk), |(mut news, desk)| async move {
        let topic = loop {
            match timeout(LISTEN, news.recv()).await {
                Ok(Ok(topic)) => break topic,
                Ok(Err(RecvError::Lagged(_))) => break "all",
                Ok(Err(RecvError::Closed)) => return None,
                // What cannot be read now is read the next time, or on the next page that says why.
                Err(_) => drop(desk.hear().await),
            }
        };
        Some((Ok::<_, Infallible>(Event::default().data(topic)), (news, desk)))
    });
    let alive = KeepAlive::new().interval(Duration::from_secs(20));
    Sse::new(stream).keep_alive(alive).into_response()
}
