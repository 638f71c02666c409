//! Reading a bundle that came from elsewhere. Its names lead nowhere: of all files only the job file is taken out, to a
//! place of ours, and nothing unpacks to more than stated bounds.

use std::fs::File;
use std::io::{BufReader, Read, Write};
use std::path::Path;

use zip::ZipArchive;

use crate::bundle_form::{self, MAX_FILES, MAX_ZIP, Told, shown};
use crate::bundle_names::JOB;
use crate::error::Fault;

/// Unpacked to packed beyond this (for what unpacks to more than a mebibyte) is a bomb. We pack nothing; a mail program
/// that packs a bundle anew finds photos, which shrink by a few hundredths, and a database of text.
const MAX_RATIO: u64 = 100;

/// An open bundle.
pub(crate) struct Opened {
    pub archive: ZipArchive<BufReader<File>>,
}

/// Returns whether a file begins as a zip does.
pub(crate) fn is_one(path: &Path) -> bool {
    let mut start = [0; 4];
    let read = File::open(path).and_then(|mut file| file.read_exact(&mut start));
    read.is_ok() && &start == b"PK\x03\x04"
}

/// Opens a bundle, and holds what its directory says against the bounds.
pub(crate) fn open(path: &Path) -> Result<Opened, Fault> {
    let file = BufReader::new(File::open(path)?);
    let mut archive = ZipArchive::new(file).map_err(not_a_zip)?;
    // Of half a bundle the end of a workbook within it may be taken for the end of the whole.
    if archive.offset() != 0 {
        return Err(not_a_zip("its directory is of another zip within it"));
    }
    if archive.len() > MAX_FILES {
        return Err(Fault::BundleTooBig(format!(
            "it holds {} files; at most {MAX_FILES} are read",
            archive.len()
        )));
    }
    let mut total = 0_u64;
    for index in 0..archive.len() {
        let entry = archive.by_index_raw(index).map_err(not_a_zip)?;
        total = total.saturating_add(entry.size());
        within(&String::from_utf8_lossy(entry.name_raw()), total)?;
    }
    Ok(Opened { archive })
}

impl Opened {
    /// What the directory says of every file, in its order.
    pub fn told(&mut self) -> Result<Vec<Told>, Fault> {
        let files = 0..self.archive.len();
        let told = |index| {
            let entry = self.archive.by_index_raw(index).map_err(not_a_zip)?;
            Ok(Told {
                name: String::from_utf8_lossy(entry.name_raw()).into_owned(),
                size: u32::try_from(entry.size()).unwrap_or(u32::MAX),
                crc: entry.crc32(),
            })
        };
        files.map(told).collect()
    }

    /// Hands on the content of a file, piece by piece; its CRC is checked by the time it ends.
    pub fn read(
        &mut self,
        index: usize,
        mut take: impl FnMut(&[u8]) -> Result<(), Fault>,
    ) -> Result<(), Fault> {
        let mut entry = self.archive.by_index(index).map_err(not_a_zip)?;
        let name = String::from_utf8_lossy(entry.name_raw()).into_owned();
        // What the directory says of sizes may be a lie.
        let (says, packed) = (entry.size(), entry.compressed_size());
        let mut size = 0;
        bundle_form::pieces(&mut entry, |piece| {
            size += piece.len() as u64;
            within(&name, size)?;
            if size > says || (size > 1 << 20 && size / packed.max(1) > MAX_RATIO) {
                return Err(Fault::BundleTooBig(format!(
                    "{} unpacks to more than it says, or to more than {MAX_RATIO} times its size",
                    shown(&name)
                )));
            }
            take(piece)
        })
    }

    /// Returns where a file of this name stands.
    pub fn position(&self, name: &str) -> Option<usize> {
        self.archive.index_for_name(name)
    }
}

/// Takes the job file out of a bundle to `path`, which must be free.
pub(crate) fn take_job_out(bundle: &Path, path: &Path) -> Result<(), Fault> {
    let mut opened = open(bundle)?;
    let job = opened.position(JOB);
    let job = job.ok_or_else(|| Fault::NotABundle(format!("there is no `{JOB}` in it")))?;
    let mut file = File::create_new(path)?;
    opened.read(job, |piece| Ok(file.write_all(piece)?))
}

fn within(name: &str, size: u64) -> Result<(), Fault> {
    match size > MAX_ZIP {
        true => Err(Fault::BundleTooBig(format!(
            "it unpacks to more than {} MiB, with {}",
            MAX_ZIP >> 20,
            shown(name)
        ))),
        false => Ok(()),
    }
}

pub(crate) fn not_a_zip(error: impl std::fmt::Display) -> Fault {
    Fault::NotABundle(format!("it is not a whole zip ({error})"))
}
