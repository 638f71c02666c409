//! Every paper that a job has, in one list: the command, the bundle and the pages all take from it.

use paper::{PaperError, Sheet};
use store::Job;
use tally::{Digest, Standing};

use crate::clock;
use crate::letters::{self, LetterKind};
use crate::pages::papers::print;

/// What a paper is made from.
#[derive(Clone, Copy, Debug)]
pub struct PaperOf<'a> {
    /// How the job stands.
    pub standing: &'a Standing,
    /// The job that holds the pictures; without it, letters say of each that this copy does not hold it.
    pub job: Option<&'a Job>,
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
    make: Make,
}

#[derive(Clone, Copy, Debug)]
enum Make {
    One(fn(&PaperOf<'_>) -> Option<Pdf>),
    Letter(LetterKind),
}

/// All kinds. One more is one more line and the function that makes it.
pub const PAPER_KINDS: [PaperKind; 10] = [
    OSD,
    CONCEALED,
    CLAIM,
    NOTICE,
    REPLACEMENT,
    RETURNS,
    TALLY_SHEET,
    TELL_APART,
    DRAWINGS,
    BUILD_DAY,
];

pub(crate) const OSD: PaperKind = PaperKind {
    name: "over-short-damaged",
    make: Make::One(osd),
};
pub(crate) const TALLY_SHEET: PaperKind = PaperKind {
    name: "tally-sheet",
    make: Make::One(tally_sheet),
};
pub(crate) const TELL_APART: PaperKind = PaperKind {
    name: "tell-apart",
    make: Make::One(tell_apart),
};
pub(crate) const DRAWINGS: PaperKind = PaperKind {
    name: "drawings",
    make: Make::One(drawings),
};

pub(crate) const BUILD_DAY: PaperKind = PaperKind {
    name: "build-day",
    make: Make::One(build_day),
};

pub(crate) const CONCEALED: PaperKind = PaperKind {
    name: "concealed-damage",
    make: Make::Letter(LetterKind::Concealed),
};
pub(crate) const CLAIM: PaperKind = PaperKind {
    name: "carrier-claim",
    make: Make::Letter(LetterKind::Claim),
};
pub(crate) const NOTICE: PaperKind = PaperKind {
    name: "sender-notice",
    make: Make::Letter(LetterKind::Notice),
};
pub(crate) const REPLACEMENT: PaperKind = PaperKind {
    name: "replacement-order",
    make: Make::Letter(LetterKind::Replacement),
};
pub(crate) const RETURNS: PaperKind = PaperKind {
    name: "return-list",
    make: Make::Letter(LetterKind::Returns),
};

impl PaperKind {
    /// Makes every paper of the kind, with the name of its file: none where it would say nothing or has no order that
    /// can be built; one for each shipment that is here, where it goes to a carrier.
    pub fn make(&self, of: &PaperOf<'_>) -> Vec<(String, Pdf)> {
        let shipments = match self.make {
            Make::Letter(kind) if kind.is_of_a_shipment() => letters::shipments(of.standing),
            _ => vec![String::new()],
        };
        let pdfs = shipments
            .iter()
            .filter_map(|name| self.of_shipment(of, name));
        let name = |n: usize| match n {
            0 => self.name.to_owned(),
            n => format!("{}-{}", self.name, n + 1),
        };
        pdfs.enumerate().map(|(n, pdf)| (name(n), pdf)).collect()
    }

    /// Makes the paper about a shipment, where it is about one.
    pub(crate) fn of_shipment(&self, of: &PaperOf<'_>, shipment: &str) -> Option<Pdf> {
        match self.make {
            Make::One(make) => make(of),
            Make::Letter(kind) => Some(kind.of(of, shipment)?.pdf(&printed(of))),
        }
    }

    /// Which letter it is, where it is one.
    pub(crate) fn letter(&self) -> Option<LetterKind> {
        match self.make {
            Make::Letter(kind) => Some(kind),
            Make::One(_) => None,
        }
    }
}

fn osd(of: &PaperOf<'_>) -> Option<Pdf> {
    let paper = letters::osd(of)?;
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

fn build_day(of: &PaperOf<'_>) -> Option<Pdf> {
    let (today, _) = clock::at_site(&of.standing.state.affairs, of.made);
    let readiness = ready::Readiness::of(of.standing, today)?;
    let day = paper::build_day_of(of.standing, &readiness, today)?;
    Some(paper::build_day(&day, &printed(of)))
}

fn printed(of: &PaperOf<'_>) -> paper::Print {
    print(of.standing, of.sheet, of.made)
}
