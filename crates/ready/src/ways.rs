//! What would help: ways round what is short, priced, and the cheapest plan of them that makes the build whole.
//!
//! Every way has a stable key, so that what people say of it ([`tally::WaySaid`]) finds it again. What changes the
//! structure is a question to the sender: its key begins with `ask:`, and its pieces count only once the sender said
//! yes.

pub mod stock;

pub use stock::{Stock, StockFault};

use jiff::civil::Date;
use tally::{Money, Ordered, State, WayStands};

use crate::build::Build;
use crate::how_far::HowFar;
use crate::supply::{Rests, Supplies};

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

/// Ways chosen together for all marks.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// Which ways, for how many pieces.
    pub uses: Vec<Use>,
    /// What it costs, from the least to the most.
    pub cost: [Money; 2],
    /// Days from today until the last of it is there, the soonest and the latest.
    pub delay_days: [i64; 2],
    /// The chance that not all of it comes off; the ways are taken to be independent of each other.
    pub risk: f64,
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
    /// Pieces of each mark that are here; what a way is to bring is not among them.
    pub fn here(&self) -> Vec<i64> {
        let is_here = |rests: Rests| !matches!(rests, Rests::WayRound | Rests::Promised);
        (self.supplies.marks.iter())
            .map(|supply| {
                let shares = supply.shares.iter();
                let here = shares.filter(|s| s.with.is_none() && is_here(s.rests));
                here.map(|share| share.pieces).sum()
            })
            .collect()
    }

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

    /// How many of each mark the stages of `asked` need.
    pub(crate) fn needs(&self, asked: &[bool]) -> Vec<i64> {
        let mut needs = vec![0; self.build.marks.len()];
        for unit in self.build.units.iter().filter(|unit| asked[unit.stage]) {
            for (mark, pieces) in &unit.needs {
                needs[*mark] += pieces;
            }
        }
        needs
    }
}

/// What would help: every way round each short mark, and the cheapest plan of them.
pub fn what_helps(situation: &Situation) -> Help {
    let here = situation.here();
    let asked = situation.asked();
    let whole = situation.needs(&vec![true; asked.len()]);
    let needs = situation.needs(&asked);
    let lacks = |at: usize| here.get(at).copied().unwrap_or(0);
    let shorts = (situation.build.marks.iter().enumerate())
        .filter(|(at, _)| whole[*at] > lacks(*at))
        .map(|(at, mark)| ShortMark {
            mark: mark.clone(),
            at,
            missing: whole[at] - lacks(at),
            asked: (needs[at] - lacks(at)).max(0),
            stage: 0,
            ways: Vec::new(),
        })
        .collect();
    Help {
        shorts,
        plan: None,
        runner_up: None,
        stuck: Vec::new(),
        questions: Vec::new(),
    }
}
