//! The heading of a section: its name, whether it is a shipment, and how many such kits there are.

use crate::grid::Line;
use crate::table::in_line::{split_end, split_start};

/// Where a reader of lines is: the sheet, the section.
#[derive(Clone, Debug, Default)]
pub struct Section {
    /// Name of the sub-kit.
    pub sub_kit: String,
    /// Name of the shipment.
    pub shipment: String,
    /// How many such kits there are, where the heading says more than one.
    pub kits: Option<i64>,
    /// The heading says that its rows are for one kit.
    pub per_kit: bool,
}

/// The most kits that a heading may count.
const MOST_KITS: i64 = 50;

impl Section {
    /// Goes on to the section that a line heads.
    pub fn begin(&mut self, line: &Line) {
        let text = line.text();
        let lower = text.to_lowercase();
        let is_shipment = ["shipment", "load", "delivery", "truck", "ferry"]
            .iter()
            .any(|word| lower.starts_with(word));
        let unnamed = ["sub-kit", "subkit", "sub kit", "section", "assembly"]
            .iter()
            .find_map(|word| {
                let rest = text.get(word.len()..).filter(|_| lower.starts_with(word))?;
                let rest = rest.trim_start_matches([':', '-', '–', ' ']);
                (!rest.is_empty()).then_some(rest)
            });
        let name = unnamed.unwrap_or(&text);
        (self.kits, self.per_kit) = (None, false);
        if is_shipment {
            self.shipment = trimmed(name);
            return;
        }
        self.per_kit = says_per_kit(&lower);
        let (kits, name) = counted(name).map_or((None, name), |(n, name)| (Some(n), name));
        self.kits = kits.filter(|n| *n > 1);
        self.sub_kit = trimmed(name);
    }

    /// Goes on to the section of a row that is the heading of a kit with its count.
    pub fn begin_kits(&mut self, name: &str, kits: i64) {
        self.sub_kit = trimmed(name);
        self.kits = Some(kits).filter(|n| (2..=MOST_KITS).contains(n));
        self.per_kit = true;
    }
}

fn trimmed(name: &str) -> String {
    name.trim_matches([':', ' ', '-', '–', '*', '=', '#', ','])
        .to_owned()
}

/// "Per kit", "each kit contains".
pub fn says_per_kit(lower: &str) -> bool {
    const WORDS: [&str; 10] = [
        "per kit",
        "each kit",
        "ea kit",
        "per set",
        "each set",
        "in one kit",
        "for one",
        "/kit",
        "kit contains",
        "contents of one",
    ];
    WORDS.iter().any(|word| lower.contains(word))
}

/// "End wall kit (2)", "2 x end wall kit", "End wall, qty 2": the count and the name. "Bag 2" and "24 x 48" are names.
fn counted(text: &str) -> Option<(i64, &str)> {
    let text = text.trim_end_matches([':', ' ']);
    // "End wall kit (2), per kit": what comes after the count says only how the rows count.
    let cut = text.find(')').map_or(text, |at| &text[..=at]);
    let (quantity, name) = split_start(cut).or_else(|| split_end(cut))?;
    let only = quantity.doubt.is_none()
        || matches!(quantity.unit.as_str(), "set" | "sets" | "kit" | "kits");
    let fits = (1..=MOST_KITS).contains(&quantity.pieces) && only;
    let kit = [
        "kit", "set", "wall", "package", "assembly", "bay", "door", "frame", "side", "bow",
    ];
    let lower = name.to_lowercase();
    (fits && kit.iter().any(|word| lower.contains(word))).then_some((quantity.pieces, name))
}
