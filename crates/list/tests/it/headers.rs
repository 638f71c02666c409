//! The block above the table, and whether it is that of the order.

use list::{Expected, HeaderTrouble, PackingList, check, read};
use measure::Length;

fn list(header: &str) -> PackingList {
    let text = format!("{header}\nQty,Description,Unit\n26,Ground post,ea\n26,Half bow,ea\n");
    read(text.as_bytes(), "list").unwrap()
}

fn expected() -> Expected {
    Expected {
        family: vec!["gothic".into(), "24 ft gothic house".into()],
        width: Some(Length::feet(24)),
        length: Some(Length::feet(48)),
        spacing: Some(Length::feet(4)),
    }
}

#[test]
fn another_size_is_said() {
    let list = list("Order:,Harbour School,\nSize:,24' x 72',");
    let troubles = check(&list.header, &expected());
    assert_eq!(
        troubles.iter().map(ToString::to_string).collect::<Vec<_>>(),
        ["the list says 24 × 72 ft, the order says 24 × 48 ft"]
    );
}

#[test]
fn the_right_size_in_many_writings() {
    for header in [
        "Size:,24 x 48 ft,",
        "Model,24x48 Gothic,",
        "Width: 24 ft,Length: 48 ft,",
        "24' W x 48' L gothic kit,,",
        "HOUSE 24 ft x 48 ft,,",
        "Width,24,\nLength,48,",
        "Dimensions: 24 ft by 48 ft; bows 4 ft o.c.,,",
        "Building size:,7.3152 m x 14.6304 m,",
    ] {
        let list = list(header);
        assert_eq!(list.header.width, Some(Length::feet(24)), "{header}");
        assert_eq!(list.header.length, Some(Length::feet(48)), "{header}");
        assert_eq!(check(&list.header, &expected()), [], "{header}");
        assert_eq!(list.rows.len(), 2, "{header}");
    }
}

#[test]
fn another_family_and_another_spacing_are_said() {
    let list = list("Model:,30 x 48 Quonset,\nBow spacing:,6 ft,");
    let troubles = check(&list.header, &expected());
    assert!(
        matches!(
            troubles[..],
            [
                HeaderTrouble::Size(_),
                HeaderTrouble::Family(_),
                HeaderTrouble::Spacing(_)
            ]
        ),
        "{troubles:?}"
    );
}

#[test]
fn silence_is_no_trouble() {
    assert_eq!(check(&list("PACKING LIST,,").header, &expected()), []);
}

#[test]
fn names_dates_and_the_rest() {
    let list = list(
        "From:,North Yard,\nOrder No.,40117,\nDate,2026-03-04,\nShipment,1 of 2,\nDoor:,single,",
    );
    let header = list.header;
    assert_eq!(header.sender.as_deref(), Some("North Yard"));
    assert_eq!(header.number.as_deref(), Some("40117"));
    assert_eq!(header.date.as_deref(), Some("2026-03-04"));
    assert_eq!(header.shipment.as_deref(), Some("1 of 2"));
    assert_eq!(
        header.options.get("Door").map(String::as_str),
        Some("single")
    );
}

#[test]
fn a_header_in_running_text() {
    let list =
        list("packing list - order 40117 - gothic 24 wide x 48 long; bows @ 4',\nLoad 1 of 2,");
    assert_eq!(list.header.number.as_deref(), Some("40117"));
    assert_eq!(list.header.shipment.as_deref(), Some("Load 1 of 2"));
    assert_eq!(check(&list.header, &expected()), []);
    assert_eq!(list.header.spacing, Some(Length::feet(4)));
}
