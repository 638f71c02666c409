//! What may be asked for, with the chance of every answer if the piece is this or that: worked out once a kit.
//!
//! Every hypothesis gives every mark of a tape some chance, since anything may be read. That part is the same for all but
//! for its weight: so a row holds the weight, and what the hypothesis adds to it where it is near.

use crate::error_model::{ANY_SIZE, MOST_HOLES, seconds};
use crate::kit::{Hypothesis, Kit};
use crate::looks::{self, BENDS, COATINGS, ENDS, KINDS};
use crate::reading::{Size, Tool, Which};
use crate::way::Way;

/// What may be asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Asked {
    /// What kind of thing is it?
    Kind,
    /// What does it look like?
    Looks,
    /// How does an end look?
    End(Which),
    /// Is it straight?
    Bend,
    /// What is its coating?
    Coating,
    /// How many holes has it?
    Holes,
    /// A size, with a tool.
    Size {
        /// Which.
        of: Size,
        /// With what.
        with: Tool,
    },
    /// Its mass, on a scale that shows steps of so much.
    Mass {
        /// The step.
        step_micrograms: i64,
    },
}

/// A question with the chance of every answer to it.
#[derive(Clone, Debug)]
pub(crate) struct Question {
    pub asked: Asked,
    pub seconds: f64,
    /// The way of measuring, unless it is judged by eye.
    pub way: Option<Way>,
    /// The chance of each answer when nothing is known, and that times its logarithm; empty of what is judged by eye.
    background: Vec<(f64, f64)>,
    /// One a hypothesis, that of anything last.
    pub rows: Vec<Row>,
    pub answers: usize,
}

/// The chance of each answer, if the piece is one thing.
#[derive(Clone, Debug, Default)]
pub(crate) struct Row {
    /// How many times the background.
    pub weight: f64,
    /// What is added to it: answer, chance.
    pub near: Vec<(u32, f64)>,
    /// Of the answers, in nats.
    pub entropy: f64,
}

impl Question {
    /// All questions that can be asked with the tools of a kit.
    pub(crate) fn all(kit: &Kit) -> Vec<Self> {
        let by_eye = [
            (Asked::Kind, seconds::KIND, KINDS.len()),
            (Asked::Looks, seconds::LOOKS, kit.looks.len()),
            (Asked::End(Which::One), seconds::END, ENDS.len()),
            (Asked::Bend, seconds::BEND, BENDS.len()),
            (Asked::Coating, seconds::COATING, COATINGS.len()),
            (Asked::Holes, seconds::HOLES, MOST_HOLES as usize + 2),
        ];
        let by_eye = by_eye.into_iter().map(|(asked, seconds, answers)| {
            Self::by_eye(kit, asked, seconds, answers, |h, answer| {
                chance_by_eye(kit, asked, h, answer)
            })
        });
        by_eye.chain(sizes(kit)).collect()
    }

    /// A question that is answered by eye, or by counting.
    pub(crate) fn by_eye(
        kit: &Kit,
        asked: Asked,
        seconds: f64,
        answers: usize,
        chance: impl Fn(Option<&Hypothesis>, usize) -> f64,
    ) -> Self {
        let row = |h: Option<&Hypothesis>| {
            let chances = (0..answers).map(|answer| chance(h, answer));
            Row {
                weight: 0.0,
                entropy: chances.clone().map(|p| -p_ln_p(p)).sum(),
                near: chances.enumerate().map(|(a, p)| (a as u32, p)).collect(),
            }
        };
        Self {
            asked,
            seconds,
            way: None,
            background: Vec::new(),
            rows: (kit.hypotheses.iter().map(Some))
                .chain([None])
                .map(row)
                .collect(),
            answers,
        }
    }

    fn with_tool(kit: &Kit, asked: Asked, seconds: f64, way: Way) -> Self {
        let starts = starts(kit, way);
        let range = |i: usize| {
            (
                starts[i],
                starts.get(i + 1).map_or(way.last() + 1, |next| next - 1),
            )
        };
        let background = (0..starts.len())
            .map(|i| way.chance_of_any(range(i).0, range(i).1))
            .map(|chance| (chance, p_ln_p(chance)))
            .collect();
        let anything = Row {
            weight: 1.0,
            ..Row::default()
        };
        let rows = (kit.hypotheses.iter())
            .map(|h| {
                let Some(spread) = way.of_part(&h.readable) else {
                    return anything.clone();
                };
                let mut near: Vec<(u32, f64)> = Vec::new();
                for middle in way.middles(spread.mean) {
                    let at = |amount: f64| {
                        let count = way.count(amount);
                        starts.partition_point(|start| *start <= count) - 1
                    };
                    let far = 6.0 * spread.sd;
                    for i in at(middle - far)..=at(middle + far) {
                        let (from, to) = range(i);
                        if near.iter().all(|(known, _)| *known != i as u32) {
                            near.push((
                                i as u32,
                                way.chance_meant(spread.mean, spread.sd, way.within(from, to)),
                            ));
                        }
                    }
                }
                near.sort_unstable_by_key(|(answer, _)| *answer);
                Row {
                    weight: ANY_SIZE,
                    near,
                    entropy: 0.0,
                }
            })
            .chain([anything.clone()])
            .collect();
        let mut question = Self {
            asked,
            seconds,
            way: Some(way),
            background,
            rows,
            answers: starts.len(),
        };
        question.set_entropies();
        question
    }

    fn set_entropies(&mut self) {
        let mut near = vec![0.0; self.answers];
        for h in 0..self.rows.len() {
            for (answer, chance) in &self.rows[h].near {
                near[*answer as usize] = *chance;
            }
            let entropy = self.entropy_of(self.rows[h].weight, |answer| near[answer]);
            self.rows[h].entropy = entropy;
            for (answer, _) in &self.rows[h].near {
                near[*answer as usize] = 0.0;
            }
        }
    }

    /// The chance of an answer when nothing is known; nought of what is judged by eye.
    pub(crate) fn background(&self, answer: usize) -> f64 {
        self.background
            .get(answer)
            .map_or(0.0, |(chance, _)| *chance)
    }

    /// Minus the sum of p ln p over all answers, of so much of the background and what is near.
    pub(crate) fn entropy_of(&self, weight: f64, near: impl Fn(usize) -> f64) -> f64 {
        let weight_ln = p_ln_p(weight);
        let mut sum = 0.0;
        for answer in 0..self.answers {
            let near = near(answer);
            let (any, any_ln) = self.background.get(answer).copied().unwrap_or_default();
            sum += match near > 0.0 {
                true => p_ln_p(near + weight * any),
                // No logarithm where nothing is near, which is nearly everywhere.
                false => weight * any_ln + any * weight_ln,
            };
        }
        -sum
    }
}

pub(crate) fn p_ln_p(p: f64) -> f64 {
    if p > 0.0 { p * p.ln() } else { 0.0 }
}

pub(crate) fn chance_by_eye(kit: &Kit, asked: Asked, h: Option<&Hypothesis>, answer: usize) -> f64 {
    let part = h.map(|h| &h.readable);
    match asked {
        Asked::Kind => looks::kind(KINDS[answer], part),
        Asked::Looks => kit
            .looks
            .chance(answer, h.map(|h| (h.look, h.readable.kind))),
        Asked::End(_) => looks::ends([Some(ENDS[answer]), None], part),
        Asked::Bend => looks::bend(BENDS[answer], part),
        Asked::Coating => looks::coating(COATINGS[answer], part),
        Asked::Holes => looks::holes(answer as i64, part),
        Asked::Size { .. } | Asked::Mass { .. } => 0.0,
    }
}

/// What can be measured with the tools of a kit.
fn sizes(kit: &Kit) -> impl Iterator<Item = Question> {
    let tools = kit.tools;
    let marks = tools.marks;
    let tape = tools.tape.map(|class| Tool::Tape { marks, class });
    let string = tools.string.then_some(Tool::String { marks });
    let caliper = tools.caliper.then_some(Tool::Caliper { marks });
    let plate = tools.gauge_plate.then_some(Tool::GaugePlate { marks });
    let sizes = [
        (Size::Length, tape, seconds::LENGTH),
        (Size::Across, tape, seconds::TAPE_ACROSS),
        (Size::Around, string, seconds::AROUND),
        (Size::Across, caliper, seconds::CALIPER),
        (Size::Wall, caliper, seconds::WALL),
        (Size::Wall, plate, seconds::WALL),
        (Size::Chord, tape, seconds::CHORD),
        (Size::Rise, tape, seconds::RISE),
        (Size::HoleSpacing, tape, seconds::HOLE_SPACING),
    ];
    let sizes = sizes.into_iter().filter_map(|(of, with, seconds)| {
        let with = with?;
        let way = Way::of(of, with)?;
        Some(Question::with_tool(
            kit,
            Asked::Size { of, with },
            seconds,
            way,
        ))
    });
    let mass = tools.scale.map(|step| {
        let step_micrograms = step.as_micrograms();
        let asked = Asked::Mass { step_micrograms };
        Question::with_tool(kit, asked, seconds::MASS, Way::scale(step_micrograms))
    });
    sizes.chain(mass)
}

/// Where the answers to a measurement start, in counts of the tool's marks. Neighbouring counts make one answer where the
/// marks lie closer than half the narrowest spread about: what is lost by that is nothing that could be told apart.
pub(crate) fn starts(kit: &Kit, way: Way) -> Vec<i64> {
    let mut about: Vec<(i64, i64, i64)> = Vec::new();
    for spread in kit
        .hypotheses
        .iter()
        .filter_map(|h| way.of_part(&h.readable))
    {
        let width = ((spread.sd / 2.0 / way.step()).floor() as i64).max(1);
        for middle in way.middles(spread.mean) {
            let far = 5.0 * spread.sd;
            about.push((way.count(middle - far), way.count(middle + far) + 1, width));
        }
    }
    about.sort_unstable();
    let mut starts = Vec::new();
    let mut coming = about.into_iter().peekable();
    let mut here: Vec<(i64, i64)> = Vec::new();
    let mut at = 0;
    while at <= way.last() + 1 {
        starts.push(at);
        while let Some((_, end, width)) = coming.next_if(|(from, ..)| *from <= at) {
            here.push((end, width));
        }
        here.retain(|(end, _)| *end > at);
        let width = here.iter().map(|(_, width)| *width).min();
        let next = coming.peek().map_or(i64::MAX, |(from, ..)| *from);
        at = match width {
            Some(width) => next.min(at + width),
            None => next.min(way.last() + 2),
        };
    }
    starts
}
