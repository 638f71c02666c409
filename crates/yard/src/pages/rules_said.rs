//! Which rules hold for a shipment: a set for the way it travels, and one for the sale.

use claim::{RuleSet, RuleSets};
use maud::{Markup, html};
use tally::Standing;

/// The sets that are about a sale; all others are about carriage.
const SALES: [&str; 2] = ["ucc", "cisg"];

/// The two choices of the freight form.
pub(crate) fn choice(standing: &Standing, shipment: &str) -> Markup {
    let (sets, said) = claim::sets_of(&standing.state.affairs, shipment);
    let (sales, carriage): (Vec<&RuleSet>, Vec<&RuleSet>) =
        (RuleSets::built_in().sets().iter()).partition(|set| SALES.contains(&set.id.as_str()));
    let select = |name: &str, label: &str, of: &[&RuleSet]| {
        let chosen = |set: &RuleSet| said && sets.contains(&set.id.as_str());
        html! {
            div {
                label for=(name) { (label) }
                select id=(name) name=(name) {
                    option value="" selected[!of.iter().any(|set| chosen(set))] { "Not said" }
                    @for set in of { option value=(set.id) selected[chosen(set)] { (set.title) } }
                }
            }
        }
    };
    html! {
        div.two {
            (select("carried", "How it travels", &carriage))
            (select("bought", "How it was bought", &sales))
        }
        p.soft { "While neither is said, the rules for a truck and a sale within the United States are shown." }
        details {
            summary { "When each of these holds" }
            dl { @for set in RuleSets::built_in().sets() { dt { (set.title) } dd { (set.holds) } } }
        }
    }
}

/// The titles of the sets that hold for a shipment, and whether somebody said so.
pub(crate) fn in_words(standing: &Standing, shipment: &str) -> (String, bool) {
    let (sets, said) = claim::sets_of(&standing.state.affairs, shipment);
    let titles = (sets.into_iter()).filter_map(|id| RuleSets::built_in().set(id));
    let titles: Vec<&str> = titles.map(|set| set.title.as_str()).collect();
    (titles.join("; "), said)
}
