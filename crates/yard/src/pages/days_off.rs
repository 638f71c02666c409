//! Days off that correct the lists of holidays: those that were said, and the form that says one more.

use maud::{Markup, html};
use tally::{DaysOff, Standing};

use crate::clock;

/// The lists that can be corrected, as the form calls them and in words.
const LISTS: [(DaysOff, &str, &str); 2] = [
    (
        DaysOff::Business,
        "business",
        "The carrier's, for business days",
    ),
    (
        DaysOff::Public,
        "public",
        "A public holiday where it was delivered",
    ),
];

/// The days that were said, each with the button that turns it round, and the form for another.
pub(crate) fn of(standing: &Standing) -> Markup {
    let said =
        (standing.state.affairs.days_off.iter()).filter_map(|((list, day), (off, words))| {
            let known = LISTS.into_iter().find(|(known, ..)| known == list)?;
            Some((known, day, *off, words))
        });
    html! {
        @for ((_, list, title), day, off, words) in said {
            form method="post" action="/day-off" data-keep="Day off" {
                input type="hidden" name="id" value=(store::fresh_id());
                input type="hidden" name="list" value=(list);
                input type="hidden" name="day" value=(day);
                input type="hidden" name="off" value=(if off { "no" } else { "yes" });
                input type="hidden" name="words" value=(words);
                p {
                    strong { (clock::day_said(day)) } @if !words.is_empty() { ", " (words) } ": "
                    @if off { "not counted. " } @else { "counted all the same. " }
                    (title) ". "
                    button type="submit" { @if off { "Count it after all" } @else { "Do not count it" } }
                }
            }
        }
        details {
            summary { "Say a day off" }
            form method="post" action="/day-off" data-keep="Day off" {
                input type="hidden" name="id" value=(store::fresh_id());
                div.two {
                    div { label for="off-list" { "Whose day off" } select id="off-list" name="list" { @for (_, list, title) in LISTS { option value=(list) { (title) } } } }
                    div { label for="off-day" { "Day" } input type="date" id="off-day" name="day" required; }
                    div { label for="off-off" { "On that day" } select id="off-off" name="off" { option value="yes" { "nobody works" } option value="no" { "they work after all" } } }
                    div { label for="off-words" { "What it is called" } input type="text" id="off-words" name="words" maxlength="80" placeholder="such as Easter Monday" autocomplete="off"; }
                }
                p { button type="submit" { "Keep the day" } }
            }
        }
    }
}
