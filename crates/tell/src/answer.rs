//! What a piece is, as far as the readings say: the words first, then the figures behind them.

use frame::Mark;

use crate::error_model::CONFIDENCE;
use crate::kit::{Hypothesis, Kit, KnownPart};
use crate::odd::{Odd, odd};
use crate::reading::Reading;
use crate::words;

/// What a piece is, as far as the readings say.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    /// "Almost surely R2, 97 %".
    pub words: String,
    /// What is decided at [`CONFIDENCE`], if anything.
    pub decided: Option<Decided>,
    /// All candidates of this order, the likeliest first. With `none` their probabilities sum to one.
    pub candidates: Vec<Candidate>,
    /// How likely the piece is none of this order.
    pub none: f64,
    /// The likeliest of the parts known of other orders, and how likely the piece is that.
    pub nearest_elsewhere: Option<(KnownPart, f64)>,
    /// Readings that do not fit the likeliest candidate: worth a second look.
    pub odd: Vec<Odd>,
}

/// A mark that the piece may be of; or several that nothing to measure tells apart.
#[derive(Clone, Debug, PartialEq)]
pub struct Candidate {
    /// The marks; mostly one.
    pub marks: Vec<Mark>,
    /// The trade's head word for the first, such as "ground post".
    pub noun: String,
    /// How likely the piece is one of them.
    pub probability: f64,
}

/// What the readings decide.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Decided {
    /// It is of this mark; or of one of these, which nothing to measure tells apart.
    Is(Vec<Mark>),
    /// It is none of this order.
    NoneOfThisOrder,
}

impl Candidate {
    /// "R2", or "R1 or R3".
    pub fn name(&self) -> String {
        words::either(&self.marks)
    }
}

impl Answer {
    /// The one mark that is decided; nothing where none is, or several that cannot be told apart.
    pub fn mark(&self) -> Option<&Mark> {
        match &self.decided {
            Some(Decided::Is(marks)) => match marks.as_slice() {
                [mark] => Some(mark),
                _ => None,
            },
            _ => None,
        }
    }

    /// How likely a mark is; its whole candidate's, where it cannot be told from others.
    pub fn probability_of(&self, mark: &Mark) -> f64 {
        (self.candidates.iter())
            .find(|candidate| candidate.marks.contains(mark))
            .map_or(0.0, |candidate| candidate.probability)
    }
}

impl Kit {
    /// What a piece is, as far as these readings of it say. Their order matters only where the last of a kind counts.
    pub fn answer(&self, readings: &[Reading]) -> Answer {
        let evidence = self.evidence(readings);
        let chances = self.chances(&evidence);
        let (ours, others) = chances.split_at(self.ours);
        let none = others.iter().sum::<f64>().min(1.0);
        let mut candidates: Vec<Candidate> = (self.hypotheses.iter().zip(ours))
            .map(|(hypothesis, chance)| Candidate {
                marks: hypothesis.marks.clone(),
                noun: hypothesis.noun.clone(),
                probability: *chance,
            })
            .collect();
        candidates.sort_by(|a, b| b.probability.total_cmp(&a.probability));
        let decided = decided(&candidates, none);
        let nearest_elsewhere = (self.hypotheses[self.ours..].iter().zip(others))
            .max_by(|a, b| a.1.total_cmp(b.1))
            .and_then(|(h, chance)| Some((h.elsewhere.clone()?, *chance)));
        let words = words::of_answer(&candidates, none, nearest_elsewhere.as_ref(), &decided);
        Answer {
            words,
            decided,
            none,
            nearest_elsewhere,
            odd: self
                .likeliest(ours, none)
                .map_or_else(Vec::new, |of| odd(self, of, readings)),
            candidates,
        }
    }

    fn likeliest(&self, ours: &[f64], none: f64) -> Option<&Hypothesis> {
        let (h, chance) = (self.hypotheses.iter().zip(ours)).max_by(|a, b| a.1.total_cmp(b.1))?;
        (*chance > none).then_some(h)
    }
}

fn decided(candidates: &[Candidate], none: f64) -> Option<Decided> {
    if none >= CONFIDENCE {
        return Some(Decided::NoneOfThisOrder);
    }
    let first = candidates.first()?;
    (first.probability >= CONFIDENCE).then(|| Decided::Is(first.marks.clone()))
}
