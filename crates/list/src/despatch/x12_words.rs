//! What the few X12 codes mean that ship notices of parts use. Each is common practice from memory unless
//! facts/receiving.md §5 names it; X12's tables are licensed and are not copied. A code that is not here keeps its
//! letters and no meaning.

use super::Whose;
use super::identifiers::Gs1;

/// Returns what a transaction set is, by its number.
pub fn set(number: &str) -> &'static str {
    match number {
        "204" => "motor carrier load tender",
        "210" => "freight invoice",
        "211" => "bill of lading",
        "214" => "shipment status message",
        "753" => "request for routing",
        "754" => "routing instructions",
        "810" => "invoice",
        "812" => "credit or debit adjustment",
        "820" => "payment order",
        "824" => "application advice",
        "830" => "planning schedule",
        "832" => "price catalogue",
        "846" => "inventory advice",
        "850" => "purchase order",
        "852" => "product activity data",
        "855" => "purchase order acknowledgement",
        "856" => "ship notice",
        "857" => "shipment and billing notice",
        "860" => "purchase order change",
        "861" => "receiving advice",
        "862" => "shipping schedule",
        "865" => "purchase order change acknowledgement",
        "870" => "order status report",
        "940" => "warehouse shipping order",
        "943" => "warehouse stock transfer shipment advice",
        "944" => "warehouse stock transfer receipt advice",
        "945" => "warehouse shipping advice",
        "997" | "999" => "acknowledgement",
        _ => "transaction set of another kind",
    }
}

/// REF01 and other kinds of number.
pub fn reference(code: &str) -> &'static str {
    match code {
        "2I" => "tracking number",
        "AO" => "appointment number",
        "BM" => "bill of lading",
        "BT" => "batch number",
        "CN" => "carrier's number",
        "CO" => "customer order number",
        "CR" => "customer reference number",
        "CT" => "contract number",
        "DK" => "dock number",
        "DO" => "delivery order number",
        "DP" => "department number",
        "IA" => "internal vendor number",
        "IV" => "seller's invoice number",
        "LO" => "load planning number",
        "LS" => "bar-coded serial number",
        "LT" => "lot number",
        "MB" => "master bill of lading",
        "MR" => "merchandise type",
        "ON" => "dealer order number",
        "PE" => "plant number",
        "PK" => "packing list number",
        "PO" => "purchase order number",
        "SE" => "serial number",
        "SI" => "shipper's number of the shipment",
        "SN" => "seal number",
        "VN" => "vendor order number",
        "VR" => "vendor number",
        "WY" => "rail waybill number",
        "GM" => "SSCC with its 00",
        "AA" => "SSCC",
        "CP" => "carrier's package number",
        "UC" => "shipping container code",
        "SM" => "shipper's number of the package",
        "CA" => "shipper's case number",
        "ZZ" => "mutually agreed",
        _ => "",
    }
}

/// Whether a REF names a lot.
pub fn is_lot(code: &str) -> bool {
    matches!(code, "LT" | "BT" | "B8")
}

/// DTM01.
pub fn date(code: &str) -> &'static str {
    match code {
        "002" => "delivery requested",
        "010" => "requested ship",
        "011" => "shipped",
        "017" => "estimated delivery",
        "035" => "delivered",
        "036" => "expires",
        "037" => "ship not before",
        "038" => "ship not later",
        "050" => "received",
        "063" => "do not deliver after",
        "064" => "do not deliver before",
        "067" => "scheduled delivery",
        "068" => "scheduled ship",
        "069" => "promised delivery",
        "094" => "manufactured",
        "118" => "requested pick-up",
        "208" => "lot expires",
        "369" => "estimated departure",
        "370" => "departed",
        "371" => "estimated arrival",
        "405" => "produced",
        _ => "",
    }
}

/// N101.
pub fn role(code: &str) -> &'static str {
    match code {
        "BS" => "bill and ship to",
        "BT" => "bill to",
        "BY" => "buyer",
        "CA" => "carrier",
        "CN" => "consignee",
        "CS" => "consolidator",
        "MA" => "ultimate consignee",
        "MF" => "manufacturer",
        "OB" => "ordered by",
        "RI" => "remit to",
        "SE" => "seller",
        "SF" => "ship from",
        "SH" => "shipper",
        "ST" => "ship to",
        "SU" => "supplier",
        "UC" => "ultimate consignee",
        "VN" => "vendor",
        "WH" => "warehouse",
        "Z7" => "mark for",
        _ => "",
    }
}

/// N103.
pub fn scheme(code: &str) -> &'static str {
    match code {
        "1" => "DUNS",
        "9" => "DUNS+4",
        "2" => "SCAC",
        "91" => "assigned by the seller",
        "92" => "assigned by the buyer",
        "UL" => "GLN",
        _ => "",
    }
}

/// MEA02, and the weight qualifier of TD1 and PO4.
pub fn measure(code: &str) -> &'static str {
    match code {
        "G" => "gross weight",
        "N" => "net weight",
        "T" => "tare weight",
        "WT" => "weight",
        "LN" | "LG" => "length",
        "WD" => "width",
        "HT" => "height",
        "TH" => "thickness",
        "DI" => "diameter",
        "DP" => "depth",
        "ID" => "inside diameter",
        "OD" => "outside diameter",
        "VOL" => "volume",
        "A" => "consolidated weight",
        "E" => "estimated weight",
        "BW" => "billed weight",
        "U" => "weight per unit",
        _ => "",
    }
}

/// The qualifiers of LIN and SLN.
pub fn whose(code: &str) -> Whose {
    match code {
        "VP" | "VN" | "VC" | "VA" | "VS" | "VU" => Whose::Seller,
        "BP" | "IN" | "PI" | "CB" | "IT" | "BO" | "SKU" => Whose::Buyer,
        "MG" | "MF" | "MN" | "MP" => Whose::Manufacturer,
        "UP" | "UK" | "EN" | "UI" | "UA" | "UN" | "UE" | "UD" | "EO" | "UX" | "UG" => {
            Whose::Standard
        }
        "CG" => Whose::Catalogue,
        _ => Whose::Other,
    }
}

/// Whether a qualifier's number has GS1's check digit.
pub fn has_check_digit(code: &str) -> Option<Gs1> {
    matches!(code, "UP" | "UK" | "EN" | "EO").then_some(Gs1::Gtin)
}

/// Qualifiers of LIN that say what a thing is like, not what it is called.
pub fn property(code: &str) -> Option<&'static str> {
    Some(match code {
        "BO" | "VE" | "CL" => "colour",
        "IZ" | "SZ" | "VO" => "size",
        "CH" => "country of origin",
        "PD" => "description",
        "GC" => "grade",
        "DR" => "drawing",
        "EC" => "engineering change",
        "HD" => "harmonized code",
        _ => return None,
    })
}

/// HL03.
pub fn level(code: &str) -> &'static str {
    match code {
        "S" => "shipment",
        "O" => "order",
        "T" => "pallet",
        "P" => "package",
        "Q" => "inner package",
        "I" => "item",
        "F" => "component",
        "K" => "kit",
        "E" => "vehicle",
        _ => "",
    }
}

/// TD504.
pub fn mode(code: &str) -> &'static str {
    match code {
        "A" | "AE" => "air",
        "J" | "M" | "H" => "motor",
        "LT" => "less than a trailer load",
        "R" | "RR" => "rail",
        "S" | "O" => "ocean",
        "U" => "private parcel",
        "T" => "best way",
        "X" => "intermodal",
        _ => "",
    }
}

/// TD301.
pub fn equipment(code: &str) -> &'static str {
    match code {
        "TL" | "TF" => "trailer",
        "CN" => "container",
        "CH" => "chassis",
        "RR" => "rail car",
        "TW" | "TV" => "truck",
        "40" | "20" => "container",
        _ => "",
    }
}
