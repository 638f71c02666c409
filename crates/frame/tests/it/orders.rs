//! Orders: what is refused, in which words, and which orders are offered instead.

use std::time::{Duration, Instant};

use frame::{ExpandError, MOST_ORDER_BYTES, Order, Refusal, expand};
use measure::{Length, System};

use crate::house::{demo, gothic, gothic_order};

fn refused(order: &Order) -> Refusal {
    match expand(order, &gothic()) {
        Err(ExpandError::Refused(refusal)) => {
            check_nearest(order, &refusal);
            refusal
        }
        other => panic!("{:?} was not refused: {other:?}", order.name),
    }
}

/// Every order offered can be built, and says as many changes as it has.
fn check_nearest(order: &Order, refusal: &Refusal) {
    for (changes, offered) in &refusal.nearest {
        offered
            .settle(&gothic())
            .unwrap_or_else(|e| panic!("{changes:?}: {e}"));
        assert_eq!(differences(order, offered), changes.len(), "{changes:?}");
    }
}

/// How many fields differ; a key that became another counts once.
fn differences(a: &Order, b: &Order) -> usize {
    let singles = usize::from(a.length != b.length)
        + usize::from(a.bow_spacing != b.bow_spacing)
        + usize::from(a.units != b.units)
        + usize::from(a.family != b.family);
    let tables = [
        (&a.options, &b.options),
        (&a.front, &b.front),
        (&a.back, &b.back),
    ];
    singles
        + tables
            .map(|(a, b)| {
                let gone = a.iter().filter(|(k, _)| !b.contains_key(*k)).count();
                let come = b.iter().filter(|(k, _)| !a.contains_key(*k)).count();
                let changed = a
                    .iter()
                    .filter(|(k, v)| b.get(*k).is_some_and(|w| w != *v))
                    .count();
                gone.max(come) + changed
            })
            .into_iter()
            .sum::<usize>()
}

fn changes(refusal: &Refusal) -> Vec<String> {
    refusal
        .nearest
        .iter()
        .map(|(changes, _)| changes.join(" and "))
        .collect()
}

#[test]
fn a_length_of_no_whole_bays_offers_both_sides_and_another_spacing() {
    // 46 ft is 11.5 bays of 4 ft; 44 and 48 are next to it. 46 / 6 is no whole number either.
    let refusal = refused(&gothic_order("length = \"46 ft\"", ""));
    assert_eq!(refusal.troubles.len(), 1);
    assert_eq!(refusal.troubles[0].field, "length");
    assert!(
        refusal.troubles[0].what.contains("11.50 bays of 4 ft"),
        "{refusal}"
    );
    let mut offered = changes(&refusal);
    offered.sort();
    assert_eq!(offered, ["length = 44 ft", "length = 48 ft"]);

    // 54 ft is 13.5 bays of 4 ft and 9 of 6 ft: with purlins the other spacing will do alone.
    let refusal = refused(&gothic_order(
        "length = \"54 ft\"",
        "[options]\npurlins = \"one each side\"",
    ));
    let mut offered = changes(&refusal);
    offered.sort();
    assert_eq!(
        offered,
        ["bow_spacing = 6 ft", "length = 52 ft", "length = 56 ft"]
    );

    // Nearest first: 47 ft is nearer to 48.
    let refusal = refused(&gothic_order("length = \"47 ft\"", ""));
    assert_eq!(changes(&refusal), ["length = 48 ft", "length = 44 ft"]);
}

#[test]
fn a_length_out_of_range_offers_the_end_of_it() {
    for (length, offered) in [
        ("10 ft", "length = 24 ft"),
        ("200 ft", "length = 144 ft"),
        ("-48 ft", "length = 24 ft"),
    ] {
        let refusal = refused(&gothic_order(&format!("length = \"{length}\""), ""));
        assert!(
            refusal.troubles[0]
                .what
                .contains("not from 24 ft to 144 ft"),
            "{refusal}"
        );
        assert_eq!(changes(&refusal)[0], offered);
    }
}

#[test]
fn what_is_no_length_is_refused_and_one_is_offered() {
    for length in [
        "",
        "long",
        "48",
        "900 km",
        "999999999999 ft",
        "48 ft 5 lb",
        "NaN m",
        "1e9 m",
    ] {
        let refusal = refused(&gothic_order(&format!("length = \"{length}\""), ""));
        assert_eq!(refusal.troubles[0].field, "length", "{length}");
        assert!(!refusal.nearest.is_empty(), "{length}");
    }
}

#[test]
fn a_spacing_that_is_not_made_offers_those_that_are() {
    let size = "length = \"48 ft\"\nbow_spacing = \"5 ft\"";
    let refusal = refused(&gothic_order(
        size,
        "[options]\npurlins = \"one each side\"",
    ));
    assert!(
        refusal.troubles[0]
            .what
            .contains("5 ft is not made; there is 4 ft, 6 ft"),
        "{refusal}"
    );
    assert_eq!(
        changes(&refusal),
        ["bow_spacing = 4 ft", "bow_spacing = 6 ft"]
    );
}

#[test]
fn a_misspelt_key_offers_the_key_that_was_meant() {
    let refusal = refused(&gothic_order(
        "length = \"48 ft\"",
        "[front]\ndor = \"single\"",
    ));
    assert_eq!(refusal.troubles[0].field, "front.dor");
    assert!(refusal.troubles[0].what.contains("wall, door"), "{refusal}");
    assert_eq!(
        changes(&refusal),
        ["front.door = single", "front without dor"]
    );
    assert_eq!(
        refusal.nearest[0].1.front.get("door").map(String::as_str),
        Some("single")
    );
}

#[test]
fn a_key_in_the_wrong_table_is_told_where_it_stands() {
    let refusal = refused(&gothic_order(
        "length = \"48 ft\"",
        "[options]\ndoor = \"single\"",
    ));
    assert!(
        refusal.troubles[0].what.contains("[front] and [back]"),
        "{refusal}"
    );
    let refusal = refused(&gothic_order(
        "length = \"48 ft\"",
        "[back]\npurlins = \"none\"",
    ));
    assert!(refusal.troubles[0].what.contains("[options]"), "{refusal}");
}

#[test]
fn a_misspelt_choice_offers_the_likeliest_first() {
    let refusal = refused(&gothic_order(
        "length = \"48 ft\"",
        "[back]\ndoor = \"duoble\"",
    ));
    assert!(
        refusal.troubles[0].what.contains("none, single, double"),
        "{refusal}"
    );
    assert_eq!(changes(&refusal)[0], "back.door = double");
    assert_eq!(refusal.nearest.len(), 3);
}

#[test]
fn a_door_in_an_open_wall_is_refused_with_the_reason() {
    let refusal = refused(&gothic_order(
        "length = \"48 ft\"",
        "[back]\nwall = \"open\"\ndoor = \"single\"",
    ));
    assert_eq!(refusal.troubles.len(), 1);
    let what = &refusal.troubles[0].what;
    for word in [
        "back.wall = open",
        "back.door = single",
        "a door hangs in a framed end wall",
    ] {
        assert!(what.contains(word), "{word}: {what}");
    }
    let mut offered = changes(&refusal);
    offered.sort();
    assert_eq!(offered, ["back.door = none", "back.wall = framed"]);
}

#[test]
fn bows_6_ft_apart_without_purlins_are_refused() {
    let refusal = refused(&gothic_order(
        "length = \"48 ft\"\nbow_spacing = \"6 ft\"",
        "",
    ));
    let mut offered = changes(&refusal);
    offered.sort();
    assert_eq!(
        offered,
        ["bow_spacing = 4 ft", "options.purlins = one each side"]
    );
}

#[test]
fn several_troubles_are_all_said_and_all_mended() {
    let order = gothic_order(
        "length = \"47 ft\"\nunits = \"cubits\"",
        "[options]\npurlin = \"none\"\n[front]\nwall = \"open\"\ndoor = \"double\"\n[back]\ndoor = \"tripel\"",
    );
    let refusal = refused(&order);
    let fields: Vec<&str> = refusal.troubles.iter().map(|t| t.field.as_str()).collect();
    assert_eq!(
        fields,
        [
            "length",
            "units",
            "options.purlin",
            "back.door",
            "front.door"
        ]
    );
    assert!(!refusal.nearest.is_empty());
    assert!(
        refusal
            .nearest
            .iter()
            .all(|(changes, _)| changes.len() == 5),
        "{refusal}"
    );
    let said = refusal.to_string();
    assert!(
        said.contains("the nearest orders that can be built:"),
        "{said}"
    );
}

/// An exclusion is said even where the length cannot be read.
#[test]
fn what_does_not_go_together_is_said_beside_a_bad_length() {
    let refusal = refused(&gothic_order("length = \"x\"\nbow_spacing = \"6 ft\"", ""));
    let fields: Vec<&str> = refusal.troubles.iter().map(|t| t.field.as_str()).collect();
    assert_eq!(fields, ["length", "bow_spacing"]);
}

#[test]
fn an_order_of_another_family_is_not_built_with_this_one() {
    let mut order = demo();
    order.family = "round-16".into();
    let refusal = refused(&order);
    assert_eq!(refusal.troubles[0].field, "family");
    assert_eq!(changes(&refusal), ["family = gothic-24"]);
}

/// Fewest changes, against all orders with one or two changes: where any of those can be built, no more are offered.
#[test]
fn no_order_with_fewer_changes_could_be_built() {
    let all = |order: &Order| -> Vec<Order> {
        let mut all = Vec::new();
        let mut with = |change: &dyn Fn(&mut Order)| {
            let mut changed = order.clone();
            change(&mut changed);
            all.push(changed);
        };
        for feet in (24..=144).step_by(2) {
            with(&|o| o.length = format!("{feet} ft"));
        }
        for spacing in ["4 ft", "6 ft"] {
            with(&|o| o.bow_spacing = Some(spacing.into()));
        }
        for purlins in ["none", "one each side"] {
            with(&|o| drop(o.options.insert("purlins".into(), purlins.into())));
        }
        for (key, choices) in [
            ("wall", &["framed", "open"][..]),
            ("door", &["none", "single", "double"]),
        ] {
            for choice in choices {
                with(&|o| drop(o.front.insert(key.into(), (*choice).into())));
                with(&|o| drop(o.back.insert(key.into(), (*choice).into())));
            }
        }
        all
    };
    let bad = [
        gothic_order("length = \"50 ft\"\nbow_spacing = \"6 ft\"", ""),
        gothic_order(
            "length = \"50 ft\"",
            "[front]\nwall = \"open\"\ndoor = \"single\"",
        ),
        gothic_order("length = \"54 ft\"\nbow_spacing = \"5 ft\"", ""),
        gothic_order(
            "length = \"24 ft\"\nbow_spacing = \"6 ft\"",
            "[back]\nwall = \"open\"\ndoor = \"single\"",
        ),
        gothic_order("length = \"46 ft\"", "[options]\npurlins = \"two\""),
        gothic_order(
            "length = \"150 ft\"\nbow_spacing = \"6 ft\"",
            "[options]\npurlins = \"none\"",
        ),
    ];
    let family = gothic();
    for order in bad {
        let refusal = refused(&order);
        let fewest = refusal
            .nearest
            .iter()
            .map(|(changes, _)| changes.len())
            .min()
            .unwrap();
        let ones = all(&order);
        let by_search = if ones.iter().any(|o| o.settle(&family).is_ok()) {
            1
        } else if ones
            .iter()
            .flat_map(&all)
            .any(|o| o.settle(&family).is_ok())
        {
            2
        } else {
            3
        };
        assert_eq!(fewest, by_search, "{refusal}");
        assert!(
            refusal
                .nearest
                .iter()
                .all(|(changes, _)| changes.len() == fewest)
        );
    }
}

#[test]
fn written_and_read_back_it_is_the_same() {
    let order = demo();
    assert_eq!(Order::read(&order.write()), Ok(order));
    let mut odd = demo();
    odd.name = "a \"quoted\"\nname \\ with 'all' that = [TOML] #minds, né 🌿".into();
    odd.front
        .insert("a key with spaces".into(), "\u{7f}\t".into());
    assert_eq!(Order::read(&odd.write()), Ok(odd));
}

#[test]
fn units_choose_how_people_read_it() {
    let settle = |units: &str| {
        gothic_order(&format!("length = \"14630.4 mm\"\nunits = \"{units}\""), "").settle(&gothic())
    };
    let feet = settle("feet").unwrap();
    assert_eq!(
        (feet.system, feet.length),
        (System::FeetInch, Length::feet(48))
    );
    assert_eq!(settle("metric").unwrap().system, System::Metric);
    assert!(
        settle("Feet")
            .unwrap_err()
            .to_string()
            .contains("feet, metric")
    );
    assert_eq!(
        gothic_order("length = \"48'\"", "")
            .settle(&gothic())
            .unwrap()
            .system,
        System::FeetInch
    );
    // In metric the descriptions are metric, and the counts the same.
    let metric = gothic_order("length = \"48 ft\"\nunits = \"metric\"", "");
    let list = crate::house::listed(&metric);
    let post = &list.line("P1").unwrap().part.description;
    assert!(
        post.contains("1524 mm") && post.contains("42.2 mm"),
        "{post}"
    );
}

#[test]
fn an_order_file_over_64_kib_is_refused_unread() {
    let fits = format!(
        "{}{}",
        demo().write(),
        "#".repeat(MOST_ORDER_BYTES - demo().write().len())
    );
    assert_eq!(fits.len(), 64 * 1024);
    assert!(Order::read(&fits).is_ok());
    let said = Order::read(&format!("{fits}#")).unwrap_err().to_string();
    assert!(
        said.contains("65537 bytes") && said.contains("65536"),
        "{said}"
    );
}

#[test]
fn hostile_order_files_are_refused_in_words() {
    let nested = format!("name = {}1{}", "[".repeat(20_000), "]".repeat(20_000));
    let tables = format!("name = {}", "{a=".repeat(15_000));
    let dotted = format!("name{} = 1", ".a".repeat(30_000));
    let long = format!(
        "name = \"{}\"\nfamily = \"gothic-24\"\nlength = \"48 ft\"",
        "x".repeat(60_000)
    );
    for text in [
        &nested,
        &tables,
        &dotted,
        &long,
        "",
        "\0",
        "[[[",
        "name = \"\\ud800\"",
        "= 3",
    ] {
        let said = Order::read(text).unwrap_err().to_string();
        assert!(
            said.starts_with("the order file cannot be read: "),
            "{said}"
        );
    }
}

#[test]
fn a_fault_of_form_points_at_its_line() {
    // file, line, a word of the message
    let faults = [
        (
            "name = \"x\"\nfamily = \"gothic-24\"\nlength = 48\n",
            3,
            "string",
        ),
        (
            "name = \"x\"\nfamily = \"gothic-24\"\nlength = \"48 ft\"\nbowspacing = \"4 ft\"\n",
            4,
            "bow_spacing",
        ),
        (
            "name = \"x\"\nfamily = \"gothic-24\"\nlength = \"48 ft\"\n[options]\npurlins = true\n",
            5,
            "string",
        ),
        ("name = \"x\"\nname = \"y\"\n", 2, "duplicate"),
        (
            "name = \"x\"\nfamily = \"gothic-24\"\nlength = \"48 ft\n",
            3,
            "string",
        ),
    ];
    for (text, line, word) in faults {
        let said = Order::read(text).unwrap_err().to_string();
        assert!(said.contains(&format!("line {line}")), "{said}");
        assert!(said.contains(word), "{said}");
    }
    let said = Order::read("family = \"gothic-24\"\nlength = \"48 ft\"\n")
        .unwrap_err()
        .to_string();
    assert!(said.contains("`name`"), "{said}");
}

/// Thousands of wrong keys, or as many troubles as a search is made for: an answer without a wait.
#[test]
fn many_troubles_do_not_take_long() {
    let mut many = demo();
    for i in 0..3_000 {
        many.options.insert(format!("k{i}"), "x".into());
    }
    let read = Order::read(&many.write()).unwrap();
    let began = Instant::now();
    let refusal = refused(&read);
    assert_eq!(refusal.troubles.len(), 3_000);
    assert!(refusal.nearest.is_empty());

    let worst = gothic_order(
        "length = \"47 ft\"\nbow_spacing = \"5 ft\"\nunits = \"x\"",
        "[options]\npurlin = \"two\"\n[front]\nwal = \"x\"\ndor = \"x\"\n[back]\nwal = \"x\"\ndor = \"x\"",
    );
    refused(&worst);
    // A second would be slow on any machine; it takes some hundredths.
    assert!(
        began.elapsed() < Duration::from_secs(10),
        "{:?}",
        began.elapsed()
    );
}
