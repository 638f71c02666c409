//! The build-day folder: one PDF from which a crew builds.

use std::collections::BTreeMap;

use serde::Serialize;

use crate::drawings::Drawing;
use crate::headline::{Headline, headline};
use crate::print::{PaperError, Print};
use crate::tell_apart::{Groups, TellApartCard, groups};
use crate::template::Template;
use crate::typeset::typeset_with;

/// What a crew has in its hands on the day: go or no-go, a card a stage, and where everything lies.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct BuildDay {
    /// The job's name; on every page.
    pub job: String,
    /// The order in a line.
    pub order: String,
    /// Where the house is built; may be empty.
    pub site: String,
    /// Go, how far, or wait.
    pub call: DayCall,
    /// When, who and how long, in words; empty where no day was said.
    pub when: String,
    /// One card a stage, in the order of the build.
    pub stages: Vec<StageCard>,
    /// The house set out on the ground.
    pub setting_out: SettingOutSheet,
    /// Where everything lies.
    pub staging: StagingSheet,
    /// What comes off the truck, and how.
    pub unloading: UnloadingSheet,
    /// What is lifted, and by how many.
    pub lifting: LiftingSheet,
    /// The tell-apart card; left out where nothing is taken for something else.
    #[serde(skip)]
    pub card: Option<TellApartCard>,
    /// Who to ring up and write to.
    pub contacts: Vec<Contact>,
    /// What is still to be made good or answered.
    pub points: Vec<PointRow>,
    /// All tools of the day.
    pub tools: Vec<ToolRow>,
}

/// Whether to go.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum CallSign {
    /// All that the day asks for is there.
    Go,
    /// Some of it.
    GoAsFar,
    /// Nothing is begun; also where nobody knows.
    #[default]
    Wait,
    /// Every stage is done.
    Built,
}

/// The answer at the top of the cover.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct DayCall {
    /// Its sign, drawn beside the words.
    pub sign: CallSign,
    /// In so few words that they can be read across a yard: `go as far as bow 14`.
    pub words: String,
    /// Why, sentence by sentence.
    pub why: Vec<String>,
    /// How likely it is to hold, in words with the number: `likely, 83 %`; empty where nobody can say.
    pub chance: String,
    /// What that rests on.
    pub rests_on: Vec<String>,
    /// What would change it.
    pub would_change: Vec<String>,
}

/// How far a stage gets.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum StageState {
    /// It is done already.
    Done,
    /// All of it can be done.
    #[default]
    Whole,
    /// Some of it can.
    Part,
    /// None of it can.
    Waits,
}

/// All that is to be known about a stage, for the people who do it.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct StageCard {
    /// Its name.
    pub name: String,
    /// What it is, in a line; may be empty.
    pub says: String,
    /// How far it gets.
    pub state: StageState,
    /// The same in words: `as far as bow 14`.
    pub reach: String,
    /// How likely all of it can be done; empty where nobody can say.
    pub chance: String,
    /// What stops it or is left out for now.
    pub stops: Vec<String>,
    /// What must be done before.
    pub after: Vec<String>,
    /// The house with all that the stage brings lit.
    pub drawing: Option<Drawing>,
    /// What it takes.
    pub parts: Vec<StagePart>,
    /// How many people it takes and who is too many: `2 to 6`.
    pub people: String,
    /// How long: `3 h to 5 h with 6 people`.
    pub hours: String,
    /// What that rests on, where it is no figure that anybody has published: `no source`.
    pub sure: String,
    /// Tools, each with how many.
    pub tools: Vec<(String, i64)>,
    /// What people wear.
    pub wear: Vec<String>,
    /// In which weather it is not done; may be empty.
    pub weather: String,
    /// What may hurt somebody, in short.
    pub cautions: Vec<String>,
}

/// What a stage takes of a mark.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct StagePart {
    /// The mark.
    pub mark: String,
    /// What it is.
    pub description: String,
    /// How many the stage needs.
    pub quantity: i64,
    /// How many are missing by this stage.
    pub missing: i64,
    /// The piles that it lies in; none where nobody said.
    pub piles: Vec<String>,
    /// The part drawn small, as SVG; none where there is nothing to draw.
    #[serde(skip)]
    pub svg: Option<String>,
}

/// The house set out on the ground.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct SettingOutSheet {
    /// The stakes from above.
    pub drawing: Option<Drawing>,
    /// What is done, in order.
    pub steps: Vec<String>,
    /// What is measured, with room for what it was.
    pub measures: Vec<MeasureRow>,
    /// Where the posts stand, bow by bow.
    pub stakes: Vec<StakeRow>,
    /// What may hurt somebody, in short.
    pub cautions: Vec<String>,
}

/// A length that is measured on the ground.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct MeasureRow {
    /// From where to where.
    pub what: String,
    /// What it should be, and how near.
    pub length: String,
}

/// Where the posts of a bow stand.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct StakeRow {
    /// The bow.
    pub name: String,
    /// What the tape reads at the left post, from the stake at the front of its side.
    pub left: String,
    /// The same at the right post.
    pub right: String,
    /// How deep they stand; empty where there are no posts in the ground.
    pub depth: String,
}

/// Where everything lies.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct StagingSheet {
    /// The ground from above, to scale; none while nobody has said what it is like.
    pub drawing: Option<Drawing>,
    /// What is to be known about it, or how it is come by.
    pub says: Vec<String>,
    /// The piles, by name.
    pub piles: Vec<PileCard>,
    /// What is tied to the piles, and to the bins of one that lies in bins.
    pub labels: Vec<PileLabel>,
}

/// A label to cut out.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct PileLabel {
    /// The pile's name, as on the plan.
    pub name: String,
    /// What it is, or which bin.
    pub says: String,
    /// What lies in it, and how many pieces.
    pub marks: Vec<(String, i64)>,
    /// The stages that take from it.
    pub stages: Vec<String>,
}

/// A pile in the list.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct PileCard {
    /// Its name, as on the plan.
    pub name: String,
    /// What it is.
    pub says: String,
    /// What lies in it, from the top, and how many pieces.
    pub marks: Vec<(String, i64)>,
    /// The stages that take from it.
    pub stages: Vec<String>,
    /// How large it is, and how heavy.
    pub size: String,
    /// Where it lies, in words; empty where the drawing alone tells, or nobody knows.
    pub lies: String,
}

/// What comes off the truck, and how.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct UnloadingSheet {
    /// By which rule it goes; may be empty.
    pub rule: String,
    /// What comes off, first to last.
    pub order: Vec<String>,
    /// What is done, with what, in what gear.
    pub steps: Vec<UnloadingStep>,
}

/// One thing that is done at the truck.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct UnloadingStep {
    /// What.
    pub says: String,
    /// With what.
    pub tools: Vec<String>,
    /// In what gear.
    pub wear: Vec<String>,
    /// What may hurt somebody; may be empty.
    pub caution: String,
}

/// What is lifted, and by how many.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct LiftingSheet {
    /// How it is reckoned, in sentences.
    pub says: Vec<String>,
    /// One a mark.
    pub rows: Vec<LiftRow>,
    /// What may hurt somebody, in short.
    pub cautions: Vec<String>,
}

/// Who lifts a part.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct LiftRow {
    /// The mark.
    pub mark: String,
    /// What it is.
    pub description: String,
    /// How long it lies; empty where it comes rolled or in a bag.
    pub length: String,
    /// How heavy one is.
    pub mass: String,
    /// How many people for one, or what does it instead.
    pub people: String,
    /// How many of them two people take at once; empty where two take none.
    pub two_take: String,
}

/// Somebody to reach.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct Contact {
    /// Who.
    pub who: String,
    /// Name, number, address; a line to write on where it is empty.
    pub reach: String,
}

/// A point that is open.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct PointRow {
    /// What it is about.
    pub says: String,
    /// How far it has come.
    pub stands: String,
    /// Who sees to it; a line to write on where it is empty.
    pub owner: String,
    /// When it is looked at next, and what is to be done.
    pub next: String,
}

/// A tool, in all stages of the day.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct ToolRow {
    /// What it is.
    pub tool: String,
    /// How many are needed at one time.
    pub needed: i64,
    /// How many are here; nothing where nobody said.
    pub here: Option<i64>,
    /// For which stages.
    pub stages: Vec<String>,
}

/// What the template gets; the drawings come as files beside it.
#[derive(Serialize)]
struct Shown<'a> {
    #[serde(flatten)]
    day: &'a BuildDay,
    headline: Headline,
    card: Option<Groups<'a>>,
    files: Files<'a>,
}

/// Which drawing is which file.
#[derive(Default, Serialize)]
struct Files<'a> {
    stages: Vec<Option<usize>>,
    setting_out: Option<usize>,
    staging: Option<usize>,
    parts: BTreeMap<&'a str, usize>,
}

/// The most drawings in one folder.
const MOST_DRAWINGS: usize = 300;
/// The most that they may have together, in bytes.
const MOST_BYTES: usize = 32 * 1024 * 1024;

/// Returns the folder as a PDF.
///
/// # Errors
/// [`PaperError::Print`] names the field that cannot be; [`PaperError::TooMuch`] if no one could carry it;
/// [`PaperError::Typesetting`] if a drawing is no SVG.
pub fn build_day(day: &BuildDay, print: &Print) -> Result<Vec<u8>, PaperError> {
    let (files, svgs) = files(day);
    let svgs: Vec<String> = svgs.into_iter().map(in_grey).collect();
    let bytes = svgs.iter().map(|svg| svg.len()).sum();
    for (what, found, most) in [
        ("drawings", svgs.len(), MOST_DRAWINGS),
        ("bytes of drawings", bytes, MOST_BYTES),
    ] {
        if found > most {
            return Err(PaperError::TooMuch { what, found, most });
        }
    }
    let shown = Shown {
        day,
        headline: headline(&day.call.words),
        card: day.card.as_ref().map(groups).transpose()?,
        files,
    };
    let svgs = svgs.iter().map(String::as_str).collect();
    typeset_with(Template::BuildDay, &shown, svgs, print)
}

/// Numbers the drawings. A part that several stages need is drawn once.
fn files(day: &BuildDay) -> (Files<'_>, Vec<&str>) {
    let mut svgs: Vec<&str> = Vec::new();
    let mut files = Files::default();
    for stage in &day.stages {
        files.stages.push(added(&stage.drawing, &mut svgs));
    }
    files.setting_out = added(&day.setting_out.drawing, &mut svgs);
    files.staging = added(&day.staging.drawing, &mut svgs);
    for part in day.stages.iter().flat_map(|stage| &stage.parts) {
        if let (Some(svg), false) = (&part.svg, files.parts.contains_key(part.mark.as_str())) {
            files.parts.insert(&part.mark, svgs.len());
            svgs.push(svg);
        }
    }
    (files, svgs)
}

/// Adds a drawing and gives its number.
fn added<'a>(drawing: &'a Option<Drawing>, svgs: &mut Vec<&'a str>) -> Option<usize> {
    svgs.push(&drawing.as_ref()?.svg);
    Some(svgs.len() - 1)
}

/// A drawing with each colour as grey as it is light, as the printer of a site office would have it: what is on the
/// screen is what is on the paper. Colours stand in attributes, `"#rrggbb"` or `"#rgb"`.
fn in_grey(svg: &str) -> String {
    let mut pieces = svg.split("\"#");
    let mut grey = pieces.next().unwrap_or_default().to_owned();
    for piece in pieces {
        grey.push_str("\"#");
        let digits = piece.find('"').map(|end| &piece[..end]);
        match digits.and_then(lightness) {
            Some(light) => {
                grey.push_str(&format!("{light:02x}{light:02x}{light:02x}"));
                grey.push_str(&piece[digits.unwrap_or_default().len()..]);
            }
            None => grey.push_str(piece),
        }
    }
    grey
}

/// How light a colour is, by the weights of ITU-R BT.601 (from memory), ink and near-black as black.
fn lightness(digits: &str) -> Option<u8> {
    let long = match digits.len() {
        3 => digits.chars().flat_map(|digit| [digit; 2]).collect(),
        6 => digits.to_owned(),
        _ => return None,
    };
    let colour = u32::from_str_radix(&long, 16).ok()?;
    let [_, red, green, blue] = colour.to_be_bytes().map(f64::from);
    let light = 0.299 * red + 0.587 * green + 0.114 * blue;
    Some(if light < 40.0 { 0 } else { light.round() as u8 })
}
