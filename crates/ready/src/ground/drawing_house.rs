//! The house to come on the drawing of the ground: its strings, its stakes, and what they are called.

use std::fmt::Write as _;

use super::found::STAKES;
use super::polygon::Point;
use super::sheet::{FIGURES, INK, Sheet, WORDS};
use super::site::{MARGIN, Site};

impl Sheet {
    /// The house to come: its strings, its stakes, which end is the front, and the room round it.
    pub(super) fn house(&mut self, site: &Site) {
        let [left, right, _, back] = site.corners;
        let room = [
            (left.x - MARGIN, left.y - MARGIN),
            (right.x + MARGIN, left.y - MARGIN),
            (right.x + MARGIN, back.y + MARGIN),
            (left.x - MARGIN, back.y + MARGIN),
        ];
        let room = room.map(|(x, y)| site.to_ground(Point::new(x, y)));
        let d = self.path(room, true);
        self.shape(&d, "stroke-width=\"1.5\" stroke-dasharray=\"6 8\"");
        let strings = site.corners.map(|corner| site.to_ground(corner));
        let d = self.path(strings, true);
        self.shape(&d, "fill=\"#fff\" stroke-width=\"3\"");
        for (i, from) in strings.iter().enumerate() {
            self.take_line(self.on(*from), self.on(strings[(i + 1) % 4]));
        }
        for stake in strings {
            let at = self.on(stake);
            let _ = write!(
                self.shapes,
                "<rect x=\"{:.1}\" y=\"{:.1}\" width=\"14\" height=\"14\" fill=\"{INK}\" stroke=\"none\"/>",
                at.x - 7.0,
                at.y - 7.0
            );
        }
    }

    /// What the house and its stakes are called: the stakes outside their corners, the rest within the strings.
    pub(super) fn house_words(&mut self, site: &Site) {
        let [left, right, _, back] = site.corners.map(|at| self.on(site.to_ground(at)));
        let middle = right.plus(back.minus(right), 0.5);
        let size = FIGURES * 0.85;
        for (corner, stake) in site.corners.iter().zip(STAKES) {
            let at = self.on(site.to_ground(*corner));
            let (x, y) = (sign(at.x - middle.x), sign(at.y - middle.y));
            let wide = stake.len() as f64 * size * 0.27 + 12.0;
            let places = [(x, y), (x, -y), (-x, y)]
                .map(|(x, y)| Point::new(at.x + x * wide, at.y + y * 17.0 + size * 0.36));
            if !self.words_where_free(&places, size, stake, 0.0) {
                self.words_near(at, size, stake);
            }
        }
        // Along the more level side where that has room for it, else along the other.
        let words = "house to come";
        let long = words.len() as f64 * 0.6;
        let sides =
            [(left, right), (left, back)].map(|(from, to)| (self.upright(from, to), from.to(to)));
        let level = usize::from(sides[0].0.abs() > sides[1].0.abs());
        let at_most = |side: usize| (sides[side].1 / long).min(sides[1 - side].1 * 0.4);
        let side = match at_most(level) >= FIGURES || at_most(level) >= at_most(1 - level) {
            true => level,
            false => 1 - level,
        };
        let (turn, large) = (sides[side].0, at_most(side).min(WORDS));
        if large >= FIGURES * 0.6 {
            let down = Point::towards((turn + 90.0).to_radians());
            // A little towards the back, clear of the word for the front.
            let spare = (sides[side].1 - long * large).max(0.0);
            let front = left.plus(right.minus(left), 0.5);
            let back = middle.minus(front);
            let far = front.to(middle).max(1e-6);
            let at = middle.plus(back, (spare * 0.4).min(30.0) / far);
            self.words_where_free(&[at.plus(down, large * 0.36)], large, words, turn);
        } else {
            self.words_near(middle, FIGURES, words);
        }
        let front = left.plus(right.minus(left), 0.5);
        let inward = middle.minus(front);
        let far = front.to(middle).max(1e-6);
        let deep = (inward.x.abs() * 34.0 + inward.y.abs() * 10.0) / far + 10.0;
        let at = front.plus(inward, deep / far);
        self.words_where_free(&[Point::new(at.x, at.y + size * 0.36)], size, "front", 0.0);
    }
}

fn sign(off: f64) -> f64 {
    if off < 0.0 { -1.0 } else { 1.0 }
}
