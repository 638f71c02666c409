//! How good the order of the questions is: against the best there is, found by going through every course that the asking
//! can take, and against the bound that entropy sets.
//!
//! Small sets of tubes, a tape and the eye: five questions. Marks of the tape that no part is near are one answer. Asking
//! ends when a mark is at the stated confidence, or nothing is left to ask.

use std::collections::HashMap;

use frame::{Mark, PartsList};
use measure::{Length, System};
use tell::{
    Asked, BendLook, CONFIDENCE, EndLook, Kit, Marks, Reading, Size, TapeClass, Tool, Tools, Which,
};

use crate::draw::{ENDS, everything};
use crate::house::{DEMO, LARGEST, list, part};

const TAPE: Tool = Tool::Tape {
    marks: Marks::Inch,
    class: TapeClass::Handbook44,
};
const QUESTIONS: [(Asked, f64); 5] = [
    (Asked::Bend, 2.0),
    (Asked::End(Which::One), 3.0),
    (Asked::End(Which::Other), 3.0),
    (
        Asked::Size {
            of: Size::Across,
            with: TAPE,
        },
        8.0,
    ),
    (
        Asked::Size {
            of: Size::Length,
            with: TAPE,
        },
        20.0,
    ),
];

/// Which answer each question got, if any.
type State = [Option<u8>; 5];

struct Asking {
    kit: Kit,
    priors: Vec<f64>,
    /// By question, the answers there are.
    answers: Vec<Vec<Reading>>,
    /// By question, answer and hypothesis; of the two ends together `ends`.
    chances: Vec<Vec<Vec<f64>>>,
    ends: Vec<Vec<Vec<f64>>>,
    cannot: Vec<Asked>,
    best: HashMap<State, f64>,
}

fn tape(of: Size, sixteenths: i64) -> Reading {
    Reading::Size {
        of,
        nanometres: Length::sixty_fourths(4 * sixteenths).as_nanometres(),
        with: TAPE,
    }
}

impl Asking {
    fn of(list: &PartsList, marks: &[(&str, i64)]) -> Self {
        let parts = marks.iter().map(|(mark, n)| (part(list, mark), *n));
        let kit =
            Kit::of(parts, &[], System::FeetInch).with_tools(Tools::tape_only(System::FeetInch));
        let all: f64 = marks.iter().map(|(_, n)| *n as f64).sum();
        let priors = (marks.iter().map(|(_, n)| 0.98 * *n as f64 / all))
            .chain([0.02])
            .collect();
        let marks: Vec<Option<Mark>> = (marks.iter().map(|(m, _)| Some(Mark((*m).into()))))
            .chain([None])
            .collect();
        let chance = |readings: &[Reading]| -> Vec<f64> {
            marks
                .iter()
                .map(|m| kit.chance_of(m.as_ref(), readings).unwrap())
                .collect()
        };
        let bends: Vec<Reading> = [BendLook::Straight, BendLook::Bent]
            .map(|is| Reading::Bend { is })
            .into();
        let end = |end: Which, is: EndLook| Reading::End { end, is };
        let ends =
            |which: Which| -> Vec<Reading> { ENDS.iter().map(|is| end(which, *is)).collect() };
        let mut answers = vec![bends, ends(Which::One), ends(Which::Other)];
        let mut chances: Vec<Vec<Vec<f64>>> = (answers.iter())
            .map(|answers| {
                answers
                    .iter()
                    .map(|r| chance(std::slice::from_ref(r)))
                    .collect()
            })
            .collect();
        for (of, most) in [(Size::Across, 64), (Size::Length, 3_200)] {
            let (mut near, mut near_chances): (Vec<Reading>, Vec<Vec<f64>>) = (1..most)
                .map(|n| (tape(of, n), chance(&[tape(of, n)])))
                .filter(|(_, p)| p[..p.len() - 1].iter().any(|p| *p > 1.5e-3))
                .unzip();
            let rest = (0..marks.len())
                .map(|h| 1.0 - near_chances.iter().map(|p| p[h]).sum::<f64>())
                .collect();
            near.push(tape(of, 40_000));
            near_chances.push(rest);
            answers.push(near);
            chances.push(near_chances);
        }
        let both = (ENDS.iter())
            .map(|a| {
                ENDS.iter()
                    .map(|b| chance(&[end(Which::One, *a), end(Which::Other, *b)]))
                    .collect()
            })
            .collect();
        let cannot = (everything(System::FeetInch).into_iter())
            .filter(|asked| QUESTIONS.iter().all(|(q, _)| q != asked))
            .collect();
        Self {
            kit,
            priors,
            answers,
            chances,
            ends: both,
            cannot,
            best: HashMap::new(),
        }
    }

    /// Prior times the chance of all answers, by hypothesis.
    fn weights(&self, state: &State) -> Vec<f64> {
        (0..self.priors.len())
            .map(|h| {
                let one = |q: usize| state[q].map_or(1.0, |a| self.chances[q][a as usize][h]);
                let ends = match (state[1], state[2]) {
                    (Some(a), Some(b)) => self.ends[a as usize][b as usize][h],
                    _ => one(1) * one(2),
                };
                self.priors[h] * one(0) * ends * one(3) * one(4)
            })
            .collect()
    }

    fn is_decided(weights: &[f64]) -> bool {
        let all: f64 = weights.iter().sum();
        weights.iter().any(|w| *w >= CONFIDENCE * all)
    }

    /// The expected seconds after a question, and the expected readings, with what it costs after each answer.
    fn after(
        &mut self,
        state: &State,
        q: usize,
        cost: &mut dyn FnMut(&mut Self, &State) -> [f64; 3],
    ) -> [f64; 3] {
        let all: f64 = self.weights(state).iter().sum();
        let mut sums = [QUESTIONS[q].1, 1.0, 0.0];
        for answer in 0..self.answers[q].len() {
            let mut then = *state;
            then[q] = Some(answer as u8);
            let chance = self.weights(&then).iter().sum::<f64>() / all;
            if chance > 1e-9 {
                let more = cost(self, &then);
                sums.iter_mut()
                    .zip(more)
                    .for_each(|(sum, more)| *sum += chance * more);
            }
        }
        sums
    }

    /// The least expected seconds from here on.
    fn best(&mut self, state: &State) -> f64 {
        if let Some(known) = self.best.get(state) {
            return *known;
        }
        let open: Vec<usize> = (0..5).filter(|q| state[*q].is_none()).collect();
        let cost = if open.is_empty() || Self::is_decided(&self.weights(state)) {
            0.0
        } else {
            open.into_iter()
                .map(|q| self.after(state, q, &mut |asking, then| [asking.best(then), 0.0, 0.0])[0])
                .fold(f64::INFINITY, f64::min)
        };
        self.best.insert(*state, cost);
        cost
    }

    /// The expected seconds and readings when the kit says what to ask, and the bits that it says it gains. Where it has
    /// nothing more to ask, and nothing is decided, the rest is asked as is best.
    fn ours(&mut self, state: &State) -> [f64; 3] {
        if Self::is_decided(&self.weights(state)) || state.iter().all(Option::is_some) {
            return [0.0; 3];
        }
        let readings: Vec<Reading> = (state.iter().enumerate())
            .filter_map(|(q, answer)| answer.map(|a| self.answers[q][a as usize].clone()))
            .collect();
        let Some(next) = self.kit.next_but(&readings, &self.cannot) else {
            return [self.best(state), 0.0, 0.0];
        };
        let q = QUESTIONS
            .iter()
            .position(|(asked, _)| *asked == next.asked)
            .unwrap();
        assert_eq!(next.seconds, QUESTIONS[q].1);
        let mut cost = self.after(state, q, &mut |asking, then| asking.ours(then));
        cost[2] += next.bits;
        cost
    }
}

fn entropy(priors: &[f64]) -> f64 {
    priors.iter().map(|p| -p * p.log2()).sum()
}

#[test]
fn the_order_of_the_questions_is_within_a_twentieth_of_the_best() {
    let (demo, _) = list(DEMO);
    let (largest, _) = list(LARGEST);
    let sets: [(&PartsList, &[(&str, i64)]); 6] = [
        (&demo, &[("R1", 15), ("S1", 8)]),
        (&demo, &[("P1", 26), ("R1", 15), ("S1", 8)]),
        (&demo, &[("P1", 1), ("B1", 1), ("R1", 1), ("S1", 1)]),
        (
            &demo,
            &[("P1", 26), ("B1", 26), ("R1", 15), ("S1", 8), ("H1", 1)],
        ),
        (&largest, &[("R1", 19), ("R2", 114), ("T1", 94), ("S1", 15)]),
        (&largest, &[("V1", 94), ("V2", 94), ("V3", 47), ("G1", 8)]),
    ];
    let mut worst: f64 = 1.0;
    for (list, marks) in sets {
        let mut asking = Asking::of(list, marks);
        let start = [None; 5];
        let best = asking.best(&start);
        let [seconds, readings, bits] = asking.ours(&start);
        let most = entropy(&asking.priors);
        println!(
            "{marks:?}: {seconds:.2} s in {readings:.2} readings, best {best:.2} s: {:.3} of it; {bits:.2} of {most:.2} bits",
            seconds / best
        );
        worst = worst.max(seconds / best);
        assert!(seconds >= best - 1e-6, "nothing is better than the best");
        // What is gained on the way is never more than there was to know; and an answer can never tell more than the
        // logarithm of how many things it can tell apart, here one more than there are marks.
        assert!(bits <= most + 1e-9);
        let bound = bits / (marks.len() as f64 + 1.0).log2();
        assert!(readings >= bound, "{readings} {bound}");
    }
    assert!(worst <= 1.05, "{worst:.3} of the best");
}
