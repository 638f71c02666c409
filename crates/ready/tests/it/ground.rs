//! Grounds, piles and plans.

use std::collections::BTreeMap;

use ready::ground::{Site, by_list_order, first_fit, lay_out, piles};

use crate::ground_given::{demo, garden};

#[test]
fn probe() {
    let (frame, list, build) = demo();
    let piles = piles(&list, &frame, &build);
    for p in &piles {
        println!(
            "{} {} {:?} {:.2}x{:.2}x{:.2} {:.0} kg stages {:?} {:?} {:?}",
            p.name,
            p.says,
            p.kind,
            p.length,
            p.width,
            p.height,
            p.mass,
            p.stages,
            p.from_top
                .iter()
                .map(|m| format!("{}x{}", m.mark, m.pieces))
                .collect::<Vec<_>>(),
            p.dunnage
        );
    }
    let site = Site::of(&garden(), &frame).expect("a site");
    let started = std::time::Instant::now();
    let plan = lay_out(&site, &piles, &BTreeMap::new(), 1);
    println!(
        "{:?} cost {:.0} bound {:.0} gap {:.3}",
        started.elapsed(),
        plan.cost_kg_m,
        plan.bound_kg_m,
        plan.gap()
    );
    println!("{:#?} {:?}", plan.unplaced, plan.faults);
    for laid in &plan.piles {
        println!(
            "{} {:?}",
            piles[laid.pile].name,
            ready::ground::found(&site, &piles[laid.pile], laid)
        );
    }
    std::fs::write(
        "/tmp/lay-demo.svg",
        ready::ground::laydown_svg(&site, &piles, &plan, frame.system),
    )
    .unwrap();
    for other in [first_fit(&site, &piles), by_list_order(&site, &piles)] {
        println!(
            "other {:.0} {:?} {:?}",
            other.cost_kg_m, other.unplaced, other.faults
        );
    }
}
