//! Layers of a PDF that are switched off when it is opened: ISO 32000-1, 8.11.

use std::collections::BTreeSet;

use hayro_syntax::object::dict::keys::{BASE_STATE, D, OCGS, OCPROPERTIES, OFF, ON, P};
use hayro_syntax::object::{Array, Dict, Name, ObjectIdentifier};

/// Most layers that are looked at; a drawing of a house has some tens.
const MOST: usize = 1_000;

/// The layers that are off.
#[derive(Debug, Default)]
pub struct Layers {
    off: BTreeSet<ObjectIdentifier>,
}

impl Layers {
    /// Reads them from the file's first object.
    pub fn of(catalog: &Dict<'_>) -> Self {
        let mut off = BTreeSet::new();
        let all = catalog.get::<Dict<'_>>(OCPROPERTIES);
        let Some((all, set)) = all.and_then(|all| Some((all.clone(), all.get::<Dict<'_>>(D)?)))
        else {
            return Self::default();
        };
        if set
            .get::<Name<'_>>(BASE_STATE)
            .is_some_and(|state| state.as_ref() == b"OFF")
        {
            off.extend(named(&all, OCGS));
        }
        for id in named(&set, ON) {
            off.remove(&id);
        }
        off.extend(named(&set, OFF));
        Self { off }
    }

    /// Whether what belongs to a layer, or to a group of layers with a rule, is shown; `key` names it in `owner`.
    pub fn shows(&self, owner: &Dict<'_>, key: &[u8]) -> bool {
        if self.off.is_empty() {
            return true;
        }
        let id = owner.get_ref(key).map(ObjectIdentifier::from);
        if id.is_some_and(|id| self.off.contains(&id)) {
            return false;
        }
        let Some(group) = owner.get::<Dict<'_>>(key) else {
            return true;
        };
        let of = named(&group, OCGS);
        let is_off = |id: &ObjectIdentifier| self.off.contains(id);
        let rule = group.get::<Name<'_>>(P);
        of.is_empty()
            || match rule.as_ref().map(|rule| rule.as_ref()) {
                Some(b"AllOn") => !of.iter().any(is_off),
                Some(b"AnyOff") => of.iter().any(is_off),
                Some(b"AllOff") => of.iter().all(is_off),
                _ => !of.iter().all(is_off),
            }
    }
}

/// The objects that an entry names, one or several.
fn named(dict: &Dict<'_>, key: &[u8]) -> Vec<ObjectIdentifier> {
    let several = dict.get::<Array<'_>>(key).map(|array| {
        let ids = array.raw_iter().take(MOST);
        ids.filter_map(|item| item.as_obj_ref().map(ObjectIdentifier::from))
            .collect()
    });
    several.unwrap_or_else(|| {
        dict.get_ref(key)
            .map(ObjectIdentifier::from)
            .into_iter()
            .collect()
    })
}
