//! What a description says that a thing holds: "bow set: 2 half bows + 1 peak plate", "incl. 4 bolts, 4 nuts".

use crate::table::in_line::split_start;

/// A thing and what comes with it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Contents<'a> {
    /// The words before the list.
    pub head: &'a str,
    /// The head is a thing of its own beside what it lists; otherwise only a name for that.
    pub is_a_thing: bool,
    /// Each thing that is listed with a count, in one of the whole.
    pub things: Vec<(i64, &'a str)>,
}

/// Words before a list of what a thing holds, and whether what stands before them is then a thing of its own.
const OPENERS: [(&str, bool); 17] = [
    ("consisting of", false),
    ("consists of", false),
    ("comprising", false),
    ("comprises", false),
    ("containing", false),
    ("contains", false),
    ("contents:", false),
    ("complete with", true),
    ("includes", true),
    ("including", true),
    ("incl.", true),
    ("incl ", true),
    ("c/w", true),
    (" with ", true),
    ("w/", true),
    (":", false),
    ("(", true),
];

/// Reads what a description lists; nothing when it lists nothing with a count. A measure is no count.
pub fn contents(says: &str) -> Option<Contents<'_>> {
    let lower = says.to_ascii_lowercase();
    let mut places: Vec<(usize, usize, bool)> = (OPENERS.iter())
        .flat_map(|(opener, thing)| {
            let found = lower.match_indices(opener).take(4);
            found.map(|(at, _)| (at, at + opener.len(), *thing))
        })
        .collect();
    places.sort_unstable();
    let listed = places.into_iter().find_map(|(at, from, is_a_thing)| {
        let things = things(&says[from..])?;
        let head = says[..at].trim_matches([' ', ',', ';', '(', '-', '–', ':']);
        let is_a_thing = is_a_thing && !head.is_empty();
        Some(Contents {
            head,
            is_a_thing,
            things,
        })
    });
    listed.or_else(|| {
        // Without any such word only a sum is a list: "2 half bows + 1 peak plate".
        let things = says.contains(" + ").then(|| things(says))??;
        (things.len() > 1).then_some(Contents {
            head: "",
            is_a_thing: false,
            things,
        })
    })
}

/// The counted things of a list. What stands without a count goes on with the thing before: a size, a finish.
fn things(list: &str) -> Option<Vec<(i64, &str)>> {
    let end = list
        .find(')')
        .filter(|_| !list.contains('('))
        .unwrap_or(list.len());
    let list = &list[..end];
    let mut starts: Vec<usize> = vec![0];
    for (at, mark) in list.match_indices(['+', ',', ';', '&']) {
        starts.push(at + mark.len());
    }
    for (at, word) in list.match_indices(" and ") {
        starts.push(at + word.len());
    }
    starts.sort_unstable();
    let counted = |at: &usize| split_start(&list[*at..]).is_some();
    starts.retain(counted);
    // The list begins with a count, or it is none: "for tube: clamp, 2 holes".
    if starts.first() != Some(&0) {
        return None;
    }
    let ends = starts.iter().skip(1).copied().chain([list.len()]);
    let mut found = Vec::new();
    for (from, to) in starts.iter().copied().zip(ends) {
        let (quantity, _) = split_start(&list[from..to])?;
        let item = list[from..to].trim_end_matches([' ', ',', ';', '+', '&', '.']);
        let item = item
            .strip_suffix(" and")
            .unwrap_or(item)
            .trim_end_matches([' ', ',']);
        let thing = split_start(item)?.1;
        let word = thing.trim_start().to_ascii_lowercase();
        // "(8 footers)" is a length and no count.
        if ["foot", "feet", "ft", "inch", "mm"]
            .iter()
            .any(|unit| word.starts_with(unit))
        {
            return None;
        }
        if quantity.pieces <= 0 || quantity.doubt.is_some() {
            return None;
        }
        found.push((quantity.pieces, thing));
    }
    (!found.is_empty()).then_some(found)
}

/// How lists write that both hands are meant, longest first.
const BOTH_HANDS: [&str; 18] = [
    "left and right",
    "right and left",
    "left & right",
    "right & left",
    "left / right",
    "left/right",
    "right/left",
    "lh and rh",
    "lh & rh",
    "lh / rh",
    "lh/rh",
    "rh/lh",
    "l and r",
    "l & r",
    "l / r",
    "l+r",
    "l/r",
    "r/l",
];

/// The description once as the left one and once as the right one, when it says that it is both.
pub fn left_and_right(says: &str) -> Option<(String, String)> {
    let lower = says.to_ascii_lowercase();
    let (from, to) = BOTH_HANDS.iter().find_map(|both| {
        let at = lower.find(both)?;
        let ends = at + both.len();
        let apart = !lower[..at].ends_with(|c: char| c.is_alphanumeric())
            && !lower[ends..].starts_with(|c: char| c.is_alphanumeric());
        apart.then_some((at, ends))
    })?;
    let of = |side: &str| format!("{}{side}{}", &says[..from], &says[to..]);
    Some((of("left"), of("right")))
}
