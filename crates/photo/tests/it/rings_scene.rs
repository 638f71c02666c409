//! Drawn pictures of the ends of bundles of round tubes, with the truth beside them: what the ring finder is measured
//! on. Ours, seeded, and drawn without any code of the finder.
//!
//! A picture is drawn backwards: each of its points is carried by a perspective map into the plane of the bundle's end,
//! where the unit is the radius of a tube, and takes the colour of what is there. Walls, lights and damage are common
//! practice or guesses from memory, no source.

use std::collections::HashMap;

use image::{Rgb, RgbImage};

pub use super::rings_bundle::{Condition, Dice};
use super::rings_bundle::{Tube, View, pack};

/// A tube end that is in the picture: centre and outer radius in pixels, and the share of its rim that can be seen.
#[derive(Clone, Copy, Debug)]
pub struct End {
    pub x: f32,
    pub y: f32,
    pub radius: f32,
    pub seen: f32,
}

/// A drawn picture and what is in it.
pub struct Drawn {
    pub picture: RgbImage,
    pub ends: Vec<End>,
}

/// Draws the picture of this condition and number, of this width (4:3).
pub fn draw(condition: Condition, number: u64, width: u32) -> Drawn {
    let mut dice = Dice::new(number * 31 + condition as u64);
    let height = width * 3 / 4;
    let tubes = pack(&mut dice, condition, number);
    let view = View::over(&tubes, &mut dice, condition, width as f32, height as f32);
    let scene = Scene::new(
        tubes,
        view,
        &mut dice,
        condition,
        width as f32,
        height as f32,
    );
    let mut colours = scene.colours(width, height);
    blur(&mut colours, width as usize, height as usize, scene.blur);
    let picture = RgbImage::from_fn(width, height, |x, y| {
        let c = colours[(y * width + x) as usize];
        let grain = scene.noise * dice.gauss();
        Rgb(c.map(|v| (v + grain + scene.noise * 0.4 * dice.gauss()).clamp(0.0, 255.0) as u8))
    });
    Drawn {
        picture,
        ends: scene.ends(width as f32, height as f32),
    }
}

/// A band or a sheet that lies over the ends, in the plane: a middle, a direction and half sizes.
struct Cover {
    u: f32,
    v: f32,
    cos: f32,
    sin: f32,
    long: f32,
    wide: f32,
    shade: f32,
}

impl Cover {
    fn hides(&self, u: f32, v: f32) -> bool {
        let (u, v) = (u - self.u, v - self.v);
        (self.cos * u + self.sin * v).abs() < self.long
            && (self.cos * v - self.sin * u).abs() < self.wide
    }
}

struct Scene {
    tubes: Vec<Tube>,
    view: View,
    covers: Vec<Cover>,
    clutter: Vec<Cover>,
    wheels: Vec<(f32, f32, f32, f32)>,
    wall: f32,
    rim: f32,
    hole: f32,
    gap: f32,
    lit: f32,
    light: f32,
    ground: f32,
    shadow: (f32, f32, f32, f32),
    blur: f32,
    noise: f32,
    salt: u64,
    near: HashMap<(i32, i32), Vec<usize>>,
}

impl Scene {
    fn new(
        tubes: Vec<Tube>,
        view: View,
        dice: &mut Dice,
        condition: Condition,
        width: f32,
        height: f32,
    ) -> Self {
        use Condition::*;
        let reach = tubes
            .iter()
            .map(|t| t.u.hypot(t.v) + 1.0)
            .fold(2.0, f32::max);
        let dark_rim = condition == DarkRim;
        let mut covers = Vec::new();
        if matches!(condition, Strap | AllAtOnce) {
            for _ in 0..1 + (dice.next() % 2) {
                let way = dice.between(-0.3, 0.3)
                    + if dice.unit() < 0.5 {
                        std::f32::consts::FRAC_PI_2
                    } else {
                        0.0
                    };
                let side = dice.between(-0.5, 0.5) * reach;
                covers.push(Cover {
                    u: -way.sin() * side,
                    v: way.cos() * side,
                    cos: way.cos(),
                    sin: way.sin(),
                    long: reach * 1.3,
                    wide: dice.between(0.15, 0.4),
                    shade: if dice.unit() < 0.5 {
                        dice.between(20.0, 60.0)
                    } else {
                        dice.between(120.0, 210.0)
                    },
                });
            }
        }
        let mut clutter = Vec::new();
        let mut wheels = Vec::new();
        if matches!(condition, Clutter | AllAtOnce) {
            for _ in 0..60 {
                let way = dice.between(0.0, std::f32::consts::PI);
                let (x, y) = (dice.between(0.0, width), dice.between(0.0, height));
                let (u, v) = view.to_plane(x, y);
                clutter.push(Cover {
                    u,
                    v,
                    cos: way.cos(),
                    sin: way.sin(),
                    long: dice.between(0.3, 6.0),
                    wide: dice.between(0.1, 1.2),
                    shade: dice.between(20.0, 230.0),
                });
            }
            for _ in 0..3 {
                let (u, v) = view.to_plane(dice.between(0.0, width), dice.between(0.0, height));
                wheels.push((u, v, dice.between(0.3, 3.5), dice.between(30.0, 220.0)));
            }
        }
        let way = dice.between(0.0, std::f32::consts::TAU);
        let (gain, hard) = match condition {
            Shade => (dice.between(0.65, 0.85), dice.between(0.3, 0.55)),
            AllAtOnce => (dice.between(0.3, 0.6), dice.between(0.5, 0.8)),
            _ => (dice.between(0.0, 0.25), 1.0),
        };
        let mut scene = Self {
            view,
            covers,
            clutter,
            wheels,
            wall: dice.between(0.06, 0.16),
            rim: if dark_rim {
                dice.between(30.0, 60.0)
            } else {
                dice.between(130.0, 215.0)
            },
            hole: if dark_rim {
                dice.between(95.0, 140.0)
            } else {
                dice.between(12.0, 45.0)
            },
            gap: if dark_rim {
                dice.between(60.0, 120.0)
            } else {
                dice.between(10.0, 60.0)
            },
            lit: match condition {
                LitInside => dice.between(80.0, 130.0),
                DarkRim => dice.between(0.0, 30.0),
                _ => dice.between(0.0, 50.0),
            },
            light: dice.between(0.0, std::f32::consts::TAU),
            ground: dice.between(60.0, 170.0),
            shadow: (way.cos(), way.sin(), gain, hard),
            blur: match condition {
                Blur => dice.between(2.0, 3.5),
                AllAtOnce => dice.between(1.0, 1.8),
                _ => dice.between(0.5, 0.9),
            } * width
                / 1280.0,
            noise: match condition {
                Noise => dice.between(16.0, 28.0),
                AllAtOnce => dice.between(6.0, 10.0),
                _ => dice.between(2.0, 5.0),
            },
            salt: dice.next(),
            near: HashMap::new(),
            tubes,
        };
        for i in 0..scene.tubes.len() {
            let cell = scene.cell(scene.tubes[i].u, scene.tubes[i].v);
            scene.near.entry(cell).or_default().push(i);
        }
        scene
    }

    /// The ends whose middle is in or near the picture.
    fn ends(&self, width: f32, height: f32) -> Vec<End> {
        let mut ends = Vec::new();
        for tube in &self.tubes {
            let (x, y) = self.view.to_picture(tube.u, tube.v);
            let (mut radius, mut seen) = (0.0, 0.0);
            for i in 0..72 {
                let turn = i as f32 / 72.0 * std::f32::consts::TAU;
                let (u, v) = (
                    tube.u + tube.radius * turn.cos(),
                    tube.v + tube.radius * turn.sin(),
                );
                let (px, py) = self.view.to_picture(u, v);
                radius += (px - x).hypot(py - y) / 72.0;
                let inside = px >= 0.0 && py >= 0.0 && px < width && py < height;
                if inside && !self.covers.iter().any(|c| c.hides(u, v)) {
                    seen += 1.0 / 72.0;
                }
            }
            if seen > 0.0 {
                ends.push(End { x, y, radius, seen });
            }
        }
        ends
    }

    fn colours(&self, width: u32, height: u32) -> Vec<[f32; 3]> {
        let mut all = Vec::with_capacity((width * height) as usize);
        for y in 0..height {
            for x in 0..width {
                let (u, v) = self.view.to_plane(x as f32 + 0.5, y as f32 + 0.5);
                let mut sum = [0.0f32; 3];
                if self.nearest(u, v).is_none() {
                    sum = self.at(u, v);
                } else {
                    for (dx, dy) in [(0.25, 0.25), (0.75, 0.25), (0.25, 0.75), (0.75, 0.75)] {
                        let (u, v) = self.view.to_plane(x as f32 + dx, y as f32 + dy);
                        let c = self.at(u, v);
                        (0..3).for_each(|i| sum[i] += c[i] / 4.0);
                    }
                }
                let sun = self.sun(
                    x as f32 / width as f32 - 0.5,
                    y as f32 / height as f32 - 0.5,
                );
                all.push(sum.map(|v| v * sun));
            }
        }
        all
    }

    /// The light falls off across the picture, and a hard shadow may lie over one side of it.
    fn sun(&self, x: f32, y: f32) -> f32 {
        let (cos, sin, gain, hard) = self.shadow;
        let along = cos * x + sin * y;
        let soft = 1.0 - gain * (along + 0.5).clamp(0.0, 1.0);
        let edge =
            ((along - 0.02 + 0.05 * (9.0 * (cos * y - sin * x)).sin()) * 60.0).clamp(0.0, 1.0);
        soft * (1.0 - edge * (1.0 - hard))
    }

    fn at(&self, u: f32, v: f32) -> [f32; 3] {
        if let Some(cover) = self.covers.iter().find(|c| c.hides(u, v)) {
            return grey(cover.shade + 12.0 * self.grain(u * 3.0, v * 3.0));
        }
        match self.nearest(u, v) {
            Some((away, tube)) if away < 1.0 => self.end(tube, u, v, away),
            Some((away, _)) if away < 1.25 => grey(self.gap + 14.0 * self.grain(u * 2.0, v * 2.0)),
            _ => self.behind(u, v),
        }
    }

    /// The tube whose middle is nearest, and how many of its radii away, if it is near at all.
    fn nearest(&self, u: f32, v: f32) -> Option<(f32, &Tube)> {
        let (column, row) = self.cell(u, v);
        let mut nearest = None;
        for cell in (-1..=1).flat_map(|dy| (-1..=1).map(move |dx| (column + dx, row + dy))) {
            for &i in self.near.get(&cell).into_iter().flatten() {
                let tube: &Tube = &self.tubes[i];
                let away = (u - tube.u).hypot(v - tube.v) / tube.radius;
                if away < 1.4 && nearest.is_none_or(|(least, _)| away < least) {
                    nearest = Some((away, tube));
                }
            }
        }
        nearest
    }

    fn cell(&self, u: f32, v: f32) -> (i32, i32) {
        ((u / 1.5).floor() as i32, (v / 1.5).floor() as i32)
    }

    fn end(&self, tube: &Tube, u: f32, v: f32, away: f32) -> [f32; 3] {
        let turn = (v - tube.v).atan2(u - tube.u);
        if away < 1.0 - self.wall {
            if tube.through && (u - tube.u - 0.1).hypot(v - tube.v + 0.08) < 0.34 {
                return [165.0, 180.0, 190.0];
            }
            // the wall within catches light on the side away from it, more so near the mouth
            let facing = (turn - self.light).cos().max(0.0);
            return grey(
                self.hole + self.lit * facing * away * away + 6.0 * self.grain(u * 4.0, v * 4.0),
            );
        }
        let mut rim = self.rim * tube.bright * (1.0 + 0.18 * (turn - tube.turn).cos());
        if ((turn - tube.turn * 1.7).cos() * 0.5 + 0.5) > 1.0 - tube.nick * 0.3 {
            rim *= 0.55;
        }
        rim += 18.0 * self.grain(u * 9.0, v * 9.0);
        let eaten = (tube.rust + 0.5 * self.grain(u * 3.1 + 40.0, v * 3.1)).clamp(0.0, 1.0)
            * tube.rust.sqrt();
        let tint = [0.62, 0.36, 0.22];
        [0, 1, 2].map(|i| rim * (1.0 - eaten + eaten * tint[i]))
    }

    fn behind(&self, u: f32, v: f32) -> [f32; 3] {
        for &(wu, wv, radius, shade) in &self.wheels {
            let away = (u - wu).hypot(v - wv);
            if away < radius {
                return grey(if away > radius * 0.8 {
                    shade
                } else {
                    250.0 - shade
                });
            }
        }
        if let Some(thing) = self.clutter.iter().find(|c| c.hides(u, v)) {
            return grey(thing.shade + 10.0 * self.grain(u * 3.0, v * 3.0));
        }
        let wave = 26.0 * self.grain(u * 0.7, v * 0.7) + 16.0 * self.grain(u * 2.9, v * 2.9);
        [
            self.ground + wave,
            self.ground + wave,
            (self.ground + wave) * 0.9,
        ]
    }

    /// Smooth noise in -1..1.
    fn grain(&self, u: f32, v: f32) -> f32 {
        let (iu, iv) = (u.floor(), v.floor());
        let (fu, fv) = (u - iu, v - iv);
        let at = |du: f32, dv: f32| {
            let cell = ((iu + du) as i64 as u64).wrapping_mul(0x9E37_79B1)
                ^ ((iv + dv) as i64 as u64) << 32;
            Dice::at(cell ^ self.salt).unit() * 2.0 - 1.0
        };
        let (su, sv) = (fu * fu * (3.0 - 2.0 * fu), fv * fv * (3.0 - 2.0 * fv));
        let (top, bottom) = (
            at(0.0, 0.0) * (1.0 - su) + at(1.0, 0.0) * su,
            at(0.0, 1.0) * (1.0 - su) + at(1.0, 1.0) * su,
        );
        top * (1.0 - sv) + bottom * sv
    }
}

fn grey(v: f32) -> [f32; 3] {
    [v; 3]
}

/// A gaussian blur, one way and then the other.
fn blur(colours: &mut [[f32; 3]], width: usize, height: usize, sigma: f32) {
    let half = (sigma * 3.0).ceil() as isize;
    let mut kernel: Vec<f32> = (-half..=half)
        .map(|i| (-0.5 * (i as f32 / sigma).powi(2)).exp())
        .collect();
    let sum: f32 = kernel.iter().sum();
    kernel.iter_mut().for_each(|k| *k /= sum);
    for (lines, length, step, stride) in [(height, width, 1, width), (width, height, width, 1)] {
        let mut line = vec![[0.0f32; 3]; length];
        for l in 0..lines {
            for (i, c) in line.iter_mut().enumerate() {
                *c = colours[l * stride + i * step];
            }
            for i in 0..length {
                let mut sum = [0.0f32; 3];
                for (k, weight) in kernel.iter().enumerate() {
                    let from =
                        (i as isize + k as isize - half).clamp(0, length as isize - 1) as usize;
                    (0..3).for_each(|c| sum[c] += weight * line[from][c]);
                }
                colours[l * stride + i * step] = sum;
            }
        }
    }
}
