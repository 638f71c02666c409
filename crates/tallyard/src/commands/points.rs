//! `tallyard points`: what is still to be made good or answered.

use std::io::{Write, stdout};
use std::path::PathBuf;

use clap::Args;

use crate::failure::Failure;
use crate::{input, json, json_points};

/// Say which points of a job are open, who sees to them, and what was answered.
#[derive(Args)]
#[command(after_help = "Example:\n  tallyard points garden.tallyard")]
pub struct Points {
    /// The job file
    job: PathBuf,
    /// Print JSON (docs/schema/points.json)
    #[arg(long)]
    json: bool,
}

impl Points {
    pub fn run(&self) -> Result<(), Failure> {
        let (_, standing) = input::standing(&self.job)?;
        if self.json {
            return json::print(&json_points::points(&standing));
        }
        let mut out = stdout().lock();
        if let Some(closed) = &standing.state.affairs.closed {
            let at = yard::dated(closed.at);
            writeln!(out, "the job is closed, by {}, {at}", closed.who)?;
        }
        let points = standing.points();
        if !points.iter().any(|point| point.stage.is_open()) {
            writeln!(out, "nothing is open")?;
        }
        for point in &points {
            let seen = &point.seen;
            writeln!(out, "{:<9} {}", point.stage.in_words(), point.says)?;
            let owner = match seen.owner.as_str() {
                "" => "nobody sees to it yet".to_string(),
                owner => format!("{owner} sees to it"),
            };
            let next = seen.next.as_ref().map(|day| format!(", next on {day}"));
            if point.stage.is_open() {
                writeln!(out, "          {owner}{}", next.unwrap_or_default())?;
            }
            for line in [&seen.words].into_iter().filter(|words| !words.is_empty()) {
                writeln!(out, "          to be done: {line}")?;
            }
            for answer in &seen.answers {
                let said = paper::answer_in_words(&answer.answer, "they");
                let words = match answer.words.as_str() {
                    "" => String::new(),
                    words => format!(": {words}"),
                };
                writeln!(out, "          answered: {said}{words}")?;
            }
        }
        Ok(())
    }
}
