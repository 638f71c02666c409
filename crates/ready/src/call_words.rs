//! The words of an answer.

use tell::percent;

use crate::build::{Build, Gap};
use crate::call_rests::Doubt;
use crate::day_work::DayWork;
use crate::how_far::{HowFar, Stop};

/// "almost sure, 97 %".
pub fn chance_in_words(chance: f64) -> String {
    let word = match chance {
        p if p > 0.99 => "as good as sure",
        p if p >= 0.95 => "almost sure",
        p if p >= 0.8 => "likely",
        p if p >= 0.5 => "more likely than not",
        p if p >= 0.2 => "less likely than not",
        p if p >= 0.05 => "unlikely",
        _ => "next to no chance",
    };
    format!("{word}, {}", percent(chance))
}

/// "8 hours", "7 h 30 min".
pub(crate) fn hours_in_words(minutes: i64) -> String {
    match (minutes / 60, minutes % 60) {
        (1, 0) => "1 hour".into(),
        (hours, 0) => format!("{hours} hours"),
        (0, minutes) => format!("{minutes} minutes"),
        (hours, minutes) => format!("{hours} h {minutes} min"),
    }
}

/// "At a quick pace they come to “purlins”, 6 of 10."
pub(crate) fn reach_in_words(build: &Build, work: &DayWork, begins: &str) -> String {
    let mut capital = begins.chars();
    let first = capital.next().map(|c| c.to_uppercase().to_string());
    let begins = format!("{}{}", first.unwrap_or_default(), capital.as_str());
    let last = (build.units.iter().zip(&work.units))
        .filter(|(_, done)| **done)
        .map(|(unit, _)| unit.stage)
        .max();
    let Some(last) = last else {
        return "What the day sees needs no pieces.".into();
    };
    let all = build.units_of(last).count();
    let done = build
        .units_of(last)
        .filter(|unit| work.units[*unit])
        .count();
    let name = &build.stages[last].name;
    match done == all {
        true => format!("{begins} the end of “{name}”."),
        false => format!("{begins} “{name}”, {done} of {all}."),
    }
}

/// The marks that stop the work, what the build comes to first at the head, at most three; then those whose count is in
/// doubt, likewise.
pub(crate) fn why_short(doubt: &Doubt) -> Vec<String> {
    let mut short = doubt.short();
    let more = short.split_off(short.len().min(3));
    let mut why: Vec<String> = short.into_iter().map(|says| format!("{says}.")).collect();
    if !more.is_empty() {
        let marks = if more.len() == 1 {
            "mark is"
        } else {
            "marks are"
        };
        why.push(format!("{} more {marks} short.", more.len()));
    }
    let in_doubt = doubt.in_doubt().into_iter().take(3);
    why.extend(in_doubt.map(|says| format!("{says}.")));
    why
}

/// "Later: 3 B1 short for “bows up”": what is short behind the day's work, at most three marks.
pub(crate) fn later(build: &Build, far: &HowFar) -> Option<String> {
    let mut marks: Vec<usize> = Vec::new();
    let mut says: Vec<String> = Vec::new();
    for reach in &far.stages {
        for stop in &reach.stops {
            let Stop::Short {
                mark,
                needed,
                there,
            } = stop
            else {
                continue;
            };
            if !marks.contains(mark) {
                marks.push(*mark);
                let (lacks, name) = (needed - there, &build.marks[*mark]);
                let stage = &build.stages[reach.stage].name;
                says.push(format!("{lacks} {name} short for “{stage}”"));
            }
        }
    }
    let more = says.split_off(says.len().min(3)).len();
    let more = match more {
        0 => String::new(),
        1 => ", and 1 more mark".into(),
        n => format!(", and {n} more marks"),
    };
    (!says.is_empty()).then(|| format!("Later: {}{more}.", says.join(", ")))
}

/// Bows of the day's work that do not stand and are not left out: they wait.
pub(crate) fn waiting(build: &Build, all: &DayWork, far: &HowFar) -> Vec<usize> {
    let is_bow = |gap: Gap| matches!(gap, Gap::Bow(_));
    let bows = build.units.iter().filter(|unit| is_bow(unit.gap));
    let Some(stage) = bows.map(|unit| unit.stage).min() else {
        return Vec::new();
    };
    let mut waiting: Vec<usize> = (build.units_of(stage))
        .filter(|unit| all.units[*unit] && !far.done[*unit])
        .map(|unit| build.units[unit].bows[0])
        .filter(|bow| !far.left_out.contains(bow))
        .collect();
    waiting.sort_unstable();
    waiting.dedup();
    waiting
}

/// "bow 5", "bows 5, 7 and 10", "bows 11 to 13"; rising.
pub fn bows_in_words(bows: &[usize]) -> String {
    let names: Vec<String> = bows.iter().map(usize::to_string).collect();
    match (bows, names.as_slice()) {
        ([], _) | (_, []) => "no bow".into(),
        (_, [one]) => format!("bow {one}"),
        ([first, .., last], [from, .., to]) if bows.len() > 2 && last - first + 1 == bows.len() => {
            format!("bows {from} to {to}")
        }
        (_, [first @ .., last]) => format!("bows {} and {last}", first.join(", ")),
    }
}
