//! Needing fewer: a last stage that waits for another day, or a house that ends a bay sooner for now.

use std::collections::BTreeMap;

use frame::{PartsList, expand};
use measure::Grid;
use tally::WayStands;

use super::figures::OURS;
use super::offer::{Asked, Less, needs};
use super::stock::Price;
use super::{Way, WayKind};

/// The kind of work that puts the end walls up.
const END_WALLS: &str = "end walls";

/// Stages that are asked for, on which no other waits: each could be done another day.
pub(crate) fn stages_that_may_wait(asked: &Asked) -> Vec<Less> {
    let stages = &asked.of.build.stages;
    let is_followed = |stage: usize| stages.iter().any(|other| other.follows.contains(&stage));
    (0..stages.len())
        .filter(|stage| asked.asked[*stage] && !asked.carries[*stage] && !is_followed(*stage))
        .filter(|stage| !is_film(asked, *stage))
        .map(|stage| {
            let key = format!("later:{}", stages[stage].name);
            let without = needs(asked.of.build, &|s| asked.asked[s] && s != stage);
            let needs: Vec<(usize, i64)> = (asked.needs.iter().zip(without).enumerate())
                .map(|(mark, (with, without))| (mark, with - without))
                .filter(|(_, fewer)| *fewer > 0)
                .collect();
            Less {
                says: format!("Leave the stage “{}” for another day.", stages[stage].name),
                kind: WayKind::Later,
                frees_light: needs.clone(),
                frees: needs,
                within: Vec::new(),
                stage: Some(stage),
                cost: asked.of.stock.setting.stage_waits,
                delay_days: [0, 0],
                risk: 0.0,
                ask: false,
                stands: said_of_any(asked, &key),
                source: "price: ours, no source".into(),
                key,
            }
        })
        .filter(|less| !less.frees.is_empty())
        .collect()
}

/// A house without its cover is no house: film never waits.
fn is_film(asked: &Asked, stage: usize) -> bool {
    asked.of.build.stages[stage].work == "film"
}

/// The house a bay shorter, while no end wall stands and no film is on. Fewer of everything is needed, unless the shorter
/// house needs a part that cannot be had from the longer one's.
pub(crate) fn shorter(asked: &Asked) -> Option<Less> {
    let ordered = asked.of.ordered;
    let build = asked.of.build;
    let begun = build.stages.iter().enumerate().any(|(at, stage)| {
        let worked = asked.of.state.plans.worked.get(&stage.name);
        let too_late = stage.work == END_WALLS || !asked.carries[at];
        too_late && worked.is_some_and(|w| w.done || w.person_minutes > 0)
    });
    let length = ordered.frame.length - ordered.frame.bow_spacing;
    if begun || length <= measure::Length::ZERO {
        return None;
    }
    let mut order = ordered.order.clone();
    order.length = length.write(measure::System::FeetInch, Grid::NANOMETRE);
    let shorter = PartsList::of(&expand(&order, &ordered.family).ok()?);
    let lines: BTreeMap<&str, &frame::Line> = (shorter
        .lines
        .iter()
        .map(|line| (line.part.mark.0.as_str(), line)))
    .collect();
    let longer: BTreeMap<&str, &frame::Line> = (ordered
        .parts
        .lines
        .iter()
        .map(|line| (line.part.mark.0.as_str(), line)))
    .collect();
    let fits = |line: &frame::Line| {
        let ours = longer.get(line.part.mark.0.as_str());
        line.quantity == 0 || ours.is_some_and(|ours| serves(&ours.part, &line.part))
    };
    if !shorter.lines.iter().all(fits) {
        return None;
    }
    let stage = |name: &str| build.stages.iter().position(|stage| stage.name == name);
    let of_line = |line: Option<&&frame::Line>, takes: &dyn Fn(usize) -> bool| -> i64 {
        let places = line.map_or(&[][..], |line| &line.places);
        (places.iter())
            .filter(|place| stage(&place.stage).is_some_and(takes))
            .map(|place| place.quantity)
            .sum()
    };
    let frees = |takes: &dyn Fn(usize) -> bool| -> Vec<(usize, i64)> {
        (build.marks.iter().enumerate())
            .map(|(at, mark)| {
                let fewer = of_line(longer.get(mark.as_str()), takes);
                (at, fewer - of_line(lines.get(mark.as_str()), takes))
            })
            .filter(|(_, fewer)| *fewer != 0)
            .collect()
    };
    let within = (0..build.stages.len())
        .filter(|at| asked.asked[*at] && !asked.carries[*at])
        .map(|at| (at, frees(&|s| s == at)))
        .filter(|(_, fewer)| !fewer.is_empty())
        .collect();
    let key = "ask:shorter".to_owned();
    let stands = said_of_any(asked, &key);
    let (delay_days, risk) = asked.with_answer([0, 0], 0.0, stands);
    let system = ordered.frame.system;
    Some(Less {
        says: format!(
            "Build one bay shorter for now, {} instead of {}: the back end wall stands at bow {} until the last bay is \
             built on.",
            length.tape(system),
            ordered.frame.length.tape(system),
            (build.bows.max(1) - 1)
        ),
        kind: WayKind::Shorter,
        frees: frees(&|s| asked.asked[s]),
        frees_light: frees(&|s| asked.asked[s] && !asked.carries[s]),
        within,
        stage: None,
        cost: asked.of.stock.setting.bay_later,
        delay_days,
        risk,
        ask: true,
        stands,
        source: format!("pieces: from the order, a bay shorter; {OURS}"),
        key,
    })
}

/// Whether the longer house's part does in the shorter one: it is the same, or straight or flat and cut to it.
fn serves(ours: &frame::Part, wanted: &frame::Part) -> bool {
    let at_least =
        |ours: Option<measure::Length>, wanted: Option<measure::Length>| match (ours, wanted) {
            (Some(ours), Some(wanted)) => ours >= wanted,
            (ours, wanted) => ours == wanted,
        };
    let same =
        ours.length == wanted.length && ours.width == wanted.width && ours.bend == wanted.bend;
    let plain = |part: &frame::Part| {
        let ends = part.ends.iter().flatten();
        part.bend.is_none() && ends.clone().all(|end| *end == frame::End::Plain)
    };
    same || (plain(ours)
        && plain(wanted)
        && at_least(ours.length, wanted.length)
        && at_least(ours.width, wanted.width))
}

/// What goes for all marks alike is spoken of once: a no for one mark is a no for all, before a yes.
fn said_of_any(asked: &Asked, key: &str) -> Option<WayStands> {
    let ways = asked.of.state.plans.ways.iter();
    let said = || {
        ways.clone()
            .filter(|((_, way), _)| way == key)
            .map(|(_, seen)| seen.said.stands)
    };
    said()
        .find(|stands| super::send::is_out(Some(*stands)))
        .or_else(|| said().find(|stands| *stands == WayStands::Allowed))
        .or_else(|| said().next())
}

impl Less {
    /// The way as people see it beside one mark; nothing where it does not help there.
    pub(crate) fn way(&self, asked: &Asked, mark: usize) -> Option<Way> {
        let (_, fewer) = self
            .frees
            .iter()
            .find(|(at, fewer)| *at == mark && *fewer > 0)?;
        Some(Way {
            key: self.key.clone(),
            kind: self.kind,
            says: self.says.clone(),
            pieces: (*fewer).min(asked.missing(mark)),
            cost: (self.cost != Price::default()).then(|| asked.money(self.cost)),
            delay_days: self.delay_days,
            risk: self.risk,
            ask_sender: self.ask,
            structural: self.ask,
            stands: self.stands,
            source: self.source.clone(),
        })
    }
}

/// What stages beyond those asked for leave to them: the last of them lack it. One way a stage.
pub(crate) fn left_to_later(asked: &Asked, mark: usize) -> Vec<Way> {
    let mut open = asked.missing(mark) - asked.lacks(mark).max(0);
    let stages = &asked.of.build.stages;
    let mut ways = Vec::new();
    for stage in (0..stages.len()).rev().filter(|stage| !asked.asked[*stage]) {
        let pieces = asked.by_stage[stage][mark].min(open);
        if pieces > 0 {
            open -= pieces;
            let key = format!("later:{}", stages[stage].name);
            let name = &asked.of.build.marks[mark];
            ways.push(Way {
                says: format!(
                    "Take {pieces} of {name} from what the stage “{}” needs, which the day does not reach; there they are lacking then.",
                    stages[stage].name
                ),
                stands: said_of_any(asked, &key),
                key,
                kind: WayKind::Later,
                pieces,
                cost: None,
                delay_days: [0, 0],
                risk: 0.0,
                ask_sender: false,
                structural: false,
                source: "pieces: from the order".into(),
            });
        }
    }
    ways
}
