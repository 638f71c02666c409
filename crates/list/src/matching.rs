//! Rows to marks: every row against every part, then one assignment of all rows together.
//!
//! The doubt of a match: let each choice of a row (a mark, or nothing) weigh `exp(-r)`, where `r` is what forcing
//! that choice adds to the least cost of the whole assignment, in nats. The doubt is one minus the share of the
//! choice that was made. So a row doubts itself when another mark explains it nearly as well *and* that mark is not
//! needed more by another row. Floors stand under it: for a noun that must never decide alone, for a plain
//! contradiction, for what matches nothing, and one for every row. The weights of the clues are judged, not fitted;
//! docs/matching.md says how the doubt fares on labelled rows.

pub mod contents;
mod cut;
pub mod describe;
pub mod ends;
pub mod evidence;
pub mod explode;
pub mod finish;
pub mod measures;
pub mod nouns;
pub mod part_facts;
pub mod same_thing;
pub mod spoken;
pub mod words;

use std::collections::BTreeMap;

use frame::{Mark, Part};

use crate::assign::{Cost, Problem, solve};
use crate::codes::Codes;
use crate::limits::MAX_MATCHED_ROWS;
use crate::matching::evidence::{
    CONTRADICTS, Order, PRICE_OF_A_MATCH, Reason, RowFacts, bare_code, calls_it, reasons, weight,
};
use crate::matching::explode::{Exploded, Kit, explode, settle};
use crate::matching::nouns::Kind;
use crate::matching::part_facts::PartFacts;
use crate::row::{PackingList, Row, RowKey};

/// What the list calls a part when the word alone must never decide: the doubt stays at least this.
pub const DOUBT_OF_AN_AMBIGUOUS_WORD: f64 = 0.25;

/// When the list plainly says something that the part is not, the doubt stays at least this, however well the rest
/// agrees: a code with the wrong description, a tube with the wrong ends.
pub const DOUBT_OF_A_CONTRADICTION: f64 = 0.25;

/// A row that matches nothing is asked about, unless it plainly names a tool, papers, freight.
pub const DOUBT_OF_NOTHING: f64 = 0.12;

/// A row that lost its last number at the end of a field, or that says what no table knows and no measure bears out, is
/// asked about.
pub const DOUBT_OF_A_GAP: f64 = 0.06;

/// No row is called surer than this.
pub const LEAST_DOUBT: f64 = 0.005;

/// The price of a first, second, … row on one mark, in nats. A mark in six sub-kits is the most seen likely; and as nearly
/// every mark is on the list, one that has no row yet is worth looking for.
const PRICES: [f64; 6] = [-1.0, 0.8, 1.2, 1.6, 2.0, 2.4];

/// Choices this much worse than nothing are not weighed: their share is under e⁻⁶, a quarter of a percent.
const NOT_WEIGHED: f64 = 6.0;

/// What a learned code stood for must come this much nearer to one part than to any other, in nats.
const CLEARLY: f64 = 2.0;

/// Runners-up below this share are not named.
const NAMED_SHARE: f64 = 0.005;

/// How a row was understood.
#[derive(Clone, Debug, PartialEq)]
pub struct Matched {
    /// Index of the row in the list.
    pub row: usize,
    /// The mark, or nothing.
    pub mark: Option<Mark>,
    /// From 0 (sure) to 1; how it is computed stands at the top of this file.
    pub doubt: f64,
    /// Why, and what speaks against it; what weighs most first.
    pub reasons: Vec<Reason>,
    /// Other marks that it may be, with their shares, likeliest first.
    pub runners_up: Vec<(Mark, f64)>,
    /// A person decided it.
    pub overruled: bool,
    /// What a row that stands for several marks holds: each with its pieces, over the whole row. Empty for a row of
    /// one mark, which [`Self::mark`] names; where it is not empty, that is nothing.
    pub holds: Vec<(Mark, i64)>,
}

/// What rows are held against.
#[derive(Clone, Copy, Debug, Default)]
pub struct Against<'a> {
    /// The parts of the order.
    pub parts: &'a [Part],
    /// The sub-kits of the order, which one row may stand for.
    pub kits: &'a [Kit],
    /// What people said of rows.
    pub overruled: Option<&'a BTreeMap<RowKey, Option<Mark>>>,
    /// What this sender's codes have stood for before.
    pub codes: Option<&'a Codes>,
}

/// Matches the rows of a list to parts. What a person overruled stands, and the other rows are matched around it.
pub fn match_rows(
    list: &PackingList,
    parts: &[Part],
    overruled: &BTreeMap<RowKey, Option<Mark>>,
) -> Vec<Matched> {
    let overruled = Some(overruled);
    let against = Against {
        parts,
        overruled,
        ..Against::default()
    };
    match_list(list, &against)
}

/// Matches the rows of a list with all that is known: see [`match_rows`].
pub fn match_list(list: &PackingList, against: &Against<'_>) -> Vec<Matched> {
    let nobody = BTreeMap::new();
    let overruled = against.overruled.unwrap_or(&nobody);
    if list.rows.len() > MAX_MATCHED_ROWS {
        return (0..list.rows.len()).map(too_many).collect();
    }
    let mut table = Comparison::new(list, against);
    let mut exploded = table.exploded(list, against.kits, overruled);
    table.problem = table.problem(list, overruled, &exploded);
    let solution = solve(&table.problem);
    let listed = table.listed(list, overruled, &solution.of_row);
    let chosen = solution.of_row.iter().zip(&solution.regret).enumerate();
    chosen
        .map(|(row, (choice, regret))| {
            if let Some(mark) = overruled.get(&list.rows[row].key) {
                table.by_a_person(row, mark.as_ref())
            } else if let Some(exploded) = exploded.remove(&row) {
                by_its_kit(row, settle(exploded, against.kits, &listed))
            } else {
                table.by_likelihood(row, *choice, regret)
            }
        })
        .collect()
}

fn by_its_kit(row: usize, exploded: Exploded) -> Matched {
    Matched {
        row,
        mark: None,
        doubt: exploded.doubt,
        reasons: exploded.reasons,
        runners_up: Vec::new(),
        overruled: false,
        holds: exploded.holds,
    }
}

fn too_many(row: usize) -> Matched {
    let words = format!("the list has more than {MAX_MATCHED_ROWS} rows and was not matched");
    let reasons = vec![Reason { weight: 0.0, words }];
    Matched {
        row,
        mark: None,
        doubt: 1.0,
        reasons,
        runners_up: Vec::new(),
        overruled: false,
        holds: Vec::new(),
    }
}

/// All rows against all parts.
struct Comparison {
    rows: Vec<RowFacts>,
    parts: Vec<PartFacts>,
    order: Order,
    problem: Problem,
}

impl Comparison {
    fn new(list: &PackingList, against: &Against<'_>) -> Self {
        let parts: Vec<PartFacts> = against.parts.iter().map(PartFacts::new).collect();
        let mut table = Self {
            rows: cut::uncut(list)
                .map(|(row, says)| RowFacts::of_row(row, &says))
                .collect(),
            order: Order::new(&parts),
            parts,
            problem: Problem::default(),
        };
        if let Some(codes) = against.codes {
            table.recall(codes);
        }
        table
    }

    /// Gives rows the parts that their codes have stood for.
    fn recall(&mut self, codes: &Codes) {
        let mut known: BTreeMap<&str, Option<usize>> = BTreeMap::new();
        for row in &mut self.rows {
            let Some(learned) = codes.stood_for(&row.code) else {
                continue;
            };
            let part = *known
                .entry(&learned.means)
                .or_insert_with(|| meant(&learned.means, &self.parts, &self.order));
            row.learned = part.map(|part| (part, learned.by_a_person));
        }
    }

    /// The rows that stand for several marks.
    fn exploded(
        &self,
        list: &PackingList,
        kits: &[Kit],
        overruled: &BTreeMap<RowKey, Option<Mark>>,
    ) -> BTreeMap<usize, Exploded> {
        let which = |words: &str| {
            let part = meant(words, &self.parts, &self.order)?;
            Some(self.parts[part].mark.clone())
        };
        let by_a_person = |row: &Row| overruled.contains_key(&row.key);
        explode(&list.rows, kits, &by_a_person, &which)
    }

    /// What the rows that stand for one mark bring of each.
    fn listed(
        &self,
        list: &PackingList,
        overruled: &BTreeMap<RowKey, Option<Mark>>,
        of_row: &[Option<usize>],
    ) -> BTreeMap<Mark, i64> {
        let mut listed = BTreeMap::new();
        for (row, choice) in list.rows.iter().zip(of_row) {
            let mark = match overruled.get(&row.key) {
                Some(mark) => mark.clone(),
                None => choice.map(|part| self.parts[part].mark.clone()),
            };
            if let (Some(mark), Some(pieces)) = (mark, row.quantity) {
                *listed.entry(mark).or_insert(0) += pieces.max(0);
            }
        }
        listed
    }

    fn problem(
        &self,
        list: &PackingList,
        overruled: &BTreeMap<RowKey, Option<Mark>>,
        exploded: &BTreeMap<usize, Exploded>,
    ) -> Problem {
        let mut fixed = vec![0; self.parts.len()];
        let mut rows = Vec::with_capacity(list.rows.len());
        for (index, row) in list.rows.iter().enumerate() {
            match overruled.get(&row.key) {
                Some(mark) => {
                    let part = mark
                        .as_ref()
                        .and_then(|mark| self.order.by_code.get(&bare_code(&mark.0)));
                    part.into_iter().for_each(|part| fixed[*part] += 1);
                    rows.push(Vec::new());
                }
                None if exploded.contains_key(&index) => rows.push(Vec::new()),
                None => rows.push(self.costs(index)),
            }
        }
        Problem {
            rows,
            fixed,
            prices: PRICES.map(in_millionths).to_vec(),
        }
    }

    /// The marks that a row may be, with their costs.
    fn costs(&self, row: usize) -> Vec<(usize, Cost)> {
        let row = &self.rows[row];
        let cost = |part: &PartFacts| PRICE_OF_A_MATCH - weight(row, part, &self.order);
        let all = self.parts.iter().map(cost).enumerate();
        all.filter(|(_, cost)| *cost <= NOT_WEIGHED)
            .map(|(part, cost)| (part, in_millionths(cost)))
            .collect()
    }

    fn reasons(&self, row: usize, part: usize) -> Vec<Reason> {
        reasons(&self.rows[row], &self.parts[part], &self.order)
    }

    fn by_a_person(&self, row: usize, mark: Option<&Mark>) -> Matched {
        let part = mark.and_then(|mark| self.order.by_code.get(&bare_code(&mark.0)));
        let mut reasons = vec![Reason {
            weight: 0.0,
            words: "a person decided it".to_owned(),
        }];
        match (mark, part) {
            (Some(mark), None) => {
                reasons.push(Reason {
                    weight: 0.0,
                    words: format!("{mark} is no mark of this order"),
                });
            }
            (_, Some(part)) => reasons.extend(self.reasons(row, *part)),
            (None, None) => {}
        }
        Matched {
            row,
            mark: mark.cloned(),
            doubt: 0.0,
            reasons,
            runners_up: Vec::new(),
            overruled: true,
            holds: Vec::new(),
        }
    }

    fn by_likelihood(
        &self,
        row: usize,
        choice: Option<usize>,
        regret: &[(Option<usize>, Cost)],
    ) -> Matched {
        let share = |cost: Cost| (-(cost as f64) / 1e6).exp();
        let all: f64 = regret.iter().map(|(_, cost)| share(*cost)).sum();
        let mut doubt = as_seen((1.0 - share(0) / all).clamp(0.0, 1.0));
        let mut reasons = choice.map_or_else(|| self.nothing(row), |part| self.reasons(row, part));
        if let (Some(noun), Some(part)) = (&self.rows[row].said.noun, choice)
            && noun.ambiguous
            && !calls_it(noun, &self.parts[part])
            && self.rows[row].code != self.parts[part].code
        {
            doubt = doubt.max(DOUBT_OF_AN_AMBIGUOUS_WORD);
            let words = format!(
                "\"{}\" means more than one thing; a person should look",
                noun.words
            );
            reasons.insert(0, Reason { weight: 0.0, words });
        }
        if choice.is_none() && !self.surely_none(row) {
            doubt = doubt.max(DOUBT_OF_NOTHING);
        }
        doubt = doubt.max(LEAST_DOUBT);
        let unknown = &self.rows[row].said.unknown;
        // The noun is the loudest clue; what else agrees bears it out.
        let borne_out = reasons.iter().filter(|reason| reason.weight >= 1.0).count() > 1;
        let gap = self.rows[row].is_cut || !unknown.is_empty() && !borne_out;
        if choice.is_some() && gap {
            doubt = doubt.max(DOUBT_OF_A_GAP);
        }
        if !unknown.is_empty() {
            let words = format!("not understood: {}", unknown.join(", "));
            reasons.push(Reason { weight: 0.0, words });
        }
        if choice.is_some() && reasons.iter().any(|reason| reason.weight <= CONTRADICTS) {
            doubt = doubt.max(DOUBT_OF_A_CONTRADICTION);
        }
        let others = regret.iter().filter(|(other, _)| *other != choice);
        let mut runners_up: Vec<(Mark, f64)> = others
            .filter_map(|(other, cost)| {
                Some((self.parts[(*other)?].mark.clone(), share(*cost) / all))
            })
            .filter(|(_, share)| *share >= NAMED_SHARE)
            .collect();
        runners_up.sort_by(|a, b| b.1.total_cmp(&a.1).then_with(|| a.0.cmp(&b.0)));
        runners_up.truncate(5);
        let mark = choice.map(|part| self.parts[part].mark.clone());
        Matched {
            row,
            mark,
            doubt,
            reasons,
            runners_up,
            overruled: false,
            holds: Vec::new(),
        }
    }

    /// Whether a row that matches nothing says plainly that it is a stranger to any house. All else that matches nothing
    /// may be a part in words that are not known.
    fn surely_none(&self, row: usize) -> bool {
        let noun = self.rows[row].said.noun.as_ref();
        noun.is_some_and(|noun| {
            !noun.ambiguous
                && noun
                    .may_mean
                    .iter()
                    .all(|meant| meant.kind() == Kind::Stranger)
        })
    }

    /// Why a row matches nothing: what speaks against the part that comes nearest. One loud contradiction does not
    /// make a part less near than another thing altogether.
    fn nothing(&self, row: usize) -> Vec<Reason> {
        let all = (0..self.parts.len()).map(|part| (part, self.reasons(row, part)));
        let near = |reasons: &[Reason]| {
            reasons
                .iter()
                .map(|r| r.weight.max(CONTRADICTS))
                .sum::<f64>()
        };
        let nearest = all.max_by(|a, b| near(&a.1).total_cmp(&near(&b.1)));
        let Some((part, mut reasons)) = nearest else {
            return Vec::new();
        };
        reasons.retain(|reason| reason.weight < 0.0);
        let words = format!(
            "no part comes near enough; the nearest is {}",
            self.parts[part].mark
        );
        reasons.insert(0, Reason { weight: 0.0, words });
        reasons
    }
}

/// The one part that a description of ours means, as sizes of another order may have changed it: nothing when two come
/// near, or when it is plainly none of these.
fn meant(means: &str, parts: &[PartFacts], order: &Order) -> Option<usize> {
    let row = RowFacts::new(means, "");
    let mut best: Vec<(f64, usize)> = parts
        .iter()
        .enumerate()
        .map(|(index, part)| (weight(&row, part, order), index))
        .collect();
    best.sort_by(|a, b| b.0.total_cmp(&a.0));
    let (first, index) = *best.first()?;
    let second = best.get(1).map_or(f64::MIN, |(weight, _)| *weight);
    (first > PRICE_OF_A_MATCH && first - second > CLEARLY).then_some(index)
}

/// Doubts between 2 and 50 percent, as they were seen to be with writers on whom nothing was tuned: about twice what the
/// weights alone say (docs/matching.md).
fn as_seen(doubt: f64) -> f64 {
    const FROM: f64 = 0.019;
    const TIMES: f64 = 2.2;
    let more = FROM + (doubt - FROM) * TIMES;
    if doubt <= FROM {
        doubt
    } else {
        doubt.max(more.min(0.5))
    }
}

fn in_millionths(nats: f64) -> Cost {
    (nats * 1e6).round() as Cost
}
