//! What a list changed that was sent anew, and what people said of rows that it no longer has.

use maud::{Markup, html};
use tally::{Corrected, ListStanding};

use super::list_window::MOST;
use super::state::{Tone, count};
use crate::address;

/// What changed, with the way back to the list before.
pub(crate) fn changes(list: &ListStanding) -> Markup {
    let Some(corrected) = &list.corrected else {
        return html! {};
    };
    html! {
        div.note {
            p { strong { "Sent anew. " } "It takes the place of " (corrected.old.name) (beside(list)) "." }
            @match (&corrected.changes, corrected.read.as_ref(), list.read.as_ref()) {
                (Some(changes), Ok(before), Ok(after)) => (table(list, changes, before, after)),
                (_, Err(why), _) => { p { "What changed is not known: the list before could not be read: " (why) } }
                _ => { p { "What changed is not known." } }
            }
            (taking_back(list, corrected))
        }
    }
}

/// Others who corrected the same list and did not know of this correction.
fn beside(list: &ListStanding) -> Markup {
    let also: Vec<&str> = (list.seen.earlier.iter())
        .filter(|it| it.beside)
        .map(|it| it.name.as_str())
        .collect();
    html! {
        @if !also.is_empty() { ", which another person brought in for the same list at the same time (" (also.join(", ")) "); the last one stands" }
    }
}

fn table(
    list: &ListStanding,
    changes: &list::Changes,
    before: &list::PackingList,
    after: &list::PackingList,
) -> Markup {
    let digest = list.seen.digest.to_string();
    let kept = changes.pairs.len() as i64;
    html! {
        p {
            @if changes.all.is_empty() { (Tone::Good.says("no row changed")) }
            @else { (Tone::Wait.says(&count(changes.all.len() as i64, "change", "changes"))) }
            (count(kept, "row is", "rows are")) " in both. "
            @if changes.too_many { "So many rows are new that rows whose words changed count as gone and added." }
        }
        @if !changes.all.is_empty() {
            details open[changes.all.len() <= 12] {
                summary { "What changed" }
                table.fold.changes {
                    thead { tr { th { "Row" } th { "What" } th { "Was" } th { "Is" } } }
                    tbody {
                        @for change in changes.all.iter().take(MOST) {
                            @let told = change.told(before, after);
                            @let (old, new) = change.rows();
                            tr {
                                th scope="row" {
                                    @if let Some(row) = new.and_then(|row| after.rows.get(row)) {
                                        a.show href=(way_to(after, &digest, row)) { (row.at) }
                                        span.said { (list::words_of(row)) }
                                    } @else if let Some(row) = old.and_then(|row| before.rows.get(row)) {
                                        (row.at) " before"
                                        span.said { (list::words_of(row)) }
                                    }
                                }
                                td { (kind(told.what)) }
                                td.half data-label="Was" { (told.was) }
                                td.half data-label="Is" { (told.is) }
                            }
                        }
                    }
                }
                @if changes.all.len() > MOST { p.soft { "And " (changes.all.len() - MOST) " more changes." } }
            }
        }
    }
}

/// The way to a row: on the same page, where all rows are on it.
fn way_to(list: &list::PackingList, digest: &str, row: &list::Row) -> String {
    let at = row.at.to_string();
    match list.rows.len() > MOST {
        true => address::list_row(digest, &at),
        false => format!("#{}", address::list_row_anchor(digest, &at)),
    }
}

fn kind(what: &str) -> Markup {
    match what {
        "added" => Tone::Over.says(what),
        "gone" => Tone::Short.says(what),
        _ => Tone::Wait.says(what),
    }
}

fn taking_back(list: &ListStanding, corrected: &Corrected) -> Markup {
    html! {
        form.inline method="post" action="/list/undo" {
            input type="hidden" name="id" value=(store::fresh_id());
            input type="hidden" name="event" value=(list.seen.event);
            button type="submit" { "Set the correction aside: " (corrected.old.name) " stands again" }
        }
    }
}

/// What people said of rows that are not there: shown until it is put away.
pub(crate) fn left(list: &ListStanding) -> Markup {
    html! {
        @if !list.left.is_empty() {
            div.note.wait {
                p { (Tone::Wait.says("said of a row that is no longer there")) }
                ul.log {
                    @for left in &list.left {
                        li {
                            div {
                                @match &left.of { Some(of) => { "“" (of) "”" } None => "a row of other words" }
                                " is " strong { @match &left.mark { Some(mark) => (mark), None => "no part of this order" } }
                                span.said {
                                    (left.who) " said so of " @if let Some(at) = &left.at { (at) " of " } (left.list) "; " (left.why) "."
                                }
                            }
                            form.inline method="post" action="/list/undo" {
                                input type="hidden" name="id" value=(store::fresh_id());
                                input type="hidden" name="event" value=(left.event);
                                button type="submit" { "Put away" }
                            }
                        }
                    }
                }
            }
        }
    }
}
