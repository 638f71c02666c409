//! The commands as people and programs use them: help, output, JSON as docs/schema promises it.

use std::fs;
use std::process::{Command, Stdio};

use serde_json::{Value, json};

use crate::program::{Place, Ran, in_repository};
use crate::schema;

const COMMANDS: [&str; 10] = [
    "parts",
    "list",
    "difference",
    "stakes",
    "lift",
    "papers",
    "bundle",
    "verify",
    "yard",
    "demo",
];

#[test]
fn every_command_has_help_with_an_example() {
    let place = Place::new();
    for command in COMMANDS {
        let help = place.ok(&[command, "--help"]);
        let example = format!(":\n  tallyard {command}");
        assert!(
            help.contains("Example") && help.contains(&example),
            "{help}"
        );
        assert!(help.contains("--json"), "{help}");
    }
    let help = place.ok(&["--help"]);
    assert!(COMMANDS.iter().all(|command| help.contains(command)));
    assert!(
        help.contains("Exit status: 0 done; 1 the input was refused (see stderr); 2 wrong use.")
    );
}

#[test]
fn wrong_use_ends_with_2() {
    let place = Place::with_demo_files();
    for (arguments, err) in [
        (&[][..], "Usage: tallyard"),
        (&["burn"], "unrecognized subcommand 'burn'"),
        (&["parts"], "<ORDER>"),
        (
            &["parts", "order.toml", "--nope"],
            "unexpected argument '--nope'",
        ),
        (
            &["papers", "a.tallyard", "--sheet", "napkin"],
            "invalid value 'napkin'",
        ),
        (
            &["yard", "a.tallyard", "--listen", "nowhere"],
            "invalid value 'nowhere'",
        ),
        (&["demo", "--lay"], "a value is required for '--lay <JOB>'"),
    ] {
        let Ran {
            status,
            out,
            err: said,
        } = place.run(arguments);
        assert_eq!((status, out.as_str()), (Some(2), ""), "{arguments:?}");
        assert!(said.contains(err), "{arguments:?}: {said}");
    }
    assert!(
        !place.path("a.tallyard").exists(),
        "wrong use makes no file"
    );
}

#[test]
fn parts_as_the_schema_says() {
    let place = Place::with_demo_files();
    let parts = place.json(&["parts", "order.toml", "--json"]);
    schema::check("parts", &parts);
    let all = parts["parts"].as_array().unwrap();
    for part in all {
        for shares in ["uses", "sub_kits"] {
            assert_eq!(sum(&part[shares], "quantity"), part["quantity"], "{part}");
        }
    }
    assert_eq!(sum(&parts["parts"], "quantity"), parts["pieces"]);
    let mass: f64 = all
        .iter()
        .map(|p| number(&p["quantity"]) * number(&p["unit_mass_kg"]))
        .sum();
    assert!((mass - number(&parts["mass_kg"])).abs() < 1e-6);

    // Worked by hand: 48 ft in bays of 4 ft is 12 bays, 13 bows of two halves on 26 posts. A ridge or purlin run of
    // 48 ft from 126-1/2 in tubes swaged 3-1/2 in needs five: 123 in each but the last, 4 × 123 + 126.5 = 618.5 in.
    let part = |mark: &str| all.iter().find(|p| p["mark"] == mark).unwrap();
    assert_eq!(part("B1")["quantity"], 26);
    assert_eq!(part("P1")["quantity"], 26);
    assert_eq!(part("R1")["quantity"], 15);
    assert_eq!(
        part("R1")["uses"],
        json!([{"use": "ridge", "quantity": 5}, {"use": "purlin", "quantity": 10}])
    );
    assert_eq!(part("R1")["length_mm"], 3213.1);
}

#[test]
fn why_lists_the_places_of_a_mark() {
    let place = Place::with_demo_files();
    let parts = place.json(&["parts", "order.toml", "--json"]);
    for part in parts["parts"].as_array().unwrap() {
        let mark = part["mark"].as_str().unwrap();
        let why = place.json(&["parts", "order.toml", "--why", mark, "--json"]);
        schema::check("places", &why);
        assert_eq!(why["quantity"], part["quantity"]);
        assert_eq!(sum(&why["places"], "quantity"), part["quantity"], "{mark}");
    }
    let said = place.ok(&["parts", "order.toml", "--why", "R1"]);
    assert!(said.starts_with("15 of R1: Ridge tube"), "{said}");
    assert!(
        said.contains("\nridge: 5\n") && said.contains("\npurlin: 10\n"),
        "{said}"
    );
    // A line for each of the 15 places, each with its number.
    assert_eq!(
        said.lines()
            .filter(|line| line.starts_with("     1  "))
            .count(),
        15,
        "{said}"
    );
}

#[test]
fn parts_in_words_hold_every_mark() {
    let place = Place::with_demo_files();
    let words = place.ok(&["parts", "order.toml"]);
    let parts = place.json(&["parts", "order.toml", "--json"]);
    for part in parts["parts"].as_array().unwrap() {
        let starts = format!(
            "{:<4}{:>5}  ",
            part["mark"].as_str().unwrap(),
            part["quantity"].as_i64().unwrap()
        );
        assert!(
            words.lines().any(|line| line.starts_with(&starts)),
            "{starts}"
        );
    }
    let total = format!(
        "{} pieces of {} marks",
        parts["pieces"],
        parts["parts"].as_array().unwrap().len()
    );
    assert!(words.contains(&total), "{words}");
}

#[test]
fn list_without_an_order_reads_the_rows_and_matches_nothing() {
    let place = Place::with_demo_files();
    let list = place.json(&["list", "packing-list.csv", "--json"]);
    schema::check("list", &list);
    let rows = list["rows"].as_array().unwrap();
    assert_eq!(rows.len(), 29, "the demo list numbers its rows 1 to 29");
    assert!(
        rows.iter()
            .all(|r| r["mark"].is_null() && r["doubt"].is_null())
    );
    assert_eq!(list["header"]["number"], "SG-117");
    // 24 ft × 48 ft, bows 4 ft apart; 1 ft is 304.8 mm exactly.
    assert_eq!(list["header"]["width_mm"], 7315.2);
    assert_eq!(list["header"]["length_mm"], 14630.4);
    assert_eq!(list["header"]["bow_spacing_mm"], 1219.2);
    let stood = |text: &str| {
        list["set_aside"]
            .as_array()
            .unwrap()
            .iter()
            .any(|a| a["text"].as_str().unwrap().contains(text))
    };
    assert!(
        stood("Subtotal frame") && stood("SIDE WALLS"),
        "{}",
        list["set_aside"]
    );
    assert!(
        stood("Heavier film ships with the second load"),
        "{}",
        list["set_aside"]
    );
}

/// A sender's data goes out whole; what it says is checked where it is read (crates/list, despatch_samples.rs).
#[test]
fn list_of_a_ship_notice_says_what_the_sender_says() {
    let samples = in_repository("crates/list/tests/samples/receiving");
    let place = Place::with_demo_files();
    for (file, format, lines) in [
        (
            "ubl-despatchadvice-2.0-example.xml",
            "UBL despatch advice",
            1,
        ),
        ("x12-856-004010-flat-hl.txt", "X12 856 ship notice", 7),
    ] {
        let path = samples.join(file);
        let list = place.json(&["list", path.to_str().unwrap(), "--json"]);
        schema::check("list", &list);
        assert_eq!(list["despatch"]["format"], format);
        assert_eq!(list["despatch"]["lines"].as_array().unwrap().len(), lines);
        assert_eq!(list["rows"][0]["sent"], list["despatch"]["lines"][0]);
    }
}

#[test]
fn list_with_the_order_matches_every_row() {
    let place = Place::with_demo_files();
    let list = place.json(&[
        "list",
        "packing-list.csv",
        "--order",
        "order.toml",
        "--json",
    ]);
    schema::check("list", &list);
    assert_eq!(list["troubles"], json!([]));
    // By the line numbers of the demo list; read by a person from demo/packing-list.csv and families/gothic-24.toml.
    let marks = [
        "P1", "B1", "R1", "K1", "X1", "X2", "N1", "N2", "N3", "N4", "N5", "N6", "C1", "C2", "N5",
        "S1", "H1", "H2", "X3", "X4", "N5", "N6", "D1", "D2", "D3", "L1", "W1", "F1", "F2",
    ];
    let read: Vec<&str> = list["rows"]
        .as_array()
        .unwrap()
        .iter()
        .map(|r| r["mark"].as_str().unwrap_or("none"))
        .collect();
    assert_eq!(read, marks);
    assert!(
        list["rows"]
            .as_array()
            .unwrap()
            .iter()
            .all(|r| !r["reasons"].as_array().unwrap().is_empty())
    );
    let words = place.ok(&["list", "packing-list.csv", "--order", "order.toml"]);
    assert!(words.contains("29 rows read, "), "{words}");
}

#[test]
fn the_demo_lists_say_the_same_as_workbook_and_as_text() {
    let place = Place::with_demo_files();
    let read = |file: &str| {
        let list = place.json(&["list", file, "--order", "order.toml", "--json"]);
        let strip = |rows: &Value| -> Vec<Value> {
            rows.as_array()
                .unwrap()
                .iter()
                .cloned()
                .map(|mut row| {
                    row.as_object_mut().unwrap().remove("sheet");
                    row
                })
                .collect()
        };
        (
            list["header"].clone(),
            strip(&list["rows"]),
            strip(&list["set_aside"]),
        )
    };
    assert_eq!(read("packing-list.csv"), read("packing-list.xlsx"));
}

#[test]
fn a_list_for_another_house_is_said_before_any_row() {
    let place = Place::with_demo_files();
    let longer = fs::read_to_string(place.path("packing-list.csv"))
        .unwrap()
        .replace("24 ft x 48 ft", "24 ft x 72 ft");
    place.write("longer.csv", longer);
    let list = place.json(&["list", "longer.csv", "--order", "order.toml", "--json"]);
    assert_eq!(
        list["troubles"].as_array().unwrap().len(),
        1,
        "{}",
        list["troubles"]
    );
    let words = place.ok(&["list", "longer.csv", "--order", "order.toml"]);
    let first = words.lines().next().unwrap();
    assert!(
        first.starts_with("BEFORE ANY ROW: ") && first.contains("72 ft") && first.contains("48 ft"),
        "{first}"
    );
}

#[test]
fn papers_are_written_whole_and_named() {
    let place = Place::with_demo_job();
    let papers = place.json(&[
        "papers",
        "demo.tallyard",
        "--to",
        "out/papers",
        "--sheet",
        "a4",
        "--json",
    ]);
    schema::check("papers", &papers);
    let names = [
        "over-short-damaged",
        "carrier-claim",
        "sender-notice",
        "replacement-order",
        "return-list",
        "tally-sheet",
        "tell-apart",
        "drawings",
        "build-day",
    ];
    let written: Vec<&str> = (papers["papers"].as_array().unwrap().iter())
        .map(|paper| paper["file"].as_str().unwrap())
        .collect();
    assert_eq!(written, names.map(|name| format!("out/papers/{name}.pdf")));
    for paper in papers["papers"].as_array().unwrap() {
        let bytes = fs::read(place.path(paper["file"].as_str().unwrap())).unwrap();
        assert!(bytes.starts_with(b"%PDF-"));
        assert_eq!(bytes.len() as u64, paper["bytes"]);
    }
    assert_eq!(
        fs::read_dir(place.path("out/papers")).unwrap().count(),
        names.len(),
        "nothing else is left there"
    );
    assert_eq!(
        place.ok(&["papers", "demo.tallyard"]),
        names.map(|name| format!("./{name}.pdf\n")).concat()
    );
}

/// Whoever pipes our output into a program that stops reading gets no error.
#[test]
fn a_reader_that_goes_away_is_no_failure() {
    let place = Place::with_demo_files();
    let mut child = place
        .command(&["parts", "order.toml", "--json"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let output = child.wait_with_output().unwrap();
    assert_eq!(
        (output.status.code(), output.stderr.as_slice()),
        (Some(0), &b""[..])
    );
}

/// The text of a PDF, laid out as on the sheet, by poppler's pdftotext.
pub fn text_of(pdf: &std::path::Path) -> String {
    let output = Command::new("pdftotext")
        .arg("-layout")
        .arg(pdf)
        .arg("-")
        .output()
        .unwrap();
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    String::from_utf8(output.stdout).unwrap()
}

fn sum(rows: &Value, field: &str) -> i64 {
    rows.as_array()
        .unwrap()
        .iter()
        .map(|row| row[field].as_i64().unwrap())
        .sum()
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap()
}
