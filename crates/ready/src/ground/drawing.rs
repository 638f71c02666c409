//! The plan as a drawing to scale: black on white, areas told apart by hatching and words.

use std::fmt::Write as _;

use frame::svg_escape;
use measure::System;

use super::laydown::{Laid, Laydown};
use super::pile::Pile;
use super::polygon::{Point, Polygon, Rect};
use super::sheet::{FIGURES, INK, PILE, RING, SHEET, Sheet};
use super::site::{Area, AreaKind, Site, said};

/// The plan to scale, with every pile of it. What moves piles in a page finds on it how far a metre is (`data-metre`) and
/// where the origin of the ground lies (`data-x`, `data-y`), in drawing units; each pile is a group with `data-pile`.
pub fn laydown_svg(site: &Site, piles: &[Pile], plan: &Laydown, system: System) -> String {
    let mut sheet = Sheet::new(in_use(site, piles, plan), system);
    for laid in &plan.piles {
        let lies = sheet.box_of(&lying(&piles[laid.pile], laid));
        sheet.taken.push(lies);
    }
    sheet.areas(site);
    sheet.edge(site);
    sheet.house(site);
    sheet.rulers(site);
    sheet.house_words(site);
    for laid in &plan.piles {
        sheet.pile(&piles[laid.pile], laid);
    }
    sheet.put_words();
    for laid in &plan.piles {
        sheet.offset(site, &piles[laid.pile], laid);
    }
    sheet.ruler_figures(site);
    sheet.bar();
    let names: Vec<&str> = (plan.piles.iter())
        .map(|laid| piles[laid.pile].name.as_str())
        .collect();
    sheet.finish(&format!(
        "The ground from above, to scale, with the house to come and places {}",
        names.join(", ")
    ))
}

/// The ground alone, to scale.
pub fn ground_svg(site: &Site, system: System) -> String {
    let mut sheet = Sheet::new(whole(site), system);
    sheet.areas(site);
    sheet.edge(site);
    sheet.house(site);
    sheet.rulers(site);
    sheet.house_words(site);
    sheet.put_words();
    sheet.ruler_figures(site);
    sheet.bar();
    sheet.finish("The ground from above, to scale, with the house to come")
}

fn whole(site: &Site) -> [Point; 2] {
    let corners = site.outline.corners().iter().map(|c| site.to_ground(*c));
    Polygon::new(corners.collect()).bounds()
}

/// What of the ground is of use: the house, the drop, the gates, every pile and what is under cover, with room round it.
fn in_use(site: &Site, piles: &[Pile], plan: &Laydown) -> [Point; 2] {
    let of_site = (site.corners.iter().chain(site.gates.iter().flatten()))
        .chain([&site.drop])
        .chain(site.covered.iter().flat_map(|area| area.outline.corners()))
        .map(|point| site.to_ground(*point));
    let of_piles = (plan.piles.iter()).flat_map(|laid| lying(&piles[laid.pile], laid).corners());
    let [low, high] = Polygon::new(of_site.chain(of_piles).collect()).bounds();
    let [least, most] = whole(site);
    let room = 3.0;
    let part = [
        Point::new((low.x - room).max(least.x), (low.y - room).max(least.y)),
        Point::new((high.x + room).min(most.x), (high.y + room).min(most.y)),
    ];
    // All of the ground, unless a part of it is drawn much larger.
    let scale = |[low, high]: [Point; 2]| {
        (SHEET[0] / (high.x - low.x).max(0.1)).min(SHEET[1] / (high.y - low.y).max(0.1))
    };
    match scale(part) > 1.25 * scale([least, most]) {
        true => part,
        false => [least, most],
    }
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
        let [low, high] = [low, high].map(|point| self.nearest(self.on(point)));
        // What is not on the sheet is not named.
        if high.x - low.x < 1.0 || low.y - high.y < 1.0 {
            return;
        }
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
            self.waiting.push((
                "gate".into(),
                [-24.0, 40.0, 0.0, -60.0, 60.0]
                    .map(|y| Point::new(at.x, at.y + y))
                    .to_vec(),
            ));
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
        self.words_near(Point::new(at.x, at.y - 12.0), FIGURES, "drop");
    }

    /// The strings of the front and of both sides thought on over the ground, with a tick every so far from the stake, so
    /// that the place of a pile can be read off and found with a tape.
    fn rulers(&mut self, site: &Site) {
        for (stake, along) in rulers(site) {
            let across = Point::new(-along.y, along.x);
            let end = stake.plus(along, self.reach(site, stake, along));
            let d = self.path([site.to_ground(stake), site.to_ground(end)], false);
            self.shape(&d, "stroke-width=\"1\" stroke-dasharray=\"20 4 3 4\"");
            self.take_line(self.on(site.to_ground(stake)), self.on(site.to_ground(end)));
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
                let off = 0.3 + FIGURES * 0.8 / self.metre;
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
            let own = self.box_of(&lying(pile, laid));
            if !self.clear(self.on(a), self.on(b), own) {
                continue;
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
                self.take_line(self.on(a), self.on(b));
                return;
            }
        }
    }

    fn pile(&mut self, pile: &Pile, laid: &Laid) {
        let rect = lying(pile, laid);
        let d = self.path(rect.corners(), true);
        let _ = write!(
            self.shapes,
            "<g data-pile=\"{name}\" class=\"pile\"><title>Place {name}: {says}</title>\
             <path d=\"{d}\" fill=\"#fff\" stroke-width=\"4.5\"/>",
            name = svg_escape(&pile.name),
            says = svg_escape(&pile.says),
        );
        let middle = self.on(laid.at);
        let inside = pile.width.min(pile.length) * self.metre > 2.0 * RING + 6.0;
        let (foot, at) = match inside {
            true => (middle, middle),
            false => self.beside(&rect).unwrap_or((middle, middle)),
        };
        if foot != at {
            let edge = at.plus(foot.minus(at), RING / foot.to(at));
            let _ = write!(
                self.shapes,
                "<path d=\"M{:.1} {:.1}L{:.1} {:.1}\" stroke-width=\"2\"/>\
                 <circle cx=\"{:.1}\" cy=\"{:.1}\" r=\"4\" fill=\"{INK}\" stroke=\"none\"/>",
                foot.x, foot.y, edge.x, edge.y, foot.x, foot.y
            );
            self.take_line(foot, edge);
        }
        let half = Point::new(RING + 2.0, RING + 2.0);
        self.taken.push([at.minus(half), at.plus(half, 1.0)]);
        let _ = write!(
            self.shapes,
            "<circle cx=\"{:.1}\" cy=\"{:.1}\" r=\"{RING:.0}\" fill=\"#fff\" stroke-width=\"3\"/>\
             <text x=\"{:.1}\" y=\"{:.1}\" font-size=\"{PILE:.0}\" font-weight=\"bold\" \
             text-anchor=\"middle\" fill=\"{INK}\" stroke=\"none\">{}</text></g>",
            at.x,
            at.y,
            at.x,
            at.y + PILE * 0.36,
            svg_escape(&pile.name)
        );
    }

    /// Where a narrow pile's number stands: the foot of its leader in the pile, and the middle of the ring.
    fn beside(&self, rect: &Rect) -> Option<(Point, Point)> {
        let middle = self.on(rect.at);
        let ahead = self.on(rect.at.plus(Point::towards(rect.turn), 1.0));
        let along = ahead.minus(middle);
        let along = Point::new(along.x / self.metre, along.y / self.metre);
        let across = Point::new(-along.y, along.x);
        let (long, wide) = (rect.long * self.metre, rect.wide * self.metre);
        let own = self.box_of(rect);
        let places = (0..30).flat_map(|far| {
            let off = f64::from(far) * 9.0 + RING + 10.0;
            let beside =
                [0.0, -0.4, 0.4, -0.8, 0.8, -1.3, 1.3]
                    .into_iter()
                    .flat_map(move |share| {
                        [-1.0, 1.0].map(|side| (share * long, side * (wide / 2.0 + off)))
                    });
            beside.chain([-1.0, 1.0].map(|end| (end * (long / 2.0 + off), 0.0)))
        });
        let places: Vec<(Point, Point)> = places
            .map(|(ahead, aside)| {
                let foot = middle.plus(along, ahead.clamp(-0.45 * long, 0.45 * long));
                (foot, middle.plus(along, ahead).plus(across, aside))
            })
            .filter(|(_, at)| {
                let half = Point::new(RING + 4.0, RING + 4.0);
                self.free([at.minus(half), at.plus(half, 1.0)])
            })
            .collect();
        let least = || {
            let crossed = |(foot, at): &&(Point, Point)| self.crossed(*foot, *at, own);
            places.iter().min_by_key(crossed)
        };
        let mut clear = places
            .iter()
            .filter(|(foot, at)| self.clear(*foot, *at, own));
        clear.next().or_else(least).copied()
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
