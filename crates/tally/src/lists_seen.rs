//! The packing lists in use, each with the writings that it took the place of, and what people said of their rows.

use std::collections::{BTreeMap, BTreeSet};

use crate::digest::Digest;
use crate::event::{Event, EventId, What};
use crate::fold::State;

/// A packing list in use.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ListSeen {
    /// The event that brought it.
    pub event: EventId,
    /// The document.
    pub digest: Digest,
    /// The file's name.
    pub name: String,
    /// The shipment it came with, where known; a corrected list keeps that of the one before.
    pub shipment: Option<String>,
    /// Who sent it, where a person said so.
    pub sender: Option<String>,
    /// The writings of it that it took the place of, oldest first; empty for a list that was never corrected.
    pub earlier: Vec<Earlier>,
}

/// A list that another writing took the place of.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Earlier {
    /// The event that brought it.
    pub event: EventId,
    /// The document.
    pub digest: Digest,
    /// The file's name.
    pub name: String,
    /// It and the writing after it correct the same list, by two people who did not know of each other.
    pub beside: bool,
}

/// What a person said that a row is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Overruling {
    /// The event.
    pub event: EventId,
    /// Who said so.
    pub who: String,
    /// The mark, or `None`: it is none of ours.
    pub mark: Option<String>,
    /// What the row said, where the event tells.
    pub words: Option<String>,
}

/// A file of codes that was taken in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CodesSeen {
    /// The event.
    pub event: EventId,
    /// The document.
    pub digest: Digest,
    /// The file's name.
    pub name: String,
    /// Who brought it in.
    pub who: String,
}

/// Which documents are writings of one list, whether or not the events that say so still stand. So a correction of a
/// writing that was taken back meanwhile still finds the list that it belongs to, and no list counts twice.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(crate) struct Writings {
    corrects: BTreeMap<Digest, BTreeSet<Digest>>,
    /// Who sent a document, where a person said so.
    senders: BTreeMap<Digest, String>,
    /// What a list was before it was set aside.
    aside: BTreeMap<Digest, ListSeen>,
}

impl Writings {
    pub fn of(log: &[&Event]) -> Self {
        let mut corrects: BTreeMap<Digest, BTreeSet<Digest>> = BTreeMap::new();
        for event in log {
            if let What::ListCorrected { old, digest, .. } = event.what {
                corrects.entry(digest).or_default().insert(old);
            }
        }
        Self {
            corrects,
            ..Self::default()
        }
    }

    /// Takes a list that was set aside, found by any of its writings.
    fn take_aside(&mut self, digest: &Digest) -> Option<ListSeen> {
        let mut aside = self.aside.values();
        let found = aside.find(|seen| seen.is_writing(digest))?.digest;
        self.aside.remove(&found)
    }

    /// All that a document was ever said to correct, step by step back; itself first.
    fn back_from(&self, digest: Digest) -> Vec<Digest> {
        let (mut all, mut known) = (vec![digest], BTreeSet::from([digest]));
        let mut next = 0;
        while let Some(at) = all.get(next) {
            let before = self.corrects.get(at).into_iter().flatten();
            let new: Vec<Digest> = before.filter(|old| known.insert(**old)).copied().collect();
            all.extend(new);
            next += 1;
        }
        all
    }
}

impl ListSeen {
    /// Whether a document is this list, or a writing that it took the place of.
    fn is_writing(&self, digest: &Digest) -> bool {
        self.digest == *digest || self.earlier.iter().any(|it| it.digest == *digest)
    }

    /// Takes the place of a list of which `old` was corrected.
    fn take_the_place_of(&mut self, before: ListSeen, old: Digest) {
        let beside = before.earlier.iter().any(|it| it.digest == old);
        let mut earlier = before.earlier;
        earlier.push(Earlier {
            event: before.event,
            digest: before.digest,
            name: before.name,
            beside,
        });
        earlier.append(&mut self.earlier);
        earlier.retain(|it| it.digest != self.digest);
        self.earlier = earlier;
        self.shipment = before.shipment.or(self.shipment.take());
        self.sender = self.sender.take().or(before.sender);
    }
}

impl State {
    /// The lists that were set aside and that no list in use is a writing of, as they stood before.
    pub fn lists_aside(&self) -> impl Iterator<Item = &ListSeen> {
        let in_use =
            |aside: &ListSeen| self.lists.iter().any(|list| list.is_writing(&aside.digest));
        (self.writings.aside.values()).filter(move |aside| !in_use(aside))
    }

    pub(crate) fn hear_of_list(&mut self, event: &Event) {
        let id = event.id;
        match event.what.clone() {
            What::ListAdded {
                digest,
                name,
                shipment,
            } => self.add_list(id, digest, name, shipment),
            What::ListCorrected { old, digest, name } => self.correct_list(id, old, digest, name),
            What::ListSentBy { list, sender } => {
                for seen in self.lists.iter_mut().filter(|seen| seen.is_writing(&list)) {
                    seen.sender = Some(sender.clone());
                }
                self.writings.senders.insert(list, sender);
            }
            What::ListDropped { digest } => {
                let at = self.lists.iter().position(|list| list.digest == digest);
                if let Some(at) = at {
                    let seen = self.lists.remove(at);
                    self.writings.aside.insert(digest, seen);
                }
            }
            What::CodesTaken { digest, name } => {
                self.codes.retain(|seen| seen.digest != digest);
                self.codes.push(CodesSeen {
                    event: id,
                    digest,
                    name,
                    who: event.who.clone(),
                });
            }
            What::Overruled {
                list,
                row,
                mark,
                words,
            } => {
                let said = Overruling {
                    event: id,
                    who: event.who.clone(),
                    mark,
                    words,
                };
                self.overrulings.insert((list, row), said);
            }
            _ => {}
        }
    }

    /// The same bytes again are the same list, as it was last said to be. An earlier writing of a list in use stays
    /// where it is: whoever brought it in again did not know that it was corrected.
    fn add_list(&mut self, event: EventId, digest: Digest, name: String, shipment: Option<String>) {
        let corrected = |list: &ListSeen| list.digest != digest && list.is_writing(&digest);
        if self.lists.iter().any(corrected) {
            return;
        }
        let before = (self.lists.iter().position(|list| list.digest == digest))
            .map(|at| self.lists.remove(at))
            .or_else(|| self.writings.aside.remove(&digest));
        let (known, earlier) = before.map_or((None, Vec::new()), |it| (it.sender, it.earlier));
        let sender = self.writings.senders.get(&digest).cloned().or(known);
        let earlier = self.of_no_other(earlier);
        self.lists.push(ListSeen {
            event,
            digest,
            name,
            shipment,
            sender,
            earlier,
        });
    }

    /// What a list took the place of before it was set aside, without what came into use again meanwhile.
    fn of_no_other(&self, mut earlier: Vec<Earlier>) -> Vec<Earlier> {
        let in_use = |it: &Earlier| self.lists.iter().any(|list| list.is_writing(&it.digest));
        earlier.retain(|it| !in_use(it));
        earlier
    }

    /// The new list stands where the old one stood. Where that was corrected already, the last correction stands; where
    /// it was set aside meanwhile, the new one comes into use with what is known of the old. A document that is known as
    /// a writing of yet another list shows that the two are one.
    fn correct_list(&mut self, event: EventId, old: Digest, digest: Digest, name: String) {
        if old == digest {
            return;
        }
        let back = self.writings.back_from(old);
        let writes = |one: &Digest| self.lists.iter().position(|list| list.is_writing(one));
        let at = back.iter().find_map(writes);
        let other = writes(&digest).filter(|other| Some(*other) != at);
        let before = match at {
            Some(at) => self.lists.get(at).cloned(),
            None => {
                (back.iter().find_map(|one| self.writings.take_aside(one))).map(|list| ListSeen {
                    earlier: self.of_no_other(list.earlier.clone()),
                    ..list
                })
            }
        };
        let mut corrected = match other.and_then(|other| self.lists.get(other)) {
            Some(list) => list.clone(),
            None => ListSeen {
                event,
                digest,
                name: name.clone(),
                shipment: None,
                sender: self.writings.senders.get(&digest).cloned(),
                earlier: Vec::new(),
            },
        };
        if corrected.digest == digest {
            (corrected.event, corrected.name) = (event, name);
        }
        if let Some(before) = before {
            corrected.take_the_place_of(before, old);
        }
        match (at, other) {
            (Some(at), _) => self.lists[at] = corrected,
            (None, Some(other)) => self.lists[other] = corrected,
            (None, None) => self.lists.push(corrected),
        }
        if let (Some(_), Some(other)) = (at, other) {
            self.lists.remove(other);
        }
    }
}
