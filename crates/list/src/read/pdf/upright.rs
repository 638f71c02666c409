//! Which way up a page is read, and the words on it that stand another way.

use super::words::Turned;
use crate::geometry::{Page, Word};

/// How far a word may lean and still belong to the page's lines, in degrees.
const LEAN: f64 = 8.0;

/// Makes a page of words: turned so that most letters stand upright; what stands at another angle is a stamp.
pub fn page(words: Vec<Turned>, rules: Vec<[f32; 4]>, [width, height]: [f32; 2]) -> Page {
    let mut letters = [0_usize; 4];
    for word in &words {
        if let Some(quarter) = quarter(word.angle) {
            letters[quarter] += word.word.text.chars().count();
        }
    }
    // As it stands unless another way clearly has more.
    let turned = (1..4).max_by_key(|way| letters[*way]).unwrap_or(0);
    let way = if letters[turned] > letters[0] {
        turned
    } else {
        0
    };
    let turn = |place: [f32; 4]| turned_back(place, way, width, height);
    let mut page = Page {
        width: if way % 2 == 0 { width } else { height },
        height: if way % 2 == 0 { height } else { width },
        rules: rules.into_iter().map(turn).collect(),
        ..Page::default()
    };
    for word in words {
        let upright = quarter(word.angle) == Some(way);
        let word = Word {
            place: turn(word.word.place),
            ..word.word
        };
        if upright {
            page.words.push(word);
        } else {
            page.stamps.push(word);
        }
    }
    page
}

/// Returns how many quarter turns clockwise a text stands at, if it is near to one of them.
fn quarter(angle: f64) -> Option<usize> {
    let turns = angle.rem_euclid(360.0) / 90.0;
    let nearest = turns.round();
    ((turns - nearest).abs() * 90.0 <= LEAN).then_some(nearest as usize % 4)
}

/// Turns a box back by quarter turns, on a page of this size.
fn turned_back(place: [f32; 4], quarters: usize, width: f32, height: f32) -> [f32; 4] {
    let [left, top, right, bottom] = place;
    match quarters {
        // Text that runs downwards: its top is to the right.
        1 => [top, width - right, bottom, width - left],
        2 => [width - right, height - bottom, width - left, height - top],
        // Text that runs upwards: its top is to the left.
        3 => [height - bottom, left, height - top, right],
        _ => place,
    }
}
