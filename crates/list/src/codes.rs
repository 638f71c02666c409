//! What a sender's codes have stood for: learned from rows that were sure or that a person decided.
//!
//! A code is learned from what a person said of its row, or from a row whose words alone, read as if it had no code,
//! are sure. It is kept as our description of the part, so that another order finds the same thing under its own mark.
//! A code that stood for two things is not learned, and that is said.

use std::collections::{BTreeMap, BTreeSet};

use frame::{Mark, Part};

use crate::limits::MAX_CODES;
use crate::matching::describe::describe;
use crate::matching::evidence::{CONTRADICTS, bare_code};
use crate::matching::same_thing;
use crate::matching::{Matched, match_rows};
use crate::row::{PackingList, RowKey};

/// A row whose words alone leave no more doubt than this teaches its code.
pub const SURE_BY_WORDS: f64 = 0.02;

/// What one code stood for.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Learned {
    /// Our description of the part, so that another order finds the same thing under another mark.
    pub means: String,
    /// A person said so; otherwise a row that was sure.
    pub by_a_person: bool,
}

/// The codes of one sender.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Codes {
    /// Who sends, as their lists write it.
    pub sender: String,
    /// Each code, bare, with what it stood for.
    pub by_code: BTreeMap<String, Learned>,
    /// Codes, bare, that stood for several things and were not learned, with our descriptions of them.
    pub unclear: BTreeMap<String, BTreeSet<String>>,
}

/// Returns a sender's name without case, spaces and signs, by which the lists of one sender are known as such.
pub fn sender_key(sender: &str) -> String {
    let words = sender.split(|c: char| !c.is_alphanumeric());
    let words: Vec<String> = (words.filter(|word| !word.is_empty()).take(16))
        .map(str::to_lowercase)
        .collect();
    words.join(" ")
}

impl Codes {
    /// Learns the codes of a list that was matched to these parts.
    pub fn learn(list: &PackingList, matched: &[Matched], parts: &[Part]) -> Self {
        let overruled = overruled(list, matched);
        let mut codes = Self::of_said(list, &overruled, parts);
        if list.rows.iter().any(|row| !row.code.is_empty()) {
            for (row, mark) in by_words(list, matched, &overruled, parts) {
                codes.put(&list.rows[row].code, &mark, parts, false);
            }
        }
        codes.without_the_unclear()
    }

    /// Learns only what people said of rows, such as for the other rows of the same list.
    pub fn said(
        list: &PackingList,
        overruled: &BTreeMap<RowKey, Option<Mark>>,
        parts: &[Part],
    ) -> Self {
        Self::of_said(list, overruled, parts).without_the_unclear()
    }

    fn of_said(
        list: &PackingList,
        overruled: &BTreeMap<RowKey, Option<Mark>>,
        parts: &[Part],
    ) -> Self {
        let mut codes = Self {
            sender: list.header.sender.clone().unwrap_or_default(),
            ..Self::default()
        };
        for row in &list.rows {
            if let Some(Some(mark)) = overruled.get(&row.key) {
                codes.put(&row.code, mark, parts, true);
            }
        }
        codes
    }

    fn put(&mut self, code: &str, mark: &Mark, parts: &[Part], by_a_person: bool) {
        let code = bare_code(code);
        let Some(part) = part_of(mark, parts) else {
            return;
        };
        // A code that is the mark itself says nothing that the mark does not say.
        if !code.is_empty() && code != bare_code(&part.mark.0) {
            let means = part.description.clone();
            self.add(code, Learned { means, by_a_person });
        }
    }

    /// Takes in one more thing that a code stood for. Within one list a second thing makes it unclear, whoever said
    /// which.
    fn add(&mut self, code: String, learned: Learned) {
        if let Some(several) = self.unclear.get_mut(&code) {
            several.insert(learned.means);
            return;
        }
        let full = self.by_code.len() >= MAX_CODES;
        match self.by_code.get_mut(&code) {
            Some(known) if known.means == learned.means => {
                known.by_a_person |= learned.by_a_person;
            }
            Some(known) => {
                let several = [known.means.clone(), learned.means];
                self.unclear.insert(code, several.into());
            }
            None if full => {}
            None => {
                self.by_code.insert(code, learned);
            }
        }
    }

    fn without_the_unclear(mut self) -> Self {
        self.by_code
            .retain(|code, _| !self.unclear.contains_key(code));
        self
    }

    /// Takes in what another list or an earlier job taught of this sender. What a person said goes before what words
    /// said; two that say different things with the same right make the code unclear.
    pub fn take_in(&mut self, other: &Codes) {
        if self.sender.is_empty() {
            self.sender.clone_from(&other.sender);
        }
        for (code, several) in &other.unclear {
            let known = self.unclear.entry(code.clone()).or_default();
            known.extend(several.iter().cloned());
            known.extend(self.by_code.remove(code).map(|known| known.means));
        }
        for (code, learned) in &other.by_code {
            match self.by_code.get(code) {
                Some(known) if known.means != learned.means => {
                    match (known.by_a_person, learned.by_a_person) {
                        (true, false) => {}
                        (false, true) => {
                            self.by_code.insert(code.clone(), learned.clone());
                        }
                        _ => self.add(code.clone(), learned.clone()),
                    }
                }
                _ => self.add(code.clone(), learned.clone()),
            }
        }
        self.by_code
            .retain(|code, _| !self.unclear.contains_key(code));
    }

    /// Returns what a code, written in any way, stood for.
    pub fn stood_for(&self, code: &str) -> Option<&Learned> {
        self.by_code.get(&bare_code(code))
    }

    /// Finds the part that a code, written in any way, stood for: the same thing by our description, in these parts.
    /// Returns its index; nothing where the code is not known, or these parts have no such thing, or several.
    pub fn part_for(&self, code: &str, parts: &[Part]) -> Option<usize> {
        let means = &self.stood_for(code)?.means;
        if let Some(same) = only(parts, |part| part.description == *means) {
            return Some(same);
        }
        let said = describe(means);
        only(parts, |part| {
            same_thing::is_same(&said, &describe(&part.description))
        })
    }
}

/// The one part of which it is true.
fn only(parts: &[Part], is: impl Fn(&Part) -> bool) -> Option<usize> {
    let mut found = (0..parts.len()).filter(|at| is(&parts[*at]));
    let first = found.next()?;
    found.next().is_none().then_some(first)
}

fn part_of<'a>(mark: &Mark, parts: &'a [Part]) -> Option<&'a Part> {
    let code = bare_code(&mark.0);
    parts.iter().find(|part| bare_code(&part.mark.0) == code)
}

fn overruled(list: &PackingList, matched: &[Matched]) -> BTreeMap<RowKey, Option<Mark>> {
    let said = matched.iter().filter(|row| row.overruled);
    said.filter_map(|row| Some((list.rows.get(row.row)?.key, row.mark.clone())))
        .collect()
}

/// The rows that are sure by their words alone: they are matched once more without their codes.
fn by_words(
    list: &PackingList,
    matched: &[Matched],
    overruled: &BTreeMap<RowKey, Option<Mark>>,
    parts: &[Part],
) -> Vec<(usize, Mark)> {
    let mut blind = list.clone();
    blind.rows.iter_mut().for_each(|row| row.code.clear());
    let with_code: BTreeMap<usize, &Option<Mark>> =
        matched.iter().map(|row| (row.row, &row.mark)).collect();
    let is_sure = |row: &Matched| {
        let against = row.reasons.iter().any(|why| why.weight <= CONTRADICTS);
        let agrees = with_code
            .get(&row.row)
            .is_some_and(|mark| **mark == row.mark);
        !row.overruled && agrees && row.doubt <= SURE_BY_WORDS && !against
    };
    let all = match_rows(&blind, parts, overruled).into_iter();
    all.filter(is_sure)
        .filter_map(|row| Some((row.row, row.mark?)))
        .collect()
}
