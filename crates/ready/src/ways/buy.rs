//! What is bought by the piece or by the area, as it is: fasteners by their size, film by its thickness.

use frame::{Part, Section};
use measure::Length;

use super::figures::{OURS, either};
use super::offer::{Asked, Offer};
use super::stock::{PieceStock, Price, SheetStock};
use super::{Way, WayKind};

/// Sizes this much apart are the same: 1/64 in (ours, no source).
const ALIKE: i64 = 396_875;
/// Thickness of film: half a mil.
const FILM_ALIKE: i64 = 12_700;

/// What can be bought of a mark as it is.
pub(crate) fn bought(asked: &Asked, mark: usize) -> Vec<Offer> {
    let Some(part) = asked.part(mark) else {
        return Vec::new();
    };
    let stock = asked.of.stock;
    let mut offers = Vec::new();
    for piece in stock.pieces.iter().filter(|piece| is_same(piece, part)) {
        offers.extend(by_the_piece(asked, mark, part, piece));
    }
    for sheet in &stock.sheets {
        offers.extend(by_the_area(asked, mark, part, sheet));
    }
    offers
}

/// Whether what a shop has is the same thing: by kind, diameter and length.
fn is_same(stock: &PieceStock, part: &Part) -> bool {
    let diameter = match &part.section {
        Some(Section::Fastener { diameter, .. } | Section::Wire { diameter }) => *diameter,
        _ => return false,
    };
    let length = match part.length {
        Some(length) => has(&stock.lengths, length, ALIKE),
        None => stock.lengths.is_empty(),
    };
    stock.nouns.contains(&part.noun) && has(&stock.diameters, diameter, ALIKE) && length
}

fn has(sizes: &[Length], size: Length, apart: i64) -> bool {
    let alike = |known: &Length| (*known - size).as_nanometres().abs() <= apart;
    sizes.iter().any(alike)
}

/// Once for where nothing is carried, once for anywhere; what carries nothing anywhere needs no leave.
fn by_the_piece(asked: &Asked, mark: usize, part: &Part, stock: &PieceStock) -> Vec<Offer> {
    let missing = asked.missing(mark);
    let light = asked.light(mark).min(missing);
    let words = |pieces: i64, where_to: &str| {
        format!(
            "Buy {pieces} nearby{where_to}: {}. {}.",
            part.description,
            frame::capitalised(stock.says.as_str())
        )
    };
    let source = format!("sizes {}; {OURS}", stock.sure);
    let new = |ask: bool, pieces: i64, says: String| {
        let offer = Bought {
            key: &stock.key,
            says,
            pieces,
            each: stock.each,
            risk: stock.risk,
            ask,
            source: source.clone(),
        };
        offer.of(asked, mark)
    };
    if !stock.loaded || light >= missing {
        return vec![new(false, missing, words(missing, ""))];
    }
    let mut offers = Vec::new();
    if light > 0 {
        let only = ", for the stages after the film only";
        offers.push(new(false, light, words(light, only)));
    }
    offers.push(new(true, missing, words(missing, "")));
    offers
}

/// The narrowest roll that is wide enough.
fn by_the_area(asked: &Asked, mark: usize, part: &Part, stock: &SheetStock) -> Option<Offer> {
    let Some(Section::Film { thickness }) = &part.section else {
        return None;
    };
    let (width, length) = (part.width?, part.length?);
    if (*thickness - stock.film).as_nanometres().abs() > FILM_ALIKE {
        return None;
    }
    // Film may lie either way round.
    let roll = |across: Length, along: Length| {
        let wide = stock.widths.iter().filter(|w| **w >= across).min()?;
        (along <= stock.longest).then(|| (*wide, wide.to_inches() * along.to_inches() / 144.0))
    };
    let ways = [roll(width, length), roll(length, width)];
    let (wide, feet) = (ways.into_iter().flatten()).min_by(|a, b| a.1.total_cmp(&b.1))?;
    let missing = asked.missing(mark);
    let offer = Bought {
        key: &stock.key,
        says: format!(
            "Buy film for {missing} of {}, from a roll {} wide: {}.",
            part.description,
            wide.tape(asked.of.ordered.frame.system),
            stock.says
        ),
        pieces: missing,
        each: stock.square_foot.by(feet),
        risk: stock.risk,
        ask: false,
        source: format!("widths {}; {OURS}", stock.sure),
    };
    Some(offer.of(asked, mark))
}

/// Something bought, before it is an offer.
pub(crate) struct Bought<'a> {
    pub key: &'a str,
    pub says: String,
    pub pieces: i64,
    pub each: Price,
    pub risk: f64,
    pub ask: bool,
    pub source: String,
}

impl Bought<'_> {
    pub(crate) fn of(self, asked: &Asked, mark: usize) -> Offer {
        let setting = &asked.of.stock.setting;
        let key = match self.ask {
            true => format!("ask:buy:{}", self.key),
            false => format!("buy:{}", self.key),
        };
        let stands = asked.said(mark, &key).map(|said| said.stands);
        let (mut delay_days, mut risk) = (setting.trip_days, either(self.risk, setting.trip_risk));
        if self.ask {
            (delay_days, risk) = asked.with_answer(delay_days, risk, stands);
        }
        let cost = Price(self.each.0.map(|each| each.saturating_mul(self.pieces)));
        let trip = setting.trip;
        let cost = Price([0, 1].map(|end| cost.0[end].saturating_add(trip.0[end])));
        Offer {
            mark,
            way: Way {
                key,
                kind: WayKind::Buy,
                says: self.says,
                pieces: self.pieces,
                cost: Some(asked.money(cost)),
                delay_days,
                risk,
                ask_sender: self.ask,
                structural: self.ask,
                stands,
                source: self.source,
            },
            each: self.each,
            trip: true,
            freight: None,
            light: !self.ask && self.pieces < asked.missing(mark),
            made: None,
        }
    }
}
