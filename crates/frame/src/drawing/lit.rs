//! What of a drawing is lit: everything else steps back.

use std::collections::BTreeSet;

use crate::graph::{Frame, Hung};
use crate::part::Mark;

/// What is lit in a drawing on paper or in a page without a script. A page with one can light anything anew.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub enum Lit<'a> {
    /// Nothing: all is drawn alike.
    #[default]
    Nothing,
    /// Every place of a mark: pieces, hardware, film.
    Mark(&'a str),
    /// All that a step of the build brings.
    Stage(&'a str),
    /// These pieces (by index), such as those that are missing.
    Pieces(&'a BTreeSet<usize>),
}

/// What a lit shape is drawn with; its class is the one that the pages' own script sets.
pub(super) const LIT: &str = " stroke=\"#b3470b\" stroke-width=\"7\" visibility=\"visible\"";
/// The ink of pieces that are not lit while something is.
pub(super) const STEPPED_BACK: &str = "#b9b5a7";

impl Lit<'_> {
    pub(super) fn is_nothing(self) -> bool {
        self == Lit::Nothing
    }

    pub(super) fn piece(self, frame: &Frame, index: usize) -> bool {
        let piece = &frame.pieces[index];
        match self {
            Lit::Nothing => false,
            Lit::Mark(mark) => piece.mark.0 == mark,
            Lit::Stage(stage) => frame.belongs(piece.member).0 == stage,
            Lit::Pieces(pieces) => pieces.contains(&index),
        }
    }

    pub(super) fn hung(self, hung: &Hung) -> bool {
        self.bundle(&hung.mark, &hung.stage)
    }

    /// What has a mark and a stage, and is no piece.
    pub(super) fn bundle(self, mark: &Mark, of_stage: &str) -> bool {
        match self {
            Lit::Nothing | Lit::Pieces(_) => false,
            Lit::Mark(lit) => mark.0 == lit,
            Lit::Stage(stage) => of_stage == stage,
        }
    }

    /// What is lit, in words for the drawing's label; nothing when nothing is.
    pub(super) fn says(self) -> String {
        match self {
            Lit::Nothing => String::new(),
            Lit::Mark(mark) => format!(", {mark} lit"),
            Lit::Stage(stage) => format!(", all for {stage} lit"),
            Lit::Pieces(pieces) if pieces.len() == 1 => ", 1 piece lit".into(),
            Lit::Pieces(pieces) => format!(", {} pieces lit", pieces.len()),
        }
    }
}
