//! Words on a picture of a list, by a recognising program that is found at run time.
//!
//! [`list_of`] takes photographs or scans of a list's pages, or PDFs of such, which `list::pdf` draws. Each page is found and laid flat (`photo::sheet`), turned the
//! right way up, and handed to `tesseract`, which the Debian package `tesseract-ocr` brings. What comes back is written
//! as ALTO, the Library of Congress's open form for recognised text: words with places and how sure each is. That file is
//! the list from then on: `list::read` reads it on any machine, with the program or without.
//!
//! # Limits
//!
//! | what | most | why |
//! | --- | --- | --- |
//! | pictures of one list | [`MOST_PICTURES`], 24 | each takes seconds; a list of 500 rows has 12 pages |
//! | a picture | `photo`'s limits | 32 MiB, 64 million pixels |
//! | time for one page | [`MOST_TIME`], 90 s | an A4 page takes 2 to 10; after it the program is ended |
//! | what the program says | 16 MiB | 100 000 words |
//! | threads of the program | 1 | the server goes on answering |
//!
//! **Invariant:** no shell is used, no file is written, and no program outlives the call that started it.

mod alto;
mod fault;
mod list_of;
mod program;
mod run;
mod upright;
mod words;

pub use fault::Fault;
pub use list_of::{Kept, MOST_PICTURES, Recognised, Unread, is_picture, list_of, list_of_by};
pub use program::{INSTALL, Missing, Program};
pub use run::{Failed, MOST_TIME};
