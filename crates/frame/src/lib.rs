//! The frame: a family and an order make a graph of members and joints; the parts list is read off it.
//!
//! [`Order::read`] → [`expand`] → [`PartsList::of`]. No quantity is typed in: each is the sum of its places.

mod cut;
mod drawing;
mod expand;
mod family;
mod family_check;
mod family_measures;
mod graph;
mod hang;
mod join;
mod nearest;
mod order;
mod part;
mod parts_list;
mod pieces;
mod place;
mod profile;
mod resolve;
mod segment;

pub use drawing::{
    HIDDEN_GAP, HouseEnd, Lit, View, bow_flat, end_elevation, isometric, isometric_lit,
    joint_detail, joints_to_detail, part_drawing, plan, side_elevation,
};
pub use expand::{ExpandError, expand};
pub use family::{Choice, Family, FamilyError, MOST_FAMILY_BYTES};
pub use graph::{Frame, Hung, Joint, JointKind, Member, Path, Piece, Point};
pub use order::{MOST_ORDER_BYTES, Order, OrderForm, Refusal, Settled, Trouble};
pub use part::{Bend, End, Mark, Part, Section, Stretch, SubKit};
pub use parts_list::{Line, PartsList, Place};
pub use profile::{Across, Asked, Link, NoProfile, Profile};
pub use segment::Segment;
