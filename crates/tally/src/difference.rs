//! Order against list against count, mark by mark.
//!
//! What comes in a shipment that has not arrived is not short. Only what was counted can be short or over; what
//! nobody has counted yet is said to be so.

use std::collections::BTreeMap;

use frame::{End, Line, Part, PartsList, Section};
use measure::{Length, System};

use crate::fold::State;
use crate::on_hand::OnHand;

/// A row of a packing list that was read onto a mark.
#[derive(Debug, Clone, PartialEq)]
pub struct ListedRow {
    /// The mark that it was read onto.
    pub mark: String,
    /// Pieces.
    pub quantity: i64,
    /// The sender's words for it.
    pub description: String,
    /// The sender's code for it; may be empty.
    pub code: String,
    /// The share of the kit that it stands under; may be empty.
    pub sub_kit: String,
    /// The shipment that it comes in, where list or row says.
    pub shipment: Option<String>,
    /// Where it stands, such as "row 14".
    pub stands: String,
}

/// What is to be said of a mark.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Verdict {
    /// Nobody has counted it, and so many should be here.
    NotCounted(i64),
    /// What should be here is here, and fit for use.
    Fits,
    /// So many fewer than should be here.
    Short(i64),
    /// So many more than the house needs.
    Over(i64),
    /// So many of what came cannot be built with.
    Unfit(i64),
    /// So many came wet.
    Wet(i64),
    /// So many come in another shipment.
    Comes {
        /// Pieces.
        quantity: i64,
        /// The shipments.
        with: Vec<String>,
    },
    /// So many came although the list has them in a later shipment.
    Early(i64),
    /// The lists have so many fewer than the house needs.
    ListShort(i64),
    /// The lists have so many more than the house needs.
    ListOver(i64),
    /// More are said to be damaged, bent, wrong or wet than were counted.
    Overdrawn,
}

impl Verdict {
    /// What people read, on pages and papers alike.
    pub fn in_words(&self) -> String {
        match self {
            Verdict::NotCounted(n) => format!("not counted, {n} should be here"),
            Verdict::Fits => "fits".into(),
            Verdict::Short(n) => format!("{n} short"),
            Verdict::Over(n) => format!("{n} over"),
            Verdict::Unfit(n) => format!("{n} not fit for use"),
            Verdict::Wet(n) => format!("{n} wet"),
            Verdict::Comes { quantity, with } => {
                format!("{quantity} to come with {}", with.join(", "))
            }
            Verdict::Early(n) => format!("{n} came early"),
            Verdict::ListShort(n) => format!("the list has {n} too few"),
            Verdict::ListOver(n) => format!("the list has {n} too many"),
            Verdict::Overdrawn => "more damaged than counted: look again".into(),
        }
    }
}

/// Everything known of one mark.
#[derive(Debug, Clone, PartialEq)]
pub struct MarkDifference {
    /// The mark.
    pub mark: String,
    /// What it is.
    pub description: String,
    /// How many the house needs.
    pub needed: i64,
    /// How many the lists have, of all shipments; nothing when there is no list.
    pub listed: Option<i64>,
    /// How many come in shipments that have not arrived.
    pub coming: i64,
    /// What was seen.
    pub on_hand: OnHand,
    /// The rows that name it.
    pub rows: Vec<ListedRow>,
    /// What is to be said of it; the gravest first.
    pub verdicts: Vec<Verdict>,
}

impl MarkDifference {
    /// How many should be on the site by now.
    pub fn expected(&self) -> i64 {
        (self.needed - self.coming).max(0)
    }

    /// How many must still be made good: needed, less what is fit, less what is still to come.
    /// Nothing when nobody has counted.
    pub fn to_make_good(&self) -> Option<i64> {
        let open = self.needed - self.on_hand.good() - self.coming;
        self.on_hand.is_counted().then_some(open.max(0))
    }

    /// Whether it fits, or will when its shipment comes.
    pub fn is_well(&self) -> bool {
        self.verdicts
            .iter()
            .all(|v| matches!(v, Verdict::Fits | Verdict::Comes { .. }))
    }

    /// How many are short.
    pub fn short(&self) -> i64 {
        self.verdicts
            .iter()
            .map(|v| if let Verdict::Short(n) = v { *n } else { 0 })
            .sum()
    }

    /// How many are over.
    pub fn over(&self) -> i64 {
        self.verdicts
            .iter()
            .map(|v| if let Verdict::Over(n) = v { *n } else { 0 })
            .sum()
    }
}

/// Two marks of which one is short and the other over, and which look alike.
#[derive(Debug, Clone, PartialEq)]
pub struct MaybeSwapped {
    /// The mark that is short.
    pub short: String,
    /// The mark that is over.
    pub over: String,
    /// How many could have been taken for the other.
    pub quantity: i64,
    /// What tells them apart, in words.
    pub look_for: String,
}

/// The difference of a whole job.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Difference {
    /// Each mark of the parts list, in its order.
    pub marks: Vec<MarkDifference>,
    /// Pairs that may have been taken for each other.
    pub swaps: Vec<MaybeSwapped>,
    /// Marks that were counted but are no parts of this order.
    pub strange: BTreeMap<String, OnHand>,
}

impl Difference {
    /// The line of a mark.
    pub fn mark(&self, mark: &str) -> Option<&MarkDifference> {
        self.marks.iter().find(|m| m.mark == mark)
    }

    /// How many marks have been counted.
    pub fn counted(&self) -> usize {
        self.marks.iter().filter(|m| m.on_hand.is_counted()).count()
    }
}

/// Sets order, lists and counts against each other. `rows` is nothing when no list has come in.
pub fn difference(
    parts: &PartsList,
    rows: Option<&[ListedRow]>,
    state: &State,
    system: System,
) -> Difference {
    let marks: Vec<MarkDifference> = parts
        .lines
        .iter()
        .map(|line| mark_difference(line, rows, state))
        .collect();
    let strange = (state.marks.iter())
        .filter(|(mark, seen)| parts.line(mark).is_none() && !seen.counts.is_empty())
        .map(|(mark, seen)| (mark.clone(), seen.on_hand()))
        .collect();
    Difference {
        swaps: swaps(parts, &marks, system),
        marks,
        strange,
    }
}

fn mark_difference(line: &Line, rows: Option<&[ListedRow]>, state: &State) -> MarkDifference {
    let mark = line.part.mark.0.clone();
    let listed_rows: Vec<ListedRow> = rows
        .unwrap_or_default()
        .iter()
        .filter(|r| r.mark == mark)
        .cloned()
        .collect();
    let mut coming = 0;
    let mut with: Vec<String> = Vec::new();
    for row in &listed_rows {
        let Some(shipment) = &row.shipment else {
            continue;
        };
        if state
            .shipments
            .get(shipment)
            .is_some_and(|s| s.arrived.is_some())
        {
            continue;
        }
        coming += row.quantity;
        if !with.contains(shipment) {
            with.push(shipment.clone());
        }
    }
    // A sender who lists spares for later does not owe more than the house needs.
    let coming = coming.min(line.quantity);
    let mut found = MarkDifference {
        description: line.part.description.clone(),
        needed: line.quantity,
        listed: rows.map(|_| listed_rows.iter().map(|r| r.quantity).sum()),
        coming,
        on_hand: state.on_hand(&mark),
        rows: listed_rows,
        verdicts: Vec::new(),
        mark,
    };
    found.verdicts = verdicts(&found, with);
    found
}

fn verdicts(of: &MarkDifference, with: Vec<String>) -> Vec<Verdict> {
    let on_hand = of.on_hand;
    let expected = of.expected();
    let mut said = Vec::new();
    if on_hand.is_counted() {
        if on_hand.counted < expected {
            said.push(Verdict::Short(expected - on_hand.counted));
        }
        if on_hand.counted > of.needed {
            said.push(Verdict::Over(on_hand.counted - of.needed));
        }
        if on_hand.unfit() > 0 {
            said.push(Verdict::Unfit(on_hand.unfit()));
        }
        if on_hand.wet > 0 {
            said.push(Verdict::Wet(on_hand.wet));
        }
        let early = on_hand.counted.min(of.needed) - expected;
        if early > 0 {
            said.push(Verdict::Early(early));
        }
    } else if expected > 0 {
        said.push(Verdict::NotCounted(expected));
    }
    if on_hand.is_overdrawn() {
        said.push(Verdict::Overdrawn);
    }
    if let Some(listed) = of.listed {
        match listed - of.needed {
            0 => {}
            n if n < 0 => said.push(Verdict::ListShort(-n)),
            n => said.push(Verdict::ListOver(n)),
        }
    }
    if said.is_empty() && on_hand.is_counted() {
        said.push(Verdict::Fits);
    }
    if of.coming > 0 {
        said.push(Verdict::Comes {
            quantity: of.coming,
            with,
        });
    }
    said
}

/// Lengths nearer than this are taken for each other when nobody measures.
const LOOKS_AS_LONG: Length = Length::inches(2);

fn swaps(parts: &PartsList, marks: &[MarkDifference], system: System) -> Vec<MaybeSwapped> {
    let mut found = Vec::new();
    for short in marks.iter().filter(|m| m.short() > 0) {
        for over in marks.iter().filter(|m| m.over() > 0) {
            let (Some(a), Some(b)) = (parts.line(&short.mark), parts.line(&over.mark)) else {
                continue;
            };
            if let Some(look_for) = told_apart_by(&a.part, &b.part, system) {
                found.push(MaybeSwapped {
                    short: short.mark.clone(),
                    over: over.mark.clone(),
                    quantity: short.short().min(over.over()),
                    look_for,
                });
            }
        }
    }
    found
}

/// What tells two parts apart that look alike; nothing when they do not look alike.
pub fn told_apart_by(a: &Part, b: &Part, system: System) -> Option<String> {
    let (length_a, length_b) = (a.length?, b.length?);
    let apart = Length::nanometres((length_a - length_b).as_nanometres().abs());
    let alike = match (a.section.as_ref()?, b.section.as_ref()?) {
        (Section::Tube { outside: x, .. }, Section::Tube { outside: y, .. }) => {
            x == y && apart <= LOOKS_AS_LONG
        }
        (Section::Fastener { diameter: x, .. }, Section::Fastener { diameter: y, .. }) => {
            x == y && apart <= Length::inches(1) && a.noun == b.noun
        }
        _ => false,
    };
    if !alike {
        return None;
    }
    let (mark_a, mark_b) = (&a.mark, &b.mark);
    let mut said = Vec::new();
    if a.ends != b.ends {
        let ends = |part: &Part| match part.ends {
            Some([one, other]) if one == other => format!("both ends {}", one.in_words(system)),
            Some(ends) => {
                let odd = ends
                    .into_iter()
                    .find(|end| *end != End::Plain)
                    .unwrap_or(ends[0]);
                format!("one end {}", odd.in_words(system))
            }
            None => "ends not said".into(),
        };
        said.push(format!(
            "look at the ends: {mark_a} has {}, {mark_b} {}",
            ends(a),
            ends(b)
        ));
    }
    if apart > Length::ZERO {
        let (length_a, length_b) = (length_a.tape(system), length_b.tape(system));
        said.push(format!(
            "measure: {mark_a} is {length_a} long, {mark_b} {length_b}"
        ));
    }
    (!said.is_empty()).then(|| said.join("; "))
}
