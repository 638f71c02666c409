//! How much a person should lift there: the revised lifting equation of NIOSH, in both systems of units.
//!
//! From DHHS (NIOSH) Publication 94-110 (1994, revised 2021). S2, save the upper limits in inches, which are M.
//! For two-handed lifts by one who stands; not for carrying, pushing, kneeling, one hand, or a load that shifts.

use measure::{Length, Mass, System};

pub use crate::lift_tables::{Coupling, Spell};
use crate::lift_tables::{coupling, frequency};

/// One lift at one of its ends: where it is taken up, or where it is set down with care.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lift {
    /// The load.
    pub load: Mass,
    /// Level from the ankles to the hands.
    pub reach: Length,
    /// Hands over the ground.
    pub height: Length,
    /// How far up or down it goes.
    pub travel: Length,
    /// By how much the body turns aside, in degrees.
    pub turn: f64,
    /// Lifts a minute.
    pub per_minute: f64,
    /// For how long.
    pub spell: Spell,
    /// How well it is held.
    pub coupling: Coupling,
}

/// What the equation says of a lift.
///
/// The constants of the two systems are rounded apart, not converted (51 lb are 23.13 kg, 10 in are 25.4 cm), so that the
/// same lift comes out up to about 3 % apart. Keep to one system.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Recommended {
    /// In which system's constants.
    pub system: System,
    /// The load constant, in pounds or kilograms.
    pub constant: f64,
    /// For the reach.
    pub horizontal: f64,
    /// For the height of the hands.
    pub vertical: f64,
    /// For how far up or down it goes.
    pub distance: f64,
    /// For turning aside.
    pub asymmetry: f64,
    /// For how often and how long.
    pub frequency: f64,
    /// For the grip.
    pub coupling: f64,
    /// The recommended weight limit for one person, in pounds or kilograms; 0 where it should not be lifted there by hand.
    pub limit: f64,
    /// The load over the limit: 1 or less is the aim, more than 3 is highly stressful. Nothing where the limit is 0.
    pub index: Option<f64>,
}

/// Returns what the equation recommends, with the constants of a system.
pub fn recommended(lift: &Lift, system: System) -> Recommended {
    let one = match system {
        System::FeetInch => INCHES,
        System::Metric => CENTIMETRES,
    };
    let unit = |length: Length| match system {
        System::FeetInch => length.to_inches(),
        System::Metric => length.to_metres() * 100.0,
    };
    let (reach, height, travel) = (unit(lift.reach), unit(lift.height), unit(lift.travel));
    let low = height < one.waist;
    let multipliers = [
        horizontal(&one, reach),
        vertical(&one, height),
        distance(&one, travel.abs()),
        asymmetry(lift.turn.abs()),
        frequency(lift.per_minute, lift.spell, low),
        coupling(lift.coupling, low),
    ];
    let limit = one.constant * multipliers.iter().product::<f64>();
    let load = match system {
        System::FeetInch => lift.load.to_pounds(),
        System::Metric => lift.load.to_kilograms(),
    };
    let [
        horizontal,
        vertical,
        distance,
        asymmetry,
        frequency,
        coupling,
    ] = multipliers;
    Recommended {
        system,
        constant: one.constant,
        horizontal,
        vertical,
        distance,
        asymmetry,
        frequency,
        coupling,
        limit,
        index: (limit > 0.0).then(|| load / limit),
    }
}

impl Recommended {
    /// The limit as a mass.
    pub fn limit_mass(&self) -> Mass {
        let pound = Mass::pounds(1).to_kilograms();
        let kilograms = match self.system {
            System::FeetInch => self.limit * pound,
            System::Metric => self.limit,
        };
        Mass::from_kilograms(kilograms).unwrap_or_default()
    }

    /// The multiplier that takes most away, in words; nothing where none takes any.
    pub fn what_takes_most(&self) -> Option<&'static str> {
        let each = [
            (self.horizontal, "the reach"),
            (self.vertical, "the height of the hands"),
            (self.distance, "how far up or down it goes"),
            (self.asymmetry, "turning aside"),
            (self.frequency, "how often and how long"),
            (self.coupling, "the grip"),
        ];
        (each.into_iter())
            .filter(|(multiplier, _)| *multiplier < 1.0)
            .min_by(|a, b| a.0.total_cmp(&b.0))
            .map(|(_, what)| what)
    }
}

/// The constants of one system.
struct Constants {
    constant: f64,
    /// Nearest reach, and farthest.
    reach: [f64; 2],
    /// Where the hands are best.
    waist: f64,
    /// What each unit away from there costs.
    per_height: f64,
    /// Highest.
    highest: f64,
    /// What travel costs: divided by the travel.
    per_travel: f64,
    /// Least travel that counts, and the most.
    travel: [f64; 2],
}

const INCHES: Constants = Constants {
    constant: 51.0,
    reach: [10.0, 25.0],
    waist: 30.0,
    per_height: 0.0075,
    highest: 70.0,
    per_travel: 1.8,
    travel: [10.0, 70.0],
};

const CENTIMETRES: Constants = Constants {
    constant: 23.0,
    reach: [25.0, 63.0],
    waist: 75.0,
    per_height: 0.003,
    highest: 175.0,
    per_travel: 4.5,
    travel: [25.0, 175.0],
};

fn horizontal(one: &Constants, reach: f64) -> f64 {
    match reach {
        near if near < one.reach[0] => 1.0,
        far if far > one.reach[1] => 0.0,
        between => one.reach[0] / between,
    }
}

fn vertical(one: &Constants, height: f64) -> f64 {
    match height {
        high if high > one.highest => 0.0,
        height => 1.0 - one.per_height * (height.max(0.0) - one.waist).abs(),
    }
}

fn distance(one: &Constants, travel: f64) -> f64 {
    match travel {
        short if short < one.travel[0] => 1.0,
        long if long > one.travel[1] => 0.0,
        between => 0.82 + one.per_travel / between,
    }
}

fn asymmetry(turn: f64) -> f64 {
    // What is no number is no turn either.
    match turn {
        turn if turn <= 135.0 => 1.0 - 0.0032 * turn,
        _ => 0.0,
    }
}
