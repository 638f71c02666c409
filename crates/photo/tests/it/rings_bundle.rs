//! Bundles for the drawn pictures: where the tubes lie, how each looks, and from where they are seen.

/// A small seeded source of numbers (splitmix64), so that a picture is the same on every machine and in every year.
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ 0xD1B5_4A32_D192_ED03)
    }

    /// Without stirring, for many at neighbouring numbers.
    pub fn at(state: u64) -> Self {
        Self(state)
    }

    pub fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    pub fn unit(&mut self) -> f32 {
        (self.next() >> 40) as f32 / (1u64 << 24) as f32
    }

    pub fn between(&mut self, low: f32, high: f32) -> f32 {
        low + (high - low) * self.unit()
    }

    pub fn gauss(&mut self) -> f32 {
        (0..6).map(|_| self.unit()).sum::<f32>() * 1.414 - 4.243
    }
}

/// What makes a picture hard. Each is drawn over a wide spread of bundles, lights and walls.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Condition {
    Mild,
    Blur,
    Noise,
    Rust,
    Shade,
    Slant,
    Strap,
    Clutter,
    DarkRim,
    SeeThrough,
    LitInside,
    Cropped,
    Far,
    AllAtOnce,
}

/// A tube of the bundle, in its plane.
pub struct Tube {
    pub u: f32,
    pub v: f32,
    pub radius: f32,
    pub bright: f32,
    pub turn: f32,
    pub nick: f32,
    pub rust: f32,
    pub through: bool,
}

/// 10 to 91 tubes by the number's remainder of 16, hexagonal (whole hexagons of 19, 37, 61, 91 and heaps) or in square or brick rows, a little out of
/// place.
pub fn pack(dice: &mut Dice, condition: Condition, number: u64) -> Vec<Tube> {
    let mut places = Vec::new();
    let brick = 3.0f32.sqrt();
    match number % 4 {
        0 => {
            let ring = [2i32, 3, 4, 5][(number / 4 % 4) as usize];
            for row in -ring..=ring {
                let n = 2 * ring + 1 - row.abs();
                places.extend((0..n).map(|i| ((2 * i - n + 1) as f32, row as f32 * brick)));
            }
        }
        1 => {
            let (columns, rows) = [(5, 2), (6, 4), (8, 6), (10, 9)][(number / 4 % 4) as usize];
            for row in 0..rows {
                places.extend((0..columns).map(|i| (2.0 * i as f32, 2.0 * row as f32)));
            }
        }
        2 => {
            let (columns, rows) = [(4, 3), (7, 4), (9, 5), (11, 8)][(number / 4 % 4) as usize];
            for row in 0..rows {
                let shift = (row % 2) as f32;
                places.extend(
                    (0..columns - row % 2).map(|i| (2.0 * i as f32 + shift, brick * row as f32)),
                );
            }
        }
        _ => {
            // a heap: wide below, narrow above
            let foot = [4, 6, 8, 11][(number / 4 % 4) as usize];
            for row in 0..foot {
                let n = foot - row;
                places.extend((0..n).map(|i| ((2 * i + row) as f32, -brick * row as f32)));
            }
        }
    }
    let middle_u = places.iter().map(|p| p.0).sum::<f32>() / places.len() as f32;
    let middle_v = places.iter().map(|p| p.1).sum::<f32>() / places.len() as f32;
    let loose = dice.between(1.0, 1.06);
    let rust = match condition {
        Condition::Rust => dice.between(0.4, 0.8),
        Condition::AllAtOnce => dice.between(0.2, 0.5),
        _ => dice.between(0.0, 0.1),
    };
    places
        .into_iter()
        .map(|(u, v)| Tube {
            u: (u - middle_u) * loose + dice.gauss() * 0.03,
            v: (v - middle_v) * loose + dice.gauss() * 0.03,
            radius: 1.0 + dice.gauss() * 0.012,
            bright: 1.0 + dice.gauss() * 0.12,
            turn: dice.between(0.0, std::f32::consts::TAU),
            nick: if dice.unit() < 0.15 {
                dice.between(0.2, 0.7)
            } else {
                0.0
            },
            rust: (rust * dice.between(0.5, 1.5)).min(0.95),
            through: condition == Condition::SeeThrough && dice.unit() < 0.7
                || condition == Condition::AllAtOnce && dice.unit() < 0.2,
        })
        .collect()
}

/// The map from the picture's points to the plane of the ends: turn, slant and size.
pub struct View {
    cx: f32,
    cy: f32,
    scale: f32,
    sin: f32,
    cos: f32,
    kx: f32,
    ky: f32,
    squash: f32,
}

impl View {
    pub fn over(
        tubes: &[Tube],
        dice: &mut Dice,
        condition: Condition,
        width: f32,
        height: f32,
    ) -> Self {
        let (mut half_u, mut half_v) = (1.0f32, 1.0f32);
        for tube in tubes {
            half_u = half_u.max(tube.u.abs() + 1.0);
            half_v = half_v.max(tube.v.abs() + 1.0);
        }
        let fill = match condition {
            Condition::Far => dice.between(0.3, 0.42),
            Condition::Cropped => dice.between(1.1, 1.3),
            Condition::AllAtOnce => dice.between(0.5, 0.8),
            _ => dice.between(0.6, 0.92),
        };
        let scale = (width / 2.0 / half_u).min(height / 2.0 / half_v) * fill;
        // across the bundle the size of a tube changes by about this share
        let slant = match condition {
            Condition::Slant => dice.between(0.15, 0.25),
            Condition::AllAtOnce => dice.between(0.05, 0.15),
            _ => dice.between(0.0, 0.05),
        };
        let way = dice.between(0.0, std::f32::consts::TAU);
        let turn = dice.gauss() * 0.06;
        let reach = half_u.max(half_v);
        Self {
            cx: width * dice.between(0.47, 0.53),
            cy: height * dice.between(0.47, 0.53),
            scale,
            sin: turn.sin(),
            cos: turn.cos(),
            kx: slant * way.cos() / (4.0 * reach),
            ky: slant * way.sin() / (4.0 * reach),
            squash: 1.0 - slant * 0.3,
        }
    }

    pub fn to_plane(&self, x: f32, y: f32) -> (f32, f32) {
        let (x, y) = ((x - self.cx) / self.scale, (y - self.cy) / self.scale);
        let (x, y) = (self.cos * x + self.sin * y, self.cos * y - self.sin * x);
        let w = 1.0 + self.kx * x + self.ky * y;
        (x / w, y / (w * self.squash))
    }

    pub fn to_picture(&self, u: f32, v: f32) -> (f32, f32) {
        // x = u w, y = v' w with w = 1 + kx x + ky y, so w = 1 / (1 - kx u - ky v')
        let v = v * self.squash;
        let w = 1.0 / (1.0 - self.kx * u - self.ky * v);
        let (x, y) = (u * w, v * w);
        let (x, y) = (self.cos * x - self.sin * y, self.cos * y + self.sin * x);
        (x * self.scale + self.cx, y * self.scale + self.cy)
    }
}
