//! How many people take a piece, a bundle or a crate, when a machine does, and into how many lifts a bundle is split.

use frame::{Line, PartsList, Section};
use measure::{Length, Mass, System};
use tally::Ground;

use crate::lift::{Coupling, Lift, Recommended, Spell, recommended};

/// Longer than this, two take it whatever it weighs: it whips, sags and catches. Ours, and common practice; no source.
pub const LONG: Length = Length::millimetres(4_000);

/// What of the sum of single capabilities a team has: two people 2/3, three 1/2. Guidance L23 to the Manual Handling
/// Operations Regulations 1992 of the United Kingdom, S2. NIOSH gives no rule for teams (M).
const TEAM: [f64; 3] = [1.0, 2.0 * 2.0 / 3.0, 3.0 / 2.0];

/// Said with every answer. The equation's own limits: two hands S2, the rest M.
pub const CAUTION: &str = "For healthy adults who lift with both hands, stand on firm level ground and do not walk with \
    the load; carrying, slopes, heat, wet or one hand take more people. Gloves and closed shoes; turn with the \
    feet, not the back; one person says when. The \
    sender's instructions and the rules of the place go first.";

/// Where and how things are lifted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LiftSite {
    /// Level from the ankles to the hands.
    pub reach: Length,
    /// Hands at the taking up: the height of the truck's bed.
    pub from: Length,
    /// Hands at the setting down: the height of the pile.
    pub to: Length,
    /// By how much the body turns aside, in degrees.
    pub turn: f64,
    /// Lifts a minute by each.
    pub per_minute: f64,
    /// For how long.
    pub spell: Spell,
    /// How well it is held.
    pub coupling: Coupling,
}

impl Default for LiftSite {
    /// Off a truck's bed at hip height onto a low pile, close to the body, once a minute for an hour: ours, to be set.
    fn default() -> Self {
        Self {
            reach: Length::millimetres(300),
            from: Length::millimetres(1_000),
            to: Length::millimetres(500),
            turn: 0.0,
            per_minute: 1.0,
            spell: Spell::OneHour,
            coupling: Coupling::Fair,
        }
    }
}

impl LiftSite {
    /// As the ground was described; the rest as it mostly is.
    pub fn of(ground: &Ground) -> Self {
        Self {
            reach: Length::millimetres(ground.reach),
            from: Length::millimetres(ground.truck_bed),
            ..Self::default()
        }
    }

    /// What one person may lift there: the less of the taking up and the setting down, since a pile wants care.
    pub fn one(&self, load: Mass, system: System) -> Recommended {
        let travel = (self.from.checked_sub(self.to)).and_then(Length::checked_abs);
        let end = |height| Lift {
            load,
            reach: self.reach,
            height,
            travel: travel.unwrap_or(self.from),
            turn: self.turn,
            per_minute: self.per_minute,
            spell: self.spell,
            coupling: self.coupling,
        };
        let up = recommended(&end(self.from), system);
        let down = recommended(&end(self.to), system);
        if down.limit < up.limit { down } else { up }
    }
}

/// Who lifts a thing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Hands {
    /// So many people, one to three.
    People(u8),
    /// More than three could: a machine, or the load is parted.
    Machine,
}

/// How a thing is to be lifted.
#[derive(Clone, Debug, PartialEq)]
pub struct Handling {
    /// Who lifts it.
    pub hands: Hands,
    /// For one person, at the worse end of the lift.
    pub one: Recommended,
    /// What one, two and three people may lift there.
    pub may: [Mass; 3],
    /// In plain words.
    pub says: String,
    /// What to mind.
    pub cautions: Vec<&'static str>,
}

/// Returns how many people lift a piece or bundle of this mass and, where known, length.
///
/// The answer is for a two-handed lift without walking. A thing longer than [`LONG`] takes two whatever its mass.
pub fn people_for(load: Mass, length: Option<Length>, site: &LiftSite, system: System) -> Handling {
    let one = site.one(load, system);
    let single = one.limit_mass().to_kilograms();
    let may = TEAM.map(|share| Mass::from_kilograms(single * share).unwrap_or_default());
    let long = length.is_some_and(|length| length > LONG);
    let enough = (1_u8..).zip(may).find(|(_, may)| load <= *may);
    let hands = match enough {
        Some((1, _)) if long => Hands::People(2),
        Some((people, _)) => Hands::People(people),
        None => Hands::Machine,
    };
    let mut cautions = vec![CAUTION];
    if long {
        cautions.push("Long tube whips and sags: one at each end, in step, and look where the far end swings.");
    }
    let by_length = long && matches!(enough, Some((1, _)));
    let says = in_words(load, hands, by_length, &one, &may, system);
    Handling {
        hands,
        one,
        may,
        says,
        cautions,
    }
}

fn in_words(
    load: Mass,
    hands: Hands,
    by_length: bool,
    one: &Recommended,
    may: &[Mass; 3],
    system: System,
) -> String {
    let write = |mass: Mass| mass.write(system, 0);
    let heavy = load.write(system, 1);
    if one.limit <= 0.0 {
        let why = one.what_takes_most().unwrap_or("the lift");
        return format!(
            "{heavy}: not by hand as the lift stands, because of {why}; change that, or use a machine"
        );
    }
    match hands {
        Hands::People(2) if by_length => {
            format!("{heavy}: two people, for its length")
        }
        Hands::People(1) => format!("{heavy}: one person (up to {} there)", write(may[0])),
        Hands::People(2) => format!("{heavy}: two people (up to {} there)", write(may[1])),
        Hands::People(_) => format!(
            "{heavy}: three people (up to {} there), or in parts",
            write(may[2])
        ),
        Hands::Machine => format!(
            "{heavy}: a machine, a trolley or planks to slide it, or in parts; three people may lift {} there",
            write(may[2])
        ),
    }
}

/// How the pieces of one mark are lifted.
#[derive(Clone, Debug, PartialEq)]
pub struct LiftRow {
    /// The mark.
    pub mark: String,
    /// What it is.
    pub says: String,
    /// How many pieces come.
    pub pieces: i64,
    /// Mass of one.
    pub each: Mass,
    /// How long it lies; nothing where it comes rolled or in a bag.
    pub length: Option<Length>,
    /// One of them.
    pub one: Handling,
    /// The most that two people take at once; 0 where not even one.
    pub two_take: i64,
    /// Into how many lifts of two people all of them go; nothing where two take none.
    pub lifts: Option<i64>,
    /// All of them in one bundle.
    pub bundle: Handling,
}

/// How a whole parts list is lifted.
#[derive(Clone, Debug, PartialEq)]
pub struct Lifting {
    /// Where and how.
    pub site: LiftSite,
    /// In the parts list's order.
    pub rows: Vec<LiftRow>,
    /// What the parts come in: what it is, its mass full, and how it is lifted.
    pub packages: Vec<(String, Mass, Handling)>,
}

/// Returns how each mark and each package of a parts list is lifted.
pub fn lifting(parts: &PartsList, site: &LiftSite, system: System) -> Lifting {
    let packages = parts.packed.iter();
    Lifting {
        site: *site,
        rows: (parts.lines.iter())
            .map(|line| row(line, site, system))
            .collect(),
        packages: packages
            .map(|packed| {
                let handling = people_for(packed.gross, None, site, system);
                (packed.says.clone(), packed.gross, handling)
            })
            .collect(),
    }
}

fn row(line: &Line, site: &LiftSite, system: System) -> LiftRow {
    let (each, length) = (line.part.unit_mass, lying_length(line));
    let one = people_for(each, length, site, system);
    let two_take = match each.as_micrograms() {
        ..=0 => line.supplied,
        each => (one.may[1].as_micrograms() / each).clamp(0, line.supplied.max(0)),
    };
    LiftRow {
        mark: line.part.mark.0.clone(),
        says: line.part.description.clone(),
        pieces: line.supplied,
        each,
        length,
        two_take,
        lifts: (two_take > 0).then(|| (line.supplied + two_take - 1) / two_take),
        bundle: people_for(line.mass_supplied(), length, site, system),
        one,
    }
}

/// How long a part lies: a bent one as far as its ends are apart, film and cloth as they are rolled, so not known.
fn lying_length(line: &Line) -> Option<Length> {
    match line.part.section {
        Some(Section::Film { .. } | Section::Cloth { .. } | Section::Fastener { .. }) => None,
        _ => match &line.part.bend {
            Some(bend) => Some(bend.chord),
            None => line.part.length,
        },
    }
}
