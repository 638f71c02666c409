//! How a person finds a pile's place with a tape: from the nearest corner stake of the house.

use super::laydown::Laid;
use super::pile::Pile;
use super::polygon::Point;
use super::site::{Site, said};

/// What the four stakes are called, in the order of the site's corners.
pub(super) const STAKES: [&str; 4] = ["front left", "front right", "back right", "back left"];
/// Nearer than this a pile's side is on the line of the stake, in metres.
const ON_LINE: f64 = 0.05;

/// Where a pile lies, for somebody who stands before the front of the house and looks in.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// "2.10 m left of the front left stake, 4.00 m behind it": the corner of the pile that is nearest to the stake.
    pub corner: String,
    /// How the pile lies from there: "long side along the house".
    pub lies: String,
    /// The same corner by two tapes: "4.52 m from front left, 12.30 m from front right".
    pub tapes: String,
}

/// Where a pile lies, in words.
pub fn found(site: &Site, pile: &Pile, laid: &Laid) -> Found {
    let rect = site.rect(pile, laid);
    let corners = rect.corners();
    let pairs = (0..4).flat_map(|stake| corners.map(|corner| (stake, corner)));
    let away = |(stake, corner): &(usize, Point)| site.corners[*stake].to(*corner);
    let nearest = pairs.min_by(|a, b| away(a).total_cmp(&away(b)));
    let (stake, corner) = nearest.unwrap_or((0, rect.at));
    let off = corner.minus(site.corners[stake]);
    let said = |metres: f64| said(metres, site.system);
    let name = STAKES[stake];
    let across = match off.x {
        x if x.abs() < ON_LINE => None,
        x if x < 0.0 => Some(format!("{} left of", said(-x))),
        x => Some(format!("{} right of", said(x))),
    };
    let along = match off.y {
        y if y.abs() < ON_LINE => None,
        y if y < 0.0 => Some(format!("{} before", said(-y))),
        y => Some(format!("{} behind", said(y))),
    };
    let corner_words = match (across, along) {
        (Some(across), Some(along)) => format!("{across} the {name} stake, {along} it"),
        (Some(one), None) | (None, Some(one)) => format!("{one} the {name} stake"),
        (None, None) => format!("at the {name} stake"),
    };
    // The stake at the other end of the same front or back, so that the tapes cross well.
    let other = [1, 0, 3, 2][stake];
    let tapes = [stake, other].map(|stake| {
        format!(
            "{} from {}",
            said(site.corners[stake].to(corner)),
            STAKES[stake]
        )
    });
    Found {
        corner: corner_words,
        lies: lies(rect.turn),
        tapes: tapes.join(", "),
    }
}

/// How a turn in the plane of the house is told.
fn lies(turn: f64) -> String {
    let degrees = turn.to_degrees().rem_euclid(180.0).round();
    match degrees {
        90.0 => "long side along the house".into(),
        0.0 | 180.0 => "long side across the house".into(),
        d if d < 90.0 => {
            format!("long side {d}° from across the house, its right end farther back")
        }
        d => format!(
            "long side {}° from across the house, its left end farther back",
            180.0 - d
        ),
    }
}
