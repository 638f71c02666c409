//! The same quantity read more than once.
//!
//! A piece that is 1/8 in long is so however often it is measured: its own deviation is shared by all readings of it,
//! by whatever tool, and only the tools' errors are not. So the chance of all readings together is the integral, over
//! how the piece may be, of the product of their chances.

use crate::error_model::UNKNOWN_AGAIN;
use crate::kit::SizeOf;
use crate::normal;
use crate::readable::Spread;
use crate::way::Shown;

/// Of one quantity no more readings than this count, the last ones.
pub(crate) const MOST_READINGS: usize = 6;

/// The chance of these readings of one quantity, together.
pub(crate) fn chance(shown: &[Shown], of: SizeOf) -> f64 {
    match (of.spread, shown) {
        (_, []) => 1.0,
        (Some(spread), [only]) => {
            let times = only.way.times(of.around);
            let mean = spread.mean * times;
            let sd = (spread.sd * times).hypot(only.way.error(mean, of.bent));
            only.chance(mean, sd)
        }
        (Some(spread), _) => of_known(shown, spread, of.around, of.bent),
        (None, [first, after @ ..]) => of_unknown(first, after, of.around, of.bent),
    }
}

/// Of what has no such size, or none that the list tells: the first is anything, those after it scatter about it.
fn of_unknown(first: &Shown, after: &[Shown], around: f64, bent: bool) -> f64 {
    let size = first.count as f64 * first.way.step() / first.way.times(around);
    let first_off = first
        .way
        .error(size, bent)
        .hypot(first.way.step() * UNKNOWN_AGAIN);
    let mut chance = first.any;
    for then in after {
        let way = then.way;
        let times = way.times(around);
        let sd = (first_off / first.way.times(around) * times).hypot(way.error(size * times, bent));
        chance *= then.chance(size * times, sd);
    }
    chance
}

/// The integral over the sizes that the piece may have, by the trapezoidal rule: on a normal curve with steps of 0.8
/// spreads it is right to thirteen places, and the product of n curves is no narrower than the narrowest by √n.
/// Where none of the readings could be right they are all mistaken, and their chance does not depend on the size;
/// there is no need to go there.
fn of_known(shown: &[Shown], size: Spread, around: f64, bent: bool) -> f64 {
    let errors = |s: &Shown| s.way.error(size.mean * s.way.times(around), bent);
    let each: Vec<(&Shown, f64, f64)> = (shown.iter())
        .map(|s| (s, s.way.times(around), errors(s)))
        .collect();
    let narrowest = (each.iter())
        .map(|(_, times, error)| error / times)
        .fold(size.sd, f64::min);
    let step = 0.8 * narrowest / (shown.len() as f64 + 1.0).sqrt();
    let together = |at: f64| -> f64 {
        let chances = each
            .iter()
            .map(|(s, times, error)| s.chance(at * times, *error));
        chances.product()
    };
    let mut chance = 0.0;
    let mut share_gone_over = 0.0;
    for (from, to) in windows(shown, size, around, &errors) {
        let steps = ((to - from) / step).ceil().max(1.0);
        let wide = (to - from) / steps;
        for i in 0..=steps as usize {
            let at = from + i as f64 * wide;
            let ends = if i == 0 || i == steps as usize {
                0.5
            } else {
                1.0
            };
            chance += ends * wide * normal::density(size.mean, size.sd, at) * together(at);
        }
        share_gone_over += normal::between(size.mean, size.sd, from, to);
    }
    let all_mistaken: f64 = (shown.iter()).map(Shown::chance_mistaken).product();
    chance + (1.0 - share_gone_over).max(0.0) * all_mistaken
}

/// The stretches of sizes at which one of the readings could be right or off by a slip; they do not overlap.
fn windows(
    shown: &[Shown],
    size: Spread,
    around: f64,
    errors: &dyn Fn(&Shown) -> f64,
) -> Vec<(f64, f64)> {
    const FAR: f64 = 7.0;
    let (least, most) = (size.mean - FAR * size.sd, size.mean + FAR * size.sd);
    let mut windows: Vec<(f64, f64)> = Vec::new();
    for s in shown {
        let times = s.way.times(around);
        let half = FAR * errors(s) + s.way.step();
        let read = s.count as f64 * s.way.step();
        for off in s
            .way
            .middles(size.mean * times)
            .map(|m| m - size.mean * times)
        {
            let low = if s.count <= 0 {
                f64::NEG_INFINITY
            } else {
                read - off - half
            };
            let past = s.count > s.way.last();
            let high = if past {
                f64::INFINITY
            } else {
                read - off + half
            };
            let (low, high) = ((low / times).max(least), (high / times).min(most));
            if low < high {
                windows.push((low, high));
            }
        }
    }
    windows.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut apart: Vec<(f64, f64)> = Vec::new();
    for (low, high) in windows {
        match apart.last_mut() {
            Some(last) if low <= last.1 => last.1 = last.1.max(high),
            _ => apart.push((low, high)),
        }
    }
    apart
}
