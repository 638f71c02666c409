//! Segments and profiles against the handbook, and against sums worked another way.

use std::f64::consts::PI;

use frame::{Across, Ask, AskedLink, NoProfile, Path, Peak, Point, Profile, Segment};

pub fn near(found: f64, wanted: f64, within: f64) {
    assert!(
        (found - wanted).abs() <= within,
        "{found} is not {wanted} to {within}"
    );
}

#[test]
fn handbook_segments() {
    // chord, rise, radius, degrees, arc, area
    let rows = [
        // S2, the help page of a mathematics program; recomputed, agrees.
        (21.0, 6.0, 12.1875, 118.97953, 25.308373, 89.254148),
        // R S2, the rest D.
        (8.0, 2.0, 5.0, 106.26020, 9.272952, 11.182380),
        (10.0, 3.0, 5.6667, 123.85503, 12.249509, 21.373608),
        // D.
        (30.0, 12.0, 15.375, 154.63923, 41.496568, 268.379866),
        // D, half circle.
        (20.0, 10.0, 10.0, 180.0, 31.415927, 157.079633),
    ];
    for (chord, rise, radius, degrees, arc, area) in rows {
        let segment = Segment::from_chord(chord, rise).unwrap();
        near(segment.radius, radius, 5e-5);
        near(segment.angle.to_degrees(), degrees, 5e-6);
        near(segment.arc(), arc, 5e-7);
        near(segment.area(), area, 5e-7);
    }
}

/// Width, rise, radius and arc of round bows, in feet (D, the trade sheet).
#[test]
fn round_bows_of_the_trade_sheet() {
    let rows = [
        (14.0, 7.0, 7.00, 21.99),
        (20.0, 8.0, 10.25, 27.66),
        (20.0, 10.0, 10.00, 31.42),
        (26.0, 9.0, 13.89, 33.64),
        (30.0, 10.0, 16.25, 38.22),
        (30.0, 15.0, 15.00, 47.12),
        (34.0, 12.0, 18.04, 44.36),
    ];
    for (width, rise, radius, arc) in rows {
        let segment = Segment::from_chord(width, rise).unwrap();
        near(segment.radius, radius, 0.005);
        near(segment.arc(), arc, 0.005);
    }
}

/// A bow of more than a half circle: the acos form of the handbook holds, the asin form does not.
#[test]
fn a_horseshoe_is_past_a_half_circle() {
    let (chord, rise): (f64, f64) = (8.0, 8.0);
    let segment = Segment::from_chord(chord, rise).unwrap();
    // R = 4 + 64/64 = 5, and the centre lies 3 over the chord: 2 acos(-3/5).
    near(segment.radius, 5.0, 1e-12);
    near(segment.angle, 2.0 * (-0.6f64).acos(), 1e-12);
    let by_asin = 2.0 * (chord / 2.0 / segment.radius).asin();
    near(segment.angle, 2.0 * PI - by_asin, 1e-12);
    assert!(segment.angle > PI);
}

#[test]
fn an_arc_gives_back_its_chord_and_rise() {
    for (chord, rise) in [(21.0, 6.0), (8.0, 8.0), (1.0, 1e-7), (3.0, 400.0)] {
        let there = Segment::from_chord(chord, rise).unwrap();
        let back = Segment::from_arc(there.radius, there.angle);
        near(back.chord / chord, 1.0, 1e-9);
        near(back.rise / rise, 1.0, 1e-9);
    }
}

/// Of a shallow arc the length is c (1 + 8/3 (h/c)²) to the fourth power of h/c (Huygens' series; M).
#[test]
fn the_flattest_arcs_stay_exact() {
    let (chord, rise) = (10.0, 1e-4);
    let segment = Segment::from_chord(chord, rise).unwrap();
    let excess = segment.arc() - chord;
    near(excess / (8.0 / 3.0 * rise * rise / chord), 1.0, 1e-4);
}

#[test]
fn no_segment_of_what_is_no_chord() {
    for (chord, rise) in [
        (0.0, 1.0),
        (1.0, 0.0),
        (-1.0, 1.0),
        (1.0, -1.0),
        (f64::NAN, 1.0),
        (1.0, f64::NAN),
    ] {
        assert_eq!(Segment::from_chord(chord, rise), None, "{chord}, {rise}");
    }
    assert_eq!(Segment::from_chord(f64::INFINITY, 1.0), None);
    assert_eq!(Segment::from_chord(1e300, 1.0), None);
}

const INCH: f64 = 0.0254;

fn straight(name: &str, length: f64) -> AskedLink {
    AskedLink::straight(name, Ask::Given(length))
}

fn arc(name: &str, radius: f64) -> AskedLink {
    AskedLink::arc(name, Ask::Given(radius))
}

fn solve(width: f64, height: f64, links: &[AskedLink]) -> Result<Profile, NoProfile> {
    Profile::solve(width, height, Peak::Pointed, links)
}

/// The profile of gothic-24, in inches throughout.
fn gothic() -> Profile {
    solve(
        288.0,
        129.0,
        &[
            straight("side", 48.0),
            arc("shoulder", 36.0),
            arc("roof", 360.0),
        ],
    )
    .unwrap()
}

fn distance(a: Across, b: Across) -> f64 {
    (a.x - b.x).hypot(a.z - b.z)
}

/// Worked by hand. The shoulder's centre is (−108, 48); to the peak (0, 129) it is (108, 81), 135 apart (3-4-5).
/// The roof's centre lies 324 from the one and 360 from the other: along the line between them
/// (324² − 360² + 135²) / (2 · 135) = −23.7, aside √(324² − 23.7²) = 323.13202, so it is at
/// (−108 − 23.7 · 0.8 + 323.13202 · 0.6, 48 − 23.7 · 0.6 − 323.13202 · 0.8) = (66.91921, −224.72561).
/// Slope where the arcs touch: atan(174.91921 / 272.72561); at the peak: atan(66.91921 / 353.72561).
#[test]
fn the_gothic_profile_worked_by_hand() {
    let touch = (174.91921f64 / 272.72561).atan();
    let peak = (66.91921f64 / 353.72561).atan();
    let profile = gothic();
    let lengths: Vec<f64> = profile.links().iter().map(|l| l.length).collect();
    near(lengths[0], 48.0, 1e-9);
    near(lengths[1], 36.0 * (PI / 2.0 - touch), 1e-4);
    near(lengths[2], 360.0 * (touch - peak), 1e-4);
    near(
        profile.half_length(),
        48.0 + 36.0 * (PI / 2.0 - touch) + 360.0 * (touch - peak),
        1e-4,
    );
    near(profile.length(), 2.0 * profile.half_length(), 0.0);
}

#[test]
fn the_chain_starts_at_the_foot_ends_at_the_peak_and_has_no_kink() {
    let profile = gothic();
    near(
        distance(profile.at(0.0), Across { x: -144.0, z: 0.0 }),
        0.0,
        1e-9,
    );
    near(
        distance(
            profile.at(profile.half_length()),
            Across { x: 0.0, z: 129.0 },
        ),
        0.0,
        1e-9,
    );
    near(
        distance(profile.at(profile.length()), Across { x: 144.0, z: 0.0 }),
        0.0,
        1e-9,
    );
    // The direction a hair before each joint of two links and a hair after it is the same.
    let hair = 1e-5;
    let mut s = 0.0;
    for link in &profile.links()[..2] {
        s += link.length;
        let (before, here, after) = (profile.at(s - hair), profile.at(s), profile.at(s + hair));
        near(distance(before, here), hair, 1e-9);
        near(distance(here, after), hair, 1e-9);
        let turn = (after.z - here.z).atan2(after.x - here.x)
            - (here.z - before.z).atan2(here.x - before.x);
        near(turn, 0.0, 1e-5);
    }
}

/// Each arc measured as a tape would: chord between its ends, rise from the chord to its middle.
#[test]
fn each_arc_agrees_with_the_segment_formulas() {
    let profile = gothic();
    let mut s = profile.links()[0].length;
    for (link, radius) in profile.links()[1..].iter().zip([36.0, 360.0]) {
        let (start, middle, end) = (
            profile.at(s),
            profile.at(s + link.length / 2.0),
            profile.at(s + link.length),
        );
        let chord = distance(start, end);
        let mid_chord = Across {
            x: (start.x + end.x) / 2.0,
            z: (start.z + end.z) / 2.0,
        };
        let rise = distance(mid_chord, middle);
        let by_hand_radius = rise / 2.0 + chord * chord / (8.0 * rise);
        let by_hand_angle = 2.0 * ((by_hand_radius - rise) / by_hand_radius).acos();
        near(by_hand_radius / radius, 1.0, 1e-9);
        near(by_hand_radius * by_hand_angle / link.length, 1.0, 1e-9);
        let segment = link.segment().unwrap();
        near(segment.chord, chord, 1e-9);
        near(segment.rise, rise, 1e-9);
        s += link.length;
    }
    assert_eq!(profile.links()[0].segment(), None);
}

#[test]
fn left_and_right_mirror_each_other() {
    let profile = gothic();
    for i in 0..=100 {
        let s = profile.length() * f64::from(i) / 100.0;
        let (left, right) = (profile.at(s), profile.at(profile.length() - s));
        near(left.x, -right.x, 1e-9);
        near(left.z, right.z, 1e-9);
    }
}

#[test]
fn the_area_is_that_of_a_fine_polygon() {
    let profile = gothic();
    let steps = 20_000;
    let points: Vec<Across> = (0..=steps)
        .map(|i| profile.at(profile.length() * f64::from(i) / f64::from(steps)))
        .collect();
    // Shoelace; the ground line closes it.
    let double: f64 = points
        .windows(2)
        .map(|w| w[0].z * w[1].x - w[1].z * w[0].x)
        .sum();
    near(profile.area() / (double / 2.0), 1.0, 1e-6);
    let length: f64 = points.windows(2).map(|w| distance(w[0], w[1])).sum();
    near(profile.length() / length, 1.0, 1e-6);
}

#[test]
fn heights_and_lengths_along_are_each_others_inverse() {
    let profile = gothic();
    for i in 1..=1000 {
        let s = profile.half_length() * f64::from(i) / 1000.0;
        let at = profile.at(s);
        near(profile.along_height(at.z).unwrap(), s, 1e-6);
        if s > 48.0 + 1e-6 {
            near(profile.height_at(at.x).unwrap(), at.z, 1e-6);
            near(profile.height_at(-at.x).unwrap(), at.z, 1e-6);
        }
    }
    assert_eq!(profile.along_height(129.1), None);
    assert_eq!(profile.height_at(144.1), None);
    assert_eq!(profile.along_height(-1.0), profile.along_height(0.0));
}

#[test]
fn a_share_of_a_link_is_counted_from_its_lower_end() {
    let profile = gothic();
    near(profile.along_link("side", 1.0).unwrap(), 48.0, 1e-9);
    near(profile.along_link("shoulder", 0.0).unwrap(), 48.0, 1e-9);
    near(
        profile.along_link("roof", 1.0).unwrap(),
        profile.half_length(),
        1e-9,
    );
    assert_eq!(profile.along_link("eaves", 0.5), None);
}

#[test]
fn arcs_that_do_not_meet_are_refused_with_the_numbers() {
    let asked = [
        straight("side", 48.0 * INCH),
        arc("shoulder", 36.0 * INCH),
        arc("roof", 60.0 * INCH),
    ];
    // The roof's circle, 5 ft in radius, cannot reach from a 24 ft house's shoulder to its peak:
    // 135 in apart, and 60 − 36 + 60 = 84 in at most.
    let refused = solve(288.0 * INCH, 129.0 * INCH, &asked).unwrap_err();
    let NoProfile::ArcsDoNotMeet {
        shoulder,
        roof,
        height,
        half_width,
        miss,
    } = refused.clone()
    else {
        panic!("{refused}");
    };
    near(shoulder, 36.0 * INCH, 1e-12);
    near(roof, 60.0 * INCH, 1e-12);
    near(height, 129.0 * INCH, 1e-12);
    near(half_width, 144.0 * INCH, 1e-12);
    near(miss, (135.0 - 84.0) * INCH, 1e-9);
    let said = refused.to_string();
    for number in ["0.914", "1.524", "3.277", "3.658", "1.295"] {
        assert!(said.contains(number), "{number}: {said}");
    }
}

#[test]
fn a_chain_that_cannot_be_is_refused() {
    let (side, shoulder, roof) = (
        straight("side", 48.0),
        arc("shoulder", 36.0),
        arc("roof", 360.0),
    );
    assert_eq!(solve(288.0, 129.0, &[]), Err(NoProfile::NoLinks));
    // With one turn or none that can follow, the chain ends where it ends.
    for links in [
        vec![roof.clone()],
        vec![roof.clone(), side.clone()],
        vec![side.clone(), side.clone(), roof.clone()],
    ] {
        let refused = solve(288.0, 129.0, &links).unwrap_err();
        let misses = matches!(
            refused,
            NoProfile::MissesHeight { .. } | NoProfile::MissesMiddle { .. }
        );
        assert!(misses, "{refused}");
    }
    // Three turns cannot all follow from two ends.
    let early = solve(
        288.0,
        129.0,
        &[shoulder.clone(), shoulder.clone(), roof.clone()],
    );
    let open = ["shoulder", "shoulder", "roof"].map(|name| format!("the turn of `{name}`"));
    assert_eq!(
        early,
        Err(NoProfile::TooOpen {
            open: open.into(),
            follow: 2
        })
    );
    for bad in [0.0, -1.0, f64::NAN, f64::INFINITY, 1e12] {
        assert_eq!(
            solve(288.0, 129.0, &[shoulder.clone(), arc("roof", bad)]),
            Err(NoProfile::NotPositive("roof".into())),
            "{bad}"
        );
        assert_eq!(
            solve(bad, 129.0, &[shoulder.clone(), roof.clone()]),
            Err(NoProfile::NotPositive("width".into())),
            "{bad}"
        );
        assert_eq!(
            solve(288.0, bad, &[shoulder.clone(), roof.clone()]),
            Err(NoProfile::NotPositive("height".into())),
            "{bad}"
        );
    }
    // A peak below the shoulder, one that only a sinking roof reaches, a side taller than the house.
    for (width, height, side_height) in [
        (288.0, 20.0, 48.0),
        (288.0, 90.0, 48.0),
        (288.0, 129.0, 400.0),
    ] {
        let found = solve(
            width,
            height,
            &[
                straight("side", side_height),
                shoulder.clone(),
                roof.clone(),
            ],
        );
        let refused = found.unwrap_err();
        assert!(
            matches!(
                refused,
                NoProfile::ArcsDoNotMeet { .. } | NoProfile::ArcsBendWrong { .. }
            ),
            "{refused}"
        );
    }
}

/// A piece is drawn by points along its path: the ends of a straight, and along an arch at least one every 30 cm.
#[test]
fn a_path_is_drawn_by_points_on_it() {
    let profile = gothic();
    let straight = Path::Straight(
        Point {
            x: 1.0,
            y: 0.0,
            z: 2.0,
        },
        Point {
            x: 1.0,
            y: 12.0,
            z: 2.0,
        },
    );
    near(straight.length(), 12.0, 0.0);
    let points = straight.points(&profile, 3.0, 6.0);
    assert_eq!(points.iter().map(|p| p.y).collect::<Vec<_>>(), [3.0, 6.0]);

    let arch = Path::Arch {
        y: 4.0,
        from: 24.0,
        to: profile.length() - 24.0,
    };
    near(arch.length(), profile.length() - 48.0, 1e-9);
    let points = arch.points(&profile, 10.0, 20.0);
    near(points[0].z, 34.0, 1e-9);
    near(points[points.len() - 1].z, 44.0, 1e-9);
    for pair in points.windows(2) {
        let apart = (pair[1].x - pair[0].x).hypot(pair[1].z - pair[0].z);
        assert!(apart < 0.3 + 1e-9 && pair[0].y == 4.0, "{pair:?}");
    }
}
