//! How a job stands: its events and documents, read through order and lists to the difference.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Arc, OnceLock};

use frame::{Family, Frame, Order, PartsList};
use list::limits::MAX_MATCHED_ROWS;
use list::{HeaderTrouble, Matched, PackingList, Row, RowKey};
use tell::{Kit, KnownPart};

use crate::difference::{Difference, difference};
use crate::digest::Digest;
use crate::event::Event;
use crate::explain::{Background, Explanation, NearOrder, explain};
use crate::fold::{ListSeen, OrderSeen, State};
use crate::listed::{Listed, ListedRow};
use crate::shipment::{BACK_ORDER, Spellings};

/// An order with all that follows from it.
#[derive(Debug)]
pub struct Ordered {
    /// The order.
    pub order: Order,
    /// Its family.
    pub family: Family,
    /// The frame in space.
    pub frame: Frame,
    /// What the house needs.
    pub parts: PartsList,
    kit: OnceLock<Kit>,
    background: OnceLock<Background>,
    near: OnceLock<Vec<NearOrder>>,
}

impl Ordered {
    /// Reads an order file and expands it, or says in words why that cannot be.
    pub fn read(toml: &str) -> Result<Self, String> {
        let order = Order::read(toml).map_err(|e| e.to_string())?;
        let family = Family::named(&order.family).map_err(|e| format!("family: {e}"))?;
        Self::of(order, family)
    }

    /// Reads an order file and the file of its family, and expands it.
    pub fn of_family(toml: &str, family: &[u8]) -> Result<Self, String> {
        let order = Order::read(toml).map_err(|e| e.to_string())?;
        let family = std::str::from_utf8(family).map_err(|_| "a family file is UTF-8 text")?;
        let family = Family::read(family).map_err(|e| e.to_string())?;
        Self::of(order, family)
    }

    /// Expands an order of a family that need not be one that comes with the program.
    pub fn of(order: Order, family: Family) -> Result<Self, String> {
        let frame = frame::expand(&order, &family).map_err(|e| e.to_string())?;
        let parts = PartsList::of(&frame);
        Ok(Self {
            order,
            family,
            frame,
            parts,
            kit: OnceLock::new(),
            background: OnceLock::new(),
            near: OnceLock::new(),
        })
    }

    /// The parts of the order, ready to be told apart from each other and from those of the families that come with
    /// the program. Made when it is first asked for.
    pub fn kit(&self) -> &Kit {
        self.kit.get_or_init(|| {
            let others = Family::shipped();
            let others = others
                .iter()
                .filter(|family| family.name != self.family.name);
            let others = KnownPart::of_families(others);
            Kit::of_list(&self.parts, &others, self.frame.system)
        })
    }

    /// What explanations need of the order. Made when it is first asked for.
    pub(crate) fn background(&self) -> &Background {
        let make = || Background::of(&self.parts, self.kit());
        self.background.get_or_init(make)
    }

    /// What is needed and supplied of each part.
    pub(crate) fn needs(&self) -> &[[i64; 2]] {
        &self.background().needs
    }

    /// The orders near this one. Made when they are first asked for.
    pub(crate) fn near(&self) -> &[NearOrder] {
        self.near.get_or_init(|| NearOrder::all(self))
    }

    /// What a packing list's heading should say.
    pub fn expected(&self) -> list::Expected {
        list::Expected {
            family: std::iter::once(&self.family.name)
                .chain(&self.family.words)
                .cloned()
                .collect(),
            width: Some(self.frame.width),
            length: Some(self.frame.length),
            spacing: Some(self.frame.bow_spacing),
        }
    }
}

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
}

impl ListStanding {
    /// Whether all its rows were read and held against the order.
    pub(crate) fn is_whole(&self) -> bool {
        (self.read.as_ref().as_ref()).is_ok_and(|read| read.rows.len() <= MAX_MATCHED_ROWS)
    }
}

/// The rows of a list that were read onto marks. What a row says is to follow counts as a row of its own, of a
/// shipment that has not come.
fn listed_rows(
    seen: &ListSeen,
    read: &PackingList,
    matched: &[Matched],
    spellings: &mut Spellings,
) -> Vec<ListedRow> {
    let mut rows = Vec::new();
    for matched in matched {
        let (Some(row), Some(mark)) = (read.rows.get(matched.row), &matched.mark) else {
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
        let listed = ListedRow {
            mark: mark.0.clone(),
            quantity,
            unclear,
            description: row.description.clone(),
            code: row.code.clone(),
            sub_kit: row.sub_kit.clone(),
            shipment,
            stands: row.at.to_string(),
        };
        if let Some(later) = row.backordered.filter(|n| *n > 0) {
            rows.push(ListedRow {
                quantity: later,
                unclear: None,
                shipment: Some(spellings.of(BACK_ORDER)),
                ..listed.clone()
            });
        }
        rows.push(listed);
    }
    rows
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

/// How a job stands.
#[derive(Debug)]
pub struct Standing {
    /// What the events say.
    pub state: State,
    /// The order with what follows from it, or in words why it cannot be used; nothing before there is one.
    pub order: Option<Arc<Result<Ordered, String>>>,
    /// The lists in use.
    pub lists: Vec<ListStanding>,
    /// Order against list against count; nothing without an order.
    pub difference: Option<Difference>,
    /// Shipments that an order, a list or a person speaks of, and whether each has arrived.
    pub shipments: BTreeMap<String, bool>,
    explained: OnceLock<Option<Explanation>>,
}

impl Standing {
    /// What most likely happened where order, lists and counts do not agree; nothing without an order. Worked out when
    /// it is first asked for.
    pub fn explanation(&self) -> Option<&Explanation> {
        self.explained.get_or_init(|| explain(self)).as_ref()
    }

    /// The order, where there is one that can be used.
    pub fn ordered(&self) -> Option<&Ordered> {
        self.order.as_ref()?.as_ref().as_ref().ok()
    }
}

/// What was worked out before, so that a count need not read the order and the lists again.
#[derive(Debug, Default)]
pub struct Known {
    order: Option<(OrderKey, Arc<Result<Ordered, String>>)>,
    lists: BTreeMap<Digest, KnownList>,
}

/// The order's text, and the document that holds its family.
type OrderKey = (String, Option<Digest>);

#[derive(Debug)]
struct KnownList {
    name: String,
    fetched: bool,
    read: Arc<Result<PackingList, String>>,
    /// The order and the overrulings that the rows were matched under, and the outcome.
    matched: Option<(Option<String>, Overruled, Arc<Vec<Matched>>)>,
}

type Overruled = BTreeMap<RowKey, Option<frame::Mark>>;

impl Standing {
    /// Works out how a job stands after these events. `document` fetches the bytes of a list, or says in words why
    /// it cannot.
    pub fn of(
        events: &[Event],
        mut document: impl FnMut(&Digest) -> Result<Vec<u8>, String>,
        known: &mut Known,
    ) -> Self {
        let state = State::fold(events);
        let order = (state.order.as_ref()).map(|seen| known.order(seen, &mut document));
        let ordered = order.as_ref().and_then(|read| read.as_ref().as_ref().ok());
        let toml = state.order.as_ref().map(|seen| seen.toml.clone());
        let mut spellings = state.spellings.clone();
        let lists: Vec<ListStanding> = (state.lists.iter())
            .map(|seen| {
                let list = known.list(seen, &mut document);
                let matched =
                    list.matched(toml.as_deref(), ordered, overruled(&state, &seen.digest));
                let (rows, troubles) = match (list.read.as_ref(), ordered) {
                    (Ok(read), Some(ordered)) => (
                        listed_rows(seen, read, &matched, &mut spellings),
                        list::check(&read.header, &ordered.expected()),
                    ),
                    _ => Default::default(),
                };
                ListStanding {
                    seen: seen.clone(),
                    read: list.read.clone(),
                    matched,
                    rows,
                    troubles,
                }
            })
            .collect();
        let listed = Listed {
            rows: lists.iter().flat_map(|list| list.rows.clone()).collect(),
            whole: !lists.is_empty() && lists.iter().all(ListStanding::is_whole),
        };
        let difference = ordered.map(|ordered| difference(&ordered.parts, &listed, &state));
        let mut shipments: BTreeMap<String, bool> = (state.shipments.iter())
            .map(|(name, s)| (name.clone(), s.arrived.is_some()))
            .collect();
        for shipment in listed.rows.into_iter().filter_map(|row| row.shipment) {
            shipments.entry(shipment).or_insert(false);
        }
        known.forget_all_but(&state.lists);
        Self {
            state,
            order,
            lists,
            difference,
            shipments,
            explained: OnceLock::new(),
        }
    }
}

fn overruled(state: &State, list: &Digest) -> Overruled {
    (state.overrulings.iter())
        .filter(|((of, _), _)| of == list)
        .filter_map(|((_, row), mark)| Some((row.parse().ok()?, mark.clone().map(frame::Mark))))
        .collect()
}

impl Known {
    /// The order, expanded. A family whose file cannot be fetched is asked for again the next time.
    fn order(
        &mut self,
        seen: &OrderSeen,
        document: &mut impl FnMut(&Digest) -> Result<Vec<u8>, String>,
    ) -> Arc<Result<Ordered, String>> {
        if let Some(((toml, family), read)) = &self.order
            && (toml, family) == (&seen.toml, &seen.family)
        {
            return read.clone();
        }
        let family = match seen.family.as_ref().map(document).transpose() {
            Ok(bytes) => bytes,
            Err(why) => return Arc::new(Err(format!("the order's family: {why}"))),
        };
        let read = Arc::new(match family {
            Some(bytes) => Ordered::of_family(&seen.toml, &bytes),
            None => Ordered::read(&seen.toml),
        });
        self.order = Some(((seen.toml.clone(), seen.family), read.clone()));
        read
    }

    /// The list, read. A list whose file cannot be fetched is asked for again the next time: the file may come.
    fn list(
        &mut self,
        seen: &ListSeen,
        document: &mut impl FnMut(&Digest) -> Result<Vec<u8>, String>,
    ) -> &mut KnownList {
        // What reading says may name the file.
        let stale = |known: &KnownList| !known.fetched || known.name != seen.name;
        if self.lists.get(&seen.digest).is_some_and(stale) {
            self.lists.remove(&seen.digest);
        }
        self.lists.entry(seen.digest).or_insert_with(|| {
            let fetched = document(&seen.digest);
            let read = |bytes: Vec<u8>| list::read(&bytes, &seen.name).map_err(|e| e.to_string());
            KnownList {
                name: seen.name.clone(),
                fetched: fetched.is_ok(),
                read: Arc::new(fetched.and_then(read)),
                matched: None,
            }
        })
    }

    /// A long list is held in memory only while it is in use.
    fn forget_all_but(&mut self, lists: &[ListSeen]) {
        let used: BTreeSet<Digest> = lists.iter().map(|list| list.digest).collect();
        self.lists.retain(|digest, _| used.contains(digest));
    }
}

impl KnownList {
    fn matched(
        &mut self,
        toml: Option<&str>,
        ordered: Option<&Ordered>,
        overruled: Overruled,
    ) -> Arc<Vec<Matched>> {
        if let Some((known_toml, known_overruled, matched)) = &self.matched
            && known_toml.as_deref() == toml
            && *known_overruled == overruled
        {
            return matched.clone();
        }
        let matched = match (self.read.as_ref(), ordered) {
            (Ok(read), Some(ordered)) => list::match_rows(read, &ordered.frame.parts, &overruled),
            _ => Vec::new(),
        };
        let matched = Arc::new(matched);
        self.matched = Some((toml.map(String::from), overruled, matched.clone()));
        matched
    }
}
