//! Pictures from phones, which are hostile until looked at: what they are, small copies of them, round tubes found in
//! them, and pages of paper laid flat.
//!
//! [`look`] says what bytes are, from their content and never from a name; [`thumbnail`] makes the small copy that pages
//! show; [`without_place`] makes the copy that is shared; [`rings_in`] proposes where the ends of tubes are; [`sheet_in`] finds
//! a page and lays it flat, to be read. The bytes that came are never changed.
//!
//! # Limits
//!
//! | what | most | why |
//! | --- | --- | --- |
//! | a file | [`MOST_BYTES`], 32 MiB | a job takes documents of up to 64 MiB; a 50-megapixel JPEG is about 15 MB |
//! | a picture | [`MOST_PIXELS`], 64 million | a phone's widest sweep is about 60; at 64, decoding stays within 256 MiB |
//! | a progressive JPEG, to decode | 30 million pixels | it is held whole while it is decoded, up to 6 bytes a pixel |
//! | scans of a JPEG, to decode | 64 | each costs a pass over the picture; cameras write 1 to 10 |
//! | coded bytes of a JPEG, to decode | at least 1 for 256 pixels | fewer cannot be the whole picture |
//! | notes (EXIF) | 128 KiB, 64 pointers within | unpacking thousands of pointers takes seconds; cameras write three |
//! | memory while decoding PNG or WebP | 256 MiB | beyond it the decoder gives up |
//! | the longest side of a small copy | 4096 | it is for a screen |
//!
//! [`look`] and [`without_place`] decode no pixels.
//!
//! **Invariant:** nothing is decoded without bounds, and this crate never reads a clock, a file or a network.

mod exif_block;
mod heif;
mod jpeg;
mod kind;
mod look;
mod png;
mod refused;
mod ring_fit;
mod ring_plane;
mod ring_sure;
mod ring_votes;
mod rings;
mod share;
mod sheet;
mod sheet_find;
mod sheet_light;
mod sheet_plane;
mod sheet_rules;
mod sheet_sharp;
mod sheet_sides;
mod sheet_skew;
mod sheet_strip;
mod thumbnail;
mod webp;

pub use kind::Kind;
pub use look::{MOST_BYTES, MOST_PIXELS, Picture, Size, look};
pub use refused::Refused;
pub use rings::{Ring, rings, rings_in};
pub use share::without_place;
pub use sheet::{Lies, Sheet, sheet, sheet_in};
pub use sheet_strip::{jpeg_of, strip};
pub use thumbnail::{thumbnail, upright};
