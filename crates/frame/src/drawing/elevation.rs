//! The house from before one end: bow, uprights, headers, doors, and the posts in the ground.

use super::dimension::{Chain, STEP, chain, dimension, stroke};
use super::line::{Line, points, split_at_ground, tape, thickness};
use super::marks::Marks;
use super::openings::{Opening, draw_opening, openings};
use super::sheet::{Anchor, Letters, LineType, MM, Sheet};
use super::svg::{PathText, Spot, text_width};
use crate::graph::{Frame, Member, Path, Piece, Point};
use crate::part::Section;

/// The widest that the house is drawn, in drawing units, and the highest.
const WIDEST: f64 = 720.0;
const HIGHEST: f64 = 640.0;
/// Closer than this, in metres, is the same place.
pub(super) const SAME: f64 = 1e-4;
const DOWN: Spot = Spot { u: 0.0, v: 1.0 };
const UP: Spot = Spot { u: 0.0, v: -1.0 };
const RIGHT: Spot = Spot { u: 1.0, v: 0.0 };
const LEFT: Spot = Spot { u: -1.0, v: 0.0 };

/// An end of the house.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum HouseEnd {
    /// Where the bows are counted from.
    Front,
    /// Where the last bow stands.
    Back,
}

impl HouseEnd {
    /// Both, front first.
    pub const BOTH: [HouseEnd; 2] = [HouseEnd::Front, HouseEnd::Back];

    /// What people call it.
    pub fn says(self) -> &'static str {
        match self {
            HouseEnd::Front => "front",
            HouseEnd::Back => "back",
        }
    }

    pub(super) fn y(self, frame: &Frame) -> f64 {
        match self {
            HouseEnd::Front => 0.0,
            HouseEnd::Back => frame.length.to_metres(),
        }
    }
}

/// Draws one end as someone sees it who stands before it, outside.
pub fn end_elevation(frame: &Frame, end: HouseEnd) -> String {
    let side = match end {
        HouseEnd::Front => 1.0,
        HouseEnd::Back => -1.0,
    };
    let shown = Shown {
        y: end.y(frame),
        side,
        opens: openings(frame, end),
        title: format!("End elevation, {}", end.says()),
        seen: format!("{} end seen from outside", end.says()),
        class: "end-elevation",
    };
    across_the_house(frame, &shown)
}

/// Draws what stands at one bow between the ends: the one with the most pieces, such as a tie with its webs. Nothing
/// where no bow has more than itself and its posts.
pub fn section(frame: &Frame) -> Option<String> {
    let inner = frame
        .stations
        .get(1..frame.stations.len().checked_sub(1)?)?;
    let (bow, y, pieces) = (inner.iter().enumerate())
        .map(|(i, station)| {
            let y = station.to_metres();
            let in_plane = |member: &&Member| {
                let at = |s: f64| member.path.at(&frame.profile, s).y;
                member.on.is_none()
                    && matches!(member.path, Path::Straight(..))
                    && (at(0.0) - y).abs() < SAME
                    && (at(member.path.length()) - y).abs() < SAME
            };
            (i + 2, y, frame.members.iter().filter(in_plane).count())
        })
        // Of several alike, the first.
        .max_by_key(|(bow, _, pieces)| (*pieces, std::cmp::Reverse(*bow)))?;
    (pieces > 2).then(|| {
        across_the_house(
            frame,
            &Shown {
                y,
                side: 1.0,
                opens: Vec::new(),
                title: format!("Section at bow {bow}"),
                seen: format!("cut at bow {bow}, seen from the front"),
                class: "section",
            },
        )
    })
}

/// A view along the house.
struct Shown {
    /// Where along it.
    y: f64,
    /// 1 where the left of the house is on the left of the sheet, else −1.
    side: f64,
    opens: Vec<Opening>,
    title: String,
    /// From where it is seen, for who cannot see it.
    seen: String,
    class: &'static str,
}

fn across_the_house(frame: &Frame, shown: &Shown) -> String {
    let half = frame.width.to_metres() / 2.0;
    let height = frame.height.to_metres();
    let widest = widest(frame);
    let scale = (WIDEST / (2.0 * widest).max(0.1)).min(HIGHEST / height.max(0.1));
    let (side, y, opens) = (shown.side, shown.y, &shown.opens);
    let at = |x: f64, z: f64| Spot::new(side * x * scale, -z * scale);
    let mut sheet = Sheet::default();

    let deepest = draw_pieces(
        &mut sheet,
        frame,
        scale,
        &|p| at(p.x, p.z),
        &|points, piece| {
            let in_plane = frame.members[piece.member].on.is_none()
                && points.iter().all(|p| (p.y - y).abs() < SAME);
            if in_plane { points } else { Vec::new() }
        },
    );
    ground(
        &mut sheet,
        -widest * scale - 8.0 * MM,
        widest * scale + 8.0 * MM,
    );
    for opening in opens {
        draw_opening(&mut sheet, frame, opening, &at);
    }

    let below = at(0.0, deepest).v.max(0.0) + 3.0 * MM;
    let feet = uprights(frame, y);
    let mut across: Vec<f64> = feet.iter().map(|x| side * x).collect();
    across.sort_by(f64::total_cmp);
    if across.len() > 2 {
        measured_across(&mut sheet, frame, &across, scale, below);
    }
    let corners = [
        Spot::new(-half * scale, below),
        Spot::new(half * scale, below),
    ];
    let second = 3.0 * MM + if across.len() > 2 { 1.3 * STEP } else { 0.0 };
    let wide = frame.width.tape(frame.system);
    dimension(&mut sheet, corners, DOWN, second, &wide);
    if widest > half + 1e-3 {
        let s = frame.profile.along_widest();
        let z = frame.profile.at(s).z;
        let over = (height - z) * scale + STEP;
        let figures = tape(frame, 2.0 * widest);
        dimension(
            &mut sheet,
            [at(-side * widest, z), at(side * widest, z)],
            UP,
            over,
            &figures,
        );
    }
    heights(&mut sheet, frame, scale, widest, deepest);

    sheet.title(&shown.title);
    let doors: Vec<String> = (opens.iter()).filter_map(|o| o.holds.clone()).collect();
    let says = format!(
        "{}, {}: {wide} wide, {} high, {} uprights and posts{}{}",
        frame.title,
        shown.seen,
        frame.height.tape(frame.system),
        feet.len(),
        if doors.is_empty() { "" } else { ", " },
        doors.join(", "),
    );
    sheet.finish(shown.class, &says)
}

/// Draws the house from its right side, the front at the left.
pub fn side_elevation(frame: &Frame) -> String {
    let (length, height) = (frame.length.to_metres(), frame.height.to_metres());
    let scale = (860.0 / length.max(0.1)).min(HIGHEST / height.max(0.1));
    let at = |y: f64, z: f64| Spot::new(y * scale, -z * scale);
    let widest = widest(frame);
    let mut sheet = Sheet::default();
    let deepest = draw_pieces(
        &mut sheet,
        frame,
        scale,
        &|p| at(p.y, p.z),
        &|points, piece| {
            let inside = |p: &Point| p.x < widest - 0.1;
            let in_end =
                HouseEnd::BOTH.map(|end| points.iter().all(|p| (p.y - end.y(frame)).abs() < SAME));
            let straight = points.len() == 2;
            // What stands in an end wall is hidden behind its bow.
            let hidden = straight && in_end.contains(&true) && points.iter().any(inside);
            let near = |p: &Point| p.x > -SAME;
            match frame.members[piece.member].on.is_none() && !hidden {
                // What goes straight across is seen on its end.
                true if straight && !points.iter().all(near) => Vec::new(),
                true => points.into_iter().filter(near).collect(),
                false => Vec::new(),
            }
        },
    );
    ground(&mut sheet, -8.0 * MM, length * scale + 8.0 * MM);

    let below = at(0.0, deepest).v.max(0.0) + 3.0 * MM;
    let (places, figures) = super::plan::bay_runs(frame);
    let spots: Vec<Spot> = (places.iter())
        .map(|station| Spot::new(station.to_metres() * scale, below))
        .collect();
    if spots.len() > 1 {
        let bays = Chain {
            places: &spots,
            aside: DOWN,
            distance: 3.0 * MM,
            figures: &figures,
        };
        chain(&mut sheet, &bays);
        for station in &frame.stations {
            let u = station.to_metres() * scale;
            stroke(&mut sheet, Spot::new(u, below + 3.0 * MM));
        }
    }
    let long = frame.length.tape(frame.system);
    let corners = [Spot::new(0.0, below), Spot::new(length * scale, below)];
    dimension(&mut sheet, corners, DOWN, 3.0 * MM + STEP, &long);
    let high = frame.height.tape(frame.system);
    let right = length * scale;
    let ends = [Spot::new(right, 0.0), Spot::new(right, -height * scale)];
    dimension(&mut sheet, ends, RIGHT, STEP, &high);
    if let Some(side) = side_height(frame) {
        let ends = [at(0.0, 0.0), at(0.0, side)];
        dimension(&mut sheet, ends, LEFT, STEP, &tape(frame, side));
    }
    sheet.title("Side elevation, right side");
    let says = format!(
        "{} seen from its right side, the front at the left: {long} long, {high} high, {} bows",
        frame.title, frame.bows
    );
    sheet.finish("side-elevation", &says)
}

/// Draws the pieces that belong to the elevation and says how deep the deepest stands, in metres, negative.
fn draw_pieces(
    sheet: &mut Sheet,
    frame: &Frame,
    scale: f64,
    at: &impl Fn(Point) -> Spot,
    seen: &impl Fn(Vec<Point>, &Piece) -> Vec<Point>,
) -> f64 {
    let mut deepest = 0.0_f64;
    let mut marks = Vec::new();
    for ((index, piece), line) in frame.pieces.iter().enumerate().zip(Line::of_pieces(frame)) {
        let points = seen(points(frame, piece, 0.05), piece);
        if line == Line::LitOnly || points.is_empty() {
            continue;
        }
        let part = frame.parts.iter().find(|p| p.mark == piece.mark);
        let thick = part.and_then(thickness).unwrap_or(0.0) * scale;
        let (above, below) = split_at_ground(&points);
        deepest = below.iter().map(|p| p.z).fold(deepest, f64::min);
        let lines = [
            (
                LineType::Wide,
                Some(thick.max(LineType::Wide.width())),
                above,
            ),
            (LineType::Hidden, None, below),
        ];
        for (line, width, points) in lines {
            if points.len() < 2 {
                continue;
            }
            if line == LineType::Wide {
                let spots: Vec<Spot> = points.iter().map(|p| at(*p)).collect();
                marks.push((index, spots));
            }
            let mut path = PathText::default();
            path.line(points.into_iter().map(|p| {
                let spot = at(p);
                sheet.include(spot);
                spot
            }));
            let is_board = matches!(
                part.and_then(|part| part.section.as_ref()),
                Some(Section::Timber { .. })
            );
            match (is_board, width) {
                (true, Some(width)) => sheet.board(frame, index, width, path),
                _ => sheet.piece(frame, index, line, width, path),
            }
        }
    }
    // A long house from its side is drawn too low for letters between its lines.
    if frame.height.to_metres() * scale > 20.0 * MM {
        write_marks(sheet, frame, &marks);
    }
    deepest
}

/// The mark on every piece that has a clear place for it; of a mark that would not be seen at all, on one that has not.
fn write_marks(sheet: &mut Sheet, frame: &Frame, pieces: &[(usize, Vec<Spot>)]) {
    let size = Letters::Small.size();
    let ground = sheet.extent();
    let ground = [Spot::new(ground.left, 0.0), Spot::new(ground.right, 0.0)];
    let lines = (pieces.iter()).map(|(_, spots)| spots.as_slice());
    let mut marks = Marks::among(lines.chain([ground.as_slice()]), size);
    let mut said: Vec<&str> = Vec::new();
    for clear in [true, false] {
        for (index, spots) in pieces {
            let mark = frame.pieces[*index].mark.0.as_str();
            let wide = text_width(mark, size);
            let place = match clear {
                true => marks.clear_place(spots, wide),
                false if said.contains(&mark) => None,
                false => marks.any_place(spots, wide),
            };
            if let Some(spot) = place {
                marks.take(spot, wide);
                said.push(mark);
                let baseline = Spot::new(spot.u, spot.v + size * 0.36);
                sheet.text_over_lines(baseline, Letters::Small, Anchor::Middle, mark, 0.0);
            }
        }
    }
}

/// The ground: an extra wide line with short hatching under it.
fn ground(sheet: &mut Sheet, from: f64, to: f64) {
    sheet.line(
        LineType::Ground,
        &[Spot::new(from, 0.0), Spot::new(to, 0.0)],
    );
    let mut hatching = PathText::default();
    let mut u = from + 2.0 * MM;
    while u <= to {
        hatching.line([Spot::new(u, 3.0), Spot::new(u - 2.0 * MM, 3.0 + 2.0 * MM)]);
        u += 2.5 * MM;
    }
    sheet.path(LineType::Narrow, hatching);
}

/// Where uprights stand on the ground or in it, across, from the left of the house.
fn uprights(frame: &Frame, y: f64) -> Vec<f64> {
    let mut places: Vec<f64> = (frame.members.iter())
        .filter(|member| member.on.is_none())
        .filter_map(|member| match member.path {
            Path::Straight(a, b) => Some((a, b)),
            Path::Arch { .. } => None,
        })
        .filter(|(a, b)| (a.y - y).abs() < SAME && (a.y - b.y).abs() < SAME)
        .filter(|(a, b)| (a.x - b.x).abs() < SAME && a.z.min(b.z) < SAME)
        .map(|(a, _)| a.x)
        .collect();
    places.sort_by(f64::total_cmp);
    places.dedup_by(|a, b| (*a - *b).abs() < SAME);
    places
}

fn measured_across(sheet: &mut Sheet, frame: &Frame, across: &[f64], scale: f64, below: f64) {
    let places: Vec<Spot> = (across.iter())
        .map(|x| Spot::new(x * scale, below))
        .collect();
    let figures: Vec<String> = (across.windows(2))
        .map(|pair| tape(frame, pair[1] - pair[0]))
        .collect();
    let uprights = Chain {
        places: &places,
        aside: DOWN,
        distance: 3.0 * MM,
        figures: &figures,
    };
    chain(sheet, &uprights);
}

/// Height at the right; at the left the straight leg's and how deep the posts stand.
fn heights(sheet: &mut Sheet, frame: &Frame, scale: f64, widest: f64, deepest: f64) {
    let edge = widest * scale;
    let at = |u: f64, z: f64| Spot::new(u, -z * scale);
    let height = frame.height.to_metres();
    let high = frame.height.tape(frame.system);
    // Measured at the peak; the extension line starts outside of the house.
    let beyond = edge + 8.0 * MM;
    dimension(
        sheet,
        [at(beyond, 0.0), at(beyond, height)],
        RIGHT,
        STEP / 2.0,
        &high,
    );
    sheet.line(
        LineType::Narrow,
        &[at(2.0 * MM, height), at(beyond + 2.0 * MM, height)],
    );
    if let Some(side) = side_height(frame) {
        let leg = [at(-edge, 0.0), at(-edge, side)];
        dimension(sheet, leg, LEFT, 8.0 * MM + STEP / 2.0, &tape(frame, side));
    }
    if deepest < -SAME {
        let post = [at(-edge, deepest), at(-edge, 0.0)];
        dimension(
            sheet,
            post,
            LEFT,
            8.0 * MM + STEP / 2.0,
            &tape(frame, -deepest),
        );
    }
}

/// Height of the top of the straight leg; nothing where the bow bends from the ground on.
fn side_height(frame: &Frame) -> Option<f64> {
    let leg = frame.profile.links().first()?;
    let straight = leg.segment().is_none();
    straight.then(|| frame.profile.at(leg.length).z)
}

/// Half the greatest width, which a horseshoe has over the ground.
fn widest(frame: &Frame) -> f64 {
    frame.profile.at(frame.profile.along_widest()).x.abs()
}
