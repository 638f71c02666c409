//! `tallyard list`: how a packing list was understood.

use std::collections::BTreeMap;
use std::io::{Write, stdout};
use std::path::PathBuf;

use clap::Args;
use list::{Matched, PackingList};
use tally::Ordered;

use crate::failure::Failure;
use crate::{input, json};

/// Read a packing list and, with an order, match its rows to marks.
#[derive(Args)]
#[command(after_help = "Example:\n  tallyard list packing-list.xlsx --order order.toml")]
pub struct List {
    /// The packing list: XLSX, CSV or plain text
    file: PathBuf,
    /// The order that it should fit
    #[arg(long, value_name = "ORDER")]
    order: Option<PathBuf>,
    /// A family file of your own for that order (docs/family.md)
    #[arg(long, value_name = "FILE", requires = "order")]
    family: Option<PathBuf>,
    /// Print JSON (docs/schema/list.json)
    #[arg(long)]
    json: bool,
}

impl List {
    pub fn run(&self) -> Result<(), Failure> {
        let ordered = (self.order.as_deref())
            .map(|order| input::order(order, self.family.as_deref()))
            .transpose()?;
        let (_, list) = input::list(&self.file)?;
        let matched = (ordered.as_ref())
            .map(|ordered| list::match_rows(&list, &ordered.frame.parts, &BTreeMap::new()));
        if self.json {
            return json::print(&json::list(&list, matched.as_deref(), ordered.as_ref()));
        }
        print_list(&list, matched.as_deref(), ordered.as_ref())
    }
}

fn print_list(
    list: &PackingList,
    matched: Option<&[Matched]>,
    ordered: Option<&Ordered>,
) -> Result<(), Failure> {
    let mut out = stdout().lock();
    if let Some(ordered) = ordered {
        for trouble in list::check(&list.header, &ordered.expected()) {
            writeln!(out, "BEFORE ANY ROW: {trouble}")?;
        }
    }
    for warning in &list.warnings {
        writeln!(out, "note: {}", warning.what)?;
    }
    for (i, row) in list.rows.iter().enumerate() {
        let quantity = row
            .quantity
            .map_or_else(|| format!("? ({})", row.written), |n| n.to_string());
        writeln!(out, "{}: {quantity} × {}", row.at, row.says())?;
        let Some(found) = matched.and_then(|all| all.iter().find(|m| m.row == i)) else {
            continue;
        };
        match &found.mark {
            Some(mark) => writeln!(
                out,
                "    {mark}, {:.1} % sure",
                (100.0 * (1.0 - found.doubt)).min(99.9)
            )?,
            None => writeln!(out, "    matches nothing")?,
        }
    }
    for aside in &list.set_aside {
        writeln!(
            out,
            "set aside, {}: {} ({})",
            aside.at, aside.text, aside.why
        )?;
    }
    writeln!(
        out,
        "{} rows read, {} set aside",
        list.rows.len(),
        list.set_aside.len()
    )?;
    Ok(())
}
