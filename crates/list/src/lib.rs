//! Packing lists of every kind into rows; rows matched to marks, with the reason.
//!
//! The way of a list through this crate, a file for each step:
//!
//! 1. [`read_sheets`]: bytes, told apart by content, into one grid of cells ([`Sheets`]). Each kind of file has a
//!    reader of its own; whatever comes later ends in the same grid.
//! 2. The grid into a [`PackingList`]: the header block, the table found by its content, rows, and every other line
//!    set aside with its reason. Rows and lines set aside are together all lines of the file.
//! 3. [`check`]: is the header that of this order? Said before any row is looked at.
//! 4. [`describe`]: what a description says.
//! 5. [`match_rows`]: all rows against all parts as one optimal assignment, with reasons and doubt.
//!
//! **Invariant:** nothing here reads a clock, a disk, a network or a random source; no bytes make it panic or use
//! more memory than stated in [`limits`].

mod assign;
mod carry;
mod changes;
mod codes;
mod codes_file;
pub mod despatch;
mod error;
pub mod geometry;
mod grid;
pub mod limits;
mod matching;
mod read;
mod row;
mod table;

pub use assign::{Cost, Problem, Solution, solve};
pub use carry::{CarriedOver, Carry, LeftBehind, carry, words_of};
pub use changes::{AlignedBy, Change, Changes, Pair, Told, changes};
pub use codes::{Codes, Learned, sender_key};
pub use codes_file::{CodesRefused, read_codes, write_codes};
pub use error::{ListError, Refusal};
pub use grid::{Line, Place, Seen, Sheet, Sheets, Warning};
pub use matching::describe::{Fact, Said, describe};
pub use matching::ends::Ends;
pub use matching::evidence::Reason;
pub use matching::explode::{By, Exploded, Kit, explode, settle};
pub use matching::nouns::{Concept, Kind, Noun, concept};
pub use matching::{
    Against, DOUBT_OF_A_CONTRADICTION, DOUBT_OF_AN_AMBIGUOUS_WORD, DOUBT_OF_NOTHING, LEAST_DOUBT,
    Matched, match_list, match_rows,
};
pub use read::{is_picture, pdf, read_sheets};
pub use row::{NoRowKey, PackingList, Row, RowKey, SetAside, Why};
pub use table::header::{Expected, Header, HeaderTrouble, check};
pub use table::quantity::Quantity;

/// Reads a packing list. `file` is the name that messages give; what the file is, its content tells.
pub fn read(bytes: &[u8], file: &str) -> Result<PackingList, ListError> {
    read_within(bytes, 0).map_err(|why| ListError {
        file: file.to_owned(),
        why,
    })
}

/// Reads a list that stands so deep inside other files: a mail, a ZIP.
fn read_within(bytes: &[u8], depth: usize) -> Result<PackingList, Refusal> {
    read::check_size(bytes)?;
    if let Some(opened) = read::inside::open(bytes) {
        if depth >= limits::MAX_FILES_WITHIN {
            return Err(Refusal::TooDeep);
        }
        return read::inside::list(opened?, depth);
    }
    if let Some(despatch) = despatch::read(bytes) {
        return despatch.map(PackingList::from);
    }
    list_of(read::sheets(bytes)?)
}

/// Reads the rows of a file that is a grid already.
pub fn read_rows(sheets: Sheets, file: &str) -> Result<PackingList, ListError> {
    list_of(sheets).map_err(|why| ListError {
        file: file.to_owned(),
        why,
    })
}

fn list_of(sheets: Sheets) -> Result<PackingList, Refusal> {
    let left_out = sheets.set_aside.len();
    table::packing_list(sheets).ok_or(match left_out {
        0 => Refusal::NoTable,
        _ => Refusal::NoTableShown(left_out),
    })
}

/// Reads how many pieces a cell says, as [`read`] does; `unit` is what a column of its own says.
pub fn read_quantity(cell: &str, unit: &str) -> Option<Quantity> {
    table::quantity::read(cell, unit)
}
