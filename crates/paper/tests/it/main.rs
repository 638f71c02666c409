//! Every check here reads the PDF with other people's programs (poppler, qpdf), never with ours.

mod drawings;
mod file;
mod hostile;
mod osd;
mod pdf;
mod sample;
mod tally_sheet;
