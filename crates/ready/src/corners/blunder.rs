//! A reading that is misread, found by what it would have to be.
//!
//! With one reading to spare, the readings alone tell that one is wrong, but not which: opposite sides weigh alike. What
//! tells them apart is that people misread by whole feet or metres, and that stakes stand about where they were meant to.

use measure::System;

use super::fit::{Fit, PAIRS, apart, fit, most_misfit};
use super::moves::rounded;
use super::{Measured, SquareUp, Taken, rectangle, words};

/// A reading that is misread, or one of several that may be.
#[derive(Clone, Debug, PartialEq)]
pub struct Blunder {
    /// Whether it can be told which: 9 in 10 or more.
    pub named: bool,
    /// The likeliest first; one when it is named.
    pub suspects: Vec<Suspect>,
}

/// A reading that may be misread.
#[derive(Clone, Debug, PartialEq)]
pub struct Suspect {
    /// The reading (by index).
    pub reading: usize,
    /// Between which corners (by place in [`super::CORNERS`]).
    pub between: [usize; 2],
    /// What was read over what it would be, along the tape, in metres: more than nothing when it was read too long.
    pub over: f64,
    /// In words, such as "front right to back right reads a foot too long".
    pub says: String,
    /// How likely it is this one, of 1, as far as that can be reckoned.
    pub share: f64,
}

/// How far lengths between stakes mostly are from what they should be before squaring, in metres (one standard error):
/// 3 in, ours.
const SET_BY_EYE: f64 = 0.0762;
/// What a misreading by no usual step costs beside one by a usual step, as a misfit.
const ODD: f64 = 8.0;
/// From this share on, a reading is named.
const NAMED: f64 = 0.9;
/// A stake farther than this from its place, in metres, is as likely a misreading: with no reading to spare.
const FAR_OFF: f64 = 0.2;

/// Looks for one misread reading; nothing where all agree.
pub(super) fn find(taken: &[Taken], fitted: &Fit, asked: &SquareUp) -> Option<Blunder> {
    let nominal = rectangle(asked);
    let far = PAIRS
        .into_iter()
        .any(|pair| (apart(&fitted.at, pair) - apart(&nominal, pair)).abs() > FAR_OFF);
    let unchecked = fitted.spare == 0;
    if (unchecked && !far) || (!unchecked && fitted.agrees()) {
        return None;
    }
    let mut guesses = guesses(taken, fitted, asked);
    let least = guesses
        .iter()
        .map(|guess| guess.cost)
        .fold(f64::MAX, f64::min);
    let weight = |guess: &Guess| (-(guess.cost - least) / 2.0).exp();
    let all: f64 = guesses.iter().map(weight).sum();
    guesses.sort_by(|a, b| a.cost.total_cmp(&b.cost));
    let mut suspects: Vec<Suspect> = Vec::new();
    for guess in &guesses {
        let share = weight(guess) / all;
        match suspects.iter_mut().find(|s| s.reading == guess.reading) {
            Some(known) => known.share += share,
            None => suspects.push(Suspect {
                reading: guess.reading,
                between: taken[guess.reading].level.between,
                over: -guess.mend,
                says: says(&taken[guess.reading], guess, asked.system),
                share,
            }),
        }
    }
    suspects.sort_by(|a, b| b.share.total_cmp(&a.share));
    let first = suspects.first()?;
    // With nothing to spare it may as well be the stake that is off.
    let named = !unchecked && first.share >= NAMED;
    if unchecked {
        // Only a usual slip is worth a word there; a stake may stand anywhere.
        suspects.retain(|s| {
            guesses
                .iter()
                .any(|g| g.reading == s.reading && g.step.is_some())
        });
    }
    suspects.retain(|s| s.share >= 0.05);
    suspects.truncate(if named { 1 } else { 3 });
    (!suspects.is_empty()).then_some(Blunder { named, suspects })
}

/// One way in which one reading may be misread.
struct Guess {
    reading: usize,
    /// What has to be added to it, in metres.
    mend: f64,
    /// In words, where it is a usual slip.
    step: Option<&'static str>,
    cost: f64,
}

fn guesses(taken: &[Taken], fitted: &Fit, asked: &SquareUp) -> Vec<Guess> {
    let nominal = rectangle(asked);
    let measured: Vec<Measured> = taken.iter().map(|reading| reading.level).collect();
    let mut guesses = Vec::new();
    for (index, reading) in taken.iter().enumerate() {
        for (mend, step) in slips(reading.read, asked.system) {
            let mut mended = measured.clone();
            let read = reading.read + mend;
            let level = (read * read - reading.rise * reading.rise).sqrt();
            if !(read > 0.0 && level > 0.01 * read) {
                continue;
            }
            mended[index].level = level;
            let Some(new) = fit(&mended, nominal) else {
                continue;
            };
            if fitted.spare == 0 || new.misfit <= most_misfit(fitted.spare) {
                let cost = new.misfit + away(&new, &nominal);
                let step = Some(step);
                guesses.push(Guess {
                    reading: index,
                    mend,
                    step,
                    cost,
                });
            }
        }
        // By whatever it takes.
        let mut without = measured.clone();
        without.remove(index);
        let Some(new) = fit(&without, nominal).filter(Fit::agrees) else {
            continue;
        };
        let level = apart(&new.at, reading.level.between);
        guesses.push(Guess {
            reading: index,
            mend: level.hypot(reading.rise) - reading.read,
            step: None,
            cost: new.misfit + away(&new, &nominal) + ODD,
        });
    }
    guesses
}

/// How far the lengths are from what they should be, as a misfit.
fn away(fit: &Fit, nominal: &[[f64; 2]; 4]) -> f64 {
    PAIRS
        .into_iter()
        .map(|pair| ((apart(&fit.at, pair) - apart(nominal, pair)) / SET_BY_EYE).powi(2))
        .sum()
}

/// The usual slips: what has to be added to mend each, in metres, and what it is.
fn slips(read: f64, system: System) -> Vec<(f64, &'static str)> {
    let steps: &[(f64, &str)] = match system {
        System::FeetInch => &[(0.3048, "a foot"), (0.0254, "an inch"), (3.048, "ten feet")],
        System::Metric => &[
            (1.0, "a metre"),
            (0.1, "10 cm"),
            (0.01, "1 cm"),
            (10.0, "ten metres"),
        ],
    };
    let mut slips: Vec<(f64, &str)> = (steps.iter())
        .flat_map(|(step, says)| [(*step, *says), (-*step, *says)])
        .collect();
    let (unit, whole) = match system {
        System::FeetInch => (0.3048, (read / 0.3048 + 1e-6).floor()),
        System::Metric => (0.01, (read / 0.01 + 1e-6).floor()),
    };
    for other in swapped(whole as u32) {
        let mend = (f64::from(other) - whole) * unit;
        if !slips.iter().any(|(known, _)| (known - mend).abs() < 1e-6) {
            slips.push((mend, SWAPPED));
        }
    }
    slips
}

const SWAPPED: &str = "two figures swapped";

/// The numbers that have two neighbouring figures of this one the other way round.
fn swapped(number: u32) -> Vec<u32> {
    let figures = number.to_string().into_bytes();
    (1..figures.len())
        .filter(|i| figures[*i] != figures[*i - 1])
        .filter_map(|i| {
            let mut other = figures.clone();
            other.swap(i, i - 1);
            String::from_utf8(other).ok()?.parse().ok()
        })
        .collect()
}

fn says(reading: &Taken, guess: &Guess, system: System) -> String {
    let between = words::between(reading.level.between);
    let way = if guess.mend < 0.0 { "long" } else { "short" };
    let [read, right] = [reading.read, reading.read + guess.mend]
        .map(|metres| rounded(metres, system).tape(system));
    match guess.step {
        Some(SWAPPED) => format!("{between} has two figures swapped ({read} for {right})"),
        Some(step) => format!("{between} reads {step} too {way} ({read} for {right})"),
        None => {
            let by = rounded(guess.mend.abs(), system).tape(system);
            format!("{between} reads about {by} too {way} ({read} for about {right})")
        }
    }
}

/// A length for words.
pub(super) fn tape(metres: f64, system: System) -> String {
    rounded(metres, system).tape(system)
}
