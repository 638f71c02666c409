//! Two lists beside each other on one page, one below the other.

use super::cells::{self, Space};
use super::lines::{Piece, TextLine};

/// Two lists beside each other: where the right one begins, and how far right of the left one it stands.
#[derive(Clone, Copy, Debug)]
pub struct Beside {
    border: f32,
    shift: f32,
}

/// Returns the two lists when a heading says its words twice.
pub fn beside(heading: &TextLine<'_>, space: Space) -> Option<Beside> {
    let words = &heading.pieces;
    let half = words.len() / 2;
    let (left, right) = words.split_at(half);
    let twice = words.len().is_multiple_of(2)
        && half >= 2
        && left
            .iter()
            .zip(right)
            .all(|(a, b)| a.text.eq_ignore_ascii_case(b.text));
    let shift = right.first()?.place[0] - left.first()?.place[0];
    let gap = right.first()?.place[0] - left.last()?.place[2];
    (twice && gap > space.width(heading.height()) && shift > 0.0).then(|| Beside {
        border: right.first().map_or(0.0, |piece| piece.place[0]) - space.width(heading.height()),
        shift,
    })
}

impl Beside {
    /// Splits lines of one page into those of the left list and those of the right one, which is moved over the left
    /// one. A text that runs on over the border is the left one's.
    pub fn split<'a>(
        self,
        lines: Vec<TextLine<'a>>,
        space: Space,
    ) -> (Vec<TextLine<'a>>, Vec<TextLine<'a>>) {
        let (mut left, mut right) = (Vec::new(), Vec::new());
        for line in lines {
            let mut sides: [Vec<Piece<'a>>; 2] = [Vec::new(), Vec::new()];
            for run in cells::runs(&line, space) {
                // Numbers set to the right stand a little left of the words above them.
                let side = usize::from(
                    cells::span(run)[1] > self.border && {
                        let [from, to] = cells::span(run);
                        f32::midpoint(from, to) > self.border
                    },
                );
                sides[side].extend(run.iter().cloned());
            }
            let [on_left, mut on_right] = sides;
            for piece in &mut on_right {
                piece.place[0] -= self.shift;
                piece.place[2] -= self.shift;
            }
            for (pieces, side) in [(on_left, &mut left), (on_right, &mut right)] {
                if !pieces.is_empty() {
                    side.push(TextLine {
                        pieces,
                        ..line.clone()
                    });
                }
            }
        }
        (left, right)
    }
}
