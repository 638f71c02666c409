//! Whatever is known, agreed or done: what comes out holds together.

use claim::{
    Act, Agreed, Arrival, Binds, Calendar, Date, Done, Due, Facts, Harm, Period, RuleSets, Start,
    State, Term, Unit, Zone, due,
};
use proptest::prelude::*;
use proptest::sample::select;

const ACTS: [Act; 6] = [
    Act::NoteOnReceipt,
    Act::NoticeOfHiddenHarm,
    Act::Claim,
    Act::StatusLetter,
    Act::Decision,
    Act::NoticeToSender,
];

fn any_day() -> impl Strategy<Value = Date> {
    prop_oneof![
        9 => (2020i16..2040, 1i8..=12, 1i8..=31).prop_map(|(y, m, d)| {
            Date::new(y, m, d).unwrap_or_else(|_| Date::constant(y, m, 28))
        }),
        1 => select(vec![Date::MIN, Date::MAX]),
    ]
}

fn any_period() -> impl Strategy<Value = Period> {
    let units = vec![
        Unit::Hours,
        Unit::CalendarDays,
        Unit::BusinessDays,
        Unit::DaysWithoutSundaysAndHolidays,
        Unit::Months,
        Unit::Years,
    ];
    let amount = prop_oneof![0u32..400, Just(u32::MAX)];
    let of = (amount, select(units), 0u32..3).prop_map(|(amount, unit, and_days)| Period::Of {
        amount,
        unit,
        and_days,
    });
    prop_oneof![8 => of, 1 => Just(Period::AtTheStart), 1 => Just(Period::Reasonable)]
}

fn any_agreed() -> impl Strategy<Value = Agreed> {
    let ids: Vec<String> = RuleSets::built_in()
        .sets()
        .iter()
        .flat_map(|s| &s.rules)
        .map(|r| r.id.clone())
        .collect();
    let term = prop_oneof![
        any_day().prop_map(Term::Day),
        any_period().prop_map(Term::Period)
    ];
    let binds = select(vec![Binds::Contract, Binds::OwnTarget]);
    let starts = proptest::option::of(select(Start::ALL.to_vec()));
    (select(ids), term, starts, binds).prop_map(|(rule, term, starts, binds)| Agreed {
        rule,
        term,
        starts,
        binds,
        words: "a term".into(),
    })
}

fn any_facts() -> impl Strategy<Value = Facts> {
    let days = proptest::collection::btree_map(select(Start::ALL.to_vec()), any_day(), 0..8);
    let harm = select(vec![
        Harm::Seen,
        Harm::Hidden,
        Harm::Late,
        Harm::NotDelivered,
    ]);
    let harm = proptest::collection::btree_set(harm, 0..3);
    let done = (select(ACTS.to_vec()), any_day()).prop_map(|(act, day)| Done { act, day });
    let done = proptest::collection::vec(done, 0..6);
    let arrival = proptest::option::of(0i64..4_000_000_000_000).prop_map(|ms| {
        let zone = Zone::named("America/New_York").unwrap();
        ms.map(|ms| Arrival::at(ms, &zone, None).unwrap())
    });
    (days, harm, done, arrival).prop_map(|(days, harm, done, arrival)| Facts {
        sets: RuleSets::built_in()
            .sets()
            .iter()
            .map(|s| s.id.clone())
            .collect(),
        days,
        harm,
        done,
        arrival,
        ..Facts::default()
    })
}

/// The term that goes before the rule: the last one that binds.
fn period_of<'a>(due: &Due<'_>, agreed: &'a [Agreed]) -> Option<&'a Term> {
    let last = agreed
        .iter()
        .rfind(|a| a.rule == due.rule.id && a.binds == Binds::Contract);
    last.map(|a| &a.term)
}

proptest! {
    #[test]
    fn what_is_due_holds_together(
        facts in any_facts(),
        agreed in proptest::collection::vec(any_agreed(), 0..8),
        today in any_day(),
    ) {
        let all = due(RuleSets::built_in(), &facts, &agreed, today);
        for due in &all {
            let reasonable = match period_of(due, &agreed) {
                Some(term) => *term == Term::Period(Period::Reasonable),
                None => due.rule.period == Period::Reasonable,
            };
            prop_assert!(!reasonable || due.date.is_none(), "{due:?}");
            match due.state {
                State::Open => prop_assert!(due.date.is_none_or(|d| d >= today), "{due:?}"),
                State::Passed => prop_assert!(due.date.is_some_and(|d| d < today), "{due:?}"),
                State::NoDay => prop_assert!(reasonable, "{due:?}"),
                State::Waits(start) => prop_assert!(facts.day(start).is_none() && due.date.is_none(), "{due:?}"),
                State::Done { day, late } => {
                    prop_assert!(facts.done.iter().any(|d| d.day == day), "{due:?}");
                    prop_assert_eq!(late, due.date.is_some_and(|d| day > d), "{:?}", due);
                }
            }
            if let (Some(date), Some(left)) = (due.date, due.days_left) {
                prop_assert_eq!(i64::from(left), date.duration_since(today).as_hours() / 24);
            }
            prop_assert!(!due.says().is_empty());
        }
        let calendar = Calendar { job: "job", made_at: 0, sequence: 1 };
        let text = calendar.file(&[("1", all.clone())]).unwrap().text;
        let read: icalendar::Calendar = text.parse().unwrap();
        // A calendar's year has four digits.
        let days = all.iter().flat_map(|d| [d.date, d.own_target]);
        let there = days.flatten().filter(|d| d.year() > 0).count();
        prop_assert_eq!(read.components.len(), there);
    }
}
