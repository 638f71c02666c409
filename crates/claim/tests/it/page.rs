//! `docs/claims.md` names every rule as it stands.

use claim::{NO_ADVICE, Rule, RuleSets};

const PAGE: &str = include_str!("../../../../docs/claims.md");

/// The rule's row of the page.
fn row(rule: &Rule) -> String {
    let each = rule
        .repeats_every
        .map_or_else(String::new, |days| format!(", then each {days} days"));
    let mut sure = rule.sure.words().to_owned();
    if rule.sample {
        sure.push_str("; one carrier's terms");
    }
    if !rule.less_sure.is_empty() {
        sure.push_str(&format!(". {}", rule.less_sure));
    }
    if let Some((first, rest)) = rule.check.split_at_checked(1) {
        let stop = if sure.ends_with('.') { "" } else { "." };
        sure.push_str(&format!("{stop} **{}{rest}.**", first.to_uppercase()));
    }
    format!(
        "| `{}` | {} | {}{each} | {} | {} | {} | {} | {sure} |",
        rule.id,
        rule.title,
        rule.period,
        rule.starts.words(),
        rule.force.words(),
        rule.basis.words(),
        rule.source
    )
}

#[test]
fn every_rule_has_its_row_and_no_row_is_without_a_rule() {
    let rules: Vec<&Rule> = RuleSets::built_in()
        .sets()
        .iter()
        .flat_map(|s| &s.rules)
        .collect();
    for rule in &rules {
        assert!(
            PAGE.lines().any(|l| l == row(rule)),
            "docs/claims.md lacks\n{}",
            row(rule)
        );
    }
    assert_eq!(
        PAGE.lines().filter(|l| l.starts_with("| `")).count(),
        rules.len()
    );
}

#[test]
fn every_set_and_every_note_stands_there() {
    for set in RuleSets::built_in().sets() {
        let head = format!("## {}\n\nSet `{}`. {}\n", set.title, set.id, set.holds);
        assert!(PAGE.contains(&head), "docs/claims.md lacks\n{head}");
        for note in &set.notes {
            let line = format!("- {} ({}; {})", note.says, note.source, note.sure.words());
            assert!(
                PAGE.lines().any(|l| l == line),
                "docs/claims.md lacks\n{line}"
            );
        }
    }
}

#[test]
fn it_is_no_legal_advice() {
    assert!(PAGE.contains("**This is not legal advice.**"));
    assert!(NO_ADVICE.starts_with("This is not legal advice."));
}
