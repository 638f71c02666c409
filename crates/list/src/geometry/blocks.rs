//! All lines into header and tables, each table with its columns.

use super::cells::{self, Cell, Space};
use super::gutters::{self, Columns};
use super::lines::TextLine;
use super::side_by_side::{self, Beside};
use super::wraps::{self, Row};
use super::{Output, Page, level};
use crate::table::column_words::role;
use crate::table::columns::heading;

/// A table, or what stands above the first one.
struct Block<'a> {
    /// The line that names the columns; its words may come from several lines above each other.
    heading: Option<TextLine<'a>>,
    body: Vec<TextLine<'a>>,
}

/// Reads all lines into cells and returns the most columns that a line has.
pub fn read(lines: Vec<TextLine<'_>>, pages: &[Page], out: &mut Output) -> usize {
    let space = Space::of(&lines);
    let blocks = blocks(lines, space);
    let columns = columns(&blocks, pages, space);
    let mut width = 0;
    let tables = blocks.iter().any(|block| block.heading.is_some());
    for (block, columns) in blocks.into_iter().zip(&columns) {
        if let Some(line) = &block.heading {
            let cells = cells::of_heading(line, columns, space);
            out.line(&cells, line.page, pages);
        } else if tables {
            // The header's lines are no table: what stands apart in them is a cell each.
            for line in &block.body {
                let cells = cells::of_runs(line, space);
                width = width.max(cells.len());
                out.line(&cells, line.page, pages);
            }
            continue;
        }
        width = width.max(columns.len());
        let rows = block.body.into_iter().map(|line| Row {
            cells: cells::of_columns(&line, columns, space),
            page: line.page,
            top: line.top,
            bottom: line.bottom,
        });
        for row in wraps::join(rows.collect(), columns, pages) {
            out.line(&row.cells, row.page, pages);
        }
    }
    width
}

/// Cuts the lines where columns are named, and puts lists that stand beside each other one after the other.
fn blocks(lines: Vec<TextLine<'_>>, space: Space) -> Vec<Block<'_>> {
    let mut blocks = vec![Block {
        heading: None,
        body: Vec::new(),
    }];
    let mut beside: Option<Beside> = None;
    let mut rest = lines.into_iter().peekable();
    while let Some(line) = rest.next() {
        if !names_columns(&line, space) {
            let on_page = line.page;
            match beside {
                Some(sides) => {
                    let mut same = vec![line];
                    while let Some(line) =
                        rest.next_if(|line| line.page == on_page && !names_columns(line, space))
                    {
                        same.push(line);
                    }
                    let (left, right) = sides.split(same, space);
                    extend(&mut blocks, left);
                    extend(&mut blocks, right);
                }
                None => extend(&mut blocks, vec![line]),
            }
            continue;
        }
        let line = with_lines_around(line, &mut blocks, &mut rest, space);
        beside = side_by_side::beside(&line, space);
        let Some(sides) = beside else {
            blocks.push(Block {
                heading: Some(line),
                body: Vec::new(),
            });
            continue;
        };
        let on_page = line.page;
        let mut same = Vec::new();
        while let Some(line) =
            rest.next_if(|line| line.page == on_page && !names_columns(line, space))
        {
            same.push(line);
        }
        let (heads, right_heads) = sides.split(vec![line], space);
        let (left, right) = sides.split(same, space);
        for (heads, body) in [(heads, left), (right_heads, right)] {
            let heading = heads.into_iter().next();
            blocks.push(Block { heading, body });
        }
    }
    blocks.retain(|block| block.heading.is_some() || !block.body.is_empty());
    blocks
}

fn extend<'a>(blocks: &mut [Block<'a>], lines: Vec<TextLine<'a>>) {
    if let Some(block) = blocks.last_mut() {
        block.body.extend(lines);
    }
}

/// Whether a line names columns, be its words taken together where they stand close or one by one.
fn names_columns(line: &TextLine<'_>, space: Space) -> bool {
    // A heading has letters and is no sentence.
    if line.pieces.len() < 2 || line.pieces.len() > 40 {
        return false;
    }
    let runs = cells::of_runs(line, space);
    if heading(&cells::as_line(&runs)).is_some() {
        return true;
    }
    let words: Vec<Cell<'_>> = line
        .pieces
        .iter()
        .map(|piece| Cell {
            pieces: vec![piece.clone()],
            apart: false,
        })
        .collect();
    runs.len() >= 2 && heading(&cells::as_line(&words)).is_some()
}

/// Takes in the lines close above and below a heading that name columns, too: "Qty" over "shipped".
fn with_lines_around<'a>(
    mut line: TextLine<'a>,
    blocks: &mut [Block<'a>],
    rest: &mut std::iter::Peekable<impl Iterator<Item = TextLine<'a>>>,
    space: Space,
) -> TextLine<'a> {
    let height = line.height();
    let belongs = |other: &TextLine<'_>, gap: f32, line: &TextLine<'_>| {
        let words = other
            .pieces
            .iter()
            .all(|piece| !piece.text.contains(|c: char| c.is_ascii_digit()));
        let runs = cells::of_runs(other, space);
        let short = runs.iter().all(|run| run.pieces.len() <= 3);
        let named = runs.iter().any(|run| role(&run.text()).is_some())
            || runs.len() > 1 && runs.iter().all(|run| over_a_word(run, line));
        other.page == line.page && gap < 0.6 * height && words && short && named
    };
    if let Some(block) = blocks.last_mut()
        && let Some(above) = block
            .body
            .pop_if(|above| belongs(above, line.top - above.bottom, &line))
    {
        line.pieces.extend(above.pieces);
        line.top = above.top;
    }
    if let Some(below) = rest.next_if(|below| belongs(below, below.top - line.bottom, &line)) {
        line.pieces.extend(below.pieces);
        line.bottom = below.bottom;
    }
    line.pieces
        .sort_by(|a, b| a.place[0].total_cmp(&b.place[0]));
    by_column(&mut line, space);
    line
}

/// Words above each other are read downwards, not by where each begins.
fn by_column(line: &mut TextLine<'_>, space: Space) {
    let mut sorted = Vec::with_capacity(line.pieces.len());
    for run in cells::runs(line, space) {
        let mut run = run.to_vec();
        let height = run.first().map_or(1.0, super::lines::Piece::height);
        run.sort_by(|a, b| {
            let level = |y: f32| (y / height).round();
            level(a.waist() - line.top)
                .total_cmp(&level(b.waist() - line.top))
                .then(a.place[0].total_cmp(&b.place[0]))
        });
        sorted.extend(run);
    }
    line.pieces = sorted;
}

fn over_a_word(run: &Cell<'_>, line: &TextLine<'_>) -> bool {
    let [left, right] = cells::span(&run.pieces);
    line.pieces
        .iter()
        .any(|piece| piece.place[0] < right && left < piece.place[2])
}

/// Finds the columns of every block; blocks under equal headings that stand alike share theirs.
fn columns(blocks: &[Block<'_>], pages: &[Page], space: Space) -> Vec<Columns> {
    let words = |line: &TextLine<'_>| line.text().to_lowercase();
    let mut found: Vec<Option<Columns>> = vec![None; blocks.len()];
    for first in 0..blocks.len() {
        if found[first].is_some() {
            continue;
        }
        let like = |other: &&usize| match (&blocks[first].heading, &blocks[**other].heading) {
            (Some(a), Some(b)) => found[**other].is_none() && words(a) == words(b) && alike(a, b),
            (None, None) => first == **other,
            _ => false,
        };
        let rest: Vec<usize> = (first..blocks.len()).collect();
        let same: Vec<usize> = rest.iter().filter(like).copied().collect();
        let body: Vec<&TextLine<'_>> = same.iter().flat_map(|at| &blocks[*at].body).collect();
        let upright = upright(&blocks[first], pages);
        let columns = gutters::columns(blocks[first].heading.as_ref(), &body, &upright, space);
        for at in same {
            found[at] = Some(columns.clone());
        }
    }
    found.into_iter().map(Option::unwrap_or_default).collect()
}

/// Whether two equal headings stand at the same places, within half their height.
fn alike(a: &TextLine<'_>, b: &TextLine<'_>) -> bool {
    let pairs = a.pieces.iter().zip(&b.pieces);
    a.pieces.len() == b.pieces.len()
        && pairs
            .map(|(a, b)| (a.middle() - b.middle()).abs())
            .all(|apart| apart < 0.5 * a.height())
}

/// Returns where upright borders are drawn beside most lines of a block, from the left, on the page where it begins.
fn upright(block: &Block<'_>, pages: &[Page]) -> Vec<f32> {
    let lines = || block.heading.iter().chain(&block.body);
    let Some((first, page)) = lines()
        .next()
        .and_then(|line| Some((line, pages.get(line.page)?)))
    else {
        return Vec::new();
    };
    let several = |line: &&TextLine<'_>| line.page == first.page && line.pieces.len() >= 2;
    let waists: Vec<f32> = lines()
        .filter(several)
        .map(|line| f32::midpoint(line.top, line.bottom))
        .collect();
    let mut drawn: Vec<[f32; 3]> = level::rules(page)
        .into_iter()
        .filter(|[left, from, right, to]| to - from > 3.0 * (right - left))
        .map(|[left, from, right, to]| [f32::midpoint(left, right), from, to])
        .collect();
    drawn.sort_by(|a, b| a[0].total_cmp(&b[0]));
    // Each cell may draw its own piece of a border.
    let mut borders: Vec<(f32, Vec<[f32; 2]>)> = Vec::new();
    for [x, from, to] in drawn {
        match borders.last_mut() {
            Some((at, pieces)) if x - *at < 2.5 => pieces.push([from, to]),
            _ => borders.push((x, vec![[from, to]])),
        }
    }
    borders.retain(|(_, pieces)| {
        let beside = |y: &&f32| pieces.iter().any(|[from, to]| (*from..*to).contains(*y));
        waists.iter().filter(beside).count() * 10 >= waists.len() * 6 && !waists.is_empty()
    });
    borders.into_iter().map(|(x, _)| x).collect()
}
