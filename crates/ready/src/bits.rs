//! A set of small numbers, for graphs.

/// A set of the numbers below a limit.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Bits(Vec<u64>);

impl Bits {
    /// None of the numbers below a limit.
    pub fn none(limit: usize) -> Self {
        Self(vec![0; limit.div_ceil(64)])
    }

    pub fn has(&self, number: usize) -> bool {
        self.0[number / 64] >> (number % 64) & 1 == 1
    }

    pub fn put(&mut self, number: usize) {
        self.0[number / 64] |= 1 << (number % 64);
    }

    pub fn take(&mut self, number: usize) {
        self.0[number / 64] &= !(1 << (number % 64));
    }

    /// Adds all of another set of the same limit.
    pub fn put_all(&mut self, other: &Self) {
        for (word, more) in self.0.iter_mut().zip(&other.0) {
            *word |= more;
        }
    }

    /// Takes away all of another set of the same limit.
    pub fn take_all(&mut self, other: &Self) {
        for (word, less) in self.0.iter_mut().zip(&other.0) {
            *word &= !less;
        }
    }

    /// The numbers, rising.
    pub fn iter(&self) -> impl Iterator<Item = usize> + '_ {
        self.0.iter().enumerate().flat_map(|(index, word)| {
            let mut left = *word;
            std::iter::from_fn(move || {
                let bit = left.trailing_zeros() as usize;
                left &= left.wrapping_sub(1);
                (bit < 64).then_some(index * 64 + bit)
            })
        })
    }
}
