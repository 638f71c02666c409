//! The ways of counting: one by one, by the bundle, by weight, by length, from a photo.

use frame::Section;
use maud::{Markup, html};
use tally::{Ordered, Seen, Standing};

use crate::address;

/// What a count is for.
#[derive(Clone, Copy, PartialEq)]
enum Look<'a> {
    /// More of a mark, or a pile anew.
    First(Option<&'a str>),
    /// A look at what was counted in a pile.
    Again(Option<&'a str>),
}

/// The forms that count a mark.
pub(crate) fn forms(
    standing: &Standing,
    ordered: &Ordered,
    mark: &str,
    pile: Option<&str>,
) -> Markup {
    all(standing, ordered, mark, Look::First(pile))
}

/// The forms that look again at a pile of a mark.
pub(crate) fn again(
    standing: &Standing,
    ordered: &Ordered,
    mark: &str,
    pile: Option<&str>,
) -> Markup {
    all(standing, ordered, mark, Look::Again(pile))
}

fn all(standing: &Standing, ordered: &Ordered, mark: &str, look: Look<'_>) -> Markup {
    let line = ordered.parts.line(mark);
    let section = line.and_then(|line| line.part.section.as_ref());
    let rolled = matches!(
        section,
        Some(Section::Wire { .. } | Section::Film { .. } | Section::Cloth { .. })
    );
    let tube = matches!(section, Some(Section::Tube { .. }));
    let small = line.is_some_and(|line| line.part.length.is_none_or(|l| l.to_metres() < 0.5));
    html! {
        (by_piece(standing, mark, look))
        (by_bundle(standing, mark, look))
        @if small { (by_weight(standing, mark, look)) }
        @if rolled { (by_length(standing, mark, look)) }
        @if tube && matches!(look, Look::First(_)) { (take_photo(mark)) }
    }
}

/// The picture of a bundle's ends; what is found in it is shown on a page of its own.
fn take_photo(mark: &str) -> Markup {
    html! {
        details {
            summary { "From a photo of the ends" }
            p { "Square to the ends, all of them in the picture, none in the shade of another. What is found is a proposal; you confirm each." }
            form.take method="post" action=(address::photo_for_count(mark)) enctype="multipart/form-data" data-keep={ "Photo of the ends of " (mark) } {
                input type="hidden" name="id" value=(store::fresh_id());
                label for="ends" { "Take the picture" }
                input type="file" id="ends" name="photo" accept="image/*" capture="environment" required;
                p { button type="submit" { "Find the tubes in it" } }
            }
        }
    }
}

/// The form that keeps the rings of a picture as a count.
pub(crate) fn by_photo(standing: &Standing, mark: &str, photo: &str) -> Markup {
    html! {
        form.from-photo method="post" action=(address::count(mark)) data-keep={ "Count of " (mark) } {
            input type="hidden" name="id" value=(store::fresh_id());
            input type="hidden" name="by" value="photo";
            input type="hidden" name="photo" value=(photo);
            input type="hidden" name="rings" value="";
            p.sofar { span.n data-number { "–" } span { "rings" } button type="button" data-more { "Add a ring" } button type="button" data-back disabled { "Undo" } }
            (whereto(standing, mark, Look::First(None), "photo"))
            p { button.main type="submit" { "These are the pieces: keep the count" } }
        }
    }
}

fn by_piece(standing: &Standing, mark: &str, look: Look<'_>) -> Markup {
    html! {
        form.adding method="post" action=(address::count(mark)) data-keep={ "Count of " (mark) } {
            input type="hidden" name="id" value=(store::fresh_id());
            label for="quantity" { @match look { Look::First(_) => "How many are here now?", Look::Again(_) => "How many do you count?" } }
            div.adder {
                button type="button" data-step="-1" aria-label="One fewer" hidden { "−" }
                input type="number" id="quantity" name="quantity" value="" placeholder="0" min="0" max="1000000" step="1" inputmode="numeric" required;
                button type="button" data-step="1" aria-label="One more" hidden { "+" }
            }
            div.keypad hidden {
                @for digit in 1..=3 { (digit_key(digit)) }
                button type="button" data-clear="1" aria-label="Take the last digit off" { "⌫" }
                @for digit in 4..=6 { (digit_key(digit)) }
                (digit_key(0))
                @for digit in 7..=9 { (digit_key(digit)) }
                button type="button" data-step="5" aria-label="+5: five more" { "+5" }
            }
            (whereto(standing, mark, look, "piece"))
            p { button.main type="submit" { "Keep this count" } }
        }
    }
}

fn digit_key(digit: u8) -> Markup {
    html! { button type="button" data-digit=(digit) { (digit) } }
}

/// A way of counting that is folded away: its fields, the pile, and the button that keeps it.
fn folded(
    standing: &Standing,
    mark: &str,
    look: Look<'_>,
    by: &str,
    [summary, keep]: [&str; 2],
    fields: Markup,
) -> Markup {
    html! {
        details {
            summary { (summary) }
            form method="post" action=(address::count(mark)) data-keep={ "Count of " (mark) } {
                input type="hidden" name="id" value=(store::fresh_id());
                input type="hidden" name="by" value=(by);
                (fields)
                (whereto(standing, mark, look, by))
                p { button.main type="submit" { (keep) } }
            }
        }
    }
}

fn by_bundle(standing: &Standing, mark: &str, look: Look<'_>) -> Markup {
    let fields = html! {
        div.three {
            div { label for="bundles" { "Bundles" } (number("bundles", "1")) }
            div { label for="of" { "In each" } (number("of", "")) }
            div { label for="rest" { "And single ones" } (number("rest", "0")) }
        }
        fieldset {
            legend.soft { "The bundles" }
            div.chips {
                label { input type="radio" name="closed" value="no" checked; "Counted inside" }
                label { input type="radio" name="closed" value="yes"; "Stay closed" }
            }
        }
        p.soft { "Bow bundles stay closed until the bows are put together. The number is then what the label says, and is shown as that." }
    };
    let words = ["By the bundle", "Keep these bundles"];
    folded(standing, mark, look, "bundle", words, fields)
}

fn by_weight(standing: &Standing, mark: &str, look: Look<'_>) -> Markup {
    let fields = html! {
        p { "Count out a sample, weigh it, weigh the whole bag. The larger the sample, the surer the number." }
        div.three {
            div { label for="sample" { "Pieces in the sample" } (number("sample", "20")) }
            div { label for="sample-mass" { "The sample weighs" } (text("sample-mass", "sample_mass", "such as 1.25 lb or 560 g")) }
            div { label for="bag-mass" { "The bag weighs" } (text("bag-mass", "bag_mass", "such as 12.4 lb")) }
            div { label for="tare" { "The empty bag weighs" } (text("tare", "tare", "0 if it was set to zero")) }
            div { label for="step" { "The scale shows steps of" } (text("step", "step", "such as 0.01 lb or 5 g")) }
        }
        fieldset {
            legend.soft { "When the bag was weighed, the sample was" }
            div.chips {
                label { input type="radio" name="inside" value="yes" checked; "in the bag" }
                label { input type="radio" name="inside" value="no"; "beside it" }
            }
        }
    };
    let words = ["By weight", "Work it out and keep it"];
    folded(standing, mark, look, "weight", words, fields)
}

fn by_length(standing: &Standing, mark: &str, look: Look<'_>) -> Markup {
    let fields = html! {
        div.three {
            div { label for="coils" { "Whole coils" } (number("coils", "1")) }
            div { label for="coil" { "Length of each" } (text("coil", "coil", "such as 250 ft")) }
            div { label for="left" { "Left on an opened one" } (text("left", "left", "0 if none")) }
        }
    };
    let words = ["By length, of coils and rolls", "Keep this length"];
    folded(standing, mark, look, "length", words, fields)
}

fn number(name: &str, value: &str) -> Markup {
    html! { input type="number" id=(name) name=(name) value=(value) min="0" max="1000000" step="1" inputmode="numeric" required; }
}

fn text(id: &str, name: &str, such: &str) -> Markup {
    html! { input type="text" id=(id) name=(name) maxlength="40" placeholder=(such) autocomplete="off"; }
}

/// Which pile, and whether it adds, is anew, or is a look of one's own. `way` keeps the fields of the forms apart.
fn whereto(standing: &Standing, mark: &str, look: Look<'_>, way: &str) -> Markup {
    let seen = standing.state.marks.get(mark).map(Seen::piles);
    let places: Vec<Option<String>> = (seen.into_iter().flatten()).map(|seen| seen.pile).collect();
    let piles: Vec<&str> = places.iter().flatten().map(String::as_str).collect();
    let knew = standing.state.upto;
    match look {
        Look::Again(pile) => html! {
            input type="hidden" name="knew" value=(knew) data-as-it-was-read;
            input type="hidden" name="how" value="again";
            @if let Some(pile) = pile { input type="hidden" name="pile" value=(pile); }
        },
        Look::First(pile) => {
            let (field, list) = (format!("pile-{way}"), format!("piles-{way}"));
            // The one pile that there is; with several the person says which.
            let only = match piles.as_slice() {
                [one] if places.len() == 1 => Some(*one),
                _ => None,
            };
            let pile = pile.or(only);
            let place = pile.and_then(|pile| standing.state.places.get(pile));
            html! {
                input type="hidden" name="knew" value=(knew);
                details open[piles.len() > 1] {
                    summary { "Pile: " (pile.unwrap_or("none named")) @if let Some(place) = place { ", " (place) } }
                    label for=(field) { "Where they lie (may be left empty)" }
                    input type="text" id=(field) name="pile" maxlength="80" list=(list) value=[pile];
                    datalist id=(list) { @for pile in &piles { option value=(pile) {} } }
                }
                @if !places.is_empty() {
                    div.chips {
                        label { input type="radio" name="how" value="more" checked; "Add to the count" }
                        label { input type="radio" name="how" value="anew"; "Count this pile anew" }
                    }
                }
            }
        }
    }
}
