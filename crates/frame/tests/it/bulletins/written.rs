//! A family in parts, as someone from outside might write it, for what a family must be able to say.

use super::{House, raise, refused};

/// A family of round tube on pins. Tests put in what they are about.
#[derive(Clone, Copy)]
pub(super) struct Written<'a> {
    pub size: &'a str,
    pub profile: &'a str,
    pub parts: &'a str,
    pub post: &'a str,
    pub bow: &'a str,
    pub more: &'a str,
}

/// Sixteen feet between the feet and sixteen high.
const HORSESHOE: &str = r#"
width = "16 ft"
height = "16 ft"
peak = "smooth"
half = [{ name = "round", arc = "follows", kink = "follows" }]
"#;

pub(super) const PLAIN: Written = Written {
    size: "",
    profile: HORSESHOE,
    parts: r#"
[[part]]
mark = "POST"
noun = "ground post"
tube = { called = "1-5/8", outside = "1.660 in", wall = "0.065 in" }
length = "4 ft"
[[part]]
mark = "BOW"
noun = "bow"
tube = { called = "1-3/8", outside = "1.315 in", wall = "0.065 in" }
"#,
    post: r#"
[[member]]
role = "post"
part = "POST"
post = { above_ground = "0 in" }
stage = "frame"
sub_kit = "frame"
[[joint]]
between = ["post", "bow"]
says = "bow on its post"
hardware = { BOLT = 1 }
stage = "frame"
sub_kit = "frame"
"#,
    bow: r#"{ half = [{ part = "BOW", to = "over the peak" }] }"#,
    more: "",
};

impl Written<'_> {
    fn text(&self) -> String {
        let Self {
            size,
            profile,
            parts,
            post,
            bow,
            more,
        } = self;
        format!(
            r#"
name = "written"
title = "A house of someone else"
[size]
bow_spacing = ["4 ft", "6 ft"]
least_length = "4 ft"
most_length = "100 ft"
{size}
[profile]
{profile}
[[stage]]
name = "frame"
{parts}
[[part]]
mark = "BOLT"
noun = "bolt"
mass = "30 g"
[[member]]
role = "bow"
bow = {bow}
stage = "frame"
sub_kit = "frame"
{post}
{more}
"#
        )
    }

    pub fn raise(&self, length: &str, more: &str) -> House {
        raise(&self.text(), &ordered(length, more))
    }

    pub fn refused(&self, length: &str) -> String {
        refused(&self.text(), &ordered(length, ""))
    }
}

fn ordered(length: &str, more: &str) -> String {
    format!("name = \"w\"\nfamily = \"written\"\nlength = \"{length}\"\n{more}")
}

pub(super) fn in_sixteenths(feet: f64) -> i64 {
    (feet * 192.0).round() as i64
}
