//! What holds of every profile: one is built link by link, and asked for again with some of its measures left open.

use std::f64::consts::{FRAC_PI_2, PI};

use frame::{Ask, AskedLink, NoProfile, Peak, Profile, Shape};
use proptest::prelude::*;

/// A link as it is drawn by hand: kinked at its start or not, so long or of such a radius, and its turn if an arc.
#[derive(Clone, Debug)]
struct Drawn {
    kink: Option<f64>,
    extent: f64,
    turn: Option<f64>,
}

fn drawn() -> impl Strategy<Value = Vec<Drawn>> {
    let kink = prop_oneof![3 => Just(None), 1 => (-0.7..0.9).prop_map(Some)];
    let link = (kink, 0.2..4.0, proptest::option::weighted(0.65, 0.1..1.6));
    let link = link.prop_map(|(kink, extent, turn)| Drawn { kink, extent, turn });
    proptest::collection::vec(link, 1..6)
}

/// Half width and height of the chain, walked with small steps of the school formulas; nothing when it is no profile.
fn walked(links: &[Drawn]) -> Option<(f64, f64, f64)> {
    let (mut x, mut z, mut heading) = (0.0, 0.0, FRAC_PI_2);
    let mut farthest: f64 = 0.0;
    for link in links {
        heading -= link.kink.unwrap_or(0.0);
        if !(0.0..=PI).contains(&heading) {
            return None;
        }
        match link.turn {
            None => {
                x += link.extent * f64::cos(heading);
                z += link.extent * f64::sin(heading);
            }
            Some(turn) => {
                let after = heading - turn;
                x += link.extent * (heading.sin() - after.sin());
                z += link.extent * (after.cos() - heading.cos());
                heading = after;
            }
        }
        if heading < 0.0 {
            return None;
        }
        farthest = farthest.max(x);
    }
    (x > 0.05 && z > 0.05 && farthest <= x).then_some((x, z, heading))
}

/// The chain with a smooth peak: its last link, made an arc, turns all that is left.
fn levelled(mut links: Vec<Drawn>) -> Vec<Drawn> {
    let (last, before) = links.split_last_mut().expect("there is a link");
    let heading = before.iter().fold(FRAC_PI_2, |heading, link| {
        heading - link.kink.unwrap_or(0.0) - link.turn.unwrap_or(0.0)
    });
    last.turn = Some(heading - last.kink.unwrap_or(0.0));
    links
}

/// Asks for the chain, leaving open those of its measures that are counted in `open`.
fn asked(links: &[Drawn], open: &[usize]) -> (Vec<AskedLink>, usize) {
    let mut count = 0;
    let mut ask = |value: f64| {
        count += 1;
        if open.contains(&(count - 1)) {
            Ask::Follows
        } else {
            Ask::Given(value)
        }
    };
    let asked = (links.iter().enumerate())
        .map(|(i, link)| AskedLink {
            name: format!("link {i}"),
            kink: link.kink.map(&mut ask),
            shape: match link.turn {
                None => Shape::Straight(ask(link.extent)),
                Some(turn) => Shape::Arc {
                    radius: ask(link.extent),
                    turn: ask(turn),
                },
            },
        })
        .collect();
    (asked, count)
}

fn is_given(ask: Ask, found: f64) -> bool {
    match ask {
        Ask::Given(value) => (value - found).abs() <= 1e-9,
        Ask::Follows => found > 0.0,
    }
}

/// All that makes a solved chain what was asked for.
fn must_be(profile: &Profile, asked: &[AskedLink], half_width: f64, height: f64, within: f64) {
    let (foot, peak) = (profile.at(0.0), profile.at(profile.half_length()));
    assert!((foot.x + half_width).abs() < 1e-9 && foot.z == 0.0);
    assert!(peak.x.hypot(peak.z - height) < within, "{peak:?}");
    let mut heading = FRAC_PI_2;
    for (link, asked) in profile.links().iter().zip(asked) {
        let kink = heading - link.heading();
        match asked.kink {
            None => assert!(kink.abs() < 1e-9, "no kink was asked for: {kink}"),
            Some(Ask::Given(given)) => assert!((kink - given).abs() < 1e-9),
            Some(Ask::Follows) => {}
        }
        match asked.shape {
            Shape::Straight(length) => assert!(is_given(length, link.length)),
            Shape::Arc { radius, turn } => {
                assert!(is_given(radius, link.radius().unwrap_or(0.0)));
                assert!(is_given(turn, link.turn()) && link.turn() <= PI + 1e-9);
            }
        }
        heading = link.heading_after();
    }
}

/// The bow rises all the way, heights and lengths along it go back and forth, and no gap or corner is in it.
fn must_rise(profile: &Profile) {
    let half = profile.half_length();
    let step = half / 400.0;
    let mut last = profile.at(0.0);
    for i in 1..=400 {
        let s = step * f64::from(i);
        let at = profile.at(s);
        assert!(at.z >= last.z - 1e-9, "sinks at {s}");
        assert!(
            (at.x - last.x).hypot(at.z - last.z) <= step + 1e-9,
            "a gap at {s}"
        );
        let back = profile.along_height(at.z).expect("not over the peak");
        assert!(
            (profile.at(back).z - at.z).abs() < 1e-9,
            "{s} came back as {back}"
        );
        // Where it rises, only one place is so high.
        let hair = 1e-6 * half;
        let climb = (at.z - profile.at(s - hair).z) / hair;
        assert!(
            climb < 1e-3 || (back - s).abs() < 1e-6,
            "{s} came back as {back}"
        );
        last = at;
    }
}

/// Seen from above nothing of the bow lies over the roof, and the roof is on the bow.
fn must_be_the_roof(profile: &Profile, half_width: f64) {
    let half = profile.half_length();
    for i in 1..40 {
        let x = half_width * f64::from(i) / 40.0;
        let roof = profile.height_at(x).expect("inside the legs");
        let on = profile.along_height(roof).expect("not over the peak");
        for k in 0..=400 {
            let at = profile.at(on + (half - on) * f64::from(k) / 400.0);
            assert!(
                at.x >= -x - 1e-6,
                "{at:?} is outside of {x} and over {roof}"
            );
        }
        let step = half / 4000.0;
        let nearest = (0..=4000).map(|k| {
            let at = profile.at(step * f64::from(k));
            (at.x + x).hypot(at.z - roof)
        });
        assert!(nearest.fold(f64::INFINITY, f64::min) <= step);
        assert_eq!(profile.height_at(-x), Some(roof));
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, max_global_rejects: 400_000, ..ProptestConfig::default() })]

    #[test]
    fn a_profile_is_found_again_from_what_is_left_of_it(
        links in drawn(),
        is_smooth: bool,
        picks in proptest::collection::vec(0.0f64..1.0, 3),
        opened in 0usize..=3,
    ) {
        let links = if is_smooth { levelled(links) } else { links };
        prop_assume!(links.iter().all(|l| l.turn.is_none_or(|t| t > 0.05 && t < 3.0)));
        let Some((half_width, height, _)) = walked(&links) else {
            return Err(TestCaseError::reject("no profile"));
        };
        let (_, measures) = asked(&links, &[]);
        let mut open: Vec<usize> = (picks[..opened].iter())
            .map(|pick| (pick * measures as f64) as usize)
            .collect();
        open.sort_unstable();
        open.dedup();
        let (asked, _) = asked(&links, &open);
        let peak = if is_smooth { Peak::Smooth } else { Peak::Pointed };
        match Profile::solve(2.0 * half_width, height, peak, &asked) {
            Ok(profile) => {
                // Given measures agree to rounding, open ones are solved for.
                let is_solved = open.len() == if is_smooth { 3 } else { 2 };
                let within = if is_solved { 1e-9 } else { 1e-8 };
                must_be(&profile, &asked, half_width, height, within);
                if is_smooth {
                    let last = profile.links().last().expect("there is a link");
                    prop_assert!(last.heading_after().abs() < 1e-9);
                }
                must_rise(&profile);
                must_be_the_roof(&profile, half_width);
            }
            Err(NoProfile::TooOpen { open, follow }) => prop_assert!(open.len() > follow),
            Err(NoProfile::NotSettled { open }) => {
                // Of straights in one line only the sum follows.
                let is_open = |l: &AskedLink| matches!(l.shape, Shape::Straight(Ask::Follows));
                let in_line = asked.chunk_by(|_, next| {
                    next.kink.is_none() && matches!(next.shape, Shape::Straight(_))
                });
                let straights = in_line
                    .into_iter()
                    .any(|line| line.iter().filter(|l| is_open(l)).count() == 2);
                prop_assert!(straights, "{open:?}");
            }
            Err(other) => prop_assert!(false, "{other}"),
        }
    }
}

/// Any number a file may hold, among them those that sums choke on.
fn hostile() -> impl Strategy<Value = f64> {
    prop_oneof![
        Just(0.0),
        Just(f64::NAN),
        Just(f64::INFINITY),
        Just(f64::MIN_POSITIVE),
        Just(1e-300),
        Just(1000.0),
        Just(1e300),
        Just(PI),
        Just(FRAC_PI_2),
        -3.2..3.2,
        0.0..20.0,
        0.0..1000.0,
    ]
}

fn hostile_ask() -> impl Strategy<Value = Ask> {
    prop_oneof![Just(Ask::Follows), hostile().prop_map(Ask::Given)]
}

fn hostile_link() -> impl Strategy<Value = AskedLink> {
    let shape = prop_oneof![
        hostile_ask().prop_map(Shape::Straight),
        (hostile_ask(), hostile_ask()).prop_map(|(radius, turn)| Shape::Arc { radius, turn }),
    ];
    let kink = proptest::option::of(hostile_ask());
    (shape, kink).prop_map(|(shape, kink)| AskedLink {
        name: "link".into(),
        shape,
        kink,
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 20_000, ..ProptestConfig::default() })]

    #[test]
    fn whatever_is_asked_closes_or_is_refused(
        width in hostile(),
        height in hostile(),
        is_smooth: bool,
        links in proptest::collection::vec(hostile_link(), 0..5),
    ) {
        let peak = if is_smooth { Peak::Smooth } else { Peak::Pointed };
        if let Ok(profile) = Profile::solve(width, height, peak, &links) {
            must_be(&profile, &links, width / 2.0, height, 1.1e-8);
            must_rise(&profile);
        }
    }
}
