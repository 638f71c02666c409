//! What was measured as a drawing: where each stake should be, where it is (drawn larger than it is), where it goes.

use super::blunder::tape;
use super::fit::PAIRS;
use super::{CORNERS, Corners, SquareUp, rectangle};
use crate::svg::{Drawing, Hang, Pen};

const LONGEST: f64 = 440.0;
const WIDEST: f64 = 360.0;
/// As how far the farthest stake is drawn from its place.
const FAR: f64 = 34.0;

/// Draws the stakes over the house as it should be; what they are off is drawn larger than it is.
pub fn corners_svg(corners: &Corners, asked: &SquareUp) -> String {
    let should = rectangle(asked);
    let [wide, long] = [should[2][0], should[2][1]];
    let scale = (LONGEST / long).min(WIDEST / wide);
    let off = |i: usize| [0, 1].map(|axis| corners.at[i][axis] - should[i][axis]);
    let farthest = (0..4)
        .map(|i| off(i)[0].hypot(off(i)[1]))
        .fold(0.0_f64, f64::max);
    // Never drawn smaller than it is.
    let larger = if farthest > 1e-6 {
        (FAR / farthest).max(scale)
    } else {
        scale
    };
    // The front at the left, the left side at the top.
    let place = |i: usize| [should[i][1] * scale, should[i][0] * scale];
    let shown = |by: [f64; 2]| [by[1] * larger, by[0] * larger];
    let spot = |i: usize| [0, 1].map(|axis| place(i)[axis] + shown(off(i))[axis]);

    let mut drawing = Drawing::new();
    let outline: Vec<[f64; 2]> = [0, 1, 2, 3, 0].map(place).to_vec();
    drawing.line(Pen::Dashed, &outline);
    let stakes: Vec<[f64; 2]> = [0, 1, 2, 3, 0].map(spot).to_vec();
    drawing.line(Pen::Narrow, &stakes);
    // A text below a line on the right and on the front side stays clear of the stakes' names.
    for (number, pair) in PAIRS.into_iter().enumerate() {
        let line = pair.map(spot);
        if number > 3 {
            drawing.line(Pen::Narrow, &line);
        }
        let share = if number > 3 { 0.28 } else { 0.5 };
        drawing.beside(line, share, &tape(corners.lengths[number], asked.system));
    }
    for by in &corners.moves.moves {
        let Some(i) = CORNERS.iter().position(|corner| *corner == by.corner) else {
            continue;
        };
        let from = spot(i);
        let step = shown([by.right, by.back]);
        drawing.arrow(Pen::Wide, [from, [from[0] + step[0], from[1] + step[1]]]);
    }
    for (i, corner) in CORNERS.into_iter().enumerate() {
        let moved = corners.moves.moves.iter().any(|by| by.corner == corner);
        drawing.round(spot(i), 6.0, !moved);
        let front = i < 2;
        let left = i == 0 || i == 3;
        let hang = if front { Hang::Start } else { Hang::End };
        let words = match moved {
            true => format!("{}, moves", corner.in_words()),
            false => corner.in_words().to_owned(),
        };
        let at = place(i);
        let aside = if front { -FAR } else { FAR };
        let over = if left { -FAR - 12.0 } else { FAR + 24.0 };
        drawing.text([at[0] + aside, at[1] + over], hang, 0.0, &words);
    }
    let times = (larger / scale).round();
    let says = format!(
        "The four stakes as measured; what they are off is drawn {times} times as large as the house"
    );
    drawing.finish(&says)
}
