//! The demo job holds what crates/tallyard/src/commands/demo.rs plants in it, and each plant is found.

use serde_json::{Value, json};

use crate::cli::text_of;
use crate::program::Place;
use crate::schema;

fn mark<'a>(difference: &'a Value, mark: &str) -> &'a Value {
    difference["marks"]
        .as_array()
        .unwrap()
        .iter()
        .find(|m| m["mark"] == mark)
        .unwrap()
}

#[test]
fn each_thing_that_is_wrong_with_the_demo_is_found() {
    let place = Place::with_demo_job();
    let difference = place.json(&["difference", "demo.tallyard", "--json"]);
    schema::check("difference", &difference);
    let figures = |name: &str| {
        let of = mark(&difference, name);
        [
            "needed", "listed", "coming", "counted", "good", "short", "over", "bent",
        ]
        .map(|field| of[field].as_i64())
    };
    let counted = |needed, listed, coming, counted, good, short, over, bent| {
        [needed, listed, coming, counted, good, short, over, bent].map(Some)
    };
    // A look-alike pair swapped: two ridge tubes were counted as studs.
    assert_eq!(figures("R1"), counted(15, 15, 0, 13, 13, 2, 0, 0));
    assert_eq!(figures("S1"), counted(8, 8, 0, 10, 10, 0, 2, 0));
    let mut matters = (difference["explanation"]["matters"].as_array().unwrap()).iter();
    let of_both = |matter: &&Value| matter["marks"] == json!(["R1", "S1"]);
    let mixed_up = matters.find(of_both).expect("a matter of the two");
    let cause = &mixed_up["likeliest"]["causes"][0];
    assert_eq!(cause["kind"], "counted_as_look_alike");
    assert_eq!([&cause["mark"], &cause["other_mark"]], ["R1", "S1"]);
    assert_eq!(cause["quantity"], 2);
    // A mark short, over, damaged.
    assert_eq!(figures("X2"), counted(26, 26, 0, 24, 24, 2, 0, 0));
    assert_eq!(figures("C2"), counted(16, 16, 0, 18, 18, 0, 2, 0));
    assert_eq!(figures("B1"), counted(26, 26, 0, 26, 25, 0, 0, 1));
    assert_eq!(
        mark(&difference, "B1")["says"],
        json!(["1 not fit for use"])
    );
    // What comes with the second load is not short, and nobody asks where it is.
    for (film, n) in [("F1", 1), ("F2", 2), ("W1", 55)] {
        let of = mark(&difference, film);
        assert_eq!(
            [&of["needed"], &of["coming"], &of["short"]],
            [&json!(n), &json!(n), &json!(0)],
            "{film}"
        );
        assert_eq!(of["says"], json!([format!("{n} to come with Load 2")]));
    }
    // The rest: two marks fit, and nothing else was counted.
    let said = |what: &str| -> Vec<&str> {
        let marks = difference["marks"].as_array().unwrap().iter();
        marks
            .filter(|m| m["says"][0].as_str().unwrap().contains(what))
            .map(|m| m["mark"].as_str().unwrap())
            .collect()
    };
    assert_eq!(said("fits"), ["P1", "C1", "X1"]);
    assert_eq!(said("short"), ["R1", "X2"]);
    assert_eq!(said("over"), ["S1", "C2"]);
}

#[test]
fn a_mark_in_three_sub_kits_and_a_row_by_another_name_are_read() {
    let place = Place::with_demo_files();
    let list = place.json(&[
        "list",
        "packing-list.xlsx",
        "--order",
        "order.toml",
        "--json",
    ]);
    let rows = |mark: &str| -> Vec<(&str, i64)> {
        let rows = list["rows"]
            .as_array()
            .unwrap()
            .iter()
            .filter(|r| r["mark"] == mark);
        rows.map(|r| {
            (
                r["sub_kit"].as_str().unwrap(),
                r["quantity"].as_i64().unwrap(),
            )
        })
        .collect()
    };
    // The quantities as they stand in demo/packing-list.csv.
    assert_eq!(
        rows("N5"),
        [("FRAME", 12), ("SIDE WALLS", 268), ("END WALLS", 86)]
    );
    assert_eq!(rows("X2"), [("FRAME", 26)]);
    let x2 = list["rows"]
        .as_array()
        .unwrap()
        .iter()
        .find(|r| r["mark"] == "X2")
        .unwrap();
    assert_eq!(x2["description"], "Purlin bracket 1-3/8");
    let parts = place.json(&["parts", "order.toml", "--why", "X2", "--json"]);
    assert!(
        !parts.to_string().contains("bracket"),
        "the order calls it otherwise"
    );
}

#[test]
fn the_difference_in_words_and_the_paper_agree() {
    let place = Place::with_demo_job();
    let words = place.ok(&["difference", "demo.tallyard"]);
    for line in [
        "R1       15     15      13    13  2 short",
        "S1        8      8      10    10  2 over",
        "B1       26     26      26    25  1 not fit for use",
        "F1        1      1       -     -  1 to come with Load 2",
    ] {
        assert!(words.lines().any(|said| said == line), "{line}\n{words}");
    }
    place.ok(&["papers", "demo.tallyard"]);
    let paper = text_of(&place.path("over-short-damaged.pdf"));
    for said in [
        "Osprey Island school garden house",
        "Noor",
        "Ines",
        "Tomasz",
        "kinked two feet",
        "Load 2",
    ] {
        assert!(paper.contains(said), "{said}\n{paper}");
    }
}

#[test]
fn the_demo_does_not_take_the_place_of_a_file() {
    let place = Place::new();
    place.write("demo.tallyard", "mine");
    place.refuses(
        &["demo", "--lay", "demo.tallyard"],
        "demo.tallyard: there is a file of this name already",
    );
    assert_eq!(std::fs::read(place.path("demo.tallyard")).unwrap(), b"mine");
}
