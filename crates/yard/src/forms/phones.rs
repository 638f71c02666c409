//! Handing a phone on; and at the table: shutting one out, letting it in again, a new join code.

use axum::extract::State;
use axum::extract::connect_info::ConnectInfo;
use axum::http::StatusCode;
use axum::{Extension, Form};
use serde::Deserialize;

use crate::access::{Holder, Peer};
use crate::reply::{Failure, Reply, see};
use crate::serve::Yard;

/// A name as someone gave it, if it is one.
pub(super) fn name_given(text: &str) -> Option<String> {
    let name = text.trim();
    let fits = !name.is_empty()
        && name.chars().count() <= tally::MAX_NAME
        && !name.chars().any(char::is_control);
    fits.then(|| name.to_string())
}

#[derive(Deserialize)]
pub(crate) struct Name {
    who: String,
    #[serde(default)]
    back: String,
}

/// From now on the phone writes under another name; what it wrote before keeps the old one.
pub(crate) async fn name(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Form(form): Form<Name>,
) -> Reply {
    let who = name_given(&form.who).ok_or_else(|| {
        Failure::refused(format!(
            "Write the name you go by: one line of 1 to {} characters.",
            tally::MAX_NAME
        ))
    })?;
    yard.at_desk(|desk| desk.rename(&holder.device, &who))?;
    Ok(see(page_of_ours(&form.back).unwrap_or("/")))
}

/// An address that leads to a page of ours and nowhere else, or nothing.
pub(crate) fn page_of_ours(path: &str) -> Option<&str> {
    let ours = path.starts_with('/')
        && !path.starts_with("//")
        && path.len() <= 500
        && path.bytes().all(|b| b.is_ascii_graphic() && b != b'\\');
    ours.then_some(path)
}

#[derive(Deserialize)]
pub(crate) struct Which {
    pub device: String,
}

pub(crate) async fn shut_out(
    State(yard): State<Yard>,
    ConnectInfo(peer): ConnectInfo<Peer>,
    Extension(holder): Extension<Holder>,
    Form(form): Form<Which>,
) -> Reply {
    only_at_table(peer)?;
    if form.device == holder.device {
        return Err(Failure::refused(
            "This is the phone in your hand. It leaves by the button at the end of the page Phones; another phone is \
             shut out here.",
        ));
    }
    set_out(&yard, &form.device, true)?;
    (yard.door()).shut(&form.device, &holder.who, store::now());
    Ok(see("/phones#out"))
}

pub(crate) async fn let_in(
    State(yard): State<Yard>,
    ConnectInfo(peer): ConnectInfo<Peer>,
    Form(form): Form<Which>,
) -> Reply {
    only_at_table(peer)?;
    set_out(&yard, &form.device, false)?;
    Ok(see("/phones#in"))
}

pub(crate) async fn new_code(
    State(yard): State<Yard>,
    ConnectInfo(peer): ConnectInfo<Peer>,
) -> Reply {
    only_at_table(peer)?;
    yard.at_desk(|desk| desk.change_join_code())?;
    Ok(see("/phones#join"))
}

fn set_out(yard: &Yard, device: &str, out: bool) -> Result<(), Failure> {
    match yard.at_desk(|desk| desk.shut_out(device, out))? {
        true => Ok(()),
        false => Err(no_such_phone()),
    }
}

pub(crate) fn no_such_phone() -> Failure {
    Failure::new(
        StatusCode::NOT_FOUND,
        "No such phone has joined this job. Open the page Phones again.",
    )
}

/// A phone that is in the wrong hands is not to shut out the crew: that is done on the yard's own computer.
pub(crate) fn only_at_table(peer: Peer) -> Result<(), Failure> {
    match peer.at_table {
        true => Ok(()),
        false => Err(Failure::new(
            StatusCode::FORBIDDEN,
            "This is done at the table: open the page Phones on the yard's own computer.",
        )),
    }
}
