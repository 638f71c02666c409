//! Few words, set as large as a page lets them be.

use serde::Serialize;

/// Words in lines, and the size of their letters.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(crate) struct Headline {
    lines: Vec<String>,
    /// In millimetres.
    size: f64,
    /// What stood behind a colon or in brackets; not as large.
    aside: String,
}

/// Room for the words in millimetres: A4, the narrower sheet, less the frame around them; and what is left of its
/// height when all else on the cover has its place.
const ROOM: (f64, f64) = (164.0, 50.0);
/// How wide a letter of the mark font is, in sizes of the letter: all are alike.
const LETTER: f64 = 0.602;
/// How wide the space between words is, likewise: narrower than the font's own, so that the letters may be larger.
const SPACE: f64 = 0.6 * LETTER;
/// From line to line, in sizes of the letter.
const LINE: f64 = 1.0;
/// The most lines that are read at a glance.
const MOST_LINES: usize = 3;
/// No larger: the letters of GO are then some 36 mm high.
const LARGEST: f64 = 50.0;
/// No smaller; whoever has more to say than fits runs over the frame.
const SMALLEST: f64 = 6.0;

/// The words in capitals, in as few lines as make them largest.
pub(crate) fn headline(words: &str) -> Headline {
    let words = words.trim().trim_end_matches('.');
    let (words, aside) = apart(words);
    let words = words.to_uppercase();
    let words: Vec<&str> = words.split_whitespace().collect();
    let set = |lines: Vec<String>| {
        let longest = lines.iter().map(|line| width(line)).fold(LETTER, f64::max);
        let wide = ROOM.0 / longest;
        let high = ROOM.1 / (LINE * lines.len().max(1) as f64);
        let size = wide.min(high).clamp(SMALLEST, LARGEST);
        Headline {
            lines,
            size,
            aside: aside.clone(),
        }
    };
    let all = (1..=MOST_LINES).map(|lines| set(in_lines(&words, lines)));
    // The first of the largest: fewer lines are read sooner.
    all.reduce(|best, next| match next.size > best.size {
        true => next,
        false => best,
    })
    .unwrap_or_else(|| set(Vec::new()))
}

/// What is read from afar, and what stands behind a colon or in brackets after it.
fn apart(words: &str) -> (&str, String) {
    let split = (words.split_once(": "))
        .or_else(|| words.strip_suffix(')')?.split_once(" ("))
        .unwrap_or((words, ""));
    (split.0, frame::capitalised(split.1))
}

/// How wide a line is, in sizes of the letters.
fn width(line: &str) -> f64 {
    let letter = |c: char| if c == ' ' { SPACE } else { LETTER };
    line.chars().map(letter).sum()
}

/// The words in at most so many lines, the longest of which is as short as can be.
fn in_lines(words: &[&str], most: usize) -> Vec<String> {
    let letters = |word: &&str| word.chars().count();
    let whole = words.iter().map(letters).sum::<usize>() + words.len();
    let from = words.iter().map(letters).max().unwrap_or(0);
    let broken = |wide: usize| {
        let mut lines: Vec<String> = Vec::new();
        for word in words {
            match lines.last_mut() {
                Some(line) if line.chars().count() + 1 + letters(word) <= wide => {
                    line.push(' ');
                    line.push_str(word);
                }
                _ => lines.push((*word).to_owned()),
            }
        }
        lines
    };
    (from..=whole)
        .map(broken)
        .find(|lines| lines.len() <= most)
        .unwrap_or_default()
}
