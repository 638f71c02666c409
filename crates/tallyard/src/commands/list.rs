//! `tallyard list`: how a packing list was understood, and what changed from the one before.

use std::io::{Write, stdout};
use std::path::PathBuf;

use clap::Args;
use list::{Against, Changes, Codes, Kit, Matched, PackingList};
use tally::Ordered;

use crate::failure::Failure;
use crate::{input, json, json_list};

/// Read a packing list and, with an order, match its rows to marks.
#[derive(Args)]
#[command(
    after_help = "Examples:\n  tallyard list packing-list.xlsx --order order.toml\n  tallyard list sent-anew.xlsx --before packing-list.xlsx"
)]
pub struct List {
    /// The packing list
    #[arg(required = true)]
    file: Vec<PathBuf>,
    /// The order that it should fit
    #[arg(long, value_name = "ORDER")]
    order: Option<PathBuf>,
    /// A family file of your own for that order (docs/family.md)
    #[arg(long, value_name = "FILE", requires = "order")]
    family: Option<PathBuf>,
    /// What the sender's codes stood for in earlier jobs (tallyard codes)
    #[arg(long, value_name = "FILE", requires = "order")]
    codes: Option<PathBuf>,
    /// Who sent it, where the list does not say
    #[arg(long, value_name = "NAME", requires = "codes")]
    sender: Option<String>,
    /// The list that this one corrects: what changed is printed
    #[arg(long, value_name = "OLD")]
    before: Option<PathBuf>,
    /// Print JSON (docs/schema/list.json)
    #[arg(long)]
    json: bool,
}

impl List {
    pub fn run(&self) -> Result<(), Failure> {
        let ordered = (self.order.as_deref())
            .map(|order| input::order(order, self.family.as_deref()))
            .transpose()?;
        let list = input::one_list(&self.file)?;
        let before = (self.before.as_deref())
            .map(|old| input::list(old).map(|(_, list)| list))
            .transpose()?;
        let changes = (before.as_ref()).map(|before| list::changes(before, &list));
        let codes = self.codes(&list)?;
        let matched = ordered.as_ref().map(|ordered| {
            let kits = Kit::all(&ordered.parts);
            let against = Against {
                parts: &ordered.frame.parts,
                kits: &kits,
                codes: codes.as_ref(),
                ..Against::default()
            };
            list::match_list(&list, &against)
        });
        let before = before.as_ref().zip(changes.as_ref());
        let (matched, ordered) = (matched.as_deref(), ordered.as_ref());
        if self.json {
            return json::print(&json_list::list(&list, matched, ordered, before));
        }
        print_list(&list, matched, ordered)?;
        match before {
            Some((before, changes)) => print_changes(before, &list, changes),
            None => Ok(()),
        }
    }

    /// The codes of this list's sender.
    fn codes(&self, list: &PackingList) -> Result<Option<Codes>, Failure> {
        let Some(path) = &self.codes else {
            return Ok(None);
        };
        let bytes = input::bytes(path, list::limits::MAX_CODES_BYTES)?;
        let mut all = list::read_codes(&bytes).map_err(|why| Failure::refused(path, why))?;
        let sender = self.sender.as_ref().or(list.header.sender.as_ref());
        let Some(sender) = sender else {
            eprintln!(
                "tallyard: the list does not say who sent it, so no code is known; see --sender"
            );
            return Ok(None);
        };
        let codes = all.remove(&list::sender_key(sender));
        if codes.is_none() {
            eprintln!("tallyard: {}: it has no codes of {sender}", path.display());
        }
        Ok(codes)
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
        writeln!(out, "{}: {quantity} × {}", row.at, list::words_of(row))?;
        if let Some(doubt) = &row.doubt {
            writeln!(out, "    look: {doubt}")?;
        }
        let Some(found) = matched.and_then(|all| all.iter().find(|m| m.row == i)) else {
            continue;
        };
        let sure = (100.0 * (1.0 - found.doubt)).min(99.9);
        match &found.mark {
            Some(mark) => writeln!(out, "    {mark}, {sure:.1} % sure")?,
            None if found.holds.is_empty() => writeln!(out, "    matches nothing")?,
            None => {
                let held = found.holds.iter();
                let held: Vec<String> = held.map(|(mark, n)| format!("{n} × {mark}")).collect();
                writeln!(out, "    a kit of {}, {sure:.1} % sure", held.join(", "))?;
            }
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

fn print_changes(
    before: &PackingList,
    after: &PackingList,
    changes: &Changes,
) -> Result<(), Failure> {
    let mut out = stdout().lock();
    for change in &changes.all {
        let told = change.told(before, after);
        let (old, new) = change.rows();
        let row = new.and_then(|row| after.rows.get(row));
        let row = row.or_else(|| old.and_then(|row| before.rows.get(row)));
        let (at, of) = row.map_or_else(Default::default, |row| {
            (row.at.to_string(), list::words_of(row))
        });
        match (old, new) {
            (Some(_), Some(_)) => writeln!(
                out,
                "changed, {at}: {of}: {} {} → {}",
                told.what, told.was, told.is
            )?,
            (None, _) => writeln!(out, "added, {at}: {} × {of}", told.is)?,
            (_, None) => writeln!(out, "gone, {at} before: {} × {of}", told.was)?,
        }
    }
    writeln!(
        out,
        "{} rows are in both, {} changes",
        changes.pairs.len(),
        changes.all.len()
    )?;
    Ok(())
}
