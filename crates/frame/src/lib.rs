//! The frame: a family and an order make a graph of members and joints; the parts list is read off it.
//!
//! [`Order::read`] → [`expand`] → [`PartsList::of`]. No quantity is typed in: each is the sum of its places.

mod across;
mod bays;
mod bend;
mod closing;
mod cut;
mod drawing;
mod expand;
mod family;
mod family_check;
mod family_check_profile;
mod family_check_rules;
mod family_file;
mod family_measures;
mod family_place;
mod family_read;
mod graph;
mod hang;
mod join;
mod leftover;
mod meet;
mod nearest;
mod order;
mod part;
mod part_file;
mod parts_list;
mod pieces;
mod place;
mod place_end;
mod profile;
mod profile_asked;
mod profile_solve;
mod resolve;
mod rule_file;
mod segment;
mod settle;
mod skin_file;
mod stand;
mod where_file;
mod why;

pub use across::Across;
pub use bend::{BentLine, BentStretch, NoBend};
pub use drawing::{
    HIDDEN_GAP, HouseEnd, Lit, View, bow_flat, end_elevation, isometric, isometric_lit,
    joint_detail, joints_to_detail, part_drawing, plan, section, side_elevation, svg_escape,
};
pub use expand::{ExpandError, expand};
pub use family::{Family, FamilyError, MOST_FAMILY_BYTES};
pub use family_file::Choice;
pub use graph::{Cut, Frame, Hung, Joint, JointKind, Member, Package, Path, Piece, Point, Step};
pub use order::{MOST_ORDER_BYTES, Order, OrderForm, Refusal, Trouble};
pub use part::{Bend, End, Mark, Part, Section, Stretch, SubKit, capitalised};
pub use parts_list::{Line, Packed, PartsList, Place};
pub use profile::{Link, Profile};
pub use profile_asked::{Ask, AskedLink, NoProfile, Peak, Shape};
pub use segment::Segment;
pub use settle::Settled;
