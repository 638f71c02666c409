//! Pictures of lists, made by `tests/pictures/make.py --many DIR`, found, laid flat and read:
//!
//!     TALLYARD_PICTURES=DIR cargo bench -p ocr --bench pictures
//!
//! Prints for each how far the corners are off, the seconds, the share of words and of rows that came out right. Without
//! DIR it takes the pictures that the tests read.

#![allow(clippy::unwrap_used, reason = "a bench that cannot go on should stop")]

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::time::Instant;

const OURS: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/pictures");

fn main() {
    let folder =
        std::env::var_os("TALLYARD_PICTURES").map_or_else(|| PathBuf::from(OURS), PathBuf::from);
    let program = ocr::Program::find().unwrap();
    println!("tesseract {}", program.version());
    println!(
        "| picture | corners off, px | ratio off, % | edge of a word's height, px | laid flat, s | in all, s | words right, % | rows right | counts wrong without a doubt |"
    );
    println!("| --- | --- | --- | --- | --- | --- | --- | --- | --- |");
    let corners = corners(&folder.join("corners.csv"));
    let mut names: Vec<String> = std::fs::read_dir(&folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .filter(|name| name.ends_with(".jpg"))
        .collect();
    names.sort();
    let (mut words, mut rows, mut silently) = ([0, 0], [0, 0], 0);
    for name in names {
        let bytes = std::fs::read(folder.join(&name)).unwrap();
        let start = Instant::now();
        let sheet = photo::sheet_in(&bytes).unwrap();
        let flat = start.elapsed().as_secs_f32();
        let start = Instant::now();
        let read = ocr::list_of_by(&program, &[(name.clone(), bytes)]);
        let all = start.elapsed().as_secs_f32();
        let off = corners.get(&name).map_or_else(String::new, |(corners, _)| {
            format!("{:.1}", off(&sheet, corners))
        });
        let ratio = corners.get(&name).map_or_else(String::new, |(_, ratio)| {
            let found = sheet.page.width() as f32 / sheet.page.height() as f32;
            let [a, b] = [found / ratio, found * ratio].map(|r| 100.0 * (r - 1.0));
            format!("{:.1}", if a.abs() < b.abs() { a } else { b })
        });
        let (right, of, row) = match &read {
            Ok(read) => {
                let truth = truth(&name);
                if let Some(to) = std::env::var_os("TALLYARD_KEEP") {
                    let to = PathBuf::from(to);
                    std::fs::write(to.join(format!("{name}.xml")), &read.alto).unwrap();
                    std::fs::write(to.join(format!("{name}.flat.jpg")), &read.pictures[0].jpeg)
                        .unwrap();
                }
                let (right, of) = words_right(&truth, &read.alto);
                (right, of, rows_right(&truth, &read.alto))
            }
            Err(why) => {
                println!("| {name} | {why} |");
                continue;
            }
        };
        words = [words[0] + right, words[1] + of];
        rows = [rows[0] + row.0, rows[1] + row.1];
        let silent = read
            .as_ref()
            .map_or(0, |read| silently_wrong(&truth(&name), &read.alto));
        silently += silent;
        let high = read.as_ref().map_or(0.0, |read| word_height(&read.alto));
        let edge = sheet
            .blur
            .map_or_else(String::new, |blur| format!("{blur:.1} of {high:.0}"));
        println!(
            "| {name} | {off} | {ratio} | {edge} | {flat:.2} | {all:.1} | {:.1} | {} of {} | {silent} |",
            100.0 * right as f32 / of as f32,
            row.0,
            row.1
        );
        for warning in read.unwrap().warnings {
            println!("  {warning}");
        }
    }
    println!(
        "words {:.2} %, rows {:.2} %, counts wrong without a doubt {silently}",
        100.0 * words[0] as f32 / words[1] as f32,
        100.0 * rows[0] as f32 / rows[1] as f32
    );
}

/// The middle height of a word, in pixels.
fn word_height(alto: &[u8]) -> f32 {
    let alto = String::from_utf8_lossy(alto);
    let words = alto.split("<String ").skip(1);
    let mut heights: Vec<f32> = words
        .filter_map(|word| {
            word.split("HEIGHT=\"")
                .nth(1)?
                .split('"')
                .next()?
                .parse()
                .ok()
        })
        .collect();
    heights.sort_by(f32::total_cmp);
    heights.get(heights.len() / 2).copied().unwrap_or(0.0)
}

fn corners(path: &Path) -> BTreeMap<String, ([[f32; 2]; 4], f32)> {
    let mut reader = csv::Reader::from_path(path).unwrap();
    reader
        .records()
        .map(|record| {
            let record = record.unwrap();
            let n = |i: usize| record[i].parse::<f32>().unwrap();
            let corners = std::array::from_fn(|i| [n(1 + 2 * i), n(2 + 2 * i)]);
            (record[0].to_owned(), (corners, n(9)))
        })
        .collect()
}

/// The largest distance of a found corner from its own; the corners may be named from another one.
fn off(sheet: &photo::Sheet, corners: &[[f32; 2]; 4]) -> f32 {
    (0..4)
        .map(|turn| {
            (0..4)
                .map(|i| {
                    let [a, b] = [sheet.corners[(i + turn) % 4], corners[i]];
                    (a[0] - b[0]).hypot(a[1] - b[1])
                })
                .fold(0.0, f32::max)
        })
        .fold(f32::MAX, f32::min)
}

fn truth(name: &str) -> Vec<csv::StringRecord> {
    let list = ["ruled", "plain", "printed"]
        .into_iter()
        .find(|list| name.contains(list))
        .unwrap_or("ruled");
    let mut reader = csv::Reader::from_path(Path::new(OURS).join(format!("{list}.csv"))).unwrap();
    reader.records().map(Result::unwrap).collect()
}

fn words_right(truth: &[csv::StringRecord], alto: &[u8]) -> (usize, usize) {
    let alto = String::from_utf8_lossy(alto)
        .replace("&quot;", "\"")
        .replace("&amp;", "&");
    let mut read: BTreeMap<&str, usize> = BTreeMap::new();
    for part in alto.split("CONTENT=\"").skip(1) {
        *read.entry(part.split('"').next().unwrap()).or_default() += 1;
    }
    let wanted: Vec<&str> = truth
        .iter()
        .flatten()
        .flat_map(str::split_whitespace)
        .collect();
    let mut right = 0;
    for word in &wanted {
        match read.get_mut(word) {
            Some(left) if *left > 0 => {
                *left -= 1;
                right += 1;
            }
            _ => {
                if std::env::var_os("TALLYARD_SAY").is_some() {
                    println!("    not read: {word}")
                }
            }
        }
    }
    (right, wanted.len())
}

/// Rows whose quantity, code and description are all as written.
fn rows_right(truth: &[csv::StringRecord], alto: &[u8]) -> (usize, usize) {
    let Ok(list) = list::read(alto, "words") else {
        return (0, truth.len());
    };
    let right = truth.iter().filter(|record| {
        list.rows.iter().any(|row| {
            let has = |text: &str| record.iter().any(|cell| cell == text);
            let count = row.quantity.is_some_and(|n| has(&n.to_string()));
            count && has(&row.code) && has(&row.description)
        })
    });
    (right.count(), truth.len())
}

/// Rows that stand for a written one, by its code or its description, with another count and no doubt. A pair is two.
fn silently_wrong(truth: &[csv::StringRecord], alto: &[u8]) -> usize {
    let Ok(list) = list::read(alto, "words") else {
        return 0;
    };
    let sure = list.rows.iter().filter(|row| row.doubt.is_none());
    let wrong = sure.filter(|row| {
        let is_it = |cell: &str| !cell.is_empty() && (cell == row.code || cell == row.description);
        let record = truth.iter().find(|record| record.iter().any(is_it));
        record.is_some_and(|record| {
            let each = if &record[2] == "pr" { 2 } else { 1 };
            let right = |cell: &str| {
                let count = cell.parse::<i64>().ok();
                count.is_some() && row.quantity == count.map(|count| each * count)
            };
            !record.iter().any(right)
        })
    });
    wrong.count()
}
