//! Draws that are the same on every machine and in every year.

/// SplitMix64 (Steele, Lea and Flood 2014).
pub struct Draws(u64);

impl Draws {
    pub fn new(seed: u64) -> Self {
        let mut draws = Self(seed.wrapping_mul(0xd134_2543_de82_ef95));
        draws.next();
        draws
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let z = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A whole number under `n`.
    pub fn under(&mut self, n: usize) -> usize {
        (self.next() % n.max(1) as u64) as usize
    }

    /// A whole number from the one to the other, both included.
    pub fn within(&mut self, least: i64, most: i64) -> i64 {
        least + self.under((most - least + 1).max(1) as usize) as i64
    }

    /// True in so many of a hundred cases.
    pub fn percent(&mut self, chance: usize) -> bool {
        self.under(100) < chance
    }

    /// One of several; nothing of none.
    pub fn one_of<T: Clone>(&mut self, of: &[T]) -> Option<T> {
        let place = self.under(of.len());
        of.get(place).cloned()
    }

    /// The place of one of several that come up as often as their weights say.
    pub fn weighted(&mut self, weights: &[usize]) -> usize {
        let mut left = self.under(weights.iter().sum());
        let drawn = weights.iter().position(|weight| match left < *weight {
            true => true,
            false => {
                left -= weight;
                false
            }
        });
        drawn.unwrap_or(0)
    }
}
