//! The sheet that the plan is drawn on: its scale, its shapes, and words that hide nothing.

use std::fmt::Write as _;

use frame::svg_escape;
use measure::System;

use super::polygon::{Point, Polygon, Rect};

/// Near black, as in the drawings of the house.
pub(super) const INK: &str = "#191813";
pub(super) const TYPEFACE: &str = "Liberation Sans,Arial,Helvetica,sans-serif";
/// Drawing units that the ground fills, across and down.
pub(super) const SHEET: [f64; 2] = [960.0, 1250.0];
/// Room around the ground.
pub(super) const ROOM: f64 = 46.0;
/// What stands below the ground needs so much.
const LEAST_WIDE: f64 = 560.0;
/// Below it: scale bar and words.
pub(super) const FOOT: f64 = 120.0;
/// Half across of the ring that a place's number stands in.
pub(super) const RING: f64 = 22.0;
/// Sizes of type: numbers of places, words, figures.
pub(super) const PILE: f64 = 29.0;
pub(super) const WORDS: f64 = 26.0;
pub(super) const FIGURES: f64 = 22.0;

/// A drawing while it grows.
pub(super) struct Sheet {
    pub shapes: String,
    /// What stands below the ground.
    foot: String,
    /// Figures come last, so that no line goes through them.
    texts: Vec<Text>,
    /// What areas are called, with where that may stand, the best place first; put down once the piles lie.
    pub waiting: Vec<(String, Vec<Point>)>,
    /// Boxes where something stands that words must not hide: two opposite corners.
    pub taken: Vec<[Point; 2]>,
    /// Drawing units a metre.
    pub metre: f64,
    /// The origin of the ground, in drawing units.
    origin: Point,
    right: f64,
    bottom: f64,
    pub system: System,
}

struct Text {
    at: Point,
    size: f64,
    words: String,
    turn: f64,
}

impl Sheet {
    /// A sheet for what of the ground lies between two corners.
    pub(super) fn new([low, high]: [Point; 2], system: System) -> Self {
        let (across, along) = ((high.x - low.x).max(0.1), (high.y - low.y).max(0.1));
        let metre = (SHEET[0] / across).min(SHEET[1] / along);
        Self {
            shapes: String::new(),
            foot: String::new(),
            texts: Vec::new(),
            waiting: Vec::new(),
            taken: Vec::new(),
            metre,
            origin: Point::new(ROOM - low.x * metre, ROOM + high.y * metre),
            right: (across * metre + 2.0 * ROOM).max(LEAST_WIDE),
            bottom: along * metre + 2.0 * ROOM,
            system,
        }
    }

    /// A point of the ground on the sheet.
    pub(super) fn on(&self, point: Point) -> Point {
        Point::new(
            self.origin.x + point.x * self.metre,
            self.origin.y - point.y * self.metre,
        )
    }

    pub(super) fn path(&self, points: impl IntoIterator<Item = Point>, closed: bool) -> String {
        let mut d = String::new();
        for (i, point) in points.into_iter().enumerate() {
            let Point { x, y } = self.on(point);
            let _ = write!(d, "{}{x:.1} {y:.1}", if i == 0 { "M" } else { "L" });
        }
        if closed {
            d.push('z');
        }
        d
    }

    pub(super) fn shape(&mut self, d: &str, attributes: &str) {
        let _ = write!(self.shapes, "<path d=\"{d}\" {attributes}/>");
    }

    /// Words in the middle of a place, turned by degrees clockwise.
    pub(super) fn words(&mut self, at: Point, size: f64, words: &str, turn: f64) {
        self.taken.push(text_box(at, size, words, turn));
        self.texts.push(Text {
            at,
            size,
            words: words.into(),
            turn,
        });
    }

    /// Words at the first of some places where they hide nothing; says whether there was one.
    pub(super) fn words_where_free(
        &mut self,
        places: &[Point],
        size: f64,
        words: &str,
        turn: f64,
    ) -> bool {
        let free = |at: &&Point| self.free(text_box(**at, size, words, turn));
        match places.iter().find(free) {
            Some(at) => {
                self.words(*at, size, words, turn);
                true
            }
            None => false,
        }
    }

    /// The point of the sheet that is nearest to a point.
    pub(super) fn nearest(&self, at: Point) -> Point {
        Point::new(at.x.clamp(0.0, self.right), at.y.clamp(0.0, self.bottom))
    }

    /// Whether a box is on the sheet and hides nothing.
    pub(super) fn free(&self, [low, high]: [Point; 2]) -> bool {
        let on_sheet = low.x > 0.0 && high.x < self.right && low.y > 0.0 && high.y < self.bottom;
        on_sheet
            && self.taken.iter().all(|[from, to]| {
                high.x < from.x || low.x > to.x || high.y < from.y || low.y > to.y
            })
    }

    /// Whether a line on the sheet runs over nothing but what it begins in.
    pub(super) fn clear(&self, from: Point, to: Point, own: [Point; 2]) -> bool {
        self.crossed(from, to, own) == 0
    }

    /// How much of a line on the sheet, in parts of it, runs over other things than what it begins in.
    pub(super) fn crossed(&self, from: Point, to: Point, own: [Point; 2]) -> usize {
        let within = |at: Point, [low, high]: &[Point; 2]| {
            at.x > low.x && at.x < high.x && at.y > low.y && at.y < high.y
        };
        let steps = (from.to(to) / 4.0).clamp(24.0, 400.0) as u32;
        (steps / 12..=steps - steps / 12)
            .map(|i| from.plus(to.minus(from), f64::from(i) / f64::from(steps)))
            .filter(|at| !within(*at, &own) && self.taken.iter().any(|taken| within(*at, taken)))
            .count()
    }

    /// Keeps words off a line on the sheet.
    pub(super) fn take_line(&mut self, from: Point, to: Point) {
        let steps = (from.to(to) / 8.0).ceil().clamp(1.0, 400.0) as u32;
        let half = Point::new(3.0, 3.0);
        for i in 0..=steps {
            let at = from.plus(to.minus(from), f64::from(i) / f64::from(steps));
            self.taken.push([at.minus(half), at.plus(half, 1.0)]);
        }
    }

    /// Words beside or near a place; left out where all round it is taken.
    pub(super) fn words_near(&mut self, at: Point, size: f64, words: &str) {
        let wide = words.chars().count() as f64 * size * 0.27;
        let places: Vec<Point> = (0..9)
            .flat_map(|ring| {
                let far = 12.0 + 12.0 * f64::from(ring);
                let side = wide + far;
                [(0.0, -far), (0.0, far + size), (side, 0.0), (-side, 0.0)]
                    .into_iter()
                    .chain([
                        (side, -far),
                        (-side, -far),
                        (side, far + size),
                        (-side, far + size),
                    ])
            })
            .map(|(x, y)| Point::new(at.x + x, at.y + y))
            .collect();
        self.words_where_free(&places, size, words, 0.0);
    }

    /// What areas are called, beside the piles; what is not on the sheet is not named.
    pub(super) fn put_words(&mut self) {
        for (words, places) in std::mem::take(&mut self.waiting) {
            let shown = |at: &Point| {
                at.x > 0.0 && at.x < self.right && at.y > -ROOM && at.y < self.bottom + ROOM
            };
            if !places.iter().any(shown) {
                continue;
            }
            if !self.words_where_free(&places, FIGURES, &words, 0.0) {
                self.words_near(places[2], FIGURES, &words);
            }
        }
    }

    pub(super) fn box_of(&self, rect: &Rect) -> [Point; 2] {
        Polygon::new(rect.corners().map(|corner| self.on(corner)).to_vec()).bounds()
    }

    /// Degrees clockwise of a line on the sheet, so that its words are not upside down.
    pub(super) fn upright(&self, from: Point, to: Point) -> f64 {
        let along = self.on(to).minus(self.on(from));
        let turn = along.y.atan2(along.x).to_degrees();
        match turn {
            turn if turn > 90.0 => turn - 180.0,
            turn if turn <= -90.0 => turn + 180.0,
            turn => turn,
        }
    }

    /// A bar of a round length, and that north is not told.
    pub(super) fn bar(&mut self) {
        let (unit, name, round): (f64, &str, &[f64]) = match self.system {
            System::Metric => (1.0, "m", &[1.0, 2.0, 5.0, 10.0, 20.0, 50.0]),
            System::FeetInch => (0.3048, "ft", &[3.0, 5.0, 10.0, 20.0, 50.0, 100.0]),
        };
        let wanted = self.right / 4.0;
        let fits = |count: &&f64| **count * unit * self.metre <= wanted;
        let count = round.iter().rev().find(fits).unwrap_or(&round[0]);
        let (x, y) = (ROOM, self.bottom + 18.0);
        let half = count * unit * self.metre / 2.0;
        let _ = write!(
            self.foot,
            "<rect x=\"{x:.1}\" y=\"{y:.1}\" width=\"{half:.1}\" height=\"12\" fill=\"{INK}\" stroke-width=\"2\"/>\
             <rect x=\"{:.1}\" y=\"{y:.1}\" width=\"{half:.1}\" height=\"12\" fill=\"#fff\" stroke-width=\"2\"/>",
            x + half
        );
        let words = format!("{count} {name}");
        self.words(Point::new(x + half, y + 42.0), WORDS, &words, 0.0);
        let ticks = match (self.system, self.tick()) {
            (System::Metric, 1.0) => "ticks on the strings: every metre from the stake".to_owned(),
            (_, tick) => format!(
                "ticks on the strings: every {:.0} {name} from the stake",
                tick / unit
            ),
        };
        let wide = ticks.len() as f64 * FIGURES * 0.5;
        let at = Point::new(ROOM + wide / 2.0, y + 76.0);
        self.words(at, FIGURES, &ticks, 0.0);
    }

    /// From one tick of the strings to the next, in metres: so that two figures have room.
    pub(super) fn tick(&self) -> f64 {
        let (unit, counts) = match self.system {
            System::Metric => (1.0, [1.0, 2.0, 5.0, 10.0]),
            System::FeetInch => (0.3048, [5.0, 10.0, 20.0, 50.0]),
        };
        let fits = |count: &&f64| **count * unit * self.metre >= 22.0;
        unit * counts.iter().find(fits).unwrap_or(&counts[3])
    }

    pub(super) fn finish(self, says: &str) -> String {
        let mut svg = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"sheet laydown\" viewBox=\"0 0 {:.0} {:.0}\" role=\"img\" \
             aria-label=\"{}\" fill=\"none\" stroke=\"{INK}\" stroke-linejoin=\"round\" font-family=\"{TYPEFACE}\" \
             data-metre=\"{:.4}\" data-x=\"{:.2}\" data-y=\"{:.2}\">{HATCHES}\
             <clipPath id=\"lay-shown\"><rect width=\"{:.0}\" height=\"{:.0}\"/></clipPath>\
             <g clip-path=\"url(#lay-shown)\">{}</g>{}",
            self.right,
            self.bottom + FOOT,
            svg_escape(says),
            self.metre,
            self.origin.x,
            self.origin.y,
            self.right,
            self.bottom + 12.0,
            self.shapes,
            self.foot
        );
        for text in &self.texts {
            let turn = match text.turn == 0.0 {
                true => String::new(),
                false => format!(
                    " transform=\"rotate({:.1} {:.1} {:.1})\"",
                    text.turn, text.at.x, text.at.y
                ),
            };
            let _ = write!(
                svg,
                "<text x=\"{:.1}\" y=\"{:.1}\" font-size=\"{:.0}\" text-anchor=\"middle\" fill=\"{INK}\" \
                 stroke=\"#fff\" stroke-width=\"6\" paint-order=\"stroke\"{turn}>{}</text>",
                text.at.x,
                text.at.y,
                text.size,
                svg_escape(&text.words)
            );
        }
        svg.push_str("</svg>");
        svg
    }
}

/// Hatching: dots for shade, sparse lines for the truck, dense crossed ones for what is solid, dashes for slopes.
const HATCHES: &str = "<defs>\
<pattern id=\"lay-shade\" width=\"16\" height=\"16\" patternUnits=\"userSpaceOnUse\">\
<circle cx=\"4\" cy=\"4\" r=\"1.6\" fill=\"#191813\" stroke=\"none\"/></pattern>\
<pattern id=\"lay-truck\" width=\"22\" height=\"22\" patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\">\
<path d=\"M0 0v22\" stroke=\"#191813\" stroke-width=\"1.6\"/></pattern>\
<pattern id=\"lay-solid\" width=\"10\" height=\"10\" patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\">\
<path d=\"M0 0v10M0 0h10\" stroke=\"#191813\" stroke-width=\"1.6\"/></pattern>\
<pattern id=\"lay-slope\" width=\"30\" height=\"14\" patternUnits=\"userSpaceOnUse\">\
<path d=\"M0 7h14\" stroke=\"#191813\" stroke-width=\"1.4\"/></pattern></defs>";

/// The box around text that is centred on a place and turned; near enough to leave room for it.
pub(super) fn text_box(at: Point, size: f64, words: &str, turn: f64) -> [Point; 2] {
    let (wide, high) = (words.chars().count() as f64 * size * 0.54, size * 0.8);
    let along = Point::towards(turn.to_radians());
    let down = Point::new(-along.y, along.x);
    let middle = at.plus(down, -size * 0.36);
    let half = Point::new(
        (along.x * wide).abs() / 2.0 + (down.x * high).abs() / 2.0,
        (along.y * wide).abs() / 2.0 + (down.y * high).abs() / 2.0,
    );
    [middle.minus(half), middle.plus(half, 1.0)]
}
