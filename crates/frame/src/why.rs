//! The rules that put parts where they are, in words.

use std::collections::BTreeMap;

use measure::{Grid, Length, System};

use crate::family::Family;
use crate::rule_file::{JointFile, MemberFile, Over, Roles, StrutEnd, Towards, UprightFile};
use crate::settle::Settled;
use crate::skin_file::FittingFile;
use crate::where_file::{Bows, BowsWord, Every, FromEnd, InnerEvery, Sides, Spot};

/// The rule of a member: where it lies, and how it is cut.
pub(crate) fn member(rule: &MemberFile, family: &Family, order: &Settled) -> String {
    let system = order.system;
    let mut said = vec![where_it_lies(rule, family.is_by_side(&rule.when), order)];
    if let Some(cut) = how_it_is_cut(rule, family, order) {
        said.push(cut);
    }
    if let (Some(extension), Some(_)) = (&rule.extension, rule.along.as_ref()) {
        said.push(format!(
            "where an {extension} is long enough for the rest, it finishes the line"
        ));
    }
    if let Some(clear) = rule.splices_clear {
        said.push(format!(
            "no two pieces meet within {} of a bow",
            clear.tape(system)
        ));
    }
    said.join("; ")
}

fn where_it_lies(rule: &MemberFile, by_side: bool, order: &Settled) -> String {
    let system = order.system;
    let bows = bows(&rule.bows, order);
    let sides = match rule.sides {
        Sides::Left => "on the left",
        Sides::Right => "on the right",
        Sides::Both if by_side => "on each side that has it",
        Sides::Both => "on both sides",
    };
    if let Some(post) = &rule.post {
        let above = post.above_ground.tape(system);
        return format!("one {sides} at {bows}, {above} above the ground");
    }
    if let Some(bow) = &rule.bow {
        return match bow.half.last() {
            Some(last) if last.to.is_word(crate::pieces::OVER) => match 2 * (bow.half.len() - 1) {
                0 => format!("at {bows}: one piece from foot to foot"),
                legs => format!("at {bows}: {legs} pieces of legs and one over the peak"),
            },
            _ => format!("at {bows}: {} a side, meeting at the peak", bow.half.len()),
        };
    }
    if let Some(spot) = &rule.along {
        let line = match spot {
            Spot::Word(_) => "one line".into(),
            _ => format!("one line {sides}"),
        };
        let length = order.length.tape(system);
        return format!("{line} along the house, {length}, {}", place(spot, system));
    }
    if let Some(spot) = &rule.across {
        return format!("one across at {bows}, {}", place(spot, system));
    }
    if let Some(strut) = &rule.strut {
        let once = [&strut.from.at, &strut.to.at]
            .iter()
            .all(|at| in_the_middle(at));
        let one = if once {
            "one".into()
        } else {
            format!("one {sides}")
        };
        let back = match strut.towards {
            Towards::Middle => "",
            Towards::Back => " towards the back, none past the last bow",
        };
        return format!(
            "{one} at {bows}, from {} to {}{back}",
            strut_end(&strut.from, system),
            strut_end(&strut.to, system)
        );
    }
    if let Some(uprights) = &rule.upright {
        let stand = match uprights {
            UprightFile::List(list) => {
                let list: Vec<String> = list.iter().map(|x| x.tape(system)).collect();
                format!("{} from the middle", list.join(" and "))
            }
            UprightFile::Spaced(spaced) => format!(
                "every {} from {} off the middle on",
                spaced.every.tape(system),
                spaced.start.tape(system)
            ),
        };
        return format!("upright in the end wall, {stand}, {sides}");
    }
    if let Some(level) = &rule.level {
        let height = level.height.tape(system);
        return format!("level in the end wall, {height} above the ground");
    }
    if let Some(arch) = &rule.arch {
        let from = to_place(&arch.from, system);
        return match arch.over {
            Over::EndBows => format!("along the end bow from {from} up"),
            Over::Bays => format!(
                "over the house in each of {} bays, from {from} up",
                order.bays
            ),
        };
    }
    match &rule.follow {
        Some(roles) => format!("along each {}", roles.join(" and each ")),
        None => "in its place".into(),
    }
}

fn how_it_is_cut(rule: &MemberFile, family: &Family, order: &Settled) -> Option<String> {
    let system = order.system;
    let part = rule.part.as_ref()?;
    let file = family.part_file(part)?;
    let Some(length) = file.length else {
        return Some(format!("{part} is made to that length"));
    };
    if rule.post.is_some() {
        return None;
    }
    let overlap = rule.lap.unwrap_or(file.swage());
    let shows = (length - overlap).tape(system);
    let length = length.tape(system);
    Some(match (rule.lap.is_some(), overlap > Length::ZERO) {
        (_, false) => format!("{part} comes in {length}, the last of a line is cut"),
        (true, _) => format!("{part} of {length} brings a line {shows} on, the rest laps"),
        (false, _) => format!(
            "{part} of {length} brings a line {shows} on, since {} go into the next",
            overlap.tape(system)
        ),
    })
}

/// The rule of a joint.
pub(crate) fn joint(rule: &JointFile, order: &Settled) -> String {
    let where_it_is = if let Some([a, b]) = &rule.between {
        let any = |roles: &Roles| {
            let roles: Vec<String> = roles.0.iter().map(|role| one(role)).collect();
            roles.join(" or ")
        };
        format!("wherever {} meets {}", any(a), any(b))
    } else if let Some(roles) = &rule.splice {
        let roles: Vec<String> = roles.0.iter().map(|role| one(role)).collect();
        format!("wherever two pieces of {} meet", roles.join(" or of "))
    } else if let Some(roles) = &rule.peak {
        format!("at the peak of each {}", roles.0.join(" and each "))
    } else if let Some(roles) = &rule.foot {
        format!("at the foot of each {}", roles.0.join(" and each "))
    } else if let Some(roles) = &rule.ends {
        format!("at both ends of each {}", roles.0.join(" and each "))
    } else {
        let roles: Vec<&str> = (rule.fasten.iter().flat_map(|roles| &roles.0))
            .map(String::as_str)
            .collect();
        let every = rule.every.unwrap_or_default().tape(order.system);
        format!(
            "along each {}, at its ends and at most {every} apart",
            roles.join(" and each ")
        )
    };
    let at = at_its_bows(&rule.bows, order);
    format!("{where_it_is}{at}: {}", counted(&rule.hardware))
}

/// The rule of a fitting.
pub(crate) fn fitting(rule: &FittingFile, family: &Family, order: &Settled) -> String {
    let by_end = family.is_by_end(&rule.when);
    let by_side = family.is_by_side(&rule.when);
    let on = match &rule.on {
        Some(roles) => format!(
            "on each {}{}",
            roles.join(" and each "),
            at_its_bows(&rule.bows, order)
        ),
        None if by_side => "on each side that has it".into(),
        None if rule.per_side => "on each side".into(),
        None if by_end => "at each end that has it".into(),
        None => "for the house".into(),
    };
    format!("{on}: {}", counted(&rule.parts))
}

/// "2 of N6, 1 of X1".
fn counted(parts: &BTreeMap<String, i64>) -> String {
    let parts: Vec<String> = (parts.iter())
        .map(|(mark, count)| format!("{count} of {mark}"))
        .collect();
    parts.join(", ")
}

/// Why a sheet is as wide and as long as it is.
pub(crate) fn cover(
    arc: f64,
    more: [Length; 2],
    length: Length,
    end_allowance: Length,
    system: System,
) -> String {
    let [one, other] = more;
    let beyond = if one == other {
        format!("{} beyond on either side", one.tape(system))
    } else {
        format!("{} and {} beyond", one.tape(system), other.tape(system))
    };
    format!(
        "{} along the bow between its lines, {beyond}; {} long and {} at each end",
        tape(arc, system),
        length.tape(system),
        end_allowance.tape(system)
    )
}

pub(crate) fn end_skin(width: f64, height: f64, grip: Length, system: System) -> String {
    format!(
        "the end is {} by {}, and {} all round",
        tape(width, system),
        tape(height, system),
        grip.tape(system)
    )
}

pub(crate) fn ground(
    across: f64,
    roll: Length,
    lap: Length,
    strips: i64,
    system: System,
) -> String {
    format!(
        "{} across in {strips} strips of {}, each {} over the next",
        tape(across, system),
        roll.tape(system),
        lap.tape(system)
    )
}

/// How much wider the roll is than what is needed.
pub(crate) fn roll(needed: Length, roll: Length, system: System) -> String {
    if roll <= needed {
        return String::new();
    }
    format!(
        "; {} needed, so a roll of {}, which leaves {}",
        needed.tape(system),
        roll.tape(system),
        (roll - needed).tape(system)
    )
}

pub(crate) fn edge(every: Length, around: i64, system: System) -> String {
    format!(
        "along its edge, at most {} apart: {around} places",
        every.tape(system)
    )
}

/// Metres as a tape reads them.
pub(crate) fn tape(metres: f64, system: System) -> String {
    let length = Length::from_metres(metres, Grid::SIXTEENTH).unwrap_or_default();
    length.tape(system)
}

fn bows(bows: &Bows, order: &Settled) -> String {
    match bows {
        Bows::All | Bows::Word(BowsWord::All) => format!("each of {} bows", order.bays + 1),
        Bows::Word(BowsWord::Ends) => "each end bow".into(),
        Bows::Word(BowsWord::Inner) => "each bow but the end bows".into(),
        Bows::Word(BowsWord::Middle) => "the middle bow".into(),
        Bows::Word(BowsWord::Rest) => "each bow that has no other".into(),
        Bows::List(list) => {
            let list: Vec<String> = list.iter().map(i64::to_string).collect();
            format!("bow {}", list.join(", "))
        }
        Bows::FromEnd(FromEnd { from_end }) => format!("the bow {from_end} in from either end"),
        Bows::Every(Every { every, from }) => {
            format!("every {} bow from bow {from} on", nth(*every))
        }
        Bows::InnerEvery(InnerEvery { inner_every }) => {
            format!("every {} bow between the end bows", nth(*inner_every))
        }
    }
}

/// Which bows, where a rule is not about all of them.
fn at_its_bows(its: &Bows, order: &Settled) -> String {
    match its.is_all() {
        true => String::new(),
        false => format!(" at {}", bows(its, order)),
    }
}

/// A role with its article.
fn one(role: &str) -> String {
    match role.starts_with(['a', 'e', 'i', 'o', 'u']) {
        true => format!("an {role}"),
        false => format!("a {role}"),
    }
}

fn nth(n: i64) -> String {
    match n {
        1 => "single".into(),
        2 => "second".into(),
        3 => "third".into(),
        n => format!("{n}th"),
    }
}

fn place(spot: &Spot, system: System) -> String {
    match spot {
        Spot::Word(_) => "at the peak".into(),
        Spot::Share { of, share } if *share >= 1.0 => format!("at the upper end of the {of}"),
        Spot::Share { of, share } if *share <= 0.0 => format!("at the lower end of the {of}"),
        Spot::Share { of, share } => format!("{:.0} % up the {of}", share * 100.0),
        Spot::Along { of, along } => format!("{} up the {of}", along.tape(system)),
        Spot::Height { height } => format!("{} above the ground", height.tape(system)),
        Spot::Point { x, height } if *x == Length::ZERO => {
            format!("{} above the ground in the middle", height.tape(system))
        }
        Spot::Aside { x } => format!("{} from the middle", x.tape(system)),
        Spot::Point { x, height } => format!(
            "{} from the middle and {} above the ground",
            x.tape(system),
            height.tape(system)
        ),
    }
}

/// A place after "from" or "to".
fn to_place(spot: &Spot, system: System) -> String {
    let place = place(spot, system);
    place
        .strip_prefix("at ")
        .map_or(place.clone(), String::from)
}

fn in_the_middle(spot: &Spot) -> bool {
    match spot {
        Spot::Word(_) => true,
        Spot::Point { x, .. } | Spot::Aside { x } => *x == Length::ZERO,
        _ => false,
    }
}

fn strut_end(end: &StrutEnd, system: System) -> String {
    let place = to_place(&end.at, system);
    match end.bow {
        0 => place,
        1 => format!("{place} one bow on"),
        n => format!("{place} {n} bows on"),
    }
}
