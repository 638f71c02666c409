//! Days that hardly can be: most often a slip of the pen, and every date that follows from one is wrong.

use jiff::civil::Date;

use crate::facts::Facts;
use crate::reach::day_in_words;
use crate::rule::Start;

/// A freight matter older than this is most often a wrong year.
const MOST_YEARS_AGO: i16 = 5;

/// Returns what is odd about the days that are known, a sentence each; nothing is refused for it.
pub fn odd_days(facts: &Facts, today: Date) -> Vec<String> {
    let day = |start: Start| facts.day(start);
    let mut odd = Vec::new();
    let happened = [
        (Start::BillOfLading, "The bill of lading"),
        (Start::Delivery, "The delivery"),
        (Start::Found, "The day the harm was found"),
        (Start::ClaimReceived, "The day the carrier got the claim"),
        (Start::ClaimRefused, "The day the carrier refused the claim"),
    ];
    for (start, what) in happened {
        let Some(day) = day(start) else { continue };
        if day > today {
            odd.push(format!("{what} is in the future: {}.", day_in_words(day)));
        } else if day.year() < today.year() - MOST_YEARS_AGO {
            odd.push(format!("{what} is years ago: {}.", day_in_words(day)));
        }
    }
    let in_turn = [
        (
            Start::BillOfLading,
            Start::Delivery,
            "It was delivered before the day of its bill of lading.",
        ),
        (
            Start::Delivery,
            Start::ClaimReceived,
            "The carrier got the claim before the delivery.",
        ),
        (
            Start::ClaimReceived,
            Start::ClaimRefused,
            "The claim was refused before the carrier got it.",
        ),
    ];
    for (first, then, says) in in_turn {
        if day(first)
            .zip(day(then))
            .is_some_and(|(first, then)| then < first)
        {
            odd.push(says.to_owned());
        }
    }
    odd
}
