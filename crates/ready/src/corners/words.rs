//! The answer in plain words.

use super::blunder::tape;
use super::fit::PAIRS;
use super::{CORNERS, Corners, Measured, SquareUp, Taken, Trouble};

/// "front left to back right".
pub(super) fn between([from, to]: [usize; 2]) -> String {
    format!("{} to {}", CORNERS[from].in_words(), CORNERS[to].in_words())
}

fn listed(names: &[String], last: &str) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [others @ .., end] => format!("{} {last} {end}", others.join(", ")),
    }
}

/// The lengths that nobody has read.
pub(super) fn missing(taken: &[Taken]) -> String {
    let missing: Vec<String> = (PAIRS.into_iter())
        .filter(|pair| !taken.iter().any(|reading| reading.level.between == *pair))
        .map(between)
        .collect();
    listed(&missing, "and")
}

/// Three readings of which one is longer than the others together.
pub(super) fn no_triangle(taken: &[Taken]) -> Option<Trouble> {
    let all: Vec<Measured> = taken.iter().map(|reading| reading.level).collect();
    let of = |pair: [usize; 2]| all.iter().find(|reading| reading.between == pair);
    for left_out in 0..4 {
        let mut sides: Vec<&Measured> = (PAIRS.into_iter())
            .filter(|pair| !pair.contains(&left_out))
            .filter_map(of)
            .collect();
        sides.sort_by(|a, b| b.level.total_cmp(&a.level));
        if let [longest, one, other] = sides[..] {
            // What the tape may be off by is not held against it.
            let slack = 3.0 * (longest.error + one.error + other.error);
            if longest.level > one.level + other.level + slack {
                return Some(Trouble::NoTriangle {
                    longest: between(longest.between),
                    others: listed(&[between(one.between), between(other.between)], "and"),
                });
            }
        }
    }
    None
}

/// What to do, the first sentence first.
pub(super) fn says(corners: &Corners, taken: &[Taken], asked: &SquareUp) -> Vec<String> {
    let system = asked.system;
    let mut says = match &corners.blunder {
        Some(_) => misread(corners),
        None if !corners.agree => vec![
            "The lengths do not agree with each other, more than a tape is off: measure all of them again, with one tape and \
             the same pull."
                .into(),
        ],
        None => moves(corners, asked),
    };
    if corners.blunder.is_none() {
        let worst = (corners.error.iter().flatten()).fold(0.0_f64, |most, error| most.max(*error));
        // Two standard errors: 19 in 20.
        let sure = tape(2.0 * worst, system);
        says.push(format!("Each stake is known to about ± {sure} (19 in 20)."));
    }
    if corners.spare == 0 {
        let missing = missing(taken);
        says.push(format!(
            "Nothing checks these lengths: a misread one would not show. Measure {missing} too."
        ));
    }
    says
}

fn misread(corners: &Corners) -> Vec<String> {
    let Some(blunder) = &corners.blunder else {
        return Vec::new();
    };
    let suspects: Vec<&str> = blunder.suspects.iter().map(|s| s.says.as_str()).collect();
    match (blunder.named, corners.spare) {
        (true, _) => vec![
            format!("Misread: {}.", suspects.join("")),
            "Measure that one again before you move a stake.".into(),
        ],
        (false, 0) => vec![
            format!(
                "Either a stake stands far off, or one length is misread: {}.",
                suspects.join("; or ")
            ),
            "With no length to spare that cannot be told. Measure again before you move a stake."
                .into(),
        ],
        (false, _) => vec![
            format!(
                "One length is misread; the likeliest: {}.",
                suspects.join("; or ")
            ),
            "Measure these again before you move a stake.".into(),
        ],
    }
}

fn moves(corners: &Corners, asked: &SquareUp) -> Vec<String> {
    let system = asked.system;
    let tolerance = asked.tolerance.tape(system);
    let moves = &corners.moves;
    if corners.within {
        return vec![format!(
            "Square: all sides and both diagonals are within {tolerance}. Move nothing."
        )];
    }
    let held: Vec<String> = (moves.held.iter())
        .map(|corner| corner.in_words().to_owned())
        .collect();
    let stays = if held.len() == 1 { "stays" } else { "stay" };
    let count = match moves.moves.len() {
        1 => "one stake".into(),
        count => format!("{count} stakes"),
    };
    let mut says = vec![format!("Move {count}; {} {stays}.", listed(&held, "and"))];
    says.extend(
        moves
            .moves
            .iter()
            .map(|by| format!("{}.", by.in_words(system))),
    );
    if moves.slide {
        says.push(
            "That is one slide: both the same way along their own line, no nearer to the base line and no farther.".into(),
        );
    }
    says.push(format!(
        "Then measure again: within {tolerance} on every side and both diagonals is square."
    ));
    let least = (moves.moves.iter()).fold(f64::MAX, |least, by| least.min(by.distance()));
    let worst = (corners.error.iter().flatten()).fold(0.0_f64, |most, error| most.max(*error));
    if least < 2.0 * worst {
        says.push("The smallest of these is hardly more than the tape's own error: measure once more first.".into());
    }
    says
}
