//! Points and directions across the house, with the little algebra that chains of links need.

use std::ops::{Add, Mul, Sub};

/// A point across the house: `x` from the middle line, `z` over the ground, in metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Across {
    /// From the middle line, left negative.
    pub x: f64,
    /// Over the ground.
    pub z: f64,
}

impl Across {
    pub(crate) const ZERO: Self = Self { x: 0.0, z: 0.0 };

    /// One metre in a direction, radians over the horizontal.
    pub(crate) fn towards(heading: f64) -> Self {
        let (z, x) = heading.sin_cos();
        Self { x, z }
    }

    pub(crate) fn scaled(self, by: f64) -> Self {
        Self {
            x: self.x * by,
            z: self.z * by,
        }
    }

    pub(crate) fn mirrored(self) -> Self {
        Self {
            x: -self.x,
            z: self.z,
        }
    }

    pub(crate) fn length(self) -> f64 {
        self.x.hypot(self.z)
    }

    pub(crate) fn heading(self) -> f64 {
        self.z.atan2(self.x)
    }

    /// How far `other` reaches along this, times this one's length.
    pub(crate) fn dot(self, other: Self) -> f64 {
        self.x * other.x + self.z * other.z
    }

    /// How far `other` reaches to the left of this, times this one's length.
    pub(crate) fn cross(self, other: Self) -> f64 {
        self.x * other.z - self.z * other.x
    }

    /// The angle that turns this into the direction of `other`.
    pub(crate) fn turn_to(self, other: Self) -> f64 {
        self.cross(other).atan2(self.dot(other))
    }
}

impl Add for Across {
    type Output = Self;

    fn add(self, other: Self) -> Self {
        Self {
            x: self.x + other.x,
            z: self.z + other.z,
        }
    }
}

impl Sub for Across {
    type Output = Self;

    fn sub(self, other: Self) -> Self {
        self + other.scaled(-1.0)
    }
}

/// Turns and scales, as complex numbers multiply.
impl Mul for Across {
    type Output = Self;

    fn mul(self, other: Self) -> Self {
        Self {
            x: self.x * other.x - self.z * other.z,
            z: self.x * other.z + self.z * other.x,
        }
    }
}
