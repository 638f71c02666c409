//! One part drawn small: a tube's end and its two ends in side view, a bolt in its length, a channel's section.
//!
//! Tubes are drawn to one scale, so that 1-5/8 looks bigger than 1-3/8 beside it; so are fasteners to theirs.

use std::fmt::Write as _;

use measure::Length;

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
    let mut d = String::new();
    match part.section.as_ref()? {
        Section::Tube { outside, wall, .. } => tube(
            &mut d,
            *outside,
            *wall,
            part.ends.unwrap_or([End::Plain; 2]),
        ),
        Section::Box { .. } | Section::Timber { .. } | Section::Cloth { .. } => return None,
        Section::Channel { width, depth, .. } => channel(&mut d, *width, *depth),
        Section::Wire { .. } => wire(&mut d),
        Section::Film { .. } => film(&mut d),
        Section::Fastener { diameter, size } => {
            fastener(&mut d, *diameter, part.length, size.starts_with('#'))
        }
    }
    Some(format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"part\" viewBox=\"0 0 {WIDE} {HIGH}\" aria-hidden=\"true\">\
         <path d=\"{d}\"/></svg>"
    ))
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
