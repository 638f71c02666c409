//! Federal holidays against a list that another package made: `outside/README.md`.

use std::collections::BTreeMap;

use claim::{Date, Holidays, us_federal_of};

const LIST: &str = include_str!("outside/us-federal-holidays-2024-2030.csv");

fn day(text: &str) -> Date {
    text.parse().unwrap()
}

/// Observed day, legal day, name.
fn rows() -> Vec<(Date, Date, String)> {
    LIST.lines()
        .skip(1)
        .map(|line| {
            let cells: Vec<&str> = line.split(',').collect();
            (day(cells[0]), day(cells[2]), cells[4].to_owned())
        })
        .collect()
}

#[test]
fn all_77_rows_of_the_list_are_kept_and_nothing_else_in_seven_years() {
    let rows = rows();
    assert_eq!(rows.len(), 77);
    let listed: BTreeMap<Date, String> = rows
        .iter()
        .map(|(kept, _, name)| (*kept, name.clone()))
        .collect();
    assert_eq!(listed.len(), 77);
    let holidays = Holidays::us_federal();
    let mut on = day("2024-01-01");
    while on <= day("2030-12-31") {
        assert_eq!(holidays.on(on).as_ref(), listed.get(&on), "{on}");
        on = on.tomorrow().unwrap();
    }
}

#[test]
fn each_falls_where_the_list_says_that_it_falls() {
    for (kept, falls, name) in rows() {
        let found = us_federal_of(falls.year())
            .into_iter()
            .find(|h| h.name == name)
            .unwrap();
        assert_eq!((found.kept, found.falls), (kept, falls), "{name}");
    }
}

#[test]
fn new_years_day_on_a_saturday_is_kept_in_the_year_before() {
    // By 5 U.S.C. 6103 (S2), worked out (D): 2027-12-31 for 1 Jan 2028; 2027 has 12 of them, 2028 has 10.
    let kept = |year: i16| {
        let holidays = Holidays::us_federal();
        let first = Date::new(year, 1, 1).unwrap();
        let days = first
            .series(jiff::Span::new().days(1))
            .take_while(|d| d.year() == year);
        days.filter(|d| holidays.on(*d).is_some()).count()
    };
    assert_eq!((kept(2027), kept(2028)), (12, 10));
}

#[test]
fn a_list_of_ones_own_takes_the_place_of_it() {
    let own = Holidays::listed([(day("2026-11-27"), "Yard closed".to_owned())]);
    assert_eq!(own.on(day("2026-11-26")), None, "Thanksgiving is not in it");
    assert_eq!(own.on(day("2026-11-27")).as_deref(), Some("Yard closed"));
    let less = Holidays::us_federal()
        .without(day("2026-10-12"))
        .with(day("2026-11-27"), "Yard closed");
    assert_eq!(less.on(day("2026-10-12")), None);
    assert_eq!(
        less.on(day("2026-11-26")).as_deref(),
        Some("Thanksgiving Day")
    );
    assert_eq!(less.on(day("2026-11-27")).as_deref(), Some("Yard closed"));
}

#[test]
fn the_ends_of_the_calendar_are_no_trouble() {
    for year in [i16::MIN, -9999, 0, 9999, i16::MAX] {
        us_federal_of(year);
    }
    let holidays = Holidays::us_federal();
    assert_eq!(holidays.on(Date::MIN), None);
    holidays.on(Date::MAX);
}
