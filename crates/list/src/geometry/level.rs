//! A page that stands a few degrees askew, turned level.

use super::Page;
use super::lines::{self, Piece, median};

/// Steepest slope that is taken for a page askew; steeper is another way up, or a stamp. Five degrees.
const STEEPEST: f32 = 0.0875;

/// Least slope that is worth turning: a tenth of a degree, one line's height over a page's width.
const LEAST: f32 = 0.0017;

/// Turns the words level.
///
/// The slope is first that between neighbours, then that along whole lines, which is finer.
pub fn level(mut pieces: Vec<Piece<'_>>) -> Vec<Piece<'_>> {
    if pieces.len() < 8 {
        return pieces;
    }
    let Some(first) = between_neighbours(&mut pieces).filter(|slope| slope.abs() >= LEAST) else {
        return pieces;
    };
    turn(&mut pieces, first);
    let along = lines::lines(pieces.clone(), 0);
    let second = median(along.iter().filter_map(|line| {
        let (first, last) = line.pieces.first().zip(line.pieces.last())?;
        let run = last.middle() - first.middle();
        (run > 10.0 * line.height()).then(|| (last.waist() - first.waist()) / run)
    }));
    if let Some(second) = second.filter(|slope| slope.abs() < STEEPEST) {
        turn(&mut pieces, second);
    }
    pieces
}

/// Returns the drawn lines of a page. Text that came as text stands level; on a picture no lines are given yet.
pub fn rules(page: &Page) -> Vec<[f32; 4]> {
    let sound = |rule: &&[f32; 4]| rule.iter().all(|at| at.abs() < 1.0e6);
    page.rules.iter().filter(sound).copied().collect()
}

fn between_neighbours(pieces: &mut [Piece<'_>]) -> Option<f32> {
    pieces.sort_by(|a, b| a.waist().total_cmp(&b.waist()));
    let mut slopes = Vec::new();
    for (index, piece) in pieces.iter().enumerate() {
        let [_, _, right, _] = piece.place;
        let close = |other: &&Piece<'_>| {
            (other.waist() - piece.waist()).abs() < piece.height() * 0.5
                && other.place[0] >= right - piece.height() * 0.2
                && (other.height() / piece.height() - 1.0).abs() < 0.4
        };
        let below = pieces[index + 1..]
            .iter()
            .take_while(|other| other.waist() - piece.waist() < piece.height() * 0.5);
        let above = pieces[..index]
            .iter()
            .rev()
            .take_while(|other| piece.waist() - other.waist() < piece.height() * 0.5);
        // A crowd of words on one spot would make this slow, and is no page.
        let near = below.take(200).chain(above.take(200)).filter(close);
        let next = near.min_by(|a, b| a.place[0].total_cmp(&b.place[0]));
        let Some(next) = next.filter(|next| next.place[0] - right < piece.height() * 6.0) else {
            continue;
        };
        let run = next.middle() - piece.middle();
        if run > piece.height() {
            slopes.push((next.waist() - piece.waist()) / run);
        }
    }
    // Few pairs say nothing.
    (slopes.len() >= 8)
        .then(|| median(slopes.into_iter()))
        .flatten()
        .filter(|slope| slope.abs() <= STEEPEST)
}

/// Turns by a small angle around the page's corner: each box moves, none is tilted.
fn turn(pieces: &mut [Piece<'_>], slope: f32) {
    for piece in pieces {
        let (x, y) = (piece.middle(), piece.waist());
        let (right, down) = (y * slope, -x * slope);
        let [left, top, end, bottom] = piece.place;
        piece.place = [left + right, top + down, end + right, bottom + down];
    }
}
