//! The isometric: every piece once, nearer lines over farther ones, the ground over what is in it.
//!
//! Checked against its definition in the drawing standard (ISO 5456-3: the two level axes at 30° to the horizontal,
//! all three at one scale; from memory).

use std::collections::{BTreeMap, BTreeSet};

use frame::{Frame, HIDDEN_GAP, HouseEnd, Lit, Path, Point, View};
use roxmltree::Document;

use super::read_svg::{hoop, inherited, is_in, length, shape, stretches};
use crate::house::{demo, gothic_order, raised};

#[test]
fn every_piece_is_drawn_once_from_every_corner() {
    for frame in [raised(&demo()), hoop()] {
        for view in View::ALL {
            let svg = frame::isometric(&frame, view);
            let document = Document::parse(&svg).unwrap();
            let mut over: BTreeMap<usize, usize> = BTreeMap::new();
            let mut below: BTreeSet<usize> = BTreeSet::new();
            for node in document.descendants() {
                let Some(index) = node.attribute("data-piece") else {
                    continue;
                };
                let index: usize = index.parse().unwrap();
                let piece = &frame.pieces[index];
                assert_eq!(node.attribute("data-mark"), Some(piece.mark.0.as_str()));
                let stage = frame.belongs(piece.member).0;
                assert_eq!(inherited(node, "data-stage"), Some(stage));
                match is_in(node, "below") {
                    true => assert!(below.insert(index), "{index} twice in the ground"),
                    false => *over.entry(index).or_default() += 1,
                }
            }
            for (index, piece) in frame.pieces.iter().enumerate() {
                assert_eq!(
                    over.get(&index),
                    Some(&1),
                    "{} from {}",
                    piece.name,
                    view.says()
                );
                let path = frame.members[piece.member].path;
                let lowest = [piece.from, piece.to].map(|s| path.at(&frame.profile, s).z);
                let in_ground = lowest[0].min(lowest[1]) < 0.0;
                assert_eq!(below.contains(&index), in_ground, "{}", piece.name);
            }
        }
    }
}

/// Wire lies in its channel, and is shown only when it is lit.
#[test]
fn wire_waits_to_be_lit() {
    let frame = raised(&demo());
    let svg = frame::isometric(&frame, View::FrontRight);
    let document = Document::parse(&svg).unwrap();
    let mut wires = 0;
    for node in document.descendants() {
        if node.attribute("data-piece").is_some() {
            let hidden = inherited(node, "visibility") == Some("hidden");
            let class = inherited(node, "class").unwrap();
            assert_eq!(hidden, class == "lit-only");
            let wire = node.attribute("data-mark") == Some("W1");
            assert!(hidden || !wire, "a wire is drawn");
            wires += usize::from(wire);
        }
    }
    let wanted = frame.pieces.iter().filter(|p| p.mark.0 == "W1").count();
    assert_eq!(wires, wanted);
}

/// The projection as the standard gives it, seen from the front right corner, at one unit a metre: across goes right
/// and down at 30°, along goes right and up at 30°.
fn projected(p: Point) -> (f64, f64) {
    let (sin, cos) = 30_f64.to_radians().sin_cos();
    ((p.x + p.y) * cos, (p.x - p.y) * sin - p.z)
}

/// How near the eye, which looks along the diagonal of a cube.
fn near(p: Point) -> f64 {
    (p.x - p.y + p.z) / 3.0_f64.sqrt()
}

/// Scale and origin do not matter to what is checked, but must be known: one long straight piece gives them.
fn scale_of(frame: &Frame, document: &Document) -> f64 {
    let index = (frame.pieces.iter())
        .position(|p| frame.members[p.member].role == "ridge")
        .unwrap();
    let piece = &frame.pieces[index];
    let path = frame.members[piece.member].path;
    let ends = [piece.from, piece.to].map(|s| projected(path.at(&frame.profile, s)));
    let drawn = stretches(shape(document, index).attribute("d").unwrap());
    let (first, last) = (drawn[0][0], *drawn.last().unwrap().last().unwrap());
    let scale = (last.0 - first.0) / (ends[1].0 - ends[0].0);
    for (end, spot) in ends.into_iter().zip([first, last]) {
        assert!((end.0 * scale - spot.0).abs() < 0.15, "{end:?} {spot:?}");
        assert!((end.1 * scale - spot.1).abs() < 0.15, "{end:?} {spot:?}");
    }
    scale
}

/// The base board of the left side passes behind the roofs of the bows, seen from the front right corner. At each such
/// crossing the board has a gap as wide as the bow's line needs, and the bow has none.
#[test]
fn a_farther_line_is_cut_placesa_nearer_one_passes() {
    let frame = hoop();
    let svg = frame::isometric(&frame, View::FrontRight);
    let document = Document::parse(&svg).unwrap();
    let scale = scale_of(&frame, &document);
    let board = (frame.members.iter())
        .position(|m| m.name == "base board, left")
        .unwrap();
    let Path::Straight(start, end) = frame.members[board].path else {
        panic!("a board is straight");
    };
    let (a, b) = (projected(start), projected(end));
    let (du, dv) = (b.0 - a.0, b.1 - a.1);
    let long = du.hypot(dv);

    let mut crossings = 0;
    for (bow, station) in frame.stations.iter().enumerate() {
        let y = station.to_metres();
        // Where the bow's curve crosses the board's line on the sheet, found in steps of a millimetre.
        let steps = (frame.profile.length() * 1e3) as usize;
        let side = |s: f64| {
            let at = frame.profile.at(s);
            let p = Point {
                x: at.x,
                y,
                z: at.z,
            };
            let (u, v) = projected(p);
            (du * (v - a.1) - dv * (u - a.0), p, (u, v))
        };
        for i in 1..steps {
            let (one, _, from) = side((i - 1) as f64 / 1e3);
            let (other, p, to) = side(i as f64 / 1e3);
            if one.signum() == other.signum() {
                continue;
            }
            let along = ((to.0 - a.0) * du + (to.1 - a.1) * dv) / (long * long);
            let behind = Point {
                x: start.x,
                y: start.y + (end.y - start.y) * along,
                z: start.z,
            };
            if !(0.02..0.98).contains(&along) || near(p) < near(behind) + 0.3 {
                continue;
            }
            crossings += 1;
            let direction = (to.0 - from.0, to.1 - from.1);
            let sine = (du * direction.1 - dv * direction.0).abs()
                / (long * direction.0.hypot(direction.1));
            // The bow of 1-3/8 tube is drawn 3.2 wide, the board 1.6: half of each, round ends and all, and the
            // clear gap.
            let half = (1.6 + 0.8 + HIDDEN_GAP) / sine;
            check_gap(&frame, &document, board, (to.0 * scale, to.1 * scale), half);
            check_whole(&frame, &document, bow, (to.0 * scale, to.1 * scale));
        }
    }
    assert!(crossings >= 3, "only {crossings} crossings");
}

fn check_gap(frame: &Frame, document: &Document, member: usize, at: (f64, f64), half: f64) {
    let mut ends: Vec<f64> = Vec::new();
    for (index, _) in (frame.pieces.iter().enumerate()).filter(|(_, p)| p.member == member) {
        for stretch in stretches(shape(document, index).attribute("d").unwrap()) {
            let (first, last) = (stretch[0], stretch[stretch.len() - 1]);
            let along =
                |spot: (f64, f64)| (spot.0 - at.0).hypot(spot.1 - at.1) * (spot.0 - at.0).signum();
            let (from, to) = (along(first), along(last));
            assert!(
                from > 0.0 || to < 0.0,
                "the farther line runs through {at:?}"
            );
            ends.push(if from > 0.0 { from } else { to });
        }
    }
    let before = ends
        .iter()
        .copied()
        .filter(|e| *e < 0.0)
        .fold(f64::MIN, f64::max);
    let after = ends
        .iter()
        .copied()
        .filter(|e| *e > 0.0)
        .fold(f64::MAX, f64::min);
    for found in [-before, after] {
        // A tenth of rounding at either end, and the bow is drawn in chords.
        assert!(
            (found - half).abs() < 0.5,
            "gap of {found} for {half} at {at:?}"
        );
    }
}

fn check_whole(frame: &Frame, document: &Document, bow: usize, at: (f64, f64)) {
    let member = (frame.members.iter())
        .enumerate()
        .filter(|(_, m)| m.role == "bow")
        .nth(bow)
        .unwrap()
        .0;
    let covered = (frame.pieces.iter().enumerate())
        .filter(|(_, p)| p.member == member)
        .flat_map(|(index, _)| stretches(shape(document, index).attribute("d").unwrap()))
        .any(|stretch| {
            stretch.windows(2).any(|pair| {
                let ((u, v), (du, dv)) = (pair[0], (pair[1].0 - pair[0].0, pair[1].1 - pair[0].1));
                let t = ((at.0 - u) * du + (at.1 - v) * dv) / (du * du + dv * dv);
                let t = t.clamp(0.0, 1.0);
                (u + t * du - at.0).hypot(v + t * dv - at.1) < 0.4
            })
        });
    assert!(covered, "the nearer bow {} has a gap at {at:?}", bow + 1);
}

/// Where members are joined, neither hides the other: the bow and the ridge on it are both whole there.
#[test]
fn what_is_joined_is_not_cut() {
    let frame = hoop();
    let svg = frame::isometric(&frame, View::FrontRight);
    let document = Document::parse(&svg).unwrap();
    let scale = scale_of(&frame, &document);
    for (bow, station) in frame.stations.iter().enumerate() {
        let peak = Point {
            x: 0.0,
            y: station.to_metres(),
            z: frame.height.to_metres(),
        };
        let (u, v) = projected(peak);
        check_whole(&frame, &document, bow, (u * scale, v * scale));
    }
}

#[test]
fn what_is_in_the_ground_is_dashed_and_narrow() {
    let frame = hoop();
    for view in View::ALL {
        let svg = frame::isometric(&frame, view);
        let document = Document::parse(&svg).unwrap();
        let mut dashed = 0;
        for node in document
            .descendants()
            .filter(|n| n.attribute("data-piece").is_some())
        {
            let below = is_in(node, "below");
            assert_eq!(inherited(node, "stroke-dasharray").is_some(), below);
            if below {
                let width: f64 = inherited(node, "stroke-width").unwrap().parse().unwrap();
                assert!(width <= 1.6);
                dashed += 1;
                // A 6 ft post stands 3 ft out of the ground, so as much is dashed as is drawn whole: the same
                // length straight down, a hidden crossing apart.
                let drop = stretches(node.attribute("d").unwrap());
                let (top, foot) = (drop[0][0], drop[0][1]);
                let (low, high) = (top.1.min(foot.1), top.1.max(foot.1));
                let wanted = length("3 ft").to_metres() * 60.0;
                assert!((high - low - wanted).abs() < 0.2, "{low} {high}");
                assert!((top.0 - foot.0).abs() < 0.1);
            }
        }
        assert_eq!(dashed, 14, "two posts to each of seven bows");
    }
}

#[test]
fn the_four_views_have_the_same_pieces_and_each_its_key() {
    let frame = raised(&demo());
    let pieces = |view| -> BTreeSet<String> {
        let svg = frame::isometric(&frame, view);
        let document = Document::parse(&svg).unwrap();
        (document.descendants())
            .filter_map(|n| n.attribute("data-piece").map(String::from))
            .collect()
    };
    let first = pieces(View::FrontRight);
    assert_eq!(first.len(), frame.pieces.len());
    let mut drawings = BTreeSet::new();
    for view in View::ALL {
        assert_eq!(pieces(view), first);
        assert_eq!(View::named(view.key()), Some(view));
        drawings.insert(frame::isometric(&frame, view));
    }
    assert_eq!(drawings.len(), 4, "two views are one drawing");
    assert_eq!(View::named("above"), None);
}

/// The corner that a view is named for is the nearest, and so the lowest on the sheet; the corners beside it lie to
/// the left and right as they do for someone who stands there.
#[test]
fn each_view_is_from_the_corner_it_names() {
    let frame = hoop();
    // Corners seen from outside: the one named, the one to its left, the one to its right.
    let corners = [
        (View::FrontRight, [(1, 0), (-1, 0), (1, 1)]),
        (View::FrontLeft, [(-1, 0), (-1, 1), (1, 0)]),
        (View::BackLeft, [(-1, 1), (1, 1), (-1, 0)]),
        (View::BackRight, [(1, 1), (1, 0), (-1, 1)]),
    ];
    for (view, places) in corners {
        let svg = frame::isometric(&frame, view);
        let document = Document::parse(&svg).unwrap();
        let foot = |(side, end): (i32, i32)| {
            let stands = |index: &usize| {
                let member = &frame.members[frame.pieces[*index].member];
                let at = member.path.at(&frame.profile, 0.0);
                let y = f64::from(end) * frame.length.to_metres();
                member.role == "post" && at.x * f64::from(side) > 0.0 && (at.y - y).abs() < 0.01
            };
            let index = (0..frame.pieces.len()).find(stands).unwrap();
            let drawn = stretches(shape(&document, index).attribute("d").unwrap());
            let spots = drawn.into_iter().flatten();
            spots.max_by(|a, b| a.1.total_cmp(&b.1)).unwrap()
        };
        let [named, left, right] = places.map(foot);
        assert!(left.0 < named.0 && named.0 < right.0, "{}", view.says());
        assert!(left.1 < named.1 && right.1 < named.1, "{}", view.says());
    }
}

/// A strut in any direction is drawn: a wind brace from the end bow down to a post one bay in, a tie in the bow.
#[test]
fn struts_in_any_direction_are_drawn() {
    let mut frame = hoop();
    let template = (frame.pieces.iter())
        .position(|p| frame.members[p.member].role == "ridge")
        .unwrap();
    let mut laid = Vec::new();
    let point = |x, y, z| Point { x, y, z };
    for (from, to) in [
        (point(3.0, 0.0, 1.5), point(3.0, 1.2, 0.3)),
        (point(-2.0, 0.0, 2.0), point(2.0, 0.0, 2.0)),
    ] {
        let mut member = frame.members[frame.pieces[template].member].clone();
        member.path = Path::Straight(from, to);
        let mut piece = frame.pieces[template].clone();
        piece.member = frame.members.len();
        (piece.from, piece.to) = (0.0, member.path.length());
        frame.members.push(member);
        laid.push(frame.pieces.len());
        frame.pieces.push(piece);
    }
    for view in View::ALL {
        let svg = frame::isometric(&frame, view);
        for index in &laid {
            assert_eq!(svg.matches(&format!("data-piece=\"{index}\"")).count(), 1);
        }
    }
    let end = frame::end_elevation(&frame, HouseEnd::Front);
    assert!(
        !end.contains(&format!("data-piece=\"{}\"", laid[0])),
        "it leaves the end"
    );
    assert!(end.contains(&format!("data-piece=\"{}\"", laid[1])));
}

/// The pieces that a drawing shows as lit.
fn lit(frame: &Frame, what: Lit) -> BTreeSet<usize> {
    let svg = frame::isometric_lit(frame, View::FrontLeft, what);
    let document = Document::parse(&svg).unwrap();
    let root = document.root_element().attribute("class").unwrap();
    assert_eq!(root.contains("lighting"), what != Lit::Nothing);
    (document.descendants())
        .filter(|n| n.attribute("class") == Some("lit"))
        .inspect(|n| {
            assert_eq!(inherited(*n, "visibility"), Some("visible"));
            assert_ne!(
                inherited(*n, "stroke"),
                inherited(n.parent().unwrap(), "stroke")
            );
        })
        .map(|n| n.attribute("data-piece").unwrap().parse().unwrap())
        .collect()
}

#[test]
fn a_mark_a_stage_or_a_missing_set_can_be_lit() {
    let frame = raised(&demo());
    let places = |holds: &dyn Fn(usize) -> bool| -> BTreeSet<usize> {
        (0..frame.pieces.len()).filter(|i| holds(*i)).collect()
    };
    assert!(lit(&frame, Lit::Nothing).is_empty());
    for mark in ["P1", "W1", "H2"] {
        let wanted = places(&|i| frame.pieces[i].mark.0 == mark);
        assert!(!wanted.is_empty());
        assert_eq!(lit(&frame, Lit::Mark(mark)), wanted);
    }
    let of_rails = places(&|i| frame.belongs(frame.pieces[i].member).0 == "rails");
    assert!(!of_rails.is_empty());
    assert_eq!(lit(&frame, Lit::Stage("rails")), of_rails);
    let missing = BTreeSet::from([0, 7, 100]);
    assert_eq!(lit(&frame, Lit::Pieces(&missing)), missing);

    // Hardware and film are no pieces: a dot at every place, a field.
    for (mark, class) in [("K1", "dots lit-only lit"), ("F1", "film lit-only lit")] {
        let svg = frame::isometric_lit(&frame, View::FrontLeft, Lit::Mark(mark));
        let document = Document::parse(&svg).unwrap();
        let shown: Vec<_> = (document.descendants())
            .filter(|n| n.attribute("class") == Some(class))
            .collect();
        assert_eq!(shown.len(), 1, "{mark}");
        assert_eq!(shown[0].attribute("data-mark"), Some(mark));
        assert_eq!(shown[0].attribute("visibility"), Some("visible"));
        if mark == "K1" {
            // A peak to each of the thirteen bows.
            assert_eq!(shown[0].attribute("d").unwrap().matches("h0").count(), 13);
        }
    }
}

/// 37 bows in under 100 KB: at that rate the 49 of a house of 192 ft leave two thirds of 400 KB to its options.
#[test]
fn a_long_house_is_a_small_file() {
    let long = gothic_order(
        "length = \"144 ft\"",
        "[options]\npurlins = \"one each side\"",
    );
    let frame = raised(&long);
    assert_eq!(frame.bows, 37);
    for view in View::ALL {
        let svg = frame::isometric(&frame, view);
        assert!(svg.len() < 100_000, "{} bytes", svg.len());
    }
}
