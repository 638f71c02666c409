//! The difference, explained: what most likely happened and the look that would settle it; below it every mark.

use axum::Extension;
use axum::extract::State;
use maud::{Markup, html};
use tally::{Difference, Explanation, MarkDifference, OtherOrder, Standing, Verdict};

use super::layout::{self, Way};
use super::state::Tone;
use super::{state, story};
use crate::access::Holder;
use crate::address;
use crate::reply::{Reply, page_reply};
use crate::serve::Yard;

pub(crate) async fn show(State(yard): State<Yard>, Extension(holder): Extension<Holder>) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let content = match (&standing.difference, standing.explanation()) {
        (Some(difference), Some(explanation)) => html! {
            h1 { "The difference" }
            (counted(difference))
            (explained(&standing, difference, explanation))
            (by_mark(difference))
        },
        _ => html! {
            h1 { "The difference" }
            div.note { p { "There is nothing to compare yet. " a href="/order" { "Say what was bought" } " first." } }
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

/// How far the counting has come, for nothing is said of what nobody has counted.
fn counted(difference: &Difference) -> Markup {
    let (counted, open) = (difference.counted(), difference.not_counted());
    html! {
        @if counted == 0 {
            div.note { p { "Nothing is counted yet. " a href="/count" { "Start counting" } "; until then only the list can be held against the order." } }
        } @else if open > 0 {
            p {
                (Tone::Open.says(&format!("{} not counted yet", state::count(open as i64, "mark", "marks"))))
                "What follows goes by what was counted. " a href="/count" { "Count on" } "."
            }
        }
    }
}

/// What most likely happened, a card a matter, with the order that the list would fit on top.
fn explained(standing: &Standing, difference: &Difference, explanation: &Explanation) -> Markup {
    let matters = &explanation.matters;
    let checks = matters.iter().filter_map(|matter| matter.check.as_ref());
    let (looks, seconds) = checks.fold((0, 0.0), |(n, sum), check| (n + 1, sum + check.seconds));
    html! {
        @if let Some(other) = &explanation.other_order { (other_order(other)) }
        @if matters.is_empty() {
            @if difference.counted() > 0 {
                div.note.good { p { (Tone::Good.says("Nothing differs")) "Whatever was counted fits the order and the list." } }
            }
        } @else {
            h2 { "What most likely happened" }
            (called_short(difference, explanation))
            @if looks > 0 {
                p {
                    (state::count(looks, "look", "looks")) " would settle what is in doubt: " (story::minutes(seconds)) " in all. The gravest stands first."
                }
            }
            @if !explanation.proven { p.soft { "There is so much at once that not every story was proven to be the likeliest. Count and look on; it gets less." } }
            @for matter in matters { (story::card(standing, matter)) }
            p.row { a.button href="/points" { "Open points" } a.button href="/papers" { "Papers" } }
        }
    }
}

/// What nothing but a shortage or a surplus explains.
fn called_short(difference: &Difference, explanation: &Explanation) -> Markup {
    let sum = |of: &dyn Fn(&str) -> i64| -> (i64, i64) {
        let each = difference
            .marks
            .iter()
            .map(|mark| of(&mark.mark))
            .filter(|n| *n > 0);
        each.fold((0, 0), |(pieces, marks), n| (pieces + n, marks + 1))
    };
    let short = sum(&|mark| explanation.short(mark));
    let over = sum(&|mark| explanation.over(mark));
    let figure = |tone: Tone, (pieces, marks): (i64, i64), what: &str| {
        let (pieces_are, of) = (
            state::count(pieces, "piece", "pieces"),
            state::count(marks, "mark", "marks"),
        );
        let tone = if pieces == 0 { Tone::Good } else { tone };
        html! {
            li {
                span.n.(tone.class()) { (tone.shape()) (pieces) }
                span.what { (pieces_are.trim_start_matches(|c: char| c.is_ascii_digit())) " " (what) @if pieces > 0 { ", of " (of) } }
            }
        }
    };
    html! {
        ul.figures.plain {
            (figure(Tone::Short, short, "short, if this is what happened"))
            (figure(Tone::Over, over, "too many"))
        }
    }
}

/// The list fits another order better than the one at hand.
fn other_order(other: &OtherOrder) -> Markup {
    let odds = match other.odds {
        odds if odds < 1000.0 => format!("about {odds:.0} times likelier"),
        _ => "more than 1000 times likelier".into(),
    };
    html! {
        div.note.short role="alert" {
            p { (Tone::Short.says("The list seems to be for another order")) }
            p { "It would fit with " strong { (other.change) } (other.but_for()) ": " (odds) " than that it is for the order at hand." }
            p {
                @match other.packed_so {
                    true => "What was counted fits that order too, so the kit may have been packed for it. Ask the sender before anything is unpacked further.",
                    false => "What was counted does not: only the list seems to be for it.",
                }
            }
            p { a.button.main href="/order" { "Look at the order" } " " a.button href="/list" { "Look at the list" } }
        }
    }
}

/// The whole picture: every mark with its numbers, folded by what is said of it.
fn by_mark(difference: &Difference) -> Markup {
    html! {
        h2 { "Every mark" }
        @for (id, title, holds) in GROUPS {
            @let marks: Vec<&MarkDifference> = difference.with(holds).collect();
            @if !marks.is_empty() {
                details {
                    summary { (title) span.soft { "\u{a0}· " (state::count(marks.len() as i64, "mark", "marks")) } }
                    div id=(id) { (table(&marks)) }
                }
            }
        }
        @if !difference.strange.is_empty() {
            h2 { "Counted, but no part of this order" }
            @for (mark, on_hand) in &difference.strange { p { a.mark href=(address::count(mark)) { (mark) } " " (on_hand.counted) } }
        }
    }
}

type Holds = fn(&Verdict) -> bool;

const GROUPS: [(&str, &str, Holds); 8] = [
    ("short", "Fewer than there should be", |v| {
        matches!(
            v,
            Verdict::Short(_) | Verdict::ShortBetween { .. } | Verdict::CouldBeShort(_)
        )
    }),
    ("over", "More than there should be", |v| {
        matches!(v, Verdict::Over(_))
    }),
    ("unfit", "Damaged, bent, wet or wrong", |v| {
        matches!(v, Verdict::Unfit(_) | Verdict::Wet(_) | Verdict::Overdrawn)
    }),
    ("looks", "Counted twice with two numbers", |v| {
        matches!(v, Verdict::LooksDiffer(_))
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
