//! What the files of a bundle are called. No name or path from outside is taken: a document's name is a plain number
//! and its digest.

use std::collections::BTreeSet;

use tally::{Digest, What};

use crate::error::StoreError;
use crate::job::Job;

/// The job file.
pub(crate) const JOB: &str = "job.tallyard";
/// The log as text.
pub(crate) const LOG: &str = "log.txt";
/// The digests of all other files.
pub(crate) const MANIFEST: &str = "SHA256SUMS";
/// What it all is, in plain words.
pub(crate) const README: &str = "README.txt";
/// The folder of the papers.
pub(crate) const PAPERS: &str = "papers";

/// The folders of documents.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Folder {
    Photos,
    Lists,
    Others,
}

impl Folder {
    pub fn name(self) -> &'static str {
        match self {
            Self::Photos => "photos",
            Self::Lists => "lists",
            Self::Others => "others",
        }
    }
}

/// A document with its place in a bundle.
pub(crate) struct Placed {
    pub folder: Folder,
    /// From 1 in each folder, in the order in which the log names them.
    pub number: usize,
    pub digest: Digest,
    /// The end of its name, where the event that brought it tells; photos are looked at.
    pub ending: Option<&'static str>,
}

impl Placed {
    pub fn name(&self, ending: &str) -> String {
        let (folder, number, digest) = (self.folder.name(), self.number, self.digest);
        format!("{folder}/{number:03}-{digest}.{ending}")
    }
}

/// Places every document that the job has: those that its log brings in its order, then any others. Sorted by folder.
pub(crate) fn placed(job: &Job) -> Result<Vec<Placed>, StoreError> {
    let mut left: BTreeSet<Digest> = job.documents()?.into_iter().map(|(it, _)| it).collect();
    let (mut places, mut counts) = (Vec::new(), [0; 3]);
    let mut place = |folder: Folder, digest: Digest, ending| {
        let count = &mut counts[folder as usize];
        *count += 1;
        let number = *count;
        places.push(Placed {
            folder,
            number,
            digest,
            ending,
        });
    };
    for event in job.events()?.events {
        let (folder, digest, ending) = match &event.what {
            What::Photographed { photo, .. } => (Folder::Photos, *photo, None),
            What::ListAdded { digest, name, .. } | What::ListCorrected { digest, name, .. } => {
                (Folder::Lists, *digest, Some(ending(name)))
            }
            What::CodesTaken { digest, .. } => (Folder::Others, *digest, Some("csv")),
            What::OrderSet {
                family: Some(family),
                ..
            } => (Folder::Others, *family, Some("toml")),
            _ => continue,
        };
        if left.remove(&digest) {
            place(folder, digest, ending);
        }
    }
    for digest in left {
        place(Folder::Others, digest, Some(UNKNOWN));
    }
    places.sort_by_key(|placed| (placed.folder, placed.number));
    Ok(places)
}

/// The end of a name that tells nothing.
const UNKNOWN: &str = "bin";

/// One of the ends of names that lists have, or none that means anything.
fn ending(name: &str) -> &'static str {
    // The words of photographs are named after the first of them.
    if name.ends_with(", as read") {
        return "xml";
    }
    let said = name.rsplit_once('.').map_or("", |(_, ending)| ending);
    let known = [
        "856", "csv", "edi", "eml", "htm", "html", "ods", "pdf", "tsv", "txt", "x12", "xls",
        "xlsx", "xml",
    ];
    (known.into_iter())
        .find(|known| known.eq_ignore_ascii_case(said))
        .unwrap_or(UNKNOWN)
}

/// Returns which document a file of a bundle claims to be, by its name.
pub(crate) fn document_of(name: &str) -> Option<Digest> {
    let (folder, file) = name.split_once('/')?;
    if !matches!(folder, "photos" | "lists" | "others") {
        return None;
    }
    let (number, rest) = file.split_once('-')?;
    let (digest, ending) = rest.split_once('.')?;
    let plain = number.bytes().all(|b| b.is_ascii_digit()) && is_word(ending);
    plain.then(|| digest.parse().ok())?
}

/// Whether a file of a bundle is a paper, by its name.
pub(crate) fn is_paper(name: &str) -> bool {
    let file = name.split_once('/').filter(|(folder, _)| *folder == PAPERS);
    let slug = file.and_then(|(_, file)| file.strip_suffix(".pdf"));
    slug.is_some_and(is_word)
}

/// Whether a name is of small letters, figures and hyphens.
pub(crate) fn is_word(name: &str) -> bool {
    let plain = |b: u8| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-';
    !name.is_empty() && name.len() <= 80 && name.bytes().all(plain)
}
