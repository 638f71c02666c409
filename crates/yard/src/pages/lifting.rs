//! Lifting: how many people take each piece, bundle and crate, and when a machine does.

use axum::Extension;
use axum::extract::{Query, State};
use frame::Frame;
use maud::{Markup, html};
use measure::{Length, System};
use ready::handling::{CAUTION, Handling, Hands, LiftRow, LiftSite, Lifting, lifting};
use ready::lift::{Coupling, Spell};
use serde::Deserialize;
use tally::{Ordered, Standing};

use super::layout::{self, Way};
use super::stakes_asked::length;
use super::state::Tone;
use crate::access::Holder;
use crate::address;
use crate::forms::filled;
use crate::reply::{Failure, Reply, page_reply};
use crate::serve::Yard;

/// Where and how things are lifted, as the form of the page asks; each may be left empty.
#[derive(Clone, Debug, Deserialize, Default)]
#[serde(default)]
pub(crate) struct Asked {
    reach: String,
    from: String,
    to: String,
    per_minute: String,
    spell: String,
    grip: String,
}

const SPELLS: [(&str, Spell); 3] = [
    ("1", Spell::OneHour),
    ("2", Spell::TwoHours),
    ("8", Spell::EightHours),
];

const GRIPS: [(&str, Coupling); 3] = [
    ("good", Coupling::Good),
    ("fair", Coupling::Fair),
    ("poor", Coupling::Poor),
];

impl Asked {
    fn site(&self, standing: &Standing, system: System) -> Result<LiftSite, Failure> {
        let ground = standing.state.plans.ground.as_ref();
        let mut site = ground.map_or_else(LiftSite::default, LiftSite::of);
        let fields = [
            ("The reach", &self.reach, &mut site.reach),
            ("The height of the truck's bed", &self.from, &mut site.from),
            ("The height of the pile", &self.to, &mut site.to),
        ];
        for (what, text, value) in fields {
            if let Some(read) = length(what, text, system)? {
                if !(Length::ZERO..=Length::millimetres(5_000)).contains(&read) {
                    let most = Length::millimetres(5_000).tape(system);
                    return Err(Failure::refused(format!(
                        "{what} must be between nothing and {most}."
                    )));
                }
                *value = read;
            }
        }
        if let Some(text) = filled(&self.per_minute) {
            let read = text.replace(',', ".").parse::<f64>().ok();
            site.per_minute = read.filter(|n| (0.0..=60.0).contains(n)).ok_or_else(|| {
                Failure::refused("Lifts a minute must be a number from 0 to 60, such as 1 or 0.2.")
            })?;
        }
        let spell = SPELLS.iter().find(|(key, _)| *key == self.spell);
        site.spell = spell.map_or(site.spell, |(_, spell)| *spell);
        let grip = GRIPS.iter().find(|(key, _)| *key == self.grip);
        site.coupling = grip.map_or(site.coupling, |(_, grip)| *grip);
        Ok(site)
    }
}

pub(crate) async fn show(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Query(asked): Query<Asked>,
) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let content = match standing.ordered() {
        Some(ordered) => {
            let site = asked.site(&standing, ordered.frame.system)?;
            whole(&ordered.frame, &lifting_of(ordered, &site))
        }
        None => html! {
            h1 { "Lifting" }
            div.note { p { "What is lifted follows from an order. " a href="/order" { "Say what was bought" } " first." } }
        },
    };
    Ok(page_reply(layout::page(
        &standing,
        &holder,
        Way::Ready,
        "Lifting",
        content,
    )))
}

fn lifting_of(ordered: &Ordered, site: &LiftSite) -> Lifting {
    lifting(&ordered.parts, site, ordered.frame.system)
}

fn whole(frame: &Frame, table: &Lifting) -> Markup {
    let system = frame.system;
    let may = table.rows.first().map(|row| row.one.may);
    html! {
        h1 { "Lifting" }
        div.note.wait { p { (Tone::Wait.says("Mind your back")) (CAUTION) } }
        @if let Some(may) = may {
            p { "Off the truck here, by the NIOSH equation: one person up to " strong { (may[0].write(system, 0)) } ", two " strong { (may[1].write(system, 0)) } ", three " strong { (may[2].write(system, 0)) } ". Two have two thirds of what each could, three a half." }
        }
        @if !table.packages.is_empty() {
            h2 { "As it comes" }
            ul { @for (says, _, handling) in &table.packages { li { strong { (says) } ": " (who(handling)) (handling.says) } } }
        }
        h2 { "Each mark" }
        table.fold {
            thead { tr { th { "Mark" } th { "What it is" } th { "One piece" } th { "Two people take at once" } } }
            tbody { @for row in &table.rows { (one(row, system)) } }
        }
        details.no-print {
            summary { "Your truck, your pile" }
            (settings(&table.site, system))
        }
        p.soft { "A load over these is not sure to harm, but it is more than is recommended: the equation is made so that most healthy people can do the work without trouble. Constants of " (match system { System::FeetInch => "pounds and inches", System::Metric => "kilograms and centimetres" }) "; the other system's come out up to about 3 % apart." }
        p.row.no-print { a.button href="/unloading" { "Unloading" } a.button href="/stakes" { "Setting out" } }
    }
}

fn who(handling: &Handling) -> Markup {
    match handling.hands {
        Hands::People(1) => Tone::Good.says("one"),
        Hands::People(2) => Tone::Good.says("two"),
        Hands::People(_) => Tone::Wait.says("three"),
        Hands::Machine => Tone::Short.says("machine"),
    }
}

fn one(row: &LiftRow, system: System) -> Markup {
    html! {
        tr {
            th scope="row" { a.mark href=(address::count(&row.mark)) { (row.mark) } }
            td.wide { (row.says) @if let Some(length) = row.length { span.soft { " · lies " (length.tape(system)) } } }
            td.wide { (who(&row.one)) (row.one.says) }
            td.wide {
                @match row.lifts {
                    None => "none: see there",
                    Some(1) => { "all " (row.pieces) }
                    Some(lifts) => { (row.two_take) ": the " (row.pieces) " in " (lifts) " lifts" }
                }
            }
        }
    }
}

fn settings(site: &LiftSite, system: System) -> Markup {
    html! {
        form method="get" action="/lifting" {
            label for="reach" { "From your ankles to your hands, level" }
            input type="text" id="reach" name="reach" maxlength="40" value=(site.reach.tape(system));
            label for="from" { "Hands when you take it: the truck's bed" }
            input type="text" id="from" name="from" maxlength="40" value=(site.from.tape(system));
            label for="to" { "Hands when you set it down: the pile" }
            input type="text" id="to" name="to" maxlength="40" value=(site.to.tape(system));
            label for="per-minute" { "Lifts a minute, each" }
            input type="text" id="per-minute" name="per_minute" inputmode="decimal" maxlength="10" value=(site.per_minute);
            label for="spell" { "For how long" }
            select id="spell" name="spell" {
                @for (key, spell) in SPELLS { option value=(key) selected[spell == site.spell] { (spell.in_words()) } }
            }
            label for="grip" { "The grip" }
            select id="grip" name="grip" {
                @for (key, grip) in GRIPS { option value=(key) selected[grip == site.coupling] { (grip.in_words()) } }
            }
            button type="submit" { "With these" }
        }
    }
}
