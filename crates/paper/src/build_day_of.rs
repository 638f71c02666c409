//! The build-day folder, taken from how a job stands.

use frame::{Frame, Lit, View};

use crate::drawings::Drawing;

/// The house with all that a stage brings lit, in black: on the printer of a site office thick lines are told from thin
/// grey ones, not orange from grey.
pub fn stage_drawing(frame: &Frame, stage: &str) -> Drawing {
    let svg = frame::isometric_lit(frame, View::FrontRight, Lit::Stage(stage));
    Drawing {
        title: frame::capitalised(stage),
        says: format!(
            "The house with everything for {stage} in thick black, the rest in thin grey."
        ),
        svg: svg.replace(LIT_ON_SCREEN, INK),
    }
}

/// What a lit line is drawn with on a screen.
const LIT_ON_SCREEN: &str = "#b3470b";
/// Ink.
const INK: &str = "#000";
