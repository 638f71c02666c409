//! The way in: the join code and the name one goes by.

use axum::extract::connect_info::ConnectInfo;
use axum::extract::{Query, State};
use axum::http::{HeaderMap, StatusCode};
use axum::response::IntoResponse;
use maud::{Markup, html};
use serde::Deserialize;

use super::{layout, phones};
use crate::access::{self, Comer, Peer};
use crate::reply::{Reply, page_reply, see};
use crate::serve::Yard;

#[derive(Deserialize)]
pub(crate) struct Asked {
    #[serde(default)]
    code: String,
}

pub(crate) async fn show(
    State(yard): State<Yard>,
    ConnectInfo(peer): ConnectInfo<Peer>,
    headers: HeaderMap,
    Query(asked): Query<Asked>,
) -> Reply {
    match access::comer(&yard, &headers)? {
        // It has joined, whatever code it brings: another name is taken on the page Phones.
        Comer::Joined(_) => Ok(see("/")),
        Comer::ShutOut(who) if !peer.at_table => {
            Ok((StatusCode::FORBIDDEN, page_reply(phones::shut_out(&who))).into_response())
        }
        _ => Ok(page_reply(form(
            &yard,
            &headers,
            peer,
            &asked.code,
            "",
            None,
        ))),
    }
}

/// The form; `trouble` says why the last try did not work.
pub(crate) fn form(
    yard: &Yard,
    headers: &HeaderMap,
    peer: Peer,
    code: &str,
    who: &str,
    trouble: Option<&str>,
) -> Markup {
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
                input type="text" id="who" name="who" value=(who.chars().take(60).collect::<String>()) required
                    maxlength="60" autocomplete="name";
                p { button.main type="submit" { "Join" } }
            }
            @if let (Ok(safe), false) = (yard.safe.as_ref(), peer.safe) {
                div.note {
                    p { "Everything works here while the phone is in reach of the yard. To keep counting out of reach, it needs the " strong { "safe address" } ", now or later." }
                    p { a.button href="/trust" { "Set up the safe address" } }
                    p { "Set up already? " a href={ (safe.beside(headers)) "/" } { "Use the safe address" } "." }
                }
            }
        },
    )
}
