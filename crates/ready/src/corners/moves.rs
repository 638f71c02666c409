//! Which stakes to move, so that as few as can be are moved and the house is square.

use measure::{Grid, Length, System};
use tally::Corner;

use super::fit::{PAIRS, apart};
use super::{CORNERS, SquareUp, rectangle};

/// What to move.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Moves {
    /// Which stakes stay where they are.
    pub held: Vec<Corner>,
    /// Each stake that is moved; empty when all is within the tolerance.
    pub moves: Vec<Move>,
    /// Whether it is one slide: two stakes by the same along their own line, as bulletins teach it.
    pub slide: bool,
}

/// How one stake is moved.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Move {
    /// The stake.
    pub corner: Corner,
    /// To the right, in metres; to the left where negative.
    pub right: f64,
    /// Towards the back, in metres; towards the front where negative.
    pub back: f64,
}

impl Move {
    /// How far.
    pub fn distance(&self) -> f64 {
        self.right.hypot(self.back)
    }

    /// "back right: 1-3/8 in towards the front", to what a tape shows.
    pub fn in_words(&self, system: System) -> String {
        let shown = |by: f64, words: [&str; 2]| {
            let length = rounded(by.abs(), system);
            let word = words[usize::from(by < 0.0)];
            (length > Length::ZERO).then(|| format!("{} {word}", length.tape(system)))
        };
        let parts: Vec<String> = [
            shown(self.back, ["towards the back", "towards the front"]),
            shown(self.right, ["to the right", "to the left"]),
        ]
        .into_iter()
        .flatten()
        .collect();
        format!("{}: {}", self.corner.in_words(), parts.join(" and "))
    }
}

/// To what a tape shows.
pub(super) fn rounded(metres: f64, system: System) -> Length {
    let grid = match system {
        System::FeetInch => Grid::SIXTEENTH,
        System::Metric => Grid::MILLIMETRE,
    };
    Length::from_metres(metres, grid).unwrap_or_default()
}

/// Whether all six lengths are within the tolerance of what they should be.
pub(super) fn within(at: &[[f64; 2]; 4], asked: &SquareUp) -> bool {
    let should = rectangle(asked);
    // A hair for what rounding does to a length that is off by just the tolerance.
    let most = asked.tolerance.to_metres() + 1e-9;
    PAIRS
        .into_iter()
        .all(|pair| (apart(at, pair) - apart(&should, pair)).abs() <= most)
}

/// Which stakes stay, in the order in which they are rather held: the base line first.
const BASE_FIRST: [usize; 4] = [0, 3, 1, 2];

/// The fewest stakes that have to be moved. Those that stay are fitted into the house as it should be; the others go
/// where it has them. Of as few, the base line stays rather than others, and then what is moved the least.
pub(super) fn fewest(at: &[[f64; 2]; 4], asked: &SquareUp) -> Moves {
    let should = rectangle(asked);
    let stays = |mask: u8| -> Vec<usize> {
        (BASE_FIRST.into_iter())
            .filter(|corner| mask & (1 << corner) != 0)
            .collect()
    };
    let mut best: Option<(usize, bool, f64, Moves)> = None;
    for mask in 1..16_u8 {
        let held = stays(mask);
        let placed = place(&should, at, &held);
        let mut after = *at;
        for corner in (0..4).filter(|corner| !held.contains(corner)) {
            after[corner] = placed[corner];
        }
        if !within(&after, asked) {
            continue;
        }
        let moves: Vec<Move> = (BASE_FIRST.into_iter())
            .filter(|corner| !held.contains(corner))
            .map(|corner| Move {
                corner: CORNERS[corner],
                right: after[corner][0] - at[corner][0],
                back: after[corner][1] - at[corner][1],
            })
            .collect();
        let far: f64 = moves.iter().map(Move::distance).sum();
        let off_base = !(held.contains(&0) && (held.contains(&3) || held.len() == 1));
        let better = match &best {
            None => true,
            Some((count, other, less, _)) => (moves.len(), off_base)
                .cmp(&(*count, *other))
                .then(far.total_cmp(less))
                .is_lt(),
        };
        if better {
            let slide = is_slide(&moves, asked.system);
            let held = held.into_iter().map(|corner| CORNERS[corner]).collect();
            let found = Moves { held, moves, slide };
            best = Some((found.moves.len(), off_base, far, found));
        }
    }
    best.map(|(.., moves)| moves).unwrap_or_default()
}

/// The house as it should be, laid over the stakes that stay: their middles on each other, and turned to fit best. One
/// stake alone keeps the direction of the left string.
fn place(should: &[[f64; 2]; 4], at: &[[f64; 2]; 4], held: &[usize]) -> [[f64; 2]; 4] {
    let middle = |of: &[[f64; 2]; 4]| {
        [0, 1].map(|axis| held.iter().map(|c| of[*c][axis]).sum::<f64>() / held.len() as f64)
    };
    let (from, to) = (middle(should), middle(at));
    let (mut cosine, mut sine) = (0.0, 0.0);
    for corner in held {
        let [ax, ay] = [0, 1].map(|axis| should[*corner][axis] - from[axis]);
        let [bx, by] = [0, 1].map(|axis| at[*corner][axis] - to[axis]);
        cosine += ax * bx + ay * by;
        sine += ax * by - ay * bx;
    }
    let turn = if held.len() > 1 {
        sine.atan2(cosine)
    } else {
        0.0
    };
    let (sin, cos) = turn.sin_cos();
    should.map(|corner| {
        let [x, y] = [0, 1].map(|axis| corner[axis] - from[axis]);
        [to[0] + x * cos - y * sin, to[1] + x * sin + y * cos]
    })
}

/// Whether two stakes of one side go the same way by the same, to what a tape shows.
fn is_slide(moves: &[Move], system: System) -> bool {
    let [one, other] = moves else { return false };
    let shown = |by: f64| rounded(by, system);
    let alike = shown(one.back) == shown(other.back) && shown(one.right) == shown(other.right);
    let one_way = shown(one.back) == Length::ZERO || shown(one.right) == Length::ZERO;
    alike && one_way && one.distance() > 0.0
}
