//! The packing lists: how each row was understood, to be corrected in place.

use axum::Extension;
use axum::extract::State;
use maud::{Markup, html};
use tally::{ListStanding, Standing};

use super::layout::{self, Way};
use super::state::{Tone, count};
use crate::access::Holder;
use crate::address;
use crate::reply::{Reply, page_reply};
use crate::serve::Yard;

pub(crate) async fn show(State(yard): State<Yard>, Extension(holder): Extension<Holder>) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let content = html! {
        h1 { "Packing lists" }
        @if standing.ordered().is_none() {
            div.note { p { "Rows are matched to parts once there is an order. " a href="/order" { "Say what was bought" } "." } }
        }
        @for list in &standing.lists { (one(&standing, list)) }
        @if standing.lists.is_empty() { p { "No packing list yet." } }
        (adding())
        @if let Some(ordered) = standing.ordered() {
            datalist id="marks" {
                @for line in &ordered.parts.lines { option value=(line.part.mark) { (line.part.description) } }
            }
        }
    };
    Ok(page_reply(layout::page(
        &standing,
        &holder,
        Way::List,
        "List",
        content,
    )))
}

fn adding() -> Markup {
    html! {
        h2 { "Bring in a list" }
        form method="post" action="/list" enctype="multipart/form-data" {
            input type="hidden" name="id" value=(store::fresh_id());
            label for="file" { "A spreadsheet (XLSX) or a text table (CSV)" }
            input type="file" id="file" name="file" accept=".xlsx,.csv,.tsv,.txt";
            label for="pasted" { "or paste the rows here" }
            textarea id="pasted" name="pasted" rows="5" spellcheck="false" {}
            label for="shipment" { "Shipment that it belongs to (may be left empty)" }
            input type="text" id="shipment" name="shipment" maxlength="80";
            p { button.main type="submit" { "Read the list" } }
        }
    }
}

fn one(standing: &Standing, list: &ListStanding) -> Markup {
    let digest = list.seen.digest.to_string();
    html! {
        h2 { (list.seen.name) }
        @match list.read.as_ref() {
            Err(why) => { div.note.short role="alert" { p { "This list could not be read: " (why) } } }
            Ok(read) => {
                @for trouble in &list.troubles {
                    div.note.short role="alert" { p { strong { "Before any row: " } (trouble) "." } }
                }
                (read_well(standing, list, read, &digest))
            }
        }
        form.inline method="post" action="/list/drop" {
            input type="hidden" name="id" value=(store::fresh_id());
            input type="hidden" name="list" value=(digest);
            button type="submit" { "Set this list aside" }
        }
    }
}

fn read_well(
    standing: &Standing,
    list: &ListStanding,
    read: &list::PackingList,
    digest: &str,
) -> Markup {
    let unread = read.set_aside.len();
    let nothing = list.matched.iter().filter(|m| m.mark.is_none()).count();
    let doubtful = list
        .matched
        .iter()
        .filter(|m| m.mark.is_some() && m.doubt > UNSURE && !m.overruled)
        .count();
    html! {
        p {
            (count(read.rows.len() as i64, "row", "rows")) " read, " (unread) " set aside. "
            @if nothing > 0 { (Tone::Short.says(&format!("{nothing} match nothing"))) }
            @if doubtful > 0 { (Tone::Wait.says(&format!("{doubtful} to look at"))) }
            @if nothing == 0 && doubtful == 0 && !list.matched.is_empty() { (Tone::Good.says("every row is understood")) }
        }
        @for warning in &read.warnings { p.soft { @if let Some(at) = &warning.at { (at) ": " } (warning.what) } }
        table.fold {
            thead { tr { th { "Row" } th.num { "Quantity" } th { "The sender's words" } th { "Understood as" } } }
            tbody {
                @for matched in list.matched.iter() {
                    @if let Some(row) = read.rows.get(matched.row) {
                        tr id=(anchor(digest, &row.at.to_string())) {
                            th scope="row" { (row.at) }
                            td.num.big data-label="Quantity" { @match row.quantity { Some(n) => (n), None => { "? " (row.written) } } }
                            td.wide {
                                (row.says())
                                span.said {
                                    @if !row.code.is_empty() { "code " (row.code) ". " }
                                    @if !row.sub_kit.is_empty() { "under " (row.sub_kit) ". " }
                                    @if !row.shipment.is_empty() { (row.shipment) ". " }
                                    @if let Some(doubt) = &row.doubt { (doubt) "." }
                                }
                            }
                            td.wide { (understood(standing, matched)) (why(digest, &row.key.to_string(), matched)) }
                        }
                    }
                }
            }
        }
        @if unread > 0 {
            details {
                summary { (unread) " rows set aside, with the reason" }
                table.fold {
                    thead { tr { th { "Row" } th { "Text" } th { "Why" } } }
                    tbody { @for row in &read.set_aside { tr { th scope="row" { (row.at) } td.wide { (row.text) } td.wide { (row.why) } } } }
                }
            }
        }
    }
}

/// Where a row of a list stands on the page.
pub(crate) fn anchor(digest: &str, row: &str) -> String {
    let of: String = digest.chars().take(8).collect();
    format!("row-{of}-{}", address::segment(row).replace('%', "-"))
}

/// Doubt above this is shown as something to look at.
const UNSURE: f64 = 0.05;

fn understood(standing: &Standing, matched: &list::Matched) -> Markup {
    let part = matched.mark.as_ref().and_then(|mark| {
        standing
            .ordered()?
            .parts
            .line(&mark.0)
            .map(|line| &line.part)
    });
    let (tone, words) = match (&matched.mark, matched.overruled) {
        (Some(_), true) => (Tone::Good, "said by a person".to_string()),
        (None, true) => (Tone::Wait, "no part of this order, said by a person".into()),
        (None, false) => (Tone::Short, "matches nothing".into()),
        (Some(_), false) if matched.doubt > 0.3 => (
            Tone::Short,
            format!("a guess, {:.0} %", 100.0 * (1.0 - matched.doubt)),
        ),
        (Some(_), false) if matched.doubt > UNSURE => (
            Tone::Wait,
            format!("likely, {:.0} %", 100.0 * (1.0 - matched.doubt)),
        ),
        (Some(_), false) => (
            Tone::Good,
            format!(
                "almost surely, {:.0} %",
                (100.0 * (1.0 - matched.doubt)).min(99.9).floor()
            ),
        ),
    };
    html! {
        @if let Some(part) = part { a.mark href=(address::count(&part.mark.0)) { (part.mark) } " " (part.description) br; }
        (tone.says(&words))
    }
}

/// The reasons, and the way to put it right; open where there is something to look at.
fn why(digest: &str, key: &str, matched: &list::Matched) -> Markup {
    let unclear = !matched.overruled && (matched.mark.is_none() || matched.doubt > UNSURE);
    html! {
        details open[unclear] {
            summary { "Why, or put it right" }
            @if !matched.reasons.is_empty() { ul { @for reason in &matched.reasons { li { (reason.words) } } } }
            @if !matched.runners_up.is_empty() {
                p.soft { "Next likely: " @for (i, (mark, chance)) in matched.runners_up.iter().enumerate() { @if i > 0 { ", " } (mark) " (" (format!("{:.1}", 100.0 * chance)) " %)" } }
            }
            (putting_right(digest, key, matched))
        }
    }
}

fn putting_right(digest: &str, key: &str, matched: &list::Matched) -> Markup {
    let now = matched
        .mark
        .as_ref()
        .map(|m| m.0.as_str())
        .unwrap_or_default();
    html! {
        form.row method="post" action="/list/row" {
            input type="hidden" name="id" value=(store::fresh_id());
            input type="hidden" name="list" value=(digest);
            input type="hidden" name="row" value=(key);
            input.mark-field type="text" name="mark" list="marks" value=(now) maxlength="80" aria-label="The mark that it is; empty for none of this order" autocomplete="off";
            button type="submit" { "Put right" }
        }
    }
}
