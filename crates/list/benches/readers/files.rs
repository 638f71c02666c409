//! The bench's list of 400 rows as every kind of file that can be written plainly.

use std::fs;
use std::io::{Cursor, Write};
use std::path::Path;

use zip::ZipWriter;
use zip::write::SimpleFileOptions;

use crate::order::{self, Written};

/// Writes the files into a folder.
pub fn write(folder: &Path) {
    let rows = order::rows(400);
    let save =
        |name: &str, bytes: &[u8]| fs::write(folder.join(name), bytes).expect("room for a file");
    save("list.csv", csv(&rows).as_bytes());
    save("long.csv", order::long(100_000).as_bytes());
    save("list.xlsx", &order::xlsx(&rows));
    save("list.ods", &ods(&rows));
    save("list.html", html(&rows).as_bytes());
    save("list.eml", mail(&rows).as_bytes());
    save("ubl.xml", ubl(&rows).as_bytes());
    save("x12.txt", x12(&rows).as_bytes());
    save("alto.xml", alto(&rows).as_bytes());
}

fn csv(rows: &[Written]) -> String {
    // Nothing above the headings, since the peers take the first line for them.
    let whole = order::csv(rows);
    whole
        .split_once("ft,,\n")
        .map_or(String::new(), |(_, table)| table.to_owned())
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('"', "&quot;")
}

/// The table, each cell and row between what begins and ends it.
fn marked(rows: &[Written], cell: [&str; 2], row: [&str; 2]) -> String {
    let heading = ["Qty", "Unit", "Description", "Sub-kit"].map(str::to_owned);
    let body = rows.iter().map(|row| {
        [
            row.quantity.to_string(),
            "ea".to_owned(),
            row.description.clone(),
            row.sub_kit.to_owned(),
        ]
    });
    let line = |cells: [String; 4]| {
        let cells = cells.map(|text| format!("{}{}{}", cell[0], escaped(&text), cell[1]));
        format!("{}{}{}\n", row[0], cells.concat(), row[1])
    };
    std::iter::once(heading).chain(body).map(line).collect()
}

fn html(rows: &[Written]) -> String {
    let table = marked(rows, ["<td>", "</td>"], ["<tr>", "</tr>"]);
    format!(
        "<!DOCTYPE html><html><head><meta charset=\"utf-8\"><title>List</title></head><body><table>\n{table}</table></body></html>\n"
    )
}

fn mail(rows: &[Written]) -> String {
    format!(
        "From: sender@example.org\r\nTo: noor@example.org\r\nSubject: Packing list\r\nMIME-Version: 1.0\r\n\
         Content-Type: text/html; charset=utf-8\r\n\r\n{}",
        html(rows)
    )
}

fn ods(rows: &[Written]) -> Vec<u8> {
    const KIND: &str = "application/vnd.oasis.opendocument.spreadsheet";
    const OASIS: &str = "urn:oasis:names:tc:opendocument:xmlns";
    let cell = [
        "<table:table-cell office:value-type=\"string\"><text:p>",
        "</text:p></table:table-cell>",
    ];
    let table = marked(rows, cell, ["<table:table-row>", "</table:table-row>"]);
    let content = format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?><office:document-content xmlns:office=\"{OASIS}:office:1.0\" \
         xmlns:table=\"{OASIS}:table:1.0\" xmlns:text=\"{OASIS}:text:1.0\" office:version=\"1.3\"><office:body><office:spreadsheet>\
         <table:table table:name=\"List\">{table}</table:table></office:spreadsheet></office:body></office:document-content>"
    );
    let manifest = format!(
        "<manifest:manifest xmlns:manifest=\"{OASIS}:manifest:1.0\" manifest:version=\"1.3\">\
         <manifest:file-entry manifest:full-path=\"/\" manifest:media-type=\"{KIND}\"/>\
         <manifest:file-entry manifest:full-path=\"content.xml\" manifest:media-type=\"text/xml\"/></manifest:manifest>"
    );
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, body) in [
        ("mimetype", KIND),
        ("content.xml", &content),
        ("META-INF/manifest.xml", &manifest),
    ] {
        zip.start_file(name, SimpleFileOptions::default())
            .expect("a file in memory");
        zip.write_all(body.as_bytes()).expect("a file in memory");
    }
    zip.finish().expect("a zip in memory").into_inner()
}

fn ubl(rows: &[Written]) -> String {
    const UBL: &str = "urn:oasis:names:specification:ubl:schema:xsd";
    let lines: String = rows.iter().enumerate().map(|(n, row)| {
        format!(
            "<cac:DespatchLine><cbc:ID>{0}</cbc:ID><cbc:DeliveredQuantity unitCode=\"C62\">{1}</cbc:DeliveredQuantity>\
             <cac:OrderLineReference><cbc:LineID>{0}</cbc:LineID></cac:OrderLineReference><cac:Item><cbc:Description>{2}</cbc:Description>\
             <cbc:Name>{2}</cbc:Name><cac:SellersItemIdentification><cbc:ID>T-{0}</cbc:ID></cac:SellersItemIdentification></cac:Item></cac:DespatchLine>\n",
            n + 1, row.quantity, escaped(&row.description)
        )
    }).collect();
    format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?><DespatchAdvice xmlns=\"{UBL}:DespatchAdvice-2\" xmlns:cac=\"{UBL}:CommonAggregateComponents-2\" \
         xmlns:cbc=\"{UBL}:CommonBasicComponents-2\"><cbc:UBLVersionID>2.1</cbc:UBLVersionID><cbc:ID>DA-1</cbc:ID>\
         <cbc:IssueDate>2026-03-04</cbc:IssueDate>{lines}</DespatchAdvice>\n"
    )
}

fn x12(rows: &[Written]) -> String {
    let mut text = String::from(
        "ISA*00*          *00*          *ZZ*SENDER         *ZZ*RECEIVER       *260304*1200*U*00401*000000001*0*P*>~\n\
         GS*SH*SENDER*RECEIVER*20260304*1200*1*X*004010~\nST*856*0001~\nBSN*00*SHIP1*20260304*1200*0001~\nHL*1**S~\nHL*2*1*O~\nPRF*40117~\n",
    );
    for (n, row) in rows.iter().enumerate() {
        let says: String = row
            .description
            .chars()
            .filter(|c| !matches!(c, '*' | '~' | '>'))
            .collect();
        text.push_str(&format!(
            "HL*{}*2*I~\nLIN*{}*VP*T-{n}~\nSN1**{}*EA~\nPID*F****{says}~\n",
            n + 3,
            n + 1,
            row.quantity
        ));
    }
    let segments = 8 + rows.len() * 4;
    text.push_str(&format!(
        "CTT*{}~\nSE*{segments}*0001~\nGE*1*1~\nIEA*1*000000001~\n",
        rows.len() + 2
    ));
    text
}

/// Ten photographed pages of 40 rows.
fn alto(rows: &[Written]) -> String {
    let word = |text: &str, left: usize, top: usize| {
        let width = text.len() * 12;
        let text = escaped(text);
        format!(
            "<String CONTENT=\"{text}\" HPOS=\"{left}\" VPOS=\"{top}\" WIDTH=\"{width}\" HEIGHT=\"22\" WC=\"0.93\"/>"
        )
    };
    let line = |cells: [(&str, usize); 4], top: usize| {
        let mut words = String::new();
        for (cell, left) in cells {
            let mut at = left;
            for text in cell.split_whitespace() {
                words.push_str(&word(text, at, top));
                at += text.len() * 12 + 10;
            }
        }
        format!("<TextLine>{words}</TextLine>\n")
    };
    let page = |(n, rows): (usize, &[Written])| {
        let heading = line(
            [
                ("Qty", 100),
                ("Unit", 220),
                ("Description", 340),
                ("Sub-kit", 1_350),
            ],
            80,
        );
        let body: String = rows
            .iter()
            .enumerate()
            .map(|(at, row)| {
                let count = row.quantity.to_string();
                line(
                    [
                        (&count, 100),
                        ("ea", 220),
                        (&row.description, 340),
                        (row.sub_kit, 1_350),
                    ],
                    130 + at * 48,
                )
            })
            .collect();
        format!(
            "<Page ID=\"picture-{n:064x}\" PHYSICAL_IMG_NR=\"{}\" WIDTH=\"1600\" HEIGHT=\"2200\"><PrintSpace><TextBlock ID=\"b{n}\">{heading}{body}</TextBlock></PrintSpace></Page>\n",
            n + 1
        )
    };
    let pages: String = rows.chunks(40).enumerate().map(page).collect();
    format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?><alto xmlns=\"http://www.loc.gov/standards/alto/ns-v4#\"><Description>\
         <MeasurementUnit>pixel</MeasurementUnit></Description><Layout>{pages}</Layout></alto>\n"
    )
}
