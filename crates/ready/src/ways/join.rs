//! Two shorter pieces joined for a longer one, where the kit has such joints in lines of the same section.

use frame::Section;

use super::lengths::alike;
use super::offer::{Asked, Lengths, Lying, Recipe, Source};
use super::stock::Price;

/// No more pairs are joined for one length.
const MOST_PAIRS: usize = 12;

/// How the kit holds two pieces of a line together.
struct Splice {
    section: usize,
    hardware: Vec<(usize, i64)>,
}

/// Adds the recipes that join two pieces.
pub(crate) fn join(lengths: &mut Lengths, asked: &Asked, sections: &[&Section]) {
    for splice in splices(asked, sections) {
        let Some(hardware) = spare_hardware(lengths, asked, &splice) else {
            continue;
        };
        for want in 0..lengths.wants.len() {
            if lengths.wants[want].section == splice.section
                && in_a_line(asked, lengths.wants[want].mark)
            {
                pairs(lengths, asked, want, &hardware);
            }
        }
    }
}

/// One splice a section: the first that the frame has.
fn splices(asked: &Asked, sections: &[&Section]) -> Vec<Splice> {
    let frame = &asked.of.ordered.frame;
    let marks = &asked.of.build.marks;
    let mut splices: Vec<Splice> = Vec::new();
    for joint in frame
        .joints
        .iter()
        .filter(|joint| joint.other == Some(joint.member))
    {
        let mut of_member = frame
            .pieces
            .iter()
            .filter(|piece| piece.member == joint.member);
        let part = of_member.find_map(|p| frame.parts.iter().find(|part| part.mark == p.mark));
        let section = part
            .filter(|part| part.bend.is_none())
            .and_then(|p| p.section.as_ref());
        let Some(section) = section.and_then(|s| sections.iter().position(|known| alike(known, s)))
        else {
            continue;
        };
        if splices.iter().all(|known| known.section != section) {
            let hardware = frame.joint_kind(joint).hardware.iter();
            let found: Option<Vec<(usize, i64)>> = hardware
                .map(|(mark, n)| Some((marks.iter().position(|known| *known == mark.0)?, *n)))
                .collect();
            splices.extend(found.map(|hardware| Splice { section, hardware }));
        }
    }
    splices
}

/// Whether a mark lies in lines of several pieces, where one joint more is like those that are there.
fn in_a_line(asked: &Asked, mark: usize) -> bool {
    let frame = &asked.of.ordered.frame;
    asked.line(mark).is_some_and(|line| {
        (line
            .places
            .iter()
            .filter_map(|place| frame.pieces.get(place.piece?)))
        .any(|piece| {
            frame
                .pieces
                .iter()
                .filter(|p| p.member == piece.member)
                .count()
                > 1
        })
    })
}

/// What a splice takes, from what is spare of it; nothing where there is not enough for one.
fn spare_hardware(
    lengths: &mut Lengths,
    asked: &Asked,
    splice: &Splice,
) -> Option<Vec<(usize, i64)>> {
    let enough = |(mark, n): &(usize, i64)| -asked.missing(*mark) >= *n;
    if !splice.hardware.iter().all(enough) {
        return None;
    }
    let mut uses = Vec::new();
    for &(mark, n) in &splice.hardware {
        let known = lengths
            .lying
            .iter()
            .position(|l| l.mark == mark && l.section.is_none());
        let at = known.unwrap_or_else(|| {
            lengths.lying.push(Lying {
                says: format!("spare {}", asked.of.build.marks[mark]),
                mark,
                have: -asked.missing(mark),
                bar: super::cut::Bar {
                    length: 0,
                    swages: Vec::new(),
                },
                section: None,
                of_want: None,
            });
            lengths.lying.len() - 1
        });
        uses.push((at, n));
    }
    Some(uses)
}

/// The pairs that leave least, each shorter than what is wanted. Tubes are joined with a swage in a plain end, so that one
/// of the two has one; what else has a section is joined end to end.
fn pairs(lengths: &mut Lengths, asked: &Asked, want: usize, hardware: &[(usize, i64)]) {
    let setting = &asked.of.stock.setting;
    let wanted = lengths.wants[want].wanted.clone();
    let tube = asked.part(lengths.wants[want].mark).is_some_and(|part| {
        matches!(
            part.section,
            Some(Section::Tube { .. } | Section::Box { .. })
        )
    });
    let section = lengths.wants[want].section;
    let of_section: Vec<usize> = (0..lengths.lying.len())
        .filter(|at| lengths.lying[*at].section == Some(section))
        .filter(|at| lengths.lying[*at].bar.length < wanted.length)
        .collect();
    let mut found: Vec<(i64, [usize; 2])> = Vec::new();
    for (i, &one) in of_section.iter().enumerate() {
        for &other in &of_section[i..] {
            let [a, b] = [&lengths.lying[one], &lengths.lying[other]];
            if one == other && a.have < 2 {
                continue;
            }
            let swages = (a.bar.swages.len() + b.bar.swages.len()) as i64;
            let needs = i64::from(tube) + i64::from(wanted.swage.is_some());
            let over = a.bar.length + b.bar.length - wanted.length;
            if over >= 0 && swages >= needs {
                found.push((over, [one, other]));
            }
        }
    }
    found.sort_unstable();
    lengths.whole &= found.len() <= MOST_PAIRS;
    for (_, [one, other]) in found.into_iter().take(MOST_PAIRS) {
        let mut uses = match one == other {
            true => vec![(one, 2)],
            false => vec![(one, 1), (other, 1)],
        };
        uses.extend(hardware);
        let of = format!(
            "{} and {}",
            lengths.lying[one].says, lengths.lying[other].says
        );
        lengths.recipes.push(Recipe {
            source: Source::Joined,
            uses,
            makes: vec![(want, 1)],
            cost: Price(setting.cut.0.map(|cut| 2 * cut)),
            of,
        });
    }
}
