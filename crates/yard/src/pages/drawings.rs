//! Every drawing of the house that can be built from.

use axum::Extension;
use axum::extract::{Path, State};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use frame::{Frame, HouseEnd, View};
use maud::{Markup, PreEscaped, html};

use super::layout::{self, Way};
use crate::access::Holder;
use crate::address;
use crate::reply::{Failure, Reply, page_reply};
use crate::serve::Yard;

pub(crate) async fn show(State(yard): State<Yard>, Extension(holder): Extension<Holder>) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let content = match standing.ordered() {
        Some(ordered) => drawings(&ordered.frame),
        None => html! {
            h1 { "Drawings" }
            div.note { p { "Drawings need an order. " a href="/order" { "Say what was bought" } " first." } }
        },
    };
    Ok(page_reply(layout::page(
        &standing,
        &holder,
        Way::Order,
        "Drawings",
        content,
    )))
}

fn drawings(frame: &Frame) -> Markup {
    let details = frame::joints_to_detail(frame);
    let bows: Vec<_> = (frame.parts.iter())
        .filter_map(|part| Some((part, frame::bow_flat(frame, &part.mark.0)?)))
        .collect();
    html! {
        h1 { "Drawings" }
        p { "Read off the order: every line is a piece of the parts list. They show where pieces go, not that the house may stand. The sender's own drawings, local codes and licensed practice come first." }
        p.row.no-print {
            a.button.main href="/papers/drawings.pdf?sheet=letter" { "To print, Letter" }
            a.button href="/papers/drawings.pdf?sheet=a4" { "To print, A4" }
            a.button href="/order" { "The house from its corners" }
        }
        (sheet(&frame::plan(frame)))
        @for end in HouseEnd::BOTH { (sheet(&frame::end_elevation(frame, end))) }
        @if let Some(svg) = frame::section(frame) { (sheet(&svg)) }
        (sheet(&frame::side_elevation(frame)))
        @if !bows.is_empty() { h2 { "Bows, lying on the ground" } }
        @for (part, svg) in &bows {
            (sheet(svg))
            p { a href=(address::why(&part.mark.0)) { span.mark { (part.mark) } } " " (part.description) "." }
        }
        @if !details.is_empty() { h2 { "Joints" } }
        div.details {
            @for (kind, _) in details {
                @if let Some(svg) = frame::joint_detail(frame, kind) { (sheet(&svg)) }
            }
        }
    }
}

/// One drawing. The frame's drawings escape all text in them.
fn sheet(svg: &str) -> Markup {
    html! { div.drawing { (PreEscaped(svg)) } }
}

/// The house from one corner, for a page that turns it without being read anew.
pub(crate) async fn isometric(State(yard): State<Yard>, Path(view): Path<String>) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let (Some(view), Some(ordered)) = (View::named(&view), standing.ordered()) else {
        return Err(Failure::new(
            StatusCode::NOT_FOUND,
            "There is no such drawing.",
        ));
    };
    let svg = frame::isometric(&ordered.frame, view);
    let headers = [(header::CONTENT_TYPE, "image/svg+xml")];
    Ok::<Response, Failure>((headers, svg).into_response())
}
