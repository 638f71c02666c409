//! The way in: the join code and the name one goes by.

use axum::extract::{Query, State};
use axum::http::HeaderMap;
use axum::response::IntoResponse;
use maud::{Markup, html};
use serde::Deserialize;

use super::layout;
use crate::access;
use crate::reply::{Reply, page_reply, see};
use crate::serve::Yard;

#[derive(Deserialize)]
pub(crate) struct Asked {
    #[serde(default)]
    code: String,
}

pub(crate) async fn show(
    State(yard): State<Yard>,
    headers: HeaderMap,
    Query(asked): Query<Asked>,
) -> Reply {
    if access::holder(&yard, &headers)?.is_some() && asked.code.is_empty() {
        return Ok(see("/"));
    }
    Ok(page_reply(form(&asked.code, None)).into_response())
}

/// The form; `trouble` says why the last try did not work.
pub(crate) fn form(code: &str, trouble: Option<&str>) -> Markup {
    layout::bare(
        "Join",
        html! {
            h1 { "Join this job" }
            p { "The code is on the yard computer's screen, under the QR code. Your name stands beside what you count." }
            @if let Some(trouble) = trouble {
                div.note.short role="alert" { p { (trouble) } }
            }
            form method="post" action="/join" {
                label for="code" { "Join code" }
                input type="text" id="code" name="code" value=(code.chars().take(20).collect::<String>()) required
                    autocomplete="off" autocapitalize="characters" spellcheck="false" maxlength="20";
                label for="who" { "Your name" }
                input type="text" id="who" name="who" required maxlength="60" autocomplete="name";
                p { button.main type="submit" { "Join" } }
            }
        },
    )
}
