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

/// Most text over all cells, in bytes. A workbook may show one long text in each of very many cells, which costs it a few
/// bytes each time; no file that holds its texts itself comes near.
pub const MAX_TEXT_BYTES: usize = 64 << 20;

/// Most files inside a workbook.
pub const MAX_WORKBOOK_FILES: usize = 1_024;

/// Largest single file inside a workbook, unpacked.
pub const MAX_UNPACKED_FILE: u64 = 96 << 20;

/// Largest workbook, unpacked.
pub const MAX_UNPACKED: u64 = 192 << 20;

/// Most that all sheets of a workbook may come to, were each as large as its largest file: one file may be named as the
/// sheet a thousand times, and is read each time.
pub const MAX_UNPACKED_SHEETS: u64 = 4 * MAX_UNPACKED;

/// Unpacked to packed beyond this (for what unpacks to more than a mebibyte) is a bomb, not a list.
/// Sheets of one repeated row, the most that an honest sender makes, stay under 60.
pub const MAX_RATIO: u64 = 200;

/// How much of one description is considered, in characters.
pub const MAX_DESCRIPTION: usize = 2_000;

/// Most rows that are matched to marks; a longer list is read but comes back unmatched, and says so.
pub const MAX_MATCHED_ROWS: usize = 5_000;

/// Most words on all pages of a paper: a thousand on each of two hundred pages, and half as many again.
pub const MAX_WORDS: usize = 300_000;

/// Elements of XML deeper in each other than this are no list: senders' systems go to about 12.
pub const MAX_XML_DEPTH: usize = 100;

/// Most elements of an XML document, or segments of an X12 file. A notice of a thousand lines has some fifty thousand.
pub const MAX_DATA_ELEMENTS: usize = 1_000_000;

/// Most lines of despatch advices in one file.
pub const MAX_SENT_LINES: usize = 50_000;

/// Most warnings that are kept of one file of data; how many more there were is said.
pub const MAX_DATA_WARNINGS: usize = 200;

/// Most remarks about single cells that a reader makes of one file; the rest is counted.
pub const MAX_READING_WARNINGS: usize = 200;

/// Deepest that elements of a page, a message or a drawing stand inside each other; what is deeper is refused, or
/// read as if it stood at this depth. Honest mail of nested layout tables stays under 100.
pub const MAX_DEPTH: usize = 400;

/// Deepest that files stand inside files: a list in a ZIP in a mail forwarded with a mail.
pub const MAX_FILES_WITHIN: usize = 4;

/// Most files inside one ZIP or mail that are tried as lists.
pub const MAX_ATTACHMENTS: usize = 64;

/// Most packed files (workbooks, ZIPs) inside one file that are tried: each may unpack to [`MAX_UNPACKED`].
pub const MAX_PACKED_WITHIN: usize = 8;

/// Most rows of a corrected list that are aligned by their words with the list before; beyond, only equal codes are.
/// Rows that did not change are found by their key and do not count.
pub const MAX_ALIGNED_ROWS: usize = 1_500;

/// Largest file of codes, in bytes; a line takes about a hundred.
pub const MAX_CODES_BYTES: usize = 4 << 20;

/// Most codes of one sender.
pub const MAX_CODES: usize = 20_000;

/// Most pages of a PDF. The packing list of a large kit has forty.
pub const MAX_PAGES: usize = 200;

/// Most letters on one page of a PDF; a page set as small as can be read has twenty thousand.
pub const MAX_LETTERS: usize = 200_000;

/// Most thin lines of one page of a PDF; a table with every cell framed has some thousands.
pub const MAX_RULES: usize = 50_000;

/// Most notes and fields of one page of a PDF.
pub const MAX_NOTES: usize = 2_000;

/// Most steps (letters, lines, sixteen bytes read of drawings and fonts) that all pages of a PDF may ask for: two hundred
/// full pages are two million. Each takes some hundred nanoseconds.
pub const MAX_PDF_STEPS: u64 = 3_000_000;

/// Largest part of a PDF, unpacked: a page scanned in colour at 300 dots an inch has 25 MiB.
pub const MAX_PDF_PART: usize = 64 << 20;

/// Most pixels of one picture in a PDF, as of a photograph: A4 scanned at 600 dots an inch has 35 million.
pub const MAX_PDF_PICTURE: u64 = 64_000_000;

/// Largest PDF, all its parts unpacked one after the other; they are not held together.
pub const MAX_PDF_UNPACKED: u64 = 512 << 20;
