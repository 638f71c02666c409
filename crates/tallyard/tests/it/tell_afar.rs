//! Telling parts apart on a phone: the script's answers against those of the program.

use std::time::Instant;

use frame::Part;
use measure::{Length, Mass, MassUnit, System, Unit};
use serde_json::{Value, json};
use tally::Ordered;
use tell::{Asked, Decided, Kit, Reading, Size};

use crate::program::{PROGRAM, Place};
use crate::walker::Walker;
use crate::yard::Running;

pub const DEMO: &str = include_str!("../../../../demo/order.toml");
/// How many pieces are told in the comparison, and how many readings are taken of each at most.
const PIECES: u64 = 240;
const MOST: usize = 6;

/// SplitMix64 (Steele, Lea, Flood 2014, from memory): the same draws in every run.
struct Draw(u64);

impl Draw {
    fn below(&mut self, n: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) % n as u64) as usize
    }

    fn one_in(&mut self, n: usize) -> bool {
        self.below(n) == 0
    }
}

/// What somebody reads of a piece: mostly what is asked for and as it is; now and then something else, of another
/// piece, a little or a foot off, or the same once more.
fn reading(
    draw: &mut Draw,
    kit: &Kit,
    of: &Part,
    parts: &[&Part],
    seen: &[Reading],
) -> Option<Reading> {
    if !seen.is_empty() && draw.one_in(12) {
        return seen.get(draw.below(seen.len())).cloned();
    }
    let any = kit.asked();
    let is_length = |asked: &&Asked| {
        matches!(
            asked,
            Asked::Size {
                of: Size::Length,
                ..
            }
        )
    };
    let length = any.iter().find(is_length).copied();
    let asked = match draw.below(8) {
        0 => any[draw.below(any.len())],
        // Only a length is long enough for a foot to be lost.
        1 | 2 => length?,
        _ => kit.next(seen).map_or(Asked::Holes, |next| next.asked),
    };
    let of = match draw.one_in(10) {
        true => parts[draw.below(parts.len())],
        false => of,
    };
    let reading = asked.of_part(of)?;
    Some(match reading {
        Reading::Size {
            of,
            nanometres,
            with,
        } => {
            let off = match draw.below(8) {
                0 | 1 => 304_800_000,
                2..=4 => {
                    (draw.below(9) as i64 - 4) * 1_587_500 / if of == Size::Length { 1 } else { 4 }
                }
                _ => 0,
            };
            Reading::Size {
                of,
                nanometres: nanometres + off,
                with,
            }
        }
        other => other,
    })
}

/// What the program says after each reading, in the script's own terms.
fn told(kit: &Kit, seen: &[Reading]) -> Value {
    let answer = kit.answer(seen);
    let candidates: Vec<Value> = (answer.candidates.iter())
        .map(|c| json!([c.name(), c.probability]))
        .collect();
    let asked = kit.asked();
    let next = kit.next(seen);
    json!({
        "candidates": candidates,
        "none": answer.none,
        "decided": match &answer.decided {
            None => Value::Null,
            Some(Decided::NoneOfThisOrder) => json!("none"),
            Some(Decided::Is(marks)) => marks.iter().map(|mark| mark.0.clone()).collect(),
        },
        "words": answer.words,
        "odd": answer.odd.iter().map(|odd| json!([odd.reading, odd.words])).collect::<Vec<_>>(),
        "next": next.as_ref().map(|next| asked.iter().position(|known| *known == next.asked)),
        "ask": next.map(|next| next.words),
    })
}

/// What the script says of each of these, in the page that carries the tables.
fn said(walker: &Walker, all: &[Vec<Reading>]) -> Vec<Value> {
    let script = format!(
        "const done = arguments[0]; const all = {};
         const address = document.querySelector('script[src$=\"tell.js\"]').src.replace('tell.js', 'asking.js');
         import(address).then(({{ AskingKit }}) => {{
           window.kit ??= new AskingKit(JSON.parse(document.querySelector('#tell-tables').textContent));
           done(all.map((seen) => {{
             const {{ candidates, none, decided, words, odd }} = kit.answer(seen);
             const next = kit.next(seen);
             return {{ candidates: candidates.map((c) => [c.marks.length > 1 ? c.marks.slice(0, -1).join(', ') + ' or ' + c.marks.at(-1) : c.marks[0], c.chance]),
               none, decided, words, odd: odd.map((o) => [o.reading, o.words]), next: next?.number ?? null, ask: next?.words ?? null }};
           }}));
         }}, (error) => done(String(error)));",
        serde_json::to_string(all).unwrap()
    );
    let said = walker.browser.run_until_called(&script);
    assert!(said.is_array(), "{said}");
    said.as_array().unwrap().clone()
}

#[test]
fn a_phone_says_what_the_program_says() {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let ada = Walker::joins(&yard, "Ada");
    ada.go("/tell");
    let ordered = Ordered::read(DEMO).unwrap();
    let kit = ordered.kit();
    let ours: Vec<&Part> = ordered.parts.lines.iter().map(|line| &line.part).collect();
    let elsewhere: Vec<&Part> = kit.elsewhere().map(|known| &known.part).collect();
    let mut all: Vec<Vec<Reading>> = vec![Vec::new()];
    for seed in 0..PIECES {
        let mut draw = Draw(seed);
        let parts = if draw.one_in(5) { &elsewhere } else { &ours };
        let of = parts[draw.below(parts.len())];
        let mut seen = Vec::new();
        for _ in 0..=draw.below(MOST) {
            seen.extend(reading(&mut draw, kit, of, parts, &seen));
        }
        all.push(seen);
    }
    let begun = Instant::now();
    let ours: Vec<Value> = all.iter().map(|seen| told(kit, seen)).collect();
    let program = begun.elapsed();
    let begun = Instant::now();
    let theirs: Vec<Value> = (all.chunks(30)).flat_map(|some| said(&ada, some)).collect();
    let script = begun.elapsed();
    assert_eq!(ours.len(), theirs.len());
    let mut furthest: f64 = 0.0;
    let mut same = [0_usize; 4];
    for ((seen, program), phone) in all.iter().zip(&ours).zip(&theirs) {
        let off = apart(program, phone);
        furthest = furthest.max(off);
        assert!(off < 0.005, "{off}\n{seen:?}\n{program}\n{phone}");
        assert_eq!(program["decided"], phone["decided"], "{seen:?}");
        for (count, what) in same.iter_mut().zip(["next", "ask", "words", "odd"]) {
            let is_same = program[what] == phone[what];
            *count += is_same as usize;
            if !is_same {
                println!(
                    "{what}: {}\n  not {}\n  {seen:?}",
                    phone[what], program[what]
                );
            }
        }
    }
    let decided = ours
        .iter()
        .filter(|told| !told["decided"].is_null())
        .count();
    let n = all.len();
    println!(
        "{n} sequences, {decided} decided: probabilities within {furthest:.5}; of {n} the same next question {}, its \
         words {}, the answer's words {}, what is odd {}; {program:?} in the program, {script:?} in the page",
        same[0], same[1], same[2], same[3]
    );
    assert!(
        decided * 5 > n && decided * 5 < 4 * n,
        "{decided}: too easy or too hard"
    );
    // Of two that are equally likely either may be named as what a reading does not fit.
    for (count, percent) in same.into_iter().zip([99, 99, 99, 95]) {
        assert!(count * 100 >= percent * n, "{same:?} of {n}");
    }
    assert_eq!(ada.browser.complaints(), Vec::<String>::new());
}

/// The greatest difference of two probabilities.
fn apart(program: &Value, phone: &Value) -> f64 {
    let chance = |told: &Value, name: &Value| {
        let all = told["candidates"].as_array().unwrap();
        all.iter()
            .find(|c| c[0] == *name)
            .map_or(f64::NAN, |c| c[1].as_f64().unwrap())
    };
    let all = program["candidates"].as_array().unwrap();
    assert_eq!(all.len(), phone["candidates"].as_array().unwrap().len());
    let each = all
        .iter()
        .map(|c| (c[1].as_f64().unwrap() - chance(phone, &c[0])).abs());
    let none = (program["none"].as_f64().unwrap() - phone["none"].as_f64().unwrap()).abs();
    each.fold(none, |a, b| if b > a || b.is_nan() { b } else { a })
}

/// What a phone takes from a field is what the program takes; what it does not take it refuses, and says so.
#[test]
fn a_phone_reads_and_writes_sizes_as_the_program_does() {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let ada = Walker::joins(&yard, "Ada");
    ada.go("/tell");
    let texts = [
        "10 ft 6 1/2 in",
        "10' 6-1/2\"",
        "10'6",
        "10'-6½\"",
        "10 ft",
        "126.5",
        "1 5/8",
        "1-5/8 in.",
        "½",
        "3213 mm",
        "3.2 m",
        "42.2 mm",
        "42,2 mm",
        "7 feet",
        "6 ft 13 in",
        "6.5 ft 2 in",
        "ten",
        "",
        "1/0",
        "12 lb",
        "1,660",
        "0.083",
        "-4 in",
        "5''",
        "1.2.3",
        "3 m 2 in",
        "1 2 3",
        "10 ft -6 in",
        "６",
        "1e3",
        "10 ft x",
        "99999999999999999",
    ];
    let masses = [
        "12.4 lb",
        "8 oz",
        "12 lb 4 oz",
        "5.62 kg",
        "240 g",
        "12.4",
        "x",
        "",
        "3 ft",
        "1/2 lb",
        "-1 kg",
    ];
    let mut draw = Draw(7);
    let lengths: Vec<i64> = (0..300)
        .map(|i| draw.below([400_000_000, 40_000_000_000][i % 2]) as i64)
        .collect();
    let script = format!(
        "const done = arguments[0]; const [texts, masses, lengths] = {};
         import(document.querySelector('script[src$=\"tell.js\"]').src.replace('tell.js', 'saying.js')).then((say) => done([
           [true, false].map((inch) => texts.map((text) => say.readLength(text, inch))),
           [true, false].map((inch) => masses.map((text) => say.readMass(text, inch))),
           [true, false].map((inch) => lengths.map((n) => [say.tape(n, inch), say.caliper(n, inch), say.mass(n, inch, 2)])),
         ]), (error) => done(String(error)));",
        json!([texts, masses, lengths])
    );
    let said = ada.browser.run_until_called(&script);
    let mut refused = Vec::new();
    for (i, (system, unit, mass_unit)) in [
        (System::FeetInch, Unit::Inch, MassUnit::Pound),
        (System::Metric, Unit::Millimetre, MassUnit::Kilogram),
    ]
    .into_iter()
    .enumerate()
    {
        let program = |text: &&str| {
            Length::read(text, Some(unit))
                .ok()
                .map(Length::as_nanometres)
        };
        let mass = |text: &&str| {
            Mass::read(text, Some(mass_unit))
                .ok()
                .map(Mass::as_micrograms)
        };
        let all = texts
            .iter()
            .map(|text| (text, program(text)))
            .zip(said[0][i].as_array().unwrap());
        let masses = masses
            .iter()
            .map(|text| (text, mass(text)))
            .zip(said[1][i].as_array().unwrap());
        for ((text, ours), theirs) in all.chain(masses) {
            match theirs.as_i64() {
                // A phone may take less than the program does, and never another size.
                None if ours.is_some() => refused.push(*text),
                theirs => assert_eq!(theirs, ours, "{text} {system:?}"),
            }
        }
        for (n, theirs) in lengths.iter().zip(said[2][i].as_array().unwrap()) {
            let length = Length::nanometres(*n);
            let ours = [
                length.tape(system),
                length.caliper(system),
                Mass::micrograms(*n).write(system, 2),
            ];
            assert_eq!(json!(ours), *theirs, "{n} {system:?}");
        }
    }
    println!("taken by the program and not by a phone: {refused:?}");
    assert!(refused.len() <= 4, "{refused:?}");
}
