//! What the papers say that nothing else in the job holds: who writes, to where, and what only a person can tell.

use axum::Extension;
use axum::extract::State;
use maud::{Markup, html};
use paper::{FIELDS, Field, NO_CARRIER};
use tally::Standing;

use super::layout::{self, Way};
use super::state::Tone;
use crate::access::Holder;
use crate::reply::{Reply, page_reply};
use crate::serve::Yard;
use crate::{clock, letters};

pub(crate) async fn show(State(yard): State<Yard>, Extension(holder): Extension<Holder>) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let shipments = letters::shipments(&standing);
    let general = FIELDS.iter().filter(|field| !field.of_shipment);
    let (you, others): (Vec<&Field>, Vec<&Field>) = general.partition(|field| is_of_you(field));
    let content = html! {
        h1 { "What the papers say" }
        p { "What nothing else in the job holds. Each is kept by itself; left empty, the paper has a line for it to be filled in by hand." }
        h2 { "You" }
        @for field in you { (asked(&standing, field, None)) }
        @for shipment in shipments.iter().filter(|name| standing.shipments.contains_key(*name)) {
            h2 { (shipment) }
            (open(&standing, shipment))
            @for field in FIELDS.iter().filter(|field| field.of_shipment) { (asked(&standing, field, Some(shipment))) }
        }
        (costs(&standing))
        h2 { "The sender, replacements and returns" }
        @for field in others { (asked(&standing, field, None)) }
        p.row { a.button.main href="/papers" { "Papers" } a.button href="/prices" { "Prices" } a.button href="/photos" { "Photos" } }
    };
    Ok(page_reply(layout::page(
        &standing,
        &holder,
        Way::Papers,
        "What the papers say",
        content,
    )))
}

fn is_of_you(field: &Field) -> bool {
    field.papers.len() == claim::Paper::ALL.len()
}

/// One field, with what is said of it.
fn asked(standing: &Standing, field: &Field, shipment: Option<&str>) -> Markup {
    let said = standing.state.affairs.written(field.name, shipment);
    let key = key(field.name, shipment);
    let such = Some(field.such_as).filter(|such| !such.is_empty());
    html! {
        (keep(field.name, shipment, field.asks, html! {
            div {
                label for=(key) { (field.asks) }
                @if field.lines { textarea id=(key) name="words" rows="3" maxlength="600" placeholder=[such] { (said) } }
                @else { input type="text" id=(key) name="words" value=(said) maxlength="200" placeholder=[such] autocomplete="off"; }
            }
            button type="submit" { "Keep" span.unseen { ": " (field.asks) } }
        }))
    }
}

/// What a person must say before the papers to the carrier are whole, and what was said so.
fn open(standing: &Standing, shipment: &str) -> Markup {
    let zone = clock::site_zone(&standing.state.affairs);
    let claimed = paper::claimed_of(standing, shipment, &zone);
    let hidden = paper::hidden_open(standing, shipment, &zone);
    let pieces = (claimed.open.iter()).filter(|open| !open.field.starts_with("cost "));
    let answered = (standing.state.affairs.written.iter()).filter(|((field, of), _)| {
        of.as_deref() == Some(shipment) && what_is_said(field).is_some()
    });
    html! {
        @for open in pieces {
            (question(&open.asks, &open.why))
            (number(&open.field, shipment, &open.asks, ""))
        }
        @for open in &hidden {
            (question(&open.asks, &open.why))
            (yes_or_no(&open.field, shipment, &open.asks))
        }
        @for ((field, _), words) in answered {
            @let what = what_is_said(field).unwrap_or_default();
            p { (Tone::Good.says(&format!("{what}: {words}"))) }
            (keep(field, Some(shipment), &what, html! {
                input type="hidden" name="words" value="";
                button type="submit" { "Ask again" span.unseen { ": " (what) } }
            }))
        }
    }
}

fn question(asks: &str, why: &str) -> Markup {
    html! { p { (Tone::Wait.says(&frame::capitalised(asks))) (frame::capitalised(why)) "." } }
}

fn number(field: &str, shipment: &str, asks: &str, said: &str) -> Markup {
    let key = key(field, Some(shipment));
    keep(
        field,
        Some(shipment),
        asks,
        html! {
            div { label for=(key) { "Pieces" span.unseen { ": " (asks) } } input.mark-field type="number" id=(key) name="words" value=(said) min="0" max="1000000" step="1" inputmode="numeric" required; }
            button type="submit" { "Keep" span.unseen { ": " (asks) } }
        },
    )
}

fn yes_or_no(field: &str, shipment: &str, asks: &str) -> Markup {
    html! {
        div.row {
            @for (word, says) in [("yes", "Yes, it was hidden"), ("no", "No")] {
                (keep(field, Some(shipment), asks, html! {
                    input type="hidden" name="words" value=(word);
                    button type="submit" { (says) span.unseen { ": " (asks) } }
                }))
            }
        }
    }
}

/// Which carrier is asked for each cost, where more than one shipment may be meant.
fn costs(standing: &Standing) -> Markup {
    let costs = &standing.state.affairs.costs;
    html! {
        @if standing.shipments.len() > 1 && !costs.is_empty() {
            h2 { "Other costs" }
            @for (words, sum) in costs {
                @let field = paper::cost_field(words);
                @let said = standing.state.affairs.written(&field, None);
                (keep(&field, None, words, html! {
                    div {
                        label for=(key(&field, None)) { (words) ", " (sum) ": claimed with" }
                        select id=(key(&field, None)) name="words" {
                            option value="" selected[said.is_empty()] { "Not said" }
                            @for name in standing.shipments.keys() { option value=(name) selected[said == name] { (name) } }
                            option value=(NO_CARRIER) selected[said == NO_CARRIER] { "No carrier" }
                        }
                    }
                    button type="submit" { "Keep" span.unseen { ": " (words) } }
                }))
            }
        }
    }
}

/// A form that keeps one field.
fn keep(field: &str, shipment: Option<&str>, says: &str, inside: Markup) -> Markup {
    html! {
        form.row method="post" action="/letters" data-keep={ "What papers say: " (says) } {
            input type="hidden" name="id" value=(store::fresh_id());
            input type="hidden" name="field" value=(field);
            @if let Some(shipment) = shipment { input type="hidden" name="shipment" value=(shipment); }
            (inside)
        }
    }
}

/// What an answer about a mark is about; nothing for any other field.
fn what_is_said(field: &str) -> Option<String> {
    let of =
        |start: &str, says: &str| (field.strip_prefix(start)).map(|mark| format!("{says} {mark}"));
    of("harmed ", "Harmed pieces that came with it, of")
        .or_else(|| of("lost ", "Pieces in what did not come, of"))
        .or_else(|| of("hidden ", "Hidden harm of"))
}

fn key(field: &str, shipment: Option<&str>) -> String {
    let part = |text: &str| crate::address::segment(text);
    format!("{}-{}", part(field), part(shipment.unwrap_or_default()))
}
