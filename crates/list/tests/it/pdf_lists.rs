//! PDFs made by programs that are not ours (`tests/pdf/make.py`). What must be read was written here by hand.

use list::{PackingList, Refusal, Why, pdf, read, read_sheets};

fn bytes(name: &str) -> Vec<u8> {
    let path = format!("{}/tests/pdf/{name}", env!("CARGO_MANIFEST_DIR"));
    std::fs::read(path).unwrap()
}

fn list(name: &str) -> PackingList {
    read(&bytes(name), name).unwrap()
}

fn refusal(name: &str) -> Refusal {
    read(&bytes(name), name).unwrap_err().why
}

type Said<'a> = (Option<i64>, &'a str, &'a str, &'a str);

fn rows(list: &PackingList) -> Vec<Said<'_>> {
    list.rows
        .iter()
        .map(|row| {
            (
                row.quantity,
                row.code.as_str(),
                row.description.as_str(),
                row.details.as_str(),
            )
        })
        .collect()
}

fn aside(list: &PackingList) -> Vec<(String, &str, Why)> {
    list.set_aside
        .iter()
        .map(|line| (line.at.to_string(), line.text.as_str(), line.why))
        .collect()
}

/// The first ten rows of the invented list. A pair is two pieces, and "4 bdl x 10" is forty.
const TEN: [Said<'static>; 10] = [
    (Some(26), "GP-60", "Ground post 1.66\" OD x 60\"", ""),
    (Some(26), "BW-20", "Half bow, left/right, 20' house", ""),
    (
        Some(15),
        "RT-126",
        "Ridge tube swaged 10' 6-1/2\"",
        "2 bundles",
    ),
    (Some(30), "PT-126", "Purlin tube swaged 10' 6-1/2\"", ""),
    (Some(40), "LC-8", "Lock channel 8' double", ""),
    (Some(320), "SW-320", "Spring wire, PVC coated", "loose"),
    (Some(104), "TB-312", "Tek screw 1/4-14 x 3/4\"", ""),
    (Some(104), "CR-166", "Cross connector 1.66 x 1.315", ""),
    (Some(2), "RP-50", "Roll-up rope 1/4\" x 50'", ""),
    (Some(1), "DR-4", "Door frame kit", "2 days later"),
];

const FIVE_MORE: [Said<'static>; 5] = [
    (Some(8), "EB-72", "End wall brace 72\"", ""),
    (Some(16), "TC-138", "T-clamp 1-3/8\"", ""),
    (Some(4), "HG-6", "Gate hinge 6\"", "black"),
    (Some(12), "AN-30", "Earth anchor 30\"", ""),
    (Some(200), "WS-1", "Neoprene washer", ""),
];

/// Headings centred over numbers that stand right; empty cells; a heading on each page; a sum and page numbers.
#[test]
fn a_list_of_two_pages() {
    let list = list("plain.pdf");
    assert_eq!(rows(&list), [&TEN[..], &FIVE_MORE[..]].concat());
    let at: Vec<String> = list.rows.iter().map(|row| row.at.to_string()).collect();
    assert_eq!(
        (at[0].as_str(), at[14].as_str()),
        ("page 1 row 5", "page 2 row 7")
    );
    let page = |page: u32, row: u32| format!("page {page} row {row}");
    assert_eq!(
        aside(&list),
        [
            (page(1, 1), "PACKING LIST", Why::Header),
            (
                page(1, 2),
                "Order no: SG-2041 | Date: 2026-03-04",
                Why::Header
            ),
            (
                page(1, 3),
                "Ship to: Harbour School Garden | Shipment 1 of 2",
                Why::Header
            ),
            (
                page(1, 4),
                "Qty | Unit | Part no. | Description | Notes",
                Why::Heading
            ),
            (page(1, 15), "Page 1 of 2", Why::PageStamp),
            (page(2, 1), "Order no: SG-2041 (continued)", Why::Note),
            (
                page(2, 2),
                "Qty | Unit | Part no. | Description | Notes",
                Why::HeadingAgain
            ),
            (page(2, 8), "890 | Total pieces", Why::Total),
            (page(2, 9), "Page 2 of 2", Why::PageStamp),
        ]
    );
}

/// However the page was turned, and whatever its file looks like, it is the same list.
#[test]
fn the_same_list_turned_and_packed() {
    for name in ["turned_90.pdf", "turned_180.pdf", "turned_270.pdf"] {
        assert_eq!(rows(&list(name)), TEN, "{name}");
    }
    let plain = list("plain.pdf");
    for name in ["rotate_entry.pdf", "packed.pdf", "owner_locked.pdf"] {
        assert_eq!(list(name), plain, "{name}");
    }
}

/// Descriptions of several lines, one of them beginning with a capital and one with the words of a page number:
/// with borders and cells in the middle of their row, without borders, at the top, and set so close that only the
/// length of the lines shows which belong together.
#[test]
fn wrapped_descriptions() {
    let expected: [Said<'_>; 5] = [
        (
            Some(26),
            "GP-60",
            "Ground post 1.66\" OD x 60\", galvanized, with driver cap. Pack upright and keep dry until used",
            "",
        ),
        (Some(15), "RT-126", "Ridge tube", ""),
        (
            Some(38),
            "LC-8",
            "Lock channel 8' double, aluminum, drilled every 12\" for screws of the bag marked Hardware 2",
            "",
        ),
        (Some(104), "TB-312", "Tek screw", ""),
        (
            Some(2),
            "RP-50",
            "Roll-up rope 1/4\" x 50' White nylon, one for each side wall of the house as drawn on Sheet 4",
            "",
        ),
    ];
    for name in [
        "wrapped_grid.pdf",
        "wrapped_middle.pdf",
        "wrapped_top.pdf",
        "solid.pdf",
    ] {
        assert_eq!(rows(&list(name)), expected, "{name}");
    }
}

#[test]
fn two_lists_beside_each_other() {
    let list = list("two_column.pdf");
    let said: Vec<(Option<i64>, &str)> = list
        .rows
        .iter()
        .map(|row| (row.quantity, row.description.as_str()))
        .collect();
    assert_eq!(
        said,
        [
            (Some(26), "Ground post 1.66\" OD x 60\""),
            (Some(26), "Half bow, left/right, 20' house"),
            (Some(15), "Ridge tube swaged 10' 6-1/2\""),
            (Some(30), "Purlin tube swaged 10' 6-1/2\""),
            (Some(4), "Lock channel 8' double"),
            (Some(320), "Spring wire, PVC coated"),
            (Some(104), "Tek screw 1/4-14 x 3/4\""),
            (Some(52), "Cross connector 1.66 x 1.315"),
            (Some(8), "End wall brace 72\""),
            (Some(16), "T-clamp 1-3/8\""),
            (Some(4), "Gate hinge 6\""),
            (Some(12), "Earth anchor 30\""),
            (Some(200), "Neoprene washer"),
        ]
    );
}

#[test]
fn what_was_put_on_later_is_set_aside() {
    let list = list("stamped.pdf");
    assert_eq!(rows(&list), TEN);
    for text in ["RECEIVED", "Form 12 rev 3", "two bows bent, see photo"] {
        assert!(
            list.set_aside.iter().any(|line| line.text == text),
            "{text}"
        );
        assert!(
            list.warnings
                .iter()
                .any(|warning| warning.what.contains(text)),
            "{text}"
        );
    }
}

/// LibreOffice: borders around every cell, numbers right beside words, texts of several lines in the middle.
#[test]
fn a_spreadsheet_printed() {
    let plan = ", as drawn on Sheet 4 of the plan";
    let list = list("calc.pdf");
    let long = |index: usize| format!("{}{plan}", TEN[index].2);
    let mut expected =
        TEN.map(|(quantity, code, what, more)| (quantity, code, what.to_owned(), more));
    for index in [0, 3, 6, 9] {
        expected[index].2 = long(index);
    }
    let said: Vec<(Option<i64>, &str, String, &str)> = rows(&list)
        .into_iter()
        .map(|(quantity, code, what, more)| (quantity, code, what.to_owned(), more))
        .collect();
    assert_eq!(said, expected);
}

/// Chromium: a narrow table, codes broken at their hyphen, a quantity over four lines, and a row struck out.
#[test]
fn a_web_page_printed() {
    let sheets = read_sheets(&bytes("web.pdf"), "web.pdf").unwrap();
    let lines = &sheets.sheets[0].lines;
    let table: Vec<&[String]> = lines[4..14]
        .iter()
        .map(|line| line.cells.as_slice())
        .collect();
    let expected = [
        ["26", "GP-60", "Ground post 1.66\" OD x 60\"", ""],
        ["26", "BW-20", "Half bow, left/right, 20' house", ""],
        ["15", "RT-126", "Ridge tube swaged 10' 6-1/2\"", "2 bundles"],
        ["30", "PT-126", "Purlin tube swaged 10' 6-1/2\"", ""],
        ["4 bdl x 10", "LC-8", "Lock channel 8' double", ""],
        ["320", "SW-320", "Spring wire, PVC coated", "loose"],
        ["104", "TB-312", "Tek screw 1/4-14 x 3/4\"", ""],
        ["52", "CR-166", "Cross connector 1.66 x 1.315", ""],
        ["2", "RP-50", "Roll-up rope 1/4\" x 50'", ""],
        ["1", "DR-4", "Door frame kit", "2 days later"],
    ];
    assert_eq!(table, expected);
    let struck: Vec<bool> = lines.iter().map(|line| line.struck).collect();
    let mut only_the_wire = vec![false; lines.len()];
    only_the_wire[9] = true;
    assert_eq!(struck, only_the_wire);
}

#[test]
fn letters_of_two_and_words_drawn_twice() {
    let sheets = read_sheets(&bytes("ligatures.pdf"), "list").unwrap();
    let cells: Vec<&[String]> = sheets.sheets[0]
        .lines
        .iter()
        .map(|line| line.cells.as_slice())
        .collect();
    assert_eq!(
        cells,
        [
            ["Qty", "Description"],
            ["2", "Raffia tie, off-white"],
            ["3", "Wiggle wire 6′ 6″"],
            ["12", "U-bolt ½″ × 2"],
            ["40", "Bolt with raised zinc"],
        ]
    );
}

#[test]
fn forty_pages() {
    let list = list("forty.pdf");
    assert_eq!(list.rows.len(), 480);
    for (index, row) in list.rows.iter().enumerate() {
        let number = index + 1;
        assert_eq!(row.quantity, Some(number as i64));
        assert_eq!(row.code, format!("M-{number:04}"));
        assert_eq!(row.description, TEN[number % 10].2);
        assert_eq!(row.at.sheet, format!("page {}", index / 12 + 1));
    }
}

#[test]
fn what_cannot_be_read_is_named() {
    assert_eq!(refusal("locked.pdf"), Refusal::Locked);
    assert_eq!(refusal("scan.pdf"), Refusal::PagesArePictures);
    assert_eq!(refusal("no_meaning.pdf"), Refusal::LettersWithoutMeaning);
    assert!(pdf::pages_are_pictures(&bytes("scan.pdf")));
    assert!(!pdf::pages_are_pictures(&bytes("no_meaning.pdf")));
    assert!(!pdf::pages_are_pictures(&bytes("plain.pdf")));
}

/// The page of a scan stands where make.py laid it, which draws rows from 200 of 1 100 pixels on, 30 apart.
#[test]
fn a_scan_is_drawn() {
    let pages = pdf::page_pictures(&bytes("scan.pdf"), 3).unwrap();
    assert_eq!(pages.len(), 1);
    let page = &pages[0];
    // 8.5 by 11 inches at 300 dots an inch.
    assert_eq!([page.width, page.height], [2550, 3300]);
    let dark = |top: usize, bottom: usize| {
        let rows = page.light.chunks(2550).take(bottom).skip(top);
        rows.flatten().filter(|light| **light < 128).count()
    };
    // Three pixels for each of the scan's 850 by 1 100: make.py's rows of 20 pixels, each with white below.
    assert_eq!(dark(0, 600), 0);
    for row in 0..10 {
        let top = 3 * (200 + 30 * row);
        assert!(dark(top, top + 75) > 1_000, "row {row}");
        assert_eq!(dark(top + 78, top + 90), 0, "below row {row}");
    }
    assert_eq!(dark(3 * 500, 3300), 0);
    assert_eq!(
        pdf::page_pictures(&bytes("scan.pdf"), 0),
        Err(Refusal::TooManyPages)
    );
    assert_eq!(
        pdf::page_pictures(b"%PDF-1.7 nothing", 3),
        Err(Refusal::DamagedPdf)
    );
}

/// Words laid hidden over a scan are read, with a warning; they are not as sure as text.
#[test]
fn words_recognised_by_a_machine() {
    let list = list("scan_with_words.pdf");
    let expected: Vec<(Option<i64>, &str)> = TEN.iter().map(|row| (row.0, row.2)).collect();
    let said: Vec<(Option<i64>, &str)> = list
        .rows
        .iter()
        .map(|row| (row.quantity, row.description.as_str()))
        .collect();
    // No unit column: 52 stands without its "pr".
    let expected: Vec<(Option<i64>, &str)> = expected
        .into_iter()
        .map(|(quantity, what)| {
            (
                if what.starts_with("Cross") {
                    Some(52)
                } else {
                    quantity
                },
                what,
            )
        })
        .collect();
    assert_eq!(said, expected);
    assert!(
        list.warnings
            .iter()
            .any(|warning| warning.what.contains("recognised"))
    );
    let (pages, _) = pdf::pages(&bytes("scan_with_words.pdf")).unwrap();
    assert!(pages[0].words.iter().all(|word| word.sure < 1.0));
}

#[test]
fn mail_may_put_bytes_before_it() {
    let mut with_junk = b"\r\n--part\r\nContent-Type: application/pdf\r\n\r\n".to_vec();
    with_junk.extend(bytes("plain.pdf"));
    assert_eq!(
        rows(&read(&with_junk, "list").unwrap()),
        rows(&list("plain.pdf"))
    );
}

/// The words of each page as pdfplumber finds them (version in each file). A page whose file says that it is
/// to be turned has the words of the same page unturned.
#[test]
fn words_stand_where_another_reader_finds_them() {
    let same = ["plain", "wrapped_grid", "calc", "web"].map(|name| (name, name));
    for (name, as_in) in same.into_iter().chain([("rotate_entry", "plain")]) {
        let (pages, _) = pdf::pages(&bytes(&format!("{name}.pdf"))).unwrap();
        let table = String::from_utf8(bytes(&format!("{as_in}.words.tsv"))).unwrap();
        let mut count = 0;
        for line in table.lines().skip(1) {
            let fields: Vec<&str> = line.split('\t').collect();
            let at = |field: usize| fields[field].parse::<f32>().unwrap();
            let page = &pages[fields[0].parse::<usize>().unwrap() - 1];
            let middle = f32::midpoint(at(2), at(4));
            let found = page.words.iter().any(|word| {
                let [left, top, right, bottom] = word.place;
                word.text == fields[5]
                    && (left - at(1)).abs() < 1.0
                    && (right - at(3)).abs() < 1.0
                    && (f32::midpoint(top, bottom) - middle).abs() < 3.0
            });
            assert!(found, "{name}: {line}");
            count += 1;
        }
        let ours: usize = pages.iter().map(|page| page.words.len()).sum();
        assert_eq!(ours, count, "{name}");
    }
}
