//! What a description says of finish and colour.

use crate::matching::words::Word;

/// Finishes and colours: the name that we use, then what lists write.
const FINISHES: [(&str, &[&str]); 9] = [
    (
        "galvanized",
        &[
            "galvanized",
            "galvanised",
            "galv",
            "gal",
            "galvd",
            "zinc",
            "hdg",
            "galvinized",
            "gavanized",
            "zp",
        ],
    ),
    ("stainless", &["stainless", "inox"]),
    ("aluminum", &["aluminum", "aluminium", "alum", "mill"]),
    ("painted", &["painted", "powder", "coated"]),
    ("clear", &["clear", "clr", "transparent"]),
    ("white", &["white", "wht", "opaque"]),
    ("black", &["black", "blk"]),
    ("green", &["green", "grn"]),
    ("brown", &["brown", "brn"]),
];

/// Returns the first finish or colour that the words say, by our name for it, and the bytes it covers.
pub fn finish(words: &[Word]) -> Option<(&'static str, (usize, usize))> {
    words.iter().find_map(|word| {
        let named = FINISHES
            .iter()
            .find(|(_, written)| written.contains(&word.text.as_str()));
        named.map(|(name, _)| (*name, (word.start, word.end)))
    })
}
