//! The plan: the grid of the bows and their posts from above, with what is needed to peg and square it.

use measure::Length;

use super::dimension::{Chain, STEP, chain, dimension, place_along};
use super::elevation::HouseEnd;
use super::line::{tape, thickness};
use super::openings::{Opening, openings};
use super::sheet::{Anchor, Letters, LineType, MM, Sheet};
use super::svg::{PathText, Spot};
use crate::graph::{Frame, Path};

/// The longest that the house is drawn, in drawing units, and the widest.
const LONGEST: f64 = 860.0;
const WIDEST: f64 = 640.0;
/// How far the bows' centre lines stand out on either side.
const OUT: f64 = 6.0 * MM;
/// Radius of a bow's number.
const BALLOON: f64 = 3.0 * MM;
const UP: Spot = Spot { u: 0.0, v: -1.0 };
const RIGHT: Spot = Spot { u: 1.0, v: 0.0 };

/// Draws the plan: the front at the left, the house's left side at the top.
pub fn plan(frame: &Frame) -> String {
    let (length, half) = (frame.length.to_metres(), frame.width.to_metres() / 2.0);
    let scale = (LONGEST / length.max(0.1)).min(WIDEST / (2.0 * half).max(0.1));
    let at = |x: f64, y: f64| Spot::new(y * scale, x * scale);
    let mut sheet = Sheet::default();

    bows(&mut sheet, frame, half, &at);
    for (x, out) in [(-half, OUT / 2.0), (0.0, 0.0), (half, OUT / 2.0)] {
        let ends = [at(x, 0.0).plus(RIGHT, -out), at(x, length).plus(RIGHT, out)];
        sheet.line(LineType::Centre, &ends);
    }
    for end in HouseEnd::BOTH {
        end_wall(&mut sheet, frame, end, half, &at);
    }
    posts(&mut sheet, frame, scale);

    let diagonal = (2.0 * half).hypot(length);
    let (from, to) = (at(half, 0.0), at(-half, length));
    sheet.line(LineType::Narrow, &[from, to]);
    // The figures stand in the first part of it, clear of the middle line.
    let part = from.plus(to.minus(from), 0.5);
    let text = format!("diagonal {}", tape(frame, diagonal));
    let (spot, angle) = place_along(from, part, Letters::Figures, false);
    sheet.text_over_lines(spot, Letters::Figures, Anchor::Middle, &text, angle);

    let over = at(-half, 0.0).v - OUT - 2.0 * BALLOON;
    spacings(&mut sheet, frame, over, scale);
    let corners = [Spot::new(0.0, over), Spot::new(length * scale, over)];
    let long = frame.length.tape(frame.system);
    dimension(&mut sheet, corners, UP, 3.0 * MM + STEP, &long);
    let beyond = length * scale + 16.0 * MM;
    let wide = frame.width.tape(frame.system);
    let side = [
        Spot::new(beyond, half * scale),
        Spot::new(beyond, -half * scale),
    ];
    dimension(&mut sheet, side, RIGHT, 3.0 * MM, &wide);

    sheet.title("Plan");
    let says = format!(
        "{} from above: {} bows, {} long, {wide} wide, {text} for squaring",
        frame.title, frame.bows, long
    );
    sheet.finish("plan", &says)
}

/// Centre lines of the bows, numbered on both sides: every one where there is room, else every second, fifth, tenth,
/// and always the first and the last.
fn bows(sheet: &mut Sheet, frame: &Frame, half: f64, at: &impl Fn(f64, f64) -> Spot) {
    let places: Vec<f64> = frame.stations.iter().map(|s| s.to_metres()).collect();
    let (Some(first), Some(last)) = (places.first(), places.last()) else {
        return;
    };
    let apart = |from: f64, to: f64| at(0.0, to).u - at(0.0, from).u;
    let room = 2.0 * BALLOON + MM;
    let closest = (places.windows(2))
        .map(|pair| apart(pair[0], pair[1]))
        .fold(f64::MAX, f64::min);
    let every = [1, 2, 5, 10, 20, 50].into_iter();
    let every = (every.clone().find(|n| *n as f64 * closest >= room)).unwrap_or(100);
    for (bow, place) in places.iter().enumerate() {
        let number = bow + 1;
        let is_end = bow == 0 || number == places.len();
        let clear = apart(*first, *place) >= room && apart(*place, *last) >= room;
        let numbered = is_end || (number % every == 0 && clear);
        let out = if numbered { OUT } else { OUT / 2.0 };
        let ends = [-1.0, 1.0].map(|side| {
            let foot = at(side * half, *place);
            Spot::new(foot.u, foot.v + side * out)
        });
        sheet.line(LineType::Centre, &ends);
        if numbered {
            for (end, side) in ends.into_iter().zip([-1.0, 1.0]) {
                let middle = Spot::new(end.u, end.v + side * BALLOON);
                balloon(sheet, middle, number);
            }
        }
    }
}

/// A bow's number in its circle.
fn balloon(sheet: &mut Sheet, middle: Spot, number: usize) {
    sheet.circle(LineType::Narrow, middle, BALLOON);
    let baseline = Spot::new(middle.u, middle.v + Letters::Small.size() * 0.36);
    sheet.text(
        baseline,
        Letters::Small,
        Anchor::Middle,
        &number.to_string(),
    );
}

/// An end wall as a wide line, open where a door is.
fn end_wall(
    sheet: &mut Sheet,
    frame: &Frame,
    end: HouseEnd,
    half: f64,
    at: &impl Fn(f64, f64) -> Spot,
) {
    let y = end.y(frame);
    let doors: Vec<Opening> = (openings(frame, end).into_iter())
        .filter(|opening| opening.to_ground)
        .collect();
    let mut from = -half;
    for door in &doors {
        sheet.line(LineType::Wide, &[at(from, y), at(door.left, y)]);
        sheet.line(LineType::Narrow, &[at(door.left, y), at(door.right, y)]);
        from = from.max(door.right);
    }
    sheet.line(LineType::Wide, &[at(from, y), at(half, y)]);

    let mut label = end.says().to_owned();
    for door in &doors {
        if let Some(holds) = &door.holds {
            label = format!("{label}: {holds}");
        }
    }
    // Clear of the numbers of the end bow, since it may be longer than the house is wide.
    let clear = BALLOON + 1.5 * MM;
    let off = match end {
        HouseEnd::Front => -clear,
        HouseEnd::Back => clear + Letters::Figures.size() * 0.72,
    };
    let spot = at(0.0, y).plus(RIGHT, off);
    sheet.slanted_text(spot, Letters::Figures, Anchor::Middle, &label, -90.0);
}

/// Every upright that stands in or on the ground, to its thickness.
fn posts(sheet: &mut Sheet, frame: &Frame, scale: f64) {
    for (index, piece) in frame.pieces.iter().enumerate() {
        let member = &frame.members[piece.member];
        let Path::Straight(one, other) = member.path else {
            continue;
        };
        let upright = (one.x - other.x).hypot(one.y - other.y) < 1e-6;
        if !upright || member.on.is_some() || one.z.min(other.z) > 1e-6 {
            continue;
        }
        let part = frame.parts.iter().find(|p| p.mark == piece.mark);
        let radius = part.and_then(thickness).unwrap_or(0.0) / 2.0 * scale;
        let middle = Spot::new(one.y * scale, one.x * scale);
        let radius = radius.max(0.7 * MM);
        sheet.include_round(middle, radius);
        let mut path = PathText::default();
        path.circle(middle, radius);
        sheet.piece(frame, index, LineType::Wide, None, path);
    }
}

/// Bays of like length are measured together: "12 × 4 ft".
fn spacings(sheet: &mut Sheet, frame: &Frame, level: f64, scale: f64) {
    let (places, figures) = bay_runs(frame);
    let spots: Vec<Spot> = (places.iter())
        .map(|station| Spot::new(station.to_metres() * scale, level))
        .collect();
    if spots.len() < 2 {
        return;
    }
    chain(
        sheet,
        &Chain {
            places: &spots,
            aside: UP,
            distance: 3.0 * MM,
            figures: &figures,
        },
    );
    let line = level - 3.0 * MM;
    for station in &frame.stations {
        super::dimension::stroke(sheet, Spot::new(station.to_metres() * scale, line));
    }
}

/// Runs of like bays: where each begins, and the last ends, and what each measures.
pub(super) fn bay_runs(frame: &Frame) -> (Vec<Length>, Vec<String>) {
    let mut runs: Vec<(Length, i64)> = Vec::new();
    for pair in frame.stations.windows(2) {
        let bay = pair[1] - pair[0];
        match runs.last_mut() {
            Some((like, count)) if *like == bay => *count += 1,
            _ => runs.push((bay, 1)),
        }
    }
    let mut places: Vec<Length> = frame.stations.first().copied().into_iter().collect();
    let mut at = 0;
    for (_, count) in &runs {
        at += *count as usize;
        places.extend(frame.stations.get(at));
    }
    let figures = (runs.into_iter())
        .map(|(bay, count)| match count {
            1 => bay.tape(frame.system),
            _ => format!("{count} × {}", bay.tape(frame.system)),
        })
        .collect();
    (places, figures)
}
