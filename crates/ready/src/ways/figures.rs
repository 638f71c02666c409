//! What goes for ways of one kind: the risk and the delay of asking, sums of money, worked days.

use jiff::ToSpan;
use jiff::civil::{Date, Weekday};
use tally::{Money, WayStands};

use super::offer::Asked;
use super::stock::Price;

/// Prices, delays and risks have no source but ourselves.
pub(crate) const OURS: &str = "price, delay and risk: ours, no source";

impl Asked<'_> {
    /// Delay and risk of a way of which the sender is asked first, unless they said yes.
    pub(crate) fn with_answer(
        &self,
        delay: [i64; 2],
        risk: f64,
        stands: Option<WayStands>,
    ) -> ([i64; 2], f64) {
        let setting = &self.of.stock.setting;
        match stands {
            Some(WayStands::Allowed) => (delay, risk),
            _ => (
                [0, 1].map(|end| delay[end] + setting.answer_days[end]),
                either(risk, setting.answer_risk),
            ),
        }
    }

    /// A price as money.
    pub(crate) fn money(&self, price: Price) -> [Money; 2] {
        let currency = self.of.stock.currency;
        let digits = currency.digits();
        price.0.map(|hundredths| Money {
            minor: match digits {
                0 => hundredths / 100,
                2 => hundredths,
                _ => hundredths.saturating_mul(10),
            },
            currency,
        })
    }

    /// Money that was said, as a price, where it is in the currency of the stock.
    pub(crate) fn said_price(&self, money: &Money) -> Option<Price> {
        let currency = self.of.stock.currency;
        let hundredths = match currency.digits() {
            0 => money.minor.saturating_mul(100),
            2 => money.minor,
            _ => money.minor / 10,
        };
        (money.currency == currency).then_some(Price([hundredths; 2]))
    }
}

/// The chance that one of two things goes wrong that have nothing to do with each other.
pub(crate) fn either(one: f64, other: f64) -> f64 {
    1.0 - (1.0 - one) * (1.0 - other)
}

/// How many days from a day on pass until so many worked days are over. Saturdays and Sundays are not worked; holidays
/// are not known here.
pub(crate) fn worked_days(from: Date, days: i64) -> i64 {
    let (mut passed, mut worked) = (0, 0);
    let mut day = from;
    while worked < days {
        let Ok(next) = day.checked_add(1.day()) else {
            break;
        };
        day = next;
        passed += 1;
        if !matches!(day.weekday(), Weekday::Saturday | Weekday::Sunday) {
            worked += 1;
        }
    }
    passed
}
