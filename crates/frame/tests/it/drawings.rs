//! The drawings, measured in their own coordinates: what is drawn, where lines are hidden, what the figures say.
//!
//! The isometric is checked against its definition in the drawing standard (ISO 5456-3: the two level axes at 30° to
//! the horizontal, all three at one scale; from memory), line types against ISO 128 (dashed: hidden; wide is twice
//! narrow; from memory), a bent piece against the handbook's circular segment.

use std::collections::{BTreeMap, BTreeSet};

use frame::{
    Bend, End, Frame, HIDDEN_GAP, HouseEnd, Mark, Part, Path, Point, Section, Stretch, View,
};
use measure::{Grid, Length, Mass, System};
use roxmltree::{Document, Node};

use crate::house::{Hoop, demo, gothic_order, order, raised};

fn length(text: &str) -> Length {
    Length::read(text, None).unwrap()
}

/// A hoop house of 20 ft by 24 ft with a ridge and a purlin each side, bows of 4 ft.
fn hoop() -> Frame {
    hoop_of(&hoop_text())
}

fn hoop_text() -> String {
    let hoop = Hoop {
        width: 240,
        height: 132,
        side: 48,
        shoulder: 40,
        roof: 300,
        spacing: "4 ft",
    };
    hoop.text()
}

fn hoop_of(text: &str) -> Frame {
    let family = frame::Family::read(text).unwrap_or_else(|e| panic!("{e}"));
    let order = order("name = \"h\"\nfamily = \"hoop\"\nlength = \"24 ft\"");
    frame::expand(&order, &family).unwrap_or_else(|e| panic!("{e}"))
}

/// Every drawing of a frame with what to call it.
fn all(frame: &Frame) -> Vec<(String, String)> {
    let mut drawings: Vec<(String, String)> = (View::ALL.into_iter())
        .map(|view| (view.key().to_owned(), frame::isometric(frame, view)))
        .collect();
    drawings.push(("plan".into(), frame::plan(frame)));
    drawings.push(("side".into(), frame::side_elevation(frame)));
    for end in HouseEnd::BOTH {
        drawings.push((end.says().into(), frame::end_elevation(frame, end)));
    }
    for part in &frame.parts {
        let flat = frame::bow_flat(frame, &part.mark.0);
        drawings.extend(flat.map(|svg| (format!("flat {}", part.mark), svg)));
        let small = frame::part_drawing(part);
        drawings.extend(small.map(|svg| (format!("part {}", part.mark), svg)));
    }
    for (kind, _) in frame::joints_to_detail(frame) {
        let svg = frame::joint_detail(frame, kind).unwrap();
        drawings.push((format!("joint {kind}"), svg));
    }
    drawings
}

/// The stretches of a path: M and m, L and l, h and v as the drawings write them.
fn stretches(d: &str) -> Vec<Vec<(f64, f64)>> {
    let mut found: Vec<Vec<(f64, f64)>> = Vec::new();
    let mut at = (0.0, 0.0);
    let mut rest = d;
    while let Some(command) = rest.chars().next() {
        rest = &rest[1..];
        let end = rest.find(|c: char| c.is_ascii_alphabetic());
        let (here, next) = rest.split_at(end.unwrap_or(rest.len()));
        rest = next;
        let numbers = numbers(here);
        match command {
            'M' | 'm' | 'L' | 'l' => {
                for (i, pair) in numbers.chunks(2).enumerate() {
                    at = match command {
                        'M' | 'L' => (pair[0], pair[1]),
                        _ => (at.0 + pair[0], at.1 + pair[1]),
                    };
                    if i == 0 && command.eq_ignore_ascii_case(&'m') {
                        found.push(Vec::new());
                    }
                    found.last_mut().unwrap().push(at);
                }
            }
            'h' | 'v' => {
                let step = numbers[0];
                at = if command == 'h' {
                    (at.0 + step, at.1)
                } else {
                    (at.0, at.1 + step)
                };
                found.last_mut().unwrap().push(at);
            }
            'z' | 'Z' => {}
            other => panic!("`{other}` in {d}"),
        }
    }
    found
}

fn numbers(text: &str) -> Vec<f64> {
    let mut found: Vec<String> = Vec::new();
    let mut apart = true;
    for letter in text.chars() {
        match letter {
            ' ' => apart = true,
            _ => {
                if apart || letter == '-' {
                    found.push(String::new());
                }
                apart = false;
                found.last_mut().unwrap().push(letter);
            }
        }
    }
    found.iter().map(|n| n.parse().unwrap()).collect()
}

/// An attribute of a node or, as SVG inherits them, of what holds it.
fn inherited<'a>(node: Node<'a, '_>, name: &str) -> Option<&'a str> {
    node.ancestors().find_map(|n| n.attribute(name))
}

fn is_in(node: Node, class: &str) -> bool {
    (node.ancestors()).any(|n| n.attribute("class") == Some(class))
}

fn texts(svg: &str) -> Vec<String> {
    let document = Document::parse(svg).unwrap();
    (document.descendants())
        .filter(|n| n.has_tag_name("text"))
        .filter_map(|n| n.text().map(String::from))
        .collect()
}

/// The shapes of a piece that are not in the ground.
fn shape<'a>(document: &'a Document, piece: usize) -> Node<'a, 'a> {
    let piece = piece.to_string();
    (document.descendants())
        .find(|n| n.attribute("data-piece") == Some(&piece) && !is_in(*n, "below"))
        .unwrap()
}

#[test]
fn every_drawing_is_well_formed_and_says_what_it_shows() {
    for frame in [raised(&demo()), hoop(), with_bend()] {
        for (name, svg) in all(&frame) {
            let document = Document::parse(&svg).unwrap_or_else(|e| panic!("{name}: {e}\n{svg}"));
            let root = document.root_element();
            let view_box = numbers(root.attribute("viewBox").unwrap());
            assert!(view_box[2] > 0.0 && view_box[3] > 0.0, "{name}");
            if !name.starts_with("part") {
                assert_eq!(root.attribute("role"), Some("img"), "{name}");
                assert!(root.attribute("aria-label").unwrap().len() > 20, "{name}");
            }
            for bad in ["Gradient", "var(", "currentColor", "NaN", "inf"] {
                assert!(!svg.contains(bad), "{name} has {bad}");
            }
        }
    }
}

/// What is drawn lies on the sheet: no edge is cut off. Letters are counted by where they begin.
#[test]
fn nothing_lies_off_the_sheet() {
    for (name, svg) in all(&raised(&demo())) {
        let document = Document::parse(&svg).unwrap();
        let view_box = numbers(document.root_element().attribute("viewBox").unwrap());
        let on_sheet = |(u, v): (f64, f64)| {
            let (left, top) = (view_box[0], view_box[1]);
            u >= left && u <= left + view_box[2] && v >= top && v <= top + view_box[3]
        };
        for node in document.descendants() {
            if let Some(d) = node.attribute("d")
                && !d.contains(['a', 'H', 'q', 'V'])
                && node.attribute("transform").is_none()
            {
                for spot in stretches(d).into_iter().flatten() {
                    assert!(on_sheet(spot), "{name}: {spot:?} off {view_box:?}");
                }
            }
            if node.has_tag_name("text") {
                let at = |axis| node.attribute(axis).unwrap().parse().unwrap();
                assert!(on_sheet((at("x"), at("y"))), "{name}: {node:?}");
            }
        }
    }
}

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
fn a_farther_line_is_cut_where_a_nearer_one_passes() {
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
fn the_figures_are_the_measures_of_the_house() {
    let frame = raised(&demo());
    let said = |svg: &str, wanted: &[&str]| {
        let found = texts(svg);
        for figures in wanted {
            assert!(
                found.iter().any(|t| t == figures),
                "no {figures} in {found:?}"
            );
        }
    };
    for view in View::ALL {
        said(
            &frame::isometric(&frame, view),
            &["24 ft", "48 ft", "10 ft 9 in"],
        );
    }
    // √(24² + 48²) ft = 53.6656 ft, which is 53 ft 7.988 in: D.
    said(
        &frame::plan(&frame),
        &[
            "24 ft",
            "48 ft",
            "12 × 4 ft",
            "diagonal 53 ft 8 in",
            "1",
            "13",
        ],
    );
    // Studs 8 ft from the middle, the double door's jambs 42 in, its header at 82 in.
    let front = frame::end_elevation(&frame, HouseEnd::Front);
    said(
        &front,
        &[
            "24 ft",
            "10 ft 9 in",
            "4 ft",
            "4 ft 6 in",
            "7 ft",
            "6 ft 10 in",
            "double door",
        ],
    );
    let back = frame::end_elevation(&frame, HouseEnd::Back);
    said(
        &back,
        &[
            "24 ft",
            "4 ft",
            "6 ft 3 in",
            "3 ft 6 in",
            "6 ft 10 in",
            "door",
        ],
    );
    said(
        &frame::side_elevation(&frame),
        &["48 ft", "12 × 4 ft", "4 ft", "10 ft 9 in"],
    );
    let metric = gothic_order("length = \"48 ft\"\nunits = \"metric\"", "");
    said(&frame::plan(&raised(&metric)), &["14630 mm", "7315 mm"]);
}

/// The last bay of a house that is no whole number of bays has its own figure.
#[test]
fn a_bay_of_its_own_length_is_measured_by_itself() {
    let mut frame = hoop();
    let last = frame.stations.len() - 1;
    frame.stations[last] = length("22 ft 6 in");
    frame.length = length("22 ft 6 in");
    let found = texts(&frame::plan(&frame));
    for figures in ["5 × 4 ft", "2 ft 6 in", "22 ft 6 in"] {
        assert!(
            found.iter().any(|t| t == figures),
            "no {figures} in {found:?}"
        );
    }
}

/// The drawn bow of the end elevation is as wide to its height as the house is.
#[test]
fn the_end_elevation_is_true_to_scale() {
    let frame = raised(&demo());
    for end in HouseEnd::BOTH {
        let svg = frame::end_elevation(&frame, end);
        let document = Document::parse(&svg).unwrap();
        let spots: Vec<(f64, f64)> = (document.descendants())
            .filter(|n| n.attribute("data-mark") == Some("B1"))
            .flat_map(|n| stretches(n.attribute("d").unwrap()))
            .flatten()
            .collect();
        let over = |pick: fn(&(f64, f64)) -> f64| {
            let values = spots.iter().map(pick);
            values.fold((f64::MAX, f64::MIN), |(l, h), v| (l.min(v), h.max(v)))
        };
        let ((left, right), (top, _)) = (over(|s| s.0), over(|s| s.1));
        // The ground is at nought; 24 ft to 10 ft 9 in.
        assert!(((right - left) / -top - 24.0 / 10.75).abs() < 1e-3);
    }
}

/// The back is seen from behind: what stands at the house's left stands at the drawing's right.
#[test]
fn the_back_is_seen_from_behind() {
    let frame = raised(&demo());
    for (end, side) in [(HouseEnd::Front, 1.0), (HouseEnd::Back, -1.0)] {
        let svg = frame::end_elevation(&frame, end);
        let document = Document::parse(&svg).unwrap();
        let mut seen = 0;
        for (index, piece) in frame.pieces.iter().enumerate() {
            let wanted = format!("data-piece=\"{index}\"");
            if frame.members[piece.member].role != "stud" || !svg.contains(&wanted) {
                continue;
            }
            seen += 1;
            let x = frame.members[piece.member].path.at(&frame.profile, 0.0).x;
            let u = stretches(shape(&document, index).attribute("d").unwrap())[0][0].0;
            assert!(u * side * x > 0.0, "{}: {x} drawn at {u}", piece.name);
        }
        assert_eq!(seen, 2);
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

/// No text lies on another: each is taken as a row of dots along its middle, half a letter's size apart.
#[test]
fn no_text_lies_on_another() {
    let purlins = "[options]\npurlins = \"one each side\"";
    let houses = [
        raised(&demo()),
        raised(&gothic_order("length = \"144 ft\"", purlins)),
        raised(&gothic_order(
            "length = \"72 ft\"\nbow_spacing = \"6 ft\"\nunits = \"metric\"",
            &format!("{purlins}\n[front]\nwall = \"open\""),
        )),
        hoop(),
        with_bend(),
    ];
    for frame in houses {
        for (name, svg) in all(&frame) {
            let document = Document::parse(&svg).unwrap();
            let rows: Vec<(String, f64, Vec<(f64, f64)>)> = (document.descendants())
                .filter(|n| n.has_tag_name("text"))
                .map(text_row)
                .collect();
            for (i, (one, size, dots)) in rows.iter().enumerate() {
                for (other, other_size, others) in &rows[..i] {
                    let apart = 0.6 * size.min(*other_size);
                    let touch = dots
                        .iter()
                        .any(|a| others.iter().any(|b| (a.0 - b.0).hypot(a.1 - b.1) < apart));
                    assert!(!touch, "{name}: `{one}` lies on `{other}`");
                }
            }
        }
    }
}

fn text_row(node: Node) -> (String, f64, Vec<(f64, f64)>) {
    let number = |name| inherited(node, name).unwrap().parse::<f64>().unwrap();
    let text = node.text().unwrap().to_owned();
    let (x, y, size) = (number("x"), number("y"), number("font-size"));
    let wide = text.chars().count() as f64 * 0.5 * size;
    let start = match inherited(node, "text-anchor") {
        Some("middle") => -wide / 2.0,
        Some("end") => -wide,
        _ => 0.0,
    };
    let angle = node.attribute("transform").map_or(0.0, |turn| {
        let inside = turn.trim_start_matches("rotate(").trim_end_matches(')');
        numbers(inside)[0].to_radians()
    });
    let (sin, cos) = angle.sin_cos();
    let count = (wide / (0.5 * size)).round() as usize;
    let dots = (0..=count).map(|i| {
        let (along, up) = (start + wide * i as f64 / count as f64, -0.36 * size);
        (x + along * cos - up * sin, y + along * sin + up * cos)
    });
    (text, size, dots.collect())
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

/// A quarter of a circle of 8 ft: by the handbook's segment its chord is 8√2 ft = 11 ft 3.765 in, its rise
/// 8(1 − cos 45°) ft = 2 ft 4.118 in, its arc 8 · π/2 ft = 12 ft 6.796 in.
fn with_bend() -> Frame {
    let mut frame = raised(&demo());
    let feet = |feet: f64| Length::from_metres(feet * 0.3048, Grid::SIXTEENTH).unwrap();
    let part = frame.parts.iter_mut().find(|p| p.mark.0 == "B1").unwrap();
    part.bend = Some(Bend {
        chord: feet(8.0 * 2_f64.sqrt()),
        rise: feet(8.0 * (1.0 - 0.5_f64.sqrt())),
        stretches: vec![Stretch {
            length: feet(8.0 * std::f64::consts::FRAC_PI_2),
            radius: Some(feet(8.0)),
        }],
    });
    frame
}

#[test]
fn a_bow_on_the_ground_has_its_true_shape_and_measures() {
    let frame = with_bend();
    let svg = frame::bow_flat(&frame, "B1").unwrap();
    let found = texts(&svg);
    for figures in [
        "chord 11 ft 3-3/4 in",
        "rise 2 ft 4-1/8 in",
        "R 8 ft",
        "arc 12 ft 6-13/16 in",
        "12 ft 6-13/16 in long along the tube",
    ] {
        assert!(
            found.iter().any(|t| t == figures),
            "no {figures} in {found:?}"
        );
    }
    // The axis is the centre line with the most corners; its chord to its rise is 8√2 to 8(1 − cos 45°).
    let document = Document::parse(&svg).unwrap();
    let axis = (document.descendants())
        .filter(|n| is_in(*n, "centre"))
        .filter_map(|n| n.attribute("d"))
        .flat_map(stretches)
        .max_by_key(Vec::len)
        .unwrap();
    let (first, last) = (axis[0], axis[axis.len() - 1]);
    assert!((first.1 - last.1).abs() < 0.15, "its ends lie level");
    let rise = axis.iter().map(|s| first.1 - s.1).fold(f64::MIN, f64::max);
    let ratio = (last.0 - first.0).abs() / rise;
    assert!((ratio - 4.828_43).abs() < 0.01, "{ratio}");

    assert_eq!(frame::bow_flat(&frame, "R1"), None, "a straight tube");
    assert_eq!(frame::bow_flat(&frame, "B9"), None, "no such mark");
}

/// A stretch of no length or of a circle of no size draws nothing rather than nonsense.
#[test]
fn a_bend_that_cannot_be_draws_nothing() {
    for (long, radius) in [("0 in", Some("8 ft")), ("12 ft", Some("0 in"))] {
        let mut frame = with_bend();
        let part = frame.parts.iter_mut().find(|p| p.mark.0 == "B1").unwrap();
        part.bend.as_mut().unwrap().stretches = vec![Stretch {
            length: length(long),
            radius: radius.map(length),
        }];
        assert_eq!(frame::bow_flat(&frame, "B1"), None);
    }
}

#[test]
fn a_joint_shows_its_title_and_all_its_hardware() {
    let frame = raised(&demo());
    let kinds = frame::joints_to_detail(&frame);
    let used: BTreeSet<usize> = frame.joints.iter().map(|j| j.kind).collect();
    assert_eq!(
        kinds.iter().map(|(kind, _)| *kind).collect::<BTreeSet<_>>(),
        used
    );
    for (kind, says) in kinds {
        let svg = frame::joint_detail(&frame, kind).unwrap();
        let found = texts(&svg);
        assert!(found.iter().any(|t| t == says), "{found:?}");
        let joint = frame.joints.iter().find(|j| j.kind == kind).unwrap();
        for (mark, count) in &frame.joint_kind(joint).hardware {
            let wanted = format!("{mark} × {count}");
            assert!(found.contains(&wanted), "{says}: no {wanted} in {found:?}");
        }
    }
    assert_eq!(frame::joint_detail(&frame, 999), None);
}

/// The stud meets the end bow at the bow's true slope there, and their tubes are drawn 1.315 to 1.660.
#[test]
fn a_joint_is_at_its_true_angle_and_to_one_scale() {
    let frame = raised(&demo());
    let (kind, _) = (frame::joints_to_detail(&frame).into_iter())
        .find(|(_, says)| *says == "stud on the end bow")
        .unwrap();
    let svg = frame::joint_detail(&frame, kind).unwrap();
    let document = Document::parse(&svg).unwrap();
    let axes: Vec<f64> = (document.descendants())
        .filter(|n| is_in(*n, "centre"))
        .filter_map(|n| n.attribute("d"))
        .flat_map(stretches)
        .map(|s| {
            let (first, last) = (s[0], s[s.len() - 1]);
            (last.1 - first.1)
                .atan2(last.0 - first.0)
                .to_degrees()
                .rem_euclid(180.0)
        })
        .collect();
    // The slope of the bow 8 ft from the middle, from its heights a little to either side.
    let height = |x: f64| frame.profile.height_at(x).unwrap();
    let x = length("8 ft").to_metres();
    let slope = ((height(x - 0.1) - height(x + 0.1)) / 0.2)
        .atan()
        .to_degrees();
    assert!(slope > 10.0 && slope < 60.0);
    let wanted = [slope, 180.0 - slope];
    let bow = |angle: &f64| wanted.iter().any(|w| (angle - w).abs() < 1.0);
    assert!(axes.iter().any(bow), "{axes:?} without {slope}");
    assert!(
        axes.iter().any(|angle| (angle - 90.0).abs() < 0.3),
        "the stud stands"
    );

    let mut widths: Vec<f64> = (document.descendants())
        .filter(|n| is_in(*n, "solids") && n.attribute("stroke") == Some("#fff"))
        .map(|n| n.attribute("stroke-width").unwrap().parse().unwrap())
        .collect();
    widths.sort_by(f64::total_cmp);
    // A white stroke is as wide as the tube less one wide line.
    let (thin, thick) = (widths[0] + 3.0, widths[widths.len() - 1] + 3.0);
    assert!(
        (thick / thin - 1.660 / 1.315).abs() < 0.02,
        "{thin} {thick}"
    );
}

#[test]
fn square_tube_timber_and_cloth_have_their_own_drawings() {
    let part = |section| Part {
        mark: Mark("T1".into()),
        noun: "thing".into(),
        description: "Thing".into(),
        section: Some(section),
        length: Some(length("8 ft")),
        width: None,
        ends: Some([End::Plain; 2]),
        finish: None,
        unit_mass: Mass::read("1 kg", None).unwrap(),
        bend: None,
    };
    let drawn = [
        part(Section::Box {
            called: "2 x 1".into(),
            width: length("2 in"),
            depth: length("1 in"),
            wall: length("0.083 in"),
            gauge: Some(14),
        }),
        part(Section::Timber {
            called: "2x6".into(),
            width: length("1-1/2 in"),
            depth: length("5-1/2 in"),
        }),
        part(Section::Cloth {
            called: "shade 50 %".into(),
        }),
    ]
    .map(|part| frame::part_drawing(&part).unwrap());
    assert_eq!(drawn.iter().collect::<BTreeSet<_>>().len(), 3);
    // The first rectangle of each is the end: its sides are to each other as the section's.
    for (svg, ratio) in [(&drawn[0], 2.0), (&drawn[1], 1.5 / 5.5)] {
        let document = Document::parse(svg).unwrap();
        let d = document
            .descendants()
            .find_map(|n| n.attribute("d"))
            .unwrap();
        let first = d.split('z').next().unwrap();
        let end = stretches(first)[0].clone();
        let (wide, high) = ((end[1].0 - end[0].0).abs(), (end[2].1 - end[1].1).abs());
        assert!((wide / high - ratio).abs() < 0.02, "{wide} {high}");
    }
}

/// Names come from files and phones; none may break out of its place.
#[test]
fn hostile_names_stay_text() {
    const NASTY: &str = "</svg><script>alert(\"1\")</script> & ' \" ]]> \u{1}\u{0}";
    let text = hoop_text()
        .replace("\"bow in post\"", "'''</title><script>x</script>&'\"'''")
        .replace("stage = \"frame\"", "stage = '\"><script>s</script>'")
        .replace("name = \"frame\"", "name = '\"><script>s</script>'");
    let mut frame = hoop_of(&text);
    frame.title = NASTY.into();
    frame.members.iter_mut().for_each(|m| {
        m.name = NASTY.into();
        m.role = NASTY.into();
    });
    for part in &mut frame.parts {
        part.noun = NASTY.into();
        part.description = NASTY.into();
        if part.mark.0 == "BOW" {
            part.mark.0 = NASTY.into();
            part.bend = with_bend().parts.iter().find_map(|p| p.bend.clone());
        }
    }
    for piece in &mut frame.pieces {
        piece.name = NASTY.into();
        if piece.mark.0 == "BOW" {
            piece.mark.0 = NASTY.into();
        }
    }
    let drawings = all(&frame);
    assert!(drawings.iter().any(|(name, _)| name.starts_with("flat")));
    for (name, svg) in drawings {
        assert!(!svg.contains("<script"), "{name}");
        let document = Document::parse(&svg).unwrap_or_else(|e| panic!("{name}: {e}"));
        assert!(document.descendants().all(|n| !n.has_tag_name("script")));
    }
    // What XML has no place for becomes a sign that something stood there; the rest is as it was written.
    let label = |svg: &str| {
        let document = Document::parse(svg).unwrap();
        document
            .root_element()
            .attribute("aria-label")
            .unwrap()
            .to_owned()
    };
    let shown = NASTY.replace(['\u{0}', '\u{1}'], "\u{fffd}");
    assert!(label(&frame::plan(&frame)).starts_with(&shown));
    let svg = frame::isometric(&frame, View::FrontRight);
    let document = Document::parse(&svg).unwrap();
    assert!((document.descendants()).any(|n| n.attribute("data-mark") == Some(&shown)));
}

/// A line of many pieces says its title once; the drawing of a long house stays small.
#[test]
fn a_long_house_is_a_small_file() {
    let long = gothic_order(
        "length = \"144 ft\"",
        "[options]\npurlins = \"one each side\"",
    );
    let frame = raised(&long);
    let svg = frame::isometric(&frame, View::BackLeft);
    assert!(
        svg.len() < 250 * frame.pieces.len() + 10_000,
        "{} bytes",
        svg.len()
    );
    assert_eq!(frame.system, System::FeetInch);
}
