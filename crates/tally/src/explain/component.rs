//! Numbers that hypotheses hold together, as one integer programme; its likeliest story, and the next.

use std::collections::{BTreeMap, BTreeSet};

use crate::explain::Story;
use crate::explain::cause::{Cause, CauseKind};
use crate::explain::facts::Facts;
use crate::explain::hypotheses::{Hypothesis, gather};
use crate::explain::numbers::{Key, Number};
use crate::explain::priors;
use crate::explain::programme::{Chosen, Column, Cost, Programme, Unsolved};

/// A number further off than this is not worth a search.
const MOST_OFF: i64 = 100_000;

/// Numbers that hypotheses hold together, not yet solved.
pub(crate) struct Draft {
    numbers: Vec<(Key, Number)>,
    hypotheses: Vec<Hypothesis>,
}

/// The same with its likeliest story.
pub(crate) struct Component {
    numbers: Vec<(Key, Number)>,
    hypotheses: Vec<Hypothesis>,
    /// Its first columns are the hypotheses, then comes what is left free.
    programme: Programme,
    chosen: Chosen,
    /// What it costs anyway, of numbers that need no explaining.
    idle: Cost,
}

/// A part of a component whose numbers one story explains.
pub(crate) struct Part {
    pub keys: BTreeSet<Key>,
    pub best: Story,
    pub other: Option<Story>,
    /// Whether the next story is known for sure.
    pub proven: bool,
}

impl Draft {
    /// A job's numbers, apart where no hypothesis holds them together.
    pub fn all(facts: &Facts, numbers: &BTreeMap<Key, Number>) -> Vec<Self> {
        let mut hypotheses = gather(facts, numbers);
        let mut sets = Sets::default();
        let deviating = (numbers.iter()).filter(|(_, number)| number.deviates());
        deviating.for_each(|(key, _)| sets.add(*key));
        for hypothesis in &hypotheses {
            sets.hold(hypothesis);
        }
        for key in sets.keys() {
            hypotheses.extend(fewer_spares(facts, key, numbers));
        }
        let mut drafts: BTreeMap<Key, Self> = BTreeMap::new();
        for key in sets.keys() {
            let draft = drafts.entry(sets.find(key)).or_insert(Self {
                numbers: Vec::new(),
                hypotheses: Vec::new(),
            });
            draft
                .numbers
                .extend(numbers.get(&key).map(|number| (key, *number)));
        }
        for hypothesis in hypotheses {
            let first = hypothesis.effects.first().map(|effect| sets.find(effect.0));
            if let Some(draft) = first.and_then(|first| drafts.get_mut(&first)) {
                draft.hypotheses.push(hypothesis);
            }
        }
        drafts.into_values().collect()
    }

    /// It costs no less than this: each number that is off needs something that moves it the right way, and what moves
    /// several is shared out among them.
    pub fn bound(&self) -> Cost {
        let off = (self.numbers.iter()).filter(|(_, number)| number.deviates());
        let least: Cost = off
            .map(|(key, number)| {
                let moves = |hypothesis: &&Hypothesis| {
                    hypothesis.makes_a_story()
                        && (hypothesis.effects.iter())
                            .any(|(k, n)| k == key && n.signum() == number.off.signum())
                };
                (self.hypotheses.iter().filter(moves))
                    .map(|hypothesis| hypothesis.first / hypothesis.effects.len() as i64)
                    .min()
                    .unwrap_or(0)
            })
            .sum();
        (least - self.idle()).max(0)
    }

    /// What it costs anyway, of numbers that need no explaining.
    fn idle(&self) -> Cost {
        (self.numbers.iter())
            .filter(|(_, number)| !number.deviates())
            .map(|(_, number)| idle_cost(number))
            .sum()
    }

    pub fn solved(self, facts: &Facts) -> Component {
        let is_near = (self.numbers.iter()).all(|(_, n)| n.off.abs() <= MOST_OFF);
        let programme = programme(&self.numbers, &self.hypotheses, is_near);
        let solved = match is_near {
            true => facts.back.solved((programme.clone(), Vec::new())),
            false => Err(Unsolved::Failed),
        };
        let chosen = solved.unwrap_or_else(|_| last_resort(&self.numbers, &programme));
        Component {
            idle: self.idle(),
            numbers: self.numbers,
            hypotheses: self.hypotheses,
            programme,
            chosen,
        }
    }
}

impl Component {
    /// What the likeliest story costs.
    pub fn cost(&self) -> Cost {
        self.chosen.cost - self.idle
    }

    pub fn into_programme(self) -> Programme {
        self.programme
    }

    pub fn proven(&self) -> bool {
        self.chosen.proven
    }

    /// The likeliest story of the numbers of some marks.
    pub fn causes_of(&self, places: &BTreeSet<usize>) -> Vec<Cause> {
        let touches = |hypothesis: &Hypothesis| {
            (hypothesis.effects.iter()).any(|((place, _), _)| places.contains(place))
        };
        self.causes(&self.chosen.amounts, touches)
    }

    /// The parts of the component that the likeliest story leaves apart, each with the story that is next when it is not
    /// that.
    pub fn parts(&self, facts: &Facts) -> Vec<Part> {
        let mut sets = Sets::default();
        let deviating = (self.numbers.iter()).filter(|(_, number)| number.deviates());
        let deviating: BTreeSet<Key> = deviating.map(|(key, _)| *key).collect();
        for key in &deviating {
            sets.add(*key);
        }
        for (hypothesis, _) in self.used(&self.chosen.amounts) {
            sets.hold(hypothesis);
        }
        (sets.all().into_iter())
            .filter(|keys| keys.iter().any(|key| deviating.contains(key)))
            .map(|keys| self.part(keys, facts))
            .collect()
    }

    fn part(&self, keys: BTreeSet<Key>, facts: &Facts) -> Part {
        let best = &self.chosen.amounts;
        let touches = |hypothesis: &Hypothesis| {
            (hypothesis.effects.iter()).any(|(key, _)| keys.contains(key))
        };
        let mut classes = Vec::new();
        let mut cost = 0;
        for (place, hypothesis) in self.hypotheses.iter().enumerate() {
            if best[place] > 0 && touches(hypothesis) {
                classes.extend(self.programme.columns[place].class);
                cost += self.programme.columns[place].cost(best[place]);
            }
        }
        classes.sort_unstable();
        classes.dedup();
        let next = match self.chosen.proven {
            true if classes.is_empty() => Err(Unsolved::NoneThere),
            true => facts.back.solved((self.programme.clone(), classes)),
            false => Err(Unsolved::Failed),
        };
        let proven = match &next {
            Ok(next) => next.proven,
            Err(unsolved) => *unsolved == Unsolved::NoneThere,
        };
        let other = next.ok().map(|next| {
            // What is other in it may reach beyond these numbers.
            let changed = |place: usize| next.amounts[place] != best[place];
            let said: BTreeSet<usize> = (self.hypotheses.iter().enumerate())
                .filter(|(place, hypothesis)| changed(*place) || touches(hypothesis))
                .map(|(place, _)| place)
                .collect();
            let amounts: Vec<i64> = (next.amounts.iter().enumerate())
                .map(|(place, amount)| if said.contains(&place) { *amount } else { 0 })
                .collect();
            Story {
                causes: self.causes(&amounts, |_| true),
                cost: cost + next.cost - self.chosen.cost,
            }
        });
        let best = Story {
            causes: self.causes(best, touches),
            cost,
        };
        Part {
            keys,
            best,
            other,
            proven,
        }
    }

    fn used<'a>(&'a self, amounts: &'a [i64]) -> impl Iterator<Item = (&'a Hypothesis, i64)> {
        let each = self.hypotheses.iter().zip(amounts.iter().copied());
        each.filter(|(_, amount)| *amount > 0)
    }

    /// The causes that amounts stand for, as far as asked for; what is the same but for its pieces is one.
    fn causes(&self, amounts: &[i64], asked: impl Fn(&Hypothesis) -> bool) -> Vec<Cause> {
        let mut sums: BTreeMap<Cause, i64> = BTreeMap::new();
        for (hypothesis, amount) in self.used(amounts).filter(|(h, _)| asked(h)) {
            let quantity = hypothesis.cause.quantity * amount;
            let mut cause = hypothesis.cause.clone();
            cause.quantity = 0;
            *sums.entry(cause).or_default() += quantity;
        }
        (sums.into_iter())
            .map(|(cause, quantity)| Cause { quantity, ..cause })
            .collect()
    }
}

/// Spares that did not come.
fn fewer_spares(facts: &Facts, key: Key, numbers: &BTreeMap<Key, Number>) -> Option<Hypothesis> {
    let number = numbers.get(&key).filter(|n| n.spares > 0)?;
    let chance = priors::FEWER_SPARES;
    Some(Hypothesis {
        cause: Cause::of(CauseKind::FewerSpares, &facts.mark(key.0).mark, 1),
        effects: vec![(key, -1)],
        most: number.spares,
        first: chance.first(),
        further: vec![(number.spares, chance.each())],
        share: None,
    })
}

/// What a number costs that needs no explaining.
fn idle_cost(number: &Number) -> Cost {
    let spares = -number.off - number.to_come;
    match spares > 0 {
        true => priors::FEWER_SPARES.first() + (spares - 1) * priors::FEWER_SPARES.each(),
        false => 0,
    }
}

fn programme(numbers: &[(Key, Number)], hypotheses: &[Hypothesis], is_near: bool) -> Programme {
    let most = |most: i64| most.clamp(0, if is_near { MOST_OFF } else { i64::MAX });
    let place: BTreeMap<Key, usize> = (numbers.iter().enumerate())
        .map(|(place, (key, _))| (*key, place))
        .collect();
    let mut classes: BTreeMap<Cause, usize> = BTreeMap::new();
    let mut one_of: BTreeMap<(&str, &str), Vec<usize>> = BTreeMap::new();
    let mut columns: Vec<Column> = Vec::new();
    for (column, hypothesis) in hypotheses.iter().enumerate() {
        let effects = (hypothesis.effects.iter())
            .filter_map(|(key, effect)| Some((*place.get(key)?, *effect)))
            .collect();
        let next = classes.len();
        let class = (hypothesis.makes_a_story())
            .then(|| *classes.entry(hypothesis.class()).or_insert(next));
        columns.push(Column {
            effects,
            most: most(hypothesis.most),
            fixed: hypothesis.first,
            further: hypothesis.further.clone(),
            class,
        });
        if let Some(share) = &hypothesis.share {
            let of = match hypothesis.cause.kind {
                CauseKind::RowMisread => "",
                _ => hypothesis.cause.mark.as_str(),
            };
            one_of.entry((of, share)).or_default().push(column);
        }
    }
    let free = |place: usize, effect: i64, units: i64| Column {
        effects: vec![(place, effect)],
        most: most(units),
        ..Column::default()
    };
    for (place, (_, number)) in numbers.iter().enumerate() {
        let ways = [(1, number.up), (-1, number.to_come)];
        columns.extend(
            (ways.into_iter())
                .filter(|(_, most)| *most > 0)
                .map(|(effect, most)| free(place, effect, most)),
        );
    }
    Programme {
        targets: numbers.iter().map(|(_, number)| number.off).collect(),
        columns,
        one_of: (one_of.into_values()).filter(|set| set.len() > 1).collect(),
    }
}

/// Each number by itself, by the cheapest thing that happens to it alone, piece by piece.
fn last_resort(numbers: &[(Key, Number)], programme: &Programme) -> Chosen {
    let mut amounts = vec![0; programme.columns.len()];
    for (place, (_, number)) in numbers.iter().enumerate() {
        let mut left = number.off;
        let alone = |column: &Column| match column.effects.as_slice() {
            [(number, effect)] if *number == place && effect.abs() == 1 => Some(*effect),
            _ => None,
        };
        let mut ways: Vec<(usize, i64, &Column)> = (programme.columns.iter().enumerate())
            .filter_map(|(at, column)| Some((at, alone(column)?, column)))
            .filter(|(_, effect, _)| effect.signum() == left.signum())
            .collect();
        // What is free first, and then what can take all the rest.
        ways.sort_by_key(|(_, _, column)| {
            let free = column.class.is_some();
            let enough = column.most < left.abs();
            (free, enough, column.cost(left.abs().min(column.most)))
        });
        for (at, effect, column) in ways {
            let taken = left.abs().min(column.most);
            amounts[at] = taken;
            left -= effect * taken;
        }
    }
    let cost = (programme.columns.iter().zip(&amounts))
        .map(|(column, amount)| column.cost(*amount))
        .sum();
    Chosen {
        amounts,
        cost,
        proven: false,
    }
}

/// Numbers that belong together.
#[derive(Default)]
struct Sets(BTreeMap<Key, Key>);

impl Sets {
    fn add(&mut self, key: Key) {
        self.0.entry(key).or_insert(key);
    }

    /// Joins what a hypothesis moves.
    fn hold(&mut self, hypothesis: &Hypothesis) {
        let mut keys = hypothesis.effects.iter().map(|effect| effect.0);
        if let Some(first) = keys.next() {
            self.add(first);
            keys.for_each(|key| self.join(first, key));
        }
    }

    fn find(&self, mut key: Key) -> Key {
        while let Some(up) = self.0.get(&key).filter(|up| **up != key) {
            key = *up;
        }
        key
    }

    fn join(&mut self, one: Key, other: Key) {
        self.add(other);
        let (one, other) = (self.find(one), self.find(other));
        self.0.insert(one.max(other), one.min(other));
    }

    fn keys(&self) -> Vec<Key> {
        self.0.keys().copied().collect()
    }

    fn all(&self) -> Vec<BTreeSet<Key>> {
        let mut sets: BTreeMap<Key, BTreeSet<Key>> = BTreeMap::new();
        for key in self.0.keys() {
            sets.entry(self.find(*key)).or_default().insert(*key);
        }
        sets.into_values().collect()
    }
}
