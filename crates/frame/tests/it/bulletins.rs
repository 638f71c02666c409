//! Houses that universities, governments, farm schools and growers have published, each as a family and an order,
//! and every quantity they give held against ours.
//!
//! `bulletins/README.md` has the sources in full, with what each of them does not say. The marks are those of the
//! crate's tests: S seen, S2 second-hand, D derived here from the inputs, M from memory.

mod expressible;
mod horseshoe;
mod measures;
mod plastic;
mod posts;
mod steel;
mod written;

use frame::{Family, Frame, Order, PartsList, expand};
use measure::Length;

/// Why two quantities differ: in words, and the sum that makes theirs out of ours.
type Reason = (&'static str, fn(i64) -> i64);

/// One quantity of a list.
struct Row {
    what: &'static str,
    mark: &'static str,
    theirs: i64,
    ours: i64,
    differs: Option<Reason>,
}

fn same(what: &'static str, mark: &'static str, theirs: i64, ours: i64) -> Row {
    Row {
        what,
        mark,
        theirs,
        ours,
        differs: None,
    }
}

fn differs(what: &'static str, mark: &'static str, theirs: i64, ours: i64, why: Reason) -> Row {
    Row {
        differs: Some(why),
        ..same(what, mark, theirs, ours)
    }
}

/// Holds every row: equal, or different by the very sum that its reason states.
fn compare(source: &str, rows: &[Row]) {
    for row in rows {
        let Row {
            what,
            mark,
            theirs,
            ours,
            differs,
        } = row;
        let said = format!("{source}, {what} ({mark}): theirs {theirs}, ours {ours}");
        match differs {
            None => assert_eq!(ours, theirs, "{said}"),
            Some((why, sum)) => {
                assert_ne!(ours, theirs, "{said}: the reason is not needed: {why}");
                assert_eq!(sum(*ours), *theirs, "{said}: the reason is wrong: {why}");
            }
        }
    }
}

struct House {
    frame: Frame,
    list: PartsList,
}

fn family(text: &str) -> Family {
    Family::read(text).unwrap_or_else(|e| panic!("{e}"))
}

fn raise(text: &str, order: &str) -> House {
    let order = Order::read(order).unwrap_or_else(|e| panic!("{e}"));
    let frame = expand(&order, &family(text)).unwrap_or_else(|e| panic!("{e}"));
    let list = PartsList::of(&frame);
    House { frame, list }
}

/// What is said of an order, or of a family, that cannot be built.
fn refused(text: &str, order: &str) -> String {
    let family = match Family::read(text) {
        Ok(family) => family,
        Err(e) => return e.to_string(),
    };
    let order = Order::read(order).unwrap_or_else(|e| panic!("{e}"));
    match expand(&order, &family) {
        Ok(_) => panic!("it was built"),
        Err(e) => e.to_string(),
    }
}

impl House {
    fn count(&self, mark: &str) -> i64 {
        crate::house::quantity(&self.list, mark)
    }

    /// How many a use needs.
    fn used(&self, mark: &str, use_: &str) -> i64 {
        let line = self.list.line(mark);
        let uses = line.map(|line| line.uses()).unwrap_or_default();
        uses.iter()
            .filter(|(role, _)| *role == use_)
            .map(|(_, n)| n)
            .sum()
    }

    /// Length of a part in sixteenths of an inch.
    fn sixteenths(&self, mark: &str) -> i64 {
        sixteenths(self.list.line(mark).and_then(|line| line.part.length))
    }

    /// Length of the pieces of a role as they go in, which must all be alike, in sixteenths of an inch.
    fn goes_in(&self, mark: &str, role: &str) -> i64 {
        let of_role =
            |p: &&frame::Piece| p.mark.0 == mark && self.frame.members[p.member].role == role;
        let mut lengths: Vec<i64> = (self.frame.pieces.iter().filter(of_role))
            .map(|p| {
                p.cut_to
                    .map_or(self.sixteenths(mark), |cut| sixteenths(Some(cut)))
            })
            .collect();
        lengths.dedup();
        assert_eq!(lengths.len(), 1, "{mark} as {role}: {lengths:?}");
        lengths[0]
    }

    fn width_sixteenths(&self, mark: &str) -> i64 {
        sixteenths(self.list.line(mark).and_then(|line| line.part.width))
    }
}

fn sixteenths(length: Option<Length>) -> i64 {
    (length.unwrap().to_inches() * 16.0).round() as i64
}

fn feet(feet: i64) -> i64 {
    feet * 12 * 16
}

fn inches(inches: i64) -> i64 {
    inches * 16
}

/// How many pieces are of a mark, whole or cut.
fn pieces(house: &House, mark: &str) -> i64 {
    (house.frame.pieces.iter())
        .filter(|p| p.mark.0 == mark)
        .count() as i64
}
