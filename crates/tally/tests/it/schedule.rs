//! Schedules of what can go wrong between phones and copies of a job: forms are lost, their answers are lost, they come
//! again late and out of order, clocks are wrong, pages are old, copies are made and merged. Each schedule follows
//! from its seed.
//!
//! The store's tests run the same schedules on real job files.

use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet, VecDeque};

use tally::{Draft, Event, EventId, How, Knew, State, What, correct, count, recount};
use uuid::Uuid;

/// A copy of a job, as the schedules need it.
pub trait Copy: Sized {
    /// All events, in the order in which they came into this copy.
    fn log(&self) -> Cow<'_, [Event]>;
    /// Appends, or adds nothing when the id is there with the same to say; anything else there is a failure.
    fn append(&mut self, draft: Draft);
    /// Takes in what the other has.
    fn take_in(&mut self, other: &Self);
    /// A copy of it as it is.
    fn copied(&self) -> Self;
}

/// SplitMix64 (Steele, Lea and Flood 2014): small, and the same everywhere.
struct Dice(u64);

impl Dice {
    fn roll(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    fn below(&mut self, n: usize) -> usize {
        (self.roll() % n as u64) as usize
    }

    fn one_in(&mut self, n: usize) -> bool {
        self.below(n) == 0
    }
}

/// A form as it waits in a phone.
#[derive(Clone, Debug)]
struct Form {
    id: EventId,
    act: Act,
    knew: u64,
    at: i64,
    tried: bool,
}

#[derive(Clone, Debug)]
enum Act {
    More(&'static str, Option<&'static str>, i64),
    Anew(&'static str, Option<&'static str>, i64),
    TakeBack(EventId),
}

struct Phone {
    device: String,
    desk: usize,
    /// How wrong its clock is.
    skew: i64,
    waiting: VecDeque<Form>,
    refused: Vec<EventId>,
    /// What its page shows: the highest number, and the events that can be taken back.
    knew: u64,
    shown: Vec<EventId>,
}

struct Run<C> {
    dice: Dice,
    copies: Vec<C>,
    phones: Vec<Phone>,
    /// Forms that are still on their way to a desk, from a device.
    late: Vec<(usize, String, Form)>,
    made: BTreeMap<EventId, Form>,
    now: i64,
}

/// Runs the schedule of a seed and checks where it ends.
pub fn run<C: Copy>(seed: u64, first: C) {
    let mut dice = Dice(seed);
    let phones = (0..2 + dice.below(4))
        .map(|n| Phone {
            device: format!("phone {n}"),
            desk: 0,
            skew: dice.below(2_000_000_000) as i64 - 1_000_000_000,
            waiting: VecDeque::new(),
            refused: Vec::new(),
            knew: 0,
            shown: Vec::new(),
        })
        .collect();
    let mut run = Run {
        dice,
        copies: vec![first],
        phones,
        late: Vec::new(),
        made: BTreeMap::new(),
        now: 2_000_000_000_000,
    };
    for _ in 0..20 + run.dice.below(60) {
        run.step();
    }
    run.end();
    run.check(seed);
}

impl<C: Copy> Run<C> {
    fn step(&mut self) {
        self.now += 1 + self.dice.below(100_000) as i64;
        let phone = self.dice.below(self.phones.len());
        match self.dice.below(20) {
            0..=8 => self.fill_in(phone),
            9..=13 => self.send(phone),
            14 | 15 => self.look(phone),
            16 => self.arrive_late(),
            17 => self.merge(),
            18 if self.copies.len() < 3 => {
                let from = self.dice.below(self.copies.len());
                self.copies.push(self.copies[from].copied());
            }
            _ => self.walk(phone),
        }
    }

    /// Someone fills in a form; from now on it waits.
    fn fill_in(&mut self, phone: usize) {
        let mark = ["B1", "R1"][self.dice.below(2)];
        let pile = [None, Some("A")][self.dice.below(2)];
        let quantity = self.dice.below(50) as i64;
        let phone = &mut self.phones[phone];
        let own = phone.waiting.back().map(|form| form.id);
        let known: Vec<EventId> = phone.shown.iter().copied().chain(own).collect();
        let act = match self.dice.below(10) {
            0..=5 => Act::More(mark, pile, quantity),
            6 | 7 => Act::Anew(mark, pile, quantity),
            _ if known.is_empty() => Act::More(mark, pile, quantity),
            _ => Act::TakeBack(known[self.dice.below(known.len())]),
        };
        let high = u128::from(self.dice.roll()) << 64;
        let id = EventId(Uuid::from_u128(high | u128::from(self.dice.roll())));
        let form = Form {
            id,
            act,
            knew: phone.knew,
            at: self.now + phone.skew,
            tried: false,
        };
        self.made.insert(id, form.clone());
        phone.waiting.push_back(form);
    }

    /// The phone sends the oldest form that waits: it is lost, or its answer is, or another copy of it stays on the
    /// way.
    fn send(&mut self, phone: usize) {
        let outcome = self.dice.below(6);
        let sender = &mut self.phones[phone];
        let (desk, device) = (sender.desk, sender.device.clone());
        let Some(form) = sender.waiting.front_mut() else {
            return;
        };
        form.tried = true;
        let form = form.clone();
        if outcome <= 1 {
            if outcome == 1 {
                self.late.push((desk, device, form));
            }
            return;
        }
        let kept = self.arrive(desk, &device, &form);
        if outcome == 2 {
            return;
        }
        if outcome == 3 {
            self.late.push((desk, device, form.clone()));
        }
        let sender = &mut self.phones[phone];
        sender.waiting.pop_front();
        if !kept {
            sender.refused.push(form.id);
        }
    }

    /// A form comes to a desk, which decides it as the yard does: as of when it first came. Whether it was kept.
    fn arrive(&mut self, desk: usize, device: &str, form: &Form) -> bool {
        let log = self.copies[desk].log();
        let known = log.iter().position(|event| event.id == form.id);
        let state = State::fold(&log[..known.unwrap_or(log.len())]);
        let knew = Knew {
            upto: form.knew,
            device,
        };
        let what = match form.act {
            Act::More(mark, pile, quantity) => count(mark, pile, quantity, How::Piece),
            Act::Anew(mark, pile, quantity) => {
                recount(&state, knew, mark, pile, quantity, How::Piece)
            }
            Act::TakeBack(event) => correct(&state, event, ""),
        };
        let Ok(what) = what else { return false };
        self.copies[desk].append(Draft {
            id: form.id,
            device: device.into(),
            at: form.at,
            who: "Ines".into(),
            what,
        });
        true
    }

    fn arrive_late(&mut self) {
        if !self.late.is_empty() {
            let which = self.dice.below(self.late.len());
            let (desk, device, form) = self.late[which].clone();
            if self.dice.one_in(2) {
                self.late.swap_remove(which);
            }
            self.arrive(desk, &device, &form);
        }
    }

    /// The phone, in reach, looks at its page again.
    fn look(&mut self, phone: usize) {
        let phone = &mut self.phones[phone];
        let state = State::fold(&self.copies[phone.desk].log());
        phone.knew = state.upto;
        let counts = state.marks.values().flat_map(|seen| &seen.counts);
        phone.shown = counts.map(|count| count.event).collect();
    }

    fn merge(&mut self) {
        let (into, from) = (
            self.dice.below(self.copies.len()),
            self.dice.below(self.copies.len()),
        );
        self.merge_two(into, from);
    }

    fn merge_two(&mut self, into: usize, from: usize) {
        if into != from {
            let (before, after) = self.copies.split_at_mut(into.max(from));
            let (low, high) = (&mut before[into.min(from)], &mut after[0]);
            match into < from {
                true => low.take_in(high),
                false => high.take_in(low),
            }
        }
    }

    /// The phone joins another copy, as a device of its own there. What it has sent without an answer goes to the copy
    /// that it was sent to, so it does not walk before that.
    fn walk(&mut self, phone: usize) {
        let to = self.dice.below(self.copies.len());
        let name = self.dice.roll();
        let phone = &mut self.phones[phone];
        if phone.desk != to && phone.waiting.iter().all(|form| !form.tried) {
            phone.desk = to;
            phone.device = format!("phone {name:x}");
            phone.knew = 0;
            phone.shown.clear();
        }
    }

    /// All come back into reach, and the copies are merged.
    fn end(&mut self) {
        while let Some(phone) = self
            .phones
            .iter()
            .position(|phone| !phone.waiting.is_empty())
        {
            self.send(phone);
        }
        while !self.late.is_empty() {
            self.arrive_late();
        }
        for _ in 0..2 {
            for into in 0..self.copies.len() {
                for from in 0..self.copies.len() {
                    self.merge_two(into, from);
                }
            }
        }
    }

    fn check(&self, seed: u64) {
        let sorted = |copy: &C| {
            let mut log = copy.log().into_owned();
            log.sort();
            log
        };
        let log = sorted(&self.copies[0]);
        let state = State::fold(&log);
        for copy in &self.copies {
            // However the events came into a copy, it ends with the same ones, at the same state.
            assert_eq!(sorted(copy), log, "seed {seed}");
            assert_eq!(State::fold(&copy.log()), state, "seed {seed}");
        }
        // Nothing is double, and nothing lost: what was refused the person was told. A take-back may be both, when
        // what was refused came once more after the thing stood again.
        let kept: BTreeSet<EventId> = log.iter().map(|event| event.id).collect();
        assert_eq!(kept.len(), log.len(), "seed {seed}");
        let refused: BTreeSet<EventId> = self
            .phones
            .iter()
            .flat_map(|phone| phone.refused.iter().copied())
            .collect();
        for (id, form) in &self.made {
            let is_count = !matches!(form.act, Act::TakeBack(_));
            assert!(
                kept.contains(id) || (refused.contains(id) && !is_count),
                "seed {seed}: {id}"
            );
        }
        assert!(
            kept.iter().all(|id| self.made.contains_key(id)),
            "seed {seed}"
        );
        self.check_sums(&log, &state, seed);
        self.check_recounts(&log, seed);
    }

    /// The sums, worked out from the sentence alone: an event stands unless a later one that stands names it, or counts
    /// anew what was counted anew before in its place, and so on.
    fn check_sums(&self, log: &[Event], state: &State, seed: u64) {
        let mut log: Vec<&Event> = log.iter().collect();
        log.sort_by_key(|event| event.order());
        let is_count = |i: usize| matches!(log[i].what, What::Counted { .. });
        let mut takes_out: Vec<BTreeSet<usize>> = Vec::new();
        for later in 0..log.len() {
            let named = |i: &usize| names(log[later]).contains(&log[*i].id);
            let mut out: BTreeSet<usize> = (0..later).filter(named).collect();
            if is_count(later) {
                let counts: Vec<usize> = out.iter().copied().filter(|i| is_count(*i)).collect();
                out.extend(counts.into_iter().flat_map(|i| takes_out[i].clone()));
            }
            takes_out.push(out);
        }
        let mut stands = vec![true; log.len()];
        for later in (0..log.len()).rev() {
            stands[later] =
                !(later + 1..log.len()).any(|i| stands[i] && takes_out[i].contains(&later));
        }
        let mut sums: BTreeMap<&str, i64> = BTreeMap::new();
        for (event, _) in log.iter().zip(&stands).filter(|(_, stands)| **stands) {
            if let What::Counted { mark, .. } = &event.what {
                let (Act::More(of, _, n) | Act::Anew(of, _, n)) = self.made[&event.id].act else {
                    panic!("seed {seed}: {event:?} is not what was filled in")
                };
                assert_eq!(of, mark, "seed {seed}");
                *sums.entry(mark).or_default() += n;
            }
        }
        for mark in ["B1", "R1"] {
            let sum = sums.get(mark).copied().unwrap_or(0);
            assert_eq!(state.on_hand(mark).counted, sum, "seed {seed}: {mark}");
        }
    }

    /// A count anew takes the place of nothing that its person could not know.
    fn check_recounts(&self, log: &[Event], seed: u64) {
        let by_id: BTreeMap<EventId, &Event> = log.iter().map(|event| (event.id, event)).collect();
        for event in log {
            let What::Counted {
                mark,
                pile,
                replaces,
                ..
            } = &event.what
            else {
                continue;
            };
            for replaced in replaces {
                let other = by_id[replaced];
                let What::Counted {
                    mark: of,
                    pile: there,
                    ..
                } = &other.what
                else {
                    panic!("seed {seed}: {event:?} takes the place of {other:?}")
                };
                assert_eq!((of, there), (mark, pile), "seed {seed}");
                assert!(other.order() < event.order(), "seed {seed}");
                let known = other.seq <= self.made[&event.id].knew || other.device == event.device;
                assert!(
                    known,
                    "seed {seed}: {other:?} could not be known to {event:?}"
                );
            }
        }
    }
}

fn names(event: &Event) -> &[EventId] {
    match &event.what {
        What::Counted { replaces, .. } => replaces,
        What::Corrected { of, .. } => of,
        _ => &[],
    }
}
