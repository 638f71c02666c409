//! The words of an answer.

use tell::percent;

use crate::build::Build;
use crate::call_rests::Doubt;
use crate::day_work::DayWork;

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

/// The marks that stop the work, the surest shortage first, at most three.
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
    why
}
