//! A row of a packing list, and the key that finds it again when the list is read anew.

use std::collections::BTreeMap;
use std::fmt;
use std::str::FromStr;

use crate::despatch::{Despatch, SentLine};
use crate::grid::{Place, Seen, Warning};
use crate::table::header::Header;

/// A packing list as read: what the sender says is in the shipment.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PackingList {
    /// What stands above the table.
    pub header: Header,
    /// The rows, from the top.
    pub rows: Vec<Row>,
    /// Every other line that holds anything, with the reason; with the rows these are all lines of the file.
    pub set_aside: Vec<SetAside>,
    /// What a person should know about how the file was read.
    pub warnings: Vec<Warning>,
    /// What the sender's system says beyond rows, where the list came as data.
    pub despatch: Option<Box<Despatch>>,
}

/// One row of the table.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Row {
    /// Where it stood.
    pub at: Place,
    /// Finds the row again in a later reading of the same list.
    pub key: RowKey,
    /// Pieces in this shipment; nothing when the list gives no number that can be read.
    pub quantity: Option<i64>,
    /// The quantity as written, such as "4 bdl x 5".
    pub written: String,
    /// What is unclear about the quantity.
    pub doubt: Option<String>,
    /// Unit as written, in lower case.
    pub unit: String,
    /// Pieces ordered, where the list says it.
    pub ordered: Option<i64>,
    /// Pieces to follow, where the list says it.
    pub backordered: Option<i64>,
    /// The sender's code or the mark.
    pub code: String,
    /// What it is, as written.
    pub description: String,
    /// What other columns and continued lines say of it.
    pub details: String,
    /// Sub-kit, from its column or the section that it stands in.
    pub sub_kit: String,
    /// Shipment, from its column or the section that it stands in.
    pub shipment: String,
    /// The cells as they stood.
    pub cells: Vec<String>,
    /// Where its words stand on the picture that they were recognised on.
    pub seen: Option<Box<Seen>>,
    /// The line as the sender's system wrote it, where the list came as data.
    pub sent: Option<Box<SentLine>>,
}

impl Row {
    /// Returns all that the row says of the thing: the description and the details.
    pub fn says(&self) -> String {
        if self.details.is_empty() {
            self.description.clone()
        } else {
            format!("{}, {}", self.description, self.details)
        }
    }
}

/// A line that is no row, and why.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SetAside {
    /// Where it stood.
    pub at: Place,
    /// What it says, cell after cell.
    pub text: String,
    /// Why it is no row.
    pub why: Why,
}

/// Why a line is no row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Why {
    /// It stands above the table.
    Header,
    /// It names the columns.
    Heading,
    /// It names the columns once more.
    HeadingAgain,
    /// It heads a section, whose rows carry its name.
    Section,
    /// It is a sum of rows.
    Total,
    /// It numbers or dates a page.
    PageStamp,
    /// It goes on with the row above, which has it.
    Continues,
    /// It has no quantity and is no section.
    Note,
    /// A line is drawn through it.
    Struck,
    /// It says that its things come inside something else that has a row of its own.
    IncludedIn,
    /// The page or the sheet does not show it.
    Hidden,
    /// It stands below the mark of a mail's signature.
    Signature,
    /// Its sheet has no table.
    NoTable,
}

impl fmt::Display for Why {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Why::Header => "stands above the table",
            Why::Heading => "names the columns",
            Why::HeadingAgain => "names the columns once more",
            Why::Section => "heads a section",
            Why::Total => "is a sum of rows",
            Why::PageStamp => "is a page stamp",
            Why::Continues => "goes on with the row above",
            Why::Note => "has no quantity: a note",
            Why::Struck => "is struck out",
            Why::IncludedIn => "says that it comes inside something else",
            Why::Hidden => "is hidden",
            Why::Signature => "stands in a mail's signature",
            Why::NoTable => "its sheet has no table",
        })
    }
}

/// Finds a row again. It follows from code, description and sub-kit, and from which of several equal rows this is,
/// from the top. It stays when quantities or other rows change; it changes when the row's own words do.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct RowKey {
    /// FNV-1a, 64 bits, of the row's words. Stored in jobs: never change how it is made.
    pub words: u64,
    /// 1 for the first row with these words.
    pub occurrence: u32,
}

impl RowKey {
    /// The key of a row's words, for a first occurrence.
    pub fn of(code: &str, description: &str, sub_kit: &str) -> Self {
        let mut hash: u64 = 0xcbf2_9ce4_8422_2325;
        let mut add = |byte: u8| hash = (hash ^ u64::from(byte)).wrapping_mul(0x100_0000_01b3);
        for text in [code, description, sub_kit] {
            let spaced = text
                .split_whitespace()
                .flat_map(|word| word.chars().chain([' ']));
            let mut buffer = [0; 4];
            for c in spaced.flat_map(char::to_lowercase) {
                c.encode_utf8(&mut buffer).bytes().for_each(&mut add);
            }
            add(0xff);
        }
        Self {
            words: hash,
            occurrence: 1,
        }
    }
}

/// Numbers the keys of rows with the same words, from the top.
pub(crate) fn number_keys(rows: &mut [Row]) {
    let mut seen: BTreeMap<u64, u32> = BTreeMap::new();
    for row in rows {
        let times = seen.entry(row.key.words).or_default();
        *times += 1;
        row.key.occurrence = *times;
    }
}

impl fmt::Display for RowKey {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:016x}-{}", self.words, self.occurrence)
    }
}

/// A text that is no row key.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{0:?} is no row key; one looks like 0123456789abcdef-1")]
pub struct NoRowKey(String);

impl FromStr for RowKey {
    type Err = NoRowKey;

    fn from_str(text: &str) -> Result<Self, NoRowKey> {
        let read = || {
            let (words, occurrence) = text.split_once('-')?;
            let words = (words.len() == 16).then(|| u64::from_str_radix(words, 16).ok())??;
            Some(Self {
                words,
                occurrence: occurrence.parse().ok()?,
            })
        };
        read().ok_or_else(|| NoRowKey(text.chars().take(40).collect()))
    }
}
