//! The yard: a server on the yard's own network and its pages, plain HTML first, for phones in the sun.
//!
//! **Invariant:** without the join code nothing is read and nothing is written; what a page acknowledges is on disk;
//! no text from a list, a name or a note reaches a page but escaped.

mod access;
mod address;
mod assets;
mod bundle;
mod clock;
mod code;
mod compress;
mod deadlines;
mod desk;
mod door;
mod forms;
mod ground_text;
mod laying;
mod letters;
mod live;
mod outlook;
mod pages;
mod papers;
mod received;
mod reply;
mod seen;
mod serve;
mod take_along;
mod tls;
mod trust;
mod trust_address;
mod trust_file;

pub use bundle::{BundleError, bundle};
pub use clock::{at_site, dated, site_zone};
pub use code::JoinCode;
pub use deadlines::{Deadlines, calendar};
pub use desk::{Desk, DeskError, document};
pub use laying::Laying;
pub use pages::points::about_name;
pub use pages::story::{how_sure, in_words as story_in_words, minutes};
pub use papers::{PAPER_KINDS, PaperKind, PaperOf};
pub use received::{ReceivedForm, received};
pub use serve::{Open, Places, serve};
pub use tls::SafeAddress;
pub use trust::Fingerprint;

/// The name under which commands write, where no person gave one.
pub const THIS_COMPUTER: &str = "this computer";
