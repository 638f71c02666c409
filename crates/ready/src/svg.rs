//! Just enough of SVG for a sheet of black lines and words that a printer without colours prints as it stands.

use std::fmt::Write;

use frame::svg_escape;

/// A drawing in the making; `x` to the right and `y` down, in its own units.
pub(crate) struct Drawing {
    body: String,
    least: [f64; 2],
    most: [f64; 2],
}

/// How a line is drawn.
#[derive(Clone, Copy, PartialEq)]
pub(crate) enum Pen {
    /// What stands or is stretched.
    Wide,
    /// What measures.
    Narrow,
    /// What is only thought: diagonals, axes.
    Dashed,
}

/// Where a text hangs on its point.
#[derive(Clone, Copy, PartialEq)]
pub(crate) enum Hang {
    Start,
    Middle,
    End,
}

/// Height of letters.
pub(crate) const LETTERS: f64 = 15.0;

impl Drawing {
    pub fn new() -> Self {
        Self {
            body: String::new(),
            least: [f64::MAX; 2],
            most: [f64::MIN; 2],
        }
    }

    fn include(&mut self, [x, y]: [f64; 2], round: f64) {
        for (axis, at) in [x, y].into_iter().enumerate() {
            self.least[axis] = self.least[axis].min(at - round);
            self.most[axis] = self.most[axis].max(at + round);
        }
    }

    pub fn line(&mut self, pen: Pen, points: &[[f64; 2]]) {
        let mut path = String::new();
        for (i, point) in points.iter().enumerate() {
            self.include(*point, 1.0);
            let step = if i == 0 { 'M' } else { 'L' };
            let _ = write!(path, "{step}{:.2} {:.2}", point[0], point[1]);
        }
        let style = match pen {
            Pen::Wide => "stroke-width=\"2.2\"",
            Pen::Narrow => "stroke-width=\"0.9\"",
            Pen::Dashed => "stroke-width=\"1.1\" stroke-dasharray=\"9 5\"",
        };
        let _ = write!(
            self.body,
            "<path fill=\"none\" stroke=\"currentColor\" {style} d=\"{path}\"/>"
        );
    }

    /// A line with a head at its second end.
    pub fn arrow(&mut self, pen: Pen, [from, to]: [[f64; 2]; 2]) {
        self.line(pen, &[from, to]);
        let (dx, dy) = (to[0] - from[0], to[1] - from[1]);
        let long = dx.hypot(dy).max(1e-9);
        let (ux, uy) = (dx / long, dy / long);
        let back = |aside: f64| {
            [
                to[0] - 11.0 * ux - aside * uy,
                to[1] - 11.0 * uy + aside * ux,
            ]
        };
        let [a, b] = [back(5.0), back(-5.0)];
        let _ = write!(
            self.body,
            "<path fill=\"currentColor\" d=\"M{:.2} {:.2}L{:.2} {:.2}L{:.2} {:.2}Z\"/>",
            to[0], to[1], a[0], a[1], b[0], b[1]
        );
    }

    /// A dimension: the line between two points, with a slanted stroke at each end and the figure beside it.
    pub fn dimension(&mut self, [from, to]: [[f64; 2]; 2], words: &str) {
        self.line(Pen::Narrow, &[from, to]);
        for [x, y] in [from, to] {
            self.line(Pen::Narrow, &[[x - 4.0, y + 4.0], [x + 4.0, y - 4.0]]);
        }
        self.beside([from, to], 0.5, words);
    }

    /// Words along a line, a little above it, some way along.
    pub fn beside(&mut self, [from, to]: [[f64; 2]; 2], share: f64, words: &str) {
        let mut angle = (to[1] - from[1]).atan2(to[0] - from[0]).to_degrees();
        if !(-89.0..=91.0).contains(&angle) {
            angle -= 180.0_f64.copysign(angle);
        }
        let at = [0, 1].map(|axis| from[axis] + (to[axis] - from[axis]) * share);
        let (sin, cos) = angle.to_radians().sin_cos();
        let off = [at[0] + 5.0 * sin, at[1] - 5.0 * cos];
        self.text(off, Hang::Middle, angle, words);
    }

    /// Words on a white ground, so that a line behind does not cross them.
    pub fn text(&mut self, [x, y]: [f64; 2], hang: Hang, angle: f64, words: &str) {
        // A letter is a little wider than half its height.
        let wide = words.chars().count() as f64 * LETTERS * 0.56;
        let (anchor, from) = match hang {
            Hang::Start => ("start", 0.0),
            Hang::Middle => ("middle", -wide / 2.0),
            Hang::End => ("end", -wide),
        };
        let (sin, cos) = angle.to_radians().sin_cos();
        for along in [from, from + wide] {
            self.include([x + along * cos, y + along * sin], LETTERS);
        }
        let turn = match angle {
            0.0 => String::new(),
            _ => format!(" transform=\"rotate({angle:.2} {x:.2} {y:.2})\""),
        };
        let _ = write!(
            self.body,
            "<text x=\"{x:.2}\" y=\"{y:.2}\" text-anchor=\"{anchor}\"{turn}>{}</text>",
            svg_escape(words)
        );
    }

    /// A post or a stake: full, or an empty ring.
    pub fn round(&mut self, at: [f64; 2], radius: f64, full: bool) {
        self.include(at, radius + 1.0);
        let fill = if full { "currentColor" } else { "#fff" };
        let _ = write!(
            self.body,
            "<circle cx=\"{:.2}\" cy=\"{:.2}\" r=\"{radius:.2}\" fill=\"{fill}\" stroke=\"currentColor\" stroke-width=\"1.6\"/>",
            at[0], at[1]
        );
    }

    /// The whole drawing, black on white, with what it shows in words.
    pub fn finish(self, says: &str) -> String {
        let [x, y] = self.least.map(|v| v.min(1e6) - 8.0);
        let [w, h] = [
            (self.most[0] + 8.0 - x).max(1.0),
            (self.most[1] + 8.0 - y).max(1.0),
        ];
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"{x:.1} {y:.1} {w:.1} {h:.1}\" role=\"img\" \
             aria-label=\"{says}\" font-family=\"sans-serif\" font-size=\"{LETTERS}\" color=\"#111\"><title>{says}</title>\
             <rect x=\"{x:.1}\" y=\"{y:.1}\" width=\"{w:.1}\" height=\"{h:.1}\" fill=\"#fff\"/>\
             <g fill=\"#111\" paint-order=\"stroke\" stroke-linejoin=\"round\">{body}</g></svg>",
            says = svg_escape(says),
            body = self
                .body
                .replace("<text ", "<text stroke=\"#fff\" stroke-width=\"4\" ")
        )
    }
}
