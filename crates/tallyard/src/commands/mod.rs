//! The commands, one file each.

pub mod bundle;
pub mod codes;
pub mod dates;
pub mod demo;
mod demo_plans;
pub mod difference;
pub mod laydown;
pub mod lift;
pub mod list;
pub mod papers;
pub mod parts;
pub mod points;
pub mod ready;
pub mod received;
pub mod stakes;
pub mod verify;
pub mod yard;
