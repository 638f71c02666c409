//! Three lengths of post in one house, and posts and bows cut from longer stock; quantities worked by hand.

use super::written::{PLAIN, Written, in_sixteenths};
use super::{feet, sixteenths};

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

/// Posts of 6, 5 and 4 ft all cut from pipes of 21 ft: 6 + 6 + 5 + 4 is a pipe, and the house has twice those.
#[test]
fn three_lengths_of_post_from_one_pipe() {
    let posts = three_posts([
        "bows = \"ends\"",
        "bows = { inner_every = 3 }",
        "bows = \"rest\"",
    ]);
    let members = posts.find("[[member]]").unwrap();
    let cut = PLAIN.parts.replace("\"4 ft\"", "\"21 ft\"");
    let mut post = posts[members..].to_string();
    for (mark, long) in [("P6", "6 ft"), ("P5", "5 ft"), ("P4", "4 ft")] {
        let rule = format!("part = \"{mark}\"\npost = {{ above_ground = \"0 in\"");
        assert!(post.contains(&rule));
        let from_pipe =
            format!("part = \"POST\"\npost = {{ above_ground = \"0 in\", long = \"{long}\"");
        post = post.replace(&rule, &from_pipe);
    }
    let written = Written {
        parts: &cut,
        post: &post,
        ..PLAIN
    };
    let house = written.raise("12 ft", "");
    assert_eq!(house.count("POST"), 2);
    let mut lengths: Vec<i64> = (house.frame.pieces.iter())
        .filter(|p| p.mark.0 == "POST")
        .map(|p| sixteenths(p.cut_to))
        .collect();
    lengths.sort_unstable();
    assert_eq!(lengths, [4, 4, 5, 5, 6, 6, 6, 6].map(feet));
    // A saw cut makes three pipes of two.
    let cut = format!("{cut}[cutting]\nkerf = \"1/8 in\"\n");
    let sawn = Written {
        parts: &cut,
        ..written
    };
    assert_eq!(sawn.raise("12 ft", "").count("POST"), 3);
    let short = cut.replace("\"21 ft\"", "\"5 ft\"");
    let said = Written {
        parts: &short,
        post: &post,
        ..PLAIN
    }
    .refused("12 ft");
    assert!(
        said.contains("`post` is 6 ft long, and part `POST` has only 5 ft"),
        "{said}"
    );
}

/// Half a circle 12 ft wide is 18.85 ft: a tube of 20 ft gives both halves of a bow, or the whole of it.
#[test]
fn bows_are_cut_from_stock() {
    let profile = r#"
width = "12 ft"
height = "6 ft"
peak = "smooth"
half = [{ name = "round", arc = "6 ft" }]
"#;
    let part = PLAIN.parts.rfind("[[part]]").unwrap();
    let parts = format!(
        "{}{}length = \"20 ft\"\n",
        &PLAIN.parts[..part],
        &PLAIN.parts[part..]
    );
    let whole = Written {
        profile,
        parts: &parts,
        ..PLAIN
    };
    let halves = Written {
        bow: r#"{ half = [{ part = "BOW", to = "peak" }] }"#,
        ..whole
    };
    let arc = std::f64::consts::PI * 6.0;
    for (written, pieces, each) in [(whole, 3, arc), (halves, 6, arc / 2.0)] {
        let house = written.raise("8 ft", "");
        assert_eq!(house.count("BOW"), 3);
        assert_eq!(house.sixteenths("BOW"), feet(20));
        let cut: Vec<i64> = (house.frame.pieces.iter())
            .filter(|p| p.mark.0 == "BOW")
            .map(|p| sixteenths(p.cut_to))
            .collect();
        assert_eq!(cut, vec![in_sixteenths(each); pieces]);
    }
    // Two shapes of one mark could not be told apart on the ground.
    let two = r#"{ half = [{ part = "BOW", to = { of = "round", share = 0.4 } }, { part = "BOW", to = "peak" }] }"#;
    let said = Written { bow: two, ..whole }.refused("8 ft");
    assert!(
        said.contains("part `BOW` would have to be of several lengths"),
        "{said}"
    );
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

/// What somebody from outside stumbles over is said with what would be right.
#[test]
fn a_slip_is_told_with_what_would_be_right() {
    let with_bows = |bows: &str| PLAIN.post.replacen("stage", &format!("{bows}\nstage"), 1);
    let post = |post: &str| Written { post, ..PLAIN }.refused("12 ft");
    let cases = [
        (
            post(&PLAIN.post.replace("\"0 in\"", "0")),
            "a length with its unit, such as \"6 in\"",
        ),
        (
            post(&PLAIN.post.replace("0 in", "48 in")),
            "let the profile begin with a straight link as high as that",
        ),
        (post(&with_bows("bows = \"corner\"")), "\"ends\""),
        (post(&with_bows("bows = []")), "counted from 1 to 1000"),
        (
            Written {
                bow: &format!("{}\nsides = \"left\"", PLAIN.bow),
                ..PLAIN
            }
            .refused("12 ft"),
            "it has no `sides`",
        ),
        // Two and four have none.
        (
            post(&with_bows("bows = [1, 3]")),
            "there is nothing to hold it: bow 2, left",
        ),
        (
            post(&with_bows("sides = \"left\"")),
            "there is nothing to hold it: bow 1, right",
        ),
        (
            Written {
                profile: &PLAIN.profile.replace(", kink = \"follows\"", ""),
                ..PLAIN
            }
            .refused("12 ft"),
            "stands upright unless it has a `kink`",
        ),
    ];
    for (said, right) in cases {
        assert!(said.contains(right), "{right}: {said}");
    }
}

/// Half circles of 14 ft whose posts stand a foot out of the ground: the leg bends 12² / (8 × 84) = 0.21 in away from the
/// post, which gives that. A base line on the posts is held by them.
#[test]
fn a_post_may_stand_in_a_leg_that_bends_a_little() {
    let house = Written {
        profile: "width = \"14 ft\"\nheight = \"7 ft\"\npeak = \"smooth\"\n\
                  half = [{ name = \"round\", arc = \"follows\" }]",
        post: &PLAIN.post.replace("0 in", "12 in"),
        more: r#"
[[part]]
mark = "BASE"
noun = "base board"
length = "12 ft"
mass = "10 kg"
[[member]]
role = "base"
part = "BASE"
along = { height = "6 in" }
stage = "frame"
sub_kit = "frame"
[[joint]]
between = ["base", "post"]
says = "base on the post"
hardware = { BOLT = 1 }
stage = "frame"
sub_kit = "frame"
"#,
        ..PLAIN
    }
    .raise("12 ft", "");
    // 4 bows, 8 posts, each with a bolt to its bow and one to the base.
    assert_eq!(house.count("POST"), 8);
    assert_eq!(house.count("BOLT"), 16);
    // The bow begins a foot up: 84 × (π − 2 asin (12 / 84)) = 239.81 in.
    let long = 84.0 * (std::f64::consts::PI - 2.0 * (12.0_f64 / 84.0).asin());
    assert_eq!(house.sixteenths("BOW"), in_sixteenths(long / 12.0));
}

/// A bow with a corner in it is made so, not bent: it is built, and no tape measures a bend of it.
#[test]
fn a_corner_in_a_bow_leaves_it_without_a_bend() {
    let profile = PLAIN.profile.replace(
        "half = [",
        "half = [{ name = \"leg\", straight = \"1 ft\" }, ",
    );
    let house = Written {
        profile: &profile,
        ..PLAIN
    }
    .raise("12 ft", "");
    assert!(house.list.lines.iter().all(|line| line.part.bend.is_none()));
}

/// A bow of three tubes as long as each other, on legs of 2 ft: the sides have a leg, and the top is all arc.
#[test]
fn pieces_of_one_length_and_two_shapes_need_two_marks() {
    let profile = r#"
width = "12 ft"
height = "8 ft"
peak = "smooth"
half = [
    { name = "leg", straight = "2 ft" },
    { name = "round", arc = "6 ft" },
]
"#;
    // A third of 4 ft and half a circle, of which 2 ft are the leg.
    let third = (4.0 + std::f64::consts::PI * 6.0) / 3.0;
    let share = (third - 2.0) / (std::f64::consts::PI * 3.0);
    let bow = format!(
        "{{ half = [{{ part = \"BOW\", to = {{ of = \"round\", share = {share:.9} }} }}, \
         {{ part = \"BOW\", to = \"over the peak\" }}] }}"
    );
    let said = Written {
        profile,
        bow: &bow,
        ..PLAIN
    }
    .refused("8 ft");
    assert!(
        said.contains("`BOW` would have to be bent to several shapes"),
        "{said}"
    );
    // Of a horseshoe all three are of one radius, and one mark does.
    let bow = PLAIN.bow.replace(
        "{ part",
        "{ part = \"BOW\", to = { of = \"round\", share = 0.6666666667 } }, { part",
    );
    let house = Written { bow: &bow, ..PLAIN }.raise("8 ft", "");
    assert_eq!(house.count("BOW"), 9);
    let arc = 20.0 * (-0.6f64).acos();
    assert_eq!(house.sixteenths("BOW"), in_sixteenths(arc / 3.0));
}

/// Bows of a list, counted from the front.
#[test]
fn posts_at_the_bows_of_a_list() {
    let listed = three_posts(["bows = [1, 4, 7]", "bows = [2, 6]", "bows = \"rest\""]);
    let house = Written {
        post: &listed,
        ..PLAIN
    }
    .raise("24 ft", "");
    let at = |mark: &str| {
        let pieces = house.frame.pieces.iter().filter(|p| p.mark.0 == mark);
        let mut bows: Vec<i64> = pieces
            .map(|p| {
                (house.frame.members[p.member]
                    .path
                    .at(&house.frame.profile, 0.0)
                    .y
                    / 1.2192)
                    .round() as i64
                    + 1
            })
            .collect();
        bows.sort_unstable();
        bows
    };
    assert_eq!(at("P6"), [1, 1, 4, 4, 7, 7]);
    assert_eq!(at("P5"), [2, 2, 6, 6]);
    assert_eq!(at("P4"), [3, 3, 5, 5]);
}
