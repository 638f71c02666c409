//! What is harmed, short or over at the truck: rows that are filled in, and the words they make for the receipt.

use std::collections::BTreeMap;

use claim::{HarmKind, SeenAtTruck, UnitKind};
use maud::{Markup, html};
use tally::{Condition, Proof};

/// The most rows that a form holds; whoever has more harm than that refuses.
const MOST_ROWS: usize = 12;

/// What a driver hands over, as the forms call it.
pub(crate) const UNITS: [(UnitKind, &str); 8] = [
    (UnitKind::Bundle, "bundle"),
    (UnitKind::Crate, "crate"),
    (UnitKind::Carton, "carton"),
    (UnitKind::Pallet, "pallet"),
    (UnitKind::Roll, "roll"),
    (UnitKind::Bag, "bag"),
    (UnitKind::Drum, "drum"),
    (UnitKind::Piece, "piece"),
];

/// What can be wrong with it, as the forms call it.
const HARMS: [(Wrong, &str); 11] = [
    (Wrong::Harmed(HarmKind::Bent), "bent"),
    (Wrong::Harmed(HarmKind::Broken), "broken"),
    (Wrong::Harmed(HarmKind::Crushed), "crushed"),
    (Wrong::Harmed(HarmKind::Dented), "dented"),
    (Wrong::Harmed(HarmKind::Torn), "torn"),
    (Wrong::Harmed(HarmKind::Wet), "wet"),
    (Wrong::Harmed(HarmKind::Open), "open"),
    (Wrong::Harmed(HarmKind::Rusted), "rusted"),
    (Wrong::Harmed(HarmKind::Scratched), "scratched"),
    (Wrong::Short, "short"),
    (Wrong::Over, "over"),
];

#[derive(Clone)]
enum Wrong {
    Harmed(HarmKind),
    Short,
    Over,
}

/// One row as it was filled in.
#[derive(Clone, Default, PartialEq)]
pub(crate) struct Row {
    n: String,
    unit: String,
    of: String,
    harm: String,
    place: String,
}

/// The rows of a form, as far as they are filled in.
pub(crate) fn read(fields: &BTreeMap<String, String>) -> Vec<Row> {
    let row = |at: usize| {
        let field = |name: &str| fields.get(&format!("r{at}-{name}")).map_or_else(String::new, |text| text.trim().into());
        Row {
            n: field("n"),
            unit: field("unit"),
            of: field("of"),
            harm: field("harm"),
            place: field("place"),
        }
    };
    (1..=MOST_ROWS).map(row).filter(Row::says_something).collect()
}

/// Conditions that were written down before, as rows.
pub(crate) fn of_conditions(proofs: &[Proof<'_>]) -> Vec<Row> {
    let row = |proof: &Proof<'_>| {
        let harm = match proof.seen.condition {
            Condition::Bent => "bent",
            Condition::Wet => "wet",
            Condition::Damaged => "broken",
            Condition::Wrong => return None,
        };
        Some(Row {
            n: proof.seen.quantity.to_string(),
            unit: "piece".into(),
            of: proof.mark.into(),
            harm: harm.into(),
            place: String::new(),
        })
    };
    proofs.iter().filter_map(row).take(MOST_ROWS).collect()
}

/// Rows as the query of an address.
pub(crate) fn query(rows: &[Row]) -> String {
    let mut query = String::new();
    for (at, row) in rows.iter().enumerate() {
        let fields = [("n", &row.n), ("unit", &row.unit), ("of", &row.of), ("harm", &row.harm), ("place", &row.place)];
        for (name, value) in fields {
            query += &format!("&r{}-{name}={}", at + 1, crate::address::segment(value));
        }
    }
    query
}

/// What the rows say was seen; one without a number or without what is wrong says nothing yet.
pub(crate) fn seen(rows: &[Row]) -> Vec<SeenAtTruck> {
    rows.iter().filter_map(Row::seen).collect()
}

impl Row {
    fn says_something(&self) -> bool {
        [&self.n, &self.of, &self.harm, &self.place].iter().any(|text| !text.is_empty())
    }

    fn seen(&self) -> Option<SeenAtTruck> {
        let n: u32 = self.n.parse().ok().filter(|n| (1..=1_000_000).contains(n))?;
        let wrong = HARMS.iter().find(|(_, name)| *name == self.harm)?.0.clone();
        let unit = UNITS.iter().find(|(_, name)| *name == self.unit);
        let seen = SeenAtTruck {
            unit: unit.map_or(UnitKind::Piece, |(unit, _)| unit.clone()),
            of: self.of.clone(),
            place: self.place.clone(),
            ..SeenAtTruck::default()
        };
        Some(match wrong {
            Wrong::Harmed(harm) => SeenAtTruck {
                harmed: n,
                harm: Some(harm),
                ..seen
            },
            Wrong::Short => SeenAtTruck {
                short: n,
                ..seen
            },
            Wrong::Over => SeenAtTruck {
                over: n,
                ..seen
            },
        })
    }
}

/// The rows as fields, with an empty one at the end, as long as there is room.
pub(crate) fn fields(rows: &[Row]) -> Markup {
    let empty = Row::default();
    let shown = rows.iter().chain([&empty]).take(MOST_ROWS);
    html! {
        div data-rows=(MOST_ROWS) {
            @for (at, row) in shown.enumerate() { (fields_of(at + 1, row)) }
        }
        template data-row-empty { (fields_of(0, &empty)) }
    }
}

fn fields_of(at: usize, row: &Row) -> Markup {
    let id = |name: &str| format!("r{at}-{name}");
    let choice = |name: &str, chosen: &str| {
        let words = frame::capitalised(name);
        html! { option value=(name) selected[name == chosen] { (words) } }
    };
    html! {
        fieldset.harm-row data-row {
            legend.unseen { "What is wrong, " (at) }
            div { label for=(id("n")) { "How many" } input type="number" id=(id("n")) name=(id("n")) value=(row.n) min="1" max="1000000" step="1" inputmode="numeric"; }
            div {
                label for=(id("unit")) { "Of" }
                select id=(id("unit")) name=(id("unit")) { @for (_, name) in &UNITS { (choice(name, &row.unit)) } }
            }
            div { label for=(id("of")) { "Which kind" } input type="text" id=(id("of")) name=(id("of")) value=(row.of) maxlength="80" placeholder="such as bow" autocomplete="off"; }
            div {
                label for=(id("harm")) { "What is wrong" }
                select id=(id("harm")) name=(id("harm")) {
                    option value="" { "–" }
                    @for (_, name) in &HARMS { (choice(name, &row.harm)) }
                }
            }
            div.wide { label for=(id("place")) { "Where on it" } input type="text" id=(id("place")) name=(id("place")) value=(row.place) maxlength="80" placeholder="such as near side, at the end" autocomplete="off"; }
        }
    }
}
