//! The packing lists: how each was understood, what its sender changed, and bringing one in.

use axum::Extension;
use axum::extract::{Query, State};
use maud::{Markup, html};
use tally::{Digest, ListStanding, Standing};

use super::layout::{self, Way};
use super::list_aside;
use super::list_changes;
use super::list_codes;
use super::list_rows;
use super::list_twice;
use super::list_window::Asked;
use super::state::{Tone, count};
use crate::access::Holder;
use crate::reply::{Reply, page_reply};
use crate::serve::Yard;
use crate::{address, assets};

pub(crate) async fn show(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Query(asked): Query<Asked>,
) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let content = html! {
        h1 { "Packing lists" }
        @if standing.ordered().is_none() {
            div.note { p { "Rows are matched to parts once there is an order. " a href="/order" { "Say what was bought" } "." } }
        }
        @if !standing.lists.is_empty() { p { a.button href="#add" { "Bring in a list" } } }
        (list_rows::which(&standing, asked.shown()))
        @for list in &standing.lists { (one(&standing, list, &asked)) }
        @if standing.lists.is_empty() { p { "No packing list yet. Bring in whatever the sender made: a spreadsheet, a PDF, an e-mail, data, or a photograph of the paper." } }
        (list_aside::panel(&standing))
        (adding(&standing))
        (list_codes::panel(&standing))
        @if let Some(ordered) = standing.ordered() {
            datalist id="marks" {
                @for line in &ordered.parts.lines { option value=(line.part.mark) { (line.part.description) } }
            }
        }
        script type="module" src=(assets::address("list.js")) {}
    };
    Ok(page_reply(layout::page(
        &standing,
        &holder,
        Way::List,
        "List",
        content,
    )))
}

/// Kinds of file that a list comes as. A phone offers its camera beside them.
const ACCEPTED: &str =
    "image/*,.pdf,.xlsx,.xls,.ods,.fods,.csv,.tsv,.txt,.html,.htm,.eml,.zip,.xml,.edi,.x12,.856";

/// What is said while a list is read; pictures take some seconds a page.
const MEANWHILE: &str = "The yard computer is reading it. A photograph takes some seconds a page; this page turns when it is done.";

fn adding(standing: &Standing) -> Markup {
    html! {
        h2 id="add" { "Bring in a list" }
        form method="post" action="/list" enctype="multipart/form-data" data-keep="A packing list" data-meanwhile=(MEANWHILE) {
            input type="hidden" name="id" value=(store::fresh_id());
            label for="file" { "The file, or photographs of the paper" }
            input type="file" id="file" name="file" accept=(ACCEPTED) multiple aria-describedby="file-says";
            p.soft id="file-says" { "A spreadsheet, PDF, e-mail, text or data file. Of paper: one photograph a page, all at once, in their order." }
            label for="pasted" { "or paste the rows here" }
            textarea id="pasted" name="pasted" rows="5" spellcheck="false" {}
            input type="hidden" name="pasted_table" value="";
            p.soft hidden data-pasted-says aria-live="polite" {}
            @if !standing.lists.is_empty() {
                label for="corrects" { "Is it a list sent anew?" }
                select id="corrects" name="corrects" {
                    option value="" { "No, a list of its own" }
                    @for list in &standing.lists {
                        option value=(list.seen.digest) { "It corrects " (called(list)) }
                    }
                }
            }
            div.two {
                div {
                    label for="shipment" { "Shipment that it belongs to (may be left empty; a list sent anew keeps its own)" }
                    input type="text" id="shipment" name="shipment" maxlength="80";
                }
                div {
                    label for="sender" { "Who sent it (may be left empty)" }
                    input type="text" id="sender" name="sender" maxlength="80" autocomplete="off" list="senders";
                    datalist id="senders" { @for sender in senders(standing) { option value=(sender) {} } }
                }
            }
            p { button.main type="submit" autocomplete="off" { "Read the list" } }
            p.note.wait.meanwhile role="status" data-meanwhile-says {}
        }
    }
}

fn senders(standing: &Standing) -> Vec<&str> {
    let mut all: Vec<&str> = (standing.lists.iter())
        .filter_map(|list| list.sender.as_deref())
        .collect();
    all.sort_unstable();
    all.dedup();
    all
}

/// A list's file name, and its shipment where it has one.
fn called(list: &ListStanding) -> String {
    match &list.seen.shipment {
        Some(shipment) => format!("{}, {shipment}", list.seen.name),
        None => list.seen.name.clone(),
    }
}

fn one(standing: &Standing, list: &ListStanding, asked: &Asked) -> Markup {
    let digest = list.seen.digest.to_string();
    html! {
        section.list id=(address::list_anchor(&digest)) {
            h2 { (list.seen.name) @if let Some(shipment) = &list.seen.shipment { span.soft { " · " (shipment) } } }
            @match list.read.as_ref() {
                Err(why) => {
                    p { (Tone::Short.says("not read")) }
                    div.note.short role="alert" { p { "This list could not be read: " (why) } }
                    (acts(list))
                }
                Ok(read) => {
                    @for trouble in &list.troubles {
                        div.note.short role="alert" { p { strong { "Before any row: " } (trouble) "." } }
                    }
                    (list_twice::note(standing, list))
                    (summary(list, read))
                    (acts(list))
                    (list_changes::changes(list))
                    (warnings(read))
                    (list_rows::rows(standing, list, read, asked))
                    (list_rows::set_aside(read))
                }
            }
            (list_changes::left(list))
        }
    }
}

/// What can be done with a list as a whole: before its rows, which may be many.
fn acts(list: &ListStanding) -> Markup {
    html! {
        (sent_by(list, &list.seen.digest))
        form.inline method="post" action="/list/drop" {
            input type="hidden" name="id" value=(store::fresh_id());
            input type="hidden" name="list" value=(list.seen.digest);
            button type="submit" { "Set this list aside" span.unseen { ": " (list.seen.name) } }
        }
    }
}

/// How the list stands, in words and shapes; and how many rows there are in all.
fn summary(list: &ListStanding, read: &list::PackingList) -> Markup {
    let nothing = (list.matched.iter())
        .filter(|m| m.mark.is_none() && m.holds.is_empty() && !m.overruled)
        .count();
    let look = list_rows::to_look_at(list, read).len();
    let doubtful = look.saturating_sub(nothing);
    html! {
        p.stands {
            @if nothing > 0 { (Tone::Short.says(&count(nothing as i64, "matches nothing", "match nothing"))) }
            @if doubtful > 0 { (Tone::Wait.says(&format!("{doubtful} to look at"))) }
            @if look == 0 && !list.matched.is_empty() { (Tone::Good.says("every row is understood")) }
            @if read.rows.is_empty() { (Tone::Short.says("it has no rows")) }
            (count(read.rows.len() as i64, "row", "rows")) " read, " (read.set_aside.len()) " set aside with the reason."
            @if let Some(sender) = &list.sender { " Sent by " (sender.trim_end_matches('.')) "." }
        }
    }
}

/// What was said while it was read: the same words once, with all rows that they are of.
fn warnings(read: &list::PackingList) -> Markup {
    let mut grouped: Vec<(&str, Vec<String>)> = Vec::new();
    for warning in &read.warnings {
        let at = warning.at.as_ref().map(ToString::to_string);
        match grouped.iter_mut().find(|(what, _)| *what == warning.what) {
            Some((_, places)) => places.extend(at),
            None => grouped.push((&warning.what, at.into_iter().collect())),
        }
    }
    let line = |(what, places): &(&str, Vec<String>)| {
        html! {
            li { (what) @if !places.is_empty() { ": " (some_of(places)) } }
        }
    };
    html! {
        @match grouped.len() {
            0 => {}
            1..=3 => { ul.warnings { @for one in &grouped { (line(one)) } } }
            many => {
                details { summary { (many) " things noticed while it was read" } ul.warnings { @for one in &grouped { (line(one)) } } }
            }
        }
    }
}

/// The first few of many places.
fn some_of(places: &[String]) -> String {
    const NAMED: usize = 6;
    let named = places.iter().take(NAMED).cloned().collect::<Vec<_>>();
    let more = places.len() - named.len();
    match more {
        0 => named.join(", "),
        _ => format!("{} and {more} more", named.join(", ")),
    }
}

/// Where a list names no sender, a person can: the sender's codes are then known in the next list.
fn sent_by(list: &ListStanding, digest: &Digest) -> Markup {
    html! {
        @if list.read.is_ok() && list.sender.is_none() {
            details {
                summary { "Who sent it? The list does not say" span.unseen { ": " (list.seen.name) } }
                form method="post" action="/list/sender" data-keep="Who sent a list" {
                    input type="hidden" name="id" value=(store::fresh_id());
                    input type="hidden" name="list" value=(digest);
                    div.row {
                        input type="text" name="sender" maxlength="80" required aria-label={ "Who sent " (list.seen.name) } list="senders" autocomplete="off";
                        button type="submit" { "Say it" span.unseen { ": " (list.seen.name) } }
                    }
                }
                p.soft { "What their codes stand for is then known when their next list comes." }
            }
        }
    }
}
