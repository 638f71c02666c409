use serde::Serialize;

use crate::print::{PaperError, Print};
use crate::template::Template;
use crate::typeset::typeset_with;

/// Drawings to print: large ones on a sheet of their own, small ones four to a sheet.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Drawings {
    /// The job's name; on every page.
    pub job: String,
    /// The order in a line.
    pub order: String,
    /// Each on a sheet of its own.
    pub large: Vec<Drawing>,
    /// Four to a sheet.
    pub small: Vec<Drawing>,
    /// What is cut in the yard.
    pub cuts: Vec<Cut>,
}

/// One piece that is cut in the yard.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct Cut {
    /// What it is cut from.
    pub mark: String,
    /// The length it is cut to.
    pub to: String,
    /// Where it goes.
    pub place: String,
    /// The place whose leftover it is cut from; empty where it is cut from a whole piece.
    pub left_from: String,
}

/// One drawing.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct Drawing {
    /// What it is.
    pub title: String,
    /// What it shows, for who cannot see it.
    pub says: String,
    /// The drawing itself, as SVG.
    #[serde(skip)]
    pub svg: String,
}

/// What the template gets: the drawings themselves come as files beside it.
#[derive(Serialize)]
struct Shown<'a> {
    job: &'a str,
    order: &'a str,
    large: Vec<Caption<'a>>,
    small: Vec<Caption<'a>>,
    cuts: &'a [Cut],
}

#[derive(Serialize)]
struct Caption<'a> {
    title: &'a str,
    says: &'a str,
    index: usize,
}

/// The most drawings in one paper.
const MOST_DRAWINGS: usize = 200;
/// The most that they may have together, in bytes.
const MOST_BYTES: usize = 16 * 1024 * 1024;

/// Returns the drawings as a PDF.
///
/// # Errors
/// [`PaperError::Print`] names the field that cannot be; [`PaperError::TooMuch`] if no one could carry it;
/// [`PaperError::Typesetting`] if a drawing is no SVG.
pub fn drawings(drawings: &Drawings, print: &Print) -> Result<Vec<u8>, PaperError> {
    let all: Vec<&Drawing> = drawings.large.iter().chain(&drawings.small).collect();
    let bytes = all.iter().map(|drawing| drawing.svg.len()).sum();
    for (what, found, most) in [
        ("drawings", all.len(), MOST_DRAWINGS),
        ("bytes of drawings", bytes, MOST_BYTES),
    ] {
        if found > most {
            return Err(PaperError::TooMuch { what, found, most });
        }
    }
    let captions: Vec<Caption> = (all.iter().enumerate())
        .map(|(index, drawing)| Caption {
            title: &drawing.title,
            says: &drawing.says,
            index,
        })
        .collect();
    let mut large = captions;
    let small = large.split_off(drawings.large.len());
    let shown = Shown {
        job: &drawings.job,
        order: &drawings.order,
        large,
        small,
        cuts: &drawings.cuts,
    };
    let files = all.iter().map(|drawing| drawing.svg.as_str()).collect();
    typeset_with(Template::Drawings, &shown, files, print)
}
