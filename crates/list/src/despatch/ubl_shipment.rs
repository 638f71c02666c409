//! The shipment of a UBL Despatch Advice: dates, measures and numbers, wherever a profile puts them.

use super::odd::Odd;
use super::ubl::{File, address, date, document, id, in_words, party, role, time};
use super::ubl_units::{counted, handling_unit};
use super::xml::Element;
use super::{Dated, Equipment, Measured, Notice, Party, Reference};

/// Reads the shipment: dates, measures and numbers wherever a profile puts them.
pub fn of_shipment(
    file: &File<'_>,
    path: &str,
    shipment: &Element,
    notice: &mut Notice,
    odd: &mut Odd,
) {
    const UNITS: [&str; 3] = ["TransportHandlingUnit", "GoodsItem", "Signature"];
    let mut seen = |parent: &Element, child: &Element| {
        let name = &*child.name;
        let under = &parent.name;
        if let Some(of) = name.strip_suffix("Date") {
            let time_of = parent.says(&format!("{of}Time"));
            notice.dates.push(Dated {
                qualifier: format!("{under}/{name}"),
                meaning: meaning_of_date(&parent.name, of).to_owned(),
                date: date(&child.text),
                time: time(time_of),
            });
        } else if name.ends_with("Measure") {
            notice.measures.push(Measured {
                qualifier: format!("{under}/{name}"),
                meaning: in_words(name.trim_end_matches("Measure")),
                amount: file.amount(path, child, None, odd),
            });
        } else if name.starts_with("Total") && name.ends_with("Quantity") {
            notice.packages.push(counted(file, path, child, odd));
        } else if name == "CarrierParty" {
            let carrier = party(file, path, "carrier", child, odd);
            let words = [carrier.name.clone()]
                .into_iter()
                .chain(carrier.ids.iter().map(|id| id.value.clone()));
            notice
                .carriers
                .extend(words.filter(|text| !text.is_empty()).take(1));
            notice.parties.push(carrier);
        } else if !role(name).is_empty() {
            notice
                .parties
                .push(party(file, path, role(name), child, odd));
        } else if name.ends_with("Address")
            || (name == "Location" && child.part("Address").is_none())
        {
            notice.parties.push(Party {
                role: in_words(name),
                role_code: format!("{under}/{name}"),
                ids: child
                    .value("ID")
                    .map(|number| id(name, number))
                    .into_iter()
                    .collect(),
                address: address(child),
                ..Party::default()
            });
        } else if EQUIPMENT.contains(&name) && !child.text.is_empty() {
            notice.equipment.push(Equipment {
                kind: in_words(name.trim_end_matches("ID")),
                id: child.text.clone(),
                seal: String::new(),
            });
        } else if name == "TransportEquipment" {
            let seals = child
                .parts("TransportEquipmentSeal")
                .map(|seal| seal.says("ID").to_owned());
            notice.equipment.push(Equipment {
                kind: "transport equipment".to_owned(),
                id: child.says("ID").to_owned(),
                seal: seals.collect::<Vec<_>>().join(", "),
            });
        } else if name.ends_with("DocumentReference") {
            notice.references.extend(document(child));
        } else if is_number(&parent.name, name) && !child.text.is_empty() {
            notice.references.push(Reference {
                qualifier: format!("{under}/{name}"),
                meaning: meaning_of_number(&parent.name, name).to_owned(),
                value: child.text.clone(),
                note: String::new(),
            });
        } else if NOTES.contains(&name) && !child.text.is_empty() {
            notice.instructions.push(child.text.clone());
        }
    };
    let skip = [
        &UNITS[..],
        &[
            "PostalAddress",
            "Contact",
            "PartyLegalEntity",
            "PartyTaxScheme",
            "TransportEquipmentSeal",
        ][..],
    ]
    .concat();
    shipment.walk(&skip, &mut seen);
    for unit in shipment.parts("TransportHandlingUnit") {
        handling_unit(file, path, unit, None, notice, odd);
    }
    shipment.walk(&["TransportHandlingUnit"], &mut |_, stage| {
        // Consignments have handling units of their own.
        for unit in stage.parts("TransportHandlingUnit") {
            handling_unit(file, path, unit, None, notice, odd);
        }
    });
}

const EQUIPMENT: [&str; 6] = [
    "LicensePlateID",
    "VesselName",
    "VesselID",
    "TrainID",
    "AircraftID",
    "RailCarID",
];

const NOTES: [&str; 8] = [
    "Information",
    "HandlingInstructions",
    "DeliveryInstructions",
    "SpecialInstructions",
    "Remarks",
    "SummaryDescription",
    "SpecialTerms",
    "Instructions",
];

fn is_number(parent: &str, name: &str) -> bool {
    matches!(
        (parent, name),
        ("Shipment" | "Consignment" | "ShipmentStage", "ID")
            | (
                _,
                "TrackingID" | "CarrierAssignedID" | "ConsignorAssignedID" | "ConsigneeAssignedID"
            )
            | (_, "FreightForwarderAssignedID" | "BrokerAssignedID")
            | (
                "Shipment" | "ShipmentStage",
                "TransportModeCode" | "HandlingCode" | "ShippingPriorityLevelCode"
            )
            | ("DriverPerson", "ID")
    )
}

fn meaning_of_number(parent: &str, name: &str) -> &'static str {
    match (parent, name) {
        ("Shipment", "ID") => "shipment",
        ("Consignment", "ID") => "consignment",
        (_, "TrackingID") => "tracking number",
        (_, "CarrierAssignedID") => "carrier's number",
        (_, "ConsignorAssignedID") => "consignor's number",
        (_, "ConsigneeAssignedID") => "consignee's number",
        (_, "FreightForwarderAssignedID") => "freight forwarder's number",
        (_, "TransportModeCode") => "mode of transport",
        (_, "HandlingCode") => "handling code",
        ("DriverPerson", "ID") => "driver",
        _ => "",
    }
}

fn meaning_of_date(parent: &str, of: &str) -> &'static str {
    match (parent, of) {
        ("Despatch", "ActualDespatch") | (_, "ActualDespatch") => "shipped",
        (_, "EstimatedDespatch") => "estimated despatch",
        (_, "RequestedDespatch") => "requested despatch",
        ("Delivery", "ActualDelivery") | (_, "ActualDelivery") => "delivered",
        (_, "LatestDelivery") => "latest delivery",
        ("RequestedDeliveryPeriod", "Start") => "requested delivery, from",
        ("RequestedDeliveryPeriod", "End") => "requested delivery, until",
        ("EstimatedDeliveryPeriod", "Start") => "estimated delivery, from",
        ("EstimatedDeliveryPeriod", "End") => "estimated delivery, until",
        ("PromisedDeliveryPeriod", "Start") => "promised delivery, from",
        ("PromisedDeliveryPeriod", "End") => "promised delivery, until",
        ("TransitPeriod", "Start") => "transit, from",
        ("TransitPeriod", "End") => "transit, until",
        _ => "",
    }
}
