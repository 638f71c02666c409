//! What somebody agreed or set goes before the rule, or beside it, and says so.

use claim::{
    AfterHours, Agreed, Arrival, Binds, Closing, Due, Facts, Period, RuleSets, Start, State, Term,
    Unit, Zone,
};
use claim::{due, unknown_terms};

use crate::due::{day, facts, one};

fn days(amount: u32, unit: Unit) -> Term {
    Term::Period(Period::Of {
        amount,
        unit,
        and_days: 0,
    })
}

fn agreed(rule: &str, term: Term, binds: Binds, words: &str) -> Agreed {
    Agreed {
        rule: rule.into(),
        term,
        starts: None,
        binds,
        words: words.into(),
    }
}

fn delivered() -> Facts {
    facts(&["us-motor", "ucc"], &[(Start::Delivery, "2026-11-25")])
}

fn with<'a>(facts: &Facts, agreed: &'a [Agreed]) -> Vec<Due<'a>> {
    due(RuleSets::built_in(), facts, agreed, day("2026-11-25"))
}

#[test]
fn the_bill_of_ladings_own_day_goes_before_the_rule() {
    let terms = [agreed(
        "us-motor.claim",
        Term::Day(day("2027-10-01")),
        Binds::Contract,
        "Bill of lading 4417, back, section 3",
    )];
    let facts = delivered();
    let all = with(&facts, &terms);
    let claim = one(&all, "us-motor.claim");
    assert_eq!(
        (claim.date, claim.by_rule),
        (Some(day("2027-10-01")), Some(day("2027-08-25")))
    );
    let note = "Your terms go before the rule: Bill of lading 4417, back, section 3. The rule itself would say Wed 25 Aug \
                2027.";
    assert_eq!(claim.notes, [note]);
    assert_eq!(claim.when(), "By Fri 1 Oct 2027 (310 days left).");
}

#[test]
fn a_term_under_the_floor_is_kept_to_and_doubted() {
    let terms = [agreed(
        "us-motor.claim",
        days(4, Unit::Months),
        Binds::Contract,
        "The carrier's tariff",
    )];
    let facts = delivered();
    let all = with(&facts, &terms);
    let claim = one(&all, "us-motor.claim");
    assert_eq!(claim.date, Some(day("2027-03-25")));
    assert_eq!(
        claim.notes[1],
        "That is earlier than 9 months from the day of delivery, and 49 U.S.C. 14706(e)(1) lets no carrier set less for \
         shipments that it covers. Keep to the earlier day all the same, and ask somebody who knows whether it holds."
    );
}

#[test]
fn what_other_carriers_say_is_told_until_yours_is_known() {
    let there = |all: &[Due<'_>], rule: &str| all.iter().any(|d| d.rule.id == rule);
    let facts = delivered();
    let terms = [agreed(
        "us-motor.claim",
        Term::Day(day("2027-10-01")),
        Binds::Contract,
        "Bill 4417",
    )];
    let all = with(&facts, &terms);
    assert!(
        !there(&all, "us-motor.claim-6-months") && there(&all, "us-motor.hidden-harm-48-hours")
    );
    // A target of your own is no carrier's term; a carrier's term for that very rule makes it yours.
    let target = [agreed(
        "us-motor.claim",
        Term::Day(day("2027-01-01")),
        Binds::OwnTarget,
        "soon",
    )];
    assert!(there(&with(&facts, &target), "us-motor.claim-6-months"));
    let yours = [agreed(
        "us-motor.claim-6-months",
        days(6, Unit::Months),
        Binds::Contract,
        "Tariff 9",
    )];
    let all = with(&facts, &yours);
    let due = one(&all, "us-motor.claim-6-months");
    assert!(
        !due.notes.iter().any(|n| n.contains("that we saw")),
        "{:?}",
        due.notes
    );
}

#[test]
fn the_floor_itself_is_not_doubted() {
    let words = "The carrier's tariff";
    let terms = [agreed(
        "us-motor.claim",
        days(9, Unit::Months),
        Binds::Contract,
        words,
    )];
    let facts = delivered();
    let all = with(&facts, &terms);
    assert_eq!(one(&all, "us-motor.claim").notes.len(), 1);
}

#[test]
fn a_period_may_start_elsewhere_by_contract() {
    let mut term = agreed(
        "us-motor.claim",
        days(9, Unit::Months),
        Binds::Contract,
        "Loss runs from the bill's date",
    );
    term.starts = Some(Start::BillOfLading);
    let terms = [term];
    let mut facts = delivered();
    let all = with(&facts, &terms);
    assert_eq!(
        one(&all, "us-motor.claim").state,
        State::Waits(Start::BillOfLading)
    );
    facts.days.insert(Start::BillOfLading, day("2026-11-16"));
    let all = with(&facts, &terms);
    assert_eq!(one(&all, "us-motor.claim").date, Some(day("2027-08-16")));
}

#[test]
fn the_sellers_terms_give_a_reasonable_time_a_day_and_ones_own_target_does_not() {
    let own = agreed(
        "ucc.reject",
        Term::Day(day("2026-11-28")),
        Binds::OwnTarget,
        "before the crew goes home",
    );
    let sellers = Agreed {
        starts: Some(Start::Delivery),
        ..agreed(
            "ucc.tell-seller",
            days(10, Unit::CalendarDays),
            Binds::Contract,
            "Sender's terms of sale, 7",
        )
    };
    let terms = [own, sellers];
    let facts = delivered();
    let all = with(&facts, &terms);
    let reject = one(&all, "ucc.reject");
    assert_eq!(
        (reject.date, reject.own_target, reject.state),
        (None, Some(day("2026-11-28")), State::NoDay)
    );
    assert_eq!(
        reject.when(),
        "Within a reasonable time from the day of delivery: no date can be given. Your own target: Sat 28 Nov 2026 (3 days \
         left)."
    );
    let tell = one(&all, "ucc.tell-seller");
    assert_eq!(
        (tell.date, tell.state),
        (Some(day("2026-12-05")), State::Open)
    );
    assert_eq!(
        tell.notes[0],
        "Your terms go before the rule: Sender's terms of sale, 7. The rule itself says a reasonable time."
    );
}

#[test]
fn the_last_term_for_a_rule_holds() {
    let terms = [
        agreed(
            "us-motor.hidden-harm",
            days(3, Unit::BusinessDays),
            Binds::Contract,
            "first",
        ),
        agreed(
            "us-motor.hidden-harm",
            days(15, Unit::CalendarDays),
            Binds::Contract,
            "then",
        ),
    ];
    let facts = delivered();
    let all = with(&facts, &terms);
    assert_eq!(
        one(&all, "us-motor.hidden-harm").date,
        Some(day("2026-12-10"))
    );
}

#[test]
fn a_term_for_no_rule_is_found() {
    let terms = [
        agreed(
            "us-motor.claim",
            Term::Day(day("2027-10-01")),
            Binds::Contract,
            "here",
        ),
        agreed(
            "us-motor.clam",
            Term::Day(day("2027-10-01")),
            Binds::Contract,
            "nowhere",
        ),
    ];
    let unknown = unknown_terms(RuleSets::built_in(), &terms);
    assert_eq!(unknown.len(), 1);
    assert_eq!(unknown[0].words, "nowhere");
}

#[test]
fn a_term_without_end_gives_no_day_and_says_why() {
    let terms = [agreed(
        "us-motor.claim",
        days(u32::MAX, Unit::Years),
        Binds::Contract,
        "for ever",
    )];
    let facts = delivered();
    let all = with(&facts, &terms);
    let claim = one(&all, "us-motor.claim");
    assert_eq!(
        (claim.date, claim.when().as_str()),
        (None, "No day can be worked out.")
    );
    assert!(
        claim
            .notes
            .iter()
            .any(|n| n.starts_with("No day can be worked out: ")),
        "{:?}",
        claim.notes
    );
}

#[test]
fn hours_run_by_the_clock_where_the_moment_is_known() {
    // Mon 2026-11-23 15:00 at the site is 20:00 UTC; 48 hours on is Wed 25, 15:00.
    let mut facts = delivered();
    let ms = |text: &str| text.parse::<jiff::Timestamp>().unwrap().as_millisecond();
    let zone = Zone::named("America/New_York").unwrap();
    facts.arrival = Some(Arrival::at(ms("2026-11-23T20:00:00Z"), &zone, None).unwrap());
    let all = with(&facts, &[]);
    let due = one(&all, "us-motor.hidden-harm-48-hours");
    assert_eq!(due.date, Some(day("2026-11-25")));
    assert_eq!(due.until, Some(ms("2026-11-25T20:00:00Z")));
    assert!(
        due.notes
            .contains(&"Until 15:00 by the clock at the site (America/New_York).".to_owned()),
        "{:?}",
        due.notes
    );
    // The arrival's day goes before a day that was only noted: 5 business days from Mon 23 pass over Thanksgiving.
    assert_eq!(
        one(&all, "us-motor.hidden-harm").date,
        Some(day("2026-12-01"))
    );
}

#[test]
fn the_clocks_going_back_does_not_lengthen_the_hours() {
    // Sat 2026-10-31 12:00 in New York is 16:00 UTC (summer time ends Sun 1 Nov, M); 48 hours on is Mon 2, 11:00.
    let mut facts = delivered();
    let ms = |text: &str| text.parse::<jiff::Timestamp>().unwrap().as_millisecond();
    let zone = Zone::named("America/New_York").unwrap();
    facts.arrival = Some(Arrival::at(ms("2026-10-31T16:00:00Z"), &zone, None).unwrap());
    let all = with(&facts, &[]);
    let due = one(&all, "us-motor.hidden-harm-48-hours");
    assert!(
        due.notes
            .contains(&"Until 11:00 by the clock at the site (America/New_York).".to_owned()),
        "{:?}",
        due.notes
    );
}

#[test]
fn a_delivery_after_hours_says_how_it_is_counted() {
    let zone = Zone::named("America/New_York").unwrap();
    let late = "2026-11-25T23:10:00Z"
        .parse::<jiff::Timestamp>()
        .unwrap()
        .as_millisecond();
    let hour = "17:00".parse().unwrap();
    let at = |then| Facts {
        arrival: Some(Arrival::at(late, &zone, Some(Closing { hour, then })).unwrap()),
        ..delivered()
    };
    let strict = at(AfterHours::SameDay);
    let all = with(&strict, &[]);
    let due = one(&all, "us-motor.hidden-harm");
    assert_eq!(due.date, Some(day("2026-12-03")));
    assert!(
        due.notes.iter().any(|n| n.contains("No source was seen")),
        "{:?}",
        due.notes
    );
    let agreed = at(AfterHours::NextDay);
    let all = with(&agreed, &[]);
    let due = one(&all, "us-motor.hidden-harm");
    assert_eq!(
        due.date,
        Some(day("2026-12-03")),
        "Thu 26 is Thanksgiving, so nothing is gained"
    );
    assert_eq!(one(&all, "us-motor.claim").date, Some(day("2027-08-26")));
    assert!(
        due.notes.iter().any(|n| n.contains("as you set it")),
        "{:?}",
        due.notes
    );
}
