//! What the steps of the build take: people, hours, tools, weather, care.

use frame::{Frame, PartsList};
use tally::Plans;

use crate::build::Build;
use crate::pace;
use crate::work_amounts::Amounts;
use crate::work_file::{Kind, WorkFile};

/// Goes before everything that is said of work.
pub const SENDER_FIRST: &str =
    "The sender's instructions, local codes and whoever is licensed go before this.";

/// What a stage of the build takes.
#[derive(Clone, Debug, PartialEq)]
pub struct StageWork {
    /// The stage (by index).
    pub stage: usize,
    /// Its name in the family.
    pub name: String,
    /// What is done, in a sentence.
    pub says: String,
    /// Minutes of one person for all of it, at a quick and at a slow pace; 0 where this house has nothing of it, nothing
    /// where the kind of work is not known.
    pub person_minutes: Option<[f64; 2]>,
    /// What the minutes rest on.
    pub rests: PaceRests,
    /// The fewest people that it takes, and the most that are of use.
    pub people: [usize; 2],
    /// Tools.
    pub tools: Vec<ToolNeed>,
    /// What to wear.
    pub wear: Vec<String>,
    /// The weather that it wants, if it wants any.
    pub weather: Option<String>,
    /// What to take care of.
    pub cautions: Vec<String>,
    /// Where figures and cautions come from and how sure they are: S seen in the text named, S2 second-hand, M from
    /// memory; else our own, without a source.
    pub sources: Vec<String>,
    /// Minutes of all who worked on it so far, as far as they were said.
    pub worked: i64,
    /// Whether it is done: somebody said so, or a stage that follows it is done.
    pub done: bool,
}

/// What the minutes of a stage rest on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PaceRests {
    /// Our own rates, no source; all stages of a 30 by 96 ft house together agree with published hours of such a house.
    OurRates,
    /// Our own rates times how this crew went at the stages that it recorded.
    CrewsPace,
    /// What this crew recorded.
    Recorded,
    /// The kind of work is not known.
    Unknown,
}

impl PaceRests {
    /// In words, for whoever reads the hours.
    pub const fn says(self) -> &'static str {
        match self {
            Self::OurRates => {
                "our own rates, no source; all steps of a 30 by 96 ft house together hold the 75 to 100 hours of two \
                 skilled people that a handout has for one, seen second-hand"
            }
            Self::CrewsPace => "our own rates times your pace at the steps that you recorded",
            Self::Recorded => "what you recorded",
            Self::Unknown => "not known",
        }
    }
}

/// A tool that a stage needs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ToolNeed {
    /// The tool.
    pub tool: String,
    /// How many the fewest people need.
    pub quantity: i64,
    /// How many keep as many people busy as are of use.
    pub useful: i64,
}

/// What each stage takes, in the order of the build.
pub fn works(build: &Build, frame: &Frame, list: &PartsList, plans: &Plans) -> Vec<StageWork> {
    let mut works: Vec<StageWork> = (build.stages.iter().enumerate())
        .map(|(at, stage)| {
            let mut work = match WorkFile::ours().kind(&stage.work) {
                Some(kind) => known(kind, frame, &Amounts::of(frame, list, &stage.name)),
                None => unknown(),
            };
            work.stage = at;
            work.name = stage.name.clone();
            if let Some(seen) = plans.worked.get(&stage.name) {
                work.worked = seen.person_minutes;
                work.done = seen.done;
            }
            work
        })
        .collect();
    // Nobody raises bows on posts that are not there: what a done stage follows is done, whether it was said or not.
    for at in (0..works.len()).rev() {
        if !works[at].done {
            continue;
        }
        for before in &build.stages[at].follows {
            works[*before].done = true;
        }
    }
    pace::go_by_what_was_recorded(&mut works, plans);
    works
}

/// Hours of a stage for so many people, at a quick and at a slow pace. People beyond those that are of use do not shorten
/// it. Nothing where the work is not known, or so few cannot do it.
pub fn hours(work: &StageWork, people: usize) -> Option<[f64; 2]> {
    let [fewest, most] = work.people;
    let minutes = work.person_minutes?;
    (people >= fewest.max(1)).then(|| minutes.map(|m| m / 60.0 / people.min(most.max(1)) as f64))
}

impl StageWork {
    /// Whether this house has nothing of it.
    pub fn is_nothing(&self) -> bool {
        self.person_minutes.is_some_and(|[_, slow]| slow <= 0.0)
    }

    /// Minutes of one person that are left, at a quick and at a slow pace. What was worked on a stage that is not done
    /// counts, but a tenth is always left: it is not done.
    pub fn minutes_left(&self) -> Option<[f64; 2]> {
        match self.done {
            true => Some([0.0; 2]),
            false => {
                (self.person_minutes).map(|m| m.map(|m| (m - self.worked as f64).max(m / 10.0)))
            }
        }
    }
}

fn known(kind: &Kind, frame: &Frame, amounts: &Amounts) -> StageWork {
    let people = kind.people.of(frame.width, frame.length);
    if amounts.is_empty() && !kind.without_parts {
        return StageWork {
            says: "This house has nothing of it.".into(),
            person_minutes: Some([0.0; 2]),
            rests: PaceRests::OurRates,
            people: [0, 0],
            ..unknown()
        };
    }
    let sum = |minutes: fn(&crate::work_file::Rate) -> f64| -> f64 {
        (kind.minutes.iter())
            .map(|rate| minutes(rate) * amounts.in_units(rate.unit))
            .sum()
    };
    let cautions = (kind.cautions.iter()).map(|caution| caution.says.clone());
    StageWork {
        says: kind.says.clone(),
        person_minutes: Some([sum(|rate| rate.quick), sum(|rate| rate.slow)]),
        rests: PaceRests::OurRates,
        people,
        tools: (kind.tools.iter())
            .map(|tool| ToolNeed {
                tool: tool.tool.clone(),
                quantity: tool.of(people[0]),
                useful: tool.of(people[1]),
            })
            .collect(),
        wear: kind.wear.clone(),
        weather: (kind.calm).then(|| WorkFile::ours().wind.says(frame.system)),
        cautions: cautions.chain([SENDER_FIRST.into()]).collect(),
        sources: sources(kind),
        ..unknown()
    }
}

/// What is said of work that is no kind that we know.
fn unknown() -> StageWork {
    StageWork {
        stage: 0,
        name: String::new(),
        says: "We do not know this kind of work: its people, hours and tools are not told.".into(),
        person_minutes: None,
        rests: PaceRests::Unknown,
        people: [1, 1],
        tools: Vec::new(),
        wear: Vec::new(),
        weather: None,
        cautions: vec![SENDER_FIRST.into()],
        sources: Vec::new(),
        worked: 0,
        done: false,
    }
}

/// Where what is said of a kind comes from, and what the short names there stand for.
fn sources(kind: &Kind) -> Vec<String> {
    let people = format!("People: {}.", kind.people.source);
    let tools = kind.tools.iter().filter_map(|tool| {
        let source = tool.source.as_ref()?;
        Some(format!("{}: {source}.", frame::capitalised(&tool.tool)))
    });
    let cautions = (kind.cautions.iter())
        .map(|caution| format!("\u{201c}{}\u{201d}: {}.", caution.says, caution.source));
    let said: Vec<String> = [people].into_iter().chain(tools).chain(cautions).collect();
    let named = |name: &str| {
        let mut words = said
            .iter()
            .flat_map(|line| line.split(|c: char| !c.is_alphanumeric()));
        words.any(|word| word == name)
    };
    let texts: Vec<String> = (WorkFile::ours().sources.iter())
        .filter(|(name, _)| named(name))
        .map(|(name, text)| format!("{name}: {text}."))
        .collect();
    [said, texts].concat()
}
