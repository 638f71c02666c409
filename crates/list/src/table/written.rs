//! Counts in other writings than a plain number with a unit: corrected, doubtful, summed, in packs, in words, in coils.
//! Common practice, no source. Where a writing leaves two readings, one is taken and the doubt says so.

use crate::table::coils::long;
use crate::table::hands::hands;
use crate::table::number::{MOST, fraction, in_words, number, plain_digits, without_gaps};
use crate::table::packs::packed;
use crate::table::quantity::{Quantity, plain, start};
use crate::table::struck::struck_out;
use crate::table::ticks::without_ticks;
use crate::table::to_follow::later;
use crate::table::units::{Counts, unit_counts, unit_word};

/// A longer text is no count.
const LONGEST: usize = 60;

/// Reads a cell whose count is not plainly written.
pub fn read(cell: &str, unit: &str) -> Option<Quantity> {
    if cell.is_empty() || cell.len() > LONGEST {
        return None;
    }
    let cell = plain_digits(cell);
    corrected(&cell, unit).or_else(|| uncorrected(&cell, unit))
}

fn uncorrected(cell: &str, unit: &str) -> Option<Quantity> {
    let (cell, cross) = without_ticks(cell);
    let cell = without_gaps(cell);
    let cell = cell.as_ref();
    let read = plain(cell, unit)
        .or_else(|| set_of(cell))
        .or_else(|| nothing(cell))
        .or_else(|| later(cell, unit))
        .or_else(|| simple(cell, unit))
        .or_else(|| bare_after_packs(cell))
        .or_else(|| about(cell, unit))
        .or_else(|| range(cell, unit))
        .or_else(|| so_many_of(cell, unit))
        .or_else(|| left_and_right(cell))
        .or_else(|| sum(cell, unit))
        .or_else(|| long(cell))
        .or_else(|| twice_said(cell, unit))
        .or_else(|| sent_back(cell, unit))?;
    Some(if cross {
        read.doubted("a cross stands beside the number")
    } else {
        read
    })
}

/// What may itself be a part of a longer writing.
fn simple(cell: &str, unit: &str) -> Option<Quantity> {
    plain(cell, unit)
        .or_else(|| words(cell, unit))
        .or_else(|| part_of_many(cell, unit))
        .or_else(|| packed(cell))
}

/// "26 -> 24", "~~26~~ 24", "26 now 24", "24 (was 26)": the last word stands.
fn corrected(cell: &str, unit: &str) -> Option<Quantity> {
    let (before, after) = struck_out(cell).or_else(|| {
        const SIGNS: [&str; 10] = [
            "-->",
            "->",
            "=>",
            "→",
            "⇒",
            " now ",
            " changed to ",
            " corrected to ",
            " corr. ",
            " corr ",
        ];
        let lower = cell.to_ascii_lowercase();
        if let Some((at, sign)) = SIGNS
            .iter()
            .find_map(|sign| Some((lower.find(sign)?, sign)))
        {
            return Some((cell[..at].to_owned(), cell[at + sign.len()..].to_owned()));
        }
        let at = lower.find("was ").filter(|at| *at > 0)?;
        let after = cell[..at].trim_end_matches([' ', '(', ',']);
        Some((
            cell[at + 4..].trim_end_matches(')').to_owned(),
            after.to_owned(),
        ))
    })?;
    let read = uncorrected(after.trim(), unit)?;
    let words = format!("{} was corrected to {}", before.trim(), after.trim());
    Some(read.doubted(words))
}

/// "1 set of", whose thing stands in the next cell.
fn set_of(cell: &str) -> Option<Quantity> {
    let packs = plain(cell.strip_suffix(" of")?, "")?;
    (unit_counts(&packs.unit) == Some(Counts::Container) && !packs.unit.is_empty()).then_some(packs)
}

/// "nil", "none", a dash. Not "nothing": sentences begin so.
fn nothing(cell: &str) -> Option<Quantity> {
    let none = Quantity::default();
    match cell.to_ascii_lowercase().as_str() {
        "nil" | "none" | "not shipped" | "none shipped" | "not sent" | "zero" => Some(none),
        "-" | "--" | "---" | "–" | "—" | "- -" => {
            Some(none.doubted("a dash was taken as none"))
        }
        _ => None,
    }
}

/// "two", "twenty-six ea", "a dozen", "half a dozen", "one (1)".
fn words(cell: &str, unit: &str) -> Option<Quantity> {
    let lower = cell.to_ascii_lowercase();
    let after_half = ["half a ", "half "]
        .iter()
        .find_map(|half| lower.strip_prefix(half));
    if let Some(rest) = after_half {
        return part_of_many(&format!("1/2 {rest}"), unit);
    }
    let one = ["an ", "a "].iter().find_map(|one| lower.strip_prefix(one));
    if let Some(rest) = one {
        let (unit_of_it, _) = unit_word(rest);
        return (!unit_of_it.is_empty()).then(|| simple(&format!("1 {rest}"), ""))?;
    }
    // "Pair", "dozen": the number that is left out is one.
    if let (unit_of_it, "") = unit_word(&lower)
        && let Some(Counts::Times(n)) =
            unit_counts(&unit_of_it).filter(|_| !matches!(unit_of_it.as_str(), "" | "c" | "hd"))
    {
        let doubt = Some(format!(
            "no number stands before {unit_of_it}; taken as one"
        ));
        return Some(Quantity {
            pieces: n,
            unit: unit_of_it,
            doubt,
            of: String::new(),
        });
    }
    let (n, rest) = in_words(&lower)?;
    let again = format!("({n})");
    let rest = rest.trim_start().strip_prefix(&again).unwrap_or(rest);
    let digits = format!("{n}{rest}");
    plain(&digits, unit)
        .or_else(|| packed(&digits))
        .or_else(|| bare_after_packs(&digits))
        .or_else(|| twice_said(&digits, unit))
}

/// "3-1/2 doz", "1/2 gross", "2.5 C": whole pieces all the same.
fn part_of_many(cell: &str, unit: &str) -> Option<Quantity> {
    let ((top, bottom), rest) = fraction(cell)?;
    let (own, rest) = unit_word(rest);
    let unit = if own.is_empty() {
        unit.trim().to_lowercase()
    } else {
        own
    };
    let Some(Counts::Times(n)) = unit_counts(&unit) else {
        return None;
    };
    let all = top.checked_mul(n)?;
    let whole = rest.trim().is_empty() && all % bottom == 0;
    whole.then(|| Quantity {
        pieces: all / bottom,
        unit,
        ..Quantity::default()
    })
}

/// "approx 40", "~40", "40+", "40 or so", "up to 40".
fn about(cell: &str, unit: &str) -> Option<Quantity> {
    const BEFORE: [&str; 28] = [
        "approximately",
        "approx.",
        "approx",
        "about",
        "abt.",
        "abt",
        "circa",
        "ca.",
        "ca ",
        "est.",
        "est:",
        "est ",
        "~",
        "≈",
        "±",
        "+/-",
        "min.",
        "min ",
        "max.",
        "max ",
        "at least",
        "at most",
        "up to",
        ">=",
        "<=",
        "≥",
        "≤",
        ">",
    ];
    const AFTER: [&str; 15] = [
        "+/-",
        "±",
        "+",
        "(approx.)",
        "(approx)",
        "approx.",
        "approx",
        "or so",
        "(est.)",
        "est.",
        " est",
        "min",
        "max",
        "?",
        "plus",
    ];
    let lower = cell.to_ascii_lowercase();
    let before = BEFORE
        .iter()
        .chain(&["<"])
        .find_map(|word| lower.strip_prefix(word));
    let bare = before.or_else(|| AFTER.iter().find_map(|word| lower.strip_suffix(word)))?;
    let read = simple(bare.trim(), unit)?;
    Some(read.doubted(format!("{cell:?} is no sure number")))
}

/// "10-12", "10 to 12": the lesser is taken, so that no shortage is made of the greater.
fn range(cell: &str, unit: &str) -> Option<Quantity> {
    let between = cell.strip_prefix("between ");
    let (low, rest) = number(between.unwrap_or(cell))?;
    let rest = rest.trim_start();
    let signs = ["-", "–", "—", "..", "to ", "or ", "and "];
    let sign = signs.iter().find(|sign| rest.starts_with(**sign))?;
    if *sign == "and " && between.is_none() {
        // "13 and 13" is a sum.
        return None;
    }
    let high_text = rest[sign.len()..].trim_start_matches(['.', ' ']);
    let high = plain(high_text, unit)?;
    let likely = low >= 1 && high.pieces > low && high.pieces <= low.saturating_mul(4);
    if !likely || high_text.starts_with('0') {
        return None;
    }
    let doubt = format!("{low} to {} are said; {low} was taken", high.pieces);
    Some(
        Quantity {
            pieces: low,
            ..high
        }
        .doubted(doubt),
    )
}

/// "12 of 26", "12 out of 26", "12 of 12".
fn so_many_of(cell: &str, unit: &str) -> Option<Quantity> {
    let (some, rest) = start(cell, unit)?;
    let rest = rest.trim_start();
    let rest = ["of ", "out of ", "/ "]
        .iter()
        .find_map(|of| rest.strip_prefix(of))?;
    let all = plain(rest.trim(), unit).filter(|all| all.doubt.is_none())?;
    match some.pieces.cmp(&all.pieces) {
        std::cmp::Ordering::Less => {
            let doubt = format!("{} of {} are said", some.pieces, all.pieces);
            Some(some.doubted(doubt))
        }
        std::cmp::Ordering::Equal => Some(some),
        std::cmp::Ordering::Greater => None,
    }
}

fn left_and_right(cell: &str) -> Option<Quantity> {
    let hands = hands(cell)?;
    let pieces = hands.left.checked_add(hands.right).filter(|n| *n <= MOST)?;
    let read = Quantity {
        pieces,
        ..Quantity::default()
    };
    let doubt = format!("{cell:?} may mean so many of each hand, or of both together");
    Some(if hands.unclear {
        read.doubted(doubt)
    } else {
        read
    })
}

/// "13+13", "13 ea + 13 ea", "24 + 2 spare".
fn sum(cell: &str, unit: &str) -> Option<Quantity> {
    let parts: Vec<&str> = ["+", "&", " and ", ","]
        .iter()
        .map(|sign| cell.split(sign).map(str::trim).collect::<Vec<_>>())
        .find(|parts| parts.len() > 1)?;
    if parts.len() > 12 {
        return None;
    }
    let mut whole = Quantity::default();
    for part in parts {
        let part = ["spares", "spare", "extras", "extra"]
            .iter()
            .find_map(|word| part.strip_suffix(word))
            .unwrap_or(part);
        let counts =
            |read: &Quantity| read.pieces >= 0 && unit_counts(&read.unit) != Some(Counts::Measure);
        let read = simple(part.trim(), unit).filter(counts)?;
        whole.pieces = whole
            .pieces
            .checked_add(read.pieces)
            .filter(|n| *n <= MOST)?;
        whole.doubt = whole.doubt.or(read.doubt);
        if whole.unit.is_empty() {
            whole.unit = read.unit;
        }
    }
    let comma = !cell.contains(['+', '&']) && !cell.contains(" and ");
    Some(if comma {
        whole.doubted(format!("{cell:?} was taken as a sum"))
    } else {
        whole
    })
}

/// "26 pcs / 13 pr", "3 boxes (75 pcs)", "26 (13 + 13)", "75 pcs in 3 boxes", "26 (see note)".
fn twice_said(cell: &str, unit: &str) -> Option<Quantity> {
    let (at, seam) = [" (", "(", " / ", "/", " = ", "=", " in ", ", ", " - "]
        .iter()
        .filter_map(|seam| Some((cell.find(seam)?, *seam)))
        .min_by_key(|(at, seam)| (*at, std::cmp::Reverse(seam.len())))?;
    let bracket = seam.contains('(');
    if bracket && !cell.ends_with(')') {
        return None;
    }
    let (first, second) = (cell[..at].trim(), cell[at + seam.len()..].trim());
    let second = if bracket {
        second.trim_end_matches(')')
    } else {
        second
    };
    let one = simple(first, unit)?;
    let other = simple(second, "")
        .or_else(|| sum(second, ""))
        .or_else(|| range(second, ""));
    let Some(other) = other else {
        // A remark in brackets leaves the number as it is.
        let remark = bracket && second.chars().any(char::is_alphabetic);
        return remark.then(|| one.doubted(format!("({second}) was passed over")));
    };
    Some(match (&one.doubt, &other.doubt) {
        _ if one.pieces == other.pieces => Quantity { doubt: None, ..one },
        (Some(_), None) => Quantity {
            unit: one.unit,
            ..other
        },
        (None, Some(_)) => one,
        _ if seam == "/" => return None,
        _ => {
            let doubt = format!("{} and {} are said", one.pieces, other.pieces);
            one.doubted(doubt)
        }
    })
}

/// "3 bx/100" are three boxes of a hundred; after a comma or a dash the number may as well be that of all.
fn bare_after_packs(cell: &str) -> Option<Quantity> {
    let (packs, rest) = start(cell, "")?;
    let (count, unit) = (packs.pieces, packs.unit);
    if packs.doubt.is_none() || count <= 0 || unit_counts(&unit) != Some(Counts::Container) {
        return None;
    }
    let rest = rest.trim_start();
    let seam = rest
        .chars()
        .next()
        .filter(|c| matches!(c, '/' | ',' | '-'))?;
    let (n, after) = number(rest[1..].trim_start())?;
    if n <= 0 || !after.trim().is_empty() {
        return None;
    }
    let as_all = seam != '/' && n > count && n % count == 0;
    let (pieces, doubt) = if as_all {
        (n, format!("{n} was taken as all in {count} {unit}"))
    } else {
        let all = count.checked_mul(n).filter(|all| *all <= MOST)?;
        (all, format!("{n} was taken as in each {unit}"))
    };
    let read = Quantity {
        pieces,
        unit,
        ..Quantity::default()
    };
    Some(read.doubted(doubt))
}

/// "3 returned", "3-", "(3)".
fn sent_back(cell: &str, unit: &str) -> Option<Quantity> {
    const WORDS: [&str; 7] = ["returned", "return", "rtnd", "rtn", "credit", "cr", "rma"];
    let lower = cell.to_ascii_lowercase();
    if let Some(inner) = lower
        .strip_prefix('(')
        .and_then(|rest| rest.strip_suffix(')'))
    {
        let doubt = "the number stands in brackets, which may mean less than nothing";
        return plain(inner.trim(), unit).map(|read| read.doubted(doubt));
    }
    let bare = lower
        .strip_suffix('-')
        .or_else(|| WORDS.iter().find_map(|word| lower.strip_suffix(word)))
        .or_else(|| WORDS.iter().find_map(|word| lower.strip_prefix(word)))?;
    let bare = bare.trim_matches([' ', ':', ',']);
    let read = plain(bare.strip_prefix('-').unwrap_or(bare), unit)?;
    let pieces = -read.pieces.abs();
    Some(Quantity {
        pieces,
        doubt: Some("the quantity is less than nothing".to_owned()),
        ..read
    })
}
