//! The circular segment: what a chord and a rise say about an arc.
//!
//! Formulas of any handbook: `R = h/2 + c²/(8h)`, `θ = 2 acos((R − h)/R)`, `s = Rθ`,
//! `area = R²(θ − sin θ)/2`. The acos form also holds past a half circle, where `2 asin(c/2R)` does not.
//! Computed is `θ = 4 atan(2h/c)`, the same angle (a quarter of it lies between the chord and the line from its end
//! to the top), which stays exact for the flattest arcs, where acos of nearly 1 does not.

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
        let radius = rise / 2.0 + chord * chord / (8.0 * rise);
        let possible = chord > 0.0 && rise > 0.0 && radius.is_finite();
        possible.then(|| {
            let angle = 4.0 * (2.0 * rise).atan2(chord);
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
            rise: 2.0 * radius * (angle / 4.0).sin().powi(2),
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
