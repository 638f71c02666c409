//! The frame drawn from a corner: one path a piece, nearer lines over farther ones, the ground over what is in it.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use super::hidden::{self, Stroke};
use super::isometric_measures::dimensions;
use super::line::{Line, points, split_at_ground};
use super::lit::{LIT, Lit, STEPPED_BACK};
use super::marks::Marks;
use super::svg::{Extent, INK, PathText, Spot, TYPEFACE, escape, text_width};
use super::view::{View, nearness, project};
use crate::graph::{Frame, Point};
use crate::part::Mark;

/// Drawing units a metre, of a house that is no longer than fits.
const SCALE: f64 = 60.0;
/// The widest that a drawing may become; a longer house is drawn smaller.
const WIDEST: f64 = 1_500.0;
/// Room around the drawing, in drawing units.
const MARGIN: f64 = 24.0;
/// The clear space, in drawing units, that is left on either side of a nearer line.
pub const HIDDEN_GAP: f64 = 2.0;
/// Points of a curve are at most this far apart, in metres.
const CURVE: f64 = 0.15;
/// Letter size of the marks.
const MARKS: f64 = 18.0;
/// Draws the frame from a corner. The text is safe to put into a page: marks and names are escaped.
pub fn isometric(frame: &Frame, view: View) -> String {
    isometric_lit(frame, view, Lit::Nothing)
}

/// Draws the frame from a corner with something lit, as a page's script would light it.
pub fn isometric_lit(frame: &Frame, view: View, lit: Lit) -> String {
    let mut sheet = Sheet::new(frame, view, lit);
    let body = [
        film(frame, &mut sheet),
        pieces(frame, &mut sheet),
        hardware(frame, &sheet),
        dimensions(frame, sheet.view, sheet.scale, &mut sheet.extent),
    ]
    .concat();
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"frame{}\" viewBox=\"{}\" role=\"img\" \
         aria-label=\"{} drawn from its {}: {} bows, {} pieces{}\" fill=\"none\" stroke=\"{INK}\" \
         stroke-linecap=\"round\" stroke-linejoin=\"round\">{body}</svg>",
        if lit.is_nothing() { "" } else { " lighting" },
        sheet.extent.view_box(MARGIN),
        escape(&frame.title),
        view.says(),
        frame.bows,
        frame.pieces.len(),
        escape(&lit.says()),
    )
}

struct Sheet<'a> {
    view: View,
    lit: Lit<'a>,
    scale: f64,
    extent: Extent,
}

impl<'a> Sheet<'a> {
    fn new(frame: &Frame, view: View, lit: Lit<'a>) -> Self {
        let across = (frame.width.to_metres() + frame.length.to_metres()) * 0.87;
        Self {
            view,
            lit,
            scale: SCALE.min(WIDEST / across.max(1.0)),
            extent: Extent::default(),
        }
    }

    fn spot(&self, p: Point) -> Spot {
        project(self.view.turned(p), self.scale)
    }

    fn placed(&mut self, p: Point) -> Spot {
        let spot = self.spot(p);
        self.extent.include(spot);
        spot
    }
}

/// One piece on the sheet before lines are hidden.
struct Drawn<'a> {
    index: usize,
    line: Line,
    stage: &'a str,
    above: Vec<Spot>,
    /// What lies in the ground, and stays hidden there.
    below: Vec<Spot>,
}

fn pieces(frame: &Frame, sheet: &mut Sheet) -> String {
    let lines = Line::of_pieces(frame);
    let widths = member_widths(frame, &lines);
    let mut drawn = Vec::with_capacity(frame.pieces.len());
    let mut strokes = Vec::with_capacity(frame.pieces.len());
    for (index, (piece, line)) in frame.pieces.iter().zip(lines).enumerate() {
        let member = &frame.members[piece.member];
        let points = points(frame, piece, CURVE);
        let (over, under) = split_at_ground(&points);
        let above: Vec<Spot> = over.iter().map(|p| sheet.placed(*p)).collect();
        // What is shown only when lit lies over everything, whole; it takes no part in the hiding.
        let corners = match line {
            Line::LitOnly => Vec::new(),
            _ => (above.iter().zip(&over))
                .map(|(spot, p)| (*spot, nearness(sheet.view.turned(*p))))
                .collect(),
        };
        strokes.push(Stroke {
            member: piece.member,
            width: line.width().max(member.on.map_or(0.0, |on| widths[on])),
            hides: member.on.is_none(),
            corners,
        });
        drawn.push(Drawn {
            index,
            line,
            stage: frame.belongs(piece.member).0,
            above,
            below: under.into_iter().map(|p| sheet.placed(p)).collect(),
        });
    }
    let seen = hidden::seen(&strokes, HIDDEN_GAP);
    let marks = marks(frame, sheet.lit, &strokes, &seen);
    written(frame, sheet.lit, &drawn, seen) + &marks
}

/// A stretch that is seen, after how near its piece comes to the eye.
type Near<'a> = (f64, &'a [Spot]);

/// One mark for every use of a part, on the nearest stretch that has room for it; of what is lit alone, while something is.
fn marks(frame: &Frame, lit: Lit, strokes: &[Stroke], seen: &[Vec<Vec<Spot>>]) -> String {
    let mut uses: BTreeMap<(&Mark, &str), Vec<Near>> = BTreeMap::new();
    let pieces = frame.pieces.iter().enumerate();
    for (((index, piece), stroke), stretches) in pieces.zip(strokes).zip(seen) {
        if !lit.is_nothing() && !lit.piece(frame, index) {
            continue;
        }
        let near = (stroke.corners.iter()).fold(f64::MIN, |near, corner| near.max(corner.1));
        let member = &frame.members[piece.member];
        // What lies on other members shares their lines: once is enough.
        let role = match member.on {
            Some(_) => "",
            None => member.role.as_str(),
        };
        let found = uses.entry((&piece.mark, role)).or_default();
        found.extend(stretches.iter().map(|stretch| (near, stretch.as_slice())));
    }
    let mut text = format!(
        "<g class=\"marks\" stroke=\"none\" fill=\"{INK}\" font-family=\"{TYPEFACE}\" font-size=\"{MARKS}\" \
         text-anchor=\"middle\">"
    );
    let lines = seen.iter().flatten().map(Vec::as_slice);
    let mut marks = Marks::among(lines, MARKS);
    for ((mark, _), mut stretches) in uses {
        stretches.sort_by(|a, b| b.0.total_cmp(&a.0));
        let wide = text_width(&mark.0, MARKS);
        let nearest = || stretches.iter().take(10).map(|(_, stretch)| *stretch);
        let place = (nearest().find_map(|stretch| marks.clear_place(stretch, wide)))
            .or_else(|| nearest().find_map(|stretch| marks.any_place(stretch, wide)));
        if let Some(spot) = place {
            marks.take(spot, wide);
            write_mark(&mut text, spot, wide, mark);
        }
    }
    text.push_str("</g>");
    text
}

fn write_mark(text: &mut String, spot: Spot, wide: f64, mark: &Mark) {
    let _ = write!(
        text,
        "<rect fill=\"#fff\" x=\"{:.1}\" y=\"{:.1}\" width=\"{:.1}\" height=\"{MARKS}\"/>\
         <text x=\"{:.1}\" y=\"{:.1}\">{}</text>",
        spot.u - wide / 2.0 - 2.0,
        spot.v - MARKS / 2.0,
        wide + 4.0,
        spot.u,
        spot.v + MARKS * 0.36,
        escape(&mark.0)
    );
}

/// The widest line of each member's pieces.
fn member_widths(frame: &Frame, lines: &[Line]) -> Vec<f64> {
    let mut widths = vec![0.0_f64; frame.members.len()];
    for (piece, line) in frame.pieces.iter().zip(lines) {
        widths[piece.member] = widths[piece.member].max(line.width());
    }
    widths
}

/// Pieces grouped by how they are drawn and by stage, so that neither is said four thousand times.
fn written(frame: &Frame, lit: Lit, drawn: &[Drawn], seen: Vec<Vec<Vec<Spot>>>) -> String {
    let shared = shared_titles(frame);
    let mut groups: BTreeMap<(Line, &str), Group> = BTreeMap::new();
    let mut below: BTreeMap<&str, Group> = BTreeMap::new();
    for (piece, stretches) in drawn.iter().zip(seen) {
        let mut path = PathText::default();
        for stretch in stretches {
            path.line(stretch);
        }
        let mut line = piece.line;
        if path.is_empty() && piece.above.len() > 1 {
            // Shown only when lit, or wholly behind something nearer.
            line = Line::LitOnly;
            path.line(piece.above.iter().copied());
        }
        let title = match shared[frame.pieces[piece.index].member] {
            true => Title::Shared,
            false => Title::Own,
        };
        if !path.is_empty() {
            let title = if line == Line::LitOnly {
                Title::None
            } else {
                title
            };
            let group = groups.entry((line, piece.stage)).or_default();
            group.write(frame, lit, piece.index, path, title);
        }
        if piece.below.len() > 1 {
            let mut path = PathText::default();
            path.line(piece.below.iter().copied());
            let title = if piece.above.is_empty() {
                title
            } else {
                Title::None
            };
            let group = below.entry(piece.stage).or_default();
            group.write(frame, lit, piece.index, path, title);
        }
    }
    let mut text = match lit.is_nothing() {
        true => String::from("<g class=\"pieces\">"),
        false => format!("<g class=\"pieces\" stroke=\"{STEPPED_BACK}\">"),
    };
    for (stage, shapes) in below {
        let _ = write!(
            text,
            "<g class=\"below\" data-stage=\"{}\" stroke-width=\"1.5\" stroke-linecap=\"butt\" \
             stroke-dasharray=\"6 4\">{}</g>",
            escape(stage),
            shapes.finish()
        );
    }
    for ((line, stage), shapes) in groups {
        let hidden = match line {
            Line::LitOnly => " visibility=\"hidden\"",
            _ => "",
        };
        let _ = write!(
            text,
            "<g class=\"{}\" data-stage=\"{}\" stroke-width=\"{}\"{hidden}>{}</g>",
            line.class(),
            escape(stage),
            line.width(),
            shapes.finish()
        );
    }
    text.push_str("</g>");
    text
}

/// Who says what a piece is when a pointer rests on it.
#[derive(Clone, Copy, PartialEq)]
enum Title {
    /// Its own title, with its place.
    Own,
    /// One for all pieces of the member: a long line of many pieces says it once.
    Shared,
    /// It is said elsewhere, or not to be seen.
    None,
}

/// Per member, whether its pieces share a title.
fn shared_titles(frame: &Frame) -> Vec<bool> {
    let mut of_member: Vec<Option<(&Mark, usize)>> = vec![Some((&NO_MARK, 0)); frame.members.len()];
    for piece in &frame.pieces {
        let known = &mut of_member[piece.member];
        *known = match *known {
            Some((mark, count)) if count == 0 || *mark == piece.mark => {
                Some((&piece.mark, count + 1))
            }
            _ => None,
        };
    }
    (of_member.into_iter())
        .map(|known| known.is_some_and(|(_, count)| count > 2))
        .collect()
}

static NO_MARK: Mark = Mark(String::new());

/// Shapes that are drawn alike.
#[derive(Default)]
struct Group {
    text: String,
    /// The member whose pieces are being written under one title.
    open: Option<usize>,
}

impl Group {
    fn write(&mut self, frame: &Frame, lit: Lit, index: usize, path: PathText, title: Title) {
        let piece = &frame.pieces[index];
        let mark = escape(&piece.mark.0);
        let member = (title == Title::Shared).then_some(piece.member);
        if self.open != member {
            self.close();
            self.open = member;
            if let Some(member) = member {
                let name = escape(&frame.members[member].name);
                let _ = write!(self.text, "<g><title>{mark} · {name}</title>");
            }
        }
        let _ = write!(
            self.text,
            "<path{} data-piece=\"{index}\" data-mark=\"{mark}\" d=\"{}\"",
            if lit.piece(frame, index) {
                format!(" class=\"lit\"{LIT}")
            } else {
                String::new()
            },
            path.finish()
        );
        self.text.push_str(match title {
            Title::Own => "><title>",
            Title::Shared | Title::None => "/>",
        });
        if title == Title::Own {
            let _ = write!(self.text, "{mark} · {}</title></path>", escape(&piece.name));
        }
    }

    fn close(&mut self) {
        if self.open.take().is_some() {
            self.text.push_str("</g>");
        }
    }

    fn finish(mut self) -> String {
        self.close();
        self.text
    }
}

/// Dots of one path, each in a whole step from the one before.
#[derive(Default)]
struct Dots {
    d: String,
    last: (i64, i64),
}

impl Dots {
    fn add(&mut self, at: (i64, i64)) {
        let command = if self.d.is_empty() { 'M' } else { 'm' };
        let (du, dv) = (at.0 - self.last.0, at.1 - self.last.1);
        let apart = if dv < 0 { "" } else { " " };
        let _ = write!(self.d, "{command}{du}{apart}{dv}h0");
        self.last = at;
    }
}

/// All places of one kind of hardware of one stage as dots of one path, to the whole drawing unit.
fn hardware(frame: &Frame, sheet: &Sheet) -> String {
    let mut places: BTreeMap<(&Mark, &str), Dots> = BTreeMap::new();
    for joint in &frame.joints {
        let spot = sheet.spot(joint.at);
        let at = (spot.u.round() as i64, spot.v.round() as i64);
        let kind = frame.joint_kind(joint);
        for (mark, _) in &kind.hardware {
            let dots = places.entry((mark, kind.stage.as_str())).or_default();
            dots.add(at);
        }
    }
    // What hangs in the house without an outline, such as a door: one dot is better than nothing while it is lit.
    let hung = frame.hung.iter().filter(|hung| hung.outline.is_empty());
    for hung in hung.filter(|hung| sheet.lit.hung(hung)) {
        let spot = sheet.spot(hung.at);
        let dots = places.entry((&hung.mark, hung.stage.as_str())).or_default();
        dots.add((spot.u.round() as i64, spot.v.round() as i64));
    }
    let shapes: String = (places.iter())
        .map(|((mark, stage), dots)| {
            format!(
                "<path class=\"dots lit-only{}\" data-mark=\"{}\" data-stage=\"{}\" d=\"{}\"/>",
                match sheet.lit.bundle(mark, stage) {
                    true => " lit\" stroke=\"#b3470b\" visibility=\"visible",
                    false => "",
                },
                escape(&mark.0),
                escape(stage),
                dots.d
            )
        })
        .collect();
    format!("<g class=\"hardware\" stroke-width=\"13\" visibility=\"hidden\">{shapes}</g>")
}

fn film(frame: &Frame, sheet: &mut Sheet) -> String {
    let shapes: String = (frame.hung.iter())
        .filter(|hung| !hung.outline.is_empty())
        .map(|hung| {
            let mut path = PathText::default();
            path.line(hung.outline.iter().map(|p| sheet.placed(*p)));
            path.close();
            format!(
                "<path class=\"film lit-only{}\" data-mark=\"{}\" data-stage=\"{}\" d=\"{}\"><title>{} · {}</title></path>",
                match sheet.lit.hung(hung) {
                    true => " lit\" fill=\"#b3470b\" fill-opacity=\".28\" visibility=\"visible",
                    false => "",
                },
                escape(&hung.mark.0),
                escape(&hung.stage),
                path.finish(),
                escape(&hung.mark.0),
                escape(&hung.name)
            )
        })
        .collect();
    format!("<g class=\"skins\" stroke=\"none\" visibility=\"hidden\">{shapes}</g>")
}
