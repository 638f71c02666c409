//! What a phone needs to tell parts apart out of reach of the yard computer, as plain data.
//!
//! Every figure of the error model that matters to a kit is in here, so that the phone holds none of its own: it has
//! the normal distribution and sums. Chances and spreads stand with four significant digits, sizes to 10 nm or 10 µg.

use measure::System;
use serde::Serialize;

use crate::again::MOST_READINGS;
use crate::error_model::{
    ANY_SIZE, CONFIDENCE, MOST_HOLES, OFF_THE_TOOL, SHORTEST_WITH_SLIPS, UNKNOWN_AGAIN,
    mistaken_end,
};
use crate::evidence::fine;
use crate::kit::{Hypothesis, Kit, SizeOf};
use crate::looks::{self, BENDS, COATINGS, ENDS, KINDS};
use crate::next::{LEAST_BITS, LEFT_OUT, SELDOM};
use crate::odd;
use crate::question::{self, Asked, Question};
use crate::readable::QUANTITIES;
use crate::reading::{BendLook, Coating, EndLook, Kind, Marks, Size, TapeClass, Tool, Which};
use crate::way::{By, Way};
use crate::{words, words_next};

/// A kit as plain data, to be written as JSON and read by a phone's script.
#[derive(Clone, Debug, Serialize)]
pub struct Tables {
    /// Whether sizes are written in feet and inches.
    inch: bool,
    limits: Limits,
    /// How many of the parts are of this order; they come first.
    ours: usize,
    parts: Vec<PartRow>,
    /// The chance of anything else, before anything is read.
    anything: f64,
    /// Of each quantity its sizes: mean, spread, how many times it goes around. That of anything first, as nothing.
    sizes: Vec<Vec<Option<[f64; 3]>>>,
    eye: Vec<Eye>,
    ways: Vec<WayRow>,
    /// Of the parts that are not of this order, whose they are.
    of: Vec<String>,
}

/// The limits that decide: what they mean stands where each is set.
#[derive(Clone, Debug, Serialize)]
struct Limits {
    confidence: f64,
    least_bits: f64,
    seldom: f64,
    left_out: f64,
    any_size: f64,
    off_the_tool: f64,
    unknown_again: f64,
    most_readings: usize,
    odd_look: f64,
}

/// Marks, noun, chance before anything is read, whose part it is (its number among those, one more than last of this
/// order), which size it has of each quantity, and which row of each question by eye.
#[derive(Clone, Debug, Serialize)]
struct PartRow(
    Vec<String>,
    String,
    f64,
    Option<usize>,
    [usize; QUANTITIES],
    Vec<usize>,
);

/// What is judged by eye or counted.
#[derive(Clone, Debug, Serialize)]
struct Eye {
    read: &'static str,
    /// Its number in [`Kit::asked`]; of the ends there is one more, for the other.
    number: usize,
    #[serde(skip_serializing_if = "Option::is_none")]
    other: Option<(usize, String)>,
    seconds: f64,
    ask: String,
    answers: Answers,
    /// The chance of each answer, that of anything first. Of the ends those of both, one after the other.
    rows: Vec<Vec<f64>>,
    /// What a part of that row would show, in words.
    shows: Vec<Option<String>>,
    /// What is odd about it, when it is.
    odd: &'static str,
}

#[derive(Clone, Debug, Serialize)]
#[serde(untagged)]
enum Answers {
    Kinds([Kind; KINDS.len()]),
    Looks(Vec<String>),
    Ends([EndLook; ENDS.len()]),
    Bends([BendLook; BENDS.len()]),
    Coatings([Coating; COATINGS.len()]),
    /// The most holes that are told apart.
    Holes(i64),
}

/// A way of measuring, that a form can name; some of them may be asked for.
#[derive(Clone, Debug, Serialize)]
struct WayRow {
    /// Nothing of a mass.
    of: Option<Size>,
    with: Option<Tool>,
    words: &'static str,
    by: &'static str,
    quantity: usize,
    step: f64,
    last: i64,
    fine: u8,
    /// The tool's spread at each of the quantity's sizes.
    errors: Vec<f64>,
    /// How far slips go, and how often they come, of what is no shorter than `slips_from`.
    slips: Vec<(f64, f64)>,
    slips_from: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    asked: Option<AskedRow>,
}

/// A size that may be asked for.
#[derive(Clone, Debug, Serialize)]
struct AskedRow {
    number: usize,
    seconds: f64,
    ask: String,
    /// Where its answers start, in runs: the first, from one to the next, how many.
    starts: Vec<(i64, i64, i64)>,
}

impl Kit {
    /// All that may be asked for, in the order that [`Kit::tables`] numbers it; nothing that no part would answer.
    pub fn asked(&self) -> Vec<Asked> {
        let of_use = |q: &&Question| q.way.is_none() || q.rows.iter().any(|r| !r.near.is_empty());
        (self.questions().iter().filter(of_use))
            .map(|question| question.asked)
            .chain([Asked::End(Which::Other)])
            .collect()
    }

    /// All that a phone needs to answer as [`Kit::answer`] and [`Kit::next`] do.
    pub fn tables(&self) -> Tables {
        let asked = self.asked();
        let mut eye: Vec<Eye> = (self.questions().iter())
            .filter(|question| question.way.is_none())
            .filter_map(|question| self.eye(question, &asked))
            .collect();
        let mut of: Vec<String> = Vec::new();
        let mut parts: Vec<PartRow> = Vec::new();
        for h in &self.hypotheses {
            let whose = h.elsewhere.as_ref().map(|known| place(&mut of, &known.of));
            let rows = eye.iter_mut().map(|eye| self.row(eye, h)).collect();
            let prior = four_digits(h.prior);
            let marks = h.marks.iter().map(|mark| mark.0.clone()).collect();
            let noun = h.noun.clone();
            parts.push(PartRow(marks, noun, prior, whose, h.sizes, rows));
        }
        let sizes = self.sizes.iter().map(|sizes| {
            let size = |size: &SizeOf| {
                let spread = size.spread?;
                let mean = (spread.mean * 1e8).round() / 1e8;
                Some([mean, four_digits(spread.sd), seven_digits(size.around)])
            };
            sizes.iter().map(size).collect()
        });
        Tables {
            inch: self.system == System::FeetInch,
            limits: Limits::ours(),
            ours: self.ours,
            parts,
            anything: four_digits(self.anything),
            sizes: sizes.collect(),
            eye,
            ways: self.ways(&asked),
            of,
        }
    }

    /// A question by eye, with the row of anything and no other yet.
    fn eye(&self, question: &Question, asked: &[Asked]) -> Option<Eye> {
        let number = |of: Asked| asked.iter().position(|known| *known == of);
        let ask = |of: Asked| words_next::ask(of, &[]);
        let (read, answers, odd) = match question.asked {
            Asked::Kind => ("kind", Answers::Kinds(KINDS), "kind of thing"),
            Asked::Looks => {
                let looks = self.looks().map(str::to_owned).collect();
                ("looks", Answers::Looks(looks), "look")
            }
            Asked::End(_) => ("end", Answers::Ends(ENDS), "end"),
            Asked::Bend => ("bend", Answers::Bends(BENDS), "bend"),
            Asked::Coating => ("coating", Answers::Coatings(COATINGS), "coating"),
            Asked::Holes => ("holes", Answers::Holes(MOST_HOLES), "count of holes"),
            Asked::Size { .. } | Asked::Mass { .. } => return None,
        };
        let other = Asked::End(Which::Other);
        let has_other = matches!(question.asked, Asked::End(_));
        Some(Eye {
            read,
            number: number(question.asked)?,
            other: number(other).filter(|_| has_other).map(|n| (n, ask(other))),
            seconds: question.seconds,
            ask: ask(question.asked),
            answers,
            rows: vec![self.chances_by_eye(question.asked, question.answers, None)],
            shows: vec![None],
            odd,
        })
    }

    /// Which row a part has, of those so far or a new one.
    fn row(&self, eye: &mut Eye, h: &Hypothesis) -> usize {
        let asked = match eye.read {
            "kind" => Asked::Kind,
            "looks" => Asked::Looks,
            "end" => Asked::End(Which::One),
            "bend" => Asked::Bend,
            "coating" => Asked::Coating,
            _ => Asked::Holes,
        };
        let answers = match asked {
            Asked::End(_) => ENDS.len(),
            _ => eye.rows[0].len(),
        };
        let row = self.chances_by_eye(asked, answers, Some(h));
        let shows = words_next::shows(self, asked, &h.readable);
        let known = (eye.rows.iter().zip(&eye.shows)).position(|known| known == (&row, &shows));
        known.unwrap_or_else(|| {
            eye.rows.push(row);
            eye.shows.push(shows);
            eye.rows.len() - 1
        })
    }

    fn chances_by_eye(&self, asked: Asked, answers: usize, h: Option<&Hypothesis>) -> Vec<f64> {
        let ends = h.and_then(|h| h.readable.ends);
        let chances: Vec<f64> = match (asked, ends) {
            (Asked::End(_), Some(ends)) => (ends.iter())
                .flat_map(|is| {
                    ENDS.map(|said| looks::chance(&said, is, mistaken_end(*is), ENDS.len()))
                })
                .collect(),
            (Asked::End(_), None) => vec![1.0 / ENDS.len() as f64; 2 * ENDS.len()],
            _ => (0..answers)
                .map(|answer| question::chance_by_eye(self, asked, h, answer))
                .collect(),
        };
        chances.into_iter().map(four_digits).collect()
    }

    /// Every way of measuring that a form of the page can name, and the scale.
    fn ways(&self, asked: &[Asked]) -> Vec<WayRow> {
        let (marks, class) = match self.system {
            System::FeetInch => (Marks::Inch, TapeClass::Handbook44),
            System::Metric => (Marks::Metric, TapeClass::EcII),
        };
        let tools = [
            Tool::Tape { marks, class },
            Tool::String { marks },
            Tool::Caliper { marks },
            Tool::GaugePlate { marks },
        ];
        let sizes = [
            Size::Length,
            Size::Across,
            Size::Around,
            Size::Wall,
            Size::Chord,
            Size::Rise,
            Size::HoleSpacing,
        ];
        let measured = (sizes.iter())
            .flat_map(|of| tools.map(|with| (*of, with)))
            .filter_map(|(of, with)| Some((Asked::Size { of, with }, Way::of(of, with)?)));
        let weighed = self.tools.scale.map(|step| {
            let step_micrograms = step.as_micrograms();
            (Asked::Mass { step_micrograms }, Way::scale(step_micrograms))
        });
        (measured.chain(weighed))
            .filter(|(_, way)| self.sizes[way.quantity as usize].len() > 1)
            .map(|(of, way)| self.way(of, way, asked))
            .collect()
    }

    fn way(&self, of: Asked, way: Way, asked: &[Asked]) -> WayRow {
        let errors = (self.sizes[way.quantity as usize].iter()).map(|size| {
            let mean = size.spread.map_or(0.0, |spread| spread.mean) * way.times(size.around);
            four_digits(way.error(mean, size.bent))
        });
        let (size, with) = match of {
            Asked::Size { of, with } => (Some(of), Some(with)),
            _ => (None, None),
        };
        let asked = asked.iter().position(|known| *known == of);
        let seconds = self.questions().iter().find(|q| q.asked == of);
        WayRow {
            of: size,
            with,
            words: size.map_or("mass", words::size),
            by: match way.by {
                By::Tape(..) => "tape",
                By::Around(_) => "around",
                By::Caliper(_) => "caliper",
                By::Plate(_) => "plate",
                By::Scale(_) => "scale",
            },
            quantity: way.quantity as usize,
            step: way.step(),
            last: way.last(),
            fine: fine(way.by),
            errors: errors.collect(),
            slips: way.slips(SHORTEST_WITH_SLIPS).to_vec(),
            slips_from: SHORTEST_WITH_SLIPS,
            asked: (asked.zip(seconds)).map(|(number, question)| AskedRow {
                number,
                seconds: question.seconds,
                ask: words_next::ask(of, &[]),
                starts: runs(&question::starts(self, way)),
            }),
        }
    }
}

impl Limits {
    fn ours() -> Self {
        Self {
            confidence: CONFIDENCE,
            least_bits: LEAST_BITS,
            seldom: SELDOM,
            left_out: LEFT_OUT,
            any_size: ANY_SIZE,
            off_the_tool: OFF_THE_TOOL,
            unknown_again: UNKNOWN_AGAIN,
            most_readings: MOST_READINGS,
            odd_look: odd::SELDOM,
        }
    }
}

/// Its place in a list, to which it is added if it is not there.
fn place(list: &mut Vec<String>, text: &str) -> usize {
    let known = list.iter().position(|known| known == text);
    known.unwrap_or_else(|| {
        list.push(text.to_owned());
        list.len() - 1
    })
}

/// Rising numbers as runs of the same distance.
fn runs(numbers: &[i64]) -> Vec<(i64, i64, i64)> {
    let mut runs: Vec<(i64, i64, i64)> = Vec::new();
    for (i, number) in numbers.iter().enumerate() {
        let to_next = numbers.get(i + 1).map_or(1, |next| next - number);
        match runs.last_mut() {
            Some((_, wide, count)) if *wide == to_next => *count += 1,
            _ => runs.push((*number, to_next, 1)),
        }
    }
    runs
}

fn four_digits(number: f64) -> f64 {
    digits(number, 4)
}

/// As many as a string around a box needs: the longest shows a hundred thousand marks.
fn seven_digits(number: f64) -> f64 {
    digits(number, 7)
}

/// A number to so many significant digits.
fn digits(number: f64, count: i32) -> f64 {
    if number == 0.0 || !number.is_finite() {
        return 0.0;
    }
    let power = count - 1 - number.abs().log10().floor() as i32;
    match power >= 0 {
        true => (number * 10f64.powi(power)).round() / 10f64.powi(power),
        false => (number / 10f64.powi(-power)).round() * 10f64.powi(-power),
    }
}

#[cfg(test)]
mod tests {
    use super::{digits, runs};

    #[test]
    fn runs_and_digits_are_as_by_hand() {
        assert_eq!(runs(&[0, 1, 2, 5, 8, 9]), [(0, 1, 2), (2, 3, 2), (8, 1, 2)]);
        assert_eq!(runs(&[0, 1, 2, 5]), [(0, 1, 2), (2, 3, 1), (5, 1, 1)]);
        assert_eq!(digits(0.123_456, 4), 0.1235);
        assert_eq!(digits(123_456.0, 4), 123_500.0);
        assert_eq!(digits(0.0, 4), 0.0);
    }
}
