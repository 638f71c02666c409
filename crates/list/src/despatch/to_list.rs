//! The rows that a despatch advice makes, so that the rest of the program need not know what kind of list it was.
//!
//! Every line becomes a row or is set aside with its reason: a part of another line is set aside where the other
//! counts pieces, and stands for it where the other is a set or kit of which nobody says how many pieces it holds.

use std::collections::{BTreeMap, BTreeSet};

use super::units::Counts;
use super::x12_parts::PACK;
use super::{Amount, Decimal, Despatch, HandlingUnit, Notice, Party, SentLine, Whose};
use crate::grid::Warning;
use crate::row::{PackingList, Row, RowKey, SetAside, Why, number_keys};
use crate::table::header::Header;

impl From<Despatch> for PackingList {
    fn from(despatch: Despatch) -> Self {
        let mut list = Self {
            header: header(&despatch),
            warnings: despatch.warnings.clone(),
            ..Self::default()
        };
        let mut has_parts: BTreeSet<usize> = BTreeSet::new();
        let parts = despatch.lines.iter().filter(|line| says_anything(line));
        has_parts.extend(parts.filter_map(|line| line.part_of));
        for (index, line) in despatch.lines.iter().enumerate() {
            let at = despatch.place(index);
            let aside = match line.part_of {
                Some(parent) if counts_pieces(&despatch.lines[parent]) => Some(Why::IncludedIn),
                Some(_) if !says_anything(line) => Some(Why::Note),
                _ if has_parts.contains(&index) && !counts_pieces(line) => Some(Why::Section),
                _ => None,
            };
            if let Some(why) = aside {
                let text = in_words(line);
                list.set_aside.push(SetAside { at, text, why });
                continue;
            }
            let row = row(&despatch, line, at);
            if let Some(doubt) = &row.doubt {
                list.warnings.push(Warning {
                    at: Some(row.at.clone()),
                    what: doubt.clone(),
                });
            }
            list.rows.push(row);
        }
        number_keys(&mut list.rows);
        list.despatch = Some(Box::new(despatch));
        list
    }
}

/// Whether a line names a thing or counts it; one that does neither takes nothing from the line that it is a part of.
fn says_anything(line: &SentLine) -> bool {
    line.delivered.is_some() || !code(line).is_empty() || !description(line).is_empty()
}

/// Whether the pieces of a line are said by the line itself.
fn counts_pieces(line: &SentLine) -> bool {
    let counts = line
        .delivered
        .as_ref()
        .and_then(|amount| amount.means)
        .map(|unit| unit.counts);
    !matches!(counts, Some(Counts::Holds) | None)
}

fn row(despatch: &Despatch, line: &SentLine, at: crate::grid::Place) -> Row {
    let notice = despatch.notices.get(line.notice);
    let kit = line.part_of.and_then(|parent| despatch.lines.get(parent));
    let (quantity, doubt) = pieces(line);
    let doubt = doubt.or_else(|| each_or_all(line, kit?));
    let (code, description) = (code(line), description(line));
    let sub_kit = match kit {
        Some(kit) => kit_name(kit),
        None => sub_kit(despatch, notice, line),
    };
    let details = details(line, &description);
    let cells = [
        line.id.clone(),
        code.clone(),
        description.clone(),
        line.delivered
            .as_ref()
            .map(Amount::in_words)
            .unwrap_or_default(),
    ];
    let count = |amount: &Option<Amount>| amount.as_ref().and_then(Amount::pieces);
    let several = despatch.notices.len() > 1;
    Row {
        at,
        key: RowKey::of(&code, &description, &sub_kit),
        quantity,
        written: line.delivered.as_ref().map_or_else(String::new, |amount| {
            format!("{} {}", amount.written, amount.unit)
                .trim()
                .to_owned()
        }),
        doubt,
        unit: line
            .delivered
            .as_ref()
            .map_or_else(String::new, |a| a.unit.to_lowercase()),
        ordered: count(&line.ordered),
        backordered: count(&line.backorder),
        code,
        description,
        details,
        sub_kit,
        shipment: notice
            .filter(|_| several)
            .map_or_else(String::new, |notice| notice.id.clone()),
        cells: cells.into(),
        seen: None,
        sent: Some(Box::new(line.clone())),
    }
}

/// The pieces of a line, and what is unclear about them.
fn pieces(line: &SentLine) -> (Option<i64>, Option<String>) {
    let Some(amount) = &line.delivered else {
        return (None, Some("the line gives no quantity sent".to_owned()));
    };
    let Some(number) = amount.number else {
        let doubt = format!(
            "{:?} was not read as a quantity; a number such as 12 would be",
            amount.written
        );
        return (None, Some(doubt));
    };
    let words = amount.in_words();
    let not_whole = || Some(format!("{words} is no whole number of pieces"));
    let (pieces, doubt) = match amount.means.map(|unit| (unit, unit.counts)) {
        Some((_, Counts::Pieces(each))) => match number.whole_times(each) {
            Some(pieces) => (Some(pieces), None),
            None => (None, not_whole()),
        },
        Some((unit, Counts::Holds)) => return held(line, number.whole(), unit.name),
        Some(_) => (None, Some(format!("{words} is no count of pieces"))),
        None => match (number.whole(), amount.unit.is_empty()) {
            (Some(n), true) => (
                Some(n),
                Some(format!("{n} of what is not said: the line gives no unit")),
            ),
            (Some(n), false) => (
                Some(n),
                Some(format!("the unit {} is not known", amount.unit)),
            ),
            (None, _) => (None, not_whole()),
        },
    };
    match pieces {
        Some(n) if n < 0 => (pieces, Some("the quantity is less than nothing".to_owned())),
        _ => (pieces, doubt),
    }
}

/// The doubt of a component of more kits than one: senders give its number for one kit or for all.
fn each_or_all(line: &SentLine, kit: &SentLine) -> Option<String> {
    let (parts, kits) = (line.delivered.as_ref()?, kit.delivered.as_ref()?);
    let one = kits.number? == Decimal::from(1);
    (line.each_or_all && !one).then(|| {
        let (parts, kits) = (parts.in_words(), kits.in_words());
        format!(
            "{parts} of it in {kits}: whether in each or in all is not said; this was taken as all"
        )
    })
}

/// Boxes and bundles: as many pieces as the packing of the line says that each holds.
fn held(line: &SentLine, boxes: Option<i64>, name: &str) -> (Option<i64>, Option<String>) {
    let Some(boxes) = boxes else {
        return (
            None,
            Some(format!("that many of a {name} is no whole number")),
        );
    };
    let pack = line.packed.iter().find(|packed| packed.note == PACK);
    let each = pack.and_then(|pack| {
        let outer = pack.count?.whole()?;
        let inner = pack.inner.map_or(Some(1), |inner| inner.whole())?;
        outer.checked_mul(inner).filter(|each| *each > 0)
    });
    match each.and_then(|each| Some((each, boxes.checked_mul(each)?))) {
        Some((each, pieces)) => {
            let doubt =
                format!("{boxes} times {each}: the line says that each {name} holds {each}");
            (Some(pieces), Some(doubt))
        }
        None => (
            Some(boxes),
            Some(format!("how many pieces one {name} holds is not said")),
        ),
    }
}

/// The seller's number, for it is the seller who packs; else the next that says whose it is.
fn code(line: &SentLine) -> String {
    let of = |whose: Whose| line.item.ids.iter().find(|id| id.whose == whose);
    [
        Whose::Seller,
        Whose::Buyer,
        Whose::Manufacturer,
        Whose::Catalogue,
        Whose::Other,
        Whose::Standard,
    ]
    .into_iter()
    .find_map(of)
    .map_or_else(String::new, |id| id.value.clone())
}

fn description(line: &SentLine) -> String {
    let item = &line.item;
    match item.name.is_empty() {
        false => item.name.clone(),
        true => item.descriptions.first().cloned().unwrap_or_default(),
    }
}

/// What else is said of the thing: further descriptions, properties, lengths and other sizes.
fn details(line: &SentLine, description: &str) -> String {
    let item = &line.item;
    let lower = description.to_lowercase();
    let more = item
        .descriptions
        .iter()
        .filter(|text| !lower.contains(&text.to_lowercase()))
        .cloned();
    let properties = item
        .properties
        .iter()
        .map(|(name, value)| format!("{name} {value}"));
    let sizes = item.measures.iter().filter_map(|measured| {
        let unit = match measured.amount.means?.counts {
            Counts::Length(unit, 1) => unit.to_owned(),
            Counts::Mass(..) => return None,
            _ => measured.amount.means?.name.to_owned(),
        };
        let meaning = match measured.meaning.as_str() {
            "length" => "long",
            "width" => "wide",
            "outside diameter" => "OD",
            other => other,
        };
        Some(
            format!("{} {unit} {meaning}", measured.amount.number?)
                .trim_end()
                .to_owned(),
        )
    });
    more.chain(properties)
        .chain(sizes)
        .collect::<Vec<_>>()
        .join(", ")
}

/// A kit is called what its line says.
fn kit_name(kit: &SentLine) -> String {
    match description(kit) {
        name if name.is_empty() => code(kit),
        name => name,
    }
}

/// The package that a line is in, where lines are in different ones.
fn sub_kit(despatch: &Despatch, notice: Option<&Notice>, line: &SentLine) -> String {
    let Some(notice) = notice else {
        return String::new();
    };
    let same = |other: &SentLine| other.notice != line.notice || other.units == line.units;
    let unit = line.units.first().and_then(|unit| notice.units.get(*unit));
    match unit {
        Some(unit) if !despatch.lines.iter().all(same) => unit_name(unit),
        _ => String::new(),
    }
}

/// What a handling unit is called: what is written on it, else its kind and number.
pub fn unit_name(unit: &HandlingUnit) -> String {
    if let Some(mark) = unit.marks.first() {
        return mark.clone();
    }
    let kind = match unit.type_name.as_str() {
        "" => "package",
        name => name,
    };
    let number = unit.sscc.as_deref().unwrap_or(&unit.id);
    format!("{kind} {number}").trim_end().to_owned()
}

fn in_words(line: &SentLine) -> String {
    let amount = line
        .delivered
        .as_ref()
        .map(Amount::in_words)
        .unwrap_or_default();
    let said = [line.id.clone(), code(line), description(line), amount];
    said.into_iter()
        .filter(|text| !text.is_empty())
        .collect::<Vec<_>>()
        .join(" | ")
}

fn header(despatch: &Despatch) -> Header {
    let Some(notice) = despatch.notices.first() else {
        return Header::default();
    };
    let party = |roles: &[&str]| {
        let of = |role: &&str| {
            notice
                .parties
                .iter()
                .find(|party| party.role == *role && !name_of(party).is_empty())
        };
        roles.iter().find_map(of).map(name_of)
    };
    let mut orders: Vec<&str> = Vec::new();
    let named = despatch.notices.iter().flat_map(|notice| &notice.orders);
    for order in named.chain(despatch.lines.iter().map(|line| &line.order)) {
        if !order.id.is_empty() && !orders.contains(&order.id.as_str()) && orders.len() < 8 {
            orders.push(&order.id);
        }
    }
    let shipped = notice.dates.iter().find(|dated| dated.meaning == "shipped");
    let date = shipped.map_or(&notice.issue_date, |dated| &dated.date);
    let mut options = BTreeMap::new();
    for reference in notice.references.iter().take(32) {
        let name = match reference.meaning.as_str() {
            "" => reference.qualifier.clone(),
            known => known.to_owned(),
        };
        options
            .entry(name)
            .or_insert_with(|| reference.value.clone());
    }
    let text = |text: &str| (!text.is_empty()).then(|| text.to_owned());
    Header {
        order_name: party(&["delivery customer", "ship to", "buyer", "consignee"]),
        number: text(&orders.join(", ")),
        sender: party(&[
            "seller",
            "despatch supplier",
            "supplier",
            "vendor",
            "ship from",
            "shipper",
        ]),
        date: text(date),
        shipment: text(&notice.id),
        options,
        ..Header::default()
    }
}

fn name_of(party: &Party) -> String {
    match party.name.is_empty() {
        false => party.name.clone(),
        true => party
            .ids
            .first()
            .map_or_else(String::new, |id| id.value.clone()),
    }
}
