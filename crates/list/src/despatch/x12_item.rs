//! The items of an 856: what is in the loop of a thing, and its sub-lines.

use std::collections::BTreeSet;

use super::identifiers::Gs1;
use super::odd::Odd;
use super::units::CodeList;
use super::x12::Set;
use super::x12_loops::{of_shipment, of_unit, unread};
use super::x12_parts::{
    dated, describe, expire, identify, marks, measured, note, order, package, po4, reference,
    weights,
};
use super::x12_segments::{Segment, spot};
use super::x12_words as words;
use super::{Decimal, HandlingUnit, Lot, Measured, Notice, Packed, SentLine};

/// Reads one item, and the sub-lines in it.
pub struct Item<'a> {
    /// The set.
    pub set: &'a Set<'a>,
    /// The notice that the line is of.
    pub notice: &'a mut Notice,
    /// All lines so far.
    pub lines: &'a mut Vec<SentLine>,
    /// The item's own line.
    pub line: usize,
    /// The line that the segment is of: the item's, or that of its last SLN.
    pub current: usize,
    /// The handling unit that the same loop describes.
    pub unit: Option<usize>,
    /// A load of CLD is open: references are its.
    pub load: bool,
    /// HL01.
    pub id: &'a str,
}

impl Item<'_> {
    /// Reads the segments of the loop.
    pub fn read(mut self, range: std::ops::Range<usize>, odd: &mut Odd) {
        let (mut lin, mut sn1) = (false, false);
        let whose = Owners::of(self.set, range.clone());
        let mut sub_line = None;
        for index in range.clone() {
            let s = &self.set.segments[index];
            lin |= s.is("LIN");
            sn1 |= s.is("SN1");
            if s.is("SLN") {
                sub_line = Some(self.lines.len());
            }
            self.current = match sub_line {
                Some(sub) if whose.is_of_sub_line(index, &s.id()) => sub,
                _ => self.line,
            };
            if sub_line.is_some() && whose.is_unsure(index, &s.id()) {
                let of = match self.current == self.line {
                    true => "its item, as the order of segments has it",
                    false => "this SLN, as the item has its own",
                };
                let what = format!(
                    "{} after an SLN was taken as of {of}; it may be of either",
                    s.id()
                );
                odd.say_once(Some(self.current), &self.set.place(index, 0), &what);
            }
            self.segment(index, odd);
        }
        let place = || self.set.place(range.start - 1, 0);
        if !lin {
            odd.say(
                Some(self.line),
                format!(
                    "{}: HL {} has no LIN: its things have no number",
                    place(),
                    self.id
                ),
            );
        }
        if !sn1 {
            odd.say(
                Some(self.line),
                format!(
                    "{}: HL {} has no SN1: how many were sent is not said",
                    place(),
                    self.id
                ),
            );
        }
        self.hold_loads(&place(), odd);
    }

    /// What the loads hold is what was sent.
    fn hold_loads(&self, place: &str, odd: &mut Odd) {
        let line = &self.lines[self.line];
        let loads = line.packed.iter().filter(|load| load.note == LOAD);
        let held: Vec<Option<Decimal>> = loads
            .map(|load| load.count?.times(load.each.as_ref()?.number?))
            .collect();
        let sum = held
            .iter()
            .try_fold(Decimal::default(), |sum, n| sum.plus((*n)?));
        let sent = line.delivered.as_ref().and_then(|amount| amount.number);
        if let (false, Some(sum), Some(sent)) = (held.is_empty(), sum, sent)
            && sum != sent
        {
            let what = format!("{place}: the loads (CLD) hold {sum}, SN1 says {sent}");
            odd.say(Some(self.line), what);
        }
    }

    fn segment(&mut self, index: usize, odd: &mut Odd) {
        let s = &self.set.segments[index];
        let line = Some(self.current);
        let place = |element| self.set.place(index, element);
        let to = &mut self.lines[self.current];
        match s.id().as_str() {
            "LIN" => {
                if !s.get(1).is_empty() {
                    to.id = s.get(1);
                }
                identify(to, s, 2, line, &place, odd);
            }
            "SLN" => self.sub_line(index, odd),
            "SN1" => {
                let (sent, unit) = (s.get(2), s.code(3));
                if sent.is_empty() {
                    odd.say(
                        line,
                        format!("{}: SN1 says no number sent (SN102)", place(2)),
                    );
                } else {
                    to.delivered =
                        Some(odd.line_amount(self.current, &place(2), &sent, &unit, CodeList::X12));
                }
                if !s.get(4).is_empty() {
                    to.to_date = Some(odd.amount(line, &place(4), &s.get(4), &unit, CodeList::X12));
                }
                if !s.get(5).is_empty() {
                    let unit = Some(s.code(6))
                        .filter(|unit| !unit.is_empty())
                        .unwrap_or(unit);
                    to.ordered = Some(odd.amount(line, &place(5), &s.get(5), &unit, CodeList::X12));
                }
                to.status = s.code(8);
                if to.id == self.id && !s.get(1).is_empty() {
                    to.id = s.get(1);
                }
            }
            "PRF" => {
                to.order = order(s);
                to.order_line = s.get(5);
                self.notice.orders.push(order(s));
            }
            "PO4" => to.packed.push(po4(self.set, index, line, odd)),
            "CLD" => {
                let count = odd
                    .amount(line, &place(1), &s.get(1), "", CodeList::X12)
                    .number;
                let unit = Some(s.code(5)).filter(|unit| !unit.is_empty());
                let sent = to.delivered.as_ref().map(|sent| sent.unit.clone());
                // CLD02 counts in the unit of SN1; CLD04 and 05 are the size of one unit.
                let each = odd.amount(
                    line,
                    &place(2),
                    &s.get(2),
                    &sent.unwrap_or_default(),
                    CodeList::X12,
                );
                let size = s.get(4);
                let mut measures = Vec::new();
                if !size.is_empty() {
                    measures.push(Measured {
                        qualifier: "CLD04".to_owned(),
                        meaning: "size of each".to_owned(),
                        amount: odd.amount(
                            line,
                            &place(4),
                            &size,
                            &unit.unwrap_or_default(),
                            CodeList::X12,
                        ),
                    });
                }
                to.packed.push(Packed {
                    count,
                    each: Some(each),
                    code: s.get(3),
                    means: package(&s.get(3)),
                    measures,
                    note: LOAD.to_owned(),
                    ..Packed::default()
                });
                self.load = true;
            }
            "REF" => self.reference(s),
            "MAN" => self.marked(index, odd),
            "PID" => describe(to, s),
            "MEA" => to
                .item
                .measures
                .extend(measured(self.set, index, line, odd)),
            "DTM" => {
                if let Some(dated) = dated(s) {
                    if matches!(dated.qualifier.as_str(), "036" | "208") {
                        expire(to, &dated.date);
                    }
                    to.dates.push(dated);
                }
            }
            "TD1" => {
                let code = s.get(1);
                let number = odd
                    .amount(line, &place(2), &s.get(2), "", CodeList::X12)
                    .number;
                to.packed.push(Packed {
                    count: number,
                    means: package(&code),
                    code,
                    measures: weights(self.set, index, [(6, 7, 8)], (9, 10), line, odd),
                    ..Packed::default()
                });
            }
            "PKG" | "NTE" | "TXT" | "MSG" | "TD4" => to.notes.extend(note(s)),
            "N1" | "N2" | "N3" | "N4" | "PER" | "TD5" | "TD3" | "FOB" => {
                of_shipment(self.set, index, self.notice, odd)
            }
            "LE" | "LS" | "CUR" => {}
            _ => unread(self.set, index, line, odd),
        }
    }

    /// A component of the item: X12 says "included" with I, and other codes otherwise.
    fn sub_line(&mut self, index: usize, odd: &mut Odd) {
        let s = &self.set.segments[index];
        let parent = &self.lines[self.line];
        let mut sub = SentLine {
            notice: parent.notice,
            id: Some(s.get(1))
                .filter(|id| !id.is_empty())
                .unwrap_or_else(|| s.get(2)),
            part_of: Some(self.line),
            each_or_all: true,
            units: parent.units.clone(),
            order: parent.order.clone(),
            status: s.code(3),
            at: spot(self.set.file.text, &self.set.file.lines, s, index + 1),
            ..SentLine::default()
        };
        self.current = self.lines.len();
        self.load = false;
        let place = |element| self.set.place(index, element);
        if !s.get(4).is_empty() {
            sub.delivered = Some(odd.line_amount(
                self.current,
                &place(4),
                &s.get(4),
                &s.code(5),
                CodeList::X12,
            ));
        }
        identify(&mut sub, s, 9, Some(self.current), &place, odd);
        self.lines.push(sub);
    }

    fn reference(&mut self, s: &Segment<'_>) {
        let to = &mut self.lines[self.current];
        if let Some(reference) = reference(s) {
            let code = reference.qualifier.clone();
            if words::is_lot(&code) {
                to.item.lots.push(Lot {
                    number: reference.value.clone(),
                    expires: String::new(),
                });
            } else if matches!(code.as_str(), "SE" | "LS") {
                to.item.serials.push(reference.value.clone());
            }
            let load = to.packed.last_mut().filter(|_| self.load);
            match load {
                Some(load) => load.references.push(reference),
                None => to.references.push(reference),
            }
        }
    }

    /// A label on the item: of the unit that the loop is, of the load, or of the item itself.
    fn marked(&mut self, index: usize, odd: &mut Odd) {
        if let Some(unit) = self.unit {
            of_unit(
                self.set,
                index,
                unit,
                Some(self.line),
                self.notice,
                self.lines,
                odd,
            );
            return;
        }
        let s = &self.set.segments[index];
        for mark in marks(s) {
            if mark.qualifier == "GM" || mark.qualifier == "AA" {
                let digits = odd.gs1(
                    Some(self.line),
                    &self.set.place(index, 2),
                    Gs1::Sscc,
                    &mark.value,
                );
                let unit = self.notice.take_in(HandlingUnit {
                    id: mark.value.clone(),
                    sscc: (digits.len() == 18).then_some(digits),
                    level: "I".to_owned(),
                    parent: self.lines[self.line].units.first().copied(),
                    references: vec![mark],
                    at: spot(self.set.file.text, &self.set.file.lines, s, index + 1),
                    ..HandlingUnit::default()
                });
                self.lines[self.current].units.push(unit);
                continue;
            }
            let to = &mut self.lines[self.current];
            match to.packed.last_mut().filter(|_| self.load) {
                Some(load) => load.references.push(mark),
                None => to.references.push(mark),
            }
        }
    }
}

/// Whose the segments after an SLN are. SLN opens no loop, and PID, PO4, MEA and REF come after all SLN of an item
/// (856 of 4010, from memory), so that they are the item's. Many senders write them after each SLN all the same.
struct Owners {
    /// The last SLN.
    last: usize,
    /// What stands between two SLN: it can be of the first of them only.
    between: BTreeSet<String>,
    /// What stands before the first.
    before: BTreeSet<String>,
}

/// Segments that may be of either.
const OF_EITHER: [&str; 4] = ["PID", "PO4", "MEA", "REF"];

impl Owners {
    fn of(set: &Set<'_>, range: std::ops::Range<usize>) -> Self {
        let is_sub_line = |index: &usize| set.segments[*index].is("SLN");
        let first = range.clone().find(is_sub_line).unwrap_or(range.end);
        let last = range.clone().rfind(is_sub_line).unwrap_or(range.end);
        let ids = |range: std::ops::Range<usize>| range.map(|i| set.segments[i].id()).collect();
        Self {
            last,
            between: ids(first..last),
            before: ids(range.start..first),
        }
    }

    /// Whether a segment after an SLN is that one's.
    fn is_of_sub_line(&self, index: usize, id: &str) -> bool {
        let own = || self.between.contains(id) || self.before.contains(id);
        OF_EITHER.contains(&id) && (index < self.last || own())
    }

    /// Whether only a guess says whose it is.
    fn is_unsure(&self, index: usize, id: &str) -> bool {
        OF_EITHER.contains(&id) && index > self.last && !self.between.contains(id)
    }
}

/// What a CLD is called among the packings of a line.
const LOAD: &str = "load";
