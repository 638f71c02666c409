//! Readings as people write them.

use measure::{Length, System, Unit};
use tally::{Corner, StakeReading};

use super::CORNERS;

/// The short names of the corners, in the order of [`CORNERS`].
pub const SHORT: [&str; 4] = ["FL", "FR", "BR", "BL"];

/// Reads a length that was measured; a whole number alone is feet, or with metric units a number alone is metres.
///
/// # Errors
/// Says what stood there and what would be right.
pub fn read_measured(text: &str, system: System) -> Result<Length, String> {
    let text = text.trim();
    let bare = match system {
        // "20 1/2" may be 20 ft 1/2 in as well as 20.5 ft.
        System::FeetInch => text
            .bytes()
            .all(|b| b.is_ascii_digit())
            .then_some(Unit::Foot),
        System::Metric => Some(Unit::Metre),
    };
    Length::read(text, bare).map_err(|e| e.to_string())
}

/// Reads `FL-BR 52' 1/2"`, and with the rise where the tape followed a slope: `FL-BR 52' 1/2" rise 8 in`.
///
/// # Errors
/// Says what stood there and what would be right.
pub fn read_reading(text: &str, system: System) -> Result<StakeReading, String> {
    let right = "write two of FL, FR, BR, BL and what the tape reads, such as FL-BR 52' 1/2\"";
    let text = text.trim();
    let said: String = text.chars().take(60).collect();
    let (pair, rest) = text
        .split_once(char::is_whitespace)
        .ok_or_else(|| format!("`{said}` has no length; {right}"))?;
    let corner = |name: &str| -> Option<Corner> {
        let at = SHORT.iter().position(|s| s.eq_ignore_ascii_case(name))?;
        Some(CORNERS[at])
    };
    let ends = pair.split_once('-');
    let ends = ends.and_then(|(from, to)| Some((corner(from)?, corner(to)?)));
    let (from, to) = ends
        .filter(|(from, to)| from != to)
        .ok_or_else(|| format!("`{said}` is not between two corners; {right}"))?;
    let (length, rise) = match rest.split_once("rise") {
        Some((length, rise)) => (length, Some(read_measured(rise, system)?)),
        None => (rest, None),
    };
    Ok(StakeReading {
        from,
        to,
        length: read_measured(length, system)?.as_nanometres(),
        rise: rise.map(Length::as_nanometres),
    })
}
