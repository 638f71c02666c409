//! Pictures of a list's pages into one file of words, and the pictures to keep beside it.

use image::{DynamicImage, GrayImage};
use list::{Refusal, pdf};
use photo::{Lies, Sheet, sheet_in};
use sha2::{Digest, Sha256};

use crate::alto;
use crate::fault::Fault;
use crate::program::{Missing, Program};
use crate::run::Failed;
use crate::upright::recognised;

/// The most pictures of one list.
pub const MOST_PICTURES: usize = 24;

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
    /// A PDF of pictures cannot be drawn.
    #[error("{name}: {why}")]
    Pdf {
        /// What the person calls it.
        name: String,
        /// What is wrong with it.
        why: Refusal,
    },
    /// A PDF of pictures has too many pages.
    #[error(
        "{0}: more than {MOST_PICTURES} pages are pictures; send the pages of the packing list alone"
    )]
    ManyPages(String),
    /// Nothing could be read, and the picture is why.
    #[error("{name}: {why}")]
    Poor {
        /// What the person calls it.
        name: String,
        /// What is wrong with it, and what to do.
        why: Fault,
    },
    /// There are no words.
    #[error(
        "{0}: no words were found on the picture; lay the page flat, and take it again so that the page fills the picture"
    )]
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

/// Whether bytes are a picture, or begin as one, or are a PDF of pictures of pages: such are brought here, and everything
/// else to `list::read`. A PDF is gone through for that, which may take a second.
pub fn is_picture(bytes: &[u8]) -> bool {
    list::is_picture(bytes) || pdf::pages_are_pictures(bytes)
}

/// Recognises the words of pictures, one a page, and of scanned PDFs, in the order given, with the program found on this
/// computer. Takes seconds for each page. A page that is told to be the same picture as one before is passed over with a warning.
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
        if pdf::is_pdf(bytes) {
            all.scan(program, name, bytes)?;
            continue;
        }
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
    /// The pages of a scanned PDF, which may have backs with nothing on them.
    fn scan(&mut self, program: &Program, name: &str, bytes: &[u8]) -> Result<(), Unread> {
        let most = MOST_PICTURES.saturating_sub(self.pages.len());
        let pages = pdf::page_pictures(bytes, most).map_err(|why| match why {
            Refusal::TooManyPages => Unread::ManyPages(name.to_owned()),
            why => Unread::Pdf {
                name: name.to_owned(),
                why,
            },
        })?;
        let mut empty = None;
        for (number, page) in (1..).zip(pages) {
            let name = format!("{name}, page {number}");
            let Some(grey) = GrayImage::from_raw(page.width, page.height, page.light) else {
                continue;
            };
            let sheet = photo::sheet(&DynamicImage::from(grey).into_rgb8());
            match self.page(program, &name, sheet) {
                Err(nothing @ Unread::NoWords(_)) => {
                    self.warnings
                        .push(format!("{name}: no words were found on it"));
                    empty = Some(nothing);
                }
                read => read?,
            }
        }
        match empty {
            Some(nothing) if self.pages.is_empty() => Err(nothing),
            _ => Ok(()),
        }
    }

    fn page(&mut self, program: &Program, name: &str, sheet: Sheet) -> Result<(), Unread> {
        let failed = |why| Unread::Failed {
            name: name.to_owned(),
            why,
        };
        let (sheet, words) = recognised(program, sheet).map_err(failed)?;
        let fault = Fault::of(&sheet, &words);
        if words.is_empty() {
            let name = name.to_owned();
            return Err(match fault {
                Some(why) => Unread::Poor { name, why },
                None => Unread::NoWords(name),
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
        if let Some(fault) = fault {
            self.warnings.push(format!("{name}: {fault}"));
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

fn hexadecimal(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}
