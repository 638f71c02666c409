//! Lines of members cut into pieces of stock.

use crate::expand::NOTHING;

/// How two pieces of a line meet, and so how much of each counts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Stock {
    /// Overall length of one piece, in metres.
    pub overall: f64,
    /// Length that goes into the next piece, or lies over it.
    pub overlap: f64,
    /// The overlap is a swage: a piece at the end of a line loses it, since it must end full-sized.
    pub swaged: bool,
}

/// One piece of a line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Run {
    pub from: f64,
    pub to: f64,
    /// What is left of the piece when it lies in place, overlap and all; nothing when it goes in as it came.
    pub cut_to: Option<f64>,
}

/// The least that a piece may bring a line forward, in metres: an inch. Less is a slip of the pen in the family.
const LEAST_STEP: f64 = 0.0254;

/// Cuts a line of a length into the fewest pieces, each as long as it can be; the last one is cut.
///
/// Nothing comes back when a piece would bring the line hardly further than its overlap.
pub(crate) fn line(length: f64, stock: Stock) -> Option<Vec<Run>> {
    let step = stock.overall - stock.overlap;
    if step < LEAST_STEP {
        return None;
    }
    // A lapped line may end with the whole of its last piece; a swaged one must lose the swage.
    let last_reach = if stock.swaged { step } else { stock.overall };
    let beyond_first = (length - last_reach - NOTHING).max(0.0);
    let count = 1 + (beyond_first / step).ceil() as usize;
    let runs = (0..count).map(|i| {
        let from = step * i as f64;
        if i + 1 < count {
            return Run {
                from,
                to: from + step,
                cut_to: None,
            };
        }
        let rest = length - from;
        Run {
            from,
            to: length,
            cut_to: (rest < stock.overall - NOTHING).then_some(rest),
        }
    });
    Some(runs.collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lengths(length: f64, stock: Stock) -> Vec<(f64, Option<f64>)> {
        line(length, stock)
            .expect("possible")
            .iter()
            .map(|r| (r.to - r.from, r.cut_to))
            .collect()
    }

    #[test]
    fn a_swaged_line_loses_its_last_swage() {
        let stock = Stock {
            overall: 5.0,
            overlap: 1.0,
            swaged: true,
        };
        assert_eq!(lengths(8.0, stock), [(4.0, None), (4.0, Some(4.0))]);
        assert_eq!(
            lengths(8.5, stock),
            [(4.0, None), (4.0, None), (0.5, Some(0.5))]
        );
        assert_eq!(lengths(3.0, stock), [(3.0, Some(3.0))]);
    }

    #[test]
    fn a_butted_line_may_end_whole() {
        let stock = Stock {
            overall: 4.0,
            overlap: 0.0,
            swaged: false,
        };
        assert_eq!(lengths(8.0, stock), [(4.0, None), (4.0, None)]);
        assert_eq!(
            lengths(9.0, stock),
            [(4.0, None), (4.0, None), (1.0, Some(1.0))]
        );
    }

    #[test]
    fn a_lapped_line_covers_the_length() {
        let stock = Stock {
            overall: 4.0,
            overlap: 0.5,
            swaged: false,
        };
        // 4 + 3.5 reaches 7.5 with two pieces.
        assert_eq!(lengths(7.5, stock).len(), 2);
        assert_eq!(lengths(7.6, stock).len(), 3);
        assert_eq!(lengths(4.0, stock), [(4.0, None)]);
    }

    #[test]
    fn a_piece_that_is_all_overlap_cuts_nothing() {
        assert_eq!(
            line(
                8.0,
                Stock {
                    overall: 1.0,
                    overlap: 1.0,
                    swaged: true
                }
            ),
            None
        );
    }
}
