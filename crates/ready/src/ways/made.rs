//! Ways by which pieces are made: cut from what lies here, cut from a shop's bars, joined of two.

use super::figures::{OURS, either};
use super::offer::{Asked, Lengths, Offer, Source};
use super::stock::Price;
use super::{Way, WayKind};
use crate::programme::{Is, Programme};

/// Dearer than anything that is cut: the most pieces come before the least money, in hundredths.
const A_PIECE: i64 = 100_000_000;

/// What can be made of a mark, from each source, where nothing is carried and where something is.
pub(crate) fn made(asked: &Asked, lengths: &Lengths, mark: usize) -> Vec<Offer> {
    let makes = |recipe: &super::offer::Recipe| {
        let mut wants = recipe.makes.iter().map(|(want, _)| &lengths.wants[*want]);
        wants.any(|want| want.mark == mark)
    };
    let mut sources: Vec<Source> = (lengths.recipes.iter())
        .filter(|recipe| makes(recipe))
        .map(|recipe| recipe.source)
        .collect();
    sources.sort_unstable();
    sources.dedup();
    let missing = asked.missing(mark);
    let light = asked.light(mark).min(missing);
    let mut offers = Vec::new();
    for source in sources {
        let all = alone(lengths, mark, source, missing);
        if light >= missing {
            offers.extend(all.map(|all| offer(asked, mark, source, all, false)));
            continue;
        }
        if light > 0 {
            let some = alone(lengths, mark, source, light);
            offers.extend(some.map(|some| offer(asked, mark, source, some, false)));
        }
        offers.extend(all.map(|all| offer(asked, mark, source, all, true)));
    }
    offers
}

/// What a source gives of a mark when it is needed for nothing else.
struct Alone {
    pieces: i64,
    cost: Price,
    of: Vec<String>,
}

/// The most pieces, and of all ways to make so many the cheapest.
fn alone(lengths: &Lengths, mark: usize, source: Source, most: i64) -> Option<Alone> {
    let mut programme = Programme::default();
    let recipes: Vec<&super::offer::Recipe> = (lengths.recipes.iter())
        .filter(|recipe| recipe.source == source)
        .collect();
    let amounts: Vec<usize> = (recipes.iter())
        .map(|recipe| programme.column(most, recipe.cost.middle()))
        .collect();
    let of_mark = (0..lengths.wants.len()).filter(|want| lengths.wants[*want].mark == mark);
    let (mut credits, mut of_wants) = (Vec::new(), Vec::new());
    for want in of_mark {
        let credit = programme.column(lengths.wants[want].wanted.most, -A_PIECE);
        let mut terms = vec![(credit, 1)];
        for (recipe, column) in recipes.iter().zip(&amounts) {
            let makes = recipe.makes.iter().filter(|(made, _)| *made == want);
            terms.extend(makes.map(|(_, n)| (*column, -n)));
        }
        programme.row(terms, Is::AtMost, 0);
        credits.push((credit, 1));
        of_wants.push((want, credit));
    }
    programme.row(credits.clone(), Is::AtMost, most);
    for (at, lying) in lengths.lying.iter().enumerate() {
        let mut terms: Vec<(usize, i64)> = (recipes.iter().zip(&amounts))
            .flat_map(|(recipe, column)| {
                let uses = recipe.uses.iter().filter(move |(used, _)| *used == at);
                uses.map(move |(_, n)| (*column, *n))
            })
            .collect();
        if !terms.is_empty() {
            let whole = of_wants
                .iter()
                .filter(|(want, _)| lying.of_want == Some(*want));
            terms.extend(whole.map(|(_, credit)| (*credit, 1)));
            programme.row(terms, Is::AtMost, lying.have);
        }
    }
    let chosen = programme.solve().ok()?;
    let pieces = credits.iter().map(|(c, _)| chosen.amounts[*c]).sum();
    let mut cost = Price::default();
    let mut of: Vec<String> = Vec::new();
    for (recipe, column) in recipes.iter().zip(&amounts) {
        let n = chosen.amounts[*column];
        if n > 0 {
            cost = Price([0, 1].map(|end| cost.0[end] + n * recipe.cost.0[end]));
            of.push(format!("{n} × {}", recipe.of));
        }
    }
    (pieces > 0).then_some(Alone { pieces, cost, of })
}

fn offer(asked: &Asked, mark: usize, source: Source, alone: Alone, ask: bool) -> Offer {
    let stock = asked.of.stock;
    let setting = &stock.setting;
    let description = asked.part(mark).map_or("", |part| &part.description);
    let only = match ask || asked.light(mark) >= asked.missing(mark) {
        true => "",
        false => ", for the stages after the film only",
    };
    let (pieces, of) = (alone.pieces, alone.of.join(", "));
    let mut cost = alone.cost;
    let (name, kind, mut risk, mut delay_days, says, figures) = match source {
        Source::Site => (
            "cut".to_owned(),
            WayKind::Cut,
            setting.cut_risk,
            [0, 0],
            format!("Cut {pieces} of {description} from what lies here{only}: {of}."),
            "lengths: from the order".to_owned(),
        ),
        Source::Shop(at) => {
            let bar = &stock.bars[at];
            cost = Price([0, 1].map(|end| cost.0[end] + setting.trip.0[end]));
            (
                format!("buy:{}", bar.key),
                WayKind::Buy,
                either(either(bar.risk, setting.cut_risk), setting.trip_risk),
                setting.trip_days,
                format!(
                    "Buy {of} nearby ({}) and cut {pieces} of {description} from it{only}.",
                    bar.says
                ),
                format!("sizes {}", bar.sure),
            )
        }
        Source::Joined => (
            "join".to_owned(),
            WayKind::Join,
            setting.join_risk,
            [0, 0],
            format!(
                "Join two shorter pieces for {pieces} of {description}{only}, as the kit joins such lines: {of}."
            ),
            "lengths and hardware: from the order".to_owned(),
        ),
    };
    let key = if ask { format!("ask:{name}") } else { name };
    let stands = asked.said(mark, &key).map(|said| said.stands);
    if ask {
        (delay_days, risk) = asked.with_answer(delay_days, risk, stands);
    }
    Offer {
        mark,
        way: Way {
            key,
            kind,
            says,
            pieces,
            cost: Some(asked.money(cost)),
            delay_days,
            risk,
            ask_sender: ask,
            structural: ask,
            stands,
            source: format!("{figures}; {OURS}"),
        },
        each: Price::default(),
        trip: matches!(source, Source::Shop(_)),
        freight: None,
        light: !ask && asked.light(mark) < asked.missing(mark),
        made: Some(source),
    }
}
