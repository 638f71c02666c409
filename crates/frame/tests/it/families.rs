//! Families as files: one of another kind than ours, and what bounds there are. Faults have a file of their own.

use frame::{ExpandError, Family, Frame, MOST_FAMILY_BYTES, PartsList, expand};

use crate::house::{Hoop, check, gothic, order};

mod faults;

/// A seedling house: half bows in three pieces, other roles and marks, no doors, an option that adds a line.
const NARROW: &str = r#"
name = "narrow"
title = "Seedling house, 12 ft wide"

[size]
bow_spacing = ["1 m"]
least_length = "3 m"
most_length = "20 m"

[profile]
width = "12 ft"
height = "8 ft"
half = [
    { name = "leg", straight = "30 in" },
    { name = "bend", arc = "30 in" },
    { name = "slope", arc = "150 in" },
]

[[option]]
key = "shelf"
says = "Bearer for a shelf"
choices = ["without", "with"]

[[option]]
key = "gable"
says = "Gable"
each_end = true
choices = ["closed", "open"]

[[stage]]
name = "ground"

[[stage]]
name = "hoops"
follows = ["ground"]

[[part]]
mark = "PEG"
noun = "ground post"
tube = { called = "1-3/8", outside = "1.315 in", wall = "0.065 in" }
length = "2 ft 6 in"

[[part]]
mark = "LEG"
noun = "bow"
tube = { called = "1-3/8", outside = "1.315 in", wall = "0.065 in" }
ends = ["swaged 3 in", "plain"]

[[part]]
mark = "BEND"
noun = "bow"
tube = { called = "1-3/8", outside = "1.315 in", wall = "0.065 in" }
ends = ["swaged 3 in", "plain"]

[[part]]
mark = "TOP"
noun = "bow"
tube = { called = "1-3/8", outside = "1.315 in", wall = "0.065 in" }

[[part]]
mark = "LINE"
noun = "ridge"
tube = { called = "1-3/8", outside = "1.315 in", wall = "0.065 in" }
length = "2.1 m"
ends = ["swaged 10 cm", "plain"]

[[part]]
mark = "CROSS"
noun = "brace"
length = "4 ft"
mass = "900 g"

[[part]]
mark = "PIN"
noun = "bolt"
mass = "20 g"

[[member]]
role = "peg"
part = "PEG"
post = { above_ground = "12 in" }
stage = "ground"
sub_kit = "all"

[[member]]
role = "hoop"
bow = { half = [
    { part = "LEG", to = { of = "leg", share = 1.0 } },
    { part = "BEND", to = { of = "bend", share = 1.0 } },
    { part = "TOP", to = "peak" },
] }
stage = "hoops"
sub_kit = "all"

[[member]]
role = "back bone"
part = "LINE"
along = "peak"
stage = "hoops"
sub_kit = "all"

[[member]]
role = "shelf bearer"
part = "LINE"
along = { height = "20 in" }
when = { shelf = "with" }
stage = "hoops"
sub_kit = "all"

[[member]]
role = "gable post"
part = "CROSS"
upright = ["69 in"]
when = { gable = "closed" }
stage = "hoops"
sub_kit = "all"

[[joint]]
between = ["hoop", "peg"]
says = "hoop on peg"
hardware = { PIN = 1 }
stage = "hoops"
sub_kit = "all"

[[joint]]
splice = "hoop"
says = "pieces of a hoop"
hardware = { PIN = 2 }
stage = "hoops"
sub_kit = "all"

[[joint]]
between = ["back bone", "hoop"]
says = "line under hoop"
hardware = { PIN = 1 }
stage = "hoops"
sub_kit = "all"

[[joint]]
between = ["hoop", "shelf bearer"]
says = "line in hoop"
hardware = { PIN = 1 }
stage = "hoops"
sub_kit = "all"

[[joint]]
between = ["gable post", "hoop"]
says = "gable post at the hoop"
hardware = { PIN = 1 }
stage = "hoops"
sub_kit = "all"
"#;

fn raise(family: &str, tables: &str) -> Result<Frame, ExpandError> {
    let family = Family::read(family)?;
    let order = order(&format!(
        "name = \"n\"\nfamily = \"{}\"\nlength = \"6 m\"\n{tables}",
        family.name
    ));
    expand(&order, &family)
}

#[test]
fn a_family_of_another_kind_needs_no_code() {
    let frame = raise(
        NARROW,
        "[options]\nshelf = \"with\"\n[front]\ngable = \"open\"",
    )
    .unwrap();
    let list = PartsList::of(&frame);
    // 6 m at 1 m: 6 bays, 7 hoops. Lines of 6 m from 2.1 m less 10 cm: three pieces of 2 m, two splices, which
    // no joint holds. Three lines: the back bone and a bearer each side. One gable is closed: two posts.
    // Pins: on pegs 14; in each hoop two splices a side and the peak, 2 each: 7 × 5 × 2 = 70; lines 3 × 7 = 21;
    // gable posts 2.
    check(
        &list,
        &[
            ("PEG", 14),
            ("LEG", 14),
            ("BEND", 14),
            ("TOP", 14),
            ("LINE", 9),
            ("CROSS", 2),
            ("PIN", 14 + 70 + 21 + 2),
        ],
    );
    // LEG from 12 in to 30 in, and 3 in of swage.
    let leg = &list.line("LEG").unwrap().part;
    assert_eq!(leg.length, Some(measure::Length::inches(21)));
    let places: Vec<&str> = (frame.joints.iter().map(|j| j.name.as_str()))
        .filter(|name| name.starts_with("hoop 3, "))
        .collect();
    for place in [
        "hoop 3, left",
        "hoop 3, left, splice 2 from the foot",
        "hoop 3, right, splice 1 from the foot",
        "hoop 3, peak",
    ] {
        assert!(places.contains(&place), "{place}: {places:?}");
    }
}

#[test]
fn a_family_is_known_by_its_name() {
    assert_eq!(gothic().name, "gothic-24");
    let said = Family::named("gothic-25").unwrap_err().to_string();
    assert!(
        said.contains("`gothic-25`") && said.contains("gothic-24"),
        "{said}"
    );
    let stages: Vec<String> = gothic().stages().map(String::from).collect();
    assert_eq!(stages[..2], ["setting out", "posts"]);
    assert_eq!(gothic().bow_spacings(), [4, 6].map(measure::Length::feet));
}

#[test]
fn a_line_in_the_middle_is_one_line() {
    // At the peak by its height and by its link, and a gable post in the middle.
    for spot in ["{ of = \"slope\", share = 1.0 }", "{ height = \"8 ft\" }"] {
        let text = NARROW.replacen("along = \"peak\"", &format!("along = {spot}"), 1);
        let frame = raise(&text, "").unwrap();
        assert_eq!(
            frame
                .members
                .iter()
                .filter(|m| m.role == "back bone")
                .count(),
            1,
            "{spot}"
        );
    }
    let text = NARROW.replacen("[\"69 in\"]", "[\"0 in\"]", 1).replacen(
        "length = \"4 ft\"",
        "length = \"9 ft\"",
        1,
    );
    let frame = raise(&text, "").unwrap();
    assert_eq!(
        frame
            .members
            .iter()
            .filter(|m| m.role == "gable post")
            .count(),
        2
    );
}

#[test]
fn a_family_file_of_any_size_gives_an_answer() {
    let huge = "#".repeat(MOST_FAMILY_BYTES + 1);
    let said = Family::read(&huge).unwrap_err().to_string();
    assert!(said.contains("1048577 bytes"), "{said}");
    let many = format!("{NARROW}{}", "[[stage]]\nname = \"s\"\n".repeat(600));
    let said = Family::read(&many).unwrap_err().to_string();
    assert!(said.contains("602 `stage` tables"), "{said}");
}

/// Members that follow all members above them double with every rule: sixty would be 2⁶⁰.
#[test]
fn a_family_that_breeds_is_stopped() {
    let mut text = Hoop {
        width: 204,
        height: 108,
        side: 48,
        shoulder: 36,
        roof: 180,
        spacing: "4 ft",
    }
    .text();
    let mut above = vec!["base board".to_string()];
    for i in 0..60 {
        let follow: Vec<String> = above.iter().map(|role| format!("{role:?}")).collect();
        text += &format!(
            "[[member]]\nrole = \"m{i}\"\npart = \"BOARD\"\nfollow = [{}]\nstage = \"frame\"\nsub_kit = \"x\"\n",
            follow.join(", ")
        );
        above.push(format!("m{i}"));
    }
    let family = Family::read(&text).unwrap();
    let order = order("name = \"h\"\nfamily = \"hoop\"\nlength = \"36 ft\"");
    let said = expand(&order, &family).unwrap_err().to_string();
    assert!(said.contains("more than 200000 places"), "{said}");
}

/// A header is made to measure, or cut from the length that its part has; it ends on its jambs, not over them.
#[test]
fn a_header_fits_between_its_jambs() {
    let text = include_str!("../../../../families/gothic-24.toml");
    let order = crate::house::gothic_order("length = \"24 ft\"", "[front]\ndoor = \"single\"");
    let raise = |from: &str, to: &str| {
        assert!(text.contains(from), "{from}");
        expand(&order, &Family::read(&text.replacen(from, to, 1)).unwrap())
    };
    // 42 in between the jambs: four feet are cut, three are too short.
    let frame = raise("mark = \"H1\"", "mark = \"H1\"\nlength = \"4 ft\"").unwrap();
    let header = frame.pieces.iter().find(|p| p.mark.0 == "H1").unwrap();
    assert_eq!(header.cut_to, Some(measure::Length::inches(42)));
    let short = raise("mark = \"H1\"", "mark = \"H1\"\nlength = \"3 ft\"")
        .unwrap_err()
        .to_string();
    assert!(
        short.contains("member `door header, front` is 3 ft 6 in long"),
        "{short}"
    );
    // The bow is 124.4 in over the ground at the jambs (√(360² − 87.919²) − 224.726).
    let high = raise(
        "reach = \"21 in\", height = \"82 in\"",
        "reach = \"21 in\", height = \"125 in\"",
    );
    let high = high.unwrap_err().to_string();
    assert!(
        high.contains("member `door header` ends or crosses where there is nothing"),
        "{high}"
    );
}
