//! How sharp the writing on a page is, by the edges of its own strokes.

use image::GrayImage;

/// An edge falls by this much at least, of 255: what is fainter is grain.
const FALL: i32 = 110;
/// Every so many rows are looked at.
const ROWS: usize = 3;
/// Fewer edges than these tell nothing.
const FEW: usize = 400;

/// Returns the middle width of the edges from paper to ink, in pixels: the fall by its steepest step.
pub(crate) fn blur(page: &GrayImage) -> Option<f32> {
    let wide = page.width() as usize;
    let mut widths = Vec::new();
    for row in page.as_raw().chunks_exact(wide.max(1)).step_by(ROWS) {
        let (mut top, mut steepest) = (i32::from(row[0]), 0);
        for pair in row.windows(2) {
            let (before, now) = (i32::from(pair[0]), i32::from(pair[1]));
            if now < before {
                steepest = steepest.max(before - now);
                continue;
            }
            let fall = top - before;
            if fall >= FALL && steepest > 0 {
                widths.push(fall as f32 / steepest as f32);
            }
            (top, steepest) = (now, 0);
        }
    }
    if widths.len() < FEW {
        return None;
    }
    let middle = widths.len() / 2;
    let (_, width, _) = widths.select_nth_unstable_by(middle, f32::total_cmp);
    Some(*width)
}
