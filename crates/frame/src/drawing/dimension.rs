//! Dimensions after ISO 129: extension lines, a dimension line between oblique strokes, figures over it.

use super::sheet::{Anchor, Letters, LineType, MM, Sheet};
use super::svg::{Spot, text_width};

/// Between the thing and its extension line.
const CLEAR: f64 = 1.5 * MM;
/// How far an extension line runs on past the dimension line.
const PAST: f64 = 1.5 * MM;
/// Between the dimension line and its figures.
pub(super) const LIFT: f64 = 1.8 * MM;
/// From one dimension line to the next that is parallel to it.
pub(super) const STEP: f64 = 9.0 * MM;

/// Places of the drawing in one row, measured each to the next.
pub(super) struct Chain<'a> {
    /// What is measured between, in order.
    pub places: &'a [Spot],
    /// Which way from the places the dimension line lies; of length one.
    pub aside: Spot,
    /// How far off, from the farthest place.
    pub distance: f64,
    /// One less than places.
    pub figures: &'a [String],
}

/// One measure between two places.
pub(super) fn dimension(
    sheet: &mut Sheet,
    [from, to]: [Spot; 2],
    aside: Spot,
    distance: f64,
    figures: &str,
) {
    chain(
        sheet,
        &Chain {
            places: &[from, to],
            aside,
            distance,
            figures: &[figures.to_owned()],
        },
    );
}

/// Measures in a row. All their figures are of one height, the largest that fits; what fits at none stands by turns
/// over and under the line.
pub(super) fn chain(sheet: &mut Sheet, chain: &Chain) {
    let feet = feet(chain);
    for (place, foot) in chain.places.iter().zip(&feet) {
        let length = foot.minus(*place).dot(chain.aside);
        if length > CLEAR {
            let start = place.plus(chain.aside, CLEAR);
            sheet.line(LineType::Narrow, &[start, foot.plus(chain.aside, PAST)]);
        }
    }
    sheet.line(LineType::Narrow, &feet);
    feet.iter().for_each(|foot| stroke(sheet, *foot));

    let fits = |letters: Letters| {
        (feet.windows(2).zip(chain.figures)).all(|(pair, figures)| {
            text_width(figures, letters.size()) < pair[1].minus(pair[0]).length() - MM
        })
    };
    if let ([from, to], [figures]) = (feet.as_slice(), chain.figures)
        && !fits(Letters::Figures)
        && chain.aside.u.abs() > 0.9
    {
        write_beside(sheet, from.middle(*to), chain.aside, figures);
        return;
    }
    let letters = match fits(Letters::Figures) || feet.len() == 2 {
        true => Letters::Figures,
        false => Letters::Small,
    };
    let mut under = false;
    for (pair, figures) in feet.windows(2).zip(chain.figures) {
        let room = pair[1].minus(pair[0]).length() - MM;
        under = text_width(figures, letters.size()) >= room && feet.len() > 2 && !under;
        match under {
            false => write_along(sheet, pair[0], pair[1], letters, figures, false),
            // Wider than its measure, it lies over the extension lines of the next row.
            true => {
                let (at, angle) = place_along(pair[0], pair[1], letters, true);
                sheet.text_over_lines(at, letters, Anchor::Middle, figures, angle);
            }
        }
    }
}

/// Figures too long for a short upright dimension: level, on the side away from what is measured.
fn write_beside(sheet: &mut Sheet, middle: Spot, aside: Spot, figures: &str) {
    let anchor = match aside.u > 0.0 {
        true => Anchor::Start,
        false => Anchor::End,
    };
    let spot = middle.plus(aside, 2.0 * MM);
    let baseline = Spot::new(spot.u, spot.v + Letters::Figures.size() * 0.36);
    sheet.text(baseline, Letters::Figures, anchor, figures);
}

/// Where the extension lines meet the dimension line.
fn feet(chain: &Chain) -> Vec<Spot> {
    let farthest = (chain.places.iter())
        .map(|place| place.dot(chain.aside))
        .fold(f64::MIN, f64::max);
    let level = farthest + chain.distance;
    (chain.places.iter())
        .map(|place| place.plus(chain.aside, level - place.dot(chain.aside)))
        .collect()
}

/// A dimension's end: a short oblique stroke.
pub(super) fn stroke(sheet: &mut Sheet, at: Spot) {
    let half = 1.2 * MM;
    let corner = |side: f64| Spot::new(at.u + side * half, at.v - side * half);
    sheet.line(LineType::Wide, &[corner(-1.0), corner(1.0)]);
}

/// Text along a line, read from below or from the right, over it or under it.
pub(super) fn write_along(
    sheet: &mut Sheet,
    from: Spot,
    to: Spot,
    letters: Letters,
    text: &str,
    under: bool,
) {
    let (at, angle) = place_along(from, to, letters, under);
    sheet.slanted_text(at, letters, Anchor::Middle, text, angle);
}

/// Where the middle of such a text stands, and how it is turned.
pub(super) fn place_along(from: Spot, to: Spot, letters: Letters, under: bool) -> (Spot, f64) {
    let step = to.minus(from);
    let mut angle = step.v.atan2(step.u).to_degrees();
    if angle > 89.9 {
        angle -= 180.0;
    } else if angle <= -90.1 {
        angle += 180.0;
    }
    let down = Spot::new(angle.to_radians().cos(), angle.to_radians().sin()).turned();
    let lift = match under {
        false => -LIFT,
        true => LIFT + letters.size() * 0.72,
    };
    (from.middle(to).plus(down, lift), angle)
}
