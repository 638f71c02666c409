//! What holds of every order of every family that comes with the program: orders at random, made from what the family
//! says can be chosen.

use std::collections::{BTreeMap, BTreeSet};

use frame::{
    Choice, ExpandError, Family, Frame, Hung, Member, Order, PartsList, Path, Piece, expand,
};
use measure::Length;
use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};

use crate::sound::{self, Rules, length, text, texts};

/// Numbers that a random order is made of; nothing left, or zero, is the plainest choice.
struct Dice<'a>(std::slice::Iter<'a, u16>);

impl Dice<'_> {
    fn below(&mut self, sides: i64) -> i64 {
        self.0.next().map_or(0, |die| i64::from(*die)) % sides.max(1)
    }
}

/// Numbers for one order, the same in every run.
fn for_each(cases: u32, test: impl Fn(&[u16])) {
    let config = Config {
        failure_persistence: None,
        ..Config::with_cases(cases)
    };
    let rng = TestRng::deterministic_rng(RngAlgorithm::ChaCha);
    let mut runner = TestRunner::new_with_rng(config, rng);
    let numbers = proptest::collection::vec(any::<u16>(), 150);
    let result = runner.run(&numbers, |numbers| {
        test(&numbers);
        Ok(())
    });
    result.unwrap_or_else(|e| panic!("{e}"));
}

fn table<'a>(order: &'a mut Order, name: &str) -> &'a mut BTreeMap<String, String> {
    match name {
        "front" => &mut order.front,
        "back" => &mut order.back,
        "left" => &mut order.left,
        "right" => &mut order.right,
        _ => &mut order.options,
    }
}

fn sizes(rules: &Rules) -> (Length, Length) {
    let size = rules.size();
    let [least, most] = ["least_length", "most_length"].map(|f| length(text(size, f).unwrap()));
    (least, most)
}

fn feet_and_inches(inches: i64) -> String {
    format!("{} ft {} in", inches / 12, inches % 12)
}

/// A spacing that is sold, and whole bays of it from the least house up to so many bays more.
fn whole_bays(family: &Family, rules: &Rules, dice: &mut Dice, more: i64) -> (Length, i64) {
    let (least, most) = sizes(rules);
    let spacings = family.bow_spacings();
    let spacing = spacings[dice.below(spacings.len() as i64) as usize];
    let bays = |length: Length| length.as_nanometres() / spacing.as_nanometres();
    let fewest = bays(least) + i64::from(spacing * bays(least) < least);
    (
        spacing,
        fewest + dice.below((bays(most) - fewest).min(more) + 1),
    )
}

fn in_inches(length: Length) -> i64 {
    length.as_nanometres() / Length::inches(1).as_nanometres()
}

/// An order of whole bays with what may be chosen chosen at random, mostly the first.
fn even_order(family: &Family, rules: &Rules, dice: &mut Dice, more: i64) -> Order {
    let (spacing, bays) = whole_bays(family, rules, dice, more);
    let mut order = Order::read(&format!(
        "name = \"any\"\nfamily = \"{}\"\nlength = \"{} mm\"\nbow_spacing = \"{} mm\"",
        family.name,
        (spacing * bays).as_nanometres() as f64 / 1e6,
        spacing.as_nanometres() as f64 / 1e6,
    ))
    .unwrap();
    for option in family.choices() {
        for name in option.tables() {
            if dice.below(3) == 1 {
                let choice = dice.below(option.choices.len() as i64) as usize;
                let choice = option.choices[choice].clone();
                table(&mut order, name).insert(option.key.clone(), choice);
            }
        }
    }
    // Of a family with many options most random orders have some that do not go together: then mostly the nearest.
    match order.settle(family) {
        Err(refusal) if dice.below(4) > 0 => match refusal.nearest.into_iter().next() {
            Some((_, nearest)) => nearest,
            None => order,
        },
        _ => order,
    }
}

/// An order as people may write it: uneven lengths, and now and then what cannot be.
fn any_order(family: &Family, rules: &Rules, numbers: &[u16]) -> Order {
    let mut dice = Dice(numbers.iter());
    let kind = dice.below(20);
    let mut order = even_order(family, rules, &mut dice, if kind == 0 { 1_000 } else { 6 });
    let (least, most) = sizes(rules);
    let least = in_inches(least);
    let reach = in_inches(most) - least;
    let uneven = texts(rules.size(), "uneven");
    let uneven = uneven
        .get(dice.below(2) as usize)
        .map(|way| String::from(*way));
    match kind {
        13 | 14 => {
            order.length = feet_and_inches(least + dice.below(reach.min(400)));
            order.uneven = uneven;
        }
        15 | 16 => {
            let sixteenths = 16 * least + dice.below(16 * reach.min(400));
            order.length = format!("{}-{}/16 in", sixteenths / 16, sixteenths % 16);
            order.uneven = uneven;
        }
        12 => {
            let most = i64::from(u16::MAX).min(254 * reach / 10);
            order.length = format!("{} mm", 254 * least / 10 + dice.below(most));
            order.uneven = uneven;
        }
        17 => order.length = feet_and_inches(dice.below(2 * reach)),
        18 => {
            order.bow_spacing = Some(["5 ft 1 in", "-4 ft", "many"][dice.below(3) as usize].into())
        }
        19 => {
            let names = ["options", "front", "back", "left", "right"];
            let name = names[dice.below(5) as usize];
            let keys = ["door", "wall", "purlin", "x"];
            let key = keys[dice.below(4) as usize];
            table(&mut order, name).insert(key.into(), "single".into());
        }
        _ => {}
    }
    order
}

#[test]
fn a_random_order_of_any_family_is_built_or_refused_with_reasons() {
    let families = Family::shipped();
    assert!(families.len() > 1);
    let cases = 2_000 / families.len() as u32;
    std::thread::scope(|scope| {
        for family in &families {
            scope.spawn(move || build_or_refuse(family, cases));
        }
    });
}

fn build_or_refuse(family: &Family, cases: u32) {
    let rules = Rules::of(family);
    let (built, tried) = (std::cell::Cell::new(0), std::cell::Cell::new(0));
    for_each(cases, |numbers| {
        tried.set(tried.get() + 1);
        let order = any_order(family, &rules, numbers);
        let written = order.write();
        let back = Order::read(&written).unwrap();
        assert_eq!(back, order);
        match expand(&order, family) {
            Ok(frame) => {
                built.set(built.get() + 1);
                let list = PartsList::of(&frame);
                sound::check(&frame, &list, &rules);
                if built.get() % 8 == 0 {
                    let again = expand(&back, family).unwrap_or_else(|e| panic!("{e}"));
                    assert_eq!(PartsList::of(&again), list, "{written}");
                }
            }
            Err(ExpandError::Refused(refusal)) => {
                assert!(!refusal.troubles.is_empty());
                assert!(!refusal.nearest.is_empty(), "{written}{refusal}");
                // What is offered instead is a house as sound as any.
                let (changes, offered) = &refusal.nearest[0];
                let frame = expand(offered, family).unwrap_or_else(|e| panic!("{changes:?}: {e}"));
                sound::check(&frame, &PartsList::of(&frame), &rules);
            }
            Err(other) => panic!("{written}{other}"),
        }
    });
    assert!(
        built.get() * 4 > tried.get(),
        "{}: {} of {}",
        family.name,
        built.get(),
        tried.get()
    );
}

/// Members at bows and joints of lines with bows: as many at each bow, and no others, however long the house.
#[test]
fn twice_the_bays_are_twice_what_is_in_a_bay() {
    for family in Family::shipped() {
        let rules = Rules::of(&family);
        let along: BTreeSet<&str> = (rules.all("member").into_iter())
            .filter(|m| m.contains_key("along") && !m.contains_key("loose"))
            .filter_map(|m| text(m, "role"))
            .collect();
        let at_bows: BTreeSet<&str> = (rules.all("member").into_iter())
            .filter(|m| m.contains_key("bow") || m.contains_key("post"))
            .filter(|m| !m.contains_key("bows"))
            .filter_map(|m| text(m, "role"))
            .collect();
        let compared = std::cell::Cell::new(0);
        for_each(40, |numbers| {
            let mut dice = Dice(numbers.iter());
            let once = even_order(&family, &rules, &mut dice, 6);
            let mut twice = once.clone();
            let metres = length(&once.length) * 2;
            twice.length = format!("{} mm", metres.as_nanometres() as f64 / 1e6);
            let (Ok(once), Ok(twice)) = (expand(&once, &family), expand(&twice, &family)) else {
                return;
            };
            compared.set(compared.get() + 1);
            assert_eq!(twice.bows, 2 * once.bows - 1);
            let [per_bow, doubled] =
                [&once, &twice].map(|frame| at_each_bow(frame, &along, &at_bows));
            assert_eq!(per_bow, doubled);
            let [long, doubled] = [&once, &twice].map(|frame| {
                let lines = frame
                    .members
                    .iter()
                    .filter(|m| along.contains(m.role.as_str()));
                lines.map(|m| m.path.length()).sum::<f64>()
            });
            assert!((2.0 * long - doubled).abs() < 1e-6);
        });
        assert!(compared.get() > 10, "{}: {}", family.name, compared.get());
    }
}

/// How many there are at each bow of what is at all of them, by role or by the two roles of a joint.
fn at_each_bow(
    frame: &Frame,
    along: &BTreeSet<&str>,
    at_bows: &BTreeSet<&str>,
) -> BTreeMap<String, i64> {
    let mut counts: BTreeMap<String, Vec<i64>> = BTreeMap::new();
    let mut count = |what: String, y: f64| {
        let bow = frame
            .stations
            .iter()
            .position(|s| (s.to_metres() - y).abs() < 1e-6);
        let counts = counts
            .entry(what)
            .or_insert_with(|| vec![0; frame.stations.len()]);
        counts[bow.expect("it is at a bow")] += 1;
    };
    for member in frame
        .members
        .iter()
        .filter(|m| at_bows.contains(m.role.as_str()))
    {
        count(member.role.clone(), member.path.at(&frame.profile, 0.0).y);
    }
    for joint in &frame.joints {
        let role = |member: usize| frame.members[member].role.as_str();
        let Some(other) = joint.other.map(role).filter(|r| at_bows.contains(r)) else {
            continue;
        };
        if along.contains(role(joint.member)) {
            count(format!("{} and {other}", role(joint.member)), joint.at.y);
        }
    }
    (counts.into_iter())
        .map(|(what, counts)| {
            let each = counts[0];
            assert!(
                counts.iter().all(|count| *count == each),
                "{what}: {counts:?}"
            );
            (what, each)
        })
        .collect()
}

/// An option changes the graph where its conditions stand, and nowhere else; each of its choices changes something.
#[test]
fn an_option_changes_what_hangs_on_it_and_nothing_else() {
    let families = Family::shipped();
    std::thread::scope(|scope| {
        for family in &families {
            scope.spawn(move || options_of(family));
        }
    });
}

fn options_of(family: &Family) {
    let rules = Rules::of(family);
    let changed = std::cell::RefCell::new(BTreeSet::new());
    for_each(30, |numbers| {
        let mut dice = Dice(numbers.iter());
        let order = even_order(family, &rules, &mut dice, 3);
        for option in family.choices() {
            for name in option.tables() {
                let with = |choice: &str| {
                    let mut order = order.clone();
                    table(&mut order, name).insert(option.key.clone(), choice.into());
                    expand(&order, family).ok()
                };
                let choice = 1 + dice.below(option.choices.len() as i64 - 1) as usize;
                let (Some(first), Some(other)) =
                    (with(&option.choices[0]), with(&option.choices[choice]))
                else {
                    continue;
                };
                let hangs = Hangs::on(option, &rules);
                assert_eq!(
                    hangs.left_alone(&first),
                    hangs.left_alone(&other),
                    "{}",
                    option.key
                );
                let all = Hangs::default();
                if all.left_alone(&first) != all.left_alone(&other)
                    || first.profile != other.profile
                {
                    changed.borrow_mut().insert((option.key.clone(), choice));
                }
            }
        }
    });
    for option in family.choices() {
        for choice in 1..option.choices.len() {
            let said = (option.key.clone(), choice);
            let changed = changed.borrow();
            assert!(
                changed.contains(&said),
                "{}: {said:?} changes nothing",
                family.name
            );
        }
    }
}

/// What hangs on an option: the roles of members, and those of films and fittings.
#[derive(Default)]
struct Hangs<'a> {
    everything: bool,
    roles: BTreeSet<&'a str>,
    hung: BTreeSet<&'a str>,
}

/// Members with their pieces but not from which leftover they come, and what is hung.
type LeftAlone<'a> = (
    Vec<(&'a str, &'a str, Path)>,
    Vec<String>,
    Vec<(&'a str, &'a str, i64)>,
);

impl<'a> Hangs<'a> {
    fn on(option: &Choice, rules: &'a Rules) -> Self {
        let asks = |table: &toml::Table| {
            let when = table.get("when").and_then(toml::Value::as_table);
            when.is_some_and(|when| when.contains_key(&option.key))
        };
        let mut roles = BTreeSet::new();
        // As often as needed, since members follow members.
        loop {
            let before = roles.len();
            for member in rules.all("member") {
                let role = text(member, "role").unwrap();
                let posts =
                    |role: &&str| rules.members(role).iter().any(|m| m.contains_key("post"));
                let on_posts = member.contains_key("bow") && roles.iter().any(posts);
                let follows = texts(member, "follow").iter().any(|r| roles.contains(r));
                if asks(member) || follows || on_posts {
                    roles.insert(role);
                }
            }
            if roles.len() == before {
                break;
            }
        }
        let reaches = |skin: &toml::Table| {
            let over = skin.get("over").and_then(toml::Value::as_table);
            let reaching = over.and_then(|over| over.get("reaching")?.as_array());
            reaching
                .into_iter()
                .flatten()
                .filter_map(toml::Value::as_table)
                .any(&asks)
        };
        let skins = rules
            .all("skin")
            .into_iter()
            .filter(|s| asks(s) || reaches(s));
        let fittings = (rules.all("fitting").into_iter())
            .filter(|f| asks(f) || texts(f, "on").iter().any(|r| roles.contains(r)));
        Self {
            everything: rules.all("profile").into_iter().any(&asks),
            hung: skins
                .chain(fittings)
                .filter_map(|s| text(s, "role"))
                .collect(),
            roles,
        }
    }

    fn left_alone<'f>(&self, frame: &'f Frame) -> LeftAlone<'f> {
        if self.everything {
            return LeftAlone::default();
        }
        let alone = |member: &&Member| !self.roles.contains(member.role.as_str());
        let members = frame.members.iter().filter(alone);
        let pieces = (frame.pieces.iter()).filter(|p| alone(&&frame.members[p.member]));
        let as_it_lies =
            |p: &Piece| format!("{} {} {:?} {} {}", p.mark, p.name, p.cut_to, p.from, p.to);
        let hung = (frame.hung.iter()).filter(|h: &&Hung| !self.hung.contains(h.role.as_str()));
        (
            members
                .map(|m| (m.role.as_str(), m.name.as_str(), m.path))
                .collect(),
            pieces.map(as_it_lies).collect(),
            hung.map(|h| (h.mark.0.as_str(), h.name.as_str(), h.quantity))
                .collect(),
        )
    }
}
