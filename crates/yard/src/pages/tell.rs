//! Which part is this? What the readings say so far, what to read next, and everything else that could be read.

use axum::Extension;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use maud::{Markup, PreEscaped, html};
use measure::System;
use serde::Deserialize;
use tally::{Ordered, Standing};
use tell::{Answer, Decided, Kit, Reading};

use super::layout::{self, Way};
use super::questions::{self, seen_text};
use crate::access::Holder;
use crate::reply::{Failure, Reply, page_reply};
use crate::serve::Yard;
use crate::{address, assets};

#[derive(Deserialize, Default)]
#[serde(default)]
pub(crate) struct Asked {
    /// The readings so far, as JSON.
    pub seen: String,
    /// A judgement that was just made, as JSON.
    pub add: String,
    /// A size that was just read: which, with what, and what the tool showed.
    pub size: String,
    pub tool: String,
    pub value: String,
    /// The pile that the piece lay in.
    pub pile: String,
    /// The number of a reading to be taken out.
    pub without: String,
    /// What was read of the piece before was kept.
    pub kept: String,
}

pub(crate) async fn show(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Query(asked): Query<Asked>,
) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let content = match standing.ordered() {
        Some(ordered) => telling(ordered, &asked)?,
        None => html! {
            h1 { "Which part is this?" }
            div.note { p { "There are no parts before there is an order. " a href="/order" { "Say what was bought" } "." } }
        },
    };
    Ok(page_reply(page(&standing, &holder, content)))
}

fn page(standing: &Standing, holder: &Holder, content: Markup) -> Markup {
    layout::page(standing, holder, Way::Tell, "Which part is this?", content)
}

fn telling(ordered: &Ordered, asked: &Asked) -> Result<Markup, Failure> {
    let system = ordered.frame.system;
    let seen = questions::seen(asked, system)?;
    let kit = ordered.kit();
    let answer = kit.answer(&seen);
    let next = kit.next(&seen);
    let pile = asked.pile.trim();
    Ok(html! {
        div.count data-tell=(tally::MAX_READINGS) {
            h1 { "Which part is this?" }
            @if !asked.kept.is_empty() && seen.is_empty() {
                div.note.good role="status" { p { strong { "Kept." } " What was read of the last piece is in the log." } }
            }
            @if !pile.is_empty() { p { "A piece of pile " strong { (pile) } } }
            div.answer role="status" {
                @match seen.is_empty() {
                    true => p { "One piece in hand. Say what you see; each answer leads to the next question, until it is told." },
                    false => {
                        p.big { (sentence(&answer.words)) }
                        @if let (Some(Decided::Is(_)), Some(first)) = (&answer.decided, answer.candidates.first()) {
                            p { (frame::capitalised(&first.noun)) @if !answer.odd.is_empty() { ". One reading does not fit it: read that again first" } "." }
                        }
                    },
                }
            }
            (oddities(&answer, &seen, system, pile))
            (what_now(&answer, &seen, pile))
            @match &next {
                Some(next) => {
                    section.next-reading aria-labelledby="next" {
                        h2 id="next" { (sentence(&next.words)) }
                        (questions::form(kit, next.asked, &seen, system, pile))
                        p.soft { "About " (format!("{:.0}", next.seconds)) " seconds." }
                    }
                }
                None if answer.decided.is_none() && !seen.is_empty() => {
                    div.note.wait { p { "Nothing more that can be read here would tell it. Lay the piece beside one of each, or ask the sender." } }
                }
                None => {}
            }
            (read_so_far(&seen, system, pile))
            (likeliest(&answer))
            details {
                summary { "Something else you see or measured" }
                (questions::all(kit, &seen, system, pile))
            }
            @if seen.is_empty() { (out_of_reach(kit, system)?) }
        }
    })
}

/// What `tell.js` answers from where the yard computer is out of reach: only on the page that begins, which is the one
/// that is taken along.
fn out_of_reach(kit: &Kit, system: System) -> Result<Markup, Failure> {
    let broken = |_| {
        Failure::new(
            StatusCode::INTERNAL_SERVER_ERROR,
            "The tables were not made.",
        )
    };
    // In JSON a `<` stands only in texts, where it may as well be written so; as it is it could end the element.
    let tables = serde_json::to_string(&kit.tables())
        .map_err(broken)?
        .replace('<', "\\u003c");
    Ok(html! {
        @for asked in kit.asked() { template data-ask { (questions::form(kit, asked, &[], system, "")) } }
        script type="application/json" id="tell-tables" { (PreEscaped(tables)) }
        script type="module" src=(assets::address("tell.js")) {}
    })
}

/// What can be done with an answer: count it, and keep what was read.
fn what_now(answer: &Answer, seen: &[Reading], pile: &str) -> Markup {
    let Some(decided) = &answer.decided else {
        return html! {};
    };
    let mark = answer.mark().map(|mark| mark.0.as_str());
    html! {
        @match decided {
            Decided::Is(marks) => {
                p.row {
                    @for mark in marks {
                        a.button.main[answer.odd.is_empty()] href={ (address::count(&mark.0)) @if !pile.is_empty() { "?pile=" (address::segment(pile)) } } { "Count " (mark) }
                    }
                }
            }
            Decided::NoneOfThisOrder => {
                div.note.short { p { "Lay it apart, and keep what was read: it says what came that nobody ordered." } }
            }
        }
        form method="post" action="/measured" data-keep="What was read of a piece" {
            input type="hidden" name="id" value=(store::fresh_id());
            input type="hidden" name="seen" value=(seen_text(seen));
            input type="hidden" name="pile" value=(pile);
            input type="hidden" name="mark" value=[mark];
            p { button type="submit" { "Keep what was read" } " " a.button href="/tell" { "Next piece" } }
        }
    }
}

fn oddities(answer: &Answer, seen: &[Reading], system: System, pile: &str) -> Markup {
    html! {
        @for odd in &answer.odd {
            @if let Some(reading) = seen.get(odd.reading) {
                div.note.wait {
                    p { strong { "Look again: " } (questions::in_words(reading, system)) " does not fit; " (odd.words) "." }
                    p { a.button href=(questions::without(seen, odd.reading, pile)) { "Take this reading out" } }
                }
            }
        }
    }
}

fn read_so_far(seen: &[Reading], system: System, pile: &str) -> Markup {
    html! {
        @if !seen.is_empty() {
            h2 { "Read so far" }
            ul.log {
                @for (i, reading) in seen.iter().enumerate() {
                    li {
                        span { (questions::in_words(reading, system)) }
                        a.button href=(questions::without(seen, i, pile)) { "Take out" }
                    }
                }
            }
            p { a.button href="/tell" { "Begin anew" } }
        }
    }
}

fn likeliest(answer: &Answer) -> Markup {
    html! {
        details {
            summary { "How likely each is" }
            table {
                caption { "What the readings leave, the likeliest first" }
                tbody {
                    @for candidate in answer.candidates.iter().take(8).filter(|c| c.probability > 0.001) {
                        tr { th scope="row" { span.mark { (candidate.name()) } " " (candidate.noun) } td.num { (tell::percent(candidate.probability)) } }
                    }
                    tr { th scope="row" { "None of this order" } td.num { (tell::percent(answer.none)) } }
                }
            }
            p.soft { "Each reading is weighed by how often it is wrong: a tape by its marks and class, an eye by how often it takes one look for another, a misread foot now and then." }
        }
    }
}

/// Words with a full stop, unless they end with a mark of their own.
fn sentence(words: &str) -> String {
    match words.ends_with(['.', '?', '!']) {
        true => words.into(),
        false => format!("{words}."),
    }
}

/// The look-alikes of one mark, for its count page: what they are and what tells them apart soonest.
pub(crate) fn look_alikes_of(kit: &Kit, mark: &str) -> Markup {
    let pairs = kit.look_alikes_of(&frame::Mark(mark.to_owned()));
    html! {
        @if !pairs.is_empty() {
            div.note.wait {
                @for pair in pairs.iter().take(3) {
                    @let others = pair.one.iter().chain(&pair.other).filter(|other| other.0 != mark);
                    p {
                        strong { "Looks like " (others.map(|other| other.0.as_str()).collect::<Vec<_>>().join(" or ")) ". " }
                        @match &pair.quickest { Some(quickest) => (sentence(&quickest.words)), None => (sentence(&pair.words)) }
                    }
                }
                p { "In doubt, " a href="/tell" { "tell it by what you see and measure" } "." }
            }
        }
    }
}

/// Every pair of the order that is taken for each other, shown before anything is unpacked.
pub(crate) async fn look_alikes(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let content = html! {
        h1 { "What looks alike" }
        @match standing.ordered() {
            None => div.note { p { "There are no parts before there is an order. " a href="/order" { "Say what was bought" } "." } },
            Some(ordered) => {
                @let pairs = ordered.kit().look_alikes();
                p { "Pairs of this order that are taken for each other, the likeliest mistake first. Look through them before the first bundle is opened." }
                @if pairs.is_empty() { div.note { p { "No two parts of this order are easily taken for each other." } } }
                @for pair in &pairs {
                    div.note.wait { p { (sentence(&pair.words)) } }
                }
                p.row {
                    a.button.main href="/papers/tell-apart.pdf?sheet=letter" { "Tell-apart card, Letter" }
                    a.button href="/papers/tell-apart.pdf?sheet=a4" { "Tell-apart card, A4" }
                }
            }
        }
    };
    let title = "What looks alike";
    Ok(page_reply(layout::page(
        &standing,
        &holder,
        Way::Tell,
        title,
        content,
    )))
}
