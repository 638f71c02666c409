//! Joining, and leaving.

use axum::extract::State;
use axum::extract::connect_info::ConnectInfo;
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{AppendHeaders, IntoResponse, Response};
use axum::{Extension, Form};
use serde::Deserialize;

use super::phones::name_given;
use crate::access::{self, Comer, Holder, Peer};
use crate::code::JoinCode;
use crate::door::{self, MOST_PHONES, Shown};
use crate::pages;
use crate::reply::{Reply, page_reply, see};
use crate::serve::Yard;

#[derive(Deserialize)]
pub(crate) struct Join {
    code: String,
    who: String,
}

pub(crate) async fn join(
    State(yard): State<Yard>,
    ConnectInfo(peer): ConnectInfo<Peer>,
    headers: HeaderMap,
    Form(form): Form<Join>,
) -> Reply {
    let comer = access::comer(&yard, &headers)?;
    if let Comer::ShutOut(who) = comer
        && !peer.at_table
    {
        let page = pages::phones::shut_out(&who);
        return Ok((StatusCode::FORBIDDEN, page_reply(page)).into_response());
    }
    let again = |status: StatusCode, code: &str, trouble: &str| -> Response {
        let page = pages::join::form(&yard, &headers, peer, code, &form.who, Some(trouble));
        (status, page_reply(page)).into_response()
    };
    let right = yard.at_desk(|desk| desk.join_code())?;
    let code = JoinCode::typed(&form.code);
    let shown = (yard.door()).looks_at(&code, &right, peer.ip, store::now());
    match shown {
        Shown::Right => {}
        Shown::Wrong => {
            let says = "That is not this job's code. It has ten letters and figures, and stands at the table under \
                        the QR code; it may have been changed.";
            return Ok(again(StatusCode::FORBIDDEN, "", says));
        }
        Shown::TooOften => {
            let says = "Several wrong codes came from here, so the yard is not looking at more for now. Wait a \
                        minute, look at the code at the table, and try again.";
            let page = again(StatusCode::TOO_MANY_REQUESTS, "", says);
            return Ok((AppendHeaders([(header::RETRY_AFTER, "60")]), page).into_response());
        }
    }
    let Some(who) = name_given(&form.who) else {
        let says = "Write the name you go by, so that others know who counted.";
        return Ok(again(StatusCode::UNPROCESSABLE_ENTITY, &form.code, says));
    };
    let secret = yard.at_desk(|desk| {
        let phones = desk
            .devices()?
            .iter()
            .filter(|device| !device.revoked)
            .count();
        match door::has_room(phones, peer.at_table) {
            true => desk.let_in(&who).map(Some),
            false => Ok(None),
        }
    })?;
    let Some(secret) = secret else {
        let says = format!(
            "{MOST_PHONES} phones have joined, and this yard takes no more. Hand one of them on (a tap on Phones at \
             the top of its pages), or shut out one that is not used any more, at the table. Then join again."
        );
        return Ok(again(StatusCode::SERVICE_UNAVAILABLE, &form.code, &says));
    };
    let cookie = access::set_cookie(&secret, peer.safe);
    Ok((AppendHeaders([(header::SET_COOKIE, cookie)]), see("/")).into_response())
}

/// A phone that leaves is shut out, so that what is left of its secret opens nothing and its place is free.
pub(crate) async fn leave(State(yard): State<Yard>, Extension(holder): Extension<Holder>) -> Reply {
    yard.at_desk(|desk| desk.shut_out(&holder.device, true))?;
    let cookies = access::clear_cookies().map(|cookie| (header::SET_COOKIE, cookie));
    Ok((AppendHeaders(cookies), see("/join")).into_response())
}
