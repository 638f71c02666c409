//! Openings of an end wall: doors, fans, shutters.

use super::dimension::{LIFT, stroke, write_along};
use super::elevation::{HouseEnd, SAME};
use super::line::tape;
use super::sheet::{Letters, LineType, Sheet};
use super::svg::{Spot, text_width};
use crate::graph::{Frame, Path};

/// What a header closes over: a door, a fan, a shutter.
pub(super) struct Opening {
    pub left: f64,
    pub right: f64,
    pub bottom: f64,
    pub top: f64,
    /// What hangs in it.
    pub holds: Option<String>,
    /// Whether one walks through it.
    pub to_ground: bool,
}

/// The openings of an end wall, from the left of the house: where something hangs under a level member.
pub(super) fn openings(frame: &Frame, end: HouseEnd) -> Vec<Opening> {
    let y = end.y(frame);
    let levels: Vec<(f64, f64, f64)> = (frame.members.iter())
        .filter(|member| member.on.is_none())
        .filter_map(|member| match member.path {
            Path::Straight(a, b) => Some((a, b)),
            Path::Arch { .. } => None,
        })
        .filter(|(a, b)| (a.y - y).abs() < SAME && (b.y - y).abs() < SAME)
        .filter(|(a, b)| (a.z - b.z).abs() < SAME && (a.x - b.x).abs() > SAME)
        .map(|(a, b)| (a.x.min(b.x), a.x.max(b.x), a.z))
        .collect();
    let mut found: Vec<Opening> = (levels.iter())
        .filter_map(|&(left, right, top)| {
            let bottom = (levels.iter())
                .filter(|(l, r, z)| *z < top - SAME && *l < right && *r > left)
                .map(|(_, _, z)| *z)
                .fold(0.0, f64::max);
            let hung = frame.hung.iter().find(|hung| {
                let at = hung.at;
                // What stands on the ground at a side, as a crank does, is in no opening; what hangs on a sill is
                // at the sill's end.
                let edge = if bottom < SAME { -SAME } else { SAME };
                hung.outline.is_empty()
                    && (at.y - y).abs() < SAME
                    && at.x > left - edge
                    && at.x < right + edge
                    && at.z > bottom - SAME
                    && at.z < top
            })?;
            Some(Opening {
                left,
                right,
                bottom,
                top,
                holds: Some(hung.role.clone()),
                to_ground: bottom < SAME,
            })
        })
        .collect();
    found.sort_by(|a, b| a.left.total_cmp(&b.left));
    found
}

/// The clear height and the name of what hangs there, both upright, so that a narrow door has room for them.
pub(super) fn draw_opening(
    sheet: &mut Sheet,
    frame: &Frame,
    opening: &Opening,
    at: &impl Fn(f64, f64) -> Spot,
) {
    let (a, b) = (
        at(opening.left, opening.bottom),
        at(opening.right, opening.top),
    );
    let (left, right) = (a.u.min(b.u), a.u.max(b.u));
    let level = left + 0.42 * (right - left);
    let (low, high) = (Spot::new(level, a.v), Spot::new(level, b.v));
    sheet.line(LineType::Narrow, &[low, high]);
    stroke(sheet, low);
    stroke(sheet, high);
    let figures = tape(frame, opening.top - opening.bottom);
    let holds = opening.holds.as_deref().unwrap_or_default();
    let letters = letters_that_fit(level - left, high.minus(low).v.abs(), [&figures, holds]);
    write_along(sheet, low, high, letters, &figures, false);
    // A name longer than the opening would run over its frame; the list of parts has it.
    if text_width(holds, letters.size()) < high.minus(low).v.abs() {
        write_along(sheet, low, high, letters, holds, true);
    }
}

/// Figures, or small letters where those would run into what stands beside the opening, or over its ends.
fn letters_that_fit(aside: f64, along: f64, texts: [&str; 2]) -> Letters {
    let size = Letters::Figures.size();
    let fits = LIFT + size < aside && texts.iter().all(|text| text_width(text, size) < along);
    match fits {
        true => Letters::Figures,
        false => Letters::Small,
    }
}
