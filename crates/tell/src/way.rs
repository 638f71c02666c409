//! A way of measuring: a quantity and a tool. Its marks make the readings whole numbers, each with its exact chance.
//!
//! What a tool shows is a count of its marks, from 1 to the last. All that would show under the first mark counts as 0,
//! all past the end as one more than the last: so the chances of all readings sum to one.

use measure::{Length, Mass};

use crate::error_model::{
    ANY_SIZE, AROUND, AROUND_SHARE, CALIPER_ACROSS, CALIPER_WALL, HEAVIEST, INCH, LONGEST,
    OFF_THE_TOOL, PLATE_WALL, SCALE_SHARE, SHORTEST_WITH_SLIPS, SLIPS_IN_FEET,
    SLIPS_IN_MILLIMETRES, TAPE_ACROSS, TAPE_ALONG_BEND, TAPE_HELD, spread_of_limit, tape_limit,
};
use crate::normal;
use crate::readable::{Quantity, Readable, Spread};
use crate::reading::{Marks, Reading, Size, TapeClass, Tool};

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Way {
    pub quantity: Quantity,
    pub by: By,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum By {
    Tape(Marks, TapeClass),
    Around(Marks),
    Caliper(Marks),
    Plate(Marks),
    /// With its step in micrograms, at least one.
    Scale(i64),
}

/// What a way of measuring showed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Shown {
    pub way: Way,
    pub count: i64,
    /// Between which amounts this is shown.
    within: (f64, f64),
    /// The chance of it when nothing is known of the size.
    pub any: f64,
}

impl Shown {
    /// What a reading says of a size; nothing of a look, or when tool and size do not go together.
    pub(crate) fn of(reading: &Reading) -> Option<Self> {
        let (way, amount) = match *reading {
            Reading::Size {
                of,
                nanometres,
                with,
            } => (
                Way::of(of, with)?,
                Length::nanometres(nanometres).to_metres(),
            ),
            Reading::Mass {
                micrograms,
                step_micrograms,
            } => (
                Way::scale(step_micrograms),
                Mass::micrograms(micrograms).to_kilograms(),
            ),
            _ => return None,
        };
        let count = way.count(amount);
        Some(Self {
            way,
            count,
            within: way.within(count, count),
            any: way.chance_of_any(count, count),
        })
    }

    /// Its chance when the tool shows `mean` with this spread: slips, and anything at all, with it.
    pub(crate) fn chance(&self, mean: f64, sd: f64) -> f64 {
        self.way.chance_meant(mean, sd, self.within) + self.chance_mistaken()
    }

    /// Its chance without slip or mistake.
    pub(crate) fn chance_right(&self, mean: f64, sd: f64) -> f64 {
        self.way.chance_right(mean, sd, self.within)
    }

    /// Its chance when it has nothing to do with the size.
    pub(crate) fn chance_mistaken(&self) -> f64 {
        ANY_SIZE * self.any
    }
}

impl Way {
    /// Nothing when a tool cannot measure such a size, or either is not known yet.
    pub(crate) fn of(size: Size, tool: Tool) -> Option<Self> {
        let quantity = match size {
            Size::Length => Quantity::Length,
            Size::Across | Size::Around => Quantity::Across,
            Size::Wall => Quantity::Wall,
            Size::Chord => Quantity::Chord,
            Size::Rise => Quantity::Rise,
            Size::HoleSpacing => Quantity::HoleSpacing,
            Size::Unknown => return None,
        };
        let by = match (size, tool) {
            (Size::Around, Tool::Tape { marks, .. } | Tool::String { marks }) => By::Around(marks),
            (Size::Around, _) => return None,
            (_, Tool::Tape { marks, class }) => By::Tape(marks, class),
            // A string laid along a piece is as good as the tape that it is then laid along.
            (_, Tool::String { marks }) => By::Tape(marks, TapeClass::Unknown),
            (_, Tool::Caliper { marks }) => By::Caliper(marks),
            (Size::Wall, Tool::GaugePlate { marks }) => By::Plate(marks),
            (_, Tool::GaugePlate { .. } | Tool::Unknown) => return None,
        };
        Some(Self { quantity, by })
    }

    pub(crate) fn scale(step_micrograms: i64) -> Self {
        Self {
            quantity: Quantity::Mass,
            by: By::Scale(step_micrograms.max(1)),
        }
    }

    /// From one mark to the next, in metres or kilograms.
    pub(crate) fn step(self) -> f64 {
        match self.by {
            By::Tape(Marks::Inch, _) | By::Around(Marks::Inch) => INCH / 16.0,
            By::Tape(Marks::Metric, _) | By::Around(Marks::Metric) => 1e-3,
            By::Caliper(Marks::Inch) => INCH / 1e3,
            By::Plate(Marks::Inch) => INCH * 0.005,
            By::Caliper(Marks::Metric) | By::Plate(Marks::Metric) => 1e-4,
            By::Scale(micrograms) => Mass::micrograms(micrograms).to_kilograms(),
        }
    }

    /// The last count there is; one more stands for all beyond.
    pub(crate) fn last(self) -> i64 {
        let most = match self.by {
            By::Tape(..) | By::Around(_) => LONGEST[0],
            By::Caliper(_) | By::Plate(_) => LONGEST[1],
            By::Scale(_) => HEAVIEST,
        };
        ((most / self.step()).round() as i64).max(1)
    }

    /// The count that stands for an amount.
    pub(crate) fn count(self, amount: f64) -> i64 {
        ((amount / self.step()).round() as i64).clamp(0, self.last() + 1)
    }

    /// How often it is mistaken by so much, of a piece of this size.
    pub(crate) fn slips(self, size: f64) -> &'static [(f64, f64)] {
        let may_slip = matches!(self.quantity, Quantity::Length | Quantity::Chord)
            && size >= SHORTEST_WITH_SLIPS;
        match self.by {
            By::Tape(Marks::Inch, _) if may_slip => &SLIPS_IN_FEET,
            By::Tape(Marks::Metric, _) if may_slip => &SLIPS_IN_MILLIMETRES,
            _ => &[],
        }
    }

    /// The spread of what the tool shows of a piece of this size, rounding left out.
    pub(crate) fn error(self, size: f64, bent: bool) -> f64 {
        match self.by {
            By::Tape(_, class) => {
                let held = match self.quantity {
                    Quantity::Across | Quantity::Wall => TAPE_ACROSS,
                    Quantity::Length if bent => TAPE_ALONG_BEND,
                    _ => TAPE_HELD,
                };
                spread_of_limit(tape_limit(class, size)).hypot(held)
            }
            By::Around(_) => AROUND.hypot(AROUND_SHARE * size),
            By::Caliper(_) if self.quantity == Quantity::Wall => CALIPER_WALL,
            By::Caliper(_) => CALIPER_ACROSS,
            By::Plate(_) => PLATE_WALL,
            By::Scale(_) => (self.step() / 2.0).hypot(SCALE_SHARE * size),
        }
    }

    /// How many times the quantity the tool shows.
    pub(crate) fn times(self, around: f64) -> f64 {
        match self.by {
            By::Around(_) => around,
            _ => 1.0,
        }
    }

    /// The chance of a range of counts when nothing is known of the size: even over its logarithm.
    pub(crate) fn chance_of_any(self, from: i64, to: i64) -> f64 {
        let last = self.last() as f64;
        let up_to = |count: i64| match count {
            ..0 => 0.0,
            0 => OFF_THE_TOOL,
            _ if count as f64 > last => 1.0,
            _ => {
                let share = ((2 * count + 1) as f64).ln() / (2.0 * last + 1.0).ln();
                OFF_THE_TOOL + (1.0 - 2.0 * OFF_THE_TOOL) * share
            }
        };
        up_to(to) - up_to(from - 1)
    }

    /// Between which amounts a range of counts is shown.
    pub(crate) fn within(self, from: i64, to: i64) -> (f64, f64) {
        let step = self.step();
        let low = match from {
            ..=0 => f64::NEG_INFINITY,
            _ => (from as f64 - 0.5) * step,
        };
        let high = match to > self.last() {
            true => f64::INFINITY,
            false => (to as f64 + 0.5) * step,
        };
        (low, high)
    }

    /// The chance that what the tool shows of `mean`, with this spread, lies within two amounts: no slip, no mistake.
    fn chance_right(self, mean: f64, sd: f64, within: (f64, f64)) -> f64 {
        let slips: f64 = self.slips(mean).iter().map(|(_, rate)| rate).sum();
        (1.0 - ANY_SIZE - slips) * about(mean, sd, within)
    }

    /// The same with slips, without mistakes.
    pub(crate) fn chance_meant(self, mean: f64, sd: f64, within: (f64, f64)) -> f64 {
        let slipped: f64 = (self.slips(mean).iter())
            .map(|(by, rate)| rate * about(mean + by, sd, within))
            .sum();
        self.chance_right(mean, sd, within) + slipped
    }

    /// What the tool shows of a part, before rounding: mean and spread. Nothing where the part has no such size, or the
    /// list does not tell it.
    pub(crate) fn of_part(self, part: &Readable) -> Option<Spread> {
        let size = part.size(self.quantity)?;
        let times = self.times(part.around);
        let mean = size.mean * times;
        Some(Spread {
            mean,
            sd: (size.sd * times).hypot(self.error(mean, part.bent == Some(true))),
        })
    }

    /// The middle counts that are read of a piece of this size: the right one and those after a slip.
    pub(crate) fn middles(self, mean: f64) -> impl Iterator<Item = f64> {
        let slips = self.slips(mean).iter().map(move |(by, _)| mean + by);
        std::iter::once(mean).chain(slips)
    }
}

/// The chance that a normal variable lies within two amounts; none where those are far off.
fn about(mean: f64, sd: f64, (low, high): (f64, f64)) -> f64 {
    let far = 9.0 * sd;
    if low - mean > far || mean - high > far {
        return 0.0;
    }
    normal::between(mean, sd, low, high)
}
