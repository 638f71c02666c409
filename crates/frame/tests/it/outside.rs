//! Six houses as someone writes them who has `docs/family.md` and a bulletin on the table, and not our code.
//!
//! The houses are of our own making. Quantities and lengths are worked apart from the program (D): those of the first two
//! houses before their files were first read, those of the others beside our list, each with its sum; lengths by the
//! closed forms that stand here, or, where none is short, by a bisection of the same circles. That a trade builds so is
//! common practice, no source.

use frame::{Family, HouseEnd, Order, PartsList, View, expand};
use measure::Length;

const SQUARE: &str = include_str!("outside/square-20.family.toml");
const POSTS: &str = include_str!("outside/posts-30.family.toml");
const HORSESHOE: &str = include_str!("outside/horseshoe-14.family.toml");
const LOW: &str = include_str!("outside/low-12.family.toml");
const SKID: &str = include_str!("outside/skid-26.family.toml");
const SLOPE: &str = include_str!("outside/slope-28.family.toml");

const POSTS_ORDER: &str = include_str!("outside/posts-30.order.toml");
const HORSESHOE_ORDER: &str = include_str!("outside/horseshoe-14.order.toml");
const SKID_ORDER: &str = include_str!("outside/skid-26.order.toml");
const SLOPE_ORDER: &str = include_str!("outside/slope-28.order.toml");

fn read(family: &str) -> Family {
    Family::read(family).unwrap_or_else(|e| panic!("{e}"))
}

fn list(family: &str, order: &str) -> PartsList {
    let order = Order::read(order).unwrap();
    let frame = expand(&order, &read(family)).unwrap_or_else(|e| panic!("{e}"));
    PartsList::of(&frame)
}

fn refused(family: &str, order: &str) -> String {
    let order = Order::read(order).unwrap();
    match expand(&order, &read(family)) {
        Ok(_) => panic!("it was built"),
        Err(e) => e.to_string(),
    }
}

/// Every line of the list, no more and no fewer.
fn holds(list: &PartsList, by_hand: &[(&str, i64)]) {
    let mut ours: Vec<(&str, i64)> = (list.lines.iter())
        .map(|line| (line.part.mark.0.as_str(), line.quantity))
        .collect();
    let mut by_hand = by_hand.to_vec();
    ours.sort_unstable();
    by_hand.sort_unstable();
    assert_eq!(ours, by_hand);
}

fn is_long(list: &PartsList, mark: &str, inches: f64) {
    let length = list.line(mark).unwrap().part.length.unwrap();
    let off = length.to_inches() - inches;
    // Half of the sixteenth that lengths are told in.
    assert!(off.abs() <= 1.0 / 32.0, "{mark}: {} in", length.to_inches());
}

fn used(list: &PartsList, mark: &str, role: &str) -> i64 {
    let uses = list.line(mark).unwrap().uses();
    uses.iter().find(|(used, _)| *used == role).unwrap().1
}

/// The one text instead of the other, which must be there.
fn instead(text: &str, from: &str, to: &str) -> String {
    assert!(text.contains(from), "{from}");
    text.replace(from, to)
}

#[test]
fn square_tube() {
    let list = list(SQUARE, include_str!("outside/square-20.order.toml"));
    holds(
        &list,
        &[
            ("POST", 26),                   // 48/4 + 1 = 13 bows
            ("LEG", 26),                    // two a bow
            ("TOP", 13),                    // one a bow
            ("PURLIN", 8),  // three lines of 20 + 20 + 8 ft; the three of 8 ft from two
            ("UBOLT", 33),  // three lines, eleven inner bows
            ("BRACKET", 6), // three lines, two end bows
            ("TEK", 16 + 44 + 52 + 12 + 6), // end legs, legs, bow pieces, brackets, purlin pieces
        ],
    );
    // The two circles meet where their normal has the slope 20/21 (20, 21, 29): 3 ft and 12 ft 8 in of radius.
    let (turn, roof) = ((20.0_f64 / 21.0).atan(), 152.0);
    let half = roof * (std::f64::consts::FRAC_PI_2 - turn);
    is_long(&list, "LEG", 42.0 + 36.0 * turn + 0.3 * half + 4.0);
    is_long(&list, "TOP", 1.4 * half);
}

#[test]
fn three_lengths_of_posts() {
    let list = list(POSTS, POSTS_ORDER);
    holds(
        &list,
        &[
            ("P8", 4),
            ("P7", 24), // bows 2, 4, … 24 of 25
            ("P5", 22), // bows 3, 5, … 23
            ("P6", 4),
            ("BOW", 50),
            // A side is 15 ft 9 in, five whole and 3 in, so that none meet at a bow: six boards, the 3 in being what the
            // first left or an end board did. Four end boards of 10 ft.
            ("BOARD", 2 * 6 + 4),
            ("SCAB", 2 * 6),
            ("SCREW", 8 * 12),
            ("CARRIAGE", 50 + 4 + 4), // a post on the side, a corner post and a door post at each end board
            ("BOLT", 50 + 25),
            ("CONCRETE", 4 * 2 + 4),
        ],
    );
    is_long(&list, "BOW", 240.3165);
}

#[test]
fn two_posts_in_one_place_are_refused() {
    // The author takes "rest" for what is left of all posts; it is what is left of those of one role.
    let corner = "role = \"post\"\npart = \"P8\"";
    let text = instead(POSTS, corner, "role = \"corner post\"\npart = \"P8\"");
    let said = refused(&text, POSTS_ORDER);
    assert!(
        said.contains("member `post` stands where `corner post` stands already, at bow 1"),
        "{said}"
    );
    // With the line of the rule that is too much, once.
    let part = text.lines().position(|l| l == "part = \"P5\"").unwrap();
    let line = part; // the role stands on the line above; lines are counted from 1
    assert!(said.contains(&format!("\nline {line}: ")), "{said}");
    assert_eq!(said.matches("stands already").count(), 1, "{said}");
}

#[test]
fn a_rail_on_the_tops_of_two_posts_is_held_once_at_each() {
    let rail = r#"
[[member]]
role = "rail"
part = "BOARD"
level = { height = "4 ft", reach = "5 ft" }
stage = "boards"
sub_kit = "boards"

[[joint]]
between = ["rail", "door post"]
says = "rail on door post"
hardware = { CARRIAGE = 1 }
stage = "boards"
sub_kit = "boards"
"#;
    let with = list(&format!("{POSTS}{rail}"), POSTS_ORDER);
    assert_eq!(used(&with, "CARRIAGE", "rail on door post"), 2 * 2);
    // The rail holds the posts' tops, so that they need not be loose; without it they must be.
    let held = instead(POSTS, "loose = true\n", "");
    let with = list(&format!("{held}{rail}"), POSTS_ORDER);
    assert_eq!(used(&with, "CARRIAGE", "rail on door post"), 2 * 2);
    let said = refused(&held, POSTS_ORDER);
    assert!(
        said.contains("member `door post` ends or crosses where there is nothing to hold it"),
        "{said}"
    );
}

#[test]
fn what_is_on_a_post_does_not_go_into_the_ground_with_it() {
    for (more, inches) in [("", 48), ("from_height = \"6 in\"\n", 42)] {
        let strip = format!(
            r#"
[[part]]
mark = "STRIP"
noun = "hinge strip"
timber = {{ called = "1x4", width = "3/4 in", depth = "3-1/2 in", density = 450 }}
length = "8 ft"

[[member]]
role = "strip"
part = "STRIP"
follow = ["door post"]
{more}stage = "boards"
sub_kit = "boards"
"#
        );
        // The door posts stand 4 ft over the ground, and 2 ft in it.
        let with = list(&format!("{POSTS}{strip}"), POSTS_ORDER);
        let strips = &with.line("STRIP").unwrap().places;
        assert_eq!(strips.len(), 4);
        for strip in strips {
            assert_eq!(strip.cut_to, Some(Length::inches(inches)), "{}", strip.name);
        }
    }
}

#[test]
fn a_part_too_short_is_told_once_in_feet_with_its_line() {
    let text = instead(POSTS, "to_height = \"4 ft\"\nloose = true\n", "");
    let said = refused(&text, POSTS_ORDER);
    // 5 ft from the middle the roof is over 11 ft high, and the post stands 2 ft deep.
    assert_eq!(said.matches("part `P6` has only 6 ft").count(), 1, "{said}");
    let line = 1 + text
        .lines()
        .position(|l| l == "role = \"door post\"")
        .unwrap();
    assert!(
        said.contains(&format!("line {line}: member `door post")),
        "{said}"
    );
    // So is a joint that is not there.
    let meets = "member `door post` meets `bow`, and no joint says what holds them";
    assert!(said.contains(&format!("line {line}: {meets}")), "{said}");
}

#[test]
fn horseshoe_with_a_rope_in_each_bay() {
    let horseshoe = list(HORSESHOE, HORSESHOE_ORDER);
    holds(
        &horseshoe,
        &[
            ("POST", 26),
            ("BOW", 13),
            ("PURLIN", 5 * 5), // 48 ft at 10 ft; what is left of each is 1 ft 6 in and a swage
            ("CROSS", 5 * 13),
            ("SCREW", 26 + 2 * 65 + 4 * 5),
            ("FILM", 1),
            ("ROPE", 12), // a bay each, not a bow
            ("ANCHOR", 24),
        ],
    );
    // A belly of 16 ft over 14 ft of ground: the lower circle, of 4 ft, begins leaning out by the angle whose cosine is
    // (4 − 1)/4; the upper touches it from inside and is 9 ft high.
    let lean = 0.75_f64.acos();
    let (x, z) = (4.0, 4.0 * lean.sin());
    let low = (25.0 - x * x - z * z) / (10.0 - 2.0 * z);
    let join = (z - low).atan2(x);
    let half = 4.0 * (lean + join) + (9.0 - low) * (std::f64::consts::FRAC_PI_2 - join);
    is_long(&horseshoe, "BOW", 12.0 * (2.0 * half + 3.0));

    // What each says: the rope in its bays, and a bow of one piece.
    let why = |mark: &str, role: &str| horseshoe.line(mark).unwrap().rules(role).join("; ");
    assert!(why("ROPE", "rope").contains("in each of 12 bays"));
    assert!(why("BOW", "bow").contains("one piece from foot to foot"));
    // Bows "all" of what has no bows was taken for nothing said.
    let text = instead(HORSESHOE, ", over = \"bays\" }", " }\nbows = \"all\"");
    let said = Family::read(&text).unwrap_err().to_string();
    assert!(
        said.contains("member `rope` does not stand at bows"),
        "{said}"
    );
}

#[test]
fn hoops_about_six_feet_apart() {
    let by_hand = [
        ("PIN", 20),
        ("HOOP", 10),
        ("POLE", 5),
        ("COUPLING", 4),
        // Four jambs of 5 ft 9-3/4 in; four sills of 4 ft 6 in, two of them with a header of 3 ft.
        ("STUD", 8),
        ("STRAP", 10 + 4 + 4),
        ("SCREW", 2 * (10 + 4 + 4) + 2 * 4 + 2 * 4),
        ("DOOR", 2),
    ];
    // Nine bays of 5 ft 6-2/3 in; seven of 6 ft between two of 4 ft.
    let order = include_str!("outside/low-12.order.toml");
    let short_ends = instead(order, "equal bays", "short end bays");
    for order in [order, &short_ends] {
        let list = list(LOW, order);
        holds(&list, &by_hand);
        is_long(&list, "HOOP", 72.0 * std::f64::consts::PI);
    }
}

#[test]
fn skids_webs_knees_and_a_cord() {
    let skid = list(SKID, SKID_ORDER);
    holds(
        &skid,
        &[
            ("STUB", 38),
            ("SKID", 6),
            ("BOW", 38),
            ("TUBE", 22), // three lines of seven and 2 ft; the three of 2 ft from one
            ("TIE", 7),   // bows 1, 4, … 19
            ("WEB", 14),
            ("WEB2", 14),
            ("KNEE", 38),
            ("HIP", 12),
            ("ROLL", 15), // two lines of seven and 2 ft
            ("GUIDE", 4),
            ("JAMB", 4),
            ("CORD", 36), // 18 bays, both sides
            ("EYE", 76),  // hip and base at every bow, both sides
            ("BOLT", 38 + 38 + 38 + 14 + 28 + 28 + 76),
            ("CLAMP", 19 + 38 + 4),
            ("SCREW", 7 + 14 + 14 + 4 * 12),
            ("ANCHOR", 8),
            ("BLOWER", 1),
            ("HINGE", 12),
            ("CRANK", 2),
            ("FILM", 1),
            ("INNER", 1),
            ("SFILM", 2),
        ],
    );
    is_long(&skid, "WEB", 12.0 * 65_f64.sqrt());
    is_long(
        &skid,
        "CORD",
        12.0 * (4.0_f64.powi(2) + 4.5_f64.powi(2)).sqrt(),
    );
    is_long(&skid, "KNEE", 99.1787);
    is_long(&skid, "BOW", 228.3952);
    // Counted towards the middle, which a brace is, both middle bows would have a cord in the bay between them.
    let braces = instead(SKID, ", towards = \"back\" }", " }");
    assert_eq!(used(&list(&braces, SKID_ORDER), "CORD", "cord"), 38);
}

#[test]
fn a_slope_and_heavier_end_bows() {
    let slope = list(SLOPE, SLOPE_ORDER);
    holds(
        &slope,
        &[
            ("P6", 16),
            ("P7", 16),
            ("SIDE", 28),
            ("TOP", 14),
            ("ESIDE", 4),
            ("ETOP", 2),
            ("RIDGE", 3), // 60 ft at 20 ft 6 in
            ("ROLL", 3),  // on the right alone
            ("JAMB", 2),
            ("HEAD", 2),
            ("UBOLT", 16 + 2),
            ("BOLT", 32),
            ("SCREW", 64 + 2 + 2 + 4 + 4),
            // 38 ft 4 in of bow over its posts are 20 gaps of at most 2 ft: 21 clamps, on two bows.
            ("SNAP", 42),
            ("LEAF", 2),
            ("HINGE", 8),
            ("SHUTTER", 1),
            ("CRANK", 1),
            ("FILM", 1),
            ("EFILM", 2),
        ],
    );
    for mark in ["SIDE", "ESIDE"] {
        is_long(&slope, mark, 106.8834);
    }
    for mark in ["TOP", "ETOP"] {
        is_long(&slope, mark, 270.3112);
    }
    let why = |mark: &str, role: &str| slope.line(mark).unwrap().rules(role).join("; ");
    assert!(why("ROLL", "roll bar").contains("on each side that has it"));
    assert!(why("CRANK", "crank").contains("on each side that has it"));
    assert!(why("SHUTTER", "double door with shutter").contains("at each end that has it"));
    assert_eq!(
        slope.line("P7").unwrap().part.length,
        Some(Length::inches(84))
    );
}

#[test]
fn what_holds_an_edge_may_come_in_another_box() {
    let edge = "end = { grip = \"12 in\" }\nedge = { every = \"2 ft\", hardware = { SNAP = 1 }, stage = \"ends\", sub_kit = \"clamps\" }";
    let text = instead(SLOPE, "end = { grip = \"12 in\" }", edge);
    let list = list(&text, SLOPE_ORDER);
    let snap = list.line("SNAP").unwrap();
    // A sheet of 30 by 15 ft has 15 + 8 gaps, twice; two sheets.
    assert_eq!(
        snap.sub_kits(),
        [("cover", 42), ("clamps", 2 * 2 * (15 + 8))]
    );
    for stage in [("ends", 92), ("film", 42)] {
        assert!(snap.stages().contains(&stage), "{:?}", snap.stages());
    }
    assert_eq!(list.line("EFILM").unwrap().sub_kits(), [("cover", 2)]);
    // And a package may hold that share.
    let package = "\n[[package]]\nsays = \"box\"\nsub_kits = [\"clamps\"]\n";
    read(&format!("{text}{package}"));
    let said = Family::read(&instead(
        &text,
        "stage = \"ends\", sub_kit",
        "stage = \"end\", sub_kit",
    ))
    .unwrap_err()
    .to_string();
    assert!(said.contains("there is no stage `end`"), "{said}");
}

#[test]
fn a_bow_with_a_part_beside_its_pieces_is_told_so() {
    let text = instead(
        SLOPE,
        "role = \"bow\"\nbow",
        "role = \"bow\"\npart = \"SIDE\"\nbow",
    );
    let said = Family::read(&text).unwrap_err().to_string();
    assert!(
        said.contains("member `bow` is a bow: each piece of its `half` names its part"),
        "{said}"
    );
}

#[test]
fn a_joint_takes_one_role_or_several() {
    for field in [
        "splice = [\"ridge\", \"high purlin\", \"low purlin\"]",
        "ends = \"rope\"",
    ] {
        assert!(HORSESHOE.contains(field), "{field}");
    }
    let between = "between = [[\"ridge\", \"high purlin\", \"low purlin\"], \"bow\"]";
    // Said again of one of them, it is said twice.
    let again = r#"
[[joint]]
between = ["bow", "low purlin"]
says = "purlin tied to the bow"
hardware = { SCREW = 1 }
stage = "bows"
sub_kit = "frame"
"#;
    let said = Family::read(&format!("{HORSESHOE}{again}"))
        .unwrap_err()
        .to_string();
    assert!(
        said.contains("what is between `bow` and `low purlin` is said twice"),
        "{said}"
    );
    // Each of them needs it.
    let text = instead(
        HORSESHOE,
        between,
        "between = [[\"ridge\", \"low purlin\"], \"bow\"]",
    );
    let said = refused(&text, HORSESHOE_ORDER);
    assert!(said.contains("member `high purlin` meets `bow`"), "{said}");

    let text = instead(HORSESHOE, "ends = \"rope\"", "ends = 3");
    let said = Family::read(&text).unwrap_err().to_string();
    assert!(said.contains("a role (\"ridge\"), or several"), "{said}");
}

#[test]
fn a_blower_is_no_door_under_the_tie_of_the_end_bow() {
    let frame = expand(&Order::read(SKID_ORDER).unwrap(), &read(SKID)).unwrap();
    for end in HouseEnd::BOTH {
        let sheet = frame::end_elevation(&frame, end);
        assert!(sheet.contains(">TIE<"), "{sheet}");
        assert!(
            !sheet.contains("blower") && !sheet.contains("crank"),
            "{sheet}"
        );
    }
}

#[test]
fn each_can_be_drawn() {
    let orders = [
        (SQUARE, include_str!("outside/square-20.order.toml")),
        (POSTS, POSTS_ORDER),
        (HORSESHOE, HORSESHOE_ORDER),
        (LOW, include_str!("outside/low-12.order.toml")),
        (SKID, SKID_ORDER),
        (SLOPE, SLOPE_ORDER),
    ];
    for (family, order) in orders {
        let frame = expand(&Order::read(order).unwrap(), &read(family)).unwrap();
        let mut sheets = vec![frame::plan(&frame), frame::side_elevation(&frame)];
        sheets.extend(HouseEnd::BOTH.map(|end| frame::end_elevation(&frame, end)));
        sheets.extend(View::ALL.map(|view| frame::isometric(&frame, view)));
        for (kind, _) in frame::joints_to_detail(&frame) {
            sheets.extend(frame::joint_detail(&frame, kind));
        }
        for sheet in sheets {
            let read = roxmltree::Document::parse(&sheet).unwrap();
            let drawn = |n: &roxmltree::Node| n.has_tag_name("path") || n.has_tag_name("line");
            assert!(
                read.descendants().any(|n| drawn(&n)),
                "{}: {sheet}",
                frame.title
            );
            assert!(!sheet.contains("NaN"), "{}", frame.title);
        }
    }
}
