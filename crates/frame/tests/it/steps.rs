//! The steps of the build in our families: what follows what, and what each brings.

use std::collections::BTreeSet;

use frame::{Family, Frame, expand};

use crate::house::{demo, listed, order};

/// What must be done before what. KY24 (University of Kentucky, The Plant Health Instructor 24, 2024, S): layout, posts,
/// bows, then what runs along them. PSUsl (Penn State's teaching slides, S): posts, bows, purlins, braces, channel, cover.
/// COR (Cornell's slides on purlins, S): purlins on standing bows. That bows are joined before they are set needs no source.
const BEFORE: [(&str, &str); 11] = [
    ("setting out", "posts"),
    ("posts", "bows up"),
    ("bows on the ground", "bows up"),
    ("bows up", "ridge"),
    ("ridge", "purlins"),
    ("purlins", "channel"),
    ("bows up", "end walls"),
    ("end walls", "channel"),
    ("channel", "film"),
    ("braces", "film"),
    ("film", "doors"),
];

fn houses() -> Vec<Frame> {
    let lengths = [
        ("gothic-24", "48 ft"),
        ("round-16", "48 ft"),
        ("sidewall-30", "96 ft"),
    ];
    (lengths.iter())
        .map(|(family, length)| {
            let order = order(&format!(
                "name = \"a house\"\nfamily = \"{family}\"\nlength = \"{length}\"\n"
            ));
            expand(&order, &Family::named(family).unwrap()).unwrap()
        })
        .collect()
}

/// All that must be done before a step, itself with it.
fn with_all_before(frame: &Frame, step: usize) -> BTreeSet<&str> {
    let mut before = BTreeSet::from([frame.stages[step].as_str()]);
    for earlier in &frame.steps[step].follows {
        before.append(&mut with_all_before(frame, *earlier));
    }
    before
}

#[test]
fn our_families_are_built_in_the_published_order() {
    for frame in houses() {
        let at = |name: &str| frame.stages.iter().position(|stage| stage == name);
        for (earlier, later) in BEFORE {
            let (Some(_), Some(later_at)) = (at(earlier), at(later)) else {
                // The gothic house has no braces.
                assert_eq!((frame.stages.len(), earlier), (11, "braces"));
                continue;
            };
            let before = with_all_before(&frame, later_at);
            assert!(
                before.contains(earlier),
                "{earlier} before {later}: {before:?}"
            );
        }
        // A second team can join bows while others set posts (KY24 and PSUsl ask nothing before it).
        let ground = at("bows on the ground").unwrap();
        assert_eq!(frame.steps[ground].follows, []);
        assert!(
            frame
                .steps
                .iter()
                .zip(&frame.stages)
                .all(|(s, name)| s.work == *name)
        );
    }
}

/// 48 ft at 4 ft: 13 bows of two halves, joined by two plates at the peak, each leg with one bolt in its post.
#[test]
fn bows_are_joined_on_the_ground_and_bolted_when_they_stand() {
    let list = listed(&demo());
    let stages = |mark: &str| list.line(mark).unwrap().stages();
    assert_eq!(stages("P1"), [("posts", 26)]);
    assert_eq!(stages("B1"), [("bows on the ground", 26)]);
    assert_eq!(stages("K1"), [("bows on the ground", 26)]);
    assert_eq!(stages("N1"), [("bows up", 26)]);
    assert!(
        list.lines
            .iter()
            .all(|line| list.first_stage(line) != "setting out")
    );
}
