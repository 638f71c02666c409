//! Answers of the sender and the carrier in words.

use tally::Answer;

/// What was answered, of those who answered or to them: "they send 2 on Tue 1 Dec 2026, in Load 3".
pub fn answer_in_words(answer: &Answer, who: &str) -> String {
    match answer {
        Answer::Sends {
            quantity,
            on,
            shipment,
        } => {
            let on = (on.as_deref()).map(|day| format!(" on {}", day_said(day)));
            let with = (shipment.as_deref()).map(|name| format!(", in {name}"));
            format!(
                "{who} send {quantity}{}{}",
                on.unwrap_or_default(),
                with.unwrap_or_default()
            )
        }
        Answer::Credits { quantity, sum } => {
            let pieces = (*quantity > 0).then(|| format!(" {quantity}"));
            let sum = sum.map(|sum| format!(", {sum}"));
            format!(
                "{who} credit{}{}",
                pieces.unwrap_or_default(),
                sum.unwrap_or_default()
            )
        }
        Answer::Refuses => format!("{who} refuse"),
        Answer::Keep => "it may be kept".into(),
        Answer::Return => "it is to go back".into(),
        Answer::Asks => format!("{who} ask for something first"),
        Answer::Other => "something that a newer Tallyard wrote".into(),
    }
}

/// A day of the log: "Thu 3 Dec 2026"; as it stands where it is none.
fn day_said(day: &str) -> String {
    (day.parse()).map_or_else(|_| day.to_owned(), claim::day_in_words)
}
