//! What papers say that nothing else in the log holds: the fields of `What::Written`, each with its name in the log and
//! what it asks.
//!
//! | field | of a shipment | what stands in it |
//! | --- | --- | --- |
//! | those of [`FIELDS`] | as each says | words, as they are printed |
//! | [`harmed_field`] | yes | how many harmed pieces of a mark came with the shipment |
//! | [`lost_field`] | yes | how many pieces of a mark were in what did not come off the truck |
//! | [`hidden_field`] | yes | `yes` or `no`: whether harm of a mark could not be seen at the hand-over |
//! | [`cost_field`] | no | the shipment whose carrier is asked for a cost; `-`: none |

use claim::Paper;
use tally::{Affairs, Digest};

/// Something that papers say and a person is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Field {
    /// Its name in the log.
    pub name: &'static str,
    /// What it asks, in words.
    pub asks: &'static str,
    /// An example, or what it is for; may be empty.
    pub such_as: &'static str,
    /// Whether each shipment has its own.
    pub of_shipment: bool,
    /// Whether it may have several lines.
    pub lines: bool,
    /// The papers that say it.
    pub papers: &'static [Paper],
}

const TO_CARRIER: &[Paper] = &[Paper::HiddenHarm, Paper::Claim];
const TO_SENDER: &[Paper] = &[Paper::ToSender, Paper::Replacement, Paper::Return];

const fn line(
    name: &'static str,
    asks: &'static str,
    such_as: &'static str,
    papers: &'static [Paper],
) -> Field {
    Field {
        name,
        asks,
        such_as,
        of_shipment: false,
        lines: false,
        papers,
    }
}

const fn lines(mut field: Field) -> Field {
    field.lines = true;
    field
}

const fn of_shipment(mut field: Field) -> Field {
    field.of_shipment = true;
    field
}

/// Every field that has a name of its own, in the order in which they are asked.
pub const FIELDS: [Field; 17] = [
    line(
        "from-name",
        "Who writes",
        "the school, or the person",
        &Paper::ALL,
    ),
    lines(line("from-address", "Their address", "", &Paper::ALL)),
    line(
        "from-contact",
        "How to reach them",
        "a telephone number or a mail address, and whom to ask for",
        &Paper::ALL,
    ),
    line(
        "reference",
        "Your own number for this matter",
        "",
        &Paper::ALL,
    ),
    lines(line(
        "sender-address",
        "The sender's address",
        "",
        TO_SENDER,
    )),
    line("sender-contact", "How to reach the sender", "", TO_SENDER),
    lines(line(
        "send-to",
        "Where replacements are to be sent",
        "left empty: to the site of the order",
        &[Paper::Replacement],
    )),
    line(
        "needed-by",
        "By when they are needed, and for what",
        "18 May, before the bows are raised",
        &[Paper::Replacement],
    ),
    line(
        "return-number",
        "The sender's number for a return",
        "",
        &[Paper::Return],
    ),
    lines(line(
        "return-to",
        "Where what goes back is to go",
        "",
        &[Paper::Return],
    )),
    line(
        "return-freight",
        "Who pays the carriage back, as the sender said",
        "",
        &[Paper::Return],
    ),
    line(
        "price-source",
        "Where the prices stand",
        "the invoice and its number",
        &[Paper::Claim],
    ),
    of_shipment(lines(line(
        "carrier-address",
        "The carrier's address for claims",
        "",
        TO_CARRIER,
    ))),
    of_shipment(line(
        "carrier-contact",
        "How to reach the carrier",
        "",
        TO_CARRIER,
    )),
    of_shipment(line(
        "kept",
        "Where harmed goods and their packing are kept, and in what state",
        "behind the school, as found",
        &[Paper::Osd, Paper::HiddenHarm, Paper::Claim],
    )),
    of_shipment(line(
        "hidden-by",
        "Why the harm could not be seen at the hand-over",
        "inside a closed crate",
        &[Paper::HiddenHarm],
    )),
    of_shipment(line(
        "told-before",
        "When and by whom the carrier was told before",
        "by telephone, with the day; left empty: not told",
        &[Paper::HiddenHarm],
    )),
];

/// How many harmed pieces of a mark came with a shipment.
pub fn harmed_field(mark: &str) -> String {
    format!("harmed {mark}")
}

/// How many pieces of a mark were in the units that did not come with a shipment.
pub fn lost_field(mark: &str) -> String {
    format!("lost {mark}")
}

/// Whether harm of a mark could not be seen when a shipment was handed over.
pub fn hidden_field(mark: &str) -> String {
    format!("hidden {mark}")
}

/// The shipment whose carrier is asked for a cost. What a cost is for may be longer than a name, so it is named by its
/// digest.
pub fn cost_field(words: &str) -> String {
    let digest = Digest::of(words.as_bytes()).to_string();
    format!("cost {}", digest.chars().take(16).collect::<String>())
}

/// What is written under a cost that no carrier is asked for.
pub const NO_CARRIER: &str = "-";

/// How many pieces a person said; nothing while nobody has.
pub(crate) fn pieces(affairs: &Affairs, field: &str, shipment: &str) -> Option<i64> {
    let words = affairs.written(field, Some(shipment)).trim();
    words
        .parse()
        .ok()
        .filter(|n| (0..=tally::MAX_QUANTITY).contains(n))
}
