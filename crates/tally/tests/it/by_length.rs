//! Counting coils and rolls by length. Expected figures by hand.

use measure::{Grid, Length, System};
use tally::{Against, Coils, LengthRefused};

fn coils(whole: i64, each: i64, rest: i64, rest_within: i64) -> Coils {
    Coils {
        whole,
        each: Length::feet(each),
        rest: Length::feet(rest),
        rest_within: Length::feet(rest_within),
    }
}

fn words(coils: Coils, piece: i64) -> String {
    let cut = coils.cut(Length::feet(piece)).expect("good coils");
    cut.in_words(System::FeetInch, Grid::SIXTEENTH)
}

#[test]
fn pieces_are_never_cut_across_coils() {
    assert_eq!(
        words(coils(2, 250, 0, 0), 100),
        "2 coils of 250 ft give 4 pieces of 100 ft, 100 ft left over"
    );
    assert_eq!(
        words(coils(2, 250, 120, 0), 100),
        "2 coils of 250 ft and a rest of 120 ft give 5 pieces of 100 ft, 120 ft left over"
    );
    assert_eq!(
        words(coils(1, 250, 0, 0), 125),
        "1 coil of 250 ft gives 2 pieces of 125 ft"
    );
    assert_eq!(
        words(coils(0, 0, 120, 0), 100),
        "a rest of 120 ft gives 1 piece of 100 ft, 20 ft left over"
    );
    assert_eq!(
        words(coils(2, 50, 0, 0), 100),
        "2 coils of 50 ft give no piece of 100 ft, 100 ft left over"
    );
}

#[test]
fn a_piece_may_be_exactly_what_is_there_and_not_a_nanometre_more() {
    let one = coils(1, 100, 0, 0);
    assert_eq!(one.cut(Length::feet(50)).unwrap().pieces, 2);
    let longer = Length::nanometres(Length::feet(50).as_nanometres() + 1);
    assert_eq!(one.cut(longer).unwrap().pieces, 1);
}

#[test]
fn a_paced_rest_gives_an_interval() {
    assert_eq!(
        words(coils(2, 250, 120, 25), 100),
        "2 coils of 250 ft and a rest of 120 ft give 5 pieces of 100 ft, 120 ft left over; \
         the rest may be 25 ft off, so 4 to 5"
    );
    let cut = coils(2, 250, 120, 25).cut(Length::feet(100)).unwrap();
    assert_eq!((cut.least, cut.pieces, cut.most), (4, 5, 5));
    assert_eq!(cut.against(5), Against::CouldBeShort { short: 1, over: 0 });
    assert_eq!(cut.against(4), Against::CouldBeOver { over: 1 });
    // A rest is no longer than a whole coil, however it was paced.
    let cut = coils(1, 250, 240, 100).cut(Length::feet(130)).unwrap();
    assert_eq!((cut.least, cut.pieces, cut.most), (2, 2, 2));
    let cut = coils(1, 250, 240, 100).cut(Length::feet(125)).unwrap();
    assert_eq!((cut.least, cut.pieces, cut.most), (3, 3, 4));
}

#[test]
fn whole_rolls_count_and_a_rest_is_none() {
    let rolls = coils(3, 250, 249, 0);
    assert_eq!(rolls.whole, 3);
    assert_eq!(rolls.total(), Ok(Length::feet(999)));
}

#[test]
fn coils_that_cannot_be_are_refused() {
    let refused = |coils: Coils| coils.cut(Length::feet(10)).unwrap_err();
    assert_eq!(refused(coils(-1, 250, 0, 0)), LengthRefused::Whole(-1));
    assert_eq!(refused(coils(2, 0, 0, 0)), LengthRefused::Empty);
    assert_eq!(refused(coils(0, 250, 0, 0)), LengthRefused::Nothing);
    assert_eq!(refused(coils(1, 250, 251, 0)), LengthRefused::RestOverCoil);
    assert_eq!(refused(coils(1, 250, 20, 21)), LengthRefused::RestUnknown);
    assert_eq!(
        refused(coils(1, 250, -1, 0)).to_string(),
        "the rest must be from nothing to 1000 km"
    );
    assert_eq!(
        refused(coils(1_000_000, 1_000_000, 0, 0)),
        LengthRefused::Range("all together")
    );
    let good = coils(1, 250, 0, 0);
    assert_eq!(good.cut(Length::ZERO), Err(LengthRefused::Piece));
    let tiny = Length::nanometres(1);
    assert_eq!(good.cut(tiny), Err(LengthRefused::TooMany));
}

/// The form in the log. If this fails, old logs stop loading.
#[test]
fn coils_are_written_in_whole_nanometres() {
    let written = serde_json::to_string(&coils(2, 10, 1, 0)).unwrap();
    let right = r#"{"whole":2,"each":3048000000,"rest":304800000,"rest_within":0}"#;
    assert_eq!(written, right);
    assert_eq!(
        serde_json::from_str::<Coils>(right).unwrap(),
        coils(2, 10, 1, 0)
    );
}
