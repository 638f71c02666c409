//! Writes lengths as the trade does.

use crate::{Grid, Length, System};

const FOOT: u128 = 304_800_000;
const INCH: u128 = 25_400_000;
const MILLIMETRE: u128 = 1_000_000;

pub(crate) fn write(length: Length, system: System, grid: Grid) -> String {
    let rounded = length.round(grid).as_nanometres();
    let size = u128::from(rounded.unsigned_abs());
    let text = match system {
        System::FeetInch => feet_inch(size),
        System::Metric => metric(size, grid),
    };
    let sign = if rounded < 0 { "-" } else { "" };
    format!("{sign}{text}")
}

fn feet_inch(size: u128) -> String {
    let inches = inches(size % FOOT);
    match (size / FOOT, inches) {
        (0, None) => "0 in".to_owned(),
        (0, Some(inches)) => format!("{inches} in"),
        (feet, None) => format!("{feet} ft"),
        (feet, Some(inches)) => format!("{feet} ft {inches} in"),
    }
}

/// Less than a foot in inches; nothing for nought.
fn inches(size: u128) -> Option<String> {
    let (whole, part) = (size / INCH, size % INCH);
    if size == 0 {
        return None;
    }
    // 25 400 000 is 2^6 times an odd number, so a binary fraction of an inch is at most 64ths.
    let step = INCH / 64;
    if !part.is_multiple_of(step) {
        return Some(shortest_decimal_inches(size));
    }
    let shift = (part / step).trailing_zeros().min(6);
    let (top, bottom) = ((part / step) >> shift, 64 >> shift);
    Some(match (whole, top) {
        (whole, 0) => format!("{whole}"),
        (0, top) => format!("{top}/{bottom}"),
        (whole, top) => format!("{whole}-{top}/{bottom}"),
    })
}

/// The fewest decimals of an inch that still mean this nanometre and no other; eight always do.
fn shortest_decimal_inches(size: u128) -> String {
    let mut power = 1;
    for places in 0..8 {
        let decimals = nearest(size * power, INCH);
        if nearest(decimals * INCH, power) == size {
            return decimal(decimals, places);
        }
        power *= 10;
    }
    decimal(nearest(size * power, INCH), 8)
}

fn metric(size: u128, grid: Grid) -> String {
    let step = u128::from(grid.step().as_nanometres().unsigned_abs());
    let metres = [
        (0, 1000 * MILLIMETRE),
        (1, 100 * MILLIMETRE),
        (2, 10 * MILLIMETRE),
    ];
    let places = metres
        .into_iter()
        .find(|&(_, unit)| step.is_multiple_of(unit));
    if let Some((places, unit)) = places {
        return format!("{} m", decimal(size / unit, places));
    }
    let text = decimal(size, 6);
    let text = text.trim_end_matches('0').trim_end_matches('.');
    format!("{text} mm")
}

/// A count of decimal parts, with the point so many places from its end.
pub(crate) fn decimal(parts: u128, places: usize) -> String {
    if places == 0 {
        return parts.to_string();
    }
    let digits = format!("{parts:0width$}", width = places + 1);
    let (whole, part) = digits.split_at(digits.len() - places);
    format!("{whole}.{part}")
}

/// `top / bottom` to the nearest whole, half up.
pub(crate) fn nearest(top: u128, bottom: u128) -> u128 {
    (2 * top + bottom) / (2 * bottom)
}
