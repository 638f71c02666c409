//! The chosen ways as a plan: what to do, one thing a line, what it costs, and how far it gets.

use super::offer::{Asked, Source};
use super::table::{Table, Written};
use super::{CutLine, Plan, Use, Way, WayKind};
use crate::how_far::how_far;
use crate::programme::Chosen;

impl Table<'_> {
    /// The plan of what was chosen.
    pub(crate) fn plan(&self, written: &Written, chosen: &Chosen) -> Plan {
        let asked = self.asked;
        let amount = |column: usize| chosen.amounts[column];
        let name = |mark: usize| asked.of.build.marks[mark].clone();
        let mut uses = Vec::new();
        let mut delay_days = [0, 0];
        let mut wait = |delay: [i64; 2]| {
            delay_days = [0, 1].map(|end| delay_days[end].max(delay[end]));
        };
        let [mut sure, mut allowed] = [asked.here.clone(), asked.here.clone()];
        let mut light = vec![0; asked.here.len()];
        for (offer, column) in self.offers.iter().zip(&written.pieces) {
            let pieces = amount(*column);
            if pieces > 0 {
                wait(offer.way.delay_days);
                if offer.light {
                    light[offer.mark] += pieces;
                } else {
                    allowed[offer.mark] += pieces;
                    if offer.way.counts() {
                        sure[offer.mark] += pieces;
                    }
                }
                uses.push(Use {
                    mark: name(offer.mark),
                    way: offer.way.key.clone(),
                    pieces,
                });
            }
        }
        // What may only go where nothing is carried makes up for nothing that carries.
        for amounts in [&mut sure, &mut allowed] {
            for (mark, pieces) in light.iter().enumerate() {
                if amounts[mark] >= asked.carrying_whole[mark] {
                    amounts[mark] += pieces;
                }
            }
        }
        for (index, less) in self.less.iter().enumerate() {
            if amount(written.less[index]) == 0 {
                continue;
            }
            wait(less.delay_days);
            // What a stage that waits frees as well, it frees.
            let twice = |mark: usize| -> i64 {
                (written.both.iter())
                    .filter(|both| both.shorter == index && amount(both.column) > 0)
                    .map(|both| self.twice(both, mark))
                    .sum()
            };
            for &mark in &self.short {
                let fewer = less.frees.iter().find(|(at, _)| *at == mark);
                let fewer = fewer.map(|(_, fewer)| fewer - twice(mark));
                uses.extend(fewer.filter(|fewer| *fewer > 0).map(|fewer| Use {
                    mark: name(mark),
                    way: less.key.clone(),
                    pieces: fewer.min(asked.lacks(mark)),
                }));
            }
        }
        for mark in 0..asked.here.len() {
            let left = super::less::left_to_later(asked, mark).into_iter();
            uses.extend(left.filter(|way| !way.is_out()).map(|way| Use {
                mark: name(mark),
                way: way.key,
                pieces: way.pieces,
            }));
        }
        uses.sort_unstable();
        Plan {
            uses,
            cuts: self.cuts(written, chosen),
            cost: asked.money(self.price(written, chosen)),
            delay_days,
            risk: self.risk_of(written, chosen),
            weighed: chosen.cost,
            says: self.says(written, chosen),
            proven: chosen.proven && self.lengths.whole,
            reaches: how_far(asked.of.build, &sure),
            if_allowed: how_far(asked.of.build, &allowed),
        }
    }

    /// What is cut or joined, of what into what.
    fn cuts(&self, written: &Written, chosen: &Chosen) -> Vec<CutLine> {
        let recipes = self.lengths.recipes.iter().zip(&written.recipes);
        (recipes.filter(|(_, column)| chosen.amounts[**column] > 0))
            .map(|(recipe, column)| CutLine {
                of: recipe.of.clone(),
                times: chosen.amounts[*column],
                joined: recipe.source == Source::Joined,
                makes: (recipe.makes.iter())
                    .map(|(want, n)| {
                        let want = &self.lengths.wants[*want];
                        (
                            self.asked.of.build.marks[want.mark].clone(),
                            want.overall,
                            *n,
                        )
                    })
                    .collect(),
            })
            .collect()
    }

    /// What to do, in the order in which it is done: ask, buy, cut, join, wait, leave.
    fn says(&self, written: &Written, chosen: &Chosen) -> Vec<String> {
        let asked = self.asked;
        let used = |kind: WayKind| {
            (self.offers.iter().zip(&written.pieces))
                .filter(move |(offer, column)| {
                    offer.way.kind == kind && chosen.amounts[**column] > 0
                })
                .map(|(offer, column)| (offer, chosen.amounts[*column]))
        };
        let list = |kind: WayKind, of: &dyn Fn(&Way) -> bool| -> Vec<String> {
            (used(kind).filter(|(offer, _)| of(&offer.way)))
                .map(|(offer, pieces)| format!("{pieces} {}", asked.short_name(offer.mark)))
                .collect()
        };
        let mut says = Vec::new();
        let to_ask = (self.offers.iter().zip(&written.pieces))
            .filter(|(offer, column)| chosen.amounts[**column] > 0 && !offer.way.counts())
            .count();
        let less = || {
            (self.less.iter().zip(&written.less))
                .filter(|(_, column)| chosen.amounts[**column] > 0)
                .map(|(less, _)| less)
        };
        let asks_less = less().any(|l| l.ask && l.stands != Some(tally::WayStands::Allowed));
        if to_ask > 0 || asks_less {
            says.push(
                "Ask the sender first; what they have not allowed yet is not counted on.".into(),
            );
        }
        let freight = list(WayKind::Freight, &|_| true);
        if !freight.is_empty() {
            says.push(format!(
                "By next-day freight from the sender: {}.",
                freight.join(", ")
            ));
        }
        let bought = list(WayKind::Buy, &|way| !way.ask_sender);
        let after = list(WayKind::Buy, &|way| way.ask_sender);
        if !bought.is_empty() {
            says.push(format!("Buy on one trip: {}.", bought.join(", ")));
        }
        if !after.is_empty() {
            says.push(format!(
                "Buy, once the sender said yes: {}.",
                after.join(", ")
            ));
        }
        for cut in self.cuts(written, chosen) {
            says.push(cut.in_words(asked.of.ordered.frame.system));
        }
        for (offer, pieces) in used(WayKind::Wait) {
            says.push(format!(
                "Wait for {pieces} {} in {}.",
                asked.short_name(offer.mark),
                offer.way.key.trim_start_matches("wait:")
            ));
        }
        says.extend(less().map(|less| less.says.clone()));
        let only: Vec<String> = (self.offers.iter().zip(&written.pieces))
            .filter(|(offer, column)| offer.light && chosen.amounts[**column] > 0)
            .map(|(offer, column)| {
                format!(
                    "{} {}",
                    chosen.amounts[*column],
                    asked.short_name(offer.mark)
                )
            })
            .collect();
        if !only.is_empty() {
            says.push(format!(
                "Use only after the film is on, where they carry nothing: {}. The sender's own go into the frame.",
                only.join(", ")
            ));
        }
        let later: Vec<Way> = (0..asked.here.len())
            .flat_map(|mark| super::less::left_to_later(asked, mark))
            .collect();
        says.extend(later.into_iter().map(|way| way.says));
        says
    }

    /// What to ask the sender for a plan, one question a line.
    pub(crate) fn questions(&self, written: &Written, chosen: &Chosen) -> Vec<String> {
        let asked = self.asked;
        let mut lines = Vec::new();
        let mut freight: Vec<String> = Vec::new();
        for (offer, column) in self.offers.iter().zip(&written.pieces) {
            let pieces = chosen.amounts[*column];
            if pieces == 0 || offer.way.counts() {
                continue;
            }
            let of = format!("{pieces} {}", asked.asked_as(offer.mark));
            match offer.way.kind {
                WayKind::Freight => freight.push(of),
                WayKind::Cut => lines.push(format!(
                    "We lack {of}. May we cut them from longer pieces of the same tube or board that we have here, holes and \
                     ends as on yours?"
                )),
                WayKind::Join => lines.push(format!(
                    "We lack {of}. May we join two shorter pieces, as your lines are joined, and where may the joint lie?"
                )),
                _ => lines.push(format!(
                    "We lack {of}. May we use what we can buy here of the same size ({}), and what grade must it be?",
                    offer.way.key.trim_start_matches("ask:buy:")
                )),
            }
        }
        if !freight.is_empty() {
            lines.insert(
                0,
                format!(
                    "Can you send {} by next-day freight today, when would it be here, and who pays?",
                    freight.join(", ")
                ),
            );
        }
        for (less, column) in self.less.iter().zip(&written.less) {
            let open = less.ask && less.stands != Some(tally::WayStands::Allowed);
            if chosen.amounts[*column] > 0 && open {
                lines.push(
                    "May we build one bay shorter for now and build the last bay on later, with the back end wall moved?"
                        .into(),
                );
            }
        }
        lines
    }
}

impl Asked<'_> {
    /// A mark as the sender is asked for it, short enough to be read out on the telephone: "G1 girt, 4 ft".
    fn asked_as(&self, mark: usize) -> String {
        let system = self.of.ordered.frame.system;
        let length = self.part(mark).and_then(|part| part.length);
        match length {
            Some(length) => format!("{}, {}", self.short_name(mark), length.tape(system)),
            None => self.short_name(mark),
        }
    }

    /// A mark with its noun: "N1 hex bolt".
    pub(crate) fn short_name(&self, mark: usize) -> String {
        let name = &self.of.build.marks[mark];
        match self.part(mark) {
            Some(part) => format!("{name} {}", part.noun),
            None => name.clone(),
        }
    }

    /// What to ask the sender, as it is read out: whose order, the questions by number, what stays missing.
    pub(crate) fn call_sender(
        &self,
        questions: Vec<String>,
        stuck: &[(String, i64)],
    ) -> Vec<String> {
        let mut questions = questions;
        for (mark, pieces) in stuck {
            let at = self.of.build.marks.iter().position(|known| known == mark);
            let named = at.map_or_else(|| mark.clone(), |at| self.asked_as(at));
            questions.push(format!(
                "We lack {pieces} {named} and know no way round it. When can you send them?"
            ));
        }
        if questions.is_empty() {
            return questions;
        }
        let order = &self.of.ordered.order;
        let about = match &order.number {
            Some(number) => format!("About order {number}, {}:", order.name),
            None => format!("About the order of {}:", order.name),
        };
        let numbered = questions.iter().enumerate();
        let numbered = numbered.map(|(at, question)| format!("{}. {question}", at + 1));
        std::iter::once(about).chain(numbered).collect()
    }
}

impl CutLine {
    /// "Cut 2 × spare R1 into 3 G1 of 4 ft each".
    pub fn in_words(&self, system: measure::System) -> String {
        let makes: Vec<String> = (self.makes.iter())
            .map(|(mark, length, n)| format!("{n} {mark} of {}", length.tape(system)))
            .collect();
        match self.joined {
            true => format!(
                "Join {}, {} times: {}.",
                self.of,
                self.times,
                makes.join(", ")
            ),
            false => format!(
                "Cut each of {} × {} into {}.",
                self.times,
                self.of,
                makes.join(", ")
            ),
        }
    }
}
