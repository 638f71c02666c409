//! The four samples of others, read in full: every line, quantity, unit and number, written down here by hand from
//! looking at the files. Sources and licences: tests/samples/receiving/README.md.

use list::despatch::{Amount, Despatch, Format, SentLine, Whose};
use list::{PackingList, read};

const UBL: &[u8] = include_bytes!("../samples/receiving/ubl-despatchadvice-2.0-example.xml");
const UBL_PE: &[u8] = include_bytes!("../samples/receiving/ubl-despatchadvice-pe-simple.xml");
const X12_FLAT: &[u8] = include_bytes!("../samples/receiving/x12-856-004010-flat-hl.txt");
const X12_LOADS: &[u8] = include_bytes!("../samples/receiving/x12-856-003060-bom.txt");

fn list(bytes: &[u8]) -> PackingList {
    read(bytes, "sample").unwrap()
}

fn said(amount: &Option<Amount>) -> (String, String, &'static str) {
    let amount = amount.as_ref().unwrap();
    let number = amount.number.unwrap().to_string();
    (number, amount.unit.clone(), amount.means.unwrap().name)
}

fn amount(number: &str, unit: &str, name: &'static str) -> (String, String, &'static str) {
    (number.to_owned(), unit.to_owned(), name)
}

fn ids(line: &SentLine) -> Vec<(Whose, &str, &str)> {
    let ids = line.item.ids.iter();
    ids.map(|id| (id.whose, id.qualifier.as_str(), id.value.as_str()))
        .collect()
}

fn references(despatch: &Despatch) -> Vec<(&str, &str)> {
    let all = despatch.notices[0].references.iter();
    all.map(|r| (r.qualifier.as_str(), r.value.as_str()))
        .collect()
}

fn warnings(despatch: &Despatch) -> Vec<&str> {
    despatch.warnings.iter().map(|w| w.what.as_str()).collect()
}

#[test]
fn ubl_with_a_back_ordered_part() {
    let list = list(UBL);
    let despatch = list.despatch.as_deref().unwrap();
    assert_eq!(despatch.format, Format::Ubl);
    assert_eq!((despatch.notices.len(), despatch.lines.len()), (1, 1));
    let notice = &despatch.notices[0];
    assert_eq!(notice.id, "565899");
    assert_eq!(notice.uuid, "88C7280E-8F10-419F-9949-8EFFFA2842B8");
    assert_eq!(notice.version, "2.0");
    assert_eq!(
        notice.profiles,
        [
            "urn:oasis:names:specification:ubl:xpath:DespatchAdvice-2.0:sbs-1.0-draft",
            "bpid:urn:oasis:names:draft:bpss:ubl-2-sbs-despatch-advice-notification-draft"
        ]
    );
    assert_eq!(
        (notice.issue_date.as_str(), notice.issue_time.as_str()),
        ("2005-06-20", "")
    );
    assert_eq!(
        (notice.type_code.as_str(), notice.purpose_code.as_str()),
        ("delivery", "NoStatus")
    );
    assert_eq!(notice.notes, ["sample"]);
    let order = &notice.orders[0];
    assert_eq!(
        (order.id.as_str(), order.sales_id.as_str()),
        ("AEG012345", "CON0095678")
    );
    assert_eq!(
        (order.further.as_str(), order.date.as_str()),
        ("6E09886B-DC6E-439F-82D1-7CCAC7F4E3B1", "2005-06-20")
    );

    let party = |role: &str| {
        notice
            .parties
            .iter()
            .find(|party| party.role == role)
            .unwrap()
    };
    let from = party("despatch supplier");
    assert_eq!(from.name, "Consortial");
    let numbers: Vec<_> = from
        .ids
        .iter()
        .map(|id| (id.kind.as_str(), id.value.as_str()))
        .collect();
    assert_eq!(
        numbers,
        [
            ("CompanyID", "175 269 2355"),
            ("CustomerAssignedAccountID", "CO001")
        ]
    );
    assert_eq!(
        from.address,
        [
            "Busy Street 56A",
            "Thereabouts",
            "The Roundabout",
            "AA99 1BB Farthing",
            "Heremouthshire",
            "GB"
        ]
    );
    assert_eq!(
        from.contacts,
        ["Mrs Bouquet, 0158 1233714, bouquet@fpconsortial.co.uk"]
    );
    let to = party("delivery customer");
    assert_eq!(to.name, "IYT Corporation");
    let numbers: Vec<_> = to
        .ids
        .iter()
        .map(|id| (id.kind.as_str(), id.value.as_str()))
        .collect();
    assert_eq!(
        numbers,
        [
            ("CompanyID", "12356478"),
            ("CustomerAssignedAccountID", "XFB01"),
            ("SupplierAssignedAccountID", "GT00978567")
        ]
    );
    assert_eq!(
        to.contacts,
        ["Mr Fred Churchill, 0127 2653214, fred@iytcorporation.gov.uk"]
    );
    let place = party("delivery address");
    assert_eq!(
        place.address,
        [
            "Avon Way 56A",
            "Thereabouts",
            "3rd Floor, Room 5",
            "ZZ99 1ZZ Bridgtow",
            "Avon",
            "GB"
        ]
    );
    let dates: Vec<_> = notice
        .dates
        .iter()
        .map(|d| (d.meaning.as_str(), d.date.as_str(), d.time.as_str()))
        .collect();
    assert_eq!(
        dates,
        [
            ("requested delivery, from", "2005-06-20", "10:30:47"),
            ("requested delivery, until", "2005-06-21", "10:30:47")
        ]
    );
    assert_eq!(
        references(despatch),
        [("Shipment/ID", "1"), ("Consignment/ID", "1")]
    );

    let line = &despatch.lines[0];
    assert_eq!((line.id.as_str(), line.status.as_str()), ("1", "NoStatus"));
    assert_eq!(said(&line.delivered), amount("90", "KGM", "kilogram"));
    assert_eq!(said(&line.backorder), amount("10", "KGM", "kilogram"));
    assert_eq!((&line.outstanding, &line.oversupply), (&None, &None));
    assert_eq!(
        line.reasons,
        ["lack of stock as explained on telephone today"]
    );
    assert_eq!(line.notes, ["Mrs Green agreed to waive charge"]);
    assert_eq!(
        (line.order.id.as_str(), line.order_line.as_str()),
        ("AEG012345", "1")
    );
    assert_eq!(
        (line.order.sales_id.as_str(), line.sales_order_line.as_str()),
        ("CON0095678", "A")
    );
    assert_eq!(line.item.name, "beeswax");
    assert_eq!(line.item.descriptions, ["Acme beeswax"]);
    assert_eq!(
        ids(line),
        [
            (Whose::Buyer, "BuyersItemIdentification", "6578489"),
            (Whose::Seller, "SellersItemIdentification", "17589683")
        ]
    );
    assert_eq!(
        (
            line.item.lots[0].number.as_str(),
            line.item.lots[0].expires.as_str()
        ),
        ("546378239", "2010-01-01")
    );
    assert_eq!((line.at.line, line.at.column), (122, 2));
    assert!(despatch.warnings.is_empty(), "{:?}", despatch.warnings);

    let row = &list.rows[0];
    assert_eq!((list.rows.len(), list.set_aside.len()), (1, 0));
    assert_eq!(
        (row.quantity, row.backordered, row.written.as_str()),
        (None, None, "90 KGM")
    );
    assert_eq!(
        row.doubt.as_deref(),
        Some("90 KGM (kilogram) is no count of pieces")
    );
    assert_eq!(
        (
            row.code.as_str(),
            row.description.as_str(),
            row.details.as_str()
        ),
        ("17589683", "beeswax", "Acme beeswax")
    );
    assert_eq!(list.header.number.as_deref(), Some("AEG012345"));
    assert_eq!(list.header.sender.as_deref(), Some("Consortial"));
    assert_eq!(list.header.shipment.as_deref(), Some("565899"));
    assert_eq!(row.sent.as_deref(), Some(line));
}

#[test]
fn ubl_of_a_national_profile() {
    let list = list(UBL_PE);
    let despatch = list.despatch.as_deref().unwrap();
    let notice = &despatch.notices[0];
    assert_eq!(
        (
            notice.id.as_str(),
            notice.version.as_str(),
            notice.type_code.as_str()
        ),
        ("T001-1234", "2.0", "09")
    );
    assert_eq!(
        (notice.issue_date.as_str(), notice.profiles.as_slice()),
        ("2017-01-20", &["1.0".to_owned()][..])
    );
    assert_eq!(
        (notice.notes.as_slice(), notice.instructions.as_slice()),
        (&["string".to_owned()][..], &["VENTA".to_owned()][..])
    );
    let parties: Vec<_> = (notice.parties.iter())
        .map(|p| {
            (
                p.role.as_str(),
                p.name.as_str(),
                p.ids[0].scheme.as_str(),
                p.ids[0].value.as_str(),
                p.address.join("; "),
            )
        })
        .collect();
    assert_eq!(
        parties,
        [
            (
                "despatch supplier",
                "EMPRESA S.A.C.",
                "6",
                "20492858766",
                String::new()
            ),
            (
                "delivery customer",
                "RECEPTORES S.A.C.",
                "6",
                "20549202966",
                String::new()
            ),
            (
                "delivery address",
                "",
                "",
                "150101",
                "AV. ALFONSO UGARTE 145".to_owned()
            ),
            (
                "origin address",
                "",
                "",
                "150101",
                "AV. WILSON 456".to_owned()
            ),
        ]
    );
    let weight = &notice.measures[0];
    assert_eq!(
        (
            weight.meaning.as_str(),
            weight.amount.written.as_str(),
            weight.amount.unit.as_str()
        ),
        ("gross weight", "100.00", "KG")
    );
    assert_eq!(weight.amount.mass().unwrap().to_kilograms(), 100.0);
    assert_eq!(notice.packages[0].count.unwrap().whole(), Some(1));
    assert_eq!(
        (
            notice.equipment[0].kind.as_str(),
            notice.equipment[0].id.as_str()
        ),
        ("license plate", "A5G-155")
    );
    assert_eq!(
        (
            notice.units.len(),
            notice.units[0].id.as_str(),
            &notice.units[0].sscc
        ),
        (1, "A5G-155", &None)
    );
    assert_eq!(
        references(despatch),
        [
            ("Shipment/HandlingCode", "01"),
            ("Shipment/ID", "1"),
            ("Shipment/TransportModeCode", "01"),
            ("DriverPerson/ID", "41153899")
        ]
    );
    assert_eq!(
        (
            notice.dates[0].meaning.as_str(),
            notice.dates[0].date.as_str()
        ),
        ("transit, from", "2017-01-22")
    );
    assert_eq!(despatch.lines.len(), 1);
    let line = &despatch.lines[0];
    assert_eq!(line.id, "1");
    assert_eq!(
        said(&line.delivered),
        amount("3", "NIU", "number of international units")
    );
    assert_eq!(line.delivered.as_ref().unwrap().written, "3.00");
    assert_eq!(line.item.descriptions, ["XXXXXXX"]);
    assert_eq!(
        ids(line),
        [(Whose::Seller, "SellersItemIdentification", "XXX")]
    );
    assert_eq!(
        warnings(despatch),
        [
            "/DespatchAdvice/Shipment/GrossWeightMeasure, line 50, column 5: KG is not in Rec 20; KGM is kilogram"
        ]
    );
    assert_eq!(
        (list.rows.len(), list.rows[0].quantity, &list.rows[0].doubt),
        (1, Some(3), &None)
    );
}

#[test]
fn x12_without_parents() {
    let list = list(X12_FLAT);
    let despatch = list.despatch.as_deref().unwrap();
    assert_eq!(despatch.format, Format::X12);
    let notice = &despatch.notices[0];
    assert_eq!(
        (
            notice.id.as_str(),
            notice.set.as_str(),
            notice.version.as_str()
        ),
        ("DELIVERYNUMBER", "0414", "004010")
    );
    assert_eq!(
        (notice.purpose_code.as_str(), notice.profiles.as_slice()),
        ("00", &["0004".to_owned()][..])
    );
    assert_eq!(
        (notice.issue_date.as_str(), notice.issue_time.as_str()),
        ("2011-09-09", "19:32:35")
    );
    assert_eq!(
        references(despatch),
        [
            ("BM", "10000-2378635"),
            ("CN", "620940"),
            ("IA", "TEMPR"),
            ("FOB", "PC")
        ]
    );
    let dates: Vec<_> = notice
        .dates
        .iter()
        .map(|d| (d.qualifier.as_str(), d.meaning.as_str(), d.date.as_str()))
        .collect();
    assert_eq!(
        dates,
        [
            ("011", "shipped", "2011-09-09"),
            ("067", "scheduled delivery", "2011-09-13")
        ]
    );
    let packed = &notice.packages[0];
    assert_eq!(
        (packed.count.unwrap().whole(), packed.code.as_str()),
        (Some(65), "")
    );
    assert_eq!(packed.measures[0].meaning, "gross weight");
    assert_eq!(packed.measures[0].amount.in_words(), "9072 LB (pound)");
    assert_eq!(
        notice.carriers,
        ["NONE (SCAC), CHR, T (best way), transit time SD 4", "CHR"]
    );
    let to = &notice.parties[0];
    assert_eq!(
        (to.role.as_str(), to.name.as_str()),
        ("ship to", "RETAILER")
    );
    assert_eq!(
        (to.ids[0].scheme.as_str(), to.ids[0].value.as_str()),
        ("92", "010")
    );
    assert_eq!(
        to.address,
        [
            "RETAILER LOC 010",
            "RETAILER LOC ADDRESS",
            "LOCCITY LOCSTATE LOCZIP"
        ]
    );
    assert_eq!(notice.orders[0].id, "PO NUMBER");
    assert!(notice.units.is_empty());

    // LIN01, SK, VN, SN102 and SN105, all in EA.
    let by_hand = [
        ("001", "100014544", "25555120", 10),
        ("002", "100014545", "25555130", 5),
        ("003", "100019109", "20520130", 10),
        ("004", "100019110", "20520150", 20),
        ("005", "100019111", "21520150", 5),
        ("006", "100019112", "20520160", 3),
        ("007", "100014546", "25555150", 12),
    ];
    assert_eq!(
        (despatch.lines.len(), list.rows.len(), list.set_aside.len()),
        (7, 7, 0)
    );
    for ((line, row), (id, sk, vn, pieces)) in despatch.lines.iter().zip(&list.rows).zip(by_hand) {
        assert_eq!(line.id, id);
        assert_eq!(
            ids(line),
            [(Whose::Other, "SK", sk), (Whose::Seller, "VN", vn)]
        );
        assert_eq!(
            said(&line.delivered),
            amount(&pieces.to_string(), "EA", "each")
        );
        assert_eq!(
            said(&line.ordered),
            amount(&pieces.to_string(), "EA", "each")
        );
        assert_eq!(line.order.id, "PO NUMBER");
        assert_eq!(
            (row.quantity, row.ordered, row.code.as_str()),
            (Some(pieces), Some(pieces), vn)
        );
        assert_eq!((&row.doubt, row.unit.as_str()), (&None, "ea"));
    }
    assert_eq!(despatch.lines[6].at.segment, Some(36));
    // Its counts are right: 9 HL, 40 segments, one set, one group.
    assert!(despatch.warnings.is_empty(), "{:?}", despatch.warnings);
}

#[test]
fn x12_with_loads() {
    let list = list(X12_LOADS);
    let despatch = list.despatch.as_deref().unwrap();
    let notice = &despatch.notices[0];
    assert_eq!(
        (
            notice.id.as_str(),
            notice.set.as_str(),
            notice.version.as_str()
        ),
        ("", "0001", "003060")
    );
    assert_eq!(
        (notice.issue_date.as_str(), notice.issue_time.as_str()),
        ("2003-06-19", "12:35")
    );
    let dates: Vec<_> = notice
        .dates
        .iter()
        .map(|d| (d.meaning.as_str(), d.date.as_str(), d.time.as_str()))
        .collect();
    assert_eq!(
        dates,
        [
            ("shipped", "2003-06-19", "14:45"),
            ("estimated delivery", "2003-06-20", "08:00")
        ]
    );
    let measures: Vec<_> = notice
        .measures
        .iter()
        .map(|m| (m.meaning.as_str(), m.amount.in_words()))
        .collect();
    assert_eq!(
        measures,
        [
            ("gross weight", "3100 LB (pound)".to_owned()),
            ("net weight", "2800 LB (pound)".to_owned())
        ]
    );
    let packed = &notice.packages[0];
    assert_eq!(
        (
            packed.count.unwrap().whole(),
            packed.code.as_str(),
            packed.means.as_str()
        ),
        (Some(5), "BIN52", "bin")
    );
    assert_eq!(notice.carriers, ["MPNF (SCAC), M (motor)"]);
    assert_eq!(
        (
            notice.equipment[0].kind.as_str(),
            notice.equipment[0].id.as_str()
        ),
        ("trailer", "287532")
    );
    assert_eq!(
        references(despatch),
        [("BM", "25673"), ("PK", "18392"), ("CN", "88145")]
    );
    let parties: Vec<_> = notice
        .parties
        .iter()
        .map(|p| (p.role.as_str(), p.name.as_str(), p.ids[0].value.as_str()))
        .collect();
    assert_eq!(
        parties,
        [
            ("supplier", "MNO ASSEMBLY", "123456789"),
            ("ship to", "ABC MANUFACTURING", "987654321"),
            ("ship from", "XYZ WAREHOUSE", "567891234")
        ]
    );
    let line = |n: usize| &despatch.lines[n];
    assert_eq!(
        (despatch.lines.len(), list.rows.len(), list.set_aside.len()),
        (2, 2, 0)
    );
    assert_eq!((line(0).id.as_str(), line(1).id.as_str()), ("2", "3"));
    assert_eq!(ids(line(0)), [(Whose::Buyer, "BP", "rt2371")]);
    assert_eq!(ids(line(1)), [(Whose::Buyer, "BP", "lt2372")]);
    assert_eq!(said(&line(0).delivered), amount("1400", "PC", "piece"));
    assert_eq!(said(&line(1).delivered), amount("1500", "PC", "piece"));
    assert_eq!(said(&line(0).to_date), amount("6000", "PC", "piece"));
    assert_eq!(said(&line(1).to_date), amount("6000", "PC", "piece"));
    assert_eq!(
        (line(0).order.id.as_str(), line(0).order.further.as_str()),
        ("B00000389", "0005")
    );
    assert_eq!(
        (line(1).order.id.as_str(), line(1).order.further.as_str()),
        ("B00003489", "0002")
    );
    // CLD: loads, pieces in each, package, the numbers on their labels.
    let loads = |n: usize| -> Vec<_> {
        let packed = line(n).packed.iter();
        packed
            .map(|load| {
                let numbers: Vec<_> = load
                    .references
                    .iter()
                    .map(|r| (r.qualifier.as_str(), r.value.as_str()))
                    .collect();
                (
                    load.count.unwrap().whole().unwrap(),
                    said(&load.each).0,
                    load.code.as_str(),
                    numbers,
                )
            })
            .collect()
    };
    assert_eq!(
        loads(0),
        [(
            2,
            "700".to_owned(),
            "BIN52",
            vec![("LS", "798412"), ("LS", "798413")]
        )]
    );
    assert_eq!(
        loads(1),
        [
            (1, "700".to_owned(), "BIN52", vec![("LS", "798514")]),
            (
                2,
                "400".to_owned(),
                "BIN52",
                vec![("LS", "798515"), ("LS", "798516")]
            )
        ]
    );
    assert_eq!(
        (list.rows[0].quantity, list.rows[1].quantity),
        (Some(1_400), Some(1_500))
    );
    assert_eq!(
        (list.rows[0].code.as_str(), list.rows[1].code.as_str()),
        ("rt2371", "lt2372")
    );
    assert_eq!(
        warnings(despatch),
        [
            "segment 33 (CTT), element 1, line 35, column 7: CTT says 2 HL segments, there are 3 (it counts the 2 items)",
            "segment 2 (BSN), element 2, line 4, column 7: BSN gives no number of the shipment (BSN02)"
        ]
    );
}
