//! The drawing to scale: the front at the left, the house's left side at the top, as the plan has it.

use measure::Length;

use super::{Must, SettingOut, Side};
use crate::svg::{Drawing, Hang, Pen};

/// How long a house is drawn at the most, and how wide.
const LONGEST: f64 = 820.0;
const WIDEST: f64 = 460.0;
/// How far strings reach past a corner, and the batter boards stand from it.
const PAST: f64 = 26.0;

/// Draws strings, posts and checks to scale.
pub fn setting_out_svg(out: &SettingOut) -> String {
    let [wide, long] = out.strings.map(|l| l.to_metres().max(0.1));
    let scale = (LONGEST / long).min(WIDEST / wide);
    let at = |x: f64, y: f64| [y * scale, x * scale];
    let mut drawing = Drawing::new();
    let corners = [at(0.0, 0.0), at(wide, 0.0), at(wide, long), at(0.0, long)];

    let [right, down] = [long * scale, wide * scale];
    for y in [0.0, down] {
        drawing.line(Pen::Narrow, &[[-PAST, y], [right + PAST, y]]);
    }
    for x in [0.0, right] {
        drawing.line(Pen::Narrow, &[[x, -PAST], [x, down + PAST]]);
    }
    for corner in corners {
        board(&mut drawing, corner, [right / 2.0, down / 2.0]);
    }
    diagonals(&mut drawing, out, &corners);
    triangle(&mut drawing, out, &at);
    posts(&mut drawing, out, scale);

    let tape = |length: Length| length.tape(out.system);
    let over = -PAST - 34.0;
    drawing.dimension(
        [[0.0, over], [right, over]],
        &format!("string {}", tape(out.strings[1])),
    );
    let beyond = right + PAST + 34.0;
    let words = format!("string {}", tape(out.strings[0]));
    drawing.dimension([[beyond, down], [beyond, 0.0]], &words);
    let names = [
        ([-PAST - 6.0, -PAST - 2.0], Hang::End, "front left"),
        ([-PAST - 6.0, down + PAST + 12.0], Hang::End, "front right"),
        (
            [right + PAST + 6.0, down + PAST + 12.0],
            Hang::Start,
            "back right",
        ),
        ([right + PAST + 6.0, -PAST - 2.0], Hang::Start, "back left"),
    ];
    for (spot, hang, name) in names {
        drawing.text(spot, hang, 0.0, name);
    }
    let says = format!(
        "Setting out: {} posts, strings {} by {}, diagonals {}",
        out.posts.len(),
        tape(out.strings[0]),
        tape(out.strings[1]),
        tape(out.must[4].level)
    );
    drawing.finish(&says)
}

/// A batter board: two short boards outside of a corner.
fn board(drawing: &mut Drawing, corner: [f64; 2], middle: [f64; 2]) {
    let out = [0, 1].map(|axis| PAST.copysign(corner[axis] - middle[axis]));
    let tip = [corner[0] + out[0], corner[1] + out[1]];
    drawing.line(
        Pen::Wide,
        &[
            [tip[0], tip[1] - 1.6 * out[1]],
            tip,
            [tip[0] - 1.6 * out[0], tip[1]],
        ],
    );
}

fn diagonals(drawing: &mut Drawing, out: &SettingOut, corners: &[[f64; 2]; 4]) {
    let words = |must: &Must| {
        let level = must.level.tape(out.system);
        match out.asked.fall.is_level() {
            true => level,
            // What the tape reads on the ground stands in the table.
            false => format!("{level} level"),
        }
    };
    let pairs = [([0, 2], &out.must[4]), ([1, 3], &out.must[5])];
    for ([from, to], must) in pairs {
        let line = [corners[from], corners[to]];
        drawing.line(Pen::Dashed, &line);
        drawing.beside(line, 0.72, &words(must));
    }
}

/// The largest triangle, at front left.
fn triangle(drawing: &mut Drawing, out: &SettingOut, at: &impl Fn(f64, f64) -> [f64; 2]) {
    let Some(t) = out.triangles.first() else {
        return;
    };
    let [corner, along, across] = [
        at(0.0, 0.0),
        at(0.0, t.along.to_metres()),
        at(t.across.to_metres(), 0.0),
    ];
    drawing.line(Pen::Wide, &[across, corner, along, across]);
    let tape = |length: Length| length.tape(out.system);
    drawing.beside(
        [[corner[0], corner[1] + 20.0], [along[0], along[1] + 20.0]],
        0.62,
        &tape(t.along),
    );
    drawing.beside(
        [[corner[0] + 20.0, across[1]], [corner[0] + 20.0, corner[1]]],
        0.5,
        &tape(t.across),
    );
    drawing.beside([across, along], 0.5, &tape(t.slant));
}

/// Every post, the bows numbered as far as there is room.
fn posts(drawing: &mut Drawing, out: &SettingOut, scale: f64) {
    let last = out.posts.iter().map(|post| post.bow).max().unwrap_or(1);
    let first_two = out
        .posts
        .iter()
        .filter(|post| post.side == Side::Left)
        .take(2);
    let ys: Vec<f64> = first_two.map(|post| post.y).collect();
    let bay = ys
        .windows(2)
        .map(|pair| (pair[1] - pair[0]) * scale)
        .fold(f64::MAX, f64::min);
    let every = ([1, 2, 5, 10].into_iter())
        .find(|every| f64::from(*every) * bay > 24.0)
        .unwrap_or(20) as usize;
    for post in &out.posts {
        let spot = [post.y * scale, post.x * scale];
        drawing.round(spot, 4.0, true);
        let clear = (last - post.bow) >= every || post.bow == last;
        if post.bow == 1 || post.bow == last || (post.bow % every == 0 && clear) {
            let below = match post.side {
                Side::Left => -9.0,
                Side::Right => 21.0,
            };
            drawing.text(
                [spot[0], spot[1] + below],
                Hang::Middle,
                0.0,
                &post.bow.to_string(),
            );
        }
    }
}
