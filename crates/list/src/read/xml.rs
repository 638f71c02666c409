//! The few things that all readers of XML need: attributes by their local name, references, small files of an archive.

use std::io::{Read, Seek};

use quick_xml::XmlVersion;
use quick_xml::events::{BytesRef, BytesStart};
use zip::ZipArchive;

use crate::error::Refusal;

/// Returns an attribute by its name without prefix; one with broken references is taken as written.
pub fn attribute(element: &BytesStart<'_>, name: &str) -> Option<String> {
    // Without the check for doubles, which looks at each pair.
    let mut all = element.attributes();
    let found = all
        .with_checks(false)
        .filter_map(Result::ok)
        .find(|attribute| attribute.key.local_name().as_ref() == name)?;
    let text = found.normalized_value(XmlVersion::default());
    Some(text.map_or_else(
        |_| found.value.clone().into_owned(),
        |text| text.into_owned(),
    ))
}

/// Returns an attribute that is a whole number.
pub fn number(element: &BytesStart<'_>, name: &str) -> Option<usize> {
    attribute(element, name)?.trim().parse().ok()
}

/// The character that a reference stands for; an entity that is none of XML's own five is left out.
pub fn character(reference: &BytesRef<'_>) -> char {
    if let Ok(Some(character)) = reference.resolve_char_ref() {
        return character;
    }
    match reference.xml10_content().as_ref() {
        "amp" => '&',
        "lt" => '<',
        "gt" => '>',
        "quot" => '"',
        "apos" => '\'',
        _ => '\u{fffd}',
    }
}

/// Reads one of the small files inside an archive whose sizes were checked.
pub fn entry_text(archive: &mut ZipArchive<impl Read + Seek>, name: &str) -> Option<String> {
    let mut bytes = Vec::new();
    archive.by_name(name).ok()?.read_to_end(&mut bytes).ok()?;
    Some(String::from_utf8_lossy(&bytes).into_owned())
}

/// The refusal of what an XML or ZIP reader could not read.
pub fn damaged(error: impl std::fmt::Display) -> Refusal {
    Refusal::Damaged(error.to_string())
}
