//! Stories told of hand-made jobs: what happened is laid into each, and the likeliest story must say so.

use tally::{Explanation, Standing, What};

use crate::job::Job;

fn show(explained: &Explanation) {
    for m in &explained.matters {
        println!(
            "MATTER {:?} odds {:.1} level {}",
            m.marks, m.odds, m.nearly_level
        );
        for c in &m.best.causes {
            println!("   best: {} [{:?}]", c.in_words(), c.kind);
        }
        if let Some(o) = &m.other {
            for c in &o.causes {
                println!("   other: {} [{:?}]", c.in_words(), c.kind);
            }
        }
        println!("   cost {} check {:?}", m.best.cost, m.check);
    }
    println!(
        "proven {} other order {:?}",
        explained.proven,
        explained
            .other_order
            .as_ref()
            .map(|o| (&o.change, o.packed_so, o.odds))
    );
}

#[test]
fn debug() {
    let mut job = Job::ordered();
    job.list(include_str!("../../../../demo/packing-list.csv"), None);
    job.arrives("Load 1");
    for (mark, pile, quantity) in [
        ("P1", "A", 26),
        ("B1", "A", 20),
        ("B1", "A", 6),
        ("R1", "C", 13),
        ("S1", "C", 10),
        ("C1", "C", 20),
        ("C2", "D", 18),
        ("X1", "D", 13),
        ("X2", "D", 24),
        ("N5", "E", 98),
        ("N6", "E", 78),
    ] {
        job.says(What::Counted {
            mark: mark.into(),
            pile: Some(pile.into()),
            quantity,
            replaces: vec![],
            how: tally::How::Piece,
        });
    }
    let t = std::time::Instant::now();
    let s = job.standing();
    for m in &s.difference.as_ref().unwrap().marks {
        println!(
            "{} {} {} listed {:?} counted {}",
            m.mark, m.needed, m.supplied, m.listed, m.on_hand.counted
        );
    }
    let e = s.explanation().unwrap();
    println!("{:?}", t.elapsed());
    show(e);
    let mut job = Job::ordered();
    let csv = include_str!("../../../../demo/packing-list.csv")
        .replace(",20,ea,\"Rail", ",18,ea,\"Rail")
        .replace(",26,ea,\"Ground", ",24,ea,\"Ground")
        .replace(",26,ea,\"Bow", ",24,ea,\"Bow")
        .replace("3,RT-126S,15", "3,RT-126S,14")
        .replace("4,PK-2,26", "4,PK-2,24")
        .replace("PB-138,26", "PB-138,24")
        .replace("24 ft x 48 ft", "24 ft x 44 ft");
    job.list(&csv, None);
    let s = job.standing();
    let t = std::time::Instant::now();
    let e = s.explanation().unwrap();
    println!("{:?}", t.elapsed());
    show(e);
}
