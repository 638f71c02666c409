//! What `list --json` prints of a despatch advice or ship notice: what the sender's system says, whole.

use list::despatch::{
    Amount, Dated, Despatch, HandlingUnit, Item, Measured, Notice, OrderReference, Packed, Party,
    Reference, SentLine, Spot, Whose,
};
use serde::Serialize;

#[derive(Serialize)]
pub struct Sender {
    format: &'static str,
    notices: Vec<OneNotice>,
    lines: Vec<Sent>,
}

#[derive(Serialize)]
struct OneNotice {
    id: String,
    set: String,
    uuid: String,
    version: String,
    profiles: Vec<String>,
    issue_date: String,
    issue_time: String,
    type_code: String,
    purpose_code: String,
    notes: Vec<String>,
    instructions: Vec<String>,
    orders: Vec<Order>,
    parties: Vec<OneParty>,
    dates: Vec<Day>,
    references: Vec<Number>,
    measures: Vec<Measure>,
    packages: Vec<Pack>,
    carriers: Vec<String>,
    equipment: Vec<Vehicle>,
    handling_units: Vec<Unit>,
    at: At,
}

#[derive(Serialize)]
struct Order {
    id: String,
    sales_id: String,
    further: String,
    date: String,
}

#[derive(Serialize)]
struct OneParty {
    role: String,
    role_code: String,
    name: String,
    ids: Vec<PartyId>,
    address: Vec<String>,
    contacts: Vec<String>,
}

#[derive(Serialize)]
struct PartyId {
    kind: String,
    scheme: String,
    means: String,
    value: String,
}

#[derive(Serialize)]
struct Day {
    qualifier: String,
    meaning: String,
    date: String,
    time: String,
}

#[derive(Serialize)]
struct Number {
    qualifier: String,
    meaning: String,
    value: String,
    note: String,
}

#[derive(Serialize)]
struct Measure {
    qualifier: String,
    meaning: String,
    amount: Quantity,
}

/// A number with its unit; `number` is exact, as text, and null when what is written is none.
#[derive(Serialize)]
struct Quantity {
    written: String,
    number: Option<String>,
    unit: String,
    unit_means: Option<&'static str>,
    pieces: Option<i64>,
}

#[derive(Serialize)]
struct Pack {
    count: Option<String>,
    each: Option<Quantity>,
    inner: Option<String>,
    code: String,
    means: String,
    measures: Vec<Measure>,
    references: Vec<Number>,
    note: String,
}

#[derive(Serialize)]
struct Vehicle {
    kind: String,
    id: String,
    seal: String,
}

#[derive(Serialize)]
struct Unit {
    id: String,
    sscc: Option<String>,
    parent: Option<usize>,
    level: String,
    type_code: String,
    type_name: String,
    marks: Vec<String>,
    references: Vec<Number>,
    measures: Vec<Measure>,
    packed: Vec<Pack>,
    notes: Vec<String>,
    at: At,
}

#[derive(Serialize)]
struct At {
    line: u32,
    column: u32,
    segment: Option<u32>,
}

/// One line; also what a row of the list was made of.
#[derive(Serialize)]
pub struct Sent {
    notice: usize,
    id: String,
    part_of: Option<usize>,
    handling_units: Vec<usize>,
    status: String,
    order: Order,
    order_line: String,
    sales_order_line: String,
    delivered: Option<Quantity>,
    ordered: Option<Quantity>,
    backorder: Option<Quantity>,
    outstanding: Option<Quantity>,
    oversupply: Option<Quantity>,
    to_date: Option<Quantity>,
    reasons: Vec<String>,
    item: Thing,
    packed: Vec<Pack>,
    references: Vec<Number>,
    dates: Vec<Day>,
    notes: Vec<String>,
    at: At,
}

#[derive(Serialize)]
struct Thing {
    name: String,
    descriptions: Vec<String>,
    ids: Vec<ThingId>,
    lots: Vec<Lot>,
    serials: Vec<String>,
    item_properties: Vec<Property>,
    measures: Vec<Measure>,
}

#[derive(Serialize)]
struct ThingId {
    whose: &'static str,
    qualifier: String,
    scheme: String,
    value: String,
}

#[derive(Serialize)]
struct Lot {
    number: String,
    expires: String,
}

#[derive(Serialize)]
struct Property {
    name: String,
    value: String,
}

pub fn despatch(despatch: &Despatch) -> Sender {
    Sender {
        format: despatch.format.name(),
        notices: despatch.notices.iter().map(notice).collect(),
        lines: despatch.lines.iter().map(sent).collect(),
    }
}

fn notice(notice: &Notice) -> OneNotice {
    OneNotice {
        id: notice.id.clone(),
        set: notice.set.clone(),
        uuid: notice.uuid.clone(),
        version: notice.version.clone(),
        profiles: notice.profiles.clone(),
        issue_date: notice.issue_date.clone(),
        issue_time: notice.issue_time.clone(),
        type_code: notice.type_code.clone(),
        purpose_code: notice.purpose_code.clone(),
        notes: notice.notes.clone(),
        instructions: notice.instructions.clone(),
        orders: notice.orders.iter().map(order).collect(),
        parties: notice.parties.iter().map(party).collect(),
        dates: notice.dates.iter().map(day).collect(),
        references: notice.references.iter().map(number).collect(),
        measures: notice.measures.iter().map(measure).collect(),
        packages: notice.packages.iter().map(pack).collect(),
        carriers: notice.carriers.clone(),
        equipment: (notice.equipment.iter())
            .map(|equipment| Vehicle {
                kind: equipment.kind.clone(),
                id: equipment.id.clone(),
                seal: equipment.seal.clone(),
            })
            .collect(),
        handling_units: notice.units.iter().map(unit).collect(),
        at: at(notice.at),
    }
}

fn order(order: &OrderReference) -> Order {
    Order {
        id: order.id.clone(),
        sales_id: order.sales_id.clone(),
        further: order.further.clone(),
        date: order.date.clone(),
    }
}

fn party(party: &Party) -> OneParty {
    let id = |id: &list::despatch::Id| PartyId {
        kind: id.kind.clone(),
        scheme: id.scheme.clone(),
        means: id.means.clone(),
        value: id.value.clone(),
    };
    OneParty {
        role: party.role.clone(),
        role_code: party.role_code.clone(),
        name: party.name.clone(),
        ids: party.ids.iter().map(id).collect(),
        address: party.address.clone(),
        contacts: party.contacts.clone(),
    }
}

fn day(dated: &Dated) -> Day {
    Day {
        qualifier: dated.qualifier.clone(),
        meaning: dated.meaning.clone(),
        date: dated.date.clone(),
        time: dated.time.clone(),
    }
}

fn number(reference: &Reference) -> Number {
    Number {
        qualifier: reference.qualifier.clone(),
        meaning: reference.meaning.clone(),
        value: reference.value.clone(),
        note: reference.note.clone(),
    }
}

fn measure(measured: &Measured) -> Measure {
    Measure {
        qualifier: measured.qualifier.clone(),
        meaning: measured.meaning.clone(),
        amount: quantity(&measured.amount),
    }
}

fn quantity(amount: &Amount) -> Quantity {
    Quantity {
        written: amount.written.clone(),
        number: amount.number.map(|number| number.to_string()),
        unit: amount.unit.clone(),
        unit_means: amount.means.map(|unit| unit.name),
        pieces: amount.pieces(),
    }
}

fn pack(packed: &Packed) -> Pack {
    Pack {
        count: packed.count.map(|count| count.to_string()),
        each: packed.each.as_ref().map(quantity),
        inner: packed.inner.map(|inner| inner.to_string()),
        code: packed.code.clone(),
        means: packed.means.clone(),
        measures: packed.measures.iter().map(measure).collect(),
        references: packed.references.iter().map(number).collect(),
        note: packed.note.clone(),
    }
}

fn unit(unit: &HandlingUnit) -> Unit {
    Unit {
        id: unit.id.clone(),
        sscc: unit.sscc.clone(),
        parent: unit.parent,
        level: unit.level.clone(),
        type_code: unit.type_code.clone(),
        type_name: unit.type_name.clone(),
        marks: unit.marks.clone(),
        references: unit.references.iter().map(number).collect(),
        measures: unit.measures.iter().map(measure).collect(),
        packed: unit.packed.iter().map(pack).collect(),
        notes: unit.notes.clone(),
        at: at(unit.at),
    }
}

fn at(spot: Spot) -> At {
    At {
        line: spot.line,
        column: spot.column,
        segment: spot.segment,
    }
}

pub fn sent(line: &SentLine) -> Sent {
    let amount = |amount: &Option<Amount>| amount.as_ref().map(quantity);
    Sent {
        notice: line.notice,
        id: line.id.clone(),
        part_of: line.part_of,
        handling_units: line.units.clone(),
        status: line.status.clone(),
        order: order(&line.order),
        order_line: line.order_line.clone(),
        sales_order_line: line.sales_order_line.clone(),
        delivered: amount(&line.delivered),
        ordered: amount(&line.ordered),
        backorder: amount(&line.backorder),
        outstanding: amount(&line.outstanding),
        oversupply: amount(&line.oversupply),
        to_date: amount(&line.to_date),
        reasons: line.reasons.clone(),
        item: thing(&line.item),
        packed: line.packed.iter().map(pack).collect(),
        references: line.references.iter().map(number).collect(),
        dates: line.dates.iter().map(day).collect(),
        notes: line.notes.clone(),
        at: at(line.at),
    }
}

fn thing(item: &Item) -> Thing {
    let whose = |whose: Whose| match whose {
        Whose::Seller => "seller",
        Whose::Buyer => "buyer",
        Whose::Manufacturer => "manufacturer",
        Whose::Standard => "standard",
        Whose::Catalogue => "catalogue",
        Whose::Other => "other",
    };
    Thing {
        name: item.name.clone(),
        descriptions: item.descriptions.clone(),
        ids: (item.ids.iter())
            .map(|id| ThingId {
                whose: whose(id.whose),
                qualifier: id.qualifier.clone(),
                scheme: id.scheme.clone(),
                value: id.value.clone(),
            })
            .collect(),
        lots: (item.lots.iter())
            .map(|lot| Lot {
                number: lot.number.clone(),
                expires: lot.expires.clone(),
            })
            .collect(),
        serials: item.serials.clone(),
        item_properties: (item.properties.iter())
            .map(|(name, value)| Property {
                name: name.clone(),
                value: value.clone(),
            })
            .collect(),
        measures: item.measures.iter().map(measure).collect(),
    }
}
