//! What is odd about a file of data: gathered while it is read, each once where it would only repeat.

use std::collections::BTreeSet;

use super::identifiers::{self, Gs1};
use super::units::{self, CodeList, Counts};
use super::{Amount, Decimal, Despatch};
use crate::grid::Warning;
use crate::limits::MAX_DATA_WARNINGS;

/// The warnings of one file.
#[derive(Default)]
pub struct Odd {
    found: Vec<(Option<usize>, String)>,
    said: BTreeSet<String>,
    more: usize,
}

impl Odd {
    /// Says something, of one line of the notice where `line` names it.
    pub fn say(&mut self, line: Option<usize>, what: String) {
        if self.found.len() < MAX_DATA_WARNINGS {
            self.found.push((line, what));
        } else {
            self.more += 1;
        }
    }

    /// Says something whose `what` would repeat on many lines: the first place stands for all.
    pub fn say_once(&mut self, line: Option<usize>, place: &str, what: &str) {
        if self.said.insert(what.to_owned()) {
            self.say(line, format!("{place}: {what}"));
        }
    }

    /// Makes an amount of its texts. A text that is no number stays, with a warning; so does a code that is not known.
    pub fn amount(
        &mut self,
        line: Option<usize>,
        place: &str,
        written: &str,
        code: &str,
        list: CodeList,
    ) -> Amount {
        let number = Decimal::read(written);
        if number.is_none() && !written.is_empty() {
            let right = nearest_number(written);
            self.say(
                line,
                format!("{place}: {written:?} is no number; one such as {right} would be right"),
            );
        }
        if number.is_some_and(Decimal::is_negative) {
            self.say(line, format!("{place}: {written} is less than nothing"));
        }
        let mut means = None;
        if !code.is_empty() {
            let found = units::find(code, list);
            means = found.unit;
            if let Some(warning) = found.warning {
                self.say_once(line, place, &warning);
            }
        }
        Amount {
            written: written.to_owned(),
            number,
            unit: code.to_owned(),
            means,
        }
    }

    /// Makes the amount of a line: without a unit it cannot be told what is counted, and this is said.
    pub fn line_amount(
        &mut self,
        line: usize,
        place: &str,
        written: &str,
        code: &str,
        list: CodeList,
    ) -> Amount {
        let amount = self.amount(Some(line), place, written, code, list);
        if code.is_empty() && !written.is_empty() {
            self.say_once(
                Some(line),
                place,
                "no unit is given; EA, each, would be right for pieces",
            );
        }
        let uneven = amount.number.is_some()
            && amount.pieces().is_none()
            && matches!(
                amount.means.map(|unit| unit.counts),
                Some(Counts::Pieces(_))
            );
        if uneven {
            self.say(
                Some(line),
                format!(
                    "{place}: {} is no whole number of pieces",
                    amount.in_words()
                ),
            );
        }
        amount
    }

    /// Reads a number of GS1's, and warns of a wrong one. Its digits come back.
    pub fn gs1(&mut self, line: Option<usize>, place: &str, kind: Gs1, text: &str) -> String {
        let (digits, judged) = identifiers::read(kind, text);
        if let Err(why) = judged {
            self.say(line, format!("{place}: {why}"));
        }
        digits
    }

    /// Hands the warnings over to what was read.
    pub fn into(self, despatch: &mut Despatch) {
        for (line, what) in self.found {
            let at = line.map(|line| despatch.place(line));
            despatch.warnings.push(Warning { at, what });
        }
        if self.more > 0 {
            let what = format!("there are {} more warnings", self.more);
            despatch.warnings.push(Warning { at: None, what });
        }
    }
}

/// What was likely meant by a text that is no number: its digits, where they are one.
fn nearest_number(text: &str) -> String {
    let plain = text.trim().replace(',', ".");
    let end = plain
        .find(|c: char| !c.is_ascii_digit() && c != '.')
        .unwrap_or(plain.len());
    Decimal::read(&plain[..end]).map_or_else(|| "12".to_owned(), |number| number.to_string())
}
