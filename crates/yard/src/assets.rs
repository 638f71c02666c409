//! Our style sheet and modules, embedded. Their address holds a digest of all of them, so a browser keeps each for
//! good, and never mixes those of two versions.

use std::sync::LazyLock;

use axum::extract::Path;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use tally::Digest;

const STYLE: &str = "text/css; charset=utf-8";
const DRAWING: &str = "image/svg+xml";
const MODULE: &str = "text/javascript; charset=utf-8";

/// Name, kind and content of each.
const ASSETS: &[(&str, &str, &str)] = &[
    ("style.css", STYLE, include_str!("../assets/style.css")),
    ("list.js", MODULE, include_str!("../assets/list.js")),
    ("photo.js", MODULE, include_str!("../assets/photo.js")),
    ("rings.js", MODULE, include_str!("../assets/rings.js")),
    ("mark.svg", DRAWING, include_str!("../assets/mark.svg")),
    ("ground.js", MODULE, include_str!("../assets/ground.js")),
    ("laydown.js", MODULE, include_str!("../assets/laydown.js")),
    ("count.js", MODULE, include_str!("../assets/count.js")),
    ("drawing.js", MODULE, include_str!("../assets/drawing.js")),
    ("phone.js", MODULE, include_str!("../assets/phone.js")),
    ("keeping.js", MODULE, include_str!("../assets/keeping.js")),
    ("sending.js", MODULE, include_str!("../assets/sending.js")),
    ("along.js", MODULE, include_str!("../assets/along.js")),
    ("live.js", MODULE, include_str!("../assets/live.js")),
    ("tell.js", MODULE, include_str!("../assets/tell.js")),
    ("telling.js", MODULE, include_str!("../assets/telling.js")),
    ("asking.js", MODULE, include_str!("../assets/asking.js")),
    ("ahead.js", MODULE, include_str!("../assets/ahead.js")),
    ("tailgate.js", MODULE, include_str!("../assets/tailgate.js")),
    ("receipt.js", MODULE, include_str!("../assets/receipt.js")),
    ("saying.js", MODULE, include_str!("../assets/saying.js")),
];

/// The service worker stands outside, at the root of the pages that it serves.
const WORKER: &str = include_str!("../assets/worker.js");

/// A digest of all that a page can load; another build of the same files has the same.
pub(crate) fn version() -> &'static str {
    static VERSION: LazyLock<String> = LazyLock::new(|| {
        let all: Vec<&str> = (ASSETS.iter())
            .flat_map(|(name, _, content)| [*name, *content])
            .chain([WORKER])
            .collect();
        Digest::of(all.concat().as_bytes()).to_string()[..16].to_string()
    });
    &VERSION
}

/// Where a page finds one of them.
pub(crate) fn address(name: &str) -> String {
    format!("/assets/{}/{name}", version())
}

pub(crate) async fn one(Path((of, name)): Path<(String, String)>) -> Response {
    // A page of another version gets what there is, but not for good.
    let keeps = match of == version() {
        true => "max-age=31536000, immutable",
        false => "no-cache",
    };
    match ASSETS.iter().find(|(known, _, _)| *known == name) {
        Some((_, kind, content)) => {
            let headers = [
                (header::CONTENT_TYPE, *kind),
                (header::CACHE_CONTROL, keeps),
            ];
            (headers, *content).into_response()
        }
        None => StatusCode::NOT_FOUND.into_response(),
    }
}

/// The worker, told which files it has to keep.
pub(crate) async fn worker() -> Response {
    let files: Vec<String> = (ASSETS.iter())
        .map(|(name, _, _)| format!("\"{}\"", address(name)))
        .collect();
    let begins = format!(
        "const VERSION = \"{}\";\nconst ASSETS = [{}];\n",
        version(),
        files.join(", ")
    );
    let headers = [
        (header::CONTENT_TYPE, MODULE),
        (header::CACHE_CONTROL, "no-cache"),
    ];
    (headers, begins + WORKER).into_response()
}
