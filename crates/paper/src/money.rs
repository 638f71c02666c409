//! Sums of money on a paper: within bounds that keep every total exact, and written as they are to be read.

use serde::{Serialize, Serializer};
use tally::Money;

use crate::print::PaperError;

/// The biggest sum that one line or one total may come to; it keeps every total exact.
const MOST_MINOR: i64 = 1_000_000_000_000_000;

/// So many times a sum; nothing where that is beyond counting.
pub(crate) fn times(each: Money, pieces: i64) -> Option<Money> {
    let minor = each.minor.checked_mul(pieces)?;
    (minor <= MOST_MINOR).then_some(Money { minor, ..each })
}

/// Refuses a sum that cannot be.
pub(crate) fn check(
    sum: &Money,
    table: &'static str,
    index: usize,
    of: &str,
) -> Result<(), PaperError> {
    match (0..=MOST_MINOR).contains(&sum.minor) {
        true => Ok(()),
        false => Err(PaperError::Row {
            table,
            row: index + 1,
            mark: of.chars().take(64).collect(),
            field: "price",
            found: sum.minor,
            wanted: "a sum from 0 to 1 000 000 000 000 000",
        }),
    }
}

/// Adds sums up, currency by currency in the order in which they come; `None` where that is beyond counting.
pub(crate) fn totals<'a>(sums: impl Iterator<Item = &'a Money>) -> Option<Vec<Money>> {
    let mut totals: Vec<Money> = Vec::new();
    for sum in sums {
        match totals
            .iter_mut()
            .find(|total| total.currency == sum.currency)
        {
            Some(total) => {
                total.minor = (total.minor.checked_add(sum.minor)).filter(|n| *n <= MOST_MINOR)?;
            }
            None => totals.push(*sum),
        }
    }
    Some(totals)
}

/// As it is to be read.
pub(crate) fn read<S: Serializer>(sum: &Money, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.collect_str(sum)
}

/// The same where there may be none.
pub(crate) fn read_some<S: Serializer>(sum: &Option<Money>, to: S) -> Result<S::Ok, S::Error> {
    sum.map(|sum| sum.to_string()).serialize(to)
}

/// The same of several.
pub(crate) fn read_all<S: Serializer>(sums: &[Money], to: S) -> Result<S::Ok, S::Error> {
    to.collect_seq(sums.iter().map(Money::to_string))
}

/// The same of several, where some may be none.
pub(crate) fn read_each<S: Serializer>(sums: &[Option<Money>], to: S) -> Result<S::Ok, S::Error> {
    to.collect_seq(sums.iter().map(|sum| sum.map(|sum| sum.to_string())))
}
