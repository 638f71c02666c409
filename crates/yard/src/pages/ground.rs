//! The ground: given as a rectangle, or corner by corner, with a drawing that writes the corners.

use axum::Extension;
use axum::extract::State;
use maud::{Markup, PreEscaped, html};
use measure::System;
use tally::{Ground, Ordered, Standing};

use super::layout::{self, Way};
use super::state::Tone;
use crate::access::Holder;
use crate::reply::{Reply, page_reply};
use crate::serve::Yard;
use crate::{assets, ground_text};

pub(crate) async fn show(State(yard): State<Yard>, Extension(holder): Extension<Holder>) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let content = html! {
        h1 { "The ground" }
        @match standing.ordered() {
            None => div.note { p { "The ground is for a house. " a href="/order" { "Say what was bought" } " first." } },
            Some(ordered) => (ground(&standing, ordered)),
        }
    };
    Ok(page_reply(layout::page(
        &standing,
        &holder,
        Way::Ready,
        "The ground",
        content,
    )))
}

fn ground(standing: &Standing, ordered: &Ordered) -> Markup {
    let system = ordered.frame.system;
    let known = standing.state.plans.ground.as_ref();
    html! {
        p { "Where the house will stand, where the truck puts its load down, and what is in the way. From it follows where every pile lies." }
        @match known {
            None => (by_measures(ordered)),
            Some(ground) => {
                p.row { a.button.main href="/laydown" { "Where everything lies" } }
                (drawn(ordered, ground))
                (by_corners(ground, system))
                details {
                    summary { "Begin anew with a rectangle" }
                    (by_measures(ordered))
                }
            }
        }
    }
}

fn drawn(ordered: &Ordered, ground: &Ground) -> Markup {
    match ready::ground::Site::of(ground, &ordered.frame) {
        Ok(site) => html! {
            div.ground-drawing { (PreEscaped(ready::ground::ground_svg(&site, ordered.frame.system))) }
        },
        Err(trouble) => html! {
            div.note.short { p { (Tone::Short.says("No plan can be made of it")) (trouble) "." } }
        },
    }
}

/// A rectangle and what lies on it, by lengths from its left and its front edge.
fn by_measures(ordered: &Ordered) -> Markup {
    let frame = &ordered.frame;
    let unit = match frame.system {
        System::FeetInch => "feet, or such as 12 ft 6 in",
        System::Metric => "metres, or such as 350 cm",
    };
    let field = |name: &str, words: &str, required: bool| {
        html! {
            div {
                label for=(name) { (words) }
                input type="text" id=(name) name=(name) maxlength="40" autocomplete="off" inputmode="text" required[required];
            }
        }
    };
    html! {
        form method="post" action="/ground" data-keep="The ground" {
            input type="hidden" name="id" value=(store::fresh_id());
            p { "Stand before one edge of the ground and look over it: that edge is the front. All lengths in " (unit) "." }
            h2 { "The ground" }
            div.three { (field("across", "How wide", true)) (field("deep", "How deep", true)) }
            h2 { "The house" }
            p.soft { "It is " (frame.width.tape(frame.system)) " wide and " (frame.length.tape(frame.system)) " long. Measure to its nearest corner." }
            div.three { (field("house_left", "From the left edge", true)) (field("house_front", "From the front edge", true)) }
            fieldset {
                legend.soft { "Its length runs" }
                div.chips {
                    label { input type="radio" name="house_runs" value="back" checked; "Away from you" }
                    label { input type="radio" name="house_runs" value="right"; "From left to right" }
                }
            }
            h2 { "The truck" }
            p.soft { "Where its load is put down, and the ground that it drives and swings over." }
            div.three { (field("drop_left", "Load, from the left", true)) (field("drop_front", "Load, from the front", true)) }
            div.three { (field("truck_left", "Area, from the left", false)) (field("truck_front", "Area, from the front", false)) (field("truck_wide", "How wide", false)) (field("truck_deep", "How deep", false)) }
            h2 { "A gate in the front edge" }
            div.three { (field("gate_left", "From the left", false)) (field("gate_wide", "How wide", false)) }
            h2 { "A place under cover" }
            p.soft { "For film, cloth and hardware; leave it empty if there is none." }
            div.three { (field("covered_left", "From the left", false)) (field("covered_front", "From the front", false)) (field("covered_wide", "How wide", false)) (field("covered_deep", "How deep", false)) }
            label for="covered_words" { "What it is" }
            input type="text" id="covered_words" name="covered_words" maxlength="80" placeholder="such as shed roof" autocomplete="off";
            details {
                summary { "Ways between piles, and lifting" }
                p.soft { "Left empty they are " (ground_text::typed(ground_text::AISLE, frame.system)) ", " (ground_text::typed(ground_text::TRUCK_BED, frame.system)) " and " (ground_text::typed(ground_text::REACH, frame.system)) "." }
                div.three { (field("aisle", "Way between piles", false)) (field("truck_bed", "Height of the truck's bed", false)) (field("reach", "Load before the ankles", false)) }
            }
            p { button.main type="submit" { "Keep the ground" } }
        }
    }
}

/// The ground as text, and the drawing that writes it.
fn by_corners(ground: &Ground, system: System) -> Markup {
    html! {
        h2 { "Corner by corner" }
        p { "Each line is a part of the ground, each corner how far it is to the right, “x”, how far up the drawing. A line “obstacle (apple tree): …”, “shade: …” or “slope 5: …” (a rise of 5 in 100) adds one." }
        div.ground-editor data-ground-editor hidden {
            p.soft { "Drag a corner, or go to it with Tab and move it with the arrow keys; Insert adds one after it, Delete takes it away." }
            div data-ground-sheet {}
            div.row {
                label for="add-kind" { "Add" }
                select id="add-kind" data-add-kind {
                    option value="obstacle" { "something in the way" }
                    option value="covered" { "a place under cover" }
                    option value="truck" { "ground for the truck" }
                    option value="shade" { "shade" }
                    option value="slope 5" { "a slope" }
                }
                button type="button" data-add { "Add it" }
            }
            p aria-live="polite" data-ground-says {}
        }
        form method="post" action="/ground" data-keep="The ground" {
            input type="hidden" name="id" value=(store::fresh_id());
            label for="text" { "The ground in lines" }
            textarea.ground-text id="text" name="text" rows="12" maxlength=(ground_text::MOST_TEXT) spellcheck="false" required data-ground-text data-system=(match system { System::FeetInch => "feet", System::Metric => "metric" }) { (ground_text::write(ground, system)) }
            p { button.main type="submit" { "Keep the ground" } }
        }
        script type="module" src=(assets::address("ground.js")) {}
    }
}
