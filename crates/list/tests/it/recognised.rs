//! Words recognised on pictures, in the versions of ALTO that the Library of Congress publishes. The files follow the
//! element and attribute names of its schemas; places, words and sureness are written by hand.

use list::{ListError, PackingList};
use proptest::prelude::*;

/// Rows of three columns: quantity, code, description; each cell with how sure it is.
fn table(namespace: &str, unit: &str, scale: f32, rows: &[[(&str, &str); 3]]) -> String {
    let mut lines = String::new();
    for (n, row) in rows.iter().enumerate() {
        lines.push_str("<TextLine>");
        for (column, (cell, sure)) in row.iter().enumerate() {
            let mut left = [100.0, 300.0, 600.0][column];
            for word in cell.split(' ') {
                let wide = 14.0 * word.chars().count() as f32;
                let [h, v, w, t] = [left, 100.0 + 50.0 * n as f32, wide, 30.0].map(|at| at * scale);
                let word = word.replace('&', "&amp;").replace('"', "&quot;");
                lines.push_str(&format!(
                    "<String HPOS=\"{h}\" VPOS=\"{v}\" WIDTH=\"{w}\" HEIGHT=\"{t}\" WC=\"{sure}\" CONTENT=\"{word}\"/>\
                     <SP/>"
                ));
                left += wide + 10.0;
            }
        }
        lines.push_str("</TextLine>");
    }
    let size = [1700.0 * scale, 2200.0 * scale];
    format!(
        "<?xml version=\"1.0\"?><alto xmlns=\"{namespace}\"><Description><MeasurementUnit>{unit}</MeasurementUnit>\
         </Description><Layout><Page ID=\"picture-abc123\" PHYSICAL_IMG_NR=\"1\" WIDTH=\"{}\" HEIGHT=\"{}\">\
         <PrintSpace><TextBlock>{lines}</TextBlock></PrintSpace></Page></Layout></alto>",
        size[0], size[1]
    )
}

const ROWS: [[(&str, &str); 3]; 6] = [
    [("Qty", "0.96"), ("Code", "0.96"), ("Description", "0.95")],
    [
        ("26", "0.95"),
        ("BW-14", "0.93"),
        ("Bow half, 1.66 in OD", "0.96"),
    ],
    [
        ("13", "0.62"),
        ("RG-10", "0.91"),
        ("Ridge tube 10 ft 6 in", "0.96"),
    ],
    [
        ("l2", "0.85"),
        ("PL-10", "0.92"),
        ("Side purlin 10 ft 6 in", "0.95"),
    ],
    [
        ("104", "0.96"),
        ("CB-25", "0.90"),
        ("Carriage bolt 5/16 x 2-1/2 in", "0.88"),
    ],
    [
        ("8", "0.96"),
        ("CR-02", "0.31"),
        ("Corner brace 7 ft", "0.90"),
    ],
];

fn read(text: &str) -> Result<PackingList, ListError> {
    list::read(text.as_bytes(), "words.xml")
}

#[test]
fn every_version_and_unit_gives_the_same_rows() {
    let versions = [
        ("http://schema.ccs-gmbh.com/ALTO", "pixel", 1.0),
        ("http://www.loc.gov/standards/alto/ns-v2#", "mm10", 0.847),
        ("http://www.loc.gov/standards/alto/ns-v3#", "inch1200", 4.0),
        ("http://www.loc.gov/standards/alto/ns-v4#", "pixel", 1.0),
    ];
    for (namespace, unit, scale) in versions {
        let list = read(&table(namespace, unit, scale, &ROWS)).unwrap();
        let rows: Vec<_> = list
            .rows
            .iter()
            .map(|row| (row.quantity, row.code.as_str(), row.description.as_str()))
            .collect();
        let wanted = [
            (Some(26), "BW-14", "Bow half, 1.66 in OD"),
            (Some(13), "RG-10", "Ridge tube 10 ft 6 in"),
            (Some(12), "PL-10", "Side purlin 10 ft 6 in"),
            (Some(104), "CB-25", "Carriage bolt 5/16 x 2-1/2 in"),
            (Some(8), "CR-02", "Corner brace 7 ft"),
        ];
        assert_eq!(rows, wanted, "{namespace}");
    }
}

#[test]
fn what_was_not_read_surely_is_said() {
    let list = read(&table(
        "http://www.loc.gov/standards/alto/ns-v4#",
        "pixel",
        1.0,
        &ROWS,
    ))
    .unwrap();
    let doubts: Vec<Option<&str>> = list.rows.iter().map(|row| row.doubt.as_deref()).collect();
    assert_eq!(doubts[0], None);
    assert_eq!(
        doubts[1],
        Some("the count was read with 62 %: look at the strip")
    );
    assert!(doubts[2].unwrap().contains("taken as 12"), "{doubts:?}");
    assert_eq!(doubts[3], None);
    assert!(doubts[4].unwrap().contains("31 %"), "{doubts:?}");
    let seen = list.rows[0].seen.as_ref().unwrap();
    assert_eq!(seen.picture, "abc123");
    // By hand: from the first word's left to the last one's right, in the second line.
    assert_eq!(seen.strip[0..2], [100, 150]);
    assert_eq!(seen.strip[3], 180);
}

#[test]
fn a_hyphen_at_a_lines_end_stays_with_its_word_and_other_names_for_the_namespace_do() {
    let file = table(
        "http://www.loc.gov/standards/alto/ns-v3#",
        "pixel",
        1.0,
        &ROWS,
    )
    .replace(
        "CONTENT=\"BW-14\"/>",
        "CONTENT=\"BW\"/><HYP CONTENT=\"-\"/>",
    );
    assert_eq!(read(&file).unwrap().rows[0].code, "BW-");
    let file = table(
        "http://www.loc.gov/standards/alto/ns-v4#",
        "pixel",
        1.0,
        &ROWS,
    )
    .replace("</", "</a:")
    .replace("<a:/", "</")
    .replace("xmlns=", "xmlns:a=");
    let file = [
        "alto",
        "Description",
        "MeasurementUnit",
        "Layout",
        "Page",
        "PrintSpace",
        "TextBlock",
        "TextLine",
    ]
    .iter()
    .fold(file, |file, name| {
        file.replace(&format!("<{name}"), &format!("<a:{name}"))
    });
    assert_eq!(read(&file).unwrap().rows.len(), 5);
}

#[test]
fn what_was_found_while_pictures_were_made_ready_is_said_once_more() {
    let ready = "<Processing ID=\"r\"><processingStepDescription>front.jpg: not sharp</processingStepDescription>\
                 <processingSoftware><softwareName>tallyard</softwareName></processingSoftware></Processing>\
                 <Processing ID=\"o\"><processingStepDescription>psm 6</processingStepDescription>\
                 <processingSoftware><softwareName>other</softwareName></processingSoftware></Processing></Description>";
    let file = table(
        "http://www.loc.gov/standards/alto/ns-v4#",
        "pixel",
        1.0,
        &ROWS,
    )
    .replace("</Description>", ready);
    let list = read(&file).unwrap();
    let said: Vec<&str> = list.warnings.iter().map(|w| w.what.as_str()).collect();
    assert!(said.contains(&"front.jpg: not sharp"), "{said:?}");
    assert!(!said.contains(&"psm 6"), "{said:?}");
}

#[test]
fn broken_and_hostile_files_are_refused_with_the_place() {
    let good = table(
        "http://www.loc.gov/standards/alto/ns-v4#",
        "pixel",
        1.0,
        &ROWS,
    );
    let says = |file: &str| read(file).unwrap_err().to_string();
    let entity = good.replace("<alto", "<!DOCTYPE alto [<!ENTITY a \"b\">]><alto");
    assert!(says(&entity).contains("document type"), "{}", says(&entity));
    let version = good.replace("ns-v4#", "ns-v9#");
    assert!(says(&version).contains("ns-v9#"), "{}", says(&version));
    let cut = &good[..good.len() / 2];
    assert!(says(&cut.replace("</TextLine>", "</TextLin>")).contains("at byte"));
    let deep = format!("<alto>{}", "<a>".repeat(5_000));
    assert!(says(&deep).contains("too deep"));
    let picture = list::read(b"\x89PNG\r\n\x1a\n", "list.png")
        .unwrap_err()
        .to_string();
    assert!(picture.contains("recognised first"), "{picture}");
}

#[test]
fn places_that_are_none_are_left_out_and_said() {
    let good = table(
        "http://www.loc.gov/standards/alto/ns-v4#",
        "pixel",
        1.0,
        &ROWS,
    );
    for bad in ["NaN", "inf", "-1e30", "", "1e38"] {
        let file = good.replacen("HPOS=\"100\"", &format!("HPOS=\"{bad}\""), 1);
        let list = read(&file).unwrap();
        assert!(
            list.warnings.iter().any(|w| w.what.contains("no place")),
            "{bad}: {:?}",
            list.warnings
        );
    }
}

proptest! {
    #[test]
    fn no_change_of_a_file_makes_it_panic(at in 0usize..4000, with in "[<>&\"/a0é\\-]{0,6}", cut in 0usize..40) {
        let good = table("http://www.loc.gov/standards/alto/ns-v4#", "pixel", 1.0, &ROWS);
        let start = at.min(good.len());
        let end = (start + cut).min(good.len());
        let mut bytes = good.into_bytes();
        bytes.splice(start..end, with.bytes());
        let _ = list::read(&bytes, "words.xml");
    }
}
