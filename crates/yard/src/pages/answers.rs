//! Answers of the sender and the carrier in words.

use tally::Answer;

use crate::clock;

/// What was answered: "they send 2 on 1 Dec 2026, in Load 3".
pub fn in_words(answer: &Answer) -> String {
    match answer {
        Answer::Sends {
            quantity,
            on,
            shipment,
        } => {
            let on = (on.as_deref()).map(|day| format!(" on {}", clock::day_said(day)));
            let with = (shipment.as_deref()).map(|name| format!(", in {name}"));
            format!(
                "they send {quantity}{}{}",
                on.unwrap_or_default(),
                with.unwrap_or_default()
            )
        }
        Answer::Credits { quantity, sum } => {
            let pieces = (*quantity > 0).then(|| format!(" {quantity}"));
            let sum = sum.map(|sum| format!(", {sum}"));
            format!(
                "they credit{}{}",
                pieces.unwrap_or_default(),
                sum.unwrap_or_default()
            )
        }
        Answer::Refuses => "they refuse".into(),
        Answer::Keep => "it may be kept".into(),
        Answer::Return => "it is to go back".into(),
        Answer::Asks => "they ask for something first".into(),
        Answer::Other => "something that a newer Tallyard wrote".into(),
    }
}
