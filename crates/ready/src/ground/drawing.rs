//! The plan as a drawing to scale: black on white, areas told apart by hatching and words.

use std::fmt::Write as _;

use measure::System;

use super::found::STAKES;
use super::laydown::{Laid, Laydown};
use super::pile::Pile;
use super::polygon::{Point, Polygon, Rect};
use super::sheet::{FIGURES, INK, PILE, Sheet, WORDS, escape, text_box};
use super::site::{Area, AreaKind, MARGIN, Site, said};

/// The plan to scale, with every pile of it. What moves piles in a page finds on it how far a metre is (`data-metre`) and
/// where the origin of the ground lies (`data-x`, `data-y`), in drawing units; each pile is a group with `data-pile`.
pub fn laydown_svg(site: &Site, piles: &[Pile], plan: &Laydown, system: System) -> String {
    let mut sheet = Sheet::new(site, system);
    sheet.areas(site);
    sheet.edge(site);
    sheet.house(site);
    sheet.rulers(site);
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
    sheet.ruler_figures(site);
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
    sheet.rulers(site);
    sheet.put_words();
    sheet.ruler_figures(site);
    sheet.bar();
    sheet.finish("The ground from above, to scale, with the house to come")
}

impl Sheet {
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
        let sign = Point::new(17.0, 17.0);
        self.taken.push([at.minus(sign), at.plus(sign, 1.0)]);
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
        self.house_words(site);
    }

    /// What stands in the house: along that side of it which is the more level on the sheet.
    fn house_words(&mut self, site: &Site) {
        let [left, _, _, back] = site.corners;
        let [across, along] = [site.corners[1], back].map(|to| {
            let (from, to) = (site.to_ground(left), site.to_ground(to));
            self.upright(from, to)
        });
        let level = across.abs() <= along.abs();
        let turn = if level { across } else { along };
        let middle = Point::new(0.0, (left.y + back.y) / 2.0);
        // From a corner, a side or an end inward: half the words one way, a line of them the other.
        let inward = |from: Point, words: &str, metre: f64| {
            let long = words.chars().count() as f64 * FIGURES * 0.27 / metre + 0.3;
            let line = 26.0 / metre;
            let (x, y) = if level { (long, line) } else { (line, long) };
            let sign = |off: f64| if off.abs() < 1e-6 { 0.0 } else { off.signum() };
            let to = middle.minus(from);
            Point::new(from.x + sign(to.x) * x, from.y + sign(to.y) * y)
        };
        // Behind the word for the front, where both stand in one line.
        let behind = if level { 0.0 } else { 20.0 / self.metre };
        let at = Point::new(0.0, middle.y + behind);
        let mut words = vec![(at, if level { PILE } else { WORDS }, "house to come")];
        let front = Point::new(0.0, left.y);
        // Beside the names of the stakes there is no room for it on a narrow sheet.
        let before = if level { 26.0 / self.metre } else { 0.0 };
        let front = inward(Point::new(0.0, front.y + before), "front", self.metre);
        words.push((front, FIGURES, "front"));
        for (corner, stake) in site.corners.iter().zip(STAKES) {
            words.push((inward(*corner, stake, self.metre), FIGURES * 0.85, stake));
        }
        for (at, size, words) in words {
            let at = self.on(site.to_ground(at));
            let down = Point::towards((turn + 90.0).to_radians());
            self.words(at.plus(down, size * 0.36), size, words, turn);
        }
    }

    /// From one tick of the strings to the next, in metres.
    fn tick(&self) -> f64 {
        match self.system {
            System::Metric => 1.0,
            System::FeetInch => 5.0 * 0.3048,
        }
    }

    /// The strings of the front and of both sides thought on over the ground, with a tick every so far from the stake, so
    /// that the place of a pile can be read off and found with a tape.
    fn rulers(&mut self, site: &Site) {
        for (stake, along) in rulers(site) {
            let across = Point::new(-along.y, along.x);
            let end = stake.plus(along, self.reach(site, stake, along));
            let d = self.path([site.to_ground(stake), site.to_ground(end)], false);
            self.shape(&d, "stroke-width=\"1\" stroke-dasharray=\"20 4 3 4\"");
            for i in 1..=self.ticks(site, stake, along) {
                let at = stake.plus(along, f64::from(i) * self.tick());
                let half = if i % 2 == 0 { 0.3 } else { 0.15 };
                let ends = [-half, half].map(|off| site.to_ground(at.plus(across, off)));
                let d = self.path(ends, false);
                self.shape(&d, "stroke-width=\"1.5\"");
            }
        }
    }

    /// How far a string goes on before it leaves the ground.
    fn reach(&self, site: &Site, stake: Point, along: Point) -> f64 {
        let step = 0.1;
        let outside = |i: &u32| {
            !site
                .outline
                .contains(stake.plus(along, step * f64::from(*i)))
        };
        (1..3_000)
            .find(outside)
            .map_or(0.0, |i| step * f64::from(i - 1))
    }

    fn ticks(&self, site: &Site, stake: Point, along: Point) -> u32 {
        (self.reach(site, stake, along) / self.tick()) as u32
    }

    /// Figures at every other tick, where they hide nothing.
    fn ruler_figures(&mut self, site: &Site) {
        let unit = match self.system {
            System::Metric => 1.0,
            System::FeetInch => 0.3048,
        };
        for (stake, along) in rulers(site) {
            let across = Point::new(-along.y, along.x);
            for i in (2..=self.ticks(site, stake, along)).step_by(2) {
                let far = f64::from(i) * self.tick();
                let off = 0.3 + FIGURES * 0.5 / self.metre;
                let places = [off, -off].map(|off| {
                    let at = self.on(site.to_ground(stake.plus(along, far).plus(across, off)));
                    Point::new(at.x, at.y + FIGURES * 0.28)
                });
                let words = format!("{:.0}", far / unit);
                self.words_where_free(&places, FIGURES * 0.75, &words, 0.0);
            }
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
            // On a line that is shorter than its figure they would hide what it ends at.
            if clear * self.metre < figure.len() as f64 * size * 0.56 {
                return;
            }
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
}

/// Where the strings go on beyond the stakes: from which stake, and which way. Those of the sides run along the house too.
fn rulers(site: &Site) -> [(Point, Point); 6] {
    let [left, right, ..] = site.corners;
    let (across, along) = (Point::new(1.0, 0.0), Point::new(0.0, 1.0));
    let back = |way: Point| Point::new(-way.x, -way.y);
    [
        (left, back(across)),
        (right, across),
        (left, back(along)),
        (right, back(along)),
        (left, along),
        (right, along),
    ]
}

/// A pile on the ground as it was given.
fn lying(pile: &Pile, laid: &Laid) -> Rect {
    Rect {
        at: laid.at,
        long: pile.length,
        wide: pile.width,
        turn: laid.turn,
    }
}
