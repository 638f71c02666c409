//! The list and the parts that benches share: 400 rows in several hands over 100 parts that resemble each other.

use frame::{End, Mark, Part, Section};
use measure::{Length, Mass};
use rust_xlsxwriter::Workbook;

const TUBES: [(&str, &str); 6] = [
    ("ground post", "Ground post"),
    ("ridge", "Ridge tube"),
    ("end wall post", "End wall stud"),
    ("purlin", "Purlin"),
    ("brace", "Brace"),
    ("door header", "Door header"),
];
const FITTINGS: [&str; 10] = [
    "Ridge clamp",
    "Cross connector",
    "Stud clamp",
    "Stud shoe",
    "Peak plate",
    "Splice plate",
    "Door hinge",
    "Door latch",
    "Pipe strap",
    "Brace clamp",
];

/// 100 parts: 54 tubes (six things, three sizes, three lengths), 24 bolts, 12 channels, 10 fittings.
pub fn parts() -> Vec<Part> {
    let mut parts = Vec::new();
    let mut add = |noun: &str,
                   description: String,
                   section: Option<Section>,
                   length: Option<Length>,
                   ends: Option<[End; 2]>| {
        let mark = Mark(format!("M{}", parts.len() + 1));
        let (finish, unit_mass) = (Some("galvanized".to_owned()), Mass::grams(1_000));
        parts.push(Part {
            mark,
            noun: noun.to_owned(),
            description,
            section,
            length,
            width: None,
            ends,
            finish,
            unit_mass,
            bend: None,
        });
    };
    for (noun, says) in TUBES {
        for (called, od, gauge) in [
            ("1-3/8", 84_160, 16),
            ("1-5/8", 106_240, 14),
            ("1-7/8", 121_600, 14),
        ] {
            for feet in [5, 8, 10] {
                let outside = Length::nanometres(od * 397);
                let section = Section::Tube {
                    called: called.to_owned(),
                    outside,
                    wall: Length::nanometres(1_651_000),
                    gauge: Some(gauge),
                };
                let description =
                    format!("{says}, tube {called} in, {gauge} ga, {feet} ft, both ends plain");
                add(
                    noun,
                    description,
                    Some(section),
                    Some(Length::feet(feet)),
                    Some([End::Plain, End::Plain]),
                );
            }
        }
    }
    for (noun, says) in [("hex bolt", "Hex bolt"), ("carriage bolt", "Carriage bolt")] {
        for (size, thirty_seconds) in [("1/4", 8), ("5/16", 10), ("3/8", 12)] {
            for quarters in [4, 6, 8, 10] {
                let section = Section::Fastener {
                    size: size.to_owned(),
                    diameter: Length::sixty_fourths(2 * thirty_seconds),
                };
                let length = Length::sixty_fourths(16 * quarters);
                add(
                    noun,
                    format!(
                        "{says}, {size} in x {} in",
                        f64::from(quarters as i32) / 4.0
                    ),
                    Some(section),
                    Some(length),
                    None,
                );
            }
        }
    }
    for noun in ["rail channel", "lock channel", "spring wire"] {
        for feet in [4, 6, 8, 10] {
            add(
                noun,
                format!("{noun}, {feet} ft"),
                None,
                Some(Length::feet(feet)),
                None,
            );
        }
    }
    for says in FITTINGS {
        add(&says.to_lowercase(), says.to_owned(), None, None, None);
    }
    parts
}

/// A row and the mark that it was written from.
pub struct Written {
    pub quantity: usize,
    pub description: String,
    pub sub_kit: &'static str,
    #[allow(dead_code, reason = "one of the benches asks how many are right")]
    pub mark: Option<String>,
}

/// Rows over the parts in four hands, in an order that mixes them; every tenth is nothing of the order's.
pub fn rows(count: usize) -> Vec<Written> {
    let parts = parts();
    (0..count)
        .map(|n| {
            let index = (n * 37) % 100;
            let part = &parts[index];
            let sub_kit = ["Frame", "Side wall", "End wall", "Hardware"][n % 4];
            let plain = part.description.clone();
            let description = match n / 100 {
                0 => plain,
                1 => plain.to_uppercase().replace(" IN,", "\","),
                2 => plain.replace("tube ", "").replace(", both ends plain", ""),
                _ => plain
                    .replace("post", "pst")
                    .replace("clamp", "clmap")
                    .replace("channel", "chanel"),
            };
            let (description, mark) = if n % 10 == 9 {
                (format!("Drip line fitting {n}"), None)
            } else {
                (description, Some(part.mark.0.clone()))
            };
            Written {
                quantity: n % 60 + 1,
                description,
                sub_kit,
                mark,
            }
        })
        .collect()
}

pub fn csv(rows: &[Written]) -> String {
    let mut text =
        String::from("Order:,Bench,,\nSize:,24 x 48 ft,,\nQty,Unit,Description,Sub-kit\n");
    for row in rows {
        text.push_str(&format!(
            "{},ea,\"{}\",{}\n",
            row.quantity,
            row.description.replace('"', "\"\""),
            row.sub_kit
        ));
    }
    text
}

pub fn xlsx(rows: &[Written]) -> Vec<u8> {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    let mut write = |at: (u32, u16), text: &str| {
        sheet
            .write_string(at.0, at.1, text)
            .expect("a cell within the sheet");
    };
    for (column, word) in ["Qty", "Unit", "Description", "Sub-kit"].iter().enumerate() {
        write((0, column as u16), word);
    }
    for (n, row) in rows.iter().enumerate() {
        let at = n as u32 + 1;
        for (column, text) in [
            &row.quantity.to_string(),
            "ea",
            &row.description,
            row.sub_kit,
        ]
        .iter()
        .enumerate()
        {
            write((at, column as u16), text);
        }
    }
    book.save_to_buffer().expect("a workbook in memory")
}

pub fn long(rows: usize) -> String {
    let mut text = String::from("Code,Qty,Unit,Description,Length,Remarks\n");
    for n in 0..rows {
        text.push_str(&format!(
            "T-{n},{},ea,\"Ground post 1-5/8\"\" 14 ga\",5 ft,bundle {}\n",
            n % 90 + 1,
            n / 40
        ));
    }
    text
}
