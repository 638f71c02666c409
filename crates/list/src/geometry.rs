//! Words with places on a page into lines of cells.
//!
//! 1. `level`: a page that stands a few degrees askew is turned level.
//! 2. `lines`: words beside each other are one line, whatever their size.
//! 3. `blocks`: a line that names columns begins a table; what stands above the first is the header. Two lists beside
//!    each other are read one after the other. Equal tables on several pages share their columns.
//! 4. `gutters`: the gaps that run down a table, and the borders drawn in it, are its columns.
//! 5. `cells`: each word into its column; an empty cell stays empty.
//! 6. `wraps`: a cell of several lines is one cell again.
//!
//! **Invariant:** every word ends in exactly one cell.

mod blocks;
mod cells;
mod gutters;
mod level;
mod lines;
mod side_by_side;
mod strike;
mod wraps;

use crate::error::Refusal;
use crate::grid::{Seen, Sheet, Sheets, Warning};
use crate::limits;

/// A word where it stands.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Word {
    /// What it says.
    pub text: String,
    /// Left, top, right, bottom from the page's top left, as a reader holds the page; points or pixels.
    pub place: [f32; 4],
    /// How sure it was recognised, from 0 to 1; 1 for text that came as text.
    pub sure: f32,
    /// A line is drawn through it.
    pub struck: bool,
}

/// One page.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Page {
    /// Width in the unit of the words.
    pub width: f32,
    /// Height.
    pub height: f32,
    /// The words, in any order.
    pub words: Vec<Word>,
    /// Words at another angle than the page's, or put on it later: a stamp across the page, a note in the margin.
    /// They break no row; each line of them is a line of its own at the end.
    pub stamps: Vec<Word>,
    /// Lines drawn on the page: borders of a table; each as left, top, right, bottom.
    pub rules: Vec<[f32; 4]>,
    /// The picture that it was recognised on; nothing for text.
    pub picture: Option<String>,
}

/// Makes one sheet of all pages: a table goes on over the page's end.
pub fn sheets(pages: &[Page]) -> Result<Sheets, Refusal> {
    let words: usize = pages
        .iter()
        .map(|page| page.words.len() + page.stamps.len())
        .sum();
    if words > limits::MAX_WORDS {
        return Err(Refusal::TooManyCells);
    }
    let mut out = Output::default();
    let mut read = Vec::new();
    let mut apart = Vec::new();
    for (index, page) in pages.iter().enumerate() {
        let (on_page, lost) = lines::pieces(page);
        let levelled = level::level(on_page);
        let (levelled, across) = lines::across_rows(levelled);
        let struck = strike::strike(levelled, &level::rules(page));
        read.extend(lines::lines(struck, index));
        let stamps = page
            .stamps
            .iter()
            .filter(|word| !word.text.trim().is_empty());
        let stamped: Vec<lines::Piece<'_>> = stamps
            .map(lines::Piece::of)
            .chain(lost)
            .chain(across)
            .collect();
        apart.push(stamped);
    }
    if read.is_empty() && apart.iter().all(Vec::is_empty) {
        return Err(Refusal::Empty);
    }
    let width = blocks::read(read, pages, &mut out);
    for (index, stamps) in apart.into_iter().enumerate() {
        for line in lines::stamps(stamps, index) {
            out.stamp(line, width, pages);
        }
    }
    let mut sheets = Sheets {
        sheets: vec![Sheet {
            name: String::new(),
            lines: out.lines,
        }],
        set_aside: Vec::new(),
        warnings: out.warnings,
    };
    cut_cells(&mut sheets);
    Ok(sheets)
}

/// The lines as they are made.
#[derive(Default)]
struct Output {
    lines: Vec<crate::grid::Line>,
    warnings: Vec<Warning>,
    /// Lines so far of each page.
    numbers: std::collections::BTreeMap<usize, u32>,
}

impl Output {
    /// Adds a line of cells, each with its pieces from left to right and line after line.
    fn line(&mut self, cells: &[cells::Cell<'_>], page: usize, pages: &[Page]) {
        let number = self.numbers.entry(page).or_default();
        *number += 1;
        let mut pieces = cells.iter().flat_map(|cell| &cell.pieces).peekable();
        if pieces.peek().is_none() {
            return;
        }
        let struck = cells.iter().flat_map(|cell| &cell.pieces);
        let (through, words) = struck.fold((0, 0), |(through, words), piece| {
            (through + usize::from(piece.struck), words + 1)
        });
        let line = crate::grid::Line {
            number: *number,
            cells: cells.iter().map(cells::Cell::text).collect(),
            page: u32::try_from(page + 1).unwrap_or(u32::MAX),
            struck: through == words,
            doubt: None,
            seen: pages.get(page).and_then(|page| seen(cells, page)),
        };
        if through > 0 && through < words {
            let said: Vec<&str> = cells
                .iter()
                .flat_map(|cell| &cell.pieces)
                .filter(|piece| piece.struck)
                .map(|piece| piece.text)
                .collect();
            self.warnings.push(Warning {
                at: Some(crate::grid::Place::of("", &line)),
                what: format!("a line is drawn through {:?}", said.join(" ")),
            });
        }
        self.lines.push(line);
    }

    /// Adds words that were put on the page apart from its lines: right of every column, so that they are no row.
    fn stamp(&mut self, line: lines::TextLine<'_>, width: usize, pages: &[Page]) {
        let mut cells = vec![cells::Cell::default(); width];
        let page = line.page;
        cells.push(cells::Cell {
            pieces: line.pieces,
            apart: true,
        });
        self.line(&cells, page, pages);
        if let Some(line) = self.lines.last() {
            self.warnings.push(Warning {
                at: Some(crate::grid::Place::of("", line)),
                what: format!(
                    "{:?} stands across the page or was put on it later; it is set aside",
                    line.text()
                ),
            });
        }
    }
}

/// Where the words of a line stood on their picture.
fn seen(cells: &[cells::Cell<'_>], page: &Page) -> Option<Box<Seen>> {
    let picture = page.picture.clone()?;
    let mut strip = [f32::MAX, f32::MAX, 0.0_f32, 0.0_f32];
    for piece in cells.iter().flat_map(|cell| &cell.pieces) {
        let [left, top, right, bottom] = piece.on_page;
        strip = [
            strip[0].min(left),
            strip[1].min(top),
            strip[2].max(right),
            strip[3].max(bottom),
        ];
    }
    // A float cast to a whole number stops at its ends, so a place off the page is its edge.
    let strip = strip.map(|at| at.max(0.0) as u32);
    let sure = cells.iter().map(|cell| {
        let pieces = cell.pieces.iter().map(|piece| piece.sure);
        pieces.fold(1.0, f32::min)
    });
    Some(Box::new(Seen {
        picture,
        strip,
        sure: sure.collect(),
    }))
}

/// Cuts what no honest cell has, as every reader does.
fn cut_cells(sheets: &mut Sheets) {
    let mut cut = 0;
    for cell in sheets
        .sheets
        .iter_mut()
        .flat_map(|sheet| &mut sheet.lines)
        .flat_map(|line| &mut line.cells)
    {
        if cell.len() > limits::MAX_CELL_BYTES {
            let mut end = limits::MAX_CELL_BYTES;
            while !cell.is_char_boundary(end) {
                end -= 1;
            }
            cell.truncate(end);
            cut += 1;
        }
    }
    if cut > 0 {
        sheets.warnings.push(Warning {
            at: None,
            what: format!("{cut} cells were cut to {} bytes", limits::MAX_CELL_BYTES),
        });
    }
}
