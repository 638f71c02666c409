//! Sound files around one part that is not: so that chance meets the reader and not a checksum.

use std::io::{Cursor, Write};

use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipWriter};

/// The part that the first byte names, and what stands in its place; nothing for a whole file.
fn split(input: &[u8]) -> (usize, &[u8]) {
    input
        .split_first()
        .map_or((0, input), |(first, rest)| (usize::from(*first % 16), rest))
}

fn zipped(parts: &[(&str, &[u8])], which: usize, instead: &[u8]) -> Vec<u8> {
    let mut to = ZipWriter::new(Cursor::new(Vec::new()));
    let stored = SimpleFileOptions::default().compression_method(CompressionMethod::Stored);
    for (index, (name, body)) in parts.iter().enumerate() {
        let body = if index + 1 == which { instead } else { body };
        // In memory, with names that are all different, neither fails.
        if to.start_file(*name, stored).is_ok() {
            let _ = to.write_all(body);
        }
    }
    to.finish().map(Cursor::into_inner).unwrap_or_default()
}

const MAIN: &str = "xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\"";

/// A workbook. 1 is the sheet, 2 the shared texts, 3 the book, 4 where its parts are, 5 the styles, 6 the kinds of part.
pub fn xlsx(input: &[u8]) -> Vec<u8> {
    let (which, instead) = split(input);
    if which == 0 {
        return instead.to_vec();
    }
    let sheet = format!(
        "<worksheet {MAIN}><sheetData><row r=\"1\"><c r=\"A1\" t=\"s\"><v>0</v></c><c r=\"B1\" t=\"s\"><v>1</v></c></row>\
         <row r=\"2\"><c r=\"A2\"><v>26</v></c><c r=\"B2\" t=\"s\" s=\"1\"><v>2</v></c></row></sheetData></worksheet>"
    );
    let texts = format!(
        "<sst {MAIN}><si><t>Qty</t></si><si><t>Description</t></si><si><r><t>Ground </t></r><r><t>post</t></r></si></sst>"
    );
    let book = format!(
        "<workbook {MAIN} xmlns:r=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships\"><sheets>\
         <sheet name=\"List\" sheetId=\"1\" r:id=\"rId1\"/></sheets></workbook>"
    );
    const RELATIONS: &str = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
    let relations = format!(
        "<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\">\
         <Relationship Id=\"rId1\" Type=\"{RELATIONS}/worksheet\" Target=\"worksheets/sheet1.xml\"/>\
         <Relationship Id=\"rId2\" Type=\"{RELATIONS}/sharedStrings\" Target=\"sharedStrings.xml\"/>\
         <Relationship Id=\"rId3\" Type=\"{RELATIONS}/styles\" Target=\"styles.xml\"/></Relationships>"
    );
    let styles = format!(
        "<styleSheet {MAIN}><numFmts count=\"1\"><numFmt numFmtId=\"164\" formatCode=\"yyyy-mm-dd\"/></numFmts>\
         <fonts count=\"2\"><font/><font><strike/></font></fonts><cellXfs count=\"2\"><xf numFmtId=\"0\" fontId=\"0\"/>\
         <xf numFmtId=\"164\" fontId=\"1\"/></cellXfs></styleSheet>"
    );
    let kinds = "<Types xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\">\
         <Default Extension=\"xml\" ContentType=\"application/xml\"/></Types>";
    let parts: [(&str, &[u8]); 6] = [
        ("xl/worksheets/sheet1.xml", sheet.as_bytes()),
        ("xl/sharedStrings.xml", texts.as_bytes()),
        ("xl/workbook.xml", book.as_bytes()),
        ("xl/_rels/workbook.xml.rels", relations.as_bytes()),
        ("xl/styles.xml", styles.as_bytes()),
        ("[Content_Types].xml", kinds.as_bytes()),
    ];
    zipped(&parts, which, instead)
}

/// An OpenDocument sheet. 1 is the content, 2 the styles, 3 the list of its parts, 4 what it says it is.
pub fn ods(input: &[u8]) -> Vec<u8> {
    let (which, instead) = split(input);
    if which == 0 {
        return instead.to_vec();
    }
    const OASIS: &str = "urn:oasis:names:tc:opendocument:xmlns";
    let content = format!(
        "<office:document-content xmlns:office=\"{OASIS}:office:1.0\" xmlns:table=\"{OASIS}:table:1.0\" \
         xmlns:text=\"{OASIS}:text:1.0\" office:version=\"1.3\"><office:body><office:spreadsheet><table:table table:name=\"List\">\
         <table:table-row><table:table-cell><text:p>Qty</text:p></table:table-cell><table:table-cell><text:p>Description</text:p>\
         </table:table-cell></table:table-row></table:table></office:spreadsheet></office:body></office:document-content>"
    );
    let styles = format!("<office:document-styles xmlns:office=\"{OASIS}:office:1.0\"/>");
    let manifest = format!(
        "<manifest:manifest xmlns:manifest=\"{OASIS}:manifest:1.0\"><manifest:file-entry manifest:full-path=\"/\" \
         manifest:media-type=\"application/vnd.oasis.opendocument.spreadsheet\"/></manifest:manifest>"
    );
    let parts: [(&str, &[u8]); 4] = [
        ("content.xml", content.as_bytes()),
        ("styles.xml", styles.as_bytes()),
        ("META-INF/manifest.xml", manifest.as_bytes()),
        (
            "mimetype",
            b"application/vnd.oasis.opendocument.spreadsheet",
        ),
    ];
    // The kind stands first in the file, as the standard has it.
    let order = [3, 0, 1, 2].map(|index: usize| parts[index]);
    let which = [0, 2, 3, 4, 1].get(which).copied().unwrap_or(0);
    zipped(&order, which, instead)
}

/// An old workbook: 1 is the stream of records that a compound file holds.
pub fn xls(input: &[u8]) -> Vec<u8> {
    let (which, instead) = split(input);
    if which == 0 {
        instead.to_vec()
    } else {
        compound(instead)
    }
}

const SECTOR: usize = 512;
const END_OF_CHAIN: u32 = 0xFFFF_FFFE;
const OF_THE_TABLE: u32 = 0xFFFF_FFFD;
const NO_SECTOR: u32 = 0xFFFF_FFFF;

/// A compound file (MS-CFB, version 3) with one stream, "Workbook".
fn compound(stream: &[u8]) -> Vec<u8> {
    // A shorter stream would have to stand among the small ones.
    let mut stream = stream.to_vec();
    stream.resize(stream.len().max(4_096).next_multiple_of(SECTOR), 0);
    let sectors = stream.len() / SECTOR;
    let tables = (1..)
        .find(|n| n * SECTOR / 4 > n + 1 + sectors)
        .unwrap_or(1);
    let mut chain = vec![OF_THE_TABLE; tables];
    chain.push(END_OF_CHAIN);
    let first = chain.len();
    chain.extend((1..sectors).map(|n| (first + n) as u32));
    chain.push(END_OF_CHAIN);
    chain.resize(tables * SECTOR / 4, NO_SECTOR);

    let mut file = vec![0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1];
    file.resize(24, 0);
    [0x3E_u16, 3, 0xFFFE, 9, 6]
        .iter()
        .for_each(|n| file.extend(n.to_le_bytes()));
    file.resize(44, 0);
    let head = [
        tables as u32,
        tables as u32,
        0,
        4_096,
        END_OF_CHAIN,
        0,
        END_OF_CHAIN,
        0,
    ];
    let table_places = (0..109).map(|n| if n < tables { n as u32 } else { NO_SECTOR });
    head.into_iter()
        .chain(table_places)
        .for_each(|n| file.extend(n.to_le_bytes()));
    chain.iter().for_each(|n| file.extend(n.to_le_bytes()));
    entry(&mut file, "Root Entry", 5, 1, END_OF_CHAIN, 0);
    entry(
        &mut file,
        "Workbook",
        2,
        NO_SECTOR,
        first as u32,
        stream.len(),
    );
    entry(&mut file, "", 0, NO_SECTOR, 0, 0);
    entry(&mut file, "", 0, NO_SECTOR, 0, 0);
    file.extend(stream);
    file
}

fn entry(file: &mut Vec<u8>, name: &str, kind: u8, child: u32, start: u32, len: usize) {
    let begin = file.len();
    name.encode_utf16()
        .for_each(|unit| file.extend(unit.to_le_bytes()));
    file.resize(begin + 64, 0);
    let bytes = if name.is_empty() {
        0
    } else {
        name.len() as u16 * 2 + 2
    };
    file.extend(bytes.to_le_bytes());
    file.extend([kind, 1]);
    [NO_SECTOR, NO_SECTOR, child]
        .iter()
        .for_each(|n| file.extend(n.to_le_bytes()));
    file.resize(begin + 116, 0);
    file.extend(start.to_le_bytes());
    file.extend((len as u64).to_le_bytes());
}

/// A PDF of one page. 1 is its content, 2 its font, 3 what the font's codes mean, 4 the page, 5 a form that it draws,
/// 6 a content with what its stream's dictionary says (up to the first line end), 7 further objects, 8 all pages.
pub fn pdf(input: &[u8]) -> Vec<u8> {
    let (which, instead) = split(input);
    if which == 0 {
        return instead.to_vec();
    }
    let content = b"BT /F1 10 Tf 72 700 Td (Qty) Tj 60 0 Td (Description) Tj -60 -14 Td (26) Tj 60 0 Td (Ground post) Tj ET /X1 Do";
    let meaning = b"1 begincodespacerange <00> <FF> endcodespacerange 1 beginbfrange <20> <7E> <0020> endbfrange";
    let form = b"BT /F1 10 Tf 72 672 Td (4) Tj 60 0 Td (Ridge clamp) Tj ET";
    let pick = |part: usize, sound: &'static [u8]| if which == part { instead } else { sound };
    let stream = |entries: &[u8], body: &[u8]| {
        let length = format!("<</Length {} ", body.len()).into_bytes();
        [&length, entries, b">>\nstream\n", body, b"\nendstream"].concat()
    };
    let end = instead.iter().position(|b| *b == b'\n').unwrap_or(0);
    let drawn = match which {
        6 => stream(&instead[..end], &instead[end..]),
        _ => stream(b"", pick(1, content)),
    };
    let objects = [
        b"<</Type/Catalog/Pages 2 0 R>>".to_vec(),
        pick(8, b"<</Type/Pages/Kids[3 0 R]/Count 1>>").to_vec(),
        pick(4, b"<</Type/Page/Parent 2 0 R/MediaBox[0 0 612 792]/Contents 5 0 R/Resources<</Font<</F1 4 0 R>>/XObject<</X1 7 0 R>>>>>>").to_vec(),
        pick(2, b"<</Type/Font/Subtype/Type1/BaseFont/Helvetica/Encoding/WinAnsiEncoding/ToUnicode 6 0 R>>").to_vec(),
        drawn,
        stream(b"", pick(3, meaning)),
        stream(b"/Type/XObject/Subtype/Form/BBox[0 0 612 792]/Resources<</Font<</F1 4 0 R>>/XObject<</X1 7 0 R>>>>", pick(5, form)),
    ];
    let mut file = b"%PDF-1.7\n".to_vec();
    let mut places = Vec::new();
    for (index, body) in objects.iter().enumerate() {
        places.push(file.len());
        let head = format!("{} 0 obj\n", index + 1).into_bytes();
        file.extend([&head, &body[..], b"\nendobj\n"].concat());
    }
    file.extend(pick(7, b""));
    let table = file.len();
    file.extend(format!("xref\n0 {}\n0000000000 65535 f \n", places.len() + 1).into_bytes());
    places
        .iter()
        .for_each(|place| file.extend(format!("{place:010} 00000 n \n").into_bytes()));
    let end = format!(
        "trailer\n<</Size {}/Root 1 0 R>>\nstartxref\n{table}\n%%EOF\n",
        places.len() + 1
    );
    file.extend(end.into_bytes());
    file
}
