//! Ruled lines of a page: found, and taken out, so that a recogniser takes none of them for a letter.

use image::GrayImage;

/// Darker than this may be a rule: thin ones come out grey.
const RULE: u8 = 205;
/// A rule has a piece of at least this share of the page's longer side: no letter is as wide.
const LONG: f32 = 0.03;
/// A rule is at most this share of it thick.
const THICK: f32 = 0.005;
/// A rule is broken by no more than this share of it.
const BROKEN: f32 = 0.12;
/// So many light pixels do not end a piece; those between two letters do.
const GAP: usize = 1;
/// The share of its length that is ink.
const INKED: f32 = 0.6;
/// How many pixels pieces of one rule may lie above each other.
const APART: usize = 2;
/// A page with more rules than this is hatched; the others stay.
const MOST: usize = 2_000;

/// Returns the page without its ruled lines, and where they ran: left, top, right, bottom.
pub(crate) fn taken_out(page: &GrayImage) -> (GrayImage, Vec<[u32; 4]>) {
    let mut clean = page.clone();
    let mut rules = level(page, &mut clean);
    // With the level ones gone, those that cross them end at no corner.
    let side = image::imageops::rotate90(&clean);
    let mut side_clean = side.clone();
    let high = page.height();
    for [left, top, right, bottom] in level(&side, &mut side_clean) {
        rules.push([top, high - right, bottom, high - left]);
    }
    (image::imageops::rotate270(&side_clean), rules)
}

/// A rule, or a piece of one.
struct Rule {
    left: usize,
    top: usize,
    right: usize,
    bottom: usize,
    /// Runs of ink: row, from, to.
    runs: Vec<[usize; 3]>,
}

impl Rule {
    fn of([y, from, to]: [usize; 3]) -> Self {
        Self {
            left: from,
            top: y,
            right: to,
            bottom: y + 1,
            runs: vec![[y, from, to]],
        }
    }

    /// Whether another piece lies as if it went on from this one, with no more than a gap between.
    fn goes_on_in(&self, other: &Self, gap: usize) -> bool {
        self.top <= other.bottom + APART
            && other.top <= self.bottom + APART
            && self.left <= other.right + gap
            && other.left <= self.right + gap
    }

    fn take(&mut self, other: Self) {
        self.left = self.left.min(other.left);
        self.top = self.top.min(other.top);
        self.right = self.right.max(other.right);
        self.bottom = self.bottom.max(other.bottom);
        self.runs.extend(other.runs);
    }
}

/// Takes out the rules that run level.
fn level(page: &GrayImage, clean: &mut GrayImage) -> Vec<[u32; 4]> {
    let longer = page.width().max(page.height()) as f32;
    let share = |share: f32, least: f32| (longer * share).max(least) as usize;
    let (long, thick, gap) = (share(LONG, 24.0), share(THICK, 3.0), share(BROKEN, 0.0));
    let pieces = pieces(page, long, gap);
    let rules = pieces.into_iter().filter(|rule| {
        // The mean thickness: one that falls a little is seen in runs one below the other.
        let ink: usize = rule.runs.iter().map(|[_, from, to]| to - from).sum();
        let span = (rule.right - rule.left).max(1);
        ink <= thick * span && ink as f32 >= INKED * span as f32
    });
    rules
        .take(MOST)
        .map(|rule| {
            erase(&rule, page, clean, thick);
            [rule.left, rule.top, rule.right, rule.bottom].map(|side| side as u32)
        })
        .collect()
}

/// Runs of ink put together as they go on in each other, from the top.
fn pieces(page: &GrayImage, long: usize, gap: usize) -> Vec<Rule> {
    let wide = page.width() as usize;
    let (mut open, mut done): (Vec<Rule>, Vec<Rule>) = (Vec::new(), Vec::new());
    for (y, row) in page.as_raw().chunks_exact(wide.max(1)).enumerate() {
        for [from, to] in runs(row, long) {
            let mut rule = Rule::of([y, from, to]);
            // A run may join several pieces.
            let mut at = 0;
            while at < open.len() {
                if open[at].goes_on_in(&rule, gap) {
                    rule.take(open.swap_remove(at));
                    at = 0;
                } else {
                    at += 1;
                }
            }
            open.push(rule);
        }
        let (going, ended): (Vec<Rule>, Vec<Rule>) =
            open.into_iter().partition(|rule| rule.bottom + APART >= y);
        open = going;
        done.extend(ended);
    }
    done.extend(open);
    done
}

/// Runs of ink at least so long, small gaps bridged.
fn runs(row: &[u8], long: usize) -> Vec<[usize; 2]> {
    let mut runs = Vec::new();
    let (mut start, mut end) = (0, 0);
    for (x, _) in row.iter().enumerate().filter(|(_, light)| **light < RULE) {
        if x > end + GAP {
            if end - start >= long {
                runs.push([start, end]);
            }
            start = x;
        }
        end = x + 1;
    }
    if end - start >= long {
        runs.push([start, end]);
    }
    runs
}

/// Paints a rule white, also where it is broken, but for where a letter's stroke crosses it.
fn erase(rule: &Rule, page: &GrayImage, clean: &mut GrayImage, thick: usize) {
    let (wide, high) = (page.width() as usize, page.height() as usize);
    let mut rows = vec![None; rule.right - rule.left];
    for &[y, from, to] in &rule.runs {
        for row in &mut rows[from - rule.left..to - rule.left] {
            let (top, bottom) = row.unwrap_or((y, y));
            *row = Some((y.min(top), y.max(bottom)));
        }
    }
    // Where it is broken it runs on as it did.
    let mut last = rows.iter().flatten().copied().next();
    for (n, row) in rows.into_iter().enumerate() {
        last = row.or(last);
        let Some((top, bottom)) = last else { continue };
        let x = rule.left + n;
        let dark = |y: &usize| page.as_raw()[y * wide + x] < RULE;
        let above = (0..top).rev().take(thick + 2).take_while(dark).count();
        let below = (bottom + 1..high).take(thick + 2).take_while(dark).count();
        if above + below + (bottom - top) > thick + 1 {
            continue;
        }
        // With the grey of its edges.
        let from = top.saturating_sub(above + 1);
        for y in from..(bottom + below + 2).min(high) {
            clean.as_mut()[y * wide + x] = 255;
        }
    }
}
