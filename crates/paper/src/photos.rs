//! Photos on a paper: small copies, with who took them, when, and the digest of the picture as it was taken.

use photo::Refused;
use serde::Serialize;

use crate::print::PaperError;

/// A picture to be shown.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Photo {
    /// The picture or a small copy of it; empty where it is not at hand. What goes into the paper is made from it anew, so no notes in it (the place
    /// it was taken at) come along.
    pub bytes: Vec<u8>,
    /// The mark that it is about; empty if it is about none.
    pub mark: String,
    /// What it shows: `ground post, forklift mark`.
    pub shows: String,
    /// Who took it.
    pub who: String,
    /// When, as it should be read.
    pub when: String,
    /// The SHA-256 of the picture as it was taken, in hex.
    pub digest: String,
}

/// Most pictures in one paper.
pub const MOST_PHOTOS: usize = 300;

/// Longest side of a picture in a paper, in pixels: about 250 to the inch where it stands.
const LONGEST_SIDE: u32 = 800;

/// Said of a picture without bytes.
const NOT_HELD: &str = "This copy of the job does not hold it.";

/// How many letters of a digest are printed: enough to find the file, and to see by eye that it is this one.
const DIGEST_CHARS: usize = 16;

/// A picture as the template gets it.
#[derive(Debug, Serialize)]
pub(crate) struct Shown<'a> {
    /// The file, as the template finds it; empty where the picture could not be shown.
    file: String,
    /// Why it could not be shown.
    trouble: String,
    mark: &'a str,
    shows: &'a str,
    who: &'a str,
    when: &'a str,
    digest: String,
}

/// Makes the small copies. One that cannot be shown is said, and takes nothing else with it.
pub(crate) fn shown(photos: &[Photo]) -> Result<(Vec<Shown<'_>>, Vec<Vec<u8>>), PaperError> {
    if photos.len() > MOST_PHOTOS {
        return Err(PaperError::TooMuch {
            what: "photos",
            found: photos.len(),
            most: MOST_PHOTOS,
        });
    }
    let mut files = Vec::new();
    let shown = (photos.iter())
        .map(|photo| {
            let (file, trouble) = match photo::thumbnail(&photo.bytes, LONGEST_SIDE) {
                Err(Refused::Empty) => (String::new(), NOT_HELD.to_owned()),
                Ok(small) => {
                    files.push(small);
                    (file_name(files.len() - 1), String::new())
                }
                Err(refused) => (String::new(), refused.to_string()),
            };
            Shown {
                file,
                trouble,
                mark: &photo.mark,
                shows: &photo.shows,
                who: &photo.who,
                when: &photo.when,
                digest: photo.digest.chars().take(DIGEST_CHARS).collect(),
            }
        })
        .collect();
    Ok((shown, files))
}

/// How many pictures there are of a mark.
pub(crate) fn of_mark(photos: &[Photo], mark: &str) -> u32 {
    let those = photos.iter().filter(|photo| photo.mark == mark).count();
    u32::try_from(those).unwrap_or(u32::MAX)
}

/// What the template calls the picture.
pub(crate) fn file_name(index: usize) -> String {
    format!("photo-{index}.jpg")
}
