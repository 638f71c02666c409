//! The words that the program found, out of the table that it writes.

/// A recognised word.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Word {
    /// Which line of which part of the page: words with the same stand in one line.
    pub(crate) line: [u32; 3],
    /// Left, top, right, bottom in pixels.
    pub(crate) place: [u32; 4],
    /// From 0 to 1.
    pub(crate) sure: f32,
    /// What it says.
    pub(crate) text: String,
}

/// The most words of one page.
const MOST: usize = 50_000;
/// What is left of a ruled line, a fold or a hole.
const MARKS: &[char] = &[
    '|', '_', '—', '–', '-', '~', '=', '[', ']', '{', '}', '\\', '/', '.', ',', ':', ';', '\'',
    '`', '‘', '’', '“', '”', '"', '°', '*', '»', '«',
];
/// Marks alone that are read less surely than this are no writing.
const MARKS_SURE: f32 = 0.6;

/// Reads the table: level, page, block, paragraph, line, word, left, top, width, height, sureness in per cent, text.
pub(crate) fn read(table: &str, page: [u32; 2]) -> Vec<Word> {
    let words = table.lines().filter_map(|line| word(line, page));
    words.take(MOST).collect()
}

fn word(line: &str, [wide, high]: [u32; 2]) -> Option<Word> {
    let fields: Vec<&str> = line.splitn(12, '\t').collect();
    let number = |at: usize| fields.get(at)?.parse::<u32>().ok();
    if number(0)? != 5 {
        return None;
    }
    let sure = fields.get(10)?.parse::<f32>().ok().filter(|n| *n >= 0.0)? / 100.0;
    let text = fields.get(11)?.trim();
    let only_marks = text.chars().all(|c| MARKS.contains(&c));
    if text.is_empty() || only_marks && sure < MARKS_SURE {
        return None;
    }
    let [left, top, width, height] = [number(6)?, number(7)?, number(8)?, number(9)?];
    let right = left.saturating_add(width).min(wide);
    let bottom = top.saturating_add(height).min(high);
    (left < right && top < bottom).then(|| Word {
        line: [
            number(2).unwrap_or(0),
            number(3).unwrap_or(0),
            number(4).unwrap_or(0),
        ],
        place: [left, top, right, bottom],
        sure: sure.min(1.0),
        text: text.to_owned(),
    })
}
