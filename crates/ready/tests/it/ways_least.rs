//! The chosen plan held against every plan there is, on small cases; and what holds for all cases.

use std::collections::BTreeMap;

use jiff::ToSpan;
use jiff::civil::date;
use proptest::prelude::*;
use ready::ways::{Price, Setting};
use ready::{Coming, ComingIs, Help, Way, WayKind, how_far};
use tally::WayStands;

use super::ways_case::{Case, GOTHIC, STRAIGHT, TODAY};

/// What is chosen of one way.
#[derive(Clone)]
struct Chosen<'a> {
    way: &'a Way,
    each: i64,
    long: bool,
    pieces: i64,
}

/// What a plan is weighed at, written down anew from what the fields and the file of stock say.
fn weigh(
    setting: &Setting,
    left: i64,
    bring: &[Chosen],
    less: &BTreeMap<&str, (&Way, i64)>,
) -> i64 {
    let risk = |risk: f64, price: i64| (risk * price as f64).round() as i64;
    let mut sum = 0;
    let (mut trip, mut freight, mut long, mut late) = (false, false, false, 0);
    let mut wait = |way: &Way| {
        let [soon, last] = way.delay_days;
        late = late.max(soon + last - 2 * left);
    };
    for chosen in bring.iter().filter(|chosen| chosen.pieces > 0) {
        let way = chosen.way;
        let price = chosen.each + risk(way.risk, setting.failed_piece).max(1);
        sum += chosen.pieces * price + risk(way.risk, setting.failed_way) + 1;
        trip |= way.kind == WayKind::Buy;
        freight |= way.kind == WayKind::Freight;
        long |= way.kind == WayKind::Freight && chosen.long;
        wait(way);
    }
    for (way, cost) in less.values() {
        sum += cost + risk(way.risk, setting.failed_way) + 1;
        wait(way);
    }
    sum += if trip { setting.trip.middle() } else { 0 };
    let [one, other] = [setting.freight.middle(), setting.freight_long.middle()];
    sum += match (freight, long) {
        (false, _) => 0,
        (true, false) => one.min(other),
        (true, true) => other,
    };
    sum + late.max(0) * (setting.crew_day.middle() / 2)
}

/// The least of all plans: every set of what may wait or be shorter, every split of what is left over the ways.
fn by_trying(case: &Case, help: &Help) -> Option<i64> {
    let setting = &case.stock.setting;
    let day = case.day.unwrap_or(case.today);
    let left = i64::from(case.today.until(day).unwrap().get_days());
    let is_less = |way: &&Way| matches!(way.kind, WayKind::Later | WayKind::Shorter);
    let mut less: BTreeMap<&str, (&Way, i64)> = BTreeMap::new();
    for way in help
        .shorts
        .iter()
        .flat_map(|short| &short.ways)
        .filter(is_less)
    {
        let cost = match way.kind {
            WayKind::Later => setting.stage_waits.middle(),
            _ => setting.bay_later.middle(),
        };
        if !way.is_out() {
            less.insert(&way.key, (way, cost));
        }
    }
    let all: Vec<&str> = less.keys().copied().collect();
    let mut best: Option<i64> = None;
    for set in 0..1_u32 << all.len() {
        let taken: BTreeMap<&str, (&Way, i64)> = (all.iter().enumerate())
            .filter(|(at, _)| set & (1 << at) != 0)
            .map(|(_, key)| (*key, less[key]))
            .collect();
        let mut splits: Vec<Vec<Chosen>> = vec![Vec::new()];
        for short in &help.shorts {
            let open = open_with(case, &short.mark, short.at, &taken);
            let bring: Vec<Chosen> = (short.ways.iter())
                .filter(|way| !is_less(way) && !way.is_out())
                .map(|way| of(case, &short.mark, way))
                .collect();
            let of_mark = split(open, &bring);
            splits = (splits.iter())
                .flat_map(|known| {
                    of_mark
                        .iter()
                        .map(|more| [known.clone(), more.clone()].concat())
                })
                .collect();
        }
        for split in splits {
            let cost = weigh(setting, left, &split, &taken);
            best = Some(best.map_or(cost, |best| best.min(cost)));
        }
    }
    best
}

/// How many of a mark are still to be had when some stages wait or the house is a bay shorter: counted place by place, in
/// the parts list of the house that is then built.
fn open_with(case: &Case, mark: &str, at: usize, taken: &BTreeMap<&str, (&Way, i64)>) -> i64 {
    let shorter = taken.contains_key("ask:shorter");
    let parts = if shorter {
        let mut order = case.ordered.order.clone();
        let length = case.ordered.frame.length - case.ordered.frame.bow_spacing;
        order.length = length.tape(measure::System::FeetInch);
        frame::PartsList::of(&frame::expand(&order, &case.ordered.family).unwrap())
    } else {
        case.ordered.parts.clone()
    };
    let places = parts.line(mark).map_or(&[][..], |line| &line.places);
    let needed: i64 = (places.iter())
        .filter(|place| !taken.contains_key(format!("later:{}", place.stage).as_str()))
        .map(|place| place.quantity)
        .sum();
    (needed - case.supplies.here()[at]).max(0)
}

fn of<'a>(case: &Case, mark: &str, way: &'a Way) -> Chosen<'a> {
    let key = way
        .key
        .trim_start_matches("ask:")
        .trim_start_matches("buy:");
    let stock = case.stock.pieces.iter().find(|piece| piece.key == key);
    let length = case.ordered.parts.line(mark).unwrap().part.length;
    Chosen {
        way,
        each: match way.kind {
            WayKind::Buy => stock.expect("by the piece").each.middle(),
            _ => 0,
        },
        long: length.is_some_and(|length| length > case.stock.setting.long),
        pieces: 0,
    }
}

fn split<'a>(open: i64, ways: &[Chosen<'a>]) -> Vec<Vec<Chosen<'a>>> {
    let Some((first, rest)) = ways.split_first() else {
        return if open == 0 {
            vec![Vec::new()]
        } else {
            Vec::new()
        };
    };
    (0..=open.min(first.way.pieces))
        .flat_map(|pieces| {
            let chosen = Chosen {
                pieces,
                ..first.clone()
            };
            let rests = split(open - pieces, rest).into_iter();
            rests.map(move |rest| [vec![chosen.clone()], rest].concat())
        })
        .collect()
}

fn price() -> impl Strategy<Value = Price> {
    (0..20_000_i64, 0..20_000_i64).prop_map(|(least, more)| Price([least, least + more]))
}

fn setting() -> impl Strategy<Value = Setting> {
    let prices = (price(), price(), price(), price(), price(), price());
    let days = (0..3_i64, 0..3_i64, 0..3_i64, 0..3_i64);
    (prices, days, 0..30_000_i64, 0..2_000_i64, 0.0..0.6_f64).prop_map(
        |(
            (crew_day, stage_waits, bay_later, trip, freight, freight_long),
            days,
            way,
            piece,
            risk,
        )| Setting {
            crew_day,
            stage_waits,
            bay_later,
            trip,
            freight,
            freight_long,
            failed_way: way,
            failed_piece: piece,
            answer_risk: risk,
            trip_days: [days.0, days.0 + days.1],
            answer_days: [days.2, days.2 + days.3],
            ..ready::ways::Stock::shipped().setting.clone()
        },
    )
}

/// Marks of the demo of which nothing is cut.
const WHOLE: [&str; 7] = ["N1", "N2", "N4", "B1", "X1", "K1", "D1"];

fn case_of_pieces() -> impl Strategy<Value = Case> {
    let short = proptest::collection::btree_map(0..WHOLE.len(), 1..4_i64, 1..4);
    let said = proptest::collection::vec((0..WHOLE.len(), 0..4_usize, any::<bool>()), 0..4);
    let promised = proptest::option::of((1..3_i64, 0..8_i64, 0.5..1.0_f64));
    (short, setting(), said, promised, 0..6_i64).prop_map(
        |(short, setting, said, promised, until)| {
            let mut case = Case::of(GOTHIC);
            let needs = case.needs();
            for (at, pieces) in &short {
                if let Some(needed) = needs.get(WHOLE[*at]) {
                    case = case.more(WHOLE[*at], -pieces.min(needed));
                }
            }
            for (at, way, yes) in said {
                let way = [
                    "ask:freight",
                    "ask:buy:hex bolt",
                    "buy:washer",
                    "ask:shorter",
                ][way];
                let stands = if yes {
                    WayStands::Allowed
                } else {
                    WayStands::Refused
                };
                case = case.said(WHOLE[at], way, stands);
            }
            let first = WHOLE[*short.keys().next().unwrap()];
            if let Some((pieces, days, chance)) = promised.filter(|_| needs.contains_key(first)) {
                let coming = Coming {
                    name: "Load 2".into(),
                    is: ComingIs::Shipment,
                    here_by: vec![(TODAY.checked_add(days.days()).unwrap(), chance)],
                    says: "as the sender says".into(),
                };
                case = case.promised(first, pieces, coming);
            }
            case.stock.setting = setting;
            case.day = TODAY.checked_add(until.days()).ok();
            case
        },
    )
}

/// Marks of the longer house, of every kind.
const ANY: [&str; 14] = [
    "P1", "B1", "B2", "R1", "G1", "S1", "C1", "J1", "L1", "N1", "N4", "N5", "X2", "W1",
];

fn any_case() -> impl Strategy<Value = Vec<(&'static str, i64)>> {
    let of = (0..ANY.len(), prop_oneof![-12..0_i64, 1..4_i64]);
    let all = proptest::collection::vec(of, 1..7);
    all.prop_map(|all| all.into_iter().map(|(at, n)| (ANY[at], n)).collect())
}

fn with(changes: &[(&'static str, i64)]) -> Case {
    let needs = Case::of(STRAIGHT).needs();
    let mut sums: BTreeMap<&str, i64> = BTreeMap::new();
    for (mark, n) in changes.iter().filter(|(mark, _)| needs.contains_key(*mark)) {
        let sum = sums.entry(mark).or_default();
        *sum = (*sum + n).max(-needs[*mark]);
    }
    (sums.into_iter()).fold(Case::of(STRAIGHT), |case, (mark, n)| case.more(mark, n))
}

/// What it costs, and how many pieces stay missing; less is better, the missing ones first.
fn outcome(help: &Help) -> (i64, i64) {
    let stuck = help.stuck.iter().map(|(_, n)| n).sum();
    (stuck, help.plan.as_ref().map_or(0, |plan| plan.weighed))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn no_plan_is_cheaper_than_the_chosen_one(case in case_of_pieces()) {
        let help = case.help();
        let best = by_trying(&case, &help);
        match best {
            Some(best) => {
                prop_assert!(help.stuck.is_empty());
                let weighed = help.plan.as_ref().map_or(0, |plan| plan.weighed);
                prop_assert_eq!(weighed, best);
                prop_assert!(help.plan.as_ref().is_none_or(|plan| plan.proven));
            }
            None => prop_assert!(!help.stuck.is_empty()),
        }
    }

    #[test]
    fn one_thing_more_to_buy_never_makes_it_dearer(changes in any_case(), gone in any::<u32>()) {
        let mut case = with(&changes);
        let all = outcome(&case.help());
        let mut at = 0;
        case.stock.bars.retain(|_| { at += 1; gone & (1 << at) == 0 });
        case.stock.pieces.retain(|_| { at += 1; gone & (1 << at) == 0 });
        let fewer = outcome(&case.help());
        prop_assert!(all <= fewer, "{:?} with all, {:?} with fewer", all, fewer);
    }

    #[test]
    fn a_piece_more_never_makes_it_dearer(changes in any_case(), at in 0..ANY.len()) {
        let before = outcome(&with(&changes).help());
        let mut more = changes.clone();
        more.push((ANY[at], 1));
        let after = outcome(&with(&more).help());
        prop_assert!(after <= before, "{:?} before, {:?} after {}", before, after, ANY[at]);
    }

    #[test]
    fn a_yes_never_makes_it_dearer_and_a_no_never_cheaper(changes in any_case(), pick in any::<prop::sample::Index>()) {
        let help = with(&changes).help();
        let ways: Vec<(&str, &str)> = (help.shorts.iter())
            .flat_map(|short| short.ways.iter().map(|way| (short.mark.as_str(), way.key.as_str())))
            .collect();
        if !ways.is_empty() {
            let (mark, way) = ways[pick.index(ways.len())];
            let yes = with(&changes).said(mark, way, WayStands::Allowed).help();
            let no = with(&changes).said(mark, way, WayStands::Refused).help();
            prop_assert!(outcome(&yes) <= outcome(&help));
            prop_assert!(outcome(&no) >= outcome(&help));
            let used = no.plan.iter().flat_map(|plan| &plan.uses);
            prop_assert!(used.clone().all(|u| (u.mark.as_str(), u.way.as_str()) != (mark, way)));
        }
    }

    /// What is short is made good or said to be stuck; nothing is counted that needs leave and has none.
    #[test]
    fn a_plan_makes_good_what_it_says(changes in any_case()) {
        let case = with(&changes);
        let help = case.help();
        let Some(plan) = &help.plan else { return Ok(()) };
        let mut sure = case.supplies.here();
        for short in &help.shorts {
            let stuck = help.stuck.iter().find(|(mark, _)| *mark == short.mark).map_or(0, |(_, n)| *n);
            let uses = plan.uses.iter().filter(|u| u.mark == short.mark);
            let sum: i64 = uses.clone().map(|u| u.pieces).sum();
            prop_assert!(sum + stuck >= short.asked, "{}: {} and {}", short.mark, sum, stuck);
            for u in uses {
                let way = short.ways.iter().find(|way| way.key == u.way).unwrap();
                prop_assert!(u.pieces <= way.pieces);
                if !way.ask_sender && !matches!(way.kind, WayKind::Later | WayKind::Shorter) {
                    sure[short.at] += u.pieces;
                }
            }
        }
        prop_assert_eq!(&plan.reaches, &how_far(&case.build, &sure));
        let second = help.runner_up.as_ref();
        prop_assert!(second.is_none_or(|second| second.weighed >= plan.weighed));
    }
}

/// Screws that carry nothing may be bought without leave, but no more than there are such places.
#[test]
fn what_carries_nothing_has_only_its_own_places() {
    let mut case = Case::of(STRAIGHT).more("N5", -60);
    case.day = Some(date(2026, 4, 30));
    for way in ["ask:buy:self-drilling screw", "ask:freight", "ask:shorter"] {
        case = case.said("N5", way, WayStands::Refused);
    }
    let help = case.help();
    let line = case.ordered.parts.line("N5").unwrap();
    // By the family file: the film carries, what comes after it does not.
    let after = ["sides", "doors", "fans", "cloth"];
    let light: i64 = (line.places.iter())
        .filter(|place| after.contains(&place.stage.as_str()))
        .map(|place| place.quantity)
        .sum();
    assert!(0 < light && light < 60);
    assert_eq!(outcome(&help).0, 60 - light);
}

/// Places of a stage that waits are free but once, also where the house is a bay shorter: the plan's ways together leave no
/// more open than stays missing, counted place by place.
#[test]
fn what_waits_and_what_is_shorter_free_a_place_once() {
    let mut at_once = 0;
    for lacks in [60, 90, 120, 150, 180, 240, 300] {
        let mut case = Case::of(STRAIGHT).more("N5", -lacks);
        case.day = Some(date(2026, 4, 30));
        for way in ["buy", "ask:buy"].map(|buy| format!("{buy}:self-drilling screw")) {
            case = case.said("N5", &way, WayStands::Refused);
        }
        case = case.said("N5", "ask:freight", WayStands::Refused);
        let help = case.help();
        let (short, plan) = (&help.shorts[0], help.plan.as_ref().unwrap());
        let taken: BTreeMap<&str, (&Way, i64)> = (short.ways.iter())
            .filter(|way| plan.uses.iter().any(|u| u.way == way.key))
            .map(|way| (way.key.as_str(), (way, 0)))
            .collect();
        let stuck = outcome(&help).0;
        let open = open_with(&case, "N5", short.at, &taken);
        assert!(open <= stuck, "{lacks} lacking: {open} open, {stuck} said");
        let shown: i64 = plan.uses.iter().map(|u| u.pieces).sum();
        assert!(shown + stuck >= lacks);
        at_once += i64::from(taken.contains_key("ask:shorter") && taken.len() > 1);
    }
    assert!(at_once > 0);
}
