//! Letters into words.

use kurbo::{Point, Vec2};

use super::glyphs::Letter;
use crate::geometry::Word;

/// A word and which way it runs.
#[derive(Clone, Debug)]
pub struct Turned {
    /// The word; its box is level.
    pub word: Word,
    /// Degrees clockwise from a line read from left to right.
    pub angle: f64,
    /// Height of its font, in points.
    pub size: f64,
    /// How many letters of it mean nothing to a program.
    pub unknown: usize,
}

/// A gap wider than this share of the font's height parts words; a space is about 0.25, a kerned pair below 0.1.
const GAP: f64 = 0.15;

/// A word as it grows.
struct Growing {
    text: String,
    corners: Vec<Point>,
    end: Point,
    size: f64,
    angle: f64,
    hidden: bool,
    unknown: usize,
}

/// Joins letters that follow each other into words, in the order that they were drawn.
pub fn words(letters: &[Letter]) -> Vec<Turned> {
    let mut words = Vec::new();
    let mut open: Option<Growing> = None;
    for (index, letter) in letters.iter().enumerate() {
        let again = index > 0 && same_again(&letters[index - 1], letter);
        if again {
            continue;
        }
        let text = meaning(letter.text.as_deref());
        let unknown = usize::from(text.is_none());
        let text = text.unwrap_or_else(|| "\u{fffd}".to_owned());
        if text.trim().is_empty() {
            words.extend(open.take().map(finish));
            continue;
        }
        let to = letter.to.unwrap_or_else(|| width_from_next(letters, index));
        if open.as_ref().is_some_and(|word| !goes_on(word, letter)) {
            words.extend(open.take().map(finish));
        }
        let word = open.get_or_insert_with(|| Growing {
            text: String::new(),
            corners: Vec::new(),
            end: letter.from,
            size: letter.size,
            angle: letter.angle,
            hidden: letter.hidden,
            unknown: 0,
        });
        word.text.push_str(&text);
        // Letters reach three quarters of the font's height above the base line, and a fifth below it.
        let up = Vec2::from_angle((letter.angle - 90.0).to_radians()) * letter.size;
        for base in [letter.from, to] {
            word.corners.extend([base + up * 0.75, base - up * 0.2]);
        }
        word.end = to;
        word.unknown += unknown;
    }
    words.extend(open.take().map(finish));
    words
}

/// Whether a letter follows the word that is open: the same size and way, on the same base line, no gap.
fn goes_on(word: &Growing, letter: &Letter) -> bool {
    let size = word.size.min(letter.size);
    let way = Vec2::from_angle(word.angle.to_radians());
    let off = letter.from - word.end;
    let (along, across) = (off.dot(way), off.cross(way).abs());
    word.hidden == letter.hidden
        && (word.angle - letter.angle).abs() < 2.0
        && (word.size / letter.size - 1.0).abs() < 0.1
        && across < 0.1 * size
        && along < GAP * size
        && along > -0.5 * size
}

/// The same letter at the same place: outlined as well as filled.
fn same_again(last: &Letter, letter: &Letter) -> bool {
    last.text == letter.text && (last.from - letter.from).hypot() < 0.02 * letter.size
}

/// A font that does not say how wide its letters are: up to the next one, where that stands near.
fn width_from_next(letters: &[Letter], index: usize) -> Point {
    let letter = &letters[index];
    let way = Vec2::from_angle(letter.angle.to_radians()) * letter.size;
    let next = letters.get(index + 1).map(|next| next.from - letter.from);
    match next.filter(|off| off.hypot() < 1.2 * letter.size && off.dot(way) > 0.0) {
        // A space is drawn as a letter, too: a letter before one ends where that begins.
        Some(off) => letter.from + off,
        None => letter.from + way * 0.5,
    }
}

/// Returns the text of a letter as it is written; nothing for codes that mean nothing outside their font.
fn meaning(text: Option<&str>) -> Option<String> {
    let text = text?;
    let strange = |c: char| {
        (c.is_control() && !c.is_whitespace())
            || c == '\u{fffd}'
            || ('\u{e000}'..='\u{f8ff}').contains(&c)
    };
    if text.chars().any(strange) {
        return None;
    }
    let plain = text.chars().map(|c| match c {
        '\u{fb00}' => "ff".to_owned(),
        '\u{fb01}' => "fi".to_owned(),
        '\u{fb02}' => "fl".to_owned(),
        '\u{fb03}' => "ffi".to_owned(),
        '\u{fb04}' => "ffl".to_owned(),
        '\u{fb05}' | '\u{fb06}' => "st".to_owned(),
        // Marks that order the direction of text have no place in a list.
        '\u{200b}'..='\u{200f}'
        | '\u{202a}'..='\u{202e}'
        | '\u{2060}'..='\u{2069}'
        | '\u{feff}' => String::new(),
        '\u{a0}' => " ".to_owned(),
        other => other.to_string(),
    });
    Some(plain.collect())
}

fn finish(word: Growing) -> Turned {
    let mut place = [f64::MAX, f64::MAX, f64::MIN, f64::MIN];
    for corner in &word.corners {
        place = [
            place[0].min(corner.x),
            place[1].min(corner.y),
            place[2].max(corner.x),
            place[3].max(corner.y),
        ];
    }
    Turned {
        word: Word {
            text: word.text,
            place: place.map(|at| at as f32),
            // A program read the hidden words off a picture, and does not say how surely.
            sure: if word.hidden { 0.8 } else { 1.0 },
            struck: false,
        },
        angle: word.angle,
        size: word.size,
        unknown: word.unknown,
    }
}

/// Drops words that are drawn twice a hair apart, as bold is faked, or again hidden over themselves.
pub fn once(mut words: Vec<Turned>) -> Vec<Turned> {
    let mut order: Vec<usize> = (0..words.len()).collect();
    order.sort_by(|a, b| {
        let (a, b) = (&words[*a].word, &words[*b].word);
        a.text.cmp(&b.text).then(a.place[0].total_cmp(&b.place[0]))
    });
    let mut twice = vec![false; words.len()];
    for (index, at) in order.iter().enumerate() {
        let word = &words[*at];
        let hidden = word.word.sure < 1.0;
        for other in order[index + 1..].iter().take(8) {
            let (other_at, other) = (*other, &words[*other]);
            let near = if hidden || other.word.sure < 1.0 {
                0.5
            } else {
                0.12
            };
            let reach = near * word.size as f32;
            if other.word.text != word.word.text || other.word.place[0] - word.word.place[0] > reach
            {
                break;
            }
            let apart = (other.word.place[1] - word.word.place[1]).abs();
            if apart <= reach && !twice[*at] {
                // What can be seen stays.
                let goes = if hidden { *at } else { other_at };
                twice[goes] = true;
            }
        }
    }
    let mut index = 0;
    words.retain(|_| {
        index += 1;
        !twice[index - 1]
    });
    words
}
