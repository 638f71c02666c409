//! What is still to come: when each shipment is expected, by whose word, and the forms that say so.

use maud::{Markup, html};
use ready::{Coming, ComingIs, Supplies};
use tally::Standing;

use super::state::Tone;
use crate::clock;

/// What the answer goes by: each thing that comes, and how likely it is here when.
pub(crate) fn said(standing: &Standing, supplies: &Supplies) -> Markup {
    let on_the_way = standing.shipments.values().any(|arrived| !arrived);
    let coming: Vec<&Coming> = (supplies.coming.iter())
        .filter(|coming| coming.is != ComingIs::Story)
        .collect();
    html! {
        @if coming.is_empty() && !on_the_way { p.soft { "Nothing is on its way." } }
        ul.coming {
            @for coming in coming {
                li { (Tone::Wait.says(&coming.name)) span { (coming.says) } }
            }
        }
    }
}

/// Between which days each shipment that is not here will come.
pub(crate) fn forms(standing: &Standing) -> Markup {
    let away = standing.shipments.iter().filter(|(_, arrived)| !**arrived);
    html! {
        @for (at, (name, _)) in away.enumerate() {
            @let known = standing.state.plans.expected.get(name);
            @let field = |what: &str| format!("coming-{at}-{what}");
            details {
                summary { "When " (name) " comes" }
                @if let Some(known) = known {
                    p.soft {
                        "So far: " (between(known.earliest.as_deref(), known.latest.as_deref())) "."
                        @if !known.words.is_empty() { " " (known.words) "." }
                    }
                }
                form method="post" action="/expected" data-keep={ "When " (name) " comes" } {
                    input type="hidden" name="id" value=(store::fresh_id());
                    input type="hidden" name="shipment" value=(name);
                    div.pair {
                        div { label for=(field("from")) { "Not before" } input type="date" id=(field("from")) name="earliest" value=[known.and_then(|known| known.earliest.as_deref())]; }
                        div { label for=(field("to")) { "Not after" } input type="date" id=(field("to")) name="latest" value=[known.and_then(|known| known.latest.as_deref())]; }
                    }
                    label for=(field("words")) { "Who said so (may be left empty)" }
                    input type="text" id=(field("words")) name="words" value=[known.map(|known| known.words.as_str())] maxlength="2000" autocomplete="off";
                    p { button type="submit" { "Keep these days" } }
                }
                form.inline method="post" action="/shipment" data-keep={ (name) " is here" } {
                    input type="hidden" name="id" value=(store::fresh_id());
                    input type="hidden" name="shipment" value=(name);
                    button type="submit" { (name) " is here" }
                }
            }
        }
    }
}

fn between(earliest: Option<&str>, latest: Option<&str>) -> String {
    match (earliest.map(clock::day_said), latest.map(clock::day_said)) {
        (Some(first), Some(last)) if first == last => format!("on {first}"),
        (Some(first), Some(last)) => format!("{first} to {last}"),
        (Some(first), None) => format!("from {first} on"),
        (None, Some(last)) => format!("by {last}"),
        (None, None) => "no day is said".into(),
    }
}
