//! Unloading: the rule holds for every family, every step says with what, and cautions stand where bands are cut.

use ready::handling::LiftSite;
use ready::unload::{Unloading, unloading};

use crate::setting::{demo, parts, sidewall};

fn houses() -> Vec<(frame::Frame, Unloading)> {
    let houses = [demo(), sidewall("48 ft")];
    (houses.into_iter())
        .map(|frame| {
            let list = parts(&frame);
            let said = unloading(&list, &frame, &LiftSite::default());
            (frame, said)
        })
        .collect()
}

#[test]
fn what_is_needed_first_comes_off_last_and_film_goes_under_cover_at_once() {
    for (frame, said) in houses() {
        // A family that says nothing of packages comes in its shares.
        assert!(said.off.len() >= frame.packages.len());
        assert!(said.off.iter().all(|load| load.gross > measure::Mass::ZERO));
        let turn = |stage: &str| frame.stages.iter().position(|s| s == stage).unwrap();
        let first = &said.off[0];
        assert!(first.cover, "{first:?}");
        assert_ne!(first.first, "channel", "film waits for its channel");
        let open: Vec<usize> = (said.off.iter().filter(|load| !load.cover))
            .map(|load| turn(&load.first))
            .collect();
        assert!(open.windows(2).all(|pair| pair[0] >= pair[1]), "{open:?}");
        let unpacked: Vec<usize> = said.unpack.iter().map(|share| turn(&share.first)).collect();
        assert!(
            unpacked.windows(2).all(|pair| pair[0] <= pair[1]),
            "{unpacked:?}"
        );
        let pieces: i64 = said.unpack.iter().map(|share| share.pieces).sum();
        assert_eq!(pieces, parts(&frame).pieces());
    }
}

/// What the trade's safety notes ask for (M, common practice): photos before a band is cut, tubes blocked before anything
/// is loosened, eye protection, gloves and the right cutter at the bands.
#[test]
fn photos_come_first_and_bands_have_their_caution() {
    let (_, said) = houses().remove(0);
    let at = |key: &str| said.steps.iter().position(|step| step.key == key).unwrap();
    assert!(at("photos") < at("block") && at("block") < at("steel bands"));
    assert!(at("steel bands") < at("uncrate") && at("ground") == 0);
    for band in ["steel bands", "plastic bands"] {
        let step = &said.steps[at(band)];
        assert!(step.wear.iter().any(|w| w == "eye protection"));
        assert!(step.wear.iter().any(|w| w == "gloves"));
        assert!(step.tools.iter().any(|t| t.contains("cutter")));
        assert!(!step.caution.is_empty());
    }
    for tool in ["hammer", "wrecking bar", "steel band cutter"] {
        assert!(said.tools.iter().any(|t| t == tool), "{tool}");
    }
    assert!(!said.rule.is_empty());
    assert!(said.steps.iter().all(|step| !step.sure.is_empty()));
}
