//! Every check here reads the PDF with other people's programs (poppler, qpdf, hayro, rqrr), never with ours.

mod drawings;
mod file;
mod hostile;
mod ink;
mod labels;
mod osd;
mod pdf;
mod sample;
mod sample_card;
mod tally_sheet;
mod tell_apart;
