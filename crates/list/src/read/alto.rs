//! ALTO, the Library of Congress's form for recognised text (<https://www.loc.gov/standards/alto/>): words with places
//! and how sure each is, as any recogniser writes them. Versions 1 to 4 differ in what stands around the words, not in
//! the words.

use quick_xml::XmlVersion;
use quick_xml::events::{BytesStart, Event};
use quick_xml::reader::Reader;

use crate::error::Refusal;
use crate::geometry::{Page, Word};
use crate::limits;

/// A file of recognised words.
#[derive(Debug, Default)]
pub(crate) struct Recognised {
    /// Its pages, in order.
    pub(crate) pages: Vec<Page>,
    /// What was said of the pictures when they were made ready, and what is wrong with the file.
    pub(crate) warnings: Vec<String>,
}

/// The namespaces of versions 1 to 4; a file without one is taken by the name of its outermost element.
const NAMESPACES: [&str; 5] = [
    "http://schema.ccs-gmbh.com/ALTO",
    "http://www.loc.gov/standards/alto/ns-v2#",
    "http://www.loc.gov/standards/alto/ns-v3#",
    "http://www.loc.gov/standards/alto/ns-v4#",
    "",
];
/// How far into a file its outermost element begins at most.
const HEAD: usize = 4096;
/// A place beyond this is no place on a page.
const FARTHEST: f32 = 1e6;
/// What a page's picture is called in its ID.
const PICTURE: &str = "picture-";
/// A drawn line is this many times as long as it is thick.
const LINE: f32 = 8.0;

/// Whether bytes are ALTO, by their outermost element.
pub(crate) fn is_alto(bytes: &[u8]) -> bool {
    let head = &bytes[..bytes.len().min(HEAD)];
    let head = String::from_utf8_lossy(head);
    let text = head.trim_start_matches('\u{feff}').trim_start();
    if !text.starts_with('<') {
        return false;
    }
    let mut outermost = text
        .split('<')
        .skip(1)
        .filter(|part| !part.starts_with(['?', '!']));
    outermost.next().is_some_and(|part| {
        let name = part
            .split([' ', '\t', '\r', '\n', '>', '/'])
            .next()
            .unwrap_or_default();
        name.rsplit(':').next() == Some("alto")
    })
}

/// Reads the pages of a file whose outermost element is `alto`.
pub(crate) fn read(text: &str) -> Result<Recognised, Refusal> {
    let mut reader = Reader::from_str(text.trim_start_matches('\u{feff}'));
    let damaged = |at: u64, why: &str| Refusal::DamagedXml {
        kind: "ALTO",
        why: format!("{why}, at byte {at}"),
    };
    let mut reading = Reading::default();
    let mut depth = 0usize;
    loop {
        let at = reader.buffer_position();
        let event = reader
            .read_event()
            .map_err(|e| damaged(at, &e.to_string()))?;
        match event {
            Event::DocType(_) => {
                return Err(damaged(
                    at,
                    "it has a document type declaration, which no recogniser writes",
                ));
            }
            Event::Start(element) => {
                depth += 1;
                if depth > limits::MAX_XML_DEPTH {
                    return Err(damaged(at, "its elements stand too deep in each other"));
                }
                if depth == 1 {
                    check_namespace(&element).map_err(|why| damaged(at, &why))?;
                }
                reading.begins(&element)?;
            }
            Event::Empty(element) => {
                reading.begins(&element)?;
                reading.ends(element.local_name().as_ref());
            }
            Event::End(element) => {
                depth = depth.saturating_sub(1);
                reading.ends(element.local_name().as_ref());
            }
            Event::Text(words) => reading
                .said
                .push_str(&words.xml_content(XmlVersion::Implicit1_0)),
            Event::GeneralRef(reference) => {
                let c = match reference.resolve_char_ref() {
                    Ok(Some(c)) => Some(c),
                    Ok(None) => named(&reference.xml_content(XmlVersion::Implicit1_0)),
                    Err(_) => None,
                };
                reading
                    .said
                    .push(c.ok_or_else(|| damaged(at, "it has an entity of its own"))?);
            }
            Event::Eof => break,
            _ => {}
        }
    }
    reading.finished()
}

fn named(entity: &str) -> Option<char> {
    Some(match entity {
        "amp" => '&',
        "lt" => '<',
        "gt" => '>',
        "quot" => '"',
        "apos" => '\'',
        _ => return None,
    })
}

fn check_namespace(element: &BytesStart<'_>) -> Result<(), String> {
    let name = element.name();
    let declares = match name.as_ref().split_once(':') {
        Some((prefix, _)) => format!("xmlns:{prefix}"),
        None => "xmlns".to_owned(),
    };
    let found = raw(element, &declares).unwrap_or_default();
    match NAMESPACES.contains(&found.as_str()) {
        true => Ok(()),
        false => Err(format!(
            "its namespace {found:?} is that of no version of ALTO from 1 to 4"
        )),
    }
}

/// An attribute's value; nothing where it is not there, or not well written.
fn raw(element: &BytesStart<'_>, name: &str) -> Option<String> {
    let mut attributes = element.attributes();
    let found = attributes
        .with_checks(false)
        .flatten()
        .find(|attribute| attribute.key.as_ref() == name)?;
    let value = found.normalized_value(XmlVersion::Implicit1_0).ok()?;
    Some(value.into_owned())
}

/// A number of an attribute: finite, and on some page.
fn number(element: &BytesStart<'_>, name: &str) -> Option<f32> {
    let number: f32 = raw(element, name)?.trim().parse().ok()?;
    (number.is_finite() && (-FARTHEST..=FARTHEST).contains(&number)).then_some(number)
}

/// What has been read so far.
#[derive(Default)]
struct Reading {
    pages: Vec<Page>,
    words: usize,
    without_place: usize,
    /// Words of which the recogniser does not say how surely it read them.
    unsaid: usize,
    /// In what the places are measured: `pixel`, `mm10` (tenths of a millimetre) or `inch1200`.
    unit: String,
    file: String,
    /// Text since the last element began or ended.
    said: String,
    steps: Vec<String>,
    warnings: Vec<String>,
}

impl Reading {
    fn begins(&mut self, element: &BytesStart<'_>) -> Result<(), Refusal> {
        self.said.clear();
        match element.local_name().as_ref() {
            "Page" => self.page(element),
            "String" => self.word(element)?,
            // The hyphen at a line's end is written beside the word that it parts.
            "HYP" => {
                if let Some(word) = self.pages.last_mut().and_then(|page| page.words.last_mut()) {
                    word.text.push('-');
                }
            }
            "GraphicalElement" => self.rule(element),
            "Processing" | "OCRProcessing" => self.steps.clear(),
            _ => {}
        }
        Ok(())
    }

    fn ends(&mut self, name: &str) {
        let said = std::mem::take(&mut self.said);
        let said = || {
            said.trim()
                .chars()
                .filter(|c| !c.is_control())
                .take(400)
                .collect::<String>()
        };
        match name {
            "MeasurementUnit" => self.unit = said(),
            "fileName" => self.file = said(),
            "processingStepDescription" if self.steps.len() < 40 => self.steps.push(said()),
            // What our own steps found goes to people; other makers write settings there.
            "softwareName" if said() == "tallyard" => self.warnings.append(&mut self.steps),
            _ => {}
        }
    }

    fn page(&mut self, element: &BytesStart<'_>) {
        let id = raw(element, "ID").unwrap_or_default();
        let picture = id.strip_prefix(PICTURE).map(str::to_owned);
        self.pages.push(Page {
            width: number(element, "WIDTH").unwrap_or(0.0).max(0.0),
            height: number(element, "HEIGHT").unwrap_or(0.0).max(0.0),
            // A picture that is not kept is named all the same: what was read there was recognised.
            picture: Some(picture.unwrap_or_else(|| self.file.clone())),
            ..Page::default()
        });
    }

    fn word(&mut self, element: &BytesStart<'_>) -> Result<(), Refusal> {
        let Some(page) = self.pages.last_mut() else {
            return Ok(());
        };
        self.words += 1;
        if self.words > limits::MAX_WORDS {
            return Err(Refusal::TooManyCells);
        }
        let text: String = raw(element, "CONTENT")
            .unwrap_or_default()
            .chars()
            .filter(|c| !c.is_control())
            .take(limits::MAX_DESCRIPTION)
            .collect();
        let text = text.trim();
        if text.is_empty() {
            return Ok(());
        }
        let Some(place) = place(element) else {
            self.without_place += 1;
            return Ok(());
        };
        let sure = number(element, "WC");
        self.unsaid += usize::from(sure.is_none());
        page.words.push(Word {
            text: text.to_owned(),
            place,
            // A maker that says nothing of it is taken at its word, and this is said.
            sure: sure.map_or(1.0, |sure| sure.clamp(0.0, 1.0)),
            struck: false,
        });
        Ok(())
    }

    fn rule(&mut self, element: &BytesStart<'_>) {
        let (Some(page), Some(place)) = (self.pages.last_mut(), place(element)) else {
            return;
        };
        let [wide, high] = [place[2] - place[0], place[3] - place[1]];
        let is_line = wide.max(high) >= LINE * wide.min(high);
        if is_line && page.rules.len() < limits::MAX_RULES {
            page.rules.push(place);
        }
    }

    fn finished(mut self) -> Result<Recognised, Refusal> {
        if self.pages.iter().all(|page| page.words.is_empty()) {
            return Err(Refusal::Empty);
        }
        if self.without_place > 0 {
            self.warnings.push(format!(
                "{} words have no place on their page and were left out",
                self.without_place
            ));
        }
        if self.unsaid > 0 {
            self.warnings.push(format!(
                "the recogniser did not say how surely it read {} of {} words; compare each count with the paper",
                self.unsaid, self.words
            ));
        }
        // Only in pixels is a place one on the picture.
        if !matches!(self.unit.as_str(), "pixel" | "") {
            for page in &mut self.pages {
                page.picture = Some(String::new());
            }
        }
        for page in &mut self.pages {
            within(page);
        }
        Ok(Recognised {
            pages: self.pages,
            warnings: self.warnings,
        })
    }
}

fn place(element: &BytesStart<'_>) -> Option<[f32; 4]> {
    let [left, top] = [number(element, "HPOS")?, number(element, "VPOS")?];
    let [wide, high] = [number(element, "WIDTH")?, number(element, "HEIGHT")?];
    (wide > 0.0 && high > 0.0).then_some([left, top, left + wide, top + high])
}

/// Gives a page without a size that of its words.
fn within(page: &mut Page) {
    let far = |side: usize| page.words.iter().map(|w| w.place[side]).fold(0.0, f32::max);
    (page.width, page.height) = (page.width.max(far(2)), page.height.max(far(3)));
}
