//! A list sent again with changes: it takes the old one's place, and what people said of its rows is kept. The numbers
//! needed stand in the demo's order: P1 26 ground posts, C1 20 rails.

use proptest::prelude::*;
use tally::{Digest, Event, ListStanding, Standing, State, What};

use crate::job::Job;
use crate::samples::{corrected, event, id};

const HEAD: &str = "Code,Qty,Unit,Description\n";

impl Job {
    fn corrects(&mut self, old: Digest, csv: &str) -> Digest {
        let digest = Digest::of(csv.as_bytes());
        self.documents.insert(digest, csv.into());
        self.says(What::ListCorrected {
            old,
            digest,
            name: "again.csv".into(),
        });
        digest
    }

    fn says_of_row(&mut self, list: Digest, place: usize, mark: &str) {
        let csv = self.documents[&list].clone();
        let read = list::read(&csv, "list.csv").expect("a list");
        self.says(What::Overruled {
            list,
            row: read.rows[place].key.to_string(),
            mark: Some(mark.into()),
            words: Some(list::words_of(&read.rows[place])),
        });
    }

    fn only_list(&self) -> ListStanding {
        let mut lists = self.standing().lists;
        assert_eq!(lists.len(), 1, "{lists:?}");
        lists.remove(0)
    }

    /// What is known of carried words: the row now, whether to look, and the marks of those that are left.
    fn carried(&self) -> (Vec<(String, bool)>, Vec<String>) {
        let list = self.only_list();
        let read = list.read.as_ref().as_ref().expect("a list");
        let over = read.rows.iter().filter_map(|row| {
            let from = list.carried.get(&row.key)?;
            Some((row.at.to_string(), from.look))
        });
        let marks =
            |left: &tally::LeftOf| left.mark.as_ref().map_or("none".into(), |m| m.0.clone());
        (over.collect(), list.left.iter().map(marks).collect())
    }

    fn marks(&self) -> Vec<String> {
        let matched = self.only_list().matched;
        let mark = |m: &list::Matched| m.mark.as_ref().map_or("none".into(), |m| m.0.clone());
        matched.iter().map(mark).collect()
    }
}

#[test]
fn the_new_list_takes_the_old_ones_place_and_shipment() {
    let mut job = Job::ordered();
    let old = job.list(&format!("{HEAD}P1,20,ea,Ground post\n"), Some("Load 1"));
    let other = job.list(&format!("{HEAD}C1,20,ea,Rail channel\n"), Some("Load 2"));
    let new = job.corrects(old, &format!("{HEAD}P1,26,ea,Ground post\n"));
    let lists = job.standing().lists;
    let seen: Vec<_> = lists
        .iter()
        .map(|l| (l.seen.digest, l.seen.shipment.as_deref()))
        .collect();
    assert_eq!(seen, [(new, Some("Load 1")), (other, Some("Load 2"))]);
    assert_eq!(job.mark("P1").listed, Some(26));
    let change = lists[0].corrected.as_ref().expect("it corrects one");
    assert_eq!(change.old.digest, old);
    let read = |l: &tally::Corrected| l.read.as_ref().as_ref().expect("a list").clone();
    let now = lists[0].read.as_ref().as_ref().expect("a list");
    let changes = change.changes.as_ref().expect("both are read");
    let told = changes.all[0].told(&read(change), now);
    assert_eq!((told.what, &*told.was, &*told.is), ("quantity", "20", "26"));
    assert_eq!(changes.all.len(), 1);
}

#[test]
fn what_people_said_goes_along_where_it_is_surely_the_same() {
    let mut job = Job::ordered();
    let old = job.list(
        &format!(
            "{HEAD}GS-60,20,ea,Long stake\nXX-9,4,ea,Odd bracket\nRC-8,20,ea,Aluminum track\n"
        ),
        None,
    );
    job.says_of_row(old, 0, "P1");
    job.says_of_row(old, 1, "N5");
    job.says_of_row(old, 2, "C1");
    // The first only has another number, the second is gone, the third has other words under its code.
    job.corrects(
        old,
        &format!("{HEAD}GS-60,26,ea,Long stake\nRC-8,20,ea,Aluminum locking track\n"),
    );
    assert_eq!(job.marks(), ["P1", "C1"]);
    let expected = vec![("row 2".to_string(), false), ("row 3".to_string(), true)];
    assert_eq!(job.carried(), (expected, vec!["N5".to_string()]));
    let left = &job.only_list().left[0];
    assert_eq!(left.of.as_deref(), Some("XX-9 Odd bracket"));
    assert_eq!(
        (left.why.as_str(), left.who.is_empty()),
        ("the row is gone", false)
    );
}

#[test]
fn a_code_that_now_stands_for_another_thing_takes_no_word_along() {
    let mut job = Job::ordered();
    let old = job.list(&format!("{HEAD}GS-60,20,ea,Ground post 5 ft\n"), None);
    job.says_of_row(old, 0, "P1");
    job.corrects(old, &format!("{HEAD}GS-60,20,ea,Ground post 8 ft\n"));
    let (over, left) = job.carried();
    assert!(over.is_empty());
    assert_eq!(left, ["P1"]);
    assert_eq!(job.only_list().left[0].why, "row 2 now says another length");
}

#[test]
fn words_are_carried_over_several_corrections_and_a_look_is_asked_for_until_someone_looked() {
    let mut job = Job::ordered();
    let first = job.list(&format!("{HEAD}RC-8,20,ea,Aluminum track\n"), None);
    job.says_of_row(first, 0, "C1");
    let second = job.corrects(first, &format!("{HEAD}RC-8,20,ea,Aluminum locking track\n"));
    let third = job.corrects(
        second,
        &format!("{HEAD}RC-8,22,ea,Aluminum locking track\n"),
    );
    assert_eq!(job.marks(), ["C1"]);
    assert_eq!(job.carried().0, [("row 2".to_string(), true)]);
    let from = job
        .only_list()
        .carried
        .into_values()
        .next()
        .expect("carried");
    assert_eq!(from.of, "RC-8 Aluminum track");
    // Someone looked, and said it of the row itself.
    job.says_of_row(third, 0, "C1");
    assert!(job.carried().0.is_empty());
    assert_eq!(job.marks(), ["C1"]);
}

#[test]
fn a_word_on_the_old_list_by_someone_who_did_not_know_is_kept_too() {
    let mut job = Job::ordered();
    let old = job.list(&format!("{HEAD}GS-60,20,ea,Long stake\n"), None);
    job.corrects(old, &format!("{HEAD}GS-60,26,ea,Long stake\n"));
    job.says_of_row(old, 0, "P1");
    assert_eq!(job.marks(), ["P1"]);
}

#[test]
fn a_correction_that_is_taken_back_lets_the_old_list_stand() {
    let mut job = Job::ordered();
    let old = job.list(&format!("{HEAD}P1,20,ea,Ground post\n"), Some("Load 1"));
    let new = job.corrects(old, &format!("{HEAD}P1,26,ea,Ground post\n"));
    let of = job.events.len() as u128;
    job.says(corrected(&[of]));
    assert_eq!(job.only_list().seen.digest, old);
    assert_eq!(job.mark("P1").listed, Some(20));
    // A correction of what was taken back is one of the same list, not a list beside it.
    let third = job.corrects(new, &format!("{HEAD}P1,25,ea,Ground post\n"));
    assert_eq!(job.only_list().seen.digest, third);
    assert_eq!(job.mark("P1").listed, Some(25));
    // Set aside it is gone whole; the same bytes again are the same list, with all that it took the place of.
    job.says(What::ListDropped { digest: third });
    assert!(job.standing().lists.is_empty());
    job.list(&format!("{HEAD}P1,25,ea,Ground post\n"), Some("Load 1"));
    assert_eq!(job.only_list().seen.earlier.len(), 1);
}

#[test]
fn two_who_correct_at_once_end_with_one_list() {
    let mut job = Job::ordered();
    let old = job.list(&format!("{HEAD}P1,20,ea,Ground post\n"), Some("Load 1"));
    let ours = job.corrects(old, &format!("{HEAD}P1,26,ea,Ground post\n"));
    let theirs = job.corrects(old, &format!("{HEAD}P1,24,ea,Ground post\n"));
    let list = job.only_list();
    assert_eq!(list.seen.digest, theirs);
    assert_eq!(list.seen.shipment.as_deref(), Some("Load 1"));
    let earlier: Vec<_> = list
        .seen
        .earlier
        .iter()
        .map(|it| (it.digest, it.beside))
        .collect();
    assert_eq!(earlier, [(old, false), (ours, true)]);
    // The same bytes by both are one correction.
    job.corrects(old, &format!("{HEAD}P1,24,ea,Ground post\n"));
    assert_eq!(job.only_list().seen.digest, theirs);
}

#[test]
fn a_list_set_aside_meanwhile_comes_back_corrected_and_an_old_file_does_not() {
    let mut job = Job::ordered();
    let csv = format!("{HEAD}P1,20,ea,Ground post\n");
    let old = job.list(&csv, Some("Load 1"));
    job.says(What::ListDropped { digest: old });
    let new = job.corrects(old, &format!("{HEAD}P1,26,ea,Ground post\n"));
    let list = job.only_list();
    assert_eq!(
        (list.seen.digest, list.seen.shipment.as_deref()),
        (new, Some("Load 1"))
    );
    // Whoever brings in the old file once more did not know that it was corrected.
    job.list(&csv, None);
    assert_eq!(job.only_list().seen.digest, new);
    // The corrected file, brought in as a list of its own before, is one list.
    let third = job.list(&format!("{HEAD}P1,25,ea,Ground post\n"), None);
    assert_eq!(job.standing().lists.len(), 2);
    job.corrects(new, &format!("{HEAD}P1,25,ea,Ground post\n"));
    assert_eq!(job.only_list().seen.digest, third);
}

#[test]
fn a_row_read_under_another_key_is_found_by_its_words_or_shown() {
    let mut job = Job::ordered();
    let list = job.list(&format!("{HEAD}GS-60,26,ea,Long stake\n"), None);
    let said = |words: Option<&str>, row: &str, mark: &str| What::Overruled {
        list,
        row: row.into(),
        mark: Some(mark.into()),
        words: words.map(String::from),
    };
    job.says(said(Some("GS-60 Long stake"), "0123456789abcdef-1", "P1"));
    job.says(said(
        Some("a thing no longer read"),
        "0123456789abcdef-2",
        "C1",
    ));
    job.says(said(None, "no key at all", "N5"));
    assert_eq!(job.marks(), ["P1"]);
    let (over, left) = job.carried();
    assert_eq!(over, [("row 2".to_string(), true)]);
    assert_eq!(left, ["C1", "N5"]);
}

#[test]
fn codes_are_learned_from_the_same_senders_list_before_and_from_a_file() {
    let mut job = Job::ordered();
    let first = job.list(&format!("{HEAD}ZQ-1,20,ea,Long stake\n"), Some("Load 1"));
    job.list(
        &format!("{HEAD}ZQ-1,6,ea,More of the same\n"),
        Some("Load 2"),
    );
    let second = Digest::of(format!("{HEAD}ZQ-1,6,ea,More of the same\n").as_bytes());
    job.says_of_row(first, 0, "P1");
    let codes = |job: &Job, at: usize| -> Option<Vec<String>> {
        let codes = job.standing().lists[at].codes.clone()?;
        Some(codes.by_code.keys().cloned().collect())
    };
    // Nobody said that they are of one sender.
    assert_eq!(codes(&job, 1), None);
    for (list, sender) in [(first, "The Office, Ltd."), (second, "the office ltd")] {
        job.says(What::ListSentBy {
            list,
            sender: sender.into(),
        });
    }
    assert_eq!(codes(&job, 1), Some(vec!["ZQ1".to_string()]));
    let file = "sender,code,means,said by\r\nThe Office Ltd,ZQ-2,Rail channel,a person\r\n";
    let digest = Digest::of(file.as_bytes());
    job.documents.insert(digest, file.into());
    job.says(What::CodesTaken {
        digest,
        name: "codes.csv".into(),
    });
    let both = Some(vec!["ZQ1".to_string(), "ZQ2".to_string()]);
    assert_eq!(codes(&job, 0), both);
    assert_eq!(codes(&job, 1), both);
}

/// Adds, corrections, drops and words on rows, of four writings; in any order and by any device.
fn any_event() -> impl Strategy<Value = (u64, What)> {
    let digest = || {
        prop::sample::select(vec!["one", "two", "three", "four"])
            .prop_map(|name| Digest::of(name.as_bytes()))
    };
    let what = prop_oneof![
        2 => digest().prop_map(|digest| What::ListAdded { digest, name: "list.csv".into(), shipment: Some("Load 1".into()) }),
        4 => (digest(), digest()).prop_map(|(old, digest)| What::ListCorrected { old, digest, name: "again.csv".into() }),
        1 => digest().prop_map(|digest| What::ListDropped { digest }),
        2 => (1..12_u128).prop_map(|n| corrected(&[n])),
    ];
    (1..9_u64, what)
}

fn of(events: &[(u64, What)]) -> Vec<Event> {
    let numbered = (1..).zip(events);
    let event = |(n, (seq, what)): (u64, &(u64, What))| Event {
        seq: *seq,
        device: format!("phone-{}", n % 3),
        id: id(n.into()),
        ..event(n, what.clone())
    };
    numbered.map(event).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2_000))]

    /// Two copies that each have some of the events end alike when they have all, whatever came first.
    #[test]
    fn copies_that_merge_end_alike(events in prop::collection::vec(any_event(), 0..12), turn in 0..12_usize) {
        let log = of(&events);
        let mut other = log.clone();
        other.rotate_left(turn.min(log.len()));
        other.extend(log.iter().take(turn).cloned());
        prop_assert_eq!(State::fold(&log), State::fold(&other));
    }

    /// No document is in use twice, nor in use and taken the place of by another.
    #[test]
    fn each_writing_stands_in_one_place(events in prop::collection::vec(any_event(), 0..12)) {
        let lists = State::fold(&of(&events)).lists;
        let mut all: Vec<Digest> = (lists.iter())
            .flat_map(|list| list.earlier.iter().map(|it| it.digest).chain([list.digest]))
            .collect();
        let before = all.len();
        all.sort();
        all.dedup();
        prop_assert_eq!(all.len(), before, "{:?}", lists);
    }
}

/// No panic, whatever was said of lists that are not here.
#[test]
fn a_correction_of_what_is_not_in_this_copy_is_said() {
    let mut job = Job::ordered();
    let old = Digest::of(b"not in this copy");
    job.corrects(old, &format!("{HEAD}P1,26,ea,Ground post\n"));
    let standing: Standing = job.standing();
    assert_eq!(standing.lists.len(), 1);
    assert!(standing.lists[0].corrected.is_none());
}
