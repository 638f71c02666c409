//! Every kind of profile that the solver knows, against geometry that is worked another way.
//!
//! All figures here are derived (D): school geometry, with the theorem named beside each.

use std::f64::consts::{FRAC_PI_2, PI};

use frame::{Across, Ask, AskedLink, NoProfile, Peak, Profile};

use crate::geometry::near;

pub const OPEN: Ask = Ask::Follows;

pub fn straight(name: &str, length: f64) -> AskedLink {
    AskedLink::straight(name, Ask::Given(length))
}

pub fn arc(name: &str, radius: f64) -> AskedLink {
    AskedLink::arc(name, Ask::Given(radius))
}

pub fn smooth(width: f64, height: f64, links: &[AskedLink]) -> Profile {
    let profile = Profile::solve(width, height, Peak::Smooth, links).unwrap();
    must_close(&profile, width, height);
    let last = profile.links().last().unwrap();
    near(last.heading_after(), 0.0, 1e-9);
    profile
}

pub fn pointed(width: f64, height: f64, links: &[AskedLink]) -> Profile {
    let profile = Profile::solve(width, height, Peak::Pointed, links).unwrap();
    must_close(&profile, width, height);
    profile
}

fn must_close(profile: &Profile, width: f64, height: f64) {
    let (foot, peak) = (profile.at(0.0), profile.at(profile.half_length()));
    near(foot.x, -width / 2.0, 1e-9);
    near(foot.z, 0.0, 1e-9);
    near(peak.x, 0.0, 1e-9);
    near(peak.z, height, 1e-9);
}

fn radius(profile: &Profile, link: &str) -> f64 {
    let link = profile.links().iter().find(|l| l.name == link).unwrap();
    link.radius().unwrap()
}

fn refused(width: f64, height: f64, peak: Peak, links: &[AskedLink]) -> (NoProfile, String) {
    let refusal = Profile::solve(width, height, peak, links).unwrap_err();
    let says = refusal.to_string();
    (refusal, says)
}

fn must_say(says: &str, words: &[&str]) {
    for word in words {
        assert!(says.contains(word), "`{word}` is not in: {says}");
    }
}

/// A round bow on upright legs: either the legs or the height follow from the other.
#[test]
fn a_half_circle_on_legs() {
    let bow = AskedLink::arc("bow", OPEN);
    for side in [
        straight("side", 0.3048),
        AskedLink::straight("side", OPEN),
        straight("side", 0.3048).kinked(Ask::Given(0.0)),
    ] {
        let profile = smooth(4.8768, 0.3048 + 2.4384, &[side, bow.clone()]);
        near(radius(&profile, "bow"), 2.4384, 1e-9);
        near(profile.half_length(), 0.3048 + 2.4384 * FRAC_PI_2, 1e-9);
        // Pythagoras at a quarter of the width.
        let z = 0.3048 + 2.4384 * 0.75f64.sqrt();
        near(profile.height_at(1.2192).unwrap(), z, 1e-9);
    }
    // The radius too may be given, when it is half of the width.
    smooth(
        4.8768,
        2.7432,
        &[straight("side", 0.3048), arc("bow", 2.4384)],
    );
    let quarter = arc("bow", 2.4384).turning(FRAC_PI_2);
    smooth(
        4.8768,
        2.7432,
        &[AskedLink::straight("side", OPEN), quarter],
    );
}

#[test]
fn a_half_circle_of_another_height_is_refused_with_the_numbers() {
    let links = [straight("side", 0.3048), AskedLink::arc("bow", OPEN)];
    let (refusal, says) = refused(4.8768, 2.6, Peak::Smooth, &links);
    let NoProfile::MissesHeight { reached, .. } = refusal else {
        panic!("{says}");
    };
    near(reached, 2.7432, 1e-9);
    must_say(
        &says,
        &[
            "`bow`",
            "2.438 m",
            "90.0 degrees",
            "0.305 m",
            "2.743 m",
            "2.600 m",
            "0.143 m",
        ],
    );
    // Height under half of the width: the legs would have to go down.
    let links = [
        AskedLink::straight("side", OPEN),
        AskedLink::arc("bow", OPEN),
    ];
    let (refusal, says) = refused(4.8768, 2.2, Peak::Smooth, &links);
    assert!(
        matches!(refusal, NoProfile::ExtentCannotBe { .. }),
        "{says}"
    );
    must_say(
        &says,
        &["`side`", "length", "-0.238 m", "2.200 m", "2.438 m"],
    );
}

/// A flat arc over posts: intersecting chords give `R = c²/8h + h/2`.
#[test]
fn a_flat_arc_over_posts_kinks_at_the_post_top() {
    let bow = AskedLink::arc("bow", OPEN).kinked(OPEN);
    let profile = smooth(9.0, 4.0, &[straight("post", 2.2), bow]);
    let r = 81.0 / (8.0 * 1.8) + 0.9;
    near(radius(&profile, "bow"), r, 1e-9);
    let angle = (4.5 / r).asin();
    near(profile.links()[1].length, r * angle, 1e-9);
    near(profile.links()[1].heading(), angle, 1e-9);
    near(profile.height_at(4.5 - 1e-7).unwrap(), 2.2, 1e-6);
}

/// More than a half circle from the ground: `R = (W²/4 + H²) / 2H`, wider than its feet at the height of the centre.
#[test]
fn a_horseshoe_leans_outward_and_is_wider_than_its_feet() {
    let bow = AskedLink::arc("bow", OPEN).kinked(OPEN);
    let profile = smooth(8.0, 8.0, &[bow]);
    near(radius(&profile, "bow"), 5.0, 1e-9);
    let link = &profile.links()[0];
    assert!(link.heading() > FRAC_PI_2);
    near(link.turn(), PI - (0.8f64).asin(), 1e-9);
    // The centre is 3 up: there the bow is 10 wide, and at 6 it is as wide as at the ground.
    let belly = profile.at(profile.along_height(3.0).unwrap());
    near(belly.x, -5.0, 1e-9);
    near(profile.at(profile.along_widest()).x, -5.0, 1e-12);
    let over_the_foot = profile.at(profile.along_height(6.0).unwrap());
    near(over_the_foot.x, -4.0, 1e-9);
    // The roof over a foot is where the bow comes back, and not the foot itself.
    near(profile.height_at(4.0).unwrap(), 6.0, 1e-9);
    near(profile.height_at(-3.0).unwrap(), 7.0, 1e-9);
    near(profile.height_at(0.0).unwrap(), 8.0, 1e-9);
    assert_eq!(profile.height_at(4.5), None);
    assert_eq!(profile.height_at(f64::NAN), None);
    // Circle less the segment under the ground, by the handbook's form of the segment's area.
    let angle = 2.0 * (-0.6f64).acos();
    near(profile.area(), 12.5 * (angle - angle.sin()), 1e-9);
}

/// On upright legs a bow is nowhere wider than on the ground.
#[test]
fn upright_legs_are_the_widest() {
    let profile = smooth(
        8.0,
        5.0,
        &[straight("leg", 1.0), AskedLink::arc("bow", OPEN)],
    );
    near(profile.along_widest(), 0.0, 1e-12);
}

#[test]
fn a_horseshoe_on_short_legs() {
    let bow = AskedLink::arc("bow", OPEN).kinked(OPEN);
    let profile = smooth(8.0, 8.5, &[straight("leg", 0.5), bow.clone()]);
    near(radius(&profile, "bow"), 5.0, 1e-9);
    near(profile.height_at(4.0).unwrap(), 6.5, 1e-9);
    near(profile.along_height(0.25).unwrap(), 0.25, 1e-12);
    let belly = profile.at(profile.along_height(3.5).unwrap());
    near(belly.x, -5.0, 1e-9);
    near(profile.at(profile.along_widest()).x, -5.0, 1e-12);
    // With the radius given and the leg following, the circle passes over the foot 0.5 and 6.5 up: of the two the one
    // is taken whose kink does not turn outward.
    let given = arc("bow", 5.0).kinked(OPEN);
    let again = smooth(8.0, 8.5, &[AskedLink::straight("leg", OPEN), given]);
    near(again.links()[0].length, 6.5, 1e-9);
}

/// A three-centred arch: the roof's centre on the middle line is as far from the shoulder's as the radii differ.
#[test]
fn a_three_centred_arch() {
    let links = [arc("shoulder", 1.2), AskedLink::arc("roof", OPEN)];
    let profile = smooth(8.0, 2.1, &links);
    let (a, k) = (4.0 - 1.2, 2.1 - 1.2);
    // a² + y² = (k + y)², the centre y under the spring line.
    let y = (a * a - k * k) / (2.0 * k);
    near(radius(&profile, "roof"), 2.1 + y, 1e-9);
    near(profile.links()[0].heading(), FRAC_PI_2, 1e-12);
}

/// A pointed arch of one arc: the centre on the ground, on the upright bisector of foot and peak.
#[test]
fn a_pointed_arch_of_one_arc() {
    let profile = pointed(6.0, 4.0, &[AskedLink::arc("half bow", OPEN)]);
    near(radius(&profile, "half bow"), (9.0 + 16.0) / 6.0, 1e-9);
    // A height of half the width makes it a half circle, a lower one is no arch from upright feet.
    near(
        radius(
            &pointed(6.0, 3.0, &[AskedLink::arc("half bow", OPEN)]),
            "half bow",
        ),
        3.0,
        1e-9,
    );
    let (_, says) = refused(6.0, 2.9, Peak::Pointed, &[AskedLink::arc("half bow", OPEN)]);
    must_say(&says, &["`half bow` would sink", "2.900 m", "3.000 m"]);
}

/// Leg, shoulder and straight rafter: the rafter is a tangent, so its square is the power of the peak (Euclid III.36).
#[test]
fn a_rafter_is_a_tangent_to_the_shoulder() {
    let links = [
        straight("leg", 1.8),
        arc("shoulder", 0.7),
        AskedLink::straight("rafter", OPEN),
    ];
    let profile = pointed(6.4, 3.6, &links);
    let (dx, dz) = (3.2f64 - 0.7, 3.6 - 1.8);
    let power = dx * dx + dz * dz - 0.49;
    near(profile.links()[2].length, power.sqrt(), 1e-9);
}

#[test]
fn a_straight_rafter_on_a_kink() {
    let rafter = AskedLink::straight("rafter", OPEN).kinked(OPEN);
    let profile = pointed(5.5, 3.1, &[straight("leg", 1.9), rafter]);
    near(profile.links()[1].length, 2.75f64.hypot(1.2), 1e-9);
    near(profile.links()[1].heading(), (1.2f64 / 2.75).atan(), 1e-9);
    // A rafter of given length and slope: the leg follows, and the width had better agree.
    let slope = Ask::Given(FRAC_PI_2 - (1.2f64 / 2.75).atan());
    let given = AskedLink::straight("rafter", OPEN).kinked(slope);
    let profile = pointed(5.5, 3.1, &[AskedLink::straight("leg", OPEN), given]);
    near(profile.links()[0].length, 1.9, 1e-9);
    near(profile.links()[1].length, 2.75f64.hypot(1.2), 1e-9);
}

/// A half A-frame: the first link itself leans in.
#[test]
fn a_first_link_may_lean() {
    let profile = pointed(
        6.0,
        4.0,
        &[AskedLink::straight("rafter", OPEN).kinked(OPEN)],
    );
    near(profile.half_length(), 5.0, 1e-9);
    near(profile.links()[0].heading(), (4.0f64 / 3.0).atan(), 1e-12);
}

/// Two rafters of 5 over the corners of a 6 by 8 box could fold in or out: a builder means the one that folds in.
#[test]
fn of_two_profiles_the_one_that_kinks_inward_is_taken() {
    let links = [
        straight("low rafter", 5.5).kinked(OPEN),
        straight("high rafter", 5.5).kinked(OPEN),
    ];
    let profile = pointed(12.0, 8.0, &links);
    let [low, high] = profile.links() else {
        panic!("two links were asked for");
    };
    assert!(low.heading() > high.heading());
    // The apex of the triangle over a base of 10: √(5.5² − 5²) off its middle.
    let corner = profile.at(5.5);
    let off = (5.5f64 * 5.5 - 25.0).sqrt();
    near(corner.x, -3.0 - off * 0.8, 1e-9);
    near(corner.z, 4.0 + off * 0.6, 1e-9);
}

#[test]
fn too_much_left_open_is_refused_with_what_is_open() {
    let links = [
        AskedLink::straight("side", OPEN),
        AskedLink::arc("bow", OPEN).kinked(OPEN),
    ];
    let (refusal, says) = refused(8.0, 4.0, Peak::Smooth, &links);
    assert!(
        matches!(refusal, NoProfile::TooOpen { follow: 3, .. }),
        "{says}"
    );
    must_say(
        &says,
        &[
            "4 measures open",
            "the length of `side`",
            "the kink before `bow`",
            "the turn of `bow`",
            "the radius of `bow`",
            "only 3",
        ],
    );
    let (_, says) = refused(
        8.0,
        4.0,
        Peak::Pointed,
        &[AskedLink::arc("bow", OPEN).kinked(OPEN)],
    );
    must_say(&says, &["3 measures", "the lean of `bow`", "only 2"]);
    // A smooth peak settles nothing where no heading is open.
    let links = ["a", "b", "c"].map(|n| AskedLink::arc(n, OPEN).turning(PI / 6.0));
    let (refusal, says) = refused(8.0, 4.0, Peak::Smooth, &links);
    assert!(
        matches!(refusal, NoProfile::TooOpen { follow: 2, .. }),
        "{says}"
    );
}

#[test]
fn what_more_than_one_profile_would_do_is_refused() {
    // One leg in two straights: only their sum follows. Two arcs of one radius: only their common turn does.
    let legs = [
        AskedLink::straight("low", OPEN),
        AskedLink::straight("high", OPEN),
    ];
    let twins = [arc("first", 4.0), arc("second", 4.0)];
    for links in [legs, twins] {
        let (refusal, says) = refused(8.0, 4.0, Peak::Pointed, &links);
        assert!(matches!(refusal, NoProfile::NotSettled { .. }), "{says}");
        must_say(&says, &[&links[0].name, &links[1].name, "do not settle"]);
    }
}

#[test]
fn what_does_not_reach_is_refused_with_the_numbers() {
    let links = [
        straight("low rafter", 2.0).kinked(OPEN),
        straight("high rafter", 2.5).kinked(OPEN),
    ];
    // Foot to peak is 5, the rafters are 4.5 together.
    let (refusal, says) = refused(6.0, 4.0, Peak::Pointed, &links);
    let NoProfile::DoesNotReach { miss, .. } = refusal else {
        panic!("{says}");
    };
    near(miss, 0.5, 1e-9);
    must_say(
        &says,
        &["low rafter", "high rafter", "4.000 m", "3.000 m", "0.500 m"],
    );

    let (_, says) = refused(6.0, 4.0, Peak::Pointed, &[straight("leg", 4.0)]);
    must_say(&says, &["`leg`", "4.000 m up", "3.000 m from the middle"]);

    let tilted = [AskedLink::arc("bow", OPEN).turning(PI / 3.0)];
    let (_, says) = refused(6.0, 4.0, Peak::Smooth, &tilted);
    must_say(&says, &["30.000 degrees off level"]);

    // A roof flatter than a kilometre of radius is no bow.
    let links = [AskedLink::arc("bow", OPEN).kinked(OPEN)];
    let (_, says) = refused(6.0, 0.001, Peak::Smooth, &links);
    must_say(&says, &["`bow`", "radius of 4500"]);
}

/// Given more than follows, what agrees to rounding is taken, even where the last link runs level.
#[test]
fn given_measures_that_agree_are_taken() {
    for lean in 1..60 {
        let lean = f64::from(lean).to_radians();
        let leg = straight("leg", 1.7).kinked(Ask::Given(lean));
        let (across, up) = (1.7 * lean.sin(), 1.7 * lean.cos());
        let level = straight("beam", 2.3).kinked(OPEN);
        pointed(2.0 * (across + 2.3), up, &[leg, level]);
    }
    // What does not is told by the height next to the one asked for: 4 less the other side of a triangle.
    let links = [straight("leg", 4.0), straight("rafter", 3.0).kinked(OPEN)];
    let (_, says) = refused(5.0, 3.0, Peak::Pointed, &links);
    must_say(
        &says,
        &[
            "`rafter`",
            "starts 4.000 m up",
            "ends 2.342 m up",
            "by 0.658 m",
        ],
    );
}

#[test]
fn what_goes_down_or_past_the_middle_is_refused() {
    let rafter = || AskedLink::straight("rafter", OPEN).kinked(OPEN);
    // A right angle and 114.6 degrees outward is 24.6 under the level.
    let down = straight("leg", 1.0).kinked(Ask::Given(-2.0));
    let (_, says) = refused(6.0, 4.0, Peak::Pointed, &[down, rafter()]);
    must_say(&says, &["`leg` would sink", "204.592 degrees"]);
    // 4 m at 60 degrees off the upright is 3.464 across, of 1.5.
    let across = straight("low", 4.0).kinked(Ask::Given(PI / 3.0));
    let (_, says) = refused(3.0, 4.0, Peak::Pointed, &[across, rafter()]);
    must_say(
        &says,
        &["`low` would reach 1.964 m past the middle", "1.500 m"],
    );
}

#[test]
fn angles_that_cannot_be_are_refused() {
    for bad in [0.0, -0.1, 3.2, f64::NAN, f64::INFINITY] {
        let links = [AskedLink::arc("bow", OPEN).turning(bad)];
        let (refusal, _) = refused(6.0, 4.0, Peak::Pointed, &links);
        assert_eq!(refusal, NoProfile::NotATurn("bow".into()));
    }
    for bad in [-PI, PI, f64::NAN, f64::NEG_INFINITY] {
        let links = [AskedLink::arc("bow", OPEN).kinked(Ask::Given(bad))];
        let (refusal, _) = refused(6.0, 4.0, Peak::Pointed, &links);
        assert_eq!(refusal, NoProfile::NotAKink("bow".into()));
    }
}

/// Perimeter of an ellipse by Ramanujan's second formula (1914; M).
fn ellipse(a: f64, b: f64) -> f64 {
    let h = ((a - b) / (a + b)).powi(2);
    PI * (a + b) * (1.0 + 3.0 * h / (10.0 + (4.0 - 3.0 * h).sqrt()))
}

/// Of two bulging lines between the same ends, the one that lies inside is the shorter (Archimedes, On the Sphere and
/// Cylinder, first book; M). So an arch that lies in the half ellipse over its width and height is shorter than that,
/// one around it longer, and every arch is between the straight from foot to peak and the box around it.
#[test]
fn arches_are_as_long_as_the_lines_around_and_inside_them_allow() {
    let (mut inside, mut around) = (0, 0);
    for (width, height) in [(8.0, 2.1), (9.0, 3.5), (6.0, 2.9)] {
        let (a, b): (f64, f64) = (width / 2.0, height);
        for share in [0.1, 0.3, 0.5, 0.7, 0.9, 0.97] {
            let links = [arc("shoulder", share * b), AskedLink::arc("roof", OPEN)];
            let profile = smooth(width, height, &links);
            let half = profile.half_length();
            assert!(half > a.hypot(b) && half < a + b, "{half}");
            let off = |p: Across| (p.x / a).powi(2) + (p.z / b).powi(2) - 1.0;
            let offs: Vec<f64> = (0..=2000)
                .map(|i| off(profile.at(half * f64::from(i) / 2000.0)))
                .collect();
            if offs.iter().all(|off| *off <= 1e-12) {
                inside += 1;
                assert!(half < ellipse(a, b) / 4.0, "{half}");
            } else if offs.iter().all(|off| *off >= -1e-12) {
                around += 1;
                assert!(half > ellipse(a, b) / 4.0, "{half}");
            }
        }
        // At half the width the ellipse is the circle.
        let round = smooth(width, a, &[AskedLink::arc("bow", OPEN)]);
        near(round.half_length(), ellipse(a, a) / 4.0, 1e-12);
    }
    assert!(
        inside >= 3 && around >= 3,
        "{inside} inside, {around} around"
    );
}
