//! What a page draws, in millimetres from its upper left corner, read from the page's own operators by hayro.

use hayro_syntax::Pdf;
use hayro_syntax::content::ops::TypedInstruction as Op;

/// One closed or open line of a path.
#[derive(Debug, Clone, Default)]
pub struct Line {
    /// Where it starts and where each stretch of it ends.
    pub points: Vec<(f64, f64)>,
    /// How many of its stretches are Bézier curves.
    pub curves: usize,
    pub filled: bool,
}

impl Line {
    pub fn left(&self) -> f64 {
        self.points.iter().map(|p| p.0).fold(f64::MAX, f64::min)
    }

    pub fn right(&self) -> f64 {
        self.points.iter().map(|p| p.0).fold(f64::MIN, f64::max)
    }

    pub fn top(&self) -> f64 {
        self.points.iter().map(|p| p.1).fold(f64::MAX, f64::min)
    }

    pub fn bottom(&self) -> f64 {
        self.points.iter().map(|p| p.1).fold(f64::MIN, f64::max)
    }

    pub fn width(&self) -> f64 {
        self.right() - self.left()
    }

    pub fn height(&self) -> f64 {
        self.bottom() - self.top()
    }

    /// Four curves that are as wide as high.
    pub fn is_circle(&self) -> bool {
        self.curves == 4 && (self.width() - self.height()).abs() < 0.01
    }
}

/// Everything that a page draws and does not write, page by page.
///
/// Panics if anything on the way scales, turns or skews: true size is true on the page or not at all.
pub fn drawn(bytes: &[u8]) -> Vec<Vec<Line>> {
    let pdf = Pdf::new(bytes.to_vec()).expect("hayro reads the file");
    let pages = pdf.pages();
    pages.iter().map(on_page).collect()
}

fn on_page(page: &hayro_syntax::page::Page<'_>) -> Vec<Line> {
    let sheet_height = page.media_box().y1;
    let mut lines = Vec::new();
    let mut path: Vec<Line> = Vec::new();
    // Flip of each axis and shift, in points.
    let mut now = [1.0, 1.0, 0.0, 0.0];
    let mut kept = Vec::new();
    let mut operations = page.typed_operations();
    while let Some(operation) = operations.next() {
        let at = |now: [f64; 4], x: f64, y: f64| {
            let (x, y) = (now[0] * x + now[2], now[1] * y + now[3]);
            (x / 72.0 * 25.4, (sheet_height - y) / 72.0 * 25.4)
        };
        match operation {
            Op::SaveState(_) => kept.push(now),
            Op::RestoreState(_) => now = kept.pop().expect("a state was kept"),
            Op::Transform(by) => {
                let [a, b, c, d, e, f] = [by.0, by.1, by.2, by.3, by.4, by.5].map(|n| n.as_f64());
                let flips_or_shifts = a.abs() == 1.0 && d.abs() == 1.0 && b == 0.0 && c == 0.0;
                assert!(flips_or_shifts, "scaled or turned: {a} {b} {c} {d} {e} {f}");
                let [x, y, right, up] = now;
                now = [x * a, y * d, right + x * e, up + y * f];
            }
            Op::MoveTo(to) => path.push(Line {
                points: vec![at(now, to.0.as_f64(), to.1.as_f64())],
                ..Line::default()
            }),
            Op::LineTo(to) => {
                let line = path.last_mut().expect("a path is open");
                line.points.push(at(now, to.0.as_f64(), to.1.as_f64()));
            }
            Op::CubicTo(to) => {
                let line = path.last_mut().expect("a path is open");
                line.points.push(at(now, to.4.as_f64(), to.5.as_f64()));
                line.curves += 1;
            }
            Op::RectPath(r) => {
                let [x, y, w, h] = [r.0, r.1, r.2, r.3].map(|n| n.as_f64());
                let corners = [(x, y), (x + w, y), (x + w, y + h), (x, y + h)];
                path.push(Line {
                    points: corners.map(|(x, y)| at(now, x, y)).to_vec(),
                    ..Line::default()
                });
            }
            Op::StrokePath(_) | Op::CloseAndStrokePath(_) => lines.append(&mut path),
            Op::FillPathNonZero(_) | Op::FillPathEvenOdd(_) => {
                path.iter_mut().for_each(|line| line.filled = true);
                lines.append(&mut path);
            }
            Op::EndPath(_) => path.clear(),
            _ => {}
        }
    }
    lines
}
