//! How a job stands: its events and documents, read through order and lists to the difference.

use std::collections::BTreeMap;
use std::sync::{Arc, OnceLock};

use frame::{Family, Frame, Order, PartsList};
use list::{Codes, sender_key};
use tell::{Kit, KnownPart};

use crate::difference::{Difference, difference};
use crate::digest::Digest;
use crate::event::Event;
use crate::explain::{Background, Explanation, NearOrder, explain};
use crate::fold::{OrderSeen, State};
use crate::known_lists::KnownLists;
use crate::list_standing::ListStanding;
use crate::listed::Listed;

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
    codes_taken: BTreeMap<String, Codes>,
}

impl Standing {
    /// What most likely happened where order, lists and counts do not agree; nothing without an order. Worked out when
    /// it is first asked for.
    pub fn explanation(&self) -> Option<&Explanation> {
        self.explained.get_or_init(|| explain(self)).as_ref()
    }

    /// What the senders' codes stood for: as brought in from other jobs, and as learned from the lists in use; sender
    /// after sender. Nothing while there is no order.
    pub fn codes(&self) -> Vec<Codes> {
        let Some(ordered) = self.ordered() else {
            return Vec::new();
        };
        let mut all = self.codes_taken.clone();
        for list in &self.lists {
            let key = list.sender.as_deref().map(sender_key).unwrap_or_default();
            if !key.is_empty() {
                let learned = list.learned(&ordered.frame.parts);
                all.entry(key).or_default().take_in(&learned);
            }
        }
        all.into_values().collect()
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
    lists: KnownLists,
}

/// The order's text, and the document that holds its family.
type OrderKey = (String, Option<Digest>);

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
        let parts = ordered.map(|ordered| (toml.as_deref().unwrap_or_default(), ordered));
        let codes_taken = known.lists.codes_taken(&state, &mut document);
        let lists = (known.lists).all(&state, parts, &codes_taken, &mut document, &mut spellings);
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
        Self {
            state,
            order,
            lists,
            difference,
            shipments,
            explained: OnceLock::new(),
            codes_taken,
        }
    }
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
}
