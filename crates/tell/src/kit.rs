//! The parts that a piece may be: those of the order, those known of other orders, and anything else.

use std::sync::OnceLock;

use frame::{Family, Mark, Order, Part, PartsList, expand};
use measure::System;

use crate::again;
use crate::error_model::{KNOWN_ELSEWHERE, NONE_OF_THIS_ORDER};
use crate::evidence::Evidence;
use crate::looks::LookList;
use crate::question::Question;
use crate::readable::{QUANTITIES, Readable, Spread};
use crate::reading::Reading;
use crate::tools::Tools;

/// A part of another order, which may have got among those of this one.
#[derive(Clone, Debug, PartialEq)]
pub struct KnownPart {
    /// Whose part it is, such as the family's title.
    pub of: String,
    /// The part.
    pub part: Part,
}

impl KnownPart {
    /// The parts of these families: of the shortest house each, as it is ordered when nothing is chosen, and with each
    /// choice by itself. For an order of one of them, leave that family out: its parts are better known from the order.
    pub fn of_families<'a>(families: impl IntoIterator<Item = &'a Family>) -> Vec<Self> {
        families.into_iter().flat_map(parts_of_family).collect()
    }
}

fn parts_of_family(family: &Family) -> Vec<KnownPart> {
    let plain = Order {
        name: family.name.clone(),
        family: family.name.clone(),
        length: family.lengths()[0].write(System::Metric, measure::Grid::NANOMETRE),
        bow_spacing: None,
        uneven: family.may_be_uneven().first().map(|way| String::from(*way)),
        number: None,
        sender: None,
        site: None,
        units: None,
        options: Default::default(),
        front: Default::default(),
        back: Default::default(),
        left: Default::default(),
        right: Default::default(),
    };
    let mut orders = vec![plain.clone()];
    for option in family.choices() {
        for choice in &option.choices {
            let mut order = plain.clone();
            let table = match option.tables() {
                ["front", ..] => &mut order.front,
                ["left", ..] => &mut order.left,
                _ => &mut order.options,
            };
            table.insert(option.key.clone(), choice.clone());
            orders.push(order);
        }
    }
    let mut known: Vec<KnownPart> = Vec::new();
    // What cannot be built with one choice alone is left out: this is a list of what is likely about, no more.
    for frame in orders.iter().filter_map(|order| expand(order, family).ok()) {
        for line in PartsList::of(&frame).lines {
            if known.iter().all(|k| k.part != line.part) {
                known.push(KnownPart {
                    of: family.title.clone(),
                    part: line.part,
                });
            }
        }
    }
    known
}

/// What a piece may be.
#[derive(Clone, Debug)]
pub(crate) struct Hypothesis {
    /// Several where nothing that can be read tells them apart.
    pub marks: Vec<Mark>,
    /// The head word of the first.
    pub noun: String,
    /// Whose part it is, if not of this order.
    pub elsewhere: Option<KnownPart>,
    pub readable: Readable,
    /// Its number in the list of looks.
    pub look: usize,
    /// Its chance before anything is read.
    pub prior: f64,
    /// Which of the kit's sizes it has, of each quantity.
    pub sizes: [usize; QUANTITIES],
}

/// All there is to a size: parts that have it in common show the same on every tool.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct SizeOf {
    /// Nothing where the part has no such size, or the list does not tell it.
    pub spread: Option<Spread>,
    pub around: f64,
    pub bent: bool,
}

impl SizeOf {
    /// A size of anything at all.
    pub(crate) const ANYTHING: Self = Self {
        spread: None,
        around: std::f64::consts::PI,
        bent: false,
    };
}

/// The parts of an order, ready to be told apart.
#[derive(Clone, Debug)]
pub struct Kit {
    /// Those of the order first.
    pub(crate) hypotheses: Vec<Hypothesis>,
    pub(crate) ours: usize,
    /// The chance of anything else.
    pub(crate) anything: f64,
    pub(crate) looks: LookList,
    /// The sizes that its parts have, each once, of each quantity; that of anything first.
    pub(crate) sizes: [Vec<SizeOf>; QUANTITIES],
    pub(crate) system: System,
    pub(crate) tools: Tools,
    pub(crate) questions: OnceLock<Vec<Question>>,
}

impl Kit {
    /// The parts of an order with how many of each come, and the parts known of other orders.
    ///
    /// Before anything is read, a piece is as likely to be of a mark as the mark's share of all pieces. Marks that are
    /// alike in all that can be read make one candidate; a part of another order that is like one of this is left out.
    pub fn of<'a>(
        parts: impl IntoIterator<Item = (&'a Part, i64)>,
        elsewhere: &[KnownPart],
        system: System,
    ) -> Self {
        let mut ours: Vec<Hypothesis> = Vec::new();
        for (part, quantity) in parts {
            let readable = Readable::of(part);
            let pieces = quantity.max(0) as f64;
            match ours.iter_mut().find(|h| h.readable == readable) {
                Some(alike) => {
                    alike.marks.push(part.mark.clone());
                    alike.prior += pieces;
                }
                None => ours.push(Hypothesis::new(part, readable, None, pieces)),
            }
        }
        let mut others: Vec<Hypothesis> = Vec::new();
        for known in elsewhere {
            let readable = Readable::of(&known.part);
            let is_known = |h: &Hypothesis| h.readable == readable;
            if !ours.iter().any(is_known) && !others.iter().any(is_known) {
                let of = Some(known.clone());
                others.push(Hypothesis::new(&known.part, readable, of, 1.0));
            }
        }
        let known = if others.is_empty() {
            0.0
        } else {
            KNOWN_ELSEWHERE
        };
        let none = if ours.is_empty() {
            1.0
        } else {
            NONE_OF_THIS_ORDER
        };
        share_out(&mut ours, 1.0 - none);
        share_out(&mut others, none * known);
        let looks = LookList::of(ours.iter().chain(&others).map(|h| &h.readable));
        let mut kit = Self {
            ours: ours.len(),
            hypotheses: ours.into_iter().chain(others).collect(),
            anything: none * (1.0 - known),
            looks,
            sizes: std::array::from_fn(|_| vec![SizeOf::ANYTHING]),
            system,
            tools: Tools::usual(system),
            questions: OnceLock::new(),
        };
        for hypothesis in &mut kit.hypotheses {
            hypothesis.look = kit.looks.find(&hypothesis.readable.look);
            for (quantity, sizes) in kit.sizes.iter_mut().enumerate() {
                let size = hypothesis.readable.size_of(quantity);
                hypothesis.sizes[quantity] = sizes
                    .iter()
                    .position(|known| *known == size)
                    .unwrap_or_else(|| {
                        sizes.push(size);
                        sizes.len() - 1
                    });
            }
        }
        kit
    }

    /// As [`Kit::of`], of a parts list, with what the sender packs of each.
    pub fn of_list(list: &PartsList, elsewhere: &[KnownPart], system: System) -> Self {
        let parts = list.lines.iter().map(|line| (&line.part, line.supplied));
        Self::of(parts, elsewhere, system)
    }

    /// The same kit, where only these tools are at hand.
    pub fn with_tools(mut self, tools: Tools) -> Self {
        self.tools = tools;
        self.questions = OnceLock::new();
        self
    }

    /// The words for what a piece looks like, that [`Reading::Looks`] takes.
    pub fn looks(&self) -> impl Iterator<Item = &str> {
        self.looks.words()
    }

    /// The parts known of other orders that are told apart from those of this one: each that can be told from all others,
    /// once.
    pub fn elsewhere(&self) -> impl Iterator<Item = &KnownPart> {
        (self.hypotheses.iter()).filter_map(|h| h.elsewhere.as_ref())
    }

    /// The chance of each hypothesis after what was read, that of anything else last. They sum to one.
    pub(crate) fn chances(&self, evidence: &Evidence) -> Vec<f64> {
        let measured: Vec<(usize, Vec<f64>)> = (self.sizes.iter().enumerate())
            .filter(|(quantity, _)| !evidence.sizes[*quantity].is_empty())
            .map(|(quantity, sizes)| {
                let shown = &evidence.sizes[quantity];
                let logs = sizes.iter().map(|size| again::chance(shown, *size).ln());
                (quantity, logs.collect())
            })
            .collect();
        let anything = (None, self.anything);
        let each = self.hypotheses.iter().map(|h| (Some(h), h.prior));
        let mut chances: Vec<f64> = (each.chain([anything]))
            .map(|(of, prior)| {
                let sizes = |(quantity, logs): &(usize, Vec<f64>)| {
                    logs[of.map_or(0, |h| h.sizes[*quantity])]
                };
                let looks = evidence.chance_of_looks(of, &self.looks);
                (prior * looks).ln() + measured.iter().map(sizes).sum::<f64>()
            })
            .collect();
        let most = chances.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        chances
            .iter_mut()
            .for_each(|log| *log = (*log - most).exp());
        let sum: f64 = chances.iter().sum();
        chances
            .iter_mut()
            .for_each(|chance| *chance = (*chance / sum).min(1.0));
        chances
    }

    /// How likely a piece of this mark is read so, all readings together; with no mark, anything that is on no list. Of
    /// what is judged by eye the last of a kind counts. Nothing where no mark of the order is called so.
    pub fn chance_of(&self, mark: Option<&Mark>, readings: &[Reading]) -> Option<f64> {
        let evidence = self.evidence(readings);
        let of = match mark {
            Some(mark) => {
                Some((self.hypotheses[..self.ours].iter()).find(|h| h.marks.contains(mark))?)
            }
            None => None,
        };
        let sizes = (self.sizes.iter().zip(&evidence.sizes).enumerate())
            .map(|(quantity, (sizes, shown))| {
                again::chance(shown, sizes[of.map_or(0, |h| h.sizes[quantity])])
            })
            .product::<f64>();
        Some(evidence.chance_of_looks(of, &self.looks) * sizes)
    }

    pub(crate) fn evidence(&self, readings: &[Reading]) -> Evidence {
        Evidence::of(readings, &self.looks)
    }
}

impl Hypothesis {
    fn new(part: &Part, readable: Readable, elsewhere: Option<KnownPart>, prior: f64) -> Self {
        Self {
            marks: vec![part.mark.clone()],
            noun: part.noun.clone(),
            elsewhere,
            readable,
            look: 0,
            prior,
            sizes: [0; QUANTITIES],
        }
    }
}

/// Priors as shares of a whole; where no quantity is known each is as likely as the next.
fn share_out(hypotheses: &mut [Hypothesis], whole: f64) {
    let sum: f64 = hypotheses.iter().map(|h| h.prior).sum();
    let each = 1.0 / hypotheses.len().max(1) as f64;
    for hypothesis in hypotheses {
        let share = if sum > 0.0 {
            hypothesis.prior / sum
        } else {
            each
        };
        hypothesis.prior = whole * share;
    }
}
