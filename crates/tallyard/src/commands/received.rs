//! `tallyard received`: what was received, in an open format.

use std::io::{Write, stdout};
use std::path::PathBuf;

use claim::received::{Received as Report, Said};
use claim::x12::Envelope;
use claim::{received_csv, received_json, received_xlsx, ubl, x12};
use clap::{Args, ValueEnum};

use super::papers::write_whole;
use crate::failure::Failure;
use crate::input;

/// Write what was received against what was ordered and sent, for other programs.
#[derive(Args)]
#[command(
    after_help = "Example:\n  tallyard received garden.tallyard --form csv --to received.csv\n\nWhat the numbers mean: docs/formats.md"
)]
pub struct Received {
    /// The job file
    job: PathBuf,
    /// The format: UBL 2.1 ReceiptAdvice, X12 861, CSV, a workbook, or JSON (docs/schema/received.json)
    #[arg(long, value_enum)]
    form: Form,
    /// The file to write
    #[arg(long, value_name = "FILE")]
    to: PathBuf,
    /// The number of the document; made of the order's number and the log's head, if not said
    #[arg(long, value_name = "NUMBER")]
    document: Option<String>,
    /// Who received
    #[arg(long, value_name = "NAME", default_value = "")]
    receiver: String,
    /// X12: our id, as agreed with the sender
    #[arg(long, value_name = "ID", required_if_eq("form", "x12"))]
    our_id: Option<String>,
    /// X12: the sender's id, as agreed
    #[arg(long, value_name = "ID", required_if_eq("form", "x12"))]
    their_id: Option<String>,
    /// X12: the number of the interchange; each one has its own
    #[arg(long, value_name = "NUMBER", required_if_eq("form", "x12"))]
    interchange: Option<u32>,
    /// X12: say that it is only a trial
    #[arg(long)]
    trial: bool,
}

#[derive(Clone, Copy, ValueEnum)]
enum Form {
    Ubl,
    X12,
    Csv,
    Xlsx,
    Json,
}

impl Received {
    pub fn run(&self) -> Result<(), Failure> {
        let (job, standing) = input::standing(&self.job)?;
        let head = job.head()?.to_string();
        let number = standing
            .ordered()
            .and_then(|ordered| ordered.order.number.clone());
        let affairs = &standing.state.affairs;
        let local = |at| {
            let (day, time) = yard::at_site(affairs, at);
            day.to_datetime(time)
        };
        let said = Said {
            document: (self.document.clone()).unwrap_or_else(|| named(number.as_deref(), &head)),
            issued: local(store::now()),
            receiver: self.receiver.clone(),
            log_head: head,
        };
        let received = Report::of(&standing, said, local).ok_or_else(|| {
            Failure::refused(
                &self.job,
                "this needs an order that can be built; set it in the yard's pages",
            )
        })?;
        let bytes = match self.form {
            Form::Ubl => ubl::write(&received).map(String::into_bytes),
            Form::X12 => x12::write(&received, &self.envelope()).map(String::into_bytes),
            Form::Csv => received_csv::write(&received),
            Form::Xlsx => received_xlsx::write(&received),
            Form::Json => received_json::write(&received).map(String::into_bytes),
        };
        let bytes = bytes.map_err(|why| Failure::refused(&self.job, why))?;
        write_whole(&self.to, &bytes)?;
        writeln!(stdout(), "{}", self.to.display())?;
        Ok(())
    }

    /// All three are there when the form asks for them.
    fn envelope(&self) -> Envelope {
        Envelope {
            from: self.our_id.clone().unwrap_or_default(),
            to: self.their_id.clone().unwrap_or_default(),
            control: self.interchange.unwrap_or_default(),
            trial: self.trial,
        }
    }
}

/// "SG-117-4f5be01a": another state of the log is another document.
fn named(order: Option<&str>, head: &str) -> String {
    let head: String = head.chars().take(8).collect();
    format!("{}-{head}", order.unwrap_or("received"))
}
