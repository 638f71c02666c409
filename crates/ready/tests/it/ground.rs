//! Grounds, piles and plans: what is refused, what lies with what, and that a plan keeps its rules.

use std::collections::{BTreeMap, BTreeSet};

use proptest::prelude::*;
use ready::ground::{
    GroundTrouble, Laydown, Pile, PileKind, Point, Polygon, Rect, Site, by_list_order, first_fit,
    found, lay_out, laydown_svg, move_cost, pile_sizes, piles,
};
use tally::{Ground, PileSpot, Spot};

use crate::ground_given::{demo, garden, order, patch, rect};
use crate::ground_random::random_ground;

const SEED: u64 = 7;

fn polygon(corners: &[(f64, f64)]) -> Polygon {
    Polygon::new(corners.iter().map(|(x, y)| Point::new(*x, *y)).collect())
}

fn site(ground: &Ground) -> Result<Site, GroundTrouble> {
    Site::of(ground, &demo().0)
}

fn demo_piles() -> Vec<Pile> {
    let (frame, list, build) = demo();
    piles(&list, &frame, &build)
}

/// Every rule of a plan, asked of the drawing's own rectangles: none overlaps, all lie on the ground and off the house.
fn keeps_the_rules(ground: &Ground, site: &Site, piles: &[Pile], plan: &Laydown) {
    let rects: Vec<Rect> = (plan.piles.iter())
        .map(|laid| Rect {
            at: laid.at,
            long: piles[laid.pile].length,
            wide: piles[laid.pile].width,
            turn: laid.turn,
        })
        .collect();
    let metres = |spots: &[Spot]| {
        let corner = |s: &Spot| Point::new(s.x as f64 / 1e3, s.y as f64 / 1e3);
        Polygon::new(spots.iter().map(corner).collect())
    };
    let edge = metres(&ground.outline);
    for (i, one) in rects.iter().enumerate() {
        for corner in one.corners() {
            assert!(edge.contains(corner) || edge.from_edge(corner) < 1e-3);
            let in_house = site.to_house(corner);
            let (half, length) = (house_half(), house_length());
            let inside = in_house.x.abs() < half - 1e-6 && (1e-6..length).contains(&in_house.y);
            assert!(
                !inside,
                "pile {} on the house",
                piles[plan.piles[i].pile].name
            );
        }
        for patch in ground.truck.iter().chain(&ground.obstacles) {
            assert!(!metres(&patch.outline).overlaps(&one.polygon()));
        }
        for other in &rects[..i] {
            // Side by side they are an aisle apart: no point of the one is nearer to the other.
            let aisle = ground.aisle as f64 / 1e3;
            let apart = (one.corners().into_iter())
                .map(|c| other.polygon().from_edge(c))
                .chain(
                    other
                        .corners()
                        .into_iter()
                        .map(|c| one.polygon().from_edge(c)),
                )
                .fold(f64::INFINITY, f64::min);
            assert!(apart > aisle - 2e-3, "{apart} between two piles");
        }
    }
    let laid: BTreeSet<usize> = plan.piles.iter().map(|l| l.pile).collect();
    assert_eq!(laid.len() + plan.unplaced.len(), piles.len());
    let sum: f64 = plan.piles.iter().map(|l| l.carry_kg_m).sum();
    assert!((sum - plan.cost_kg_m).abs() < 1e-6 * sum.max(1.0));
    assert!(plan.bound_kg_m <= plan.cost_kg_m * (1.0 + 1e-9));
}

fn house_half() -> f64 {
    24.0 * 0.3048 / 2.0
}

fn house_length() -> f64 {
    48.0 * 0.3048
}

#[test]
fn a_polygon_knows_its_inside_its_edge_and_what_it_overlaps() {
    // An L, by hand: 4 by 4 without its upper right 2 by 2; 16 - 4 = 12 square metres.
    let ell = polygon(&[(0., 0.), (4., 0.), (4., 2.), (2., 2.), (2., 4.), (0., 4.)]);
    assert!((ell.area() - 12.0).abs() < 1e-12);
    for (x, y, inside) in [
        (1., 1., true),
        (3., 1., true),
        (3., 3., false),
        (1., 3., true),
        (5., 1., false),
    ] {
        assert_eq!(ell.contains(Point::new(x, y)), inside, "{x} {y}");
    }
    // From (3, 3) the nearest edge is a metre off, either way.
    assert!((ell.from_edge(Point::new(3., 3.)) - 1.0).abs() < 1e-12);
    let square = |x: f64, y: f64, side: f64| {
        polygon(&[(x, y), (x + side, y), (x + side, y + side), (x, y + side)])
    };
    assert!(ell.holds(&square(0., 0., 2.)) && ell.holds(&square(2., 0., 2.)));
    assert!(!ell.holds(&square(1., 1., 2.)) && !ell.holds(&square(2., 2., 1.)));
    assert!(ell.overlaps(&square(1., 1., 2.)));
    // Edge on edge is no overlap, nor is the missing corner.
    assert!(!ell.overlaps(&square(2., 2., 2.)) && !ell.overlaps(&square(4., 0., 1.)));
    assert!(ell.overlaps(&ell.clone()));
    // A bow tie crosses itself: its first and its third side.
    assert_eq!(
        polygon(&[(0., 0.), (1., 1.), (1., 0.), (0., 1.)]).crossing(),
        Some((1, 3))
    );
    assert_eq!(ell.crossing(), None);
}

#[test]
fn turned_rectangles_overlap_where_no_line_parts_them() {
    let at = |x: f64, turn: f64| Rect {
        at: Point::new(x, 0.0),
        long: 2.0,
        wide: 2.0,
        turn: turn.to_radians(),
    };
    // Half a square's side, 1, and half the diagonal of one on its corner, √2: they touch at 2.414.
    assert!(at(0., 0.).overlaps(&at(2.41, 45.)));
    assert!(!at(0., 0.).overlaps(&at(2.42, 45.)));
    assert!(at(0., 0.).overlaps(&at(1.99, 0.)) && !at(0., 0.).overlaps(&at(2.0, 0.)));
}

#[test]
fn a_ground_that_is_wrong_is_refused_by_name() {
    let says = |change: &dyn Fn(&mut Ground)| {
        let mut ground = garden();
        change(&mut ground);
        site(&ground)
            .err()
            .map(|trouble| trouble.to_string())
            .unwrap_or_default()
    };
    let crossed = says(&|g| g.outline.swap(1, 2));
    assert!(
        crossed.contains("the edge of the ground crosses itself"),
        "{crossed}"
    );
    let outside = says(&|g| g.house.front.x = 22_000);
    assert!(
        outside.contains("front right corner of it is outside"),
        "{outside}"
    );
    let blocked = says(&|g| {
        g.obstacles
            .push(patch(rect(13_000, 12_000, 14_000, 13_000), "well"))
    });
    assert!(
        blocked.contains("the well stands where the house will stand"),
        "{blocked}"
    );
    let away = says(&|g| g.drop.x = -1_000);
    assert!(away.contains("lies outside the ground"), "{away}");
    let under = says(&|g| {
        g.drop = Spot {
            x: 14_000,
            y: 12_000,
        }
    });
    assert!(under.contains("where the house will stand"), "{under}");
    let tree = says(&|g| {
        g.drop = Spot {
            x: 4_000,
            y: 21_000,
        }
    });
    assert!(tree.contains("in the apple tree"), "{tree}");
    // A wall from edge to edge between the drop and the house.
    let walled = says(&|g| {
        g.obstacles
            .push(patch(rect(0, 7_000, 24_000, 7_200), "wall"))
    });
    assert!(walled.contains("nobody can walk"), "{walled}");
    let gate = says(&|g| g.gates[0] = [Spot { x: 3_000, y: 3_000 }, Spot { x: 7_000, y: 3_000 }]);
    assert!(
        gate.contains("gate 1 is 9 ft 10 in from the edge"),
        "{gate}"
    );
    let flat = says(&|g| {
        g.shade.push(patch(
            vec![
                Spot { x: 0, y: 0 },
                Spot { x: 5, y: 0 },
                Spot { x: 9, y: 1 },
            ],
            "",
        ))
    });
    assert!(flat.contains("shade 1 is empty"), "{flat}");
    // Cover so far off that the lattice would be coarse; beyond the edge it is no cover.
    let far = says(&|g| {
        g.outline = rect(0, 0, 24_000, 300_000);
        g.covered[0].outline = rect(1_000, 280_000, 6_000, 290_000);
    });
    assert!(
        far.contains("the shed roof reaches") && far.contains("no farther than 328 ft 1 in"),
        "{far}"
    );
    assert_eq!(
        says(&|g| g.covered[0].outline = rect(25_000, 8_000, 900_000, 14_000)),
        ""
    );
    // The garden as it is, and with its first corner named again at the end.
    assert_eq!(says(&|_| ()), "");
    assert_eq!(says(&|g| g.outline.push(g.outline[0])), "");
}

/// As many corners as an event may have would take minutes: it is said, and at once.
#[test]
fn a_ground_of_ten_thousand_corners_is_refused_at_once() {
    let mut ground = garden();
    let round: Vec<Spot> = (0..100)
        .map(|i| {
            let angle = f64::from(i) * std::f64::consts::TAU / 100.0;
            let at = |middle: f64, off: f64| (middle + 400.0 * off) as i64;
            Spot {
                x: at(4_000.0, angle.cos()),
                y: at(25_000.0, angle.sin()),
            }
        })
        .collect();
    ground.obstacles = vec![patch(round, ""); 100];
    let trouble = site(&ground).expect_err("too fine").to_string();
    assert!(
        trouble.contains("10004 corners") && trouble.contains("more than 500"),
        "{trouble}"
    );
    ground.obstacles.truncate(3);
    assert!(site(&ground).is_ok());
}

#[test]
fn every_piece_lies_in_one_pile_and_look_alikes_in_two() {
    let orders = [
        include_str!("../../../../demo/order.toml"),
        "name = \"round\"\nfamily = \"round-16\"\nlength = \"48 ft\"\n",
        "name = \"side\"\nfamily = \"sidewall-30\"\nlength = \"96 ft\"\n",
    ];
    for text in orders {
        let (frame, list, build) = order(text);
        let piles = piles(&list, &frame, &build);
        let names: BTreeSet<&str> = piles.iter().map(|pile| pile.name.as_str()).collect();
        assert_eq!(names.len(), piles.len());
        // Letters are the piles of those who count.
        assert!(names.iter().all(|name| name.parse::<usize>().is_ok()));
        for line in &list.lines {
            let here = piles.iter().flat_map(|pile| &pile.from_top);
            let sum: i64 = here
                .filter(|m| m.mark == line.part.mark.0)
                .map(|m| m.pieces)
                .sum();
            assert_eq!(sum, line.supplied.max(line.quantity), "{}", line.part.mark);
        }
        let mass: f64 = piles.iter().map(|pile| pile.mass).sum();
        let all: f64 = list
            .lines
            .iter()
            .map(|l| l.part.unit_mass.to_kilograms() * l.supplied.max(l.quantity) as f64)
            .sum();
        assert!((mass - all).abs() < 1e-6, "{mass} {all}");
        for pile in &piles {
            assert!(pile.length >= pile.width && pile.width > 0.0, "{pile:?}");
            assert!(pile.height <= pile_sizes::HIGHEST + 1e-9, "{pile:?}");
            let stages: Vec<usize> = pile.from_top.iter().map(|m| m.stage).collect();
            if pile.kind != PileKind::Table {
                assert!(
                    stages.is_sorted(),
                    "what is needed first lies on top: {pile:?}"
                );
            }
            let goes: f64 = pile.goes.iter().map(|(_, kg)| kg).sum();
            assert!(goes <= pile.mass + 1e-6);
        }
    }
    // A stud and a ridge tube of the demo differ by half an inch in ten feet and a half.
    let of = |mark: &str| {
        demo_piles()
            .iter()
            .position(|p| p.from_top.iter().any(|m| m.mark == mark))
    };
    assert_ne!(of("S1"), of("R1"));
    // Film and hardware, and nothing else, are to lie under cover.
    for pile in demo_piles() {
        assert_eq!(
            pile.under_cover,
            matches!(pile.kind, PileKind::Rolls | PileKind::Table)
        );
    }
}

#[test]
fn twenty_six_posts_make_the_stack_that_a_ruler_says() {
    // By hand: tube 1.660 in, a tenth looser 46.4 mm; 26 in layers of 6 make 5 layers; 278 mm wide, 232 mm high and
    // 88.9 mm of bearer under it; as long as a post, 5 ft.
    let piles = demo_piles();
    let posts = piles
        .iter()
        .find(|p| p.from_top[0].mark == "P1")
        .expect("posts");
    let near = |a: f64, b: f64| assert!((a - b).abs() < 1e-3, "{a} {b}");
    near(posts.length, 1.524);
    near(posts.width, 6.0 * 0.042_164 * 1.1);
    near(posts.height, 5.0 * 0.042_164 * 1.1 + 0.0889);
}

#[test]
fn a_walk_is_straight_where_it_can_be_and_goes_round_what_stands() {
    // One pile carried to one place: what it costs is its mass times the way, so that the way can be read off.
    let mut pile = demo_piles().swap_remove(0);
    pile.mass = 1.0;
    pile.goes = Vec::new();
    let mut ground = garden();
    ground.obstacles.clear();
    let way = |ground: &Ground, x: f64, y: f64| {
        let site = site(ground).expect("a site");
        let plan = lay_out(&site, &[], &BTreeMap::new(), SEED);
        move_cost(
            &site,
            std::slice::from_ref(&pile),
            &plan,
            0,
            Point::new(x, y),
            0.0,
        )
        .change_kg_m
    };
    // From the drop at (5, 4): 3-4-5.
    assert!((way(&ground, 8.0, 8.0) - 5.0).abs() < 1e-6);
    // A wall across the way at y from 14 to 14.2 that ends at x = 8: up to its corners and on. By hand: from (5, 4) to
    // (8, 14) 10.440, along its end 0.2, and from (8, 14.2) to (5, 20) 6.530.
    ground
        .obstacles
        .push(patch(rect(0, 14_000, 8_000, 14_200), "wall"));
    let round = way(&ground, 5.0, 20.0);
    let by_hand = 10.440 + 0.2 + 6.530;
    assert!(
        round > by_hand - 1e-3 && round < by_hand * 1.04,
        "{round} {by_hand}"
    );
    // The whole way over ground that rises 1 in 10 counts as 1.6 times as far.
    ground.obstacles.clear();
    ground.slopes.push(tally::Slope {
        outline: rect(-1_000, -1_000, 25_000, 33_000),
        rise: 100,
    });
    let steep = way(&ground, 8.0, 8.0);
    assert!((steep - 8.0).abs() < 1e-6, "{steep}");
}

#[test]
fn the_demo_carries_least_and_less_than_without_a_plan() {
    let (ground, piles) = (garden(), demo_piles());
    let site = site(&ground).expect("a site");
    let plan = lay_out(&site, &piles, &BTreeMap::new(), SEED);
    keeps_the_rules(&ground, &site, &piles, &plan);
    assert_eq!(
        (plan.unplaced.len(), plan.faults.len()),
        (0, 0),
        "{plan:#?}"
    );
    assert!(plan.gap() < 0.02, "{}", plan.gap());
    let (first, listed) = (first_fit(&site, &piles), by_list_order(&site, &piles));
    keeps_the_rules(&ground, &site, &piles, &first);
    println!(
        "demo: {:.0} kg·m, bound {:.0} (gap {:.2} %); as it comes {:.0} (+{:.0} %), by the list {:.0} (+{:.0} %)",
        plan.cost_kg_m,
        plan.bound_kg_m,
        plan.gap() * 100.0,
        first.cost_kg_m,
        (first.cost_kg_m / plan.cost_kg_m - 1.0) * 100.0,
        listed.cost_kg_m,
        (listed.cost_kg_m / plan.cost_kg_m - 1.0) * 100.0
    );
    assert!(first.cost_kg_m > 1.05 * plan.cost_kg_m && listed.cost_kg_m > 1.2 * plan.cost_kg_m);
    assert_eq!(
        lay_out(&site, &piles, &BTreeMap::new(), SEED),
        plan,
        "the same seed, the same plan"
    );
}

#[test]
fn no_plan_of_two_or_three_piles_is_better_than_the_bound_or_than_all_tried() {
    // Few piles on a small ground, every pair of spots tried by the rules alone.
    let mut ground = garden();
    ground.outline = rect(0, 0, 17_900, 26_000);
    ground.covered.clear();
    ground.obstacles.clear();
    let site = site(&ground).expect("a site");
    let chosen: Vec<Pile> = demo_piles()
        .into_iter()
        .filter(|p| !p.under_cover)
        .take(2)
        .collect();
    let plan = lay_out(&site, &chosen, &BTreeMap::new(), SEED);
    let mut least = f64::INFINITY;
    let empty = lay_out(&site, &[], &BTreeMap::new(), SEED);
    let spots = |pile: usize| {
        let mut spots = Vec::new();
        for x in 0..36 {
            for y in 0..52 {
                for turn in [0.0, std::f64::consts::FRAC_PI_2] {
                    let at = Point::new(f64::from(x) * 0.5, f64::from(y) * 0.5);
                    let cost = move_cost(&site, &chosen, &empty, pile, at, turn);
                    if cost.faults.is_empty() {
                        let rect = Rect {
                            at,
                            long: chosen[pile].length,
                            wide: chosen[pile].width,
                            turn,
                        };
                        spots.push((cost.change_kg_m, rect.grown(site.aisle / 2.0)));
                    }
                }
            }
        }
        spots.sort_by(|a, b| a.0.total_cmp(&b.0));
        spots
    };
    let (one, other) = (spots(0), spots(1));
    for (cost, rect) in one.iter().take(400) {
        let beside = other.iter().find(|(_, theirs)| !theirs.overlaps(rect));
        if let Some((more, _)) = beside {
            least = least.min(cost + more);
        }
    }
    // The tried spots lie on another lattice, half a metre fine: a plan may be off by what a step costs, and no more.
    let step = 0.5 * chosen.iter().map(|p| p.mass).sum::<f64>() * 2.0;
    assert!(plan.cost_kg_m < least + step, "{} {least}", plan.cost_kg_m);
    assert!(
        plan.bound_kg_m <= least + step && plan.gap() < 0.02,
        "{} {least}",
        plan.bound_kg_m
    );
}

#[test]
fn a_pile_put_by_hand_stays_and_its_cost_is_what_was_said() {
    let (ground, piles) = (garden(), demo_piles());
    let site = site(&ground).expect("a site");
    let plan = lay_out(&site, &piles, &BTreeMap::new(), SEED);
    // Behind the house, farther from everything.
    let to = Point::new(12.0, 29.0);
    let cost = move_cost(&site, &piles, &plan, 1, to, 0.0);
    assert!(cost.change_kg_m > 0.0 && cost.faults.is_empty(), "{cost:?}");
    let spot = PileSpot {
        pile: piles[1].name.clone(),
        at: Some(Spot {
            x: 12_000,
            y: 29_000,
        }),
        turn: 0,
    };
    let put = BTreeMap::from([(piles[1].name.clone(), spot)]);
    let after = lay_out(&site, &piles, &put, SEED);
    keeps_the_rules(&ground, &site, &piles, &after);
    let laid = after
        .piles
        .iter()
        .find(|laid| laid.pile == 1)
        .expect("it lies");
    assert!(laid.by_hand && laid.at.to(to) < 1e-9);
    let was = plan
        .piles
        .iter()
        .find(|laid| laid.pile == 1)
        .expect("it lay");
    assert!((laid.carry_kg_m - was.carry_kg_m - cost.change_kg_m).abs() < 1e-6);
    // On the house, on another pile, over the edge, on the truck's way: each is said.
    let says = |x: f64, y: f64| {
        move_cost(&site, &piles, &plan, 1, Point::new(x, y), 0.0)
            .faults
            .join(" ")
    };
    assert!(says(14.0, 15.0).contains("where the house will stand"));
    assert!(says(0.5, 26.0).contains("over the edge of the ground"));
    assert!(says(5.0, 2.0).contains("the truck's area"));
    let other = plan.piles[0].at;
    assert!(says(other.x, other.y).contains("to place 1"));
    // Film in the open.
    let film = piles
        .iter()
        .position(|p| p.kind == PileKind::Rolls)
        .expect("film");
    let open = move_cost(&site, &piles, &plan, film, to, 0.0)
        .faults
        .join(" ");
    assert!(open.contains("should lie under cover"), "{open}");
}

/// A pile that a person put where nobody comes costs no number: the plan stays one that can be told.
#[test]
fn a_pile_put_out_of_reach_is_said_and_keeps_the_sums_numbers() {
    let piles = demo_piles();
    let site = site(&garden()).expect("a site");
    let spot = |x: i64, y: i64| PileSpot {
        pile: piles[1].name.clone(),
        at: Some(Spot { x, y }),
        turn: 0,
    };
    // Two kilometres off, and in the apple tree.
    let off = [
        (-2_000_000, 2_000_000, "over the edge"),
        (4_000, 21_000, "nobody can walk there"),
    ];
    for (x, y, says) in off {
        let put = BTreeMap::from([(piles[1].name.clone(), spot(x, y))]);
        let plan = lay_out(&site, &piles, &put, SEED);
        assert!(plan.cost_kg_m.is_finite(), "{x} {y}: {}", plan.cost_kg_m);
        assert!(plan.bound_kg_m.is_finite() && plan.gap().is_finite());
        let faults = plan.faults.join(" ");
        assert!(faults.contains(says), "{x} {y}: {faults}");
    }
}

/// Nobody walks from outside the ground: neither on a ground where all ways are straight, nor on one with something on it.
#[test]
fn from_outside_the_ground_there_is_no_way() {
    let piles = demo_piles();
    let mut bare = garden();
    bare.obstacles.clear();
    for ground in [garden(), bare] {
        let site = site(&ground).expect("a site");
        let plan = lay_out(&site, &piles, &BTreeMap::new(), SEED);
        let costs =
            |x: f64, y: f64| move_cost(&site, &piles, &plan, 1, Point::new(x, y), 0.0).change_kg_m;
        assert!(costs(-1.0, 4.0).is_infinite() && costs(12.0, 33.0).is_infinite());
        assert!(costs(0.0, 16.0).is_finite() && costs(1.0, 4.0).is_finite());
    }
}

#[test]
fn without_room_or_cover_it_is_said() {
    let piles = demo_piles();
    let mut bare = garden();
    bare.covered.clear();
    let site_bare = site(&bare).expect("a site");
    let plan = lay_out(&site_bare, &piles, &BTreeMap::new(), SEED);
    let open = plan
        .faults
        .iter()
        .filter(|f| f.contains("should lie under cover"))
        .count();
    assert_eq!(open, piles.iter().filter(|p| p.under_cover).count());
    // Hardly more ground than the house and the truck.
    let mut cramped = garden();
    cramped.outline = rect(9_000, 5_500, 18_500, 25_700);
    cramped.drop = Spot {
        x: 14_000,
        y: 7_000,
    };
    cramped.gates.clear();
    cramped.truck.clear();
    cramped.obstacles.clear();
    let site_cramped = site(&cramped).expect("a site");
    let plan = lay_out(&site_cramped, &piles, &BTreeMap::new(), SEED);
    keeps_the_rules(&cramped, &site_cramped, &piles, &plan);
    assert!(!plan.unplaced.is_empty());
    for (name, why) in &plan.unplaced {
        assert!(
            piles.iter().any(|p| p.name == *name) && why.contains("free place"),
            "{why}"
        );
    }
}

#[test]
fn a_place_is_told_as_a_tape_finds_it() {
    let (ground, piles) = (garden(), demo_piles());
    let site = site(&ground).expect("a site");
    let laid = ready::ground::Laid {
        pile: 0,
        // The house's front left stake is at (14 - 3.6576, 10). Beside it, long side along the house.
        at: Point::new(
            14.0 - 3.6576 - 2.0 - piles[0].width / 2.0,
            10.0 + 1.0 + piles[0].length / 2.0,
        ),
        turn: std::f64::consts::FRAC_PI_2,
        carry_kg_m: 0.0,
        by_hand: true,
    };
    // 2 m is 6 ft 7 in, 1 m 3 ft 3 in; the corner is √5 m off, 7 ft 4 in.
    let there = found(&site, &piles[0], &laid);
    assert_eq!(
        there.corner,
        "6 ft 7 in left of the front left stake, 3 ft 3 in behind it"
    );
    assert_eq!(there.lies, "long side along the house");
    assert!(
        there.tapes.starts_with("7 ft 4 in from front left, "),
        "{}",
        there.tapes
    );
}

#[test]
fn the_drawing_is_one_picture_with_every_pile_and_no_markup_of_others() {
    let piles = demo_piles();
    let mut ground = garden();
    ground.obstacles[0].words = "a <script> & \"tree\"".into();
    ground.slopes.push(tally::Slope {
        outline: rect(18_000, 20_000, 23_000, 30_000),
        rise: 60,
    });
    ground
        .shade
        .push(patch(rect(1_000, 23_000, 6_000, 30_000), "oak"));
    let site = site(&ground).expect("a site");
    let plan = lay_out(&site, &piles, &BTreeMap::new(), SEED);
    let svg = laydown_svg(&site, &piles, &plan, site.system);
    for pile in &piles {
        assert!(svg.contains(&format!("data-pile=\"{}\"", pile.name)));
    }
    assert!(svg.contains("a &lt;script&gt; &amp; &quot;tree&quot;") && !svg.contains("<script"));
    for words in [
        "house to come",
        "drop",
        "gate",
        "truck",
        "rises 6 in 100",
        "under cover",
        "20 ft",
    ] {
        assert!(svg.contains(words), "{words}");
    }
    assert!(!svg.contains("NaN") && !svg.contains("inf"));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]
    /// Whatever the ground, a plan keeps its rules or says what it could not; never a panic.
    #[test]
    fn a_plan_of_any_ground_keeps_its_rules(seed in any::<u64>()) {
        let ground = random_ground(seed, &demo().0);
        let piles = demo_piles();
        let site = site(&ground).expect("a ground of ours");
        let plan = lay_out(&site, &piles, &BTreeMap::new(), seed);
        keeps_the_rules(&ground, &site, &piles, &plan);
    }

    /// Nonsense is refused in words or planned on; never a panic.
    #[test]
    fn no_ground_makes_it_panic(spots in proptest::collection::vec((-30_000i64..30_000, -30_000i64..30_000), 3..9), towards in -36_000i64..36_000) {
        let mut ground = garden();
        ground.outline = spots.iter().map(|(x, y)| Spot { x: *x, y: *y }).collect();
        ground.house.towards = towards;
        if let Ok(site) = site(&ground) {
            let piles = demo_piles();
            let plan = lay_out(&site, &piles, &BTreeMap::new(), 1);
            prop_assert!(plan.cost_kg_m.is_finite());
        }
    }
}
