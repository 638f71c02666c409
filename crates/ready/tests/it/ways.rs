//! Ways round what is short, and the plan of them.

use super::ways_case::{Case, GOTHIC, STRAIGHT};

#[test]
fn look() {
    for (order, short) in [
        (GOTHIC, vec![("N1", -6), ("P1", -2)]),
        (
            STRAIGHT,
            vec![
                ("N5", -60),
                ("J1", -2),
                ("G1", -1),
                ("R1", -2),
                ("Q1", -6),
                ("B1", -1),
                ("P1", -3),
                ("N4", -10),
                ("F1", -1),
            ],
        ),
    ] {
        let mut case = Case::of(order);
        for (m, n) in short {
            if case.needs().contains_key(m) {
                case = case.more(m, n);
            } else {
                println!("no {m}");
            }
        }
        let t = std::time::Instant::now();
        let help = case.help();
        println!("took {:?}", t.elapsed());
        for s in &help.shorts {
            println!(
                "{} missing {} asked {} stage {}",
                s.mark, s.missing, s.asked, case.build.stages[s.stage].name
            );
            for w in &s.ways {
                println!(
                    "   {} | {} | {}pcs | {:?} | {:?} d | {:.2} | {}",
                    w.key,
                    w.says,
                    w.pieces,
                    w.cost.map(|c| c.map(|m| m.minor)),
                    w.delay_days,
                    w.risk,
                    w.source
                );
            }
        }
        for (n, plan) in [("PLAN", &help.plan), ("SECOND", &help.runner_up)] {
            if let Some(p) = plan {
                println!(
                    "{n} {:?} {:?} {:.3} proven {} weighed {}",
                    p.cost.map(|m| m.minor),
                    p.delay_days,
                    p.risk,
                    p.proven,
                    p.weighed
                );
                for u in &p.uses {
                    println!("   use {u:?}");
                }
                for l in &p.says {
                    println!("   - {l}");
                }
            }
        }
        println!("stuck {:?}", help.stuck);
        for q in &help.questions {
            println!("   ? {q}");
        }
    }
}
