//! A bent piece on the ground against the handbook's circular segment; joints; small drawings of parts.

use std::collections::BTreeSet;

use frame::{End, Mark, Part, Section, Stretch};
use measure::Mass;
use roxmltree::Document;

use super::read_svg::{is_in, length, stretches, texts, with_bend};
use crate::house::{demo, raised};

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
