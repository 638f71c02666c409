//! One part drawn small: a tube's end and its two ends in side view, a bolt in its length, a channel's section.
//!
//! Tubes are drawn to one scale, so that 1-5/8 looks bigger than 1-3/8 beside it; so are fasteners to theirs.

use std::fmt::Write as _;

use measure::Length;

use super::svg::INK;
use crate::part::{End, Part, Section};

const WIDE: f64 = 220.0;
const HIGH: f64 = 60.0;
const MIDDLE: f64 = HIGH / 2.0;
/// Drawing units an inch of tube diameter.
const TUBE_SCALE: f64 = 24.0;
/// Drawing units an inch of a fastener.
const FASTENER_SCALE: f64 = 44.0;

/// Draws the part; nothing for what has no section to draw. It is decoration: the description says it all.
pub fn part_drawing(part: &Part) -> Option<String> {
    let shape = part_shape(part)?;
    Some(format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"part\" viewBox=\"0 0 {WIDE} {HIGH}\" aria-hidden=\"true\" \
         fill=\"none\" stroke=\"{INK}\" stroke-width=\"2\" stroke-linejoin=\"round\"><path d=\"{shape}\"/></svg>"
    ))
}

/// The drawing as one path, in a field 220 wide and 60 high.
pub(super) fn part_shape(part: &Part) -> Option<String> {
    let mut d = String::new();
    let ends = part.ends.unwrap_or([End::Plain; 2]);
    match part.section.as_ref()? {
        Section::Tube { outside, wall, .. } => tube(&mut d, *outside, *wall, ends),
        Section::Box {
            width, depth, wall, ..
        } => square_tube(&mut d, (*width, *depth), *wall, ends),
        Section::Timber { width, depth, .. } => timber(&mut d, *width, *depth),
        Section::Cloth { .. } => cloth(&mut d),
        Section::Channel { width, depth, .. } => channel(&mut d, *width, *depth),
        Section::Wire { .. } => wire(&mut d),
        Section::Film { .. } => film(&mut d),
        Section::Fastener { diameter, size } => {
            fastener(&mut d, *diameter, part.length, size.starts_with('#'))
        }
    }
    Some(d)
}

fn circle(d: &mut String, x: f64, y: f64, r: f64) {
    let _ = write!(
        d,
        "M{:.1} {y:.1}a{r:.1} {r:.1} 0 1 0 {:.1} 0a{r:.1} {r:.1} 0 1 0 {:.1} 0",
        x - r,
        2.0 * r,
        -2.0 * r
    );
}

/// The end as an eye sees it, then both ends from the side with the middle left out.
fn tube(d: &mut String, outside: Length, wall: Length, ends: [End; 2]) {
    let r = outside.to_inches() * TUBE_SCALE / 2.0;
    let inner = r - (wall.to_inches() * TUBE_SCALE).max(1.6);
    circle(d, 26.0, MIDDLE, r);
    circle(d, 26.0, MIDDLE, inner.max(1.0));
    end_view(d, 62.0, 130.0, r, ends[0]);
    end_view(d, 214.0, 146.0, r, ends[1]);
}

fn rectangle(d: &mut String, x: f64, wide: f64, high: f64) {
    let _ = write!(
        d,
        "M{:.1} {:.1}h{wide:.1}v{high:.1}h{:.1}z",
        x - wide / 2.0,
        MIDDLE - high / 2.0,
        -wide
    );
}

/// The end with its wall, then both ends from the side, as of a round tube.
fn square_tube(d: &mut String, (width, depth): (Length, Length), wall: Length, ends: [End; 2]) {
    let largest = HIGH - 4.0;
    let [wide, high] = [width, depth].map(|side| (side.to_inches() * TUBE_SCALE).min(largest));
    let thick = (wall.to_inches() * TUBE_SCALE).max(1.6);
    rectangle(d, 30.0, wide, high);
    rectangle(
        d,
        30.0,
        (wide - 2.0 * thick).max(1.0),
        (high - 2.0 * thick).max(1.0),
    );
    end_view(d, 72.0, 136.0, high / 2.0, ends[0]);
    end_view(d, 214.0, 152.0, high / 2.0, ends[1]);
}

/// The end of a board with the cross that means sawn timber, and its length with two lines of grain.
fn timber(d: &mut String, width: Length, depth: Length) {
    // A wide board is drawn smaller, its sides still to each other as they measure.
    let side = width.max(depth).to_inches() * TUBE_SCALE;
    let scale = TUBE_SCALE * (HIGH - 8.0).min(side) / side.max(1.0);
    let (wide, high) = (width.to_inches() * scale, depth.to_inches() * scale);
    rectangle(d, 32.0, wide, high);
    let (l, r) = (32.0 - wide / 2.0, 32.0 + wide / 2.0);
    let (top, bottom) = (MIDDLE - high / 2.0, MIDDLE + high / 2.0);
    let _ = write!(
        d,
        "M{l:.1} {top:.1}L{r:.1} {bottom:.1}M{r:.1} {top:.1}L{l:.1} {bottom:.1}"
    );
    rectangle(d, 143.0, 142.0, high);
    for share in [0.33, 0.67] {
        let y = top + high * share;
        let _ = write!(d, "M80 {y:.1}q30 -4 62 0t64 0");
    }
}

/// A roll from its side, woven.
fn cloth(d: &mut String) {
    film(d);
    for x in (40..184).step_by(16) {
        let _ = write!(d, "M{x} 14V46");
    }
    d.push_str("M24 22H182M24 38H182");
}

/// One end from the side: from its mouth at `mouth` to the break at `middle`.
fn end_view(d: &mut String, mouth: f64, middle: f64, r: f64, end: End) {
    let inward = (middle - mouth).signum();
    let (top, bottom) = (MIDDLE - r, MIDDLE + r);
    match end {
        End::Plain => {
            let _ = write!(
                d,
                "M{middle} {top:.1}L{mouth} {top:.1}L{mouth} {bottom:.1}L{middle} {bottom:.1}"
            );
        }
        End::Swaged(_) => {
            let (neck, shoulder) = (mouth + 30.0 * inward, mouth + 40.0 * inward);
            let slim = r * 0.62;
            let (slim_top, slim_bottom) = (MIDDLE - slim, MIDDLE + slim);
            let _ = write!(
                d,
                "M{middle} {top:.1}L{shoulder} {top:.1}L{neck} {slim_top:.1}L{mouth} {slim_top:.1}\
                 L{mouth} {slim_bottom:.1}L{neck} {slim_bottom:.1}L{shoulder} {bottom:.1}L{middle} {bottom:.1}"
            );
        }
        End::Flattened | End::Punched => {
            let (neck, shoulder) = (mouth + 26.0 * inward, mouth + 40.0 * inward);
            let (flat_top, flat_bottom) = (MIDDLE - 2.5, MIDDLE + 2.5);
            let _ = write!(
                d,
                "M{middle} {top:.1}L{shoulder} {top:.1}L{neck} {flat_top}L{mouth} {flat_top}\
                 L{mouth} {flat_bottom}L{neck} {flat_bottom}L{shoulder} {bottom:.1}L{middle} {bottom:.1}"
            );
            if end == End::Punched {
                let hole = mouth + 12.0 * inward;
                let _ = write!(d, "M{hole} {:.1}L{hole} {:.1}", MIDDLE - 8.0, MIDDLE + 8.0);
            }
        }
    }
    // The break: a short zigzag across.
    let _ = write!(
        d,
        "M{middle} {:.1}L{:.1} {:.1}L{:.1} {:.1}L{middle} {:.1}",
        top - 4.0,
        middle + 4.0 * inward,
        MIDDLE - 4.0,
        middle - 4.0 * inward,
        MIDDLE + 4.0,
        bottom + 4.0
    );
}

/// The section of a hat channel.
fn channel(d: &mut String, width: Length, depth: Length) {
    let (half, deep) = (
        width.to_inches() * TUBE_SCALE / 2.0,
        depth.to_inches() * TUBE_SCALE,
    );
    let (top, bottom) = (MIDDLE - deep / 2.0, MIDDLE + deep / 2.0);
    let (l, r) = (52.0 - half, 52.0 + half);
    let _ = write!(
        d,
        "M{:.1} {bottom:.1}H{l:.1}V{top:.1}H{r:.1}V{bottom:.1}H{:.1}",
        l - 12.0,
        r + 12.0
    );
    let _ = write!(
        d,
        "M110 {top:.1}H214V{bottom:.1}H110zM110 {:.1}H214",
        bottom - 5.0
    );
}

fn wire(d: &mut String) {
    d.push_str("M8 40");
    for i in 0..12 {
        let _ = write!(d, "l8.5 {}", if i % 2 == 0 { -20 } else { 20 });
    }
    d.push_str("l8 0");
}

/// A roll from its side.
fn film(d: &mut String) {
    let _ = write!(d, "M24 14H196V46H24z");
    circle(d, 196.0, MIDDLE, 16.0);
    circle(d, 196.0, MIDDLE, 5.0);
}

fn fastener(d: &mut String, diameter: Length, length: Option<Length>, screw: bool) {
    let r = diameter.to_inches() * FASTENER_SCALE / 2.0;
    let Some(length) = length else {
        // Nuts and washers: from above.
        circle(d, 40.0, MIDDLE, r);
        circle(d, 40.0, MIDDLE, 2.2 * r);
        return;
    };
    let long = (length.to_inches() * FASTENER_SCALE).min(WIDE - 40.0);
    let (head, start) = (2.0 * r, 28.0);
    let _ = write!(
        d,
        "M{:.1} {:.1}H{start}V{:.1}H{:.1}z",
        start - 1.4 * r,
        MIDDLE - head,
        MIDDLE + head,
        start - 1.4 * r
    );
    let end = start + long;
    if screw {
        let _ = write!(
            d,
            "M{start} {:.1}H{:.1}L{end:.1} {MIDDLE}L{:.1} {:.1}H{start}",
            MIDDLE - r,
            end - 8.0,
            end - 8.0,
            MIDDLE + r
        );
    } else {
        let _ = write!(
            d,
            "M{start} {:.1}H{end:.1}V{:.1}H{start}",
            MIDDLE - r,
            MIDDLE + r
        );
    }
    // Threads.
    let mut x = start + if screw { 6.0 } else { long * 0.55 };
    while x < end - 9.0 {
        let _ = write!(d, "M{x:.1} {:.1}l3 {:.1}", MIDDLE - r, 2.0 * r);
        x += 6.0;
    }
}
