//! The lists in use, read and matched once: what was worked out before, so that a count need not read them again.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use frame::Mark;
use list::{Against, Carry, Changes, Codes, Matched, PackingList, RowKey, sender_key};

use crate::digest::Digest;
use crate::event::EventId;
use crate::fold::State;
use crate::list_standing::{CarriedFrom, Corrected, LeftOf, ListStanding, listed_rows};
use crate::lists_seen::{Earlier, ListSeen, Overruling};
use crate::shipment::Spellings;
use crate::standing::Ordered;

/// What was worked out of lists before.
#[derive(Debug, Default)]
pub(crate) struct KnownLists {
    lists: BTreeMap<Digest, KnownList>,
    changes: BTreeMap<(Digest, Digest), Arc<Changes>>,
    codes: BTreeMap<Digest, CodesRead>,
    /// The files that were asked for in this turn, once each.
    asked: BTreeSet<Digest>,
}

type Overruled = BTreeMap<RowKey, Option<Mark>>;
type Read = Arc<Result<PackingList, String>>;
type CodesRead = Arc<Result<BTreeMap<String, Codes>, String>>;

#[derive(Debug)]
struct KnownList {
    name: String,
    fetched: bool,
    read: Read,
    /// What the rows were matched under, and the outcome.
    matched: Option<(Under, Arc<Vec<Matched>>)>,
    /// The outcome that codes were learned from, and the codes.
    learned: Option<(Arc<Vec<Matched>>, Codes)>,
}

/// The order's text, what people said, and the sender's codes.
type Under = (Option<String>, Overruled, Option<Arc<Codes>>);

/// What a person said of a row, and where it came from when it was said of another.
#[derive(Clone)]
struct Word {
    mark: Option<Mark>,
    event: EventId,
    who: String,
    from: Option<CarriedFrom>,
}

impl KnownLists {
    /// How each list in use stands. `ordered` is the order's text, and the order;
    /// `codes_taken` are the codes that were brought in.
    pub fn all(
        &mut self,
        state: &State,
        ordered: Option<(&str, &Ordered)>,
        codes_taken: &BTreeMap<String, Codes>,
        document: &mut impl FnMut(&Digest) -> Result<Vec<u8>, String>,
        spellings: &mut Spellings,
    ) -> Vec<ListStanding> {
        let mut codes = codes_taken.clone();
        self.asked.clear();
        let reads: Vec<Read> = (state.lists.iter())
            .map(|seen| self.read(&seen.digest, &seen.name, document))
            .collect();
        let senders: Vec<Option<String>> = (state.lists.iter().zip(&reads))
            .map(|(seen, read)| {
                let header = read.as_ref().as_ref().ok().map(|read| &read.header);
                (seen.sender.clone()).or_else(|| header?.sender.clone())
            })
            .collect();
        let mut standing = Vec::with_capacity(reads.len());
        for (at, (seen, read)) in state.lists.iter().zip(reads).enumerate() {
            let sender = senders[at].clone();
            let key = sender.as_deref().map(sender_key).unwrap_or_default();
            let said = self.said(state, seen, document);
            let known = match (read.as_ref(), ordered) {
                (Ok(read), Some((_, ordered))) => {
                    let own = Codes::said(read, &said.overruled, &ordered.frame.parts);
                    let before = codes.get(&key).filter(|_| !key.is_empty());
                    known_codes(before, own, sender.as_deref())
                }
                _ => None,
            };
            let matched = self.matched(seen, &read, ordered, &said.overruled, known.clone());
            let again = (senders.iter().skip(at + 1).flatten()).any(|s| sender_key(s) == key);
            if let (true, false, Some((_, ordered))) = (again, key.is_empty(), ordered)
                && let Some(learned) = self.learned(seen, &read, &matched, ordered)
            {
                codes.entry(key).or_default().take_in(&learned);
            }
            let (rows, troubles) = match (read.as_ref(), ordered) {
                (Ok(read), Some((_, ordered))) => (
                    listed_rows(seen, read, &matched, spellings),
                    list::check(&read.header, &ordered.expected()),
                ),
                _ => Default::default(),
            };
            standing.push(ListStanding {
                seen: seen.clone(),
                corrected: self.corrected(seen, &read, document),
                read,
                matched,
                rows,
                troubles,
                carried: said.carried,
                left: said.left,
                sender,
                codes: known,
            });
        }
        self.forget_all_but(state);
        standing
    }

    /// A list, read. One whose file cannot be fetched is asked for again the next time: the file may come.
    fn read(
        &mut self,
        digest: &Digest,
        name: &str,
        document: &mut impl FnMut(&Digest) -> Result<Vec<u8>, String>,
    ) -> Read {
        // What reading says may name the file.
        let first = self.asked.insert(*digest);
        let stale = |known: &KnownList| (!known.fetched && first) || known.name != name;
        if self.lists.get(digest).is_some_and(stale) {
            self.lists.remove(digest);
        }
        let known = self.lists.entry(*digest).or_insert_with(|| {
            let fetched = document(digest);
            let read = |bytes: Vec<u8>| list::read(&bytes, name).map_err(|e| e.to_string());
            KnownList {
                name: name.to_owned(),
                fetched: fetched.is_ok(),
                read: Arc::new(fetched.and_then(read)),
                matched: None,
                learned: None,
            }
        });
        known.read.clone()
    }

    fn matched(
        &mut self,
        seen: &ListSeen,
        read: &Read,
        ordered: Option<(&str, &Ordered)>,
        overruled: &Overruled,
        codes: Option<Arc<Codes>>,
    ) -> Arc<Vec<Matched>> {
        let under = (
            ordered.map(|(toml, _)| toml.to_owned()),
            overruled.clone(),
            codes,
        );
        let known = self.lists.get_mut(&seen.digest);
        if let Some((before, matched)) = known.as_ref().and_then(|known| known.matched.as_ref())
            && *before == under
        {
            return matched.clone();
        }
        let matched = Arc::new(match (read.as_ref(), ordered) {
            (Ok(read), Some((_, ordered))) => {
                let kits = list::Kit::all(&ordered.parts);
                let against = Against {
                    parts: &ordered.frame.parts,
                    kits: &kits,
                    overruled: Some(overruled),
                    codes: under.2.as_deref(),
                };
                list::match_list(read, &against)
            }
            _ => Vec::new(),
        });
        if let Some(known) = known {
            known.matched = Some((under, matched.clone()));
        }
        matched
    }

    /// What a list taught of its sender's codes.
    fn learned(
        &mut self,
        seen: &ListSeen,
        read: &Read,
        matched: &Arc<Vec<Matched>>,
        ordered: &Ordered,
    ) -> Option<Codes> {
        let known = self.lists.get_mut(&seen.digest)?;
        if let Some((from, codes)) = &known.learned
            && Arc::ptr_eq(from, matched)
        {
            return Some(codes.clone());
        }
        let read = read.as_ref().as_ref().ok()?;
        let codes = Codes::learn(read, matched, &ordered.frame.parts);
        known.learned = Some((matched.clone(), codes.clone()));
        Some(codes)
    }

    fn changes(
        &mut self,
        old: (Digest, &PackingList),
        new: (Digest, &PackingList),
    ) -> Arc<Changes> {
        let changes = self.changes.entry((old.0, new.0));
        let changes = changes.or_insert_with(|| Arc::new(list::changes(old.1, new.1)));
        changes.clone()
    }

    fn corrected(
        &mut self,
        seen: &ListSeen,
        read: &Read,
        document: &mut impl FnMut(&Digest) -> Result<Vec<u8>, String>,
    ) -> Option<Corrected> {
        let old = seen.earlier.last()?.clone();
        let old_read = self.read(&old.digest, &old.name, document);
        let both = old_read
            .as_ref()
            .as_ref()
            .ok()
            .zip(read.as_ref().as_ref().ok());
        let changes =
            both.map(|(before, after)| self.changes((old.digest, before), (seen.digest, after)));
        Some(Corrected {
            old,
            read: old_read,
            changes,
        })
    }

    /// What people said of the rows of a list, step by step from its oldest writing on.
    fn said(
        &mut self,
        state: &State,
        seen: &ListSeen,
        document: &mut impl FnMut(&Digest) -> Result<Vec<u8>, String>,
    ) -> Said {
        let now = Earlier {
            event: seen.event,
            digest: seen.digest,
            name: seen.name.clone(),
            beside: false,
        };
        let mut words: BTreeMap<RowKey, Word> = BTreeMap::new();
        let mut left = Vec::new();
        let mut before: Option<(Earlier, Read)> = None;
        for writing in seen.earlier.iter().chain([&now]) {
            let read = self.read(&writing.digest, &writing.name, document);
            if let Ok(list) = read.as_ref() {
                if let Some((old, old_read)) = &before
                    && let Ok(old_list) = old_read.as_ref()
                {
                    let changes = self.changes((old.digest, old_list), (writing.digest, list));
                    let said: Overruled = marks(&words);
                    let carry = list::carry(old_list, list, &changes, &said);
                    words = carried(carry, &words, &old.name, &mut left);
                }
                before = Some((writing.clone(), read.clone()));
            }
            take_in(
                state,
                writing,
                read.as_ref().as_ref().ok(),
                &mut words,
                &mut left,
            );
        }
        Said {
            overruled: marks(&words),
            carried: (words.into_iter())
                .filter_map(|(key, word)| Some((key, word.from?)))
                .collect(),
            left,
        }
    }

    /// The codes that were taken in, by sender. A file that cannot be fetched is asked for again the next time.
    pub fn codes_taken(
        &mut self,
        state: &State,
        document: &mut impl FnMut(&Digest) -> Result<Vec<u8>, String>,
    ) -> BTreeMap<String, Codes> {
        let mut all: BTreeMap<String, Codes> = BTreeMap::new();
        for seen in &state.codes {
            let read = match self.codes.get(&seen.digest) {
                Some(read) => read.clone(),
                None => {
                    let fetched = document(&seen.digest);
                    let is_here = fetched.is_ok();
                    let read = |bytes: Vec<u8>| list::read_codes(&bytes).map_err(|e| e.to_string());
                    let read = Arc::new(fetched.and_then(read));
                    if is_here {
                        self.codes.insert(seen.digest, read.clone());
                    }
                    read
                }
            };
            for (sender, codes) in read.as_ref().iter().flatten() {
                all.entry(sender.clone()).or_default().take_in(codes);
            }
        }
        all
    }

    /// A long list is held in memory only while it, or one that corrects it, is in use.
    fn forget_all_but(&mut self, state: &State) {
        let used: BTreeSet<Digest> = (state.lists.iter())
            .flat_map(|list| list.earlier.iter().map(|it| it.digest).chain([list.digest]))
            .collect();
        let codes: BTreeSet<Digest> = state.codes.iter().map(|seen| seen.digest).collect();
        self.lists.retain(|digest, _| used.contains(digest));
        self.changes
            .retain(|(old, new), _| used.contains(old) && used.contains(new));
        self.codes.retain(|digest, _| codes.contains(digest));
    }
}

struct Said {
    overruled: Overruled,
    carried: BTreeMap<RowKey, CarriedFrom>,
    left: Vec<LeftOf>,
}

fn marks(words: &BTreeMap<RowKey, Word>) -> Overruled {
    let marks = words.iter().map(|(key, word)| (*key, word.mark.clone()));
    marks.collect()
}

/// What a sender's codes stood for before, and what people said of them in this very list.
fn known_codes(before: Option<&Codes>, own: Codes, sender: Option<&str>) -> Option<Arc<Codes>> {
    let mut codes = before.cloned().unwrap_or_default();
    codes.take_in(&own);
    if codes.by_code.is_empty() && codes.unclear.is_empty() {
        return None;
    }
    codes.sender = sender.unwrap_or_default().to_owned();
    Some(Arc::new(codes))
}

/// What was said of the rows of the list before, as words on the rows of the next; what fits none is left.
fn carried(
    carry: Carry,
    words: &BTreeMap<RowKey, Word>,
    name: &str,
    left: &mut Vec<LeftOf>,
) -> BTreeMap<RowKey, Word> {
    for behind in carry.left {
        let Some(word) = words.get(&behind.key) else {
            continue;
        };
        left.push(LeftOf {
            event: word.event,
            who: word.who.clone(),
            list: name.to_owned(),
            at: Some(behind.at),
            of: Some(behind.of),
            mark: behind.mark,
            why: behind.why,
        });
    }
    let over = carry.over.into_iter().filter_map(|(key, over)| {
        let word = words.get(&over.from)?;
        // Once a row's words changed, a person should look, however often it is sent again.
        let look = over.look || word.from.as_ref().is_some_and(|from| from.look);
        let first = word.from.clone().filter(|from| from.look && !over.look);
        let from = first.unwrap_or_else(|| CarriedFrom {
            list: name.to_owned(),
            at: Some(over.at),
            of: over.of,
            look,
            who: word.who.clone(),
        });
        let from = Some(from);
        Some((
            key,
            Word {
                from,
                ..word.clone()
            },
        ))
    });
    over.collect()
}

/// Takes in what was said of a writing's own rows, which goes before what was carried over. A row that has another key
/// in this reading is looked for by its words.
fn take_in(
    state: &State,
    writing: &Earlier,
    read: Option<&PackingList>,
    words: &mut BTreeMap<RowKey, Word>,
    left: &mut Vec<LeftOf>,
) {
    let rows = read.map_or(&[][..], |read| &read.rows);
    let keys: BTreeSet<RowKey> = rows.iter().map(|row| row.key).collect();
    let own = (state.overrulings.iter()).filter(|((list, _), _)| *list == writing.digest);
    let mut without_row = Vec::new();
    let said = |said: &Overruling, from| Word {
        mark: said.mark.clone().map(Mark),
        event: said.event,
        who: said.who.clone(),
        from,
    };
    for ((_, row), overruling) in own {
        match row.parse::<RowKey>() {
            Ok(key) if keys.contains(&key) => {
                words.insert(key, said(overruling, None));
            }
            _ => without_row.push(overruling),
        }
    }
    for overruling in without_row {
        let mut same = rows.iter().filter(|row| {
            let words_of_it = overruling.words.as_deref();
            words_of_it.is_some_and(|words| list::words_of(row) == words)
        });
        let one = same.next().filter(|_| same.next().is_none());
        match one.filter(|row| !words.contains_key(&row.key)) {
            Some(row) => {
                let from = CarriedFrom {
                    list: writing.name.clone(),
                    at: None,
                    of: list::words_of(row),
                    look: true,
                    who: overruling.who.clone(),
                };
                words.insert(row.key, said(overruling, Some(from)));
            }
            None => left.push(LeftOf {
                event: overruling.event,
                who: overruling.who.clone(),
                list: writing.name.clone(),
                at: None,
                of: overruling.words.clone(),
                mark: overruling.mark.clone().map(Mark),
                why: match read {
                    Some(_) => "the list is read without such a row".to_owned(),
                    None => "its list could not be read".to_owned(),
                },
            }),
        }
    }
}
