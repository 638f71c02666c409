//! How much a list may ask of the machine. Beyond these a file is refused with a word, before it is unpacked.

/// Largest file, as it arrives. A list of a thousand rows is well under one of these mebibytes.
pub const MAX_FILE_BYTES: usize = 32 << 20;

/// Most rows in one file, over all its sheets.
pub const MAX_ROWS: usize = 150_000;

/// Most cells that hold something, over all sheets.
pub const MAX_CELLS: usize = 2_000_000;

/// Columns beyond this one are not looked at; their count is a warning.
pub const MAX_COLUMNS: usize = 256;

/// Longest text kept of one cell, in bytes; the rest is cut off with a warning.
pub const MAX_CELL_BYTES: usize = 8_192;

/// Most files inside a workbook.
pub const MAX_WORKBOOK_FILES: usize = 1_024;

/// Largest single file inside a workbook, unpacked.
pub const MAX_UNPACKED_FILE: u64 = 96 << 20;

/// Largest workbook, unpacked.
pub const MAX_UNPACKED: u64 = 192 << 20;

/// Unpacked to packed beyond this (for what unpacks to more than a mebibyte) is a bomb, not a list.
/// Sheets of one repeated row, the most that an honest sender makes, stay under 60.
pub const MAX_RATIO: u64 = 200;

/// How much of one description is considered, in characters.
pub const MAX_DESCRIPTION: usize = 2_000;

/// Most rows that are matched to marks; a longer list is read but comes back unmatched, and says so.
pub const MAX_MATCHED_ROWS: usize = 5_000;

/// Elements of XML deeper in each other than this are no list: senders' systems go to about 12.
pub const MAX_XML_DEPTH: usize = 100;

/// Most words on all pages of a paper: a thousand on each of two hundred pages, and half as many again.
pub const MAX_WORDS: usize = 300_000;

/// Most pages of a PDF. The packing list of a large kit has forty.
pub const MAX_PAGES: usize = 200;

/// Most letters on one page of a PDF; a page set as small as can be read has twenty thousand.
pub const MAX_LETTERS: usize = 200_000;

/// Most thin lines of one page of a PDF; a table with every cell framed has some thousands.
pub const MAX_RULES: usize = 50_000;

/// Most notes and fields of one page of a PDF.
pub const MAX_NOTES: usize = 2_000;

/// Most steps (letters, lines, clips) that all pages of a PDF may ask for: two hundred full pages are two million.
pub const MAX_PDF_STEPS: u64 = 6_000_000;
