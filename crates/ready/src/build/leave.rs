//! Which bows may be left out for now and set in later, so that what stands is held meanwhile.
//!
//! Never an end bow. Never a bow in a bay that something askew, such as a brace, goes over; where nothing does, never the
//! bow next to an end, so that the end bays stay whole. Never a bow that carries what only some bows carry, such as a
//! tie. Never a bow to which a splice or an end of a line that bows hold is nearer than to any other. Never two
//! neighbours: one is left out between two that stand. Lines along the house are then laid over the gap, and what needs
//! all bows, as film does, waits.
//!
//! No source: cautious rules of our own. The sender's instructions go first, and wind does not wait.

use std::collections::{BTreeMap, BTreeSet};

use frame::{Frame, Path};

use super::Gap;
use super::draft::Draft;
use super::stand::{Stands, Stations};
use crate::bits::Bits;

/// The stage that brings the bows: the first that has an arch of its own at a bow between the ends.
pub(super) fn bow_stage(frame: &Frame) -> Option<usize> {
    let stations = Stations::of(frame);
    let arches = (frame.members.iter().enumerate()).filter(|(_, member)| {
        let between = 2..stations.count();
        member.on.is_none()
            && matches!(member.path, Path::Arch { .. })
            && matches!(stations.stands(&member.path), Stands::At(bow) if between.contains(&bow))
    });
    arches
        .filter_map(|(member, _)| {
            let stage = frame.belongs(member).0;
            frame.stages.iter().position(|name| name == stage)
        })
        .min()
}

/// By unit: how it takes to a bow that is left out. What stands at one bow and follows that bow goes with it, unless it
/// comes after a skin and so waits for all.
pub(super) fn gaps(drafts: &[Draft], before: &[Bits], bow_stage: Option<usize>) -> Vec<Gap> {
    let is_bow = |draft: &Draft, bow: usize| {
        Some(draft.stage) == bow_stage && !draft.along && draft.bows == [bow, bow]
    };
    (drafts.iter().zip(before))
        .map(|(draft, before)| {
            let [first, last] = draft.bows;
            let waits = draft.skin || before.iter().any(|unit| drafts[unit].skin);
            let on_bow = || before.iter().any(|unit| is_bow(&drafts[unit], first));
            match (waits, draft.along) {
                (true, _) => Gap::Waits,
                (false, true) => Gap::Spans,
                _ if is_bow(draft, first) || (first == last && on_bow()) => Gap::Bow(first),
                _ => Gap::Waits,
            }
        })
        .collect()
}

/// The bows (from 1) that may be left out.
pub(super) fn may_leave(
    frame: &Frame,
    drafts: &[Draft],
    gaps: &[Gap],
    bow_stage: Option<usize>,
) -> Vec<usize> {
    let stations = Stations::of(frame);
    let mut kept: BTreeSet<usize> = BTreeSet::from([1, stations.count()]);
    kept.extend(stiffened(frame, &stations));
    kept.extend(carrying_more(drafts, gaps, bow_stage, stations.count()));
    kept.extend(at_splices(frame, &stations, bow_stage));
    let is_bow = |bow: usize| gaps.contains(&Gap::Bow(bow));
    (1..=stations.count())
        .filter(|bow| !kept.contains(bow) && is_bow(*bow))
        .collect()
}

/// The bows of the bays that something askew goes over, also where it ends within one; of the end bays where nothing does.
fn stiffened(frame: &Frame, stations: &Stations) -> BTreeSet<usize> {
    let mut bows = BTreeSet::new();
    for member in &frame.members {
        if let (Stands::Askew, Path::Straight(a, b)) = (stations.stands(&member.path), member.path)
        {
            let [first, last] = stations.around(a.y.min(b.y), a.y.max(b.y));
            bows.extend(first..=last);
        }
    }
    match bows.is_empty() {
        true => BTreeSet::from([2, stations.count().saturating_sub(1)]),
        false => bows,
    }
}

/// The bows that carry what not every bow between the ends carries.
fn carrying_more(
    drafts: &[Draft],
    gaps: &[Gap],
    bow_stage: Option<usize>,
    count: usize,
) -> BTreeSet<usize> {
    let mut by_stage: BTreeMap<usize, BTreeSet<usize>> = BTreeMap::new();
    for (draft, gap) in drafts.iter().zip(gaps) {
        if let Gap::Bow(bow) = gap
            && Some(draft.stage) != bow_stage
            && (2..count).contains(bow)
        {
            by_stage.entry(draft.stage).or_default().insert(*bow);
        }
    }
    (by_stage.into_values())
        .filter(|bows| bows.len() + 2 < count)
        .flatten()
        .collect()
}

/// The bows that are nearest to where a line that bows hold is spliced, or ends.
fn at_splices(frame: &Frame, stations: &Stations, bow_stage: Option<usize>) -> BTreeSet<usize> {
    let in_bow_stage = |member: usize| {
        let stage = frame.belongs(member).0;
        frame.stages.iter().position(|name| name == stage) == bow_stage
    };
    let is_bow = |member: usize| {
        in_bow_stage(member) && matches!(frame.members[member].path, Path::Arch { .. })
    };
    let is_line = |member: usize| stations.stands(&frame.members[member].path) == Stands::Along;
    let lines: BTreeSet<usize> = (frame.joints.iter())
        .filter_map(|joint| {
            let pairs = [(joint.member, joint.other?), (joint.other?, joint.member)];
            (pairs.into_iter())
                .find(|(line, bow)| is_line(*line) && is_bow(*bow))
                .map(|(line, _)| line)
        })
        .collect();
    (frame.pieces.iter())
        .filter(|piece| lines.contains(&piece.member))
        .flat_map(|piece| [(piece.member, piece.from), (piece.member, piece.to)])
        .flat_map(|(member, along)| {
            let at = frame.members[member].path.at(&frame.profile, along);
            stations.nearest(at.y)
        })
        .collect()
}
