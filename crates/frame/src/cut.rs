//! Lines of members cut into pieces of stock.

use crate::expand::{NOTHING, SAW};

/// The last piece of a line is at least this long where the one before it can be cut back, in metres: a foot.
const LEAST_LAST: f64 = 0.3048;

/// The least that a piece may bring a line forward, in metres: an inch. Less is a slip of the pen in the family.
const LEAST_STEP: f64 = 0.0254;

/// How two pieces of a line meet, and so how much of each counts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Stock {
    /// Overall length of one piece, in metres.
    pub overall: f64,
    /// Length that goes into the next piece, or lies over it.
    pub overlap: f64,
    /// The overlap is a swage: a piece at the end of a line loses it, since it must end full-sized.
    pub swaged: bool,
    /// Overall length of the piece that may finish a line instead, with two plain ends.
    pub extension: Option<f64>,
}

impl Stock {
    /// Pieces lie over each other, as wire does, and may end anywhere.
    fn is_lapped(&self) -> bool {
        self.overlap > 0.0 && !self.swaged
    }
}

/// A last piece shorter than this is a stub.
fn least_last(stock: Stock) -> f64 {
    let step = stock.overall - stock.overlap;
    LEAST_LAST.max(2.0 * stock.overlap).min(step / 2.0)
}

/// Where pieces may not meet.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Avoid<'a> {
    /// Where the bows stand, ascending.
    pub stations: &'a [f64],
    /// How far from each of them.
    pub clear: f64,
}

/// One piece of a line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Run {
    pub from: f64,
    pub to: f64,
    /// What is left of the piece when it lies in place, overlap and all; nothing when it goes in as it came.
    pub cut_to: Option<f64>,
    /// It is the piece that finishes the line.
    pub is_extension: bool,
}

/// Cuts a line of a length into the fewest pieces.
///
/// Each is as long as it can be and the last one is cut. Where pieces may not meet at a bow, one that would is cut:
/// the first one if that keeps all the others clear, at a length that leaves no stub at the end if there is one, else
/// each that must be. Going as far as one can at each step needs the fewest pieces, since from further on one always
/// gets at least as far.
///
/// Nothing comes back when a piece would bring the line hardly further than its overlap.
pub(crate) fn line(length: f64, stock: Stock, avoid: Option<Avoid>) -> Option<Vec<Run>> {
    let step = stock.overall - stock.overlap;
    if step < LEAST_STEP {
        return None;
    }
    let Some(avoid) = avoid else {
        let mut meets = even(length, step, step, stock);
        spare_a_stub(&mut meets, length, stock, avoid);
        return Some(runs(length, stock, &meets));
    };
    let fewest = furthest(length, step, stock, avoid)?;
    let even: Vec<Vec<f64>> = first_pieces(step, avoid)
        .map(|first| even(length, first, step, stock))
        .filter(|meets| meets.len() == fewest.len() && meets.iter().all(|at| !avoid.forbids(*at)))
        .collect();
    // The longest first piece that leaves no stub at the end.
    let least = least_last(stock);
    let ends_well = |meets: &&Vec<f64>| {
        meets
            .last()
            .is_none_or(|last| length - last >= least - NOTHING)
    };
    let even = even.iter().find(ends_well).or(even.first()).cloned();
    let mut meets = even.unwrap_or(fewest);
    spare_a_stub(&mut meets, length, stock, Some(avoid));
    Some(runs(length, stock, &meets))
}

/// A last piece that is hardly a hand long holds nothing, and one shorter than the swage that goes into it cannot be:
/// the piece before it is cut back, so that both are of some length. As many pieces are needed as before.
fn spare_a_stub(meets: &mut [f64], length: f64, stock: Stock, avoid: Option<Avoid>) {
    let least = least_last(stock);
    let before = meets.len().checked_sub(2).map_or(0.0, |i| meets[i]);
    let Some(last) = meets.last_mut() else { return };
    if stock.is_lapped() || length - *last >= least - NOTHING {
        return;
    }
    let back = length - least;
    let back = avoid
        .and_then(|avoid| avoid.near(back).map(|bow| bow - avoid.clear))
        .unwrap_or(back);
    if back - before >= least {
        *last = back;
    }
}

impl Avoid<'_> {
    fn forbids(&self, at: f64) -> bool {
        self.near(at).is_some()
    }

    /// The bow that a place is too near to.
    fn near(&self, at: f64) -> Option<f64> {
        let next = self.stations.partition_point(|s| *s < at);
        let around = [next.checked_sub(1), Some(next)].into_iter().flatten();
        (around.filter_map(|i| self.stations.get(i)))
            .find(|s| (*s - at).abs() < self.clear - NOTHING)
            .copied()
    }
}

/// How far the last piece of a line reaches.
fn last_reach(stock: Stock, step: f64) -> f64 {
    // A lapped line may end with the whole of its last piece; a swaged one must lose the swage.
    if stock.swaged { step } else { stock.overall }
}

/// Where pieces meet when all but the first are whole.
fn even(length: f64, first: f64, step: f64, stock: Stock) -> Vec<f64> {
    let reach = last_reach(stock, step);
    let mut meets = Vec::new();
    let (mut at, mut next) = (0.0, first);
    while length - at > reach + SAW {
        meets.push(next);
        (at, next) = (next, next + step);
    }
    meets
}

/// Where pieces meet when each goes as far as it may; nothing when none may go further.
fn furthest(length: f64, step: f64, stock: Stock, avoid: Avoid) -> Option<Vec<f64>> {
    let reach = last_reach(stock, step);
    let mut meets = Vec::new();
    let mut at = 0.0;
    while length - at > reach + SAW {
        let mut next = at + step;
        while let Some(bow) = avoid.near(next) {
            next = bow - avoid.clear;
            if next < at + LEAST_STEP {
                return None;
            }
        }
        meets.push(next);
        at = next;
    }
    Some(meets)
}

/// Lengths that the first piece may be cut to, the longest first: whole, or so that one piece or another ends just
/// clear of a bow, before it or behind it.
fn first_pieces(step: f64, avoid: Avoid) -> impl Iterator<Item = f64> {
    let mut firsts: Vec<f64> = (avoid.stations.iter())
        .flat_map(|bow| [bow - avoid.clear, bow + avoid.clear])
        .map(|at| at.rem_euclid(step))
        .filter(|first| *first >= LEAST_STEP)
        .collect();
    firsts.push(step);
    firsts.sort_by(|a, b| b.total_cmp(a));
    firsts.into_iter()
}

fn runs(length: f64, stock: Stock, meets: &[f64]) -> Vec<Run> {
    let step = stock.overall - stock.overlap;
    let starts = std::iter::once(0.0).chain(meets.iter().copied());
    let between = starts.zip(meets).map(|(from, to)| {
        let shows = to - from;
        Run {
            from,
            to: *to,
            cut_to: (shows < step - SAW).then_some(shows + stock.overlap),
            is_extension: false,
        }
    });
    let from = meets.last().copied().unwrap_or_default();
    let rest = length - from;
    let is_extension = (stock.extension).is_some_and(|extension| rest <= extension + SAW);
    let overall = match stock.extension {
        Some(extension) if is_extension => extension,
        _ => stock.overall,
    };
    let last = Run {
        from,
        to: length,
        cut_to: (rest < overall - SAW).then_some(rest),
        is_extension,
    };
    between.chain([last]).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lengths(length: f64, stock: Stock) -> Vec<(f64, Option<f64>)> {
        line(length, stock, None)
            .expect("possible")
            .iter()
            .map(|r| (r.to - r.from, r.cut_to))
            .collect()
    }

    const SWAGED: Stock = Stock {
        overall: 5.0,
        overlap: 1.0,
        swaged: true,
        extension: None,
    };
    const BUTTED: Stock = Stock {
        overall: 4.0,
        overlap: 0.0,
        swaged: false,
        extension: None,
    };

    #[test]
    fn a_swaged_line_loses_its_last_swage() {
        assert_eq!(lengths(8.0, SWAGED), [(4.0, None), (4.0, Some(4.0))]);
        // Half a metre more would end in a piece shorter than the swage in it: the one before is cut back.
        assert_eq!(
            lengths(8.5, SWAGED),
            [(4.0, None), (2.5, Some(3.5)), (2.0, Some(2.0))]
        );
        assert_eq!(lengths(3.0, SWAGED), [(3.0, Some(3.0))]);
    }

    #[test]
    fn nobody_saws_off_less_than_a_stop_is_set_to() {
        // Half a millimetre over, and half a millimetre under, three boards of 4.
        assert_eq!(lengths(12.0005, BUTTED).len(), 3);
        assert!(
            lengths(11.9995, BUTTED)
                .iter()
                .all(|(_, cut)| cut.is_none())
        );
        assert_eq!(lengths(12.002, BUTTED).len(), 4);
        assert_eq!(
            lengths(11.998, BUTTED)[2].1.map(|cut| cut < 4.0),
            Some(true)
        );
    }

    #[test]
    fn a_butted_line_may_end_whole() {
        assert_eq!(lengths(8.0, BUTTED), [(4.0, None), (4.0, None)]);
        assert_eq!(
            lengths(9.0, BUTTED),
            [(4.0, None), (4.0, None), (1.0, Some(1.0))]
        );
    }

    #[test]
    fn a_lapped_line_covers_the_length() {
        let stock = Stock {
            overlap: 0.5,
            ..BUTTED
        };
        // 4 + 3.5 reaches 7.5 with two pieces.
        assert_eq!(lengths(7.5, stock).len(), 2);
        assert_eq!(lengths(7.6, stock).len(), 3);
        assert_eq!(lengths(4.0, stock), [(4.0, None)]);
    }

    #[test]
    fn an_extension_finishes_what_is_short_enough() {
        let stock = Stock {
            extension: Some(2.0),
            ..SWAGED
        };
        let last = |length| *line(length, stock, None).unwrap().last().unwrap();
        assert!(!last(8.0).is_extension);
        // 10 is two whole runs of 4 and an extension as it comes; a longer one that is cut keeps twice its swage.
        assert_eq!((last(10.0).is_extension, last(10.0).cut_to), (true, None));
        let long = Stock {
            extension: Some(3.0),
            ..SWAGED
        };
        let last = |length| *line(length, long, None).unwrap().last().unwrap();
        assert_eq!(
            (last(10.5).is_extension, last(10.5).cut_to),
            (true, Some(2.5))
        );
        let last = |length| *line(length, stock, None).unwrap().last().unwrap();
        assert!(!last(10.5).is_extension);
    }

    #[test]
    fn pieces_meet_clear_of_the_bows() {
        let stations: Vec<f64> = (0..=6).map(f64::from).map(|i| i * 2.0).collect();
        let avoid = Avoid {
            stations: &stations,
            clear: 0.25,
        };
        // Whole pieces of 4 would all meet on a bow. The first could be cut to 3.75, and would leave 0.25 at the end; cut
        // to 2.25 it leaves 1.75.
        let found = line(12.0, BUTTED, Some(avoid)).unwrap();
        let cuts: Vec<(f64, Option<f64>)> = found.iter().map(|r| (r.to, r.cut_to)).collect();
        assert_eq!(
            cuts,
            [
                (2.25, Some(2.25)),
                (6.25, None),
                (10.25, None),
                (12.0, Some(1.75))
            ]
        );
        // Nothing is cut that need not be.
        let avoid = Avoid {
            clear: 0.5,
            ..avoid
        };
        let three = Stock {
            overall: 3.0,
            ..BUTTED
        };
        // 3, 6 is a bow: so 2.5 (no: 5.5 is clear, 8.5 and 11.5 are too).
        let found = line(12.0, three, Some(avoid)).unwrap();
        assert!(found[1..].iter().all(|r| !avoid.forbids(r.from)));
    }

    #[test]
    fn no_piece_can_be_laid_where_none_may_end() {
        let stations = [0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0];
        let avoid = Avoid {
            stations: &stations,
            clear: 0.6,
        };
        assert_eq!(line(8.0, BUTTED, Some(avoid)), None);
    }

    #[test]
    fn a_piece_that_is_all_overlap_cuts_nothing() {
        let stock = Stock {
            overall: 1.0,
            overlap: 1.0,
            ..SWAGED
        };
        assert_eq!(line(8.0, stock, None), None);
    }

    /// Against every way of meeting on a grid, where lengths, bows and what must be clear lie on the grid too.
    #[test]
    fn as_few_pieces_as_by_trying_everything() {
        /// The fewest pieces from each place of the grid to the end; nothing where there is no way.
        fn fewest(length: usize, stock: Stock, avoid: Avoid) -> Option<usize> {
            let step = (stock.overall - stock.overlap).round() as usize;
            let reach = last_reach(stock, step as f64).round() as usize;
            let mut best: Vec<Option<usize>> = vec![None; length + 1];
            for at in (0..length).rev() {
                let last = (length - at <= reach).then_some(1);
                let next = (at + 1..=(at + step).min(length - 1))
                    .filter(|next| !avoid.forbids(*next as f64))
                    .filter_map(|next| best[next].map(|pieces| pieces + 1))
                    .min();
                best[at] = last.into_iter().chain(next).min();
            }
            best[0]
        }
        let mut state = 5_u64;
        let mut next = |below: u64| {
            state = state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1);
            ((state >> 33) % below) as f64
        };
        let (mut possible, mut impossible) = (0, 0);
        for _ in 0..4_000 {
            let overlap = next(3);
            let stock = Stock {
                overall: overlap + 2.0 + next(12),
                overlap,
                swaged: next(2) == 1.0,
                extension: None,
            };
            let spacing = 2.0 + next(9);
            let length = 5.0 + next(60);
            let stations: Vec<f64> = (0..)
                .map(|i| f64::from(i) * spacing)
                .take_while(|s| *s <= length)
                .collect();
            let avoid = Avoid {
                stations: &stations,
                clear: next(5),
            };
            let best = fewest(length as usize, stock, avoid);
            let found = line(length, stock, Some(avoid));
            let shown = found.as_ref().map(Vec::len);
            assert_eq!(shown, best, "{length} {stock:?} {avoid:?}");
            for run in found.iter().flatten().skip(1) {
                assert!(!avoid.forbids(run.from));
            }
            match best {
                Some(_) => possible += 1,
                None => impossible += 1,
            }
        }
        assert!(
            possible > 400 && impossible > 100,
            "{possible} {impossible}"
        );
    }
}
