//! Which way up a page is, and its words.

use image::GrayImage;
use image::imageops::{self, FilterType};
use photo::Sheet;

use crate::program::Program;
use crate::run::{Failed, MOST_TIME, run};
use crate::words::{self, Word};

/// The longest side of the copy on which the way up is looked for.
const SMALL: u32 = 1700;
/// The way up that the program names is taken from this much; below it the turns are tried.
const NAMED_SURELY: f32 = 1.0;
/// Words that are read more surely than this stand upright: upside down they come to about 0.3, upright to 0.9.
const READ: f32 = 0.7;

/// Recognises the words of a page, stood the right way up first.
pub(crate) fn recognised(program: &Program, sheet: Sheet) -> Result<(Sheet, Vec<Word>), Failed> {
    let named = named(program, &small(&sheet.words));
    let quarters = match named {
        Some(quarters) => quarters,
        None => surest(program, &sheet.words)?,
    };
    let sheet = sheet.turned(quarters);
    let words = words_of(program, &sheet.words)?;
    if named.is_none() || sure(&words) > READ {
        return Ok((sheet, words));
    }
    // Capitals alone are named the wrong way up, and surely.
    match surest(program, &sheet.words)? {
        0 => Ok((sheet, words)),
        quarters => {
            let sheet = sheet.turned(quarters);
            let words = words_of(program, &sheet.words)?;
            Ok((sheet, words))
        }
    }
}

/// How surely the words were read, all of them together; 0 where there are none.
fn sure(words: &[Word]) -> f32 {
    words.iter().map(|word| word.sure).sum::<f32>() / words.len().max(1) as f32
}

/// The quarter turns, clockwise, by which the program says that the page is off; nothing where it is not sure.
fn named(program: &Program, page: &GrayImage) -> Option<u8> {
    let arguments = ["-", "-", "--psm", "0"];
    let said = run(program.path(), &arguments, &as_pgm(page), MOST_TIME).ok()?;
    let said = String::from_utf8_lossy(&said);
    let after = |name: &str| {
        let line = said.lines().find_map(|line| line.trim().strip_prefix(name));
        line.and_then(|rest| rest.trim().parse::<f32>().ok())
    };
    let turn = after("Rotate:")?;
    let sure = after("Orientation confidence:")?;
    (sure >= NAMED_SURELY).then_some(((turn / 90.0).round() as i64).rem_euclid(4) as u8)
}

/// A small copy, which takes a quarter of the time.
fn small(page: &GrayImage) -> GrayImage {
    let longest = page.width().max(page.height());
    let scale = (SMALL as f32 / longest as f32).min(1.0);
    let side = |side: u32| ((side as f32 * scale) as u32).max(1);
    let [wide, high] = [page.width(), page.height()].map(side);
    imageops::resize(page, wide, high, FilterType::Triangle)
}

/// The quarter turns after which most is read, and most surely, on a small copy.
fn surest(program: &Program, page: &GrayImage) -> Result<u8, Failed> {
    let small = small(page);
    let mut best = (0.0, 0);
    for quarters in [0, 2, 1, 3] {
        let turned = match quarters {
            1 => imageops::rotate90(&small),
            2 => imageops::rotate180(&small),
            3 => imageops::rotate270(&small),
            _ => small.clone(),
        };
        let words = words_of(program, &turned)?;
        let letters = |word: &Word| word.text.chars().filter(|c| c.is_alphanumeric()).count();
        let worth: f32 = words
            .iter()
            .map(|word| letters(word) as f32 * (word.sure - 0.4).max(0.0))
            .sum();
        if worth > best.0 * 1.1 {
            best = (worth, quarters);
        }
    }
    Ok(best.1)
}

/// The words of a page that stands upright.
fn words_of(program: &Program, page: &GrayImage) -> Result<Vec<Word>, Failed> {
    // As one column of lines of any size: taken apart further, a table loses the ends of its rows.
    let arguments = [
        "-",
        "-",
        "-l",
        "eng",
        "--psm",
        "4",
        "--dpi",
        "300",
        "-c",
        "tessedit_create_tsv=1",
    ];
    let said = run(program.path(), &arguments, &as_pgm(page), MOST_TIME)?;
    let size = [page.width(), page.height()];
    Ok(words::read(&String::from_utf8_lossy(&said), size))
}

/// A page as plain grey bytes with a head of one line (PGM), which needs no packing and unpacking.
fn as_pgm(page: &GrayImage) -> Vec<u8> {
    let head = format!("P5\n{} {}\n255\n", page.width(), page.height());
    [head.as_bytes(), page.as_raw()].concat()
}
