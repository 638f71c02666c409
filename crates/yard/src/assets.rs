//! Our style sheet and modules, embedded.

use axum::extract::Path;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};

const STYLE: &str = "text/css; charset=utf-8";
const DRAWING: &str = "image/svg+xml";
const MODULE: &str = "text/javascript; charset=utf-8";

/// Name, kind and content of each.
const ASSETS: &[(&str, &str, &str)] = &[
    ("style.css", STYLE, include_str!("../assets/style.css")),
    ("count.js", MODULE, include_str!("../assets/count.js")),
    ("photo.js", MODULE, include_str!("../assets/photo.js")),
    ("rings.js", MODULE, include_str!("../assets/rings.js")),
    ("mark.svg", DRAWING, include_str!("../assets/mark.svg")),
    ("drawing.js", MODULE, include_str!("../assets/drawing.js")),
];

pub(crate) async fn one(Path(name): Path<String>) -> Response {
    match ASSETS.iter().find(|(known, _, _)| *known == name) {
        Some((_, kind, content)) => {
            let headers = [
                (header::CONTENT_TYPE, *kind),
                (header::CACHE_CONTROL, "no-cache"),
            ];
            (headers, *content).into_response()
        }
        None => StatusCode::NOT_FOUND.into_response(),
    }
}
