//! What was received against what was ordered and sent: plain data, from which each format is written.
//!
//! The numbers are those of the difference, and [`HOW_COUNTED`] says what each one is held against. Every file says
//! so too: the open formats leave it to whoever writes them.

use jiff::civil::{Date, DateTime};
use tally::{Cause, ListedRow, MarkDifference, Standing, Verdict};

/// How the numbers are to be understood; stands in every file.
pub const HOW_COUNTED: &str = "All quantities are pieces. Received: what was counted, whatever its condition. \
Damaged, bent and wrong pieces are inside it; these are the rejected ones. Wet pieces are inside it too, and are not \
rejected: they may serve. Short: against the order, not against the packing list, and without what is still to come in \
a shipment that has not arrived. Over: above the order and the spares that the sender packs. Called short, called over: \
what of it remains when the likeliest story of all numbers together is told, such as a part counted as its look-alike. \
Sent: what the packing lists say, of all shipments.";

/// What was received of an order, up to the moment at which it is written down.
#[derive(Debug, Clone, PartialEq)]
pub struct Received {
    /// Whose it is and when it was written.
    pub header: Header,
    /// Each mark of the parts list, in its order.
    pub marks: Vec<MarkReceived>,
    /// Marks that were counted and are no parts of this order.
    pub strange: Vec<Strange>,
    /// How the numbers are to be understood, and what else a reader should know.
    pub notes: Vec<String>,
}

/// What only the one who writes the document knows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Said {
    /// The number of the document, such as "SG-117-R1".
    pub document: String,
    /// When it is written, by the clock of the site.
    pub issued: DateTime,
    /// Who received; the site's people as they call themselves. May be empty.
    pub receiver: String,
    /// The last link of the log's chain; may be empty.
    pub log_head: String,
}

/// Whose it is and when it was written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Header {
    /// The number of the document.
    pub document: String,
    /// When it was written, by the clock of the site.
    pub issued: DateTime,
    /// What people call the job.
    pub job: String,
    /// The sender's number of the order; may be empty.
    pub order_number: String,
    /// Who sends; may be empty.
    pub sender: String,
    /// Who received; may be empty.
    pub receiver: String,
    /// Where; may be empty.
    pub site: String,
    /// The shipments spoken of, by name.
    pub shipments: Vec<ShipmentReceived>,
    /// The last link of the log's chain; may be empty.
    pub log_head: String,
}

/// A shipment.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ShipmentReceived {
    /// Its name.
    pub name: String,
    /// The day on which it arrived, at the site; nothing while it is on the way.
    pub arrived: Option<Date>,
    /// The carrier; may be empty.
    pub carrier: String,
    /// The number of the bill of lading; may be empty.
    pub bill: String,
}

impl ShipmentReceived {
    /// "Load 1 arrived 2026-03-06, bill of lading 4471".
    pub fn in_words(&self) -> String {
        let mut words = match self.arrived {
            Some(day) => format!("{} arrived {day}", self.name),
            None => format!("{} has not arrived", self.name),
        };
        for (what, said) in [("carrier", &self.carrier), ("bill of lading", &self.bill)] {
            if !said.is_empty() {
                words.push_str(&format!(", {what} {said}"));
            }
        }
        words
    }
}

/// What was received of one mark. All quantities are pieces, and none is negative.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct MarkReceived {
    /// The mark.
    pub mark: String,
    /// What it is.
    pub description: String,
    /// How many were ordered: what the house needs.
    pub ordered: i64,
    /// How many the sender packs, spares and all; up to so many, none is over.
    pub supplied: i64,
    /// How many the packing lists have, of all shipments; nothing when there is no list that names it.
    pub sent: Option<i64>,
    /// How many were counted, whatever their condition; nothing when nobody has counted.
    pub received: Option<i64>,
    /// How many of them can be built with; nothing when nobody has counted.
    pub good: Option<i64>,
    /// How many are surely short of the order, without those still to come.
    pub short: i64,
    /// How many may be short at most: weighing leaves some doubt, and so do two looks that differ.
    pub short_at_most: i64,
    /// How many came beyond the order and the spares that the sender packs.
    pub over: i64,
    /// How many did not come, by the likeliest story of all numbers together.
    pub called_short: i64,
    /// How many came too many, by that story.
    pub called_over: i64,
    /// The story, where the numbers need one; may be empty.
    pub likely: String,
    /// The look that would settle it at least effort; may be empty.
    pub look: String,
    /// Of those received, damaged.
    pub damaged: i64,
    /// Of those received, bent.
    pub bent: i64,
    /// Of those received, not the part they are labelled as.
    pub wrong: i64,
    /// Of those received, wet.
    pub wet: i64,
    /// How many of the order come in shipments that have not arrived.
    pub to_come: i64,
    /// What is to be said of it, in words.
    pub says: String,
    /// The rows of the packing lists that name it.
    pub rows: Vec<RowReceived>,
}

/// A row of a packing list, in the sender's own words.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct RowReceived {
    /// The list: the file's name.
    pub list: String,
    /// Where in the list it stands, such as "row 14".
    pub place: String,
    /// The sender's code; may be empty.
    pub code: String,
    /// The sender's words.
    pub words: String,
    /// The share of the kit that it stands under; may be empty.
    pub sub_kit: String,
    /// The shipment that it comes in, where known.
    pub shipment: Option<String>,
    /// Pieces; nothing when that cannot be relied on.
    pub quantity: Option<i64>,
}

/// A mark that was counted and is no part of this order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Strange {
    /// The mark as it was counted.
    pub mark: String,
    /// Pieces counted.
    pub received: i64,
}

/// As a mark of which none was ordered: all that came is over.
impl From<&Strange> for MarkReceived {
    fn from(strange: &Strange) -> Self {
        Self {
            mark: strange.mark.clone(),
            description: "no part of this order".into(),
            received: Some(strange.received),
            over: strange.received,
            called_over: strange.received,
            says: format!("{} came and were not ordered", strange.received),
            ..Self::default()
        }
    }
}

/// Why a document cannot be written.
#[derive(Debug, thiserror::Error, PartialEq, Eq)]
pub enum Unwritten {
    /// There is nothing to say.
    #[error(
        "nothing was counted and nothing was found damaged yet: count first, then write what was received"
    )]
    Nothing,
    /// A field that the format needs is not as the format needs it.
    #[error("{field}: {why}")]
    Field {
        /// The field.
        field: &'static str,
        /// What is wrong, and what would be right.
        why: String,
    },
    /// The format cannot hold so much.
    #[error("{what}: {is} are more than the {most} that the format can hold")]
    TooMany {
        /// What there is too much of.
        what: &'static str,
        /// How many there are.
        is: usize,
        /// How many can be held.
        most: usize,
    },
    /// What writes the format failed.
    #[error("the file cannot be made: {0}")]
    Failed(String),
}

impl Received {
    /// Takes it from how a job stands; nothing without an order that can be built. `local` turns a time of the log
    /// into that of the site's clock.
    pub fn of(standing: &Standing, said: Said, local: impl Fn(i64) -> DateTime) -> Option<Self> {
        let ordered = standing.ordered()?;
        let difference = standing.difference.as_ref()?;
        let order = &ordered.order;
        let marks: Vec<MarkReceived> = (difference.marks.iter())
            .map(|mark| mark_received(mark, standing))
            .collect();
        let strange = (difference.strange.iter())
            .map(|(mark, seen)| Strange {
                mark: mark.clone(),
                received: seen.counted,
            })
            .collect();
        let header = Header {
            document: said.document,
            issued: said.issued,
            job: order.name.clone(),
            order_number: order.number.clone().unwrap_or_default(),
            sender: order.sender.clone().unwrap_or_default(),
            receiver: said.receiver,
            site: order.site.clone().unwrap_or_default(),
            shipments: shipments(standing, local),
            log_head: said.log_head,
        };
        let notes = notes(&header, &marks);
        Some(Self {
            header,
            marks,
            strange,
            notes,
        })
    }
}

impl MarkReceived {
    /// How many are rejected: those that cannot be built with.
    pub fn rejected(&self) -> i64 {
        [self.damaged, self.bent, self.wrong]
            .into_iter()
            .fold(0, i64::saturating_add)
    }

    /// Whether anything was seen of it: only then is there something to advise.
    pub fn is_seen(&self) -> bool {
        self.received.is_some() || self.rejected() > 0 || self.wet > 0
    }

    /// The first code that the sender has for it; may be empty.
    pub fn code(&self) -> &str {
        let mut codes = self.rows.iter().map(|row| row.code.as_str());
        codes.find(|code| !code.is_empty()).unwrap_or_default()
    }
}

fn mark_received(of: &MarkDifference, standing: &Standing) -> MarkReceived {
    let on_hand = of.on_hand;
    let counted = on_hand.is_counted();
    let (short, short_at_most) = short(of);
    let told = Told::of(&of.mark, standing);
    let says: Vec<String> = of.verdicts.iter().map(Verdict::in_words).collect();
    MarkReceived {
        mark: of.mark.clone(),
        description: of.description.clone(),
        ordered: of.needed,
        supplied: of.supplied,
        sent: of.listed,
        received: counted.then_some(on_hand.counted),
        good: counted.then(|| on_hand.good()),
        short,
        short_at_most,
        over: of.over(),
        called_short: told.short,
        called_over: told.over,
        likely: told.likely,
        look: told.look,
        damaged: on_hand.damaged,
        bent: on_hand.bent,
        wrong: on_hand.wrong,
        wet: on_hand.wet,
        to_come: of.coming,
        says: says.join("; "),
        rows: rows(&of.mark, standing),
    }
}

/// What the likeliest story says of one mark.
#[derive(Default)]
struct Told {
    short: i64,
    over: i64,
    likely: String,
    look: String,
}

impl Told {
    fn of(mark: &str, standing: &Standing) -> Self {
        let Some(explanation) = standing.explanation() else {
            return Self::default();
        };
        let mut told = Self {
            short: explanation.short(mark),
            over: explanation.over(mark),
            ..Self::default()
        };
        let Some(matter) = explanation.matter(mark) else {
            return told;
        };
        let causes: Vec<String> = matter.best.causes.iter().map(Cause::in_words).collect();
        told.likely = causes.join("; ");
        if matter.nearly_level {
            told.likely.push_str(" (another story is nearly as likely)");
        }
        if let Some(check) = &matter.check {
            told.look.clone_from(&check.words);
        }
        told
    }
}

/// How many are surely short, and how many may be at most.
fn short(of: &MarkDifference) -> (i64, i64) {
    let of_verdict = |verdict: &Verdict| match verdict {
        Verdict::Short(n) => Some((*n, *n)),
        Verdict::ShortBetween { least, most } => Some((*least, *most)),
        Verdict::CouldBeShort(most) => Some((0, *most)),
        _ => None,
    };
    of.verdicts.iter().find_map(of_verdict).unwrap_or_default()
}

fn rows(mark: &str, standing: &Standing) -> Vec<RowReceived> {
    let mut found = Vec::new();
    for list in &standing.lists {
        let of_mark = list.rows.iter().filter(|row| row.mark == mark);
        found.extend(of_mark.map(|row| row_received(&list.seen.name, row)));
    }
    found
}

fn row_received(list: &str, row: &ListedRow) -> RowReceived {
    RowReceived {
        list: list.into(),
        place: row.stands.clone(),
        code: row.code.clone(),
        words: row.description.clone(),
        sub_kit: row.sub_kit.clone(),
        shipment: row.shipment.clone(),
        quantity: row.unclear.is_none().then_some(row.quantity),
    }
}

fn shipments(standing: &Standing, local: impl Fn(i64) -> DateTime) -> Vec<ShipmentReceived> {
    let affairs = &standing.state.affairs;
    // The day that a person wrote down at the truck goes before that of the phone's clock.
    let arrived = |name: &str| {
        let arrival = standing.state.shipment(name)?.arrived.as_ref()?;
        let delivery = affairs.deliveries.get(name);
        let said = delivery.and_then(|delivery| delivery.on.parse().ok());
        Some(said.unwrap_or_else(|| local(arrival.at).date()))
    };
    (standing.shipments.keys())
        .map(|name| {
            let freight = affairs.freight.get(name);
            ShipmentReceived {
                name: name.clone(),
                arrived: arrived(name),
                carrier: freight.map(|f| f.carrier.clone()).unwrap_or_default(),
                bill: freight.map(|f| f.bill.clone()).unwrap_or_default(),
            }
        })
        .collect()
}

fn notes(header: &Header, marks: &[MarkReceived]) -> Vec<String> {
    let mut notes = vec![HOW_COUNTED.to_owned()];
    let not_counted = marks.iter().filter(|m| m.received.is_none()).count();
    if not_counted > 0 {
        notes.push(format!(
            "Not yet counted: {not_counted} of {} marks. Nothing is said of how many of those came.",
            marks.len()
        ));
    }
    let unsure: Vec<String> = (marks.iter())
        .filter(|mark| mark.short_at_most > mark.short)
        .map(|mark| format!("{}: {}", mark.mark, mark.says))
        .collect();
    if !unsure.is_empty() {
        notes.push(format!("Not sure yet: {}.", unsure.join(". ")));
    }
    if !header.log_head.is_empty() {
        notes.push(format!("Log head: {}", header.log_head));
    }
    notes
}
