//! Counting days. Month ends and leap years are worked by hand on the calendar (D).

use claim::{Date, Holidays, Unit, business_day_before, last_day};
use proptest::prelude::*;

fn day(text: &str) -> Date {
    text.parse().unwrap()
}

fn last(start: &str, amount: u32, unit: Unit, holidays: &Holidays) -> String {
    last_day(day(start), amount, unit, holidays)
        .unwrap()
        .last
        .to_string()
}

#[test]
fn the_fifth_business_day_of_the_ten_deliveries_of_the_table() {
    // Computed with the list of the PyPI package `holidays` 0.109 (D).
    let table = [
        ("2024-07-01", "2024-07-09"),
        ("2025-12-23", "2025-12-31"),
        ("2026-03-06", "2026-03-13"),
        ("2026-03-07", "2026-03-13"),
        ("2026-07-01", "2026-07-09"),
        ("2026-11-25", "2026-12-03"),
        ("2027-06-16", "2027-06-24"),
        ("2027-12-22", "2027-12-30"),
        ("2027-12-30", "2028-01-07"),
        ("2028-11-08", "2028-11-16"),
    ];
    for (delivered, fifth) in table {
        assert_eq!(
            last(delivered, 5, Unit::BusinessDays, &Holidays::us_federal()),
            fifth,
            "{delivered}"
        );
    }
}

#[test]
fn seven_days_of_the_cmr_count_saturday_but_not_sunday() {
    // CMR 30(1) (S2), our arithmetic (D): delivered Fri 2026-03-06, day 1 is Sat 7, Sun 8 is passed over, day 7 is Sat 14.
    let unit = Unit::DaysWithoutSundaysAndHolidays;
    assert_eq!(last("2026-03-06", 7, unit, &Holidays::none()), "2026-03-14");
    assert_eq!(last("2026-03-06", 1, unit, &Holidays::none()), "2026-03-07");
    // A public holiday on Tue 10 moves the seventh past Sun 15.
    let one = Holidays::listed([(day("2026-03-10"), "A public holiday".to_owned())]);
    assert_eq!(last("2026-03-06", 7, unit, &one), "2026-03-16");
}

#[test]
fn a_month_that_is_too_short_ends_the_period_on_its_last_day() {
    let table = [
        ("2026-05-31", 9, Unit::Months, "2027-02-28"),
        ("2027-05-31", 9, Unit::Months, "2028-02-29"),
        ("2026-05-29", 9, Unit::Months, "2027-02-28"),
        ("2026-01-31", 1, Unit::Months, "2026-02-28"),
        ("2026-12-31", 2, Unit::Months, "2027-02-28"),
        ("2026-11-25", 9, Unit::Months, "2027-08-25"),
        ("2026-10-31", 6, Unit::Months, "2027-04-30"),
        ("2028-02-29", 1, Unit::Years, "2029-02-28"),
        ("2028-02-29", 4, Unit::Years, "2032-02-29"),
        ("2026-02-28", 2, Unit::Years, "2028-02-28"),
    ];
    for (start, amount, unit, end) in table {
        assert_eq!(
            last(start, amount, unit, &Holidays::none()),
            end,
            "{amount} {unit:?} from {start}"
        );
    }
}

#[test]
fn calendar_days_count_every_day() {
    assert_eq!(
        last(
            "2026-11-25",
            30,
            Unit::CalendarDays,
            &Holidays::us_federal()
        ),
        "2026-12-25"
    );
    assert_eq!(
        last("2026-11-25", 120, Unit::CalendarDays, &Holidays::none()),
        "2027-03-25"
    );
}

#[test]
fn hours_without_a_clock_end_on_the_last_day_that_is_surely_in_time() {
    assert_eq!(
        last("2026-11-23", 48, Unit::Hours, &Holidays::none()),
        "2026-11-24"
    );
    assert_eq!(
        last("2026-11-23", 72, Unit::Hours, &Holidays::none()),
        "2026-11-25"
    );
    assert_eq!(
        last("2026-11-23", 36, Unit::Hours, &Holidays::none()),
        "2026-11-23"
    );
    assert_eq!(
        last("2026-11-23", 12, Unit::Hours, &Holidays::none()),
        "2026-11-23"
    );
}

#[test]
fn what_is_past_the_end_of_the_calendar_is_said() {
    let max = Date::MAX;
    for unit in [
        Unit::CalendarDays,
        Unit::BusinessDays,
        Unit::Months,
        Unit::Years,
        Unit::Hours,
    ] {
        let err = last_day(max, 100, unit, &Holidays::us_federal());
        assert!(err.is_err(), "{unit:?}");
    }
    let err = last_day(
        day("2026-11-25"),
        u32::MAX,
        Unit::BusinessDays,
        &Holidays::none(),
    )
    .unwrap_err();
    assert_eq!(
        err.to_string(),
        "4294967295 business days from 2026-11-25 is past the end of the calendar"
    );
}

#[test]
fn the_working_day_before() {
    let us = Holidays::us_federal();
    // Sun 2027-07-04 is kept on Mon 5; the Friday before both is the 2nd.
    assert_eq!(
        business_day_before(day("2027-07-05"), &us),
        day("2027-07-02")
    );
    assert_eq!(
        business_day_before(day("2026-11-26"), &us),
        day("2026-11-25")
    );
    assert_eq!(
        business_day_before(day("2026-11-25"), &us),
        day("2026-11-25")
    );
}

fn any_day() -> impl Strategy<Value = Date> {
    (1990i16..2090, 1i8..=12, 1i8..=28).prop_map(|(y, m, d)| Date::new(y, m, d).unwrap())
}

proptest! {
    /// Counted another way: all days of the span that are business days, one by one.
    #[test]
    fn a_span_of_business_days_holds_so_many(start in any_day(), amount in 1u32..60) {
        let us = Holidays::us_federal();
        let end = last_day(start, amount, Unit::BusinessDays, &us).unwrap();
        let is_one = |d: &Date| business_day_before(*d, &us) == *d;
        let span = start.tomorrow().unwrap().series(jiff::Span::new().days(1)).take_while(|d| *d <= end.last);
        prop_assert_eq!(span.filter(is_one).count(), amount as usize);
        prop_assert!(is_one(&end.last));
        // Without holidays it is never later.
        prop_assert!(last_day(start, amount, Unit::BusinessDays, &Holidays::none()).unwrap().last <= end.last);
    }

    #[test]
    fn months_never_roll_on_into_the_next(start in any_day(), amount in 1u32..40) {
        let end = last_day(start, amount, Unit::Months, &Holidays::none()).unwrap().last;
        let month = i32::from(start.year()) * 12 + i32::from(start.month()) + amount as i32;
        prop_assert_eq!(i32::from(end.year()) * 12 + i32::from(end.month()), month);
        prop_assert!(end.day() <= start.day());
    }
}
