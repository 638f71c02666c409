//! A packing list in use: how it was understood, what its sender changed, what people said of its rows.

use std::collections::BTreeMap;
use std::sync::Arc;

use frame::Mark;
use list::limits::MAX_MATCHED_ROWS;
use list::{Changes, Codes, HeaderTrouble, Matched, PackingList, Place, Row, RowKey};

use crate::event::EventId;
use crate::listed::ListedRow;
use crate::lists_seen::{Earlier, ListSeen};
use crate::shipment::{BACK_ORDER, Spellings};

/// A packing list in use, with how it was understood.
#[derive(Debug, Clone)]
pub struct ListStanding {
    /// Where it came from.
    pub seen: ListSeen,
    /// What was read, or in words why nothing was.
    pub read: Arc<Result<PackingList, String>>,
    /// Each row's mark with reasons and doubt; empty while there is no order.
    pub matched: Arc<Vec<Matched>>,
    /// The rows that were read onto marks.
    pub rows: Vec<ListedRow>,
    /// Where its heading does not fit the order.
    pub troubles: Vec<HeaderTrouble>,
    /// What it changed, where it corrects another.
    pub corrected: Option<Corrected>,
    /// What people said of rows before, and holds of these: by row.
    pub carried: BTreeMap<RowKey, CarriedFrom>,
    /// What people said of rows that it does not have.
    pub left: Vec<LeftOf>,
    /// Who sent it: as a person said, or as it says itself.
    pub sender: Option<String>,
    /// What its sender's codes stood for before; nothing where none is known.
    pub codes: Option<Arc<Codes>>,
}

/// What a list changed that corrects another.
#[derive(Debug, Clone)]
pub struct Corrected {
    /// The list before.
    pub old: Earlier,
    /// What was read of it, or in words why nothing was.
    pub read: Arc<Result<PackingList, String>>,
    /// What changed; nothing where one of the two cannot be read.
    pub changes: Option<Arc<Changes>>,
}

/// Where something came from that a person said of a row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CarriedFrom {
    /// The file that the person looked at.
    pub list: String,
    /// Where the row stood in it, where that is known.
    pub at: Option<Place>,
    /// What that row said.
    pub of: String,
    /// The row's words are not what they were: a person should look once.
    pub look: bool,
    /// Who said it.
    pub who: String,
}

/// What a person said of a row that is no longer there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeftOf {
    /// The event.
    pub event: EventId,
    /// Who said it.
    pub who: String,
    /// The file that the person looked at.
    pub list: String,
    /// Where the row stood in it, where that is known.
    pub at: Option<Place>,
    /// What that row said, where that is known.
    pub of: Option<String>,
    /// What the person said that it is, or none of this order.
    pub mark: Option<Mark>,
    /// Why it holds of no row now, in a sentence without its full stop.
    pub why: String,
}

impl ListStanding {
    /// What its rows taught of its sender's codes; nothing while there is no order.
    pub fn learned(&self, parts: &[frame::Part]) -> Codes {
        match self.read.as_ref() {
            Ok(read) => Codes {
                sender: self.sender.clone().unwrap_or_default(),
                ..Codes::learn(read, &self.matched, parts)
            },
            Err(_) => Codes::default(),
        }
    }

    /// Whether all its rows were read and held against the order.
    pub(crate) fn is_whole(&self) -> bool {
        (self.read.as_ref().as_ref()).is_ok_and(|read| read.rows.len() <= MAX_MATCHED_ROWS)
    }
}

/// The rows of a list that were read onto marks. What a row says is to follow counts as a row of its own, of a
/// shipment that has not come.
pub(crate) fn listed_rows(
    seen: &ListSeen,
    read: &PackingList,
    matched: &[Matched],
    spellings: &mut Spellings,
) -> Vec<ListedRow> {
    let mut rows = Vec::new();
    for matched in matched {
        let Some(row) = read.rows.get(matched.row) else {
            continue;
        };
        // The row's own word goes before the list's, and a person's before the heading's.
        let said = [
            Some(&row.shipment),
            seen.shipment.as_ref(),
            read.header.shipment.as_ref(),
        ];
        let shipment = (said.into_iter().flatten())
            .map(|name| spellings.of(name))
            .find(|name| !name.is_empty());
        let (quantity, unclear) = pieces(row);
        let listed = |mark: &Mark, quantity: i64| ListedRow {
            mark: mark.0.clone(),
            quantity,
            unclear: unclear.clone(),
            description: row.description.clone(),
            code: row.code.clone(),
            sub_kit: row.sub_kit.clone(),
            shipment: shipment.clone(),
            stands: row.at.to_string(),
        };
        if let Some(mark) = &matched.mark {
            if let Some(later) = row.backordered.filter(|n| *n > 0) {
                rows.push(ListedRow {
                    unclear: None,
                    shipment: Some(spellings.of(BACK_ORDER)),
                    ..listed(mark, later)
                });
            }
            rows.push(listed(mark, quantity));
        }
        // A row that stands for several marks brings each of them, by the order or by its own words: nobody saw them.
        let why = matched.reasons.first().map(|reason| reason.words.clone());
        let unclear = (unclear.iter().cloned().chain(why))
            .collect::<Vec<_>>()
            .join("; ");
        for (mark, pieces) in &matched.holds {
            let pieces = (*pieces).max(0);
            let later = row.backordered.filter(|n| *n > 0 && quantity > 0);
            if let Some(later) = later.map(|n| share(pieces, n, quantity)) {
                rows.push(ListedRow {
                    shipment: Some(spellings.of(BACK_ORDER)),
                    unclear: Some(unclear.clone()),
                    ..listed(mark, later)
                });
            }
            rows.push(ListedRow {
                unclear: Some(unclear.clone()),
                ..listed(mark, pieces)
            });
        }
    }
    rows
}

/// What follows of a mark, when so many of the row have brought these pieces of it and so many follow.
fn share(pieces: i64, later: i64, now: i64) -> i64 {
    let share = i128::from(pieces) * i128::from(later) / i128::from(now.max(1));
    i64::try_from(share).unwrap_or(i64::MAX)
}

/// How many pieces a row brings, and why that is not to be relied on.
fn pieces(row: &Row) -> (i64, Option<String>) {
    match row.quantity {
        // A sum of pieces in a box cannot have less than nothing added to it.
        Some(n) => (n.max(0), row.doubt.clone()),
        None if row.written.is_empty() && row.backordered.is_some() => (0, None),
        None => {
            let unsaid = || "the quantity was not read".into();
            (0, row.doubt.clone().or_else(|| Some(unsaid())))
        }
    }
}
