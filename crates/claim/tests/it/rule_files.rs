//! The rule files, and what is said of files that are wrong.

use claim::{
    Basis, Date, Facts, Force, Party, Period, RuleSets, Start, State, Sure, Unit, due, read_rules,
};

fn files() -> Vec<(String, String)> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/rules");
    let mut files: Vec<(String, String)> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .map(|path| {
            (
                path.file_name().unwrap().to_string_lossy().into_owned(),
                std::fs::read_to_string(&path).unwrap(),
            )
        })
        .collect();
    files.sort();
    files
}

#[test]
fn every_file_of_the_folder_is_read_and_built_in() {
    let files = files();
    let read: Vec<(&str, &str)> = files
        .iter()
        .map(|(name, text)| (name.as_str(), text.as_str()))
        .collect();
    let sets = RuleSets::read(&read).unwrap_or_else(|faults| panic!("{faults:#?}"));
    assert_eq!(sets.sets().len(), RuleSets::built_in().sets().len());
    for set in sets.sets() {
        assert_eq!(RuleSets::built_in().set(&set.id), Some(set));
    }
}

/// receiving.md: the period, the start, the mark and the force that each rule must carry.
#[test]
fn the_rules_say_what_the_sheet_of_facts_says() {
    use Unit::{BusinessDays, CalendarDays, DaysWithoutSundaysAndHolidays, Hours, Months, Years};
    let table = [
        (
            "us-motor.hidden-harm",
            5,
            BusinessDays,
            Start::Delivery,
            Sure::Seen,
            Force::ShiftsEvidence,
        ),
        (
            "us-motor.hidden-harm-48-hours",
            48,
            Hours,
            Start::Delivery,
            Sure::Seen,
            Force::ShiftsEvidence,
        ),
        (
            "us-motor.inspection",
            5,
            BusinessDays,
            Start::InspectionAsked,
            Sure::Memory,
            Force::TimeToAsk,
        ),
        (
            "us-motor.claim",
            9,
            Months,
            Start::Delivery,
            Sure::Seen,
            Force::HardLimit,
        ),
        (
            "us-motor.claim-not-delivered",
            9,
            Months,
            Start::ShouldHaveCome,
            Sure::Seen,
            Force::HardLimit,
        ),
        (
            "us-motor.claim-from-bill-date",
            9,
            Months,
            Start::BillOfLading,
            Sure::Seen,
            Force::HardLimit,
        ),
        (
            "us-motor.claim-6-months",
            6,
            Months,
            Start::Delivery,
            Sure::SecondHand,
            Force::HardLimit,
        ),
        (
            "us-motor.acknowledgement",
            30,
            CalendarDays,
            Start::ClaimReceived,
            Sure::SecondHand,
            Force::TimeToAsk,
        ),
        (
            "us-motor.decision",
            120,
            CalendarDays,
            Start::ClaimReceived,
            Sure::SecondHand,
            Force::TimeToAsk,
        ),
        (
            "us-motor.status",
            120,
            CalendarDays,
            Start::ClaimReceived,
            Sure::SecondHand,
            Force::TimeToAsk,
        ),
        (
            "us-motor.suit",
            2,
            Years,
            Start::ClaimRefused,
            Sure::Seen,
            Force::HardLimit,
        ),
        (
            "us-motor.suit-uniform-bill",
            2,
            Years,
            Start::ClaimRefused,
            Sure::Seen,
            Force::HardLimit,
        ),
        (
            "cisg.notice-outer-limit",
            2,
            Years,
            Start::Delivery,
            Sure::Seen,
            Force::HardLimit,
        ),
        (
            "cmr.hidden-harm",
            7,
            DaysWithoutSundaysAndHolidays,
            Start::Delivery,
            Sure::SecondHand,
            Force::ShiftsEvidence,
        ),
        (
            "cmr.delay",
            21,
            CalendarDays,
            Start::AtDisposal,
            Sure::SecondHand,
            Force::HardLimit,
        ),
        (
            "cmr.lost-after-agreed-day",
            30,
            CalendarDays,
            Start::AgreedDelivery,
            Sure::SecondHand,
            Force::TimeToAsk,
        ),
        (
            "cmr.lost-after-taking-over",
            60,
            CalendarDays,
            Start::TakenOver,
            Sure::Memory,
            Force::TimeToAsk,
        ),
        (
            "cmr.suit",
            1,
            Years,
            Start::Delivery,
            Sure::Memory,
            Force::HardLimit,
        ),
        (
            "sea.hidden-harm",
            3,
            CalendarDays,
            Start::Delivery,
            Sure::SecondHand,
            Force::ShiftsEvidence,
        ),
        (
            "sea.suit-hague-visby",
            1,
            Years,
            Start::Delivery,
            Sure::Memory,
            Force::HardLimit,
        ),
        (
            "sea.suit-cogsa",
            1,
            Years,
            Start::Delivery,
            Sure::SecondHand,
            Force::HardLimit,
        ),
        (
            "air.damage",
            14,
            CalendarDays,
            Start::Delivery,
            Sure::SecondHand,
            Force::HardLimit,
        ),
        (
            "air.delay",
            21,
            CalendarDays,
            Start::AtDisposal,
            Sure::SecondHand,
            Force::HardLimit,
        ),
        (
            "air.suit",
            2,
            Years,
            Start::Delivery,
            Sure::Memory,
            Force::HardLimit,
        ),
        (
            "rail.hidden-harm",
            7,
            CalendarDays,
            Start::Delivery,
            Sure::SecondHand,
            Force::HardLimit,
        ),
        (
            "rail.delay",
            60,
            CalendarDays,
            Start::Delivery,
            Sure::SecondHand,
            Force::HardLimit,
        ),
    ];
    for (id, amount, unit, starts, sure, force) in table {
        let rule = RuleSets::built_in()
            .rule(id)
            .unwrap_or_else(|| panic!("{id}"));
        let and_days = u32::from(id == "us-motor.suit-uniform-bill");
        let period = Period::Of {
            amount,
            unit,
            and_days,
        };
        assert_eq!(
            (rule.period, rule.starts, rule.sure, rule.force),
            (period, starts, sure, force),
            "{id}"
        );
    }
    let all = RuleSets::built_in().sets().iter().flat_map(|s| &s.rules);
    let numbered = all
        .clone()
        .filter(|r| matches!(r.period, Period::Of { .. }));
    assert_eq!(
        numbered.count(),
        table.len(),
        "each rule with a number is in the table"
    );
    let repeated: Vec<(&str, u32)> = all
        .filter_map(|r| Some((r.id.as_str(), r.repeats_every?)))
        .collect();
    assert_eq!(repeated, [("us-motor.status", 60)]);
}

#[test]
fn what_is_from_memory_says_what_to_hold_it_against() {
    for rule in RuleSets::built_in().sets().iter().flat_map(|s| &s.rules) {
        let unsure = rule.sure == Sure::Memory || rule.less_sure.contains("memory");
        assert!(
            !unsure || rule.check.starts_with("check with "),
            "{}",
            rule.id
        );
        let carriers = rule.basis == Basis::CarrierTerms && !rule.check.is_empty();
        assert!(
            !carriers || rule.check.starts_with("check with the carrier's terms"),
            "{}",
            rule.id
        );
        assert!(
            rule.force != Force::TimeToAsk || rule.by == Party::Carrier,
            "{}",
            rule.id
        );
    }
}

/// No rule's reasonable time comes out as a day, whatever days are known.
#[test]
fn no_reasonable_time_has_a_day() {
    let november = Date::constant(2026, 11, 25);
    let facts = Facts {
        sets: RuleSets::built_in()
            .sets()
            .iter()
            .map(|s| s.id.clone())
            .collect(),
        days: Start::ALL.into_iter().map(|s| (s, november)).collect(),
        ..Facts::default()
    };
    let all = due(RuleSets::built_in(), &facts, &[], november);
    let reasonable: Vec<_> = all
        .iter()
        .filter(|d| d.rule.period == Period::Reasonable)
        .collect();
    assert_eq!(reasonable.len(), 5);
    assert!(
        reasonable
            .iter()
            .all(|d| d.date.is_none() && d.state == State::NoDay)
    );
}

const WHOLE: &str = r#"
set = "dock"
title = "A dock of our own"
holds = "In a test."
[[rule]]
id = "look"
title = "Look"
act = "examination"
by = "receiver"
to = "sender"
amount = 3
unit = "calendar days"
starts = "delivery"
asks = ["both eyes"]
missing_it = "nothing is seen."
force = "hard limit"
basis = "custom"
source = "this test"
sure = "seen"
"#;

fn faults(text: &str) -> Vec<String> {
    let faults = read_rules("dock.toml", text).unwrap_err();
    faults.iter().map(ToString::to_string).collect()
}

#[test]
fn a_file_is_read() {
    let set = read_rules("dock.toml", WHOLE).unwrap();
    assert_eq!(
        (set.id.as_str(), set.rules[0].id.as_str()),
        ("dock", "dock.look")
    );
    assert_eq!(set.rules[0].period.to_string(), "3 calendar days");
}

#[test]
fn each_fault_names_file_rule_and_field() {
    let but = |from: &str, to: &str| {
        let text = WHOLE.replace(from, to);
        assert_ne!(text, WHOLE);
        faults(&text)
    };
    let table = [
        (
            but("amount = 3\n", ""),
            "rule \"look\", field `amount`: is missing: how many of the unit",
        ),
        (
            but("amount = 3", "amount = 0"),
            "rule \"look\", field `amount`: must be a whole number from 1 to 36525",
        ),
        (
            but("amount = 3", "amount = 2.5"),
            "rule \"look\", field `amount`: must be a whole number from 1 to 36525",
        ),
        (
            but("calendar days", "reasonable time"),
            "rule \"look\", field `amount`: has no place beside a unit that is no number",
        ),
        (
            but("title = \"Look\"\n", ""),
            "rule \"look\", field `title`: is missing",
        ),
        (
            but("title = \"Look\"", "title = \" \""),
            "rule \"look\", field `title`: must be a text that is not empty",
        ),
        (
            but("[\"both eyes\"]", "\"both eyes\""),
            "rule \"look\", field `asks`: must be a list of texts that are not empty",
        ),
        (
            but("sure = \"seen\"", "sure = \"memory\""),
            "rule \"look\", field `check`: is missing: what is from memory, or in part, says what to hold it against",
        ),
        (
            but("sure = \"seen\"", "sure = \"seen\"\nlaw = 1"),
            "rule \"look\", field `law`: is no field of this table",
        ),
        (but("id = \"look\"\n", ""), "rule 1, field `id`: is missing"),
        (
            but("id = \"look\"", "id = \"Look here\""),
            "rule \"Look here\", field `id`: must be of small letters, digits and hyphens",
        ),
        (
            but("sure = \"seen\"", "sure = \"seen\"\nfloor = 1"),
            "rule \"look\", field `floor`: must be true or false",
        ),
        (
            but("set = \"dock\"\n", ""),
            "the file itself, field `set`: is missing",
        ),
        (
            but("[[rule]]", "[rule]"),
            "the file itself, field `rule`: must be written as [[rule]]",
        ),
    ];
    for (faults, expected) in table {
        let expected = format!("dock.toml, {expected}");
        assert!(
            faults.contains(&expected),
            "{expected}\nis not in {faults:#?}"
        );
    }
}

#[test]
fn a_word_that_is_not_known_is_told_with_those_that_are() {
    let faults = faults(&WHOLE.replace("starts = \"delivery\"", "starts = \"arrival\""));
    assert_eq!(faults.len(), 1);
    assert!(
        faults[0].starts_with("dock.toml, rule \"look\", field `starts`: unknown variant `arrival`, expected one of `delivery`"),
        "{faults:?}"
    );
}

#[test]
fn two_rules_or_two_sets_of_one_name_are_told() {
    let (_, rule) = WHOLE.split_once("[[rule]]").unwrap();
    let twice = faults(&format!("{WHOLE}\n[[rule]]{rule}"));
    assert_eq!(
        twice,
        ["dock.toml, dock.look, field `id`: is the name of another rule of the file"]
    );
    let sets = RuleSets::read(&[("dock.toml", WHOLE), ("pier.toml", WHOLE)]).unwrap_err();
    assert_eq!(
        sets[0].to_string(),
        "pier.toml, the file itself, field `set`: \"dock\" is the name of another file's set"
    );
}

#[test]
fn what_is_no_toml_is_told() {
    for text in ["[[rule", "\u{0}", "set = 1\nset = 2"] {
        let faults = faults(text);
        assert!(
            faults[0].starts_with("dock.toml, the file itself, field `all of it`: is no TOML"),
            "{faults:?}"
        );
    }
    assert!(!faults("").is_empty());
}
