//! Phones: how another one joins, who has joined, and handing this one on.

use axum::Extension;
use axum::extract::State;
use maud::{PreEscaped, html};
use qrcode::{EcLevel, QrCode, render::svg};

use super::layout::{self, Way};
use crate::access::Holder;
use crate::reply::{Reply, page_reply};
use crate::serve::{Yard, join_address};

pub(crate) async fn show(State(yard): State<Yard>, Extension(holder): Extension<Holder>) -> Reply {
    let (standing, devices) = yard.at_desk(|desk| Ok((desk.standing()?, desk.devices()?)))?;
    let address = join_address(&yard.address, &yard.code);
    let drawn = QrCode::with_error_correction_level(&address, EcLevel::M).map(|code| {
        code.render::<svg::Color>()
            .min_dimensions(240, 240)
            .quiet_zone(true)
            .build()
    });
    let content = html! {
        h1 { "Phones" }
        p { "A phone on the same network joins by this code. Whoever has it can read and write this job." }
        @if let Ok(drawn) = drawn {
            div.qr role="img" aria-label=(format!("QR code for {address}")) { (PreEscaped(without_prolog(&drawn))) }
        }
        p { "or open " strong { (yard.address) "/join" } " and type" }
        p.code { (yard.code) }
        h2 { "Joined" }
        ul { @for device in &devices { li { (device.name) @if device.id == holder.device { " (this one)" } @if device.revoked { " · shut out" } } } }
        h2 { "Hand this phone on" }
        p { "The next person joins anew under their own name; what you counted stays yours." }
        form method="post" action="/leave" { button type="submit" { "Hand it on" } }
    };
    Ok(page_reply(layout::page(
        &standing,
        &holder,
        Way::Phones,
        "Phones",
        content,
    )))
}

/// An SVG inside a page has no XML prolog.
fn without_prolog(svg: &str) -> &str {
    svg.find("<svg").map_or("", |start| &svg[start..])
}
