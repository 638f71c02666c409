//! The plan as a drawing to scale: black on white, areas told apart by hatching and words.

use std::fmt::Write as _;

use measure::System;

use super::found::STAKES;
use super::laydown::{Laid, Laydown};
use super::pile::Pile;
use super::polygon::{Point, Polygon, Rect};
use super::site::{Area, AreaKind, MARGIN, Site, said};

/// Near black, as in the drawings of the house.
const INK: &str = "#191813";
const TYPEFACE: &str = "Liberation Sans,Arial,Helvetica,sans-serif";
/// Drawing units that the ground fills, across and down.
const SHEET: [f64; 2] = [960.0, 1250.0];
/// Room around the ground.
const ROOM: f64 = 46.0;
/// Below it: scale bar and words.
const FOOT: f64 = 90.0;
/// Sizes of type: piles, words, figures.
const PILE: f64 = 34.0;
const WORDS: f64 = 26.0;
const FIGURES: f64 = 22.0;

/// The plan to scale, with every pile of it. What moves piles in a page finds on it how far a metre is (`data-metre`) and
/// where the origin of the ground lies (`data-x`, `data-y`), in drawing units; each pile is a group with `data-pile`.
pub fn laydown_svg(site: &Site, piles: &[Pile], plan: &Laydown, system: System) -> String {
    let mut sheet = Sheet::new(site, system);
    sheet.areas(site);
    sheet.edge(site);
    sheet.house(site);
    for laid in &plan.piles {
        sheet
            .taken
            .push(sheet.box_of(&lying(&piles[laid.pile], laid)));
    }
    for laid in &plan.piles {
        sheet.pile(&piles[laid.pile], laid);
    }
    for laid in &plan.piles {
        sheet.offset(site, &piles[laid.pile], laid);
    }
    sheet.put_words();
    sheet.bar();
    let names: Vec<&str> = (plan.piles.iter())
        .map(|laid| piles[laid.pile].name.as_str())
        .collect();
    sheet.finish(&format!(
        "The ground from above, to scale, with the house to come and piles {}",
        names.join(", ")
    ))
}

/// The ground alone, to scale.
pub fn ground_svg(site: &Site, system: System) -> String {
    let mut sheet = Sheet::new(site, system);
    sheet.areas(site);
    sheet.edge(site);
    sheet.house(site);
    sheet.put_words();
    sheet.bar();
    sheet.finish("The ground from above, to scale, with the house to come")
}

struct Sheet {
    shapes: String,
    /// Figures come last, so that no line goes through them.
    texts: Vec<Text>,
    /// What areas are called, with where that may stand, the best place first; put down once the piles lie.
    waiting: Vec<(String, Vec<Point>)>,
    /// Boxes where something stands that words must not hide: two opposite corners.
    taken: Vec<[Point; 2]>,
    /// Drawing units a metre.
    metre: f64,
    /// The origin of the ground, in drawing units.
    origin: Point,
    right: f64,
    bottom: f64,
    system: System,
}

struct Text {
    at: Point,
    size: f64,
    words: String,
    turn: f64,
}

impl Sheet {
    fn new(site: &Site, system: System) -> Self {
        let corners = site.outline.corners().iter().map(|c| site.to_ground(*c));
        let [low, high] = Polygon::new(corners.collect()).bounds();
        let (across, along) = ((high.x - low.x).max(0.1), (high.y - low.y).max(0.1));
        let metre = (SHEET[0] / across).min(SHEET[1] / along);
        Self {
            shapes: String::new(),
            texts: Vec::new(),
            waiting: Vec::new(),
            taken: Vec::new(),
            metre,
            origin: Point::new(ROOM - low.x * metre, ROOM + high.y * metre),
            right: across * metre + 2.0 * ROOM,
            bottom: along * metre + 2.0 * ROOM,
            system,
        }
    }

    /// A point of the ground on the sheet.
    fn on(&self, point: Point) -> Point {
        Point::new(
            self.origin.x + point.x * self.metre,
            self.origin.y - point.y * self.metre,
        )
    }

    fn path(&self, points: impl IntoIterator<Item = Point>, closed: bool) -> String {
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

    fn shape(&mut self, d: &str, attributes: &str) {
        let _ = write!(self.shapes, "<path d=\"{d}\" {attributes}/>");
    }

    /// Words in the middle of a place, turned by degrees clockwise.
    fn words(&mut self, at: Point, size: f64, words: &str, turn: f64) {
        self.taken.push(text_box(at, size, words, turn));
        self.texts.push(Text {
            at,
            size,
            words: words.into(),
            turn,
        });
    }

    /// Words at the first of some places where they hide nothing; says whether there was one.
    fn words_where_free(&mut self, places: &[Point], size: f64, words: &str, turn: f64) -> bool {
        let free = |at: &&Point| {
            let [low, high] = text_box(**at, size, words, turn);
            let on_sheet =
                low.x > 0.0 && high.x < self.right && low.y > 0.0 && high.y < self.bottom;
            on_sheet
                && self.taken.iter().all(|[from, to]| {
                    high.x < from.x || low.x > to.x || high.y < from.y || low.y > to.y
                })
        };
        match places.iter().find(free) {
            Some(at) => {
                self.words(*at, size, words, turn);
                true
            }
            None => false,
        }
    }

    /// What areas are called, beside the piles; where all is taken, over them.
    fn put_words(&mut self) {
        for (words, places) in std::mem::take(&mut self.waiting) {
            if !self.words_where_free(&places, FIGURES, &words, 0.0) {
                self.words(places[0], FIGURES, &words, 0.0);
            }
        }
    }

    fn box_of(&self, rect: &Rect) -> [Point; 2] {
        Polygon::new(rect.corners().map(|corner| self.on(corner)).to_vec()).bounds()
    }

    fn areas(&mut self, site: &Site) {
        let outline = |sheet: &Self, polygon: &Polygon| {
            let corners = polygon.corners().iter().map(|c| site.to_ground(*c));
            sheet.path(corners, true)
        };
        for area in &site.shade {
            let d = outline(self, &area.outline);
            self.shape(&d, "fill=\"url(#lay-shade)\" stroke=\"none\"");
            self.area_words(site, area, "shade");
        }
        for slope in &site.slopes {
            let d = outline(self, &slope.outline);
            self.shape(&d, "fill=\"url(#lay-slope)\" stroke-width=\"1\"");
            let words = format!("rises {} in 100", (slope.rise * 100.0).round());
            self.in_the_middle(site, &slope.outline, &words);
        }
        for area in &site.covered {
            let d = outline(self, &area.outline);
            self.shape(
                &d,
                "fill=\"#fff\" stroke-width=\"3\" stroke-dasharray=\"24 6 4 6\"",
            );
            self.area_words(site, area, "under cover");
        }
        for area in &site.kept {
            let d = outline(self, &area.outline);
            match area.kind {
                AreaKind::Truck => {
                    self.shape(&d, "fill=\"url(#lay-truck)\" stroke-width=\"1.5\"");
                    self.area_words(site, area, "truck");
                }
                AreaKind::Obstacle => {
                    self.shape(&d, "fill=\"url(#lay-solid)\" stroke-width=\"3\"");
                    self.area_words(site, area, "in the way");
                }
                _ => {}
            }
        }
    }

    /// What an area is; its own words where it has some.
    fn area_words(&mut self, site: &Site, area: &Area, kind: &str) {
        let words = match (area.says.strip_prefix("the "), area.kind) {
            (Some(words), AreaKind::Obstacle) => words.to_owned(),
            (Some(words), AreaKind::Covered | AreaKind::Shade) => format!("{words}: {kind}"),
            _ => kind.to_owned(),
        };
        self.in_the_middle(site, &area.outline, &words);
    }

    fn in_the_middle(&mut self, site: &Site, outline: &Polygon, words: &str) {
        let corners = outline.corners().iter().map(|c| site.to_ground(*c));
        let [low, high] = Polygon::new(corners.collect()).bounds();
        let [low, high] = [low, high].map(|point| self.on(point));
        let (middle, line) = ((low.x + high.x) / 2.0, FIGURES * 1.1);
        let places = [
            high.y - 8.0,
            low.y + line,
            (low.y + high.y) / 2.0,
            high.y + line,
            low.y - 8.0,
        ];
        let places = places.map(|y| Point::new(middle, y)).to_vec();
        self.waiting.push((words.to_owned(), places));
    }

    /// The edge of the ground, open at the gates, and the drop.
    fn edge(&mut self, site: &Site) {
        let corners = site.outline.corners().iter().map(|c| site.to_ground(*c));
        let d = self.path(corners, true);
        self.shape(&d, "stroke-width=\"5\"");
        for gate in &site.gates {
            let posts = gate.map(|post| site.to_ground(post));
            let d = self.path(posts, false);
            self.shape(&d, "stroke=\"#fff\" stroke-width=\"9\"");
            for post in posts {
                let at = self.on(post);
                let _ = write!(
                    self.shapes,
                    "<circle cx=\"{:.1}\" cy=\"{:.1}\" r=\"8\" fill=\"{INK}\"/>",
                    at.x, at.y
                );
            }
            let middle = posts[0].plus(posts[1].minus(posts[0]), 0.5);
            let at = self.on(middle);
            self.words(Point::new(at.x, at.y + 34.0), FIGURES, "gate", 0.0);
        }
        let at = self.on(site.to_ground(site.drop));
        let _ = write!(
            self.shapes,
            "<circle cx=\"{x:.1}\" cy=\"{y:.1}\" r=\"17\" fill=\"#fff\" stroke-width=\"4\"/>\
             <path d=\"M{left:.1} {y:.1}h34M{x:.1} {top:.1}v34\" stroke-width=\"4\"/>",
            x = at.x,
            y = at.y,
            left = at.x - 17.0,
            top = at.y - 17.0
        );
        self.words(Point::new(at.x, at.y - 24.0), FIGURES, "drop", 0.0);
    }

    /// The house to come: its strings, its stakes, which end is the front, and the room round it.
    fn house(&mut self, site: &Site) {
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
        for stake in strings {
            let at = self.on(stake);
            let _ = write!(
                self.shapes,
                "<rect x=\"{:.1}\" y=\"{:.1}\" width=\"14\" height=\"14\" fill=\"{INK}\" stroke=\"none\"/>",
                at.x - 7.0,
                at.y - 7.0
            );
        }
        let turn = self.upright(strings[0], strings[1]);
        let inside = |x: f64, y: f64| self.on(site.to_ground(Point::new(x, y)));
        let (at, front) = (inside(0.0, back.y / 2.0), inside(0.0, 1.0));
        self.words(at, PILE, "house to come", turn);
        self.words(front, FIGURES, "front", turn);
        for (i, stake) in STAKES.iter().enumerate() {
            let corner = site.corners[i];
            let middle = Point::new(0.0, back.y / 2.0);
            let span = middle.minus(corner);
            let size = span.dot(span).sqrt().max(0.1);
            let width = stake.len() as f64 * FIGURES * 0.52 / self.metre;
            let inward = Point::new(
                span.x.signum() * (width / 2.0 + 0.25).min(size),
                span.y.signum() * (24.0 / self.metre).min(size),
            );
            let at = self.on(site.to_ground(corner.plus(inward, 1.0)));
            self.words(at, FIGURES * 0.85, stake, turn);
        }
    }

    /// Degrees clockwise of a line on the sheet, so that its words are not upside down.
    fn upright(&self, from: Point, to: Point) -> f64 {
        let along = self.on(to).minus(self.on(from));
        let turn = along.y.atan2(along.x).to_degrees();
        match turn {
            turn if turn > 90.0 => turn - 180.0,
            turn if turn <= -90.0 => turn + 180.0,
            turn => turn,
        }
    }

    /// How far the pile is from the nearest string, square to it, where there is room to say it; the list says it of all.
    fn offset(&mut self, site: &Site, pile: &Pile, laid: &Laid) {
        let [low, high] = Polygon::new(site.rect(pile, laid).corners().to_vec()).bounds();
        let [left, right, _, back] = site.corners;
        // Each side with how far it is clear of the house; beyond the ends of the house the string is thought on.
        let sides = [
            (left.x - high.x, true, left.x, high.x),
            (low.x - right.x, true, right.x, low.x),
            (left.y - high.y, false, left.y, high.y),
            (low.y - back.y, false, back.y, low.y),
        ];
        let farthest = sides.into_iter().max_by(|a, b| a.0.total_cmp(&b.0));
        let Some((clear, across, string, near)) = farthest.filter(|side| side.0 > 0.0) else {
            return;
        };
        let figure = said(clear, self.system);
        let size = FIGURES * 0.85;
        for share in [0.5, 0.2, 0.8, 0.35, 0.65] {
            let (start, to) = match across {
                true => {
                    let y = low.y + (high.y - low.y) * share;
                    (Point::new(string, y), Point::new(near, y))
                }
                false => {
                    let x = low.x + (high.x - low.x) * share;
                    (Point::new(x, string), Point::new(x, near))
                }
            };
            let (a, b) = (site.to_ground(start), site.to_ground(to));
            let turn = self.upright(a, b);
            let along = Point::towards(turn.to_radians());
            let down = Point::new(-along.y, along.x);
            let places: Vec<Point> = [0.5, 0.3, 0.7, 0.15, 0.85]
                .map(|share| self.on(a.plus(b.minus(a), share)).plus(down, size * 0.36))
                .to_vec();
            if self.words_where_free(&places, size, &figure, turn) {
                let d = self.path([a, b], false);
                self.shape(&d, "stroke-width=\"1.5\" stroke-dasharray=\"2 5\"");
                return;
            }
        }
    }

    fn pile(&mut self, pile: &Pile, laid: &Laid) {
        let rect = lying(pile, laid);
        let d = self.path(rect.corners(), true);
        let _ = write!(
            self.shapes,
            "<g data-pile=\"{name}\" class=\"pile\"><title>{name}: {says}</title>\
             <path d=\"{d}\" fill=\"#fff\" stroke-width=\"4.5\"/>",
            name = escape(&pile.name),
            says = escape(&pile.says),
        );
        let at = self.on(laid.at);
        let inside = pile.width.min(pile.length) * self.metre > PILE;
        let low = Point::new(at.x, at.y + PILE * 0.36);
        let at = match inside {
            true => low,
            false => self.beside(&rect, &pile.name).unwrap_or(low),
        };
        self.taken.push(text_box(at, PILE, &pile.name, 0.0));
        let _ = write!(
            self.shapes,
            "<text x=\"{:.1}\" y=\"{:.1}\" font-size=\"{PILE:.0}\" font-weight=\"bold\" text-anchor=\"middle\" \
             fill=\"{INK}\" stroke=\"#fff\" stroke-width=\"6\" paint-order=\"stroke\">{}</text></g>",
            at.x,
            at.y,
            escape(&pile.name)
        );
    }

    /// Where a narrow pile's name stands beside it.
    fn beside(&self, rect: &Rect, name: &str) -> Option<Point> {
        let along = Point::towards(rect.turn);
        let across = Point::new(-along.y, along.x);
        let off = rect.wide / 2.0 + 0.5 * PILE / self.metre;
        let places = [-0.35, 0.0, 0.35]
            .into_iter()
            .flat_map(|share| [(share, -off), (share, off)])
            .map(|(share, off)| rect.at.plus(along, share * rect.long).plus(across, off))
            .chain(
                [0.5, -0.5].map(|end| rect.at.plus(along, end * (rect.long + PILE / self.metre))),
            );
        places
            .map(|point| self.on(point))
            .map(|at| Point::new(at.x, at.y + PILE * 0.36))
            .find(|at| {
                let [low, high] = text_box(*at, PILE * 0.8, name, 0.0);
                self.taken.iter().all(|[from, to]| {
                    high.x < from.x || low.x > to.x || high.y < from.y || low.y > to.y
                })
            })
    }

    /// A bar of a round length, and that north is not told.
    fn bar(&mut self) {
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
            self.shapes,
            "<rect x=\"{x:.1}\" y=\"{y:.1}\" width=\"{half:.1}\" height=\"12\" fill=\"{INK}\" stroke-width=\"2\"/>\
             <rect x=\"{:.1}\" y=\"{y:.1}\" width=\"{half:.1}\" height=\"12\" fill=\"#fff\" stroke-width=\"2\"/>",
            x + half
        );
        let words = format!("{count} {name}");
        self.words(Point::new(x + half, y + 42.0), WORDS, &words, 0.0);
    }

    fn finish(self, says: &str) -> String {
        let mut svg = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"sheet laydown\" viewBox=\"0 0 {:.0} {:.0}\" role=\"img\" \
             aria-label=\"{}\" fill=\"none\" stroke=\"{INK}\" stroke-linejoin=\"round\" font-family=\"{TYPEFACE}\" \
             data-metre=\"{:.4}\" data-x=\"{:.2}\" data-y=\"{:.2}\">{HATCHES}{}",
            self.right,
            self.bottom + FOOT,
            escape(says),
            self.metre,
            self.origin.x,
            self.origin.y,
            self.shapes
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
                escape(&text.words)
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

/// A pile on the ground as it was given.
fn lying(pile: &Pile, laid: &Laid) -> Rect {
    Rect {
        at: laid.at,
        long: pile.length,
        wide: pile.width,
        turn: laid.turn,
    }
}

/// The box around text that is centred on a place and turned; near enough to leave room for it.
fn text_box(at: Point, size: f64, words: &str, turn: f64) -> [Point; 2] {
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

/// Text made safe for SVG and HTML.
fn escape(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\'' => safe.push_str("&#39;"),
            // XML 1.0 has no place for these, not even escaped.
            letter if letter.is_control() || matches!(letter, '\u{fffe}' | '\u{ffff}') => {
                safe.push('\u{fffd}');
            }
            letter => safe.push(letter),
        }
    }
    safe
}
