//! How sure it is that a circle is a tube end: what speaks for it alone, and what its fellows say.
//!
//! The ends of a bundle look alike and lie close, so each circle is held against the better ones of the same picture.
//! The five measures are weighed as a logistic regression says that was fitted to 31 926 circles of drawn pictures of
//! every condition (`tests/it/rings_scene.rs`, numbers 100 to 227). Circles are laid better since then, and the weights
//! were rechecked, not fitted again: of 4188 rings on 84 fresh drawn pictures, 37 were said to be less than 0.95 sure,
//! by which 30 should have been true and 32 were. Where round things that are no tubes lie beside the bundle, too much
//! is said: 7 such rings on 12 pictures, 6 should have been true and 1 was. Real pictures are not drawn ones: read it as
//! an order, not as odds.

use crate::ring_fit::{Circle, STOPS};

/// What is known of a circle before it is judged.
#[derive(Clone, Copy, Debug, Default)]
struct Signs {
    /// How far the edge under it is a circle's.
    round: f32,
    /// The same against the better ones of the picture.
    beside_best: f32,
    /// How much its brightness from the middle outwards is like theirs, -1 to 1.
    like: f32,
    /// How many round fellows lie close, 3 at most.
    fellows: f32,
    /// How much rounder than it the roundest circle is that overlaps it.
    crowd: f32,
}

impl Signs {
    /// As the regression weighs them.
    fn sure(&self) -> f32 {
        let sum = -15.3
            + 11.8 * self.round
            + 5.3 * self.beside_best.min(1.1)
            + 2.5 * self.like
            + 2.7 * self.fellows
            - 2.2 * self.crowd;
        1.0 / (1.0 + (-sum).exp())
    }
}

/// How sure each of these circles is an end; the roundest must come first.
pub(crate) fn sureness(circles: &[Circle]) -> Vec<f32> {
    signs(circles).iter().map(Signs::sure).collect()
}

fn signs(circles: &[Circle]) -> Vec<Signs> {
    let better = &circles[..circles.len().div_ceil(4)];
    let Some(best) = better.get(better.len() / 2) else {
        return Vec::new();
    };
    let pattern = pattern(better);
    let mut radii: Vec<f32> = better.iter().map(|c| c.radius).collect();
    radii.sort_by(f32::total_cmp);
    let usual = radii[radii.len() / 2];
    let mut all = Vec::with_capacity(circles.len());
    for (i, circle) in circles.iter().enumerate() {
        let (mut fellows, mut crowd) = (0.0f32, 0.0f32);
        for (_, other) in circles.iter().enumerate().filter(|&(j, _)| j != i) {
            let away = (other.x - circle.x).hypot(other.y - circle.y) / usual;
            if away < 1.75 {
                crowd = crowd.max(other.round / circle.round.max(0.01));
            } else if away < 2.6 {
                fellows += ((other.round - 0.4) / 0.3).clamp(0.0, 1.0);
            }
        }
        all.push(Signs {
            round: circle.round,
            beside_best: circle.round / best.round.max(0.01),
            like: likeness(&levelled(&circle.profile), &pattern),
            fellows: fellows.min(3.0),
            crowd: crowd.min(2.0),
        });
    }
    all
}

/// The brightness of an end from its middle outwards, as the better circles have it.
fn pattern(better: &[Circle]) -> [f32; STOPS] {
    let mut sum = [0.0; STOPS];
    for circle in better {
        sum.iter_mut()
            .zip(levelled(&circle.profile))
            .for_each(|(s, v)| *s += v);
    }
    levelled(&sum)
}

/// With mean 0 and length 1, so that shade and strength of light do not matter.
fn levelled(profile: &[f32; STOPS]) -> [f32; STOPS] {
    let mean = profile.iter().sum::<f32>() / STOPS as f32;
    let off = profile.map(|v| v - mean);
    let length = off.iter().map(|v| v * v).sum::<f32>().sqrt().max(1e-3);
    off.map(|v| v / length)
}

fn likeness(a: &[f32; STOPS], b: &[f32; STOPS]) -> f32 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}
