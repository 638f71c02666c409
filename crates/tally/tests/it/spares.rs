//! What the sender packs as spares is neither over nor wrong on a list; what is short is what the house needs.

use tally::What;

use crate::job::Job;

/// A house of a family that packs spares: 16 wires are needed and 18 supplied.
fn round() -> Job {
    let mut job = Job::default();
    job.says(What::OrderSet {
        toml: "name = \"small\"\nfamily = \"round-16\"\nlength = \"24 ft\"\n".into(),
        family: None,
    });
    job
}

#[test]
fn a_list_with_the_spares_fits() {
    for (listed, says) in [
        (16, ""),
        (18, ""),
        (19, "the list has 1 too many"),
        (15, "the list has 1 too few"),
    ] {
        let mut job = round();
        job.list(
            &format!("Mark,Description,Qty\nZ1,Spring wire 6 ft 8 in coated,{listed}\n"),
            None,
        );
        let mark = job.mark("Z1");
        assert_eq!((mark.needed, mark.supplied), (16, 18));
        let said = job.says_of("Z1");
        assert!(said.contains(says), "{listed}: {said}");
        assert_eq!(
            said.contains("the list has"),
            !says.is_empty(),
            "{listed}: {said}"
        );
    }
}

#[test]
fn a_count_up_to_the_spares_fits() {
    for (counted, says) in [(15, "1 short"), (16, "fits"), (18, "fits"), (20, "2 over")] {
        let mut job = round();
        job.counts("Z1", counted);
        assert_eq!(job.says_of("Z1"), says, "{counted}");
    }
}
