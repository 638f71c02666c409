//! Which rules hold for a shipment: a set for the way it travels, and one for the sale.

use claim::{RuleSet, RuleSets};
use maud::{Markup, html};
use tally::Standing;

/// The two choices of the freight form.
pub(crate) fn choice(standing: &Standing, shipment: &str) -> Markup {
    let sets = claim::sets_of(&standing.state.affairs, shipment);
    let not_said = sets.not_said();
    let (sales, carriage): (Vec<&RuleSet>, Vec<&RuleSet>) =
        (RuleSets::built_in().sets().iter()).partition(|set| set.is_sale());
    let select = |name: &str, label: &str, of: &[&RuleSet]| {
        let chosen = |set: &RuleSet| {
            let id = set.id.as_str();
            sets.names.contains(&id) && !not_said.contains(&id)
        };
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
        p.soft { "What is not said is taken to be a truck, and a sale, within the United States." }
        details {
            summary { "When each of these holds" }
            dl { @for set in RuleSets::built_in().sets() { dt { (set.title) } dd { (set.holds) } } }
        }
    }
}

/// The titles of the sets that hold for a shipment, and what of them nobody has said.
pub(crate) fn in_words(standing: &Standing, shipment: &str) -> (String, Option<&'static str>) {
    let sets = claim::sets_of(&standing.state.affairs, shipment);
    let titles = (sets.names.iter()).filter_map(|id| RuleSets::built_in().set(id));
    let titles: Vec<&str> = titles.map(|set| set.title.as_str()).collect();
    (titles.join("; "), sets.not_said_in_words())
}
