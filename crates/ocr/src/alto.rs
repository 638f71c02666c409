//! Recognised words written as ALTO 4 (Library of Congress, <https://www.loc.gov/standards/alto/>).

use std::fmt::Write;

use crate::words::Word;

/// One page to be written.
pub(crate) struct Page {
    /// SHA-256 of its kept picture, in hexadecimal.
    pub(crate) digest: String,
    /// Width and height in pixels.
    pub(crate) size: [u32; 2],
    /// Its words; those of one line follow each other.
    pub(crate) words: Vec<Word>,
    /// Its ruled lines.
    pub(crate) rules: Vec<[u32; 4]>,
}

/// Writes pages as one file. `warnings` are kept as what was found while the pictures were made ready.
pub(crate) fn write(pages: &[Page], version: &str, warnings: &[String]) -> String {
    let mut out = String::from(concat!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n",
        "<alto xmlns=\"http://www.loc.gov/standards/alto/ns-v4#\">\n",
        "<Description><MeasurementUnit>pixel</MeasurementUnit>\n",
        "<Processing ID=\"ready\"><processingCategory>preOperation</processingCategory>\n",
    ));
    for warning in warnings {
        let warning = escaped(warning);
        let _ = writeln!(
            out,
            "<processingStepDescription>{warning}</processingStepDescription>"
        );
    }
    let version = escaped(version);
    let _ = writeln!(
        out,
        "<processingSoftware><softwareName>tallyard</softwareName></processingSoftware></Processing>\n\
         <Processing ID=\"words\"><processingCategory>contentGeneration</processingCategory>\
         <processingSoftware><softwareName>tesseract</softwareName><softwareVersion>{version}</softwareVersion>\
         </processingSoftware></Processing></Description>\n<Layout>",
    );
    for (number, page) in pages.iter().enumerate() {
        write_page(&mut out, number + 1, page);
    }
    out.push_str("</Layout>\n</alto>\n");
    out
}

fn write_page(out: &mut String, number: usize, page: &Page) {
    let [wide, high] = page.size;
    let digest = escaped(&page.digest);
    // Writing to a text does not fail.
    let _ = writeln!(
        out,
        "<Page ID=\"picture-{digest}\" PHYSICAL_IMG_NR=\"{number}\" WIDTH=\"{wide}\" HEIGHT=\"{high}\">\n\
         <PrintSpace HPOS=\"0\" VPOS=\"0\" WIDTH=\"{wide}\" HEIGHT=\"{high}\">"
    );
    for (i, rule) in page.rules.iter().enumerate() {
        let at = at(*rule);
        let _ = writeln!(out, "<GraphicalElement ID=\"r{number}-{i}\" {at}/>");
    }
    let lines: Vec<&[Word]> = page.words.chunk_by(|a, b| a.line == b.line).collect();
    if !lines.is_empty() {
        let at = at(around(&page.words));
        let _ = writeln!(out, "<TextBlock ID=\"b{number}\" {at}>");
        for line in lines {
            let _ = write!(out, "<TextLine {}>", self::at(around(line)));
            for word in line {
                let (at, text) = (self::at(word.place), escaped(&word.text));
                let _ = write!(
                    out,
                    "<String {at} WC=\"{:.2}\" CONTENT=\"{text}\"/>",
                    word.sure
                );
            }
            out.push_str("</TextLine>\n");
        }
        out.push_str("</TextBlock>\n");
    }
    out.push_str("</PrintSpace></Page>\n");
}

fn around(words: &[Word]) -> [u32; 4] {
    words.iter().fold([u32::MAX, u32::MAX, 0, 0], |all, word| {
        let [left, top, right, bottom] = word.place;
        [
            all[0].min(left),
            all[1].min(top),
            all[2].max(right),
            all[3].max(bottom),
        ]
    })
}

fn at([left, top, right, bottom]: [u32; 4]) -> String {
    let (wide, high) = (right.saturating_sub(left), bottom.saturating_sub(top));
    format!("HPOS=\"{left}\" VPOS=\"{top}\" WIDTH=\"{wide}\" HEIGHT=\"{high}\"")
}

/// Text as it may stand in XML; what may not stand there at all is left out.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\u{fffe}' | '\u{ffff}' => {}
            c if c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
    out
}
