//! Joining, and handing a phone on.

use axum::Form;
use axum::extract::State;
use axum::http::{StatusCode, header};
use axum::response::{AppendHeaders, IntoResponse};
use serde::Deserialize;

use crate::access;
use crate::code::JoinCode;
use crate::pages;
use crate::reply::{Reply, page_reply, see};
use crate::serve::Yard;

#[derive(Deserialize)]
pub(crate) struct Join {
    code: String,
    who: String,
}

pub(crate) async fn join(State(yard): State<Yard>, Form(form): Form<Join>) -> Reply {
    let who = form.who.trim().to_string();
    if !JoinCode::typed(&form.code).is(&yard.code) {
        let page = pages::join::form(
            "",
            Some("That is not this job's code. It has ten letters and figures."),
        );
        return Ok((StatusCode::FORBIDDEN, page_reply(page)).into_response());
    }
    if who.is_empty() || who.chars().count() > tally::MAX_NAME || who.chars().any(char::is_control)
    {
        let page = pages::join::form(
            &form.code,
            Some("Write the name you go by, so that others know who counted."),
        );
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, page_reply(page)).into_response());
    }
    let secret = yard.at_desk(|desk| desk.let_in(&who))?;
    Ok((
        AppendHeaders([(header::SET_COOKIE, access::set_cookie(&secret))]),
        see("/"),
    )
        .into_response())
}

pub(crate) async fn leave() -> Reply {
    Ok((
        AppendHeaders([(header::SET_COOKIE, access::clear_cookie())]),
        see("/join"),
    )
        .into_response())
}
