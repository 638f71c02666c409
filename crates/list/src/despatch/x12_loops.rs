//! What stands in the loops of an 856: shipment, orders, packages, items.

use std::collections::BTreeMap;

use super::identifiers::{Gs1, looks_like_sscc};
use super::odd::Odd;
use super::units::CodeList;
use super::units_x12::x12_package;
use super::x12::Set;
use super::x12_item::Item;
use super::x12_parts::{
    address, carrier, date, dated, equipment, marks, measured, note, order, package, party, po4,
    reference, time, weights,
};
use super::x12_segments::spot;
use super::x12_words as words;
use super::{Decimal, HandlingUnit, Notice, OrderReference, Packed, Reference, SentLine};

/// One HL with the segments up to the next.
pub struct Loop {
    /// HL01.
    pub id: String,
    /// HL02, empty where the file names none.
    pub named_parent: String,
    /// HL03.
    pub level: String,
    /// The loop that it stands in.
    pub parent: Option<usize>,
    /// Index of its HL in the set.
    pub start: usize,
    /// Index of the segment after its last.
    pub end: usize,
}

/// What one loop became.
#[derive(Clone, Default)]
struct Made {
    unit: Option<usize>,
    line: Option<usize>,
    order: Option<OrderReference>,
}

/// Reads what stands before the first HL.
pub fn head(set: &Set<'_>, range: std::ops::Range<usize>, notice: &mut Notice, odd: &mut Odd) {
    for index in range {
        let segment = &set.segments[index];
        if !segment.is("BSN") {
            of_shipment(set, index, notice, odd);
            continue;
        }
        notice.purpose_code = segment.code(1);
        notice.id = segment.get(2);
        notice.issue_date = date(&segment.get(3));
        notice.issue_time = time(&segment.get(4));
        notice
            .profiles
            .extend(Some(segment.code(5)).filter(|code| !code.is_empty()));
        notice.type_code = segment.code(6);
    }
}

/// Reads all loops of a set into the notice and its lines.
pub fn read(
    set: &Set<'_>,
    loops: &[Loop],
    number: usize,
    notice: &mut Notice,
    lines: &mut Vec<SentLine>,
    odd: &mut Odd,
) {
    let mut made: Vec<Made> = vec![Made::default(); loops.len()];
    for (index, l) in loops.iter().enumerate() {
        let up = l.parent.map(|p| made[p].clone()).unwrap_or_default();
        let mut own = up.clone();
        let range = l.start + 1..l.end;
        let has = |id: &str| range.clone().any(|i| set.segments[i].is(id));
        let in_item = up.line.is_some();
        let is_item = l.level == "I" || has("LIN") || (has("SN1") && !in_item);
        let holds = matches!(l.level.as_str(), "T" | "P" | "Q");
        let is_unit = holds || (has("MAN") && !matches!(l.level.as_str(), "S" | "O" | "I"));
        let at = spot(
            set.file.text,
            &set.file.lines,
            &set.segments[l.start],
            l.start + 1,
        );
        if is_unit {
            notice.units.push(HandlingUnit {
                parent: up.unit,
                level: l.level.clone(),
                type_name: words::level(&l.level).to_owned(),
                at,
                ..HandlingUnit::default()
            });
            own.unit = Some(notice.units.len() - 1);
            if let (Some(line), Some(unit)) = (up.line, own.unit) {
                lines[line].units.push(unit);
            }
        }
        if is_item {
            lines.push(SentLine {
                notice: number,
                id: l.id.clone(),
                part_of: up.line,
                units: own.unit.into_iter().collect(),
                order: up.order.clone().unwrap_or_default(),
                at,
                ..SentLine::default()
            });
            own.line = Some(lines.len() - 1);
        }
        if let (true, Some(line)) = (is_item, own.line) {
            Item {
                set,
                notice,
                lines,
                line,
                current: line,
                unit: own.unit.filter(|_| is_unit),
                load: false,
                id: &l.id,
            }
            .read(range, odd);
        } else if let (true, Some(unit)) = (is_unit, own.unit) {
            range.for_each(|i| of_unit(set, i, unit, up.line, notice, lines, odd));
        } else {
            let orders = notice.orders.len();
            range.for_each(|i| of_shipment(set, i, notice, odd));
            own.order = notice
                .orders
                .get(orders..)
                .and_then(|new| new.first().cloned())
                .or(own.order);
        }
        made[index] = own;
    }
    count_parts(set, loops, &made, odd);
}

/// A loop that holds nothing is odd: what was in it may have been lost.
fn count_parts(set: &Set<'_>, loops: &[Loop], made: &[Made], odd: &mut Odd) {
    let mut holds: BTreeMap<usize, bool> = BTreeMap::new();
    for (index, l) in loops.iter().enumerate() {
        holds.entry(index).or_insert(made[index].line.is_some());
        if let Some(parent) = l.parent {
            holds.insert(parent, true);
        }
    }
    for (index, l) in loops.iter().enumerate() {
        let empty = holds.get(&index) == Some(&false);
        if empty && matches!(l.level.as_str(), "T" | "P" | "O") {
            let what = words::level(&l.level);
            odd.say(
                None,
                format!(
                    "{}: HL {}, {what}, holds no item",
                    set.place(l.start, 0),
                    l.id
                ),
            );
        }
    }
}

/// Segments of the whole shipment or of one order.
pub fn of_shipment(set: &Set<'_>, index: usize, notice: &mut Notice, odd: &mut Odd) {
    let s = &set.segments[index];
    match s.id().as_str() {
        "PRF" => notice.orders.push(order(s)),
        "DTM" => notice.dates.extend(dated(s)),
        "REF" => notice.references.extend(reference(s)),
        "MEA" => notice.measures.extend(measured(set, index, None, odd)),
        "TD1" => {
            let count = s.get(2);
            let code = s.get(1);
            let number = (!count.is_empty()).then(|| {
                odd.amount(None, &set.place(index, 2), &count, "", CodeList::X12)
                    .number
            });
            notice.packages.push(Packed {
                count: number.flatten(),
                means: package(&code),
                code,
                measures: weights(set, index, [(6, 7, 8)], (9, 10), None, odd),
                note: s.get(5),
                ..Packed::default()
            });
        }
        "TD5" => notice.carriers.extend(carrier(s)),
        "TD3" => notice.equipment.push(equipment(s)),
        "N1" => notice.parties.push(party(s, set, index, odd)),
        "N2" | "N3" | "N4" | "PER" => match notice.parties.last_mut() {
            Some(party) => address(party, s),
            None => odd.say(
                None,
                format!("{}: no N1 stands before it", set.place(index, 0)),
            ),
        },
        "MAN" => notice.references.extend(marks(s)),
        "PKG" | "NTE" | "TXT" | "MSG" | "PID" | "TD4" => notice.notes.extend(note(s)),
        "FOB" => notice.references.push(Reference {
            qualifier: "FOB".to_owned(),
            meaning: "who pays the freight".to_owned(),
            value: s.get(1),
            note: s.get(3),
        }),
        _ => unread(set, index, None, odd),
    }
}

/// Says that a segment is not read.
pub fn unread(set: &Set<'_>, index: usize, line: Option<usize>, odd: &mut Odd) {
    let id = set.segments[index].id();
    odd.say_once(
        line,
        &set.place(index, 0),
        &format!("segments {id} are not read here"),
    );
}

/// Segments of a pallet or package.
pub fn of_unit(
    set: &Set<'_>,
    index: usize,
    unit: usize,
    line: Option<usize>,
    notice: &mut Notice,
    lines: &mut [SentLine],
    odd: &mut Odd,
) {
    let s = &set.segments[index];
    let to = &mut notice.units[unit];
    match s.id().as_str() {
        "MAN" => {
            for mark in marks(s) {
                let is_sscc = matches!(mark.qualifier.as_str(), "GM" | "AA")
                    || (mark.qualifier != "CP" && looks_like_sscc(&mark.value));
                if is_sscc && to.sscc.is_none() {
                    let digits = odd.gs1(line, &set.place(index, 2), Gs1::Sscc, &mark.value);
                    to.sscc = (digits.len() == 18).then_some(digits);
                }
                if to.id.is_empty() || is_sscc {
                    to.id.clone_from(&mark.value);
                }
                to.references.push(mark);
            }
        }
        "PO4" => to.packed.push(po4(set, index, line, odd)),
        "TD1" => {
            let code = s.get(1);
            to.type_code.clone_from(&code);
            if let Some(name) = x12_package(&code) {
                to.type_name = name.to_owned();
            }
            to.measures
                .extend(weights(set, index, [(6, 7, 8)], (9, 10), line, odd));
        }
        "MEA" => to.measures.extend(measured(set, index, line, odd)),
        "REF" => to.references.extend(reference(s)),
        "DTM" => notice.dates.extend(dated(s)),
        "PKG" | "NTE" | "TXT" | "MSG" | "PID" => to.notes.extend(note(s)),
        "PAL" => {
            to.type_code = s.code(1);
            to.notes.push(format!(
                "pallet of {} tiers, {} blocks a tier",
                s.get(2),
                s.get(3)
            ));
        }
        "N1" | "N2" | "N3" | "N4" | "PER" | "TD5" | "TD3" | "PRF" => {
            of_shipment(set, index, notice, odd)
        }
        // A package within an item: how many of the item are in it.
        "SN1" => match line.and_then(|line| lines.get_mut(line)) {
            Some(of) => {
                let each = odd.amount(
                    line,
                    &set.place(index, 2),
                    &s.get(2),
                    &s.code(3),
                    CodeList::X12,
                );
                of.packed.push(Packed {
                    count: Some(Decimal::from(1)),
                    each: Some(each),
                    ..Packed::default()
                });
            }
            None => unread(set, index, line, odd),
        },
        _ => unread(set, index, line, odd),
    }
}
