//! How a phone comes to trust this computer, in one screen; for anyone, before joining too.

use axum::extract::State;
use axum::extract::connect_info::ConnectInfo;
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::IntoResponse;
use maud::{Markup, html};

use super::layout;
use crate::access::Peer;
use crate::clock;
use crate::reply::{Failure, Reply, page_reply};
use crate::serve::Yard;
use crate::tls::SafeAddress;

pub(crate) async fn show(
    State(yard): State<Yard>,
    ConnectInfo(peer): ConnectInfo<Peer>,
    headers: HeaderMap,
) -> Reply {
    let content = match yard.safe.as_ref() {
        Ok(safe) => steps(safe, &safe.beside(&headers), peer),
        Err(why) => html! {
            h1 { "The safe address" }
            (none(why))
            p { a.button href="/" { "To the job" } }
        },
    };
    Ok(page_reply(layout::bare("The safe address", content)))
}

/// The certificate, as phones take it in.
pub(crate) async fn certificate(State(yard): State<Yard>) -> Reply {
    match yard.safe.as_ref() {
        Ok(safe) => {
            let kind = [(header::CONTENT_TYPE, "application/x-x509-ca-cert")];
            Ok((kind, safe.certificate.clone()).into_response())
        }
        Err(why) => Err(Failure::new(
            StatusCode::NOT_FOUND,
            format!("There is no safe address here: {why}."),
        )),
    }
}

/// What the page of phones says of the safe address.
pub(crate) fn offer(yard: &Yard, headers: &HeaderMap, peer: Peer) -> Markup {
    match yard.safe.as_ref() {
        Ok(safe) => html! {
            @if peer.safe { p { "This phone is at the safe address, and can go on counting out of reach." } }
            @else {
                p { "Out of reach of the yard, a phone goes on counting only if it came by the safe address." }
                p.row {
                    a.button href={ (safe.beside(headers)) "/" } { "Use the safe address" }
                    a.button href="/trust" { "How a phone comes to trust it" }
                }
            }
            p { "Fingerprint to compare a phone's with" @if !peer.at_table { " (go by the one on the yard's own computer)" } ":" }
            (fingerprint(safe))
        },
        Err(why) => none(why),
    }
}

fn none(why: &str) -> Markup {
    html! {
        div.note.wait {
            p { "There is no safe address now: " (why) "." }
            p { "Everything works at the plain address, as long as the phone is in reach of the yard." }
        }
    }
}

fn fingerprint(safe: &SafeAddress) -> Markup {
    html! {
        p.fingerprint { @for group in safe.fingerprint.groups() { span { (group) } " " } }
    }
}

// The words of both families' settings are from memory; no phone was at hand to read them off.
fn steps(safe: &SafeAddress, address: &str, peer: Peer) -> Markup {
    html! {
        h1 { "The safe address" }
        p {
            "To go on counting out of reach of the yard, a phone must have these pages encrypted, from a computer that it "
            "trusts. This computer has made a certificate of its own for that. No office stands behind it, so the phone "
            "warns of it until you tell it, once, to trust it. Going on past the warning is not enough."
        }
        ol.steps {
            li { p { a.button.main href="/trust/tallyard.crt" { "Get the certificate" } } }
            li {
                p { "Tell the phone to trust it. The words differ a little from phone to phone." }
                details {
                    summary { "On an iPhone" }
                    ol {
                        li { "Allow the download. Open Settings: “Profile Downloaded” stands at the top. Touch it." }
                        li { "Touch “More Details” and the certificate, and compare the fingerprint (SHA-256) below." }
                        li { "Go back and touch “Install”." }
                        li { "In Settings, General, About, Certificate Trust Settings, switch on “Tallyard yard computer”." }
                    }
                }
                details {
                    summary { "On Android" }
                    ol {
                        li { "Open Settings and search for “CA certificate”. Choose to install one from the phone's storage." }
                        li { "The phone says that such a certificate may let others read along. This one cannot: see below. Choose “Install anyway”, and the file tallyard.crt." }
                        li { "In “Trusted credentials”, “User”, touch it and compare the fingerprint (SHA-256) below. If it differs, remove it there." }
                    }
                    p { "Use the phone's own browser; some others keep a list of their own." }
                }
            }
            li {
                p { "Compare: is the phone's fingerprint the one on the yard computer's screen (terminal, and page Phones)? If it is another, stop, and say so at the table." }
                (fingerprint(safe))
            }
            li {
                @if peer.safe { p { "This is the safe address." } p { a.button href="/" { "To the job" } } }
                @else { p { a.button href={ (address) "/" } { "Use the safe address" } } }
            }
        }
        details {
            summary { "What it can vouch for, and what not" }
            p { "Only for addresses of a private network, such as " (private(safe)) ", for this computer itself, and for names that end in .local. A phone refuses whatever it says of any other address: it cannot stand in for a bank, a shop or a mail service. It vouches for no program and no mail." }
            p { "Its key does not leave this computer and is not in the job file. It ends on " (clock::day(safe.until)) "." }
        }
        details {
            summary { "Take it away after the build" }
            p { "iPhone: Settings, General, VPN & Device Management, touch “Tallyard yard computer”, remove the profile." }
            p { "Android: Settings, search for “Trusted credentials”, “User”, touch it, remove." }
        }
        @if !peer.safe {
            p { "Without all this, everything works at the plain address while in reach. " a href="/" { "To the job" } }
        }
    }
}

/// The safe address without its port.
fn private(safe: &SafeAddress) -> &str {
    let host = safe.address.trim_start_matches("https://");
    host.rsplit_once(':').map_or(host, |(host, _)| host)
}
