use claim::{Known, KnownLine, Paper, Wrong};
use serde::Serialize;

use crate::letter::{Carriage, Letter, Missing, known_line, missing_by};
use crate::osd::{Sighting, check_count};
use crate::photos::{self, Photo};
use crate::print::{PaperError, Print};
use crate::template::Template;
use crate::typeset::typeset_with_photos;

/// Notice of concealed damage: tells the carrier that harm or loss was found which could not be seen at delivery, and
/// asks for an inspection. It is not a claim.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct DamageNotice {
    /// Its head and foot; it is written to the carrier.
    #[serde(flatten)]
    pub letter: Letter,
    /// The shipment.
    pub carriage: Carriage,
    /// When it was found, as it should be read.
    pub found_on: String,
    /// Who found it.
    pub found_by: String,
    /// Why it could not be seen at delivery: `inside a closed crate`.
    pub hidden_by: String,
    /// What was found, mark by mark.
    pub harm: Vec<Harm>,
    /// Where goods and packing are kept, and in what state: `behind the school, as found`.
    pub kept: String,
    /// When and by whom the carrier was told by telephone or in person; empty if not. Such notice is to be confirmed
    /// in writing, which this paper does.
    pub told_before: String,
    /// Photos.
    #[serde(skip)]
    pub photos: Vec<Photo>,
}

/// What was found of one mark.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct Harm {
    /// The piece mark.
    pub mark: String,
    /// What it is, in words.
    pub description: String,
    /// Harmed or lost, in a word: `damaged`, `missing from a closed crate`.
    pub kind: String,
    /// How many.
    pub quantity: i64,
    /// What people saw.
    pub seen: Vec<Sighting>,
}

/// Returns the notice as a PDF.
///
/// # Errors
/// [`PaperError::Print`] and [`PaperError::Row`] name the field that cannot be; [`PaperError::TooMuch`] if no one could
/// read it. A photo that cannot be shown is said in the paper, and is no error.
pub fn damage_notice(notice: &DamageNotice, print: &Print) -> Result<Vec<u8>, PaperError> {
    notice.carriage.check(0)?;
    check_harm(&notice.harm)?;
    let mut notice = notice.clone();
    let missing = notice.missing();
    notice.letter.also_missing(missing);
    let photos = std::mem::take(&mut notice.photos);
    typeset_with_photos(Template::Concealed, &notice, &photos, print)
}

impl DamageNotice {
    /// What the rules find missing from it before it may be called complete.
    pub fn missing(&self) -> Vec<Missing> {
        let missing = missing_by(&self.letter.rules, Paper::HiddenHarm, &self.known());
        missing.into_iter().map(Missing::from).collect()
    }

    fn known(&self) -> Known {
        let lines = self.harm.iter().map(|harm| {
            let seen = harm.seen.iter().map(|seen| seen.condition.as_str());
            let photos = photos::of_mark(&self.photos, &harm.mark);
            KnownLine {
                harm: std::iter::once(harm.kind.as_str()).chain(seen).collect(),
                photos,
                ..known_line(&harm.mark, Wrong::Damaged, harm.quantity)
            }
        });
        Known {
            found: !self.found_on.trim().is_empty(),
            lines: lines.collect(),
            // The template asks it in its first sentence.
            asks_to_inspect: true,
            kept: (!self.kept.trim().is_empty()).then_some(true),
            ..self.carriage.known_with(self.letter.known())
        }
    }
}

fn check_harm(harm: &[Harm]) -> Result<(), PaperError> {
    for (index, harm) in harm.iter().enumerate() {
        let seen = harm.seen.iter().map(|sighting| ("seen", sighting.pieces));
        for (field, number) in std::iter::once(("quantity", Some(harm.quantity))).chain(seen) {
            check_count("harm", index, &harm.mark, field, number)?;
        }
    }
    Ok(())
}
