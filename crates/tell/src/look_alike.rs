//! Marks of one order that are taken for each other, and the one reading that tells them apart soonest.
//!
//! A chance here is that of calling a piece wrongly which is one of the two, each as likely as the other, by the best
//! use of what was seen: half where the two look the same, nought where they look nothing alike.

use frame::Mark;

use crate::error_model::{EYE_ACROSS, EYE_LENGTH, SEPARATES, WORTH_SHOWING, seconds};
use crate::kit::{Hypothesis, Kit};
use crate::looks::{self, BENDS, ENDS};
use crate::normal;
use crate::question::{Asked, Question};
use crate::readable::Quantity;
use crate::reading::{EndLook, Size, Which};
use crate::words::{self, one_in};
use crate::words_next;

/// Two marks of the order that are taken for each other.
#[derive(Clone, Debug, PartialEq)]
pub struct LookAlike {
    /// The one; several where nothing tells those apart.
    pub one: Vec<Mark>,
    /// The other.
    pub other: Vec<Mark>,
    /// How often one is taken for the other by eye; at most a half.
    pub by_eye: f64,
    /// How often by its length, read with a tape; nothing where one of them has none that is known.
    pub by_tape: Option<f64>,
    /// What tells them apart soonest; nothing where nothing to measure does.
    pub quickest: Option<Quickest>,
    /// All of it in words.
    pub words: String,
}

/// The one reading that tells two marks apart soonest.
#[derive(Clone, Debug, PartialEq)]
pub struct Quickest {
    /// What to read; one end stands for both.
    pub asked: Asked,
    /// How often it is wrong.
    pub wrong: f64,
    /// How long it takes; a design value of ours.
    pub seconds: f64,
    /// "Measure its length with a tape: 10 ft 6 in is R2, 10 ft 7 in is R1".
    pub words: String,
}

impl Kit {
    /// Every pair of marks that is taken for each other often enough to be worth showing, the likest first.
    pub fn look_alikes(&self) -> Vec<LookAlike> {
        self.pairs(|_| true)
    }

    /// Those that one of the marks is of.
    pub fn look_alikes_of(&self, mark: &Mark) -> Vec<LookAlike> {
        self.pairs(|h| h.marks.contains(mark))
    }

    fn pairs(&self, of: impl Fn(&Hypothesis) -> bool) -> Vec<LookAlike> {
        let ours = &self.hypotheses[..self.ours];
        let asked: Vec<bool> = ours.iter().map(of).collect();
        let tape = (self.questions().iter()).find(|q| {
            matches!(
                q.asked,
                Asked::Size {
                    of: Size::Length,
                    ..
                }
            )
        });
        let mut found: Vec<LookAlike> = Vec::new();
        for (i, one) in ours.iter().enumerate() {
            if asked[i] {
                found.extend(same(one));
            }
            for (j, other) in ours.iter().enumerate().skip(i + 1) {
                if !(asked[i] || asked[j]) {
                    continue;
                }
                let by_eye = self.by_eye(one, other);
                let has_length = |h: &Hypothesis| h.readable.size(Quantity::Length).is_some();
                let by_tape = tape
                    .filter(|_| has_length(one) && has_length(other))
                    .map(|tape| tape.wrong(i, j));
                // By tape alone a bolt may be as long as a plate is wide: nobody takes one for the other.
                if by_eye >= WORTH_SHOWING {
                    found.push(self.look_alike([i, j], by_eye, by_tape));
                }
            }
        }
        found.sort_by(|a, b| {
            let tape = |l: &LookAlike| l.by_tape.unwrap_or(0.5);
            (b.by_eye + tape(b)).total_cmp(&(a.by_eye + tape(a)))
        });
        found
    }

    fn look_alike(&self, pair: [usize; 2], by_eye: f64, by_tape: Option<f64>) -> LookAlike {
        let [one, other] = pair.map(|i| self.hypotheses[i].marks.clone());
        let quickest = self.quickest(pair);
        let apart = match &quickest {
            Some(quickest) => quickest.words.clone(),
            None => "No one reading tells them apart".into(),
        };
        let tape = by_tape.map_or(String::new(), |p| {
            format!(", by length with a tape {}", one_in(p))
        });
        LookAlike {
            words: format!(
                "{} and {}: by eye one is taken for the other {}{tape}. {apart}.",
                words::either(&one),
                words::either(&other),
                one_in(by_eye)
            ),
            one,
            other,
            by_eye,
            by_tape,
            quickest,
        }
    }

    /// The reading that takes least time of those that tell the two apart.
    fn quickest(&self, [i, j]: [usize; 2]) -> Option<Quickest> {
        let [one, other] = [i, j].map(|h| &self.hypotheses[h]);
        let ends = (
            Asked::End(Which::One),
            ends_wrong(one, other),
            2.0 * seconds::END,
        );
        let (asked, wrong, seconds) = (self.questions().iter())
            .map(|question| (question.asked, question.wrong(i, j), question.seconds))
            .chain([ends])
            .filter(|(_, wrong, _)| *wrong <= SEPARATES)
            .min_by(|a, b| a.2.total_cmp(&b.2))?;
        let mut tells: Vec<(String, Vec<Mark>)> = Vec::new();
        for h in [one, other] {
            match (asked, h.readable.ends) {
                (Asked::End(_), Some([a, b])) if a != b => tells.push((
                    format!("one {} and one {}", words::end(a), words::end(b)),
                    h.marks.clone(),
                )),
                (Asked::End(_), Some([a, _])) => {
                    tells.push((format!("both {}", words::end(a)), h.marks.clone()));
                }
                _ => {
                    let shows = words_next::shows(self, asked, &h.readable);
                    tells.push((
                        shows.unwrap_or_else(|| "anything else".into()),
                        h.marks.clone(),
                    ));
                }
            }
        }
        let words = match asked {
            Asked::End(_) => words_next::ask_for("Look at both ends", &tells),
            _ => words_next::ask(asked, &tells),
        };
        Some(Quickest {
            asked,
            wrong,
            seconds,
            words,
        })
    }

    /// How often one is taken for the other by eye: by its look, its ends, its bend, and by its length and its size
    /// across, which the eye judges as a share. The looks are gone through one by one; for each the two sizes together
    /// are a matter of one normal variable, with what the looks say as its prior odds.
    fn by_eye(&self, one: &Hypothesis, other: &Hypothesis) -> f64 {
        let looks = match one.look == other.look {
            true => vec![[1.0, 1.0]],
            false if one.readable.kind != other.readable.kind => return 0.0,
            false => {
                let chance = |said: usize, h: &Hypothesis| {
                    self.looks.chance(said, Some((h.look, h.readable.kind)))
                };
                // Only what is said of one and would be right of the other: that both may be taken for a third thing
                // does not make them alike.
                [one.look, other.look]
                    .map(|said| [chance(said, one), chance(said, other)])
                    .to_vec()
            }
        };
        // The lesser of two densities is nowhere more than their geometric mean; of most pairs that is too little.
        let apart = eye_distance(one, other);
        let at_most: f64 = looks.iter().map(|[p, q]| 0.5 * (p * q).sqrt()).sum();
        if at_most * (-apart * apart / 8.0).exp() < WORTH_SHOWING {
            return 0.0;
        }
        let bends = BENDS.map(|said| [one, other].map(|h| looks::bend(said, Some(&h.readable))));
        let bends = match one.readable.bent == other.readable.bent {
            true => vec![[1.0, 1.0]],
            false => bends.to_vec(),
        };
        let ends = match one.readable.ends == other.readable.ends {
            true => vec![[1.0, 1.0]],
            false => both_ends(one, other),
        };
        let mut wrong = 0.0;
        for look in &looks {
            for bend in &bends {
                for end in &ends {
                    let [p, q] = [0, 1].map(|k| look[k] * bend[k] * end[k]);
                    wrong += wrong_about(p, q, apart);
                }
            }
        }
        wrong
    }
}

/// Marks that are alike in all that can be read.
fn same(one: &Hypothesis) -> Option<LookAlike> {
    let (first, rest) = one
        .marks
        .split_first()
        .filter(|(_, rest)| !rest.is_empty())?;
    Some(LookAlike {
        one: vec![first.clone()],
        other: rest.to_vec(),
        by_eye: 0.5,
        by_tape: one.readable.size(Quantity::Length).map(|_| 0.5),
        quickest: None,
        words: format!(
            "{first} and {}: nothing to measure tells them apart.",
            rest.iter()
                .map(|mark| mark.0.as_str())
                .collect::<Vec<_>>()
                .join(" and ")
        ),
    })
}

/// How many spreads lie between two pieces, to the eye.
fn eye_distance(one: &Hypothesis, other: &Hypothesis) -> f64 {
    let by = |quantity: Quantity, spread: f64| {
        let [a, b] = [one, other].map(|h| h.readable.size(quantity).map(|size| size.mean));
        match (a, b) {
            (Some(a), Some(b)) if a > 0.0 && b > 0.0 => (a / b).ln().abs() / spread,
            _ => 0.0,
        }
    };
    by(Quantity::Length, EYE_LENGTH).hypot(by(Quantity::Across, EYE_ACROSS))
}

/// Half the sum of the lesser of two densities: p and q times two normal ones that lie so many spreads apart.
fn wrong_about(p: f64, q: f64, apart: f64) -> f64 {
    if p <= 0.0 || q <= 0.0 {
        return 0.0;
    }
    if apart < 1e-9 {
        return 0.5 * p.min(q);
    }
    let odds = (p / q).ln() / apart;
    0.5 * (p * normal::below(-apart / 2.0 - odds) + q * normal::below(-apart / 2.0 + odds))
}

fn both_ends(one: &Hypothesis, other: &Hypothesis) -> Vec<[f64; 2]> {
    let said = |a: EndLook, b: EndLook| {
        [one, other].map(|h| looks::ends([Some(a), Some(b)], Some(&h.readable)))
    };
    (ENDS.iter())
        .flat_map(|&a| ENDS.iter().map(move |&b| said(a, b)))
        .collect()
}

/// How often one is taken for the other by both its ends.
fn ends_wrong(one: &Hypothesis, other: &Hypothesis) -> f64 {
    let chances = both_ends(one, other);
    chances.iter().map(|[p, q]| 0.5 * p.min(*q)).sum()
}

impl Question {
    /// How often one hypothesis is taken for another by the answer: half the sum of the lesser chances.
    pub(crate) fn wrong(&self, one: usize, other: usize) -> f64 {
        let [a, b] = [&self.rows[one], &self.rows[other]];
        let (mut left, mut right) = (a.near.as_slice(), b.near.as_slice());
        let mut near_any = 0.0;
        let mut least = 0.0;
        while let Some(answer) = (left.first().into_iter().chain(right.first()))
            .map(|n| n.0)
            .min()
        {
            let take = |near: &mut &[(u32, f64)]| match near.split_first() {
                Some((first, rest)) if first.0 == answer => {
                    *near = rest;
                    first.1
                }
                _ => 0.0,
            };
            let any = self.background(answer as usize);
            let p = take(&mut left) + a.weight * any;
            let q = take(&mut right) + b.weight * any;
            least += p.min(q);
            near_any += any;
        }
        let far = if self.way.is_some() {
            (1.0 - near_any).max(0.0)
        } else {
            0.0
        };
        0.5 * (least + a.weight.min(b.weight) * far)
    }
}
