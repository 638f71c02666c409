//! An XML document's UBL parts as trees: names by namespace, each element with where it stands.
//!
//! A document type is refused, and with it every entity; so is anything deeper, larger or more than an honest
//! despatch advice is.

use quick_xml::events::{BytesStart, Event};
use quick_xml::name::ResolveResult;
use quick_xml::{NsReader, XmlVersion};

use super::Spot;
use crate::error::Refusal;
use crate::limits;
use crate::read::text::{clean, cut};

/// Which of UBL's vocabularies a name is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Vocabulary {
    /// `CommonBasicComponents-2`: holds a text.
    Basic,
    /// `CommonAggregateComponents-2`: holds elements.
    Aggregate,
    /// A document's own namespace.
    Document,
    /// None of UBL's.
    Other,
}

/// Where all namespaces of UBL begin.
pub const UBL: &str = "urn:oasis:names:specification:ubl:schema:xsd:";

/// One element.
#[derive(Debug)]
pub struct Element {
    /// Vocabulary of its name.
    pub vocabulary: Vocabulary,
    /// Its name without prefix.
    pub name: Box<str>,
    /// `unitCode`, `schemeID`, `listID` and the like.
    attributes: Vec<(Box<str>, Box<str>)>,
    /// Its own text, cleaned.
    pub text: String,
    /// What is inside, in order.
    pub children: Vec<Element>,
    /// Where it begins, in bytes of the text.
    pub offset: usize,
}

impl Element {
    /// Returns an attribute, empty when it is not there.
    pub fn attribute(&self, name: &str) -> &str {
        let found = self.attributes.iter().find(|(key, _)| &**key == name);
        found.map_or("", |(_, value)| value)
    }

    /// Returns the first aggregate of a name.
    pub fn part(&self, name: &str) -> Option<&Element> {
        self.first(Vocabulary::Aggregate, name)
    }

    /// Returns all aggregates of a name.
    pub fn parts<'a>(&'a self, name: &'a str) -> impl Iterator<Item = &'a Element> {
        self.of(Vocabulary::Aggregate, name)
    }

    /// Returns the first basic element of a name.
    pub fn value(&self, name: &str) -> Option<&Element> {
        self.first(Vocabulary::Basic, name)
    }

    fn first(&self, is: Vocabulary, name: &str) -> Option<&Element> {
        (self.children.iter()).find(|c| c.vocabulary == is && &*c.name == name)
    }

    /// Returns the text of the first basic element of a name, empty when it is not there.
    pub fn says(&self, name: &str) -> &str {
        self.value(name).map_or("", |element| &element.text)
    }

    /// Returns the texts of all basic elements of a name.
    pub fn all(&self, name: &str) -> Vec<String> {
        let found = self.of(Vocabulary::Basic, name);
        let filled = found.filter(|element| !element.text.is_empty());
        filled.map(|element| element.text.clone()).collect()
    }

    fn of<'a>(&'a self, is: Vocabulary, name: &'a str) -> impl Iterator<Item = &'a Element> {
        (self.children.iter()).filter(move |c| c.vocabulary == is && &*c.name == name)
    }

    /// Calls for every element inside, however deep, with the one that it stands in.
    pub fn walk<'a>(&'a self, skip: &[&str], seen: &mut impl FnMut(&'a Element, &'a Element)) {
        for child in self.children.iter().filter(|c| !skip.contains(&&*c.name)) {
            seen(self, child);
            child.walk(skip, seen);
        }
    }
}

/// What was found in a text.
#[derive(Default)]
pub struct Documents {
    /// Namespace and tree of each UBL document, also inside a wrapper.
    pub found: Vec<(String, Element)>,
    /// Names that matter and stood in a namespace that is not UBL's, with where.
    pub misplaced: Vec<(String, usize)>,
    /// The root, when no UBL document was found.
    pub root: String,
}

/// Finds line and column of a byte offset, also where a system wrote all of a file on one line.
pub struct Lines {
    /// Where each line begins.
    starts: Vec<usize>,
    /// How many characters begin before each block of bytes.
    before: Vec<usize>,
}

/// Bytes of which characters are counted anew for each offset.
const BLOCK: usize = 1 << 10;

impl Lines {
    /// Looks through the text once.
    pub fn of(text: &str) -> Self {
        let ends = text.bytes().enumerate().filter(|(_, b)| *b == b'\n');
        let blocks = text.as_bytes().chunks(BLOCK);
        let before = blocks.scan(0, |sum, block| {
            let before = *sum;
            *sum += characters(block);
            Some(before)
        });
        Self {
            before: before.collect(),
            starts: std::iter::once(0)
                .chain(ends.map(|(at, _)| at + 1))
                .collect(),
        }
    }

    /// Returns line and column of an offset.
    pub fn spot(&self, text: &str, offset: usize) -> Spot {
        let line = self.starts.partition_point(|start| *start <= offset);
        let start = self.starts.get(line.wrapping_sub(1)).copied().unwrap_or(0);
        let column = self
            .before(text, offset)
            .saturating_sub(self.before(text, start));
        Spot {
            line: u32::try_from(line).unwrap_or(u32::MAX),
            column: u32::try_from(column + 1).unwrap_or(u32::MAX),
            segment: None,
        }
    }

    /// How many characters begin before an offset.
    fn before(&self, text: &str, offset: usize) -> usize {
        let offset = offset.min(text.len());
        let (block, within) = (offset / BLOCK, offset % BLOCK);
        let bytes = &text.as_bytes()[offset - within..offset];
        let whole = self.before.get(block).copied();
        // At the very end there may be no block any more.
        let whole = whole.unwrap_or_else(|| characters(&text.as_bytes()[..offset - within]));
        whole + characters(bytes)
    }
}

/// Counts the characters that begin in bytes of UTF-8.
fn characters(bytes: &[u8]) -> usize {
    bytes.iter().filter(|b| **b & 0xC0 != 0x80).count()
}

/// What stands open while the text is read.
#[derive(Default)]
struct Reading {
    /// From the document's root down.
    open: Vec<Element>,
    /// Namespace of the document that is open.
    namespace: String,
    /// How deep in elements around the documents.
    outside: usize,
    /// How deep in elements of other vocabularies, of which nothing is kept.
    passed_over: usize,
    elements: usize,
    done: Documents,
}

/// Reads all UBL documents of the text into trees.
pub fn read(text: &str, lines: &Lines) -> Result<Documents, Refusal> {
    let mut reader = NsReader::from_str(text);
    let mut reading = Reading::default();
    loop {
        let offset = usize::try_from(reader.buffer_position()).unwrap_or(usize::MAX);
        let (namespace, event) = match reader.read_resolved_event() {
            Ok((ResolveResult::Bound(namespace), event)) => (namespace.as_ref().to_owned(), event),
            Ok((ResolveResult::Unbound, event)) => (String::new(), event),
            Ok((ResolveResult::Unknown(prefix), _)) => {
                let why =
                    format!("the prefix {prefix}: has no namespace; xmlns:{prefix} is missing");
                return Err(reading.broken(text, lines, offset, why));
            }
            Err(error) => {
                let at = usize::try_from(reader.error_position()).unwrap_or(offset);
                return Err(reading.broken(text, lines, at, error.to_string()));
            }
        };
        let done = match event {
            Event::Eof if reading.depth() > 0 => {
                Err("the file ends here; it was cut off".to_owned())
            }
            Event::Eof => return Ok(reading.done),
            Event::Start(start) => reading.start(&namespace, &start, offset),
            Event::Empty(start) => reading
                .start(&namespace, &start, offset)
                .map(|()| reading.end()),
            Event::End(_) => {
                reading.end();
                Ok(())
            }
            Event::Text(said) => reading.text(&said.xml10_content()),
            Event::CData(said) => reading.text(&said.xml10_content()),
            Event::GeneralRef(reference) => match reference.resolve_char_ref() {
                Ok(Some(c)) => reading.text(c.encode_utf8(&mut [0; 4])),
                Ok(None) => entity(&reference).map_or_else(
                    || {
                        Err(format!(
                            "the entity &{}; is none of XML's own five",
                            cut(&reference, 40)
                        ))
                    },
                    |text| reading.text(text),
                ),
                Err(error) => Err(error.to_string()),
            },
            Event::DocType(_) => Err(
                "it has a document type declaration (DOCTYPE), which could pull in other files; \
                a despatch advice has none"
                    .to_owned(),
            ),
            Event::Comment(_) | Event::Decl(_) | Event::PI(_) => Ok(()),
        };
        done.map_err(|why| reading.broken(text, lines, offset, why))?;
    }
}

fn entity(name: &str) -> Option<&'static str> {
    Some(match name {
        "amp" => "&",
        "lt" => "<",
        "gt" => ">",
        "quot" => "\"",
        "apos" => "'",
        _ => return None,
    })
}

impl Reading {
    fn depth(&self) -> usize {
        self.outside + self.open.len() + self.passed_over
    }

    fn broken(&self, text: &str, lines: &Lines, offset: usize, why: String) -> Refusal {
        let names: Vec<&str> = self.open.iter().map(|element| &*element.name).collect();
        let within = match names.is_empty() {
            true => String::new(),
            false => format!(", in /{}", names.join("/")),
        };
        Refusal::Broken {
            at: format!("{}{within}", lines.spot(text, offset)),
            why,
        }
    }

    fn start(
        &mut self,
        namespace: &str,
        start: &BytesStart<'_>,
        offset: usize,
    ) -> Result<(), String> {
        self.elements += 1;
        if self.elements > limits::MAX_DATA_ELEMENTS {
            return Err(format!(
                "more than {} elements; send the despatch advice alone",
                limits::MAX_DATA_ELEMENTS
            ));
        }
        if self.depth() >= limits::MAX_XML_DEPTH {
            return Err(format!(
                "elements stand more than {} deep",
                limits::MAX_XML_DEPTH
            ));
        }
        let vocabulary = Vocabulary::of(namespace);
        let name = start.local_name();
        let name: &str = name.as_ref();
        if self.open.is_empty() && vocabulary != Vocabulary::Document {
            if self.done.root.is_empty() {
                self.done.root = cut(name, 80).to_owned();
            }
            self.outside += 1;
            return Ok(());
        }
        let inside = matches!(vocabulary, Vocabulary::Basic | Vocabulary::Aggregate);
        if self.passed_over > 0 || !(self.open.is_empty() || inside) {
            if self.passed_over == 0 && NEEDED.contains(&name) && self.done.misplaced.len() < 100 {
                self.done.misplaced.push((name.to_owned(), offset));
            }
            self.passed_over += 1;
            return Ok(());
        }
        if self.open.is_empty() {
            self.namespace = namespace.to_owned();
        }
        let mut attributes: Vec<(Box<str>, Box<str>)> = Vec::new();
        for attribute in start.attributes() {
            let attribute = attribute.map_err(|error| error.to_string())?;
            let key = attribute.key.local_name();
            let is_namespace = attribute.key.as_namespace_binding().is_some();
            if is_namespace || attributes.len() >= 16 {
                continue;
            }
            let value = (attribute.normalized_value(XmlVersion::Implicit1_0))
                .map_err(|error| error.to_string())?;
            let value = clean(cut(&value, 256)).0.into_owned();
            attributes.push((key.as_ref().into(), value.into()));
        }
        self.open.push(Element {
            vocabulary,
            name: cut(name, 80).into(),
            attributes,
            text: String::new(),
            children: Vec::new(),
            offset,
        });
        Ok(())
    }

    fn end(&mut self) {
        if self.passed_over > 0 {
            self.passed_over -= 1;
            return;
        }
        let Some(mut element) = self.open.pop() else {
            self.outside = self.outside.saturating_sub(1);
            return;
        };
        if element.vocabulary == Vocabulary::Basic {
            element.text = clean(&element.text).0.into_owned();
        }
        match self.open.last_mut() {
            Some(parent) => parent.children.push(element),
            None => (self.done.found).push((std::mem::take(&mut self.namespace), element)),
        }
    }

    fn text(&mut self, said: &str) -> Result<(), String> {
        let basic = (self.open.last_mut())
            .filter(|element| self.passed_over == 0 && element.vocabulary == Vocabulary::Basic);
        if let Some(element) = basic {
            let room = limits::MAX_CELL_BYTES.saturating_sub(element.text.len());
            let said = cut(said, room);
            element.text.push_str(said);
        }
        Ok(())
    }
}

/// Names without which something of weight is lost.
const NEEDED: [&str; 12] = [
    "ID",
    "IssueDate",
    "OrderReference",
    "DespatchSupplierParty",
    "DeliveryCustomerParty",
    "Shipment",
    "DespatchLine",
    "DeliveredQuantity",
    "BackorderQuantity",
    "OrderLineReference",
    "Item",
    "SubDespatchLine",
];

impl Vocabulary {
    fn of(namespace: &str) -> Self {
        match namespace.trim().strip_prefix(UBL) {
            Some("CommonBasicComponents-2") => Self::Basic,
            Some("CommonAggregateComponents-2") => Self::Aggregate,
            // Extensions, data types and signatures are no documents.
            Some(name)
                if name.contains("Common")
                    || name.contains("Datatypes")
                    || name.contains("Signature") =>
            {
                Self::Other
            }
            Some(_) => Self::Document,
            None => Self::Other,
        }
    }
}
