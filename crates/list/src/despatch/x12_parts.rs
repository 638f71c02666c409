//! Single X12 segments into parts of the model.

use super::identifiers::Gs1;
use super::odd::Odd;
use super::units::CodeList;
use super::units_x12::x12_package;
use super::x12::Set;
use super::x12_segments::Segment;
use super::x12_words as words;
use super::{
    Amount, Dated, Equipment, Id, ItemId, Lot, Measured, OrderReference, Packed, Party, Reference,
    SentLine, Whose,
};

/// PRF.
pub fn order(s: &Segment<'_>) -> OrderReference {
    OrderReference {
        id: s.get(1),
        sales_id: String::new(),
        further: s.get(2),
        date: date(&s.get(4)),
    }
}

/// `20110909` as `2011-09-09`, and six digits with the century that is nearer: 50 to 99 are of the last one.
pub fn date(text: &str) -> String {
    let digits = text.bytes().all(|b| b.is_ascii_digit());
    let full = match text.len() {
        8 => text.to_owned(),
        6 if text >= "50" => format!("19{text}"),
        6 => format!("20{text}"),
        _ => return text.to_owned(),
    };
    if !digits {
        return text.to_owned();
    }
    let (month, day) = (&full[4..6], &full[6..]);
    match ("01"..="12").contains(&month) && ("01"..="31").contains(&day) {
        true => format!("{}-{month}-{day}", &full[..4]),
        false => text.to_owned(),
    }
}

/// `1445` as `14:45`, `193235` as `19:32:35`.
pub fn time(text: &str) -> String {
    if !text.bytes().all(|b| b.is_ascii_digit()) {
        return text.to_owned();
    }
    match text.len() {
        4 => format!("{}:{}", &text[..2], &text[2..]),
        6.. => format!("{}:{}:{}", &text[..2], &text[2..4], &text[4..6]),
        _ => text.to_owned(),
    }
}

/// DTM. Its third form, a qualifier and a text such as a span, stands as written.
pub fn dated(s: &Segment<'_>) -> Option<Dated> {
    let qualifier = s.code(1);
    let day = s.get(2);
    let day = match day.is_empty() {
        true => s.get(6),
        false => day,
    };
    (!day.is_empty()).then(|| Dated {
        meaning: words::date(&qualifier).to_owned(),
        qualifier,
        date: date(&day),
        time: time(&s.get(3)),
    })
}

/// REF.
pub fn reference(s: &Segment<'_>) -> Option<Reference> {
    let (qualifier, value, note) = (s.code(1), s.get(2), s.get(3));
    (!(value.is_empty() && note.is_empty())).then(|| Reference {
        meaning: words::reference(&qualifier).to_owned(),
        qualifier,
        value,
        note,
    })
}

/// MAN: up to two marks, each of which may be a span.
pub fn marks(s: &Segment<'_>) -> Vec<Reference> {
    let mark = |at: usize| {
        let (qualifier, value, to) = (s.code(at), s.get(at + 1), s.get(at + 2));
        (!value.is_empty()).then(|| Reference {
            meaning: words::reference(&qualifier).to_owned(),
            qualifier,
            value,
            note: Some(to)
                .filter(|to| !to.is_empty())
                .map_or_else(String::new, |to| format!("to {to}")),
        })
    };
    [1, 4].into_iter().filter_map(mark).collect()
}

/// MEA.
pub fn measured(
    set: &Set<'_>,
    index: usize,
    line: Option<usize>,
    odd: &mut Odd,
) -> Option<Measured> {
    let s = &set.segments[index];
    let qualifier = s.code(2);
    amount_at(set, index, (3, 4), line, odd).map(|amount| Measured {
        meaning: words::measure(&qualifier).to_owned(),
        amount,
        qualifier,
    })
}

/// Weights as qualifier, value and unit, and a volume as value and unit, by their elements.
pub fn weights<const N: usize>(
    set: &Set<'_>,
    index: usize,
    weights: [(usize, usize, usize); N],
    volume: (usize, usize),
    line: Option<usize>,
    odd: &mut Odd,
) -> Vec<Measured> {
    let s = &set.segments[index];
    let mut found = Vec::new();
    for (qualifier, value, unit) in weights {
        if let Some(amount) = amount_at(set, index, (value, unit), line, odd) {
            let code = s.code(qualifier);
            let meaning = match words::measure(&code) {
                "" => "weight",
                known => known,
            };
            found.push(Measured {
                meaning: meaning.to_owned(),
                qualifier: code,
                amount,
            });
        }
    }
    if let Some(amount) = amount_at(set, index, volume, line, odd) {
        found.push(Measured {
            qualifier: "VOL".to_owned(),
            meaning: "volume".to_owned(),
            amount,
        });
    }
    found
}

/// The amount of two elements, number and unit; nothing where there is no number.
fn amount_at(
    set: &Set<'_>,
    index: usize,
    (value, unit): (usize, usize),
    line: Option<usize>,
    odd: &mut Odd,
) -> Option<Amount> {
    let s = &set.segments[index];
    let (text, unit) = (s.get(value), s.code(unit));
    let place = set.place(index, value);
    (!text.is_empty()).then(|| odd.amount(line, &place, &text, &unit, CodeList::X12))
}

/// What a package's code means, empty when it is not known.
pub fn package(code: &str) -> String {
    x12_package(code).unwrap_or_default().to_owned()
}

/// PO4: pack, size, package, weights, volume, sides, inner pack.
pub fn po4(set: &Set<'_>, index: usize, line: Option<usize>, odd: &mut Odd) -> Packed {
    let s = &set.segments[index];
    let mut number = |element: usize| {
        let text = s.get(element);
        (!text.is_empty()).then(|| {
            odd.amount(line, &set.place(index, element), &text, "", CodeList::X12)
                .number
        })
    };
    let (count, inner) = (number(1).flatten(), number(14).flatten());
    let each = amount_at(set, index, (2, 3), line, odd);
    let mut measures = weights(set, index, [(5, 6, 7)], (8, 9), line, odd);
    for (element, meaning) in [(10, "length"), (11, "width"), (12, "height")] {
        if let Some(amount) = amount_at(set, index, (element, 13), line, odd) {
            measures.push(Measured {
                qualifier: format!("PO4{element}"),
                meaning: meaning.to_owned(),
                amount,
            });
        }
    }
    Packed {
        count,
        each,
        inner,
        code: s.get(4),
        means: package(&s.get(4)),
        measures,
        references: Vec::new(),
        note: PACK.to_owned(),
    }
}

/// What a PO4 is called among the packings of a line: its count is what one package holds.
pub const PACK: &str = "pack";

/// TD5 in words.
pub fn carrier(s: &Segment<'_>) -> Option<String> {
    let scheme = words::scheme(&s.code(2));
    let id = match (s.get(3), scheme) {
        (id, "") => id,
        (id, scheme) if !id.is_empty() => format!("{id} ({scheme})"),
        (id, _) => id,
    };
    let mode = match (s.code(4), words::mode(&s.code(4))) {
        (code, "") => code,
        (code, mode) => format!("{code} ({mode})"),
    };
    let transit = match format!("{} {}", s.get(10), s.get(11)).trim() {
        "" => String::new(),
        time => format!("transit time {time}"),
    };
    let said = [id, s.get(5), mode, transit, s.get(12)];
    let words: Vec<String> = said.into_iter().filter(|text| !text.is_empty()).collect();
    (!words.is_empty()).then(|| words.join(", "))
}

/// TD3.
pub fn equipment(s: &Segment<'_>) -> Equipment {
    let code = s.code(1);
    Equipment {
        kind: match words::equipment(&code) {
            "" => code,
            known => known.to_owned(),
        },
        id: format!("{}{}", s.get(2), s.get(3)),
        seal: s.get(9),
    }
}

/// N1; its GLN is checked.
pub fn party(s: &Segment<'_>, set: &Set<'_>, index: usize, odd: &mut Odd) -> Party {
    let role_code = s.code(1);
    let (scheme, number) = (s.code(3), s.get(4));
    if scheme == "UL" && !number.is_empty() {
        odd.gs1(None, &set.place(index, 4), Gs1::Gln, &number);
    }
    Party {
        role: words::role(&role_code).to_owned(),
        role_code,
        name: s.get(2),
        ids: Some(Id {
            kind: "N104".to_owned(),
            means: words::scheme(&scheme).to_owned(),
            scheme,
            value: number,
        })
        .filter(|id| !id.value.is_empty())
        .into_iter()
        .collect(),
        ..Party::default()
    }
}

/// N2, N3, N4 and PER: more of the party before.
pub fn address(party: &mut Party, s: &Segment<'_>) {
    let filled = |elements: &[usize]| -> Vec<String> {
        let texts = elements.iter().map(|element| s.get(*element));
        texts.filter(|text| !text.is_empty()).collect()
    };
    match s.id().as_str() {
        "N2" if party.name.is_empty() => party.name = filled(&[1, 2]).join(" "),
        "N2" | "N3" => party.address.extend(filled(&[1, 2])),
        "N4" => party
            .address
            .extend(Some(filled(&[1, 2, 3, 4]).join(" ")).filter(|line| !line.is_empty())),
        _ => party
            .contacts
            .extend(Some(filled(&[2, 4, 6, 8]).join(", ")).filter(|text| !text.is_empty())),
    }
}

/// Free text of NTE, PKG, PID, TXT, MSG and TD4.
pub fn note(s: &Segment<'_>) -> Option<String> {
    let elements: &[usize] = match s.id().as_str() {
        "NTE" => &[2],
        "PKG" | "PID" => &[5],
        "TD4" => &[2, 3, 4],
        _ => &[1],
    };
    let texts: Vec<String> = elements
        .iter()
        .map(|e| s.get(*e))
        .filter(|t| !t.is_empty())
        .collect();
    (!texts.is_empty()).then(|| texts.join(" "))
}

/// X12 has fifteen pairs in a LIN; more are a slip or an attack.
const MOST_PAIRS: usize = 50;

/// The pairs of qualifier and number of LIN and SLN, from an element on.
pub fn identify(
    to: &mut SentLine,
    s: &Segment<'_>,
    from: usize,
    line: Option<usize>,
    place: &dyn Fn(usize) -> String,
    odd: &mut Odd,
) {
    let last = s.len();
    if last > from + MOST_PAIRS * 2 {
        let what = format!(
            "{}: only {MOST_PAIRS} pairs of qualifier and number are read",
            place(0)
        );
        odd.say(line, what);
    }
    for at in (from..=last).step_by(2).take(MOST_PAIRS) {
        let (qualifier, value) = (s.code(at), s.get(at + 1));
        match (qualifier.is_empty(), value.is_empty()) {
            (true, true) => continue,
            (false, true) => {
                let what = format!(
                    "{}: the qualifier {qualifier} has no number after it",
                    place(at)
                );
                odd.say(line, what);
                continue;
            }
            (true, false) => odd.say(
                line,
                format!("{}: the number {value} has no qualifier", place(at + 1)),
            ),
            (false, false) => {}
        }
        if let Some(kind) = words::has_check_digit(&qualifier) {
            odd.gs1(line, &place(at + 1), kind, &value);
        }
        match qualifier.as_str() {
            "LT" | "B8" => to.item.lots.push(Lot {
                number: value,
                expires: String::new(),
            }),
            "SN" => to.item.serials.push(value),
            code => {
                let whose = words::whose(code);
                match words::property(code).filter(|_| whose == Whose::Other) {
                    Some(property) => to.item.properties.push((property.to_owned(), value)),
                    None => to.item.ids.push(ItemId {
                        whose,
                        qualifier,
                        scheme: String::new(),
                        value,
                    }),
                }
            }
        }
    }
}

/// PID: a whole description, or one characteristic of it.
pub fn describe(to: &mut SentLine, s: &Segment<'_>) {
    let text = s.get(5);
    if text.is_empty() {
        return;
    }
    match s.code(2).as_str() {
        "75" | "35" | "73" => to.item.properties.push(("colour".to_owned(), text)),
        "74" | "91" => to.item.properties.push(("size".to_owned(), text)),
        _ => to.item.descriptions.push(text),
    }
}

/// Gives the last lot its day.
pub fn expire(to: &mut SentLine, date: &str) {
    match to.item.lots.last_mut() {
        Some(lot) => date.clone_into(&mut lot.expires),
        None => to.item.lots.push(Lot {
            number: String::new(),
            expires: date.to_owned(),
        }),
    }
}
