//! Round steel tube: the sizes that are sold, what they weigh, and what their names mean.
//!
//! The tables are from public pages that name the standards, not from the standards, which are sold; each row
//! carries how sure it is.

use std::f64::consts::PI;

pub use crate::steel::{DENSITY, strip_mass};
use crate::{Grid, Length, Mass, Sure, Tolerance, Unit};

/// A series of tube sizes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Series {
    /// Schedule 40 pipe, ASME B36.10M and ASTM A53; also ASTM F1083, which is F1043 Group IA.
    Schedule40,
    /// ASTM F1043 Group IC, thinner and of higher strength than Schedule 40 at the same ODs.
    GroupIc,
    /// Electrical metallic tubing, ANSI C80.3.
    Emt,
}

/// A size that is sold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Row {
    /// The series it belongs to.
    pub series: Series,
    /// What the series calls it: NPS, or trade size; Group IC goes by its OD.
    pub name: &'static str,
    /// Outside diameter.
    pub od: Length,
    /// Wall.
    pub wall: Length,
    /// How sure OD and wall are.
    pub sure: Sure,
    /// The weight that tables print, if one was found.
    pub printed: Option<Printed>,
}

/// A weight as tables print it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Printed {
    /// Hundredths of a pound per foot, which are pounds per hundred feet.
    pub hundredths: u16,
    /// How sure it is.
    pub sure: Sure,
}

use Series::{Emt, GroupIc, Schedule40};
use Sure::{Memory, SecondHand, TradePage};

/// Schedule 40 by NPS. OD and wall agreed in about ten public tables (S2), not shown to be independent; one
/// printed 3.853 lb/ft for NPS 2, a slip for 3.65.
pub const SCHEDULE_40: [Row; 7] = [
    row(
        Schedule40,
        "1/2",
        (840, 109),
        SecondHand,
        Some((85, SecondHand)),
    ),
    row(
        Schedule40,
        "3/4",
        (1050, 113),
        SecondHand,
        Some((113, SecondHand)),
    ),
    row(
        Schedule40,
        "1",
        (1315, 133),
        SecondHand,
        Some((168, SecondHand)),
    ),
    row(
        Schedule40,
        "1-1/4",
        (1660, 140),
        SecondHand,
        Some((227, SecondHand)),
    ),
    row(
        Schedule40,
        "1-1/2",
        (1900, 145),
        SecondHand,
        Some((272, SecondHand)),
    ),
    row(
        Schedule40,
        "2",
        (2375, 154),
        SecondHand,
        Some((365, SecondHand)),
    ),
    row(
        Schedule40,
        "2-1/2",
        (2875, 203),
        SecondHand,
        Some((579, SecondHand)),
    ),
];

/// F1043 Group IC by OD, all from memory (M); the first row is the least sure. That the weights agree with the
/// formula supports the pairs of OD and wall but does not prove them.
pub const GROUP_IC: [Row; 5] = [
    row(GroupIc, "1.315", (1315, 80), Memory, None),
    row(GroupIc, "1.660", (1660, 111), Memory, Some((184, Memory))),
    row(GroupIc, "1.900", (1900, 120), Memory, Some((228, Memory))),
    row(GroupIc, "2.375", (2375, 130), Memory, Some((312, Memory))),
    row(GroupIc, "2.875", (2875, 160), Memory, Some((464, Memory))),
];

/// EMT by trade size (S2), the weights of 1/2 and 2 from memory. One page gave 1.503 for the OD of 1-1/4; the
/// rest gave 1.510.
pub const EMT: [Row; 6] = [
    row(Emt, "1/2", (706, 42), SecondHand, Some((30, Memory))),
    row(Emt, "3/4", (922, 49), SecondHand, Some((46, SecondHand))),
    row(Emt, "1", (1163, 57), SecondHand, Some((67, SecondHand))),
    row(
        Emt,
        "1-1/4",
        (1510, 65),
        SecondHand,
        Some((101, SecondHand)),
    ),
    row(
        Emt,
        "1-1/2",
        (1740, 65),
        SecondHand,
        Some((116, SecondHand)),
    ),
    row(Emt, "2", (2197, 65), SecondHand, Some((148, Memory))),
];

/// OD and wall in 1/1000 in.
const fn row(
    series: Series,
    name: &'static str,
    (od, wall): (i64, i64),
    sure: Sure,
    printed: Option<(u16, Sure)>,
) -> Row {
    let printed = match printed {
        Some((hundredths, sure)) => Some(Printed { hundredths, sure }),
        None => None,
    };
    let (od, wall) = (Length::mils(od), Length::mils(wall));
    Row {
        series,
        name,
        od,
        wall,
        sure,
        printed,
    }
}

/// Every row of the three tables.
pub fn rows() -> impl Iterator<Item = &'static Row> {
    SCHEDULE_40.iter().chain(&GROUP_IC).chain(&EMT)
}

/// The constant of the classic printed tables, in lb/ft with inches (S2): steel of 0.2833 lb/in³.
pub const PRINTED_CONSTANT: f64 = 10.68;
/// The constant of today's formula (S2): 7850 kg/m³, which is 0.2836 lb/in³.
pub const FORMULA_CONSTANT: f64 = 10.69;

/// Pounds per foot of tube by W = c (D − t) t, in inches, with one of the two constants above.
pub fn pounds_per_foot(od: Length, wall: Length, constant: f64) -> f64 {
    let (od, wall) = (od.to_inches(), wall.to_inches());
    constant * (od - wall) * wall
}

/// Whether a printed weight is within 0.01 lb/ft of W = 10.69 (D − t) t; a slip in a table is not.
///
/// The classic tables follow 10.68, so in the last place they cannot be asked to agree.
pub fn weight_agrees(od: Length, wall: Length, pounds: f64) -> bool {
    (pounds - pounds_per_foot(od, wall, FORMULA_CONSTANT)).abs() <= 0.01
}

impl Printed {
    /// Pounds per foot.
    pub fn pounds_per_foot(self) -> f64 {
        f64::from(self.hundredths) / 100.0
    }
}

impl Row {
    /// Whether the printed weight agrees with the formula; nothing when none is printed.
    pub fn weight_agrees(&self) -> Option<bool> {
        let printed = self.printed?.pounds_per_foot();
        Some(weight_agrees(self.od, self.wall, printed))
    }

    /// How far the OD may be off, and how sure that is.
    pub fn od_tolerance(&self) -> Option<(Tolerance, Sure)> {
        (self.series == Schedule40).then(|| pipe_od_tolerance(self.od))
    }
}

/// How far the OD of F1083 pipe may be off: ±1 % at NPS 2 and over (S2t), else +1/64 in and −1/32 in (S2t,
/// but the size where that begins is from memory).
pub fn pipe_od_tolerance(od: Length) -> (Tolerance, Sure) {
    if od >= Length::mils(2375) {
        return (Tolerance::thousandths(od, 10), TradePage);
    }
    let small = Tolerance::new(Length::sixty_fourths(1), Length::sixty_fourths(2));
    (small.expect("neither is negative"), Memory)
}

/// The mass of round tube of bare steel at [`DENSITY`]; zinc is left out. Nothing when there is no such tube:
/// a wall of nought or less or of more than half the OD, a negative length, a mass out of range.
pub fn mass(od: Length, wall: Length, length: Length) -> Option<Mass> {
    let is_tube = wall > Length::ZERO && wall.checked_mul(2)? <= od && length >= Length::ZERO;
    is_tube.then_some(())?;
    let (od, wall, length) = (od.to_metres(), wall.to_metres(), length.to_metres());
    Mass::from_kilograms(PI * DENSITY * (od - wall) * wall * length)
}

/// What a tape wrapped once round a tube shows, to the nanometre; nothing when out of range.
pub fn circumference(od: Length) -> Option<Length> {
    Length::from_metres(PI * od.to_metres(), Grid::NANOMETRE)
}

/// The OD of a tube round which a tape shows this much, to the nanometre; nothing when out of range.
pub fn od_from_wrap(wrap: Length) -> Option<Length> {
    Length::from_metres(wrap.to_metres() / PI, Grid::NANOMETRE)
}

/// One thing that a size name may mean.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Called {
    /// The outside diameter that it then has.
    pub od: Length,
    /// Why the name may mean it.
    pub because: Naming,
    /// How sure it is that the name is used so.
    pub sure: Sure,
}

/// The three ways of naming a tube.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Naming {
    /// The fence trade's rounded name for a pipe size: 1-5/8 is 1.660 in.
    Fence,
    /// The nominal pipe size, neither OD nor ID: NPS 1-1/4 is 1.660 in.
    PipeSize,
    /// The OD itself, as tubing is sold: 1-5/8 is 1.625 in.
    Literal,
}

/// Fence names and the pipe OD behind them, in 1/64 in and 1/1000 in. The ODs are sure (S2); the names are from
/// memory, save that a trade page says a 2 is a 1-7/8.
const FENCE_NAMES: [(i64, i64, Sure); 8] = [
    (88, 1315, Memory),
    (104, 1660, Memory),
    (120, 1900, TradePage),
    (128, 1900, TradePage),
    (152, 2375, Memory),
    (160, 2375, Memory),
    (184, 2875, Memory),
    (192, 2875, Memory),
];

/// Every OD that a tube of this name may have: by the fence trade, as a pipe size, taken literally. An OD that
/// two ways of naming give stands once. Empty when the name is no length; a number alone is inches.
///
/// The trap: a tube called 1-5/8 measures 1.660 in as fence pipe, but light tube sold by its OD measures the
/// literal 1.625 in. A caliper tells them apart, a tape to 1/16 in barely.
pub fn called(name: &str) -> Vec<Called> {
    let Ok(nominal) = Length::read(name, Some(Unit::Inch)) else {
        return Vec::new();
    };
    let fence = FENCE_NAMES
        .iter()
        .filter(|&&(name, ..)| Length::sixty_fourths(name) == nominal)
        .map(|&(_, od, sure)| Called {
            od: Length::mils(od),
            because: Naming::Fence,
            sure,
        });
    let pipe = SCHEDULE_40
        .iter()
        .filter(|row| Length::read(row.name, Some(Unit::Inch)) == Ok(nominal))
        .map(|row| Called {
            od: row.od,
            because: Naming::PipeSize,
            sure: row.sure,
        });
    let mut found: Vec<Called> = fence.chain(pipe).collect();
    if nominal > Length::ZERO && found.iter().all(|called| called.od != nominal) {
        // That light tube is sold beside the fence sizes at the literal 1-3/8 and 1-5/8 is from memory.
        let beside_fence = [88, 104].map(Length::sixty_fourths).contains(&nominal);
        let sure = if beside_fence { Memory } else { SecondHand };
        found.push(Called {
            od: nominal,
            because: Naming::Literal,
            sure,
        });
    }
    found
}
