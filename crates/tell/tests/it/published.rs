//! The published figures that the error model leans on, each beside its source, and the normal distribution.

use measure::Length;
use tell::error_model::{spread_of_limit, tape_limit, tube_across};
use tell::{BendLook, Kit, Marks, Reading, Size, TapeClass, Tool};

use crate::house::{demo, part};

/// NIST Handbook 44 §5.52, metal tapes, maintenance and acceptance: up to 6 ft 1/32 in, 30 ft 1/16, 55 ft 1/8, 80 ft
/// 3/16, 100 ft 1/4 (S2).
#[test]
fn tapes_within_handbook_44() {
    let table = [
        (6, 2),
        (7, 4),
        (30, 4),
        (31, 8),
        (55, 8),
        (56, 12),
        (80, 12),
        (81, 16),
        (100, 16),
    ];
    for (feet, sixty_fourths) in table {
        let limit = tape_limit(TapeClass::Handbook44, Length::feet(feet).to_metres());
        let published = Length::sixty_fourths(sixty_fourths).to_metres();
        assert!((limit - published).abs() < 1e-9, "{feet} ft: {limit}");
    }
}

/// EC tapes, limits in millimetres at 3, 5, 8, 10 and 30 m (Directive 2004/22/EC annex MI-008, now 2014/32/EU; S2t, at
/// 30 m D); a length is raised to the next whole metre (S2t).
#[test]
fn tapes_within_their_ec_class() {
    let at = [3.0, 5.0, 8.0, 10.0, 30.0];
    for (class, millimetres) in [
        (TapeClass::EcI, [0.4, 0.6, 0.9, 1.1, 3.1]),
        (TapeClass::EcII, [0.9, 1.3, 1.9, 2.3, 6.3]),
        (TapeClass::EcIII, [1.8, 2.6, 3.8, 4.6, 12.6]),
    ] {
        for (metres, published) in at.into_iter().zip(millimetres) {
            let limit = tape_limit(class, metres) * 1e3;
            assert!(
                (limit - published).abs() < 1e-9,
                "{class:?} {metres} m: {limit}"
            );
        }
        assert_eq!(tape_limit(class, 1.987), tape_limit(class, 2.0));
    }
}

/// ASTM F1083: ±1 % at 2.375 in and over (S2t), so a caliper that shows 2.36 still fits (D); +1/64 and −1/32 in for NPS
/// 1-1/2 and under (S2t, the size limit M).
#[test]
fn tubes_within_f1083() {
    let big = tube_across(Length::mils(2375));
    assert!((big.plus().to_inches() - 0.024).abs() < 5e-4);
    assert!(big.holds(Length::mils(2375), Length::mils(2360)));
    let small = tube_across(Length::mils(1900));
    assert_eq!(small.plus(), Length::sixty_fourths(1));
    assert_eq!(small.minus(), Length::sixty_fourths(2));
}

/// JCGM 100 (GUM) 4.3.7, from memory: limits of ±a without more knowledge are a spread of a/√3.
#[test]
fn a_limit_is_a_spread_of_a_root_3() {
    assert!((spread_of_limit(1.0) - 0.577_350_269).abs() < 1e-9);
}

/// The chances of a tape's marks are differences of the normal distribution, of which every table of statistics has
/// Φ(1) = 0.841 344 746, Φ(2) = 0.977 249 868, Φ(3) = 0.998 650 102 (from memory).
#[test]
fn marks_share_out_the_normal_distribution() {
    let (list, kit) = demo();
    let ridge = part(&list, "R1");
    let mean = ridge.length.unwrap().to_metres();
    // Its spread from the tables: a part's 1/8 in, Handbook 44 between 7 and 30 ft 1/16 in, a tape held 1/32 in.
    let inch = 0.0254f64;
    let own = inch / 8.0 / 3f64.sqrt();
    let tape = inch / 16.0 / 3f64.sqrt();
    let sd = (own.powi(2) + tape.powi(2) + (inch / 32.0).powi(2)).sqrt();
    let step = inch / 16.0;
    // Three marks either way of the middle reach 3.5 steps; interpolate the table where that falls.
    let z = 3.5 * step / sd;
    assert!((2.0..3.0).contains(&z));
    let reach: f64 = (-3..=3)
        .map(|k| {
            kit.chance_of(
                Some(&ridge.mark),
                &[tape_length((mean / step).round() as i64 + k)],
            )
            .unwrap()
        })
        .sum();
    let phi = phi(z);
    let expected = (1.0 - 0.005 - 0.01) * (2.0 * phi - 1.0);
    assert!((reach - expected).abs() < 1e-5, "{reach} {expected}");
}

/// Simpson's rule on the density, held against the table.
fn phi(z: f64) -> f64 {
    let simpson = |z: f64| {
        let n = 2_000;
        let h = z / n as f64;
        let f = |x: f64| (-0.5 * x * x).exp() / std::f64::consts::TAU.sqrt();
        let inner: f64 = (1..n)
            .map(|i| f(i as f64 * h) * if i % 2 == 1 { 4.0 } else { 2.0 })
            .sum();
        0.5 + h / 3.0 * (f(0.0) + inner + f(z))
    };
    for (z, table) in [
        (1.0, 0.841_344_746),
        (2.0, 0.977_249_868),
        (3.0, 0.998_650_102),
    ] {
        assert!((simpson(z) - table).abs() < 1e-8);
    }
    simpson(z)
}

fn tape_length(sixteenths: i64) -> Reading {
    Reading::Size {
        of: Size::Length,
        nanometres: Length::sixty_fourths(4 * sixteenths).as_nanometres(),
        with: Tool::Tape {
            marks: Marks::Inch,
            class: TapeClass::Handbook44,
        },
    }
}

#[test]
fn the_chances_of_all_that_can_be_read_sum_to_one() {
    let (list, kit) = demo();
    let marks: Vec<Option<&frame::Mark>> = (list.lines.iter())
        .map(|line| Some(&line.part.mark))
        .chain([None])
        .collect();
    for mark in marks {
        let sum = |readings: &mut dyn Iterator<Item = Reading>| -> f64 {
            readings.map(|r| kit.chance_of(mark, &[r]).unwrap()).sum()
        };
        let tape = sum(&mut (0..=62_993).map(tape_length));
        assert!((tape - 1.0).abs() < 1e-9, "{mark:?}: {tape}");
        let holes = sum(&mut (0..=13).map(|count| Reading::Holes { count }));
        assert!((holes - 1.0).abs() < 1e-12, "{mark:?}: {holes}");
        let bends = sum(&mut [BendLook::Straight, BendLook::Bent]
            .map(|is| Reading::Bend { is })
            .into_iter());
        assert!((bends - 1.0).abs() < 1e-12, "{mark:?}");
        let kinds = sum(&mut crate::draw::KINDS
            .map(|is| Reading::Kind { is })
            .into_iter());
        assert!((kinds - 1.0).abs() < 1e-12, "{mark:?}: {kinds}");
        let coatings = sum(&mut crate::draw::COATINGS
            .map(|is| Reading::Coating { is })
            .into_iter());
        assert!((coatings - 1.0).abs() < 1e-12, "{mark:?}: {coatings}");
        let looks = kit
            .looks()
            .map(String::from)
            .chain(["something else".into()]);
        let looks = sum(&mut looks.map(|like| Reading::Looks { like }));
        assert!((looks - 1.0).abs() < 1e-12, "{mark:?}: {looks}");
    }
}

/// What is read first has the same chance whatever is read after it: summed over all second readings, with a coarser and
/// a finer tool, the integral over the piece's own size gives back the closed form.
#[test]
fn a_second_reading_leaves_the_chance_of_the_first() {
    let (list, kit) = demo();
    for mark in ["R1", "B1"] {
        let part = part(&list, mark);
        let middle = (part.length.unwrap().to_inches() * 16.0).round() as i64;
        for off in [0, 2, 5, -192, 700] {
            let first = tape_length(middle + off);
            let alone = kit
                .chance_of(Some(&part.mark), std::slice::from_ref(&first))
                .unwrap();
            let both: f64 = (0..=62_993)
                .map(|second| {
                    kit.chance_of(Some(&part.mark), &[first.clone(), tape_length(second)])
                        .unwrap()
                })
                .sum();
            assert!(
                (both / alone - 1.0).abs() < 1e-5,
                "{mark} {off}: {alone} {both}"
            );
        }
    }
}

/// The chance that a length read with a tape mistakes one for the other, mark by mark, against the table of look-alikes,
/// which puts marks together that lie closer than half a spread.
#[test]
fn look_alikes_by_tape_are_half_the_lesser_chances() {
    let (list, kit) = demo();
    let [ridge, stud] = ["R1", "S1"].map(|mark| &part(&list, mark).mark);
    let exact: f64 = (0..=62_993)
        .map(|n| {
            let [p, q] = [ridge, stud].map(|m| kit.chance_of(Some(m), &[tape_length(n)]).unwrap());
            0.5 * p.min(q)
        })
        .sum();
    let pairs = kit.look_alikes_of(ridge);
    let pair = pairs.iter().find(|p| p.other.contains(stud)).unwrap();
    assert!(
        (pair.by_tape.unwrap() - exact).abs() < 1e-4,
        "{exact} {pair:?}"
    );
}

/// The bits of a question, mark by mark, against what is asked for next.
#[test]
fn bits_are_the_mutual_information() {
    let (list, system) = crate::house::list(crate::house::DEMO);
    let parts = ["R1", "S1", "P1"].map(|mark| (part(&list, mark), 10));
    let kit = Kit::of(parts, &[], system).with_tools(tell::Tools::tape_only(system));
    let length = tell::Asked::Size {
        of: Size::Length,
        with: Tool::Tape {
            marks: Marks::Inch,
            class: TapeClass::Handbook44,
        },
    };
    let cannot: Vec<tell::Asked> = (crate::draw::everything(system).into_iter())
        .filter(|asked| *asked != length)
        .collect();
    let next = kit.next_but(&[], &cannot).unwrap();
    let priors: Vec<(Option<&frame::Mark>, f64)> = (parts.iter())
        .map(|(p, _)| (Some(&p.mark), 0.98 / 3.0))
        .chain([(None, 0.02)])
        .collect();
    let mut bits = 0.0;
    for n in 0..=62_993 {
        let each: Vec<(f64, f64)> = (priors.iter())
            .map(|(mark, prior)| (*prior, kit.chance_of(*mark, &[tape_length(n)]).unwrap()))
            .collect();
        let all: f64 = each.iter().map(|(prior, p)| prior * p).sum();
        bits += each
            .iter()
            .map(|(prior, p)| {
                if *p > 0.0 {
                    prior * p * (p / all).log2()
                } else {
                    0.0
                }
            })
            .sum::<f64>();
    }
    assert!(
        (next.bits - bits).abs() < 0.01 * bits,
        "{} {bits}",
        next.bits
    );
    assert!(
        next.bits <= bits + 1e-9,
        "what is put together tells no more"
    );
}
