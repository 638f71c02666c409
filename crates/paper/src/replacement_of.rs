//! The replacement order, taken from how a job stands.

use tally::{MarkDifference, Standing};

use crate::letter_facts::{LetterFacts, Reader, places, short};
use crate::replacement::{ReplacementOrder, ReplacementRow};

/// Returns the replacement order to the sender; `None` without an order that can be built.
///
/// Ordered is what is short and nothing else explains, and what came unfit; never more than the building still lacks,
/// so that nothing that comes anyway is ordered again. By when it is needed only a person can say.
pub fn replacement_of(standing: &Standing, facts: &LetterFacts<'_>) -> Option<ReplacementOrder> {
    let difference = standing.difference.as_ref()?;
    let letter = facts.letter(standing, Reader::Sender, &[])?;
    let written = |field| standing.state.affairs.written(field, None);
    let rows = difference
        .marks
        .iter()
        .filter_map(|mark| row(standing, mark));
    Some(ReplacementOrder {
        send_to: match written("send-to") {
            "" => letter.site.clone(),
            said => said.to_owned(),
        },
        needed_by: written("needed-by").to_owned(),
        rows: rows.collect(),
        letter,
    })
}

fn row(standing: &Standing, mark: &MarkDifference) -> Option<ReplacementRow> {
    let (short, unfit) = (short(standing, mark), mark.on_hand.unfit());
    let quantity = (short + unfit).min(mark.to_make_good()?);
    if quantity <= 0 {
        return None;
    }
    let first = mark.rows.first();
    let why = [(short, "short"), (unfit, "not fit for use")];
    let why = why.into_iter().filter(|(n, _)| *n > 0);
    Some(ReplacementRow {
        code: first.map(|row| row.code.clone()).unwrap_or_default(),
        description: first.map(|row| row.description.clone()).unwrap_or_default(),
        stood: places(mark),
        sub_kit: first.map(|row| row.sub_kit.clone()).unwrap_or_default(),
        quantity,
        mark: mark.mark.clone(),
        ours: mark.description.clone(),
        why: why
            .map(|(n, what)| format!("{n} {what}"))
            .collect::<Vec<_>>()
            .join(", "),
    })
}
