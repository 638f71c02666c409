//! X12 856 ship notices: interchanges, groups and sets with their counts, and the tree of HL loops.

use super::odd::Odd;
use super::units::CodeList;
use super::x12_loops::{self, Loop};
use super::x12_segments::{Segment, split, spot};
use super::x12_tree::{Ranks, parents};
use super::xml::Lines;
use super::{Decimal, Despatch, Format, Notice, x12_words};
use crate::error::Refusal;
use crate::limits;

/// The text with what is needed to say where something stands.
pub struct File<'a> {
    /// All of it.
    pub text: &'a str,
    /// Its lines.
    pub lines: Lines,
}

/// One transaction set: its segments from ST to SE.
pub struct Set<'a> {
    /// The segments; the first is number 1.
    pub segments: &'a [Segment<'a>],
    /// ST02.
    pub control: String,
    /// GS08 of the group around it.
    pub version: String,
    /// Whose text it is.
    pub file: &'a File<'a>,
}

impl Set<'_> {
    /// Names a segment by its number in the set: "segment 14 (SN1), element 2, line 16".
    pub fn place(&self, index: usize, element: usize) -> String {
        let Some(segment) = self.segments.get(index) else {
            return format!("set {}", self.control);
        };
        let at = spot(self.file.text, &self.file.lines, segment, index + 1);
        let element = match element {
            0 => String::new(),
            n => format!(", element {n}"),
        };
        format!(
            "segment {} ({}){element}, line {}, column {}",
            index + 1,
            segment.id(),
            at.line,
            at.column
        )
    }
}

/// Reads all 856 of a text.
pub fn read(text: &str) -> Result<Despatch, Refusal> {
    let file = File {
        text,
        lines: Lines::of(text),
    };
    let split = split(text, &file.lines)?;
    let mut despatch = Despatch {
        format: Format::X12,
        ..Despatch::default()
    };
    let mut odd = Odd::default();
    for what in split.odd {
        odd.say(None, what);
    }
    let mut others = Vec::new();
    for set in sets(&file, &split.all, &mut odd) {
        let kind = set
            .segments
            .first()
            .map_or_else(String::new, |st| st.code(1));
        if kind == "856" {
            read_set(&set, &mut despatch, &mut odd)?;
        } else {
            others.push(format!("an X12 {kind}, {}", x12_words::set(&kind)));
        }
    }
    if despatch.notices.is_empty() {
        let Some(other) = others.first() else {
            let first = split.all.first().map_or_else(String::new, Segment::id);
            return Err(Refusal::Broken {
                at: format!("segment 1 ({first})"),
                why: "no transaction set begins in the file; ST*856 would".to_owned(),
            });
        };
        return Err(Refusal::OtherDocument(other.clone()));
    }
    if despatch.lines.is_empty() {
        return Err(Refusal::Broken {
            at: format!("{}, {}", despatch.notices[0].name(), despatch.notices[0].at),
            why: format!(
                "none of the {} segments is an item; HL*n*n*I with LIN and SN1 would be",
                split.all.len()
            ),
        });
    }
    for other in others {
        odd.say(None, format!("the file also holds {other}; it is not read"));
    }
    odd.into(&mut despatch);
    Ok(despatch)
}

/// Cuts the segments into sets, and checks what the envelopes count.
fn sets<'a>(file: &'a File<'a>, all: &'a [Segment<'a>], odd: &mut Odd) -> Vec<Set<'a>> {
    let mut found: Vec<Set<'a>> = Vec::new();
    let mut envelope = Envelope::default();
    let mut start: Option<usize> = None;
    let place = |index: usize| {
        let segment = &all[index];
        let at = file.lines.spot(file.text, segment.offset);
        format!(
            "segment {} of the file ({}), line {}, column {}",
            index + 1,
            segment.id(),
            at.line,
            at.column
        )
    };
    let mut close = |from: usize, to: usize, version: &str, odd: &mut Odd| {
        let set = Set {
            segments: &all[from..to],
            control: all[from].get(2),
            version: version.to_owned(),
            file,
        };
        let last = &all[to - 1];
        if last.is("SE") {
            envelope_count(
                odd,
                &place(to - 1),
                "SE",
                last,
                to - from,
                "segments from ST to SE",
            );
            envelope_number(odd, &place(to - 1), "SE", last, "ST", &set.control);
        } else {
            odd.say(
                None,
                format!(
                    "{}: the set {} ends here without SE; lines may be missing",
                    place(to - 1),
                    set.control
                ),
            );
        }
        found.push(set);
    };
    let mut counts = (0_usize, 0_usize);
    for (index, segment) in all.iter().enumerate() {
        let opens = ["ISA", "GS", "ST", "GE", "IEA"]
            .iter()
            .any(|id| segment.is(id));
        if let Some(from) = start.filter(|_| opens) {
            close(from, index, &envelope.version, odd);
            start = None;
        }
        match segment.id().as_str() {
            "ISA" => {
                envelope = Envelope {
                    interchange: segment.get(13),
                    ..Envelope::default()
                };
                counts = (0, 0);
            }
            "GS" => {
                envelope.group = segment.get(6);
                envelope.version = segment.get(8);
                counts = (counts.0 + 1, 0);
            }
            "ST" => {
                start = Some(index);
                counts.1 += 1;
            }
            "SE" => match start.take() {
                Some(from) => close(from, index + 1, &envelope.version, odd),
                None => odd.say(
                    None,
                    format!("{}: it ends a set, and none was begun", place(index)),
                ),
            },
            "GE" => {
                envelope_count(
                    odd,
                    &place(index),
                    "GE",
                    segment,
                    counts.1,
                    "sets of the group",
                );
                envelope_number(odd, &place(index), "GE", segment, "GS", &envelope.group);
            }
            "IEA" => {
                envelope_count(
                    odd,
                    &place(index),
                    "IEA",
                    segment,
                    counts.0,
                    "groups of the interchange",
                );
                envelope_number(
                    odd,
                    &place(index),
                    "IEA",
                    segment,
                    "ISA",
                    &envelope.interchange,
                );
                envelope.closed = true;
            }
            _ if start.is_some() => {}
            id => odd.say_once(
                None,
                &place(index),
                &format!("{id} stands outside of any set and is not read"),
            ),
        }
    }
    if let Some(from) = start {
        close(from, all.len(), &envelope.version, odd);
    }
    if !envelope.closed && !envelope.interchange.is_empty() {
        odd.say(
            None,
            format!(
                "interchange {} has no IEA: the file may have been cut off",
                envelope.interchange
            ),
        );
    }
    found
}

/// Numbers of what is open around a set.
#[derive(Default)]
struct Envelope {
    interchange: String,
    group: String,
    version: String,
    closed: bool,
}

fn envelope_count(
    odd: &mut Odd,
    place: &str,
    id: &str,
    segment: &Segment<'_>,
    is: usize,
    of: &str,
) {
    let said = segment.get(1);
    if said.parse() != Ok(is) {
        odd.say(
            None,
            format!("{place}: {id} says {said} {of}, there are {is}"),
        );
    }
}

fn envelope_number(
    odd: &mut Odd,
    place: &str,
    id: &str,
    segment: &Segment<'_>,
    of: &str,
    number: &str,
) {
    let said = segment.get(2);
    if said != number && !number.is_empty() {
        odd.say(
            None,
            format!("{place}: {id} has the number {said:?}, and its {of} {number:?}"),
        );
    }
}

fn read_set(set: &Set<'_>, despatch: &mut Despatch, odd: &mut Odd) -> Result<(), Refusal> {
    let is_hl = |index: &usize| set.segments[*index].is("HL");
    let starts: Vec<usize> = (0..set.segments.len()).filter(is_hl).collect();
    let summary = (0..set.segments.len())
        .rev()
        .take_while(|index| !set.segments[*index].is("HL"))
        .filter(|index| set.segments[*index].is("CTT") || set.segments[*index].is("SE"))
        .last()
        .unwrap_or(set.segments.len());
    let mut notice = Notice {
        set: set.control.clone(),
        version: set.version.clone(),
        at: spot(set.file.text, &set.file.lines, &set.segments[0], 1),
        ..Notice::default()
    };
    let head = starts.first().copied().unwrap_or(summary);
    x12_loops::head(set, 1..head, &mut notice, odd);
    let mut loops: Vec<Loop> = Vec::new();
    for (n, start) in starts.iter().enumerate() {
        let end = starts
            .get(n + 1)
            .copied()
            .unwrap_or(summary.max(*start + 1));
        let hl = &set.segments[*start];
        loops.push(Loop {
            id: hl.get(1),
            named_parent: hl.get(2),
            level: hl.code(3),
            parent: None,
            start: *start,
            end,
        });
    }
    let order = Ranks::of(&loops, notice.profiles.last().map_or("", String::as_str));
    parents(set, &mut loops, &order, odd);
    let (first, number) = (despatch.lines.len(), despatch.notices.len());
    x12_loops::read(set, &loops, number, &mut notice, &mut despatch.lines, odd);
    if despatch.lines.len() > limits::MAX_SENT_LINES {
        return Err(Refusal::Broken {
            at: set.place(0, 0),
            why: format!(
                "more than {} lines; send the ship notice alone",
                limits::MAX_SENT_LINES
            ),
        });
    }
    totals(set, summary, loops.len(), &despatch.lines[first..], odd);
    if despatch.lines.len() == first {
        odd.say(
            None,
            format!("{}: the set {} has no item", set.place(0, 0), set.control),
        );
    }
    if notice.id.is_empty() {
        odd.say(
            None,
            format!(
                "{}: BSN gives no number of the shipment (BSN02)",
                set.place(1, 2)
            ),
        );
    }
    despatch.notices.push(notice);
    Ok(())
}

/// Holds CTT against what was read.
fn totals(set: &Set<'_>, summary: usize, loops: usize, lines: &[super::SentLine], odd: &mut Odd) {
    let Some(at) = (summary..set.segments.len()).find(|index| set.segments[*index].is("CTT"))
    else {
        odd.say(
            None,
            format!(
                "set {} has no CTT: that all lines are here cannot be checked",
                set.control
            ),
        );
        return;
    };
    let ctt = &set.segments[at];
    let whole: Vec<_> = lines.iter().filter(|line| line.part_of.is_none()).collect();
    let said = ctt.get(1);
    if said.parse() != Ok(loops) {
        let items = match said.parse() == Ok(whole.len()) {
            true => format!(" (it counts the {} items)", whole.len()),
            false => String::new(),
        };
        odd.say(
            None,
            format!(
                "{}: CTT says {said} HL segments, there are {loops}{items}",
                set.place(at, 1)
            ),
        );
    }
    let hash = ctt.get(2);
    if hash.is_empty() {
        return;
    }
    let mut amounts = whole
        .iter()
        .filter_map(|line| line.delivered.as_ref()?.number);
    let sum = amounts.try_fold(Decimal::default(), Decimal::plus);
    let said = odd
        .amount(None, &set.place(at, 2), &hash, "", CodeList::X12)
        .number;
    if let Some(sum) = sum.filter(|sum| said.is_some_and(|said| said != *sum)) {
        odd.say(
            None,
            format!(
                "{}: CTT says {hash} sent in all, the lines say {sum}",
                set.place(at, 2)
            ),
        );
    }
}
