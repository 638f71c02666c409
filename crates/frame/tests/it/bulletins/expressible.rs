//! What a family must be able to say: a bow of more than half a circle, square tube, three lengths of post in one
//! house, a length that is no whole number of bays. Written as someone from outside might write it; the quantities
//! are worked by hand.

use super::{House, feet, inches, raise, refused, sixteenths};

/// A family of round tube on pins. Tests put in what they are about.
struct Written<'a> {
    size: &'a str,
    profile: &'a str,
    parts: &'a str,
    post: &'a str,
    bow: &'a str,
    more: &'a str,
}

/// Sixteen feet between the feet and sixteen high.
const HORSESHOE: &str = r#"
width = "16 ft"
height = "16 ft"
peak = "smooth"
half = [{ name = "round", arc = "follows", kink = "follows" }]
"#;

const PLAIN: Written = Written {
    size: "",
    profile: HORSESHOE,
    parts: r#"
[[part]]
mark = "POST"
noun = "ground post"
tube = { called = "1-5/8", outside = "1.660 in", wall = "0.065 in" }
length = "4 ft"
[[part]]
mark = "BOW"
noun = "bow"
tube = { called = "1-3/8", outside = "1.315 in", wall = "0.065 in" }
"#,
    post: r#"
[[member]]
role = "post"
part = "POST"
post = { above_ground = "0 in" }
stage = "frame"
sub_kit = "frame"
[[joint]]
between = ["post", "bow"]
says = "bow on its post"
hardware = { BOLT = 1 }
stage = "frame"
sub_kit = "frame"
"#,
    bow: r#"{ half = [{ part = "BOW", to = "over the peak" }] }"#,
    more: "",
};

impl Written<'_> {
    fn text(&self) -> String {
        let Self {
            size,
            profile,
            parts,
            post,
            bow,
            more,
        } = self;
        format!(
            r#"
name = "written"
title = "A house of someone else"
[size]
bow_spacing = ["4 ft", "6 ft"]
least_length = "4 ft"
most_length = "100 ft"
{size}
[profile]
{profile}
[[stage]]
name = "frame"
{parts}
[[part]]
mark = "BOLT"
noun = "bolt"
mass = "30 g"
[[member]]
role = "bow"
bow = {bow}
stage = "frame"
sub_kit = "frame"
{post}
{more}
"#
        )
    }

    fn raise(&self, length: &str, more: &str) -> House {
        raise(&self.text(), &ordered(length, more))
    }

    fn refused(&self, length: &str) -> String {
        refused(&self.text(), &ordered(length, ""))
    }
}

fn ordered(length: &str, more: &str) -> String {
    format!("name = \"w\"\nfamily = \"written\"\nlength = \"{length}\"\n{more}")
}

/// `s = Rθ`, `θ = 2 acos((R − h) / R)`, `R = h/2 + c²/8h` (engineering facts, 7.1; area M, the rest S2), in feet.
fn segment(c: f64, h: f64) -> (f64, f64) {
    let r = h / 2.0 + c * c / (8.0 * h);
    (r, r * 2.0 * ((r - h) / r).acos())
}

fn in_sixteenths(feet: f64) -> i64 {
    (feet * 192.0).round() as i64
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

/// Bows, posts, purlins all of square tube: pieces, and masses by hand, `2 (a + b − 2t) t` of steel at 7850 kg/m³.
#[test]
fn a_house_of_square_tube() {
    let written = Written {
        profile: r#"
width = "20 ft"
height = "12 ft"
peak = "smooth"
half = [
    { name = "side", straight = "follows" },
    { name = "roof", arc = "10 ft", turn = 90 },
]
"#,
        parts: r#"
[[part]]
mark = "POST"
noun = "ground post"
box = { called = "2-1/4 x 2-1/4", width = "2.25 in", wall = "0.083 in", gauge = 14 }
length = "4 ft"
[[part]]
mark = "BOW"
noun = "bow"
box = { called = "2 x 2", width = "2 in", wall = "0.065 in", gauge = 16 }
ends = ["plain", "plain"]
[[part]]
mark = "RUN"
noun = "purlin"
box = { called = "1 x 2", width = "1 in", depth = "2 in", wall = "0.065 in", gauge = 16 }
length = "20 ft"
"#,
        post: &PLAIN.post.replace("0 in", "1 ft"),
        bow: r#"{ half = [{ part = "BOW", to = "peak" }], insert = "6 in" }"#,
        more: r#"
[[member]]
role = "ridge"
part = "RUN"
along = "peak"
stage = "frame"
sub_kit = "frame"
[[joint]]
between = ["ridge", "bow"]
says = "ridge"
hardware = { BOLT = 2 }
stage = "frame"
sub_kit = "frame"
[[joint]]
peak = "bow"
says = "halves"
hardware = { BOLT = 4 }
stage = "frame"
sub_kit = "frame"
"#,
        ..PLAIN
    };
    let house = written.raise("36 ft", "");
    // Nine bays of 4 ft; 36 ft of ridge are a tube and 16 ft of another.
    assert_eq!(house.count("POST"), 20);
    assert_eq!(house.count("BOW"), 20);
    assert_eq!(house.count("RUN"), 2);
    assert_eq!(house.count("BOLT"), 20 + 10 * 2 + 10 * 4);
    // A leg of 2 ft, of which 1 ft is the post's; a quarter of a circle; 6 in in the post.
    let half = 1.0 + std::f64::consts::FRAC_PI_2 * 10.0 + 0.5;
    assert_eq!(house.sixteenths("BOW"), in_sixteenths(half));
    let kilograms = |a: f64, b: f64, t: f64, feet: f64| {
        2.0 * (a + b - 2.0 * t) * t * 0.0254f64.powi(2) * feet * 0.3048 * 7850.0
    };
    for (mark, by_hand) in [
        ("POST", kilograms(2.25, 2.25, 0.083, 4.0)),
        ("BOW", kilograms(2.0, 2.0, 0.065, half)),
        ("RUN", kilograms(1.0, 2.0, 0.065, 20.0)),
    ] {
        let part = &house.list.line(mark).unwrap().part;
        let found = part.unit_mass.to_kilograms();
        assert!(
            (found / by_hand - 1.0).abs() < 0.001,
            "{mark}: {found} kg, {by_hand}"
        );
        let square = if mark == "RUN" {
            "rectangular tube"
        } else {
            "square tube"
        };
        assert!(part.description.contains(square), "{}", part.description);
    }
}

/// Three lengths of post: `corner` as said, the others by `bows`.
fn three_posts(rules: [&str; 3]) -> String {
    let part = |mark: &str, feet: i64| {
        format!(
            "[[part]]\nmark = \"{mark}\"\nnoun = \"ground post\"\nlength = \"{feet} ft\"\n\
             tube = {{ called = \"1-5/8\", outside = \"1.660 in\", wall = \"0.065 in\" }}\n"
        )
    };
    let mut text = part("P6", 6) + &part("P5", 5) + &part("P4", 4);
    for (mark, bows) in ["P6", "P5", "P4"].into_iter().zip(rules) {
        text += &format!(
            "[[member]]\nrole = \"post\"\npart = \"{mark}\"\npost = {{ above_ground = \"0 in\" }}\n{bows}\n\
             stage = \"frame\"\nsub_kit = \"frame\"\n"
        );
    }
    let joint = PLAIN.post.find("[[joint]]").unwrap();
    text + &PLAIN.post[joint..]
}

#[test]
fn three_lengths_of_post_in_one_house() {
    let bows = |post: &str, length: &str| {
        let house = Written { post, ..PLAIN }.raise(length, "");
        // Every leg has one post, whatever its length.
        assert_eq!(house.count("BOLT"), 2 * house.frame.bows);
        ["P6", "P5", "P4"].map(|mark| house.count(mark))
    };
    // Corners, every third between them, the rest. 96 ft at 4 ft are 25 bows: 2, then bows 2, 5, .. 23, which are 8.
    let third = three_posts([
        "bows = \"ends\"",
        "bows = { inner_every = 3 }",
        "bows = \"rest\"",
    ]);
    assert_eq!(bows(&third, "96 ft"), [4, 16, 30]);
    // 12 ft are 4 bows: 2, bow 2, bow 3.
    assert_eq!(bows(&third, "12 ft"), [4, 2, 2]);
    // Corners, the bow beside them, the rest. In a house of two bays it is one bow that is beside both.
    let beside = three_posts([
        "bows = \"ends\"",
        "bows = { from_end = 1 }",
        "bows = \"rest\"",
    ]);
    assert_eq!(bows(&beside, "96 ft"), [4, 4, 42]);
    assert_eq!(bows(&beside, "8 ft"), [4, 2, 0]);
    // The middle one longer, and one side by itself.
    let middle = three_posts([
        "bows = \"middle\"",
        "bows = \"rest\"\nsides = \"left\"",
        "bows = \"rest\"\nsides = \"right\"",
    ]);
    assert_eq!(bows(&middle, "8 ft"), [2, 2, 2]);
}

#[test]
fn posts_that_share_a_bow_or_leave_one_out_are_refused() {
    let shared = three_posts(["bows = \"ends\"", "bows = { every = 3 }", "bows = \"rest\""]);
    let said = Written {
        post: &shared,
        ..PLAIN
    }
    .refused("12 ft");
    for word in ["member `post` is there twice at bow 1", "bow 4", "\"rest\""] {
        assert!(said.contains(word), "{said}");
    }
    // Bow 3 of four has no post.
    let left_out = three_posts([
        "bows = \"ends\"",
        "bows = { inner_every = 3 }",
        "bows = { from_end = 5 }",
    ]);
    let said = Written {
        post: &left_out,
        ..PLAIN
    }
    .refused("12 ft");
    assert!(
        said.contains("`bow` ends or crosses where there is nothing to hold it"),
        "{said}"
    );
    // The rest of nothing.
    let alone = PLAIN.post.replace("stage", "bows = \"rest\"\nstage");
    let said = Written {
        post: &alone,
        ..PLAIN
    }
    .refused("12 ft");
    assert!(said.contains("there is none above it"), "{said}");
}

/// Posts that end higher at the ends: the bows there are shorter, and need a mark of their own.
#[test]
fn posts_of_two_heights_need_bows_of_two_lengths() {
    let post = three_posts([
        "bows = \"ends\"",
        "bows = { from_end = 1 }",
        "bows = \"rest\"",
    ]);
    let high = post.replacen("\"0 in\"", "\"12 in\"", 1);
    let profile = r#"
width = "20 ft"
height = "12 ft"
peak = "smooth"
half = [
    { name = "side", straight = "follows" },
    { name = "roof", arc = "10 ft", turn = 90 },
]
"#;
    let said = Written {
        post: &high,
        profile,
        ..PLAIN
    }
    .refused("16 ft");
    assert!(
        said.contains("part `BOW` would have to be of several lengths"),
        "{said}"
    );
    let short = PLAIN.parts.replace("mark = \"BOW\"", "mark = \"SHORT\"");
    let short = &short[short.rfind("[[part]]").unwrap()..];
    let parts = format!("{}{short}", PLAIN.parts);
    let rest = r#"{ half = [{ part = "SHORT", to = "over the peak" }] }
bows = "ends"
stage = "frame"
sub_kit = "frame"
[[member]]
role = "bow"
bows = "rest"
bow = { half = [{ part = "BOW", to = "over the peak" }] }"#;
    let house = Written {
        post: &high,
        parts: &parts,
        bow: rest,
        profile,
        ..PLAIN
    }
    .raise("16 ft", "");
    let arc = std::f64::consts::PI * 10.0;
    assert_eq!((house.count("BOW"), house.count("SHORT")), (3, 2));
    assert_eq!(house.sixteenths("BOW"), in_sixteenths(arc + 4.0));
    assert_eq!(house.sixteenths("SHORT"), in_sixteenths(arc + 2.0));
}

/// 50 ft at 6 ft are 8 bays and 2 ft.
#[test]
fn a_length_that_is_no_whole_number_of_bays() {
    let written = Written {
        size: r#"uneven = ["short last bay", "equal bays", "long last bay", "short end bays"]"#,
        more: r#"
[[part]]
mark = "RUN"
noun = "ridge"
tube = { called = "1-3/8", outside = "1.315 in", wall = "0.065 in" }
length = "21 ft"
[[member]]
role = "ridge"
part = "RUN"
along = "peak"
stage = "frame"
sub_kit = "frame"
[[joint]]
between = ["ridge", "bow"]
says = "ridge"
hardware = { BOLT = 1 }
stage = "frame"
sub_kit = "frame"
"#,
        ..PLAIN
    };
    let equal = 600 * 16 / 9;
    let ways: [(&str, i64, i64, i64); 4] = [
        ("short last bay", 9, inches(72), inches(24)),
        ("equal bays", 9, equal, equal),
        ("long last bay", 8, inches(72), inches(96)),
        // 7 bays of 6 ft, and 4 ft at either end.
        ("short end bays", 9, inches(48), inches(48)),
    ];
    for (way, bays, first, last) in ways {
        let house = written.raise(
            "50 ft",
            &format!("bow_spacing = \"6 ft\"\nuneven = \"{way}\""),
        );
        let stations = &house.frame.stations;
        let bay = |bow: usize| sixteenths(Some(stations[bow] - stations[bow - 1]));
        assert_eq!(house.frame.bows, bays + 1, "{way}");
        assert!((bay(1) - first).abs() <= 1, "{way}: first bay {}", bay(1));
        assert!(
            (bay(bays as usize) - last).abs() <= 1,
            "{way}: last bay {}",
            bay(bays as usize)
        );
        assert_eq!(sixteenths(Some(stations[bays as usize])), feet(50), "{way}");
        assert_eq!(house.count("POST"), 2 * (bays + 1), "{way}");
        // Two feet and a crossing a bow; the ridge is 21 and 21 and 8 ft whatever stands under it.
        assert_eq!(house.count("BOLT"), 3 * (bays + 1), "{way}");
        assert_eq!(house.count("RUN"), 3, "{way}");
        // A whole number of bays needs no way, and is not changed by one.
        let even = written.raise(
            "48 ft",
            &format!("bow_spacing = \"6 ft\"\nuneven = \"{way}\""),
        );
        assert_eq!(even.frame.bows, 9, "{way}");
        // Shorter than a bay: one bay, as long as the house.
        let tiny = written.raise(
            "5 ft",
            &format!("bow_spacing = \"6 ft\"\nuneven = \"{way}\""),
        );
        assert_eq!(tiny.frame.bows, 2, "{way}");
    }
    let said = written.refused("50 ft");
    for word in ["12.50 bays of 4 ft", "short last bay", "short end bays"] {
        assert!(said.contains(word), "{said}");
    }
}
