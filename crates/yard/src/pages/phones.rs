//! Phones: who holds this one, how another joins, who has joined; and at the table, who is shut out.

use std::collections::BTreeMap;

use axum::Extension;
use axum::extract::connect_info::ConnectInfo;
use axum::extract::{Query, State};
use axum::http::{HeaderMap, header};
use maud::{Markup, PreEscaped, html};
use qrcode::{EcLevel, QrCode, render::svg};
use store::Device;
use tally::Event;

use super::layout::{self, Way};
use super::state::count;
use super::trust;
use crate::access::{Holder, Peer};
use crate::clock;
use crate::code::JoinCode;
use crate::door::Door;
use crate::forms::phones::{Which, no_such_phone, only_at_table, page_of_ours};
use crate::reply::{Reply, page_reply};
use crate::serve::{Yard, join_address};

/// More names than one screen holds; those used last are shown.
const MOST_NAMES: usize = 24;

pub(crate) async fn show(
    State(yard): State<Yard>,
    ConnectInfo(peer): ConnectInfo<Peer>,
    Extension(holder): Extension<Holder>,
    headers: HeaderMap,
) -> Reply {
    let (standing, devices, code, names, wrote) = yard.at_desk(|desk| {
        let (standing, devices, code) = (desk.standing()?, desk.devices()?, desk.join_code()?);
        let log = desk.log()?;
        let names = names_used(log, &devices, &holder.who);
        Ok((standing, devices, code, names, written(log)))
    })?;
    let list = List {
        holder: &holder,
        peer,
        wrote: &wrote,
        door: &yard.door(),
    };
    let content = html! {
        h1 { "Phones" }
        p.held { strong { (holder.who) } " holds this phone." }
        div.sides {
            div { (hand_on(&names, &came_from(&headers))) }
            div { (join(&yard, &code, peer)) }
        }
        h2 { "The safe address" }
        (trust::offer(&yard, &headers, peer))
        (list.joined(&devices))
        (list.out(&devices))
        h2 { "Leave" }
        p { "The phone leaves this job, and needs the code to come back. What was counted with it stays." }
        form method="post" action="/leave" { button type="submit" { "Leave the job" } }
    };
    Ok(page_reply(layout::page(
        &standing,
        &holder,
        Way::Phones,
        "Phones",
        content,
    )))
}

/// The names that this job has seen, but for the one that holds the phone; the one that wrote last comes first.
fn names_used(log: &[Event], devices: &[Device], holder: &str) -> Vec<String> {
    let wrote = log.iter().rev().map(|event| &event.who);
    let joined = devices.iter().map(|device| &device.name);
    let mut names: Vec<String> = Vec::new();
    for name in wrote.chain(joined) {
        if names.len() == MOST_NAMES {
            break;
        }
        if name != holder && name != crate::THIS_COMPUTER && !names.contains(name) {
            names.push(name.clone());
        }
    }
    names
}

/// How many events each device wrote, and when it wrote the last.
fn written(log: &[Event]) -> BTreeMap<String, (i64, i64)> {
    let mut written: BTreeMap<String, (i64, i64)> = BTreeMap::new();
    for event in log {
        let of = written.entry(event.device.clone()).or_default();
        *of = (of.0 + 1, of.1.max(event.at));
    }
    written
}

/// The page of ours that led here, so that it is gone back to.
fn came_from(headers: &HeaderMap) -> String {
    let text = |name| headers.get(name).and_then(|value| value.to_str().ok());
    let path = || {
        let (_, from) = text(header::REFERER)?.split_once("://")?;
        let path = page_of_ours(from.strip_prefix(text(header::HOST)?)?)?;
        // Without what was kept there: it is not to be said again.
        let path = path.split_once("?done=").map_or(path, |(page, _)| page);
        let inside = !["/phones", "/join", "/trust"]
            .iter()
            .any(|out| path.starts_with(out));
        inside.then(|| path.to_string())
    };
    path().unwrap_or_else(|| "/".into())
}

fn hand_on(names: &[String], back: &str) -> Markup {
    html! {
        @if !names.is_empty() {
            h2 { "Hand it on to" }
            form.names method="post" action="/phones/name" {
                input type="hidden" name="back" value=(back);
                @for name in names { button type="submit" name="who" value=(name) { (name) } }
            }
        }
        form method="post" action="/phones/name" {
            input type="hidden" name="back" value=(back);
            label for="who" { "Another name" }
            div.row {
                input type="text" id="who" name="who" required maxlength=(tally::MAX_NAME) autocomplete="off";
                button type="submit" { "Hand it on" }
            }
        }
        p.soft { "From then on the phone counts under that name. What it kept before stays under the old one." }
    }
}

fn join(yard: &Yard, code: &JoinCode, peer: Peer) -> Markup {
    let address = join_address(&yard.address, code);
    let drawn = QrCode::with_error_correction_level(&address, EcLevel::M).map(|code| {
        code.render::<svg::Color>()
            .min_dimensions(240, 240)
            .quiet_zone(true)
            .build()
    });
    html! {
        h2 id="join" { "Another phone joins" }
        p { "On the same network, by this code. Whoever has it can read and write this job." }
        @if let Ok(drawn) = drawn {
            div.qr role="img" aria-label=(format!("QR code for {address}")) { (PreEscaped(without_prolog(&drawn))) }
        }
        p { "or open " strong { (yard.address) "/join" } " and type" }
        p.code { (code) }
        @if peer.at_table {
            form method="post" action="/phones/new-code" { button type="submit" { "Make a new code" } }
            p.soft { "Phones that have joined stay in. The old code, on the terminal or on paper, lets nobody in any more." }
        }
    }
}

/// An SVG inside a page has no XML prolog.
fn without_prolog(svg: &str) -> &str {
    svg.find("<svg").map_or("", |start| &svg[start..])
}

/// What the lists of phones are written from.
struct List<'a> {
    holder: &'a Holder,
    peer: Peer,
    wrote: &'a BTreeMap<String, (i64, i64)>,
    door: &'a Door,
}

impl List<'_> {
    fn joined(&self, devices: &[Device]) -> Markup {
        let joined: Vec<&Device> = devices.iter().filter(|device| !device.revoked).collect();
        html! {
            h2 id="in" { "Joined: " (count(joined.len() as i64, "phone", "phones")) }
            ul.log.phones {
                @for device in joined {
                    li {
                        div {
                            strong { (device.name) } @if device.id == self.holder.device { " (this one)" }
                            span.said { (self.seen(device)) " · " (self.entries(device)) }
                        }
                        @if self.peer.at_table && device.id != self.holder.device {
                            a.button href={ "/phones/shut-out?device=" (device.id) } { "Shut out…" }
                        }
                    }
                }
            }
            @if !self.peer.at_table {
                p.soft { "A phone that is lost, or in the wrong hands, is shut out on the yard's own computer: this page has the button there." }
            }
        }
    }

    fn out(&self, devices: &[Device]) -> Markup {
        let out: Vec<&Device> = devices.iter().filter(|device| device.revoked).collect();
        html! {
            @if !out.is_empty() {
                h2 id="out" { "Out" }
                p { "These read and write nothing any more. What they wrote stays." }
                ul.log.phones {
                    @for device in out {
                        li {
                            div {
                                strong { (device.name) }
                                span.said { (self.shut(device)) " · " (self.entries(device)) }
                            }
                            @if self.peer.at_table {
                                form method="post" action="/phones/let-in" {
                                    input type="hidden" name="device" value=(device.id);
                                    button type="submit" { "Let in again" }
                                }
                            }
                        }
                    }
                }
            }
        }
    }

    fn seen(&self, device: &Device) -> String {
        let wrote = self.wrote.get(&device.id).map(|(_, at)| *at);
        match self.door.last_saw(&device.id).max(wrote) {
            Some(at) => format!("last seen {}", clock::local(at)),
            None => "not seen since the yard was opened".into(),
        }
    }

    fn shut(&self, device: &Device) -> String {
        match self.door.shut_by(&device.id) {
            Some((at, by)) => format!("shut out by {by}, {}", clock::local(*at)),
            None => "shut out, or left by itself".into(),
        }
    }

    fn entries(&self, device: &Device) -> String {
        let n = self.wrote.get(&device.id).map_or(0, |(n, _)| *n);
        count(n, "entry", "entries")
    }
}

/// Asks once, plainly.
pub(crate) async fn ask_out(
    State(yard): State<Yard>,
    ConnectInfo(peer): ConnectInfo<Peer>,
    Extension(holder): Extension<Holder>,
    Query(which): Query<Which>,
) -> Reply {
    only_at_table(peer)?;
    let (standing, devices, wrote) =
        yard.at_desk(|desk| Ok((desk.standing()?, desk.devices()?, written(desk.log()?))))?;
    let device =
        (devices.iter().find(|device| device.id == which.device)).ok_or_else(no_such_phone)?;
    let entries = wrote.get(&device.id).map_or(0, |(n, _)| *n);
    let content = html! {
        h1 { "Shut out " (device.name) "’s phone?" }
        p {
            "From then on it reads and writes nothing. "
            @if entries > 0 { "Its " (count(entries, "entry stays", "entries stay")) " in the job. " }
            "What it has not sent yet stays on the phone, and can be sent if it is let in again."
        }
        p { "Whoever holds it could join again by the code. If they should not, make a new code too." }
        form.row method="post" action="/phones/shut-out" {
            input type="hidden" name="device" value=(device.id);
            button.main type="submit" { "Shut it out" }
            a.button href="/phones#in" { "Leave it in" }
        }
    };
    Ok(page_reply(layout::page(
        &standing,
        &holder,
        Way::Phones,
        "Shut out a phone",
        content,
    )))
}

/// What a phone that was shut out is shown, whatever it asks for.
pub(crate) fn shut_out(who: &str) -> Markup {
    layout::bare(
        "Shut out",
        html! {
            h1 { "This phone was shut out" }
            p { "It was shut out at the table, as " strong { (who) } "’s phone. What it wrote stays in the job." }
            p { "If it is still to count, ask at the table to let " (who) "’s phone in again: page Phones, on the yard's own computer. What it has not sent yet is kept until then." }
            p { a.button href="/" { "Try again" } }
        },
    )
}
