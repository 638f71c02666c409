//! One joint drawn large: what meets there, to one scale and at its true angle, and the hardware that holds it.

use super::joint_limbs::{Limb, Scene, Sight, at_end};
use super::part_drawing::part_shape;
use super::sheet::{Anchor, Letters, LineType, MM, Sheet};
use super::svg::{PathText, Spot, figure, text_width, wrapped};
use crate::graph::{Frame, Joint};

/// From the joint to where a member is broken off, in drawing units.
const REACH: f64 = 170.0;
/// Room for a view and the names beside it.
const VIEW: f64 = 520.0;
/// Width of the whole detail.
const WIDTH: f64 = 1_000.0;

/// The kinds of joints that the house has, each with what it is called, in the family's order.
pub fn joints_to_detail(frame: &Frame) -> Vec<(usize, &str)> {
    let mut kinds: Vec<usize> = frame.joints.iter().map(|joint| joint.kind).collect();
    kinds.sort_unstable();
    kinds.dedup();
    (kinds.into_iter())
        .filter_map(|kind| Some((kind, frame.joint_kinds.get(kind)?.says.as_str())))
        .collect()
}

/// Draws the first joint of a kind; nothing when the house has none.
///
/// In the graph all axes meet in one point. Where members cross, the detail sets them side by side as they are
/// clamped: channel and timber outside, so that film can lie on them, tube inside. What goes into a tube stays in
/// line with it.
pub fn joint_detail(frame: &Frame, kind: usize) -> Option<String> {
    let joint = typical(frame, kind)?;
    let brings = frame.joint_kinds.get(kind)?;
    let scene = Scene::of(frame, joint)?;
    let mut sheet = Sheet::default();
    let sights = scene.sights(frame);
    for (i, sight) in sights.iter().enumerate() {
        let middle = Spot::new(i as f64 * VIEW, 0.0);
        draw_view(&mut sheet, &scene, sight, middle, i == 0);
    }

    let left = sheet.extent().left;
    let under = sheet.extent().bottom + 8.0 * MM;
    let mut v = under;
    for (i, sight) in sights.iter().enumerate() {
        let lines = wrapped(&sight.says, Letters::Small.size(), 0.9 * VIEW);
        for (j, line) in lines.iter().enumerate() {
            let baseline = under + j as f64 * Letters::Small.size() * 1.3;
            let spot = Spot::new(i as f64 * VIEW, baseline);
            sheet.text(spot, Letters::Small, Anchor::Middle, line);
            v = v.max(baseline);
        }
    }
    v += 4.0 * MM;
    let mut words = Vec::new();
    for (mark, count) in &brings.hardware {
        let part = frame.parts.iter().find(|p| p.mark == *mark);
        let name = format!("{mark} × {count}");
        if let Some(shape) = part.and_then(part_shape) {
            sheet.solid(&format!(
                "<path transform=\"translate({} {})\" stroke-width=\"2\" d=\"{shape}\"/>",
                figure(left),
                figure(v)
            ));
        }
        let baseline = v + 40.0;
        let spot = Spot::new(left + 240.0, baseline);
        sheet.text(spot, Letters::Figures, Anchor::Start, &name);
        let description = part.map_or("", |p| p.description.as_str());
        let room = WIDTH - 430.0;
        let spot = Spot::new(left + 430.0, baseline);
        let next = sheet.paragraph(spot, Letters::Figures, room, description);
        v = (v + 12.0 * MM).max(next);
        words.push(format!("{count} {description}"));
    }
    sheet.include(Spot::new(left + WIDTH, v - 4.0 * MM));
    sheet.title(&brings.says);
    let says = format!(
        "{}: {}, held by {}",
        brings.says,
        scene.names(frame),
        match words.is_empty() {
            true => "nothing but itself".into(),
            false => words.join("; "),
        }
    );
    Some(sheet.finish("joint-detail", &says))
}

/// The first joint of a kind whose member goes on on both sides; else the first.
fn typical(frame: &Frame, kind: usize) -> Option<&Joint> {
    let mut joints = frame.joints.iter().filter(|joint| joint.kind == kind);
    let first = joints.clone().next()?;
    // The second bow is as good as the fiftieth.
    let inner = joints.by_ref().take(8).find(|joint| !at_end(frame, joint));
    inner.or(Some(first))
}

fn draw_view(sheet: &mut Sheet, scene: &Scene, sight: &Sight, middle: Spot, named: bool) {
    let scale = REACH / scene.reach;
    let at = |p: [f64; 3]| {
        let spot = sight.seen(p);
        Spot::new(middle.u + spot.u * scale, middle.v + spot.v * scale)
    };
    let mut limbs: Vec<&Limb> = scene.limbs.iter().collect();
    limbs.sort_by(|a, b| sight.depth(a).total_cmp(&sight.depth(b)));
    for limb in &limbs {
        let points: Vec<Spot> = limb.axis.iter().map(|p| at(*p)).collect();
        let (first, last) = (points[0], points[points.len() - 1]);
        let half = sight.half(limb) * scale;
        if last.minus(first).length() < half {
            draw_end_on(sheet, limb, sight, first.middle(last), scale);
        } else {
            draw_along(sheet, limb, &points, half);
        }
        draw_swage(sheet, limb, &at, half);
    }
    if scene.on_ground {
        draw_ground(sheet, middle, scene.ground(sight) * scale);
    }
    if named {
        let mut taken = Vec::new();
        for limb in &limbs {
            name(sheet, limb, at, &mut taken);
        }
    }
}

/// A tube from the side: two edges, closed where it ends, broken where it goes on; over what lies behind it.
fn draw_along(sheet: &mut Sheet, limb: &Limb, points: &[Spot], half: f64) {
    points.iter().for_each(|p| sheet.include_round(*p, half));
    let wide = LineType::Wide.width();
    let mut edges = PathText::default();
    edges.line(points.iter().copied());
    let edges = edges.finish();
    let mut inside = points.to_vec();
    let last = inside.len() - 1;
    for (end, beside, broken) in [(0, 1, limb.goes_on[0]), (last, last - 1, limb.goes_on[1])] {
        let inward = points[beside].minus(points[end]).unit();
        if !broken {
            inside[end] = points[end].plus(inward, wide);
            continue;
        }
        break_line(sheet, points[end], inward, half);
    }
    let mut hollow = PathText::default();
    hollow.line(inside);
    sheet.solid(&format!(
        "<path stroke-width=\"{}\" d=\"{edges}\"/><path stroke=\"#fff\" stroke-width=\"{}\" d=\"{}\"/>",
        figure(2.0 * half + wide),
        figure((2.0 * half - wide).max(wide)),
        hollow.finish()
    ));
    let outward = |end: usize, beside: usize| points[end].minus(points[beside]).unit();
    let mut axis = vec![points[0].plus(outward(0, 1), 2.0 * MM)];
    axis.extend(points);
    axis.push(points[last].plus(outward(last, last - 1), 2.0 * MM));
    sheet.line(LineType::Centre, &axis);
}

/// A member broken off: a narrow line in zigzag across.
fn break_line(sheet: &mut Sheet, at: Spot, inward: Spot, half: f64) {
    let across = inward.turned();
    let reach = half + 1.5 * MM;
    let zigzag = [
        (-reach, 0.0),
        (-3.0, 0.0),
        (-2.0, 8.0),
        (2.0, -8.0),
        (3.0, 0.0),
        (reach, 0.0),
    ]
    .map(|(aside, on)| at.plus(across, aside).plus(inward, on));
    sheet.line(LineType::Narrow, &zigzag);
}

/// A section seen along its axis: a ring, or a box.
fn draw_end_on(sheet: &mut Sheet, limb: &Limb, sight: &Sight, middle: Spot, scale: f64) {
    let wide = figure(LineType::Wide.width());
    let mut path = PathText::default();
    let (up, side) = (limb.half_out * scale, limb.half_side * scale);
    let out = sight.seen(limb.out).unit();
    if limb.round {
        path.circle(middle, up);
        path.circle(middle, (up - limb.wall * scale).max(up * 0.6));
    } else {
        let across = out.turned();
        let wall = limb.wall * scale;
        // The inner edges too, where there is a wall.
        for less in if wall > 0.0 {
            vec![0.0, wall]
        } else {
            vec![0.0]
        } {
            let (up, side) = ((up - less).max(0.0), (side - less).max(0.0));
            let corner = |o: f64, s: f64| middle.plus(out, o * up).plus(across, s * side);
            path.line(
                [(1.0, 1.0), (1.0, -1.0), (-1.0, -1.0), (-1.0, 1.0)].map(|(o, s)| corner(o, s)),
            );
            path.close();
        }
    }
    sheet.solid(&format!(
        "<path fill=\"#fff\" fill-rule=\"evenodd\" stroke-width=\"{wide}\" d=\"{}\"/>",
        path.finish()
    ));
    let reach = up.max(side) + 2.0 * MM;
    for way in [out, out.turned()] {
        sheet.line(
            LineType::Centre,
            &[middle.plus(way, -reach), middle.plus(way, reach)],
        );
    }
}

/// A swage inside of the tube it goes into, dashed since it is hidden there.
fn draw_swage(sheet: &mut Sheet, limb: &Limb, at: &impl Fn([f64; 3]) -> Spot, half: f64) {
    let Some(swage) = &limb.swage else { return };
    let (from, to) = (at(swage.from), at(swage.to));
    if to.minus(from).length() < half {
        return;
    }
    let slim = half * 0.75;
    let across = to.minus(from).unit().turned();
    let corners = [(from, -slim), (to, -slim), (to, slim), (from, slim)]
        .map(|(spot, aside)| spot.plus(across, aside));
    sheet.line(LineType::Hidden, &corners);
}

fn draw_ground(sheet: &mut Sheet, middle: Spot, level: f64) {
    let v = middle.v + level;
    let (from, to) = (middle.u - REACH * 0.9, middle.u + REACH * 0.9);
    sheet.line(LineType::Ground, &[Spot::new(from, v), Spot::new(to, v)]);
    let mut u = from + 12.0;
    while u <= to {
        sheet.line(
            LineType::Narrow,
            &[Spot::new(u, v + 3.0), Spot::new(u - 12.0, v + 15.0)],
        );
        u += 15.0;
    }
}

/// The name of a limb beyond the end that is farther right, or farther up.
fn name(
    sheet: &mut Sheet,
    limb: &Limb,
    at: impl Fn([f64; 3]) -> Spot,
    taken: &mut Vec<(Spot, f64)>,
) {
    let Some(label) = &limb.label else { return };
    let points: Vec<Spot> = limb.axis.iter().map(|p| at(*p)).collect();
    let (first, last) = (points[0], points[points.len() - 1]);
    // An end that goes on is free; of two such the right or the upper one.
    let weight = |spot: Spot, goes_on: bool| spot.u - spot.v + if goes_on { 1e6 } else { 0.0 };
    let (end, other) = match weight(first, limb.goes_on[0]) > weight(last, limb.goes_on[1]) {
        true => (first, last),
        false => (last, first),
    };
    let way = end.minus(other).unit();
    let size = Letters::Figures.size();
    let (anchor, spot) = match (way.u, way.v) {
        (u, _) if u > 0.5 => (Anchor::Start, end.plus(way, 4.0 * MM)),
        (u, _) if u < -0.5 => (Anchor::End, end.plus(way, 4.0 * MM)),
        (_, v) if v < 0.0 => (Anchor::Middle, end.plus(way, 5.0 * MM)),
        _ => (Anchor::Middle, end.plus(way, 5.0 * MM + size * 0.7)),
    };
    let mut baseline = match anchor {
        Anchor::Middle => spot,
        _ => Spot::new(spot.u, spot.v + size * 0.36),
    };
    // Two that lie on each other end at the same place: the second name stands over the first.
    let wide = text_width(label, size);
    while (taken.iter()).any(|(other, long)| {
        (other.u - baseline.u).abs() < long.max(wide) && (other.v - baseline.v).abs() < size
    }) {
        baseline.v -= size * 1.2;
    }
    taken.push((baseline, wide));
    sheet.text(baseline, Letters::Figures, anchor, label);
}
