//! The ends of round tubes in a picture of a bundle, as a proposal that a person corrects.
//!
//! Nothing is known of the tubes but that they are round and that those of a bundle look alike. So common radii are
//! found first, by the votes of all edges (`ring_votes`); then a circle is laid on each place that got votes for about
//! such a radius (`ring_fit`); and last each is held against its fellows (`ring_sure`), which tells an end from a gap
//! between ends. The radius whose circles say most is taken.
//!
//! Known weakness: where a rim is as dark as the gaps, as with rust in shade, a circle may come to lie on the rim on one
//! side and on the edge of the bundle's shadow on the other. It then still tells that a tube is there, but lies up to a
//! quarter of a radius off (`benches/rings_figures.md`). A bundle of which half lies in deep shade may lose ends there.

use image::{DynamicImage, GrayImage};

use crate::ring_fit::{Circle, FAR, NEAR, Passes, fit};
use crate::ring_plane::Plane;
use crate::ring_sure::sureness;
use crate::ring_votes::{Level, Middle, levels, middles};
use crate::{Refused, upright};

/// The longest side of the copy that is looked at: at this size the tubes of a bundle of 91 that takes a third of the
/// picture are still two dozen pixels across.
const LONGEST: u32 = 1400;
/// How many common radii are tried at most, and what share of the best one's votes another must have.
const TRIED: usize = 4;
const RIVAL: f32 = 0.2;
/// More places than this are not looked at for one radius: no bundle has as many, and a picture of gravel would take
/// long.
const MANY: usize = 400;
/// A share of the votes that grain alone reaches: it says nothing about the common radius.
const CHANCE: f32 = 0.3;
/// How far from the common radius one may be, seen at a slant.
const SPREAD: std::ops::Range<f32> = 0.74..1.36;
/// A radius is odd if it is this far from its fellows', as a logarithm; and another circle in its place may be this
/// much fainter.
const ODD: f32 = 0.12;
const FAINTER: f32 = 0.6;
/// A radius is the usual one if it is this near, as a logarithm: one step of those voted for, either way.
const ALIKE: f32 = 0.1;
/// What is not this round, beside the roundest, is not laid again.
const HOPELESS: f32 = 0.5;
/// How often one is laid again.
const AGAIN: usize = 3;
/// What is not this sure is not proposed.
const PROPOSED: f32 = 0.5;

/// A proposed tube end. Lengths are shares of the upright picture's width, so that it can be drawn over a copy of any
/// size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ring {
    /// From the left side to the middle.
    pub x: f32,
    /// From the upper side to the middle; a share of the *width* too, so that circles stay round.
    pub y: f32,
    /// The radius of the rim.
    pub radius: f32,
    /// 0.5 to 1: about this share of such proposals were ends on drawn pictures (`benches/rings_figures.md`). On a real
    /// picture it tells which to look at first; it promises nothing.
    pub sure: f32,
}

/// Returns the tube ends proposed for a photo, decoded within this crate's limits and stood upright.
pub fn rings_in(bytes: &[u8]) -> Result<Vec<Ring>, Refused> {
    let small = upright(bytes, LONGEST)?;
    Ok(rings(&DynamicImage::from(small).into_luma8()))
}

/// Returns the tube ends proposed for a picture that is upright already, from the surest down. Any picture gets an
/// answer, and the same one each time; one without a bundle mostly gets none.
pub fn rings(picture: &GrayImage) -> Vec<Ring> {
    if picture.width() == 0 || picture.height() == 0 {
        return Vec::new();
    }
    let plane = Plane::of(picture, LONGEST);
    let wide = plane.width as f32;
    let levels = levels(plane);
    let middles = middles(&levels);
    let mut best = (0.0, Vec::new());
    for radius in common_radii(&levels, &middles) {
        let circles = circles_about(&levels, &middles, radius);
        let sure = sureness(&circles);
        // the length of edge that is explained: a few large circles may say as much as many small ones
        let worth = circles
            .iter()
            .zip(&sure)
            .map(|(c, s)| c.radius * s)
            .sum::<f32>();
        if worth > best.0 {
            best = (worth, circles.into_iter().zip(sure).collect());
        }
    }
    let mut rings: Vec<Ring> = best
        .1
        .iter()
        .filter(|(_, sure)| *sure >= PROPOSED)
        .map(|&(c, sure)| Ring {
            x: c.x / wide,
            y: c.y / wide,
            radius: c.radius / wide,
            sure,
        })
        .collect();
    rings.sort_by(|a, b| b.sure.total_cmp(&a.sure));
    rings
}

/// The radii that most edges speak for, in pixels of the first level: the tops of the sum of votes over radius.
fn common_radii(levels: &[Level], middles: &[Vec<Middle>]) -> Vec<f32> {
    let mut sums = Vec::with_capacity(middles.len());
    for list in middles {
        let Some(first) = list.first() else {
            sums.push((0.0, 0.0));
            continue;
        };
        let radius = first.radius * levels[first.level].scale;
        let sum: f32 = apart(list, levels, 1.5 * radius)
            .iter()
            .map(|m| (m.share - CHANCE).max(0.0))
            .sum();
        sums.push((sum * radius, radius));
    }
    let sum = |i: Option<usize>| i.and_then(|i| sums.get(i)).map_or(0.0, |s| s.0);
    let mut tops: Vec<(f32, f32)> = (0..sums.len())
        .filter(|&i| sum(Some(i)) > sum(i.checked_sub(1)) && sum(Some(i)) >= sum(Some(i + 1)))
        .map(|i| sums[i])
        .collect();
    tops.sort_by(|a, b| b.0.total_cmp(&a.0));
    let least = tops.first().map_or(0.0, |t| t.0 * RIVAL);
    tops.iter()
        .take(TRIED)
        .filter(|t| t.0 >= least)
        .map(|t| t.1)
        .collect()
}

/// The circles of about this radius, the roundest first, none over a rounder one; in pixels of the first level.
fn circles_about(levels: &[Level], middles: &[Vec<Middle>], radius: f32) -> Vec<Circle> {
    let mut near = Vec::new();
    for list in middles {
        let size = list
            .first()
            .map_or(0.0, |m| m.radius * levels[m.level].scale / radius);
        if SPREAD.contains(&size) {
            near.extend_from_slice(list);
        }
    }
    let mut circles: Vec<(usize, Circle)> = apart(&near, levels, 0.5 * radius)
        .iter()
        .map(|m| (m.level, laid(levels, m, FAR)))
        .collect();
    circles.sort_by(|a, b| b.1.round.total_cmp(&a.1.round));
    let usual = usual_radius(&circles);
    seat(&mut circles, levels, &near, usual);
    for (level, circle) in &mut circles {
        // around a rim may lie another edge, of a shadow or a cap: the radius of its fellows tells which is the rim
        if (circle.radius / usual).ln().abs() > ODD {
            let again = laid_at(levels, *level, (circle.x, circle.y, usual), FAR);
            if again.round > FAINTER * circle.round {
                *circle = again;
            }
        }
    }
    let mut circles: Vec<Circle> = circles.into_iter().map(|c| c.1).collect();
    circles.sort_by(|a, b| b.round.total_cmp(&a.round));
    let mut kept: Vec<Circle> = Vec::new();
    for c in circles {
        if kept
            .iter()
            .all(|k| (k.x - c.x).hypot(k.y - c.y) >= 1.5 * k.radius.min(c.radius))
        {
            kept.push(c);
        }
    }
    kept
}

/// Lays each circle again, from where most edges say that one of the usual radius is; the roundest must come first.
/// A first circle may lie across two edges, on the rim of a dark tube on one side and on the end of its shadow on the
/// other, as each ray takes the strongest edge that it meets.
fn seat(circles: &mut [(usize, Circle)], levels: &[Level], near: &[Middle], usual: f32) {
    let mut alike: Vec<Middle> = near
        .iter()
        .filter(|m| (m.radius * levels[m.level].scale / usual).ln().abs() < ALIKE)
        .copied()
        .collect();
    alike.sort_by(|a, b| b.share.total_cmp(&a.share));
    let worth = circles.first().map_or(0.0, |c| HOPELESS * c.1.round);
    for (level, circle) in circles.iter_mut().take_while(|c| c.1.round >= worth) {
        let (x, y) = (circle.x, circle.y);
        let here = alike.iter().filter(|m| {
            let scale = levels[m.level].scale;
            (m.x * scale - x).hypot(m.y * scale - y) < 0.4 * usual
        });
        for middle in here.take(AGAIN) {
            let again = laid(levels, middle, NEAR);
            if again.round > circle.round {
                (*level, *circle) = (middle.level, again);
            }
        }
    }
}

/// A circle laid on the edge near this middle; in pixels of the first level.
fn laid(levels: &[Level], middle: &Middle, passes: Passes) -> Circle {
    let scale = levels[middle.level].scale;
    let place = (middle.x * scale, middle.y * scale, middle.radius * scale);
    laid_at(levels, middle.level, place, passes)
}

/// A circle laid on the edge near this one, which was found in this level; all in pixels of the first. It is laid in
/// the level below, where a rim that is a pixel wide in this one still has two sides.
fn laid_at(
    levels: &[Level],
    level: usize,
    (x, y, radius): (f32, f32, f32),
    passes: Passes,
) -> Circle {
    let Level { scale, smooth, .. } = &levels[level.saturating_sub(1)];
    let circle = fit(smooth, x / scale, y / scale, radius / scale, passes);
    Circle {
        x: circle.x * scale,
        y: circle.y * scale,
        radius: circle.radius * scale,
        ..circle
    }
}

/// The middle radius of the rounder quarter; the roundest must come first.
fn usual_radius(circles: &[(usize, Circle)]) -> f32 {
    let mut radii: Vec<f32> = circles
        .iter()
        .take(circles.len().div_ceil(4))
        .map(|c| c.1.radius)
        .collect();
    radii.sort_by(f32::total_cmp);
    radii.get(radii.len() / 2).copied().unwrap_or(1.0)
}

/// The middles with most votes, none nearer than `least` to a better one (pixels of the first level).
fn apart(list: &[Middle], levels: &[Level], least: f32) -> Vec<Middle> {
    let mut list = list.to_vec();
    list.sort_by(|a, b| b.share.total_cmp(&a.share));
    let place = |m: &Middle| (m.x * levels[m.level].scale, m.y * levels[m.level].scale);
    let mut kept: Vec<Middle> = Vec::new();
    for middle in list {
        let (x, y) = place(&middle);
        if kept
            .iter()
            .map(place)
            .all(|(kx, ky)| (kx - x).hypot(ky - y) >= least)
        {
            kept.push(middle);
        }
        if kept.len() == MANY {
            break;
        }
    }
    kept
}
