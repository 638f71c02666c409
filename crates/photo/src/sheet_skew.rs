//! The slant of the lines of text, as what remains once a page is laid flat: seen along the right slant, lines and the gaps
//! between them differ most.

use image::GrayImage;

/// The most slant that is looked for, in degrees either way, and the steps of the two searches.
const MOST: f32 = 8.0;
const COARSE: f32 = 0.25;
const FINE: f32 = 0.02;
/// Darker than this is ink.
const INK: u8 = 140;
/// Enough dots to see the lines by, and too few to tell anything.
const MANY: usize = 60_000;
const FEW: usize = 300;
/// The best slant must stand out this much beside no slant at all, or the page is left as it is.
const BETTER: f64 = 1.01;

/// Returns by how much the lines of text fall to the right, in radians; 0 where there are too few.
pub(crate) fn slant(page: &GrayImage) -> f32 {
    let dots = dots(page);
    if dots.len() < FEW {
        return 0.0;
    }
    let high = page.height() as usize + page.width() as usize;
    let worth = |degrees: f32| contrast(&dots, degrees, high);
    let steps = (MOST / COARSE) as i32;
    let rough = best((-steps..=steps).map(|n| n as f32 * COARSE), worth);
    let steps = (COARSE / FINE) as i32;
    let fine = best((-steps..=steps).map(|n| rough + n as f32 * FINE), worth);
    // At the end of the search it is no slant of a page, but something else that lies askew.
    if fine.abs() > MOST - COARSE || worth(fine) < worth(0.0) * BETTER {
        return 0.0;
    }
    fine.to_radians()
}

fn best(angles: impl Iterator<Item = f32>, worth: impl Fn(f32) -> f64) -> f32 {
    let weighed = angles.map(|angle| (angle, worth(angle)));
    weighed
        .max_by(|a, b| a.1.total_cmp(&b.1))
        .map_or(0.0, |(angle, _)| angle)
}

/// The places of dark pixels that have a light one beneath: the feet of letters, which stand on the line. Thinned out
/// evenly where there are many.
fn dots(page: &GrayImage) -> Vec<[f32; 2]> {
    let wide = page.width() as usize;
    let light = page.as_raw();
    let mut dots = Vec::new();
    for at in 0..light.len().saturating_sub(wide) {
        if light[at] < INK && light[at + wide] >= INK {
            dots.push([(at % wide) as f32, (at / wide) as f32]);
        }
    }
    let step = dots.len().div_ceil(MANY).max(1);
    dots.into_iter().step_by(step).collect()
}

fn contrast(dots: &[[f32; 2]], degrees: f32, high: usize) -> f64 {
    let (sine, cosine) = degrees.to_radians().sin_cos();
    let mut lines = vec![0u32; 2 * high + 2];
    for [x, y] in dots {
        let line = (y * cosine - x * sine + high as f32).max(0.0) as usize;
        lines[line.min(2 * high + 1)] += 1;
    }
    lines.iter().map(|&n| f64::from(n) * f64::from(n)).sum()
}
