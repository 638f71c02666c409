//! Programs that are not what they should be: each is a small script that stands in for the recogniser.

use std::fs;
use std::io::Cursor;
use std::os::unix::fs::PermissionsExt;
use std::path::PathBuf;
use std::time::{Duration, Instant};

use image::{GrayImage, ImageFormat, Luma};
use ocr::{Failed, Missing, Program, Unread, list_of_by};
use tempfile::TempDir;

/// Answers as the program does when it is asked what it is, and otherwise does what the test says.
fn script(does: &str) -> (TempDir, PathBuf) {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("tesseract");
    let text = format!(
        "#!/bin/sh\ncase \"$1\" in\n--version) echo 'tesseract 5.3.0'; exit 0;;\n--list-langs) echo eng; exit 0;;\nesac\n{does}\n"
    );
    fs::write(&path, text).unwrap();
    fs::set_permissions(&path, fs::Permissions::from_mode(0o755)).unwrap();
    (folder, path)
}

fn picture(shade: u8) -> (String, Vec<u8>) {
    let mut bytes = Vec::new();
    let picture = GrayImage::from_fn(300, 400, |x, y| Luma([if x == y { 0 } else { shade }]));
    picture
        .write_to(&mut Cursor::new(&mut bytes), ImageFormat::Png)
        .unwrap();
    ("front.png".to_owned(), bytes)
}

const ROW: &str = "5\\t1\\t1\\t1\\t1\\t1\\t10\\t10\\t50\\t20\\t91.5\\tBow <&\"half\\n";

#[test]
fn what_it_recognises_becomes_alto_with_the_picture_beside_it() {
    let (_folder, path) = script(&format!("cat > /dev/null; printf '{ROW}'"));
    let program = Program::at(&path).unwrap();
    assert_eq!(program.version(), "5.3.0");
    let read = list_of_by(&program, &[picture(250)]).unwrap();
    let alto = String::from_utf8(read.alto).unwrap();
    assert!(
        alto.contains("CONTENT=\"Bow &lt;&amp;&quot;half\""),
        "{alto}"
    );
    assert!(
        alto.contains("HPOS=\"10\" VPOS=\"10\" WIDTH=\"50\" HEIGHT=\"20\" WC=\"0.9"),
        "{alto}"
    );
    assert_eq!(read.pictures.len(), 1);
    assert!(alto.contains(&format!("ID=\"picture-{}\"", read.pictures[0].digest)));
    assert!(read.pictures[0].jpeg.starts_with(b"\xff\xd8\xff"));
}

/// What may stand in each element, in this order, and the attributes that it must have: copied by hand from the schema
/// `alto-4-2.xsd` of the ALTO board (<https://github.com/altoxml/schema>), as far as those elements go.
const SCHEMA: [(&str, &[&str], &[&str]); 14] = [
    ("alto", &["Description", "Styles", "Tags", "Layout"], &[]),
    (
        "Description",
        &[
            "MeasurementUnit",
            "sourceImageInformation",
            "OCRProcessing",
            "Processing",
        ],
        &[],
    ),
    ("MeasurementUnit", &[], &[]),
    (
        "Processing",
        &[
            "processingCategory",
            "processingDateTime",
            "processingAgency",
            "processingStepDescription",
            "processingStepSettings",
            "processingSoftware",
        ],
        &["ID"],
    ),
    ("processingCategory", &[], &[]),
    ("processingStepDescription", &[], &[]),
    (
        "processingSoftware",
        &[
            "softwareCreator",
            "softwareName",
            "softwareVersion",
            "applicationDescription",
        ],
        &[],
    ),
    ("softwareName", &[], &[]),
    ("softwareVersion", &[], &[]),
    ("Layout", &["Page"], &[]),
    (
        "Page",
        &[
            "TopMargin",
            "LeftMargin",
            "RightMargin",
            "BottomMargin",
            "PrintSpace",
        ],
        &["ID", "PHYSICAL_IMG_NR"],
    ),
    ("TextBlock", &["Shape", "TextLine"], &["ID"]),
    ("GraphicalElement", &["Shape"], &["ID"]),
    ("String", &["Shape", "ALTERNATIVE", "Glyph"], &["CONTENT"]),
];

#[test]
fn what_is_written_keeps_to_the_schema() {
    let two =
        ROW.replace("Bow <&\"half", "Leg") + &ROW.replace("5\\t1\\t1\\t1\\t1", "5\\t1\\t1\\t1\\t2");
    let (_folder, path) = script(&format!("cat > /dev/null; printf '{two}'"));
    let program = Program::at(&path).unwrap();
    let read = list_of_by(&program, &[picture(250), picture(240)]).unwrap();
    let alto = String::from_utf8(read.alto).unwrap();
    let document = roxmltree::Document::parse(&alto).unwrap();
    let mut ids = std::collections::BTreeSet::new();
    for element in document.descendants().filter(roxmltree::Node::is_element) {
        let name = element.tag_name().name();
        assert_eq!(
            element.tag_name().namespace(),
            Some("http://www.loc.gov/standards/alto/ns-v4#")
        );
        if let Some(id) = element.attribute("ID") {
            assert!(ids.insert(id), "{id} twice");
            assert!(id.starts_with(|c: char| c.is_alphabetic()), "{id}");
        }
        let children: Vec<&str> = (element.children())
            .filter(roxmltree::Node::is_element)
            .map(|child| child.tag_name().name())
            .collect();
        let (order, must): (&[&str], &[&str]) = match name {
            // Blocks of all kinds in any order; words with a space after each or none.
            "PrintSpace" | "TextLine" => {
                let may =
                    |child: &&str| ["TextBlock", "GraphicalElement", "String"].contains(child);
                assert!(children.iter().all(may), "{name}: {children:?}");
                continue;
            }
            name => {
                let known = SCHEMA.iter().find(|(element, ..)| *element == name);
                let (_, order, must) = known.unwrap_or_else(|| panic!("{name}"));
                (order, must)
            }
        };
        let places: Vec<Option<usize>> = (children.iter())
            .map(|child| order.iter().position(|name| name == child))
            .collect();
        assert!(places.iter().all(Option::is_some), "{name}: {children:?}");
        assert!(places.is_sorted(), "{name}: {children:?}");
        assert!(must.iter().all(|a| element.has_attribute(*a)), "{name}");
        for sure in element.attribute("WC").iter() {
            assert!(
                (0.0..=1.0).contains(&sure.parse::<f32>().unwrap()),
                "{sure}"
            );
        }
    }
    // Two words on each of two pages.
    assert_eq!(alto.matches("<String ").count(), 4);
}

#[test]
fn the_same_picture_twice_is_read_once() {
    let (_folder, path) = script(&format!("cat > /dev/null; printf '{ROW}'"));
    let program = Program::at(&path).unwrap();
    let read = list_of_by(&program, &[picture(250), picture(250)]).unwrap();
    assert_eq!(read.pictures.len(), 1);
    assert!(
        read.warnings.iter().any(|w| w.contains("twice")),
        "{:?}",
        read.warnings
    );
}

#[test]
fn one_that_gives_up_says_why() {
    let (_folder, path) = script("cat > /dev/null; echo 'no such picture' >&2; exit 3");
    let program = Program::at(&path).unwrap();
    let why = list_of_by(&program, &[picture(250)]).unwrap_err();
    let Unread::Failed {
        why: Failed::GaveUp(said),
        ..
    } = why
    else {
        panic!("{why}");
    };
    assert_eq!(said, "no such picture");
}

#[test]
fn one_that_says_too_much_is_ended() {
    let (_folder, path) = script("cat > /dev/null; yes aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa");
    let program = Program::at(&path).unwrap();
    let start = Instant::now();
    let why = list_of_by(&program, &[picture(250)]).unwrap_err();
    assert!(
        matches!(
            why,
            Unread::Failed {
                why: Failed::SaidTooMuch,
                ..
            }
        ),
        "{why}"
    );
    assert!(start.elapsed() < Duration::from_secs(60));
}

#[test]
fn one_that_reads_nothing_and_complains_without_end_stops_nothing() {
    let (_folder, path) = script(&format!(
        "head -c 300000 /dev/zero | tr '\\0' 'e' >&2; printf '{ROW}'"
    ));
    let program = Program::at(&path).unwrap();
    assert!(list_of_by(&program, &[picture(250)]).is_ok());
}

#[test]
fn what_is_missing_is_said_with_the_command_that_installs_it() {
    let gone = Program::at("/nowhere/tesseract".as_ref()).unwrap_err();
    assert!(
        gone.to_string().contains("sudo apt install tesseract-ocr"),
        "{gone}"
    );
    let absent = Missing::Absent.to_string();
    assert!(
        absent.contains("sudo apt install tesseract-ocr"),
        "{absent}"
    );
    let old = |version: &str| {
        let (folder, path) = script("");
        let text = fs::read_to_string(&path).unwrap().replace("5.3.0", version);
        fs::write(&path, text).unwrap();
        (Program::at(&path), folder)
    };
    assert_eq!(
        old("3.04.01").0.unwrap_err(),
        Missing::TooOld("3.04.01".into())
    );
    assert!(old("v5.0.0-alpha").0.is_ok());
    assert!(matches!(
        old("of the sea").0.unwrap_err(),
        Missing::TooOld(_)
    ));
}

#[test]
fn what_is_no_picture_is_refused_by_name() {
    let (_folder, path) = script("exit 1");
    let program = Program::at(&path).unwrap();
    let why = list_of_by(&program, &[("list.pdf".into(), b"%PDF-1.7".to_vec())]).unwrap_err();
    assert!(
        why.to_string().starts_with("list.pdf: this PDF is damaged"),
        "{why}"
    );
    assert!(matches!(list_of_by(&program, &[]), Err(Unread::HowMany(0))));
    let many = vec![picture(250); 25];
    assert!(matches!(
        list_of_by(&program, &many),
        Err(Unread::HowMany(25))
    ));
}
