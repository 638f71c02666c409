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

/// Most rows of a corrected list that are aligned by their words with the list before; beyond, only equal codes are.
/// Rows that did not change are found by their key and do not count.
pub const MAX_ALIGNED_ROWS: usize = 1_500;

/// Largest file of codes, in bytes; a line takes about a hundred.
pub const MAX_CODES_BYTES: usize = 4 << 20;

/// Most codes of one sender.
pub const MAX_CODES: usize = 20_000;
