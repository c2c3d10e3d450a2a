//! What stands before every page: headers of a strict policy, writes from our own pages only, and a bound on their rate.

use std::sync::{Arc, Mutex};

use axum::extract::{Request, State};
use axum::http::header::{self, HeaderName, HeaderValue};
use axum::http::{HeaderMap, Method, StatusCode};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use tokio::time::Instant;

use crate::refusal::Refusal;

/// The most bytes that a form may have.
pub(crate) const BODY_MAX: usize = 64 * 1024;

const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; img-src 'self'; \
                      connect-src 'self'; manifest-src 'self'; form-action 'self'; base-uri 'none'; \
                      frame-ancestors 'none'";

const HEADERS: [(&str, &str); 7] = [
    ("content-security-policy", POLICY),
    ("x-content-type-options", "nosniff"),
    ("x-frame-options", "DENY"),
    ("referrer-policy", "same-origin"),
    ("cross-origin-opener-policy", "same-origin"),
    ("cross-origin-resource-policy", "same-origin"),
    (
        "permissions-policy",
        "camera=(), microphone=(), geolocation=(), payment=(), usb=()",
    ),
];

/// Adds the headers; pages themselves are not kept by browsers.
pub(crate) async fn headers(request: Request, next: Next) -> Response {
    let mut response = next.run(request).await;
    let headers = response.headers_mut();
    for (name, value) in HEADERS {
        headers
            .entry(HeaderName::from_static(name))
            .or_insert(HeaderValue::from_static(value));
    }
    headers
        .entry(header::CACHE_CONTROL)
        .or_insert(HeaderValue::from_static("no-store"));
    response
}

/// Lets a write pass only when a page of ours sent it: by `Sec-Fetch-Site`, else by `Origin`.
pub(crate) async fn same_origin(request: Request, next: Next) -> Response {
    let reads = matches!(*request.method(), Method::GET | Method::HEAD | Method::OPTIONS);
    if reads || from_here(request.headers()) {
        return next.run(request).await;
    }
    Refusal::elsewhere().into_response()
}

fn from_here(headers: &HeaderMap) -> bool {
    let text = |name: &str| headers.get(name).and_then(|value| value.to_str().ok());
    match (text("sec-fetch-site"), text("origin")) {
        (Some(site), _) => site == "same-origin",
        (None, Some(origin)) => {
            let host = text("host").unwrap_or("");
            let named = origin
                .strip_prefix("http://")
                .or_else(|| origin.strip_prefix("https://"));
            !host.is_empty() && named == Some(host)
        }
        (None, None) => false,
    }
}

/// A pail of tokens: so many writes at once, and so many more each second.
#[derive(Debug)]
pub(crate) struct Rate {
    pail: Mutex<(Instant, u32)>,
}

const AT_ONCE: u32 = 120;
const EACH_SECOND: u32 = 20;

impl Rate {
    pub(crate) fn new() -> Self {
        Self {
            pail: Mutex::new((Instant::now(), AT_ONCE)),
        }
    }

    fn take(&self, now: Instant) -> bool {
        let mut pail = self.pail.lock().expect("nothing panics while it holds the pail");
        let (since, left) = *pail;
        let gained = u32::try_from(now.saturating_duration_since(since).as_millis() / 50).unwrap_or(AT_ONCE);
        let filled = left.saturating_add(gained).min(AT_ONCE);
        let since = if gained > 0 { now } else { since };
        *pail = (since, filled.saturating_sub(1));
        filled > 0
    }
}

const _: () = assert!(EACH_SECOND == 1000 / 50, "a token every fifty milliseconds");

/// Turns writes away that come faster than hands can make them.
pub(crate) async fn bounded(State(rate): State<Arc<Rate>>, request: Request, next: Next) -> Response {
    let writes = !matches!(*request.method(), Method::GET | Method::HEAD | Method::OPTIONS);
    if writes && !rate.take(Instant::now()) {
        return (StatusCode::TOO_MANY_REQUESTS, [(header::RETRY_AFTER, "1")]).into_response();
    }
    next.run(request).await
}

#[cfg(test)]
mod tests {
    use std::time::Duration;

    use super::*;

    fn check(pairs: &[(&'static str, &'static str)]) -> bool {
        let mut headers = HeaderMap::new();
        for (name, value) in pairs {
            headers.insert(*name, HeaderValue::from_static(value));
        }
        from_here(&headers)
    }

    #[test]
    fn only_our_own_pages_may_write() {
        assert!(check(&[("sec-fetch-site", "same-origin")]));
        assert!(check(&[
            ("host", "127.0.0.1:8787"),
            ("origin", "http://127.0.0.1:8787")
        ]));
        for pairs in [
            &[("sec-fetch-site", "cross-site")][..],
            &[("sec-fetch-site", "same-site")],
            &[("sec-fetch-site", "none")],
            &[
                ("sec-fetch-site", "cross-site"),
                ("host", "a"),
                ("origin", "http://a"),
            ],
            &[("host", "127.0.0.1:8787"), ("origin", "http://127.0.0.1:8788")],
            &[("host", "127.0.0.1:8787"), ("origin", "null")],
            &[("origin", "http://")],
            &[],
        ] {
            assert!(!check(pairs), "{pairs:?}");
        }
    }

    #[test]
    fn a_pail_empties_and_fills_again() {
        let rate = Rate::new();
        let now = Instant::now();
        let passed = (0..AT_ONCE + 50).filter(|_| rate.take(now)).count();
        assert_eq!(passed, AT_ONCE as usize);
        assert!(rate.take(now + Duration::from_secs(1)));
    }
}
