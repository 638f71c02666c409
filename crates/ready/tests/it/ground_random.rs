//! Grounds thrown by a seed: for the tests and the bench.

use frame::Frame;
use tally::{Ground, HouseSpot, Patch, Slope, Spot};

/// A ground on which the house and the drop fit; all else is thrown.
pub fn random_ground(seed: u64, frame: &Frame) -> Ground {
    let mut dice = Dice(seed);
    let (width, length) = (
        (frame.width.to_metres() * 1_000.0) as i64,
        (frame.length.to_metres() * 1_000.0) as i64,
    );
    let room = |dice: &mut Dice| dice.between(3_500, 14_000);
    let (left, right, front, back) = (
        room(&mut dice),
        room(&mut dice),
        dice.between(7_500, 16_000),
        room(&mut dice),
    );
    let (across, deep) = (left + width + right, front + length + back);
    // One corner is cut off, where the house is not.
    let cut = dice.between(0, right.min(back) - 500);
    let spot = |x: i64, y: i64| Spot { x, y };
    let outline = vec![
        spot(0, 0),
        spot(across, 0),
        spot(across, deep - cut - 1),
        spot(across - cut - 1, deep),
        spot(0, deep),
    ];
    let drop_x = dice.between(3_000, across - 3_000);
    let rect = |x: i64, y: i64, wide: i64, deep: i64| {
        vec![
            spot(x, y),
            spot(x + wide, y),
            spot(x + wide, y + deep),
            spot(x, y + deep),
        ]
    };
    let patch = |outline: Vec<Spot>| Patch {
        outline,
        words: String::new(),
    };
    let mut obstacles = Vec::new();
    for _ in 0..dice.between(0, 3) {
        let (x, y) = (
            dice.between(0, across - 1_500),
            dice.between(6_500, deep - 1_500),
        );
        let side = dice.between(500, 1_500);
        let on_house = x + side > left - 200
            && x < left + width + 200
            && y + side > front - 200
            && y < front + length + 200;
        if !on_house {
            obstacles.push(patch(rect(x, y, side, side)));
        }
    }
    let covered = match dice.between(0, 2) {
        0 => Vec::new(),
        _ => vec![patch(rect(
            200,
            front,
            left.min(5_000) - 200,
            dice.between(3_000, 8_000),
        ))],
    };
    let slopes = match dice.between(0, 2) {
        0 => vec![Slope {
            outline: rect(left + width + 1_000, 0, right - 1_000, deep),
            rise: dice.between(10, 120),
        }],
        _ => Vec::new(),
    };
    Ground {
        outline,
        house: HouseSpot {
            front: spot(left + width / 2, front),
            towards: 9_000,
        },
        drop: spot(drop_x, 3_000),
        gates: vec![[spot(drop_x - 2_000, 0), spot(drop_x + 2_000, 0)]],
        truck: vec![patch(rect(drop_x - 2_000, 0, 4_000, 4_500))],
        obstacles,
        covered,
        shade: Vec::new(),
        slopes,
        aisle: dice.between(600, 1_200),
        truck_bed: 1_200,
        reach: 400,
    }
}

/// Numbers by a seed (splitmix64).
struct Dice(u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let z = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    fn between(&mut self, low: i64, high: i64) -> i64 {
        low + (self.next() % (high - low).max(1) as u64) as i64
    }
}
