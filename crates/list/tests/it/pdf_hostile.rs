//! PDFs made to do harm, and PDFs that broke on the way.

use std::fmt::Write as _;
use std::io::Write as _;

use flate2::Compression;
use flate2::write::ZlibEncoder;
use list::{Refusal, pdf, read_sheets};
use proptest::prelude::*;

/// A file of these objects, the first of them the catalog, each with its stream if it has one.
fn file(objects: &[(&str, Option<&[u8]>)]) -> Vec<u8> {
    let mut out = b"%PDF-1.7\n".to_vec();
    let mut places = Vec::new();
    for (index, (entries, stream)) in objects.iter().enumerate() {
        places.push(out.len());
        let _ = writeln!(out, "{} 0 obj", index + 1);
        match stream {
            Some(data) => {
                let _ = write!(out, "<<{entries}/Length {}>>\nstream\n", data.len());
                out.extend_from_slice(data);
                out.extend_from_slice(b"\nendstream\n");
            }
            None => out.extend_from_slice(entries.as_bytes()),
        }
        out.extend_from_slice(b"\nendobj\n");
    }
    let at = out.len();
    let mut table = format!("xref\n0 {}\n0000000000 65535 f \n", places.len() + 1);
    for place in &places {
        let _ = writeln!(table, "{place:010} 00000 n ");
    }
    let _ = write!(
        table,
        "trailer\n<</Size {}/Root 1 0 R>>\nstartxref\n{at}\n%%EOF\n",
        places.len() + 1
    );
    out.extend_from_slice(table.as_bytes());
    out
}

const FONT: &str = "<</Type/Font/Subtype/Type1/BaseFont/Helvetica/Encoding/WinAnsiEncoding>>";
const CATALOG: &str = "<</Type/Catalog/Pages 2 0 R>>";
const ONE: &str = "<</Type/Pages/Count 1/Kids[3 0 R]>>";
const SHEET: &str = "<</Type/Page/MediaBox[0 0 612 792]/Contents 4 0 R/Resources<</Font<</F 5 0 R>>/XObject<</X 6 0 R>>>>>>";
const WORDS: &[u8] = b"BT /F 10 Tf 72 700 Td (26 Ground post) Tj ET";

fn drawing(entries: &str, contents: &[u8], form: (&str, &[u8])) -> Vec<u8> {
    file(&[
        (CATALOG, None),
        (ONE, None),
        (SHEET, None),
        (entries, Some(contents)),
        (FONT, None),
        (form.0, Some(form.1)),
    ])
}

fn packed(data: &[u8]) -> Vec<u8> {
    let mut out = ZlibEncoder::new(Vec::new(), Compression::best());
    out.write_all(data).unwrap();
    out.finish().unwrap()
}

fn refusal(bytes: &[u8]) -> Refusal {
    read_sheets(bytes, "list.pdf").unwrap_err().why
}

const FORM: &str = "/Type/XObject/Subtype/Form/BBox[0 0 612 792]";

#[test]
fn the_unharmed_file_is_read() {
    let sheets = read_sheets(&drawing("", WORDS, (FORM, b"")), "list.pdf").unwrap();
    assert_eq!(sheets.sheets[0].lines[0].text(), "26 Ground post");
    let sheets = read_sheets(
        &drawing("/Filter/FlateDecode", &packed(WORDS), (FORM, b"")),
        "list.pdf",
    );
    assert_eq!(sheets.unwrap().sheets[0].lines[0].text(), "26 Ground post");
}

#[test]
fn pages_in_a_ring() {
    let ring = file(&[
        (CATALOG, None),
        ("<</Type/Pages/Count 1/Kids[3 0 R]>>", None),
        ("<</Type/Pages/Count 1/Kids[2 0 R]>>", None),
    ]);
    assert_eq!(refusal(&ring), Refusal::DamagedPdf);
    // Each of thirty levels holds the next one ten times: no ring, and more pages than atoms in a school garden.
    let mut levels: Vec<String> = (0..30)
        .map(|level| {
            let kid = format!("{} 0 R ", level + 3);
            format!("<</Type/Pages/Count 1/Kids[{}]>>", kid.repeat(10))
        })
        .collect();
    levels.push("<</Type/Page/MediaBox[0 0 9 9]>>".to_owned());
    let mut objects = vec![(CATALOG, None)];
    objects.extend(levels.iter().map(|level| (level.as_str(), None)));
    let many = refusal(&file(&objects));
    assert!(
        matches!(many, Refusal::TooManyPages | Refusal::PdfLoop(_)),
        "{many:?}"
    );
}

#[test]
fn parts_that_unpack_without_end() {
    let zeros = vec![b' '; 65 << 20];
    let once = packed(&zeros);
    assert!(once.len() < 100_000);
    for (filter, data) in [
        ("/Filter/FlateDecode", once.clone()),
        ("/Filter[/FlateDecode/FlateDecode]", packed(&once)),
        ("/Filter/F#6cateDecode", once.clone()),
        ("/Filter[/ASCIIHexDecode/FlateDecode]", hex(&once)),
        ("/Filter/RunLengthDecode", [129, b' '].repeat(600_000)),
    ] {
        let why = refusal(&drawing(filter, &data, (FORM, b"")));
        assert!(matches!(why, Refusal::PdfBomb(_)), "{filter}: {why:?}");
    }
    // Printable packing of much of the same has brackets that seem to nest, and is refused for these.
    let why = refusal(&drawing(
        "/Filter[/ASCII85Decode/FlateDecode]",
        &ascii_85(&once),
        (FORM, b""),
    ));
    assert!(
        matches!(why, Refusal::PdfBomb(_) | Refusal::PdfLoop("brackets")),
        "{why:?}"
    );
    let mut layers = WORDS.to_vec();
    for _ in 0..8 {
        layers = packed(&layers.repeat(50));
    }
    let why = refusal(&drawing("/Filter/FlateDecode", &layers, (FORM, b"")));
    assert_eq!(why, Refusal::PdfLoop("packed parts"));
}

fn hex(data: &[u8]) -> Vec<u8> {
    let mut out = String::new();
    for byte in data {
        let _ = write!(out, "{byte:02x}");
    }
    out.push('>');
    out.into_bytes()
}

/// Groups of four bytes as five digits to the base 85; the last one filled with zeros, which the inflater leaves.
fn ascii_85(data: &[u8]) -> Vec<u8> {
    let mut out = Vec::new();
    for group in data.chunks(4) {
        let mut four = [0; 4];
        four[..group.len()].copy_from_slice(group);
        let number = u32::from_be_bytes(four);
        out.extend(
            (0..5)
                .rev()
                .map(|power| b'!' + (number / 85_u32.pow(power) % 85) as u8),
        );
    }
    out.extend_from_slice(b"~>");
    out
}

#[test]
fn brackets_and_drawing_states_without_end() {
    let deep = "[".repeat(1_000_000);
    let in_a_page = format!("{deep} TJ");
    assert_eq!(
        refusal(&drawing("", in_a_page.as_bytes(), (FORM, b""))),
        Refusal::PdfLoop("brackets")
    );
    assert_eq!(
        refusal(&drawing(
            "/Filter/FlateDecode",
            &packed(in_a_page.as_bytes()),
            (FORM, b"")
        )),
        Refusal::PdfLoop("brackets")
    );
    // As deep as is let through: the library must bear it.
    let just = format!("{}{} TJ", "[".repeat(3_900), "]".repeat(3_900));
    let _ = read_sheets(&drawing("", just.as_bytes(), (FORM, b"")), "list.pdf");
    let just = format!("/P {}{} DP", "<</A".repeat(1_900), ">>".repeat(1_900));
    let _ = read_sheets(&drawing("", just.as_bytes(), (FORM, b"")), "list.pdf");
    let states = "q ".repeat(1_000_000);
    assert_eq!(
        refusal(&drawing(
            "/Filter/FlateDecode",
            &packed(states.as_bytes()),
            (FORM, b"")
        )),
        Refusal::PdfLoop("drawings")
    );
}

/// A drawing that draws itself ten times over, and one of very many letters.
#[test]
fn drawings_without_end() {
    let form = format!("{FORM}/Resources<</XObject<</X 6 0 R>>>>");
    let again = drawing("", b"/X Do", (&form, &b"/X Do ".repeat(10)));
    assert_eq!(refusal(&again), Refusal::TooMuchDrawn);
    let letters =
        b"BT /F 1 Tf (xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx) Tj ET ".repeat(200_000);
    let many = drawing("/Filter/FlateDecode", &packed(&letters), (FORM, b""));
    assert_eq!(refusal(&many), Refusal::TooMuchDrawn);
}

#[test]
fn objects_that_name_each_other() {
    for objects in [
        vec![("2 0 R", None), ("1 0 R", None)],
        vec![("<</Type/Catalog/Pages 1 0 R/Kids[1 0 R]>>", None)],
        vec![
            (CATALOG, None),
            (ONE, None),
            (
                "<</Type/Page/Contents 3 0 R/MediaBox 3 0 R/Resources 3 0 R>>",
                None,
            ),
        ],
        vec![
            (CATALOG, None),
            (ONE, None),
            (
                "<</Type/Page/MediaBox[0 0 -1e30 1e30]/Contents 4 0 R>>",
                None,
            ),
            ("/Length 4 0 R", Some(WORDS)),
        ],
    ] {
        let _ = read_sheets(&file(&objects), "list.pdf");
    }
}

fn any_file() -> impl Strategy<Value = Vec<u8>> {
    let names = [
        "plain.pdf",
        "packed.pdf",
        "stamped.pdf",
        "owner_locked.pdf",
        "wrapped_grid.pdf",
        "web.pdf",
        "scan_with_words.pdf",
    ];
    prop::sample::select(names.to_vec()).prop_map(|name| {
        let path = format!("{}/tests/pdf/{name}", env!("CARGO_MANIFEST_DIR"));
        std::fs::read(path).unwrap()
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    /// Bytes changed, cut out or doubled anywhere: read or refused, never more than that.
    #[test]
    fn damage_is_survived(
        mut bytes in any_file(),
        changes in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 0..20),
        cut in any::<prop::sample::Index>(),
        length in 0_usize..400,
        twice in prop::bool::ANY,
    ) {
        for (at, byte) in changes {
            let at = at.index(bytes.len());
            bytes[at] = byte;
        }
        let from = cut.index(bytes.len());
        let to = (from + length).min(bytes.len());
        if twice {
            let part = bytes[from..to].to_vec();
            bytes.splice(from..from, part);
        } else {
            bytes.drain(from..to);
        }
        let _ = pdf::pages(&bytes);
    }

    /// Steps of drawing in any order, with any numbers.
    #[test]
    fn any_steps_are_survived(
        steps in prop::collection::vec(
            prop_oneof![
                Just("BT".to_owned()), Just("ET".to_owned()), Just("q".to_owned()), Just("Q".to_owned()),
                Just("/F 10 Tf".to_owned()), Just("(26 post) Tj".to_owned()), Just("[(a) -9000 (b)] TJ".to_owned()),
                Just("/X Do".to_owned()), Just("S".to_owned()), Just("f".to_owned()), Just("W n".to_owned()),
                prop::array::uniform6(-1.0e9_f64..1.0e9).prop_map(|n| format!("{} {} {} {} {} {} cm", n[0], n[1], n[2], n[3], n[4], n[5])),
                prop::array::uniform6(-900.0_f64..900.0).prop_map(|n| format!("{} {} {} {} {} {} Tm", n[0], n[1], n[2], n[3], n[4], n[5])),
                prop::array::uniform4(-900.0_f64..900.0).prop_map(|n| format!("{} {} {} {} re", n[0], n[1], n[2], n[3])),
                prop::array::uniform2(-1.0e30_f64..1.0e30).prop_map(|n| format!("{} {} Td {} Tc {} Tz", n[0], n[1], n[0], n[1])),
            ],
            0..60,
        ),
    ) {
        let contents = steps.join("\n");
        let _ = read_sheets(&drawing("", contents.as_bytes(), (FORM, WORDS)), "list.pdf");
    }
}
