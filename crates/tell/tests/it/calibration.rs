//! Whether a stated probability means what it says: against a hundred thousand pieces drawn from the stated model.

use frame::{Mark, PartsList};
use tell::{Asked, Decided, Kit, Reading};

use crate::draw::{Piece, Truth, Yard, everything};
use crate::house::{DEMO, LARGEST, ROUND, demo, list, others};

const DRAWS: usize = 100_000;

/// Stated probabilities by tenth.
#[derive(Default)]
struct Reliability([Tenth; 10]);

#[derive(Default)]
struct Tenth {
    count: usize,
    weight: f64,
    heaviest: f64,
    stated: f64,
    came_true: f64,
}

impl Reliability {
    fn add(&mut self, stated: f64, is_so: bool) {
        self.add_weighed(stated, is_so, 1.0);
    }

    fn add_weighed(&mut self, stated: f64, is_so: bool, weight: f64) {
        assert!((0.0..=1.0).contains(&stated), "{stated}");
        let tenth = &mut self.0[((stated * 10.0) as usize).min(9)];
        tenth.count += 1;
        tenth.weight += weight;
        tenth.heaviest = tenth.heaviest.max(weight);
        tenth.stated += weight * stated;
        tenth.came_true += if is_so { weight } else { 0.0 };
    }

    /// Within two points; or within what chance allows, where a tenth holds so few that two points are less than that.
    fn check(&self, of: &str) {
        // A tenth may want a single heavy draw: so chance is reckoned with the heaviest of all.
        let heaviest = self.0.iter().map(|t| t.heaviest).fold(0.0, f64::max);
        for (number, tenth) in self.0.iter().enumerate().filter(|(_, t)| t.count > 0) {
            let stated = tenth.stated / tenth.weight;
            let came_true = tenth.came_true / tenth.weight;
            let by_chance = 3.5 * (stated * (1.0 - stated) * heaviest / tenth.weight).sqrt();
            let count = tenth.count;
            println!("{of}: tenth {number}: {count} stated {stated:.4}, came true {came_true:.4}");
            assert!(
                (stated - came_true).abs() <= by_chance.max(0.02),
                "{of}: of {count} stated at {stated:.3} came true {came_true:.3}"
            );
        }
    }

    /// How many tenths are so full that two points are no chance.
    fn filled(&self) -> usize {
        let is_full = |t: &&Tenth| t.weight > 5_600.0 * t.heaviest && t.count > 0;
        self.0.iter().filter(is_full).count()
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

/// Of a hundred pieces two are none of this order: so that those are tried harder, a fifth of these are, each weighing the
/// less for it.
#[test]
fn none_of_this_order_comes_true() {
    let (list, kit) = demo();
    let yard = yard(&list, &kit);
    let mut rng = fastrand::Rng::with_seed(44);
    let mut none = Reliability::default();
    let asked = everything(measure::System::FeetInch);
    for draw in 0..50_000 {
        let wanted = draw % 5 == 0;
        let mut piece = loop {
            let truth = yard.truth(&mut rng);
            if matches!(truth, Truth::Ours(_)) != wanted {
                break yard.piece(truth, &mut rng);
            }
        };
        let weight = if wanted { 0.02 / 0.2 } else { 0.98 / 0.8 };
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
