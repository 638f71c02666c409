//! `tallyard dates`: what must be done by when.

use std::io::{Write, stdout};
use std::path::PathBuf;

use claim::{Date, NO_ADVICE};
use clap::Args;
use yard::Deadlines;

use super::papers::write_whole;
use crate::failure::Failure;
use crate::{input, json, json_dates};

/// Say what must be done by when, for each shipment.
#[derive(Args)]
#[command(after_help = "Example:\n  tallyard dates garden.tallyard --ics dates.ics")]
pub struct Dates {
    /// The job file
    job: PathBuf,
    /// The day to reckon from (YYYY-MM-DD); today at the site, if not said
    #[arg(long, value_name = "DAY", value_parser = day)]
    today: Option<Date>,
    /// Write the days as a calendar file (iCalendar) too
    #[arg(long, value_name = "FILE")]
    ics: Option<PathBuf>,
    /// Print JSON (docs/schema/dates.json)
    #[arg(long)]
    json: bool,
}

fn day(text: &str) -> Result<Date, String> {
    text.parse()
        .map_err(|_| "a day is written as 2026-03-31".into())
}

impl Dates {
    pub fn run(&self) -> Result<(), Failure> {
        let (job, standing) = input::standing(&self.job)?;
        let affairs = &standing.state.affairs;
        let zone = yard::site_zone(affairs);
        let now = store::now();
        let today = self.today.unwrap_or_else(|| yard::at_site(affairs, now).0);
        let all = Deadlines::of(&standing, &zone, today);
        let mut left_out = Vec::new();
        if let Some(file) = &self.ics {
            let job = job.id().to_string();
            let made = yard::calendar(&job, &all, today, now, standing.state.upto)
                .map_err(|why| Failure::Says(format!("this computer's clock: {why}")))?;
            if made.entries == 0 {
                return Err(Failure::refused(&self.job, "nothing in it has a day yet"));
            }
            write_whole(file, made.text.as_bytes())?;
            left_out = made.left_out;
        }
        if self.json {
            return json::print(&json_dates::dates(&standing, &all, &zone, today));
        }
        let mut out = stdout().lock();
        writeln!(out, "{NO_ADVICE}")?;
        let said = if affairs.zone.is_some() {
            ""
        } else {
            ", which nobody has said"
        };
        writeln!(
            out,
            "Today is {} at the site ({}{said}).",
            claim::day_in_words(today),
            zone.name()
        )?;
        for of in &all {
            writeln!(out, "\n{}", of.shipment)?;
            if let Some(not_said) = claim::sets_of(affairs, &of.shipment).not_said_in_words() {
                writeln!(out, "  {not_said}")?;
            }
            for due in of.due(today) {
                writeln!(out, "  {}", one_line(&due.says()))?;
                writeln!(
                    out,
                    "    {}: {}; {}",
                    due.rule.id,
                    due.rule.source,
                    due.rule.sure.words()
                )?;
            }
        }
        if !left_out.is_empty() {
            writeln!(out, "\nNot in the calendar file, for it has no day:")?;
        }
        for title in &left_out {
            writeln!(out, "  {}", one_line(title))?;
        }
        Ok(())
    }
}

/// What people wrote may hold line breaks and worse; a terminal gets one plain line.
fn one_line(text: &str) -> String {
    text.chars()
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect()
}
