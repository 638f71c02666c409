//! What the papers say, taken from how a job stands.

use std::collections::BTreeMap;

use frame::{HouseEnd, View};
use measure::System;
use tally::{Condition, MarkDifference, Ordered, Seen, Standing, Verdict};

use crate::drawings::{Cut, Drawing, Drawings};
use crate::osd::{Counting, OsdPaper, OsdRow, SenderWords, Shipment, Sighting};
use crate::tally_sheet::{TallyGroup, TallyRow, TallySheet};

/// Returns the OS&D paper of a job as it stands; `None` without an order that can be built. `local`
/// writes a time of the log as people at the site read it.
pub fn osd_of(standing: &Standing, local: impl Fn(i64) -> String, now: i64) -> Option<OsdPaper> {
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
    Some(OsdPaper {
        job: order.name.clone(),
        order: order_line(ordered),
        site: order.site.clone().unwrap_or_default(),
        sender: order.sender.clone().unwrap_or_default(),
        handed_in: local(now),
        units: units(ordered.frame.system).into(),
        shipments: shipments(standing, &local),
        short: rows(|v| {
            match v {
                Verdict::Short(n) => Some(*n),
                // What is surely short; the notes say how many it may be.
                Verdict::ShortBetween { least, .. } => Some(*least),
                _ => None,
            }
        }),
        over: rows(|v| {
            if let Verdict::Over(n) = v {
                Some(*n)
            } else {
                None
            }
        }),
        damaged: by_condition(&[Condition::Damaged, Condition::Bent, Condition::Wet]),
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
        carriages: Vec::new(),
        missing: Vec::new(),
        notes: notes(standing, &local),
        log_head: String::new(),
    })
}

/// Returns the sheet for counting with a pencil; `None` without an order that can be built.
pub fn tally_sheet_of(standing: &Standing, blind: bool) -> Option<TallySheet> {
    let ordered = standing.ordered()?;
    let difference = standing.difference.as_ref()?;
    let groups = (ordered.parts.stages.iter())
        .map(|stage| TallyGroup {
            name: format!("First needed for {stage}"),
            rows: (ordered.parts.lines.iter())
                .filter(|line| ordered.parts.first_stage(line) == stage)
                .map(|line| TallyRow {
                    mark: line.part.mark.0.clone(),
                    description: line.part.description.clone(),
                    unit: String::new(),
                    should_be: difference
                        .mark(&line.part.mark.0)
                        .map(MarkDifference::expected),
                })
                .collect(),
        })
        .filter(|group: &TallyGroup| !group.rows.is_empty())
        .collect();
    Some(TallySheet {
        job: ordered.order.name.clone(),
        order: order_line(ordered),
        blind,
        groups,
    })
}

/// Returns the drawings of a job's house; `None` without an order that can be built.
pub fn drawings_of(standing: &Standing) -> Option<Drawings> {
    let ordered = standing.ordered()?;
    let frame = &ordered.frame;
    let drawing = |title: String, says: String, svg: String| Drawing { title, says, svg };
    let mut large: Vec<Drawing> = (View::ALL.into_iter())
        .map(|view| {
            let title = format!("From the {}", view.says());
            let says = format!("The frame seen from its {}.", view.says());
            drawing(title, says, frame::isometric(frame, view))
        })
        .collect();
    let tape = |length: measure::Length| length.tape(frame.system);
    let plan = format!(
        "The house from above: {} bows, {} long, {} wide.",
        frame.bows,
        tape(frame.length),
        tape(frame.width)
    );
    large.push(drawing("Plan".into(), plan, frame::plan(frame)));
    for end in HouseEnd::BOTH {
        let title = format!("End elevation, {}", end.says());
        let says = format!(
            "The {} end from outside, {} high.",
            end.says(),
            tape(frame.height)
        );
        large.push(drawing(title, says, frame::end_elevation(frame, end)));
    }
    if let Some(svg) = frame::section(frame) {
        let says = "A bow between the ends, with what stands in its plane.".into();
        large.push(drawing("Section".into(), says, svg));
    }
    let side = "The right side from outside.".into();
    large.push(drawing(
        "Side elevation".into(),
        side,
        frame::side_elevation(frame),
    ));
    for part in &frame.parts {
        if let Some(svg) = frame::bow_flat(frame, &part.mark.0) {
            let title = format!("{}, lying on the ground", part.mark);
            large.push(drawing(title, part.description.clone(), svg));
        }
    }
    let small = (frame::joints_to_detail(frame).into_iter())
        .filter_map(|(kind, says)| {
            let svg = frame::joint_detail(frame, kind)?;
            Some(drawing(
                frame::capitalised(says),
                format!("Joint: {says}."),
                svg,
            ))
        })
        .collect();
    Some(Drawings {
        job: ordered.order.name.clone(),
        order: order_line(ordered),
        large,
        small,
        cuts: cuts(ordered),
    })
}

/// Every piece that is cut in the yard, mark by mark, the longest first: in that order none is cut too short for what
/// its leftover must still give.
fn cuts(ordered: &Ordered) -> Vec<Cut> {
    let mut cuts = Vec::new();
    for line in &ordered.parts.lines {
        let mut places: Vec<_> = (line.places.iter())
            .filter_map(|place| Some((place.cut_to?, place)))
            .collect();
        places.sort_by_key(|(length, _)| std::cmp::Reverse(*length));
        cuts.extend(places.into_iter().map(|(length, place)| Cut {
            mark: line.part.mark.0.clone(),
            to: length.tape(ordered.frame.system),
            place: place.name.clone(),
            left_from: place.left_from.clone().unwrap_or_default(),
        }));
    }
    cuts
}

fn order_line(ordered: &Ordered) -> String {
    let frame = &ordered.frame;
    let tape = |length: measure::Length| length.tape(frame.system);
    let mut said = vec![
        ordered.family.title.clone(),
        format!("{} long", tape(frame.length)),
        format!("bows {} apart", tape(frame.bow_spacing)),
    ];
    let chosen = ordered.order.chosen();
    said.extend(chosen.map(|(option, choice)| format!("{option}: {choice}")));
    let line = said.join(", ");
    match &ordered.order.number {
        Some(number) => format!("{number}: {line}"),
        None => line,
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
        cause: String::new(),
        check: String::new(),
        sender: mark.rows.first().map(|row| SenderWords {
            code: row.code.clone(),
            description: row.description.clone(),
            place: mark
                .rows
                .iter()
                .map(|row| row.stands.as_str())
                .collect::<Vec<_>>()
                .join(", "),
        }),
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
                ..Shipment::default()
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
    let swaps = standing
        .difference
        .iter()
        .flat_map(|difference| &difference.swaps)
        .map(|swap| {
            format!(
                "{} is short and {} is over, and they look alike; to be measured again ({}).",
                swap.short, swap.over, swap.look_for
            )
        });
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
    swaps.chain(unsure).chain(said).collect()
}
