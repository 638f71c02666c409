//! Counting small hardware by weight: weigh a counted sample, weigh the bag, get the count.
//!
//! Formula, assumptions and what was checked are in `docs/counting.md`. A count is asked of the
//! weights whether it could be true: with `R` pieces beside the sample the bag should weigh `R`
//! mean pieces, give or take the spread of the pieces and the scale. The interval is every whole
//! `R` that passes at 95 %, so a true count is in it 95 times of 100, whole as it is.

mod against;
mod odds;
mod refused;
mod to_decide;

use measure::Mass;
use serde::{Deserialize, Serialize};

pub use against::Against;
pub use refused::WeightRefused;
pub use to_decide::ToDecide;

use odds::Scatter;

/// What is left outside the interval, both sides together.
const OUTSIDE: f64 = 0.05;
/// Weights that fit no whole number of pieces better than this are remarkable.
const ODD: f64 = 0.001;
/// The most pieces that are counted by weight.
const MAX_PIECES: i64 = crate::MAX_QUANTITY;
/// The most samples of one weighing.
const MAX_SAMPLES: usize = 100;
/// The heaviest load: 1000 t, the most that [`Mass`] reads.
const MAX_MASS: Mass = Mass::grams(1_000_000_000);

/// Pieces counted by hand and weighed together, without their container.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Sample {
    /// How many.
    pub pieces: i64,
    /// What the scale showed.
    #[serde(with = "micrograms")]
    pub mass: Mass,
}

/// Where the sample was when the bag was weighed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum SampleIs {
    /// Back in the bag: it was weighed with the bag, and it counts.
    PutBack,
    /// Taken from the bag and kept out: it was not weighed with the bag, but it counts.
    KeptOut,
    /// Other pieces of the same mark: neither weighed with the bag nor counted.
    Other,
}

/// How well the scale reads. Every reading is off by its rounding and by an error of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Scale {
    /// The step of the reading; rounding alone has a standard error of step/√12.
    #[serde(with = "micrograms")]
    pub step: Mass,
    /// The standard error of a reading beside its rounding.
    #[serde(with = "micrograms")]
    pub error: Mass,
}

impl Scale {
    /// Returns a scale in fair order that reads to this step: beside the rounding, a standard
    /// error of half a step. A design value of ours: two of them make one step, which is what
    /// NIST Handbook 44 allows a class III scale in use at small loads (from memory).
    pub fn reading_to(step: Mass) -> Self {
        let error = Mass::micrograms(step.as_micrograms() / 2);
        Self { step, error }
    }

    /// The variance of one reading, in square micrograms.
    fn variance(self) -> f64 {
        let (step, error) = (micro(self.step), micro(self.error));
        step * step / 12.0 + error * error
    }
}

/// How much single pieces differ: the standard deviation of a piece over its mean.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Spread {
    /// So many parts in 10 000 of a piece.
    Stated(i64),
    /// As the samples differ; two at least. Few samples tell little, and the interval says so.
    FromSamples,
}

impl Spread {
    /// Plain hardware, 1.5 %: the wide end of what the weighing trade states for ordinary parts
    /// (0.5 to 1.5 %, second-hand).
    pub const PLAIN: Spread = Spread::Stated(150);
    /// Hot-dip galvanized hardware, 3 %: a design value of ours, for the zinc runs as it likes.
    pub const GALVANIZED: Spread = Spread::Stated(300);
}

/// One weighing of a bag against a counted sample.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct ByWeight {
    /// The sample; several when it was weighed in shares.
    pub samples: Vec<Sample>,
    /// Where the sample was when the bag was weighed.
    pub sample_is: SampleIs,
    /// What the scale showed for the bag.
    #[serde(with = "micrograms")]
    pub bag: Mass,
    /// The empty bag, read on the same scale; nought when the scale was set to nought with it.
    #[serde(with = "micrograms")]
    pub tare: Mass,
    /// The scale.
    pub scale: Scale,
    /// How much single pieces differ.
    pub spread: Spread,
}

/// What a weighing says.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Weighed {
    /// The likeliest count, with the sample unless it is of other pieces.
    pub count: i64,
    /// The fewest pieces that go with the weights, at 95 %.
    pub least: i64,
    /// The most pieces that go with the weights, at 95 %.
    pub most: i64,
    /// The standard error of the count, in pieces, to first order.
    pub standard_error: f64,
    /// No whole number of pieces goes well with the weights: something else may be in the bag,
    /// or the tare is wrong.
    pub odd: bool,
}

impl Weighed {
    /// Holds the count against a needed number.
    pub fn against(&self, needed: i64) -> Against {
        Against::of(self.least, self.most, needed)
    }
}

impl ByWeight {
    /// Returns how many there are.
    ///
    /// # Errors
    /// [`WeightRefused`] says what is wrong with the weights and what would be right.
    pub fn weigh(&self) -> Result<Weighed, WeightRefused> {
        let weights = Weights::of(self)?;
        let rest = weights.nearest_rest()?;
        let least = weights.edge(rest, -1);
        let most = weights.edge(rest, 1);
        let counted = self.counted_by_hand();
        if most > MAX_PIECES - counted {
            return Err(weights.too_wide());
        }
        Ok(Weighed {
            count: counted + rest,
            least: counted + least,
            most: counted + most,
            standard_error: weights.standard_error(rest),
            odd: weights.odds(rest) < ODD,
        })
    }

    /// The pieces of the sample that count.
    fn counted_by_hand(&self) -> i64 {
        match self.sample_is {
            SampleIs::PutBack | SampleIs::KeptOut => self.sample_pieces(),
            SampleIs::Other => 0,
        }
    }

    fn sample_pieces(&self) -> i64 {
        self.samples.iter().map(|sample| sample.pieces).sum()
    }
}

/// The weights of one weighing, checked; micrograms.
struct Weights {
    /// Pieces of the sample.
    pieces: i64,
    /// Mass of the sample.
    sample: f64,
    /// Readings that the sample took.
    sample_readings: f64,
    /// Mass of the bag's content as it was weighed.
    bag: f64,
    /// Readings that took: two with a tare.
    bag_readings: f64,
    /// Whether the sample was in it.
    put_back: bool,
    /// Variance of one reading.
    reading: f64,
    /// The scale's step.
    step: f64,
    /// How pieces differ.
    scatter: Scatter,
}

impl Weights {
    fn of(asked: &ByWeight) -> Result<Self, WeightRefused> {
        refused::check(asked)?;
        let reading = asked.scale.variance();
        let sample = asked.samples.iter().map(|sample| micro(sample.mass)).sum();
        Ok(Self {
            pieces: asked.sample_pieces(),
            sample,
            sample_readings: asked.samples.len() as f64,
            bag: micro(asked.bag) - micro(asked.tare),
            bag_readings: if asked.tare > Mass::ZERO { 2.0 } else { 1.0 },
            put_back: asked.sample_is == SampleIs::PutBack,
            reading,
            step: micro(asked.scale.step),
            scatter: match asked.spread {
                Spread::Stated(parts) => Scatter::Stated(parts as f64 / 10_000.0),
                Spread::FromSamples => Scatter::seen(&asked.samples, reading),
            },
        })
    }

    /// The likeliest count beside the sample.
    fn nearest_rest(&self) -> Result<i64, WeightRefused> {
        let pieces = self.pieces as f64;
        let in_bag = self.bag / (self.sample / pieces);
        let rest = if self.put_back {
            in_bag - pieces
        } else {
            in_bag
        };
        if rest > MAX_PIECES as f64 {
            return Err(WeightRefused::TooMany);
        }
        Ok((rest.round() as i64).max(0))
    }

    /// How likely weights as far off as these are if `rest` pieces are beside the sample.
    ///
    /// A scale shows whole steps, so [`Self::off`] moves in jumps: by whole steps when the rest is
    /// a multiple of the sample, by smaller ones else. Half a jump nearer would have shown the same.
    fn odds(&self, rest: i64) -> f64 {
        let common = greatest_common_divisor(self.pieces, rest) as f64;
        self.odds_in_jumps(rest, self.step * common / self.pieces as f64)
    }

    /// Never less than [`Self::odds`], and falling the farther `rest` is from the likeliest.
    fn odds_at_most(&self, rest: i64) -> f64 {
        self.odds_in_jumps(rest, self.step)
    }

    fn odds_in_jumps(&self, rest: i64, jump: f64) -> f64 {
        let off = (self.off(rest).abs() - jump / 2.0).max(0.0);
        self.odds_of(off, rest, jump * jump / 12.0)
    }

    /// How likely a bag is that is off by `off` if `rest` pieces are beside the sample, when the
    /// scale adds so much to the variance beyond [`Self::scale_variance`].
    fn odds_of(&self, off: f64, rest: i64, more: f64) -> f64 {
        let by_scale = self.scale_variance(rest) + more;
        let by_pieces = self.piece_shares(rest);
        self.scatter.odds(off, by_pieces, by_scale, self.mean(rest))
    }

    /// How much heavier the bag is than `rest` pieces beside the sample should be.
    fn off(&self, rest: i64) -> f64 {
        self.bag - self.sample * self.sample_shares(rest)
    }

    /// How many samples the weighed bag holds.
    fn sample_shares(&self, rest: i64) -> f64 {
        let rest = rest as f64 / self.pieces as f64;
        if self.put_back { 1.0 + rest } else { rest }
    }

    /// The variance of [`Self::off`] from the pieces, in variances of one piece: the rest itself,
    /// and the sample scaled up to it. A sample that is in the bag stands on both sides alike.
    fn piece_shares(&self, rest: i64) -> f64 {
        let rest = rest as f64;
        rest + rest * rest / self.pieces as f64
    }

    /// The variance of [`Self::off`] from the scale.
    fn scale_variance(&self, rest: i64) -> f64 {
        let shares = self.sample_shares(rest);
        self.reading * (self.bag_readings + self.sample_readings * shares * shares)
    }

    /// The mean piece if `rest` are beside the sample: all that was weighed over all its pieces,
    /// which holds up where the sample alone was read poorly.
    fn mean(&self, rest: i64) -> f64 {
        let all = if self.put_back {
            self.bag.max(self.sample)
        } else {
            self.bag + self.sample
        };
        all / (self.pieces + rest) as f64
    }

    fn standard_error(&self, rest: i64) -> f64 {
        let mean = self.mean(rest);
        let pieces = self.piece_shares(rest) * self.scatter.variance(mean);
        (pieces + self.scale_variance(rest)).sqrt() / mean
    }

    /// The last count to one side that still goes with the weights. The farther a count is the
    /// less likely it is, but for the jumps of the scale: so halving finds a bound, and a short
    /// walk back the count. Beyond the most pieces that are counted nothing is looked for.
    fn edge(&self, rest: i64, side: i64) -> i64 {
        let farthest = if side < 0 { rest } else { MAX_PIECES };
        let count = |steps: i64| rest + side * steps;
        let goes = |steps: i64| steps <= farthest && self.odds_at_most(count(steps)) >= OUTSIDE;
        let (mut within, mut beyond) = (0, 1 + 2 * self.standard_error(rest) as i64);
        while goes(beyond) {
            within = beyond;
            beyond *= 2;
        }
        while beyond - within > 1 {
            let middle = within + (beyond - within) / 2;
            if goes(middle) {
                within = middle;
            } else {
                beyond = middle;
            }
        }
        while within > 0 && self.odds(count(within)) < OUTSIDE {
            within -= 1;
        }
        count(within)
    }

    /// Why no most can be given.
    fn too_wide(&self) -> WeightRefused {
        match self.scatter {
            Scatter::Stated(_) => WeightRefused::TooMany,
            Scatter::Seen { .. } => WeightRefused::Disagree,
        }
    }
}

fn greatest_common_divisor(a: i64, b: i64) -> i64 {
    if b == 0 {
        return a;
    }
    greatest_common_divisor(b, a % b)
}

fn micro(mass: Mass) -> f64 {
    mass.as_micrograms() as f64
}

/// Masses as whole micrograms, for the log.
mod micrograms {
    use measure::Mass;
    use serde::{Deserialize, Deserializer, Serialize, Serializer};

    pub(super) fn serialize<S: Serializer>(mass: &Mass, to: S) -> Result<S::Ok, S::Error> {
        mass.as_micrograms().serialize(to)
    }

    pub(super) fn deserialize<'de, D: Deserializer<'de>>(from: D) -> Result<Mass, D::Error> {
        i64::deserialize(from).map(Mass::micrograms)
    }
}
