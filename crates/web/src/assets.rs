//! Style sheets, scripts and fonts, inside the program. Their folder in the address changes with their content, so that
//! browsers may keep them for ever.

use std::fmt::Write as _;
use std::hash::{DefaultHasher, Hasher as _};
use std::sync::LazyLock;

use axum::extract::Path;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};

/// A file: its name, its type and its content.
struct Asset {
    name: &'static str,
    kind: &'static str,
    bytes: &'static [u8],
}

const CSS: &str = "text/css; charset=utf-8";
const JS: &str = "text/javascript; charset=utf-8";
const FONT: &str = "font/woff2";

macro_rules! asset {
    ($name:literal, $kind:expr) => {
        Asset {
            name: $name,
            kind: $kind,
            bytes: include_bytes!(concat!("../assets/", $name)),
        }
    };
}

const ASSETS: [Asset; 16] = [
    asset!("css/tokens.css", CSS),
    asset!("css/base.css", CSS),
    asset!("css/week.css", CSS),
    asset!("css/shop.css", CSS),
    asset!("css/run.css", CSS),
    asset!("css/live.css", CSS),
    asset!("css/larder.css", CSS),
    asset!("css/table.css", CSS),
    asset!("css/labels.css", CSS),
    asset!("js/live.js", JS),
    asset!("js/timers.js", JS),
    asset!("js/awake.js", JS),
    asset!("js/paper.js", JS),
    asset!("fonts/head-680.woff2", FONT),
    asset!("fonts/text-var.woff2", FONT),
    asset!("fonts/marker-700.woff2", FONT),
];

/// Steps of the grids: positions are classes, because a strict policy allows no styles in the page.
const STEPS: i64 = 260;

/// The style sheet of positions, made once: `.c5` is the fifth step, `.w3` three steps wide, `.p40` forty per cent.
static POSITIONS: LazyLock<String> = LazyLock::new(|| {
    let mut css = String::with_capacity(12_000);
    for step in 1..=STEPS {
        let _ = write!(css, ".c{step}{{--c:{step}}}.w{step}{{--w:{step}}}");
    }
    for step in 1..=STEPS {
        let _ = write!(css, ".n{step}{{--n:{step}}}");
    }
    for part in 0..=20 {
        let _ = write!(css, ".p{0}{{--p:{0}%}}", part * 5);
    }
    css
});

const POSITIONS_NAME: &str = "css/positions.css";

/// The folder of this build's files.
static FOLDER: LazyLock<String> = LazyLock::new(|| {
    let mut hasher = DefaultHasher::new();
    for asset in &ASSETS {
        hasher.write(asset.name.as_bytes());
        hasher.write(asset.bytes);
    }
    hasher.write(POSITIONS.as_bytes());
    format!("{:016x}", hasher.finish())
});

/// The address of a file.
#[must_use]
pub(crate) fn link(name: &str) -> String {
    format!("/assets/{}/{name}", *FOLDER)
}

/// The content of a style sheet, for files that stand alone.
#[must_use]
pub(crate) fn text(name: &str) -> &'static str {
    let found = ASSETS.iter().find(|asset| asset.name == name);
    found
        .and_then(|asset| std::str::from_utf8(asset.bytes).ok())
        .unwrap_or("")
}

/// The address under which axum knows the files.
pub(crate) const PATTERN: &str = "/assets/{folder}/{*name}";

/// Hands out a file; those of another build are not found.
pub(crate) async fn file(Path((folder, name)): Path<(String, String)>) -> Response {
    if folder != *FOLDER {
        return StatusCode::NOT_FOUND.into_response();
    }
    let found = if name == POSITIONS_NAME {
        Some((CSS, POSITIONS.as_bytes()))
    } else {
        let asset = ASSETS.iter().find(|asset| asset.name == name);
        asset.map(|asset| (asset.kind, asset.bytes))
    };
    match found {
        None => StatusCode::NOT_FOUND.into_response(),
        Some((kind, bytes)) => (
            [
                (header::CONTENT_TYPE, kind),
                (header::CACHE_CONTROL, "public, max-age=31536000, immutable"),
            ],
            bytes,
        )
            .into_response(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn positions_reach_as_far_as_a_timeline_may_be_long() {
        assert!(POSITIONS.contains(".c240{") && POSITIONS.contains(".w240{"));
        assert!(POSITIONS.contains(".p100{"));
    }

    #[test]
    fn scripts_together_stay_small() {
        let all: usize = ASSETS
            .iter()
            .filter(|asset| asset.kind == JS)
            .map(|asset| asset.bytes.len())
            .sum();
        assert!(all < 25_000, "{all} bytes, before they are compressed");
    }
}
