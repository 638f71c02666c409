//! What the sender sends: what was promised already, and the fastest freight there is.

use tally::WayStands;

use super::figures::{OURS, worked_days};
use super::offer::{Asked, Offer};
use super::stock::Price;
use super::{Way, WayKind};
use crate::supply::{Coming, ComingIs};

/// What a job calls the fast freight among its costs.
pub const FAST_FREIGHT: &str = "next-day freight";
/// Its key.
pub(crate) const FREIGHT_KEY: &str = "ask:freight";
/// From this chance on something that comes is as good as here.
const NEARLY_SURE: f64 = 0.9;

/// What was promised of a mark: one way a shipment.
pub(crate) fn promised(asked: &Asked, mark: usize) -> Vec<Offer> {
    let supplies = asked.of.supplies;
    let shares = supplies.marks.get(mark).map_or(&[][..], |s| &s.shares);
    (shares.iter())
        .filter_map(|share| Some((share, supplies.coming.get(share.with?)?)))
        .filter(|(share, coming)| {
            share.pieces > 0 && matches!(coming.is, ComingIs::Shipment | ComingIs::Sent)
        })
        .filter_map(|(share, coming)| {
            let (delay_days, risk) = when(asked, coming)?;
            let key = format!("wait:{}", coming.name);
            let pieces = share.pieces.min(asked.missing(mark));
            let stands = asked.said(mark, &key).map(|said| said.stands);
            Some(Offer {
                mark,
                way: Way {
                    says: format!("Wait for {pieces} in {}: {}", coming.name, coming.says),
                    key,
                    kind: WayKind::Wait,
                    pieces,
                    cost: None,
                    delay_days,
                    risk,
                    ask_sender: false,
                    structural: false,
                    stands,
                    source: format!("days: {}", coming.says),
                },
                each: Price::default(),
                trip: false,
                freight: None,
                light: false,
                made: None,
            })
        })
        .collect()
}

/// The first day that is at all likely, the day by which it is nearly sure, and the chance that it is not here then.
fn when(asked: &Asked, coming: &Coming) -> Option<([i64; 2], f64)> {
    let days = |day| {
        let span = asked.of.today.until(day);
        span.map_or(0, |span| i64::from(span.get_days()).max(0))
    };
    let (first, _) = coming.here_by.iter().find(|(_, chance)| *chance > 0.0)?;
    let sure = coming
        .here_by
        .iter()
        .find(|(_, chance)| *chance >= NEARLY_SURE);
    let (last, chance) = sure.or(coming.here_by.last())?;
    Some(([days(*first), days(*last)], (1.0 - chance).clamp(0.0, 1.0)))
}

/// Sent again, with one freight for all that comes with it.
pub(crate) fn sent_fast(asked: &Asked, mark: usize) -> Option<Offer> {
    let part = asked.part(mark)?;
    let setting = &asked.of.stock.setting;
    let long = part.length.is_some_and(|length| length > setting.long);
    let key = FREIGHT_KEY.to_owned();
    let stands = asked.said(mark, &key).map(|said| said.stands);
    let worked = setting.freight_days.map(|d| worked_days(asked.of.today, d));
    let (delay_days, risk) = asked.with_answer(worked, setting.freight_risk, stands);
    let price = freight_price(asked, long);
    let pieces = asked.missing(mark);
    let of_long = match (long, said(asked)) {
        (_, Some(_)) => "price as said in this job",
        (true, None) => "longer than a parcel may be",
        (false, None) => "goes as a parcel",
    };
    Some(Offer {
        mark,
        way: Way {
            key,
            kind: WayKind::Freight,
            says: format!(
                "Ask the sender to send {pieces} {} by {FAST_FREIGHT} ({of_long}); one freight for all that comes with it.",
                asked.short_name(mark)
            ),
            pieces,
            cost: Some(asked.money(price)),
            delay_days,
            risk,
            ask_sender: true,
            structural: false,
            stands,
            source: match said(asked) {
                Some(_) => "price: as said in this job; delay and risk: ours, no source".into(),
                None => OURS.into(),
            },
        },
        each: Price::default(),
        trip: false,
        freight: Some(long),
        light: false,
        made: None,
    })
}

/// What the fast freight costs: as said in the job, else ours.
pub(crate) fn freight_price(asked: &Asked, long: bool) -> Price {
    let setting = &asked.of.stock.setting;
    let ours = if long {
        setting.freight_long
    } else {
        setting.freight
    };
    said(asked).unwrap_or(ours)
}

fn said(asked: &Asked) -> Option<Price> {
    let costs = &asked.of.state.affairs.costs;
    let said = costs
        .iter()
        .find(|(of, _)| of.trim().eq_ignore_ascii_case(FAST_FREIGHT));
    asked.said_price(said?.1)
}

/// Whether a way is out.
pub(crate) fn is_out(stands: Option<WayStands>) -> bool {
    matches!(stands, Some(WayStands::Refused | WayStands::Dropped))
}
