//! Setting out: where each post stands, what the tape must read along strings and diagonals, and how that is proved square.

mod how;
mod levels;
mod sheet;

use frame::{Frame, Path, Section};
use measure::{Length, System};

use crate::tape::TapeClass;
pub use how::{HowStep, how};
pub use levels::{PostLevel, Tops};
pub use sheet::setting_out_svg;

/// What the strings are stretched along. The house is ordered by post centres.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum Datum {
    /// The middle of the posts.
    Centre,
    /// Their outer faces: a string that stays while the posts go in.
    #[default]
    Outside,
}

/// How the ground rises, in metres a metre; negative where it falls.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Fall {
    /// From the front to the back.
    pub along: f64,
    /// From left to right.
    pub across: f64,
}

/// The steepest ground that is reckoned with: one in one.
const STEEPEST: f64 = 1.0;

impl Fall {
    /// Of the rise over the whole length and the whole width; steeper than one in one is taken as that.
    pub fn of(frame: &Frame, along: Length, across: Length) -> Self {
        let share = |rise: Length, over: Length| match over.to_metres() {
            over if over > 0.0 => (rise.to_metres() / over).clamp(-STEEPEST, STEEPEST),
            _ => 0.0,
        };
        Self {
            along: share(along, frame.length),
            across: share(across, frame.width),
        }
    }

    /// The ground at a place, over that at front left where `x` and `y` are nought.
    pub fn at(&self, x: f64, y: f64) -> f64 {
        self.across * x + self.along * y
    }

    /// Whether it is level.
    pub fn is_level(&self) -> bool {
        self.along == 0.0 && self.across == 0.0
    }
}

/// What is asked besides the frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SetOut {
    /// How long the tape is.
    pub tape: Length,
    /// Its class.
    pub class: TapeClass,
    /// What the strings are stretched along.
    pub datum: Datum,
    /// How the ground rises.
    pub fall: Fall,
    /// How the tops of the posts run.
    pub tops: Tops,
}

impl SetOut {
    /// With a tape as the trade of that system has it: 100 ft, or 30 m of class II; on level ground.
    pub fn usual(system: System) -> Self {
        let (tape, class) = match system {
            System::FeetInch => (Length::feet(100), TapeClass::Handbook44),
            System::Metric => (Length::millimetres(30_000), TapeClass::Two),
        };
        Self {
            tape,
            class,
            datum: Datum::default(),
            fall: Fall::default(),
            tops: Tops::default(),
        }
    }
}

/// A side of the house, for someone who stands before the front and looks in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Side {
    /// Left.
    Left,
    /// Right.
    Right,
}

impl Side {
    /// What people read.
    pub fn in_words(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
        }
    }
}

/// Where one post stands, or one bow's foot.
#[derive(Clone, Debug, PartialEq)]
pub struct Stake {
    /// In words, such as "bow 3, left".
    pub name: String,
    /// Its bow, from 1 at the front.
    pub bow: usize,
    /// On which side.
    pub side: Side,
    /// From the left string to its centre, level, in metres.
    pub x: f64,
    /// From the front string to its centre, level, in metres.
    pub y: f64,
    /// What the tape reads at its centre: level, from the corner stake at the front of its side.
    pub along: Length,
    /// The same with the tape on the ground, up or down its slope.
    pub on_ground: Length,
    /// How high it stands and how deep; nothing for a house without posts in the ground.
    pub level: Option<PostLevel>,
}

/// A triangle with sides as 3, 4 and 5, to square a corner with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Triangle {
    /// Along the side of the house.
    pub along: Length,
    /// Along its front.
    pub across: Length,
    /// From mark to mark.
    pub slant: Length,
}

/// Bays of like length beside each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bays {
    /// How many.
    pub count: usize,
    /// Length of each, level.
    pub level: Length,
    /// The same along the ground.
    pub on_ground: Length,
}

/// What a tape must read between two corner stakes.
#[derive(Clone, Debug, PartialEq)]
pub struct Must {
    /// In words, such as "front left to back right".
    pub between: &'static str,
    /// Held level.
    pub level: Length,
    /// Along the ground.
    pub on_ground: Length,
}

/// How a house is set out.
#[derive(Clone, Debug, PartialEq)]
pub struct SettingOut {
    /// What was asked.
    pub asked: SetOut,
    /// In which units people read it.
    pub system: System,
    /// Between the strings, across and along.
    pub strings: [Length; 2],
    /// Post centre to post centre, across and along.
    pub centres: [Length; 2],
    /// From a string in to the centre of the posts beside it.
    pub offset: Length,
    /// Every post, from the front, left before right.
    pub posts: Vec<Stake>,
    /// The bays from the front.
    pub bays: Vec<Bays>,
    /// The four sides: front, back, left, right; then the diagonals from front left and from front right.
    pub must: [Must; 6],
    /// The largest that both sides and the tape hold, then smaller ones.
    pub triangles: Vec<Triangle>,
    /// A difference of the diagonals up to this cannot be told from the tape's error: with one tape for both, and with two.
    pub blind: [Length; 2],
}

/// Returns how a frame is set out.
pub fn setting_out(frame: &Frame, asked: &SetOut) -> SettingOut {
    let feet = levels::feet(frame);
    let offset = match asked.datum {
        Datum::Centre => 0.0,
        Datum::Outside => thickest(frame, &feet) / 2.0,
    };
    let centres = [frame.width, frame.length];
    let strings = centres.map(|centre| centre.to_metres() + 2.0 * offset);
    let fall = asked.fall;
    let mut posts: Vec<Stake> = (feet.iter())
        .map(|foot| {
            let x = match foot.side {
                Side::Left => offset,
                Side::Right => strings[0] - offset,
            };
            let y = offset + foot.y;
            Stake {
                name: format!("bow {}, {}", foot.bow, foot.side.in_words()),
                bow: foot.bow,
                side: foot.side,
                x,
                y,
                along: fine(y),
                on_ground: fine(y.hypot(y * fall.along)),
                level: None,
            }
        })
        .collect();
    levels::raise(&mut posts, &feet, asked);
    let must = musts(strings, fall);
    let longest = must[4].level.max(must[5].level);
    let limit = asked.class.limit_over(longest, asked.tape);
    SettingOut {
        asked: *asked,
        system: frame.system,
        strings: strings.map(fine),
        centres,
        offset: fine(offset),
        posts,
        bays: bays(frame, fall),
        must,
        triangles: triangles(strings.map(fine), asked.tape, frame.system),
        blind: [limit, limit + limit],
    }
}

/// Runs of like bays.
fn bays(frame: &Frame, fall: Fall) -> Vec<Bays> {
    let mut runs: Vec<Bays> = Vec::new();
    for pair in frame.stations.windows(2) {
        let level = pair[1] - pair[0];
        match runs.last_mut() {
            Some(like) if like.level == level => like.count += 1,
            _ => runs.push(Bays {
                count: 1,
                level,
                on_ground: fine(level.to_metres().hypot(level.to_metres() * fall.along)),
            }),
        }
    }
    runs
}

/// The sides and diagonals of strings that are so far apart, across and along, in metres.
fn musts([width, length]: [f64; 2], fall: Fall) -> [Must; 6] {
    let must = |between, dx: f64, dy: f64| Must {
        between,
        level: fine(dx.hypot(dy)),
        on_ground: fine(dx.hypot(dy).hypot(fall.at(dx, dy))),
    };
    [
        must("front left to front right", width, 0.0),
        must("back left to back right", width, 0.0),
        must("front left to back left", 0.0, length),
        must("front right to back right", 0.0, length),
        must("front left to back right", width, length),
        must("front right to back left", -width, length),
    ]
}

/// The triangles of sides 3, 4 and 5 times a whole foot or metre that fit both sides and the tape, the largest first; of
/// one size, that with its longer leg along the house. At most three: the largest is the best.
pub fn triangles([across, along]: [Length; 2], tape: Length, system: System) -> Vec<Triangle> {
    let unit = match system {
        System::FeetInch => Length::feet(1),
        System::Metric => Length::millimetres(1_000),
    };
    let most = (tape.as_nanometres() / (unit.as_nanometres() * 5)).clamp(0, 100);
    let sized = |k: i64, legs: [i64; 2]| {
        let [along, across, slant] = [legs[0], legs[1], 5].map(|n| unit * (n * k));
        Triangle {
            along,
            across,
            slant,
        }
    };
    let fits = |t: &Triangle| t.along <= along && t.across <= across && t.slant <= tape;
    (1..=most)
        .rev()
        .filter_map(|k| {
            let both = [sized(k, [4, 3]), sized(k, [3, 4])];
            both.into_iter().find(fits)
        })
        .take(3)
        .collect()
}

/// The diagonal of a rectangle, to the nearest nanometre.
pub fn diagonal(width: Length, length: Length) -> Length {
    fine(width.to_metres().hypot(length.to_metres()))
}

/// By how much the diagonals differ when the far long side has slid along itself; all in the same unit.
///
/// About 2 × slide × length / diagonal, a little less than twice the slide on a long house.
pub fn diagonals_differ(width: f64, length: f64, slide: f64) -> f64 {
    width.hypot(length + slide) - width.hypot(length - slide)
}

/// The outside of the posts' tube in metres, or of the bows' where there are none; the thickest.
fn thickest(frame: &Frame, feet: &[levels::Foot]) -> f64 {
    let members: Vec<usize> = feet.iter().filter_map(|foot| foot.member).collect();
    let is_foot = |member: usize| match members.is_empty() {
        true => matches!(frame.members[member].path, Path::Arch { from, .. } if from <= 0.0),
        false => members.contains(&member),
    };
    (frame.pieces.iter())
        .filter(|piece| is_foot(piece.member))
        .filter_map(|piece| frame.parts.iter().find(|part| part.mark == piece.mark))
        .filter_map(|part| match &part.section {
            Some(Section::Tube { outside, .. }) => Some(outside.to_metres()),
            Some(Section::Box { width, .. }) => Some(width.to_metres()),
            Some(Section::Timber { depth, .. }) => Some(depth.to_metres()),
            _ => None,
        })
        .fold(0.0, f64::max)
}

/// To the nearest nanometre; nothing, where it is no length, becomes nought.
pub(crate) fn fine(metres: f64) -> Length {
    Length::from_metres(metres, measure::Grid::NANOMETRE).unwrap_or_default()
}
