//! The frame against handbooks, published houses and sums worked by hand.
//!
//! Marks beside the figures: S seen in a publication, S2 second-hand, S2t a trade page, D derived, M from memory.

// Helpers outside of `#[test]` functions may panic as those do.
#![allow(clippy::unwrap_used)]

mod any_family;
mod bends;
mod bulletins;
mod drawings;
mod families;
mod family_profiles;
mod figures;
mod geometry;
mod hostile;
mod house;
mod orders;
mod outside;
mod own_family;
mod parts_by_hand;
mod profile_properties;
mod profiles;
mod properties;
mod published;
mod round;
mod sidewall;
mod sound;
mod steps;
mod trade;
