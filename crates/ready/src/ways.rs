//! What would help: ways round what is short, priced, and the cheapest plan of them that makes the build whole.
//!
//! Every way has a stable key, so that what people say of it ([`tally::WaySaid`]) finds it again. What changes the
//! structure is a question to the sender: its key begins with `ask:`, and its pieces count only once the sender said
//! yes.

mod buy;
pub mod cut;
mod fewer;
mod figures;
mod join;
mod lengths;
mod less;
mod loads;
mod made;
mod of_job;
mod offer;
mod plan;
mod send;
pub mod stock;
mod table;

pub(crate) use loads::{carries_nothing, carrying};
pub use of_job::what_would_help;
pub use send::FAST_FREIGHT;
pub(crate) use send::FREIGHT_KEY;
pub use stock::{Price, Setting, Stock, StockFault};

use jiff::civil::Date;
use measure::Length;
use tally::{Money, Ordered, State, WayStands};

use offer::{Asked, Lengths};
use table::Table;

use crate::build::Build;
use crate::how_far::HowFar;
use crate::of_standing::ASK_FIRST;
use crate::programme::Programme;
use crate::supply::Supplies;

/// What is asked: what would help this build.
#[derive(Clone, Copy, Debug)]
pub struct Situation<'a> {
    /// The order.
    pub ordered: &'a Ordered,
    /// What was said and seen.
    pub state: &'a State,
    /// The build.
    pub build: &'a Build,
    /// What there is of each mark, and what comes.
    pub supplies: &'a Supplies,
    /// The stages (by index) that the day is to see done, with all that they follow; empty: the whole build.
    pub stages: &'a [usize],
    /// What shops have and what things cost; [`Stock::shipped`] comes with the program.
    pub stock: &'a Stock,
    /// Today.
    pub today: Date,
    /// The crew's day; nothing: today.
    pub day: Option<Date>,
}

/// What kind of way it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum WayKind {
    /// Bought in a shop nearby.
    Buy,
    /// Cut from something longer.
    Cut,
    /// Taken from a stage that waits.
    Later,
    /// Two shorter pieces, joined.
    Join,
    /// Sent by the sender, the fastest way.
    Freight,
    /// It was promised and comes.
    Wait,
    /// The house is built shorter by a bay for now.
    Shorter,
}

/// A way round a shortage of one mark.
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    /// Its stable name; `ask:` in front where the sender is asked first.
    pub key: String,
    /// What kind of way it is.
    pub kind: WayKind,
    /// What to do, in words.
    pub says: String,
    /// The most pieces of the mark that it makes good.
    pub pieces: i64,
    /// What these cost, from the least to the most; nothing where it costs nothing.
    pub cost: Option<[Money; 2]>,
    /// Days from today until they are there, the soonest and the latest.
    pub delay_days: [i64; 2],
    /// The chance that it does not come off.
    pub risk: f64,
    /// Whether the sender is asked first.
    pub ask_sender: bool,
    /// Whether it changes what carries the house.
    pub structural: bool,
    /// How it stands, where somebody spoke of it.
    pub stands: Option<WayStands>,
    /// Where its figures are from, and how sure they are.
    pub source: String,
}

/// Whether a way, by its key, puts more pieces there. One that needs fewer for now, or waits for what was promised anyway,
/// does not.
pub fn brings_pieces(key: &str) -> bool {
    let name = key.strip_prefix(ASK_FIRST).unwrap_or(key);
    !(name.starts_with("later:") || name.starts_with("wait:") || name == "shorter")
}

impl Way {
    /// Whether its pieces may be counted on: nobody need be asked, or the sender said yes.
    pub fn counts(&self) -> bool {
        match self.stands {
            Some(WayStands::Refused | WayStands::Dropped) => false,
            Some(WayStands::Allowed) => true,
            _ => !self.ask_sender,
        }
    }

    /// Whether it is out: refused, or dropped.
    pub fn is_out(&self) -> bool {
        matches!(self.stands, Some(WayStands::Refused | WayStands::Dropped))
    }
}

/// A mark of which there are too few.
#[derive(Clone, Debug, PartialEq)]
pub struct ShortMark {
    /// The mark.
    pub mark: String,
    /// Its place in the parts list.
    pub at: usize,
    /// How many the whole build lacks.
    pub missing: i64,
    /// How many of those the stages asked for lack.
    pub asked: i64,
    /// The first stage (by index) that lacks some.
    pub stage: usize,
    /// The ways round it; those that need no leave first.
    pub ways: Vec<Way>,
}

/// So many pieces of a mark by one way.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Use {
    /// The mark.
    pub mark: String,
    /// The way, by its key.
    pub way: String,
    /// Pieces that it makes good.
    pub pieces: i64,
}

/// Something that is cut, or two things that are joined.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CutLine {
    /// What is cut, or joined, in words.
    pub of: String,
    /// How often.
    pub times: i64,
    /// Whether it is joined.
    pub joined: bool,
    /// What each gives: mark, length, how many.
    pub makes: Vec<(String, Length, i64)>,
}

/// Ways chosen together for all marks.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// Which ways, for how many pieces.
    pub uses: Vec<Use>,
    /// What is cut or joined, of what into what.
    pub cuts: Vec<CutLine>,
    /// What it costs, from the least to the most.
    pub cost: [Money; 2],
    /// Days from today until the last of it is there, the soonest and the latest.
    pub delay_days: [i64; 2],
    /// The chance that not all of it comes off; the ways are taken to be independent of each other.
    pub risk: f64,
    /// What it is weighed at, in hundredths: money, days that the crew waits and risk, of each range the middle. The plan
    /// has the least of all.
    pub weighed: i64,
    /// What to do, one thing a line.
    pub says: Vec<String>,
    /// Whether no plan costs less, by the solver's own proof.
    pub proven: bool,
    /// How far the build gets with what needs no leave or has it.
    pub reaches: HowFar,
    /// How far it gets once the sender said yes to the rest.
    pub if_allowed: HowFar,
}

/// What would help.
#[derive(Clone, Debug, PartialEq)]
pub struct Help {
    /// What is short, in the order of the parts list.
    pub shorts: Vec<ShortMark>,
    /// The plan of least cost; nothing where nothing is short, or no way helps.
    pub plan: Option<Plan>,
    /// The cheapest plan that does without at least one way of the first.
    pub runner_up: Option<Plan>,
    /// Marks that no ways together make good, with how many stay missing.
    pub stuck: Vec<(String, i64)>,
    /// What to ask the sender, line by line, to be read out on the phone or sent; empty where nothing is to be asked.
    pub questions: Vec<String>,
}

impl Situation<'_> {
    /// The stages that are asked for, with all that they follow.
    pub(crate) fn asked(&self) -> Vec<bool> {
        let stages = &self.build.stages;
        if self.stages.is_empty() {
            return vec![true; stages.len()];
        }
        let mut asked = vec![false; stages.len()];
        let mut left = self.stages.to_vec();
        while let Some(stage) = left.pop() {
            if asked.get(stage) == Some(&false) {
                asked[stage] = true;
                left.extend(&stages[stage].follows);
            }
        }
        asked
    }
}

/// What would help: every way round each short mark, and the cheapest plan of them.
pub fn what_helps(situation: &Situation) -> Help {
    let asked = Asked::of(situation);
    let marks = 0..asked.here.len();
    let missing: Vec<usize> = marks.filter(|mark| asked.missing(*mark) > 0).collect();
    let table = Table::of(&asked, &missing);
    let shorts = missing.iter().map(|mark| table.short_mark(*mark)).collect();
    let mut help = Help {
        shorts,
        plan: None,
        runner_up: None,
        stuck: Vec::new(),
        questions: Vec::new(),
    };
    if missing.is_empty() {
        return help;
    }
    let Ok((written, chosen, stay)) = table.cheapest() else {
        return help;
    };
    help.stuck = (table.short.iter().zip(&stay))
        .filter(|(_, stays)| **stays > 0)
        .map(|(mark, stays)| (situation.build.marks[*mark].clone(), *stays))
        .collect();
    let questions = table.questions(&written, &chosen);
    help.questions = asked.call_sender(questions, &help.stuck);
    let plan = table.plan(&written, &chosen);
    if !plan.uses.is_empty() {
        let second = table.runner_up(&chosen, &stay).ok();
        help.runner_up = second.map(|(written, chosen)| table.plan(&written, &chosen));
        help.plan = Some(plan);
    }
    help
}

/// The programmes that a situation comes down to, to hold other solvers against ours: the plan's, and that of the
/// runner-up. None where nothing is short.
pub fn programmes(situation: &Situation) -> Vec<Programme> {
    let asked = Asked::of(situation);
    let marks = 0..asked.here.len();
    let missing: Vec<usize> = marks.filter(|mark| asked.missing(*mark) > 0).collect();
    let table = Table::of(&asked, &missing);
    let Some((first, chosen, stay)) = table.cheapest().ok().filter(|_| !missing.is_empty()) else {
        return Vec::new();
    };
    let second = table.without_one(&chosen, &stay);
    std::iter::once(first.programme)
        .chain(second.map(|written| written.programme))
        .collect()
}

impl<'a> Table<'a> {
    /// Everything that is offered for what the whole build lacks.
    fn of(asked: &'a Asked<'a>, missing: &[usize]) -> Self {
        let lengths = Lengths::of(asked, missing);
        let mut offers = Vec::new();
        for &mark in missing {
            offers.extend(buy::bought(asked, mark));
            offers.extend(made::made(asked, &lengths, mark));
            offers.extend(send::promised(asked, mark));
            offers.extend(send::sent_fast(asked, mark));
        }
        let mut less = less::stages_that_may_wait(asked);
        less.extend(less::shorter(asked));
        Self {
            asked,
            short: (missing.iter().copied())
                .filter(|mark| asked.lacks(*mark) > 0)
                .collect(),
            offers,
            less,
            lengths,
        }
    }

    fn short_mark(&self, mark: usize) -> ShortMark {
        let asked = self.asked;
        let of_mark = self.offers.iter().filter(|offer| offer.mark == mark);
        let mut ways: Vec<Way> = of_mark.map(|offer| offer.way.clone()).collect();
        ways.extend(less::left_to_later(asked, mark));
        ways.extend(self.less.iter().filter_map(|less| less.way(asked, mark)));
        ways.sort_by(|a, b| (a.ask_sender, a.kind, &a.key).cmp(&(b.ask_sender, b.kind, &b.key)));
        ShortMark {
            mark: asked.of.build.marks[mark].clone(),
            at: mark,
            missing: asked.missing(mark),
            asked: asked.lacks(mark).max(0),
            stage: self.first_without(mark),
            ways,
        }
    }

    /// The first stage, in the order of the build, that lacks some of a mark.
    fn first_without(&self, mark: usize) -> usize {
        let mut there = self.asked.here[mark];
        let stages = self.asked.by_stage.iter();
        let without = stages.enumerate().find(|(_, of)| {
            there -= of[mark];
            there < 0
        });
        without.map_or(0, |(stage, _)| stage)
    }
}
