//! What falls due when. Days are worked by hand, or computed with the PyPI package `holidays` 0.109.

use claim::{Act, Date, Done, Due, Facts, Harm, RuleSets, Start, State, due};

pub fn day(text: &str) -> Date {
    text.parse().unwrap()
}

/// Facts of a shipment under these sets, with these days.
pub fn facts(sets: &[&str], days: &[(Start, &str)]) -> Facts {
    Facts {
        sets: sets.iter().map(|s| (*s).to_owned()).collect(),
        days: days.iter().map(|(start, on)| (*start, day(on))).collect(),
        ..Facts::default()
    }
}

fn done(act: Act, on: &str) -> Done {
    Done { act, day: day(on) }
}

fn all(facts: &Facts, today: &str) -> Vec<Due<'static>> {
    due(RuleSets::built_in(), facts, &[], day(today))
}

pub fn one<'a, 'b>(all: &'b [Due<'a>], rule: &str) -> &'b Due<'a> {
    let found: Vec<&Due<'a>> = all.iter().filter(|d| d.rule.id == rule).collect();
    assert_eq!(found.len(), 1, "{rule}: {found:#?}");
    found[0]
}

fn dates(all: &[Due<'_>], rule: &str) -> Vec<(u32, String, State)> {
    all.iter()
        .filter(|d| d.rule.id == rule)
        .map(|d| (d.round, d.date.unwrap().to_string(), d.state))
        .collect()
}

#[test]
fn a_delivery_the_day_before_thanksgiving() {
    let all = all(
        &facts(&["us-motor", "ucc"], &[(Start::Delivery, "2026-11-25")]),
        "2026-11-25",
    );
    let dated: Vec<(&str, String)> = all
        .iter()
        .filter_map(|d| Some((d.rule.id.as_str(), d.date?.to_string())))
        .collect();
    let expected = [
        ("us-motor.note-on-receipt", "2026-11-25"),
        ("us-motor.hidden-harm-48-hours", "2026-11-26"),
        ("us-motor.hidden-harm", "2026-12-03"),
        ("us-motor.claim-6-months", "2027-05-25"),
        ("us-motor.claim", "2027-08-25"),
    ];
    let expected: Vec<(&str, String)> = expected
        .iter()
        .map(|(id, on)| (*id, (*on).to_owned()))
        .collect();
    assert_eq!(dated, expected);
    let strictest: Vec<&str> = all
        .iter()
        .filter(|d| d.strictest)
        .map(|d| d.rule.id.as_str())
        .collect();
    assert_eq!(
        strictest,
        ["us-motor.hidden-harm-48-hours", "us-motor.claim-6-months"]
    );
}

#[test]
fn it_is_said_in_a_sentence() {
    let all = all(
        &facts(&["us-motor"], &[(Start::Delivery, "2026-11-25")]),
        "2026-11-25",
    );
    assert_eq!(
        one(&all, "us-motor.hidden-harm").says(),
        "Tell the carrier of harm that could not be seen at delivery, and ask for an inspection (to the carrier). By Thu 3 \
         Dec 2026 (8 days left). 5 business days from the day of delivery, Wed 25 Nov 2026. Missing it: the claim is not \
         lost, but you must then offer reasonable evidence that the harm did not happen after delivery. Not counted: \
         Thanksgiving Day (Thu 26 Nov 2026). If the other side counts holidays, the last day is Wed 2 Dec 2026."
    );
}

#[test]
fn a_reasonable_time_is_never_a_date() {
    for set in ["ucc", "cisg"] {
        let facts = facts(
            &[set],
            &[
                (Start::Delivery, "2026-11-25"),
                (Start::Found, "2026-11-26"),
            ],
        );
        for due in all(&facts, "2026-11-28") {
            if due.rule.id == "cisg.notice-outer-limit" {
                assert_eq!(
                    due.date,
                    Some(day("2028-11-25")),
                    "CISG 39(2), S: 2 years from hand-over"
                );
                continue;
            }
            assert_eq!(
                (due.date, due.days_left, due.state),
                (None, None, State::NoDay),
                "{}",
                due.rule.id
            );
            let words = due.when();
            assert!(words.contains("no date can be given"), "{words}");
            assert!(!words.contains("202"), "no year: {words}");
        }
    }
}

#[test]
fn what_the_carrier_owes_runs_from_the_receipt_of_the_claim() {
    // 49 CFR 370.5 and 370.9 (S2): day 30, day 120, then 180, 240, 300.
    let facts = facts(
        &["us-motor"],
        &[
            (Start::Delivery, "2026-11-25"),
            (Start::ClaimReceived, "2026-12-01"),
        ],
    );
    let early = all(&facts, "2026-12-02");
    assert_eq!(
        dates(&early, "us-motor.acknowledgement"),
        [(0, "2026-12-31".into(), State::Open)]
    );
    assert_eq!(
        dates(&early, "us-motor.decision"),
        [(0, "2027-03-31".into(), State::Open)]
    );
    assert_eq!(
        dates(&early, "us-motor.status"),
        [(0, "2027-03-31".into(), State::Open)]
    );
    // Day 240 is 2027-07-29, day 300 is 2027-09-27; nothing came of the carrier.
    let late = all(&facts, "2027-08-01");
    let status = dates(&late, "us-motor.status");
    let expected = [
        (2, "2027-07-29".into(), State::Passed),
        (3, "2027-09-27".into(), State::Open),
    ];
    assert_eq!(status, expected);
    let passed = late
        .iter()
        .find(|d| d.rule.id == "us-motor.status" && d.round == 2)
        .unwrap();
    assert_eq!(passed.notes, ["2 earlier days went by without it."]);
}

#[test]
fn a_status_letter_meets_its_own_round_and_a_decision_ends_them() {
    let mut facts = facts(&["us-motor"], &[(Start::ClaimReceived, "2026-12-01")]);
    facts.done = vec![
        done(Act::StatusLetter, "2027-03-30"),
        done(Act::StatusLetter, "2027-06-02"),
    ];
    let met = |on: &str, late| State::Done { day: day(on), late };
    // Day 180 is 2027-05-30: the second letter came three days after it. It is not that of day 240 as well.
    let status = dates(&all(&facts, "2027-06-10"), "us-motor.status");
    let expected = [
        (2, "2027-07-29".to_owned(), State::Open),
        (0, "2027-03-31".to_owned(), met("2027-03-30", false)),
        (1, "2027-05-30".to_owned(), met("2027-06-02", true)),
    ];
    assert_eq!(status, expected);
    facts.done.push(done(Act::Decision, "2027-06-20"));
    let all = all(&facts, "2027-12-01");
    let status = dates(&all, "us-motor.status");
    assert_eq!(status.len(), 2, "none after the decision: {status:?}");
    let late = State::Done {
        day: day("2027-06-20"),
        late: true,
    };
    assert_eq!(one(&all, "us-motor.decision").state, late);
    assert_eq!(
        one(&all, "us-motor.acknowledgement").state,
        late,
        "unless it is paid or declined by then"
    );
}

#[test]
fn a_letter_on_the_next_rounds_day_is_the_next_rounds() {
    // Day 180 itself; nothing came by day 120.
    let mut facts = facts(&["us-motor"], &[(Start::ClaimReceived, "2026-12-01")]);
    facts.done = vec![done(Act::StatusLetter, "2027-05-30")];
    let status = dates(&all(&facts, "2027-06-01"), "us-motor.status");
    let in_time = State::Done {
        day: day("2027-05-30"),
        late: false,
    };
    let expected = [
        (0, "2027-03-31".to_owned(), State::Passed),
        (2, "2027-07-29".to_owned(), State::Open),
        (1, "2027-05-30".to_owned(), in_time),
    ];
    assert_eq!(status, expected);
}

#[test]
fn a_note_or_a_notice_is_no_claim_and_a_notice_to_one_is_none_to_the_other() {
    let mut facts = facts(
        &["us-motor", "ucc"],
        &[
            (Start::Delivery, "2026-11-25"),
            (Start::Found, "2026-11-27"),
        ],
    );
    facts.done = vec![
        done(Act::NoteOnReceipt, "2026-11-25"),
        done(Act::NoticeOfHiddenHarm, "2026-12-04"),
    ];
    let all = all(&facts, "2026-12-10");
    let met = |rule: &str| one(&all, rule).state;
    assert_eq!(
        met("us-motor.note-on-receipt"),
        State::Done {
            day: day("2026-11-25"),
            late: false
        }
    );
    assert_eq!(
        met("us-motor.hidden-harm"),
        State::Done {
            day: day("2026-12-04"),
            late: true
        }
    );
    assert_eq!(met("us-motor.claim"), State::Open);
    assert_eq!(met("ucc.tell-seller"), State::NoDay);
}

#[test]
fn what_is_not_known_is_asked_for_and_what_comes_later_is_not() {
    let nothing = facts(&["us-motor"], &[]);
    let all = all(&nothing, "2026-11-25");
    let claim = one(&all, "us-motor.claim");
    assert_eq!(claim.state, State::Waits(Start::Delivery));
    assert_eq!(
        claim.when(),
        "9 months from the day of delivery; that day must be said first."
    );
    let suit = one(&all, "us-motor.suit-uniform-bill");
    assert_eq!(
        suit.when(),
        "2 years and 1 day from the day on which the carrier refused the claim in writing."
    );
}

#[test]
fn two_years_and_one_day() {
    let facts = facts(&["us-motor"], &[(Start::ClaimRefused, "2026-02-28")]);
    let all = all(&facts, "2026-03-01");
    assert_eq!(one(&all, "us-motor.suit").date, Some(day("2028-02-28")));
    assert_eq!(
        one(&all, "us-motor.suit-uniform-bill").date,
        Some(day("2028-02-29"))
    );
    assert!(one(&all, "us-motor.suit").strictest);
}

#[test]
fn late_and_lost_are_told_only_when_they_are_so() {
    let mut cmr = facts(
        &["cmr"],
        &[
            (Start::Delivery, "2026-03-06"),
            (Start::AtDisposal, "2026-03-06"),
            (Start::TakenOver, "2026-02-01"),
        ],
    );
    let ids = |facts: &Facts| -> Vec<String> {
        all(facts, "2026-03-06")
            .iter()
            .map(|d| d.rule.id.clone())
            .collect()
    };
    let usual = ids(&cmr);
    assert!(
        usual.contains(&"cmr.hidden-harm".to_owned()) && !usual.contains(&"cmr.delay".to_owned())
    );
    cmr.harm.insert(Harm::Late);
    // CMR 30(3), S2: 21 calendar days from disposal, the day itself not counted.
    assert_eq!(
        one(&all(&cmr, "2026-03-06"), "cmr.delay").date,
        Some(day("2026-03-27"))
    );
    assert!(!ids(&cmr).contains(&"cmr.hidden-harm".to_owned()));
    cmr.harm = [Harm::NotDelivered].into();
    // CMR 20, M: 60 days from taking over. 2026-02-01 and 60 days are 2026-04-02.
    assert_eq!(
        one(&all(&cmr, "2026-03-06"), "cmr.lost-after-taking-over").date,
        Some(day("2026-04-02"))
    );
}

#[test]
fn each_convention_gives_its_day() {
    // CMR 30(1), Hague-Visby III(6), Montreal 31 (S2). Delivered Fri 2026-03-06 everywhere.
    let table = [
        ("cmr.reserve-at-delivery", "2026-03-06"),
        ("cmr.hidden-harm", "2026-03-14"),
        ("cmr.suit", "2027-03-06"),
        ("sea.notice-at-removal", "2026-03-06"),
        ("sea.hidden-harm", "2026-03-09"),
        ("sea.suit-hague-visby", "2027-03-06"),
        ("sea.suit-cogsa", "2027-03-06"),
        ("air.damage", "2026-03-20"),
        ("air.suit", "2028-03-06"),
        ("rail.hidden-harm", "2026-03-13"),
        ("cisg.notice-outer-limit", "2028-03-06"),
    ];
    let all = all(
        &facts(
            &["cmr", "sea", "air", "rail", "cisg"],
            &[(Start::Delivery, "2026-03-06")],
        ),
        "2026-03-06",
    );
    for (rule, last) in table {
        assert_eq!(one(&all, rule).date, Some(day(last)), "{rule}");
    }
}

#[test]
fn a_last_day_on_which_offices_are_closed_is_not_moved_but_said() {
    // 2027-06-18 is a Friday on which Juneteenth is kept; 9 months from 2026-09-18.
    let all = all(
        &facts(&["us-motor"], &[(Start::Delivery, "2026-09-18")]),
        "2026-09-18",
    );
    let claim = one(&all, "us-motor.claim");
    assert_eq!(claim.date, Some(day("2027-06-18")));
    let note = "The last day is Juneteenth National Independence Day; the last working day before it is Thu 17 Jun 2027.";
    assert_eq!(claim.notes, [note]);
}

#[test]
fn the_last_day_is_in_time_and_the_day_after_is_not() {
    let facts = facts(&["us-motor"], &[(Start::Delivery, "2026-11-25")]);
    let said = |today: &str| {
        let all = all(&facts, today);
        let due = one(&all, "us-motor.hidden-harm");
        (due.state, due.days_left, due.when())
    };
    let last = "By Thu 3 Dec 2026 (today).".to_owned();
    assert_eq!(said("2026-12-03"), (State::Open, Some(0), last));
    let passed = "The last day was Thu 3 Dec 2026 (1 day ago).".to_owned();
    assert_eq!(said("2026-12-04"), (State::Passed, Some(-1), passed));
}

#[test]
fn no_set_no_rules() {
    assert!(all(&Facts::default(), "2026-11-25").is_empty());
}
