//! Counting by weight: against published practice, against figures that numpy and scipy worked
//! out (`by_weight/oracle.py`), in words, and with weights that cannot be.

mod coverage;

use measure::Mass;
use tally::{Against, ByWeight, Sample, SampleIs, Scale, Spread, ToDecide, Weighed, WeightRefused};

/// Micrograms of so many grams.
pub(crate) fn grams(grams: f64) -> Mass {
    Mass::micrograms((grams * 1e6).round() as i64)
}

fn sample(pieces: i64, mass: f64) -> Sample {
    Sample {
        pieces,
        mass: grams(mass),
    }
}

/// One sample kept out of the bag, plain hardware, no tare, a scale that reads to 1 g.
fn weighing(pieces: i64, mass: f64, bag: f64) -> ByWeight {
    ByWeight {
        samples: vec![sample(pieces, mass)],
        sample_is: SampleIs::KeptOut,
        bag: grams(bag),
        tare: Mass::ZERO,
        scale: Scale::reading_to(grams(1.0)),
        spread: Spread::PLAIN,
    }
}

fn seen(samples: &[(i64, f64)], bag: f64, step: f64) -> ByWeight {
    let samples = samples.iter().map(|&(pieces, mass)| sample(pieces, mass));
    ByWeight {
        samples: samples.collect(),
        scale: Scale {
            step: grams(step),
            error: grams(step / 2.0),
        },
        spread: Spread::FromSamples,
        ..weighing(1, 1.0, bag)
    }
}

#[track_caller]
fn interval(asked: &ByWeight) -> (i64, i64, i64) {
    let Weighed {
        count, least, most, ..
    } = asked.weigh().expect("good weights");
    (count, least, most)
}

/// Steiner and MacKay, *Scale Counting* (University of Waterloo), give the idea; the rows are
/// first-order figures of ours (derived), each also drawn four million times by `oracle.py`.
#[test]
fn the_standard_error_is_the_first_order_one_where_pieces_or_scale_rule() {
    // N, n, spread in parts of 10 000, scale error over a piece, standard error: derived, drawn
    let rows = [
        (500, 10, 100, 0.0, 1.60, 1.596),
        (500, 20, 100, 0.0, 1.14, 1.140),
        (500, 50, 100, 0.0, 0.742, 0.742),
        (1000, 10, 50, 0.0, 1.59, 1.589),
        (200, 10, 200, 0.0, 1.30, 1.296),
        (500, 10, 100, 0.125, 6.45, 6.454),
        (500, 50, 100, 0.125, 1.46, 1.459),
    ];
    for (rest, pieces, spread, error, derived, drawn) in rows {
        let asked = ByWeight {
            scale: Scale {
                step: Mass::micrograms(1),
                error: grams(error * 12.0).min(Mass::micrograms(100)),
            },
            spread: Spread::Stated(spread),
            ..weighing(pieces, pieces as f64 * 12.0, rest as f64 * 12.0)
        };
        // A scale's error is at most 100 of its steps, so a coarse error needs a coarse step.
        let asked = match error > 0.0 {
            true => ByWeight {
                scale: Scale {
                    step: grams(0.1),
                    error: grams((error * error * 144.0 - 0.01 / 12.0).sqrt()),
                },
                ..asked
            },
            false => asked,
        };
        let weighed = asked.weigh().unwrap();
        assert_eq!(weighed.count, rest + pieces);
        let off = |figure: f64| (weighed.standard_error / figure - 1.0).abs();
        assert!(off(derived) < 0.005 && off(drawn) < 0.005, "{weighed:?}");
    }
}

/// `oracle.py`, numpy 2.4.6: four million draws for each count, of gamma pieces on a scale that
/// really rounds.
#[test]
fn a_stated_spread_gives_the_interval_that_drawing_pieces_gives() {
    let fine = ByWeight {
        scale: Scale::reading_to(grams(0.1)),
        ..weighing(20, 240.0, 5769.0)
    };
    assert_eq!(interval(&fine), (501, 498, 503));
    let coarse = ByWeight {
        scale: Scale::reading_to(grams(5.0)),
        sample_is: SampleIs::PutBack,
        ..weighing(10, 125.0, 2530.0)
    };
    assert_eq!(interval(&coarse), (202, 194, 212));
    // A sample of six steps. First order would give 500 ± 95; drawn, 420 to 616: a poor small sample
    // leaves more room above than below. Ours is a little wider, for it takes rounding as normal.
    let poor = ByWeight {
        scale: Scale::reading_to(grams(5.0)),
        sample_is: SampleIs::Other,
        spread: Spread::GALVANIZED,
        ..weighing(5, 30.0, 3000.0)
    };
    let (count, least, most) = interval(&poor);
    assert_eq!(count, 500);
    assert!(
        (417..=420).contains(&least) && (616..=624).contains(&most),
        "{least} to {most}"
    );
    let tare = ByWeight {
        scale: Scale::reading_to(grams(10.0)),
        spread: Spread::GALVANIZED,
        tare: grams(120.0),
        ..weighing(50, 610.0, 4900.0)
    };
    assert_eq!(interval(&tare), (442, 434, 450));
    assert_eq!(interval(&weighing(10, 80.0, 120.0)), (25, 25, 25));
}

/// `oracle.py`, scipy 1.17.1: Student's t where the scale makes no error, else its chance
/// integrated over chi-square by `quad`.
#[test]
fn a_spread_seen_among_samples_gives_the_interval_that_scipy_gives() {
    let five = [
        (10, 120.3),
        (10, 119.1),
        (10, 120.9),
        (10, 119.8),
        (10, 120.4),
    ];
    assert_eq!(interval(&seen(&five, 6000.0, 1e-6)), (550, 546, 553));
    let two = ByWeight {
        sample_is: SampleIs::PutBack,
        ..seen(&[(10, 120.3), (10, 119.9)], 2400.0, 1e-6)
    };
    assert_eq!(interval(&two), (200, 196, 203));
    let coarse = [(10, 120.0), (10, 122.0), (10, 119.0), (10, 121.0)];
    assert_eq!(interval(&seen(&coarse, 6000.0, 1.0)), (538, 530, 546));
    let unlike = ByWeight {
        sample_is: SampleIs::PutBack,
        ..seen(&[(10, 120.3), (20, 239.0), (15, 181.1)], 3600.0, 0.1)
    };
    assert_eq!(interval(&unlike), (300, 296, 303));
    let hidden = [(10, 120.0), (10, 120.0), (10, 120.0)];
    assert_eq!(interval(&seen(&hidden, 6000.0, 2.0)), (530, 525, 535));
}

/// By hand: the interval is every count that goes with the weights, so both its ends do and their
/// neighbours do not, whichever way the search went.
#[test]
fn where_the_sample_was_changes_what_counts() {
    let count = |sample_is, bag| {
        interval(&ByWeight {
            sample_is,
            ..weighing(20, 240.0, bag)
        })
        .0
    };
    assert_eq!(count(SampleIs::PutBack, 2400.0), 200);
    assert_eq!(count(SampleIs::KeptOut, 2160.0), 200);
    assert_eq!(count(SampleIs::Other, 2400.0), 200);
    // The whole bag was the sample, and the scale reads it a step lighter the second time.
    assert_eq!(count(SampleIs::PutBack, 239.0), 20);
    assert_eq!(count(SampleIs::KeptOut, 0.0), 20);
}

#[test]
fn against_a_needed_number_in_words() {
    let words = |least, most, needed| Against::of(least, most, needed).to_string();
    assert_eq!(words(474, 480, 500), "is short by 20 to 26");
    assert_eq!(words(499, 499, 500), "is short by 1");
    assert_eq!(
        words(496, 503, 500),
        "could be short, by 4 at most, or over, by 3 at most"
    );
    assert_eq!(words(496, 500, 500), "could be short, by 4 at most");
    assert_eq!(words(500, 500, 500), "cannot be short, is exactly right");
    assert_eq!(
        words(500, 504, 500),
        "cannot be short, could be over, by 4 at most"
    );
    assert_eq!(words(502, 506, 500), "cannot be short, is over by 2 to 6");
    let (low, high) = (i64::MIN, i64::MAX);
    assert_eq!(
        Against::of(0, high, low),
        Against::Over {
            least: high,
            most: high
        }
    );
}

#[test]
fn says_how_large_a_sample_decides() {
    let decide = |asked: &ByWeight, needed| asked.sample_to_decide(needed).unwrap();
    let fine = ByWeight {
        scale: Scale::reading_to(grams(0.1)),
        ..weighing(10, 120.0, 5880.0)
    };
    // 500 pieces seem to be there: 480 is clear, 495 wants a larger sample, at 500 the next
    // count is one piece off and no sample tells it.
    assert_eq!(decide(&fine, 480), ToDecide::Decided);
    let ToDecide::Weigh(pieces) = decide(&fine, 497) else {
        panic!("{:?}", decide(&fine, 497))
    };
    // First order, as in the formula: 4 pieces off must be 2.8 standard errors, so one is 1.428:
    // (0.015)² × 500 (500 − n) / n = 1.428², n = 26.1. With the scale's share some more.
    assert!((30..=35).contains(&pieces), "{pieces}");
    assert_eq!(
        ToDecide::Weigh(40).to_string(),
        "weigh a counted sample of 40 to decide"
    );
    let coarse = ByWeight {
        scale: Scale::reading_to(grams(20.0)),
        ..fine
    };
    assert_eq!(decide(&coarse, 500), ToDecide::CountThem { half: 250 });
    assert_eq!(
        decide(&coarse, 500).to_string(),
        "no sample decides this with this scale, not even one of 250: count them"
    );
}

#[test]
fn weights_that_fit_no_whole_number_are_remarked() {
    let fine = |bag| {
        ByWeight {
            scale: Scale::reading_to(grams(0.01)),
            spread: Spread::Stated(30),
            ..weighing(20, 240.0, bag)
        }
        .weigh()
        .unwrap()
    };
    assert!(!fine(240.0).odd);
    assert!(fine(246.0).odd, "half a piece");
}

#[test]
fn weights_that_cannot_be_are_refused_and_told_what_would_be_right() {
    let good = weighing(20, 240.0, 2400.0);
    let edit = |edit: &dyn Fn(&mut ByWeight)| {
        let mut asked = good.clone();
        edit(&mut asked);
        asked.weigh().unwrap_err().to_string()
    };
    let cases = [
        (
            edit(&|asked| asked.samples.clear()),
            "no sample: count out some pieces and weigh them; ten at least, fifty is good",
        ),
        (
            edit(&|asked| asked.samples[0].pieces = 0),
            "no sample: count out some pieces and weigh them; ten at least, fifty is good",
        ),
        (
            edit(&|asked| asked.samples[0].pieces = -3),
            "a sample of -3 pieces; it must be from 1 to 1000000",
        ),
        (
            edit(&|asked| asked.samples[0].mass = Mass::ZERO),
            "the scale shows nothing for a sample of 20: weigh ten times as many, or take a finer \
             scale",
        ),
        (
            edit(&|asked| asked.samples[0].mass = grams(0.5)),
            "the scale hardly feels a sample of 20: its step is too coarse; weigh 2310 or more, \
             or take a finer scale",
        ),
        (
            edit(&|asked| asked.tare = grams(2401.0)),
            "the bag weighs less than its tare: tare is the empty bag alone; are the two swapped?",
        ),
        (
            edit(&|asked| {
                asked.sample_is = SampleIs::PutBack;
                asked.bag = grams(200.0);
            }),
            "the bag weighs less than the sample said to be in it: put the sample back and weigh \
             again, or say that it was kept out",
        ),
        (
            edit(&|asked| asked.bag = grams(-1.0)),
            "the bag weighs less than nothing: set the empty scale to nought and weigh again",
        ),
        (
            edit(&|asked| asked.bag = Mass::micrograms(i64::MAX)),
            "the bag weighs more than 1000 t: is the unit right?",
        ),
        (
            edit(&|asked| asked.bag = Mass::grams(1_000_000_000)),
            "the weights allow more than 1000000 pieces: are the units right? if so, weigh a \
             larger sample",
        ),
        (
            edit(&|asked| asked.scale.step = Mass::ZERO),
            "the scale's step must be more than nothing and at most 100 kg: the smallest change \
             it shows",
        ),
        (
            edit(&|asked| asked.scale.error = grams(-1.0)),
            "the scale's error must be from nothing to 100 of its steps",
        ),
        (
            edit(&|asked| asked.spread = Spread::Stated(0)),
            "a spread of 0 parts in 10 000; it must be from 1 to 2000, 150 for plain hardware",
        ),
        (
            edit(&|asked| asked.spread = Spread::FromSamples),
            "one sample does not show how much pieces differ: weigh two or more, or state it",
        ),
        (
            edit(&|asked| asked.samples = vec![asked.samples[0]; 101]),
            "101 samples; at most 100 are taken",
        ),
    ];
    for (said, right) in cases {
        assert_eq!(said, right);
    }
    let disagree = seen(&[(10, 120.0), (10, 40.0)], 2400.0, 1.0);
    assert_eq!(disagree.weigh(), Err(WeightRefused::Disagree));
}

/// Numbers at their ends neither panic nor take long.
#[test]
fn any_numbers_are_weighed_or_refused() {
    let ends = [i64::MIN, -1, 0, 1, 3, 1_000_000, 1_000_000_000, i64::MAX];
    for pieces in ends {
        for mass in ends.map(Mass::micrograms) {
            for bag in ends.map(Mass::micrograms) {
                for spread in [Spread::Stated(pieces), Spread::PLAIN, Spread::FromSamples] {
                    let asked = ByWeight {
                        samples: vec![Sample { pieces, mass }; 2],
                        scale: Scale::reading_to(Mass::micrograms(1)),
                        bag,
                        spread,
                        ..weighing(1, 1.0, 1.0)
                    };
                    if let Ok(weighed) = asked.weigh() {
                        assert!(weighed.least <= weighed.count && weighed.count <= weighed.most);
                        assert!(asked.sample_to_decide(weighed.count).is_ok());
                    }
                }
            }
        }
    }
    // The longest walk: a huge sample that the scale hardly feels.
    let felt = seen(&[(200_000, 2.0), (200_000, 2.0)], 3.0, 1.0);
    let before = std::time::Instant::now();
    let _ = felt.weigh();
    assert!(before.elapsed().as_secs() < 10);
}

/// The form in the log: whole micrograms and whole numbers. If this fails, old logs stop loading.
#[test]
fn a_weighing_is_written_in_whole_micrograms() {
    let written = serde_json::to_string(&weighing(20, 240.0, 2400.5)).unwrap();
    let right = concat!(
        r#"{"samples":[{"pieces":20,"mass":240000000}],"sample_is":"kept_out","#,
        r#""bag":2400500000,"tare":0,"scale":{"step":1000000,"error":500000},"#,
        r#""spread":{"stated":150}}"#
    );
    assert_eq!(written, right);
    let read: ByWeight = serde_json::from_str(right).unwrap();
    assert_eq!(read, weighing(20, 240.0, 2400.5));
}
