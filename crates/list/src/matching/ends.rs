//! What a description says of the ends of a tube.

use crate::matching::words::Word;

/// The ends of a tube, as far as said.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ends {
    /// Both cut square.
    Plain,
    /// One tapered to slide into the next.
    OneSwaged,
    /// Both tapered.
    BothSwaged,
    /// Pressed flat, holed or not.
    Flattened,
}

/// Returns what the words say of the ends, and the bytes they cover.
pub fn ends(words: &[Word]) -> Option<(Ends, (usize, usize))> {
    const SWAGED: [&str; 17] = [
        "squeezed",
        "narrowed",
        "necked-down",
        "swgd",
        "spigot",
        "swaged",
        "swage",
        "swedged",
        "swedge",
        "crimped",
        "crimp",
        "reduced",
        "necked",
        "swg",
        "swgd",
        "swaged-end",
        "tapered",
    ];
    const PLAIN: [&str; 7] = [
        "plain", "straight", "unswaged", "square", "pe", "pbe", "poe",
    ];
    const FLAT: [&str; 7] = [
        "flattened",
        "flatted",
        "punched",
        "crushed",
        "mashed",
        "flt",
        "flattend",
    ];
    let at = |set: &[&str]| {
        words
            .iter()
            .position(|word| set.iter().any(|known| near(&word.text, known)))
    };
    let span = |index: usize| (words[index].start, words[index].end);
    if let Some(index) = words
        .iter()
        .position(|word| matches!(word.text.as_str(), "soe" | "sbe"))
    {
        let ends = if words[index].text == "soe" {
            Ends::OneSwaged
        } else {
            Ends::BothSwaged
        };
        return Some((ends, span(index)));
    }
    let flat_ends = || {
        let pair = words.windows(2).position(|pair| {
            pair[0].text == "flat" && pair[1].text.starts_with("end")
                || pair[0].text == "pressed" && pair[1].text == "flat"
        });
        pair.or_else(|| {
            let turned = |pair: &[Word]| pair[0].text == "ends" && pair[1].text == "flat";
            words.windows(2).position(turned)
        })
    };
    if let Some(index) = at(&FLAT).or_else(flat_ends) {
        return Some((Ends::Flattened, span(index)));
    }
    let male = || {
        let pair = words
            .windows(2)
            .position(|pair| pair[0].text == "male" && pair[1].text == "end");
        pair.filter(|_| words.iter().all(|word| word.text != "both"))
    };
    if let Some(index) = at(&SWAGED).or_else(male) {
        let denied = index > 0
            && matches!(
                words[index - 1].text.as_str(),
                "no" | "not" | "non" | "without"
            );
        if denied {
            return Some((Ends::Plain, span(index)));
        }
        let near_by = &words[index.saturating_sub(3)..words.len().min(index + 4)];
        let both = near_by
            .iter()
            .any(|word| matches!(word.text.as_str(), "both" | "ends" | "each"))
            && near_by.iter().all(|word| word.text != "one");
        return Some((
            if both {
                Ends::BothSwaged
            } else {
                Ends::OneSwaged
            },
            span(index),
        ));
    }
    at(&PLAIN)
        .filter(|index| plain_of_ends(words, *index))
        .map(|index| (Ends::Plain, span(index)))
}

/// "Plain" and "square" are said of washers and of tube walls too; of ends only with that word beside them.
fn plain_of_ends(words: &[Word], index: usize) -> bool {
    let alone = matches!(
        words[index].text.as_str(),
        "unswaged" | "pe" | "pbe" | "straight" | "plain"
    );
    let beside = &words[index..words.len().min(index + 3)];
    alone
        || beside
            .iter()
            .any(|word| word.text.starts_with("end") || word.text.starts_with("cut"))
}

fn near(word: &str, known: &str) -> bool {
    word == known || (known.len() > 5 && word.len() > 5 && strsim::osa_distance(word, known) <= 1)
}
