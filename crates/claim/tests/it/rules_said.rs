//! What the rules say, against their sources as read on 2026-11-25: 49 U.S.C. 14706(e)(1), 49 CFR 370 and NMFC 300135 in
//! reprints, UCC and CISG, and the transport conventions mostly second-hand.

use claim::{Basis, Date, Facts, Force, Party, Period, RuleSets, Start, State, Sure, Unit, due};

/// By those sources: the period, the start, the mark and the force that each rule must carry.
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
