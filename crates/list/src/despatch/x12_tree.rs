//! The tree of HL loops: by the parents that they name, else by their levels.

use std::collections::{BTreeMap, BTreeSet};

use super::odd::Odd;
use super::x12::Set;
use super::x12_loops::Loop;
use super::x12_words;

/// Which level stands in which, for loops that name no parent.
pub struct Ranks(BTreeMap<String, u8>);

impl Ranks {
    /// S, O, T, P, I and what is in them, unless the structure code (BSN05) or the order in which levels first come
    /// says that packages stand around orders, or in items.
    pub fn of(loops: &[Loop], structure: &str) -> Self {
        let first = |level: &str| loops.iter().position(|l| l.level == level);
        let pack = first("T").or(first("P"));
        let around =
            structure == "0003" || matches!((pack, first("O")), (Some(p), Some(o)) if p < o);
        let inside =
            structure == "0002" && matches!((first("P"), first("I")), (Some(p), Some(i)) if i < p);
        let levels: &[&str] = match (around, inside) {
            (true, _) => &["S", "E", "T", "P", "Q", "O", "I", "K", "F", "D"],
            (_, true) => &["S", "E", "O", "I", "T", "P", "Q", "K", "F", "D"],
            _ => &["S", "E", "O", "T", "P", "Q", "I", "K", "F", "D"],
        };
        let ranked = levels.iter().enumerate();
        Self(
            ranked
                .map(|(n, level)| ((*level).to_owned(), n as u8))
                .collect(),
        )
    }

    fn of_level(&self, level: &str) -> u8 {
        self.0.get(level).copied().unwrap_or(200)
    }
}

/// Finds each loop's parent: the one that it names, else the nearest before it of a higher level.
pub fn parents(set: &Set<'_>, loops: &mut [Loop], ranks: &Ranks, odd: &mut Odd) {
    let mut by_id: BTreeMap<String, usize> = BTreeMap::new();
    let mut twice: BTreeSet<String> = BTreeSet::new();
    // The last loop of each level that is still open, by rank.
    let mut open: Vec<(u8, usize)> = Vec::new();
    for (index, l) in loops.iter_mut().enumerate() {
        let (id, named, level) = (l.id.clone(), l.named_parent.clone(), l.level.clone());
        let rank = ranks.of_level(&level);
        // A loop without a number is nobody's parent.
        let found = by_id.get(&named).copied().filter(|_| !named.is_empty());
        if !named.is_empty() && found.is_none() {
            odd.say(
                None,
                format!(
                    "{}: HL {id} names the parent {named}, which does not stand before it",
                    set.place(l.start, 2)
                ),
            );
        }
        while open.last().is_some_and(|(other, _)| *other >= rank) {
            open.pop();
        }
        let parent = found.or_else(|| open.last().map(|(_, at)| *at));
        if x12_words::level(&level).is_empty() {
            odd.say_once(
                None,
                &set.place(l.start, 3),
                &format!("the level {level:?} is not known here"),
            );
        }
        open.push((rank, index));
        if by_id.insert(id.clone(), index).is_some() && twice.insert(id.clone()) {
            odd.say(
                None,
                format!("{}: HL {id} comes twice", set.place(l.start, 1)),
            );
        }
        l.parent = parent;
    }
}
