//! What of a build-day folder lies on the ground: stakes, piles, what comes off the truck, what is lifted.

use measure::{Grid, Length, Mass, System};
use ready::Build;
use ready::ground::{
    Laydown, Pile, PileKind, PileMark, SEED, Site, carried_in_words, found, lay_out, laydown_svg,
};
use ready::handling::{Hands, LiftSite};
use ready::stakes::{SetOut, SettingOut, how, setting_out_svg};
use tally::{Ordered, Plans};

use crate::build_day::{
    LiftRow, LiftingSheet, MeasureRow, PileCard, PileLabel, SettingOutSheet, StagingSheet,
    StakeRow, UnloadingSheet, UnloadingStep,
};
use crate::drawings::Drawing;

/// The piles of a job, by what lies in them.
pub(crate) struct Piles {
    piles: Vec<Pile>,
    /// Names of the stages.
    stages: Vec<String>,
}

impl Piles {
    pub fn of(ordered: &Ordered, build: &Build) -> Self {
        Self {
            piles: ready::ground::piles(&ordered.parts, &ordered.frame, build),
            stages: build.stages.iter().map(|s| s.name.clone()).collect(),
        }
    }

    /// The piles that a mark lies in; with its bin, where it lies in one.
    pub fn with(&self, mark: &str) -> Vec<String> {
        let mut names: Vec<String> = Vec::new();
        for pile in &self.piles {
            for held in pile.from_top.iter().filter(|held| held.mark == mark) {
                let name = match &held.bin {
                    Some(bin) => format!("{}: {bin}", pile.name),
                    None => pile.name.clone(),
                };
                if !names.contains(&name) {
                    names.push(name);
                }
            }
        }
        names
    }

    /// One for each pile, and for each bin of what lies in bins.
    fn labels(&self) -> Vec<PileLabel> {
        self.piles
            .iter()
            .flat_map(|pile| self.labels_of(pile))
            .collect()
    }

    fn labels_of(&self, pile: &Pile) -> Vec<PileLabel> {
        let mut bins: Vec<&str> = Vec::new();
        for bin in pile.from_top.iter().filter_map(|held| held.bin.as_deref()) {
            if !bins.contains(&bin) {
                bins.push(bin);
            }
        }
        let whole = PileLabel {
            name: pile.name.clone(),
            says: pile.says.clone(),
            marks: marks(pile.from_top.iter()),
            stages: self.named(pile.stages.iter()),
        };
        let bins = bins.into_iter().map(|bin| {
            let held = || {
                pile.from_top
                    .iter()
                    .filter(|held| held.bin.as_deref() == Some(bin))
            };
            let mut stages: Vec<&usize> = held().map(|held| &held.stage).collect();
            stages.sort();
            stages.dedup();
            PileLabel {
                name: pile.name.clone(),
                says: format!("bin: {bin}"),
                marks: marks(held()),
                stages: self.named(stages.into_iter()),
            }
        });
        std::iter::once(whole).chain(bins).collect()
    }

    fn named<'a>(&self, stages: impl Iterator<Item = &'a usize>) -> Vec<String> {
        stages
            .filter_map(|stage| self.stages.get(*stage).cloned())
            .collect()
    }

    fn card(&self, pile: &Pile, lies: String, system: System) -> PileCard {
        let metres = |metres: f64| {
            let grid = match system {
                System::FeetInch => Grid::inch_fraction(1),
                System::Metric => Grid::new(Length::millimetres(10)),
            };
            let length = grid.and_then(|grid| Length::from_metres(metres, grid));
            length.unwrap_or_default().tape(system)
        };
        let mass = Mass::from_kilograms(pile.mass).unwrap_or_default();
        PileCard {
            name: pile.name.clone(),
            says: match pile.kind {
                PileKind::Table => pile.says.clone(),
                kind => format!("{}, {}", pile.says, kind.in_words()),
            },
            marks: marks(pile.from_top.iter()),
            stages: self.named(pile.stages.iter()),
            size: format!(
                "{} by {}, {} high; {}",
                metres(pile.length),
                metres(pile.width),
                metres(pile.height),
                mass.write(system, 0)
            ),
            lies,
        }
    }
}

/// Each mark once, with all its pieces.
fn marks<'a>(held: impl Iterator<Item = &'a PileMark>) -> Vec<(String, i64)> {
    let mut marks: Vec<(String, i64)> = Vec::new();
    for held in held {
        match marks.iter_mut().find(|(mark, _)| *mark == held.mark) {
            Some((_, pieces)) => *pieces += held.pieces,
            None => marks.push((held.mark.clone(), held.pieces)),
        }
    }
    marks
}

/// The house set out with a tape as the trade has it.
pub(crate) fn setting_out(frame: &frame::Frame) -> SettingOutSheet {
    let out = ready::stakes::setting_out(frame, &SetOut::usual(frame.system));
    let steps = how(&out);
    SettingOutSheet {
        drawing: Some(Drawing {
            title: "Setting out".into(),
            says: format!(
                "The stakes from above: {} posts, four corners, two diagonals.",
                out.posts.len()
            ),
            svg: setting_out_svg(&out),
        })
        .filter(|drawing| !drawing.svg.is_empty()),
        steps: steps.iter().map(|step| step.says.clone()).collect(),
        measures: measures(&out),
        stakes: stakes(&out),
        cautions: (steps.iter())
            .filter(|step| !step.caution.is_empty())
            .map(|step| step.caution.to_owned())
            .collect(),
    }
}

fn measures(out: &SettingOut) -> Vec<MeasureRow> {
    let tape = |length: Length| length.tape(out.system);
    let sides = out.must.iter().map(|must| MeasureRow {
        what: frame::capitalised(must.between),
        length: match must.level == must.on_ground {
            true => tape(must.level),
            false => format!(
                "{} level, {} along the ground",
                tape(must.level),
                tape(must.on_ground)
            ),
        },
    });
    let triangles = out.triangles.iter().map(|triangle| MeasureRow {
        what: format!(
            "A right angle: {} along the side, {} across",
            tape(triangle.along),
            tape(triangle.across)
        ),
        length: format!("{} from mark to mark", tape(triangle.slant)),
    });
    sides.chain(triangles).collect()
}

/// Both posts of a bow in one row.
fn stakes(out: &SettingOut) -> Vec<StakeRow> {
    let mut rows: Vec<StakeRow> = Vec::new();
    for post in &out.posts {
        let bow = post.bow.to_string();
        let read = match post.along == post.on_ground {
            true => post.along.tape(out.system),
            false => format!("{} on the ground", post.on_ground.tape(out.system)),
        };
        let deep = post.level.map(|level| level.in_ground.tape(out.system));
        if rows.last().is_none_or(|row| row.name != bow) {
            rows.push(StakeRow {
                name: bow,
                ..StakeRow::default()
            });
        }
        if let Some(row) = rows.last_mut() {
            let deep = deep.unwrap_or_default();
            if row.depth != deep {
                let both = [row.depth.as_str(), deep.as_str()];
                row.depth = both
                    .into_iter()
                    .filter(|d| !d.is_empty())
                    .collect::<Vec<_>>()
                    .join(", ");
            }
            match post.side {
                ready::stakes::Side::Left => row.left = read,
                ready::stakes::Side::Right => row.right = read,
            }
        }
    }
    rows
}

/// Where everything lies; where nobody has said what the ground is like, how to say it.
pub(crate) fn staging(ordered: &Ordered, plans: &Plans, piles: &Piles) -> StagingSheet {
    let system = ordered.frame.system;
    let site = plans
        .ground
        .as_ref()
        .map(|ground| Site::of(ground, &ordered.frame));
    let unknown = |says: String| StagingSheet {
        drawing: None,
        says: vec![says],
        piles: (piles.piles.iter())
            .map(|pile| piles.card(pile, String::new(), system))
            .collect(),
        labels: piles.labels(),
    };
    match site {
        None => unknown(
            "Nobody has said what the ground is like. Say it on the page Ground: its edge, where the house will stand, where \
             the truck unloads; then a plan to scale stands here. Until then write on the labels where each pile lies."
                .into(),
        ),
        Some(Err(trouble)) => unknown(format!("No plan could be made: {trouble}.")),
        Some(Ok(site)) => planned(&site, plans, piles, system),
    }
}

fn planned(site: &Site, plans: &Plans, piles: &Piles, system: System) -> StagingSheet {
    let laydown = lay_out(site, &piles.piles, &plans.spots, SEED);
    let drawing = Drawing {
        title: "Where everything lies".into(),
        says: "The ground from above, to scale: the house to come, the drop, and every pile."
            .into(),
        svg: laydown_svg(site, &piles.piles, &laydown, system),
    };
    let lies = |at: usize, pile: &Pile| {
        if let Some(laid) = laydown.piles.iter().find(|laid| laid.pile == at) {
            let found = found(site, pile, laid);
            return format!(
                "{}; {}. By two tapes: {}",
                found.corner, found.lies, found.tapes
            );
        }
        let why = (laydown.unplaced.iter()).find(|(name, _)| *name == pile.name);
        why.map_or_else(String::new, |(_, why)| format!("no room: {why}"))
    };
    StagingSheet {
        drawing: Some(drawing),
        says: of_plan(&laydown, system),
        piles: (piles.piles.iter().enumerate())
            .map(|(at, pile)| piles.card(pile, lies(at, pile), system))
            .collect(),
        labels: piles.labels(),
    }
}

/// What the plan costs, how far it may be from the best, and what is wrong with it.
fn of_plan(laydown: &Laydown, system: System) -> Vec<String> {
    let cost = format!(
        "Carried in all, from the drop to the piles and from these to the house: {}; {}.",
        carried_in_words(laydown.cost_kg_m, system),
        laydown.least_in_words(system)
    );
    std::iter::once(cost)
        .chain(laydown.faults.clone())
        .collect()
}

fn lift_site(plans: &Plans) -> LiftSite {
    plans.ground.as_ref().map(LiftSite::of).unwrap_or_default()
}

/// What comes off the truck, and how.
pub(crate) fn unloading(ordered: &Ordered, plans: &Plans) -> UnloadingSheet {
    let unloading = ready::unload::unloading(&ordered.parts, &ordered.frame, &lift_site(plans));
    UnloadingSheet {
        rule: unloading.rule,
        order: (unloading.off.iter())
            .map(|load| format!("{}: {}; goes {}", load.says, load.handling.says, load.goes))
            .collect(),
        steps: (unloading.steps.into_iter())
            .map(|step| UnloadingStep {
                says: step.says,
                tools: step.tools,
                wear: step.wear,
                caution: step.caution,
            })
            .collect(),
    }
}

/// What one person carries without asking: lighter marks that are lifted by one are left off the table (ours, no source).
const LIGHT: f64 = 2.0;

/// Who lifts what.
pub(crate) fn lifting(ordered: &Ordered, plans: &Plans) -> LiftingSheet {
    let system = ordered.frame.system;
    let site = lift_site(plans);
    let lifting = ready::handling::lifting(&ordered.parts, &site, system);
    let mut cautions: Vec<String> = Vec::new();
    for caution in lifting.rows.iter().flat_map(|row| &row.one.cautions) {
        if cautions.iter().all(|known| known != caution) {
            cautions.push((*caution).to_owned());
        }
    }
    let alone = lifting
        .rows
        .first()
        .map(|row| row.one.may[0].write(system, 0));
    let from = site.from.tape(system);
    let said = alone.map(|may| {
        format!(
            "Reckoned for taking off a bed {from} high and setting down on a pile: there one person may lift {may}. What is not \
             on this list weighs less than {} a piece and is short.",
            Mass::from_kilograms(LIGHT).unwrap_or_default().write(system, 0)
        )
    });
    LiftingSheet {
        says: said.into_iter().collect(),
        rows: (lifting.rows.into_iter())
            .filter(|row| row.one.hands != Hands::People(1) || row.each.to_kilograms() >= LIGHT)
            .map(|row| LiftRow {
                mark: row.mark,
                description: row.says,
                length: row
                    .length
                    .map(|length| length.tape(system))
                    .unwrap_or_default(),
                mass: row.each.write(system, 1),
                people: match row.one.hands {
                    Hands::People(1) => "1 person".into(),
                    Hands::People(n) => format!("{n} people"),
                    Hands::Machine => "a machine".into(),
                },
                two_take: match row.two_take {
                    0 => String::new(),
                    n => n.to_string(),
                },
            })
            .collect(),
        cautions,
    }
}
