//! Pictures of a list's pages into one file of words, and the pictures to keep beside it.

use photo::{Lies, Sheet, sheet_in};
use sha2::{Digest, Sha256};

use crate::alto;
use crate::program::{Missing, Program};
use crate::run::Failed;
use crate::upright::recognised;
use crate::words::Word;

/// The most pictures of one list.
pub const MOST_PICTURES: usize = 24;

/// Edges wider than this are not sharp enough for small print, in pixels: sharp ones take 2, and from about here a third
/// of the words on the test pictures were misread.
const BLURRED: f32 = 6.0;
/// Words lower than this leave too few pixels for letters.
const LOW: u32 = 14;
/// Where words are read less surely than this in the middle, the picture is at fault.
const POORLY: f32 = 0.7;

/// A list as it was recognised.
#[derive(Clone, Debug)]
pub struct Recognised {
    /// The words as ALTO 4: the list from now on.
    pub alto: Vec<u8>,
    /// The pages laid flat, in the order of the pages; the ALTO file names each by its digest.
    pub pictures: Vec<Kept>,
    /// What a person should know of how the pictures were read. The ALTO file has them too.
    pub warnings: Vec<String>,
}

/// A picture to keep.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Kept {
    /// Its SHA-256, in small hexadecimal.
    pub digest: String,
    /// A grey JPEG.
    pub jpeg: Vec<u8>,
}

/// Why pictures gave no list.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Unread {
    /// The program that recognises words is missing.
    #[error(transparent)]
    Missing(#[from] Missing),
    /// No pictures, or too many.
    #[error("{0} pictures were given; one to {MOST_PICTURES} pages of a list are read at once")]
    HowMany(usize),
    /// A picture is none, or cannot be decoded.
    #[error("{name}: {why}")]
    Picture {
        /// What the person calls it.
        name: String,
        /// What is wrong with it.
        why: photo::Refused,
    },
    /// Nothing could be read.
    #[error(
        "{0}: the picture is not sharp enough to read; take it again nearer, in good light, and hold still"
    )]
    NotSharp(String),
    /// There are no words.
    #[error("{0}: no words were found on the picture; take it again so that the page fills it")]
    NoWords(String),
    /// The program failed.
    #[error("{name}: the words were not recognised, {why}")]
    Failed {
        /// What the person calls the picture.
        name: String,
        /// What happened.
        why: Failed,
    },
}

/// Whether bytes are a picture, or begin as one, sound or not: such are brought here, and everything else to
/// `list::read`.
pub fn is_picture(bytes: &[u8]) -> bool {
    list::is_picture(bytes)
}

/// Recognises the words of pictures, one a page, in the order given, with the program found on this computer. Takes
/// seconds for each. A page that is told to be the same picture as one before is passed over with a warning.
pub fn list_of(pictures: &[(String, Vec<u8>)]) -> Result<Recognised, Unread> {
    if pictures.is_empty() || pictures.len() > MOST_PICTURES {
        return Err(Unread::HowMany(pictures.len()));
    }
    list_of_by(&Program::find()?, pictures)
}

/// As [`list_of`], with a program that was found before.
pub fn list_of_by(program: &Program, pictures: &[(String, Vec<u8>)]) -> Result<Recognised, Unread> {
    if pictures.is_empty() || pictures.len() > MOST_PICTURES {
        return Err(Unread::HowMany(pictures.len()));
    }
    let mut all = Reading::default();
    for (name, bytes) in pictures {
        let sheet = sheet_in(bytes).map_err(|why| Unread::Picture {
            name: name.clone(),
            why,
        })?;
        all.page(program, name, sheet)?;
    }
    let alto = alto::write(&all.pages, program.version(), &all.warnings);
    Ok(Recognised {
        alto: alto.into_bytes(),
        pictures: all.pictures,
        warnings: all.warnings,
    })
}

#[derive(Default)]
struct Reading {
    pages: Vec<alto::Page>,
    pictures: Vec<Kept>,
    warnings: Vec<String>,
}

impl Reading {
    fn page(&mut self, program: &Program, name: &str, sheet: Sheet) -> Result<(), Unread> {
        let failed = |why| Unread::Failed {
            name: name.to_owned(),
            why,
        };
        let (sheet, words) = recognised(program, sheet).map_err(failed)?;
        let poor = is_poor(&sheet, &words);
        if words.is_empty() {
            return Err(match poor {
                true => Unread::NotSharp(name.to_owned()),
                false => Unread::NoWords(name.to_owned()),
            });
        }
        let jpeg = photo::jpeg_of(&sheet.page).map_err(|why| Unread::Picture {
            name: name.to_owned(),
            why,
        })?;
        let digest = hexadecimal(&Sha256::digest(&jpeg));
        if self.pictures.iter().any(|kept| kept.digest == digest) {
            self.warnings.push(format!(
                "{name}: the same picture was given twice; it was read once"
            ));
            return Ok(());
        }
        if sheet.lies == Lies::AllOfIt {
            self.warnings.push(format!(
                "{name}: no page was told from the ground, so the whole picture was read"
            ));
        }
        if poor {
            self.warnings.push(format!(
                "{name}: the picture is not sharp enough to be read surely; take it again nearer"
            ));
        }
        self.pages.push(alto::Page {
            digest: digest.clone(),
            size: [sheet.page.width(), sheet.page.height()],
            words,
            rules: sheet.rules,
        });
        self.pictures.push(Kept { digest, jpeg });
        Ok(())
    }
}

/// Whether the picture itself stands in the way of reading: edges that are soft, or letters that are small, and words
/// that were read poorly.
fn is_poor(sheet: &Sheet, words: &[Word]) -> bool {
    let soft = sheet.blur.is_some_and(|blur| blur > BLURRED);
    let middle = |mut values: Vec<f32>| {
        values.sort_by(f32::total_cmp);
        values.get(values.len() / 2).copied()
    };
    let height = middle(
        words
            .iter()
            .map(|w| (w.place[3] - w.place[1]) as f32)
            .collect(),
    );
    let sure = middle(words.iter().map(|w| w.sure).collect());
    let low = height.is_some_and(|height| height < LOW as f32);
    let poorly = sure.is_none_or(|sure| sure < POORLY);
    soft || poorly || low && sure.is_some_and(|sure| sure < 0.85)
}

fn hexadecimal(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}
