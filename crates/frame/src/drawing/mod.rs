//! Drawings of the frame as SVG: every one read off the graph, none knows a family.
//!
//! Line types after ISO 128: continuous wide for what is seen, continuous narrow for dimensions and hatching, dashed
//! narrow for what is hidden, long-dashed dotted narrow for centre lines; wide is twice narrow. Letters after the
//! heights of ISO 3098. Every drawing carries its lines as presentation attributes, so that it stands alone on paper;
//! a page's style sheet still has the last word.
//!
//! Every shape of a piece carries `data-piece` (its index in [`crate::Frame::pieces`]) and `data-mark`, and it or its
//! group `data-stage`, so that a piece, a mark, a stage or a set of pieces can be lit.

mod bow_flat;
mod dimension;
mod elevation;
mod hidden;
mod isometric;
mod isometric_measures;
mod joint_detail;
mod joint_limbs;
mod line;
mod lit;
mod marks;
mod openings;
mod part_drawing;
mod plan;
mod sheet;
mod svg;
mod view;

pub use bow_flat::bow_flat;
pub use elevation::{HouseEnd, end_elevation, section, side_elevation};
pub use isometric::{HIDDEN_GAP, isometric, isometric_lit};
pub use joint_detail::{joint_detail, joints_to_detail};
pub use lit::Lit;
pub use part_drawing::part_drawing;
pub use plan::plan;
pub use svg::escape as svg_escape;
pub use view::View;
