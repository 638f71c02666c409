use qrcode::{EcLevel, QrCode, render::svg};
use serde::Serialize;

use crate::label_stock::{LabelStock, Measures};
use crate::osd::check_count;
use crate::print::{PaperError, Print};
use crate::template::Template;
use crate::typeset::typeset_with;

/// Labels for piles.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Labels {
    /// The job's name; stands in the file's title.
    pub job: String,
    /// What they are printed on. It decides the size of the page; [`Print::sheet`] does not count here.
    pub stock: LabelStock,
    /// The place of the first label on the first sheet, from 1 and row by row, so that a sheet from which labels were
    /// taken is used up. Always 1 on a roll.
    pub start: usize,
    /// The labels, each as often as it says.
    pub labels: Vec<Label>,
}

/// One label.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Label {
    /// The piece mark; as large as the label lets it be.
    pub mark: String,
    /// What it is, in words.
    pub description: String,
    /// How many there should be in this pile; not negative. Left out for who counts blind.
    pub quantity: Option<i64>,
    /// The pile's name.
    pub pile: String,
    /// Where the pile lies.
    pub place: String,
    /// The share of the kit that it belongs to.
    pub sub_kit: String,
    /// The address that the code opens; no code where it is empty.
    pub address: String,
    /// How many of this label, from 1.
    #[serde(skip)]
    pub copies: usize,
}

impl Default for Label {
    fn default() -> Self {
        Self {
            mark: String::new(),
            description: String::new(),
            quantity: None,
            pile: String::new(),
            place: String::new(),
            sub_kit: String::new(),
            address: String::new(),
            copies: 1,
        }
    }
}

/// The most labels in one print, copies and all.
const MOST_LABELS: usize = 1_000;
/// The smallest module of a code that a phone reads from a pile in the yard, in millimetres.
const LEAST_MODULE: f64 = 0.4;
/// The white edge that a code needs, in modules on each side (ISO/IEC 18004, from memory).
const QUIET_ZONE: usize = 4;
/// What stays free at the edge of a label, in millimetres: printers and cutters are that far off.
const EDGE: f64 = 1.5;

/// What the template gets, in millimetres.
#[derive(Serialize)]
struct Shown<'a> {
    job: &'a str,
    /// Of the page.
    width: f64,
    /// None where the roll is cut at need.
    height: Option<f64>,
    label: (f64, f64),
    upright: bool,
    edge: f64,
    labels: Vec<Drawn<'a>>,
    /// By page, each with its labels.
    pages: Vec<Vec<Placed>>,
}

#[derive(Serialize)]
struct Drawn<'a> {
    #[serde(flatten)]
    label: &'a Label,
    /// The side of its code with the white edge; none where the address stands instead.
    code: Option<f64>,
    /// The number of the drawing of its code.
    drawing: usize,
}

/// Which label lies where.
#[derive(Clone, Serialize)]
struct Placed {
    label: usize,
    x: f64,
    y: f64,
}

/// Returns the labels as a PDF, to be printed at 100 %.
///
/// A code is drawn with error correction M or better. Where its modules would be smaller than 0.4 mm, the label says the
/// address instead.
///
/// # Errors
/// [`PaperError::Print`] and [`PaperError::Row`] name the field that cannot be; [`PaperError::TooMuch`] if there are
/// more labels than one print holds.
pub fn labels(labels: &Labels, print: &Print) -> Result<Vec<u8>, PaperError> {
    let stock = labels.stock;
    check(labels)?;
    let Measures { page, label, .. } = stock.measures();
    let mut codes = Vec::new();
    let drawn = (labels.labels.iter())
        .map(|label| {
            let code = code(&label.address, code_room(stock));
            let (side, drawing) = match code {
                Some((side, svg)) => {
                    codes.push(svg);
                    (Some(side), codes.len() - 1)
                }
                None => (None, 0),
            };
            Drawn {
                label,
                code: side,
                drawing,
            }
        })
        .collect();
    let shown = Shown {
        job: &labels.job,
        width: page.0,
        height: page.1,
        label,
        upright: stock.is_upright(),
        edge: EDGE,
        labels: drawn,
        pages: on_pages(labels),
    };
    let codes = codes.iter().map(String::as_str).collect();
    typeset_with(Template::Labels, &shown, codes, print)
}

fn check(labels: &Labels) -> Result<(), PaperError> {
    let stock = labels.stock;
    if !(1..=stock.to_a_sheet()).contains(&labels.start) {
        return Err(PaperError::Print {
            field: "start",
            found: labels.start.to_string(),
            wanted: stock.places_in_words(),
        });
    }
    for (index, label) in labels.labels.iter().enumerate() {
        check_count("labels", index, &label.mark, "quantity", label.quantity)?;
    }
    let copies = labels.labels.iter().map(|label| label.copies);
    let found = copies.fold(0, usize::saturating_add);
    let (what, most) = ("labels", MOST_LABELS);
    let kinds = labels.labels.len();
    match found.max(kinds) > most {
        true => Err(PaperError::TooMuch {
            what,
            found: found.max(kinds),
            most,
        }),
        false => Ok(()),
    }
}

/// Every copy at its place, sheet after sheet; the first sheet from the place asked for.
fn on_pages(labels: &Labels) -> Vec<Vec<Placed>> {
    let stock = labels.stock;
    let to_a_sheet = stock.to_a_sheet();
    let mut pages: Vec<Vec<Placed>> = vec![Vec::new()];
    let each = (labels.labels.iter().enumerate())
        .flat_map(|(index, label)| std::iter::repeat_n(index, label.copies));
    for (number, label) in (labels.start - 1..).zip(each) {
        if number / to_a_sheet >= pages.len() {
            pages.push(Vec::new());
        }
        let (x, y) = stock.corner(number % to_a_sheet);
        if let Some(page) = pages.last_mut() {
            page.push(Placed { label, x, y });
        }
    }
    pages
}

/// How large a code may be on a label, white edge and all.
fn code_room(stock: LabelStock) -> f64 {
    let (width, height) = stock.measures().label;
    let (width, height) = (width - 2.0 * EDGE, height - 2.0 * EDGE);
    match stock.is_upright() {
        true => (width * 0.8).min(height * 0.5),
        false => height.min(width * 0.55).min(45.0),
    }
}

/// The code for an address, as SVG with its side; none if it is empty or the modules would be too small.
fn code(address: &str, room: f64) -> Option<(f64, String)> {
    if address.is_empty() {
        return None;
    }
    let least = QrCode::with_error_correction_level(address, EcLevel::M).ok()?;
    // Better correction that takes no more room costs nothing.
    let better = [EcLevel::H, EcLevel::Q].into_iter();
    let code = better
        .filter_map(|level| QrCode::with_version(address, least.version(), level).ok())
        .next()
        .unwrap_or(least);
    let modules = code.width() + 2 * QUIET_ZONE;
    // No larger than is of use: a module of 1.6 mm is read from two metres away (common practice, no source).
    let side = room.min(1.6 * modules as f64);
    (side / modules as f64 >= LEAST_MODULE).then(|| {
        let mut svg = code.render::<svg::Color>();
        svg.quiet_zone(true).module_dimensions(1, 1);
        (side, svg.build())
    })
}
