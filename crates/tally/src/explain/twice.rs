//! A list that was brought in twice, such as once as a table of commas and once as a workbook: all it says counts double,
//! which hides what is short and makes much of what is not.

use std::collections::BTreeSet;

use crate::difference::{Difference, difference};
use crate::explain::cause::{Cause, CauseKind};
use crate::explain::check::{Check, check};
use crate::explain::facts::Facts;
use crate::explain::other_order::Likeliest;
use crate::explain::priors;
use crate::explain::programme::Cost;
use crate::explain::shows::Shows;
use crate::explain::{Matter, NEARLY_LEVEL, Story, odds};
use crate::list_standing::ListStanding;
use crate::listed::Listed;
use crate::standing::Standing;

/// Two lists that have fewer rows may well say the same.
const FEWEST_ROWS: usize = 3;

/// Two lists that say the same.
pub(crate) struct Twice {
    /// The later one.
    pub nth: usize,
    /// The difference without it.
    pub without: Difference,
}

impl Twice {
    /// The first two lists that have the same pieces of the same marks in the same shipments, if there are such.
    pub fn of(standing: &Standing) -> Option<Self> {
        let ordered = standing.ordered()?;
        let rows: Vec<Vec<Row>> = standing.lists.iter().map(rows).collect();
        let nth = (1..rows.len())
            .find(|nth| rows[*nth].len() >= FEWEST_ROWS && rows[..*nth].contains(&rows[*nth]))?;
        let left = || (standing.lists.iter().enumerate()).filter(|(at, _)| *at != nth);
        let listed = Listed {
            rows: left().flat_map(|(_, list)| list.rows.clone()).collect(),
            whole: left().all(|(_, list)| list.is_whole()),
        };
        Some(Self {
            nth,
            without: difference(&ordered.parts, &listed, &standing.state),
        })
    }

    /// What it costs that two lists are one.
    pub fn prior() -> Cost {
        priors::LIST_TWICE.first()
    }

    /// The matter that it makes; `ours`: the story in which they are two, which is so much dearer.
    pub fn told(
        &self,
        standing: &Standing,
        facts: &Facts,
        ours: &Likeliest,
        cheaper: Cost,
    ) -> Matter {
        let list = &standing.lists[self.nth];
        let pieces = list.rows.iter().map(|row| row.quantity).sum();
        let marks: BTreeSet<&String> = list.rows.iter().map(|row| &row.mark).collect();
        let places: BTreeSet<usize> = (marks.iter())
            .filter_map(|mark| facts.back.place.get(*mark).copied())
            .collect();
        let first = list.rows.first().map_or("", |row| row.mark.as_str());
        let best = Story {
            causes: vec![Cause {
                row: Some(list.seen.name.clone()),
                ..Cause::of(CauseKind::ListTwice, first, pieces)
            }],
            cost: Self::prior(),
        };
        let rivals = ours.components.iter().flat_map(|c| c.causes_of(&places));
        let other = Story {
            causes: rivals.collect(),
            cost: Self::prior() + cheaper,
        };
        let odds = odds(cheaper);
        Matter {
            marks: marks.into_iter().cloned().collect(),
            // None of the others would have the same list twice.
            check: check(facts, &best, None).map(|look| Check {
                shows: Shows::WhichOfTwo,
                ..look
            }),
            best,
            other: Some(other),
            odds,
            nearly_level: odds < NEARLY_LEVEL,
        }
    }
}

/// A row's mark, pieces and shipment.
type Row = (String, i64, Option<String>);

fn rows(list: &ListStanding) -> Vec<Row> {
    let each = list.rows.iter();
    let mut rows: Vec<Row> = each
        .map(|row| (row.mark.clone(), row.quantity, row.shipment.clone()))
        .collect();
    rows.sort();
    rows
}
