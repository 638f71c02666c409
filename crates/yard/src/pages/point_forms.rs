//! The forms that carry an open point on: who takes it up, what was answered, that it is closed.

use maud::{Markup, html};
use tally::{EventId, Fate, OpenPoint, Standing};

use super::points::about_name;
use super::prices;

/// What was just taken in, with the way to take it back.
pub(crate) fn done(standing: &Standing, event: &str) -> Markup {
    let stands =
        (event.parse().ok()).filter(|id: &EventId| standing.state.fate(*id) == Some(Fate::Stands));
    html! {
        @if let Some(id) = stands {
            div.note.good role="status" {
                p { strong { "Kept." } " It is on the yard computer's disk." }
                (take_back(id, "Undo", "Undo"))
            }
        }
    }
}

/// Takes an answer, a closing or anything else back.
pub(crate) fn take_back(event: EventId, word: &str, keeps: &str) -> Markup {
    html! {
        form.inline method="post" action="/undo" data-keep=(keeps) {
            input type="hidden" name="id" value=(store::fresh_id());
            input type="hidden" name="event" value=(event);
            input type="hidden" name="to" value="/points";
            button type="submit" { (word) }
        }
    }
}

fn of(point: &OpenPoint) -> Markup {
    html! {
        input type="hidden" name="id" value=(store::fresh_id());
        input type="hidden" name="about" value=(about_name(point.point.about));
        input type="hidden" name="of" value=(point.point.of);
    }
}

/// Who sees to it, when next, and what is to be done.
pub(crate) fn take_up(point: &OpenPoint, who: &str) -> Markup {
    let seen = &point.seen;
    let owner = if seen.owner.is_empty() {
        who
    } else {
        &seen.owner
    };
    html! {
        details open[seen.owner.is_empty() && seen.closed.is_none()] {
            summary { "Who sees to it, and when next" }
            form method="post" action="/point/take" data-keep={ "Who sees to: " (point.says) } {
                (of(point))
                label for="owner" { "Who sees to it" }
                input type="text" id="owner" name="owner" value=(owner) maxlength="80" autocomplete="off";
                label for="next" { "Looked at next on" }
                input type="date" id="next" name="next" value=[seen.next.as_deref()];
                label for="todo" { "What is to be done" }
                input type="text" id="todo" name="words" value=(seen.words) maxlength="2000";
                p { button type="submit" { "Keep it so" } }
            }
        }
    }
}

const ANSWERS: [(&str, &str); 6] = [
    ("sends", "They send it"),
    ("credits", "They credit it"),
    ("refuses", "They refuse"),
    ("keep", "It may be kept"),
    ("return", "It is to go back"),
    ("asks", "They ask first"),
];

/// What the sender or the carrier answered. Without the style sheet's help every field is shown.
pub(crate) fn answer(standing: &Standing, point: &OpenPoint) -> Markup {
    let currency = prices::currency(standing);
    html! {
        details {
            summary { "What they answered" }
            form.answer-of method="post" action="/point/answer" data-keep={ "Answer to: " (point.says) } {
                (of(point))
                input type="hidden" name="currency" value=(currency);
                fieldset {
                    legend.unseen { "Their answer" }
                    div.chips {
                        @for (name, words) in ANSWERS {
                            label { input type="radio" name="is" value=(name) required; (words) }
                        }
                    }
                }
                div.pieces-of {
                    label for="quantity" { "Pieces" }
                    input type="number" id="quantity" name="quantity" min="0" max="1000000" inputmode="numeric" value=[point.pieces];
                }
                div.sent-as {
                    label for="on" { "Sent on (may be left empty)" }
                    input type="date" id="on" name="on";
                    label for="shipment" { "In which shipment (may be left empty)" }
                    input type="text" id="shipment" name="shipment" list="shipments" maxlength="80" autocomplete="off";
                    datalist id="shipments" { @for name in standing.shipments.keys() { option value=(name) {} } }
                }
                div.credited-as {
                    label for="sum" { "Sum in " (currency) " (may be left empty)" }
                    input type="text" id="sum" name="sum" maxlength="40" inputmode="decimal" autocomplete="off";
                }
                label for="words" { "In their words, or who said so" }
                input type="text" id="words" name="words" maxlength="2000";
                p { button.main type="submit" { "Keep the answer" } }
            }
        }
    }
}

/// Closes a point, with why.
pub(crate) fn close(point: &OpenPoint) -> Markup {
    html! {
        @if point.seen.closed.is_none() {
            details {
                summary { "Close this point" }
                form method="post" action="/point/close" data-keep={ "Closed: " (point.says) } {
                    (of(point))
                    label for="why" { "Why, such as “came on Tuesday, counted”" }
                    input type="text" id="why" name="words" maxlength="2000";
                    p { button type="submit" { "Close it" } }
                }
            }
        }
    }
}

/// A point that nothing opens by itself.
pub(crate) fn new_point() -> Markup {
    html! {
        form method="post" action="/point/take" data-keep="A new point" {
            input type="hidden" name="id" value=(store::fresh_id());
            input type="hidden" name="about" value="other";
            label for="of" { "What it is about" }
            input type="text" id="of" name="of" maxlength="255" required;
            label for="owner" { "Who sees to it" }
            input type="text" id="owner" name="owner" maxlength="80" autocomplete="off";
            label for="next" { "Looked at next on" }
            input type="date" id="next" name="next";
            label for="todo" { "What is to be done" }
            input type="text" id="todo" name="words" maxlength="2000";
            p { button type="submit" { "Add it" } }
        }
    }
}

/// Closes the job; what is open stays open.
pub(crate) fn close_job() -> Markup {
    html! {
        form method="post" action="/close" data-keep="The job closed" {
            input type="hidden" name="id" value=(store::fresh_id());
            label for="last" { "In a few words (may be left empty)" }
            input type="text" id="last" name="words" maxlength="2000";
            p { button type="submit" { "Close the job" } }
        }
    }
}
