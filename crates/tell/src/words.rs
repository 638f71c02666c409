//! Answers and questions in words.

use frame::Mark;
use measure::{Grid, Length, Mass, System};

use crate::answer::{Candidate, Decided};
use crate::kit::KnownPart;
use crate::reading::{BendLook, Coating, EndLook, Kind, Size};
use crate::way::{By, Way};

/// "R1 or R3".
pub(crate) fn either(marks: &[Mark]) -> String {
    let names: Vec<&str> = marks.iter().map(|mark| mark.0.as_str()).collect();
    match names.as_slice() {
        [] => String::new(),
        [one] => (*one).into(),
        [first @ .., last] => format!("{} or {last}", first.join(", ")),
    }
}

/// "97 %"; never a hundred and never nought, for nothing is that sure.
pub fn percent(probability: f64) -> String {
    match probability {
        p if p > 0.99 => "over 99 %".into(),
        p if p < 0.01 => "under 1 %".into(),
        p => format!("{:.0} %", p * 100.0),
    }
}

/// "1 time in 20"; "every other time" of what is a toss-up.
pub(crate) fn one_in(probability: f64) -> String {
    match probability {
        p if p >= 0.4 => "every other time".into(),
        p if p < 0.001 => "next to never".into(),
        p => format!("1 time in {:.0}", 1.0 / p),
    }
}

pub(crate) fn of_answer(
    candidates: &[Candidate],
    none: f64,
    nearest: Option<&(KnownPart, f64)>,
    decided: &Option<Decided>,
) -> String {
    let likeliest = candidates.first().filter(|c| c.probability >= none);
    let Some(likeliest) = likeliest else {
        return of_none(none, nearest, candidates);
    };
    let share = percent(likeliest.probability);
    let name = likeliest.name();
    let said = match likeliest.probability {
        p if p > 0.99 => format!("Surely {name}, {share}"),
        _ if decided.is_some() => format!("Almost surely {name}, {share}"),
        p if p >= 0.8 => format!("Likely {name}, {share}"),
        p if p >= 0.5 => format!("Perhaps {name}, {share}"),
        _ => return cannot_tell(candidates, none),
    };
    if likeliest.marks.len() > 1 && decided.is_some() {
        return format!("{said}: nothing to measure tells them apart");
    }
    match decided {
        Some(_) => said,
        None => match also(candidates, none).first() {
            Some(second) => format!("{said}; or {second}"),
            None => said,
        },
    }
}

/// What else it may be, after the likeliest, each with its share.
fn also(candidates: &[Candidate], none: f64) -> Vec<String> {
    let mut also: Vec<(String, f64)> = (candidates.iter().skip(1).take(4))
        .map(|c| (c.name(), c.probability))
        .collect();
    also.push(("none of this order".into(), none));
    also.sort_by(|a, b| b.1.total_cmp(&a.1));
    (also.into_iter())
        .filter(|(_, p)| *p >= 0.01)
        .map(|(name, p)| format!("{name}, {}", percent(p)))
        .collect()
}

fn cannot_tell(candidates: &[Candidate], none: f64) -> String {
    let mut may_be = vec![format!(
        "{}, {}",
        candidates[0].name(),
        percent(candidates[0].probability)
    )];
    may_be.extend(also(candidates, none).into_iter().take(2));
    format!("Cannot tell yet: {}", may_be.join("; "))
}

fn of_none(none: f64, nearest: Option<&(KnownPart, f64)>, candidates: &[Candidate]) -> String {
    let sure = match none {
        p if p > 0.99 => "Surely",
        p if p >= crate::CONFIDENCE => "Almost surely",
        p if p >= 0.8 => "Likely",
        _ => "Perhaps",
    };
    let said = format!("{sure} none of this order, {}", percent(none));
    let said = match candidates.first() {
        Some(c) if c.probability >= 0.05 => {
            format!("{said}; or {}, {}", c.name(), percent(c.probability))
        }
        _ => said,
    };
    match nearest {
        // Likelier that than anything else that is not of this order.
        Some((known, chance)) if *chance > 0.5 * none => format!(
            "{said}. It looks like {}, {}, of {}: a piece from another order?",
            known.part.mark, known.part.noun, known.of
        ),
        _ => said,
    }
}

/// An amount as a way of measuring shows it.
pub(crate) fn amount(way: Way, amount: f64, system: System) -> String {
    let length = |metres: f64| Length::from_metres(metres, Grid::NANOMETRE).unwrap_or_default();
    match way.by {
        By::Tape(..) | By::Around(_) => length(amount).tape(system),
        By::Caliper(_) | By::Plate(_) => length(amount).caliper(system),
        By::Scale(_) => match system {
            System::Metric if amount < 1.0 => format!("{:.0} g", amount * 1e3),
            System::FeetInch if amount < POUND => format!("{:.1} oz", amount / POUND * 16.0),
            _ => Mass::from_kilograms(amount)
                .unwrap_or_default()
                .write(system, 1),
        },
    }
}

/// Kilograms in a pound.
const POUND: f64 = 0.453_592_37;

pub(crate) fn size(size: Size) -> &'static str {
    match size {
        Size::Length => "length",
        Size::Across => "size across",
        Size::Around => "size around",
        Size::Wall => "wall",
        Size::Chord => "straight line from end to end",
        Size::Rise => "height over that line",
        Size::HoleSpacing => "distance from hole to hole",
        Size::Unknown => "size",
    }
}

pub(crate) fn kind(kind: Kind) -> &'static str {
    match kind {
        Kind::RoundTube => "round tube",
        Kind::SquareTube => "square tube",
        Kind::Timber => "timber",
        Kind::Channel => "channel",
        Kind::Sheet => "film or cloth",
        Kind::Wire => "wire",
        Kind::Fastener => "a bolt or screw",
        Kind::Hardware => "a plate or other hardware",
        Kind::Unknown => "something else",
    }
}

pub(crate) fn end(end: EndLook) -> &'static str {
    match end {
        EndLook::Plain => "plain",
        EndLook::Swaged => "swaged",
        EndLook::Flattened => "flattened",
        EndLook::Punched => "flattened and punched",
        EndLook::Threaded => "threaded",
        EndLook::Coped => "coped",
        EndLook::Unknown => "of another form",
    }
}

pub(crate) fn bend(bend: BendLook) -> &'static str {
    match bend {
        BendLook::Straight => "straight",
        BendLook::Bent => "bent",
        BendLook::Unknown => "of another form",
    }
}

pub(crate) fn coating(coating: Coating) -> &'static str {
    match coating {
        Coating::Galvanized => "galvanized",
        Coating::ZincPlated => "bright zinc",
        Coating::Mill => "bare metal",
        Coating::Coated => "coated or painted",
        Coating::Rusty => "rusty",
        Coating::Clear => "clear",
        Coating::White => "white",
        Coating::Dark => "black or dark green",
        Coating::Wood => "wood",
        Coating::Unknown => "of another colour",
    }
}
