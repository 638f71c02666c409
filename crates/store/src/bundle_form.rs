//! The zip of a bundle, to the byte: files one after the other as they are, without packing, then the directory and its
//! end, and nothing else. Names are plain ASCII, and every file has the same time, so the same files make the same zip.
//!
//! The form is PKWARE's APPNOTE 6.3 (sections 4.3.7, 4.3.12 and 4.3.16; from memory, held against other programs in the
//! tests). It stands here and not in a crate's choices because [`misfit`] must find, in years, every byte of a header as
//! it was written: a crate is free to write another.

use std::io::{self, Read, Seek, SeekFrom, Write};

use sha2::{Digest as _, Sha256};
use tally::Digest;

use crate::bundle_names::MANIFEST;
use crate::error::Fault;

/// The biggest zip of this form, in bytes: its numbers are 32 bits long.
pub(crate) const MAX_ZIP: u64 = u32::MAX as u64 - 1;
/// The most files: their number is 16 bits long.
pub(crate) const MAX_FILES: usize = 10_000;
/// How much of a file is in memory at once.
const PIECE: usize = 256 * 1024;

/// 1980-01-01 00:00, the first time that a zip can say.
const DATE: u16 = 0x0021;
/// Version 1.0 of the form: files as they are.
const VERSION: u16 = 10;

/// A file as the zip's headers tell of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Told {
    pub name: String,
    pub size: u32,
    pub crc: u32,
}

impl Told {
    /// What both headers of a file say alike.
    fn facts(&self) -> Vec<u8> {
        let numbers = [self.crc, self.size, self.size];
        // No flags, not packed, midnight, the date.
        let mut facts = shorts(&[VERSION, 0, 0, 0, DATE]);
        facts.extend(numbers.iter().flat_map(|n| n.to_le_bytes()));
        // The name's length, and no further fields.
        facts.extend(shorts(&[self.name.len() as u16, 0]));
        facts
    }

    /// The header before a file.
    fn before(&self) -> Vec<u8> {
        [b"PK\x03\x04", &self.facts()[..], self.name.as_bytes()].concat()
    }

    /// The file's entry in the directory.
    fn entry(&self, at: u32) -> Vec<u8> {
        let made_by = shorts(&[VERSION]);
        // No comment, on the first disk, nothing known of its inside nor of its place on a disk.
        let (none, at) = (shorts(&[0, 0, 0, 0, 0]), at.to_le_bytes());
        [
            b"PK\x01\x02",
            &made_by[..],
            &self.facts(),
            &none,
            &at,
            self.name.as_bytes(),
        ]
        .concat()
    }
}

/// The end of the directory.
fn end(files: u16, directory: u32, at: u32) -> Vec<u8> {
    let (counts, no_comment) = (shorts(&[0, 0, files, files]), shorts(&[0]));
    let (directory, at) = (directory.to_le_bytes(), at.to_le_bytes());
    [
        b"PK\x05\x06",
        &counts[..],
        &directory[..],
        &at[..],
        &no_comment,
    ]
    .concat()
}

fn shorts(values: &[u16]) -> Vec<u8> {
    values.iter().flat_map(|n| n.to_le_bytes()).collect()
}

/// Writes a zip of this form, and its manifest as the last file.
pub(crate) struct Zip<W> {
    to: W,
    at: u64,
    files: u16,
    directory: Vec<u8>,
    manifest: String,
    hash: Sha256,
}

impl<W: Write> Zip<W> {
    pub fn new(to: W) -> Self {
        Self {
            to,
            at: 0,
            files: 0,
            directory: Vec::new(),
            manifest: String::new(),
            hash: Sha256::new(),
        }
    }

    /// Puts in a file that is in memory.
    pub fn put(&mut self, name: &str, bytes: &[u8]) -> Result<(), Fault> {
        self.put_known(name, bytes, &Digest::of(bytes))
    }

    /// The same of one whose digest is known.
    pub fn put_known(&mut self, name: &str, bytes: &[u8], digest: &Digest) -> Result<(), Fault> {
        self.manifest.push_str(&line(digest, name));
        self.begin(name, bytes.len() as u64, crc32fast::hash(bytes))?;
        self.write(bytes)
    }

    /// Puts in a file on the disk, piece by piece: its headers say what only reading it tells, so it is read twice.
    pub fn put_file(&mut self, name: &str, file: &mut (impl Read + Seek)) -> Result<(), Fault> {
        let (mut crc, mut hash, mut size) = (crc32fast::Hasher::new(), Sha256::new(), 0);
        pieces(file, |piece| {
            crc.update(piece);
            hash.update(piece);
            size += piece.len() as u64;
            Ok(())
        })?;
        let digest = Digest(hash.finalize().into());
        self.manifest.push_str(&line(&digest, name));
        self.begin(name, size, crc.finalize())?;
        file.seek(SeekFrom::Start(0))?;
        pieces(&mut file.take(size), |piece| self.write(piece))
    }

    /// Puts in the manifest, ends the zip, and returns the digest and the size of it all.
    pub fn finish(mut self) -> Result<(Digest, u64), Fault> {
        let manifest = std::mem::take(&mut self.manifest);
        self.put(MANIFEST, manifest.as_bytes())?;
        let (at, directory) = (self.at, std::mem::take(&mut self.directory));
        self.write(&directory)?;
        let end = end(self.files, directory.len() as u32, at as u32);
        self.write(&end)?;
        self.to.flush()?;
        Ok((Digest(self.hash.finalize().into()), self.at))
    }

    fn begin(&mut self, name: &str, size: u64, crc: u32) -> Result<(), Fault> {
        let room = MAX_ZIP.saturating_sub(self.at + self.directory.len() as u64);
        let headers = 2 * (name.len() as u64 + 64);
        if size.saturating_add(headers) > room || usize::from(self.files) == MAX_FILES {
            return Err(Fault::BundleTooBig(format!(
                "at most {} MiB in {MAX_FILES} files fit",
                MAX_ZIP >> 20
            )));
        }
        let told = Told {
            name: name.to_owned(),
            // There is room, so both are below 2^32.
            size: size as u32,
            crc,
        };
        self.directory.extend(told.entry(self.at as u32));
        self.files += 1;
        self.write(&told.before())
    }

    fn write(&mut self, bytes: &[u8]) -> Result<(), Fault> {
        self.to.write_all(bytes)?;
        self.hash.update(bytes);
        self.at += bytes.len() as u64;
        Ok(())
    }
}

/// A line of the manifest, as `sha256sum` writes and reads it.
pub(crate) fn line(digest: &Digest, name: &str) -> String {
    format!("{digest}  {name}\n")
}

/// Hands on what can be read, piece by piece.
pub(crate) fn pieces(
    from: &mut impl Read,
    mut take: impl FnMut(&[u8]) -> Result<(), Fault>,
) -> Result<(), Fault> {
    let mut piece = vec![0; PIECE];
    loop {
        match from.read(&mut piece) {
            Ok(0) => return Ok(()),
            Ok(read) => take(&piece[..read])?,
            Err(error) if error.kind() == io::ErrorKind::Interrupted => {}
            Err(error) => return Err(error.into()),
        }
    }
}

/// Returns in words where a file is not, to the byte, the zip that these files make. Their content is not looked at: it
/// is bound by the manifest.
pub(crate) fn misfit(zip: &mut (impl Read + Seek), files: &[Told]) -> io::Result<Option<String>> {
    let length = zip.seek(SeekFrom::End(0))?;
    let (mut at, mut directory) = (0, Vec::new());
    for told in files {
        if let Some(byte) = differs(zip, at, &told.before())? {
            let what = format!("the header before {}", shown(&told.name));
            return Ok(Some(otherwise(byte, &what)));
        }
        directory.extend(told.entry(at as u32));
        at += told.before().len() as u64 + u64::from(told.size);
    }
    if let Some(byte) = differs(zip, at, &directory)? {
        return Ok(Some(otherwise(byte, "the directory")));
    }
    let end = end(files.len() as u16, directory.len() as u32, at as u32);
    at += directory.len() as u64;
    if let Some(byte) = differs(zip, at, &end)? {
        return Ok(Some(otherwise(byte, "the end of the directory")));
    }
    at += end.len() as u64;
    Ok((at != length).then(|| format!("{} bytes stand after the zip's end", length - at)))
}

fn otherwise(byte: u64, what: &str) -> String {
    format!("from byte {byte} on the zip is not as it was packed: {what} is another")
}

/// Returns where the zip says something else than expected from `at` on.
fn differs(zip: &mut (impl Read + Seek), at: u64, expected: &[u8]) -> io::Result<Option<u64>> {
    zip.seek(SeekFrom::Start(at))?;
    let mut found = Vec::new();
    zip.take(expected.len() as u64).read_to_end(&mut found)?;
    if found == expected {
        return Ok(None);
    }
    let same = found.iter().zip(expected).take_while(|(a, b)| a == b);
    Ok(Some(at + same.count() as u64))
}

/// A name from a file that came from elsewhere, as it may be shown.
pub(crate) fn shown(name: &str) -> String {
    let short: String = name.chars().take(120).collect();
    format!("`{}`", short.escape_debug())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The form on disk. If this fails, bundles that were handed out no longer verify: add a form instead. The bytes are
    /// written out from the APPNOTE's tables of fields, not from what this program wrote.
    #[test]
    fn a_zip_of_one_file_is_these_bytes() {
        let mut bytes = Vec::new();
        let mut zip = Zip::new(&mut bytes);
        zip.put("a", b"hi").unwrap();
        zip.finish().unwrap();
        // CRC-32 and SHA-256 of "hi" as Python's zlib and hashlib have them.
        let header = b"PK\x03\x04\
            \x0A\0\0\0\0\0\0\0\x21\0\xAC\x2A\x93\xD8\x02\0\0\0\x02\0\0\0\x01\0\0\0ahi";
        assert_eq!(&bytes[..header.len()], header);
        let sum = b"8f434346648f6b96df89dda901c5176b10a6d83961dd3c1ac88b59b2dc327aa4  a\n";
        assert_eq!(&bytes[header.len() + 40..header.len() + 40 + 68], sum);
        let entry = b"PK\x01\x02\
            \x0A\0\x0A\0\0\0\0\0\0\0\x21\0\xAC\x2A\x93\xD8\x02\0\0\0\x02\0\0\0\x01\0\0\0\
            \0\0\0\0\0\0\0\0\0\0\0\0\0\0a";
        let directory = header.len() + 40 + 68;
        assert_eq!(&bytes[directory..directory + entry.len()], entry);
        // Two files, a directory of 103 bytes, where it stands, no comment.
        let end = [
            &b"PK\x05\x06\0\0\0\0\x02\0\x02\0\x67\0\0\0"[..],
            &[directory as u8, 0, 0, 0, 0, 0],
        ];
        assert_eq!(&bytes[bytes.len() - 22..], end.concat());
        assert_eq!(bytes.len(), directory + 103 + 22);
    }

    #[test]
    fn what_does_not_fit_is_refused_before_it_is_written() {
        let mut zip = Zip::new(io::sink());
        let refused = zip.begin("a", MAX_ZIP, 0).unwrap_err();
        assert!(matches!(refused, Fault::BundleTooBig(_)), "{refused}");
        assert_eq!(zip.at, 0);
        for n in 0..MAX_FILES {
            zip.put(&n.to_string(), b"").unwrap();
        }
        let refused = zip.put("one more", b"").unwrap_err();
        assert!(matches!(refused, Fault::BundleTooBig(_)), "{refused}");
    }
}
