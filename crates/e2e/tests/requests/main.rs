//! Requests without a browser, page by page as the routes are: what is asked, what is sent, what the books say then.

mod news;
mod routes;
mod session;
mod week;

use axum::body::Body;
use axum::http::{Request, Response, StatusCode, header};
use http_body_util::BodyExt;
use larderwright_e2e::Kitchen;
use tower::ServiceExt;

/// An answer, read whole.
struct Answer {
    status: StatusCode,
    headers: axum::http::HeaderMap,
    text: String,
}

async fn answered(response: Response<Body>) -> Answer {
    let (parts, body) = response.into_parts();
    let bytes = body.collect().await.expect("a page in memory ends").to_bytes();
    Answer {
        status: parts.status,
        headers: parts.headers,
        text: String::from_utf8_lossy(&bytes).into_owned(),
    }
}

async fn ask(kitchen: &Kitchen, request: Request<Body>) -> Answer {
    let response = kitchen.router.clone().oneshot(request).await;
    answered(response.expect("a router answers")).await
}

async fn get(kitchen: &Kitchen, path: &str) -> Answer {
    let request = Request::get(path).body(Body::empty());
    ask(kitchen, request.expect("the path is one")).await
}

/// Sends a form the way a page of ours does.
async fn post(kitchen: &Kitchen, path: &str, fields: &[(&str, &str)]) -> Answer {
    let request = form(path).header("sec-fetch-site", "same-origin");
    ask(kitchen, request.body(body(fields)).expect("the form is one")).await
}

fn form(path: &str) -> axum::http::request::Builder {
    Request::post(path).header(header::CONTENT_TYPE, "application/x-www-form-urlencoded")
}

fn body(fields: &[(&str, &str)]) -> Body {
    let mut text = url::form_urlencoded::Serializer::new(String::new());
    text.extend_pairs(fields);
    Body::from(text.finish())
}
