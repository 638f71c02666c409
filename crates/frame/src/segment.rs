//! The circular segment: what a chord and a rise say about an arc.
//!
//! Formulas of any handbook: `R = h/2 + c²/(8h)`, `θ = 2 acos((R − h)/R)`, `s = Rθ`,
//! `area = R²(θ − sin θ)/2`. The acos form also holds past a half circle, where `2 asin(c/2R)` does not.

/// A circular segment in metres and radians.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Segment {
    /// Straight across, end to end.
    pub chord: f64,
    /// Greatest height over the chord.
    pub rise: f64,
    /// Radius of the circle.
    pub radius: f64,
    /// Angle at the centre.
    pub angle: f64,
}

impl Segment {
    /// The segment over a chord with a rise; nothing unless both are more than nothing and finite.
    pub fn from_chord(chord: f64, rise: f64) -> Option<Self> {
        let possible = chord > 0.0 && rise > 0.0 && chord.is_finite() && rise.is_finite();
        possible.then(|| {
            let radius = rise / 2.0 + chord * chord / (8.0 * rise);
            let angle = 2.0 * ((radius - rise) / radius).acos();
            Self {
                chord,
                rise,
                radius,
                angle,
            }
        })
    }

    /// The segment that an arc of a radius and an angle cuts off.
    pub fn from_arc(radius: f64, angle: f64) -> Self {
        Self {
            chord: 2.0 * radius * (angle / 2.0).sin(),
            rise: radius * (1.0 - (angle / 2.0).cos()),
            radius,
            angle,
        }
    }

    /// Length along the arc.
    pub fn arc(&self) -> f64 {
        self.radius * self.angle
    }

    /// Area between arc and chord.
    pub fn area(&self) -> f64 {
        self.radius * self.radius * (self.angle - self.angle.sin()) / 2.0
    }
}
