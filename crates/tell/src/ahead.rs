//! Some questions ahead: which question leads to a decision soonest, when what it leaves open must be asked too.
//!
//! The most bits a second is not always the shortest way: a quick question may leave just what only a slow one tells. So
//! where few candidates are left, the courses that the asking can take are gone through, a few questions deep. For that
//! the answers to a question are put together that speak for the same candidate, and about as clearly.

use std::collections::BTreeMap;

use crate::error_model::{CONFIDENCE, seconds};
use crate::evidence::Evidence;
use crate::kit::Kit;
use crate::looks::{self, ENDS};
use crate::next::{Mixture, Worth};
use crate::question::{Asked, Question, p_ln_p};
use crate::reading::Which;

/// With more candidates than this the most bits a second is asked for: nothing is near a decision then.
const MOST_CANDIDATES: usize = 8;
/// And with less than this held by them.
const NEARLY_ALL: f64 = 0.99;
/// No more questions than this are gone through, those that tell most a second.
const MOST_QUESTIONS: usize = 6;
/// How deep, at most.
const DEPTH: usize = 4;
/// How many courses are gone through, about; fewer questions deep where that would be more.
const MOST_COURSES: f64 = 4_000.0;

/// A question with its answers put together: a row an answer, with its chance under each candidate, none of them last.
struct Brief {
    asked: Asked,
    seconds: f64,
    answers: Vec<Vec<f64>>,
}

impl Kit {
    /// The question that leads to a decision soonest.
    pub(crate) fn soonest<'a>(
        &self,
        asked: &[(&'a Question, Worth)],
        evidence: &Evidence,
        chances: &[f64],
        likely: &[usize],
    ) -> Option<(&'a Question, Worth)> {
        let mut asked = asked.to_vec();
        asked.sort_by(|(a, x), (b, y)| (y.bits / b.seconds).total_cmp(&(x.bits / a.seconds)));
        let candidates: Vec<usize> = (likely.iter().copied())
            .filter(|h| *h < self.ours)
            .take(MOST_CANDIDATES)
            .collect();
        let none: f64 = chances[self.ours..].iter().sum();
        let held: f64 = candidates.iter().map(|h| chances[*h]).sum::<f64>() + none;
        if held < NEARLY_ALL || asked.len() < 2 {
            return asked.first().copied();
        }
        asked.truncate(MOST_QUESTIONS);
        let others = self.none_of(chances, likely);
        let mut briefs: Vec<Brief> = (asked.iter())
            .map(|(question, _)| Brief::of(question, self, &candidates, &others))
            .collect();
        let may_look = (asked.iter()).any(|(question, _)| question.asked == Asked::End(Which::One));
        let both = self.both_ends(evidence).filter(|_| may_look);
        briefs.extend(both.map(|both| Brief::of(&both, self, &candidates, &others)));

        let weights: Vec<f64> = candidates
            .iter()
            .map(|h| chances[*h])
            .chain([none])
            .collect();
        let depth = depth(&briefs);
        let open: Vec<&Brief> = briefs.iter().collect();
        let (_, first) = soonest(&open, &weights, depth);
        let first = first?;
        asked
            .into_iter()
            .find(|(question, _)| question.asked == first)
    }

    /// What is none of this order, each with its chance.
    fn none_of(&self, chances: &[f64], likely: &[usize]) -> Vec<(usize, f64)> {
        (likely.iter())
            .filter(|h| **h >= self.ours)
            .map(|h| (*h, chances[*h]))
            .collect()
    }

    /// Both ends one after the other, if neither was looked at.
    fn both_ends(&self, evidence: &Evidence) -> Option<Question> {
        (evidence.ends == [None, None]).then_some(())?;
        let asked = Asked::End(Which::One);
        let answers = ENDS.len() * ENDS.len();
        Some(Question::by_eye(
            self,
            asked,
            2.0 * seconds::END,
            answers,
            |h, answer| {
                let seen = [answer / ENDS.len(), answer % ENDS.len()].map(|end| Some(ENDS[end]));
                looks::ends(seen, h.map(|h| &h.readable))
            },
        ))
    }
}

impl Brief {
    fn of(question: &Question, kit: &Kit, candidates: &[usize], others: &[(usize, f64)]) -> Self {
        let mut none = Mixture::new(question);
        for (h, chance) in others {
            none.add(&question.rows[*h], *chance);
        }
        // Where no candidate is near all answers are alike. With none of them told apart, anything stands for the rest.
        let rest = match others.is_empty() {
            true => question.rows[kit.hypotheses.len()].weight,
            false => none.weight / none.chance,
        };
        let mut near: BTreeMap<usize, Vec<f64>> = BTreeMap::new();
        let row = |answer: usize| {
            let any = question.background(answer);
            let mut row: Vec<f64> = candidates
                .iter()
                .map(|h| question.rows[*h].weight * any)
                .collect();
            row.push(match others.is_empty() {
                true => rest * any,
                false => none.at(question, answer) / none.chance,
            });
            row
        };
        for (i, h) in candidates.iter().enumerate() {
            for (answer, chance) in &question.rows[*h].near {
                let answer = *answer as usize;
                near.entry(answer).or_insert_with(|| row(answer))[i] += chance;
            }
        }
        let mut left: Vec<f64> = vec![1.0; candidates.len() + 1];
        let mut kinds: BTreeMap<(usize, usize), Vec<f64>> = BTreeMap::new();
        for row in near.into_values() {
            let kind = kinds
                .entry(speaks_for(&row))
                .or_insert_with(|| vec![0.0; row.len()]);
            for ((kind, left), chance) in kind.iter_mut().zip(&mut left).zip(row) {
                *kind += chance;
                *left -= chance;
            }
        }
        let left = left.into_iter().map(|chance| chance.max(0.0)).collect();
        Self {
            asked: question.asked,
            seconds: question.seconds,
            answers: kinds.into_values().chain([left]).collect(),
        }
    }
}

/// The candidate that an answer speaks for, and how clearly: not, somewhat, clearly.
fn speaks_for(row: &[f64]) -> (usize, usize) {
    let (mut first, mut second, mut at) = (0.0, 0.0, 0);
    for (i, chance) in row.iter().enumerate() {
        if *chance > first {
            (second, first, at) = (first, *chance, i);
        } else if *chance > second {
            second = *chance;
        }
    }
    let clearly = match first / f64::max(second, f64::MIN_POSITIVE) {
        r if r < 3.0 => 0,
        r if r < 20.0 => 1,
        _ => 2,
    };
    (at, clearly)
}

/// As deep as the courses are not too many.
fn depth(briefs: &[Brief]) -> usize {
    let answers = briefs.iter().map(|b| b.answers.len()).sum::<usize>() as f64;
    let mut courses = 1.0;
    let each = answers / briefs.len().max(1) as f64;
    for deep in 0..DEPTH {
        courses *= each * briefs.len().saturating_sub(deep) as f64;
        if courses > MOST_COURSES {
            return deep.max(1);
        }
    }
    DEPTH
}

/// The least seconds to a decision, times the sum of the weights, and what is asked first for that. Where nothing is left
/// to ask it takes no more time; what lies too deep is reckoned at the pace of the quickest that is left.
fn soonest(open: &[&Brief], weights: &[f64], depth: usize) -> (f64, Option<Asked>) {
    let chance: f64 = weights.iter().sum();
    let decided = weights.iter().any(|w| *w >= CONFIDENCE * chance);
    if decided || open.is_empty() || chance < 1e-6 {
        return (0.0, None);
    }
    if depth == 0 {
        return (at_their_pace(open, weights), None);
    }
    let (mut least, mut first) = (f64::INFINITY, None);
    for brief in open {
        let then: Vec<&Brief> = (open.iter().copied())
            .filter(|other| other.asked != brief.asked)
            .collect();
        let mut cost = chance * brief.seconds;
        for answer in &brief.answers {
            if cost >= least {
                break;
            }
            let after: Vec<f64> = weights.iter().zip(answer).map(|(w, p)| w * p).collect();
            cost += soonest(&then, &after, depth - 1).0;
        }
        if cost < least {
            (least, first) = (cost, Some(brief.asked));
        }
    }
    (least, first)
}

fn at_their_pace(open: &[&Brief], weights: &[f64]) -> f64 {
    let chance: f64 = weights.iter().sum();
    let before = entropy(weights.iter().copied());
    let each = open.iter().map(|brief| {
        let after = brief
            .answers
            .iter()
            .map(|answer| entropy(weights.iter().zip(answer).map(|(w, p)| w * p)));
        let told = before - after.sum::<f64>();
        chance * brief.seconds * (before / told.max(0.01 * before)).max(1.0)
    });
    each.fold(f64::INFINITY, f64::min)
}

/// Times the sum of the weights.
fn entropy(weights: impl Iterator<Item = f64>) -> f64 {
    let (mut sum, mut each) = (0.0, 0.0);
    for weight in weights {
        sum += weight;
        each += p_ln_p(weight);
    }
    p_ln_p(sum) - each
}
