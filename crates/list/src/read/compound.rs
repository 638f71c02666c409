//! Compound files: the wrapping of old workbooks, of protected new ones and of messages that a mail program saved ([MS-CFB]).

use std::io::{Cursor, Read};

use cfb::CompoundFile;

use crate::error::Refusal;
use crate::grid::Sheets;
use crate::limits;
use crate::read::{xls, xml};

/// How such a file begins.
pub const MAGIC: &[u8] = b"\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1";

/// Reads the workbook inside, or says what the file is instead.
pub fn read(bytes: &[u8]) -> Result<Sheets, Refusal> {
    let mut file = CompoundFile::open(Cursor::new(bytes)).map_err(xml::damaged)?;
    if file.exists("/EncryptedPackage") || file.exists("/EncryptionInfo") {
        return Err(Refusal::Protected("XLSX workbook"));
    }
    if file.exists("/__properties_version1.0") {
        return Err(Refusal::MailMessage);
    }
    if file.exists("/WordDocument") {
        return Err(Refusal::OtherKind("an old DOC document"));
    }
    // Two versions of a workbook may lie side by side; the newer is the one under this name.
    let Some(name) = ["/Workbook", "/Book"]
        .into_iter()
        .find(|name| file.exists(name))
    else {
        return Err(Refusal::OtherKind("a compound file without a workbook"));
    };
    let stream = file.open_stream(name).map_err(xml::damaged)?;
    let mut workbook = Vec::new();
    let most = limits::MAX_FILE_BYTES as u64;
    stream
        .take(most)
        .read_to_end(&mut workbook)
        .map_err(xml::damaged)?;
    xls::read(&workbook)
}
