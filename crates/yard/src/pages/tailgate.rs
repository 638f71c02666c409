//! Before the driver leaves: the ten minutes at the truck, one thing after the other. It works without order or list,
//! out of reach, and without script.

use std::collections::BTreeMap;

use axum::Extension;
use axum::extract::{Query, State};
use maud::{Markup, html};
use tally::{Delivery, EventId, Fate, Freight, Outcome, Standing, What};

use super::layout::{self, Way};
use super::state::{Tone, count};
use super::{harm_rows, rules_said, tailgate_choice, tailgate_words};
use crate::access::Holder;
use crate::reply::{Reply, page_reply};
use crate::serve::Yard;
use crate::{address, assets, clock};

/// The name of a shipment that nobody has named yet.
const FIRST: &str = "Load 1";

/// What the page was asked for: a shipment, and the fields of a form that was sent to have its words made.
struct Asked {
    shipment: String,
    fields: BTreeMap<String, String>,
}

/// What the page goes by.
struct Gate<'a> {
    standing: &'a Standing,
    shipment: &'a str,
    freight: Freight,
    kept: Option<&'a Delivery>,
    /// The event that keeps it, so that it can be taken back.
    event: Option<EventId>,
    asked: &'a Asked,
    now: (claim::Date, claim::Time),
}

pub(crate) async fn show(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Query(fields): Query<Vec<(String, String)>>,
) -> Reply {
    let (standing, kept) = yard.at_desk(|desk| {
        let standing = desk.standing()?;
        let kept: Vec<(EventId, String, (u64, EventId))> = (desk.log()?.iter())
            .filter(|event| standing.state.fate(event.id) == Some(Fate::Stands))
            .filter_map(|event| match &event.what {
                What::Delivered(delivery) => {
                    Some((event.id, delivery.shipment.clone(), event.order()))
                }
                _ => None,
            })
            .collect();
        Ok((standing, kept))
    })?;
    let asked = Asked::read(&standing, fields);
    let shipment = asked.shipment.as_str();
    let affairs = &standing.state.affairs;
    let gate = Gate {
        standing: &standing,
        shipment,
        freight: affairs.freight.get(shipment).cloned().unwrap_or_default(),
        kept: affairs.deliveries.get(shipment),
        event: (kept.into_iter())
            .filter(|(_, name, _)| spelled(&standing, name) == shipment)
            .max_by_key(|(_, _, order)| *order)
            .map(|(id, _, _)| id),
        asked: &asked,
        now: clock::at_site(affairs, store::now()),
    };
    Ok(page_reply(layout::page(
        &standing,
        &holder,
        Way::Glance,
        "Before the driver leaves",
        gate.content(),
    )))
}

impl Asked {
    fn read(standing: &Standing, fields: Vec<(String, String)>) -> Self {
        let fields: BTreeMap<String, String> = fields.into_iter().collect();
        let named = fields.get("shipment").map(|name| spelled(standing, name));
        let shipment = named.filter(|name| !name.is_empty());
        Self {
            shipment: shipment.unwrap_or_else(|| at_the_gate(standing)),
            fields,
        }
    }
}

/// The shipment that most likely stands at the gate: one whose hand-over was not written down, that came just now or
/// has not come, and is due first.
fn at_the_gate(standing: &Standing) -> String {
    const A_DAY: i64 = 86_400_000;
    let rank = |name: &String| {
        let seen = standing.state.shipment(name);
        let due = seen.and_then(|seen| seen.due.clone());
        let came = match seen.and_then(|seen| seen.arrived.as_ref()) {
            Some(arrived) if store::now() - arrived.at < A_DAY => 0,
            None => 1,
            Some(_) => 2,
        };
        (came, due.is_none(), due)
    };
    let open = awaited(standing);
    let first = open.iter().min_by_key(|name| rank(name));
    first
        .or(standing.shipments.keys().next())
        .map_or_else(|| FIRST.into(), String::clone)
}

/// A shipment's name as it was first spelled; letter case and spaces do not matter.
fn spelled(standing: &Standing, name: &str) -> String {
    let words: Vec<&str> = name.split_whitespace().collect();
    let tidy: String = words.join(" ").chars().take(tally::MAX_NAME).collect();
    let known =
        (standing.shipments.keys()).find(|known| known.to_lowercase() == tidy.to_lowercase());
    known.cloned().unwrap_or(tidy)
}

/// The shipments whose hand-over was not written down yet.
pub(crate) fn awaited(standing: &Standing) -> Vec<String> {
    let kept = &standing.state.affairs.deliveries;
    (standing.shipments.keys())
        .filter(|name| !kept.contains_key(*name))
        .cloned()
        .collect()
}

impl Gate<'_> {
    fn content(&self) -> Markup {
        html! {
            div.gate data-gate=(self.shipment) data-words=(tailgate_words::data()) data-kept=(self.event.map_or_else(|| "none".into(), |event| event.to_string())) {
                h1 { "Before the driver leaves" }
                (self.chooser())
                (self.what_was_kept())
                (self.freight())
                form.steps #hand-over method="post" action="/delivery" data-keep={ "Hand-over of " (self.shipment) } {
                    input type="hidden" name="id" value=(store::fresh_id());
                    input type="hidden" name="shipment" value=(self.shipment);
                    (self.units())
                    (self.photos())
                    (self.harm())
                    (self.outcome())
                    (self.hand_over())
                }
                p.soft { (claim::NO_ADVICE) }
                @for (name, tone) in [("open", Tone::Open), ("short", Tone::Short), ("over", Tone::Over), ("good", Tone::Good)] {
                    template data-tone=(name) { (tone.says("")) }
                }
            }
            script type="module" src=(assets::address("tailgate.js")) {}
        }
    }

    /// What a field says: as it was just sent to have its words made, or else as it was kept.
    fn field(&self, name: &str, kept: impl FnOnce(&Delivery) -> String) -> String {
        let sent = self.asked.fields.get(name).cloned();
        sent.or_else(|| self.kept.map(kept)).unwrap_or_default()
    }

    fn counted(&self) -> String {
        self.field("units", |kept| {
            kept.units.map_or_else(String::new, |n| n.to_string())
        })
    }

    fn billed(&self) -> Option<u32> {
        self.freight
            .units
            .and_then(|units| u32::try_from(units).ok())
    }

    fn seal(&self) -> (String, String) {
        let kept = self.kept.map_or("", |kept| kept.seals.as_str());
        let (number, state) = tailgate_words::seal_read(kept);
        (
            self.field("seal", |_| number.into()),
            self.field("seal_state", |_| state.into()),
        )
    }

    fn chooser(&self) -> Markup {
        let others = self
            .standing
            .shipments
            .keys()
            .filter(|name| *name != self.shipment);
        html! {
            p.which { "Shipment: " strong data-which { (self.shipment) } }
            details {
                summary { "Another shipment" }
                @for name in others { p { a.button href=(address::tailgate(name)) { (name) } } }
                form method="get" action="/tailgate" {
                    label for="another" { "One that is not named here" }
                    input type="text" id="another" name="shipment" maxlength="80" required autocomplete="off";
                    p { button type="submit" { "Take this one" } }
                }
            }
        }
    }

    fn what_was_kept(&self) -> Markup {
        let Some(kept) = self.kept else {
            return html! {};
        };
        html! {
            div.note.good #kept role="status" {
                p { strong { "Kept: " } (tailgate_choice::kept_in_words(kept, self.freight.units)) }
                @if !kept.receipt_note.is_empty() { p.receipt-words { "“" (kept.receipt_note) "”" } }
                @if kept.outcome == Outcome::SignedClear && !kept.receipt_note.is_empty() {
                    p { (Tone::Short.says("Signed clear, and yet words are kept. Were they on the receipt? If so, say “taken, with a note” below.")) }
                }
                @if matches!(kept.outcome, Outcome::Noted | Outcome::RefusedInPart) && kept.receipt_note.is_empty() {
                    p { (Tone::Short.says("No words are kept. What was written on the receipt? Say it below.")) }
                }
                @let earlier = self.standing.state.affairs.earlier_hand_overs(self.shipment);
                @if !earlier.is_empty() {
                    p { (Tone::Wait.says("Said otherwise before. The last word stands; put it right if an earlier one is true.")) }
                    ul { @for (who, before) in earlier {
                        li { (who) ": " (tailgate_choice::kept_in_words(before, self.freight.units)) @if !before.receipt_note.is_empty() { " “" (before.receipt_note) "”" } }
                    } }
                }
                p.row {
                    a.button.main href="/dates" { "What must be done by when" }
                    a.button href="#count" { "Put it right" }
                }
                @if let Some(event) = self.event {
                    form method="post" action="/undo" data-keep={ "Take back the hand-over of " (self.shipment) } {
                        input type="hidden" name="id" value=(store::fresh_id());
                        input type="hidden" name="event" value=(event);
                        input type="hidden" name="to" value=(address::tailgate(self.shipment));
                        p { button type="submit" { "It was not handed over: take it back" } }
                    }
                }
            }
        }
    }

    fn freight(&self) -> Markup {
        let freight = &self.freight;
        let said = !freight.carrier.is_empty() || freight.units.is_some();
        let text = |name: &str, label: &str, value: &str, such: &str| {
            html! {
                div { label for=(name) { (label) } input type="text" id=(name) name=(name) value=(value) maxlength="80" placeholder=(such) autocomplete="off"; }
            }
        };
        html! {
            section.step {
                h2 { span.n { "1" } "Whose freight it is" }
                @if said { p data-of-one { (freight_in_words(freight)) } }
                @else { p { "From the driver's paper, the freight bill. It can be filled in before the truck comes, and put right later." } }
                details open[!said] {
                    summary { @if said { "Put it right" } @else { "Fill it in" } }
                    form #freight method="post" action="/freight" data-keep={ "Freight bill of " (self.shipment) } {
                        input type="hidden" name="id" value=(store::fresh_id());
                        input type="hidden" name="shipment" value=(self.shipment);
                        div.two {
                            (text("carrier", "Carrier", &freight.carrier, "as on the truck and the bill"))
                            (text("bill", "Number of the bill of lading", &freight.bill, ""))
                            div { label for="billed" { "Units on the bill" } input type="number" id="billed" name="units" value=[freight.units] min="0" max="1000000" step="1" inputmode="numeric" data-billed; }
                        }
                        p.soft { "Units are what the driver hands over: pallets, crates, loose bundles. Not the parts inside." }
                        details {
                            summary { "More from the bill, and which rules hold" }
                            div.two {
                                (text("units_are", "What the units are", &freight.units_are, "such as 2 crates, 3 bundles"))
                                (text("carrier_number", "The carrier's own number", &freight.carrier_number, ""))
                                div { label for="billed_on" { "Date of the bill" } input type="date" id="billed_on" name="billed_on" value=[freight.billed_on.as_deref()]; }
                            }
                            (rules_said::choice(self.standing, self.shipment))
                        }
                        p { button type="submit" { "Keep the freight bill" } }
                        p role="status" data-freight-kept {}
                    }
                }
            }
        }
    }

    fn units(&self) -> Markup {
        let counted = self.counted();
        let (number, state) = self.seal();
        html! {
            section.step #count {
                h2 { span.n { "2" } "Count the units off the truck" }
                p { "Count each one as it comes down. Do not copy the number from the paper." }
                div.adder {
                    button type="button" data-step="-1" aria-label="One unit fewer" hidden { "−" }
                    input type="number" id="units" name="units" value=(counted) placeholder="0" min="0" max="1000000" step="1" inputmode="numeric" aria-label="Units off the truck";
                    button type="button" data-step="1" aria-label="One unit more" hidden { "+" }
                }
                p.against data-against aria-live="polite" { (tailgate_words::against(counted.parse().ok(), self.billed())) }
                div.pair {
                    div { label for="seal" { "Seal number" } input type="text" id="seal" name="seal" maxlength="80" value=(number) placeholder="if there is one" autocomplete="off"; }
                    div {
                        label for="seal_state" { "The seal was" }
                        select id="seal_state" name="seal_state" {
                            option value="" { "not looked at" }
                            @for (_, name) in tailgate_words::SEALS { option value=(name) selected[name == state] { (name) } }
                        }
                    }
                }
            }
        }
    }

    fn photos(&self) -> Markup {
        let shots = self.standing.state.load_shots(Some(self.shipment));
        let missing: Vec<&str> = (shots.iter())
            .filter(|asked| asked.taken.is_empty() && asked.shot.before_the_bands())
            .map(|asked| asked.shot.in_words())
            .collect();
        let taken = shots.iter().map(|asked| asked.taken.len()).sum::<usize>();
        let proofs = self.standing.state.proofs_missing();
        html! {
            section.step {
                h2 { span.n { "3" } "Photograph it as it stands" }
                @if missing.is_empty() { p { (Tone::Good.says("All sides, the top and the labels are taken")) } }
                @else {
                    p { (Tone::Open.says(&format!("Still to take: {}", missing.join(", ").to_lowercase()))) }
                    p { "Before anything is moved or a band is cut. What is harmed: once from afar, once near with a tape beside it." }
                }
                p.row {
                    a.button href=(address::load_photos(self.shipment)) { "Photos of " (self.shipment) }
                    @if taken > 0 { span.soft { (count(taken as i64, "photo", "photos")) " taken" } }
                    @if proofs > 0 { a.button href="/photos#wrong" { (count(proofs as i64, "photo", "photos")) " of what is wrong" } }
                }
            }
        }
    }

    fn harm(&self) -> Markup {
        let rows = harm_rows::read(&self.asked.fields);
        let known = harm_rows::of_conditions(&self.standing.state.proofs());
        let (number, state) = self.seal();
        let made = tailgate_words::AtTruck {
            rows: rows.clone(),
            counted: self.counted().parse().ok(),
            billed: self.billed(),
            seal: tailgate_words::seal(&number, &state),
        }
        .words();
        let note = match self.asked.fields.contains_key("make") {
            true => made.words.clone(),
            false => self.field("note", |kept| kept.receipt_note.clone()),
        };
        let lacking = if rows.is_empty() {
            Vec::new()
        } else {
            made.lacking
        };
        html! {
            section.step #harm {
                h2 { span.n { "4" } "What is harmed or missing" }
                p { "A row for each. Leave it empty when all is well." }
                @if !known.is_empty() && rows.is_empty() {
                    p { a.button href={ (address::tailgate(self.shipment)) (harm_rows::query(&known)) "&make=1#harm" } { "Take up what was written down before" } }
                }
                (harm_rows::fields(&rows))
                p { button type="button" data-more-rows hidden { "Another row" } }
                ul.lacking data-lacking { @for question in &lacking { li { (question) } } }
                p { button type="submit" formmethod="get" formaction="/tailgate" formnovalidate name="make" value="1" data-make { "Make the words for the receipt" } }
                div.two {
                    div {
                        label for="note" { "Words for the receipt" }
                        textarea id="note" name="note" maxlength="2000" placeholder="2 bow bundles bent, 1 carton short" { (note) }
                    }
                    div data-troubles aria-live="polite" { (tailgate_words::troubles(&note)) }
                }
                p.row { button type="button" data-copy hidden { "Copy the words" } span role="status" data-copied {} }
                p { "Write the same words on both copies of the delivery receipt, the driver's and yours. Have the driver sign beside them." }
                fieldset {
                    legend { "Did the driver sign the words on both copies?" }
                    @let signed = self.field("signed", |kept| kept.driver_signed.map_or("", |signed| if signed { "yes" } else { "no" }).into());
                    div.chips {
                        label { input type="radio" name="signed" value="yes" checked[signed == "yes"]; "Yes" }
                        label { input type="radio" name="signed" value="no" checked[signed == "no"]; "No, would not" }
                    }
                }
            }
        }
    }

    fn outcome(&self) -> Markup {
        let sets = claim::sets_of(&self.standing.state.affairs, self.shipment);
        let chosen = self.field("outcome", |kept| tailgate_choice::name(kept.outcome).into());
        html! {
            section.step {
                h2 { span.n { "5" } "Take it or refuse it" }
                p { "The carrier's own terms go before all this: read the bill." }
                (tailgate_choice::choices(&chosen, &sets.names))
                (tailgate_choice::checklist())
            }
        }
    }

    fn hand_over(&self) -> Markup {
        let (today, now) = self.now;
        let sent = |name: &str| self.asked.fields.get(name).cloned();
        let day = sent("on").or_else(|| self.kept.map(|kept| kept.on.clone()));
        let time =
            sent("time").or_else(|| self.kept.map(|kept| kept.time.clone().unwrap_or_default()));
        html! {
            section.step {
                h2 { span.n { "6" } "Hand-over" }
                div.two {
                    div { label for="on" { "Day" } input type="date" id="on" name="on" value=(day.clone().unwrap_or_else(|| today.to_string())) required data-today[day.is_none()]; }
                    div { label for="time" { "Time, by the clock at the site" } input type="time" id="time" name="time" value=(time.clone().unwrap_or_else(|| now.strftime("%H:%M").to_string())) data-now[time.is_none()]; }
                }
                noscript { p { "The freight bill has a button of its own: keep it first." } }
                p { button.main type="submit" { @if self.kept.is_some() { "Keep it as it is now" } @else { "Keep the hand-over" } } }
                p.soft { "Keep your copy of the receipt, and take a photo of it. Leave crates and wrappings as they are until the carrier has looked at what is harmed." }
            }
        }
    }
}

/// "The island ferry, bill 4417, 5 units: 2 crates, 3 bundles".
fn freight_in_words(freight: &Freight) -> String {
    let mut parts: Vec<String> = Vec::new();
    if !freight.carrier.is_empty() {
        parts.push(freight.carrier.clone());
    }
    if !freight.bill.is_empty() {
        parts.push(format!("bill of lading {}", freight.bill));
    }
    if !freight.carrier_number.is_empty() {
        parts.push(format!("carrier's number {}", freight.carrier_number));
    }
    if let Some(day) = &freight.billed_on {
        parts.push(format!("dated {}", clock::day_said(day)));
    }
    let units = freight.units.map(|n| count(n, "unit", "units"));
    match (units, freight.units_are.is_empty()) {
        (Some(units), true) => parts.push(units),
        (Some(units), false) => parts.push(format!("{units}: {}", freight.units_are)),
        (None, false) => parts.push(freight.units_are.clone()),
        (None, true) => {}
    }
    format!("{}.", parts.join(", "))
}
