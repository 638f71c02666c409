//! A bow of more than half a circle, written in every way that may come to mind; quantities worked by hand.

use super::written::{PLAIN, Written, in_sixteenths};
use super::{feet, sixteenths};

/// `s = Rθ`, `θ = 2 acos((R − h) / R)`, `R = h/2 + c²/8h` (engineering facts, 7.1; area M, the rest S2), in feet.
fn segment(c: f64, h: f64) -> (f64, f64) {
    let r = h / 2.0 + c * c / (8.0 * h);
    (r, r * 2.0 * ((r - h) / r).acos())
}

/// The common form with the arc sine, right only up to half a circle, would give 18.55 ft.
#[test]
fn a_horseshoe_is_as_long_as_the_handbook_says() {
    let (r, arc) = segment(16.0, 16.0);
    assert!((r - 10.0).abs() < 1e-12 && (arc - 44.286).abs() < 0.001);
    let two_arcs = Written {
        profile: r#"
width = "16 ft"
height = "16 ft"
peak = "smooth"
half = [
    { name = "low", arc = "follows", turn = "follows", kink = "follows" },
    { name = "high", arc = "10 ft", turn = 90 },
]
"#,
        ..PLAIN
    };
    let no_posts = Written {
        post: r#"
[[joint]]
foot = ["bow"]
says = "bow on its anchor"
hardware = { BOLT = 1 }
stage = "frame"
sub_kit = "frame"
"#,
        ..PLAIN
    };
    let width_as_of_a_pipe = Written {
        profile: r#"
width = "16 ft"
height = "16 ft"
peak = "smooth"
half = [{ name = "round", arc = "10 ft", turn = "follows", kink = "follows" }]
"#,
        ..PLAIN
    };
    for written in [PLAIN, two_arcs, no_posts, width_as_of_a_pipe] {
        let house = written.raise("12 ft", "");
        assert_eq!(house.count("BOW"), 4);
        assert_eq!(house.count("BOLT"), 8);
        assert_eq!(house.sixteenths("BOW"), in_sixteenths(arc));
        // Lying flat, its ends are 16 ft apart and its top as high over them.
        let bend = house.list.line("BOW").unwrap().part.bend.clone().unwrap();
        assert_eq!(sixteenths(Some(bend.chord)), feet(16));
        assert_eq!(sixteenths(Some(bend.rise)), feet(16));
        assert!(
            bend.stretches
                .iter()
                .all(|s| sixteenths(s.radius) == feet(10))
        );
    }
}

/// Straight legs of 2 ft that lean with the bow: the feet are as far from the centre as a leg and a radius at right
/// angles, `R² + 2² = 8² + (16 − R)²`, so that R = 9.875 ft.
#[test]
fn posts_lean_out_with_a_horseshoe() {
    let leaning = Written {
        profile: r#"
width = "16 ft"
height = "16 ft"
peak = "smooth"
half = [
    { name = "leg", straight = "2 ft", kink = "follows" },
    { name = "round", arc = "follows", turn = "follows" },
]
"#,
        post: &PLAIN.post.replace("0 in", "12 in"),
        ..PLAIN
    };
    let house = leaning.raise("8 ft", "");
    let r: f64 = (4.0 + 64.0 + 256.0 - 8.0) / 32.0;
    assert_eq!(r, 9.875);
    // Seen from the centre, the foot is so far under the level, and the leg ends a little further up.
    let lean = ((16.0 - r) / 8.0).atan() - (2.0 / r).atan();
    let half = 2.0 - 1.0 / lean.cos() + r * (std::f64::consts::FRAC_PI_2 + lean);
    assert_eq!(house.sixteenths("BOW"), in_sixteenths(2.0 * half));
    let post = house
        .frame
        .members
        .iter()
        .find(|m| m.role == "post")
        .unwrap();
    let (foot, top) = (
        post.path.at(&house.frame.profile, 0.0),
        post.path.at(&house.frame.profile, post.path.length()),
    );
    // It leans outward as it rises, is 4 ft long and ends 12 in over the ground.
    assert!((((foot.x - top.x) / (top.z - foot.z)).atan() - lean).abs() < 1e-9);
    assert!((post.path.length() - 1.2192).abs() < 1e-9 && (top.z - 0.3048).abs() < 1e-9);
    assert_eq!(house.count("BOLT"), 6);
}

/// The whole house of a horseshoe: boards, purlins, studs under the roof, film as wide as its belly.
#[test]
fn a_horseshoe_has_boards_studs_and_film() {
    let more = r#"
[[part]]
mark = "BOARD"
noun = "base board"
timber = { called = "2x6", width = "1.5 in", depth = "5.5 in", density = 550 }
length = "12 ft"
[[part]]
mark = "RUN"
noun = "purlin"
box = { called = "1 x 1", width = "1 in", wall = "0.065 in" }
length = "12 ft"
[[part]]
mark = "STUD"
noun = "end wall post"
timber = { called = "2x4", width = "1.5 in", depth = "3.5 in", density = 550 }
length = "16 ft"
[[part]]
mark = "FILM"
noun = "main cover"
film = "6 mil"
[[part]]
mark = "ENDS"
noun = "end wall film"
film = "6 mil"
[[member]]
role = "board"
part = "BOARD"
along = { height = "6 in" }
stage = "frame"
sub_kit = "frame"
[[member]]
role = "purlin"
part = "RUN"
along = { of = "round", share = 0.5 }
stage = "frame"
sub_kit = "frame"
[[member]]
role = "stud"
part = "STUD"
upright = ["7 ft"]
stage = "frame"
sub_kit = "frame"
[[joint]]
between = ["board", "bow"]
says = "board"
hardware = { BOLT = 1 }
stage = "frame"
sub_kit = "frame"
[[joint]]
between = ["purlin", "bow"]
says = "purlin"
hardware = { BOLT = 1 }
stage = "frame"
sub_kit = "frame"
[[joint]]
between = ["stud", "bow"]
says = "stud"
hardware = { BOLT = 1 }
stage = "frame"
sub_kit = "frame"
[[skin]]
role = "cover"
part = "FILM"
over = { from = { height = "0 in" }, grip = "1 ft", end_allowance = "2 ft" }
roll_widths = ["40 ft", "42 ft", "48 ft"]
stage = "frame"
sub_kit = "frame"
[[skin]]
role = "ends"
part = "ENDS"
end = { grip = "1 ft" }
stage = "frame"
sub_kit = "frame"
"#;
    let house = Written { more, ..PLAIN }.raise("12 ft", "");
    assert_eq!((house.count("BOARD"), house.count("RUN")), (2, 2));
    // Two legs a bow, two boards and two purlins a bow, two studs an end.
    assert_eq!(house.count("BOLT"), 4 * 2 + 4 * 2 + 4 * 2 + 4);
    // 44.29 ft and a foot a side; 20 ft at the belly.
    assert_eq!(house.width_sixteenths("FILM"), feet(48));
    assert_eq!(house.width_sixteenths("ENDS"), feet(22));
    assert_eq!(house.sixteenths("ENDS"), feet(18));
    // A stud 7 ft from the middle ends under the roof, 6 + √(10² − 7²) ft up, not at the leg beside its foot.
    let stud = house
        .frame
        .pieces
        .iter()
        .find(|p| p.mark.0 == "STUD")
        .unwrap();
    let top = 6.0 + (100.0f64 - 49.0).sqrt();
    assert_eq!(sixteenths(stud.cut_to), in_sixteenths(top));
}
