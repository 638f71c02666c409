//! Whether a list says what another says: the same goods brought in twice would count twice.

use std::collections::BTreeMap;

use maud::{Markup, html};
use tally::{ListStanding, ListedRow, Standing};

/// From so many rows on, two lists are held to say the same: fewer are alike by chance. Our own choice.
const FEWEST: usize = 3;

/// Rows by mark and pieces, and for each how many there are of a shipment.
type Rows<'a> = BTreeMap<(&'a str, i64), BTreeMap<Option<&'a str>, usize>>;

/// What is said at the top of a list of which at least four fifths of the rows stand in a list before it.
pub(crate) fn note(standing: &Standing, list: &ListStanding) -> Markup {
    let before = (standing.lists.iter()).take_while(|it| it.seen.digest != list.seen.digest);
    let alike = before
        .map(|other| (other, same(&list.rows, &other.rows)))
        .filter(|(_, same)| list.rows.len() >= FEWEST && 5 * same >= 4 * list.rows.len())
        .max_by_key(|(_, same)| *same);
    let Some((other, same)) = alike else {
        return html! {};
    };
    html! {
        div.note.wait {
            p {
                strong { (same) " of " (list.rows.len()) " rows say the same as " (other.seen.name) ": " }
                "is it that list, sent anew? Both count until then."
            }
            form.inline method="post" action="/list/sent-anew" {
                input type="hidden" name="id" value=(store::fresh_id());
                input type="hidden" name="old" value=(other.seen.digest);
                input type="hidden" name="list" value=(list.seen.digest);
                button type="submit" { "It is: let it take the place of " (other.seen.name) }
            }
            p.soft { "If it is of goods that came beside those, bring it in once more with its shipment named." }
        }
    }
}

/// How many rows have a row of the same mark and pieces in the other list; each of those counts once. Rows of two
/// shipments are two rows; one without a shipment may be of any.
fn same<'a>(rows: &'a [ListedRow], others: &'a [ListedRow]) -> usize {
    let mut left = Rows::new();
    for row in others {
        let of = left.entry((&row.mark, row.quantity)).or_default();
        *of.entry(row.shipment.as_deref()).or_default() += 1;
    }
    rows.iter().filter(|row| take(&mut left, row)).count()
}

/// Takes the row of the other list that a row may be.
fn take<'a>(left: &mut Rows<'a>, row: &'a ListedRow) -> bool {
    let Some(of) = left.get_mut(&(row.mark.as_str(), row.quantity)) else {
        return false;
    };
    let shipment = row.shipment.as_deref();
    let any = || of.keys().next().copied();
    let found = match shipment {
        None => any(),
        Some(_) => [shipment, None].into_iter().find(|it| of.contains_key(it)),
    };
    let Some(found) = found else {
        return false;
    };
    if let Some(count) = of.get_mut(&found) {
        *count -= 1;
        if *count == 0 {
            of.remove(&found);
        }
    }
    true
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(mark: &str, quantity: i64, shipment: Option<&str>) -> ListedRow {
        ListedRow {
            mark: mark.into(),
            quantity,
            unclear: None,
            description: String::new(),
            code: String::new(),
            sub_kit: String::new(),
            shipment: shipment.map(String::from),
            stands: String::new(),
        }
    }

    #[test]
    fn a_row_is_the_same_once_and_of_its_own_shipment() {
        let first = [row("P1", 26, Some("first")), row("R1", 4, None)];
        // Twice the same row finds one.
        assert_eq!(same(&[row("P1", 26, None), row("P1", 26, None)], &first), 1);
        assert_eq!(same(&[row("P1", 26, Some("first"))], &first), 1);
        assert_eq!(same(&[row("P1", 26, Some("second"))], &first), 0);
        assert_eq!(same(&[row("P1", 25, Some("first"))], &first), 0);
        assert_eq!(same(&[row("R1", 4, Some("second"))], &first), 1);
    }
}
