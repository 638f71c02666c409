//! What about a picture stands in the way of reading it, and what to do about it.

use photo::Sheet;

use crate::words::Word;

/// An edge that takes this share of a word's height is soft: sharp ones take a twentieth, and from about here (six pixels
/// of forty) a third of the words on the test pictures were misread.
const SOFT: f32 = 0.15;
/// The same where words are read poorly.
const SOFT_OF_POOR: f32 = 0.1;
/// An edge of this many pixels is soft in any letters of a list.
const SOFT_ALONE: f32 = 6.0;
/// Words lower than this in the picture itself have too few pixels for letters.
const LOW: f32 = 13.0;
/// Where the middle word is read less surely than this, something is wrong.
const POORLY: f32 = 0.7;
/// Small letters that are read as surely as this are no fault.
const WELL: f32 = 0.9;

/// What is wrong with a picture.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum Fault {
    /// Its edges are soft.
    #[error(
        "the picture is not sharp enough to be read surely; wipe the lens and take it again in good light, holding still"
    )]
    Soft,
    /// Its letters have too few pixels.
    #[error(
        "the letters are too small in the picture to be read surely; take it again nearer, so that the page fills the picture"
    )]
    Small,
    /// Neither, and yet its words are read poorly.
    #[error(
        "the words were read poorly; hold every row against the paper, or take the picture again in even light"
    )]
    Poor,
}

impl Fault {
    /// Returns what is wrong with a page and the words read on it; nothing where it is as it should be.
    pub(crate) fn of(sheet: &Sheet, words: &[Word]) -> Option<Self> {
        let height = middle(words.iter().map(|w| (w.place[3] - w.place[1]) as f32));
        let sure = middle(words.iter().map(|word| word.sure));
        // First: what is enlarged comes out soft as well.
        let low = height.is_some_and(|height| height * taken_at(sheet) < LOW);
        if low && sure.is_some_and(|sure| sure < WELL) {
            return Some(Self::Small);
        }
        // Words that are read poorly have places that are no measure of the letters.
        let poorly = sure.is_none_or(|sure| sure < POORLY);
        let share = if poorly { SOFT_OF_POOR } else { SOFT };
        let most = height.map_or(SOFT_ALONE, |height| (share * height).min(SOFT_ALONE));
        if sheet.blur.is_some_and(|blur| blur > most) {
            return Some(Self::Soft);
        }
        (poorly && !words.is_empty()).then_some(Self::Poor)
    }
}

/// How many pixels of the picture one of the flat page comes from, along its longest side.
fn taken_at(sheet: &Sheet) -> f32 {
    let side = |i: usize| {
        let [a, b] = [sheet.corners[i], sheet.corners[(i + 1) % 4]];
        (a[0] - b[0]).hypot(a[1] - b[1])
    };
    let longest = (0..4).map(side).fold(0.0, f32::max);
    longest / sheet.page.width().max(sheet.page.height()).max(1) as f32
}

fn middle(values: impl Iterator<Item = f32>) -> Option<f32> {
    let mut values: Vec<f32> = values.collect();
    values.sort_by(f32::total_cmp);
    values.get(values.len() / 2).copied()
}
