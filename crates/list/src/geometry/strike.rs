//! Words with a line drawn through them.

use super::lines::Piece;

/// Marks the words that a level line goes through, in the middle of their height and over most of their length.
pub fn strike<'a>(mut pieces: Vec<Piece<'a>>, rules: &[[f32; 4]]) -> Vec<Piece<'a>> {
    let mut level: Vec<[f32; 4]> = rules
        .iter()
        .filter(|[left, top, right, bottom]| right - left > 4.0 * (bottom - top))
        .copied()
        .collect();
    level.sort_by(|a, b| a[1].total_cmp(&b[1]));
    for piece in &mut pieces {
        let [left, top, right, bottom] = piece.place;
        let height = piece.height();
        let (from, to) = (top + height * 0.28, bottom - height * 0.22);
        let start = level.partition_point(|rule| rule[1] < from);
        let through = level[start..]
            .iter()
            .take_while(|rule| rule[1] < to)
            .filter(|rule| rule[3] <= to && rule[3] - rule[1] < height * 0.3);
        let covered: f32 = through
            .map(|rule| (rule[2].min(right) - rule[0].max(left)).max(0.0))
            .sum();
        piece.struck |= covered > 0.7 * (right - left).max(0.01);
    }
    pieces
}
