//! Plan and elevations: their figures and their scale.

use frame::{HouseEnd, View};
use roxmltree::Document;

use super::read_svg::{hoop, length, shape, stretches, texts};
use crate::house::{demo, gothic_order, raised};

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

/// The section is at a bow with a truss: each piece in its plane is drawn once, and no other.
#[test]
fn the_section_shows_what_stands_at_a_bow() {
    let order = crate::house::order(include_str!("../../../benches/largest.toml"));
    let family = frame::Family::named(&order.family).unwrap();
    let frame = frame::expand(&order, &family).unwrap();
    let svg = frame::section(&frame).unwrap();
    let found = texts(&svg);
    assert!(found.iter().any(|t| t == "Section at bow 2"), "{found:?}");
    let document = Document::parse(&svg).unwrap();
    let drawn: std::collections::BTreeSet<usize> = (document.descendants())
        .filter_map(|node| node.attribute("data-piece")?.parse().ok())
        .collect();
    let bow = frame.stations[1].to_metres();
    let stands_there = |piece: &frame::Piece| {
        let member = &frame.members[piece.member];
        let at = |s: f64| (member.path.at(&frame.profile, s).y - bow).abs() < 1e-6;
        member.on.is_none() && at(0.0) && at(member.path.length())
    };
    let wanted: std::collections::BTreeSet<usize> = (0..frame.pieces.len())
        .filter(|i| stands_there(&frame.pieces[*i]))
        .collect();
    // Two posts, four pieces of bow, two of the tie, four webs and a king post.
    assert_eq!(wanted.len(), 2 + 4 + 2 + 4 + 1);
    assert_eq!(drawn, wanted);
    // A house with nothing but bows and posts between its ends needs none.
    assert_eq!(frame::section(&raised(&demo())), None);
}

/// A fan of 40 in between its sill at 90 in and its head at 130 in is one opening, and not the wall under it; a crank
/// that stands at the end of a board is none.
#[test]
fn an_opening_is_where_its_frame_is() {
    let raised = |text: &str| {
        let order = frame::Order::read(text).unwrap();
        frame::expand(&order, &frame::Family::named(&order.family).unwrap()).unwrap()
    };
    let fan =
        raised("name = \"f\"\nfamily = \"sidewall-30\"\nlength = \"48 ft\"\n[back]\nfan = \"one\"");
    let back = texts(&frame::end_elevation(&fan, HouseEnd::Back));
    let has = |wanted: &str| back.iter().any(|t| t == wanted);
    assert!(
        has("fan") && has("3 ft 4 in") && !has("7 ft 6 in"),
        "{back:?}"
    );
    let plan = texts(&frame::plan(&fan));
    assert!(!plan.iter().any(|t| t.contains("fan")), "{plan:?}");

    let crank = raised(
        "name = \"c\"\nfamily = \"round-16\"\nlength = \"24 ft\"\n[left]\nside = \"roll-up\"",
    );
    let front = texts(&frame::end_elevation(&crank, HouseEnd::Front));
    assert!(!front.iter().any(|t| t.contains("crank")), "{front:?}");
}

/// A piece over the peak is seen from the side up to its middle, and a board by its two edges.
#[test]
fn the_side_shows_what_goes_over_the_peak() {
    let order = crate::house::order("name = \"r\"\nfamily = \"round-16\"\nlength = \"48 ft\"");
    let family = frame::Family::named(&order.family).unwrap();
    let frame = frame::expand(&order, &family).unwrap();
    let svg = frame::side_elevation(&frame);
    let document = Document::parse(&svg).unwrap();
    let tops: Vec<_> = (document.descendants())
        .filter(|node| node.attribute("data-mark") == Some("B2"))
        .collect();
    assert_eq!(tops.len() as i64, frame.bows);
    for top in tops {
        // Upright lines in this view: all that goes to the far side is left out.
        let points = &stretches(top.attribute("d").unwrap())[0];
        assert!(
            points.iter().all(|p| (p.0 - points[0].0).abs() < 0.2),
            "{points:?}"
        );
        assert!(
            points.windows(2).all(|pair| pair[1].1 >= pair[0].1),
            "{points:?}"
        );
    }
    let board = document
        .descendants()
        .find(|node| node.attribute("data-mark") == Some("T1"))
        .unwrap();
    let hollow = board.next_sibling_element().unwrap();
    assert_eq!(hollow.attribute("d"), board.attribute("d"));
    assert_eq!(hollow.attribute("stroke"), Some("#fff"));
}
