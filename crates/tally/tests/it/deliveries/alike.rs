//! What people take for each other. A rule of our own, from what the thing is: it is not what the program holds to be
//! alike, so that a pair which the program does not know can be mixed up as well.

use frame::{Part, Section};

/// Whether somebody in a hurry takes one for the other.
pub fn alike(a: &Part, b: &Part) -> bool {
    // Nobody takes a bow for a straight tube.
    if a.mark == b.mark || a.bend.is_some() != b.bend.is_some() {
        return false;
    }
    let near = match (a.length, b.length) {
        (Some(a), Some(b)) => {
            let (a, b) = (a.to_inches(), b.to_inches());
            (a - b).abs() <= 1.0_f64.max(0.15 * a.max(b))
        }
        (None, None) => true,
        _ => false,
    };
    near && match (&a.section, &b.section) {
        (Some(Section::Tube { called: a, .. }), Some(Section::Tube { called: b, .. })) => a == b,
        (Some(Section::Fastener { size: x, .. }), Some(Section::Fastener { size: y, .. })) => {
            x == y && a.noun == b.noun
        }
        (Some(Section::Film { .. }), Some(Section::Film { .. })) => false,
        // Small castings and plates: a ridge clamp and a stud clamp.
        (None, None) => kind_word(a) == kind_word(b),
        _ => false,
    }
}

fn kind_word(part: &Part) -> &str {
    part.noun.rsplit(' ').next().unwrap_or_default()
}
