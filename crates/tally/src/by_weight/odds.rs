//! How likely a weight is, when it is known or only seen how much pieces differ.

use super::{Sample, micro};

/// Points on which what few samples show is weighed; more change no interval.
const POINTS: usize = 64;

/// How much single pieces differ.
pub(super) enum Scatter {
    /// Standard deviation over mean.
    Stated(f64),
    /// Seen among samples.
    Seen {
        /// The mean square that was seen, in square micrograms a piece: pieces and scale together.
        square: f64,
        /// What of it the scale is expected to make.
        by_scale: f64,
        /// What the mean square may truly be, over `square`, and how likely each is.
        truly: Vec<(f64, f64)>,
    },
}

impl Scatter {
    /// Reads the scatter off two or more samples.
    pub(super) fn seen(samples: &[Sample], reading: f64) -> Self {
        let count = samples.len() as f64;
        let pieces: f64 = samples.iter().map(|sample| sample.pieces as f64).sum();
        let mass: f64 = samples.iter().map(|sample| micro(sample.mass)).sum();
        let (mut squares, mut shares) = (0.0, 0.0);
        for sample in samples {
            let n = sample.pieces as f64;
            let off = micro(sample.mass) - n * mass / pieces;
            squares += off * off / n;
            shares += 1.0 / n;
        }
        let freedom = count - 1.0;
        Self::Seen {
            square: squares / freedom,
            by_scale: reading * (shares - count / pieces) / freedom,
            truly: inverse_chi_square(freedom),
        }
    }

    /// The same scatter as `samples` equal shares of `pieces` would be expected to show it.
    pub(super) fn expected(&self, samples: f64, pieces: f64, reading: f64) -> Self {
        match self {
            Self::Stated(spread) => Self::Stated(*spread),
            Self::Seen { truly, .. } => {
                let by_scale = reading * samples / pieces;
                let square = self.variance(0.0) + by_scale;
                let truly = truly.clone();
                Self::Seen {
                    square,
                    by_scale,
                    truly,
                }
            }
        }
    }

    /// The variance of one piece, as far as is known.
    pub(super) fn variance(&self, mean: f64) -> f64 {
        match self {
            Self::Stated(spread) => (spread * mean) * (spread * mean),
            Self::Seen {
                square, by_scale, ..
            } => (square - by_scale).max(0.0),
        }
    }

    /// The chance of being off by `off` or more, either way, when the variance is so many
    /// variances of a piece and that of the scale.
    ///
    /// A scatter that was only seen is weighed over all it may truly be: without a scale error
    /// this is Student's t; with one, pieces cannot differ by less than nothing.
    pub(super) fn odds(&self, off: f64, pieces: f64, scale: f64, mean: f64) -> f64 {
        match self {
            Self::Stated(_) => both_tails(off, pieces * self.variance(mean) + scale),
            Self::Seen {
                square,
                by_scale,
                truly,
            } => truly
                .iter()
                .map(|(times, chance)| {
                    let piece = (square * times - by_scale).max(0.0);
                    chance * both_tails(off, pieces * piece + scale)
                })
                .sum(),
        }
    }
}

/// The chance that a normal error of this variance is `off` or more, either way.
fn both_tails(off: f64, variance: f64) -> f64 {
    libm::erfc(off.abs() / (2.0 * variance).sqrt())
}

/// Freedom over chi-square, on points even in the logarithm of chi-square, each with its chance.
/// The density dies off on both sides faster than any power, so even points are as good as exact.
fn inverse_chi_square(freedom: f64) -> Vec<(f64, f64)> {
    // Beyond these the density is about a millionth of its peak (e to the -14).
    let left = (56.0 / freedom).sqrt() + 28.0 / freedom;
    let right = (56.0 / freedom)
        .sqrt()
        .min(libm::log(1.0 + 28.0 / freedom) + 1.0);
    let point = |i: usize| -left + (left + right) * i as f64 / (POINTS - 1) as f64;
    let density = |x: f64| libm::exp(freedom / 2.0 * (x + 1.0 - libm::exp(x)));
    let sum: f64 = (0..POINTS).map(|i| density(point(i))).sum();
    (0..POINTS)
        .map(|i| (libm::exp(-point(i)), density(point(i)) / sum))
        .collect()
}
