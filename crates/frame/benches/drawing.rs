//! How long the drawings take and how large they are. `cargo bench -p frame --bench drawing`.
//!
//! Goal for the isometric of the largest house, 192 ft with every option: 30 ms and 400 KB. Far more than any is
//! gothic-24 at its longest with more lines of purlins laid in, up to some 4 000 pieces and 6 000 joints.

use std::time::{Duration, Instant};

use frame::{Family, Frame, HouseEnd, Order, Path, View, expand};

const RUNS: usize = 200;

fn main() {
    let demo = Order::read(include_str!("../../../demo/order.toml")).expect("the demo is an order");
    let mut longest = demo.clone();
    longest.length = "144 ft".into();
    let largest = Order::read(include_str!("largest.toml")).expect("it is an order");
    let raised = |order: &Order| {
        let family = Family::named(&order.family).expect("the family comes with the program");
        expand(order, &family).expect("it can be built")
    };
    let houses = [
        ("demo, 48 ft", raised(&demo)),
        ("largest, 192 ft", raised(&largest)),
        ("far more than any", crowded(raised(&longest))),
    ];

    println!(
        "{:<42} {:>7} {:>7} {:>12} {:>12} {:>9}",
        "", "pieces", "joints", "median", "p99", "bytes"
    );
    for (name, frame) in &houses {
        for view in View::ALL {
            row(&format!("{name}: from {}", view.says()), frame, || {
                frame::isometric(frame, view)
            });
        }
        row(&format!("{name}: plan"), frame, || frame::plan(frame));
        row(&format!("{name}: end elevation"), frame, || {
            frame::end_elevation(frame, HouseEnd::Front)
        });
        row(&format!("{name}: side elevation"), frame, || {
            frame::side_elevation(frame)
        });
        row(&format!("{name}: all joint details"), frame, || {
            (frame::joints_to_detail(frame).iter())
                .filter_map(|(kind, _)| frame::joint_detail(frame, *kind))
                .collect()
        });
    }
}

/// The frame with every line along the house laid again lower and lower, with its joints.
fn crowded(mut frame: Frame) -> Frame {
    let (members, pieces, joints) = (
        frame.members.clone(),
        frame.pieces.clone(),
        frame.joints.clone(),
    );
    let mut round = 0;
    while frame.pieces.len() < 4_000 {
        round += 1;
        let down = 0.05 * f64::from(round);
        for (index, member) in members.iter().enumerate() {
            let Path::Straight(mut from, mut to) = member.path else {
                continue;
            };
            if (from.y - to.y).abs() < 1.0 {
                continue;
            }
            from.z -= down;
            to.z -= down;
            let mut laid = member.clone();
            laid.path = Path::Straight(from, to);
            let new = frame.members.len();
            frame.members.push(laid);
            for piece in pieces.iter().filter(|piece| piece.member == index) {
                let mut piece = piece.clone();
                piece.member = new;
                frame.pieces.push(piece);
            }
            for joint in joints.iter().filter(|joint| joint.member == index) {
                if frame.joints.len() < 6_000 {
                    let mut joint = joint.clone();
                    joint.member = new;
                    joint.at.z -= down;
                    frame.joints.push(joint);
                }
            }
        }
    }
    frame
}

fn row(name: &str, frame: &Frame, draw: impl Fn() -> String) {
    let bytes = draw().len();
    let mut took: Vec<Duration> = (0..RUNS)
        .map(|_| {
            let began = Instant::now();
            std::hint::black_box(draw());
            began.elapsed()
        })
        .collect();
    took.sort_unstable();
    let ms = |d: Duration| d.as_secs_f64() * 1e3;
    let (median, p99) = (ms(took[RUNS / 2]), ms(took[RUNS * 99 / 100]));
    let (pieces, joints) = (frame.pieces.len(), frame.joints.len());
    println!("{name:<42} {pieces:>7} {joints:>7} {median:>9.3} ms {p99:>9.3} ms {bytes:>9}");
}
