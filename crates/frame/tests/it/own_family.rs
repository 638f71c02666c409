//! The page that takes a reader through a family of their own: its blocks make a house, and its table is right.

use frame::{Family, Order, PartsList, expand};
use measure::Length;

const PAGE: &str = include_str!("../../../../docs/family.md");

/// The page's blocks of one kind, put together.
fn blocks(fence: &str) -> String {
    let mut all = String::new();
    let mut inside = false;
    for line in PAGE.lines() {
        match (inside, line) {
            (false, line) if line == fence => inside = true,
            (true, "```") => inside = false,
            (true, line) => all += &format!("{line}\n"),
            _ => {}
        }
    }
    all
}

#[test]
fn the_house_of_the_page_has_what_its_table_says() {
    let family = Family::read(&blocks("```toml")).unwrap_or_else(|e| panic!("{e}"));
    let order = Order::read(&blocks("```toml order")).unwrap();
    let list = PartsList::of(&expand(&order, &family).unwrap_or_else(|e| panic!("{e}")));
    let table: Vec<(&str, i64)> = PAGE
        .lines()
        .filter_map(|line| {
            let mut cells = line.split('|').map(str::trim).skip(1);
            let (mark, count) = (cells.next()?, cells.next()?);
            Some((mark, count.parse().ok()?))
        })
        .collect();
    let found: Vec<(&str, i64)> = (list.lines.iter())
        .map(|line| (line.part.mark.0.as_str(), line.quantity))
        .collect();
    assert_eq!(found, table);
    // And what the table's words say besides.
    assert_eq!(list.line("SCREW").unwrap().supplied, 50);
    let cuts = |mark: &str| -> Vec<Length> {
        let places = &list.line(mark).unwrap().places;
        places.iter().filter_map(|place| place.cut_to).collect()
    };
    assert_eq!(cuts("TUBE"), [Length::inches(12)]);
    assert!(cuts("BOARD").contains(&Length::inches(93)));
    // Two legs of a foot and half a circle of 5 ft: 24 + 60 π = 212.496 in; and 24 in of grips.
    let film = &list.line("FILM").unwrap().part;
    assert_eq!(film.width, Some(Length::feet(20)));
    assert_eq!(film.length, Some(Length::feet(13 + 6)));
}

/// The fault that the page shows is told in the words that it shows.
#[test]
fn the_fault_of_the_page_is_told_so() {
    let text = blocks("```toml").replacen("part = \"TUBE\"\nalong", "part = \"TUB\"\nalong", 1);
    let said = Family::read(&text).unwrap_err().to_string();
    let shown = blocks("```text");
    assert!(said.contains(shown.trim_end()), "{said}\n{shown}");
}

/// Every field that a family file may have stands on the page.
#[test]
fn every_field_is_on_the_page() {
    let shapes = concat!(
        include_str!("../../src/family_file.rs"),
        include_str!("../../src/part_file.rs"),
        include_str!("../../src/rule_file.rs"),
        include_str!("../../src/skin_file.rs"),
        include_str!("../../src/where_file.rs"),
    );
    for line in shapes.lines() {
        let Some(field) = line.trim().strip_prefix("pub ") else {
            continue;
        };
        let Some((name, _)) = field.split_once(": ") else {
            continue;
        };
        let renamed = match name {
            "square" => "box",
            other => other,
        };
        if name.contains(' ') || name.contains('(') {
            continue;
        }
        assert!(
            PAGE.contains(&format!("`{renamed}"))
                || PAGE.contains(&format!("{renamed} = "))
                || PAGE.contains(&format!("{{ {renamed}"))
                || PAGE.contains(&format!(", {renamed}")),
            "`{renamed}` is not on the page"
        );
    }
}
