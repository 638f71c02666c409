//! PDFs made to do harm, and PDFs that broke on the way.

use std::fmt::Write as _;
use std::io::Write as _;

use flate2::Compression;
use flate2::write::ZlibEncoder;
use list::{Refusal, pdf, read_sheets};
use proptest::prelude::*;

use super::large::read_apart_timed;
use super::slow::busy;

/// A file of these objects, the first of them the catalog, each with its stream if it has one.
pub fn file(objects: &[(&str, Option<&[u8]>)]) -> Vec<u8> {
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

/// Reads a file and says that it took no longer than a small file may: two seconds of a processor where the program is
/// built to be used, ten where it is built to be tested.
fn soon(what: &str, bytes: &[u8]) -> Result<(), Refusal> {
    let most = if cfg!(debug_assertions) { 10.0 } else { 2.0 };
    let start = busy();
    let outcome = read_sheets(bytes, "list.pdf");
    let took = (busy() - start).as_secs_f64();
    println!(
        "{what}: {} KiB, {took:.2} s, {:?}",
        bytes.len() / 1024,
        outcome.as_ref().err()
    );
    assert!(took < most, "{what}: {took:.1} s");
    outcome.map(|_| ()).map_err(|error| error.why)
}

/// Drawings that draw themselves, that are drawn over and over, and one of very many letters.
#[test]
fn drawings_without_end() {
    let form = format!("{FORM}/Resources<</XObject<</X 6 0 R>>>>");
    let refused = |why: Result<(), Refusal>| {
        matches!(
            why,
            Err(Refusal::TooMuchDrawn | Refusal::PdfLoop("drawings"))
        )
    };
    let again = drawing("", b"/X Do", (&form, &b"/X Do ".repeat(10)));
    assert!(refused(soon("itself", &again)));
    // As deep as is followed, each level draws the next one ten times.
    let mut levels: Vec<(String, Vec<u8>)> = (0..11)
        .map(|level| {
            let next = format!("{FORM}/Resources<</XObject<</X {} 0 R>>>>", level + 7);
            (next, b"/X Do ".repeat(10))
        })
        .collect();
    levels.push((FORM.to_owned(), WORDS.to_vec()));
    let mut objects: Vec<(&str, Option<&[u8]>)> = vec![
        (CATALOG, None),
        (ONE, None),
        (SHEET, None),
        ("", Some(b"/X Do")),
        (FONT, None),
    ];
    objects.extend(
        levels
            .iter()
            .map(|(entries, data)| (entries.as_str(), Some(&data[..]))),
    );
    assert!(refused(soon("levels", &file(&objects))));
    // A form that unpacks to a thousand times its size, drawn on and on; seen or not.
    let spaces = packed(&vec![b' '; 40 << 20]);
    let long = format!("{FORM}/Filter/FlateDecode");
    for around in ["", "0 0 0 0 re W n ", "/OC /L BDC "] {
        let contents = format!("{around}{}", "/X Do ".repeat(200_000));
        let bytes = drawing(
            "/Filter/FlateDecode",
            &packed(contents.as_bytes()),
            (&long, &spaces),
        );
        assert!(refused(soon("a long form", &bytes)));
    }
    let letters =
        b"BT /F 1 Tf (xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx) Tj ET ".repeat(200_000);
    let many = drawing("/Filter/FlateDecode", &packed(&letters), (FORM, b""));
    assert_eq!(soon("letters", &many), Err(Refusal::TooMuchDrawn));
}

/// Steps that cost more than they look: pictures whose end is hard to find, states put away with all that they hold, long
/// paths, letters that cut out.
#[test]
fn steps_that_cost() {
    let one = |what: &str, contents: &[u8]| {
        soon(
            what,
            &drawing("/Filter/FlateDecode", &packed(contents), (FORM, WORDS)),
        )
    };
    let _ = one(
        "ends of pictures",
        &[&b"BI /W 1 /H 1 ID "[..], &b"x EI \x00".repeat(2_000_000)].concat(),
    );
    let _ = one("pictures", &b"BI /W 1 /H 1 ID x EI ".repeat(600_000));
    let cuts = b"-9 -9 9999 9999 re W n ".repeat(500_000);
    let _ = one(
        "cuts and states",
        &[&cuts[..], &b"q ".repeat(3_900)].concat(),
    );
    let _ = one("states in disguise", &b"q/A ".repeat(4_000_000));
    let _ = one("one long path", &b"1 1 l ".repeat(4_000_000));
    let _ = one("borders", &b"0 0 m 9 9 l S ".repeat(1_500_000));
    let cut = b"BT /F 9 Tf 7 Tr (xxxxxxxxxxxxxxxxxxxx) Tj q Q ".repeat(400_000);
    let _ = one("letters that cut", &cut);
    let _ = one("names", &b"/F 9 Tf ".repeat(4_000_000));
    let _ = one("tables", &b"<</A/B>> ".repeat(4_000_000));
}

/// Many fonts that share one large part, and many notes that say one long thing.
#[test]
fn what_is_shared_is_counted() {
    let spaces = packed(&vec![b' '; 30 << 20]);
    let (mut fonts, mut steps) = (String::new(), String::new());
    for n in 0..2_000 {
        fonts.push_str(&format!(
            "/F{n}<</Type/Font/Subtype/TrueType/BaseFont/A{n}/ToUnicode 4 0 R/FontDescriptor<</FontFile2 4 0 R>>>>"
        ));
        steps.push_str(&format!("BT /F{n} 9 Tf (x) Tj ET "));
    }
    let sheet = format!(
        "<</Type/Page/MediaBox[0 0 612 792]/Contents 5 0 R/Resources<</Font<<{fonts}>>>>>>"
    );
    let bytes = file(&[
        (CATALOG, None),
        (ONE, None),
        (&sheet, None),
        ("/Filter/FlateDecode", Some(&spaces)),
        ("", Some(steps.as_bytes())),
    ]);
    assert_eq!(soon("fonts", &bytes), Err(Refusal::TooMuchDrawn));
    let note = "<</Subtype/Stamp/Rect[0 0 9 9]/AP<</N 4 0 R>>>>".repeat(2_000);
    let sheet = format!("<</Type/Page/MediaBox[0 0 612 792]/Annots[{note}]>>");
    let form = format!("{FORM}/Filter/FlateDecode");
    let bytes = file(&[
        (CATALOG, None),
        (ONE, None),
        (&sheet, None),
        (&form, Some(&spaces)),
    ]);
    assert_eq!(soon("notes", &bytes), Err(Refusal::TooMuchDrawn));
}

/// Close under every limit at once: words on two hundred pages, a long file, parts that unpack to half a gibibyte.
#[test]
fn the_worst_that_is_read_stays_within_what_is_stated() {
    let mut steps = String::from("BT /F 2 Tf 2 TL 20 780 Td ");
    for row in 0..290 {
        let _ = write!(steps, "({} Ground post steel plain) Tj T* ", row % 90 + 1);
    }
    steps.push_str("ET");
    let kids = "3 0 R ".repeat(200);
    let tree = format!("<</Type/Pages/Count 200/Kids[{kids}]>>");
    let (filler, spaces) = (vec![b'x'; 20 << 20], packed(&vec![b' '; 60 << 20]));
    let mut objects: Vec<(&str, Option<&[u8]>)> = vec![
        (CATALOG, None),
        (&tree, None),
        (SHEET, None),
        ("", Some(steps.as_bytes())),
        (FONT, None),
        (FORM, Some(&filler)),
    ];
    objects.extend([("/Filter/FlateDecode", Some(&spaces[..])); 8]);
    let (outcome, peak, took) = read_apart_timed("pdf", &file(&objects));
    println!("the worst PDF: {outcome}, peak {peak} MiB, {took} ms");
    assert!(outcome.starts_with("58000 rows"), "{outcome}");
    assert!(peak <= 400, "{peak} MiB");
}

/// What stands on a layer that is off is not read, and it is said so: ISO 32000-1, 8.11.
#[test]
fn layers_that_are_off() {
    let sheet = "<</Type/Page/MediaBox[0 0 612 792]/Contents 4 0 R/Resources<</Font<</F 5 0 R>>/XObject<</X 6 0 R>>\
                 /Properties<</L 7 0 R/M 8 0 R>>>>>>";
    let contents = b"BT /F 10 Tf 72 700 Td (26 Ground post) Tj ET \
        /OC /L BDC BT /F 10 Tf 72 680 Td (12 Old ridge clamp) Tj ET EMC \
        /OC /M BDC BT /F 10 Tf 72 660 Td (4 Ridge tube) Tj ET EMC /X Do";
    let form = format!("{FORM}/OC 7 0 R/Resources<</Font<</F 5 0 R>>>>");
    let with = |settings: &str| {
        let catalog = format!(
            "<</Type/Catalog/Pages 2 0 R/OCProperties<</OCGs[7 0 R 8 0 R]/D<<{settings}>>>>>>"
        );
        let bytes = file(&[
            (&catalog, None),
            (ONE, None),
            (sheet, None),
            ("", Some(contents)),
            (FONT, None),
            (&form, Some(b"BT /F 10 Tf 72 640 Td (9 Baseboard) Tj ET")),
            ("<</Type/OCG/Name(old)>>", None),
            ("<</Type/OCG/Name(new)>>", None),
        ]);
        let sheets = read_sheets(&bytes, "list.pdf").unwrap();
        let lines: Vec<String> = sheets.sheets[0]
            .lines
            .iter()
            .map(|line| line.text())
            .collect();
        let said = sheets
            .warnings
            .iter()
            .any(|warning| warning.what.contains("layer"));
        (lines.join("; "), said)
    };
    let all = "26 Ground post; 12 Old ridge clamp; 4 Ridge tube; 9 Baseboard";
    assert_eq!(with(""), (all.to_owned(), false));
    let some = ("26 Ground post; 4 Ridge tube".to_owned(), true);
    assert_eq!(with("/OFF[7 0 R]"), some);
    assert_eq!(with("/BaseState/OFF/ON[8 0 R]"), some);
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
