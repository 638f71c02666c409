//! What is wrong with pieces of a mark, notes on it, and the log of all that was seen of it.

use maud::{Markup, html};
use measure::System;
use tally::{Condition, Seen, Standing};

use super::count::undo;
use crate::address;
use crate::clock;

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

/// The form that says what is wrong.
pub(crate) fn conditions(mark: &str) -> Markup {
    html! {
        details {
            summary { "Some are damaged, bent, wet or wrong" }
            p { "Of those counted. Photograph them where they lie, before they are moved." }
            form method="post" action=(address::condition(mark)) data-keep={ "Condition of " (mark) } {
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

/// The notes on a mark, and the form for another.
pub(crate) fn noting(standing: &Standing, mark: &str) -> Markup {
    html! {
        details {
            summary { "Note" }
            @for note in standing.state.notes.iter().filter(|n| n.mark.as_deref() == Some(mark)) {
                p { (note.words) " " span.soft { "· " (note.who) ", " (clock::local(note.at)) } }
            }
            form method="post" action="/note" data-keep={ "Note on " (mark) } {
                input type="hidden" name="id" value=(store::fresh_id());
                input type="hidden" name="mark" value=(mark);
                label for="note" { "A note on " (mark) }
                input type="text" id="note" name="words" maxlength="2000" required;
                p { button type="submit" { "Keep the note" } }
            }
        }
    }
}

/// All that was seen of a mark, the last first.
pub(crate) fn log(mark: &str, seen: &Seen, system: System) -> Markup {
    html! {
        h2 { "What was seen" }
        div data-live="log" {
        @if seen.counts.is_empty() && seen.conditions.is_empty() { p.soft { "Nobody has counted " (mark) " yet." } }
        ul.log {
            @for count in seen.counts.iter().rev() {
                li {
                    span { strong { (count.quantity) } " counted" @if let Some(how) = count.how.in_words(system) { " (" (how) ")" } @if let Some(pile) = &count.pile { ", pile " (pile) } span.soft { " · " (count.who) ", " (clock::local(count.at)) } }
                    (undo(mark, &count.event.to_string(), "Take back"))
                }
            }
            @for again in seen.again.iter().rev() {
                li {
                    span { strong { (again.quantity) } " counted once more" @if let Some(how) = again.how.in_words(system) { " (" (how) ")" } @if let Some(pile) = &again.pile { ", pile " (pile) } span.soft { " · " (again.who) ", " (clock::local(again.at)) } }
                    (undo(mark, &again.event.to_string(), "Take back"))
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
}
