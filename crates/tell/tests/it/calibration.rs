//! Whether a stated probability means what it says: against a hundred thousand pieces drawn from the stated model.

use frame::{Mark, PartsList};
use tell::{Asked, Decided, Kit, Reading, Which};

use crate::draw::{Piece, Truth, Yard, everything};
use crate::house::{DEMO, LARGEST, ROUND, demo, list, others};

const DRAWS: usize = 100_000;

/// Stated probabilities by tenth: how many, their sum, how many came true.
#[derive(Default)]
struct Reliability([(usize, f64, usize); 10]);

impl Reliability {
    fn add(&mut self, stated: f64, is_so: bool) {
        assert!((0.0..=1.0).contains(&stated), "{stated}");
        let bin = &mut self.0[((stated * 10.0) as usize).min(9)];
        bin.0 += 1;
        bin.1 += stated;
        bin.2 += usize::from(is_so);
    }

    /// Within two points, and within what chance allows where a bin holds so few that two points is less than that.
    fn check(&self, of: &str) {
        for (tenth, (count, stated, came_true)) in self.0.iter().enumerate() {
            let n = *count as f64;
            if *count == 0 {
                continue;
            }
            let (stated, came_true) = (stated / n, *came_true as f64 / n);
            let by_chance = 3.5 * (stated * (1.0 - stated) / n).sqrt();
            println!("{of}: bin {tenth}: {count} stated {stated:.4}, came true {came_true:.4}");
            assert!(
                (stated - came_true).abs() <= 0.02f64.max(by_chance),
                "{of}: of {count} stated at {stated:.3} came true {came_true:.3}"
            );
        }
    }

    fn filled(&self) -> usize {
        self.0.iter().filter(|(count, ..)| *count >= 2_000).count()
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
            rng.usize(0..=2) * usize::from(rng.u8(..) < 90),
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
    assert_eq!(marks.filled(), 10, "each tenth is tried");
}
