//! Counting: the marks to count, and the page for one of them, made for a gloved hand.

use axum::Extension;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use maud::{Markup, PreEscaped, html};
use serde::Deserialize;
use tally::{Condition, Fate, MarkDifference, Ordered, Seen, Standing};

use super::layout::{self, Way};
use super::state;
use crate::access::Holder;
use crate::address;
use crate::clock;
use crate::reply::{Failure, Reply, page_reply};
use crate::serve::Yard;

pub(crate) async fn marks(State(yard): State<Yard>, Extension(holder): Extension<Holder>) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let content = match (standing.ordered(), &standing.difference) {
        (Some(ordered), Some(difference)) => html! {
            h1 { "Count" }
            p { (difference.counted()) " of " (difference.marks.len()) " marks counted. Touch the one in front of you." }
            @for stage in &ordered.parts.stages {
                @let lines: Vec<_> = ordered.parts.lines.iter().filter(|l| ordered.parts.first_stage(l) == stage).collect();
                @if !lines.is_empty() {
                    h2 { "First needed for " (stage) }
                    ul.marks {
                        @for line in lines {
                            @if let Some(mark) = difference.mark(&line.part.mark.0) { (mark_row(mark)) }
                        }
                    }
                }
            }
        },
        _ => html! {
            h1 { "Count" }
            div.note { p { "There are no marks before there is an order. " a href="/order" { "Say what was bought" } "." } }
        },
    };
    Ok(page_reply(layout::page(
        &standing,
        &holder,
        Way::Count,
        "Count",
        content,
    )))
}

fn mark_row(mark: &MarkDifference) -> Markup {
    html! {
        li {
            a href=(address::count(&mark.mark)) {
                span.mark { (mark.mark) }
                span { (mark.description) small { (state::verdicts(mark)) } }
                span.n { @if mark.on_hand.is_counted() { (mark.on_hand.counted) } @else { "–" } }
            }
        }
    }
}

#[derive(Deserialize)]
pub(crate) struct Asked {
    /// An event that was just taken in, to be said and to be undone.
    done: Option<String>,
}

pub(crate) async fn one(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Path(mark): Path<String>,
    Query(asked): Query<Asked>,
) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let difference = standing.difference.as_ref().and_then(|d| d.mark(&mark));
    let seen = standing.state.marks.get(&mark).cloned().unwrap_or_default();
    let done = done(&standing, &mark, asked.done.as_deref());
    let (Some(ordered), Some(difference)) = (standing.ordered(), difference) else {
        return strange(&standing, &holder, &mark, &seen, done);
    };
    let content = html! {
        div.count {
            (heading(ordered, difference))
            (done)
            (so_far(difference))
            (look_alikes(ordered, &mark))
            (adding(&standing, &mark, &seen))
            (conditions(&mark))
            (noting(&standing, &mark))
            (log(&mark, &seen))
            (neighbours(ordered, &mark))
        }
        script type="module" src="/assets/count.js" {}
    };
    Ok(page_reply(layout::page(
        &standing,
        &holder,
        Way::Count,
        &format!("Count {mark}"),
        content,
    )))
}

/// The page of a mark that was counted and is no part of the order, as when the order was changed since: what was
/// seen stays, and can be taken back.
fn strange(standing: &Standing, holder: &Holder, mark: &str, seen: &Seen, done: Markup) -> Reply {
    if seen.counts.is_empty() && seen.conditions.is_empty() && done.0.is_empty() {
        return Err(Failure::new(
            StatusCode::NOT_FOUND,
            "This order has no such mark. Go to Count and touch one.",
        ));
    }
    let content = html! {
        div.count {
            h1.mark { (mark) }
            p.what { "no part of this order" }
            (done)
            (log(mark, seen))
            nav.next aria-label="Other marks" { a.button href="/count" { "All marks" } }
        }
    };
    let title = format!("Count {mark}");
    Ok(page_reply(layout::page(
        standing,
        holder,
        Way::Count,
        &title,
        content,
    )))
}

fn heading(ordered: &Ordered, mark: &MarkDifference) -> Markup {
    let drawing = ordered
        .parts
        .line(&mark.mark)
        .and_then(|line| frame::part_drawing(&line.part));
    html! {
        div.name {
            h1.mark { (mark.mark) }
            @if let Some(drawing) = drawing { (PreEscaped(drawing)) }
        }
        p.what { (mark.description) }
    }
}

/// What was just taken in, with the way to take it back.
fn done(standing: &Standing, mark: &str, event: Option<&str>) -> Markup {
    let stands = event
        .and_then(|text| text.parse().ok())
        .filter(|id| standing.state.fate(*id) == Some(Fate::Stands));
    html! {
        @if let Some(id) = stands {
            div.note.good role="status" {
                p { strong { "Kept." } " It is on the yard computer's disk." }
                (undo(mark, &id.to_string(), "Undo"))
            }
        }
    }
}

fn undo(mark: &str, event: &str, word: &str) -> Markup {
    html! {
        form.inline method="post" action="/undo" {
            input type="hidden" name="id" value=(store::fresh_id());
            input type="hidden" name="event" value=(event);
            input type="hidden" name="back" value=(mark);
            button type="submit" { (word) }
        }
    }
}

fn so_far(mark: &MarkDifference) -> Markup {
    html! {
        div.sofar {
            span.n { (mark.on_hand.counted) }
            span { "counted so far; " (mark.expected()) " should be here" @if mark.coming > 0 { ", " (mark.coming) " more come later" } }
            span { (state::verdicts(mark)) }
        }
    }
}

fn look_alikes(ordered: &Ordered, mark: &str) -> Markup {
    let Some(line) = ordered.parts.line(mark) else {
        return html! {};
    };
    let apart: Vec<String> = (ordered.parts.lines.iter())
        .filter(|other| other.part.mark != line.part.mark)
        .filter_map(|other| {
            let look_for = tally::told_apart_by(&line.part, &other.part, ordered.frame.system)?;
            Some(format!("Looks like {}: {look_for}.", other.part.mark))
        })
        .collect();
    html! {
        @if !apart.is_empty() { div.note.wait { @for line in &apart { p { (line) } } } }
    }
}

fn adding(standing: &Standing, mark: &str, seen: &Seen) -> Markup {
    let piles: Vec<String> = seen.piles().into_keys().flatten().collect();
    html! {
        form.adding method="post" action=(address::count(mark)) {
            input type="hidden" name="id" value=(store::fresh_id());
            input type="hidden" name="knew" value=(standing.state.upto);
            label for="quantity" { "How many are here now?" }
            div.adder {
                button type="button" data-step="-1" aria-label="One fewer" hidden { "−" }
                input type="number" id="quantity" name="quantity" value="0" min="0" max="1000000" step="1" inputmode="numeric" required;
                button type="button" data-step="1" aria-label="One more" hidden { "+" }
            }
            div.keypad hidden {
                @for digit in 1..=3 { (digit_key(digit)) }
                button type="button" data-clear="1" aria-label="Take the last digit off" { "⌫" }
                @for digit in 4..=6 { (digit_key(digit)) }
                (digit_key(0))
                @for digit in 7..=9 { (digit_key(digit)) }
                button type="button" data-step="5" aria-label="Five more" { "+5" }
            }
            details {
                summary { "Pile" @if let Some(pile) = piles.first() { ": " (pile) } }
                label for="pile" { "Where they lie (may be left empty)" }
                input type="text" id="pile" name="pile" maxlength="80" list="piles";
                datalist id="piles" { @for pile in &piles { option value=(pile) {} } }
            }
            @if !seen.counts.is_empty() {
                div.chips {
                    label { input type="radio" name="how" value="more" checked; "Add to the count" }
                    label { input type="radio" name="how" value="anew"; "Count this pile anew" }
                }
            }
            p { button.main type="submit" { "Keep this count" } }
        }
    }
}

fn digit_key(digit: u8) -> Markup {
    html! { button type="button" data-digit=(digit) { (digit) } }
}

const CONDITIONS: [(Condition, &str, &str); 4] = [
    (Condition::Damaged, "damaged", "Damaged"),
    (Condition::Bent, "bent", "Bent"),
    (Condition::Wet, "wet", "Wet"),
    (Condition::Wrong, "wrong", "Wrong part"),
];

/// The condition that a form names.
pub(crate) fn condition_named(name: &str) -> Option<Condition> {
    CONDITIONS
        .iter()
        .find(|(_, known, _)| *known == name)
        .map(|(condition, _, _)| *condition)
}

fn conditions(mark: &str) -> Markup {
    html! {
        details {
            summary { "Some are damaged, bent, wet or wrong" }
            p { "Of those counted. Photograph them where they lie, before they are moved." }
            form method="post" action=(address::condition(mark)) {
                input type="hidden" name="id" value=(store::fresh_id());
                fieldset {
                    legend.soft { "What is wrong" }
                    div.chips {
                        @for (i, (_, name, word)) in CONDITIONS.iter().enumerate() {
                            label { input type="radio" name="condition" value=(name) checked[i == 0] required; (word) }
                        }
                    }
                }
                label for="bad" { "How many" }
                input type="number" id="bad" name="quantity" value="1" min="1" max="1000000" inputmode="numeric" required;
                label for="seen" { "What you saw" }
                input type="text" id="seen" name="words" maxlength="2000" placeholder="such as: crushed at the swaged end";
                p { button type="submit" { "Keep it" } }
            }
        }
    }
}

fn noting(standing: &Standing, mark: &str) -> Markup {
    html! {
        details {
            summary { "Note" }
            @for note in standing.state.notes.iter().filter(|n| n.mark.as_deref() == Some(mark)) {
                p { (note.words) " " span.soft { "· " (note.who) ", " (clock::local(note.at)) } }
            }
            form method="post" action="/note" {
                input type="hidden" name="id" value=(store::fresh_id());
                input type="hidden" name="mark" value=(mark);
                label for="note" { "A note on " (mark) }
                input type="text" id="note" name="words" maxlength="2000" required;
                p { button type="submit" { "Keep the note" } }
            }
        }
    }
}

fn log(mark: &str, seen: &Seen) -> Markup {
    html! {
        h2 { "What was seen" }
        @if seen.counts.is_empty() && seen.conditions.is_empty() { p.soft { "Nobody has counted " (mark) " yet." } }
        ul.log {
            @for count in seen.counts.iter().rev() {
                li {
                    span { strong { (count.quantity) } " counted" @if let Some(pile) = &count.pile { ", pile " (pile) } span.soft { " · " (count.who) ", " (clock::local(count.at)) } }
                    (undo(mark, &count.event.to_string(), "Take back"))
                }
            }
            @for bad in seen.conditions.iter().rev() {
                li {
                    span { strong { (bad.quantity) } " " (bad.condition.in_words()) @if !bad.words.is_empty() { ": " (bad.words) } span.soft { " · " (bad.who) ", " (clock::local(bad.at)) } }
                    (undo(mark, &bad.event.to_string(), "Take back"))
                }
            }
        }
    }
}

fn neighbours(ordered: &Ordered, mark: &str) -> Markup {
    let marks = ordered.parts.marks();
    let at = marks.iter().position(|m| *m == mark).unwrap_or(0);
    html! {
        nav.next aria-label="Other marks" {
            @if let Some(before) = at.checked_sub(1).and_then(|i| marks.get(i)) { a.button href=(address::count(before)) { "← " (before) } } @else { span {} }
            a.button href="/count" { "All marks" }
            @if let Some(after) = marks.get(at + 1) { a.button href=(address::count(after)) { (after) " →" } } @else { span {} }
        }
    }
}
