//! Lists that a browser set and a reckoned camera took (`tests/pictures/make.py`), read by the real program, and held
//! against the rows from which they were set, which were written by hand.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use list::PackingList;
use ocr::{Program, Recognised, list_of_by};

/// The program; nothing, with a word, where it is not here and need not be. `./test` installs it, and says that it must.
fn program() -> Option<Program> {
    match Program::find() {
        Ok(program) => Some(program),
        Err(missing) if std::env::var_os("TALLYARD_NEEDS_OCR").is_some() => panic!("{missing}"),
        Err(missing) => {
            eprintln!("passed over: {missing}");
            None
        }
    }
}

fn file(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("tests/pictures")
        .join(name)
}

fn picture(name: &str) -> (String, Vec<u8>) {
    (name.to_owned(), fs::read(file(name)).unwrap())
}

fn read(program: &Program, names: &[&str]) -> (Recognised, PackingList) {
    let pictures: Vec<_> = names.iter().map(|name| picture(name)).collect();
    let read = list_of_by(program, &pictures).unwrap();
    let list = list::read(&read.alto, "words.xml").unwrap();
    (read, list)
}

/// The rows as written: code, description, pieces. A pair ("pr" in the third column of one list) is two pieces.
fn written(
    name: &str,
    [code, description, pieces]: [usize; 3],
) -> Vec<(String, String, Option<i64>)> {
    let mut reader = csv::Reader::from_path(file(name)).unwrap();
    reader
        .records()
        .map(|record| {
            let record = record.unwrap();
            let each = if &record[2] == "pr" { 2 } else { 1 };
            let pieces = record[pieces].parse().ok().map(|count: i64| each * count);
            (
                record[code].to_owned(),
                record[description].to_owned(),
                pieces,
            )
        })
        .collect()
}

fn compare(list: &PackingList, wanted: &[(String, String, Option<i64>)], most_wrong: usize) {
    let rows: Vec<_> = list
        .rows
        .iter()
        .map(|row| (row.code.clone(), row.description.clone(), row.quantity))
        .collect();
    let is_read = |(code, description, pieces): &(String, String, Option<i64>)| {
        let mut rows = rows.iter();
        rows.any(|row| {
            (code.is_empty() || row.0 == *code) && row.1 == *description && row.2 == *pieces
        })
    };
    let wrong: Vec<_> = wanted.iter().filter(|row| !is_read(row)).collect();
    assert!(
        wrong.len() <= most_wrong,
        "not read: {wrong:#?}\nread: {rows:#?}"
    );
    // A count that is wrong is said to be looked at.
    for row in &list.rows {
        let same = wanted
            .iter()
            .find(|(code, description, _)| match code.is_empty() {
                true => *description == row.description,
                false => *code == row.code,
            });
        if let Some((_, _, pieces)) = same {
            assert!(row.quantity == *pieces || row.doubt.is_some(), "{row:?}");
        }
    }
}

#[test]
fn a_ruled_list_on_a_table_is_read() {
    let Some(program) = program() else { return };
    let (read, list) = read(&program, &["ruled_on_wood.jpg"]);
    compare(&list, &written("ruled.csv", [3, 4, 1]), 1);
    assert_eq!(read.warnings, Vec::<String>::new());
    // Each row knows its strip of the kept picture, one below the other.
    let strips: Vec<_> = list
        .rows
        .iter()
        .map(|row| row.seen.as_ref().unwrap())
        .collect();
    assert!(
        strips
            .iter()
            .all(|seen| seen.picture == read.pictures[0].digest)
    );
    assert!(
        strips
            .windows(2)
            .all(|pair| pair[0].strip[1] < pair[1].strip[1])
    );
    let seen = strips[0];
    let strip = photo::strip(&read.pictures[0].jpeg, seen.strip, 8).unwrap();
    assert!(strip.starts_with(b"\xff\xd8\xff"));
}

#[test]
fn a_list_on_its_side_and_one_upside_down_are_read() {
    let Some(program) = program() else { return };
    for name in ["plain_on_its_side.jpg", "plain_upside_down_noted.jpg"] {
        let (_, list) = read(&program, &[name]);
        // Which of "Pos" and "Article" heads the codes is for the reader of tables to say, not for that of pictures.
        let mut wanted = written("plain.csv", [1, 2, 3]);
        wanted.iter_mut().for_each(|row| row.0.clear());
        compare(&list, &wanted, 1);
    }
}

#[test]
fn a_scan_is_read() {
    let Some(program) = program() else { return };
    let (read, list) = read(&program, &["printed_scan.jpg"]);
    compare(&list, &written("printed.csv", [2, 3, 0]), 1);
    assert!(
        read.warnings[0].contains("whole picture"),
        "{:?}",
        read.warnings
    );
}

/// A PDF that shows each JPEG on a Letter page of its own, and one page with nothing on it (ISO 32000-1, 7.5 and 8.9.5).
fn scanned_pdf(jpegs: &[Vec<u8>]) -> Vec<u8> {
    let kids: Vec<String> = (0..=jpegs.len())
        .map(|n| format!("{} 0 R", 3 + 3 * n))
        .collect();
    let mut objects: Vec<Vec<u8>> = vec![
        b"<</Type/Catalog/Pages 2 0 R>>".to_vec(),
        format!(
            "<</Type/Pages/Count {}/Kids[{}]/MediaBox[0 0 612 792]>>",
            kids.len(),
            kids.join(" ")
        )
        .into_bytes(),
    ];
    let blank = vec![0xffu8; 100];
    for n in 0..=jpegs.len() {
        let (says, data) = match jpegs.get(n) {
            Some(jpeg) => {
                let size = photo::look(jpeg).unwrap().stored;
                let says = format!(
                    "/Width {}/Height {}/Filter/DCTDecode",
                    size.width, size.height
                );
                (says, jpeg)
            }
            None => ("/Width 10/Height 10".to_owned(), &blank),
        };
        let draw = "q 612 0 0 792 0 0 cm /P Do Q";
        objects.push(
            format!(
                "<</Type/Page/Parent 2 0 R/Contents {} 0 R/Resources<</XObject<</P {} 0 R>>>>>>",
                4 + 3 * n,
                5 + 3 * n
            )
            .into_bytes(),
        );
        objects.push(format!("<</Length {}>>stream\n{draw}\nendstream", draw.len()).into_bytes());
        let head = format!(
            "<</Type/XObject/Subtype/Image/ColorSpace/DeviceGray/BitsPerComponent 8{says}/Length {}>>stream\n",
            data.len()
        );
        objects.push([head.as_bytes(), data, b"\nendstream"].concat());
    }
    let (mut out, mut places) = (b"%PDF-1.4\n".to_vec(), String::new());
    for (n, object) in objects.iter().enumerate() {
        places.push_str(&format!("{:010} 00000 n \n", out.len()));
        out.extend(format!("{} 0 obj\n", n + 1).bytes());
        out.extend(object);
        out.extend(b"\nendobj\n");
    }
    let (at, many) = (out.len(), objects.len() + 1);
    out.extend(
        format!("xref\n0 {many}\n0000000000 65535 f \n{places}trailer\n<</Size {many}/Root 1 0 R>>\nstartxref\n{at}\n%%EOF\n")
            .bytes(),
    );
    out
}

#[test]
fn a_scanned_pdf_is_read_page_by_page() {
    let Some(program) = program() else { return };
    let pdf = scanned_pdf(&[picture("printed_scan.jpg").1]);
    assert!(ocr::is_picture(&pdf));
    let read = list_of_by(&program, &[("scan.pdf".into(), pdf)]).unwrap();
    let list = list::read(&read.alto, "words.xml").unwrap();
    compare(&list, &written("printed.csv", [2, 3, 0]), 1);
    assert_eq!(read.pictures.len(), 1);
    assert!(
        read.warnings
            .contains(&"scan.pdf, page 2: no words were found on it".to_owned()),
        "{:?}",
        read.warnings
    );
    let empty = list_of_by(&program, &[("blank.pdf".into(), scanned_pdf(&[]))]).unwrap_err();
    assert!(
        empty.to_string().starts_with("blank.pdf, page 1: no words"),
        "{empty}"
    );
}

#[test]
fn letters_that_are_too_small_are_said_to_be() {
    let Some(program) = program() else { return };
    let scan = image::load_from_memory(&picture("printed_scan.jpg").1).unwrap();
    let (wide, high) = (scan.width() / 5, scan.height() / 5);
    let mut small = Vec::new();
    scan.thumbnail(wide, high)
        .write_to(
            &mut std::io::Cursor::new(&mut small),
            image::ImageFormat::Png,
        )
        .unwrap();
    let says = match list_of_by(&program, &[("far.png".into(), small)]) {
        Ok(read) => read.warnings.join(" "),
        Err(why) => why.to_string(),
    };
    assert!(says.contains("too small"), "{says}");
}

#[test]
fn pages_follow_each_other() {
    let Some(program) = program() else { return };
    let names = ["plain_on_its_side.jpg", "plain_upside_down_noted.jpg"];
    let (read, list) = read(&program, &names);
    assert_eq!(read.pictures.len(), 2);
    let pages: Vec<&str> = list.rows.iter().map(|row| row.at.sheet.as_str()).collect();
    assert!(
        pages.contains(&"page 1") && pages.contains(&"page 2"),
        "{pages:?}"
    );
}

#[test]
fn a_blurred_picture_is_said_to_be_blurred() {
    let Some(program) = program() else { return };
    let says = match list_of_by(&program, &[picture("blurred.jpg")]) {
        Ok(read) => read.warnings.join(" "),
        Err(why) => why.to_string(),
    };
    assert!(says.contains("not sharp enough"), "{says}");
}

#[test]
fn corners_are_where_the_camera_put_them() {
    let mut reader = csv::Reader::from_path(file("corners.csv")).unwrap();
    let real: BTreeMap<String, Vec<f32>> = reader
        .records()
        .map(|record| {
            let record = record.unwrap();
            let numbers = record.iter().skip(1).map(|n| n.parse().unwrap()).collect();
            (record[0].to_owned(), numbers)
        })
        .collect();
    assert_eq!(real.len(), 3);
    for (name, numbers) in real {
        let sheet = photo::sheet_in(&picture(&name).1).unwrap();
        for found in sheet.corners {
            let off = numbers[..8]
                .chunks(2)
                .map(|real| (found[0] - real[0]).hypot(found[1] - real[1]))
                .fold(f32::MAX, f32::min);
            assert!(off < 1.5, "{name}: a corner is {off:.2} pixels off");
        }
        let ratio = sheet.page.width() as f32 / sheet.page.height() as f32;
        let off = [ratio / numbers[8], ratio * numbers[8]].map(|r| (r - 1.0).abs());
        assert!(
            off[0].min(off[1]) < 0.01,
            "{name}: the sides are as {ratio}"
        );
    }
}
