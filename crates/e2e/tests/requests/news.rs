//! News reach every device, from wherever they come.

use std::time::Duration;

use axum::body::Body;
use axum::http::Request;
use http_body_util::BodyExt;
use larderwright_e2e::Kitchen;
use larderwright_store::Store;
use larderwright_store::contract::sample::event;
use tower::ServiceExt;

use crate::post;

/// The next topic that a device hears.
async fn heard(body: &mut Body) -> String {
    let frame = tokio::time::timeout(Duration::from_secs(20), body.frame()).await;
    let frame = frame
        .expect("news come within seconds")
        .expect("the stream goes on")
        .expect("it is whole");
    let bytes = frame.into_data().expect("news are data");
    String::from_utf8_lossy(&bytes).into_owned()
}

#[tokio::test]
async fn what_another_program_writes_is_heard_here() {
    let kitchen = Kitchen::open().await;
    let request = Request::get("/news")
        .body(Body::empty())
        .expect("the path is one");
    let answer = kitchen
        .router
        .clone()
        .oneshot(request)
        .await
        .expect("a router answers");
    let mut body = answer.into_body();
    // Let the stream look once, so that it knows what was there before.
    let quiet = tokio::time::timeout(Duration::from_secs(3), body.frame()).await;
    assert!(quiet.is_err(), "nothing is new yet");
    post(
        &kitchen,
        "/ticks",
        &[("about", "home"), ("key", "salt"), ("value", "low")],
    )
    .await;
    assert!(
        heard(&mut body).await.contains("shop"),
        "what is ticked here has its topic"
    );
    // Another program writes into the same memory.
    let now = kitchen.desk.now().await.expect("the zone is known");
    let store = kitchen.desk.home().store();
    let kept = store.append(&[event("elsewhere", 1)], now.ms).await;
    kept.expect("it is kept");
    assert!(
        heard(&mut body).await.contains("all"),
        "what comes from elsewhere may concern any page"
    );
}
