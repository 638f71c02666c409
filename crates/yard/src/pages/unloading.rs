//! Unloading: what comes off first, with what, and what to mind where bands are cut.

use axum::Extension;
use axum::extract::State;
use maud::{Markup, html};
use ready::handling::LiftSite;
use ready::unload::{UnloadStep, Unloading, unloading};

use super::layout::{self, Way};
use super::state::Tone;
use crate::access::Holder;
use crate::address;
use crate::reply::{Reply, page_reply};
use crate::serve::Yard;

pub(crate) async fn show(State(yard): State<Yard>, Extension(holder): Extension<Holder>) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let content = match standing.ordered() {
        Some(ordered) => {
            let ground = standing.state.plans.ground.as_ref();
            let site = ground.map_or_else(LiftSite::default, LiftSite::of);
            whole(&unloading(&ordered.parts, &ordered.frame, &site))
        }
        None => html! {
            h1 { "Unloading" }
            div.note { p { "What comes off the truck follows from an order. " a href="/order" { "Say what was bought" } " first." } }
        },
    };
    Ok(page_reply(layout::page(
        &standing,
        &holder,
        Way::Ready,
        "Unloading",
        content,
    )))
}

fn whole(said: &Unloading) -> Markup {
    html! {
        h1 { "Unloading" }
        div.note.wait { p { (Tone::Wait.says("Photos first")) "Before a band is cut, all four sides of everything. Eye protection and gloves at every band; the driver's and the sender's instructions go first." } }
        p.row.no-print { a.button.main href="/photos" { "Take the photos" } a.button href="/tailgate" { "At the truck" } a.button href="/lifting" { "Who lifts what" } }
        h2 { "Off the truck, in this order" }
        p { (said.rule) }
        ol {
            @for load in &said.off {
                li {
                    strong { (load.says) } ": " (load.goes) "; first needed for " (load.first) "."
                    span.soft { " " (load.handling.says) "." }
                }
            }
        }
        h2 { "Have ready" }
        p { "Tools: " (said.tools.join(", ")) "." }
        p { "Worn: " strong { (said.wear.join(", ")) } "." }
        h2 { "Step by step" }
        ol.steps { @for step in &said.steps { (one(step)) } }
        h2 { "Out of the crates, in the order of the build" }
        table.fold {
            thead { tr { th { "Share of the kit" } th { "First needed for" } th { "Marks" } th { "Pieces" } } }
            tbody {
                @for share in &said.unpack {
                    tr {
                        th scope="row" { (share.sub_kit) @if let Some(package) = &share.package { span.soft { " · in: " (package) } } }
                        td.wide data-label="First needed for" { (share.first) }
                        td.wide { @for (i, mark) in share.marks.iter().enumerate() { @if i > 0 { ", " } a.mark href=(address::count(mark)) { (mark) } } }
                        td.num data-label="Pieces" { (share.pieces) }
                    }
                }
            }
        }
    }
}

fn one(step: &UnloadStep) -> Markup {
    html! {
        li {
            (step.says)
            @if !step.caution.is_empty() { p { (Tone::Short.says("Caution")) (step.caution) } }
            @if !step.wear.is_empty() || !step.tools.is_empty() {
                p.soft { @if !step.tools.is_empty() { "With " (step.tools.join(", ")) ". " } @if !step.wear.is_empty() { "Wear " (step.wear.join(", ")) "." } }
            }
        }
    }
}
