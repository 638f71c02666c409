//! A second look at a pile, which does not show the first number, and what two looks say together.

use std::collections::BTreeSet;

use axum::Extension;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use maud::{Markup, html};
use serde::Deserialize;
use tally::{Agreement, MarkDifference, Ordered, PileSeen, Seen};

use super::layout::{self, Way};
use super::state::{Tone, count};
use super::{count as count_page, ways};
use crate::access::Holder;
use crate::address;
use crate::assets;
use crate::forms::filled;
use crate::reply::{Failure, Reply, page_reply};
use crate::serve::Yard;

#[derive(Deserialize)]
pub(crate) struct Asked {
    #[serde(default)]
    pile: String,
}

/// The page for a second or third look: neither what was counted nor what should be here stands on it.
pub(crate) async fn show(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Path(mark): Path<String>,
    Query(asked): Query<Asked>,
) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let pile = filled(&asked.pile).map(String::from);
    let difference = standing.difference.as_ref().and_then(|d| d.mark(&mark));
    let seen = standing.state.marks.get(&mark).cloned().unwrap_or_default();
    let there = seen.piles().into_iter().any(|seen| seen.pile == pile);
    let (Some(ordered), Some(difference), true) = (standing.ordered(), difference, there) else {
        return Err(Failure::new(
            StatusCode::NOT_FOUND,
            "Nobody has counted this mark there yet, so there is nothing to look at again. Go to Count and touch it.",
        ));
    };
    let content = html! {
        div.count {
            (count_page::heading(ordered, difference))
            div.note {
                p {
                    strong { "A look of your own" }
                    @match &pile { Some(pile) => { " at pile " (pile) }, None => { " at these pieces" } }
                    ". What was counted before is not shown, so that it does not lead you. Count all of them."
                }
            }
            (ways::again(&standing, ordered, &mark, pile.as_deref()))
            p { a.button href=(address::count(&mark)) { "Not now" } }
        }
        script type="module" src=(assets::address("count.js")) {}
    };
    Ok(page_reply(layout::page(
        &standing,
        &holder,
        Way::Count,
        &format!("Count {mark} once more"),
        content,
    )))
}

/// What the looks at each pile say, and where another look is asked for.
pub(crate) fn asked(ordered: &Ordered, mark: &MarkDifference, seen: &Seen) -> Markup {
    let first_day = is_for_the_first_day(ordered, mark);
    let stops = first_day && is_missing(mark);
    html! {
        @for pile in seen.piles() {
            @match pile.agreement {
                Agreement::Differ => {
                    div.note.short role="status" {
                        p { (Tone::Short.says("Counts differ")) @if let Some(name) = &pile.pile { "Pile " (name) ". " } }
                        p { (looks(&pile)) ". A third look settles it; until then the first one stands." }
                        p { (look_again(&mark.mark, &pile, "Look once more")) }
                    }
                }
                Agreement::Agreed => {
                    p {
                        (Tone::Good.says("Two looks agree")) @if let Some(name) = &pile.pile { "pile " (name) ", " } (pile.stands)
                    }
                }
                Agreement::Unchecked if first_day => {
                    div.note.wait {
                        p {
                            @match stops {
                                true => { strong { "Before this is written down: " } "it would stop the first day of the build." },
                                false => { strong { "Needed on the first day. " } "One short here would stop it." },
                            }
                            " Let somebody else count "
                            @match &pile.pile { Some(name) => { "pile " (name) }, None => { "them" } }
                            " who has not seen the number."
                        }
                        p { (look_again(&mark.mark, &pile, "Second count, without the first number")) }
                    }
                }
                Agreement::Unchecked => {}
            }
        }
    }
}

/// A second look at each pile that nobody asked for yet; it stands below the count itself.
pub(crate) fn offered(ordered: &Ordered, mark: &MarkDifference, seen: &Seen) -> Markup {
    let asked = is_for_the_first_day(ordered, mark);
    html! {
        @for pile in seen.piles().iter().filter(|pile| !asked && pile.agreement == Agreement::Unchecked) {
            details {
                summary { "Second count" @if let Some(name) = &pile.pile { ", pile " (name) } }
                p { "By somebody who has not seen the number. If the two differ, a third look settles it." }
                p { (look_again(&mark.mark, pile, "Count without the first number")) }
            }
        }
    }
}

/// Whether one of the first stages that set parts needs a mark.
fn is_for_the_first_day(ordered: &Ordered, mark: &MarkDifference) -> bool {
    let parts = &ordered.parts;
    let firsts: BTreeSet<&str> = (parts.lines.iter().map(|l| parts.first_stage(l))).collect();
    let with_parts = (parts.stages.iter()).filter(|stage| firsts.contains(stage.as_str()));
    let mut first_day = with_parts.take(FIRST_DAY);
    let line = parts.line(&mark.mark);
    line.is_some_and(|line| first_day.any(|stage| parts.first_stage(line) == stage))
}

/// Whether fewer of a mark are fit for use than should be here, or may be.
fn is_missing(mark: &MarkDifference) -> bool {
    let fit = mark.on_hand.least.saturating_sub(mark.on_hand.unfit());
    fit < mark.expected()
}

/// So many stages that set parts are taken to be the first day's: posts, bows on the ground, bows up. How far a crew
/// really gets is told where the build is; a page that somebody counts on must not wait for that.
const FIRST_DAY: usize = 3;

fn look_again(mark: &str, pile: &PileSeen, words: &str) -> Markup {
    html! { a.button href=(address::again(mark, pile.pile.as_deref())) { (words) } }
}

/// "Ada counted 26, Ben 24".
fn looks(pile: &PileSeen) -> Markup {
    html! {
        @for (i, look) in pile.looks.iter().enumerate() {
            @if i > 0 { ", " }
            (look.who.join(" and ")) " counted " strong { (look.quantity) }
        }
    }
}

/// How many piles of a job want a third look, for pages that sum up.
pub(crate) fn differing(marks: &[MarkDifference]) -> Option<String> {
    let piles: usize = marks.iter().map(|mark| mark.on_hand.differing).sum();
    (piles > 0)
        .then(|| count(piles as i64, "pile was", "piles were") + " counted twice with two numbers")
}
