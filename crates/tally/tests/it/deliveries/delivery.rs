//! One delivery from the order to the log, forward: what the list says, what is packed, where it lies, what people
//! wrote down; and beside it the truth, which no event holds.

use std::collections::{BTreeMap, BTreeSet};

use frame::Mark;
use list::RowKey;
use tally::{Digest, Draft, Event, EventId, How, Standing, What};
use uuid::Uuid;

use super::habits::Habits;
use super::houses::House;
use super::planted::{Kind, Plan, Planted, Truth};
use super::random::Draws;
use super::sender::Sent;
use super::site::Site;

/// What lies in the job's file, and what truly is.
pub struct Delivery {
    pub events: Vec<Event>,
    pub csv: String,
    pub truth: Truth,
    /// What nobody packed though the order or the habit asks for it, and what was packed too many.
    pub left_out: BTreeMap<String, i64>,
    pub added: BTreeMap<String, i64>,
    pub habits: Habits,
}

impl Delivery {
    pub fn draw(house: &House, mut plan: Plan, draws: &mut Draws) -> Self {
        let habits = Habits::draw(draws);
        let sent = Sent::draw(house, &habits, &mut plan, draws);
        let site = Site::draw(&sent, &mut plan, draws);
        let csv = habits.hand.writes(
            &sent.rows,
            |mark| sent.parts[mark].clone(),
            habits.two_loads,
        );
        let mut log = Log::default();
        log.opening(house, &csv, &habits);
        let put_right = log.rows_put_right(house, &csv, &sent, &mut plan);
        log.counts(house, &sent, &site, draws);
        let truth = truth(house, &sent, &site, plan, put_right);
        Self {
            events: log.events,
            csv,
            truth,
            left_out: sent.left_out,
            added: sent.added,
            habits,
        }
    }

    /// How the job stands by what people wrote down.
    pub fn standing(&self, house: &mut House) -> Standing {
        let (csv, family) = (self.csv.as_bytes(), house.family.clone());
        let family = family.as_deref().unwrap_or_default().as_bytes();
        let fetch = |digest: &Digest| match *digest == Digest::of(csv) {
            true => Ok(csv.to_vec()),
            false => Ok(family.to_vec()),
        };
        Standing::of(&self.events, fetch, &mut house.known)
    }
}

fn truth(house: &House, sent: &Sent, site: &Site, plan: Plan, put_right: usize) -> Truth {
    let mut truth = Truth {
        planted: plan.planted,
        put_right,
        ..Truth::default()
    };
    for line in &house.ordered.parts.lines {
        truth.needed.insert(line.part.mark.0.clone(), line.quantity);
    }
    for lot in &sent.lots {
        *truth.sent.entry(lot.mark.clone()).or_default() += lot.quantity;
        if lot.load > 1 {
            *truth.later.entry(lot.mark.clone()).or_default() += lot.quantity;
        }
    }
    for heap in &site.heaps {
        let lies = (heap.pile.clone(), heap.mark.clone());
        *truth.piles.entry(lies).or_default() += heap.pieces;
    }
    truth
}

fn id(number: u128) -> EventId {
    EventId(Uuid::from_u128(number))
}

/// The log of one job, written by two people.
#[derive(Default)]
struct Log {
    events: Vec<Event>,
}

impl Log {
    fn says(&mut self, who: &str, what: What) {
        let seq = self.events.len() as u64 + 1;
        let draft = Draft {
            id: id(seq.into()),
            device: format!("phone of {who}"),
            at: seq as i64 * 60_000,
            who: who.into(),
            what,
        };
        self.events
            .push(draft.numbered(seq).expect("within the limits"));
    }

    fn opening(&mut self, house: &House, csv: &str, habits: &Habits) {
        let toml = house.toml.clone();
        let family = house
            .family
            .as_deref()
            .map(|family| Digest::of(family.as_bytes()));
        self.says("Ines", What::OrderSet { toml, family });
        let digest = Digest::of(csv.as_bytes());
        let name = "packing list.csv".into();
        let shipment = None;
        self.says(
            "Ines",
            What::ListAdded {
                digest,
                name,
                shipment,
            },
        );
        if habits.two_loads {
            let (shipment, due) = ("Load 2".into(), Some("2026-06-09".into()));
            self.says("Ines", What::ShipmentNamed { shipment, due });
        }
        let shipment = "Load 1".into();
        self.says("Ines", What::ShipmentArrived { shipment });
    }

    /// Somebody went through the list and put right what the program read wrongly, but not where the writer took the
    /// wrong text: the row then stands as it says. Where the program is not taken in by that, the person is. And some
    /// rows that the program reads wrongly may stay so.
    fn rows_put_right(&mut self, house: &House, csv: &str, sent: &Sent, plan: &mut Plan) -> usize {
        let list = list::read(csv.as_bytes(), "packing list.csv").expect("a list of ours");
        let aside = &list.set_aside;
        assert_eq!(
            list.rows.len(),
            sent.rows.len(),
            "every row is read:\n{csv}\n{aside:?}"
        );
        let parts = &house.ordered.frame.parts;
        let ours = |mark: &str| parts.iter().any(|part| part.mark.0 == mark);
        let mut said: BTreeMap<RowKey, Option<Mark>> = BTreeMap::new();
        let mut left: BTreeMap<usize, String> = BTreeMap::new();
        let mut put_right = 0;
        // One word changes how the other rows are read, so it takes a few rounds.
        for _ in 0..8 {
            let matched = list::match_rows(&list, parts, &said);
            let before = said.len();
            for (found, meant) in matched.iter().zip(&sent.rows) {
                let found_mark = found.mark.as_ref().map(|mark| &mark.0);
                let should = Some(&meant.says).filter(|mark| ours(mark));
                if found_mark == should {
                    continue;
                }
                if let (Some(read), Some(_)) = (found_mark, should)
                    && meant.says == meant.mark
                    && (left.contains_key(&found.row) || left.len() < sent.misread)
                {
                    left.insert(found.row, read.clone());
                    continue;
                }
                put_right += usize::from(meant.says == meant.mark);
                said.insert(list.rows[found.row].key, should.cloned().map(Mark));
            }
            if said.len() == before {
                break;
            }
        }
        let said_of = said.clone();
        for (row, mark) in said {
            let (list, row) = (Digest::of(csv.as_bytes()), row.to_string());
            let mark = mark.map(|mark| mark.0);
            self.says(
                "Ines",
                What::Overruled {
                    list,
                    row,
                    mark,
                    words: None,
                },
            );
        }
        // What was said of other rows may have put them right.
        let matched = list::match_rows(&list, parts, &said_of);
        left.retain(|row, read| {
            matched[*row]
                .mark
                .as_ref()
                .is_some_and(|mark| mark.0 == *read)
        });
        for (row, read) in left {
            let meant = &sent.rows[row];
            let planted = Planted::new(Kind::RowMisread, &meant.mark, meant.quantity);
            plan.planted.push(planted.with(&read));
        }
        put_right
    }

    fn counts(&mut self, house: &House, sent: &Sent, site: &Site, draws: &mut Draws) {
        if draws.percent(50) {
            let piles: BTreeSet<&str> = site.heaps.iter().map(|heap| heap.pile.as_str()).collect();
            for pile in piles {
                let (pile, place) = (pile.to_owned(), "north fence".into());
                self.says("Kofi", What::PilePlaced { pile, place });
            }
        }
        for note in &site.notes {
            let seq = self.events.len() as u128 + 1;
            let (mark, pile) = (note.mark.clone(), Some(note.pile.clone()));
            let (quantity, how) = (note.counted, note.how());
            let replaces = Vec::new();
            self.says(
                "Kofi",
                What::Counted {
                    mark,
                    pile,
                    quantity,
                    replaces,
                    how,
                },
            );
            if note.again {
                let (mark, pile) = (note.mark.clone(), Some(note.pile.clone()));
                let (checks, how) = (vec![id(seq)], How::Piece);
                self.says(
                    "Ines",
                    What::CountedAgain {
                        mark,
                        pile,
                        quantity,
                        checks,
                        how,
                    },
                );
            }
        }
        for (mark, quantity, condition) in &site.conditions {
            let (mark, quantity, condition) = (mark.clone(), *quantity, *condition);
            let words = "kinked under the band".into();
            self.says(
                "Kofi",
                What::Conditioned {
                    mark,
                    quantity,
                    condition,
                    words,
                },
            );
        }
        self.none_found(house, sent, site);
    }

    /// At last, what should be here and lies nowhere is put down as none.
    fn none_found(&mut self, house: &House, sent: &Sent, site: &Site) {
        for line in &house.ordered.parts.lines {
            let mark = &line.part.mark.0;
            let counted = site.notes.iter().any(|note| note.mark == *mark);
            // The bag that is still closed is known to have some.
            let left = (site.heaps.iter())
                .any(|heap| heap.mark == *mark && !heap.strays && site.left.contains(&heap.pile));
            let later = sent
                .rows
                .iter()
                .any(|row| row.mark == *mark && row.load > 1);
            if line.quantity > 0 && !counted && !left && !later {
                let (mark, how) = (mark.clone(), How::Piece);
                let (pile, quantity, replaces) = (None, 0, Vec::new());
                self.says(
                    "Kofi",
                    What::Counted {
                        mark,
                        pile,
                        quantity,
                        replaces,
                        how,
                    },
                );
            }
        }
    }
}
