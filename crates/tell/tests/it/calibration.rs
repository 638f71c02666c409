//! Whether a stated probability means what it says: against a hundred thousand pieces drawn from the stated model.

use frame::{Mark, PartsList};
use tell::{Asked, Decided, Kit, Reading};

use crate::draw::{Piece, Truth, Yard, everything};
use crate::house::{DEMO, LARGEST, ROUND, demo, list, others};

const DRAWS: usize = 100_000;

/// Stated probabilities by tenth: how many, their weight, its square, what was stated, what came true.
#[derive(Default)]
struct Reliability([(usize, [f64; 4]); 10]);

impl Reliability {
    fn add(&mut self, stated: f64, is_so: bool) {
        self.add_weighed(stated, is_so, 1.0);
    }

    fn add_weighed(&mut self, stated: f64, is_so: bool, weight: f64) {
        assert!((0.0..=1.0).contains(&stated), "{stated}");
        let (count, sums) = &mut self.0[((stated * 10.0) as usize).min(9)];
        *count += 1;
        let came_true = if is_so { weight } else { 0.0 };
        for (sum, more) in
            sums.iter_mut()
                .zip([weight, weight * weight, weight * stated, came_true])
        {
            *sum += more;
        }
    }

    /// Within two points; or within what chance allows, where a tenth holds so few that two points are less than that.
    fn check(&self, of: &str) {
        for (tenth, (count, [weight, squares, stated, came_true])) in self.0.iter().enumerate() {
            if *count == 0 {
                continue;
            }
            let (stated, came_true) = (stated / weight, came_true / weight);
            let by_chance = 3.5 * (stated * (1.0 - stated) * squares).sqrt() / weight;
            println!("{of}: tenth {tenth}: {count} stated {stated:.4}, came true {came_true:.4}");
            assert!(
                (stated - came_true).abs() <= 0.02f64.max(by_chance),
                "{of}: of {count} stated at {stated:.3} came true {came_true:.3}"
            );
        }
    }

    /// How many tenths are so full that two points are no chance.
    fn filled(&self) -> usize {
        (self.0.iter())
            .filter(|(_, [weight, squares, ..])| {
                *weight > 0.0 && weight * weight / squares > 5_600.0
            })
            .count()
    }
}

fn is(truth: Truth, marks: &[Mark]) -> bool {
    matches!(truth, Truth::Ours(part) if marks.contains(&part.mark))
}

fn yard<'a>(list: &'a PartsList, kit: &'a Kit) -> Yard<'a> {
    Yard::of(list.lines.iter().map(|l| (&l.part, l.supplied)), kit)
}

/// Up to six readings of anything in any order, some of them twice or three times.
fn some_readings(piece: &mut Piece, rng: &mut fastrand::Rng, asked: &[Asked]) -> Vec<Reading> {
    let mut left: Vec<Asked> = asked.to_vec();
    rng.shuffle(&mut left);
    left.truncate(rng.usize(0..=6));
    let measured: Vec<Asked> = (left.iter().copied())
        .filter(|asked| matches!(asked, Asked::Size { .. } | Asked::Mass { .. }))
        .collect();
    for asked in measured {
        // Two readings of a size more than once is where its own deviation counts.
        left.extend(std::iter::repeat_n(
            asked,
            rng.usize(0..=2) * usize::from(rng.u8(..) < 60),
        ));
    }
    left.into_iter()
        .map(|asked| piece.read(asked, rng))
        .collect()
}

#[test]
fn stated_probabilities_come_true_whatever_is_read() {
    let (list, kit) = demo();
    let yard = yard(&list, &kit);
    let mut rng = fastrand::Rng::with_seed(4);
    let (mut marks, mut likeliest, mut none) = <(Reliability, Reliability, Reliability)>::default();
    let asked = everything(measure::System::FeetInch);
    for _ in 0..DRAWS {
        let mut piece = yard.draw(&mut rng);
        let readings = some_readings(&mut piece, &mut rng, &asked);
        let answer = kit.answer(&readings);
        for candidate in answer.candidates.iter().filter(|c| c.probability > 1e-4) {
            marks.add(candidate.probability, is(piece.truth, &candidate.marks));
        }
        let first = &answer.candidates[0];
        likeliest.add(first.probability, is(piece.truth, &first.marks));
        none.add(answer.none, !matches!(piece.truth, Truth::Ours(_)));
    }
    marks.check("every mark");
    likeliest.check("the likeliest");
    none.check("none of this order");
    assert!(marks.filled() >= 7, "{} tenths are full", marks.filled());
}

/// Of a hundred pieces two are none of this order: so that those are tried as hard, half of these are, each weighing the
/// less for it.
#[test]
fn none_of_this_order_comes_true() {
    let (list, kit) = demo();
    let yard = yard(&list, &kit);
    let mut rng = fastrand::Rng::with_seed(44);
    let mut none = Reliability::default();
    let asked = everything(measure::System::FeetInch);
    for draw in 0..30_000 {
        let wanted = draw % 2 == 0;
        let mut piece = loop {
            let piece = yard.draw(&mut rng);
            if matches!(piece.truth, Truth::Ours(_)) != wanted {
                break piece;
            }
        };
        let weight = if wanted { 0.02 / 0.5 } else { 0.98 / 0.5 };
        let readings = some_readings(&mut piece, &mut rng, &asked);
        none.add_weighed(kit.answer(&readings).none, wanted, weight);
    }
    none.check("none of this order");
}

/// Asked as the kit would have it until it is told: as often right as is said, and at least as often as the limit.
#[test]
fn what_is_decided_is_right_as_often_as_it_says() {
    let cases = [
        (DEMO, "gothic-24"),
        (ROUND, "round-16"),
        (LARGEST, "sidewall-30"),
    ];
    for (order, family) in cases {
        let (list, system) = list(order);
        let kit = Kit::of_list(&list, &others(family), system);
        let yard = yard(&list, &kit);
        let mut rng = fastrand::Rng::with_seed(444);
        let (mut decided, mut asked_in_all, mut seconds) = (Reliability::default(), 0, 0.0);
        let (mut told, mut right) = (0, 0);
        const PIECES: usize = 3_000;
        for _ in 0..PIECES {
            let mut piece = yard.draw(&mut rng);
            let mut readings = Vec::new();
            while let Some(next) = kit.next(&readings) {
                readings.push(piece.read(next.asked, &mut rng));
                asked_in_all += 1;
                seconds += next.seconds;
            }
            let answer = kit.answer(&readings);
            let (chance, is_so) = match &answer.decided {
                Some(Decided::Is(marks)) => {
                    (answer.candidates[0].probability, is(piece.truth, marks))
                }
                Some(Decided::NoneOfThisOrder) => {
                    (answer.none, !matches!(piece.truth, Truth::Ours(_)))
                }
                None => continue,
            };
            decided.add(chance, is_so);
            told += 1;
            right += usize::from(is_so);
        }
        println!(
            "{family}: {told} of {PIECES} told, {right} rightly, after {:.2} readings and {:.1} s each",
            asked_in_all as f64 / PIECES as f64,
            seconds / PIECES as f64
        );
        decided.check(family);
        assert!(right as f64 >= 0.95 * told as f64);
        assert!(told as f64 > 0.9 * PIECES as f64, "{told}");
    }
}
