//! The letters to the carrier and to the sender, made from how a job stands.

use std::collections::BTreeSet;

use claim::{Date, Due, Zone};
use paper::{
    CarrierClaim, DamageNotice, LetterFacts, Missing, OsdPaper, PaperError, Print,
    ReplacementOrder, ReturnList, SenderNotice,
};
use tally::{Measured, Picture, Standing};

use crate::clock;
use crate::deadlines::Deadlines;
use crate::pages::questions;
use crate::papers::PaperOf;

/// Which letter.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum LetterKind {
    Concealed,
    Claim,
    Notice,
    Replacement,
    Returns,
}

/// A letter, ready to be set.
pub(crate) enum Letter {
    Concealed(DamageNotice),
    Claim(CarrierClaim),
    Notice(SenderNotice),
    Replacement(ReplacementOrder),
    Returns(ReturnList),
}

impl LetterKind {
    /// Whether it goes to the carrier of one shipment.
    pub fn is_of_a_shipment(self) -> bool {
        matches!(self, Self::Concealed | Self::Claim)
    }

    /// Takes the letter from how the job stands; nothing where it would say nothing.
    pub fn of(self, of: &PaperOf<'_>, shipment: &str) -> Option<Letter> {
        let standing = of.standing;
        let known = FactsOf::of(of, |known| {
            !self.is_of_a_shipment() || known.shipment == shipment
        });
        let read = |measured: &Measured| read(standing, measured);
        let picture = |picture: &Picture| small_picture(of, picture);
        let dates = known.dates();
        let facts = known.letter(of, &dates, &read, &picture);
        let letter = match self {
            Self::Concealed => Letter::Concealed(paper::concealed_of(standing, shipment, &facts)?),
            Self::Claim => Letter::Claim(paper::claim_of(standing, shipment, &facts)?),
            Self::Notice => Letter::Notice(paper::notice_of(standing, &facts)?),
            Self::Replacement => Letter::Replacement(paper::replacement_of(standing, &facts)?),
            Self::Returns => Letter::Returns(paper::returns_of(standing, &facts)?),
        };
        letter.says_something().then_some(letter)
    }
}

/// What is known of the shipments that a paper is about.
pub(crate) struct FactsOf {
    zone: Zone,
    today: Date,
    sets: BTreeSet<String>,
    deadlines: Vec<Deadlines>,
}

impl FactsOf {
    pub fn of(of: &PaperOf<'_>, about: impl Fn(&Deadlines) -> bool) -> Self {
        let affairs = &of.standing.state.affairs;
        let zone = clock::site_zone(affairs);
        let (today, _) = clock::at_site(affairs, of.made);
        let mut deadlines = Deadlines::of(of.standing, &zone, today);
        deadlines.retain(about);
        Self {
            sets: (deadlines.iter())
                .flat_map(|known| known.facts.sets.clone())
                .collect(),
            zone,
            today,
            deadlines,
        }
    }

    fn dates(&self) -> Vec<Due<'_>> {
        let due = self.deadlines.iter().map(|known| known.due(self.today));
        due.flatten().collect()
    }

    fn letter<'a>(
        &'a self,
        of: &PaperOf<'_>,
        dates: &'a [Due<'a>],
        read: &'a dyn Fn(&Measured) -> String,
        picture: &'a dyn Fn(&Picture) -> Option<Vec<u8>>,
    ) -> LetterFacts<'a> {
        LetterFacts {
            date: day_said(self.today),
            log_head: of.log_head.to_string(),
            sets: &self.sets,
            dates,
            zone: &self.zone,
            read,
            picture,
        }
    }
}

/// The paper of what was over, short and damaged.
pub(crate) fn osd(of: &PaperOf<'_>) -> Option<OsdPaper> {
    let known = FactsOf::of(of, |_| true);
    let read = |measured: &Measured| read(of.standing, measured);
    let picture = |picture: &Picture| small_picture(of, picture);
    let facts = known.letter(of, &[], &read, &picture);
    paper::osd_of(of.standing, &facts, of.made)
}

impl Letter {
    fn says_something(&self) -> bool {
        match self {
            // One that asks what only a person can say is shown, too: else nobody would be asked.
            Self::Concealed(notice) => !notice.harm.is_empty() || !notice.letter.missing.is_empty(),
            Self::Claim(claim) => {
                let is_open = !claim.letter.missing.is_empty();
                !claim.lines.is_empty() || !claim.costs.is_empty() || is_open
            }
            Self::Notice(notice) => [&notice.short, &notice.over, &notice.wrong, &notice.damaged]
                .iter()
                .any(|rows| !rows.is_empty()),
            Self::Replacement(order) => !order.rows.is_empty(),
            Self::Returns(list) => !list.rows.is_empty(),
        }
    }

    /// What is missing before it may be called complete, what must be there first.
    pub fn missing(&self) -> Vec<Missing> {
        let mut missing = match self {
            Self::Concealed(notice) => notice.missing(),
            Self::Claim(claim) => claim.missing().unwrap_or_default(),
            Self::Notice(notice) => notice.missing(),
            Self::Replacement(order) => order.missing(),
            Self::Returns(list) => list.missing(),
        };
        missing.extend(self.head().missing.iter().cloned());
        missing.sort_by_key(|missing| !missing.must);
        missing
    }

    /// By when it is to be sent, in words, as far as rules and terms say.
    pub fn due(&self) -> &[paper::Due] {
        &self.head().due
    }

    fn head(&self) -> &paper::Letter {
        match self {
            Self::Concealed(notice) => &notice.letter,
            Self::Claim(claim) => &claim.letter,
            Self::Notice(notice) => &notice.letter,
            Self::Replacement(order) => &order.letter,
            Self::Returns(list) => &list.letter,
        }
    }

    pub fn pdf(&self, print: &Print) -> Result<Vec<u8>, PaperError> {
        match self {
            Self::Concealed(notice) => paper::damage_notice(notice, print),
            Self::Claim(claim) => paper::carrier_claim(claim, print),
            Self::Notice(notice) => paper::sender_notice(notice, print),
            Self::Replacement(order) => paper::replacement_order(order, print),
            Self::Returns(list) => paper::return_list(list, print),
        }
    }
}

/// The shipments that letters to carriers are about: those that were handed over, or else are here, or else any.
pub(crate) fn shipments(standing: &Standing) -> Vec<String> {
    let delivered = &standing.state.affairs.deliveries;
    let known = standing.shipments.iter();
    let here = known.filter(|(name, here)| **here || delivered.contains_key(*name));
    let here: Vec<String> = here.map(|(name, _)| name.clone()).collect();
    match here.is_empty() {
        false => here,
        true => vec![
            standing
                .shipments
                .keys()
                .next()
                .cloned()
                .unwrap_or_default(),
        ],
    }
}

fn day_said(day: Date) -> String {
    day.strftime("%-d %B %Y").to_string()
}

/// What was read of a piece, in words.
fn read(standing: &Standing, measured: &Measured) -> String {
    let system = (standing.ordered()).map_or(measure::System::FeetInch, |o| o.frame.system);
    let words = |reading| questions::in_words(reading, system);
    let words: Vec<String> = measured.readings.iter().map(words).collect();
    words.join("; ")
}

/// A small copy, or the picture as it came where this copy of the job has no small one.
fn small_picture(of: &PaperOf<'_>, picture: &Picture) -> Option<Vec<u8>> {
    let job = of.job?;
    let small = job.thumbnail(&picture.photo).ok().flatten();
    small.or_else(|| job.document(&picture.photo).ok().flatten())
}
