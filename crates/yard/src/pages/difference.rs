//! The difference: order against list against count, gravest first.

use axum::Extension;
use axum::extract::State;
use maud::{Markup, html};
use tally::{MarkDifference, Verdict};

use super::layout::{self, Way};
use super::{glance, state};
use crate::access::Holder;
use crate::address;
use crate::reply::{Reply, page_reply};
use crate::serve::Yard;

pub(crate) async fn show(State(yard): State<Yard>, Extension(holder): Extension<Holder>) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let content = match &standing.difference {
        None => html! {
            h1 { "The difference" }
            div.note { p { "There is nothing to compare yet. " a href="/order" { "Say what was bought" } " first." } }
        },
        Some(difference) => html! {
            h1 { "The difference" }
            @if difference.counted() == 0 { p { "Nothing is counted yet. " a href="/count" { "Start counting" } "." } }
            (glance::swaps(difference))
            @for (id, title, holds) in GROUPS {
                @let marks: Vec<&MarkDifference> = difference.with(holds).collect();
                @if !marks.is_empty() {
                    h2 id=(id) { (title) " " span.soft { "· " (state::count(marks.len() as i64, "mark", "marks")) } }
                    (table(&marks))
                }
            }
            @if !difference.strange.is_empty() {
                h2 { "Counted, but no part of this order" }
                @for (mark, on_hand) in &difference.strange { p { a.mark href=(address::count(mark)) { (mark) } " " (on_hand.counted) } }
            }
        },
    };
    Ok(page_reply(layout::page(
        &standing,
        &holder,
        Way::Difference,
        "Difference",
        content,
    )))
}

type Holds = fn(&Verdict) -> bool;

const GROUPS: [(&str, &str, Holds); 7] = [
    ("short", "Short", |v| matches!(v, Verdict::Short(_))),
    ("over", "Over", |v| matches!(v, Verdict::Over(_))),
    ("unfit", "Damaged, bent, wet or wrong", |v| {
        matches!(v, Verdict::Unfit(_) | Verdict::Wet(_) | Verdict::Overdrawn)
    }),
    ("list", "List against order", |v| {
        matches!(
            v,
            Verdict::ListShort(_) | Verdict::ListOver(_) | Verdict::ListUnclear(_)
        )
    }),
    ("coming", "To come in another shipment: not short", |v| {
        matches!(v, Verdict::Comes { .. } | Verdict::Early(_))
    }),
    ("open", "Not counted yet", |v| {
        matches!(v, Verdict::NotCounted(_))
    }),
    ("fits", "Fits", |v| matches!(v, Verdict::Fits)),
];

fn table(marks: &[&MarkDifference]) -> Markup {
    html! {
        table.fold {
            thead { tr { th { "Mark" } th { "What it is" } th.num { "Needed" } th.num { "Listed" } th.num { "Counted" } th.num { "Good" } th { "In words" } } }
            tbody {
                @for mark in marks {
                    tr {
                        th scope="row" { a.mark href=(address::count(&mark.mark)) { (mark.mark) } }
                        td.wide {
                            (mark.description)
                            @for row in &mark.rows {
                                span.said { "on the list, " (row.stands) ": " @match &row.unclear { Some(written) => (written), None => (row.quantity) } " × " (row.description) @if !row.sub_kit.is_empty() { " (" (row.sub_kit) ")" } }
                            }
                        }
                        td.num.big data-label="Needed" { (mark.needed) }
                        td.num.big data-label="Listed" { @match mark.listed { Some(n) => (n), None => "–" } }
                        td.num.big data-label="Counted" { @if mark.on_hand.is_counted() { (mark.on_hand.counted) } @else { "–" } }
                        td.num.big data-label="Good" { @if mark.on_hand.is_counted() { (mark.on_hand.good()) } @else { "–" } }
                        td { span { (state::verdicts(mark)) } }
                    }
                }
            }
        }
    }
}
