//! What `tallyard points --json` prints.

use serde::Serialize;
use tally::{Answer, Money, OpenPoint, Standing};

#[derive(Serialize)]
pub struct Points {
    closed: Option<Closed>,
    points: Vec<Point>,
}

#[derive(Serialize)]
struct Closed {
    who: String,
    at: i64,
    words: String,
}

#[derive(Serialize)]
struct Point {
    about: &'static str,
    of: String,
    says: String,
    pieces: Option<i64>,
    stage: &'static str,
    open: bool,
    owner: Option<String>,
    next: Option<String>,
    to_do: Option<String>,
    answers: Vec<Answered>,
    closed: Option<Closed>,
}

#[derive(Serialize)]
struct Answered {
    answer: &'static str,
    quantity: Option<i64>,
    on: Option<String>,
    shipment: Option<String>,
    sum: Option<Sum>,
    words: String,
    who: String,
    at: i64,
}

#[derive(Serialize)]
struct Sum {
    minor: i64,
    currency: String,
}

pub fn points(standing: &Standing) -> Points {
    Points {
        closed: standing.state.affairs.closed.as_ref().map(closed),
        points: standing.points().iter().map(point).collect(),
    }
}

fn closed(seen: &tally::ClosedSeen) -> Closed {
    Closed {
        who: seen.who.clone(),
        at: seen.at,
        words: seen.words.clone(),
    }
}

fn point(point: &OpenPoint) -> Point {
    let seen = &point.seen;
    let said = |text: &String| (!text.is_empty()).then(|| text.clone());
    Point {
        about: yard::about_name(point.point.about),
        of: point.point.of.clone(),
        says: point.says.clone(),
        pieces: point.pieces,
        stage: match point.stage {
            tally::PointStage::Open => "open",
            tally::PointStage::Promised => "promised",
            tally::PointStage::Answered => "answered",
            tally::PointStage::MadeGood => "made_good",
            tally::PointStage::Closed => "closed",
        },
        open: point.stage.is_open(),
        owner: said(&seen.owner),
        next: seen.next.clone(),
        to_do: said(&seen.words),
        answers: seen.answers.iter().map(answered).collect(),
        closed: seen.closed.as_ref().map(closed),
    }
}

fn answered(seen: &tally::AnswerSeen) -> Answered {
    let mut said = Answered {
        answer: "other",
        quantity: None,
        on: None,
        shipment: None,
        sum: None,
        words: seen.words.clone(),
        who: seen.who.clone(),
        at: seen.at,
    };
    match &seen.answer {
        Answer::Sends {
            quantity,
            on,
            shipment,
        } => {
            said.answer = "sends";
            said.quantity = Some(*quantity);
            said.on.clone_from(on);
            said.shipment.clone_from(shipment);
        }
        Answer::Credits { quantity, sum } => {
            said.answer = "credits";
            said.quantity = Some(*quantity);
            said.sum = sum.map(money);
        }
        Answer::Refuses => said.answer = "refuses",
        Answer::Keep => said.answer = "keep",
        Answer::Return => said.answer = "return",
        Answer::Asks => said.answer = "asks",
        Answer::Other => {}
    }
    said
}

fn money(sum: Money) -> Sum {
    Sum {
        minor: sum.minor,
        currency: sum.currency.to_string(),
    }
}
