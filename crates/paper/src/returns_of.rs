//! The return list, taken from how a job stands.

use claim::Act;
use tally::{About, Conditioned, Standing};

use crate::concealed_of::kinds;
use crate::letter_facts::{HARM, LetterFacts, Reader, conditions, over, sender_words};
use crate::returns::{ReturnList, ReturnRow};

/// Returns the list of what came over or wrong; `None` without an order that can be built.
///
/// In it is what nothing else explains, what people found to be the wrong part, and what is no part of this order.
pub fn returns_of(standing: &Standing, facts: &LetterFacts<'_>) -> Option<ReturnList> {
    let difference = standing.difference.as_ref()?;
    let letter = facts.letter(standing, Reader::Sender, &[Act::Rejection])?;
    let written = |field| standing.state.affairs.written(field, None).to_owned();
    let mut rows = Vec::new();
    for mark in &difference.marks {
        let row = |quantity: i64, why: &str, about: About| ReturnRow {
            mark: mark.mark.clone(),
            description: mark.description.clone(),
            sender: sender_words(mark),
            quantity,
            why: why.to_owned(),
            condition: condition(standing, &mark.mark),
            lies: piles(standing, &mark.mark),
            sender_said: facts.answers(standing, about, &mark.mark).join("; "),
        };
        let over = over(standing, mark);
        if over > 0 {
            rows.push(row(over, "over", About::Over));
        }
        if mark.on_hand.wrong > 0 {
            let why = "wrong: another part came in its place";
            rows.push(row(mark.on_hand.wrong, why, About::Unfit));
        }
    }
    for (mark, on_hand) in &difference.strange {
        rows.push(ReturnRow {
            mark: mark.clone(),
            description: String::new(),
            sender: None,
            quantity: on_hand.counted,
            why: "no part of this order".into(),
            condition: condition(standing, mark),
            lies: piles(standing, mark),
            sender_said: facts.answers(standing, About::Over, mark).join("; "),
        });
    }
    rows.retain(|row| row.quantity > 0);
    let marks: Vec<&str> = rows.iter().map(|row| row.mark.as_str()).collect();
    let photos = facts.photos(standing, None, &marks);
    Some(ReturnList {
        letter,
        rows,
        photos,
        return_number: written("return-number"),
        send_to: written("return-to"),
        freight: written("return-freight"),
    })
}

/// What people saw of the mark's state; where nobody saw anything wrong, that.
fn condition(standing: &Standing, mark: &str) -> String {
    let seen: Vec<&Conditioned> = conditions(standing, mark, &HARM).collect();
    match seen.is_empty() {
        true => "nothing noted".into(),
        false => format!("some {}", kinds(&seen)),
    }
}

/// The piles in which the mark was counted, with their places.
fn piles(standing: &Standing, mark: &str) -> String {
    let seen = standing.state.marks.get(mark);
    let mut piles: Vec<String> = Vec::new();
    for pile in seen
        .iter()
        .flat_map(|seen| &seen.counts)
        .filter_map(|count| count.pile.as_ref())
    {
        let words = match standing.state.places.get(pile) {
            Some(place) => format!("pile {pile}, {place}"),
            None => format!("pile {pile}"),
        };
        if !piles.contains(&words) {
            piles.push(words);
        }
    }
    piles.join("; ")
}
