//! Where the bows of a house stand: whole bays, or one of the ways to build a length that has none.

use measure::Length;

use crate::expand::feet_inch;
use crate::family::Family;
use crate::family_file::Uneven;
use crate::order::Order;

/// What the order asks for when the length is no whole number of bays.
pub(crate) fn uneven(order: &Order, family: &Family) -> Result<Option<Uneven>, String> {
    let Some(text) = &order.uneven else {
        return Ok(None);
    };
    let made = &family.size.uneven;
    let found = made.iter().find(|way| way.name() == text);
    found
        .copied()
        .map(Some)
        .ok_or_else(|| match made.as_slice() {
            [] => format!("`{text}` is not made; this house has whole bays only"),
            some => {
                let names: Vec<&str> = some.iter().map(|way| way.name()).collect();
                format!("`{text}` is no choice; there is {}", names.join(", "))
            }
        })
}

/// Two bows nearer to each other than this would touch: tubes are up to 2-3/8 in thick (a design value of our own).
pub(crate) const LEAST_BAY: Length = Length::inches(3);

/// What whole bays leave for a last one, when that is too short for one.
pub(crate) fn too_short_a_bay(
    length: Length,
    spacing: Length,
    uneven: Option<Uneven>,
) -> Option<Length> {
    let whole = length.as_nanometres() / spacing.as_nanometres();
    let last = length - spacing * whole;
    let short = last > Length::ZERO && last < LEAST_BAY.min(spacing);
    (short && uneven == Some(Uneven::ShortLastBay)).then_some(last)
}

/// Where the bows stand; nothing when the bays do not come out and nobody has said what then.
pub(crate) fn stations_of(
    length: Length,
    spacing: Length,
    uneven: Option<Uneven>,
) -> Option<Vec<Length>> {
    let whole = length.as_nanometres() / spacing.as_nanometres();
    let comes_out = spacing * whole == length;
    let mut stations: Vec<Length> = (0..=whole).map(|bow| spacing * bow).collect();
    match uneven {
        _ if comes_out => {}
        None => return None,
        Some(Uneven::ShortLastBay) => stations.push(length),
        Some(Uneven::EqualBays) => {
            let bays = whole + 1;
            stations = (0..=bays)
                .map(|bow| Length::nanometres(length.as_nanometres() * bow / bays))
                .collect();
        }
        // A house shorter than one bay is that one bay.
        Some(Uneven::LongLastBay) => {
            stations.truncate(whole.max(1) as usize);
            stations.push(length);
        }
        // One bay and what is left are halved, so that an end bay is from half a bay to a whole one.
        Some(Uneven::ShortEndBays) => {
            let between = spacing * (whole - 1).max(0);
            let end = Length::nanometres((length - between).as_nanometres() / 2);
            stations = vec![Length::ZERO];
            stations.extend((0..whole).map(|bow| end + spacing * bow));
            stations.push(length);
        }
    }
    Some(stations)
}

pub(crate) fn no_whole_bays(length: Length, spacing: Length, family: &Family) -> String {
    let share = length.to_metres() / spacing.to_metres();
    let ways: Vec<&str> = family.size.uneven.iter().map(|way| way.name()).collect();
    let what = match ways.as_slice() {
        [] => "and a house has whole bays".into(),
        some => format!("so the order must say `uneven`: {}", some.join(" or ")),
    };
    format!(
        "{} is {share:.2} bays of {}, {what}",
        feet_inch(length),
        feet_inch(spacing)
    )
}
