//! Parts that are taken for each other, and what tells them apart.

use frame::{End, Part, PartsList, Section};
use measure::{Length, System};

use crate::difference::MarkDifference;

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

/// Finds every pair that may have been swapped.
pub(crate) fn swaps(
    parts: &PartsList,
    marks: &[MarkDifference],
    system: System,
) -> Vec<MaybeSwapped> {
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

/// Tubes nearer in length than this are taken for each other when nobody measures.
const TUBES_LOOK_AS_LONG: Length = Length::inches(2);

/// Bolts and screws nearer in length than this are.
const FASTENERS_LOOK_AS_LONG: Length = Length::inches(1);

/// What tells two parts apart that look alike; nothing when they do not look alike, or are the same in all we know.
pub fn told_apart_by(a: &Part, b: &Part, system: System) -> Option<String> {
    let (length_a, length_b) = (a.length?, b.length?);
    let apart = Length::nanometres((length_a - length_b).as_nanometres().abs());
    let (section_a, section_b) = (a.section.as_ref()?, b.section.as_ref()?);
    let alike = match (section_a, section_b) {
        (Section::Tube { outside: x, .. }, Section::Tube { outside: y, .. }) => {
            x == y && apart <= TUBES_LOOK_AS_LONG
        }
        (Section::Fastener { diameter: x, .. }, Section::Fastener { diameter: y, .. }) => {
            x == y && apart <= FASTENERS_LOOK_AS_LONG && a.noun == b.noun
        }
        _ => false,
    };
    if !alike {
        return None;
    }
    let (mark_a, mark_b) = (&a.mark, &b.mark);
    let mut said = Vec::new();
    if !same_ends(a.ends, b.ends) {
        let (ends_a, ends_b) = (ends(a, system), ends(b, system));
        said.push(format!(
            "look at the ends: {mark_a} has {ends_a}, {mark_b} {ends_b}"
        ));
    }
    if apart > Length::ZERO {
        let (length_a, length_b) = (length_a.tape(system), length_b.tape(system));
        said.push(format!(
            "measure: {mark_a} is {length_a} long, {mark_b} {length_b}"
        ));
    }
    if let (Section::Tube { wall: x, .. }, Section::Tube { wall: y, .. }) = (section_a, section_b)
        && x != y
    {
        let (wall_a, wall_b) = (x.caliper(system), y.caliper(system));
        said.push(format!(
            "measure the wall: {mark_a} is {wall_a} thick, {mark_b} {wall_b}"
        ));
    }
    if let (Some(finish_a), Some(finish_b)) = (&a.finish, &b.finish)
        && finish_a != finish_b
    {
        said.push(format!(
            "look at the finish: {mark_a} is {finish_a}, {mark_b} {finish_b}"
        ));
    }
    (!said.is_empty()).then(|| said.join("; "))
}

/// A tube can be turned round.
fn same_ends(a: Option<[End; 2]>, b: Option<[End; 2]>) -> bool {
    a == b || a.map(|[one, other]| [other, one]) == b
}

fn ends(part: &Part, system: System) -> String {
    match part.ends {
        Some([one, other]) if one == other => format!("both ends {}", one.in_words(system)),
        // The plain end of two tells nothing.
        Some([End::Plain, odd] | [odd, End::Plain]) => format!("one end {}", odd.in_words(system)),
        Some([one, other]) => format!(
            "one end {}, one {}",
            one.in_words(system),
            other.in_words(system)
        ),
        None => "ends not said".into(),
    }
}
