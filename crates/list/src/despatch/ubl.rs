//! UBL 2.x Despatch Advice: the header, its parties, dates, measures and handling units.

use super::identifiers::Gs1;
use super::odd::Odd;
use super::ubl_line;
use super::ubl_shipment::of_shipment;
use super::units::CodeList;
use super::xml::{self, Element, Lines, UBL};
use super::{
    Amount, Decimal, Despatch, Format, Id, Notice, OrderReference, Party, Reference, Spot,
};
use crate::error::Refusal;
use crate::limits;

const DESPATCH_ADVICE: &str = "DespatchAdvice-2";

/// The text with what is needed to say where something stands.
pub struct File<'a> {
    /// All of it.
    pub text: &'a str,
    /// Its lines.
    pub lines: Lines,
}

impl File<'_> {
    /// Returns where an element stands.
    pub fn spot(&self, element: &Element) -> Spot {
        self.lines.spot(self.text, element.offset)
    }

    /// Names an element by its path and where it stands.
    pub fn place(&self, path: &str, element: &Element) -> String {
        format!("{path}/{}, {}", element.name, self.spot(element))
    }

    /// Makes the amount of an element that holds a number with its unit.
    pub fn amount(
        &self,
        path: &str,
        element: &Element,
        line: Option<usize>,
        odd: &mut Odd,
    ) -> Amount {
        let unit = element.attribute("unitCode");
        odd.amount(
            line,
            &self.place(path, element),
            &element.text,
            unit,
            CodeList::Unece,
        )
    }
}

/// Reads all despatch advices of a text.
pub fn read(text: &str) -> Result<Despatch, Refusal> {
    let file = File {
        text,
        lines: Lines::of(text),
    };
    let documents = xml::read(text, &file.lines)?;
    let mut despatch = Despatch {
        format: Format::Ubl,
        ..Despatch::default()
    };
    let mut odd = Odd::default();
    for (name, offset) in &documents.misplaced {
        let what = format!("{name} is in no namespace of UBL's components and is not read");
        odd.say_once(None, &file.lines.spot(text, *offset).to_string(), &what);
    }
    let mut others = Vec::new();
    for (namespace, root) in &documents.found {
        match namespace.strip_prefix(UBL) {
            Some(DESPATCH_ADVICE) if &*root.name == "DespatchAdvice" => {
                notice(&file, root, &mut despatch, &mut odd)?;
            }
            of => others.push(named(of.unwrap_or(""), root)),
        }
    }
    if despatch.notices.is_empty() {
        return Err(match others.first() {
            Some(other) => Refusal::OtherDocument(other.clone()),
            None if documents.root == "DespatchAdvice" => Refusal::Broken {
                at: "/DespatchAdvice".to_owned(),
                why: format!(
                    "it is not in UBL's namespace; xmlns=\"{UBL}{DESPATCH_ADVICE}\" would be right"
                ),
            },
            None => Refusal::OtherDocument(format!(
                "an XML document {} that holds no document of UBL",
                documents.root
            )),
        });
    }
    for other in others {
        odd.say(None, format!("the file also holds {other}; it is not read"));
    }
    odd.into(&mut despatch);
    Ok(despatch)
}

/// What a document of UBL is that is no despatch advice.
fn named(namespace: &str, root: &Element) -> String {
    let number = root.says("ID");
    let mut words = String::new();
    for c in root.name.chars() {
        if c.is_uppercase() && !words.is_empty() {
            words.push(' ');
        }
        words.extend(c.to_lowercase());
    }
    let version = match namespace.rsplit_once('-') {
        Some((_, "2")) | None => String::new(),
        Some((_, version)) => format!(" {version}"),
    };
    let article = if words.starts_with(['a', 'e', 'i', 'o', 'u']) {
        "an"
    } else {
        "a"
    };
    let number = if number.is_empty() {
        String::new()
    } else {
        format!(" (number {number})")
    };
    format!("{article} {words} of UBL{version}{number}")
}

fn notice(
    file: &File<'_>,
    root: &Element,
    despatch: &mut Despatch,
    odd: &mut Odd,
) -> Result<(), Refusal> {
    const PATH: &str = "/DespatchAdvice";
    let mut lines = root.parts("DespatchLine").peekable();
    if lines.peek().is_none() {
        return Err(Refusal::Broken {
            at: file.place("", root),
            why: "it has no cac:DespatchLine; one for each thing sent would be right".to_owned(),
        });
    }
    for name in ["ID", "IssueDate"] {
        if root.says(name).is_empty() {
            odd.say(
                None,
                format!(
                    "{}: cbc:{name} is missing; every despatch advice has one",
                    file.place("", root)
                ),
            );
        }
    }
    let said = |names: &[&str]| {
        names
            .iter()
            .flat_map(|name| root.all(name))
            .collect::<Vec<_>>()
    };
    let mut notice = Notice {
        id: root.says("ID").to_owned(),
        uuid: root.says("UUID").to_owned(),
        version: root.says("UBLVersionID").to_owned(),
        profiles: said(&["CustomizationID", "ProfileID", "ProfileExecutionID"]),
        issue_date: date(root.says("IssueDate")),
        issue_time: time(root.says("IssueTime")),
        type_code: root.says("DespatchAdviceTypeCode").to_owned(),
        purpose_code: root.says("DocumentStatusCode").to_owned(),
        notes: said(&["Note"]),
        orders: root.parts("OrderReference").map(order).collect(),
        at: file.spot(root),
        ..Notice::default()
    };
    for child in &root.children {
        let role = role(&child.name);
        if !role.is_empty() {
            notice.parties.push(party(file, PATH, role, child, odd));
        }
        if child.name.ends_with("DocumentReference") {
            notice.references.extend(document(child));
        }
    }
    for shipment in root.parts("Shipment") {
        of_shipment(
            file,
            &format!("{PATH}/Shipment"),
            shipment,
            &mut notice,
            odd,
        );
    }
    let number = despatch.notices.len();
    let first = despatch.lines.len();
    for line in lines {
        ubl_line::read(
            file,
            PATH,
            line,
            None,
            number,
            &mut notice,
            &mut despatch.lines,
            odd,
        );
        if despatch.lines.len() > limits::MAX_SENT_LINES {
            return Err(Refusal::Broken {
                at: file.place(PATH, line),
                why: format!(
                    "more than {} lines; send the despatch advice alone",
                    limits::MAX_SENT_LINES
                ),
            });
        }
    }
    ubl_line::of_units(
        file,
        root,
        first,
        number,
        &mut notice,
        &mut despatch.lines,
        odd,
    );
    let whole = despatch.lines[first..]
        .iter()
        .filter(|line| line.part_of.is_none())
        .count();
    if let Some(count) = root.value("LineCountNumeric")
        && Decimal::read(&count.text).and_then(Decimal::whole) != i64::try_from(whole).ok()
    {
        let place = file.place(PATH, count);
        odd.say(
            None,
            format!(
                "{place}: {:?} lines are said, there are {whole}",
                count.text
            ),
        );
    }
    despatch.notices.push(notice);
    Ok(())
}

/// The parties of a despatch advice, by their elements.
pub fn role(name: &str) -> &'static str {
    match name {
        "DespatchSupplierParty" => "despatch supplier",
        "DeliveryCustomerParty" => "delivery customer",
        "BuyerCustomerParty" => "buyer",
        "SellerSupplierParty" => "seller",
        "OriginatorCustomerParty" => "originator",
        "CarrierParty" => "carrier",
        "ConsigneeParty" => "consignee",
        "ConsignorParty" => "consignor",
        "FreightForwarderParty" => "freight forwarder",
        "DeliveryParty" => "delivered to",
        "DespatchParty" => "ship from",
        _ => "",
    }
}

/// A date without the time zone that XML Schema allows behind it.
pub fn date(text: &str) -> String {
    let is_date = text.get(..10).is_some_and(|day| {
        day.bytes().enumerate().all(|(i, b)| match i {
            4 | 7 => b == b'-',
            _ => b.is_ascii_digit(),
        })
    });
    match is_date {
        true => text[..10].to_owned(),
        false => text.to_owned(),
    }
}

/// A time without fractions and zone: `10:30:47.0Z` as `10:30:47`.
pub fn time(text: &str) -> String {
    let end = text
        .find(|c: char| !(c.is_ascii_digit() || c == ':'))
        .unwrap_or(text.len());
    text[..end].to_owned()
}

/// An order, with the numbers of buyer and seller.
pub fn order(element: &Element) -> OrderReference {
    OrderReference {
        id: element.says("ID").to_owned(),
        sales_id: element.says("SalesOrderID").to_owned(),
        further: element.says("UUID").to_owned(),
        date: date(element.says("IssueDate")),
    }
}

/// A document that is named.
pub fn document(element: &Element) -> Option<Reference> {
    let kind = [
        element.says("DocumentType"),
        element.says("DocumentTypeCode"),
    ];
    let value = element.says("ID");
    (!value.is_empty()).then(|| Reference {
        qualifier: element.name.to_string(),
        meaning: kind
            .into_iter()
            .find(|text| !text.is_empty())
            .unwrap_or_default()
            .to_owned(),
        value: value.to_owned(),
        note: element.all("DocumentDescription").join(" "),
    })
}

pub fn party(file: &File<'_>, path: &str, role: &str, around: &Element, odd: &mut Odd) -> Party {
    let inner = around.part("Party").unwrap_or(around);
    let mut found = Party {
        role: role.to_owned(),
        role_code: around.name.to_string(),
        ..Party::default()
    };
    let mut names = inner
        .parts("PartyName")
        .map(|name| name.says("Name").to_owned());
    let legal = inner
        .part("PartyLegalEntity")
        .map(|entity| entity.says("RegistrationName").to_owned());
    found.name = names
        .find(|name| !name.is_empty())
        .or(legal)
        .unwrap_or_default();
    inner.walk(
        &["PostalAddress", "Contact", "Person"],
        &mut |parent, child| {
            let is_id = matches!(&*child.name, "EndpointID" | "CompanyID")
                || &*parent.name == "PartyIdentification";
            if is_id && !child.text.is_empty() {
                let kind = if &*child.name == "ID" {
                    &parent.name
                } else {
                    &child.name
                };
                found.ids.push(id(kind, child));
                // ISO 6523: 0088 is GS1's location number.
                if child.attribute("schemeID") == "0088"
                    || child.attribute("schemeID").eq_ignore_ascii_case("GLN")
                {
                    odd.gs1(None, &file.place(path, child), Gs1::Gln, &child.text);
                }
            }
        },
    );
    for name in [
        "CustomerAssignedAccountID",
        "SupplierAssignedAccountID",
        "AdditionalAccountID",
    ] {
        let account = around
            .value(name)
            .filter(|account| !account.text.is_empty());
        found.ids.extend(account.map(|account| id(name, account)));
    }
    let place = inner
        .part("PostalAddress")
        .or_else(|| inner.part("PhysicalLocation")?.part("Address"));
    found.address = place.map(address).unwrap_or_default();
    let contacts = inner
        .parts("Contact")
        .chain(around.parts("DeliveryContact"))
        .chain(around.parts("DespatchContact"));
    for contact in contacts {
        let said = ["Name", "Telephone", "ElectronicMail"].map(|name| contact.says(name));
        let said: Vec<&str> = said.into_iter().filter(|text| !text.is_empty()).collect();
        if !said.is_empty() {
            found.contacts.push(said.join(", "));
        }
    }
    found
}

/// A number of somebody; of the schemes of ISO 6523 those of GS1 are named.
pub fn id(kind: &str, element: &Element) -> Id {
    let scheme = element.attribute("schemeID");
    Id {
        kind: kind.to_owned(),
        scheme: scheme.to_owned(),
        means: if scheme == "0088" { "GLN" } else { "" }.to_owned(),
        value: element.text.clone(),
    }
}

/// An address, a line each.
pub fn address(element: &Element) -> Vec<String> {
    let joined = |names: &[&str]| {
        let said: Vec<&str> = names
            .iter()
            .map(|name| element.says(name))
            .filter(|t| !t.is_empty())
            .collect();
        said.join(" ")
    };
    let mut lines = vec![
        joined(&["Postbox"]),
        joined(&["StreetName", "BuildingNumber"]),
        joined(&["AdditionalStreetName"]),
        joined(&["BuildingName", "Floor", "Room"]),
        joined(&["Department"]),
    ];
    lines.extend(
        element
            .parts("AddressLine")
            .map(|line| line.says("Line").to_owned()),
    );
    lines.push(joined(&["PostalZone", "CityName"]));
    lines.push(joined(&["District", "CountrySubentity"]));
    let country = element.part("Country");
    lines.extend(country.map(|c| {
        [c.says("Name"), c.says("IdentificationCode")]
            .join(" ")
            .trim()
            .to_owned()
    }));
    lines.retain(|line| !line.is_empty());
    lines
}

/// `GrossWeight` as "gross weight".
pub fn in_words(name: &str) -> String {
    let mut words = String::new();
    for c in name.chars() {
        if c.is_uppercase() && !words.is_empty() {
            words.push(' ');
        }
        words.extend(c.to_lowercase());
    }
    words
}
