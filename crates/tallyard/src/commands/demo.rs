//! `tallyard demo`: the whole job on an invented house, with nothing else needed.

use std::io::{Write, stdout};
use std::net::SocketAddr;
use std::path::Path;

use clap::Args;
use store::Job;
use tally::{Condition, Digest, What};
use yard::{Desk, Places};

use super::demo_plans::plans;
use crate::failure::Failure;

/// Lay out the demo job in a temporary place and open its yard.
#[derive(Args)]
#[command(after_help = "Example:\n  tallyard demo")]
pub struct Demo {
    /// Where to listen
    #[arg(long, value_name = "ADDRESS:PORT", default_value = "0.0.0.0:7411")]
    listen: SocketAddr,
    /// Where to listen for phones that trust this computer (HTTPS); the next port, if not said
    #[arg(long, value_name = "ADDRESS:PORT")]
    safe_listen: Option<SocketAddr>,
    /// Lay out the job file here instead, and do not open the yard
    #[arg(long, value_name = "JOB")]
    lay: Option<std::path::PathBuf>,
    /// Print where it opened as JSON (docs/schema/yard.json)
    #[arg(long)]
    json: bool,
}

const ORDER: &str = include_str!("../../../../demo/order.toml");
const LIST: &[u8] = include_bytes!("../../../../demo/packing-list.xlsx");

impl Demo {
    pub fn run(&self) -> Result<(), Failure> {
        if let Some(path) = &self.lay {
            return lay(path).map(drop);
        }
        let folder = tempfile::Builder::new()
            .prefix("tallyard-demo-")
            .tempdir()
            .map_err(|error| Failure::File {
                path: std::env::temp_dir(),
                error,
            })?;
        let desk = lay(&folder.path().join("osprey-island.tallyard"))?;
        if !self.json {
            writeln!(
                stdout(),
                "The demo: a school garden on an island gets its house in two ferry loads; the first is half counted."
            )?;
            writeln!(
                stdout(),
                "Its job file is in {} and goes when you stop.",
                folder.path().display()
            )?;
        }
        let places = Places {
            listen: self.listen,
            safe_listen: self.safe_listen,
            // A phone that came to trust the demo trusts nothing that outlives it.
            keeps: Some(folder.path().join("trust")),
        };
        super::yard::open(desk, &places, self.json)
    }
}

/// Writes the demo job: an order, its list, the first load on the quay, and a morning's counting.
///
/// What is wrong with it, on purpose: two ridge tubes were counted as studs (R1 two short, S1 two over), two cross
/// connectors are short and the list calls them purlin brackets, two splice plates are over, a half bow is bent, the
/// short screws stand in three bags of the list, and the film comes with the second load. Eight people could build on the
/// coming Saturday, six a week later; the ground is drawn.
fn lay(path: &Path) -> Result<Desk, Failure> {
    let mut desk = Desk::take_up(Job::create(path)?)?;
    let device = desk.writer()?;
    desk.put_document(LIST)?;
    let counted = |mark: &str, pile: &str, quantity| What::Counted {
        mark: mark.into(),
        pile: Some(pile.into()),
        quantity,
        replaces: Vec::new(),
        how: tally::How::Piece,
    };
    let log = [
        (
            "Noor",
            What::OrderSet {
                toml: ORDER.into(),
                family: None,
            },
        ),
        (
            "Noor",
            What::ListAdded {
                digest: Digest::of(LIST),
                name: "packing-list.xlsx".into(),
                shipment: None,
            },
        ),
        (
            "Noor",
            What::ShipmentNamed {
                shipment: "Load 2".into(),
                due: None,
            },
        ),
        (
            "Noor",
            What::ShipmentArrived {
                shipment: "Load 1".into(),
            },
        ),
        ("Ines", counted("P1", "A, by the gate", 26)),
        ("Ines", counted("B1", "B, along the hedge", 20)),
        ("Tomasz", counted("B1", "B, along the hedge", 6)),
        (
            "Tomasz",
            What::Conditioned {
                mark: "B1".into(),
                quantity: 1,
                condition: Condition::Bent,
                words: "kinked two feet from the swaged end; lay under the band".into(),
            },
        ),
        ("Ines", counted("R1", "C, on the pallet", 13)),
        ("Ines", counted("S1", "C, on the pallet", 10)),
        ("Tomasz", counted("C1", "D, by the shed", 20)),
        ("Tomasz", counted("C2", "table, tray 1", 18)),
        ("Tomasz", counted("X1", "table, tray 2", 13)),
        ("Tomasz", counted("X2", "table, tray 3", 24)),
        (
            "Noor",
            What::Noted {
                mark: None,
                words: "The crate's near side was broken when it came off the ferry.".into(),
            },
        ),
    ];
    let (today, _) = yard::at_site(&tally::Affairs::default(), store::now());
    for (who, what) in log.into_iter().chain(plans(today)) {
        desk.append(store::fresh_id(), &device, who, what)?;
    }
    Ok(desk)
}
