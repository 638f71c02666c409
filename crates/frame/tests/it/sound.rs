//! What must hold of any house of any family.
//!
//! What the family says (laps, kerf, spares, packages) is read here from its file by itself, not asked of the program.

use std::collections::{BTreeMap, BTreeSet};

use frame::{End, Family, Frame, Member, Part, PartsList, Path, Piece, Point};
use measure::{Length, Mass};
use toml::{Table, Value};

/// A family file as tables.
pub struct Rules(Table);

impl Rules {
    pub fn of(family: &Family) -> Self {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../families");
        let text = std::fs::read_to_string(format!("{folder}/{}.toml", family.name)).unwrap();
        Self(text.parse().unwrap())
    }

    pub fn size(&self) -> &Table {
        self.0["size"].as_table().unwrap()
    }

    /// All tables of a kind, in the order of the file.
    pub fn all(&self, kind: &str) -> Vec<&Table> {
        let tables = self.0.get(kind).and_then(Value::as_array);
        tables
            .into_iter()
            .flatten()
            .filter_map(Value::as_table)
            .collect()
    }

    pub fn members(&self, role: &str) -> Vec<&Table> {
        let mut members = self.all("member");
        members.retain(|m| text(m, "role") == Some(role));
        members
    }

    fn part(&self, mark: &str) -> &Table {
        let mut parts = self.all("part").into_iter();
        parts.find(|p| text(p, "mark") == Some(mark)).unwrap()
    }

    fn cutting(&self, field: &str) -> Option<&str> {
        text(self.0.get("cutting")?.as_table()?, field)
    }
}

pub fn text<'a>(table: &'a Table, field: &str) -> Option<&'a str> {
    table.get(field)?.as_str()
}

pub fn texts<'a>(table: &'a Table, field: &str) -> Vec<&'a str> {
    let list = table.get(field).and_then(Value::as_array);
    list.into_iter()
        .flatten()
        .filter_map(Value::as_str)
        .collect()
}

pub fn length(text: &str) -> Length {
    Length::read(text, None).unwrap()
}

fn whole(table: &Table, field: &str) -> i64 {
    table.get(field).and_then(Value::as_integer).unwrap_or(0)
}

/// Half of the sixteenth to which cuts and bow pieces are rounded, in metres, and a little.
const ROUNDED: f64 = 0.0008;

pub fn check(frame: &Frame, list: &PartsList, rules: &Rules) {
    joints_hold_what_they_are_for(frame, rules);
    joints_lie_on_their_members(frame);
    pieces_cover_their_members(frame, rules);
    leftovers_come_from_what_is_cut(frame, list, rules);
    the_list_is_the_sum_of_its_places(frame, list);
    what_is_packed_is_what_is_needed_and_spares(list, rules);
}

fn joints_hold_what_they_are_for(frame: &Frame, rules: &Rules) {
    let files = rules.all("joint");
    let role = |member: usize| frame.members[member].role.as_str();
    let mut held = BTreeSet::new();
    for joint in &frame.joints {
        let file = files[joint.kind];
        let between = texts(file, "between");
        if let [a, b] = between[..] {
            let other = joint.other.expect("a joint between two has both");
            assert_ne!(other, joint.member, "{}", joint.name);
            let roles = [role(joint.member), role(other)];
            assert!(
                roles == [a, b] || roles == [b, a],
                "{}: {roles:?}",
                joint.name
            );
            let pair = (joint.member.min(other), joint.member.max(other));
            let at = [joint.at.x, joint.at.y, joint.at.z].map(|m| (m * 1e3).round() as i64);
            assert!(held.insert((pair, at)), "{} is held twice", joint.name);
            continue;
        }
        let its = |field| {
            let mut roles = texts(file, field);
            roles.extend(text(file, field));
            roles.contains(&role(joint.member))
        };
        let by_nature = match joint.other {
            None => its("foot") || its("ends") || its("fasten"),
            Some(other) if other == joint.member => its("splice") || its("peak"),
            Some(_) => its("fasten"),
        };
        assert!(
            by_nature,
            "{}: {}",
            frame.joint_kind(joint).says,
            joint.name
        );
    }
}

pub fn joints_lie_on_their_members(frame: &Frame) {
    for joint in &frame.joints {
        for member in [Some(joint.member), joint.other].into_iter().flatten() {
            let member = &frame.members[member];
            let off = distance_to(&member.path, frame, joint.at);
            assert!(off < 0.05, "{}: {off:.3} m off {}", joint.name, member.name);
        }
    }
}

fn distance_to(path: &Path, frame: &Frame, p: Point) -> f64 {
    let apart = |q: Point| (p.x - q.x).hypot(p.y - q.y).hypot(p.z - q.z);
    match path {
        Path::Straight(a, b) => {
            let along = [b.x - a.x, b.y - a.y, b.z - a.z];
            let to = [p.x - a.x, p.y - a.y, p.z - a.z];
            let dot: f64 = along.iter().zip(to).map(|(u, v)| u * v).sum();
            let squared: f64 = along.iter().map(|u| u * u).sum();
            apart(path.at(
                &frame.profile,
                (dot / squared).clamp(0.0, 1.0) * path.length(),
            ))
        }
        Path::Arch { from, to, .. } => {
            // The place on the profile at the joint's height and side, if the member reaches there.
            let s = frame.profile.along_height(p.z).unwrap_or(f64::INFINITY);
            let s = if p.x > 0.0 {
                frame.profile.length() - s
            } else {
                s
            };
            apart(path.at(&frame.profile, s.clamp(*from, *to) - from))
        }
    }
}

fn part_of<'a>(frame: &'a Frame, piece: &Piece) -> &'a Part {
    let mut parts = frame.parts.iter();
    parts
        .find(|p| p.mark == piece.mark)
        .expect("a piece's part is there")
}

/// The length that is carried to the place.
fn in_hand(piece: &Piece, part: &Part) -> Length {
    piece.cut_to.or(part.length).expect("a piece has a length")
}

fn swages(part: &Part) -> f64 {
    (part.ends.iter().flatten())
        .map(|end| match end {
            End::Swaged(over) => over.to_metres(),
            _ => 0.0,
        })
        .sum()
}

/// Pieces lie end to end from one end of their member to the other; in hand each is as much longer as goes into its
/// neighbour, or lies over it.
fn pieces_cover_their_members(frame: &Frame, rules: &Rules) {
    let mut lines: BTreeMap<usize, Vec<&Piece>> = BTreeMap::new();
    for piece in &frame.pieces {
        lines.entry(piece.member).or_default().push(piece);
    }
    assert_eq!(lines.len(), frame.members.len(), "every member has pieces");
    for (member, mut pieces) in lines {
        let member = &frame.members[member];
        pieces.sort_by(|a, b| a.from.total_cmp(&b.from));
        let mut reached = 0.0;
        for piece in &pieces {
            assert!(
                piece.to - piece.from > ROUNDED,
                "{} has no length",
                piece.name
            );
            assert!(
                (piece.from - reached).abs() < 1e-6,
                "{}: a gap, or over another",
                piece.name
            );
            reached = piece.to;
        }
        assert!(
            (reached - member.path.length()).abs() < 1e-6,
            "{}",
            member.name
        );

        let last = pieces.len() - 1;
        for (i, piece) in pieces.iter().enumerate() {
            let part = part_of(frame, piece);
            let long = in_hand(piece, part);
            let stock = part.length.unwrap();
            assert!(
                long > Length::ZERO && long <= stock,
                "{} is longer than it comes",
                piece.name
            );
            assert_ne!(piece.cut_to, Some(stock), "{} is no cut", piece.name);
            let hidden = hidden(member, piece, part, i == last, rules);
            let shows = piece.to - piece.from;
            let off = long.to_metres() - shows - hidden;
            assert!(off.abs() < ROUNDED, "{}: {off:.4} m", piece.name);
        }
    }
}

/// How much of a piece goes into others, lies over them, or stands in a post.
fn hidden(member: &Member, piece: &Piece, part: &Part, is_last: bool, rules: &Rules) -> f64 {
    let files = rules.members(&member.role);
    let mark = piece.mark.0.as_str();
    for bow in files.iter().filter_map(|file| file.get("bow")?.as_table()) {
        let half = bow["half"].as_array().unwrap();
        let its = half.iter().position(|p| p["part"].as_str() == Some(mark));
        if let Some(i) = its {
            let feet = match (i, half[i]["to"].as_str()) {
                (0, Some("over the peak")) => 2.0,
                (0, _) => 1.0,
                _ => 0.0,
            };
            let insert = text(bow, "insert").map_or(0.0, |insert| length(insert).to_metres());
            return swages(part) + insert * feet;
        }
    }
    let file = (files.into_iter())
        .find(|file| [text(file, "part"), text(file, "extension")].contains(&Some(mark)))
        .expect("a member's rule names its part");
    let made_to_measure = !rules.part(mark).contains_key("length");
    match (is_last, text(file, "lap")) {
        (true, _) if made_to_measure => swages(part),
        (true, _) => 0.0,
        (false, Some(lap)) => length(lap).to_metres(),
        (false, None) => swages(part),
    }
}

/// What is cut from one whole piece was there: cuts of the same mark, with the saw's kerfs no longer than the whole, and
/// with no more swages than it has.
fn leftovers_come_from_what_is_cut(frame: &Frame, list: &PartsList, rules: &Rules) {
    let kerf = rules.cutting("kerf").map_or(Length::ZERO, length);
    let ends_its_line = |piece: &Piece| {
        let path = frame.members[piece.member].path;
        (piece.to - path.length()).abs() < 1e-6
    };
    let mut wholes: BTreeMap<usize, Vec<&Piece>> = BTreeMap::new();
    for (i, piece) in frame.pieces.iter().enumerate() {
        if piece.cut_to.is_some() {
            wholes
                .entry(piece.left_from.unwrap_or(i))
                .or_default()
                .push(piece);
        } else {
            assert_eq!(piece.left_from, None, "{} is whole", piece.name);
        }
    }
    let mut used: BTreeMap<&str, (usize, usize, Length)> = BTreeMap::new();
    for (whole, cuts) in &wholes {
        let whole = &frame.pieces[*whole];
        assert!(
            whole.left_from.is_none() && whole.cut_to.is_some(),
            "{}",
            whole.name
        );
        assert!(
            cuts.iter().all(|cut| cut.mark == whole.mark),
            "{}",
            whole.name
        );
        if rules.cutting("leftovers") == Some("reserve") {
            assert_eq!(cuts.len(), 1, "{}", whole.name);
        }
        let part = part_of(frame, whole);
        let lapped = (rules.members(&frame.members[whole.member].role).iter())
            .any(|file| file.contains_key("lap"));
        let swage = Length::nanometres((swages(part) * 1e9).round() as i64);
        let swaged = if swage > Length::ZERO && !lapped {
            cuts.iter().filter(|cut| !ends_its_line(cut)).count()
        } else {
            0
        };
        assert!(swaged <= 1, "{}: two swages of one piece", whole.name);
        let stock = part.length.unwrap();
        let there = if swaged == 0 { stock - swage } else { stock };
        let sum: Length = cuts.iter().filter_map(|cut| cut.cut_to).sum();
        let sawn = sum + kerf * (cuts.len() as i64 - 1);
        assert!(sawn <= there, "{}: {sawn:?} from {there:?}", whole.name);
        let entry = used.entry(whole.mark.0.as_str()).or_default();
        *entry = (entry.0 + 1, entry.1 + cuts.len(), entry.2 + stock - sum);
    }
    for cut in &frame.cuts {
        let said = (cut.stock, cut.pieces, cut.waste);
        assert_eq!(used.get(cut.mark.0.as_str()), Some(&said), "{}", cut.mark);
        assert_eq!(list.line(&cut.mark.0).unwrap().cut.as_ref(), Some(cut));
    }
    assert_eq!(used.len(), frame.cuts.len());
}

pub fn the_list_is_the_sum_of_its_places(frame: &Frame, list: &PartsList) {
    let mut counted: BTreeMap<&str, i64> = BTreeMap::new();
    for piece in &frame.pieces {
        *counted.entry(&piece.mark.0).or_default() += i64::from(piece.left_from.is_none());
    }
    for joint in &frame.joints {
        for (mark, count) in &frame.joint_kind(joint).hardware {
            assert!(*count > 0, "{}", joint.name);
            *counted.entry(&mark.0).or_default() += count;
        }
    }
    for hung in &frame.hung {
        assert!(hung.quantity > 0, "{}", hung.name);
        *counted.entry(&hung.mark.0).or_default() += hung.quantity;
    }
    let listed: BTreeMap<&str, i64> = (list.lines.iter())
        .map(|l| (l.part.mark.0.as_str(), l.quantity))
        .collect();
    assert_eq!(listed, counted);
    assert_eq!(list.pieces(), counted.values().sum::<i64>());
    for line in &list.lines {
        let places = line.places.iter();
        assert!(
            places
                .clone()
                .all(|p| p.quantity > 0 || p.left_from.is_some())
        );
        assert_eq!(line.quantity, places.map(|p| p.quantity).sum::<i64>());
        for sums in [line.uses(), line.stages(), line.sub_kits()] {
            assert_eq!(line.quantity, sums.iter().map(|(_, n)| n).sum::<i64>());
        }
        assert!(
            line.quantity > 0 && line.part.unit_mass > Mass::ZERO,
            "{}",
            line.part.mark
        );
        let stages = line.stages();
        assert!(
            stages
                .iter()
                .all(|(stage, _)| list.stages.iter().any(|s| s == stage))
        );
    }
}

/// Spares by the rule that the file gives them; every sub-kit's mass in its package, and once.
fn what_is_packed_is_what_is_needed_and_spares(list: &PartsList, rules: &Rules) {
    for line in &list.lines {
        let spare = rules
            .part(&line.part.mark.0)
            .get("spare")
            .and_then(Value::as_table);
        let packed = spare.map_or(line.quantity, |spare| {
            // One in so many parts of a hundred, begun hundreds counted full.
            let share =
                (line.quantity as f64 * whole(spare, "percent") as f64 / 100.0 - 1e-9).ceil();
            let with = line.quantity + (share as i64).max(whole(spare, "at_least"));
            let bag = whole(spare, "pack").max(1);
            (0..)
                .map(|bags| bags * bag)
                .find(|held| *held >= with)
                .unwrap()
        });
        assert_eq!(line.supplied, packed, "{}", line.part.mark);
        assert!(line.supplied >= line.quantity);
    }
    let packages = rules.all("package");
    assert_eq!(list.packed.len(), packages.len());
    let packed: Vec<&str> = packages.iter().flat_map(|p| texts(p, "sub_kits")).collect();
    let sub_kits: BTreeSet<&str> = (list.lines.iter())
        .flat_map(|l| l.places.iter().map(|p| p.sub_kit.0.as_str()))
        .collect();
    if sub_kits.iter().all(|sub_kit| packed.contains(sub_kit)) {
        let supplied: Mass = list
            .lines
            .iter()
            .map(|l| l.part.unit_mass * l.supplied)
            .sum();
        let contents: Mass = list.packed.iter().map(|p| p.contents).sum();
        assert_eq!(contents, supplied);
        assert_eq!(list.gross(), list.packed.iter().map(|p| p.gross).sum());
    }
}
