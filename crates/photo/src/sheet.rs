//! A page of paper in a photograph, found, laid flat and cleaned, so that its words can be recognised.
//!
//! The page is what is lighter than the ground around it (`sheet_find`); its four sides are laid along the edges that are
//! seen (`sheet_sides`); the plane that they span is turned to face the reader (`sheet_plane`); its own lines of text
//! level it (`sheet_skew`); uneven light is divided out (`sheet_light`); ruled lines are taken out and told apart
//! (`sheet_rules`); and whether the writing is sharp is measured on its own edges (`sheet_sharp`).
//!
//! A page is taken as flat: one that is curled stays curled.

use image::{GrayImage, RgbImage};

use crate::kind::Kind;
use crate::look::look;
use crate::refused::Refused;
use crate::sheet_plane::{Plane, Point, flat_size};
use crate::thumbnail::upright;
use crate::{sheet_find, sheet_light, sheet_rules, sheet_sharp, sheet_sides, sheet_skew};

/// The longest side of the copy that is worked on: a phone's 12 megapixels are 4032 wide.
const LONGEST: u32 = 4096;

/// A page, as a reader would hold it, but for whether it is upside down or on its side.
#[derive(Clone, Debug)]
pub struct Sheet {
    /// The page in even light, dark on white, ruled lines taken out.
    pub words: GrayImage,
    /// The same with its ruled lines, for people to look at.
    pub page: GrayImage,
    /// The ruled lines: left, top, right and bottom of each in pixels of [`Self::page`].
    pub rules: Vec<[u32; 4]>,
    /// How the page lies in the picture.
    pub lies: Lies,
    /// The corners of the page in the upright picture, in pixels from its top left, clockwise from the one that became
    /// top left.
    pub corners: [[f32; 2]; 4],
    /// By how many degrees the lines of text were turned to lie level, clockwise.
    pub levelled: f32,
    /// How many pixels of [`Self::page`] a stroke's edge takes from light to dark, in the middle case; nothing where too
    /// little is written. It is soft by how it compares with the letters' height.
    pub blur: Option<f32>,
}

/// How a page lies in a picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lies {
    /// All four sides were seen.
    Whole,
    /// The picture is all page, as of a scanner, or no page was told from the ground.
    AllOfIt,
}

impl Sheet {
    /// Turns the page by quarter turns, clockwise.
    pub fn turned(self, quarters: u8) -> Self {
        let turn = |picture: GrayImage| match quarters % 4 {
            1 => image::imageops::rotate90(&picture),
            2 => image::imageops::rotate180(&picture),
            3 => image::imageops::rotate270(&picture),
            _ => picture,
        };
        let (wide, high) = self.page.dimensions();
        let rules = self.rules.iter().map(|&[l, t, r, b]| match quarters % 4 {
            1 => [high - b, l, high - t, r],
            2 => [wide - r, high - b, wide - l, high - t],
            3 => [t, wide - r, b, wide - l],
            _ => [l, t, r, b],
        });
        let rules = rules.collect();
        // the corner that comes to stand at the top left
        let mut corners = self.corners;
        corners.rotate_right(usize::from(quarters % 4));
        Self {
            words: turn(self.words),
            page: turn(self.page),
            rules,
            corners,
            ..self
        }
    }
}

/// Finds the page in a photograph or a scan, decoded within this crate's limits and stood upright by its notes.
pub fn sheet_in(bytes: &[u8]) -> Result<Sheet, Refused> {
    let kind = look(bytes)?.kind;
    if matches!(kind, Kind::Heic | Kind::Avif | Kind::Heif) {
        // The small picture within has no words that could be read.
        return Err(Refused::CannotShow(kind));
    }
    Ok(sheet(&upright(bytes, LONGEST)?))
}

/// Finds the page in a picture that is upright already. Any picture gets an answer, and the same one each time.
pub fn sheet(picture: &RgbImage) -> Sheet {
    let found = sheet_find::corners(picture).map(|rough| sheet_sides::along(picture, rough));
    let lies = if found.is_some() {
        Lies::Whole
    } else {
        Lies::AllOfIt
    };
    let grey = image::imageops::grayscale(picture);
    let (wide, high) = (grey.width() as f32, grey.height() as f32);
    let all: [Point; 4] = [[0.0, 0.0], [wide, 0.0], [wide, high], [0.0, high]];
    let corners = found.unwrap_or(all);
    let size = flat_size(&corners, [wide, high]);
    let plane = Plane::of(&corners, size);
    // Levelled on a small copy, so that the pixels are only laid out once.
    let slant = sheet_skew::slant(&sheet_light::even(&plane.small(&grey)));
    let page = sheet_light::even(&plane.turned(slant).laid_flat(&grey, lies == Lies::Whole));
    let blur = sheet_sharp::blur(&page);
    let (words, rules) = sheet_rules::taken_out(&page);
    Sheet {
        words,
        page,
        rules,
        lies,
        corners,
        levelled: -slant.to_degrees(),
        blur,
    }
}
