//! `tallyard yard`: open the pages of a job to phones.

use std::io::{Write, stdout};
use std::net::SocketAddr;
use std::path::PathBuf;

use ::yard::{Desk, Open, Places, THIS_COMPUTER};
use clap::Args;
use frame::MOST_FAMILY_BYTES;
use serde::Serialize;
use store::Job;
use tally::What;

use crate::failure::Failure;
use crate::{input, json};

/// Open the yard: the pages of one job, for this computer and for phones on the same network.
#[derive(Args)]
#[command(
    after_help = "Example:\n  tallyard yard garden.tallyard --order order.toml --list packing-list.xlsx"
)]
pub struct Yard {
    /// The job file, made if it is not there; or a bundle, whose pages are for reading only
    job: PathBuf,
    /// Open a copy of the job as it stands now, for reading only
    #[arg(long)]
    read_only: bool,
    /// Where to listen
    #[arg(long, value_name = "ADDRESS:PORT", default_value = "0.0.0.0:7411")]
    listen: SocketAddr,
    /// Where to listen for phones that trust this computer (HTTPS); the next port, if not said
    #[arg(long, value_name = "ADDRESS:PORT")]
    safe_listen: Option<SocketAddr>,
    /// Set the job's order from this file first
    #[arg(long, value_name = "ORDER")]
    order: Option<PathBuf>,
    /// A family file of your own for that order (docs/family.md); it is kept in the job
    #[arg(long, value_name = "FILE", requires = "order")]
    family: Option<PathBuf>,
    /// Bring in this packing list first; may be given several times
    #[arg(long, value_name = "FILE")]
    list: Vec<PathBuf>,
    /// Print where it opened as JSON (docs/schema/yard.json)
    #[arg(long)]
    json: bool,
}

impl Yard {
    pub fn run(&self) -> Result<(), Failure> {
        let what = self.first_events()?;
        let job = self.take_up()?;
        if job.is_for_reading() && !what.is_empty() {
            return Err(Failure::refused(
                &self.job,
                "this is a copy for reading, so it takes no order and no list",
            ));
        }
        let mut desk = Desk::take_up(job)?;
        for (document, what) in what {
            if let Some(bytes) = document {
                desk.put_document(&bytes)?;
            }
            let writer = desk.writer()?;
            desk.append(store::fresh_id(), &writer, THIS_COMPUTER, what)?;
        }
        let places = Places {
            listen: self.listen,
            safe_listen: self.safe_listen,
            keeps: data_folder(),
        };
        open(desk, &places, self.json)
    }

    fn take_up(&self) -> Result<Job, Failure> {
        if self.read_only {
            return Ok(Job::open_to_read(&self.job)?);
        }
        match self.job.exists() {
            true => input::job(&self.job),
            false => Ok(Job::create(&self.job)?),
        }
    }

    /// What the arguments bring into the job; all of it is read before anything is written.
    fn first_events(&self) -> Result<Vec<First>, Failure> {
        let mut found = Vec::new();
        if let Some(path) = &self.order {
            let ordered = input::order(path, self.family.as_deref())?;
            let document = (self.family.as_deref())
                .map(|family| input::bytes(family, MOST_FAMILY_BYTES))
                .transpose()?;
            let what = What::OrderSet {
                toml: ordered.order.write(),
                family: document.as_deref().map(tally::Digest::of),
            };
            found.push((document, what));
        }
        for path in &self.list {
            // One that cannot be read is refused here, before anything is written.
            let (bytes, _) = input::list(path)?;
            let digest = tally::Digest::of(&bytes);
            found.push((
                Some(bytes),
                What::ListAdded {
                    digest,
                    name: input::name(path),
                    shipment: None,
                },
            ));
        }
        Ok(found)
    }
}

/// Where this user's programs keep their data (XDG Base Directory Specification 0.8), and we what phones trust us by.
fn data_folder() -> Option<PathBuf> {
    // A path that is not absolute is to be ignored, as the specification has it.
    let named = |name: &str| {
        let path = PathBuf::from(std::env::var_os(name)?);
        path.is_absolute().then_some(path)
    };
    let data = named("XDG_DATA_HOME").or_else(|| Some(named("HOME")?.join(".local/share")))?;
    Some(data.join("tallyard"))
}

/// A document, if there is one, and the event that goes with it.
type First = (Option<Vec<u8>>, What);

#[derive(Serialize)]
struct Opened {
    listening: String,
    address: String,
    join_code: String,
    join_address: String,
    for_reading: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    safe_address: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    fingerprint: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    no_safe_address: Option<String>,
}

/// Serves until the person stops it, and says so plainly.
pub fn open(desk: Desk, places: &Places, as_json: bool) -> Result<(), Failure> {
    let runtime = tokio::runtime::Runtime::new().map_err(Failure::Yard)?;
    let said = |open: &Open| {
        let told = if as_json { say_json(open) } else { say(open) };
        // Whoever started the yard may not read what it says; it is open all the same.
        drop(told);
    };
    let stop = async {
        // Without a signal handler the system ends us on Ctrl-C, which loses nothing either.
        if tokio::signal::ctrl_c().await.is_err() {
            std::future::pending::<()>().await;
        }
    };
    runtime
        .block_on(::yard::serve(desk, places, said, stop))
        .map_err(Failure::Yard)
}

fn say(open: &Open) -> Result<(), Failure> {
    let mut out = stdout().lock();
    let here = format!(
        "http://127.0.0.1:{}/join?code={}",
        open.at.port(),
        open.code.letters()
    );
    writeln!(out, "\nThe yard is open.\n")?;
    writeln!(out, "On this computer:   {here}")?;
    writeln!(out, "On a phone nearby:  {}", open.join_address())?;
    writeln!(out, "Join code:          {}\n", open.code)?;
    writeln!(out, "{}", open.terminal_code())?;
    match &open.safe {
        Ok(safe) => {
            let groups = safe.fingerprint.groups();
            let (above, below) = groups.split_at(groups.len() / 2);
            writeln!(out, "Safe address:       {}", safe.address)?;
            writeln!(out, "Its fingerprint:    {}", above.join(" "))?;
            writeln!(out, "                    {}", below.join(" "))?;
            writeln!(
                out,
                "What it is for, and how a phone comes to trust it: {}/trust\n",
                open.address
            )?;
        }
        Err(why) => writeln!(
            out,
            "There is no safe address: {why}.\nEverything works while phones are in reach.\n"
        )?,
    }
    let what = match open.for_reading {
        true => {
            "This is a copy for reading: whoever has the code can read it, and nobody can write. Stop with Ctrl-C."
        }
        false => {
            "Whoever has the code can read and write this job. Stop with Ctrl-C; what was counted stays."
        }
    };
    writeln!(out, "{what}")?;
    out.flush()?;
    Ok(())
}

fn say_json(open: &Open) -> Result<(), Failure> {
    json::print(&Opened {
        listening: open.at.to_string(),
        address: open.address.clone(),
        join_code: open.code.letters().into(),
        join_address: open.join_address(),
        for_reading: open.for_reading,
        safe_address: open.safe.as_ref().ok().map(|safe| safe.address.clone()),
        fingerprint: (open.safe.as_ref().ok()).map(|safe| safe.fingerprint.groups().join(" ")),
        no_safe_address: open.safe.as_ref().err().cloned(),
    })
}
