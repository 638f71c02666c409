//! Taking a kit off the truck and out of its crates: in which order, with what, and what to mind.

use frame::{Frame, Line, PartsList, Section, capitalised};
use measure::{Mass, System};
use serde::Deserialize;

use crate::handling::{Handling, LiftSite, people_for};

/// The steps as data, each with how sure it is.
const DATA: &str = include_str!("unload.toml");

/// How a kit is unloaded.
#[derive(Clone, Debug, PartialEq)]
pub struct Unloading {
    /// The rule by which it goes.
    pub rule: String,
    /// What comes off first, first.
    pub off: Vec<OffLoad>,
    /// What is done, in order.
    pub steps: Vec<UnloadStep>,
    /// The shares of the kit, in the order in which the build opens them.
    pub unpack: Vec<Unpack>,
    /// All tools, each once, in the order in which they come up.
    pub tools: Vec<String>,
    /// All that is worn, each once.
    pub wear: Vec<String>,
}

/// One thing that comes off the truck.
#[derive(Clone, Debug, PartialEq)]
pub struct OffLoad {
    /// What it is.
    pub says: String,
    /// Its mass, full.
    pub gross: Mass,
    /// The first stage that needs something of it.
    pub first: String,
    /// Whether it goes under cover at once.
    pub cover: bool,
    /// Who lifts it.
    pub handling: Handling,
    /// Where it goes, in words.
    pub goes: &'static str,
}

/// One step of unloading.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct UnloadStep {
    /// A short name.
    pub key: String,
    /// What is done.
    pub says: String,
    /// With what.
    #[serde(default)]
    pub tools: Vec<String>,
    /// What is worn.
    #[serde(default)]
    pub wear: Vec<String>,
    /// What can hurt; may be empty.
    #[serde(default)]
    pub caution: String,
    /// How sure it is.
    pub sure: String,
}

/// A share of the kit, when it is opened.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unpack {
    /// The share.
    pub sub_kit: String,
    /// The first stage that needs it.
    pub first: String,
    /// What it comes in, where the family says.
    pub package: Option<String>,
    /// Marks in it.
    pub marks: Vec<String>,
    /// Pieces in it, without spares.
    pub pieces: i64,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    rule: String,
    step: Vec<UnloadStep>,
}

/// Returns how the kit of a frame is unloaded where things are lifted as `site` has it.
pub fn unloading(parts: &PartsList, frame: &Frame, site: &LiftSite) -> Unloading {
    // The file is compiled in, and a test reads it.
    let file: File = toml::from_str(DATA).unwrap_or_else(|_| File {
        rule: String::new(),
        step: Vec::new(),
    });
    let unpack = unpack(parts, frame);
    let mut tools = Vec::new();
    let mut wear = Vec::new();
    for step in &file.step {
        once(&mut tools, &step.tools);
        once(&mut wear, &step.wear);
    }
    Unloading {
        rule: file.rule,
        off: off(parts, frame, &unpack, site),
        steps: file.step,
        unpack,
        tools,
        wear,
    }
}

fn once(all: &mut Vec<String>, new: &[String]) {
    for word in new {
        if !all.contains(word) {
            all.push(word.clone());
        }
    }
}

/// The shares of the kit by the first stage that needs each; of one stage, in the parts list's order.
fn unpack(parts: &PartsList, frame: &Frame) -> Vec<Unpack> {
    let mut shares: Vec<Unpack> = Vec::new();
    for line in &parts.lines {
        for (sub_kit, pieces) in line.sub_kits() {
            let mark = line.part.mark.0.clone();
            match shares.iter_mut().find(|share| share.sub_kit == sub_kit) {
                Some(share) => {
                    share.marks.push(mark);
                    share.pieces += pieces;
                }
                None => {
                    let packages = frame.packages.iter();
                    let mut holds = packages.filter(|p| p.sub_kits.iter().any(|s| s == sub_kit));
                    shares.push(Unpack {
                        sub_kit: sub_kit.into(),
                        first: first_stage(parts, sub_kit),
                        package: holds.next().map(|package| package.says.clone()),
                        marks: vec![mark],
                        pieces,
                    });
                }
            }
        }
    }
    shares.sort_by_key(|share| turn(parts, &share.first));
    shares
}

/// The first stage that needs something of a share of the kit.
fn first_stage(parts: &PartsList, sub_kit: &str) -> String {
    let places = || parts.lines.iter().flat_map(|line| &line.places);
    (parts.stages.iter())
        .find(|stage| places().any(|p| p.sub_kit.0 == sub_kit && p.stage == **stage))
        .cloned()
        .unwrap_or_default()
}

fn turn(parts: &PartsList, stage: &str) -> usize {
    let stages = parts.stages.iter();
    stages
        .clone()
        .position(|known| known == stage)
        .unwrap_or(stages.len())
}

/// What comes off the truck: under cover what must be, then what is needed last, and so on to what is needed first.
fn off(parts: &PartsList, frame: &Frame, unpack: &[Unpack], site: &LiftSite) -> Vec<OffLoad> {
    let mut off: Vec<OffLoad> = (frame.packages.iter().zip(&parts.packed))
        .map(|(package, packed)| {
            let holds = |sub_kit: &str| package.sub_kits.iter().any(|held| held == sub_kit);
            let first = unpack.iter().find(|share| holds(&share.sub_kit));
            let lines =
                || (parts.lines.iter()).filter(|l| l.sub_kits().iter().any(|(s, _)| holds(s)));
            let load = Load {
                says: packed.says.clone(),
                gross: packed.gross,
                first: first.map(|share| share.first.clone()).unwrap_or_default(),
                // A crate with a roll of film in it among much else is no film.
                cover: lines().next().is_some() && lines().all(is_soft),
            };
            load.off(site, frame.system)
        })
        .collect();
    // A family that says nothing of packages comes in as many loads as it has shares, film and cloth apart.
    if off.is_empty() {
        off = (unpack.iter())
            .flat_map(|share| [true, false].map(|soft| (share, soft)))
            .map(|(share, soft)| of_share(parts, share, soft))
            .filter(|load| load.gross > Mass::ZERO)
            .map(|load| load.off(site, frame.system))
            .collect();
    }
    off.sort_by_key(|load| std::cmp::Reverse(turn(parts, &load.first)));
    off.sort_by_key(|load| !load.cover);
    off
}

/// One thing that comes off, before anyone asks who lifts it.
struct Load {
    says: String,
    gross: Mass,
    first: String,
    cover: bool,
}

impl Load {
    fn off(self, site: &LiftSite, system: System) -> OffLoad {
        OffLoad {
            handling: people_for(self.gross, None, site, system),
            says: self.says,
            gross: self.gross,
            first: self.first,
            cover: self.cover,
            goes: match self.cover {
                true => "under cover, flat, in its wrap",
                false => "on dunnage beside the long side",
            },
        }
    }
}

/// What is soft of a share of the kit, or all else of it.
fn of_share(parts: &PartsList, share: &Unpack, soft: bool) -> Load {
    let lines = || parts.lines.iter().filter(|line| is_soft(line) == soft);
    let needs = |stage: &&String| {
        let mut places = lines().flat_map(|line| &line.places);
        places.any(|place| place.sub_kit.0 == share.sub_kit && place.stage == **stage)
    };
    // Film is not needed as early as the channel that it comes with.
    let first = parts.stages.iter().find(needs).unwrap_or(&share.first);
    let mass = lines()
        .flat_map(|line| line.sub_kits().into_iter().map(move |held| (line, held)))
        .filter(|(_, (sub_kit, _))| *sub_kit == share.sub_kit)
        .map(|(line, (_, pieces))| line.part.unit_mass * pieces);
    Load {
        says: match soft {
            true => format!("{}: film and cloth", capitalised(&share.sub_kit)),
            false => capitalised(&share.sub_kit),
        },
        gross: mass.sum(),
        first: first.clone(),
        cover: soft,
    }
}

/// What rain, sun and mice spoil.
fn is_soft(line: &Line) -> bool {
    let section = &line.part.section;
    matches!(section, Some(Section::Film { .. } | Section::Cloth { .. }))
}
