//! Handling units of a UBL Despatch Advice, packages in them, and measures.

use super::identifiers::{Gs1, looks_like_sscc};
use super::odd::Odd;
use super::ubl::{File, document, in_words};
use super::units::package;
use super::xml::Element;
use super::{HandlingUnit, Measured, Notice, Packed};

/// Most measures and packings that are kept of one unit: one that every line names has many.
const MOST_SAID: usize = 256;

/// Reads a pallet or package and what stands in it, and returns its index. One that was named before is not made anew.
pub fn handling_unit(
    file: &File<'_>,
    path: &str,
    element: &Element,
    parent: Option<usize>,
    notice: &mut Notice,
    odd: &mut Odd,
) -> usize {
    let path = format!("{path}/{}", element.name);
    let id = [element.says("ID"), element.says("TraceID")]
        .into_iter()
        .find(|id| !id.is_empty())
        .unwrap_or_default();
    let known = notice.unit(id);
    let index = known.unwrap_or_else(|| {
        let code = [
            element.says("TransportHandlingUnitTypeCode"),
            element.says("PackagingTypeCode"),
        ];
        let type_code = code
            .into_iter()
            .find(|code| !code.is_empty())
            .unwrap_or_default();
        let scheme = element
            .value("ID")
            .map_or("", |id| id.attribute("schemeID"));
        let said_sscc = scheme.eq_ignore_ascii_case("SSCC");
        let digits = (said_sscc || looks_like_sscc(id))
            .then(|| odd.gs1(None, &path_of(file, &path, element), Gs1::Sscc, id));
        notice.take_in(HandlingUnit {
            id: id.to_owned(),
            sscc: digits.filter(|digits| digits.len() == 18),
            parent,
            level: element.name.to_string(),
            type_code: type_code.to_owned(),
            type_name: package(&type_code.to_ascii_uppercase())
                .map_or_else(String::new, |unit| unit.name.to_owned()),
            at: file.spot(element),
            ..HandlingUnit::default()
        })
    });
    let mut unit = std::mem::take(&mut notice.units[index]);
    unit.parent = (unit.parent).or(parent.filter(|parent| *parent < index));
    unit.marks.extend(
        (element.all("ShippingMarks").into_iter())
            .filter(|mark| !unit.marks.contains(mark))
            .collect::<Vec<_>>(),
    );
    for name in ["HandlingInstructions", "DamageRemarks", "Description"] {
        unit.notes.extend(element.all(name));
    }
    for child in element
        .children
        .iter()
        .filter(|child| child.name.ends_with("DocumentReference"))
    {
        unit.references.extend(document(child));
    }
    for measured in measures(file, &path, element, None, odd) {
        // A line names the pallet that it is on, and may say again what it weighs.
        if unit.measures.len() < MOST_SAID && !unit.measures.contains(&measured) {
            unit.measures.push(measured);
        }
    }
    for name in ["TotalGoodsItemQuantity", "TotalPackageQuantity", "Quantity"] {
        if let Some(quantity) = element.value(name) {
            let counted = counted(file, &path, quantity, odd);
            if unit.packed.len() >= MOST_SAID {
                continue;
            }
            unit.packed.push(counted);
        }
    }
    notice.units[index] = unit;
    for name in ["ActualPackage", "Package", "ContainedPackage"] {
        for inner in element.parts(name) {
            if inner.says("ID").is_empty() && inner.part("ContainedPackage").is_none() {
                let packed = packed(file, &path, inner, None, odd);
                notice.units[index].packed.push(packed);
            } else {
                handling_unit(file, &path, inner, Some(index), notice, odd);
            }
        }
    }
    for inner in element.parts("TransportHandlingUnit") {
        handling_unit(file, &path, inner, Some(index), notice, odd);
    }
    index
}

fn path_of(file: &File<'_>, path: &str, element: &Element) -> String {
    let at = element.value("ID").unwrap_or(element);
    format!("{path}/ID, {}", file.spot(at))
}

/// How many packages or things an element counts, such as `TotalPackageQuantity`.
pub fn counted(file: &File<'_>, path: &str, quantity: &Element, odd: &mut Odd) -> Packed {
    let amount = file.amount(path, quantity, None, odd);
    let of = quantity.name.trim_start_matches("Total");
    Packed {
        count: amount.number,
        means: in_words(of.trim_end_matches("Quantity")),
        code: amount.unit,
        ..Packed::default()
    }
}

/// Packages without a number of their own.
pub fn packed(
    file: &File<'_>,
    path: &str,
    element: &Element,
    line: Option<usize>,
    odd: &mut Odd,
) -> Packed {
    let code = element.says("PackagingTypeCode").to_owned();
    let count = element
        .value("Quantity")
        .map(|quantity| file.amount(path, quantity, line, odd));
    Packed {
        count: count.and_then(|amount| amount.number),
        means: package(&code.to_ascii_uppercase())
            .map_or_else(String::new, |unit| unit.name.to_owned()),
        code,
        measures: measures(file, path, element, line, odd),
        note: element.all("PackingMaterial").join(" "),
        ..Packed::default()
    }
}

/// Measures of an element itself and of its dimensions.
pub fn measures(
    file: &File<'_>,
    path: &str,
    element: &Element,
    line: Option<usize>,
    odd: &mut Odd,
) -> Vec<Measured> {
    let mut found = Vec::new();
    for measure in element
        .children
        .iter()
        .filter(|child| child.name.ends_with("Measure"))
    {
        found.push(Measured {
            qualifier: measure.name.to_string(),
            meaning: in_words(measure.name.trim_end_matches("Measure")),
            amount: file.amount(path, measure, line, odd),
        });
    }
    for dimension in element
        .children
        .iter()
        .filter(|child| child.name.ends_with("Dimension"))
    {
        if let Some(measure) = dimension.value("Measure") {
            let attribute = dimension.says("AttributeID");
            let described = dimension.all("Description");
            found.push(Measured {
                qualifier: attribute.to_owned(),
                meaning: described
                    .first()
                    .cloned()
                    .unwrap_or_else(|| dimension_name(attribute)),
                amount: file.amount(&format!("{path}/{}", dimension.name), measure, line, odd),
            });
        }
    }
    found
}

/// EDIFACT 6313, which UBL's AttributeID holds in practice; from memory.
fn dimension_name(code: &str) -> String {
    match code {
        "LN" => "length",
        "WD" => "width",
        "HT" => "height",
        "TH" => "thickness",
        "DI" => "diameter",
        "AAA" => "net weight",
        "AAB" | "G" => "gross weight",
        "AAW" | "ABJ" => "volume",
        other => return in_words(other),
    }
    .to_owned()
}
