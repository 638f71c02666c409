//! Every check here reads the PDF with other people's programs (poppler, qpdf, hayro, rqrr), never with ours.

mod archive;
mod build_day;
mod build_day_of;
mod claim_money;
mod drawings;
mod file;
mod hostile;
mod ink;
mod labels;
mod letters;
mod letters_hostile;
mod letters_of;
mod osd;
mod pdf;
mod sample;
mod sample_card;
mod sample_day;
mod sample_job;
mod sample_letters;
mod tally_sheet;
mod tell_apart;
