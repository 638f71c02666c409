//! The answer of a day as pages say it: go, go as far as, wait or built, as a word, a shape and a colour.

use maud::{Markup, PreEscaped, html};
use ready::{Call, CallIs, DayOutlook, Readiness};
use tally::Standing;

use super::state::{Tone, count};
use crate::{address, clock};

/// The word of an answer, with what it goes as far as.
fn word(call: &Call) -> &'static str {
    match call.is {
        CallIs::Go => "Go",
        CallIs::GoAsFar => "Go as far as",
        CallIs::Wait => "Wait",
        CallIs::Built => "Built",
    }
}

/// What stands below the word: the sentence without it.
fn rest(call: &Call) -> String {
    let says = call.says.as_str();
    let start = says.get(..word(call).len());
    let rest = match start {
        Some(start) if start.eq_ignore_ascii_case(word(call)) => &says[start.len()..],
        _ => says,
    };
    frame::capitalised(rest.trim_start_matches([':', ' ']))
}

/// The class by which the style sheet colours an answer.
fn class(is: CallIs) -> &'static str {
    match is {
        CallIs::Go | CallIs::Built => "go",
        CallIs::GoAsFar => "part",
        CallIs::Wait => "halt",
    }
}

/// Its shape: an arrow on, an arrow up to a bar, two bars across the way, a tick. Decoration beside the word.
fn shape(is: CallIs) -> Markup {
    let d = match is {
        CallIs::Go => "M2 2v16l16-8z",
        CallIs::GoAsFar => "M1 2v16l12-8zM15 2h4v16h-4z",
        CallIs::Wait => "M3 2h5v16H3zM12 2h5v16h-5z",
        CallIs::Built => "M1 11l3-3 4 4 8-9 3 3-11 12z",
    };
    PreEscaped(format!(
        "<svg viewBox=\"0 0 20 20\" aria-hidden=\"true\"><path fill=\"currentColor\" d=\"{d}\"/></svg>"
    ))
}

/// An answer's word beside its shape.
fn brief(call: &Call) -> Markup {
    html! { span.state.answer.(class(call.is)) { (shape(call.is)) span { (word(call)) } } }
}

/// An answer in a line.
pub(crate) fn line(call: &Call) -> Markup {
    html! { (brief(call)) span.said { (rest(call)) } }
}

/// For which day an answer is, and who comes: "Saturday, 8 people for 8 hours".
pub(crate) fn whose(day: &DayOutlook) -> String {
    let people = count(day.people, "person", "people");
    format!(
        "{}, {people}, {} hours each",
        claim::day_in_words(day.day),
        hours(day.minutes)
    )
}

/// Minutes as hours: "8", "7:30".
pub(crate) fn hours(minutes: i64) -> String {
    match minutes % 60 {
        0 => (minutes / 60).to_string(),
        rest => format!("{}:{rest:02}", minutes / 60),
    }
}

/// A chance as a number: "97 %", as everywhere else, on one line. What is not sure never reads as if it were.
pub(crate) fn percent(chance: f64) -> String {
    match chance {
        p if p <= 0.0 => "no chance".into(),
        p if p >= 1.0 => "sure".into(),
        p => tell::percent(p).replace(' ', "\u{a0}"),
    }
}

/// The tone of a chance.
pub(crate) fn tone(chance: f64) -> Tone {
    match chance {
        p if p >= ready::assumed::SURE_ENOUGH => Tone::Good,
        p if p >= 0.5 => Tone::Wait,
        _ => Tone::Short,
    }
}

/// The answer, large.
pub(crate) fn large(standing: &Standing, readiness: &Readiness, call: &Call) -> Markup {
    html! {
        div.call.(class(call.is)) {
            p.word { (shape(call.is)) span { (word(call)) } }
            div.inside {
                p.says { (linked(standing, &rest(call))) }
                p.for {
                    @match readiness.planned() {
                        Some(day) => { (whose(day)) ". " strong { @if day.called { "They are called." } @else { "They are not called yet." } } },
                        None => { "For today, as things stand; no day is planned. " a href="#add" { "Say when a crew could build" } },
                    }
                }
                @if !call.chance_says.is_empty() { p.chance { (tone(call.chance).says(&together(&call.chance_says))) (of_what(call.is)) } }
            }
        }
    }
}

/// What the chance of an answer is that of.
fn of_what(is: CallIs) -> &'static str {
    match is {
        CallIs::Go | CallIs::GoAsFar => "that the pieces for this are there.",
        CallIs::Wait => "that the pieces for the whole day's work are there.",
        CallIs::Built => "that all of it stands.",
    }
}

/// A number and its sign stay in one line.
fn together(words: &str) -> String {
    words.replace(" %", "\u{a0}%")
}

/// Why it is so, what would change it, and what it rests on.
pub(crate) fn reasons(standing: &Standing, call: &Call) -> Markup {
    let line = |line: &String| html! { li { (linked(standing, line)) } };
    html! {
        @if !call.why.is_empty() {
            h2 { "Why" }
            ul.reasons { @for why in &call.why { (line(why)) } }
        }
        @if !call.would_change.is_empty() {
            h2 { "What would change it" }
            ul.reasons { @for change in &call.would_change { (line(change)) } }
        }
        @if !call.rests_on.is_empty() {
            details {
                summary { "What it rests on" }
                ul.reasons { @for rests in &call.rests_on { (line(rests)) } }
            }
        }
    }
}

/// The answer in one line for the glance.
pub(crate) fn on_the_glance(readiness: &Readiness) -> Markup {
    let day = readiness.planned();
    html! {
        @if let Some(call) = &readiness.call {
            p.ready-line {
                a href="/ready" {
                    (brief(call))
                    span { (rest(call)) " " span.soft { @match day { Some(day) => (clock::day_said(&day.day.to_string())), None => "today" } } }
                }
            }
        }
    }
}

/// A sentence in which each mark leads to where it is counted, or to the ways round it where it speaks of those, and
/// each shipment to when it comes.
pub(crate) fn linked(standing: &Standing, words: &str) -> Markup {
    let of_mark = match words.contains("way round") {
        true => address::ways_of,
        false => address::count,
    };
    let words = together(words);
    let mut rest = words.as_str();
    let mut pieces: Vec<(&str, Option<String>)> = Vec::new();
    while let Some((at, name, to)) = next_link(standing, rest, of_mark) {
        pieces.push((&rest[..at], None));
        pieces.push((&rest[at..at + name], Some(to)));
        rest = &rest[at + name..];
    }
    pieces.push((rest, None));
    html! {
        @for (text, to) in pieces {
            @match to {
                Some(to) => a href=(to) { (text) },
                None => (text),
            }
        }
    }
}

/// The first name in a text that leads somewhere: where it begins, its length, and where to.
fn next_link(
    standing: &Standing,
    text: &str,
    of_mark: fn(&str) -> String,
) -> Option<(usize, usize, String)> {
    let marks = standing.ordered()?.parts.marks();
    let marks = marks.iter().map(|mark| (*mark, of_mark(mark)));
    let shipments = standing.shipments.keys();
    let shipments = shipments.map(|name| (name.as_str(), "/ready#coming".to_owned()));
    (marks.chain(shipments))
        .filter_map(|(name, to)| Some((whole_word(text, name)?, name.len(), to)))
        // Of two that begin at the same place the longer one is meant.
        .min_by_key(|(at, length, _)| (*at, usize::MAX - length))
}

/// Where a name stands in a text, not as part of a longer word.
fn whole_word(text: &str, name: &str) -> Option<usize> {
    let inner = |c: Option<char>| c.is_some_and(char::is_alphanumeric);
    (text.match_indices(name))
        .find(|(at, _)| {
            let before = text[..*at].chars().next_back();
            let after = text[at + name.len()..].chars().next();
            !name.is_empty() && !inner(before) && !inner(after)
        })
        .map(|(at, _)| at)
}
