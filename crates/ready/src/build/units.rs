//! What is done as one: all that stands at a bow and belongs together, a piece of what runs along the house, a skin, a
//! fitting; the hardware of a joint goes with what it holds in its own stage.

use std::collections::{BTreeMap, BTreeSet};

use frame::{Frame, Hung, Joint, PartsList};

use super::draft::Draft;
use super::stand::{Stands, Stations, sides};
use super::{Shared, leave};

/// All units, with no order among them.
pub(super) fn drafts(frame: &Frame, parts: &PartsList) -> Vec<Draft> {
    let mut units = Units::new(frame, parts);
    units.place_pieces();
    units.place_hung();
    units.place_hardware();
    units.place_bare();
    units.drafts
}

/// The units while they grow.
struct Units<'a> {
    frame: &'a Frame,
    stations: Stations,
    stages: BTreeMap<&'a str, usize>,
    marks: BTreeMap<&'a str, usize>,
    drafts: Vec<Draft>,
    /// By member: its pieces as (piece, draft).
    of_member: Vec<Vec<(usize, usize)>>,
    /// The stages that have a skin.
    with_skin: BTreeSet<usize>,
}

impl<'a> Units<'a> {
    fn new(frame: &'a Frame, parts: &'a PartsList) -> Self {
        let stages: BTreeMap<&str, usize> = (frame.stages.iter().enumerate())
            .map(|(index, name)| (name.as_str(), index))
            .collect();
        let marks = (parts.lines.iter().enumerate())
            .map(|(index, line)| (line.part.mark.0.as_str(), index))
            .collect();
        let with_skin = (frame.hung.iter())
            .filter(|hung| !hung.outline.is_empty())
            .filter_map(|hung| stages.get(hung.stage.as_str()).copied())
            .collect();
        Self {
            frame,
            stations: Stations::of(frame),
            stages,
            marks,
            drafts: Vec::new(),
            of_member: vec![Vec::new(); frame.members.len()],
            with_skin,
        }
    }

    fn stage(&self, name: &str) -> usize {
        self.stages.get(name).copied().unwrap_or_default()
    }

    fn stage_of(&self, member: usize) -> usize {
        self.stage(self.frame.belongs(member).0)
    }

    fn need(&mut self, draft: usize, mark: &str, pieces: i64) {
        if let Some(mark) = self.marks.get(mark) {
            self.drafts[draft].need(*mark, pieces);
        }
    }

    fn add(&mut self, draft: Draft) -> usize {
        self.drafts.push(draft);
        self.drafts.len() - 1
    }

    fn place_pieces(&mut self) {
        let together = self.together();
        let mut made: BTreeMap<usize, usize> = BTreeMap::new();
        for (index, piece) in self.frame.pieces.iter().enumerate() {
            let member = piece.member;
            let draft = match self.stands(member) {
                Stands::Along => self.along(index),
                _ => match made.get(&together[member]) {
                    Some(draft) => *draft,
                    None => {
                        let draft = self.standing(member);
                        made.insert(together[member], draft);
                        draft
                    }
                },
            };
            self.of_member[member].push((index, draft));
            self.take_in(draft, member);
            self.drafts[draft].pieces.push(index);
            self.need(draft, &piece.mark.0, piece.quantity());
        }
        for draft in 0..self.drafts.len() {
            self.name_together(draft);
        }
    }

    fn stands(&self, member: usize) -> Stands {
        self.stations.stands(&self.frame.members[member].path)
    }

    fn sides_of(&self, member: usize) -> [bool; 2] {
        let path = self.frame.members[member].path;
        let ends = [0.0, path.length()].map(|along| path.at(&self.frame.profile, along));
        sides(&ends)
    }

    /// A piece of what runs along the house.
    fn along(&mut self, piece: usize) -> usize {
        let file = &self.frame.pieces[piece];
        let path = self.frame.members[file.member].path;
        let [from, to] = [file.from, file.to].map(|s| path.at(&self.frame.profile, s).y);
        let mut draft = Draft::new(
            self.stage_of(file.member),
            file.name.clone(),
            self.stations.reached(from.min(to), from.max(to)),
            self.sides_of(file.member),
        );
        draft.along = true;
        self.add(draft)
    }

    /// What stands across the house, or askew in it.
    fn standing(&mut self, member: usize) -> usize {
        let path = self.frame.members[member].path;
        let bows = match self.stands(member) {
            Stands::At(bow) => [bow, bow],
            _ => {
                let ends = [0.0, path.length()].map(|s| path.at(&self.frame.profile, s).y);
                self.stations
                    .reached(ends[0].min(ends[1]), ends[0].max(ends[1]))
            }
        };
        let name = self.frame.members[member].name.clone();
        let draft = Draft::new(self.stage_of(member), name, bows, self.sides_of(member));
        self.add(draft)
    }

    fn take_in(&mut self, draft: usize, member: usize) {
        let sides = self.sides_of(member);
        let holds = self.frame.members[member].on.is_some()
            && self.with_skin.contains(&self.drafts[draft].stage);
        let draft = &mut self.drafts[draft];
        if !draft.members.contains(&member) {
            draft.members.push(member);
        }
        for (has, also) in draft.sides.iter_mut().zip(sides) {
            *has |= also;
        }
        draft.holds |= holds;
    }

    /// Several members that are one unit go by their common role or else by the stage, and by their place.
    fn name_together(&mut self, draft: usize) {
        let Draft {
            members,
            bows,
            stage,
            ..
        } = &self.drafts[draft];
        let [first, _, ..] = members[..] else { return };
        let role = &self.frame.members[first].role;
        let alike = (members.iter()).all(|member| self.frame.members[*member].role == *role);
        let what = if alike {
            role
        } else {
            &self.frame.stages[*stage]
        };
        let place = match bows[0] {
            1 => "front".into(),
            last if last == self.stations.count() => "back".into(),
            bow => format!("bow {bow}"),
        };
        self.drafts[draft].name = format!("{what}, {place}");
    }

    /// By member: the first of those that belong together with it. Members of a stage that stand at one bow belong
    /// together where joints of that stage hold them to each other, or to one and the same other member there: the
    /// uprights of an end wall all to the end bow, the webs of a truss to its tie; two posts to nothing in common.
    fn together(&self) -> Vec<usize> {
        let frame = self.frame;
        let mut first: Vec<usize> = (0..frame.members.len()).collect();
        // What a member of another stage holds together, by that stage and member.
        let mut by_other: BTreeMap<(usize, usize), usize> = BTreeMap::new();
        for joint in &frame.joints {
            let Some(other) = joint.other else { continue };
            let stands = self.stands(joint.member);
            if !matches!(stands, Stands::At(_)) || stands != self.stands(other) {
                continue;
            }
            let stage = self.stage(&frame.joint_kind(joint).stage);
            let mut held: Vec<usize> = Vec::new();
            for (member, to) in [(joint.member, other), (other, joint.member)] {
                if self.stage_of(member) == stage {
                    held.push(member);
                    if self.stage_of(to) != stage {
                        held.push(*by_other.entry((stage, to)).or_insert(member));
                    }
                }
            }
            if let [a, b, ..] = held[..] {
                unite(&mut first, a, b);
            }
        }
        (0..first.len())
            .map(|member| root(&first, member))
            .collect()
    }

    fn place_hung(&mut self) {
        let frame = self.frame;
        let starts: BTreeMap<[u64; 3], usize> = (frame.members.iter().enumerate())
            .map(|(index, member)| (bits(member.path.at(&frame.profile, 0.0)), index))
            .collect();
        let mut made: BTreeMap<(usize, &str, [u64; 3]), usize> = BTreeMap::new();
        for hung in &frame.hung {
            let stage = self.stage(&hung.stage);
            let key = (stage, hung.role.as_str(), bits(hung.at));
            let draft = match made.get(&key) {
                Some(draft) => *draft,
                None => {
                    let on = starts.get(&bits(hung.at)).copied();
                    let draft = self.hang(hung, stage, on);
                    made.insert(key, draft);
                    draft
                }
            };
            self.need(draft, &hung.mark.0, hung.quantity);
        }
    }

    /// A skin, or a fitting: on a member, at an end, or for the whole house.
    fn hang(&mut self, hung: &Hung, stage: usize, on: Option<usize>) -> usize {
        let all = [1, self.stations.count()];
        let ys = || hung.outline.iter().map(|corner| corner.y);
        let (bows, sides) = match (on, hung.outline.is_empty()) {
            (_, false) => {
                let from = ys().fold(f64::INFINITY, f64::min);
                let to = ys().fold(f64::NEG_INFINITY, f64::max);
                (self.stations.reached(from, to), sides(&hung.outline))
            }
            (Some(member), true) => {
                let bows = match self.stands(member) {
                    Stands::At(bow) => [bow, bow],
                    _ => all,
                };
                (bows, self.sides_of(member))
            }
            (None, true) => {
                let end = (self.stations.at(hung.at.y)).filter(|bow| all.contains(bow));
                (end.map_or(all, |bow| [bow, bow]), sides(&[hung.at]))
            }
        };
        let mut draft = Draft::new(stage, hung.name.clone(), bows, sides);
        draft.skin = !hung.outline.is_empty();
        self.add(draft)
    }

    fn place_hardware(&mut self) {
        let frame = self.frame;
        let with_own: BTreeSet<usize> = self.drafts.iter().map(|draft| draft.stage).collect();
        let mut made: BTreeMap<(usize, usize), usize> = BTreeMap::new();
        for joint in &frame.joints {
            let kind = frame.joint_kind(joint);
            let stage = self.stage(&kind.stage);
            let draft = match self.held_in(joint, stage) {
                Some(draft) => draft,
                None => {
                    let base = self.at(joint.member, joint).unwrap_or_default();
                    *made.entry((stage, base)).or_insert_with(|| {
                        // Where the stage is nothing but such hardware, what it is put on says enough.
                        let base = &self.drafts[base];
                        let name = match with_own.contains(&stage) {
                            true => format!("{}, {}", kind.says, base.name),
                            false => base.name.clone(),
                        };
                        let mut draft = Draft::new(stage, name, base.bows, base.sides);
                        draft.holds = self.with_skin.contains(&stage);
                        self.drafts.push(draft);
                        self.drafts.len() - 1
                    })
                }
            };
            for (mark, pieces) in &kind.hardware {
                self.need(draft, &mark.0, *pieces);
            }
        }
    }

    /// The unit of a stage that a joint holds.
    fn held_in(&self, joint: &Joint, stage: usize) -> Option<usize> {
        let members = [Some(joint.member), joint.other];
        (members.into_iter().flatten())
            .filter(|member| self.stage_of(*member) == stage)
            .find_map(|member| self.at(member, joint))
    }

    /// The unit that has the piece of a member at a joint.
    fn at(&self, member: usize, joint: &Joint) -> Option<usize> {
        let path = self.frame.members[member].path;
        let start = path.at(&self.frame.profile, 0.0).y;
        let along = (joint.at.y - start).abs();
        let away = |piece: usize| {
            let piece = &self.frame.pieces[piece];
            (piece.from - along).max(along - piece.to).max(0.0)
        };
        (self.of_member[member].iter())
            .min_by(|a, b| away(a.0).total_cmp(&away(b.0)))
            .map(|(_, draft)| *draft)
    }

    /// What is work alone is done bow by bow where the bows are there to do it to, and else as one.
    fn place_bare(&mut self) {
        let bow_stage = leave::bow_stage(self.frame);
        let ancestors = super::follow::of_steps(&self.frame.steps);
        let count = self.stations.count();
        let bare = (self.frame.steps.iter().enumerate()).filter(|(_, step)| step.bare);
        for (stage, _) in bare {
            let both = [true, true];
            if bow_stage.is_some_and(|bows| ancestors[stage].contains(&bows)) {
                for bow in 1..=count {
                    let name = format!("bow {bow}");
                    self.drafts.push(Draft::new(stage, name, [bow, bow], both));
                }
            } else {
                let name = self.frame.stages[stage].clone();
                self.drafts.push(Draft::new(stage, name, [1, count], both));
            }
        }
    }
}

/// Pieces that are cut from one whole piece and go to several units: the first of these needs it.
pub(super) fn shared(frame: &Frame, parts: &PartsList, drafts: &mut [Draft]) -> Vec<Shared> {
    let mut unit_of = vec![0; frame.pieces.len()];
    for (unit, draft) in drafts.iter().enumerate() {
        for piece in &draft.pieces {
            unit_of[*piece] = unit;
        }
    }
    let mut users: BTreeMap<usize, BTreeSet<usize>> = BTreeMap::new();
    for (index, piece) in frame.pieces.iter().enumerate() {
        if piece.left_from.is_some() {
            let mut whole = index;
            while let Some(from) = frame.pieces[whole].left_from {
                whole = from;
            }
            let users = users.entry(whole).or_default();
            users.extend([unit_of[whole], unit_of[index]]);
        }
    }
    let mut shared = Vec::new();
    for (whole, units) in users {
        let units: Vec<usize> = units.into_iter().collect();
        let name = &frame.pieces[whole].mark;
        let mark = parts.lines.iter().position(|line| line.part.mark == *name);
        if let (Some(mark), [first, _, ..]) = (mark, &units[..]) {
            drafts[unit_of[whole]].need(mark, -1);
            drafts[*first].need(mark, 1);
            shared.push(Shared { mark, units });
        }
    }
    shared
}

fn root(first: &[usize], mut member: usize) -> usize {
    while first[member] != member {
        member = first[member];
    }
    member
}

fn unite(first: &mut [usize], a: usize, b: usize) {
    let (a, b) = (root(first, a), root(first, b));
    first[a.max(b)] = a.min(b);
}

/// A place, to find the same place again.
fn bits(at: frame::Point) -> [u64; 3] {
    // Adding nothing makes a zero of either sign the same.
    [at.x, at.y, at.z].map(|metres| (metres + 0.0).to_bits())
}
