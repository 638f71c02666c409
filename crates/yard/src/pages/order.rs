//! The order, its drawing, and its parts list; "why so many" for each mark.

use axum::Extension;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use frame::{Family, View};
use maud::{Markup, PreEscaped, html};
use serde::Deserialize;
use tally::{Difference, Ordered, Standing, Verdict};

use super::layout::{self, Way};
use crate::access::Holder;
use crate::address;
use crate::assets;
use crate::reply::{Failure, Reply, page_reply};
use crate::serve::Yard;

/// From where the house is looked at; its own corner when left out or not known.
#[derive(Deserialize)]
pub(crate) struct Seen {
    #[serde(default)]
    view: String,
}

pub(crate) async fn show(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Query(seen): Query<Seen>,
) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let view = View::named(&seen.view).unwrap_or_default();
    let content = match standing.ordered() {
        Some(ordered) => with_order(ordered, standing.difference.as_ref(), view),
        None => html! {
            h1 { "The order" }
            @if let Some(Err(why)) = standing.order.as_deref() {
                div.note.short role="alert" { p { "The order cannot be used." } @for line in why.lines() { p { (line) } } }
            }
            @else { p { "Say what was bought. Tallyard works out every part from it, and where each goes." } }
            (form(&standing))
        },
    };
    Ok(page_reply(layout::page(
        &standing,
        &holder,
        Way::Order,
        "Order",
        content,
    )))
}

fn with_order(ordered: &Ordered, difference: Option<&Difference>, view: View) -> Markup {
    let frame = &ordered.frame;
    let tape = |length: measure::Length| length.tape(frame.system);
    html! {
        h1 { (ordered.family.title) }
        p {
            (tape(frame.width)) " wide, " (tape(frame.length)) " long, " (tape(frame.height)) " high; "
            (frame.bows) " bows, " (tape(frame.bow_spacing)) " apart, centre to centre."
            @for (option, choice) in ordered.order.chosen() { " " (frame::capitalised(&option)) ": " (choice) "." }
            @if let Some(way) = &ordered.order.uneven { " Last bay: " (way) "." }
        }
        (drawing(ordered, difference, view))
        table.fold {
            caption { "The parts list: what the house needs, worked out from its places" }
            thead { tr { th { "Mark" } th { "What it is" } th.num { "Needed" } th { "For" } th { "First needed for" } th.num { "Each" } th {} } }
            tbody {
                @for line in &ordered.parts.lines {
                    @let mark = &line.part.mark.0;
                    tr data-row=(mark) data-says=(line.part.description) {
                        th scope="row" { button.light type="button" data-mark=(mark) aria-pressed="false" disabled { span.mark { (mark) } } }
                        td.wide {
                            (line.part.description)
                            @if let Some(drawing) = frame::part_drawing(&line.part) { (PreEscaped(drawing)) }
                        }
                        td.num.big data-label="Needed" {
                            (line.quantity)
                            @if line.supplied > line.quantity { div.minor { "supplied " (line.supplied) } }
                        }
                        td.minor data-label="For" { @for (i, (role, n)) in line.uses().into_iter().enumerate() { @if i > 0 { ", " } (role) " " (n) } }
                        td.minor data-label="First needed for" { (ordered.parts.first_stage(line)) }
                        td.num.minor data-label="Each" { (mass(line.part.unit_mass)) }
                        td.act { a.button href=(address::why(mark)) { "Why " (line.quantity) "?" } }
                    }
                }
            }
        }
        h2 { "What it should weigh" }
        p { "For the freight bill: a shipment that weighs much less than this has something left out." }
        table {
            tbody {
                tr { th scope="row" { "What the house needs" } td.num { (weighs(ordered.parts.mass())) } }
                @for package in &ordered.parts.packed {
                    tr { th scope="row" { (frame::capitalised(&package.says)) ", with what is in it" } td.num { (weighs(package.gross)) } }
                }
                tr { th scope="row" { "All of it, spares and packing too" } td.num.big { (weighs(ordered.parts.gross())) } }
            }
        }
        details.no-print {
            summary { "Change the order" }
            p { "Counts stay; what is needed is worked out anew." }
            (text_form(&ordered.order.write()))
        }
        script type="module" src=(assets::address("drawing.js")) {}
    }
}

/// The house from a corner, with the ways to turn it and to light what is asked for.
fn drawing(ordered: &Ordered, difference: Option<&Difference>, view: View) -> Markup {
    let short: Vec<&str> = (difference.into_iter())
        .flat_map(|d| d.with(|verdict| matches!(verdict, Verdict::Short(_))))
        .map(|mark| mark.mark.as_str())
        .collect();
    let corners: Vec<String> = (View::ALL.iter())
        .map(|corner| format!("{}:{}", corner.key(), corner.says()))
        .collect();
    let at = (View::ALL.iter())
        .position(|corner| *corner == view)
        .unwrap_or(0);
    let [before, after] = [3, 1].map(|on| View::ALL[(at + on) % View::ALL.len()]);
    let from = |corner: View| format!("/order?view={}", corner.key());
    html! {
        div.drawing data-drawing { (PreEscaped(frame::isometric(&ordered.frame, view))) }
        nav.turn.no-print aria-label="Walk around the house" data-views=(corners.join(",")) {
            a.button href=(from(after)) data-turn="1" { "‹ Walk left" }
            a.button href=(from(before)) data-turn="-1" { "Walk right ›" }
            span role="status" data-from { "From the " (view.says()) }
        }
        p role="status" data-lit-says { "Touch a mark to light its pieces." }
        div.row.no-print {
            label for="stage" { "Light a step of the build"
                select id="stage" data-light-stage disabled {
                    option value="" { "none" }
                    @for stage in &ordered.parts.stages { option { (stage) } }
                }
            }
            @if !short.is_empty() {
                button type="button" data-light-marks=(short.join("\n")) disabled { "Light the marks that are short" }
            }
            a.button href="/drawings" { "All drawings" }
        }
    }
}

/// In both units, since a freight bill may be in either.
fn weighs(mass: measure::Mass) -> String {
    format!("{:.0} kg ({:.0} lb)", mass.to_kilograms(), mass.to_pounds())
}

fn mass(mass: measure::Mass) -> String {
    let kg = mass.to_kilograms();
    if kg < 1.0 {
        format!("{:.0} g", kg * 1e3)
    } else {
        format!("{kg:.1} kg")
    }
}

/// The places of one mark.
pub(crate) async fn why(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Path(mark): Path<String>,
) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let line = standing
        .ordered()
        .and_then(|ordered| ordered.parts.line(&mark));
    let (Some(line), Some(ordered)) = (line, standing.ordered()) else {
        return Err(Failure::new(
            StatusCode::NOT_FOUND,
            "This order has no such mark.",
        ));
    };
    let tape = |length: measure::Length| length.tape(ordered.frame.system);
    let content = html! {
        h1 { "Why " (line.quantity) " of " (mark) "?" }
        p { (line.part.description) "." }
        @if let Some(bend) = &line.part.bend {
            p { "On the ground, end to end " (tape(bend.chord)) "; " (tape(bend.rise)) " high over that line." }
        }
        @for words in [line.spares_in_words(), line.cut_in_words(ordered.frame.system)].into_iter().flatten() {
            p { (frame::capitalised(&words)) "." }
        }
        @for (role, n) in line.uses() {
            h2 { (frame::capitalised(role)) ": " (n) }
            @for why in line.rules(role) { p.rule { (frame::capitalised(why)) "." } }
            table.fold.places {
                thead { tr { th { "Place" } th.num { "How many" } th { "Cut to" } th { "Stage" } th { "Comes with" } } }
                tbody {
                    @for place in line.places.iter().filter(|p| p.role == role) {
                        tr {
                            th scope="row" {
                                (place.name)
                                @if let Some(piece) = place.piece { " " a.show href=(address::lit_piece(piece)) { "Show" } }
                            }
                            td.num data-label="How many" { (place.quantity) }
                            td data-label="Cut to" {
                                @if let Some(length) = place.cut_to { (tape(length)) }
                                @if let Some(from) = &place.left_from { ", from what is left of " (from) }
                            }
                            td.minor data-label="Stage" { (place.stage) }
                            td.minor data-label="Comes with" { (place.sub_kit.0) }
                        }
                    }
                }
            }
        }
        div.next {
            a.button href=(address::lit(&mark)) { "Light it in the drawing" }
            a.button href=(address::count(&mark)) { "Count it" }
        }
    };
    Ok(page_reply(layout::page(
        &standing,
        &holder,
        Way::Order,
        &format!("Why {mark}"),
        content,
    )))
}

/// The forms for a job without an order: fields for the families that come with Tallyard, or the order file.
fn form(standing: &Standing) -> Markup {
    let said = standing.state.order.as_ref().map(|seen| seen.toml.clone());
    html! {
        @for family in Family::shipped() {
            details { summary { (family.title) } (family_form(&family)) }
        }
        h2 { "Or the order file" }
        (text_form(said.as_deref().unwrap_or_default()))
    }
}

/// What can be chosen of one family.
fn family_form(family: &Family) -> Markup {
    let [least, most] = family
        .lengths()
        .map(|length| length.tape(measure::System::FeetInch));
    html! {
        form method="post" action="/order" {
            input type="hidden" name="id" value=(store::fresh_id());
            input type="hidden" name="family" value=(family.name);
            label { "What you call it" input type="text" name="name" required maxlength="80"; }
            label { "Length, from " (least) " to " (most)
                input type="text" name="length" required placeholder="48 ft" maxlength="40";
            }
            label { "Bow spacing"
                select name="bow_spacing" {
                    @for spacing in family.bow_spacings() { option { (spacing.tape(measure::System::FeetInch)) } }
                }
            }
            @if !family.may_be_uneven().is_empty() {
                label { "If the length is no whole number of bays"
                    select name="uneven" {
                        option value="" { "refuse it" }
                        @for way in family.may_be_uneven() { option { (way) } }
                    }
                }
            }
            @for option in family.choices() {
                @for table in option.tables() {
                    label {
                        (option.says) @if option.tables().len() > 1 { ", " (table) }
                        select name=(format!("{table}.{}", option.key)) {
                            @for choice in &option.choices { option { (choice) } }
                        }
                    }
                }
            }
            p { button.main type="submit" { "Work out the parts" } }
        }
    }
}

fn text_form(toml: &str) -> Markup {
    html! {
        form method="post" action="/order" {
            input type="hidden" name="id" value=(store::fresh_id());
            label for="toml" { "Order file (TOML)" }
            textarea id="toml" name="toml" required rows="14" maxlength=(frame::MOST_ORDER_BYTES) spellcheck="false" { (toml) }
            p { button type="submit" { "Use this order" } }
        }
    }
}
