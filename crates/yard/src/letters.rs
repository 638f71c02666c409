//! The letters to the carrier and to the sender, made from how a job stands.

use claim::{Date, Due};
use paper::{
    CarrierClaim, DamageNotice, LetterFacts, Missing, PaperError, Party, Print, ReplacementOrder,
    ReturnList, SenderNotice,
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
        let affairs = &standing.state.affairs;
        let (today, _) = clock::at_site(affairs, of.made);
        let deadlines = Deadlines::of(standing, &clock::site_zone(affairs), today);
        let about = |known: &&Deadlines| !self.is_of_a_shipment() || known.shipment == shipment;
        let dates: Vec<Due<'_>> = (deadlines.iter().filter(about))
            .flat_map(|known| known.due(today))
            .collect();
        let read = |measured: &Measured| read(standing, measured);
        let picture = |picture: &Picture| small_picture(of, picture);
        let facts = LetterFacts {
            from: Party::default(),
            to: Party::default(),
            date: day_said(today),
            reference: String::new(),
            missing: Vec::new(),
            remarks: Vec::new(),
            log_head: of.log_head.to_string(),
            dates: &dates,
            local: &clock::dated,
            read: &read,
            picture: &picture,
        };
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

impl Letter {
    fn says_something(&self) -> bool {
        match self {
            Self::Concealed(notice) => !notice.harm.is_empty(),
            Self::Claim(claim) => !claim.lines.is_empty() || !claim.costs.is_empty(),
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
        missing.sort_by_key(|missing| !missing.must);
        missing
    }

    /// By when it is to be sent, in words, as far as rules and terms say.
    pub fn due(&self) -> &[paper::Due] {
        match self {
            Self::Concealed(notice) => &notice.letter.due,
            Self::Claim(claim) => &claim.letter.due,
            Self::Notice(notice) => &notice.letter.due,
            Self::Replacement(order) => &order.letter.due,
            Self::Returns(list) => &list.letter.due,
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
