//! Family files that somebody broke, by slip or on purpose: each is built or refused in words, at once and with no
//! panic, whatever stands in it.

mod struck;

use std::time::{Duration, Instant};

use frame::{Family, Frame, Order, expand};

/// A build for tests on a busy machine is some twenty times slower than the program; what takes longer than this hangs.
const LONGEST: Duration = Duration::from_secs(20);

/// A house of hoops only, whose texts the tests change.
const SMALL: &str = include_str!("hostile/small.family.toml");

/// The small house with one text of it changed and more added, as long as said: the frame, or what is said against it.
fn small((from, to): (&str, &str), more: &str, length: &str) -> Result<Frame, String> {
    assert!(SMALL.contains(from), "{from}");
    let text = SMALL.replacen(from, to, 1) + more;
    let order = format!("name = \"h\"\nfamily = \"small\"\nlength = {length:?}");
    let order = Order::read(&order).unwrap();
    let started = Instant::now();
    let built = Family::read(&text)
        .map_err(|e| e.to_string())
        .and_then(|family| expand(&order, &family).map_err(|e| e.to_string()));
    let took = started.elapsed();
    assert!(took < LONGEST, "{took:?}");
    built
}

/// What is said against it, which must hold these words.
#[track_caller]
fn refused(change: (&str, &str), more: &str, length: &str, words: &str) {
    match small(change, more, length) {
        Ok(_) => panic!("it was built, and should be refused: {words}"),
        Err(said) => {
            let start: String = said.chars().take(400).collect();
            assert!(said.contains(words), "{start}");
            assert!(said.len() < 100_000, "{} bytes are said", said.len());
        }
    }
}

const AS_IT_IS: (&str, &str) = ("", "");

fn member(role: &str, place: &str) -> String {
    format!(
        "\n[[member]]\nrole = \"{role}\"\npart = \"TUBE\"\n{place}\nstage = \"all\"\nsub_kit = \"frame\"\n"
    )
}

fn members(count: usize, place: &str) -> String {
    (0..count)
        .map(|i| member(&format!("member {i}"), place))
        .collect()
}

fn joint(place: &str) -> String {
    format!(
        "\n[[joint]]\n{place}\nsays = \"a joint\"\nhardware = {{ SCREW = 1 }}\nstage = \"all\"\nsub_kit = \"frame\"\n"
    )
}

fn quoted(words: impl Iterator<Item = String>) -> String {
    let words: Vec<String> = words.map(|word| format!("{word:?}")).collect();
    words.join(", ")
}

#[test]
fn the_small_house_itself_is_built() {
    let frame = small(AS_IT_IS, "", "12 ft").unwrap();
    assert_eq!((frame.members.len(), frame.pieces.len()), (4, 8));
}

#[test]
fn counts_as_large_as_a_number_can_be() {
    for count in [i64::MAX, i64::MIN, -1, 1_000_000] {
        for bows in [
            "from_end = N",
            "every = N",
            "every = 1, from = N",
            "inner_every = N",
        ] {
            let bows = bows.replace('N', &count.to_string());
            let tie = format!("across = {{ height = \"2 ft\" }}\nbows = {{ {bows} }}");
            refused(AS_IT_IS, &member("tie", &tie), "12 ft", "from 1 to 1000");
        }
        let strut = format!(
            "strut = {{ from = {{ at = \"peak\", bow = {count} }}, to = {{ at = {{ height = \"1 ft\" }} }} }}"
        );
        refused(
            AS_IT_IS,
            &member("strut", &strut),
            "12 ft",
            "from 0 to 100 bows",
        );
        refused(
            ("SCREW = 1", &format!("SCREW = {count}")),
            "",
            "12 ft",
            "not from 1 to 10000",
        );
    }
    let list = vec!["1"; 100_000].join(", ");
    let tie = format!("across = {{ height = \"2 ft\" }}\nbows = [{list}]");
    refused(AS_IT_IS, &member("tie", &tie), "12 ft", "from 1 to 1000");
}

#[test]
fn a_saw_neither_adds_nor_eats_whole_pieces() {
    for kerf in ["-1/8 in", "2 in", "100 m"] {
        refused(
            ("1/8 in", kerf),
            "",
            "12 ft",
            "`kerf` must be from nothing to 0.025 m",
        );
    }
}

#[test]
fn a_film_thicker_than_a_length_can_say() {
    let mil = format!("{} mil", i64::MAX);
    refused(("6 mil", &mil), "", "12 ft", "thicker than anything");
    refused(("6 mil", "-6 mil"), "", "12 ft", "more than nothing");
}

#[test]
fn chains_with_more_links_than_a_hand_could_bend() {
    let links: String = (0..20_000)
        .map(|i| format!("    {{ name = \"{i}\", straight = \"0.0001 in\" }},\n"))
        .collect();
    refused(
        ("    { name = \"leg\"", &(links + "    { name = \"leg\"")),
        "",
        "12 ft",
        "at most 100",
    );
    let pieces: String = (0..10_000)
        .map(|i| {
            format!(
                "{{ part = \"HOOP\", to = {{ of = \"roof\", share = {} }} }}, ",
                f64::from(i) / 1e4
            )
        })
        .collect();
    let half = format!("half = [{pieces}{{ part = \"HOOP\"");
    refused(
        ("half = [{ part = \"HOOP\"", &half),
        "",
        "12 ft",
        "at most 100",
    );
}

#[test]
fn more_members_than_a_house_can_have() {
    let strut = "strut = { from = { at = { height = \"4 ft\" }, bow = 0 }, to = { at = \"peak\", bow = 0 } }";
    refused(
        AS_IT_IS,
        &members(300, strut),
        "3000 ft",
        "more than 200000 places",
    );
    // Each lies where all the others do.
    let line = "along = { height = \"2 ft\" }";
    refused(AS_IT_IS, &members(490, line), "1000 ft", "lie side by side");
    let stud = "upright = { every = \"1 in\", start = \"0 in\" }";
    refused(AS_IT_IS, &members(490, stud), "12 ft", "");
    let again: String = (0..400)
        .map(|_| member("tie", "across = { height = \"2 ft\" }\nbows = \"rest\""))
        .collect();
    let tie = member("tie", "across = { height = \"2 ft\" }\nbows = \"ends\"");
    refused(AS_IT_IS, &(tie + &again), "3000 ft", "more than 40 rules");
}

#[test]
fn fastenings_without_end() {
    let roles = quoted((0..50).map(|i| format!("member {i}")));
    let lines = members(50, "along = { height = \"2 ft\" }");
    let held = (0..50).map(|i| joint(&format!("between = [\"member {i}\", \"hoop\"]")));
    let more = lines
        + &joint(&format!("fasten = [{roles}]\nevery = \"1 in\""))
        + &held.collect::<String>();
    refused(AS_IT_IS, &more, "3000 ft", "");
    let none = joint("fasten = [\"hoop\"]\nevery = \"0.001 in\"");
    refused(AS_IT_IS, &none, "12 ft", "`every` must be from 1 in");
}

#[test]
fn sheets_that_do_not_cover() {
    let ground = |lap: &str, roll: &str| {
        format!(
            "\n[[skin]]\nrole = \"ground\"\npart = \"FILM\"\nstage = \"all\"\nsub_kit = \"c\"\n\
             ground = {{ beyond = \"100 m\", lap = \"{lap}\", end_allowance = \"1 m\" }}\nroll_widths = [\"{roll}\"]\n"
        )
    };
    refused(
        AS_IT_IS,
        &ground("9 mm", "20 mm"),
        "12 ft",
        "at most 1000 are laid",
    );
    refused(
        AS_IT_IS,
        &ground("4 ft", "2 ft"),
        "12 ft",
        "no roll is wider than its lap",
    );
}

/// Where nothing can be built whatever is changed, that is found out in reasonable time.
#[test]
fn options_of_which_none_go_together() {
    for (options, choices) in [(20, 20), (20, 2), (8, 100), (300, 20)] {
        let of_each = quoted((0..choices).map(|c| format!("c{c}")));
        let more: String = (0..options)
            .map(|i| format!("\n[[option]]\nkey = \"o{i}\"\nsays = \"o\"\nchoices = [{of_each}]\n"))
            .collect();
        let any: Vec<String> = (0..options)
            .map(|i| format!("o{i} = [{of_each}]"))
            .collect();
        let never = format!(
            "\n[[exclusion]]\nwhy = \"never\"\ntogether = {{ {} }}\n",
            any.join(", ")
        );
        refused(AS_IT_IS, &(more.clone() + &never), "12 ft", "never");
        let needs: String = (0..options)
            .map(|i| {
                let next = (i + 1) % options;
                format!("\n[[need]]\nwhy = \"in turn\"\nwhen = {{ o{i} = \"c0\" }}\nneeds = {{ o{next} = \"c1\" }}\n")
            })
            .collect();
        refused(AS_IT_IS, &(more + &needs), "12 ft", "in turn");
    }
}
