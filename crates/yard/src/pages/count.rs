//! Counting: the marks to count, and the page for one of them, made for a gloved hand.

use axum::Extension;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use maud::{Markup, PreEscaped, html};
use serde::Deserialize;
use tally::{Fate, MarkDifference, Ordered, Seen, Standing};

use super::layout::{self, Way};
use super::{again, conditions, state, tell, ways, weighed};
use crate::access::Holder;
use crate::address;
use crate::assets;
use crate::reply::{Failure, Reply, page_reply};
use crate::serve::Yard;

pub(crate) async fn marks(State(yard): State<Yard>, Extension(holder): Extension<Holder>) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let content = match (standing.ordered(), &standing.difference) {
        (Some(ordered), Some(difference)) => html! {
            h1 { "Count" }
            div data-live="marks" {
            p { (difference.counted()) " of " (difference.marks.len()) " marks counted. Touch the one in front of you." }
            p.row { a.button href="/look-alikes" { "What looks alike" } a.button href="/piles" { "Piles and their labels" } }
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
    /// The pile in front of the person, as its label says.
    pile: Option<String>,
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
            (weighed::said(difference, &seen))
            (again::asked(ordered, difference, &seen))
            (tell::look_alikes_of(ordered.kit(), &mark))
            (ways::forms(&standing, ordered, &mark, asked.pile.as_deref()))
            (again::offered(ordered, difference, &seen))
            (conditions::conditions(&mark))
            (conditions::noting(&standing, &mark))
            (conditions::log(&mark, &seen, ordered.frame.system))
            (neighbours(ordered, &mark))
        }
        script type="module" src=(assets::address("count.js")) {}
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
            (conditions::log(mark, seen, measure::System::FeetInch))
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

pub(crate) fn heading(ordered: &Ordered, mark: &MarkDifference) -> Markup {
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

pub(crate) fn undo(mark: &str, event: &str, word: &str) -> Markup {
    html! {
        form.inline method="post" action="/undo" data-keep=(format!("{word}: {mark}")) {
            input type="hidden" name="id" value=(store::fresh_id());
            input type="hidden" name="event" value=(event);
            input type="hidden" name="back" value=(mark);
            button type="submit" { (word) }
        }
    }
}

fn so_far(mark: &MarkDifference) -> Markup {
    html! {
        div.sofar data-live="sofar" data-live-says {
            span.n { (mark.on_hand.counted) }
            span {
                "counted so far; " (mark.expected()) " should be here"
                @if mark.coming > 0 { ", " (mark.coming) " more come later" }
                @if mark.on_hand.unopened > 0 { "; " (mark.on_hand.unopened) " of them in closed bundles, as their labels say" }
            }
            span.waits data-waits-for=(address::count(&mark.mark)) {}
            span { (state::verdicts(mark)) }
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
