//! `tallyard laydown`: where everything lies on the ground.

use std::collections::BTreeMap;
use std::io::{Write, stdout};
use std::path::{Path, PathBuf};

use clap::Args;
use measure::{Mass, System};
use ready::ground::{carried_in_words, found, laydown_svg};
use tally::{Ground, Ordered, PileSpot, What};
use yard::Laying;

use super::papers::write_whole;
use crate::failure::Failure;
use crate::{input, json, json_laydown};

/// The biggest ground file that is read, in bytes.
const MOST_GROUND: usize = 1_000_000;

/// Say where each pile lies, so that as little as can be is carried.
#[derive(Args)]
#[command(
    after_help = "Examples:\n  tallyard laydown garden.tallyard --svg ground.svg\n  \
                  tallyard laydown order.toml --ground ground.json"
)]
pub struct Laydown {
    /// The job file, or an order file (TOML)
    job: PathBuf,
    /// The ground (JSON; docs/schema/ground.json), instead of the job's own
    #[arg(long, value_name = "FILE")]
    ground: Option<PathBuf>,
    /// Write the drawing to scale (SVG) too
    #[arg(long, value_name = "FILE")]
    svg: Option<PathBuf>,
    /// Print JSON (docs/schema/laydown.json)
    #[arg(long)]
    json: bool,
}

impl Laydown {
    pub fn run(&self) -> Result<(), Failure> {
        let standing = input::standing_or_order(&self.job)?;
        let plans = &standing.state.plans;
        let ordered = (standing.ordered())
            .ok_or_else(|| Failure::refused(&self.job, "it has no order yet"))?;
        // Piles that were put by hand were put on the job's own ground.
        match self.ground {
            Some(_) => self.print(ordered, None, &BTreeMap::new()),
            None => self.print(ordered, plans.ground.as_ref(), &plans.spots),
        }
    }

    fn print(
        &self,
        ordered: &Ordered,
        known: Option<&Ground>,
        put: &BTreeMap<String, PileSpot>,
    ) -> Result<(), Failure> {
        let given = self.ground.as_deref().map(ground).transpose()?;
        let ground = given.as_ref().or(known).ok_or_else(|| {
            Failure::refused(
                &self.job,
                "it says nothing of the ground; give it by --ground",
            )
        })?;
        let from = self.ground.as_deref().unwrap_or(&self.job);
        let laying =
            Laying::of(ordered, ground, put).map_err(|trouble| Failure::refused(from, trouble))?;
        let system = ordered.frame.system;
        if let Some(file) = &self.svg {
            let svg = laydown_svg(&laying.site, &laying.piles, &laying.plan, system);
            write_whole(file, svg.as_bytes())?;
        }
        match self.json {
            true => json::print(&json_laydown::laydown(ordered, &laying)),
            false => in_words(ordered, &laying, system),
        }
    }
}

/// Reads a ground; the same limits hold as for one that a form gives.
fn ground(path: &Path) -> Result<Ground, Failure> {
    let bytes = input::bytes(path, MOST_GROUND)?;
    let ground: Ground =
        serde_json::from_slice(&bytes).map_err(|why| Failure::refused(path, why))?;
    match tally::say(What::GroundSet(ground)) {
        Ok(What::GroundSet(ground)) => Ok(ground),
        Ok(_) => Err(Failure::refused(path, "it is no ground")),
        Err(refusal) => Err(Failure::refused(path, refusal)),
    }
}

fn in_words(ordered: &Ordered, laying: &Laying, system: System) -> Result<(), Failure> {
    let mut out = stdout().lock();
    let plan = &laying.plan;
    writeln!(out, "{}", ordered.order.name)?;
    writeln!(
        out,
        "{} to carry; {}",
        carried_in_words(plan.cost_kg_m, system),
        plan.least_in_words(system)
    )?;
    for (i, pile) in laying.piles.iter().enumerate() {
        let marks: Vec<String> = (pile.from_top.iter())
            .map(|mark| format!("{} x {}", mark.mark, mark.pieces))
            .collect();
        let mass = Mass::from_kilograms(pile.mass).map_or_else(String::new, |m| m.write(system, 0));
        writeln!(out, "\nPlace {}: {}, {mass}", pile.name, pile.says)?;
        writeln!(out, "   from the top: {}", marks.join(", "))?;
        if let Some(laid) = plan.piles.iter().find(|laid| laid.pile == i) {
            let there = found(&laying.site, pile, laid);
            writeln!(out, "   {}, {}", there.corner, there.lies)?;
            writeln!(out, "   tapes: {}", there.tapes)?;
        }
        if !pile.care.is_empty() {
            writeln!(out, "   {}", pile.care.join(" "))?;
        }
    }
    for (pile, why) in &plan.unplaced {
        writeln!(out, "\nPlace {pile} lies nowhere: {why}")?;
    }
    for fault in &plan.faults {
        writeln!(out, "\n{fault}")?;
    }
    Ok(())
}
