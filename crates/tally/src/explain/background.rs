//! What follows from an order alone and every explanation needs: look-alikes, shares of the kit, uses. Made once.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Mutex, PoisonError};

use frame::{Mark, Part, PartsList};
use tell::{Kit, LookAlike};

use crate::explain::near_order::needs_of;
use crate::explain::programme::{Chosen, Programme, Unsolved};

/// A mark that another is taken for.
#[derive(Debug, Clone)]
pub(crate) struct Alike {
    /// Its place in the parts list.
    pub other: usize,
    /// How often one is taken for the other by eye.
    pub by_eye: f64,
    /// What to read to tell them apart, and how long that takes; nothing where nothing does.
    pub apart: Option<(String, f64)>,
}

/// What follows from an order alone.
#[derive(Debug, Default)]
pub(crate) struct Background {
    /// By mark, how many are needed and supplied.
    pub needs: Vec<[i64; 2]>,
    /// By mark, the marks that look like it.
    pub alike: Vec<Vec<Alike>>,
    /// By mark, its shares of the kit.
    pub shares: Vec<Vec<(String, i64)>>,
    /// By mark, its uses.
    pub uses: Vec<Vec<(String, i64)>>,
    /// The marks of each share, by its name in lower case.
    pub of_share: BTreeMap<String, BTreeSet<usize>>,
    /// The place of each mark.
    pub place: BTreeMap<String, usize>,
    /// What was solved before: an event changes few programmes.
    solved: Mutex<BTreeMap<Asked, Result<Chosen, Unsolved>>>,
}

/// A programme, and of which classes its story has to do without one; none where it is free.
type Asked = (Programme, Vec<usize>);

/// When so many programmes are kept, all are forgotten.
const MOST_KEPT: usize = 4_000;

impl Background {
    pub fn of(parts: &PartsList, kit: &Kit) -> Self {
        let owned = |shares: Vec<(&str, i64)>| -> Vec<(String, i64)> {
            (shares.into_iter())
                .filter(|(_, quantity)| *quantity > 0)
                .map(|(name, quantity)| (name.to_owned(), quantity))
                .collect()
        };
        let mut found = Self {
            alike: vec![Vec::new(); parts.lines.len()],
            ..Self::default()
        };
        for (place, line) in parts.lines.iter().enumerate() {
            found.place.insert(line.part.mark.0.clone(), place);
            found.needs.push(needs_of(line));
            found.shares.push(owned(line.sub_kits()));
            found.uses.push(owned(line.uses()));
            for (name, _) in &found.shares[place] {
                let marks = found.of_share.entry(name.to_lowercase()).or_default();
                marks.insert(place);
            }
        }
        for pair in kit.look_alikes() {
            found.add(&pair);
        }
        found.shapes_unsaid(parts);
        found
    }

    /// Of small castings and plates a family states no shape, so `tell` knows nothing to read of them. Two that are called
    /// the same kind of thing, as a ridge clamp and a stud clamp, are mixed up all the same.
    fn shapes_unsaid(&mut self, parts: &PartsList) {
        let kind = |part: &Part| -> Option<String> {
            let unsaid = part.section.is_none() && part.length.is_none();
            let last = part.noun.rsplit(' ').next()?;
            (unsaid && last != part.noun).then(|| last.to_lowercase())
        };
        let kinds: Vec<Option<String>> =
            (parts.lines.iter()).map(|line| kind(&line.part)).collect();
        for (one, kind) in kinds.iter().enumerate().filter(|(_, kind)| kind.is_some()) {
            for other in (0..kinds.len()).filter(|other| *other != one && kinds[*other] == *kind) {
                if self.pair(one, other).is_none() {
                    self.alike[one].push(Alike {
                        other,
                        by_eye: 0.0,
                        apart: None,
                    });
                }
            }
        }
    }

    fn add(&mut self, pair: &LookAlike) {
        let places = |marks: &[Mark]| -> Vec<usize> {
            (marks.iter())
                .filter_map(|mark| self.place.get(&mark.0).copied())
                .collect()
        };
        let (ones, others) = (places(&pair.one), places(&pair.other));
        let apart = (pair.quickest.as_ref()).map(|q| (q.words.clone(), q.seconds));
        // Marks that nothing tells apart stand together on one side: each of them is like each.
        let mut pairs: BTreeSet<(usize, usize)> = BTreeSet::new();
        for one in &ones {
            pairs.extend(others.iter().map(|other| (*one, *other)));
        }
        if apart.is_none() && pair.by_eye >= 0.5 {
            for one in &others {
                pairs.extend(others.iter().map(|other| (*one, *other)));
            }
        }
        for (one, other) in pairs.into_iter().filter(|(one, other)| one != other) {
            for (of, other) in [(one, other), (other, one)] {
                if self.alike[of].iter().all(|known| known.other != other) {
                    self.alike[of].push(Alike {
                        other,
                        by_eye: pair.by_eye,
                        apart: apart.clone(),
                    });
                }
            }
        }
    }

    /// The solution of a programme, as it was found before or anew.
    pub fn solved(&self, asked: Asked) -> Result<Chosen, Unsolved> {
        let kept = || self.solved.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(known) = kept().get(&asked) {
            return known.clone();
        }
        let found = match asked.1.as_slice() {
            [] => asked.0.solve(),
            classes => asked.0.solve_without_one_of(classes),
        };
        let mut kept = kept();
        if kept.len() >= MOST_KEPT {
            kept.clear();
        }
        kept.insert(asked, found.clone());
        found
    }

    /// What is known of two marks that look alike.
    pub fn pair(&self, one: usize, other: usize) -> Option<&Alike> {
        self.alike[one].iter().find(|alike| alike.other == other)
    }
}
