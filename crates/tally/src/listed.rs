//! What the packing lists in use say of a mark, all together.

use crate::fold::State;
use crate::sent::Sent;
use crate::shipment::BACK_ORDER;

/// A row of a packing list that was read onto a mark.
#[derive(Debug, Clone, PartialEq)]
pub struct ListedRow {
    /// The mark that it was read onto.
    pub mark: String,
    /// Pieces; 0 when the row's quantity cannot be read.
    pub quantity: i64,
    /// Why the number of pieces is not to be relied on; nothing when it is clear.
    pub unclear: Option<String>,
    /// The sender's words for it.
    pub description: String,
    /// The sender's code for it; may be empty.
    pub code: String,
    /// The share of the kit that it stands under; may be empty.
    pub sub_kit: String,
    /// The shipment that it comes in, where list or row says; spelled as it was first.
    pub shipment: Option<String>,
    /// Where it stands, such as "row 14".
    pub stands: String,
}

/// The rows of all lists in use that were read onto marks.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Listed {
    /// The rows, list after list.
    pub rows: Vec<ListedRow>,
    /// Whether there are lists and every one was read and matched. Where not, a mark that the rows lack may still
    /// be listed, and no list is said to have too few of it.
    pub whole: bool,
}

/// What the lists promise of one mark, of which so many are needed.
pub(crate) struct Promise {
    /// Pieces in all rows, as read.
    pub listed: i64,
    /// Pieces in rows whose number is clear.
    pub sure: i64,
    /// How many should be here by now.
    pub expected: i64,
    /// How many come later, more or less than the house needs.
    pub later: i64,
    /// The shipments that they come in.
    pub with: Vec<String>,
    /// Where the rows stand whose number is not clear; none when the numbers, as read, are just what is needed.
    pub unclear: Vec<String>,
}

impl Promise {
    /// What the rows of a mark promise, and what the sender answered that they send in place of what is short.
    pub fn of<'a>(
        mark: &str,
        rows: impl Iterator<Item = &'a ListedRow> + Clone,
        needed: i64,
        state: &State,
    ) -> Self {
        let follows = |row: &ListedRow| row.shipment.as_deref() == Some(BACK_ORDER);
        let firm: i64 = (rows.clone())
            .filter(|row| !follows(row))
            .map(|row| row.quantity)
            .sum();
        // A back order stands once more on the list that it comes with: it is only for what no other row brings.
        let mut open = (needed - firm).max(0);
        let (mut now, mut later, mut sure) = (0, 0, 0);
        let (mut with, mut unclear) = (Vec::new(), Vec::new());
        let mut later_is_unclear = false;
        for row in rows {
            let mut quantity = row.quantity;
            if follows(row) {
                quantity = quantity.min(open);
                open -= quantity;
            }
            match row.unclear {
                Some(_) => unclear.push(row.stands.clone()),
                None => sure += quantity,
            }
            let on_its_way = row.shipment.as_ref().filter(|name| !state.is_here(name));
            let Some(shipment) = on_its_way else {
                now += quantity;
                continue;
            };
            later += quantity;
            later_is_unclear |= row.unclear.is_some();
            if (quantity > 0 || row.unclear.is_some()) && !with.contains(shipment) {
                with.push(shipment.clone());
            }
        }
        let listed = now + later;
        let sent = Sent::of(mark, state);
        later = later.saturating_add(sent.for_short);
        for shipment in sent.with {
            if !with.contains(&shipment) {
                with.push(shipment);
            }
        }
        if listed == needed {
            unclear.clear();
        } else if later_is_unclear {
            // It may bring all the rest, and until it is here, none of that is short.
            later = later.max(needed - now);
        }
        Self {
            listed,
            sure,
            expected: now.min(needed).max(needed - later).max(0),
            later,
            with,
            unclear,
        }
    }
}
