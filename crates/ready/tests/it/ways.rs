//! Ways round what is short, and the plan of them: what each offers, what is asked first, what is shared.

use jiff::civil::date;
use measure::Length;
use ready::ways::{FAST_FREIGHT, Price, Stock, brings_pieces};
use ready::{Coming, ComingIs, Help, Plan, Readiness, Way, WayKind, what_would_help};
use tally::{Currency, Money, Ordered, WayStands, WorkSeen};

use super::jobs::{self, Job};
use super::ways_case::{Case, GOTHIC, STRAIGHT};

fn ways<'a>(help: &'a Help, mark: &str) -> &'a [Way] {
    let short = help.shorts.iter().find(|short| short.mark == mark);
    &short.unwrap_or_else(|| panic!("{mark} is not short")).ways
}

fn way<'a>(help: &'a Help, mark: &str, key: &str) -> &'a Way {
    let ways = ways(help, mark);
    let keys: Vec<&str> = ways.iter().map(|way| way.key.as_str()).collect();
    let found = ways.iter().find(|way| way.key == key);
    found.unwrap_or_else(|| panic!("{mark} has {keys:?}, not {key}"))
}

fn plan(help: &Help) -> &Plan {
    help.plan.as_ref().expect("a plan")
}

fn uses(plan: &Plan) -> Vec<(&str, &str, i64)> {
    let uses = plan.uses.iter();
    uses.map(|u| (u.mark.as_str(), u.way.as_str(), u.pieces))
        .collect()
}

#[test]
fn nothing_short_nothing_to_do() {
    let help = Case::of(GOTHIC).help();
    assert_eq!(help.shorts, []);
    assert!(help.plan.is_none() && help.runner_up.is_none());
    assert_eq!(help.questions, Vec::<String>::new());
}

/// The look-alikes of the engineering sheet (1.5): 1.315 and 1.375 in both go by "1-3/8". Measures decide, not names.
#[test]
fn a_tube_is_matched_by_its_measures() {
    let mut case = Case::of(STRAIGHT).more("G1", -1);
    // What is called like the brace measures as the other, and the other way round.
    for bar in &mut case.stock.bars {
        if let Some(tube) = &mut bar.tube {
            match tube.outside {
                o if o == Length::ten_thousandths(13_150) => {
                    tube.outside = Length::ten_thousandths(13_750);
                }
                o if o == Length::ten_thousandths(13_750) => {
                    tube.outside = Length::ten_thousandths(13_150);
                }
                _ => {}
            }
        }
    }
    let help = case.help();
    let bought: Vec<&str> = (ways(&help, "G1").iter())
        .filter(|way| way.kind == WayKind::Buy)
        .map(|way| way.key.as_str())
        .collect();
    assert_eq!(bought, ["ask:buy:light tube 1-3/8, 16 ga"]);
}

#[test]
fn a_board_is_bought_whichever_side_is_called_its_width() {
    let help = Case::of(STRAIGHT).more("J1", -1).help();
    assert_eq!(way(&help, "J1", "ask:buy:2x6").pieces, 1);
}

#[test]
fn a_bolt_of_another_length_is_another_bolt() {
    let mut case = Case::of(GOTHIC).more("N1", -4);
    assert_eq!(way(&case.help(), "N1", "ask:buy:hex bolt").pieces, 4);
    // The demo's bolt is 2-1/2 in long.
    for piece in &mut case.stock.pieces {
        (piece.lengths).retain(|length| *length != Length::sixty_fourths(160));
    }
    let help = case.help();
    assert!(ways(&help, "N1").iter().all(|way| way.kind != WayKind::Buy));
}

/// Bent pieces come from a factory, and so do swages: only places that cut the swage off can be served from a plain bar.
#[test]
fn what_only_a_factory_makes_is_not_cut() {
    let help = Case::of(STRAIGHT).more("B1", -1).more("R1", -40).help();
    let sawn = |way: &&Way| matches!(way.kind, WayKind::Buy | WayKind::Cut | WayKind::Join);
    assert_eq!(ways(&help, "B1").iter().filter(sawn).count(), 0);
    let ordered = Ordered::read(STRAIGHT).unwrap();
    let places = &ordered.parts.line("R1").unwrap().places;
    let cut = places
        .iter()
        .filter(|p| p.quantity > 0 && p.cut_to.is_some())
        .count() as i64;
    let bought = way(&help, "R1", "ask:buy:fence tube 1-7/8, 16 ga");
    assert!(
        0 < bought.pieces && bought.pieces <= cut,
        "{} of {cut}",
        bought.pieces
    );
}

#[test]
fn what_changes_the_structure_is_asked_first_and_never_counted_before() {
    let short = || Case::of(GOTHIC).more("P1", -2).more("N1", -6);
    let help = short().help();
    for short in &help.shorts {
        for way in &short.ways {
            assert_eq!(way.ask_sender, way.key.starts_with("ask:"), "{}", way.key);
            assert!(!way.structural || way.ask_sender);
            assert_eq!(way.counts(), !way.ask_sender);
            assert!(!way.says.is_empty() && !way.source.is_empty() && way.pieces > 0);
        }
    }
    let asked = plan(&help);
    assert!(
        asked.uses.iter().all(|u| u.way.starts_with("ask:")),
        "{:?}",
        uses(asked)
    );
    assert!(!asked.reaches.all() && asked.if_allowed.all());
    assert!(asked.says[0].starts_with("Ask the sender first"));
    // Meaning to go it, or having asked, is no leave.
    let mut case = short();
    for u in &asked.uses {
        case = case.said(&u.mark, &u.way, WayStands::Asked);
    }
    assert!(!plan(&case.help()).reaches.all());
    for u in &asked.uses {
        case = case.said(&u.mark, &u.way, WayStands::Allowed);
    }
    let help = case.help();
    assert!(plan(&help).reaches.all());
    assert_eq!(uses(plan(&help)), uses(asked));
    assert_eq!(help.questions, Vec::<String>::new());
    assert!(plan(&help).weighed < asked.weighed);
}

#[test]
fn a_way_that_is_refused_changes_the_plan() {
    let case = Case::of(GOTHIC).more("P1", -2);
    let first = case.help();
    let taken = plan(&first).uses[0].clone();
    for no in [WayStands::Refused, WayStands::Dropped] {
        let help = Case::of(GOTHIC)
            .more("P1", -2)
            .said("P1", &taken.way, no)
            .help();
        assert!(plan(&help).uses.iter().all(|u| u.way != taken.way));
        assert!(plan(&help).weighed > plan(&first).weighed);
        // It is shown all the same, with what was said.
        assert_eq!(way(&help, "P1", &taken.way).stands, Some(no));
        assert_eq!(uses(plan(&help)), uses(first.runner_up.as_ref().unwrap()));
    }
}

/// Two kinds of washers and screws from one trip; two marks with one freight.
#[test]
fn a_trip_and_a_freight_are_paid_once() {
    let mut case = Case::of(STRAIGHT).more("N4", -10).more("W1", -3);
    case.stock.setting.trip = Price([1_000, 1_000]);
    case.day = Some(date(2026, 4, 30));
    let help = case.help();
    let bought = plan(&help);
    assert_eq!(
        uses(bought),
        [("N4", "buy:washer", 10), ("W1", "buy:spring wire", 3)]
    );
    let each = |key: &str| {
        let stock = case.stock.pieces.iter().find(|piece| piece.key == key);
        stock.unwrap().each.0
    };
    let sum = [0, 1].map(|end| 10 * each("washer")[end] + 3 * each("spring wire")[end] + 1_000);
    assert_eq!(bought.cost.map(|money| money.minor), sum);

    let short = Case::of(GOTHIC).more("B1", -1).more("X1", -1);
    let mut case = short.said("B1", "ask:shorter", WayStands::Refused);
    let said = Money {
        minor: 7_500,
        currency: Currency::USD,
    };
    let costs = &mut case.state.affairs.costs;
    costs.insert("Next-day freight".into(), said);
    let help = case.help();
    assert_eq!(
        uses(plan(&help)),
        [("B1", "ask:freight", 1), ("X1", "ask:freight", 1)]
    );
    assert_eq!(plan(&help).cost, [said, said]);
    assert!(way(&help, "B1", "ask:freight").source.contains("as said"));
    assert_eq!(FAST_FREIGHT, "next-day freight");
}

/// From Friday on the next worked days are Monday and Tuesday (2026-04-10 is a Friday, by the calendar).
#[test]
fn freight_does_not_run_at_the_weekend() {
    let mut case = Case::of(GOTHIC)
        .more("B1", -1)
        .said("B1", "ask:freight", WayStands::Allowed);
    assert_eq!(way(&case.help(), "B1", "ask:freight").delay_days, [1, 2]);
    case.today = date(2026, 4, 10);
    assert_eq!(way(&case.help(), "B1", "ask:freight").delay_days, [3, 4]);
}

#[test]
fn what_was_promised_is_waited_for_where_the_crew_comes_later() {
    let coming = || Coming {
        name: "Load 2".into(),
        is: ComingIs::Shipment,
        here_by: vec![(date(2026, 4, 13), 0.6), (date(2026, 4, 15), 0.95)],
        says: "between Monday and Wednesday, the sender says".into(),
    };
    let mut case = Case::of(GOTHIC).more("B1", -1).promised("B1", 1, coming());
    case.day = Some(date(2026, 4, 18));
    let help = case.help();
    let wait = way(&help, "B1", "wait:Load 2");
    assert_eq!((wait.delay_days, wait.pieces, wait.cost), ([5, 7], 1, None));
    assert!((wait.risk - 0.05).abs() < 1e-9);
    assert_eq!(uses(plan(&help)), [("B1", "wait:Load 2", 1)]);
}

/// What the day does not reach need not be there: the sides' screws go under the film's channel.
#[test]
fn later_stages_leave_their_pieces() {
    let help = Case::of(STRAIGHT).through("film").more("N5", -40).help();
    let short = help.shorts.iter().find(|short| short.mark == "N5").unwrap();
    assert_eq!((short.missing, short.asked), (40, 0));
    let plan = plan(&help);
    assert_eq!(uses(plan), [("N5", "later:sides", 40)]);
    assert_eq!((plan.weighed, plan.delay_days, plan.risk), (0, [0, 0], 0.0));
    assert!(plan.says[0].contains("sides"), "{:?}", plan.says);
    let film = &plan
        .reaches
        .stages
        .iter()
        .find(|s| s.stage == help.shorts[0].stage);
    assert!(film.is_some_and(|stage| stage.done <= stage.units));
}

/// A small crew that comes for two hours does not reach the film: what only the film lacks is not asked for that day.
#[test]
fn a_job_is_asked_for_what_its_crew_reaches() {
    let mut job = Job::of(GOTHIC);
    let needs = Case::of(GOTHIC).needs();
    for (mark, needed) in needs.iter().filter(|(_, needed)| **needed > 0) {
        job.counts(mark, if mark == "F1" { needed - 1 } else { *needed });
    }
    let help = |job: &Job| {
        let standing = job.standing();
        let readiness = Readiness::of(&standing, jobs::TODAY).unwrap();
        what_would_help(&standing, &readiness, Stock::shipped(), jobs::TODAY).unwrap()
    };
    let asked = |help: &Help| {
        (
            help.shorts[0].mark.clone(),
            help.shorts[0].missing,
            help.shorts[0].asked,
        )
    };
    assert_eq!(asked(&help(&job)), ("F1".to_owned(), 1, 1));
    job.crew("2026-12-05", 2, 2, true);
    let day = help(&job);
    assert_eq!(asked(&day), ("F1".to_owned(), 1, 0));
    assert!(
        plan(&day).uses.iter().all(|u| u.way.starts_with("later:")),
        "{:?}",
        uses(plan(&day))
    );
    // A way of which somebody said that they mean to go it is shown so.
    job.way("F1", "buy:greenhouse film, 6 mil", 1, WayStands::Meant);
    let help = help(&job);
    let bought = way(&help, "F1", "buy:greenhouse film, 6 mil");
    assert_eq!(bought.stands, Some(WayStands::Meant));
}

/// Needed by the order that is a bay shorter, worked out on its own.
#[test]
fn a_bay_less_needs_what_the_shorter_order_needs() {
    let help = Case::of(GOTHIC).more("B1", -9).more("P1", -1).help();
    let shorter = Ordered::read(&GOTHIC.replace("48 ft", "44 ft")).unwrap();
    let whole = Case::of(GOTHIC).needs();
    for (mark, missing) in [("B1", 9), ("P1", 1)] {
        let fewer = whole[mark] - shorter.parts.line(mark).unwrap().quantity;
        let way = way(&help, mark, "ask:shorter");
        assert_eq!(way.pieces, fewer.min(missing), "{mark}");
        assert!(way.structural);
    }
    let mut case = Case::of(GOTHIC).more("P1", -1);
    let done = WorkSeen {
        done: true,
        ..WorkSeen::default()
    };
    case.state.plans.worked.insert("end walls".into(), done);
    let help = case.help();
    assert!(
        ways(&help, "P1")
            .iter()
            .all(|way| way.kind != WayKind::Shorter)
    );
}

#[test]
fn where_nothing_helps_it_says_so_and_how_far_it_gets() {
    let case = Case::of(GOTHIC)
        .more("B1", -1)
        .more("N4", -5)
        .said("B1", "ask:freight", WayStands::Refused)
        .said("B1", "ask:shorter", WayStands::Refused);
    let help = case.help();
    assert_eq!(help.stuck, [("B1".to_owned(), 1)]);
    // The rest is made good all the same.
    assert_eq!(uses(plan(&help)), [("N4", "buy:washer", 5)]);
    assert!(!plan(&help).reaches.all() && plan(&help).proven);
    let asked = help.questions.join("\n");
    assert!(
        asked.contains("1 B1") && asked.contains("When can you send them?"),
        "{asked}"
    );
    assert!(asked.starts_with("About order SG-117"), "{asked}");
}

/// Four lines of rail channel, each of which ends with a piece of more than half a whole one: two of the rests, joined with
/// the kit's splice plates, are one such piece.
#[test]
fn two_rests_are_joined_as_the_kit_joins_its_lines() {
    let order = STRAIGHT
        .replace("96 ft", "84 ft")
        .replace("\"board\"", "\"rail\"");
    let short = || Case::of(&order).more("C1", -1);
    let cut = short()
        .ordered
        .parts
        .line("C1")
        .unwrap()
        .cut
        .clone()
        .unwrap();
    assert_eq!((cut.pieces, cut.stock), (4, 4));
    // Without a plate to spare nothing is joined.
    let without = short().help();
    assert!(
        ways(&without, "C1")
            .iter()
            .all(|way| way.kind != WayKind::Join)
    );
    let case = short().more("C2", 4).more("N5", 40).more("N6", 40);
    let help = case.help();
    let joined = way(&help, "C1", "ask:join");
    assert_eq!(
        (joined.kind, joined.pieces, joined.structural),
        (WayKind::Join, 1, true)
    );
    let case = case.said("C1", "ask:freight", WayStands::Refused);
    let help = case.said("C1", "ask:shorter", WayStands::Refused).help();
    let cut = &plan(&help).cuts[0];
    assert!(
        cut.joined && cut.times == 1 && cut.makes[0].0 == "C1",
        "{cut:?}"
    );
}

/// What is spare and longer, with a swage that is cut off; a shorter one does not do.
#[test]
fn a_longer_spare_is_cut() {
    let help = Case::of(GOTHIC).more("S1", -2).more("R1", 1).help();
    let cut = way(&help, "S1", "ask:cut");
    assert_eq!((cut.pieces, cut.delay_days), (1, [0, 2]));
    let none = Case::of(GOTHIC).more("S1", -2).help();
    assert!(ways(&none, "S1").iter().all(|way| way.key != "ask:cut"));
    // Without a swage of its own nothing becomes a whole ridge tube, however long it is.
    let ridge = Case::of(GOTHIC).more("R1", -1).more("S1", 3).help();
    let whole = Case::of(GOTHIC)
        .ordered
        .parts
        .line("R1")
        .unwrap()
        .part
        .length
        .unwrap();
    let shorter = |(_, length, _): &(String, Length, i64)| *length < whole;
    let made = ways(&ridge, "R1").iter().find(|way| way.key == "ask:cut");
    assert!(made.is_none_or(|_| {
        plan(&ridge)
            .cuts
            .iter()
            .all(|c| c.makes.iter().all(shorter))
    }));
}

#[test]
fn the_runner_up_does_without_something_and_costs_no_less() {
    for case in [
        Case::of(GOTHIC).more("P1", -2).more("N1", -6),
        Case::of(STRAIGHT)
            .more("N5", -60)
            .more("J1", -2)
            .more("G1", -1)
            .more("B1", -1),
    ] {
        let help = case.help();
        let (first, second) = (plan(&help), help.runner_up.as_ref().unwrap());
        assert!(first.proven && second.proven && second.weighed >= first.weighed);
        let ways = |plan: &Plan| -> std::collections::BTreeSet<(String, String)> {
            let uses = plan.uses.iter();
            let base = |way: &str| way.trim_start_matches("ask:").to_owned();
            uses.map(|u| (u.mark.clone(), base(&u.way))).collect()
        };
        assert!(!ways(first).is_subset(&ways(second)));
    }
}

#[test]
fn keys_that_bring_nothing_new() {
    for key in ["later:cloth", "wait:Load 2", "ask:shorter"] {
        assert!(!brings_pieces(key), "{key}");
    }
    for key in [
        "buy:washer",
        "ask:buy:2x6",
        "ask:cut",
        "join",
        "ask:freight",
    ] {
        assert!(brings_pieces(key), "{key}");
    }
}

/// Light tube lies in purlins, which carry the house, and in the sides, which do not: what is bought for the sides without
/// leave lets no purlin be built.
#[test]
fn what_is_bought_for_the_sides_builds_no_purlin() {
    let case = Case::of(crate::build::LARGEST);
    let mark = case
        .build
        .marks
        .iter()
        .position(|mark| mark == "R2")
        .expect("R2");
    let of_stage = |name: &str| -> i64 {
        let stage = case
            .build
            .stages
            .iter()
            .position(|stage| stage.name == name);
        let units = case.build.units_of(stage.expect("a stage"));
        let needs = units.flat_map(|unit| &case.build.units[unit].needs);
        needs.filter(|(at, _)| *at == mark).map(|(_, n)| n).sum()
    };
    let (sides, whole) = (of_stage("sides"), case.build.needs()[mark]);
    assert!(sides > 0 && whole > sides);
    let case = Case::of(crate::build::LARGEST)
        .more("R2", -(sides + 3))
        .said("R2", "later:sides", WayStands::Dropped)
        .said("R2", "ask:freight", WayStands::Refused);
    let help = case.help();
    let plan = plan(&help);
    let here = ready::how_far(&case.build, &case.supplies.here());
    let purlins = case
        .build
        .stages
        .iter()
        .position(|stage| stage.name == "purlins")
        .expect("purlins");
    let without_leave = |way: &str| !way.starts_with("ask:") && brings_pieces(way);
    assert!(
        uses(plan).iter().any(|(_, way, _)| without_leave(way)),
        "{:?}",
        uses(plan)
    );
    assert_eq!(plan.reaches.stages[purlins].done, here.stages[purlins].done);
    assert!(here.stages[purlins].done < here.stages[purlins].units);
}
