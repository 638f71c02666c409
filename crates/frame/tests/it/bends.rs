//! Bent pieces: chord and rise against the handbook and against fine sampling.

use frame::{Across, Ask, AskedLink, BentStretch, NoBend, Profile};

use crate::geometry::near;
use crate::profiles::{OPEN, arc, pointed, smooth, straight};

fn gothic() -> Profile {
    pointed(
        7.3152,
        3.2766,
        &[
            straight("side", 1.2192),
            arc("shoulder", 0.9144),
            arc("roof", 9.144),
        ],
    )
}

fn three_centred() -> Profile {
    let roof = AskedLink::arc("roof", OPEN);
    smooth(
        8.0,
        3.0,
        &[straight("side", 0.9), arc("shoulder", 1.2), roof],
    )
}

/// chord, rise, radius, arc: the circular segments of the handbook table (S2 and D, see geometry.rs). A bow of one arc
/// with its feet on the ground is such a segment.
#[test]
fn a_whole_round_bow_is_the_segment_of_the_handbook() {
    let rows = [
        (21.0, 6.0, 12.1875, 25.308373),
        (8.0, 2.0, 5.0, 9.272952),
        (10.0, 3.0, 5.6667, 12.249509),
        (30.0, 12.0, 15.375, 41.496568),
        (20.0, 10.0, 10.0, 31.415927),
        // Past a half circle: 2 acos(-3/5) · 5 (D).
        (8.0, 8.0, 5.0, 22.142974),
    ];
    for (chord, rise, radius, length) in rows {
        let bow = AskedLink::arc("bow", OPEN).kinked(OPEN);
        let profile = smooth(chord, rise, &[bow]);
        let bent = profile.bend(0.0, profile.length()).unwrap();
        near(bent.chord, chord, 1e-9);
        near(bent.rise, rise, 1e-9);
        let [stretch] = bent.stretches.as_slice() else {
            panic!("one arc over the peak: {bent:?}");
        };
        near(stretch.length, length, 5e-7);
        near(stretch.radius.unwrap(), radius, 5e-5);
    }
}

/// Chord and greatest distance over many points of the piece.
fn sampled(profile: &Profile, from: f64, to: f64) -> (f64, f64) {
    let at = |i: u32| profile.at(from + (to - from) * f64::from(i) / 100_000.0);
    let (start, end) = (at(0), at(100_000));
    let chord = (end.x - start.x).hypot(end.z - start.z);
    let off = |p: Across| {
        ((end.x - start.x) * (p.z - start.z) - (end.z - start.z) * (p.x - start.x)).abs() / chord
    };
    (chord, (0..=100_000).map(|i| off(at(i))).fold(0.0, f64::max))
}

#[test]
fn chord_and_rise_are_those_of_many_points() {
    let (gothic, arch) = (gothic(), three_centred());
    let bow = AskedLink::arc("bow", OPEN).kinked(OPEN);
    let horseshoe = smooth(5.0, 3.9, &[straight("leg", 0.3), bow]);
    let pieces = [
        (&gothic, 0.0, 1.0),
        (&gothic, 0.0, gothic.half_length()),
        (&gothic, 0.8, 1.9),
        (&gothic, gothic.half_length(), gothic.length()),
        (&arch, 0.0, arch.length()),
        (&arch, 0.5, arch.half_length()),
        (&arch, 1.0, arch.half_length() + 1.5),
        (&horseshoe, 0.3, horseshoe.length() - 0.3),
        (&horseshoe, 0.3, horseshoe.half_length()),
    ];
    for (profile, from, to) in pieces {
        let bent = profile.bend(from, to).unwrap();
        let (chord, rise) = sampled(profile, from, to);
        near(bent.chord, chord, 1e-12);
        near(bent.rise, rise, 1e-8);
        let sum: f64 = bent.stretches.iter().map(|s| s.length).sum();
        near(sum, to - from, 1e-9);
    }
}

#[test]
fn a_piece_is_its_stretches_from_its_own_ends() {
    let arch = three_centred();
    let [side, shoulder, roof] = arch.links() else {
        panic!("three links");
    };
    let bent = arch.bend(0.4, arch.length() - 0.6).unwrap();
    let wanted = [
        (side.length - 0.4, None),
        (shoulder.length, Some(1.2)),
        (2.0 * roof.length, roof.radius()),
        (shoulder.length, Some(1.2)),
        (side.length - 0.6, None),
    ];
    assert_eq!(bent.stretches.len(), wanted.len());
    for (BentStretch { length, radius }, (l, r)) in bent.stretches.iter().zip(wanted) {
        near(*length, l, 1e-9);
        assert_eq!(*radius, r);
    }
    let bent = arch.bend(0.1, 0.8).unwrap();
    near(bent.chord, 0.7, 1e-12);
    near(bent.rise, 0.0, 1e-12);
}

#[test]
fn a_corner_inside_a_piece_cannot_be_bent() {
    let gothic = gothic();
    let half = gothic.half_length();
    let Err(NoBend::Kink { at, degrees }) = gothic.bend(half - 1.0, half + 1.0) else {
        panic!("the peak is pointed");
    };
    near(at, half, 1e-9);
    // Twice the slope at the peak, as worked in geometry.rs: atan(66.91921 / 353.72561).
    let slope = (66.91921f64 / 353.72561).atan().to_degrees();
    near(degrees, 2.0 * slope, 1e-4);

    let bow = AskedLink::arc("bow", OPEN).kinked(OPEN);
    let posts = smooth(9.0, 4.0, &[straight("post", 2.2), bow]);
    assert!(matches!(posts.bend(2.0, 3.0), Err(NoBend::Kink { at, .. }) if at == 2.2));
    // A piece may end at the corner.
    posts.bend(2.2, posts.length() - 2.2).unwrap();
    posts.bend(0.0, 2.2).unwrap();
    // An outward corner is told as one.
    let bow = AskedLink::arc("bow", Ask::Follows).kinked(OPEN);
    let shoe = smooth(5.0, 3.9, &[straight("leg", 0.3), bow]);
    assert!(matches!(shoe.bend(0.0, 1.0), Err(NoBend::Kink { degrees, .. }) if degrees < 0.0));
}

#[test]
fn a_piece_must_be_on_the_profile() {
    let gothic = gothic();
    for (from, to) in [
        (1.0, 1.0),
        (2.0, 1.0),
        (-0.1, 1.0),
        (0.0, gothic.length() + 0.1),
        (f64::NAN, 1.0),
        (0.0, f64::NAN),
        (0.0, f64::INFINITY),
    ] {
        let found = gothic.bend(from, to);
        assert!(
            matches!(found, Err(NoBend::NotOnProfile { .. })),
            "{found:?}"
        );
    }
}
