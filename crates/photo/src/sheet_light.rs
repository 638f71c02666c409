//! Uneven light divided out: what the paper itself would be, place by place, becomes white.

use image::GrayImage;

/// Tiles along the longer side: smaller than the reach of a shadow, larger than a headline.
const TILES: u32 = 60;
/// The share of a tile's pixels that are darker than its paper.
const PAPER: f32 = 0.85;
/// Paper is never darker than this; in a black corner noise would become writing.
const DARKEST: f32 = 24.0;
/// What is as light as this share of the paper is paper.
const WHITE: f32 = 0.92;
/// The share of the page that is surely ink where anything is written.
const INK: f32 = 0.004;
/// Ink lighter than this share of the paper is not made black: it may be the back of the page shining through.
const FAINTEST: f32 = 0.6;

/// Returns the picture in even light: paper white, ink dark.
pub(crate) fn even(picture: &GrayImage) -> GrayImage {
    let (wide, high) = picture.dimensions();
    let tile = (wide.max(high) / TILES).max(8);
    let (columns, rows) = (wide.div_ceil(tile), high.div_ceil(tile));
    let mut paper = Grid {
        columns: columns as usize,
        rows: rows as usize,
        light: Vec::with_capacity((columns * rows) as usize),
    };
    for row in 0..rows {
        for column in 0..columns {
            paper.light.push(tile_paper(picture, tile, column, row));
        }
    }
    // A heading in white on a dark bar, or a drawing, is darker than paper: its neighbours tell.
    let paper = paper.each(1, |around| around.iter().copied().fold(0.0, f32::max));
    let paper = paper.each(2, |around| around.iter().sum::<f32>() / around.len() as f32);

    let mut even = GrayImage::new(wide, high);
    let mut counts = [0u32; 256];
    for (y, row) in even.as_mut().chunks_exact_mut(wide as usize).enumerate() {
        let across = paper.row((y as f32 + 0.5) / tile as f32 - 0.5);
        let from = &picture.as_raw()[y * wide as usize..];
        for (x, (pixel, &light)) in row.iter_mut().zip(from).enumerate() {
            let white = between(&across, (x as f32 + 0.5) / tile as f32 - 0.5).max(DARKEST);
            *pixel = (f32::from(light) / white * 255.0).min(255.0) as u8;
            counts[usize::from(*pixel)] += 1;
        }
    }
    stretch(&mut even, &counts);
    even
}

fn tile_paper(picture: &GrayImage, tile: u32, column: u32, row: u32) -> f32 {
    let (wide, high) = picture.dimensions();
    let (left, top) = (column * tile, row * tile);
    let (right, bottom) = ((left + tile).min(wide), (top + tile).min(high));
    let mut counts = [0u32; 256];
    let mut all = 0;
    for y in top..bottom {
        let start = (y * wide + left) as usize;
        for &light in &picture.as_raw()[start..start + (right - left) as usize] {
            counts[usize::from(light)] += 1;
            all += 1;
        }
    }
    f32::from(quantile(&counts, all, PAPER))
}

fn quantile(counts: &[u32; 256], all: u32, share: f32) -> u8 {
    let wanted = (all as f32 * share) as u32;
    let mut sum = 0;
    for (light, count) in counts.iter().enumerate() {
        sum += count;
        if sum > wanted {
            return light as u8;
        }
    }
    255
}

/// From ink to paper over the whole range.
fn stretch(even: &mut GrayImage, counts: &[u32; 256]) {
    let ink = f32::from(quantile(counts, counts.iter().sum(), INK)).min(255.0 * FAINTEST);
    let white = 255.0 * WHITE;
    for pixel in even.as_mut() {
        let share = (f32::from(*pixel) - ink) / (white - ink);
        *pixel = (share * 255.0).clamp(0.0, 255.0) as u8;
    }
}

/// A value for each tile.
struct Grid {
    columns: usize,
    rows: usize,
    light: Vec<f32>,
}

impl Grid {
    /// Works each value out anew from those within `reach` tiles.
    fn each(&self, reach: usize, of: impl Fn(&[f32]) -> f32) -> Self {
        let mut light = Vec::with_capacity(self.light.len());
        let mut around = Vec::new();
        for row in 0..self.rows {
            for column in 0..self.columns {
                around.clear();
                for y in row.saturating_sub(reach)..(row + reach + 1).min(self.rows) {
                    let start = y * self.columns;
                    let from = start + column.saturating_sub(reach);
                    let to = start + (column + reach + 1).min(self.columns);
                    around.extend_from_slice(&self.light[from..to]);
                }
                light.push(of(&around));
            }
        }
        Self {
            columns: self.columns,
            rows: self.rows,
            light,
        }
    }

    /// The values along a height between two rows of tiles.
    fn row(&self, at: f32) -> Vec<f32> {
        let at = at.clamp(0.0, (self.rows - 1) as f32);
        let low = at as usize;
        let high = (low + 1).min(self.rows - 1);
        let share = at - low as f32;
        let of = |row: usize| &self.light[row * self.columns..(row + 1) * self.columns];
        let pairs = of(low).iter().zip(of(high));
        pairs.map(|(a, b)| a + (b - a) * share).collect()
    }
}

fn between(values: &[f32], at: f32) -> f32 {
    let at = at.clamp(0.0, (values.len() - 1) as f32);
    let low = at as usize;
    let high = (low + 1).min(values.len() - 1);
    values[low] + (values[high] - values[low]) * (at - low as f32)
}
