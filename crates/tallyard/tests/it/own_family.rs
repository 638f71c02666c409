//! A family of one's own: read by the parts command, kept in a job, and still there when the order is changed.

use std::path::Path;

use crate::program::{PROGRAM, Place, in_repository};
use crate::yard::{Running, id};

/// The blocks of the page that takes a reader through writing a family.
fn blocks(fence: &str) -> String {
    let page = std::fs::read_to_string(in_repository("docs/family.md")).unwrap();
    let mut all = String::new();
    let mut inside = false;
    for line in page.lines() {
        match (inside, line) {
            (false, line) if line == fence => inside = true,
            (true, "```") => inside = false,
            (true, line) => all += &format!("{line}\n"),
            _ => {}
        }
    }
    all
}

fn place() -> Place {
    let place = Place::new();
    place.write("house.toml", blocks("```toml"));
    place.write("order.toml", blocks("```toml order"));
    place
}

#[test]
fn the_parts_of_a_family_file() {
    let place = place();
    let out = place.ok(&["parts", "order.toml", "--family", "house.toml"]);
    for says in [
        "POST   10  Ground post",
        "needed 42, supplied 50: 8 spare",
        "to hold against the freight bill",
    ] {
        assert!(out.contains(says), "{says}: {out}");
    }
    let why = place.ok(&[
        "parts",
        "order.toml",
        "--family",
        "house.toml",
        "--why",
        "BOARD",
    ]);
    assert!(
        why.contains("no two pieces meet within 3 in of a bow"),
        "{why}"
    );
    assert!(why.contains("cut to 7 ft 9 in"), "{why}");
    // Without it the order names a family that nobody knows.
    let ran = place.run(&["parts", "order.toml"]);
    assert!(
        ran.err.contains("no family is called `cold-10`"),
        "{}",
        ran.err
    );
}

#[test]
fn a_fault_in_a_family_file_is_pointed_at() {
    let place = place();
    place.write(
        "wrong.toml",
        blocks("```toml").replace("stage = \"film\"", "stage = \"films\""),
    );
    let ran = place.run(&["parts", "order.toml", "--family", "wrong.toml"]);
    assert_eq!(ran.status, Some(1));
    for says in [
        "wrong.toml",
        "no stage `films`",
        "there is setting out, posts, hoops, film",
        "^^^^^^^",
    ] {
        assert!(ran.err.contains(says), "{says}: {}", ran.err);
    }
}

#[test]
fn a_job_keeps_its_own_family() {
    let place = place();
    let files = ["order.toml", "house.toml"].map(|name| place.path(name));
    let job = place.path("frame.tallyard");
    let arguments = [
        Path::new("--order"),
        &files[0],
        Path::new("--family"),
        &files[1],
    ];
    let yard = Running::open_with(PROGRAM, &job, &arguments);
    let phone = yard.joined("Ines");
    assert!(
        phone
            .get("/order")
            .text()
            .contains("Cold frame, 10 ft wide")
    );
    // A longer one of the same family, from the order form.
    let longer = blocks("```toml order").replace("13 ft", "16 ft");
    let answer = phone.post("/order", &[("id", &id(1)), ("toml", &longer)]);
    assert_eq!(answer.status, 303, "{}", answer.text());
    let page = phone.get("/order").text();
    assert!(
        page.contains("Cold frame, 10 ft wide") && page.contains("16 ft long"),
        "{page}"
    );
}
