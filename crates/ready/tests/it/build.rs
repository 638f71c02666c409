//! The build of real houses: its units against the parts list, and what must hold of every graph.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use frame::{Family, Frame, Order, PartsList, expand};
use proptest::prelude::*;
use ready::{Build, Gap, Stop, how_far};

pub const DEMO: &str = include_str!("../../../../demo/order.toml");
pub const LARGEST: &str = include_str!("../../../frame/benches/largest.toml");

pub fn raised(order: &str) -> (Frame, PartsList, Build) {
    let order = Order::read(order).unwrap();
    let frame = expand(&order, &Family::named(&order.family).unwrap()).unwrap();
    let parts = PartsList::of(&frame);
    let build = Build::of(&frame, &parts);
    (frame, parts, build)
}

/// An order of a shipped family with any choices, long and short; nothing where it cannot be built.
fn any_order(family: &Family, draws: &[u8], length: u8) -> Option<Frame> {
    let spacings = family.bow_spacings();
    let spacing = spacings[usize::from(draws[0]) % spacings.len()];
    let feet = |of: measure::Length| of.as_nanometres() / measure::Length::feet(1).as_nanometres();
    let [least, most] = family.lengths().map(feet);
    let step = feet(spacing).max(1);
    let length = (least / step + i64::from(length) % ((most - least) / step + 1)) * step;
    let mut order = Order {
        name: "any".into(),
        family: family.name.clone(),
        length: format!("{length} ft"),
        bow_spacing: Some(spacing.tape(measure::System::FeetInch)),
        uneven: None,
        number: None,
        sender: None,
        site: None,
        units: None,
        options: BTreeMap::new(),
        front: BTreeMap::new(),
        back: BTreeMap::new(),
        left: BTreeMap::new(),
        right: BTreeMap::new(),
    };
    let mut draws = draws.iter().cycle().skip(1);
    for choice in family.choices() {
        for table in choice.tables() {
            let table = match *table {
                "front" => &mut order.front,
                "back" => &mut order.back,
                "left" => &mut order.left,
                "right" => &mut order.right,
                _ => &mut order.options,
            };
            let drawn = usize::from(*draws.next().unwrap()) % choice.choices.len();
            table.insert(choice.key.clone(), choice.choices[drawn].clone());
        }
    }
    // What does not go together is left away, as the order says it.
    expand(&order, family).ok().or_else(|| {
        let refusal = order.settle(family).err()?;
        let (_, nearest) = refusal.nearest.into_iter().next()?;
        expand(&nearest, family).ok()
    })
}

fn is_sound(frame: &Frame, parts: &PartsList, build: &Build) -> Result<(), TestCaseError> {
    // Each mark is needed as often as the parts list has it.
    let mut sums = vec![0; build.marks.len()];
    for (mark, pieces) in build.units.iter().flat_map(|unit| &unit.needs) {
        prop_assert!(*pieces > 0);
        sums[*mark] += pieces;
    }
    let quantities: Vec<i64> = parts.lines.iter().map(|line| line.quantity).collect();
    prop_assert_eq!(&sums, &quantities);
    prop_assert_eq!(&build.needs(), &quantities);
    // And by stage, but for pieces that are cut from one whole piece and go to several.
    for (stage, name) in frame.stages.iter().enumerate() {
        for (mark, line) in parts.lines.iter().enumerate() {
            let of_line: i64 = line
                .places
                .iter()
                .filter(|p| p.stage == *name)
                .map(|p| p.quantity)
                .sum();
            let units = build
                .units_of(stage)
                .flat_map(|unit| &build.units[unit].needs);
            let of_units: i64 = units.filter(|(m, _)| *m == mark).map(|(_, n)| n).sum();
            let shared = build.shared.iter().any(|shared| shared.mark == mark);
            prop_assert!(
                of_line == of_units || shared,
                "{name}: {of_line} {of_units}"
            );
        }
    }
    let mut pieces: Vec<usize> = build
        .units
        .iter()
        .flat_map(|unit| unit.pieces.clone())
        .collect();
    pieces.sort_unstable();
    prop_assert_eq!(pieces, (0..frame.pieces.len()).collect::<Vec<_>>());
    for (index, unit) in build.units.iter().enumerate() {
        prop_assert!(
            1 <= unit.bows[0] && unit.bows[0] <= unit.bows[1] && unit.bows[1] <= build.bows
        );
        let through = build.through(unit.stage);
        for before in &unit.after {
            prop_assert!(*before < index && through[build.units[*before].stage]);
        }
    }
    for bow in &build.may_leave {
        prop_assert!(*bow > 1 && *bow < build.bows);
    }
    // All that is needed is enough.
    let far = how_far(build, &quantities);
    prop_assert!(far.all() && far.proven && far.left_out.is_empty());
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(50))]

    #[test]
    fn the_units_of_any_order_need_what_its_parts_list_has(
        family in 0..8usize,
        draws in prop::collection::vec(any::<u8>(), 40),
        length in any::<u8>(),
    ) {
        let families = Family::shipped();
        let family = &families[family % families.len()];
        let frame = any_order(family, &draws, length);
        prop_assume!(frame.is_some());
        let frame = frame.unwrap();
        let parts = PartsList::of(&frame);
        is_sound(&frame, &parts, &Build::of(&frame, &parts))?;
    }

    /// Where a little is short anywhere, what is said can be built, a piece more is not worse, and each stage that is not
    /// all done says why.
    #[test]
    fn a_real_house_short_of_something(
        short in prop::collection::vec((0..100usize, 1..5i64), 1..4),
        largest in any::<bool>(),
    ) {
        static HOUSES: LazyLock<[Build; 2]> = LazyLock::new(|| [DEMO, LARGEST].map(|order| raised(order).2));
        let build = &HOUSES[usize::from(largest)];
        let mut there = build.needs();
        let marks = there.len();
        for (mark, pieces) in &short {
            there[mark % marks] = (there[mark % marks] - pieces).max(0);
        }
        let far = how_far(build, &there);
        // Of the largest house a proof may take longer than it is given.
        prop_assert!(far.proven || largest);
        for (used, there) in far.used.iter().zip(&there) {
            prop_assert!(used <= there);
        }
        for stage in &far.stages {
            prop_assert_eq!(stage.stops.is_empty(), stage.done == stage.units, "{:?}", stage);
        }
        there[short[0].0 % marks] += 1;
        let more = how_far(build, &there);
        // What is not proven may be less than it could be, and so may look worse.
        prop_assert!(more.compare(&far) != std::cmp::Ordering::Less || !more.proven);
    }
}

/// The demo's house with the half bows of eleven frames: thirteen are to stand.
#[test]
fn eleven_good_bows_of_thirteen_raise_eleven_and_say_which_to_leave_out() {
    let (_, parts, build) = raised(DEMO);
    let mut there = build.needs();
    let half_bows = parts.marks().iter().position(|mark| *mark == "B1").unwrap();
    there[half_bows] -= 4;
    let far = how_far(&build, &there);
    let stage = |name: &str| {
        let stage = build
            .stages
            .iter()
            .position(|stage| stage.name == name)
            .unwrap();
        &far.stages[stage]
    };
    assert!(far.proven);
    assert_eq!(stage("bows up").done, 11);
    assert_eq!(far.left_out.len(), 2);
    // Two that are no neighbours, and neither at an end nor next to one.
    assert!(far.left_out[0] + 1 < far.left_out[1]);
    assert!(far.left_out.iter().all(|bow| (3..=11).contains(bow)));
    // Every line along the house is laid; the cover waits for the two bows, the films of the two end walls do not.
    assert_eq!(stage("ridge").done, stage("ridge").units);
    assert_eq!(stage("rails").done, stage("rails").units);
    assert_eq!(stage("film").done, 2);
    assert_eq!(stage("bows up").through_bow, Some(13));
    // The bows are what it waits for, and nothing between.
    let bows_up = build
        .stages
        .iter()
        .position(|stage| stage.name == "bows up")
        .unwrap();
    assert_eq!(stage("film").stops, [Stop::Before(bows_up)]);
}

/// A part that only purlins need does not stop the bows, nor what follows only them.
#[test]
fn a_missing_purlin_part_stops_no_bow() {
    let (_, parts, build) = raised(DEMO);
    let mut there = build.needs();
    let connectors = parts.marks().iter().position(|mark| *mark == "X2").unwrap();
    there[connectors] = 3;
    let far = how_far(&build, &there);
    for stage in &far.stages {
        let name = build.stages[stage.stage].name.as_str();
        let is_stopped = ["purlins", "channel", "film", "doors"].contains(&name);
        assert_eq!(stage.done == stage.units, !is_stopped, "{name}");
    }
    let purlins = build
        .stages
        .iter()
        .position(|stage| stage.name == "purlins")
        .unwrap();
    // One piece of a purlin, on one side, over the first three bows.
    assert_eq!(far.stages[purlins].done, 1);
    let short = Stop::Short {
        mark: connectors,
        needed: 26,
        there: 3,
    };
    assert!(
        far.stages[purlins].stops.contains(&short),
        "{:?}",
        far.stages[purlins].stops
    );
    assert_eq!(build.needs_through(purlins)[connectors], 26);
}

/// What carries a brace, and the bays that it goes over, are kept whole; so are the bows beside the ends.
#[test]
fn bows_in_braced_bays_are_never_left_out() {
    let (frame, _, build) = raised(LARGEST);
    let braced = |bow: usize| {
        let at = frame.stations[bow - 1].to_metres();
        frame
            .members
            .iter()
            .filter(|member| member.role.contains("brace"))
            .any(|member| {
                let ends = [0.0, member.path.length()].map(|s| member.path.at(&frame.profile, s).y);
                ends[0].min(ends[1]) - 0.01 <= at && at <= ends[0].max(ends[1]) + 0.01
            })
    };
    assert!(braced(1) && braced(2) && braced(3) && !braced(4));
    assert!(!build.may_leave.is_empty());
    assert!(build.may_leave.iter().all(|bow| !braced(*bow)));
}

/// A brace that ends in the middle of a bay goes over that bay: both its bows stay.
#[test]
fn a_bay_that_is_braced_in_part_is_kept_whole() {
    let (mut frame, parts, build) = raised(LARGEST);
    let free = build.may_leave[0];
    let at = |bow: usize| frame.stations[bow - 1].to_metres();
    let (third, middle) = (at(3), (at(free - 1) + at(free)) / 2.0);
    let braces = (frame.members.iter_mut()).filter(|member| member.role.contains("brace"));
    for brace in braces {
        if let frame::Path::Straight(a, b) = &mut brace.path {
            for end in [a, b]
                .into_iter()
                .filter(|end| (end.y - third).abs() < 0.01)
            {
                end.y = middle;
            }
        }
    }
    let longer = Build::of(&frame, &parts);
    assert!(!longer.may_leave.contains(&free) && !longer.may_leave.is_empty());
}

/// A truss goes with its bow: it waits where that is left out, and what spans the gap does not stand for it.
#[test]
fn what_hangs_on_a_bow_follows_that_bow_itself() {
    let (_, _, build) = raised(LARGEST);
    let mut trusses = 0;
    for unit in build
        .units
        .iter()
        .filter(|unit| build.stages[unit.stage].name == "trusses")
    {
        let bow = unit.bows[0];
        assert_eq!(unit.gap, Gap::Bow(bow));
        assert!(
            unit.after
                .iter()
                .any(|before| build.units[*before].gap == Gap::Bow(bow))
        );
        trusses += 1;
    }
    assert_eq!(trusses, 47);
}
