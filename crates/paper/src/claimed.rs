//! What is claimed from the carrier of a shipment, and what stands open before it can be. The page of prices and the
//! claim itself take it from here, so that both name the same sum.

use claim::Zone;
use tally::{About, Answer, Conditioned, MarkDifference, Money, Point, Standing};

use crate::concealed_of::kinds;
use crate::letter::{Carriage, Missing};
use crate::letter_facts::{UNFIT, carriage_of, short};
use crate::of_shipment::{harm_of, here, may_be_of};
use crate::said::{self, cost_field, harmed_field, lost_field};

/// What is claimed from one carrier.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Claimed<'a> {
    /// Mark by mark.
    pub lines: Vec<ClaimedLine<'a>>,
    /// Other costs, by what they are for.
    pub costs: Vec<(&'a str, Money)>,
    /// What a person must say first; none of it is in the sum.
    pub open: Vec<Open>,
    /// What is not claimed, and why.
    pub remarks: Vec<String>,
}

/// One mark that is claimed.
#[derive(Debug, Clone, PartialEq)]
pub struct ClaimedLine<'a> {
    /// The mark.
    pub mark: &'a MarkDifference,
    /// Whether it came and cannot be built with; otherwise it did not come.
    pub damaged: bool,
    /// What happened, in a word or two.
    pub kind: String,
    /// Pieces.
    pub quantity: i64,
    /// The price of one, where somebody said it.
    pub each: Option<Money>,
}

/// Something that only a person can say.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Open {
    /// The field of the log that holds the answer.
    pub field: String,
    /// What is asked: `how many of the 3 harmed pieces of R1 came with Load 1`.
    pub asks: String,
    /// Why.
    pub why: String,
}

impl From<Open> for Missing {
    fn from(open: Open) -> Self {
        Self::of(open.asks, open.why)
    }
}

/// Returns what is claimed from the carrier of a shipment.
///
/// A piece is claimed of one carrier alone: where lists and days do not say which it came with, a person must. Pieces
/// that did not come are claimed where fewer units came off the truck than the bill has, and a person says that they
/// were in those. What the sender sends or credits is not claimed a second time.
pub fn claimed_of<'a>(standing: &'a Standing, shipment: &str, zone: &Zone) -> Claimed<'a> {
    let mut claimed = Claimed::default();
    let Some(difference) = &standing.difference else {
        return claimed;
    };
    let carriage = carriage_of(standing, shipment, zone);
    for mark in &difference.marks {
        claimed.add_harmed(standing, shipment, zone, mark);
    }
    let mut left_out = false;
    for mark in difference.marks.iter().filter(|m| may_be_of(m, shipment)) {
        left_out |= claimed.add_lost(standing, &carriage, mark);
    }
    if left_out {
        claimed.remarks.push(
            "What is short in the count is not claimed here: nothing says that the carrier had it. It is in the notice \
             to the sender."
                .into(),
        );
    }
    claimed.add_costs(standing, shipment, zone);
    claimed
}

impl<'a> Claimed<'a> {
    fn add_harmed(
        &mut self,
        standing: &'a Standing,
        shipment: &str,
        zone: &Zone,
        mark: &'a MarkDifference,
    ) {
        let (known, open) = harm_of(standing, zone, mark, shipment, &UNFIT);
        let all: Vec<&Conditioned> = known.iter().chain(&open).copied().collect();
        if all.is_empty() {
            return;
        }
        let field = harmed_field(&mark.mark);
        let total = pieces(&all);
        if let Some(said) = said::pieces(&standing.state.affairs, &field, shipment) {
            let every: i64 = (standing.shipments.keys())
                .filter_map(|name| said::pieces(&standing.state.affairs, &field, name))
                .fold(0, i64::saturating_add);
            if every > total {
                self.open.push(Open {
                    field,
                    asks: format!(
                        "how many harmed pieces of {} came with {shipment}",
                        mark.mark
                    ),
                    why: format!("{every} are said of all shipments, and {total} were seen"),
                });
            } else {
                self.line(standing, mark, true, kinds(&all), said);
            }
            return;
        }
        if !open.is_empty() {
            self.open.push(Open {
                field,
                asks: format!(
                    "how many of the {total} harmed pieces of {} came with {shipment}",
                    mark.mark
                ),
                why: "lists and days leave it open, and no piece is claimed of two carriers".into(),
            });
            return;
        }
        let made_good = made_good(standing, About::Unfit, &mark.mark).min(total);
        self.say_made_good(&mark.mark, made_good);
        self.line(standing, mark, true, kinds(&known), total - made_good);
    }

    /// Adds pieces that did not come; returns whether some are short and nothing says that the carrier had them.
    fn add_lost(
        &mut self,
        standing: &'a Standing,
        carriage: &Carriage,
        mark: &'a MarkDifference,
    ) -> bool {
        let short = short(standing, mark).min(mark.short());
        if short <= 0 {
            return false;
        }
        let units = carriage.units_billed.zip(carriage.units_counted);
        if units.is_none_or(|(billed, counted)| counted >= billed) {
            return true;
        }
        let credited = credited(standing, About::Short, &mark.mark).min(short);
        self.say_made_good(&mark.mark, credited);
        let left = short - credited;
        let field = lost_field(&mark.mark);
        match said::pieces(&standing.state.affairs, &field, &carriage.shipment) {
            Some(said) if said <= left => {
                self.line(standing, mark, false, "did not come".into(), said);
            }
            None if left == 0 => {}
            _ => self.open.push(Open {
                field,
                asks: format!(
                    "how many of the {left} pieces of {} that are short were in what did not come off the truck",
                    mark.mark
                ),
                why: "a unit that did not come says nothing of what was in it".into(),
            }),
        }
        false
    }

    fn add_costs(&mut self, standing: &'a Standing, shipment: &str, zone: &Zone) {
        let affairs = &standing.state.affairs;
        let here = here(standing, zone);
        let alone = matches!(here.as_slice(), [(name, _)] if *name == shipment);
        for (words, sum) in &affairs.costs {
            let field = cost_field(words);
            match affairs.written(&field, None).trim() {
                said if said == shipment => self.costs.push((words, *sum)),
                "" if alone => self.costs.push((words, *sum)),
                "" => self.open.push(Open {
                    field,
                    asks: format!("which carrier is asked for “{words}”"),
                    why: "several shipments came, and no cost is claimed twice".into(),
                }),
                // Another carrier is asked, or none.
                _ => {}
            }
        }
    }

    fn line(
        &mut self,
        standing: &Standing,
        mark: &'a MarkDifference,
        damaged: bool,
        kind: String,
        quantity: i64,
    ) {
        if quantity > 0 {
            self.lines.push(ClaimedLine {
                each: standing.state.affairs.prices.get(&mark.mark).copied(),
                mark,
                damaged,
                kind,
                quantity,
            });
        }
    }

    fn say_made_good(&mut self, mark: &str, made_good: i64) {
        if made_good > 0 {
            self.remarks.push(format!(
                "{mark}: {made_good} not claimed here, for the sender sends or credits them."
            ));
        }
    }
}

impl ClaimedLine<'_> {
    /// What the line comes to, where it has a price.
    pub fn sum(&self) -> Option<Money> {
        self.each.map(|each| each.times(self.quantity))
    }
}

fn pieces(seen: &[&Conditioned]) -> i64 {
    (seen.iter()).fold(0, |sum, seen| sum.saturating_add(seen.quantity))
}

/// Pieces that the sender sends or credits. Which of several harmed pieces they are for nobody says: none is claimed
/// while it may be made good already.
fn made_good(standing: &Standing, about: About, mark: &str) -> i64 {
    answered(standing, about, mark, |answer| match answer {
        Answer::Sends { quantity, .. } | Answer::Credits { quantity, .. } => *quantity,
        _ => 0,
    })
}

/// Pieces that the sender credits; those that it sends are not short any more.
fn credited(standing: &Standing, about: About, mark: &str) -> i64 {
    answered(standing, about, mark, |answer| match answer {
        Answer::Credits { quantity, .. } => *quantity,
        _ => 0,
    })
}

fn answered(standing: &Standing, about: About, mark: &str, of: fn(&Answer) -> i64) -> i64 {
    let point = standing.state.affairs.points.get(&Point::of(about, mark));
    let answers = point.into_iter().flat_map(|seen| &seen.answers);
    answers.fold(0, |sum, seen| sum.saturating_add(of(&seen.answer)))
}
