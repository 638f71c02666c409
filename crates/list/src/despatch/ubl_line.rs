//! The lines of a UBL Despatch Advice and the things on them.

use std::collections::BTreeMap;

use super::identifiers::Gs1;
use super::odd::Odd;
use super::ubl::{File, date, document, order};
use super::ubl_units::{handling_unit, measures, packed};
use super::units::CodeList;
use super::x12_parts::PACK;
use super::xml::{Element, Vocabulary};
use super::{Amount, Dated, Decimal, Item, ItemId, Lot, Measured, Notice, Packed, SentLine, Whose};

/// Reads one line and its sub-lines.
#[expect(
    clippy::too_many_arguments,
    reason = "a line writes into what is gathered of its notice"
)]
pub fn read(
    file: &File<'_>,
    path: &str,
    element: &Element,
    part_of: Option<usize>,
    number: usize,
    notice: &mut Notice,
    lines: &mut Vec<SentLine>,
    odd: &mut Odd,
) {
    let index = lines.len();
    let here = format!("{path}/{}", element.name);
    let id = element.says("ID").to_owned();
    if id.is_empty() {
        let place = file.place(path, element);
        odd.say(
            Some(index),
            format!("{place}: cbc:ID is missing; every line has one"),
        );
    }
    let mut line = SentLine {
        notice: number,
        id,
        part_of,
        status: element.says("LineStatusCode").to_owned(),
        reasons: [
            element.all("BackorderReason"),
            element.all("OutstandingReason"),
        ]
        .concat(),
        notes: element.all("Note"),
        at: file.spot(element),
        ..SentLine::default()
    };
    let mut amount = |name: &str| -> Option<Amount> {
        let found = element.value(name)?;
        let place = file.place(&here, found);
        Some(odd.line_amount(
            index,
            &place,
            &found.text,
            found.attribute("unitCode"),
            CodeList::Unece,
        ))
    };
    line.delivered = amount("DeliveredQuantity").filter(|amount| !amount.written.is_empty());
    line.backorder = amount("BackorderQuantity");
    line.outstanding = amount("OutstandingQuantity");
    line.oversupply = amount("OversupplyQuantity");
    if line.delivered.is_none() {
        let place = file.place(path, element);
        odd.say(
            Some(index),
            format!("{place}: cbc:DeliveredQuantity is missing: how many were sent is not said"),
        );
    }
    said_again(file, &here, element, index, odd);
    for reference in element.parts("OrderLineReference") {
        if line.order_line.is_empty() {
            line.order_line = reference.says("LineID").to_owned();
            line.sales_order_line = reference.says("SalesOrderLineID").to_owned();
        }
        if let Some(found) = reference
            .part("OrderReference")
            .filter(|_| line.order.id.is_empty())
        {
            line.order = order(found);
        }
    }
    line.references
        .extend(element.parts("DocumentReference").filter_map(document));
    match element.part("Item") {
        Some(found) => {
            line.item = item(
                file,
                &format!("{here}/Item"),
                found,
                index,
                &mut line.packed,
                odd,
            )
        }
        None => {
            let place = file.place(path, element);
            odd.say(
                Some(index),
                format!("{place}: cac:Item is missing: what the thing is is not said"),
            );
        }
    }
    for shipment in element.parts("Shipment") {
        let here = format!("{here}/Shipment");
        for unit in shipment.parts("TransportHandlingUnit") {
            let unit = handling_unit(file, &here, unit, None, notice, odd);
            line.units.push(unit);
        }
        for goods in shipment.parts("GoodsItem") {
            for container in goods.parts("GoodsItemContainer") {
                line.units.extend(notice.unit(container.says("ID")));
            }
            let measured = measures(file, &here, goods, Some(index), odd);
            line.item.measures.extend(measured);
        }
        for inner in shipment.parts("Package") {
            line.packed
                .push(packed(file, &here, inner, Some(index), odd));
        }
        line.item
            .measures
            .extend(measures(file, &here, shipment, Some(index), odd));
        for delivery in shipment.parts("Delivery") {
            line.dates.extend(dates(delivery));
        }
    }
    lines.push(line);
    for sub in element.parts("SubDespatchLine") {
        read(file, &here, sub, Some(index), number, notice, lines, odd);
    }
}

/// Says what stands twice where a line has one: only the first is read, and which is right nobody knows.
fn said_again(file: &File<'_>, path: &str, line: &Element, index: usize, odd: &mut Odd) {
    let mut seen: Vec<&str> = Vec::new();
    for child in &line.children {
        let prefix = match (&*child.name, child.vocabulary) {
            (
                "ID"
                | "DeliveredQuantity"
                | "BackorderQuantity"
                | "OutstandingQuantity"
                | "OversupplyQuantity",
                Vocabulary::Basic,
            ) => "cbc",
            ("Item", Vocabulary::Aggregate) => "cac",
            _ => continue,
        };
        let name = &*child.name;
        if !seen.contains(&name) {
            seen.push(name);
            continue;
        }
        let said = match child.text.as_str() {
            "" => child.says("Name"),
            text => text,
        };
        let place = file.place(path, child);
        odd.say(
            Some(index),
            format!("{place}: a second {prefix}:{name}, {said:?}, was not read; a line has one"),
        );
    }
}

/// Dates of an element's own.
fn dates(element: &Element) -> Vec<Dated> {
    let of = element
        .children
        .iter()
        .filter(|child| child.name.ends_with("Date"));
    of.map(|child| Dated {
        qualifier: child.name.to_string(),
        meaning: super::ubl::in_words(child.name.trim_end_matches("Date")),
        date: date(&child.text),
        time: String::new(),
    })
    .collect()
}

/// Links lines that handling units name: a unit says which lines are in it. One that the notice does not have is a
/// line of its own, and said.
pub fn of_units(
    file: &File<'_>,
    root: &Element,
    first: usize,
    number: usize,
    notice: &mut Notice,
    lines: &mut Vec<SentLine>,
    odd: &mut Odd,
) {
    let mut named: Vec<(&Element, &Element)> = Vec::new();
    root.walk(&["DespatchLine"], &mut |parent, child| {
        if matches!(
            &*child.name,
            "HandlingUnitDespatchLine" | "DespatchLineReference"
        ) {
            named.push((parent, child));
        }
    });
    let mut by_id: BTreeMap<String, usize> = BTreeMap::new();
    for (index, line) in lines.iter().enumerate().skip(first) {
        by_id.entry(line.id.clone()).or_insert(index);
    }
    for (unit, element) in named {
        let unit = notice.unit(unit.says("ID"));
        let id = [element.says("ID"), element.says("LineID")]
            .into_iter()
            .find(|id| !id.is_empty())
            .unwrap_or_default();
        let index = match by_id.get(id) {
            Some(known) => *known,
            None if &*element.name == "HandlingUnitDespatchLine" => {
                let path = "/DespatchAdvice/Shipment/TransportHandlingUnit";
                let at = lines.len();
                let place = file.place(path, element);
                odd.say(
                    Some(at),
                    format!("{place}: the line {id:?} stands only here"),
                );
                read(file, path, element, None, number, notice, lines, odd);
                by_id.insert(id.to_owned(), at);
                at
            }
            None => continue,
        };
        let of = &mut lines[index].units;
        of.extend(unit.filter(|unit| !of.contains(unit)));
    }
}

fn item(
    file: &File<'_>,
    path: &str,
    element: &Element,
    line: usize,
    packings: &mut Vec<Packed>,
    odd: &mut Odd,
) -> Item {
    let mut item = Item {
        name: element.says("Name").to_owned(),
        descriptions: element.all("Description"),
        measures: measures(file, path, element, Some(line), odd),
        ..Item::default()
    };
    item.descriptions
        .extend(element.all("AdditionalInformation"));
    for child in &element.children {
        if let Some(whose) = whose(&child.name) {
            identify(file, path, child, whose, line, &mut item, odd);
        }
        match &*child.name {
            "AdditionalItemProperty" => property(child, &mut item),
            "ItemInstance" => instance(child, &mut item),
            "OriginCountry" => {
                let said = [child.says("Name"), child.says("IdentificationCode")].join(" ");
                item.properties
                    .push(("country of origin".to_owned(), said.trim().to_owned()));
            }
            "BrandName" | "ModelName" | "Keyword" if !child.text.is_empty() => {
                item.properties
                    .push((super::ubl::in_words(&child.name), child.text.clone()));
            }
            _ => {}
        }
    }
    // How many packs are in one unit, and how many things in one pack.
    let mut number = |name: &str| -> Option<Decimal> {
        let found = element.value(name)?;
        file.amount(path, found, Some(line), odd).number
    };
    let (packs, size) = (number("PackQuantity"), number("PackSizeNumeric"));
    if packs.is_some() || size.is_some() {
        packings.push(Packed {
            count: packs.or(Some(Decimal::from(1))),
            inner: size,
            note: PACK.to_owned(),
            ..Packed::default()
        });
    }
    item
}

fn whose(name: &str) -> Option<Whose> {
    Some(match name {
        "SellersItemIdentification" => Whose::Seller,
        "BuyersItemIdentification" => Whose::Buyer,
        "ManufacturersItemIdentification" => Whose::Manufacturer,
        "StandardItemIdentification" => Whose::Standard,
        "CatalogueItemIdentification" => Whose::Catalogue,
        "AdditionalItemIdentification" => Whose::Other,
        _ => return None,
    })
}

/// A number of the thing, with what else its element says: lengths and the like may stand here too.
fn identify(
    file: &File<'_>,
    path: &str,
    element: &Element,
    whose: Whose,
    line: usize,
    item: &mut Item,
    odd: &mut Odd,
) {
    let path = format!("{path}/{}", element.name);
    for (name, more) in [("ID", false), ("ExtendedID", true)] {
        let Some(id) = element.value(name).filter(|id| !id.text.is_empty()) else {
            continue;
        };
        let scheme = id.attribute("schemeID");
        // ISO 6523: 0160 is GS1's trade item number.
        let said = scheme == "0160"
            || ["GTIN", "EAN", "EAN13", "UPC", "GTIN-13", "GTIN-14"]
                .iter()
                .any(|s| scheme.eq_ignore_ascii_case(s));
        let unsaid = whose == Whose::Standard
            && scheme.is_empty()
            && !more
            && id.text.bytes().all(|b| b.is_ascii_digit());
        let likely = unsaid && matches!(id.text.len(), 8 | 12 | 13 | 14);
        if said || likely {
            odd.gs1(Some(line), &file.place(&path, id), Gs1::Gtin, &id.text);
        }
        item.ids.push(ItemId {
            whose,
            qualifier: element.name.to_string(),
            scheme: scheme.to_owned(),
            value: id.text.clone(),
        });
    }
    for measured in measurements(file, &path, element, line, odd) {
        item.measures.push(measured);
    }
    for attribute in element.parts("PhysicalAttribute") {
        let value = [
            attribute.all("Description"),
            attribute.all("DescriptionCode"),
        ]
        .concat()
        .join(" ");
        let name = attribute.says("AttributeID").to_owned();
        if !value.is_empty() {
            item.properties.push((name, value));
        }
    }
}

fn measurements(
    file: &File<'_>,
    path: &str,
    element: &Element,
    line: usize,
    odd: &mut Odd,
) -> Vec<Measured> {
    measures(file, path, element, Some(line), odd)
}

fn property(element: &Element, item: &mut Item) {
    let amount = element.value("ValueQuantity");
    let with_unit = amount.map(|q| {
        format!("{} {}", q.text, q.attribute("unitCode"))
            .trim()
            .to_owned()
    });
    let value = match element.says("Value") {
        "" => with_unit.unwrap_or_default(),
        said => said.to_owned(),
    };
    let name = [element.says("Name"), element.says("NameCode")]
        .into_iter()
        .find(|name| !name.is_empty());
    if !value.is_empty() {
        item.properties
            .push((name.unwrap_or_default().to_owned(), value));
    }
}

/// One or more things by their serial numbers, lots and days.
fn instance(element: &Element, item: &mut Item) {
    item.serials.extend(element.all("SerialID"));
    for lot in element.parts("LotIdentification") {
        item.lots.push(Lot {
            number: lot.says("LotNumberID").to_owned(),
            expires: date(lot.says("ExpiryDate")),
        });
        lot.parts("AdditionalItemProperty")
            .for_each(|p| property(p, item));
    }
    for name in [
        "ProductTraceID",
        "RegistrationID",
        "ManufactureDate",
        "BestBeforeDate",
    ] {
        let value = element.says(name);
        if !value.is_empty() {
            let name = super::ubl::in_words(name.trim_end_matches("ID"));
            item.properties.push((name, value.to_owned()));
        }
    }
    element
        .parts("AdditionalItemProperty")
        .for_each(|p| property(p, item));
}
