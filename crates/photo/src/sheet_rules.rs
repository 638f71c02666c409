//! Ruled lines of a page: found, and taken out, so that a recogniser takes none of them for a letter.

use image::{GrayImage, Luma};

/// Darker than this is ink.
const INK: u8 = 160;
/// A rule is at least this share of the page's longer side: no letter is as wide.
const LONG: f32 = 0.03;
/// A rule is at most this share of it thick.
const THICK: f32 = 0.005;
/// So many light pixels do not end a rule.
const GAP: usize = 3;
/// A page with more rules than this is hatched; its rules are taken out, and not told.
const MOST: usize = 4_000;

/// Returns the page without its ruled lines, and where they ran: left, top, right, bottom.
pub(crate) fn taken_out(page: &GrayImage) -> (GrayImage, Vec<[u32; 4]>) {
    let longer = page.width().max(page.height()) as f32;
    let (long, thick) = ((longer * LONG) as usize, (longer * THICK).max(3.0) as usize);
    let mut clean = page.clone();
    let mut rules = level(page, &mut clean, long.max(24), thick);
    let side = image::imageops::rotate90(page);
    let mut side_clean = image::imageops::rotate90(&clean);
    let high = page.height();
    for [left, top, right, bottom] in level(&side, &mut side_clean, long.max(24), thick) {
        rules.push([top, high - right, bottom, high - left]);
    }
    rules.truncate(MOST);
    (image::imageops::rotate270(&side_clean), rules)
}

/// A rule in the making: pieces of neighbouring rows.
struct Rule {
    place: [usize; 4],
    pieces: Vec<[usize; 3]>,
}

fn level(page: &GrayImage, clean: &mut GrayImage, long: usize, thick: usize) -> Vec<[u32; 4]> {
    let wide = page.width() as usize;
    let mut open: Vec<Rule> = Vec::new();
    let mut rules = Vec::new();
    for (y, row) in page.as_raw().chunks_exact(wide.max(1)).enumerate() {
        for [from, to] in runs(row, long) {
            let touches = |rule: &Rule| {
                rule.place[3] + 1 >= y && rule.place[0] <= to + GAP && from <= rule.place[2] + GAP
            };
            match open.iter_mut().find(|rule| touches(rule)) {
                Some(rule) => {
                    rule.place[0] = rule.place[0].min(from);
                    rule.place[2] = rule.place[2].max(to);
                    rule.place[3] = y + 1;
                    rule.pieces.push([y, from, to]);
                }
                None => open.push(Rule {
                    place: [from, y, to, y + 1],
                    pieces: vec![[y, from, to]],
                }),
            }
        }
        let (done, going): (Vec<Rule>, Vec<Rule>) =
            open.into_iter().partition(|rule| rule.place[3] + 1 < y);
        open = going;
        rules.extend(
            done.into_iter()
                .filter_map(|rule| finished(rule, page, clean, thick)),
        );
    }
    rules.extend(
        open.into_iter()
            .filter_map(|rule| finished(rule, page, clean, thick)),
    );
    rules
}

/// Runs of ink at least so long, small gaps bridged.
fn runs(row: &[u8], long: usize) -> Vec<[usize; 2]> {
    let mut runs = Vec::new();
    let (mut start, mut last) = (None, 0);
    for (x, &light) in row.iter().enumerate() {
        if light < INK {
            if start.is_none() || x > last + 1 + GAP {
                if let Some(from) = start
                    && last + 1 - from >= long
                {
                    runs.push([from, last + 1]);
                }
                start = Some(x);
            }
            last = x;
        }
    }
    if let Some(from) = start
        && last + 1 - from >= long
    {
        runs.push([from, last + 1]);
    }
    runs
}

/// Takes a rule out where nothing crosses it; nothing where it is too thick to be one.
fn finished(rule: Rule, page: &GrayImage, clean: &mut GrayImage, thick: usize) -> Option<[u32; 4]> {
    let [left, top, right, bottom] = rule.place;
    let pieces = rule
        .pieces
        .iter()
        .map(|[_, from, to]| to - from)
        .sum::<usize>();
    // Its mean thickness: one that falls a little is seen in pieces, one below the other.
    if pieces > thick * (right - left).max(1) {
        return None;
    }
    let high = page.height() as usize;
    for [y, from, to] in rule.pieces {
        for x in from..to {
            // Ink that goes on beyond a rule's thickness is a letter's stroke.
            let dark = |y: usize| page.get_pixel(x as u32, y as u32)[0] < INK;
            let above = (0..=y)
                .rev()
                .take(thick + 2)
                .take_while(|&y| dark(y))
                .count();
            let below = (y..high).take(thick + 2).take_while(|&y| dark(y)).count();
            if above + below <= thick + 2 {
                // With the grey of its edges.
                for y in (y + 1).saturating_sub(above + 1)..(y + below + 1).min(high) {
                    clean.put_pixel(x as u32, y as u32, Luma([255]));
                }
            }
        }
    }
    Some([left, top, right, bottom].map(|side| side as u32))
}
