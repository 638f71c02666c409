//! `tallyard ready`: whether the build can start, and how far it will get.

use std::io::{Write, stdout};
use std::path::PathBuf;

use claim::Date;
use clap::Args;
use ready::{Call, DayOutlook, Readiness, Stop};
use tally::{CrewDay, Standing};

use crate::failure::Failure;
use crate::{input, json, json_ready};

/// Say whether a crew can be called, how far it will get, and what would change that.
#[derive(Args)]
#[command(
    after_help = "Examples:\n  tallyard ready garden.tallyard\n  tallyard ready garden.tallyard --day 2026-12-05\n  \
                  tallyard ready order.toml"
)]
pub struct Ready {
    /// The job file; or an order file (TOML), for what its stages take while nothing is here yet
    #[arg(value_name = "JOB|ORDER")]
    job: PathBuf,
    /// The day to answer for (YYYY-MM-DD), instead of the one that was called or planned
    #[arg(long, value_name = "DAY", value_parser = day)]
    day: Option<Date>,
    /// Print JSON (docs/schema/ready.json)
    #[arg(long)]
    json: bool,
}

fn day(text: &str) -> Result<Date, String> {
    text.parse()
        .map_err(|_| "a day is written as 2026-03-31".into())
}

/// A crew where none is planned: people, and minutes of each.
const A_CREW: (i64, i64) = (8, 8 * 60);

impl Ready {
    pub fn run(&self) -> Result<(), Failure> {
        let mut standing = input::standing_or_order(&self.job)?;
        let (today, _) = yard::at_site(&standing.state.affairs, store::now());
        if let Some(day) = self.day {
            if day < today {
                let says = format!("--day {day} has passed; today is {today} at the site");
                return Err(Failure::Says(says));
            }
            plan(&mut standing, day);
        }
        let readiness = Readiness::of(&standing, today).ok_or_else(|| self.no_order(&standing))?;
        let answered = match self.day {
            Some(day) => readiness.days.iter().find(|known| known.day == day),
            None => readiness.planned(),
        };
        let call = match answered {
            Some(day) => Some(&day.call),
            None => readiness.call.as_ref(),
        };
        if self.json {
            let value = json_ready::ready(&standing, &readiness, today, answered, call);
            return json::print(&value);
        }
        print(&standing, &readiness, today, answered, call)
    }

    fn no_order(&self, standing: &Standing) -> Failure {
        let says = match standing.order.as_deref() {
            Some(Err(why)) => format!("its order cannot be used: {why}"),
            _ => "it has no order yet".into(),
        };
        Failure::refused(&self.job, says)
    }
}

/// Asks about a day that nobody planned as if a crew came on it: the one of the next day that was planned.
fn plan(standing: &mut Standing, day: Date) {
    let days = &mut standing.state.plans.days;
    let key = day.to_string();
    if days.contains_key(&key) {
        return;
    }
    let (after, before) = (days.range(key.clone()..).next(), days.values().next_back());
    let like = after.map(|(_, day)| day).or(before);
    let (people, minutes) = like.map_or(A_CREW, |day| (day.people, day.minutes));
    let asked = CrewDay {
        day: key.clone(),
        people,
        minutes,
        called: false,
        words: String::new(),
    };
    days.insert(key, asked);
}

fn print(
    standing: &Standing,
    readiness: &Readiness,
    today: Date,
    answered: Option<&DayOutlook>,
    call: Option<&Call>,
) -> Result<(), Failure> {
    let mut out = stdout().lock();
    if let Some(call) = call {
        writeln!(out, "{}", one_line(&call.says))?;
        match answered {
            Some(day) => writeln!(out, "For {}.", whose(day))?,
            None => writeln!(out, "For today, as things stand; no day is planned.")?,
        }
        if !call.chance_says.is_empty() {
            writeln!(out, "That the pieces are there: {}.", call.chance_says)?;
        }
        for (title, lines) in [
            ("Why", &call.why),
            ("What would change it", &call.would_change),
            ("What it rests on", &call.rests_on),
        ] {
            if !lines.is_empty() {
                writeln!(out, "\n{title}:")?;
            }
            for line in lines {
                writeln!(out, "  {}", one_line(line))?;
            }
        }
    }
    writeln!(out, "\nStage by stage:")?;
    let far = answered.map_or_else(|| readiness.far(today), DayOutlook::counts_on);
    for reach in &far.stages {
        let Some(stage) = readiness.build.stages.get(reach.stage) else {
            continue;
        };
        let built = (standing.state.plans.worked.get(&stage.name)).is_some_and(|seen| seen.done);
        let far = match (built, reach.through_bow) {
            (true, _) => "built".into(),
            (false, Some(bow)) if reach.done < reach.units && bow < readiness.build.bows => {
                format!("{} of {}, through bow {bow}", reach.done, reach.units)
            }
            _ => format!("{} of {}", reach.done, reach.units),
        };
        writeln!(out, "  {:<18} {far}", stage.name)?;
        for stop in reach.stops.iter().filter(|_| !built) {
            match stop {
                Stop::Short {
                    mark,
                    needed,
                    there,
                } => {
                    let mark = readiness.build.marks.get(*mark).map_or("", String::as_str);
                    writeln!(out, "  {:<18} {mark}: {needed} needed, {there} there", "")?;
                }
                Stop::Before(stage) => {
                    let before = readiness.build.stages.get(*stage);
                    let before = before.map_or("", |stage| stage.name.as_str());
                    writeln!(out, "  {:<18} comes after {before}", "")?;
                }
            }
        }
    }
    if !far.left_out.is_empty() {
        let bows: Vec<String> = far.left_out.iter().map(ToString::to_string).collect();
        writeln!(
            out,
            "Leave out for now: bow {}. {}",
            bows.join(", "),
            ready::LEAVE_OUT
        )?;
    }
    if !readiness.days.is_empty() {
        writeln!(out, "\nDays:")?;
    }
    for day in &readiness.days {
        let kind = match (day.planned, day.called) {
            (_, true) => "called",
            (true, false) => "planned",
            (false, false) => "not planned",
        };
        writeln!(out, "  {} ({kind})", whose(day))?;
        let says = one_line(&day.call.says);
        match day.call.chance_says.as_str() {
            "" => writeln!(out, "    {says}")?,
            chance => writeln!(out, "    {says} That the pieces are there: {chance}.")?,
        }
    }
    Ok(())
}

fn whose(day: &DayOutlook) -> String {
    let hours = day.minutes as f64 / 60.0;
    let people = match day.people {
        1 => "1 person".into(),
        n => format!("{n} people"),
    };
    format!(
        "{}, {people}, {hours} hours each",
        claim::day_in_words(day.day)
    )
}

/// What people wrote may hold line breaks and worse; a terminal gets one plain line.
fn one_line(text: &str) -> String {
    text.chars()
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect()
}
