//! `tallyard received`: what was received, in an open format.

use std::io::{Write, stdout};
use std::path::PathBuf;

use claim::x12::Envelope;
use clap::{Args, ValueEnum};
use yard::ReceivedForm;

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
    /// Who received; if not said, who writes as the papers say it
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
        let received = yard::received(
            &standing,
            &job.head()?,
            self.document.clone(),
            self.receiver.clone(),
        );
        let received = received.ok_or_else(|| {
            Failure::refused(
                &self.job,
                "this needs an order that can be built; set it in the yard's pages",
            )
        })?;
        let bytes = (self.form.of_yard()).write(&received, &self.envelope());
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

impl Form {
    fn of_yard(self) -> ReceivedForm {
        match self {
            Self::Ubl => ReceivedForm::Ubl,
            Self::X12 => ReceivedForm::X12,
            Self::Csv => ReceivedForm::Csv,
            Self::Xlsx => ReceivedForm::Xlsx,
            Self::Json => ReceivedForm::Json,
        }
    }
}
