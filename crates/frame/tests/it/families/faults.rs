//! Every kind of fault in a family file, and what is said of it.

use frame::{ExpandError, Family, FamilyError};

use super::{NARROW, raise};

/// The house with one thing changed, and what the refusal must say. The change is made once, where it first stands.
const FAULTS: &[(&str, &str, &[&str])] = &[
    // names of what is not there
    (
        "part = \"PEG\"",
        "part = \"PEGG\"",
        &["member `peg`", "no part `PEGG`"],
    ),
    (
        "{ part = \"TOP\",",
        "{ part = \"CAP\",",
        &["member `hoop`", "no part `CAP`"],
    ),
    (
        "hardware = { PIN = 1 }",
        "hardware = { NAIL = 1 }",
        &["joint `hoop on peg`", "no part `NAIL`"],
    ),
    (
        "stage = \"ground\"",
        "stage = \"grounds\"",
        &["member `peg`", "no stage `grounds`"],
    ),
    (
        "follows = [\"ground\"]",
        "follows = [\"roof\"]",
        &["stage `hoops`", "`roof`", "not above it"],
    ),
    (
        "follows = [\"ground\"]",
        "follows = [\"hoops\"]",
        &["stage `hoops` follows `hoops`", "not above it"],
    ),
    (
        "[\"hoop\", \"peg\"]",
        "[\"hoop\", \"post\"]",
        &["joint `hoop on peg`", "no member `post`"],
    ),
    (
        "splice = \"hoop\"",
        "splice = \"hop\"",
        &["joint `pieces of a hoop`", "no member `hop`"],
    ),
    (
        "{ of = \"leg\",",
        "{ of = \"shin\",",
        &["member `hoop`", "no link `shin`"],
    ),
    (
        "{ shelf = \"with\" }",
        "{ shelves = \"with\" }",
        &["member `shelf bearer`", "no option `shelves`"],
    ),
    (
        "{ shelf = \"with\" }",
        "{ shelf = \"wide\" }",
        &["`shelf` has no choice `wide`", "without, with"],
    ),
    (
        "{ shelf = \"with\" }",
        "{ shelf = [\"with\", \"wiht\"] }",
        &["`shelf` has no choice `wiht`"],
    ),
    (
        "{ shelf = \"with\" }",
        "{ bow_spacing = \"2 m\" }",
        &["`bow_spacing` has no choice `2 m`"],
    ),
    (
        "along = \"peak\"",
        "along = \"top\"",
        &["member `back bone`", "`top` is no place", "peak"],
    ),
    (
        "share = 1.0",
        "share = 1.5",
        &["member `hoop`", "1.5", "from 0 to 1"],
    ),
    (
        "share = 1.0",
        "share = nan",
        &["member `hoop`", "NaN", "from 0 to 1"],
    ),
    // what is said twice, or not at all
    (
        "along = \"peak\"",
        "along = \"peak\"\nfollow = [\"peg\"]",
        &["member `back bone`", "it has 2"],
    ),
    (
        "along = \"peak\"\n",
        "",
        &["member `back bone`", "it has 0"],
    ),
    (
        "part = \"LINE\"\nalong = \"peak\"",
        "along = \"peak\"",
        &["member `back bone`", "needs a `part`"],
    ),
    (
        "role = \"back bone\"",
        "role = \"hoop\"",
        &["member `hoop` is there twice"],
    ),
    (
        "mark = \"PIN\"",
        "mark = \"PEG\"",
        &["part `PEG` is there twice"],
    ),
    (
        "name = \"hoops\"\nfollows = [\"ground\"]",
        "name = \"ground\"",
        &["stage `ground` is there twice"],
    ),
    (
        "key = \"gable\"",
        "key = \"shelf\"",
        &["option `shelf` is there twice"],
    ),
    (
        "name = \"bend\"",
        "name = \"leg\"",
        &["profile: `leg` is there twice"],
    ),
    (
        "choices = [\"without\", \"with\"]",
        "choices = []",
        &["option `shelf`: no choices"],
    ),
    (
        "[\"hoop\", \"shelf bearer\"]",
        "[\"hoop\", \"back bone\"]",
        &[
            "joint `line in hoop`",
            "between `back bone` and `hoop`",
            "twice",
        ],
    ),
    (
        "splice = \"hoop\"",
        "splice = \"hoop\"\nfoot = [\"peg\"]",
        &[
            "joint `pieces of a hoop`",
            "one of between, splice, peak, foot, fasten, ends",
        ],
    ),
    (
        "splice = \"hoop\"",
        "fasten = [\"hoop\"]",
        &["joint `pieces of a hoop`", "needs `every`"],
    ),
    (
        "splice = \"hoop\"",
        "fasten = [\"hoop\"]\nevery = \"0.001 in\"",
        &["joint `pieces of a hoop`", "`every` must be from 1 in"],
    ),
    (
        "length = \"4 ft\"\nmass = \"900 g\"",
        "length = \"4 ft\"",
        &["part `CROSS`", "needs a `mass`"],
    ),
    (
        "mass = \"900 g\"",
        "mass = \"900 g\"\nwire = \"2 mm\"\nfilm = \"6 mil\"",
        &["part `CROSS`", "only one of"],
    ),
    (
        "to = \"peak\"",
        "to = { of = \"slope\", share = 0.9 }",
        &["member `hoop`", "last piece", "peak"],
    ),
    (
        "along = { height = \"20 in\" }",
        "follow = [\"gable post\"]",
        &[
            "member `shelf bearer` follows `gable post`",
            "no member above it",
        ],
    ),
    (
        "along = { height = \"20 in\" }",
        "follow = [\"shelf bearer\"]",
        &["follows `shelf bearer`", "no member above it"],
    ),
    // what runs the whole house does not ask one end
    (
        "when = { shelf = \"with\" }",
        "when = { gable = \"open\" }",
        &["member `shelf bearer` runs the whole house"],
    ),
    // measures that no house has
    (
        "most_length = \"20 m\"",
        "most_length = \"900000 m\"",
        &["`most_length`", "1000"],
    ),
    (
        "bow_spacing = [\"1 m\"]",
        "bow_spacing = []",
        &["`bow_spacing` lists no spacing"],
    ),
    (
        "bow_spacing = [\"1 m\"]",
        "bow_spacing = [\"0 m\"]",
        &["`bow_spacing` must be from 1 in"],
    ),
    (
        "bow_spacing = [\"1 m\"]",
        "bow_spacing = [\"0.001 mm\"]",
        &["`bow_spacing` must be from 1 in"],
    ),
    (
        "bow_spacing = [\"1 m\"]",
        "bow_spacing = [\"-1 m\"]",
        &["`bow_spacing` must be from 1 in"],
    ),
    (
        "least_length = \"3 m\"",
        "least_length = \"30 m\"",
        &["`least_length` is over `most_length`"],
    ),
    (
        "above_ground = \"12 in\"",
        "above_ground = \"-12 in\"",
        &["member `peg`", "`above_ground` must be from nothing"],
    ),
    (
        "above_ground = \"12 in\"",
        "above_ground = \"48 in\"",
        &["member `peg`", "4 ft", "profile is straight"],
    ),
    (
        "length = \"2.1 m\"",
        "length = \"-2.1 m\"",
        &["part `LINE`", "`length` must be from more than nothing"],
    ),
    (
        "wall = \"0.065 in\"",
        "wall = \"0.7 in\"",
        &["part `PEG`", "no inside"],
    ),
    (
        "mass = \"20 g\"",
        "mass = \"-20 g\"",
        &["part `PIN`", "`mass` must be more than nothing"],
    ),
    (
        "hardware = { PIN = 1 }",
        "hardware = { PIN = 0 }",
        &["joint `hoop on peg`", "0 of `PIN`", "from 1 to 10000"],
    ),
    (
        "hardware = { PIN = 1 }",
        "hardware = { PIN = 1000000000 }",
        &["joint `hoop on peg`", "from 1 to 10000"],
    ),
    (
        "part = \"LINE\"\nalong = \"peak\"",
        "part = \"LINE\"\nlap = \"-1 m\"\nalong = \"peak\"",
        &["member `back bone`", "`lap`"],
    ),
    // profiles that cannot be
    (
        "height = \"8 ft\"",
        "height = \"80 ft\"",
        &["profile cannot be", "24.384"],
    ),
    (
        "arc = \"150 in\"",
        "straight = \"150 in\"",
        &["profile cannot be", "`slope`, a straight of 3.810 m"],
    ),
    (
        "arc = \"150 in\"",
        "arc = \"150 in\", straight = \"1 in\"",
        &["profile: `slope` needs either `straight` or `arc`"],
    ),
    (
        "height = \"8 ft\"",
        "height = \"900000 m\"",
        &["profile cannot be", "`height`"],
    ),
    (
        "width = \"12 ft\"",
        "width = \"0 ft\"",
        &["profile cannot be", "`width`"],
    ),
];

#[test]
fn a_fault_is_refused_in_words_that_name_the_thing() {
    for (from, to, words) in FAULTS {
        assert!(NARROW.contains(from), "{from}");
        let refusal = match Family::read(&NARROW.replacen(from, to, 1)) {
            Err(refusal) => refusal,
            Ok(_) => panic!("{from} → {to} was read"),
        };
        assert!(
            !matches!(refusal, FamilyError::Form(_)),
            "{from} → {to}: {refusal}"
        );
        let said = refusal.to_string();
        for word in *words {
            assert!(
                said.contains(word),
                "{from} → {to}: {word} is not in: {said}"
            );
        }
    }
}

/// What only shows when a house is laid out.
#[test]
fn a_fault_that_shows_in_the_house_is_refused_too() {
    let cases: &[(&str, &str, &[&str])] = &[
        // no length where one is needed: of a line, a post, an upright
        (
            "length = \"2.1 m\"\n",
            "",
            &["part `LINE`", "needs a `length`"],
        ),
        (
            "length = \"2 ft 6 in\"\n",
            "",
            &["part `PEG`", "needs a `length`"],
        ),
        (
            "length = \"4 ft\"\n",
            "",
            &["part `CROSS`", "needs a `length`"],
        ),
        // a gable post at 60 in from the middle is longer than 4 ft
        (
            "[\"69 in\"]",
            "[\"48 in\"]",
            &[
                "member `gable post, front, left`",
                "part `CROSS` has only 4 ft",
            ],
        ),
        (
            "[\"69 in\"]",
            "[\"73 in\"]",
            &["member `gable post` stands outside the house"],
        ),
        (
            "[\"69 in\"]",
            "[\"72 in\"]",
            &["member `gable post` stands outside the house"],
        ),
        // a crossing that no joint holds
        (
            "between = [\"back bone\", \"hoop\"]",
            "splice = \"back bone\"",
            &["`back bone` meets `hoop`", "no joint says"],
        ),
        (
            "between = [\"hoop\", \"peg\"]",
            "splice = \"peg\"",
            &["`hoop` meets `peg`", "no joint says"],
        ),
        (
            "between = [\"gable post\", \"hoop\"]",
            "splice = \"gable post\"",
            &["`gable post` meets `hoop`"],
        ),
        // over the peak, pieces out of order, one mark of two lengths, one said to be of another
        (
            "along = { height = \"20 in\" }",
            "along = { height = \"20 ft\" }",
            &["`shelf bearer`", "above the peak"],
        ),
        (
            "{ of = \"bend\", share = 1.0 }",
            "{ of = \"leg\", share = 0.5 }",
            &["member `hoop`", "piece `BEND` has no length"],
        ),
        (
            "{ part = \"BEND\",",
            "{ part = \"LEG\",",
            &["part `LEG`", "several lengths", "1 ft 9 in"],
        ),
        (
            "mark = \"TOP\"",
            "mark = \"TOP\"\nlength = \"1 m\"",
            &["part `TOP` is said to be", "leave its `length` out"],
        ),
        // all swage, nothing to show
        (
            "swaged 10 cm",
            "swaged 2.09 m",
            &["part `LINE` is hardly longer than what it laps"],
        ),
        // a whole kit that no ship would carry
        (
            "mass = \"900 g\"",
            "mass = \"900000 kg\"",
            &["the kit would weigh over 1000 t"],
        ),
    ];
    for (from, to, words) in cases {
        assert!(NARROW.contains(from), "{from}");
        let text = NARROW.replacen(from, to, 1);
        let said = match raise(&text, "[options]\nshelf = \"with\"") {
            Err(refusal) => refusal.to_string(),
            Ok(_) => panic!("{from} → {to} was built"),
        };
        for word in *words {
            assert!(
                said.contains(word),
                "{from} → {to}: {word} is not in: {said}"
            );
        }
    }
}

#[test]
fn each_trouble_is_said_once() {
    // Without its length the line says so once, whatever else would follow from it.
    let text = NARROW.replacen("length = \"2.1 m\"\n", "", 1);
    let said = raise(&text, "[options]\nshelf = \"with\"")
        .unwrap_err()
        .to_string();
    assert_eq!(said.matches("part `LINE`").count(), 1, "{said}");

    let text = NARROW
        .replacen(
            "between = [\"back bone\", \"hoop\"]",
            "splice = \"back bone\"",
            1,
        )
        .replacen(
            "between = [\"hoop\", \"shelf bearer\"]",
            "splice = \"shelf bearer\"",
            1,
        );
    let Err(ExpandError::Family(FamilyError::Content(said))) =
        raise(&text, "[options]\nshelf = \"with\"")
    else {
        panic!("it was built");
    };
    assert_eq!(said.len(), 2, "{said:?}");
}

#[test]
fn a_fault_of_form_points_at_its_line() {
    // what is changed, to what, the line it stands on, a word of the message
    let faults = [
        ("width = \"12 ft\"", "width = 12", "a length with its unit"),
        ("width = \"12 ft\"", "width = \"twelve\"", "twelve"),
        ("width = \"12 ft\"", "breadth = \"12 ft\"", "breadth"),
        (
            "ends = [\"swaged 3 in\", \"plain\"]",
            "ends = [\"swagged\", \"plain\"]",
            "swaged 4 in",
        ),
        ("mass = \"20 g\"", "mass = \"heavy\"", "heavy"),
        (
            "along = { height = \"20 in\" }",
            "along = { height = \"20 in\", share = 0.5 }",
            "a place is",
        ),
        (
            "along = { height = \"20 in\" }",
            "along = { of = \"leg\" }",
            "a place is",
        ),
        ("stage = \"ground\"", "stage = ", "line"),
        ("follows = [\"ground\"]", "work = 3", "string"),
    ];
    for (from, to, word) in faults {
        assert!(NARROW.contains(from), "{from}");
        let text = NARROW.replacen(from, to, 1);
        let line = 1 + text[..text.find(to).unwrap()].matches('\n').count();
        match Family::read(&text) {
            Err(FamilyError::Form(said)) => {
                assert!(
                    said.contains(&format!("line {line}")),
                    "line {line}: {said}"
                );
                assert!(said.contains(word), "{said}");
            }
            other => panic!("{from} → {to}: {other:?}"),
        }
    }
}
