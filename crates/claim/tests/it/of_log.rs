//! What the log says of a shipment, as the rules need it. The events are ours; the rules for which they are read are
//! held against their sources in the other tests.

use claim::{
    Act, Date, Done, Facts, Harm, Start, Zone, facts_of, own_target, sets_of, start_name, terms_of,
};
use claim::{Binds, Period, Term, Unit};
use tally::{Agreed, By, Condition, Delivery, Event, EventId, Freight, Outcome, State, What};

/// 2026-11-25T03:30 UTC, which is the evening before in New York (five hours behind in winter; IANA database).
const NIGHT: i64 = 1_795_577_400_000;
const NEW_YORK: &str = "America/New_York";

fn log(said: Vec<What>) -> State {
    let event = |(n, what)| Event {
        id: format!("00000000-0000-7000-8000-{n:012x}")
            .parse::<EventId>()
            .unwrap(),
        device: "d".into(),
        seq: n as u64 + 1,
        at: NIGHT,
        who: "Ada".into(),
        what,
    };
    let events: Vec<Event> = said.into_iter().enumerate().map(event).collect();
    State::fold(&events)
}

fn day(text: &str) -> Date {
    text.parse().unwrap()
}

fn facts(said: Vec<What>, shipment: &str, today: &str) -> Facts {
    facts_of(
        &log(said),
        shipment,
        &Zone::named(NEW_YORK).unwrap(),
        day(today),
    )
}

fn delivered(on: &str, outcome: Outcome, note: &str) -> What {
    What::Delivered(Delivery {
        shipment: "Load 1".into(),
        on: on.into(),
        time: Some("14:05".into()),
        units: None,
        outcome,
        receipt_note: note.into(),
        driver_signed: None,
        seals: String::new(),
    })
}

fn done(rule: &str, shipment: Option<&str>, on: &str) -> What {
    What::Done(tally::Done {
        rule: rule.into(),
        shipment: shipment.map(String::from),
        on: on.into(),
        words: String::new(),
    })
}

#[test]
fn a_delivery_gives_its_day_its_moment_and_its_note() {
    let said = facts(
        vec![delivered("2026-11-24", Outcome::Noted, "1 carton short")],
        "Load 1",
        "2026-11-25",
    );
    let arrival = said.arrival.clone().unwrap();
    // 14:05 in New York in November is 19:05 UTC.
    assert_eq!(
        arrival.ms,
        NIGHT - (3 * 60 + 30) * 60_000 - 5 * 3_600_000 + 5 * 60_000
    );
    assert_eq!(said.day(Start::Delivery), Some(day("2026-11-24")));
    let on = |act| Done {
        act,
        day: day("2026-11-24"),
    };
    assert_eq!(said.done, [on(Act::Delivery), on(Act::NoteOnReceipt)]);
    assert!(said.harm.contains(&Harm::Seen) && said.harm.contains(&Harm::Hidden));
    // Signed clear: nothing was noted, and what is found later was hidden.
    let clear = facts(
        vec![delivered("2026-11-24", Outcome::SignedClear, "")],
        "Load 1",
        "2026-11-25",
    );
    assert_eq!(clear.done, [on(Act::Delivery)]);
    assert!(!clear.harm.contains(&Harm::Seen) && clear.harm.contains(&Harm::Hidden));
    // Of another shipment nothing is known.
    let other = facts(
        vec![delivered("2026-11-24", Outcome::Noted, "x")],
        "Load 2",
        "2026-11-25",
    );
    assert_eq!((other.day(Start::Delivery), other.done), (None, vec![]));
}

#[test]
fn days_are_read_off_and_a_persons_word_goes_before() {
    let condition = What::Conditioned {
        mark: "B1".into(),
        quantity: 1,
        condition: Condition::Bent,
        words: String::new(),
    };
    let freight = What::FreightSaid(Freight {
        shipment: "Load 1".into(),
        billed_on: Some("2026-11-20".into()),
        ..Freight::default()
    });
    let named = What::ShipmentNamed {
        shipment: "load 1".into(),
        due: Some("2026-11-23".into()),
    };
    let mut all = vec![
        freight,
        named,
        delivered("2026-11-24", Outcome::Noted, ""),
        condition,
    ];
    let said = facts(all.clone(), "Load 1", "2026-11-25");
    for (start, on) in [
        (Start::BillOfLading, Some("2026-11-20")),
        (Start::AgreedDelivery, Some("2026-11-23")),
        // By the clock at the site, not by UTC.
        (Start::Found, Some("2026-11-24")),
        (Start::ClaimReceived, None),
    ] {
        assert_eq!(said.day(start), on.map(day), "{start:?}");
    }
    assert!(
        said.harm.contains(&Harm::Late),
        "it came a day after it was due"
    );
    all.extend([
        done(start_name(Start::Found), Some("Load 1"), "2026-11-26"),
        done(start_name(Start::ClaimReceived), None, "2026-12-01"),
        done(
            start_name(Start::ClaimRefused),
            Some("Load 2"),
            "2026-12-02",
        ),
    ]);
    let said = facts(all, "Load 1", "2026-11-25");
    assert_eq!(said.day(Start::Found), Some(day("2026-11-26")));
    assert_eq!(said.day(Start::ClaimReceived), Some(day("2026-12-01")));
    assert_eq!(
        said.day(Start::ClaimRefused),
        None,
        "that was another shipment's"
    );
}

#[test]
fn every_start_has_a_name_of_its_own_and_every_rule_an_act() {
    let mut names: Vec<&str> = Start::ALL.into_iter().map(start_name).collect();
    names.sort_unstable();
    names.dedup();
    assert_eq!(names.len(), Start::ALL.len());
    assert!(names.iter().all(|name| claim::is_known(name)));
    for rule in claim::RuleSets::built_in()
        .sets()
        .iter()
        .flat_map(|set| &set.rules)
    {
        for name in [rule.id.as_str(), rule.act.words()] {
            let said = facts(vec![done(name, None, "2026-11-30")], "Load 1", "2026-12-01");
            assert_eq!(
                said.done,
                [Done {
                    act: rule.act,
                    day: day("2026-11-30")
                }],
                "{name}"
            );
        }
    }
    assert!(!claim::is_known("us-motor.nothing") && !claim::is_known(""));
}

/// The carrier's duties end with a decision, and a refusal is one.
#[test]
fn what_was_refused_is_acknowledged_no_more() {
    let done = |rule: &str, on: &str| {
        What::Done(tally::Done {
            rule: rule.into(),
            shipment: Some("Load 1".into()),
            on: on.into(),
            words: String::new(),
        })
    };
    let state = log(vec![
        done(claim::start_name(claim::Start::ClaimReceived), "2026-06-01"),
        done(claim::start_name(claim::Start::ClaimRefused), "2026-06-20"),
    ]);
    let facts = claim::facts_of(&state, "Load 1", &claim::Zone::utc(), day("2026-11-25"));
    let dues = claim::due(claim::RuleSets::built_in(), &facts, &[], day("2026-11-25"));
    let of = |id: &str| {
        dues.iter()
            .filter(|due| due.rule.id == id)
            .collect::<Vec<_>>()
    };
    for id in [
        "us-motor.acknowledgement",
        "us-motor.decision",
        "us-motor.status",
    ] {
        let found = of(id);
        assert!(!found.is_empty(), "{id}");
        for due in found {
            assert!(!due.is_open(), "{id}: {:?}", due.state);
        }
    }
    assert!(of("us-motor.suit").iter().all(|due| due.is_open()));
}

#[test]
fn odd_days_are_told() {
    let done = |start: claim::Start, on: &str| {
        What::Done(tally::Done {
            rule: claim::start_name(start).into(),
            shipment: None,
            on: on.into(),
            words: String::new(),
        })
    };
    let odd = |said: Vec<What>| {
        let facts = claim::facts_of(&log(said), "Load 1", &claim::Zone::utc(), day("2026-11-25"));
        claim::odd_days(&facts, day("2026-11-25"))
    };
    let (received, refused) = (claim::Start::ClaimReceived, claim::Start::ClaimRefused);
    let usual = vec![done(received, "2026-06-01"), done(refused, "2026-06-20")];
    assert_eq!(odd(usual), Vec::<String>::new());
    let turned = vec![done(received, "2026-06-20"), done(refused, "2026-06-01")];
    assert_eq!(
        odd(turned),
        ["The claim was refused before the carrier got it."]
    );
    let [future] = &odd(vec![done(received, "2099-05-31")])[..] else {
        panic!("one thing is odd")
    };
    assert!(
        future.starts_with("The day the carrier got the claim is in the future"),
        "{future}"
    );
    let [past] = &odd(vec![done(received, "0001-01-01")])[..] else {
        panic!("one thing is odd")
    };
    assert!(past.contains("is years ago"), "{past}");
}

#[test]
fn terms_for_one_shipment_hold_before_those_for_all() {
    let agreed = |rule: &str, shipment: Option<&str>, by: By| {
        What::Agreed(Agreed {
            rule: rule.into(),
            shipment: shipment.map(String::from),
            by: Some(by),
            starts: None,
            words: "section 3".into(),
        })
    };
    let own = own_target("ucc.tell-seller");
    let state = log(vec![
        agreed("us-motor.claim", Some("Load 1"), By::Months(6)),
        agreed("us-motor.claim", None, By::Days(270)),
        agreed("us-motor.claim", Some("Load 2"), By::Hours(1)),
        agreed(&own, None, By::Day("2026-12-01".into())),
    ]);
    let terms = terms_of(&state.affairs, "Load 1");
    let period = |amount, unit| {
        Term::Period(Period::Of {
            amount,
            unit,
            and_days: 0,
        })
    };
    let read: Vec<_> = terms
        .iter()
        .map(|a| (a.rule.as_str(), a.term, a.binds))
        .collect();
    assert_eq!(
        read,
        [
            (
                "us-motor.claim",
                period(270, Unit::CalendarDays),
                Binds::Contract
            ),
            (
                "ucc.tell-seller",
                Term::Day(day("2026-12-01")),
                Binds::OwnTarget
            ),
            ("us-motor.claim", period(6, Unit::Months), Binds::Contract),
        ]
    );
    assert!(
        terms
            .iter()
            .all(|a| a.words == "section 3" && a.starts.is_none())
    );
}

#[test]
fn the_sets_are_those_that_were_said() {
    let rules = |rules: &str| {
        log(vec![What::FreightSaid(Freight {
            shipment: "Load 1".into(),
            rules: rules.into(),
            ..Freight::default()
        })])
    };
    // Each half by itself: whoever says how it travels has not said how it was bought.
    let said = |names: &str| {
        let state = rules(names);
        let sets = sets_of(&state.affairs, "Load 1");
        let words = |ids: Vec<&str>| ids.join(" ");
        (words(sets.names.clone()), words(sets.not_said()))
    };
    for (names, hold, not_said) in [
        ("cmr cisg", "cmr cisg", ""),
        ("cisg cmr", "cmr cisg", ""),
        ("ucc", "us-motor ucc", "us-motor"),
        ("us-motor", "us-motor ucc", "ucc"),
        ("cisg", "us-motor cisg", "us-motor"),
        ("cmr", "cmr ucc", "ucc"),
        // What a newer build names is passed over.
        ("", "us-motor ucc", "us-motor ucc"),
        ("river-2031", "us-motor ucc", "us-motor ucc"),
    ] {
        assert_eq!(said(names), (hold.into(), not_said.into()), "{names}");
    }
    let sales = claim::RuleSets::built_in().sets().iter();
    let sales: Vec<&str> = sales
        .filter(|set| set.is_sale())
        .map(|set| set.id.as_str())
        .collect();
    assert_eq!(sales, ["ucc", "cisg"]);
    assert_eq!(claim::unknown_set("cmr river cisg"), Some("river"));
    assert_eq!(claim::unknown_set(" cmr  cisg "), None);
}

/// A shipment that was refused whole was not delivered: `tally` holds that it has not arrived, and the rules hold so too.
#[test]
fn what_was_refused_was_not_delivered() {
    let refused = delivered("2026-11-24", Outcome::Refused, "crate crushed");
    let said = facts(vec![refused], "Load 1", "2026-11-25");
    assert_eq!((said.day(Start::Delivery), said.arrival), (None, None));
    // The words stand on the receipt all the same.
    let note = Done {
        act: Act::NoteOnReceipt,
        day: day("2026-11-24"),
    };
    assert_eq!(said.done, [note]);
    let in_part = delivered("2026-11-24", Outcome::RefusedInPart, "crate crushed");
    let said = facts(vec![in_part], "Load 1", "2026-11-25");
    assert_eq!(said.day(Start::Delivery), Some(day("2026-11-24")));
}

/// The rules for goods that never came are told once the day is over by which they should have, or were agreed to.
#[test]
fn what_never_came_has_rules_of_its_own() {
    let freight = |rules: &str| {
        What::FreightSaid(Freight {
            shipment: "Load 1".into(),
            rules: rules.into(),
            ..Freight::default()
        })
    };
    let told = |said: Vec<What>, today: &str| -> Vec<String> {
        let facts = facts(said, "Load 1", today);
        let due = claim::due(claim::RuleSets::built_in(), &facts, &[], day(today));
        due.iter().map(|due| due.rule.id.clone()).collect()
    };
    let has = |told: &[String], rule: &str| told.iter().any(|id| id == rule);
    let should = done(
        start_name(Start::ShouldHaveCome),
        Some("Load 1"),
        "2026-11-20",
    );
    let motor = vec![freight("us-motor ucc"), should];
    assert!(has(
        &told(motor.clone(), "2026-11-21"),
        "us-motor.claim-not-delivered"
    ));
    assert!(!has(
        &told(motor.clone(), "2026-11-20"),
        "us-motor.claim-not-delivered"
    ));
    let came = [motor, vec![delivered("2026-11-24", Outcome::Noted, "x")]].concat();
    assert!(!has(
        &told(came, "2026-11-25"),
        "us-motor.claim-not-delivered"
    ));
    // CMR 20 (S2): thirty days after an agreed day the goods may be treated as lost.
    let named = What::ShipmentNamed {
        shipment: "Load 1".into(),
        due: Some("2026-11-20".into()),
    };
    let cmr = vec![freight("cmr cisg"), named];
    assert!(has(
        &told(cmr.clone(), "2026-11-21"),
        "cmr.lost-after-agreed-day"
    ));
    assert!(!has(&told(cmr, "2026-11-20"), "cmr.lost-after-agreed-day"));
}

/// Days off are put on a list and taken off it. The fifth business day after Wed 2026-11-25 is Thu 2026-12-03 with
/// Thanksgiving passed over (the PyPI package `holidays` 0.109), Wed 2026-12-02 without; CMR 30(1) (S2) gives seven days
/// without Sundays and holidays: from Fri 2026-04-03 Sat 2026-04-11, and Mon 2026-04-13 where Easter Monday, 6 April, is
/// passed over too (our count on a calendar, D).
#[test]
fn days_off_correct_the_lists() {
    let off = |list, on: &str, off, words: &str| {
        What::DayOff(tally::DayOff {
            list,
            day: on.into(),
            off,
            words: words.into(),
        })
    };
    let last = |rules: &str, on: &str, rule: &str, more: Vec<What>| {
        let freight = What::FreightSaid(Freight {
            shipment: "Load 1".into(),
            rules: rules.into(),
            ..Freight::default()
        });
        let all = [vec![freight, delivered(on, Outcome::Noted, "x")], more].concat();
        let facts = facts(all, "Load 1", on);
        let due = claim::due(claim::RuleSets::built_in(), &facts, &[], day(on));
        due.iter().find(|due| due.rule.id == rule).unwrap().date
    };
    let motor = |more| last("us-motor ucc", "2026-11-25", "us-motor.hidden-harm", more);
    assert_eq!(motor(vec![]), Some(day("2026-12-03")));
    let worked = off(tally::DaysOff::Business, "2026-11-26", false, "");
    assert_eq!(motor(vec![worked.clone()]), Some(day("2026-12-02")));
    let closed = off(tally::DaysOff::Business, "2026-11-26", true, "");
    assert_eq!(motor(vec![worked, closed]), Some(day("2026-12-03")));
    let friday = off(
        tally::DaysOff::Business,
        "2026-11-27",
        true,
        "the carrier's own",
    );
    assert_eq!(motor(vec![friday]), Some(day("2026-12-04")));
    let cmr = |more| last("cmr cisg", "2026-04-03", "cmr.hidden-harm", more);
    assert_eq!(cmr(vec![]), Some(day("2026-04-11")));
    let easter = off(tally::DaysOff::Public, "2026-04-06", true, "Easter Monday");
    assert_eq!(cmr(vec![easter]), Some(day("2026-04-13")));
    // No holiday of the United States is named on a job that travels under another set.
    let facts = |rules: &str| {
        let freight = What::FreightSaid(Freight {
            shipment: "Load 1".into(),
            rules: rules.into(),
            ..Freight::default()
        });
        facts(vec![freight], "Load 1", "2026-11-25")
    };
    assert!(facts("cmr cisg").holidays.is_empty());
    assert!(!facts("").holidays.is_empty());
}
