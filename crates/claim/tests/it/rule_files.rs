//! Reading the rule files, and what is said of files that are wrong.

use claim::{RuleSets, read_rules};

fn files() -> Vec<(String, String)> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/rules");
    let mut files: Vec<(String, String)> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .map(|path| {
            (
                path.file_name().unwrap().to_string_lossy().into_owned(),
                std::fs::read_to_string(&path).unwrap(),
            )
        })
        .collect();
    files.sort();
    files
}

#[test]
fn every_file_of_the_folder_is_read_and_built_in() {
    let files = files();
    let read: Vec<(&str, &str)> = files
        .iter()
        .map(|(name, text)| (name.as_str(), text.as_str()))
        .collect();
    let sets = RuleSets::read(&read).unwrap_or_else(|faults| panic!("{faults:#?}"));
    assert_eq!(sets.sets().len(), RuleSets::built_in().sets().len());
    for set in sets.sets() {
        assert_eq!(RuleSets::built_in().set(&set.id), Some(set));
    }
}

const WHOLE: &str = r#"
set = "dock"
title = "A dock of our own"
holds = "In a test."
[[rule]]
id = "look"
title = "Look"
act = "examination"
by = "receiver"
to = "sender"
amount = 3
unit = "calendar days"
starts = "delivery"
asks = ["both eyes"]
missing_it = "nothing is seen."
force = "hard limit"
basis = "custom"
source = "this test"
sure = "seen"
"#;

fn faults(text: &str) -> Vec<String> {
    let faults = read_rules("dock.toml", text).unwrap_err();
    faults.iter().map(ToString::to_string).collect()
}

#[test]
fn a_file_is_read() {
    let set = read_rules("dock.toml", WHOLE).unwrap();
    assert_eq!(
        (set.id.as_str(), set.rules[0].id.as_str()),
        ("dock", "dock.look")
    );
    assert_eq!(set.rules[0].period.to_string(), "3 calendar days");
}

#[test]
fn each_fault_names_file_rule_and_field() {
    let but = |from: &str, to: &str| {
        let text = WHOLE.replace(from, to);
        assert_ne!(text, WHOLE);
        faults(&text)
    };
    let table = [
        (
            but("amount = 3\n", ""),
            "rule \"look\", field `amount`: is missing: how many of the unit",
        ),
        (
            but("amount = 3", "amount = 0"),
            "rule \"look\", field `amount`: must be a whole number from 1 to 36525",
        ),
        (
            but("amount = 3", "amount = 2.5"),
            "rule \"look\", field `amount`: must be a whole number from 1 to 36525",
        ),
        (
            but("calendar days", "reasonable time"),
            "rule \"look\", field `amount`: has no place beside a unit that is no number",
        ),
        (
            but("title = \"Look\"\n", ""),
            "rule \"look\", field `title`: is missing",
        ),
        (
            but("title = \"Look\"", "title = \" \""),
            "rule \"look\", field `title`: must be a text that is not empty",
        ),
        (
            but("[\"both eyes\"]", "\"both eyes\""),
            "rule \"look\", field `asks`: must be a list of texts that are not empty",
        ),
        (
            but("sure = \"seen\"", "sure = \"memory\""),
            "rule \"look\", field `check`: is missing: what is from memory, or in part, says what to hold it against",
        ),
        (
            but("sure = \"seen\"", "sure = \"seen\"\nless_sure = \"half\""),
            "rule \"look\", field `check`: is missing: what is from memory, or in part, says what to hold it against",
        ),
        (
            but("sure = \"seen\"", "sure = \"seen\"\nlaw = 1"),
            "rule \"look\", field `law`: is no field of this table",
        ),
        (but("id = \"look\"\n", ""), "rule 1, field `id`: is missing"),
        (
            but("id = \"look\"", "id = \"Look here\""),
            "rule \"Look here\", field `id`: must be of small letters, digits and hyphens",
        ),
        (
            but("sure = \"seen\"", "sure = \"seen\"\nsample = 1"),
            "rule \"look\", field `sample`: must be true or false",
        ),
        (
            but("set = \"dock\"\n", ""),
            "the file itself, field `set`: is missing",
        ),
        (
            but("[[rule]]", "[rule]"),
            "the file itself, field `rule`: must be written as [[rule]]",
        ),
    ];
    for (faults, expected) in table {
        let expected = format!("dock.toml, {expected}");
        assert!(
            faults.contains(&expected),
            "{expected}\nis not in {faults:#?}"
        );
    }
}

#[test]
fn a_word_that_is_not_known_is_told_with_those_that_are() {
    let faults = faults(&WHOLE.replace("starts = \"delivery\"", "starts = \"arrival\""));
    assert_eq!(faults.len(), 1);
    assert!(
        faults[0].starts_with("dock.toml, rule \"look\", field `starts`: unknown variant `arrival`, expected one of `delivery`"),
        "{faults:?}"
    );
}

#[test]
fn two_rules_or_two_sets_of_one_name_are_told() {
    let (_, rule) = WHOLE.split_once("[[rule]]").unwrap();
    let twice = faults(&format!("{WHOLE}\n[[rule]]{rule}"));
    assert_eq!(
        twice,
        ["dock.toml, dock.look, field `id`: is the name of another rule of the file"]
    );
    let sets = RuleSets::read(&[("dock.toml", WHOLE), ("pier.toml", WHOLE)]).unwrap_err();
    assert_eq!(
        sets[0].to_string(),
        "pier.toml, the file itself, field `set`: \"dock\" is the name of another file's set"
    );
}

#[test]
fn what_is_no_toml_is_told() {
    for text in ["[[rule", "\u{0}", "set = 1\nset = 2"] {
        let faults = faults(text);
        assert!(
            faults[0].starts_with("dock.toml, the file itself, field `all of it`: is no TOML"),
            "{faults:?}"
        );
    }
    assert!(!faults("").is_empty());
}
