//! What to read next: that which tells most a second, of what can still change the decision.

use frame::Mark;

use crate::error_model::{CONFIDENCE, seconds};
use crate::evidence::Evidence;
use crate::kit::Kit;
use crate::looks::{self, ENDS};
use crate::question::{Asked, Question, Row};
use crate::reading::{Reading, Which};
use crate::words_next;

/// What to read next.
#[derive(Clone, Debug, PartialEq)]
pub struct Next {
    /// "Measure its length with a tape: 10 ft 6 in is R2, 10 ft 7 in is R1".
    pub words: String,
    /// What to read.
    pub asked: Asked,
    /// What it is expected to tell of the mark, in bits.
    pub bits: f64,
    /// How long it takes; a design value of ours.
    pub seconds: f64,
    /// What the likeliest marks would show, in words; most likely first.
    pub tells: Vec<(String, Vec<Mark>)>,
}

/// A reading that tells less than this is not worth the walk.
pub(crate) const LEAST_BITS: f64 = 0.01;
/// A reading that leads to another decision more seldom than this does not change it.
pub(crate) const SELDOM: f64 = 1e-3;
/// What all that is left out of the reckoning may come to.
pub(crate) const LEFT_OUT: f64 = 1e-4;

/// What a question is expected to bring.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Worth {
    pub bits: f64,
    /// How likely the answer leads to another decision than now.
    pub changes: f64,
}

impl Kit {
    /// What to read next; nothing when the piece is told, or nothing that can be read would tell more.
    pub fn next(&self, readings: &[Reading]) -> Option<Next> {
        self.next_but(readings, &[])
    }

    /// As [`Kit::next`], where some things cannot be read: the scale is at the other pile, an end is buried.
    pub fn next_but(&self, readings: &[Reading], cannot: &[Asked]) -> Option<Next> {
        let evidence = self.evidence(readings);
        let chances = self.chances(&evidence);
        self.is_open(&chances).then_some(())?;
        let likely = likely(&chances);
        let other_end = self.other_end(&evidence);
        let asked: Vec<(&Question, Worth)> = (self.questions().iter())
            .filter(|question| evidence.leaves_open(question))
            .chain(&other_end)
            .filter(|question| !cannot.contains(&question.asked))
            .map(|question| (question, self.worth(question, &chances, &likely)))
            .filter(|(_, worth)| worth.bits >= LEAST_BITS && worth.changes >= SELDOM)
            .collect();
        let (question, worth) = self.soonest(&asked, &evidence, &chances, &likely)?;
        let tells = words_next::tells(self, question.asked, &chances);
        Some(Next {
            words: words_next::ask(question.asked, tells.said()),
            asked: question.asked,
            bits: worth.bits,
            seconds: question.seconds,
            tells: tells.tells,
        })
    }

    pub(crate) fn questions(&self) -> &[Question] {
        self.questions.get_or_init(|| Question::all(self))
    }

    pub(crate) fn is_open(&self, chances: &[f64]) -> bool {
        let (ours, none) = chances.split_at(self.ours);
        none.iter().sum::<f64>() < CONFIDENCE && ours.iter().all(|chance| *chance < CONFIDENCE)
    }

    /// After one end was looked at, the other is another question: it depends on what was seen of the first.
    pub(crate) fn other_end(&self, evidence: &Evidence) -> Option<Question> {
        let (which, seen) = match evidence.ends {
            [Some(seen), None] => (Which::Other, seen),
            [None, Some(seen)] => (Which::One, seen),
            _ => return None,
        };
        let asked = Asked::End(which);
        Some(Question::by_eye(
            self,
            asked,
            seconds::END,
            ENDS.len(),
            |h, answer| {
                let part = h.map(|h| &h.readable);
                let both = looks::ends([Some(seen), Some(ENDS[answer])], part);
                both / looks::ends([Some(seen), None], part)
            },
        ))
    }

    /// What an answer is expected to tell of the mark: the entropy of the answers less that which is left of it once the
    /// mark is known. Which of the other orders a piece comes from is not asked, so all that is none of this order is one.
    pub(crate) fn worth(&self, question: &Question, chances: &[f64], likely: &[usize]) -> Worth {
        let mut all = Mixture::new(question);
        let mut none = Mixture::new(question);
        let mut left = 0.0;
        for &h in likely {
            all.add(&question.rows[h], chances[h]);
            if h < self.ours {
                left += chances[h] * question.rows[h].entropy;
            } else {
                none.add(&question.rows[h], chances[h]);
            }
        }
        let bits = (all.entropy(question) - left - none.entropy(question)).max(0.0);
        let then = self.then(question, chances, likely, &none);
        let changes = (then.iter().enumerate())
            .filter(|(_, (_, differs))| *differs)
            .map(|(answer, _)| all.at(question, answer));
        Worth {
            bits: bits / std::f64::consts::LN_2,
            changes: changes.sum(),
        }
    }

    /// After each answer, the likeliest of this order, if it is likelier than none of it; and whether that is another than
    /// now, or decided.
    pub(crate) fn then(
        &self,
        question: &Question,
        chances: &[f64],
        likely: &[usize],
        none: &Mixture,
    ) -> Vec<(Option<usize>, bool)> {
        // Where no hypothesis is near, the likeliest is so by its weight alone.
        let ours = || likely.iter().filter(|h| **h < self.ours);
        let far = ours()
            .map(|&h| (chances[h] * question.rows[h].weight, h))
            .fold((0.0, usize::MAX), |a, b| if b.0 > a.0 { b } else { a });
        let weight: f64 = ours().map(|&h| chances[h] * question.rows[h].weight).sum();
        let mut best: Vec<(f64, usize, f64)> = (0..question.answers)
            .map(|answer| {
                let any = question.background(answer);
                (far.0 * any, far.1, weight * any)
            })
            .collect();
        for &h in ours() {
            let row = &question.rows[h];
            for (answer, near) in &row.near {
                let answer = *answer as usize;
                let chance = chances[h] * (near + row.weight * question.background(answer));
                let (most, likeliest, sum) = &mut best[answer];
                if chance > *most {
                    (*most, *likeliest) = (chance, h);
                }
                *sum += chances[h] * near;
            }
        }
        let now = likeliest(ours().map(|&h| (chances[h], h)), none.chance);
        (best.into_iter().enumerate())
            .map(|(answer, (chance, h, sum))| {
                let none = none.at(question, answer);
                let then = likeliest([(chance, h)], none);
                let decides = chance.max(none) >= CONFIDENCE * (sum + none);
                (then, decides || then != now)
            })
            .collect()
    }
}

/// The likeliest hypothesis of this order; nothing where none of this order is likelier.
fn likeliest(ours: impl IntoIterator<Item = (f64, usize)>, none: f64) -> Option<usize> {
    let (chance, h) =
        (ours.into_iter()).fold((0.0, usize::MAX), |a, b| if b.0 > a.0 { b } else { a });
    (chance > none).then_some(h)
}

/// The hypotheses that matter, the likeliest first: what is left out comes to no more than [`LEFT_OUT`].
pub(crate) fn likely(chances: &[f64]) -> Vec<usize> {
    let mut likely: Vec<usize> = (0..chances.len()).collect();
    likely.sort_by(|a, b| chances[*b].total_cmp(&chances[*a]));
    let mut sum = 0.0;
    let enough = likely.iter().position(|h| {
        sum += chances[*h];
        sum >= 1.0 - LEFT_OUT
    });
    likely.truncate(enough.map_or(chances.len(), |last| last + 1));
    likely
}

/// The chances of all answers, over several hypotheses.
pub(crate) struct Mixture {
    /// Of the hypotheses together.
    pub chance: f64,
    /// How many times the background.
    pub weight: f64,
    near: Vec<f64>,
}

impl Mixture {
    pub(crate) fn new(question: &Question) -> Self {
        Self {
            chance: 0.0,
            weight: 0.0,
            near: vec![0.0; question.answers],
        }
    }

    pub(crate) fn add(&mut self, row: &Row, chance: f64) {
        self.chance += chance;
        self.weight += chance * row.weight;
        for (answer, near) in &row.near {
            self.near[*answer as usize] += chance * near;
        }
    }

    pub(crate) fn at(&self, question: &Question, answer: usize) -> f64 {
        self.near[answer] + self.weight * question.background(answer)
    }

    /// The entropy of the answers within these hypotheses, times the chance of those; in nats.
    fn entropy(&self, question: &Question) -> f64 {
        if self.chance <= 0.0 {
            return 0.0;
        }
        question.entropy_of(self.weight, |answer| self.near[answer])
            + self.chance * self.chance.ln()
    }
}
