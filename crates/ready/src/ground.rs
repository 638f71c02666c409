//! Where everything lies: the ground, the piles, and a plan that lets people carry least.
//!
//! [`Site::of`] checks the ground, [`piles`] makes piles of an order, [`lay_out`] puts them down; [`move_cost`] says what a
//! change costs, [`laydown_svg`] and [`found`] show a person where each lies. Figures without a source stand beside what uses them
//! and say so ([docs/laydown.md](../../../docs/laydown.md) gathers them).

mod carry;
mod drawing;
mod drawing_house;
mod fits;
mod found;
mod laydown;
mod pile;
pub mod pile_sizes;
mod piles;
mod polygon;
mod prices;
mod seek;
mod sheet;
mod site;
mod spots;
mod trouble;
mod walk;

pub use carry::carried_in_words;
pub use drawing::{ground_svg, laydown_svg};
pub use fits::{MOST_CARRY, MOST_CORNERS, MOST_TO_COVER};
pub use found::{Found, found};
pub use laydown::{Laid, Laydown, MoveCost, SEED, by_list_order, first_fit, lay_out, move_cost};
pub use pile::{Dunnage, Pile, PileKind, PileMark};
pub use piles::piles;
pub use polygon::{Point, Polygon, Rect};
pub use site::{GATEWAY, MARGIN, ROUND_DROP, Site};
pub use spots::STEEP;
pub use trouble::GroundTrouble;
pub use walk::SLOPE;
