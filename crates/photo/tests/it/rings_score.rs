//! Rings held against the ends that a picture was drawn from.

use super::rings_scene::End;
use photo::Ring;

/// An end must be found when at least this share of its rim can be seen; one seen less may be found or not.
pub const MUST: f32 = 0.6;

/// Counts over one picture or many.
#[derive(Clone, Debug, Default)]
pub struct Tally {
    pub pictures: u32,
    /// Pictures whose count is right: all ends found, and nothing else.
    pub exact: u32,
    pub wanted: u32,
    pub found: u32,
    pub wrong: u32,
    /// How far the middles of found ends are off, in radii, added up.
    pub off: f32,
    /// Each judged ring: how sure it was said to be, and whether it is true.
    pub sureness: Vec<(f32, bool)>,
}

impl Tally {
    pub fn recall(&self) -> f32 {
        if self.wanted == 0 {
            1.0
        } else {
            self.found as f32 / self.wanted as f32
        }
    }

    pub fn precision(&self) -> f32 {
        if self.found + self.wrong == 0 {
            1.0
        } else {
            self.found as f32 / (self.found + self.wrong) as f32
        }
    }

    pub fn add(&mut self, other: &Self) {
        self.pictures += other.pictures;
        self.exact += other.exact;
        self.wanted += other.wanted;
        self.found += other.found;
        self.wrong += other.wrong;
        self.off += other.off;
    }
}

/// A ring is true if its middle lies within 0.35 radii of an end's and its radius is the end's within a quarter; each
/// end takes one ring only, the nearest, so that a second ring on an end counts as wrong.
pub fn judge(rings: &[Ring], ends: &[End], width: u32) -> Tally {
    let wide = width as f32;
    let mut tally = Tally {
        pictures: 1,
        ..Tally::default()
    };
    tally.wanted = ends.iter().filter(|e| e.seen >= MUST).count() as u32;
    let mut pairs = Vec::new();
    for (r, ring) in rings.iter().enumerate() {
        for (e, end) in ends.iter().enumerate() {
            let away = (ring.x * wide - end.x).hypot(ring.y * wide - end.y) / end.radius;
            let size = ring.radius * wide / end.radius;
            if away < 0.35 && (0.75..1.25).contains(&size) {
                pairs.push((away, r, e));
            }
        }
    }
    pairs.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (mut of_ring, mut taken) = (vec![None; rings.len()], vec![false; ends.len()]);
    for (away, r, e) in pairs {
        if of_ring[r].is_none() && !taken[e] {
            of_ring[r] = Some((away, e));
            taken[e] = true;
        }
    }
    for (ring, end) in rings.iter().zip(of_ring) {
        match end {
            Some((_, e)) if ends[e].seen < MUST => continue,
            Some((away, _)) => {
                tally.found += 1;
                tally.off += away;
            }
            None => tally.wrong += 1,
        }
        tally.sureness.push((ring.sure, end.is_some()));
    }
    tally.exact = u32::from(tally.wrong == 0 && tally.found == tally.wanted);
    tally
}
