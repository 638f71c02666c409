//! Shipments: which one a row comes in, and that one name in several spellings is one shipment.

use tally::What;

use crate::job::Job;

const HEAD: &str = "Code,Qty,Description,Load\n";

#[test]
fn the_rows_word_goes_before_the_lists_and_a_persons_before_the_headings() {
    let mut job = Job::ordered();
    job.list(
        &format!("Shipment: Heading load\n{HEAD}P1,20,Ground post,\nP1,6,Ground post,Row load\n"),
        Some("Person's load"),
    );
    let of = |job: &Job| -> Vec<Option<String>> {
        let rows = job.mark("P1").rows;
        rows.into_iter().map(|row| row.shipment).collect()
    };
    let (list, row) = (Some("Person's load".into()), Some("Row load".into()));
    assert_eq!(of(&job), [list, row.clone()]);
    let mut unsaid = Job::ordered();
    unsaid.list(
        &format!("Shipment: Heading load\n{HEAD}P1,20,Ground post,\nP1,6,Ground post,Row load\n"),
        None,
    );
    assert_eq!(of(&unsaid), [Some("Heading load".into()), row]);
}

#[test]
fn a_list_of_one_shipment_waits_for_it() {
    let mut job = Job::ordered();
    job.list("Code,Qty,Description\nP1,26,Ground post\n", Some("Load 1"));
    assert_eq!(job.says_of("P1"), "26 to come with Load 1");
    job.arrives("Load 1");
    assert_eq!(job.says_of("P1"), "not counted, 26 should be here");
}

#[test]
fn one_name_in_several_spellings_is_one_shipment() {
    for (listed, said) in [
        ("load 1", "LOAD 1"),
        ("Load 1 ", "load 1"),
        ("LOAD  1", " Load\u{a0}1"),
        ("Lieferung Öl", "LIEFERUNG ÖL "),
    ] {
        let mut job = Job::ordered();
        job.list(&format!("{HEAD}P1,26,Ground post,{listed}\n"), None);
        job.arrives(said);
        assert_eq!(
            job.says_of("P1"),
            "not counted, 26 should be here",
            "{listed:?} and {said:?}"
        );
        let standing = job.standing();
        assert_eq!(standing.shipments.len(), 1, "{:?}", standing.shipments);
        for name in standing.shipments.keys() {
            assert!(standing.state.shipments.contains_key(name));
        }
    }
}

#[test]
fn people_see_the_first_spelling() {
    let mut job = Job::ordered();
    job.list(
        &format!("{HEAD}P1,20,Ground post,LOAD 1\nP1,6,Ground post,load 1\n"),
        None,
    );
    let names =
        |job: &Job| -> Vec<(String, bool)> { job.standing().shipments.into_iter().collect() };
    assert_eq!(names(&job), [("LOAD 1".into(), false)]);
    assert_eq!(job.says_of("P1"), "26 to come with LOAD 1");
    // A person's word goes before a list's.
    job.says(What::ShipmentNamed {
        shipment: " Load  1".into(),
        due: Some("2026-06-02".into()),
    });
    job.arrives("lOAD 1");
    assert_eq!(names(&job), [("Load 1".into(), true)]);
    let state = job.standing().state;
    let known = state.shipment("LOAD 1 ").expect("it was spoken of");
    assert_eq!(known.due.as_deref(), Some("2026-06-02"));
    assert!(known.arrived.is_some());
    assert!(state.shipment("Load 2").is_none());
}

#[test]
fn two_names_are_two_shipments() {
    let mut job = Job::ordered();
    job.list(
        &format!("{HEAD}P1,20,Ground post,Load 1\nP1,6,Ground post,Load 11\n"),
        None,
    );
    job.arrives("Load 11");
    assert_eq!(
        job.says_of("P1"),
        "not counted, 6 should be here; 20 to come with Load 1"
    );
}

#[test]
fn the_arrival_of_any_listed_shipment_can_be_said() {
    // A list may write more than an event can hold.
    let long = format!("Load {}", "of the long name ".repeat(20));
    let mut job = Job::ordered();
    job.list(&format!("{HEAD}P1,26,Ground post,{long}\n"), None);
    let shipments = job.standing().shipments;
    let name = shipments.keys().next().expect("the list names one");
    job.arrives(name);
    assert_eq!(job.says_of("P1"), "not counted, 26 should be here");
}
