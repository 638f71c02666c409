//! The OS&D paper, taken from how a job stands.

use std::collections::BTreeMap;

use measure::System;
use tally::{Condition, MarkDifference, Seen, Standing, Verdict};

use crate::letter_facts::{
    HARM, LetterFacts, carriage_of, cause_and_check, over, sender_words, short, writer,
};
use crate::of_standing::order_line;
use crate::osd::{Counting, OsdPaper, OsdRow, Shipment, Sighting};

/// Returns the OS&D paper of a job as it stands; `None` without an order that can be built.
///
/// Short and over is what nothing likelier explains, as in the notice to the sender; the rest of what differs in the
/// count is in a section of its own.
pub fn osd_of(standing: &Standing, facts: &LetterFacts<'_>, now: i64) -> Option<OsdPaper> {
    let local = |at| facts.local(at);
    let ordered = standing.ordered()?;
    let difference = standing.difference.as_ref()?;
    let order = &ordered.order;
    let rows = |holds: fn(&Verdict) -> Option<i64>| -> Vec<OsdRow> {
        (difference.marks.iter())
            .filter_map(|mark| {
                let amount: i64 = mark.verdicts.iter().filter_map(holds).sum();
                (amount > 0).then(|| row(mark, amount, standing, &local))
            })
            .collect()
    };
    let of_marks = |amount: fn(&Standing, &MarkDifference) -> i64| -> Vec<OsdRow> {
        (difference.marks.iter())
            .filter_map(|mark| {
                let amount = amount(standing, mark);
                (amount > 0).then(|| row(mark, amount, standing, &local))
            })
            .collect()
    };
    let by_condition = |conditions: &[Condition]| -> Vec<OsdRow> {
        (difference.marks.iter())
            .filter_map(|mark| {
                let seen = standing.state.marks.get(&mark.mark)?;
                let amount = (seen.conditions.iter())
                    .filter(|c| conditions.contains(&c.condition))
                    .map(|c| c.quantity)
                    .sum();
                (amount > 0).then(|| {
                    let mut row = row(mark, amount, standing, &local);
                    row.seen = sightings(seen, conditions, &local);
                    row
                })
            })
            .collect()
    };
    let mut paper = OsdPaper {
        job: order.name.clone(),
        order: order_line(ordered),
        site: order.site.clone().unwrap_or_default(),
        sender: order.sender.clone().unwrap_or_default(),
        handed_in: local(now),
        units: units(ordered.frame.system).into(),
        shipments: shipments(standing, &local),
        short: of_marks(short),
        over: of_marks(over),
        explained: of_marks(explained),
        damaged: by_condition(&HARM),
        wrong: by_condition(&[Condition::Wrong]),
        to_come: rows(|v| {
            if let Verdict::Comes { quantity, .. } = v {
                Some(*quantity)
            } else {
                None
            }
        }),
        uncounted: rows(|v| {
            if let Verdict::NotCounted(n) = v {
                Some(*n)
            } else {
                None
            }
        }),
        countings: countings(standing, &local),
        receiver: writer(standing),
        rules: facts.sets.iter().cloned().collect(),
        zone: facts.zone.name().to_owned(),
        carriages: (standing.shipments.iter())
            .filter(|(_, arrived)| **arrived)
            .map(|(name, _)| carriage_of(standing, name, facts.zone))
            .collect(),
        kept: kept(standing),
        missing: Vec::new(),
        photos: Vec::new(),
        notes: notes(standing, &local),
        log_head: facts.log_head.clone(),
    };
    let told = [
        &paper.short,
        &paper.over,
        &paper.explained,
        &paper.damaged,
        &paper.wrong,
    ];
    let told: Vec<&str> = (told.into_iter().flatten().map(|row| row.mark.as_str())).collect();
    paper.photos = facts.photos(standing, None, &told);
    Some(paper)
}

/// How much of what differs in the count a likelier story explains.
fn explained(standing: &Standing, mark: &MarkDifference) -> i64 {
    let short = counted_short(mark) - short(standing, mark);
    let over = mark.over() - over(standing, mark);
    short.max(0).saturating_add(over.max(0))
}

/// What is short by the count alone.
fn counted_short(mark: &MarkDifference) -> i64 {
    let of = |verdict: &Verdict| match verdict {
        Verdict::Short(n) => *n,
        // What is surely short; the notes say how many it may be.
        Verdict::ShortBetween { least, .. } => *least,
        _ => 0,
    };
    mark.verdicts.iter().map(of).sum()
}

/// Where harmed goods are kept: once where it is the same for all.
fn kept(standing: &Standing) -> String {
    let affairs = &standing.state.affairs;
    let said = (standing.shipments.keys())
        .map(|name| (name, affairs.written("kept", Some(name))))
        .filter(|(_, words)| !words.is_empty());
    let said: Vec<_> = said.collect();
    match said.as_slice() {
        [] => affairs.written("kept", None).to_owned(),
        [(_, words)] => (*words).to_owned(),
        several => (several.iter())
            .map(|(name, words)| format!("{name}: {words}"))
            .collect::<Vec<_>>()
            .join("; "),
    }
}

fn units(system: System) -> &'static str {
    match system {
        System::FeetInch => "feet and inches",
        System::Metric => "millimetres",
    }
}

fn row(
    mark: &MarkDifference,
    amount: i64,
    standing: &Standing,
    local: &impl Fn(i64) -> String,
) -> OsdRow {
    let counted = mark.on_hand.is_counted();
    let seen = standing.state.marks.get(&mark.mark);
    let shipments: Vec<String> = (mark.verdicts.iter())
        .filter_map(|v| {
            if let Verdict::Comes { with, .. } = v {
                Some(with.join(", "))
            } else {
                None
            }
        })
        .collect();
    let (cause, check) = cause_and_check(standing, &mark.mark);
    OsdRow {
        mark: mark.mark.clone(),
        description: mark.description.clone(),
        unit: String::new(),
        needed: Some(mark.needed),
        listed: mark.listed,
        counted: counted.then_some(mark.on_hand.counted),
        good: counted.then(|| mark.on_hand.good()),
        amount,
        says: mark
            .verdicts
            .iter()
            .map(Verdict::in_words)
            .collect::<Vec<_>>()
            .join("; "),
        cause,
        check,
        sender: sender_words(mark),
        shipment: shipments.join(", "),
        seen: seen
            .map(|seen| sightings(seen, &EVERY_CONDITION, local))
            .unwrap_or_default(),
    }
}

const EVERY_CONDITION: [Condition; 4] = [
    Condition::Damaged,
    Condition::Bent,
    Condition::Wet,
    Condition::Wrong,
];

fn sightings(
    seen: &Seen,
    conditions: &[Condition],
    local: &impl Fn(i64) -> String,
) -> Vec<Sighting> {
    (seen.conditions.iter())
        .filter(|c| conditions.contains(&c.condition))
        .map(|c| Sighting {
            pieces: Some(c.quantity),
            condition: c.condition.in_words().into(),
            words: c.words.clone(),
            who: c.who.clone(),
            when: local(c.at),
        })
        .collect()
}

fn shipments(standing: &Standing, local: &impl Fn(i64) -> String) -> Vec<Shipment> {
    (standing.shipments.iter())
        .map(|(name, arrived)| {
            let known = standing.state.shipments.get(name);
            let arrival = known.and_then(|s| s.arrived.as_ref()).map(|a| local(a.at));
            let lists = standing.lists.iter().filter(|l| {
                l.rows
                    .iter()
                    .any(|row| row.shipment.as_deref() == Some(name))
            });
            let freight = standing.state.affairs.freight.get(name);
            Shipment {
                name: name.clone(),
                packing_list: lists
                    .map(|l| l.seen.name.clone())
                    .collect::<Vec<_>>()
                    .join(", "),
                arrived: *arrived,
                when: arrival
                    .or_else(|| known.and_then(|s| s.due.clone()))
                    .unwrap_or_default(),
                carrier: freight.map(|f| f.carrier.clone()).unwrap_or_default(),
                freight_bill: freight.map(|f| f.bill.clone()).unwrap_or_default(),
                handling_units: freight.map(|f| f.units_are.clone()).unwrap_or_default(),
            }
        })
        .collect()
}

/// Who counted which marks, and when last.
fn countings(standing: &Standing, local: &impl Fn(i64) -> String) -> Vec<Counting> {
    let counts = (standing.state.marks.iter()).flat_map(|(mark, seen)| {
        let first =
            (seen.counts.iter()).map(|c| ((c.who.as_str(), "counted", c.how.in_short()), c.at));
        let again = (seen.again.iter()).map(|c| {
            (
                (c.who.as_str(), "counted once more", c.how.in_short()),
                c.at,
            )
        });
        first
            .chain(again)
            .map(move |(by, at)| (by, at, mark.as_str()))
    });
    let mut by_person: BTreeMap<(&str, &str, &str), (i64, Vec<&str>)> = BTreeMap::new();
    for (by, at, mark) in counts {
        let (last, marks) = by_person.entry(by).or_default();
        *last = (*last).max(at);
        if !marks.contains(&mark) {
            marks.push(mark);
        }
    }
    (by_person.into_iter())
        .map(|((who, did, how), (last, marks))| Counting {
            who: who.into(),
            when: local(last),
            how: format!("{did} {how}: {}", marks.join(", ")),
        })
        .collect()
}

fn notes(standing: &Standing, local: &impl Fn(i64) -> String) -> Vec<String> {
    let said = standing.state.notes.iter().map(|note| {
        let mark = note
            .mark
            .as_ref()
            .map(|mark| format!("{mark}: "))
            .unwrap_or_default();
        format!("{mark}{} ({}, {})", note.words, note.who, local(note.at))
    });
    let unsure = (standing.difference.iter()).flat_map(|difference| {
        let of = |v: &&Verdict| {
            matches!(
                v,
                Verdict::ShortBetween { .. } | Verdict::CouldBeShort(_) | Verdict::LooksDiffer(_)
            )
        };
        (difference.marks.iter()).flat_map(move |mark| {
            let verdicts = mark.verdicts.iter().filter(of);
            verdicts.map(|verdict| format!("{}: {}.", mark.mark, verdict.in_words()))
        })
    });
    unsure.chain(said).collect()
}
