//! The guard before a workbook: its zip directory and every file in it are checked before anything keeps them.

use std::io::{Cursor, Read};

use zip::ZipArchive;

use crate::error::Refusal;
use crate::limits;

/// Words of a workbook's XML that tell which further looks at it are worth their time.
#[derive(Clone, Copy, Debug, Default)]
pub struct Signs {
    /// Something is struck through.
    pub struck: bool,
    /// A row, a column or a sheet is hidden.
    pub hidden: bool,
    /// Cells are merged.
    pub merged: bool,
    /// Cells are reckoned from others.
    pub formulas: bool,
    /// Bytes of the largest file inside, unpacked.
    pub largest: u64,
}

/// Longest word that is looked for.
const LONGEST: usize = 16;

impl Signs {
    fn look(&mut self, bytes: &[u8]) {
        let has = |word: &str| memchr::memmem::find(bytes, word.as_bytes()).is_some();
        self.struck = self.struck || has("strike");
        self.hidden = self.hidden || has("hidden=");
        self.merged = self.merged || has("mergeCell ");
        self.formulas = self.formulas || has("<f>") || has("<f ") || has(":f>");
    }
}

/// Checks that a workbook unpacks to a sane size and holds no document type declaration.
///
/// The declared sizes are checked first. Then each file is unpacked once into a small buffer and thrown away, since
/// a declared size may lie; counting stops at the limit, so a bomb costs the limit and no memory.
pub fn check(bytes: &[u8]) -> Result<Signs, Refusal> {
    let mut archive = ZipArchive::new(Cursor::new(bytes)).map_err(damaged)?;
    if archive.len() > limits::MAX_WORKBOOK_FILES {
        return Err(bomb("directory", format!("{} files", archive.len())));
    }
    let mut total = 0;
    for index in 0..archive.len() {
        let entry = archive.by_index_raw(index).map_err(damaged)?;
        total += entry.size().min(u64::MAX / 2);
        let name = entry.name().map_err(damaged)?;
        within(&name, entry.size(), entry.compressed_size(), total)?;
    }
    let (mut total, mut signs) = (0, Signs::default());
    for index in 0..archive.len() {
        let mut entry = archive.by_index(index).map_err(damaged)?;
        let name = entry.name().map_err(damaged)?.into_owned();
        let packed = entry.compressed_size();
        let mut unpacked = 0;
        // The end of each piece stays before the next, so that no word falls between two.
        let mut buffer = [0; LONGEST + (16 << 10)];
        let mut kept = 0;
        loop {
            let n = entry.read(&mut buffer[kept..]).map_err(damaged)?;
            if n == 0 {
                break;
            }
            if unpacked == 0 && is_xml(&name) && has_document_type(&buffer[..n]) {
                return Err(Refusal::DocumentType(name));
            }
            unpacked += n as u64;
            total += n as u64;
            within(&name, unpacked, packed, total)?;
            let end = kept + n;
            signs.look(&buffer[..end]);
            kept = end.min(LONGEST);
            buffer.copy_within(end - kept..end, 0);
        }
        signs.largest = signs.largest.max(unpacked);
    }
    Ok(signs)
}

/// Checks that so many sheets are sane, when each may be the largest file: nothing forbids that all name the same.
pub fn check_sheets(sheets: usize, signs: Signs) -> Result<(), Refusal> {
    let most = signs.largest.saturating_mul(sheets as u64);
    if sheets > 1 && most > limits::MAX_UNPACKED_SHEETS {
        return Err(bomb("sheets", format!("up to {} MiB", most >> 20)));
    }
    Ok(())
}

fn within(name: &str, unpacked: u64, packed: u64, total: u64) -> Result<(), Refusal> {
    let mib = |n: u64| format!("{} MiB", n >> 20);
    if unpacked > limits::MAX_UNPACKED_FILE {
        return Err(bomb(name, mib(unpacked)));
    }
    if total > limits::MAX_UNPACKED {
        return Err(bomb("content", mib(total)));
    }
    if unpacked > 1 << 20 && unpacked / packed.max(1) > limits::MAX_RATIO {
        return Err(bomb(
            name,
            format!("{} times its size", unpacked / packed.max(1)),
        ));
    }
    Ok(())
}

fn is_xml(name: &str) -> bool {
    let name = name.to_ascii_lowercase();
    name.ends_with(".xml") || name.ends_with(".rels")
}

/// A document type stands before the first element, so the first bytes tell. Zero bytes are passed over: the same
/// declaration in UTF-16 is as unwelcome.
fn has_document_type(start: &[u8]) -> bool {
    let plain: Vec<u8> = start
        .iter()
        .filter(|b| **b != 0)
        .map(u8::to_ascii_uppercase)
        .collect();
    plain.windows(9).any(|w| w == b"<!DOCTYPE") || plain.windows(8).any(|w| w == b"<!ENTITY")
}

fn bomb(entry: &str, what: String) -> Refusal {
    Refusal::Bomb {
        entry: entry.to_owned(),
        what,
    }
}

fn damaged(error: impl std::fmt::Display) -> Refusal {
    Refusal::Damaged(error.to_string())
}
