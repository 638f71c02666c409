//! A family as its file says it: what can be ordered, what can be in the box, and where it lies.

use include_dir::{Dir, include_dir};
use measure::Length;
use serde::Deserialize;

use crate::family_file::{
    Choice, Cutting, Exclusion, Extent, LinkFile, Need, PackageFile, ProfileFile, Profiles, Size,
    StageFile, Turn, When,
};
use crate::family_place::{self, At, Fault};
use crate::graph::Step;
use crate::part_file::PartFile;
use crate::profile::Profile;
use crate::profile_asked::{Ask, AskedLink, NoProfile, Shape};
use crate::rule_file::{JointFile, MemberFile};
use crate::settle::Settled;
use crate::skin_file::{FittingFile, SkinFile};

/// A design that can be ordered in sizes, read from its file and checked against itself.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Family {
    /// The name that an order gives.
    pub name: String,
    /// What people read.
    pub title: String,
    /// Other words by which a packing list may call it.
    #[serde(default)]
    pub words: Vec<String>,
    pub(crate) size: Size,
    pub(crate) profile: Profiles,
    #[serde(default, rename = "option")]
    pub(crate) options: Vec<Choice>,
    #[serde(default, rename = "exclusion")]
    pub(crate) exclusions: Vec<Exclusion>,
    #[serde(default, rename = "need")]
    pub(crate) needs: Vec<Need>,
    #[serde(default)]
    pub(crate) cutting: Cutting,
    #[serde(default, rename = "package")]
    pub(crate) packages: Vec<PackageFile>,
    #[serde(rename = "stage")]
    pub(crate) stages: Vec<StageFile>,
    #[serde(rename = "part")]
    pub(crate) parts: Vec<PartFile>,
    #[serde(rename = "member")]
    pub(crate) members: Vec<MemberFile>,
    #[serde(default, rename = "joint")]
    pub(crate) joints: Vec<JointFile>,
    #[serde(default, rename = "skin")]
    pub(crate) skins: Vec<SkinFile>,
    #[serde(default, rename = "fitting")]
    pub(crate) fittings: Vec<FittingFile>,
    /// The file itself, so that what only shows in a house is told with its line.
    #[serde(skip)]
    text: String,
}

/// Why a family file cannot be used.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum FamilyError {
    /// The file's form; the message points at the line.
    #[error("the family file cannot be read: {0}")]
    Form(String),
    /// Something names what is not there, or cannot be; one line each.
    #[error("the family file does not agree with itself:\n{}", .0.join("\n"))]
    Content(Vec<String>),
    /// The profile cannot be.
    #[error(
        "the family's profile cannot be: {0}; of a link, `straight` or `arc`, `turn` and `kink` are given or \"follows\", \
         the first one stands upright unless it has a `kink`, and the halves meet in a point unless `peak = \"smooth\"`"
    )]
    Profile(#[from] NoProfile),
    /// No family has the name.
    #[error("no family is called `{name}`; there is: {}", .known.join(", "))]
    Unknown {
        /// The name asked for.
        name: String,
        /// The names there are.
        known: Vec<String>,
    },
}

/// The largest family file that is read, in bytes; a house with twenty options takes fifty thousand.
pub const MOST_FAMILY_BYTES: usize = 1024 * 1024;

/// The families that come with the program: every file of the folder, named as its family.
static SHIPPED: Dir = include_dir!("$CARGO_MANIFEST_DIR/../../families");

/// Each shipped family's name and file, by name.
fn shipped() -> Vec<(&'static str, &'static str)> {
    let mut files: Vec<(&str, &str)> = (SHIPPED.files())
        .filter_map(|file| Some((file.path().file_stem()?.to_str()?, file.contents_utf8()?)))
        .collect();
    files.sort_unstable();
    files
}

impl Family {
    /// A family that comes with the program.
    pub fn named(name: &str) -> Result<Self, FamilyError> {
        let shipped = shipped();
        match shipped.iter().find(|(known, _)| *known == name) {
            Some((_, text)) => Self::read(text),
            None => Err(FamilyError::Unknown {
                name: name.into(),
                known: shipped.iter().map(|(known, _)| (*known).into()).collect(),
            }),
        }
    }

    /// All families that come with the program.
    pub fn shipped() -> Vec<Self> {
        (shipped().iter())
            .filter_map(|(_, text)| Self::read(text).ok())
            .collect()
    }

    /// What an order may choose.
    pub fn choices(&self) -> &[Choice] {
        &self.options
    }

    /// Reads a family file and checks that whatever it names is there.
    pub fn read(text: &str) -> Result<Self, FamilyError> {
        if text.len() > MOST_FAMILY_BYTES {
            return Err(FamilyError::Form(format!(
                "it has {} bytes, more than the {MOST_FAMILY_BYTES} that a family may have",
                text.len()
            )));
        }
        let mut family: Self =
            toml::from_str(text).map_err(|e| FamilyError::Form(e.to_string()))?;
        family.text = text.into();
        let faults = crate::family_check::faults(&family);
        if !faults.is_empty() {
            return Err(family.faulty(&faults));
        }
        let faults: Vec<Fault> = (family.profile.0.iter().enumerate())
            .filter_map(|(i, profile)| {
                let no_profile = profile.solve().err()?;
                Some(Fault {
                    at: At::table("profile").nth(i).field("half"),
                    what: FamilyError::Profile(no_profile).to_string(),
                })
            })
            .collect();
        if !faults.is_empty() {
            return Err(family.faulty(&faults));
        }
        Ok(family)
    }

    /// The faults, each with its line of the file.
    pub(crate) fn faulty(&self, faults: &[Fault]) -> FamilyError {
        FamilyError::Content(family_place::in_words(faults, &self.text))
    }

    /// Where the file has a part.
    pub(crate) fn part_at(&self, mark: &str) -> At {
        let index = self.parts.iter().position(|part| part.mark == mark);
        index.map_or(At::nowhere(), |index| At::rule("part", index).field("mark"))
    }

    /// The spacings that can be ordered.
    pub fn bow_spacings(&self) -> &[Length] {
        &self.size.bow_spacing
    }

    /// The least and the greatest length that can be ordered.
    pub fn lengths(&self) -> [Length; 2] {
        [self.size.least_length, self.size.most_length]
    }

    /// What an order may ask for when its length is no whole number of bays.
    pub fn may_be_uneven(&self) -> Vec<&'static str> {
        self.size.uneven.iter().map(|way| way.name()).collect()
    }

    /// Names of the stages, in the order of the build.
    pub fn stages(&self) -> impl Iterator<Item = &str> {
        self.stages.iter().map(|s| s.name.as_str())
    }

    /// How each stage stands among the others.
    pub(crate) fn steps(&self) -> Vec<Step> {
        let index = |name: &String| self.stages().position(|stage| stage == name);
        (self.stages.iter())
            .map(|stage| Step {
                follows: stage.follows.iter().filter_map(index).collect(),
                work: stage.work.clone().unwrap_or_else(|| stage.name.clone()),
                bare: !self.has_parts_in(&stage.name),
            })
            .collect()
    }

    /// Whether any rule brings a stage a part, whatever is ordered.
    fn has_parts_in(&self, stage: &str) -> bool {
        let skins = self.skins.iter().flat_map(|skin| {
            let edge = skin.edge.as_ref().and_then(|edge| edge.stage.as_ref());
            edge.into_iter().chain([&skin.stage])
        });
        (self.members.iter().map(|member| &member.stage))
            .chain(self.joints.iter().map(|joint| &joint.stage))
            .chain(skins)
            .chain(self.fittings.iter().map(|fitting| &fitting.stage))
            .any(|of| of == stage)
    }

    /// The profile that an order gets: the first whose conditions hold.
    pub(crate) fn profile_for(&self, order: &Settled) -> Option<&ProfileFile> {
        (self.profile.0.iter()).find(|profile| order.holds(&profile.when, 0, 0))
    }

    /// Whether any of the conditions is on an option that each end has for itself.
    pub(crate) fn is_by_end(&self, when: &When) -> bool {
        (self.options.iter()).any(|o| o.each_end && when.contains_key(&o.key))
    }

    /// Whether any of the conditions is on an option that each side has for itself.
    pub(crate) fn is_by_side(&self, when: &When) -> bool {
        (self.options.iter()).any(|o| o.each_side && when.contains_key(&o.key))
    }

    pub(crate) fn part_file(&self, mark: &str) -> Option<&PartFile> {
        self.parts.iter().find(|p| p.mark == mark)
    }
}

impl ProfileFile {
    pub(crate) fn solve(&self) -> Result<Profile, NoProfile> {
        let asked: Vec<AskedLink> = self.half.iter().filter_map(LinkFile::asked).collect();
        Profile::solve(
            self.width.to_metres(),
            self.height.to_metres(),
            self.peak.into(),
            &asked,
        )
    }
}

impl LinkFile {
    fn asked(&self) -> Option<AskedLink> {
        let metres = |extent: Extent| match extent {
            Extent::Of(length) => Ask::Given(length.to_metres()),
            Extent::Follows => Ask::Follows,
        };
        let radians = |turn: Turn| match turn {
            Turn::Of(degrees) => Ask::Given(degrees.to_radians()),
            Turn::Follows => Ask::Follows,
        };
        let shape = match (self.straight, self.arc) {
            (Some(length), _) => Shape::Straight(metres(length)),
            (None, Some(radius)) => Shape::Arc {
                radius: metres(radius),
                turn: self.turn.map_or(Ask::Follows, radians),
            },
            (None, None) => return None,
        };
        Some(AskedLink {
            name: self.name.clone(),
            shape,
            kink: self.kink.map(radians),
        })
    }
}
