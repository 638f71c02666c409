//! Why a file is not a packing list that can be read.

use crate::limits;

/// Why a whole file was refused. What is wrong with a single row is a warning or a set-aside, never this.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{file}: {why}")]
pub struct ListError {
    /// The file's name as the person gave it.
    pub file: String,
    /// What is wrong, and what would be right.
    pub why: Refusal,
}

/// What is wrong with a file.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum Refusal {
    /// Nothing in it.
    #[error("the file is empty; a packing list has at least one row")]
    Empty,
    /// Too large as it arrives.
    #[error("the file is {} MiB; lists up to {} MiB are read", .0 >> 20, limits::MAX_FILE_BYTES >> 20)]
    TooLarge(usize),
    /// Too many rows.
    #[error(
        "the file has more than {} rows; send the packing list alone",
        limits::MAX_ROWS
    )]
    TooManyRows,
    /// Too many cells.
    #[error(
        "the file has more than {} filled cells; send the packing list alone",
        limits::MAX_CELLS
    )]
    TooManyCells,
    /// Too much text over all cells.
    #[error(
        "the cells of the file hold more than {} MiB of text; send the packing list alone",
        limits::MAX_TEXT_BYTES >> 20
    )]
    TooMuchText,
    /// A kind of file that is known and not read.
    #[error("this is {0}; save the list as XLSX, XLS, ODS, CSV, PDF, HTML or text")]
    OtherKind(&'static str),
    /// A picture of a kind whose words are not recognised.
    #[error("this is a {0} picture; save it as JPEG or PNG")]
    OtherPicture(&'static str),
    /// A picture of a list.
    #[error(
        "this is a picture, whose words must be recognised first: bring it in on the page List, or give it to \"tallyard list\""
    )]
    Picture,
    /// A file of data that is not well written.
    #[error("the {kind} file is damaged: {why}; export it again")]
    DamagedXml {
        /// Of which kind.
        kind: &'static str,
        /// What is wrong, and where.
        why: String,
    },
    /// None of the kinds that are read.
    #[error(
        "this is no kind of file that is read here; save the list as XLSX, XLS, ODS, CSV, PDF, HTML, a mail or text"
    )]
    NotText,
    /// A workbook that unpacks to far more than it should.
    #[error("the workbook's {entry} unpacks to {what}; it is refused before unpacking")]
    Bomb {
        /// The file inside the workbook.
        entry: String,
        /// How much.
        what: String,
    },
    /// A workbook with a document type, which could pull in other files.
    #[error(
        "the workbook's {0} has a document type declaration, which no spreadsheet program writes"
    )]
    DocumentType(String),
    /// Locked with a password.
    #[error(
        "this {0} is protected by a password; open it, save it without the password, and send that"
    )]
    Protected(&'static str),
    /// A message in a mail program's own kind of file.
    #[error(
        "this is a message in a mail program's own form (.msg); save its attachment, or the message as text or HTML, and send that"
    )]
    MailMessage,
    /// A file of many mails.
    #[error("this is a mailbox of {0} messages; save the one with the list by itself")]
    Mailbox(usize),
    /// Elements in elements without end.
    #[error(
        "its parts stand more than {} deep inside each other; no list does",
        limits::MAX_DEPTH
    )]
    TooDeep,
    /// A file inside this file.
    #[error("{name} inside it: {why}")]
    Inside {
        /// Its name there.
        name: String,
        /// What is wrong with it.
        why: Box<Refusal>,
    },
    /// Files inside it, none of which is a list.
    #[error("none of the files inside it is a list ({0}); send the list alone")]
    NoListInside(String),
    /// No table, but so many lines that none was looked for in.
    #[error(
        "{none}; lines that are hidden or stand in a mail's signature, below its \"-- \", were left out: {0}. Send the list without that",
        none = Refusal::NoTable
    )]
    NoTableShown(usize),
    /// A damaged workbook.
    #[error("the workbook is damaged ({0}); open it in a spreadsheet program and save it again")]
    Damaged(String),
    /// Rows, but none that has a quantity and a description.
    #[error("no table was found: no column holds quantities next to descriptions")]
    NoTable,
    /// A despatch advice or ship notice with a fault that stops its reading.
    #[error("{at}: {why}")]
    Broken {
        /// Line and column, with the element or segment.
        at: String,
        /// What is wrong, and what would be right.
        why: String,
    },
    /// Data of a known kind that is no packing list.
    #[error(
        "this is {0}, which is no packing list; a UBL despatch advice or an X12 856 ship notice would be"
    )]
    OtherDocument(String),
    /// A PDF that opens only with a password.
    #[error(
        "this PDF opens only with a password; ask the sender for one without, or save it without and send that"
    )]
    Locked,
    /// A PDF locked in a way that is not known here.
    #[error(
        "this PDF is locked in a way that is not known here; ask the sender for one without a lock"
    )]
    UnknownLock,
    /// A PDF with more pages than a list has.
    #[error(
        "this PDF has more than {} pages; send the packing list alone",
        limits::MAX_PAGES
    )]
    TooManyPages,
    /// A PDF whose pages are pictures: a scan.
    #[error(
        "this PDF has pictures of pages and no text; bring it in on its own as the list, and its words are recognised"
    )]
    PagesArePictures,
    /// A PDF whose letters are drawings.
    #[error(
        "this PDF's letters have no meaning to a program; send photos of its pages, or ask the sender for a spreadsheet"
    )]
    LettersWithoutMeaning,
    /// A PDF with neither words nor pictures of pages.
    #[error("this PDF has no words on its pages")]
    NoText,
    /// A PDF whose pages ask for more than any list.
    #[error("this PDF draws more than any packing list does; send the packing list alone")]
    TooMuchDrawn,
    /// A PDF that unpacks to far more than it should.
    #[error("a part of this PDF unpacks to more than {0} MiB; it is refused before unpacking")]
    PdfBomb(usize),
    /// A PDF whose parts hold each other without end.
    #[error("this PDF's {0} are nested without end; no program writes that")]
    PdfLoop(&'static str),
    /// A damaged PDF.
    #[error("this PDF is damaged; open it in a program that shows it and print it to a new PDF")]
    DamagedPdf,
}
