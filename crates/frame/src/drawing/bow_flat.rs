//! One bent piece as it lies flat on the ground: what a tape can measure of it.

use measure::Length;

use super::dimension::dimension;
use super::line::thickness;
use super::sheet::{Anchor, Letters, LineType, MM, Sheet};
use super::svg::{PathText, Spot, escape, figure};
use crate::graph::Frame;
use crate::part::{Bend, End, Part, Stretch};

/// The longest and the highest that a piece is drawn, in drawing units.
const LONGEST: f64 = 860.0;
const HIGHEST: f64 = 620.0;
/// A tube is drawn no thinner than this, so that its swage can be seen.
const THINNEST: f64 = 12.0;
/// A swaged end is drawn this much of the tube.
const SWAGED: f64 = 0.7;
/// Points of the curve are at most this far apart, in radians.
const STEP: f64 = 0.02;

/// Draws the piece of a mark; nothing for what is not bent.
pub fn bow_flat(frame: &Frame, mark: &str) -> Option<String> {
    let part = frame.parts.iter().find(|p| p.mark.0 == mark)?;
    let bend = part.bend.as_ref()?;
    let curve = Curve::lying(&bend.stretches)?;
    let size = curve.size();
    let scale = (LONGEST / size.0.max(0.1)).min(HIGHEST / size.1.max(0.1));
    let tape = |length: Length| length.tape(frame.system);

    let mut sheet = Sheet::default();
    let thick = (thickness(part).unwrap_or(0.0) * scale).max(THINNEST);
    draw_tube(&mut sheet, part, &curve, scale, thick);
    draw_measures(&mut sheet, frame, bend, &curve, scale, thick);

    let whole: Length = (bend.stretches.iter()).fold(Length::ZERO, |sum, s| {
        sum.checked_add(s.length).unwrap_or(sum)
    });
    let words = format!("{} long along the tube", tape(whole));
    let below = Spot::new(0.0, sheet.extent().bottom + 8.0 * MM);
    sheet.text(below, Letters::Figures, Anchor::Start, &words);
    sheet.title(&format!(
        "{} · {}, flat on the ground",
        part.mark, part.noun
    ));
    let says = format!(
        "{} {} lying flat: chord {}, rise {}, {words}",
        part.mark,
        part.noun,
        tape(bend.chord),
        tape(bend.rise)
    );
    Some(sheet.finish("bow-flat", &says))
}

/// The axis of a bent piece, its ends on a level line and its back up; in metres, heights negative.
struct Curve {
    /// Points with the length along the tube there.
    points: Vec<(Spot, f64)>,
    /// Per stretch: its first and last point.
    spans: Vec<(usize, usize)>,
}

impl Curve {
    fn lying(stretches: &[Stretch]) -> Option<Self> {
        let mut points = vec![(Spot::new(0.0, 0.0), 0.0)];
        let mut spans = Vec::new();
        // The piece starts upward and bends to the right, as the left half of a bow does.
        let mut heading = -std::f64::consts::FRAC_PI_2;
        for stretch in stretches {
            let first = points.len() - 1;
            let length = stretch.length.to_metres();
            let turn = stretch.radius.map_or(0.0, |r| length / r.to_metres());
            if !turn.is_finite() || turn.abs() > 12.0 || length <= 0.0 {
                return None;
            }
            let steps = (turn.abs() / STEP).ceil().max(1.0);
            for _ in 0..steps as usize {
                let (spot, along) = points[points.len() - 1];
                // The chord of a small arc points along its middle heading.
                let half_turn = turn / steps / 2.0;
                let chord = match half_turn.abs() > 1e-12 {
                    true => length / steps * half_turn.sin() / half_turn,
                    false => length / steps,
                };
                let way = heading + half_turn;
                let on = Spot::new(way.cos(), way.sin());
                points.push((spot.plus(on, chord), along + length / steps));
                heading += turn / steps;
            }
            spans.push((first, points.len() - 1));
        }
        let last = points.last()?.0;
        // Turn it so that its ends are level.
        let level = last.unit();
        for (spot, _) in &mut points {
            *spot = Spot::new(spot.dot(level), spot.dot(level.turned()));
        }
        (points.len() > 1).then_some(Self { points, spans })
    }

    fn size(&self) -> (f64, f64) {
        let over = |f: fn(Spot) -> f64| {
            let values = self.points.iter().map(|(spot, _)| f(*spot));
            let (low, high) = values.fold((f64::MAX, f64::MIN), |(l, h), v| (l.min(v), h.max(v)));
            high - low
        };
        (over(|s| s.u), over(|s| s.v))
    }

    fn whole(&self) -> f64 {
        self.points.last().map_or(0.0, |(_, along)| *along)
    }

    /// Place and direction at a length along the tube, drawn at a scale.
    fn at(&self, along: f64, scale: f64) -> (Spot, Spot) {
        let next = (self.points.iter().position(|(_, s)| *s >= along)).unwrap_or(usize::MAX);
        let next = next.clamp(1, self.points.len() - 1);
        let ((a, from), (b, to)) = (self.points[next - 1], self.points[next]);
        let step = b.minus(a);
        let share = (along - from) / (to - from);
        let spot = a.plus(step, share);
        (Spot::new(spot.u * scale, spot.v * scale), step.unit())
    }
}

/// The tube's two edges, closed at its ends, its axis as a centre line, the swaged ends narrower.
fn draw_tube(sheet: &mut Sheet, part: &Part, curve: &Curve, scale: f64, thick: f64) {
    let whole = curve.whole();
    let swage = |end: Option<End>| match end {
        Some(End::Swaged(over)) => over.to_metres().min(whole / 3.0),
        _ => 0.0,
    };
    let ends = part.ends.map_or([None; 2], |ends| ends.map(Some));
    let (start, end) = (swage(ends[0]), whole - swage(ends[1]));
    // A swage that would be too short to see at this scale is still drawn as a step.
    let seen = |along: f64| match along {
        along if along < start || along > end => thick * SWAGED / 2.0,
        _ => thick / 2.0,
    };
    let mut lengths: Vec<f64> = curve.points.iter().map(|(_, along)| *along).collect();
    for step in [start, end] {
        lengths.extend([step - 1e-9, step + 1e-9]);
    }
    lengths.retain(|along| (0.0..=whole).contains(along));
    lengths.sort_by(f64::total_cmp);
    let edge = |side: f64| -> Vec<Spot> {
        (lengths.iter())
            .map(|along| {
                let (spot, direction) = curve.at(*along, scale);
                spot.plus(direction.turned(), side * seen(*along))
            })
            .collect()
    };
    let mut outline = edge(-1.0);
    outline.extend(edge(1.0).into_iter().rev());
    outline.iter().for_each(|spot| sheet.include(*spot));
    let mut path = PathText::default();
    path.line(outline);
    path.close();
    sheet.solid(&format!(
        "<path data-mark=\"{}\" stroke-width=\"{}\" d=\"{}\"/>",
        escape(&part.mark.0),
        figure(LineType::Wide.width()),
        path.finish()
    ));
    let axis: Vec<Spot> = (curve.points.iter())
        .map(|(spot, _)| Spot::new(spot.u * scale, spot.v * scale))
        .collect();
    sheet.line(LineType::Centre, &axis);
}

fn draw_measures(
    sheet: &mut Sheet,
    frame: &Frame,
    bend: &Bend,
    curve: &Curve,
    scale: f64,
    thick: f64,
) {
    let tape = |length: Length| length.tape(frame.system);
    let place = |spot: Spot| Spot::new(spot.u * scale, spot.v * scale);
    let first = Spot::new(0.0, 0.0);
    let last = curve.points.last().map_or(first, |(spot, _)| place(*spot));
    let down = Spot::new(0.0, 1.0);
    let chord = format!("chord {}", tape(bend.chord));
    dimension(sheet, [first, last], down, 12.0 * MM, &chord);

    for (i, (stretch, (from, to))) in bend.stretches.iter().zip(&curve.spans).enumerate() {
        let (start, end) = (curve.points[*from].1, curve.points[*to].1);
        if i > 0 {
            let (spot, direction) = curve.at(start, scale);
            let across = direction.turned();
            let reach = thick / 2.0 + 2.0 * MM;
            sheet.line(
                LineType::Narrow,
                &[spot.plus(across, -reach), spot.plus(across, reach)],
            );
        }
        let (middle, direction) = curve.at((start + end) / 2.0, scale);
        label_stretch(sheet, frame, stretch, middle, direction, thick);
    }

    // The rise is measured beside the piece, since many a bow hardly rises.
    let top = (curve.points.iter())
        .map(|(spot, _)| place(*spot))
        .fold(first, |top, spot| if spot.v < top.v { spot } else { top });
    sheet.line(LineType::Narrow, &[first, last]);
    let edge = sheet.extent().right;
    let beside = |v: f64| Spot::new(edge, v);
    sheet.line(LineType::Narrow, &[top, beside(top.v)]);
    let rise = format!("rise {}", tape(bend.rise));
    let right = Spot::new(1.0, 0.0);
    let ends = [beside(first.v), beside(top.v)];
    dimension(sheet, ends, right, 6.0 * MM, &rise);
}

/// The stretch's length outside of the tube, on a leader; of an arc its radius too.
fn label_stretch(
    sheet: &mut Sheet,
    frame: &Frame,
    stretch: &Stretch,
    middle: Spot,
    direction: Spot,
    thick: f64,
) {
    let length = stretch.length.tape(frame.system);
    let outward = direction.turned();
    let outward = if outward.v > 0.0 {
        Spot::new(-outward.u, -outward.v)
    } else {
        outward
    };
    let edge = middle.plus(outward, thick / 2.0);
    let elbow = middle.plus(outward, thick / 2.0 + 7.0 * MM);
    sheet.line(LineType::Narrow, &[edge, elbow]);
    let lines = match stretch.radius {
        Some(radius) => vec![
            format!("R {}", radius.tape(frame.system)),
            format!("arc {length}"),
        ],
        None => vec![format!("straight {length}")],
    };
    let size = Letters::Figures.size();
    let anchor = match outward.u {
        u if u < -0.3 => Anchor::End,
        u if u > 0.3 => Anchor::Start,
        _ => Anchor::Middle,
    };
    for (i, line) in lines.iter().rev().enumerate() {
        let spot = Spot::new(
            elbow.u + outward.u * MM,
            elbow.v - MM - i as f64 * size * 1.2,
        );
        sheet.text_over_lines(spot, Letters::Figures, anchor, line, 0.0);
    }
}
