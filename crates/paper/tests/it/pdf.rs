//! A PDF as poppler sees it.

use std::path::PathBuf;
use std::process::Command;
use std::sync::atomic::{AtomicU32, Ordering};

/// A PDF in a file of its own, gone when dropped.
pub struct Pdf {
    path: PathBuf,
}

/// A font in a PDF.
#[derive(Debug)]
pub struct Font {
    // Told when an assertion fails.
    #[allow(dead_code)]
    pub name: String,
    /// Whether it lies in the file.
    pub embedded: bool,
    /// Whether its letters can be read out as Unicode.
    pub means_letters: bool,
}

static NEXT: AtomicU32 = AtomicU32::new(0);

impl Pdf {
    pub fn new(bytes: &[u8]) -> Self {
        let number = NEXT.fetch_add(1, Ordering::Relaxed);
        let name = format!("tallyard-paper-{}-{number}.pdf", std::process::id());
        let path = std::env::temp_dir().join(name);
        std::fs::write(&path, bytes).expect("the temporary folder takes files");
        Self { path }
    }

    /// The text, columns kept.
    pub fn text(&self) -> String {
        self.run("pdftotext", &["-layout", "-enc", "UTF-8"], &["-"])
    }

    /// The text of one page, from 1.
    pub fn page(&self, page: usize) -> String {
        let page = page.to_string();
        self.run("pdftotext", &["-layout", "-f", &page, "-l", &page], &["-"])
    }

    /// The text without any space: lines of a cell stand one under the other, so a long word is
    /// found only like this.
    pub fn letters(&self) -> String {
        let raw = self.run("pdftotext", &["-raw", "-enc", "UTF-8"], &["-"]);
        squeeze(&raw)
    }

    /// Each word of a page, from 1, with its left and right end in points.
    pub fn places(&self, page: usize) -> Vec<(String, f64, f64)> {
        let page = page.to_string();
        let all = self.run("pdftotext", &["-bbox", "-f", &page, "-l", &page], &["-"]);
        all.lines().filter_map(place).collect()
    }

    /// Each word of a page, from 1, with left, top, right and bottom in millimetres.
    pub fn boxes(&self, page: usize) -> Vec<(String, [f64; 4])> {
        let page = page.to_string();
        let all = self.run("pdftotext", &["-bbox", "-f", &page, "-l", &page], &["-"]);
        all.lines().filter_map(place_in_mm).collect()
    }

    /// A page, from 1, as a printer of 300 dots to the inch sees it: width, and grey row by row.
    pub fn printed(&self, page: usize) -> (usize, Vec<u8>) {
        let page = page.to_string();
        let root = self.path.with_extension(page.as_str());
        let out = Command::new("pdftoppm")
            .args([
                "-r",
                "300",
                "-gray",
                "-singlefile",
                "-f",
                &page,
                "-l",
                &page,
            ])
            .arg(&self.path)
            .arg(&root)
            .status();
        assert!(out.is_ok_and(|status| status.success()), "pdftoppm failed");
        let file = root.with_extension(format!("{page}.pgm"));
        let bytes = std::fs::read(&file).expect("pdftoppm has written a picture");
        let _ = std::fs::remove_file(file);
        // P5, width, height, 255, each with one white space behind it.
        let mut head = bytes.splitn(4, |byte| byte.is_ascii_whitespace());
        let mut next = || String::from_utf8_lossy(head.next().unwrap_or_default()).into_owned();
        assert_eq!(next(), "P5");
        let [width, height] = [next(), next()].map(|n| n.parse::<usize>().expect("a size"));
        let grey = bytes[bytes.len() - width * height..].to_vec();
        (width, grey)
    }

    /// Every page as so many dots to the inch: red, green and blue of dot after dot.
    pub fn in_colour(&self, dots: u32) -> Vec<Vec<u8>> {
        let root = self.path.with_extension("colour");
        let out = Command::new("pdftoppm")
            .args(["-r", &dots.to_string()])
            .arg(&self.path)
            .arg(&root)
            .status();
        assert!(out.is_ok_and(|status| status.success()), "pdftoppm failed");
        let (pages, digits) = (self.pages(), self.pages().to_string().len());
        (1..=pages)
            .map(|page| {
                let file = format!("{}-{page:0digits$}.ppm", root.display());
                let bytes = std::fs::read(&file).expect("pdftoppm has written a picture");
                let _ = std::fs::remove_file(file);
                // P6, width, height, 255, each with one white space behind it.
                let head = bytes.splitn(5, |byte| byte.is_ascii_whitespace());
                head.last().unwrap_or_default().to_vec()
            })
            .collect()
    }

    /// A line of `pdfinfo`: `Pages`, `Title`, `Tagged`, `Page size`.
    pub fn info(&self, name: &str) -> String {
        let all = self.run("pdfinfo", &["-isodates"], &[]);
        let line = all
            .lines()
            .find_map(|line| line.strip_prefix(&format!("{name}:")));
        line.unwrap_or_else(|| panic!("pdfinfo says nothing of {name}:\n{all}"))
            .trim()
            .to_owned()
    }

    pub fn pages(&self) -> usize {
        self.info("Pages").parse().expect("Pages is a number")
    }

    /// The tags with their text.
    pub fn structure(&self) -> String {
        self.run("pdfinfo", &["-struct-text"], &[])
    }

    /// The XMP packet.
    pub fn metadata(&self) -> String {
        self.run("pdfinfo", &["-meta"], &[])
    }

    /// The fonts, as `pdffonts` lists them: `... emb sub uni object ID`.
    pub fn fonts(&self) -> Vec<Font> {
        let all = self.run("pdffonts", &[], &[]);
        (all.lines().skip(2))
            .map(|line| {
                let words: Vec<&str> = line.split_whitespace().rev().collect();
                Font {
                    name: line
                        .split_whitespace()
                        .next()
                        .unwrap_or_default()
                        .to_owned(),
                    // From the right: generation, object, uni, sub, emb.
                    embedded: words.get(4) == Some(&"yes"),
                    means_letters: words.get(2) == Some(&"yes"),
                }
            })
            .collect()
    }

    /// The pictures, as `pdfimages` lists them: width and height in pixels, and dots to the inch.
    pub fn images(&self) -> Vec<(u32, u32, u32)> {
        let all = self.run("pdfimages", &["-list"], &[]);
        (all.lines().skip(2))
            .filter_map(|line| {
                let words: Vec<&str> = line.split_whitespace().collect();
                let number = |at: usize| words.get(at)?.parse().ok();
                Some((number(3)?, number(4)?, number(12)?))
            })
            .collect()
    }

    /// The file written out plain by qpdf; nothing where it is not installed.
    pub fn plain(&self) -> Option<String> {
        let out = Command::new("qpdf")
            .args(["--qdf", "--object-streams=disable"])
            .arg(&self.path)
            .arg("-")
            .output()
            .ok()?;
        Some(String::from_utf8_lossy(&out.stdout).into_owned())
    }

    /// What qpdf says, or nothing where it is not installed.
    pub fn qpdf(&self) -> Option<(bool, String)> {
        let out = Command::new("qpdf")
            .arg("--check")
            .arg(&self.path)
            .output()
            .ok()?;
        let said = String::from_utf8_lossy(&out.stdout) + String::from_utf8_lossy(&out.stderr);
        Some((out.status.success(), said.into_owned()))
    }

    fn run(&self, program: &str, before: &[&str], after: &[&str]) -> String {
        let out = Command::new(program)
            .args(before)
            .arg(&self.path)
            .args(after)
            .output()
            .unwrap_or_else(|e| panic!("{program} did not start ({e}): install poppler-utils"));
        let said = String::from_utf8_lossy(&out.stderr);
        let errors: Vec<&str> = said
            .lines()
            .filter(|line| !is_poppler_quirk(line))
            .collect();
        assert!(
            out.status.success() && errors.is_empty(),
            "{program}: {said}"
        );
        // Poppler prints tags with symbols in bytes of its own; those become replacement characters.
        String::from_utf8_lossy(&out.stdout).into_owned()
    }
}

impl Drop for Pdf {
    fn drop(&mut self) {
        // A file left behind in the temporary folder harms nobody.
        let _ = std::fs::remove_file(&self.path);
    }
}

/// Two things that poppler takes for mistakes and the PDF standard allows: `/Suspects false`
/// (ISO 32000-1, table 321, M), and a table cell's border colour side by side as an array of four
/// (table 344, M).
fn is_poppler_quirk(line: &str) -> bool {
    line.is_empty()
        || line == "Syntax Error: Suspects object is wrong type (boolean)"
        || line == "Syntax Warning: Attribute BorderColor value is of wrong type (array)"
}

/// Reads `<word xMin="1" yMin="2" xMax="3" yMax="4">text</word>`.
fn place(line: &str) -> Option<(String, f64, f64)> {
    let line = line.trim().strip_prefix("<word ")?;
    let (ends, text) = line.strip_suffix("</word>")?.split_once('>')?;
    let end = |name: &str| ends.split_once(name)?.1.split('"').nth(1)?.parse().ok();
    Some((text.to_owned(), end("xMin=")?, end("xMax=")?))
}

fn place_in_mm(line: &str) -> Option<(String, [f64; 4])> {
    let line = line.trim().strip_prefix("<word ")?;
    let (ends, text) = line.strip_suffix("</word>")?.split_once('>')?;
    let end = |name: &str| {
        let points: f64 = ends.split_once(name)?.1.split('"').nth(1)?.parse().ok()?;
        Some(points / 72.0 * 25.4)
    };
    let sides = [end("xMin=")?, end("yMin=")?, end("xMax=")?, end("yMax=")?];
    Some((text.to_owned(), sides))
}

pub fn squeeze(text: &str) -> String {
    text.chars().filter(|c| !c.is_whitespace()).collect()
}
