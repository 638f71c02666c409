//! Every paper that a job has, in one list: the command, the bundle and the pages all take from it.

use paper::{PaperError, Sheet};
use tally::{Digest, Standing};

use crate::clock;
use crate::pages::papers::print;

/// What a paper is made from.
#[derive(Clone, Copy, Debug)]
pub struct PaperOf<'a> {
    /// How the job stands.
    pub standing: &'a Standing,
    /// The head of the log that it stands by.
    pub log_head: Digest,
    /// The paper in the printer.
    pub sheet: Sheet,
    /// Whether the tally sheet tells how many there should be.
    pub told: bool,
    /// When it is made, in milliseconds since 1970-01-01 UTC.
    pub made: i64,
}

/// A PDF, or why it cannot be set.
type Pdf = Result<Vec<u8>, PaperError>;

/// A kind of paper.
#[derive(Clone, Copy, Debug)]
pub struct PaperKind {
    /// The name of its file, without an ending: small letters and hyphens.
    pub name: &'static str,
    make: fn(&PaperOf<'_>) -> Option<Pdf>,
}

/// All kinds. One more is one more line and the function that makes it.
pub const PAPER_KINDS: [PaperKind; 4] = [OSD, TALLY_SHEET, TELL_APART, DRAWINGS];

pub(crate) const OSD: PaperKind = PaperKind {
    name: "over-short-damaged",
    make: osd,
};
pub(crate) const TALLY_SHEET: PaperKind = PaperKind {
    name: "tally-sheet",
    make: tally_sheet,
};
pub(crate) const TELL_APART: PaperKind = PaperKind {
    name: "tell-apart",
    make: tell_apart,
};
pub(crate) const DRAWINGS: PaperKind = PaperKind {
    name: "drawings",
    make: drawings,
};

impl PaperKind {
    /// Makes the paper; `None` where this job has none of the kind: most need an order that can be built.
    pub fn make(&self, of: &PaperOf<'_>) -> Option<Pdf> {
        (self.make)(of)
    }
}

fn osd(of: &PaperOf<'_>) -> Option<Pdf> {
    let mut paper = paper::osd_of(of.standing, clock::dated, of.made)?;
    paper.log_head = of.log_head.to_string();
    Some(paper::osd(&paper, &printed(of)))
}

fn tally_sheet(of: &PaperOf<'_>) -> Option<Pdf> {
    let sheet = paper::tally_sheet_of(of.standing, !of.told)?;
    Some(paper::tally_sheet(&sheet, &printed(of)))
}

fn tell_apart(of: &PaperOf<'_>) -> Option<Pdf> {
    let card = paper::tell_apart_of(of.standing)?;
    Some(paper::tell_apart(&card, &printed(of)))
}

fn drawings(of: &PaperOf<'_>) -> Option<Pdf> {
    let drawings = paper::drawings_of(of.standing)?;
    Some(paper::drawings(&drawings, &printed(of)))
}

fn printed(of: &PaperOf<'_>) -> paper::Print {
    print(of.standing, of.sheet, of.made)
}
