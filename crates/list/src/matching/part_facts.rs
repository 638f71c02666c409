//! What a part is, in the terms in which rows speak.

use std::collections::BTreeSet;

use frame::{End, Mark, Part, Section};
use measure::{Length, Unit, tube};

use crate::matching::describe::{Said, describe};
use crate::matching::ends::Ends;
use crate::matching::evidence::{bare_code, said_sides};
use crate::matching::finish::finish;
use crate::matching::nouns::{Concept, concept};
use crate::matching::words::words;

/// A part, ready to be compared with rows.
#[derive(Clone, Debug)]
pub struct PartFacts {
    /// Its mark.
    pub mark: Mark,
    /// The mark as a bare code.
    pub code: String,
    /// What it is.
    pub concept: Option<Concept>,
    /// What its own description says.
    pub said: Said,
    /// The words of its noun and description.
    pub words: BTreeSet<String>,
    /// Which of the opposites (single and double …) they hold.
    pub sides: u16,
    /// A bolt, screw, nut or washer.
    pub is_fastener: bool,
    /// Length.
    pub length: Option<Length>,
    /// Width.
    pub width: Option<Length>,
    /// What its tube is called, as a number of inches.
    pub called: Option<Length>,
    /// Outside diameter.
    pub outside: Option<Length>,
    /// Gauge.
    pub gauge: Option<u8>,
    /// Wall.
    pub wall: Option<Length>,
    /// Ends.
    pub ends: Option<Ends>,
    /// Finish or colour.
    pub finish: Option<&'static str>,
    /// Size of a fastener.
    pub size: Option<String>,
    /// Thickness of film.
    pub thickness: Option<Length>,
    /// Film or cloth.
    pub is_sheet: bool,
    /// What it fits, its own length too: tubes by their names and as a caliper reads them.
    pub fits: Vec<Length>,
    /// The two sides of a board, smaller first, as it is called and as it measures.
    pub timber: Option<[[Length; 2]; 2]>,
    /// How its family calls it, as its noun stands there.
    pub noun: String,
}

impl PartFacts {
    /// Reads a part.
    pub fn new(part: &Part) -> Self {
        let said = describe(&part.description);
        let noun_said = describe(&part.noun);
        let words_of_it: BTreeSet<String> = said.words.union(&noun_said.words).cloned().collect();
        let mut facts = Self {
            mark: part.mark.clone(),
            code: bare_code(&part.mark.0),
            concept: what_it_is(&part.noun, &said, &noun_said),
            sides: said_sides(&words_of_it),
            words: words_of_it,
            is_fastener: false,
            length: part.length,
            width: part.width,
            called: None,
            outside: None,
            gauge: None,
            wall: None,
            ends: part.ends.map(ends_of),
            finish: part
                .finish
                .as_ref()
                .and_then(|text| finish(&words(text)))
                .map(|(name, _)| name),
            size: None,
            thickness: None,
            is_sheet: matches!(
                part.section,
                Some(Section::Film { .. } | Section::Cloth { .. })
            ),
            fits: fits(&said, part.length),
            timber: None,
            noun: part.noun.clone(),
            said,
        };
        match &part.section {
            Some(Section::Tube {
                called,
                outside,
                wall,
                gauge,
            }) => {
                facts.called = Length::read(called, Some(Unit::Inch)).ok();
                (facts.outside, facts.wall, facts.gauge) = (Some(*outside), Some(*wall), *gauge);
            }
            Some(Section::Fastener { size, .. }) => {
                facts.is_fastener = true;
                facts.size = Some(size.clone());
            }
            Some(Section::Timber {
                called,
                width,
                depth,
            }) => facts.timber = Some([sides_called(called), sorted(*width, *depth)]),
            Some(Section::Film { thickness }) => facts.thickness = Some(*thickness),
            Some(Section::Box {
                called,
                wall,
                gauge,
                ..
            }) => {
                facts.called = Length::read(called, Some(Unit::Inch)).ok();
                (facts.wall, facts.gauge) = (Some(*wall), *gauge);
            }
            _ => {}
        }
        facts
    }
}

fn fits(said: &Said, length: Option<Length>) -> Vec<Length> {
    let sizes = said.fits.iter().chain(&length);
    sizes
        .flat_map(|size| {
            let tubes = tube::called(&format!("{} in", size.to_inches()));
            std::iter::once(*size).chain(tubes.into_iter().map(|called| called.od))
        })
        .collect()
}

/// "2x6" as two lengths; nothing at all for what is called otherwise.
fn sides_called(called: &str) -> [Length; 2] {
    let side = |text: &str| Length::read(text.trim(), Some(Unit::Inch)).unwrap_or(Length::ZERO);
    let (one, other) = called.split_once(['x', 'X']).unwrap_or((called, "0"));
    sorted(side(one), side(other))
}

/// Families give the sides of a board either way round.
fn sorted(one: Length, other: Length) -> [Length; 2] {
    [one.min(other), one.max(other)]
}

/// The head word, or the narrower thing that the description says: a bow that is described as a half bow.
fn what_it_is(noun: &str, said: &Said, noun_said: &Said) -> Option<Concept> {
    let by_description = said
        .noun
        .as_ref()
        .filter(|noun| !noun.ambiguous)
        .and_then(|noun| noun.may_mean.first().copied());
    match (concept(noun), by_description) {
        (Some(wide), Some(narrow)) if narrow.is_under(wide) => Some(narrow),
        (by_noun, by_description) => by_noun.or(by_description).or_else(|| {
            // A family may call a part by a word that lists use for several things: the table names ours first.
            noun_said
                .noun
                .as_ref()
                .and_then(|noun| noun.may_mean.first().copied())
        }),
    }
}

fn ends_of(ends: [End; 2]) -> Ends {
    let swaged = ends
        .iter()
        .filter(|end| matches!(end, End::Swaged(_)))
        .count();
    let flat = ends
        .iter()
        .any(|end| matches!(end, End::Flattened | End::Punched));
    match swaged {
        2 => Ends::BothSwaged,
        1 => Ends::OneSwaged,
        _ if flat => Ends::Flattened,
        _ => Ends::Plain,
    }
}
