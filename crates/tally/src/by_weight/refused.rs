//! Weights that cannot be: what is wrong, and what would be right.

use measure::Mass;

use super::{ByWeight, MAX_MASS, MAX_PIECES, MAX_SAMPLES, SampleIs, Spread, micro};

/// The widest spread that is taken, in parts of 10 000.
const MAX_SPREAD: i64 = 2_000;
/// A sample lighter than so many steps tells nothing: at twice the scale's standard error it
/// might as well be empty.
const LEAST_STEPS: i64 = 2;
/// A sample of so many steps is read to a hundredth.
const GOOD_STEPS: i64 = 50;

/// Why no count comes of the weights; says what would be right.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum WeightRefused {
    /// No counted pieces.
    #[error("no sample: count out some pieces and weigh them; ten at least, fifty is good")]
    NoSample,
    /// Too many samples.
    #[error("{0} samples; at most {max} are taken", max = MAX_SAMPLES)]
    Samples(usize),
    /// A sample of no pieces, of fewer, or of more than are ever counted.
    #[error("a sample of {0} pieces; it must be from 1 to {max}", max = MAX_PIECES)]
    Pieces(i64),
    /// The scale hardly feels the sample.
    #[error(
        "the scale hardly feels a sample of {pieces}: its step is too coarse; \
         weigh {at_least} or more, or take a finer scale"
    )]
    TooLight {
        /// The pieces.
        pieces: i64,
        /// So many would be felt.
        at_least: i64,
    },
    /// The scale shows nothing at all for the sample.
    #[error(
        "the scale shows nothing for a sample of {0}: weigh ten times as many, \
         or take a finer scale"
    )]
    Unfelt(i64),
    /// A weight below nothing.
    #[error("{0} weighs less than nothing: set the empty scale to nought and weigh again")]
    Negative(&'static str),
    /// A weight beyond any scale.
    #[error("{0} weighs more than 1000 t: is the unit right?")]
    Heavy(&'static str),
    /// The empty bag is heavier than the full one.
    #[error("the bag weighs less than its tare: tare is the empty bag alone; are the two swapped?")]
    UnderTare,
    /// The sample is heavier than the bag it is in.
    #[error(
        "the bag weighs less than the sample said to be in it: put the sample back and weigh \
         again, or say that it was kept out"
    )]
    UnderSample,
    /// The step is nothing or less, or beyond 100 kg.
    #[error(
        "the scale's step must be more than nothing and at most 100 kg: the smallest change it shows"
    )]
    Step,
    /// The error is below nothing, or beyond 100 steps.
    #[error("the scale's error must be from nothing to 100 of its steps")]
    ScaleError,
    /// A spread beyond its range.
    #[error(
        "a spread of {0} parts in 10 000; it must be from 1 to {max}, 150 for plain hardware",
        max = MAX_SPREAD
    )]
    Spread(i64),
    /// The spread is asked of one sample.
    #[error("one sample does not show how much pieces differ: weigh two or more, or state it")]
    OneSample,
    /// The samples differ so much that any count may be true.
    #[error("the samples differ so much that no count follows: are they all of one mark?")]
    Disagree,
    /// More than can be counted so.
    #[error(
        "the weights allow more than {max} pieces: are the units right? if so, weigh a larger sample",
        max = MAX_PIECES
    )]
    TooMany,
}

/// Checks all that can be said without reckoning.
pub(super) fn check(asked: &ByWeight) -> Result<(), WeightRefused> {
    scale(asked)?;
    spread(asked)?;
    samples(asked)?;
    bag(asked)
}

fn scale(asked: &ByWeight) -> Result<(), WeightRefused> {
    let (step, error) = (asked.scale.step, asked.scale.error);
    if step <= Mass::ZERO || step > Mass::grams(100_000) {
        return Err(WeightRefused::Step);
    }
    if error < Mass::ZERO || error.as_micrograms() > step.as_micrograms() * 100 {
        return Err(WeightRefused::ScaleError);
    }
    Ok(())
}

fn spread(asked: &ByWeight) -> Result<(), WeightRefused> {
    match asked.spread {
        Spread::Stated(parts) if !(1..=MAX_SPREAD).contains(&parts) => {
            Err(WeightRefused::Spread(parts))
        }
        Spread::FromSamples if asked.samples.len() == 1 => Err(WeightRefused::OneSample),
        _ => Ok(()),
    }
}

fn samples(asked: &ByWeight) -> Result<(), WeightRefused> {
    if asked.samples.is_empty() {
        return Err(WeightRefused::NoSample);
    }
    if asked.samples.len() > MAX_SAMPLES {
        return Err(WeightRefused::Samples(asked.samples.len()));
    }
    for sample in &asked.samples {
        if sample.pieces == 0 {
            return Err(WeightRefused::NoSample);
        }
        pieces(sample.pieces)?;
        mass("the sample", sample.mass)?;
    }
    pieces(asked.sample_pieces())?;
    felt(asked)
}

fn pieces(pieces: i64) -> Result<(), WeightRefused> {
    match (1..=MAX_PIECES).contains(&pieces) {
        true => Ok(()),
        false => Err(WeightRefused::Pieces(pieces)),
    }
}

/// The scale's standard error may be larger than its step says, and both must be felt through.
fn felt(asked: &ByWeight) -> Result<(), WeightRefused> {
    let pieces = asked.sample_pieces();
    let weight: f64 = asked.samples.iter().map(|sample| micro(sample.mass)).sum();
    if weight <= 0.0 {
        return Err(WeightRefused::Unfelt(pieces));
    }
    let noise = (asked.scale.variance() * asked.samples.len() as f64).sqrt();
    let step = micro(asked.scale.step);
    if weight < LEAST_STEPS as f64 * step.max(2.0 * noise) {
        let needed = GOOD_STEPS as f64 * step.max(2.0 * noise) / weight * pieces as f64;
        let at_least = needed.ceil() as i64;
        return Err(WeightRefused::TooLight { pieces, at_least });
    }
    Ok(())
}

fn bag(asked: &ByWeight) -> Result<(), WeightRefused> {
    mass("the bag", asked.bag)?;
    mass("the tare", asked.tare)?;
    if asked.bag < asked.tare {
        return Err(WeightRefused::UnderTare);
    }
    let sample: f64 = asked.samples.iter().map(|sample| micro(sample.mass)).sum();
    let content = micro(asked.bag) - micro(asked.tare);
    // A bag that holds the sample and nothing else may read a little under it.
    let noise = (asked.scale.variance() * (asked.samples.len() as f64 + 2.0)).sqrt();
    if asked.sample_is == SampleIs::PutBack && content < sample - 3.0 * noise {
        return Err(WeightRefused::UnderSample);
    }
    Ok(())
}

fn mass(what: &'static str, mass: Mass) -> Result<(), WeightRefused> {
    if mass < Mass::ZERO {
        return Err(WeightRefused::Negative(what));
    }
    if mass > MAX_MASS {
        return Err(WeightRefused::Heavy(what));
    }
    Ok(())
}
