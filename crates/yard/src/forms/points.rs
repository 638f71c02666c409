//! Open points: taken up, answered, closed; the job closed.

use axum::extract::State;
use axum::response::Response;
use axum::{Extension, Form};
use serde::Deserialize;
use tally::{
    About, Answer, Answered, Currency, EventId, JobClosed, Money, Point, PointClosed, PointKept,
    Standing, What,
};

use super::{append, decide, filled, refused, unknown_mark};
use crate::access::Holder;
use crate::address;
use crate::desk::has_mark;
use crate::pages::points::{about_name, about_named};
use crate::reply::{Failure, Reply, see};
use crate::serve::Yard;

#[derive(Deserialize)]
pub(crate) struct Taken {
    id: EventId,
    about: String,
    of: String,
    #[serde(default)]
    owner: String,
    #[serde(default)]
    next: String,
    #[serde(default)]
    words: String,
}

pub(crate) async fn take(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Form(form): Form<Taken>,
) -> Reply {
    let point = point(&form.about, &form.of)?;
    decide(&yard, holder, form.id, |standing| {
        known(standing, &point)?;
        let kept = PointKept {
            point: point.clone(),
            owner: form.owner.trim().into(),
            next: filled(&form.next).map(String::from),
            words: form.words.trim().into(),
        };
        tally::say(What::PointKept(kept)).map_err(refused)
    })?;
    Ok(back(&point, form.id))
}

#[derive(Deserialize)]
pub(crate) struct Said {
    id: EventId,
    about: String,
    of: String,
    is: String,
    #[serde(default)]
    quantity: String,
    #[serde(default)]
    on: String,
    #[serde(default)]
    shipment: String,
    #[serde(default)]
    sum: String,
    #[serde(default)]
    currency: String,
    #[serde(default)]
    words: String,
}

impl Said {
    fn answer(&self) -> Result<Answer, Failure> {
        Ok(match self.is.as_str() {
            "sends" => Answer::Sends {
                quantity: self.pieces()?.ok_or_else(|| {
                    Failure::refused("Say how many pieces they send, as a number.")
                })?,
                on: filled(&self.on).map(String::from),
                shipment: filled(&self.shipment).map(String::from),
            },
            "credits" => match (self.pieces()?, self.sum()?) {
                (None | Some(0), None) => {
                    return Err(Failure::refused(
                        "Say how many pieces they credit, or the sum.",
                    ));
                }
                (pieces, sum) => Answer::Credits {
                    quantity: pieces.unwrap_or(0),
                    sum,
                },
            },
            "refuses" => Answer::Refuses,
            "keep" => Answer::Keep,
            "return" => Answer::Return,
            "asks" => Answer::Asks,
            _ => {
                return Err(Failure::refused(
                    "Say what they answered: touch one of the six.",
                ));
            }
        })
    }

    fn pieces(&self) -> Result<Option<i64>, Failure> {
        let not_whole = |_| {
            let said: String = self.quantity.chars().take(40).collect();
            Failure::refused(format!("“{said}” is no whole number of pieces."))
        };
        (filled(&self.quantity).map(str::parse::<i64>).transpose()).map_err(not_whole)
    }

    fn sum(&self) -> Result<Option<Money>, Failure> {
        let Some(sum) = filled(&self.sum) else {
            return Ok(None);
        };
        let bad = |why: tally::BadMoney| Failure::refused(format!("{why}."));
        let currency = match filled(&self.currency) {
            Some(letters) => letters.parse().map_err(bad)?,
            None => Currency::USD,
        };
        Money::read(sum, currency).map(Some).map_err(bad)
    }
}

pub(crate) async fn answer(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Form(form): Form<Said>,
) -> Reply {
    let point = point(&form.about, &form.of)?;
    let answer = form.answer()?;
    decide(&yard, holder, form.id, |standing| {
        known(standing, &point)?;
        let answered = Answered {
            point: point.clone(),
            answer,
            words: form.words.trim().into(),
        };
        tally::say(What::Answered(answered)).map_err(refused)
    })?;
    Ok(back(&point, form.id))
}

#[derive(Deserialize)]
pub(crate) struct Closed {
    id: EventId,
    about: String,
    of: String,
    #[serde(default)]
    words: String,
}

pub(crate) async fn close(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Form(form): Form<Closed>,
) -> Reply {
    let point = point(&form.about, &form.of)?;
    decide(&yard, holder, form.id, |standing| {
        known(standing, &point)?;
        let mut points = standing.points().into_iter();
        let closed = PointClosed {
            point: point.clone(),
            pieces: points
                .find(|known| known.point == point)
                .and_then(|known| known.pieces),
            words: form.words.trim().into(),
        };
        tally::say(What::PointClosed(closed)).map_err(refused)
    })?;
    Ok(see(&format!("/points?done={}", form.id)))
}

#[derive(Deserialize)]
pub(crate) struct Finished {
    id: EventId,
    #[serde(default)]
    words: String,
}

pub(crate) async fn close_job(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Form(form): Form<Finished>,
) -> Reply {
    let words = form.words.trim().into();
    let what = tally::say(What::JobClosed(JobClosed { words })).map_err(refused)?;
    append(&yard, holder, form.id, what)?;
    Ok(see("/points"))
}

fn point(about: &str, of: &str) -> Result<Point, Failure> {
    let about = about_named(about)
        .ok_or_else(|| Failure::refused("That is no kind of point. Open the points page again."))?;
    Ok(Point::of(about, of.trim()))
}

/// Whether a point can be spoken of: one of a mark that the job knows, one that stands already, or a person's own. What
/// waited in a phone may come when nothing of its point is left; it is kept all the same.
fn known(standing: &Standing, point: &Point) -> Result<(), Failure> {
    let stands = || standing.points().iter().any(|open| open.point == *point);
    match point.about {
        about if about.is_of_a_mark() => match has_mark(standing, &point.of) {
            true => Ok(()),
            false => Err(unknown_mark()),
        },
        About::Carrier if !standing.shipments.contains_key(&point.of) && !stands() => Err(
            Failure::refused("There is no shipment of this name. Open the points page again."),
        ),
        _ => Ok(()),
    }
}

/// Back to the point's page, which says that it was kept.
fn back(point: &Point, event: EventId) -> Response {
    let page = address::point(about_name(point.about), &point.of);
    see(&format!("{page}&done={event}"))
}
