//! What is harmed, short or over at the truck: rows that are filled in, and the words they make for the receipt.

use std::collections::BTreeMap;

use claim::{HarmKind, SeenAtTruck, UnitKind};
use maud::{Markup, html};
use tally::{Condition, Proof};

/// The most rows that a form holds; whoever has more harm than that refuses.
const MOST_ROWS: usize = 12;
/// The most units of one kind.
const MOST: u32 = 1_000_000;
/// Kinds of unit, those that a kit comes in first.
const KINDS: [UnitKind; 8] = [
    UnitKind::Bundle,
    UnitKind::Crate,
    UnitKind::Carton,
    UnitKind::Pallet,
    UnitKind::Roll,
    UnitKind::Bag,
    UnitKind::Drum,
    UnitKind::Piece,
];

/// One row as it was filled in: a kind of unit, how many of it, and what is wrong with some.
#[derive(Clone, Default, PartialEq)]
pub(crate) struct Row {
    unit: String,
    of: String,
    billed: String,
    came: String,
    harmed: String,
    harm: String,
    place: String,
}

/// The rows of a form, as far as they are filled in.
pub(crate) fn read(fields: &BTreeMap<String, String>) -> Vec<Row> {
    let row = |at: usize| {
        let field = |name: &str| {
            fields
                .get(&format!("r{at}-{name}"))
                .map_or_else(String::new, |text| text.trim().into())
        };
        Row {
            unit: field("unit"),
            of: field("of"),
            billed: field("billed"),
            came: field("came"),
            harmed: field("harmed"),
            harm: field("harm"),
            place: field("place"),
        }
    };
    (1..=MOST_ROWS)
        .map(row)
        .filter(Row::says_something)
        .collect()
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
            unit: "piece".into(),
            of: proof.mark.into(),
            harmed: proof.seen.quantity.to_string(),
            harm: harm.into(),
            ..Row::default()
        })
    };
    proofs.iter().filter_map(row).take(MOST_ROWS).collect()
}

/// Rows as the query of an address.
pub(crate) fn query(rows: &[Row]) -> String {
    let mut query = String::new();
    for (at, row) in rows.iter().enumerate() {
        for (name, value) in row.fields().iter().filter(|(_, value)| !value.is_empty()) {
            query += &format!("&r{}-{name}={}", at + 1, crate::address::segment(value));
        }
    }
    query
}

/// What the rows say was seen.
pub(crate) fn seen(rows: &[Row]) -> Vec<SeenAtTruck> {
    rows.iter().map(Row::seen).collect()
}

impl Row {
    fn fields(&self) -> [(&'static str, &String); 7] {
        [
            ("unit", &self.unit),
            ("of", &self.of),
            ("billed", &self.billed),
            ("came", &self.came),
            ("harmed", &self.harmed),
            ("harm", &self.harm),
            ("place", &self.place),
        ]
    }

    /// A kind of unit alone says nothing: the list of kinds always shows one.
    fn says_something(&self) -> bool {
        self.fields()
            .iter()
            .any(|(name, text)| *name != "unit" && !text.is_empty())
    }

    fn seen(&self) -> SeenAtTruck {
        let number = |text: &str| text.parse().ok().filter(|n| *n <= MOST);
        let unit = (UnitKind::ALL.into_iter()).find(|unit| unit.words(1) == self.unit);
        SeenAtTruck {
            unit: unit.unwrap_or_default(),
            of: self.of.clone(),
            label: String::new(),
            billed: number(&self.billed),
            received: number(&self.came),
            harmed: number(&self.harmed).unwrap_or(0),
            harm: HarmKind::ALL
                .into_iter()
                .find(|harm| harm.words() == self.harm),
            place: self.place.clone(),
            more: String::new(),
        }
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
        html! { option value=(name) selected[name == chosen] { (frame::capitalised(name)) } }
    };
    let number = |name: &str, label: &str, value: &str| {
        html! {
            div { label for=(id(name)) { (label) } input type="number" id=(id(name)) name=(id(name)) value=(value) min="0" max=(MOST) step="1" inputmode="numeric"; }
        }
    };
    let text = |name: &str, label: &str, value: &str, such: &str| {
        html! {
            div { label for=(id(name)) { (label) } input type="text" id=(id(name)) name=(id(name)) value=(value) maxlength="80" placeholder=(such) autocomplete="off"; }
        }
    };
    html! {
        fieldset.harm-row data-row {
            legend { "Row " span data-row-number { (at) } }
            div.pair {
                (text("of", "Which", &row.of, "such as bow"))
                div {
                    label for=(id("unit")) { "Kind of unit" }
                    select id=(id("unit")) name=(id("unit")) { @for unit in KINDS { (choice(&unit.words(1), &row.unit)) } }
                }
            }
            div.thirds {
                (number("billed", "On the bill", &row.billed))
                (number("came", "Came", &row.came))
                (number("harmed", "Harmed", &row.harmed))
            }
            div.pair {
                div {
                    label for=(id("harm")) { "How harmed" }
                    select id=(id("harm")) name=(id("harm")) {
                        option value="" { "not harmed" }
                        @for harm in HarmKind::ALL { (choice(harm.words(), &row.harm)) }
                    }
                }
                (text("place", "Where on it", &row.place, "such as near side"))
            }
        }
    }
}
