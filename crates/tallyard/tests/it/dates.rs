//! What must be done by when, on the page, in the calendar file and on the command line.
//!
//! The fifth business day after Wed 2026-11-25 is Thu 2026-12-03: computed with the PyPI package `holidays` 0.109, from
//! the federal holidays of the United States; that notice is due then by NMFC item 300135 (S1, a reprint).

use serde_json::Value;

use crate::program::{PROGRAM, Place};
use crate::schema;
use crate::tailgate::hand_over;
use crate::yard::{Phone, Running, id};

const DELIVERED: &str = "2026-11-25";

fn opened() -> (Place, Running, Phone) {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let phone = yard.joined("Ada");
    (place, yard, phone)
}

fn dates(place: &Place, today: &str) -> Value {
    let dates = place.json(&["dates", "demo.tallyard", "--today", today, "--json"]);
    schema::check("dates", &dates);
    dates
}

fn due<'a>(dates: &'a Value, shipment: &str, rule: &str) -> &'a Value {
    let of = dates["shipments"]
        .as_array()
        .unwrap()
        .iter()
        .find(|of| of["shipment"] == shipment)
        .unwrap();
    let all = of["due"].as_array().unwrap();
    all.iter()
        .find(|due| due["rule"] == rule)
        .unwrap_or_else(|| panic!("no {rule}: {of}"))
}

#[test]
fn the_days_run_from_the_hand_over() {
    let (place, yard, phone) = opened();
    let before = phone.get("/dates").text();
    assert!(before.contains("Not handed over yet.") && !before.contains("days left"));
    assert_eq!(
        due(&dates(&place, DELIVERED), "Load 2", "us-motor.hidden-harm")["state"],
        "waits"
    );
    hand_over(&yard, "Load 2", DELIVERED, "1 carton short");
    let said = dates(&place, "2026-11-30");
    let notice = due(&said, "Load 2", "us-motor.hidden-harm");
    assert_eq!(
        (&notice["date"], &notice["days_left"], &notice["state"]),
        (&"2026-12-03".into(), &3.into(), &"open".into())
    );
    // The note that was written on the receipt is done; the claim has its nine months (49 U.S.C. 14706(e)(1), S1, a floor
    // that is commonly the bill's own period, S2).
    assert_eq!(
        due(&said, "Load 2", "us-motor.note-on-receipt")["state"],
        "done"
    );
    assert_eq!(due(&said, "Load 2", "us-motor.claim")["date"], "2027-08-25");
    // A reasonable time is no number (UCC 2-607(3)(a), S1): never a date.
    let reasonable = due(&said, "Load 2", "ucc.tell-seller");
    assert_eq!(
        (&reasonable["date"], &reasonable["state"]),
        (&Value::Null, &"no_day".into())
    );
    let page = phone.get("/dates").text();
    for text in [
        "Thursday 3 Dec 2026",
        "within a reasonable time",
        "NMFC item 300135",
        "Not handed over yet.",
        "Check with the carrier",
        "not legal advice",
    ] {
        assert!(page.contains(text), "{text}");
    }
    // Once a day is over it says so.
    assert_eq!(
        due(
            &dates(&place, "2026-12-04"),
            "Load 2",
            "us-motor.hidden-harm"
        )["state"],
        "passed"
    );
    let words = place.ok(&["dates", "demo.tallyard", "--today", "2026-11-30"]);
    assert!(
        words.contains("Today is Mon 30 Nov 2026 at the site (UTC, which nobody has said)."),
        "{words}"
    );
    assert!(
        words.contains("By Thu 3 Dec 2026 (3 days left)."),
        "{words}"
    );
}

#[test]
fn what_was_agreed_and_done_goes_before_the_rule_and_can_be_taken_back() {
    let (place, yard, phone) = opened();
    hand_over(&yard, "Load 1", DELIVERED, "1 carton short");
    let one = ("shipment", "Load 1");
    let keep = |path: &str, n: u64, fields: &[(&str, &str)]| {
        let event = id(n);
        let all: Vec<(&str, &str)> = [("id", event.as_str()), one]
            .iter()
            .chain(fields)
            .copied()
            .collect();
        let answer = phone.post(path, &all);
        assert_eq!(
            (answer.status, answer.header("location")),
            (303, Some("/dates")),
            "{}",
            answer.text()
        );
    };
    let today = "2026-11-30";
    let claim = ("rule", "us-motor.claim");
    keep(
        "/agreed",
        1,
        &[
            claim,
            ("unit", "months"),
            ("amount", "12"),
            ("words", "bill of lading, section 3"),
        ],
    );
    let said = dates(&place, today);
    let due_now = due(&said, "Load 1", "us-motor.claim");
    assert_eq!(
        (
            &due_now["date"],
            &due_now["by_rule"],
            &due_now["by_your_terms"]
        ),
        (&"2027-11-25".into(), &"2027-08-25".into(), &true.into())
    );
    assert!(
        phone
            .get("/dates")
            .text()
            .contains("bill of lading, section 3")
    );
    keep("/agreed", 2, &[claim, ("unit", "none")]);
    assert_eq!(
        due(&dates(&place, today), "Load 1", "us-motor.claim")["date"],
        "2027-08-25"
    );
    // A day of one's own stands beside a reasonable time, and does not become a date of the law.
    keep(
        "/agreed",
        3,
        &[
            ("rule", "ucc.tell-seller"),
            ("binds", "own"),
            ("unit", "day"),
            ("day", "2026-12-01"),
        ],
    );
    let said = dates(&place, today);
    let own = due(&said, "Load 1", "ucc.tell-seller");
    assert_eq!(
        (&own["date"], &own["own_target"], &own["days_left"]),
        (&Value::Null, &"2026-12-01".into(), &1.into())
    );
    assert!(
        phone
            .get("/dates")
            .text()
            .contains("your own target and binds nobody")
    );
    // Done, and taken back.
    keep(
        "/done",
        4,
        &[
            ("rule", "us-motor.hidden-harm"),
            ("on", "2026-11-27"),
            ("words", "by e-mail"),
        ],
    );
    let said = dates(&place, today);
    let done = due(&said, "Load 1", "us-motor.hidden-harm");
    assert_eq!(
        (&done["state"], &done["done_on"]),
        (&"done".into(), &"2026-11-27".into())
    );
    // One notice meets every rule that asks for it.
    assert_eq!(
        due(&said, "Load 1", "us-motor.hidden-harm-48-hours")["state"],
        "done"
    );
    let undo = [("id", &*id(5)), ("event", &*id(4)), ("to", "/dates")];
    assert_eq!(
        phone.post("/undo", &undo).header("location"),
        Some("/dates")
    );
    assert_eq!(
        due(&dates(&place, today), "Load 1", "us-motor.hidden-harm")["state"],
        "open"
    );
    // The carrier's thirty days (49 CFR 370.5, S2) run from a day that must be said first.
    assert_eq!(
        due(&dates(&place, today), "Load 1", "us-motor.acknowledgement")["state"],
        "waits"
    );
    keep(
        "/done",
        6,
        &[("rule", "day.claim-received"), ("on", "2026-12-01")],
    );
    assert_eq!(
        due(&dates(&place, today), "Load 1", "us-motor.acknowledgement")["date"],
        "2026-12-31"
    );
}

#[test]
fn the_regime_and_the_zone_are_said() {
    let (place, yard, phone) = opened();
    // Our arithmetic: delivered Fri 2026-03-06, by CMR 30(1) (S2) the last day is Sat 2026-03-14.
    phone.post(
        "/freight",
        &[
            ("id", &id(1)),
            ("shipment", "Load 1"),
            ("carried", "cmr"),
            ("bought", "cisg"),
        ],
    );
    hand_over(&yard, "Load 1", "2026-03-06", "");
    let said = dates(&place, "2026-03-07");
    let of = said["shipments"]
        .as_array()
        .unwrap()
        .iter()
        .find(|of| of["shipment"] == "Load 1")
        .unwrap();
    assert_eq!(of["rules"], serde_json::json!(["cisg", "cmr"]));
    assert_eq!(of["rules_said"], true);
    assert_eq!(of["rules_not_said"], serde_json::json!([]));
    assert!(
        of["due"]
            .as_array()
            .unwrap()
            .iter()
            .any(|due| due["date"] == "2026-03-14"),
        "{of}"
    );
    assert_eq!(said["zone_said"], false);
    phone.post("/zone", &[("id", &id(3)), ("zone", "pacific/kiritimati")]);
    let said = place.json(&["dates", "demo.tallyard", "--json"]);
    schema::check("dates", &said);
    assert_eq!(
        (&said["zone"], &said["zone_said"]),
        (&"Pacific/Kiritimati".into(), &true.into())
    );
    // Fourteen hours before UTC (IANA time zone database), which is the yard computer's zone here.
    let hours = |at: i64| at.div_euclid(3_600_000);
    let day = (hours(store::now()) + 14).div_euclid(24);
    let there: jiff_day::Day = said["today"].as_str().unwrap().parse().unwrap();
    assert!(
        (day - there.0).abs() <= 1 && there.0 >= hours(store::now()).div_euclid(24),
        "{said}"
    );
    assert!(phone.get("/dates").text().contains("Pacific/Kiritimati"));
}

/// Days since 1970-01-01 of a date (the civil calendar by Howard Hinnant's published formula, from memory).
mod jiff_day {
    pub struct Day(pub i64);

    impl std::str::FromStr for Day {
        type Err = std::num::ParseIntError;

        fn from_str(text: &str) -> Result<Self, Self::Err> {
            let part = |range: std::ops::Range<usize>| text[range].parse::<i64>();
            let (y, m, d) = (part(0..4)?, part(5..7)?, part(8..10)?);
            let y = y - i64::from(m <= 2);
            let doy = (153 * ((m + 9) % 12) + 2) / 5 + d - 1;
            let era = y.div_euclid(400);
            let yoe = y - era * 400;
            Ok(Self(
                era * 146_097 + yoe * 365 + yoe / 4 - yoe / 100 + doy - 719_468,
            ))
        }
    }
}

/// Read by `icalendar`, a parser that others made (crates.io).
#[test]
fn the_calendar_holds_every_day_once() {
    let (place, yard, phone) = opened();
    let answer = phone.get("/dates.ics");
    assert_eq!(answer.status, 422, "{}", answer.text());
    place.refuses(
        &["dates", "demo.tallyard", "--ics", "dates.ics"],
        "demo.tallyard: nothing in it has a day yet",
    );
    assert!(!place.path("dates.ics").exists());
    hand_over(&yard, "Load 1", DELIVERED, "1 carton short");
    hand_over(&yard, "Load 2", "2026-12-30", "");
    let one = phone.get("/dates.ics?shipment=Load%201");
    assert_eq!(
        one.header("content-type"),
        Some("text/calendar; charset=utf-8")
    );
    assert_eq!(phone.get("/dates.ics?shipment=Load%203").status, 404);
    place.ok(&["dates", "demo.tallyard", "--ics", "dates.ics"]);
    let file = std::fs::read_to_string(place.path("dates.ics")).unwrap();
    assert_eq!(file.matches("BEGIN:VCALENDAR").count(), 1);
    let read = |text: &str| -> icalendar::Calendar { text.parse().unwrap() };
    let events = |calendar: &icalendar::Calendar| -> Vec<(String, String)> {
        let events = calendar
            .components
            .iter()
            .filter_map(icalendar::CalendarComponent::as_event);
        let field = |event: &icalendar::Event, name: &str| {
            icalendar::Component::property_value(event, name)
                .unwrap()
                .to_string()
        };
        events
            .map(|event| (field(event, "UID"), field(event, "DTSTART")))
            .collect()
    };
    let all = events(&read(&file));
    let of_one = events(&read(&one.text()));
    let dated: usize = dates(&place, DELIVERED)["shipments"]
        .as_array()
        .unwrap()
        .iter()
        .flat_map(|of| of["due"].as_array().unwrap())
        .filter(|due| due["date"].is_string())
        .count();
    assert_eq!(all.len(), dated);
    assert!(of_one.len() > 2 && of_one.iter().all(|event| all.contains(event)));
    let mut uids: Vec<&String> = all.iter().map(|(uid, _)| uid).collect();
    uids.sort();
    uids.dedup();
    assert_eq!(uids.len(), all.len());
    assert!(
        of_one
            .iter()
            .any(|(uid, start)| uid.contains("hidden-harm") && start == "20261203"),
        "{of_one:?}"
    );
}

#[test]
fn the_glance_leads_there() {
    let (_place, yard, phone) = opened();
    let before = phone.get("/").text();
    assert!(
        before.contains("The truck is here: before the driver leaves")
            && !before.contains("/dates")
    );
    for load in ["Load 1", "Load 2"] {
        hand_over(&yard, load, &today(), "1 carton short");
    }
    let after = phone.get("/").text();
    assert!(!after.contains("The truck is here") && after.contains("href=\"/dates\""));
    assert!(
        after.contains("In 1 days") || after.contains("Tomorrow") || after.contains("In 2 days"),
        "{after}"
    );
}

fn today() -> String {
    let place = Place::with_demo_files();
    place.ok(&["demo", "--lay", "other.tallyard"]);
    let said = place.json(&["dates", "other.tallyard", "--json"]);
    said["today"].as_str().unwrap().to_string()
}

/// How a shipment travels and how it was bought are two things: whoever says one has not said the other, and the page says
/// which is taken for granted.
#[test]
fn half_of_the_rules_may_be_said() {
    let (place, yard, phone) = opened();
    let said = |fields: [(&str, &str); 3]| {
        assert_eq!(phone.post("/freight", &fields).status, 303);
    };
    said([("id", &id(1)), ("shipment", "Load 1"), ("bought", "cisg")]);
    said([("id", &id(2)), ("shipment", "Load 2"), ("carried", "cmr")]);
    for load in ["Load 1", "Load 2"] {
        hand_over(&yard, load, DELIVERED, "1 carton short");
    }
    let today = dates(&place, DELIVERED);
    due(&today, "Load 1", "us-motor.claim");
    due(&today, "Load 1", "cisg.notice");
    due(&today, "Load 2", "cmr.hidden-harm");
    due(&today, "Load 2", "ucc.tell-seller");
    let page = phone.get("/dates").text();
    for says in [
        "Nobody has said how it travels; the rules for a truck",
        "Nobody has said how it was bought; the rules for a sale",
    ] {
        assert!(page.contains(says), "{says}");
    }
}

/// A shipment that never comes: its day can be said on the page, and then it has its rules (49 U.S.C. 14706(e)(1), S1, for
/// the nine months).
#[test]
fn what_never_came_can_be_said() {
    let (place, yard, phone) = opened();
    let page = phone.get("/dates").text();
    for field in ["It has not come at all", "value=\"day.should-have-come\""] {
        assert!(page.contains(field), "{field}");
    }
    let fields = [
        ("id", &*id(1)),
        ("rule", "day.should-have-come"),
        ("shipment", "Load 2"),
        ("on", "2026-11-20"),
    ];
    assert_eq!(phone.post("/done", &fields).status, 303);
    let said = dates(&place, "2026-11-23");
    let claim = due(&said, "Load 2", "us-motor.claim-not-delivered");
    assert_eq!(claim["date"], "2027-08-20");
    drop(yard);
}

/// What was refused whole went back with the driver: no day runs from a delivery.
#[test]
fn nothing_runs_from_a_refusal() {
    let (place, _yard, phone) = opened();
    let fields = [
        ("id", &*id(1)),
        ("shipment", "Load 1"),
        ("on", DELIVERED),
        ("outcome", "refused"),
        ("note", "crate crushed"),
    ];
    assert_eq!(phone.post("/delivery", &fields).status, 303);
    let said = dates(&place, DELIVERED);
    let notice = due(&said, "Load 1", "us-motor.hidden-harm");
    assert_eq!(
        (&notice["state"], &notice["date"]),
        (&"waits".into(), &Value::Null)
    );
    assert!(
        phone
            .get("/dates")
            .text()
            .contains("Refused on Wed 25 Nov 2026")
    );
}

/// Terms as a bill of lading has them: so many years, from the date of the bill; and a day off of the carrier's own.
#[test]
fn terms_in_years_from_another_day_and_days_off() {
    let (place, yard, phone) = opened();
    let keep = |path: &str, n: u64, fields: &[(&str, &str)]| {
        let event = id(n);
        let all = [&[("id", event.as_str())], fields].concat();
        assert_eq!(phone.post(path, &all).status, 303, "{path}");
    };
    let load = ("shipment", "Load 1");
    keep(
        "/freight",
        1,
        &[load, ("billed_on", "2026-11-20"), ("carried", "us-motor")],
    );
    hand_over(&yard, "Load 1", DELIVERED, "1 carton short");
    let terms = [
        ("rule", "us-motor.claim"),
        load,
        ("unit", "years"),
        ("amount", "1"),
        ("starts", "day.bill-of-lading"),
        ("words", "section 3"),
    ];
    keep("/agreed", 2, &terms);
    assert_eq!(
        due(&dates(&place, DELIVERED), "Load 1", "us-motor.claim")["date"],
        "2027-11-20"
    );
    assert!(
        phone
            .get("/dates")
            .text()
            .contains("from the date of the bill of lading")
    );
    let mut wrong = terms;
    wrong[4].1 = "day.nothing";
    let event = id(9);
    let wrong = [&[("id", event.as_str())], &wrong[..]].concat();
    assert_eq!(phone.post("/agreed", &wrong).status, 422);
    // A day more on the carrier's list moves the fifth business day by one, and taken off again it moves it back.
    let friday = [
        ("list", "business"),
        ("day", "2026-11-27"),
        ("words", "the carrier's own"),
    ];
    for (n, off, last) in [(3, "yes", "2026-12-04"), (4, "no", "2026-12-03")] {
        keep("/day-off", n, &[&friday[..], &[("off", off)]].concat());
        let today = dates(&place, DELIVERED);
        assert_eq!(due(&today, "Load 1", "us-motor.hidden-harm")["date"], last);
        assert!(phone.get("/dates").text().contains("Fri 27 Nov 2026"));
    }
    let nobodys = [
        ("id", &*id(8)),
        ("list", "mine"),
        ("day", "2026-11-27"),
        ("off", "yes"),
    ];
    assert_eq!(phone.post("/day-off", &nobodys).status, 422);
}

/// A job file that only can be read still gives its calendar.
#[test]
fn a_calendar_comes_out_of_a_bundle() {
    let (place, yard, phone) = opened();
    hand_over(&yard, "Load 1", DELIVERED, "1 carton short");
    drop((yard, phone));
    place.ok(&["bundle", "demo.tallyard", "--to", "all.zip"]);
    let words = place.ok(&["dates", "all.zip", "--ics", "dates.ics"]);
    // A reasonable time is no date, so what has to be done within one is named, not left out in silence.
    let (_, left_out) = words.split_once("Not in the calendar file").unwrap();
    assert!(
        left_out.contains("Tell the seller what is short"),
        "{words}"
    );
    let text = std::fs::read_to_string(place.path("dates.ics")).unwrap();
    assert!(text.contains("BEGIN:VEVENT"));
}
