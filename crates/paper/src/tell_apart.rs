use measure::System;
use serde::Serialize;

use crate::print::{PaperError, Print};
use crate::shape::{Drawn, Shape};
use crate::template::Template;
use crate::typeset::typeset;

/// A card to lay pieces on: parts that are taken for each other, in true size.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TellApartCard {
    /// The job's name; on every page.
    pub job: String,
    /// The order in a line.
    pub order: String,
    /// How measures are written.
    pub system: System,
    /// What is taken for each other, kind by kind.
    pub groups: Vec<CardGroup>,
}

/// Parts of a kind, side by side.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct CardGroup {
    /// What they are: `Round tube ends`.
    pub title: String,
    /// The parts. Those of the same shape share a drawing.
    pub pieces: Vec<CardPiece>,
    /// What separates two that are taken for each other.
    pub separates: Vec<LookAlike>,
}

/// A part on the card.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct CardPiece {
    /// The piece mark.
    pub mark: String,
    /// What it is, in words.
    pub description: String,
    /// What to lay it on; none where its measures are not known.
    pub shapes: Vec<Shape>,
    /// What is to be known about the drawing, or why there is none.
    pub words: Vec<String>,
}

/// Two marks that are taken for each other.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct LookAlike {
    /// The one mark.
    pub a: String,
    /// The other mark.
    pub b: String,
    /// The one reading that separates them, in words.
    pub words: String,
}

/// The most parts on one card; a kit has a hundred or two.
const MOST_PIECES: usize = 400;
/// The width of the text on A4, the narrower sheet, in millimetres.
const TEXT_WIDTH: f64 = 178.0;
/// Between two drawings side by side.
const GUTTER: f64 = 5.0;
/// The least width of a drawing with its mark under it.
const LEAST_CELL: f64 = 25.0;

/// What the template gets.
#[derive(Serialize)]
struct Card<'a> {
    job: &'a str,
    order: &'a str,
    #[serde(flatten)]
    groups: Groups<'a>,
}

/// What lies side by side, as `card.typ` takes it.
#[derive(Serialize)]
pub(crate) struct Groups<'a> {
    groups: Vec<Group<'a>>,
}

#[derive(Serialize)]
struct Group<'a> {
    title: &'a str,
    /// On one base line, as many to a row as fit.
    standing: Vec<Vec<Figure<'a>>>,
    /// One under the other, what they are measured from in line.
    lying: Vec<Figure<'a>>,
    pieces: Vec<Row<'a>>,
    separates: &'a [LookAlike],
}

/// A drawing with the marks that it is of.
#[derive(Serialize)]
struct Figure<'a> {
    #[serde(skip)]
    shape: Shape,
    marks: Vec<&'a str>,
    measures: String,
    /// For who cannot see it.
    says: String,
    cell: f64,
    /// To the right, so that all are measured from one line.
    shift: f64,
    drawn: Drawn,
}

#[derive(Serialize)]
struct Row<'a> {
    mark: &'a str,
    description: &'a str,
    words: Vec<String>,
}

/// Returns the card as a PDF. Everything on it is drawn in true size: it is worth nothing unless it is printed at
/// 100 %, which its check lines tell.
///
/// # Errors
/// [`PaperError::Print`] names the field that cannot be; [`PaperError::TooMuch`] if no one could carry it.
pub fn tell_apart(card: &TellApartCard, print: &Print) -> Result<Vec<u8>, PaperError> {
    let shown = Card {
        job: &card.job,
        order: &card.order,
        groups: groups(card)?,
    };
    typeset(Template::TellApart, &shown, print)
}

/// Everything on the card, laid out.
///
/// # Errors
/// [`PaperError::TooMuch`] if no one could carry it.
pub(crate) fn groups(card: &TellApartCard) -> Result<Groups<'_>, PaperError> {
    let found = (card.groups.iter())
        .map(|group| group.pieces.len().max(group.separates.len()))
        .sum();
    if found > MOST_PIECES {
        let (what, most) = ("parts or pairs", MOST_PIECES);
        return Err(PaperError::TooMuch { what, found, most });
    }
    let groups = card.groups.iter().map(|group| laid_out(group, card.system));
    Ok(Groups {
        groups: groups.collect(),
    })
}

fn laid_out(group: &CardGroup, system: System) -> Group<'_> {
    let mut figures: Vec<Figure> = Vec::new();
    let mut pieces = Vec::new();
    for piece in &group.pieces {
        let mut words = piece.words.clone();
        for shape in &piece.shapes {
            if let Some(known) = figures.iter_mut().find(|figure| figure.shape == *shape) {
                known.marks.push(&piece.mark);
            } else if let Some(drawn) = shape.draw() {
                figures.push(figure(*shape, drawn, &piece.mark, system));
            } else {
                let measures = shape.measures(system);
                words.push(format!("Not drawn, no page holds it: {measures}."));
            }
        }
        pieces.push(Row {
            mark: &piece.mark,
            description: &piece.description,
            words,
        });
    }
    let (mut lying, standing): (Vec<Figure>, Vec<Figure>) =
        figures.into_iter().partition(|figure| figure.shape.lies());
    let line = lying.iter().map(|f| f.drawn.from).fold(0.0, f64::max);
    for figure in &mut lying {
        figure.shift = line - figure.drawn.from;
    }
    Group {
        title: &group.title,
        standing: in_rows(standing),
        lying,
        pieces,
        separates: &group.separates,
    }
}

fn figure<'a>(shape: Shape, drawn: Drawn, mark: &'a str, system: System) -> Figure<'a> {
    let measures = shape.measures(system);
    let mut says = format!("Drawing in true size: {measures}.");
    if drawn.cut_off {
        says.push_str(" Only the end by the head; the rest does not fit.");
    }
    Figure {
        shape,
        marks: vec![mark],
        measures,
        says,
        cell: drawn.width.max(LEAST_CELL),
        shift: 0.0,
        drawn,
    }
}

/// As many to a row as the page holds.
fn in_rows(figures: Vec<Figure<'_>>) -> Vec<Vec<Figure<'_>>> {
    let mut rows: Vec<Vec<Figure>> = Vec::new();
    let mut left = 0.0;
    for figure in figures {
        let width = figure.cell + GUTTER;
        match rows.last_mut() {
            Some(row) if width <= left => row.push(figure),
            _ => {
                left = TEXT_WIDTH + GUTTER;
                rows.push(vec![figure]);
            }
        }
        left -= width;
    }
    rows
}
