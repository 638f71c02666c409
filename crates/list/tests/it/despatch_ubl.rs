//! Despatch advices in the shapes that senders' systems give them; each written by hand.

use encoding_rs::WINDOWS_1252;
use list::despatch::{Despatch, Whose};
use list::{PackingList, Refusal, Why, read};

const ROOT: &str = "urn:oasis:names:specification:ubl:schema:xsd:DespatchAdvice-2";
const CAC: &str = "urn:oasis:names:specification:ubl:schema:xsd:CommonAggregateComponents-2";
const CBC: &str = "urn:oasis:names:specification:ubl:schema:xsd:CommonBasicComponents-2";

/// Three lines on two pallets, as a profile of 2.1 and later writes them; GTIN under ISO 6523's 0160.
const BODY: &str = r#"
<cbc:UBLVersionID>2.1</cbc:UBLVersionID>
<cbc:CustomizationID>urn:example:logistics:despatch:1</cbc:CustomizationID>
<cbc:ID>DA-118</cbc:ID>
<cbc:IssueDate>2026-03-04+01:00</cbc:IssueDate>
<cbc:IssueTime>09:15:00.000+01:00</cbc:IssueTime>
<cbc:Note>Höhe &lt; 2 m &amp; trocken</cbc:Note>
<cac:OrderReference><cbc:ID>PO-4711</cbc:ID></cac:OrderReference>
<cac:AdditionalDocumentReference><cbc:ID>BOL-77</cbc:ID><cbc:DocumentType>bill of lading</cbc:DocumentType></cac:AdditionalDocumentReference>
<cac:DespatchSupplierParty><cac:Party>
  <cbc:EndpointID schemeID="0088">0614141000012</cbc:EndpointID>
  <cac:PartyIdentification><cbc:ID schemeID="0088">0614141000012</cbc:ID></cac:PartyIdentification>
  <cac:PartyName><cbc:Name>Kit Maker Yard</cbc:Name></cac:PartyName>
</cac:Party></cac:DespatchSupplierParty>
<cac:DeliveryCustomerParty><cac:Party>
  <cac:PartyLegalEntity><cbc:RegistrationName>School Garden</cbc:RegistrationName></cac:PartyLegalEntity>
</cac:Party></cac:DeliveryCustomerParty>
<cac:Shipment>
  <cbc:ID>S-118</cbc:ID>
  <cbc:GrossWeightMeasure unitCode="KGM">835.5</cbc:GrossWeightMeasure>
  <cbc:TotalTransportHandlingUnitQuantity unitCode="XPX">2</cbc:TotalTransportHandlingUnitQuantity>
  <cac:Consignment><cbc:ID>C-9</cbc:ID><cac:CarrierParty><cac:PartyName><cbc:Name>Island Freight</cbc:Name></cac:PartyName></cac:CarrierParty></cac:Consignment>
  <cac:Delivery>
    <cac:EstimatedDeliveryPeriod><cbc:StartDate>2026-03-09</cbc:StartDate></cac:EstimatedDeliveryPeriod>
    <cac:Despatch><cbc:ActualDespatchDate>2026-03-05</cbc:ActualDespatchDate><cbc:ActualDespatchTime>07:30:00</cbc:ActualDespatchTime></cac:Despatch>
  </cac:Delivery>
  <cac:TransportHandlingUnit>
    <cbc:ID schemeID="SSCC">106141411234567897</cbc:ID>
    <cbc:TransportHandlingUnitTypeCode>PX</cbc:TransportHandlingUnitTypeCode>
    <cbc:ShippingMarks>FRAME 1 of 2</cbc:ShippingMarks>
    <cac:MeasurementDimension><cbc:AttributeID>LN</cbc:AttributeID><cbc:Measure unitCode="MTR">3.2</cbc:Measure></cac:MeasurementDimension>
    <cac:Package><cbc:ID>006141411234567890</cbc:ID><cbc:PackagingTypeCode>BX</cbc:PackagingTypeCode></cac:Package>
    <cac:ShipmentDocumentReference><cbc:ID>LABEL-1</cbc:ID></cac:ShipmentDocumentReference>
  </cac:TransportHandlingUnit>
  <cac:TransportHandlingUnit><cbc:ID>P-2</cbc:ID></cac:TransportHandlingUnit>
</cac:Shipment>
<cac:DespatchLine>
  <cbc:ID>10</cbc:ID>
  <cbc:DeliveredQuantity unitCode="PR">6</cbc:DeliveredQuantity>
  <cbc:OutstandingQuantity unitCode="PR">2</cbc:OutstandingQuantity>
  <cbc:OutstandingReason>follows by post</cbc:OutstandingReason>
  <cac:OrderLineReference><cbc:LineID>3</cbc:LineID></cac:OrderLineReference>
  <cac:Item>
    <cbc:Name>Bracket, left and right</cbc:Name>
    <cac:SellersItemIdentification><cbc:ID>BR-2</cbc:ID></cac:SellersItemIdentification>
    <cac:StandardItemIdentification><cbc:ID schemeID="0160">4006381333931</cbc:ID></cac:StandardItemIdentification>
    <cac:AdditionalItemProperty><cbc:Name>Finish</cbc:Name><cbc:Value>galvanised</cbc:Value></cac:AdditionalItemProperty>
  </cac:Item>
  <cac:Shipment><cbc:ID>NA</cbc:ID><cac:TransportHandlingUnit><cbc:ID schemeID="SSCC">106141411234567897</cbc:ID></cac:TransportHandlingUnit></cac:Shipment>
</cac:DespatchLine>
<cac:DespatchLine>
  <cbc:ID>20</cbc:ID>
  <cbc:DeliveredQuantity unitCode="EA">26.000</cbc:DeliveredQuantity>
  <cac:OrderLineReference><cbc:LineID>1</cbc:LineID></cac:OrderLineReference>
  <cac:Item>
    <cbc:Description>Ground post</cbc:Description>
    <cac:BuyersItemIdentification><cbc:ID>9001</cbc:ID></cac:BuyersItemIdentification>
    <cac:Dimension><cbc:AttributeID>LN</cbc:AttributeID><cbc:Measure unitCode="FOT">5</cbc:Measure></cac:Dimension>
  </cac:Item>
  <cac:Shipment><cbc:ID>NA</cbc:ID><cac:TransportHandlingUnit><cbc:ID>P-2</cbc:ID></cac:TransportHandlingUnit></cac:Shipment>
</cac:DespatchLine>
<cac:DespatchLine>
  <cbc:ID>30</cbc:ID>
  <cbc:DeliveredQuantity unitCode="MTR">76</cbc:DeliveredQuantity>
  <cac:OrderLineReference><cbc:LineID>2</cbc:LineID></cac:OrderLineReference>
  <cac:Item><cbc:Name>Edge tape</cbc:Name>
    <cac:ItemInstance><cbc:SerialID>SN-1</cbc:SerialID><cac:LotIdentification><cbc:LotNumberID>L-88</cbc:LotNumberID></cac:LotIdentification></cac:ItemInstance>
  </cac:Item>
  <cac:Shipment><cbc:ID>NA</cbc:ID><cac:TransportHandlingUnit><cbc:ID>P-2</cbc:ID></cac:TransportHandlingUnit></cac:Shipment>
</cac:DespatchLine>
"#;

fn document(body: &str) -> String {
    format!(
        "<DespatchAdvice xmlns=\"{ROOT}\" xmlns:cac=\"{CAC}\" xmlns:cbc=\"{CBC}\">{body}</DespatchAdvice>"
    )
}

fn list_of(text: &str) -> PackingList {
    read(text.as_bytes(), "advice.xml").unwrap()
}

fn data(list: &PackingList) -> &Despatch {
    list.despatch.as_deref().unwrap()
}

fn warnings(list: &PackingList) -> Vec<&str> {
    data(list)
        .warnings
        .iter()
        .map(|w| w.what.as_str())
        .collect()
}

fn refused(text: &str) -> String {
    read(text.as_bytes(), "advice.xml")
        .unwrap_err()
        .why
        .to_string()
}

/// What the body above says, however it is written.
fn is_the_one_above(list: &PackingList) {
    let despatch = data(list);
    let notice = &despatch.notices[0];
    assert_eq!(
        (
            notice.id.as_str(),
            notice.issue_date.as_str(),
            notice.issue_time.as_str()
        ),
        ("DA-118", "2026-03-04", "09:15:00")
    );
    assert_eq!(notice.notes, ["Höhe < 2 m & trocken"]);
    let dates: Vec<_> = notice
        .dates
        .iter()
        .map(|d| (d.meaning.as_str(), d.date.as_str(), d.time.as_str()))
        .collect();
    assert_eq!(
        dates,
        [
            ("estimated delivery, from", "2026-03-09", ""),
            ("shipped", "2026-03-05", "07:30:00")
        ]
    );
    let references: Vec<_> = notice
        .references
        .iter()
        .map(|r| (r.meaning.as_str(), r.value.as_str()))
        .collect();
    assert_eq!(
        references,
        [
            ("bill of lading", "BOL-77"),
            ("shipment", "S-118"),
            ("consignment", "C-9")
        ]
    );
    assert_eq!(notice.carriers, ["Island Freight"]);
    let units: Vec<_> = (notice.units.iter())
        .map(|u| {
            (
                u.id.as_str(),
                u.sscc.as_deref(),
                u.type_name.as_str(),
                u.parent,
            )
        })
        .collect();
    assert_eq!(
        units,
        [
            (
                "106141411234567897",
                Some("106141411234567897"),
                "pallet",
                None
            ),
            (
                "006141411234567890",
                Some("006141411234567890"),
                "box",
                Some(0)
            ),
            ("P-2", None, "", None),
        ]
    );
    assert_eq!(notice.units[0].measures[0].meaning, "length");
    assert_eq!(notice.units[0].references[0].value, "LABEL-1");
    let rows: Vec<_> = (list.rows.iter())
        .map(|r| {
            (
                r.quantity,
                r.code.as_str(),
                r.description.as_str(),
                r.details.as_str(),
                r.sub_kit.as_str(),
            )
        })
        .collect();
    assert_eq!(
        rows,
        [
            (
                Some(12),
                "BR-2",
                "Bracket, left and right",
                "Finish galvanised",
                "FRAME 1 of 2"
            ),
            (Some(26), "9001", "Ground post", "5 ft long", "package P-2"),
            (None, "", "Edge tape", "", "package P-2"),
        ]
    );
    assert_eq!(
        list.rows[2].doubt.as_deref(),
        Some("76 MTR (metre) is no count of pieces")
    );
    let line = &despatch.lines[0];
    assert_eq!(line.outstanding.as_ref().unwrap().pieces(), Some(4));
    assert_eq!(
        (line.reasons.as_slice(), line.order_line.as_str()),
        (&["follows by post".to_owned()][..], "3")
    );
    assert_eq!(line.item.ids[1].scheme, "0160");
    let tape = &despatch.lines[2];
    assert_eq!(
        (
            tape.item.serials.as_slice(),
            tape.item.lots[0].number.as_str()
        ),
        (&["SN-1".to_owned()][..], "L-88")
    );
    assert_eq!(
        tape.delivered
            .as_ref()
            .unwrap()
            .length()
            .unwrap()
            .as_nanometres(),
        76_000_000_000
    );
    let units: Vec<_> = despatch
        .lines
        .iter()
        .map(|line| line.units.clone())
        .collect();
    assert_eq!(units, [[0], [2], [2]]);
    assert_eq!(list.header.date.as_deref(), Some("2026-03-05"));
    assert_eq!(list.header.sender.as_deref(), Some("Kit Maker Yard"));
    assert_eq!(list.header.order_name.as_deref(), Some("School Garden"));
    assert_eq!(warnings(list), Vec::<&str>::new());
}

#[test]
fn three_lines_on_two_pallets() {
    is_the_one_above(&list_of(&document(BODY)));
}

#[test]
fn whatever_the_prefixes() {
    let document = document(BODY);
    let other = document
        .replace("<DespatchAdvice xmlns=", "<da:DespatchAdvice xmlns:da=")
        .replace("</DespatchAdvice>", "</da:DespatchAdvice>")
        .replace("cac:", "x1:")
        .replace("xmlns:cac", "xmlns:x1")
        .replace("cbc:", "n.s-2:")
        .replace("xmlns:cbc", "xmlns:n.s-2");
    is_the_one_above(&list_of(&other));
    // The prefixes of the two swapped.
    let swapped = document
        .replace("cac:", "\u{1}")
        .replace("cbc:", "cac:")
        .replace('\u{1}', "cbc:");
    let swapped = swapped.replace(
        &format!("xmlns:cac=\"{CAC}\" xmlns:cbc=\"{CBC}\""),
        &format!("xmlns:cbc=\"{CAC}\" xmlns:cac=\"{CBC}\""),
    );
    is_the_one_above(&list_of(&swapped));
    // No prefix at all: each basic element declares its namespace anew.
    let basic = document.replace("<cbc:", "\u{1}").replace("</cbc:", "</");
    let mut plain = String::new();
    for (n, part) in basic.split('\u{1}').enumerate() {
        let name = part.find([' ', '>']).unwrap_or(0);
        if n > 0 {
            plain.push_str(&format!(
                "<{} xmlns=\"{CBC}\"{}",
                &part[..name],
                &part[name..]
            ));
        } else {
            plain.push_str(part);
        }
    }
    is_the_one_above(&list_of(&plain));
}

#[test]
fn whatever_the_encoding() {
    let utf8 = document(BODY);
    let declared = |label: &str| {
        format!(
            "<?xml version=\"1.0\" encoding=\"{label}\" standalone='yes'?>\n<!-- {label} -->\n{utf8}"
        )
    };
    is_the_one_above(&list_of(&declared("utf-8")));
    is_the_one_above(
        &read(
            &[b"\xEF\xBB\xBF", declared("UTF-8").as_bytes()].concat(),
            "x",
        )
        .unwrap(),
    );
    for label in ["ISO-8859-1", "windows-1252", "iso-8859-15"] {
        let text = declared(label);
        let (bytes, _, lost) = WINDOWS_1252.encode(&text);
        assert!(!lost);
        is_the_one_above(&read(&bytes, "x").unwrap());
    }
    let wide = declared("UTF-16");
    let little: Vec<u8> = wide.encode_utf16().flat_map(u16::to_le_bytes).collect();
    let big: Vec<u8> = wide.encode_utf16().flat_map(u16::to_be_bytes).collect();
    is_the_one_above(&read(&[b"\xFF\xFE", &little[..]].concat(), "x").unwrap());
    is_the_one_above(&read(&[b"\xFE\xFF", &big[..]].concat(), "x").unwrap());
    is_the_one_above(&read(&little, "x").unwrap());
    is_the_one_above(&read(&big, "x").unwrap());
    assert!(refused(&declared("klingon")).contains("UTF-8 would be right"));
}

#[test]
fn in_an_envelope_and_with_strange_parts() {
    let inner = document(BODY);
    let envelope = format!(
        "<sh:StandardBusinessDocument xmlns:sh=\"http://www.unece.org/cefact/namespaces/StandardBusinessDocumentHeader\">\
         <sh:StandardBusinessDocumentHeader><sh:HeaderVersion>1.0</sh:HeaderVersion></sh:StandardBusinessDocumentHeader>{inner}\
         </sh:StandardBusinessDocument>"
    );
    is_the_one_above(&list_of(&envelope));
    // Two in one wrapper.
    let two = format!(
        "<batch>{inner}{}</batch>",
        inner.replace("DA-118", "DA-119")
    );
    let list = list_of(&two);
    assert_eq!((list.rows.len(), data(&list).notices.len()), (6, 2));
    assert_eq!(
        (
            list.rows[3].shipment.as_str(),
            list.rows[3].at.to_string().as_str()
        ),
        ("DA-119", "notice DA-119 row 4")
    );
    // Extensions hold what they will, a despatch line too.
    let ext = "<ext:UBLExtensions xmlns:ext=\"urn:oasis:names:specification:ubl:schema:xsd:CommonExtensionComponents-2\">\
        <ext:UBLExtension><ext:ExtensionContent><x xmlns=\"urn:x\"><y/></x><cac:DespatchLine/></ext:ExtensionContent></ext:UBLExtension></ext:UBLExtensions>";
    is_the_one_above(&list_of(
        &inner.replace("<cbc:UBLVersionID>", &format!("{ext}<cbc:UBLVersionID>")),
    ));
    is_the_one_above(&list_of(&inner.replace(
        "<cbc:Name>Kit Maker Yard",
        "<cbc:Name><![CDATA[Kit Maker]]> <?p i?>Y<!-- no -->ard",
    )));
}

/// Sub-lines stand in 2.3 and 2.4.
#[test]
fn sub_lines_of_a_kit() {
    let line = |name: &str, id: &str, quantity: &str, unit: &str, inside: &str| {
        format!(
            "<cac:{name}><cbc:ID>{id}</cbc:ID><cbc:DeliveredQuantity unitCode=\"{unit}\">{quantity}</cbc:DeliveredQuantity>\
             <cac:OrderLineReference><cbc:LineID>1</cbc:LineID></cac:OrderLineReference><cac:Item><cbc:Name>Thing {id}</cbc:Name></cac:Item>{inside}</cac:{name}>"
        )
    };
    let parts = line("SubDespatchLine", "1.1", "4", "EA", "")
        + &line("SubDespatchLine", "1.2", "2", "DZN", "");
    let body = format!(
        "<cbc:UBLVersionID>2.4</cbc:UBLVersionID><cbc:ID>D</cbc:ID><cbc:IssueDate>2026-03-04</cbc:IssueDate><cbc:LineCountNumeric>2</cbc:LineCountNumeric>{}{}",
        line("DespatchLine", "1", "1", "SET", &parts),
        line(
            "DespatchLine",
            "2",
            "3",
            "EA",
            &line("SubDespatchLine", "2.1", "6", "EA", "")
        )
    );
    let list = list_of(&document(&body));
    let rows: Vec<_> = list
        .rows
        .iter()
        .map(|r| (r.description.as_str(), r.quantity))
        .collect();
    assert_eq!(
        rows,
        [
            ("Thing 1.1", Some(4)),
            ("Thing 1.2", Some(24)),
            ("Thing 2", Some(3))
        ]
    );
    let aside: Vec<_> = list.set_aside.iter().map(|a| (a.at.row, a.why)).collect();
    assert_eq!(aside, [(1, Why::Section), (5, Why::IncludedIn)]);
    assert_eq!(data(&list).lines.len(), 5);
    assert_eq!(warnings(&list), Vec::<&str>::new());
}

#[test]
fn what_is_wrong_is_said_with_its_place() {
    let broken = |from: &str, to: &str| {
        assert!(BODY.contains(from), "{from}");
        document(&BODY.replacen(from, to, 1))
    };
    for (from, to, says) in [
        (
            "unitCode=\"EA\">26.000<",
            "unitCode=\"EA\">12x<",
            "/DespatchAdvice/DespatchLine/DeliveredQuantity, line 53, column 3: \"12x\" is no number; one such as 12 would be right",
        ),
        (
            "unitCode=\"EA\">26.000<",
            "unitCode=\"EA\">2,5<",
            "\"2,5\" is no number; one such as 2.5 would be right",
        ),
        (
            "unitCode=\"EA\">26.000<",
            ">26<",
            "no unit is given; EA, each, would be right for pieces",
        ),
        (
            "unitCode=\"EA\">26.000<",
            "unitCode=\"BX\">26<",
            "BX is of Rec 21; as a unit it is XBX, box",
        ),
        (
            "unitCode=\"EA\">26.000<",
            "unitCode=\"\">-26<",
            "-26 is less than nothing",
        ),
        (
            "<cbc:ID>20</cbc:ID>",
            "",
            "/DespatchAdvice/DespatchLine, line 51, column 1: cbc:ID is missing",
        ),
        (
            "<cbc:ID>DA-118</cbc:ID>",
            "",
            "/DespatchAdvice, line 1, column 1: cbc:ID is missing",
        ),
        (
            "<cbc:IssueDate>2026-03-04+01:00</cbc:IssueDate>",
            "",
            "cbc:IssueDate is missing",
        ),
        (
            "4006381333931",
            "4006381333932",
            "GTIN 4006381333932: its check digit is 2, and 1 would be right",
        ),
        (
            "<cbc:ID schemeID=\"SSCC\">106141411234567897",
            "<cbc:ID schemeID=\"SSCC\">106141411234567890",
            "check digit is 0, and 7 would be right",
        ),
        (
            "<cbc:EndpointID schemeID=\"0088\">0614141000012",
            "<cbc:EndpointID schemeID=\"0088\">0614141000013",
            "GLN 0614141000013: its check digit is 3",
        ),
        (
            "<cac:DespatchLine>",
            "<cbc:LineCountNumeric>4</cbc:LineCountNumeric><cac:DespatchLine>",
            "\"4\" lines are said, there are 3",
        ),
        (
            "<cac:DespatchLine>",
            "<DespatchLine xmlns=\"urn:x\"/><cac:DespatchLine>",
            "DespatchLine is in no namespace of UBL's components and is not read",
        ),
    ] {
        let list = list_of(&broken(from, to));
        assert_eq!(list.rows.len(), 3, "{to}");
        assert!(
            warnings(&list).iter().any(|w| w.contains(says)),
            "{to}: {:?}",
            warnings(&list)
        );
    }
    let start = BODY.find("<cac:DespatchLine>").unwrap();
    assert_eq!(
        refused(&document(&BODY[..start])),
        "/DespatchAdvice, line 1, column 1: it has no cac:DespatchLine; one for each thing sent would be right"
    );
    let whole = document(BODY);
    let cut = refused(&whole[..whole.find("<cbc:ID>30").unwrap()]);
    assert_eq!(
        cut,
        "line 63, column 3, in /DespatchAdvice/DespatchLine: the file ends here; it was cut off"
    );
    let crossed = refused(&broken("</cac:Item>", "</cac:Itme>"));
    assert!(
        crossed.starts_with("line 48, column 3, in /DespatchAdvice/DespatchLine/Item"),
        "{crossed}"
    );
    let unbound = refused(&broken("<cbc:Note>", "<q:Thing/><cbc:Note>"));
    assert!(
        unbound.contains("the prefix q: has no namespace"),
        "{unbound}"
    );
}

#[test]
fn other_documents_are_named() {
    for (name, says) in [
        (
            "ReceiptAdvice",
            "this is a receipt advice of UBL (number R-1), which is no packing list",
        ),
        (
            "OrderResponse",
            "this is an order response of UBL (number R-1)",
        ),
        ("Invoice", "this is an invoice of UBL (number R-1)"),
        ("Order", "this is an order of UBL (number R-1)"),
    ] {
        let text = document("<cbc:ID>R-1</cbc:ID>").replace("DespatchAdvice", name);
        assert!(refused(&text).starts_with(says), "{}", refused(&text));
    }
    let old = document(BODY).replace("DespatchAdvice-2", "DespatchAdvice-1.0");
    assert!(
        refused(&old).contains("a despatch advice of UBL 1.0"),
        "{}",
        refused(&old)
    );
    let bare = "<DespatchAdvice><ID>1</ID></DespatchAdvice>";
    assert_eq!(
        refused(bare),
        format!("/DespatchAdvice: it is not in UBL's namespace; xmlns=\"{ROOT}\" would be right")
    );
}

#[test]
fn document_types_and_entities_are_refused() {
    let laughs = format!(
        "<?xml version=\"1.0\"?>\n<!DOCTYPE a [<!ENTITY l \"ha\"><!ENTITY m \"&l;&l;&l;&l;\">]>\n{}",
        document(&BODY.replace("School Garden", "&m;"))
    );
    let why = refused(&laughs);
    assert!(
        why.starts_with("line 2, column 1: it has a document type declaration (DOCTYPE)"),
        "{why}"
    );
    let outside = format!(
        "<!DOCTYPE a SYSTEM \"file:///etc/hostname\">{}",
        document(BODY)
    );
    assert!(refused(&outside).contains("DOCTYPE"));
    let undeclared = refused(&document(&BODY.replace("School Garden", "&x;")));
    assert!(
        undeclared.contains("the entity &x; is none of XML's own five"),
        "{undeclared}"
    );
    let deep = document(&format!(
        "{}{}",
        "<cac:Item>".repeat(100),
        "</cac:Item>".repeat(100)
    ));
    assert!(refused(&deep).contains("more than 100 deep"));
    let many = document(&"<cac:Item/>".repeat(1_000_001));
    assert!(refused(&many).contains("more than 1000000 elements"));
}

/// Held against another library for XML: the same numbers of lines, the same quantities, units and names in order.
#[test]
fn another_library_finds_the_same() {
    const SAMPLES: [&str; 2] = [
        include_str!("../samples/receiving/ubl-despatchadvice-2.0-example.xml"),
        include_str!("../samples/receiving/ubl-despatchadvice-pe-simple.xml"),
    ];
    let own = document(BODY);
    for text in SAMPLES.into_iter().chain([own.as_str()]) {
        let tree = roxmltree::Document::parse(text).unwrap();
        let all = |namespace: &str, name: &str| -> Vec<(String, String)> {
            let found = tree
                .descendants()
                .filter(|n| n.has_tag_name((namespace, name)));
            let texts = found.map(|n| {
                (
                    n.text().unwrap_or("").to_owned(),
                    n.attribute("unitCode").unwrap_or("").to_owned(),
                )
            });
            texts.collect()
        };
        let list = list_of(text);
        let lines = &data(&list).lines;
        assert_eq!(lines.len(), all(CAC, "DespatchLine").len());
        let sent: Vec<_> = lines
            .iter()
            .map(|l| l.delivered.as_ref().unwrap())
            .map(|a| (a.written.clone(), a.unit.clone()))
            .collect();
        assert_eq!(sent, all(CBC, "DeliveredQuantity"));
        let lots: Vec<_> = lines
            .iter()
            .flat_map(|l| &l.item.lots)
            .map(|lot| lot.number.clone())
            .collect();
        let expected: Vec<_> = all(CBC, "LotNumberID")
            .into_iter()
            .map(|(text, _)| text)
            .collect();
        assert_eq!(lots, expected);
        let numbers: Vec<_> = (tree.descendants())
            .filter(|n| n.tag_name().name().ends_with("ItemIdentification"))
            .flat_map(|n| n.children().filter(|c| c.has_tag_name((CBC, "ID"))))
            .map(|n| n.text().unwrap_or("").to_owned())
            .collect();
        let found: Vec<_> = lines
            .iter()
            .flat_map(|l| &l.item.ids)
            .map(|id| id.value.clone())
            .collect();
        assert_eq!(found, numbers);
        let whose = lines
            .iter()
            .flat_map(|l| &l.item.ids)
            .filter(|id| id.whose == Whose::Seller)
            .count();
        assert_eq!(whose, all(CAC, "SellersItemIdentification").len());
        for (line, node) in lines.iter().zip(
            tree.descendants()
                .filter(|n| n.has_tag_name((CAC, "DespatchLine"))),
        ) {
            let at = tree.text_pos_at(node.range().start);
            assert_eq!((line.at.line, line.at.column), (at.row, at.col));
        }
    }
}

#[test]
fn refusals_of_other_files_stay() {
    for text in [
        "<html><body><table><tr><td>4</td><td>posts</td></tr></table></body></html>",
        "<?xml version=\"1.0\"?><list><row>4 posts</row></list>",
    ] {
        let found = read(text.as_bytes(), "x");
        assert!(!matches!(
            found.map_err(|e| e.why),
            Err(Refusal::Broken { .. } | Refusal::OtherDocument(_))
        ));
    }
}

#[test]
fn what_a_line_says_twice_is_said() {
    let line =
        |body: &str| format!("<cac:DespatchLine><cbc:ID>1</cbc:ID>{body}</cac:DespatchLine>");
    let count =
        |n: u32| format!("<cbc:DeliveredQuantity unitCode=\"EA\">{n}</cbc:DeliveredQuantity>");
    let item = |name: &str| format!("<cac:Item><cbc:Name>{name}</cbc:Name></cac:Item>");
    let body = line(
        &[
            count(12),
            count(13),
            item("Ground post"),
            item("Ridge tube"),
        ]
        .concat(),
    );
    let list = list_of(&document(&format!("<cbc:ID>1</cbc:ID>{body}")));
    let rows: Vec<_> = (list.rows.iter())
        .map(|row| (row.quantity, row.description.as_str()))
        .collect();
    assert_eq!(rows, [(Some(12), "Ground post")]);
    for words in [
        "a second cbc:DeliveredQuantity, \"13\", was not read; a line has one",
        "a second cac:Item, \"Ridge tube\", was not read; a line has one",
    ] {
        let found = warnings(&list).into_iter().find(|w| w.ends_with(words));
        let found = found.unwrap_or_else(|| panic!("{words}: {:?}", list.warnings));
        assert!(
            found.starts_with("/DespatchAdvice/DespatchLine/"),
            "{found}"
        );
    }
    // Once is nothing to speak of.
    let once = line(&[count(12), item("Ground post")].concat());
    let list = list_of(&document(&format!("<cbc:ID>1</cbc:ID>{once}")));
    assert!(!warnings(&list).iter().any(|w| w.contains("second")));
}

/// A roll, a reel, a coil and a spool of Rec 21 are one thing each. Common practice, no source.
#[test]
fn a_reel_is_one_thing_as_a_roll_is() {
    for code in ["XRO", "XRL", "XCL", "XSO"] {
        let body = format!(
            "<cbc:ID>1</cbc:ID><cac:DespatchLine><cbc:ID>1</cbc:ID><cbc:DeliveredQuantity unitCode=\"{code}\">3</cbc:DeliveredQuantity>\
             <cac:Item><cbc:Name>Wire, 250 ft</cbc:Name></cac:Item></cac:DespatchLine>"
        );
        let list = list_of(&document(&body));
        assert_eq!(
            (list.rows[0].quantity, &list.rows[0].doubt),
            (Some(3), &None),
            "{code}"
        );
    }
}
