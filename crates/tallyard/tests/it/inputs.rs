//! Input that is refused: status 1, nothing on stdout, and on stderr the file, what is wrong, and what would be right.

use std::fs;
use std::io::Write;

use crate::program::Place;

/// The demo's order with one line changed.
fn changed(place: &Place, line: &str, to: &str) {
    let order = fs::read_to_string(place.path("order.toml")).unwrap();
    assert!(order.contains(line));
    place.write("changed.toml", order.replace(line, to));
}

#[test]
fn a_length_of_no_whole_bay_names_the_nearest_orders() {
    let place = Place::with_demo_files();
    changed(&place, "length = \"48 ft\"", "length = \"50 ft\"");
    let err = "changed.toml: length: 50 ft is 12.50 bays of 4 ft, and a house has whole bays\n\
               the nearest orders that can be built:\n  - length = 48 ft\n  - length = 52 ft";
    for arguments in [
        &["parts", "changed.toml"][..],
        &["parts", "changed.toml", "--json"],
        &["list", "packing-list.csv", "--order", "changed.toml"],
        &[
            "yard",
            "new.tallyard",
            "--order",
            "changed.toml",
            "--listen",
            "127.0.0.1:0",
        ],
    ] {
        place.refuses(arguments, err);
    }
    assert!(
        !place.path("new.tallyard").exists(),
        "a refused order leaves no job behind"
    );
}

#[test]
fn an_unknown_option_and_an_unknown_choice_are_named() {
    let place = Place::with_demo_files();
    changed(&place, "purlins = \"one each side\"", "purlins = \"three\"");
    place.refuses(
        &["parts", "changed.toml"],
        "changed.toml: options.purlins: `three` is no choice (Purlin lines, below the ridge); there is none, one each side\n\
         the nearest orders that can be built:\n  - options.purlins = none\n  - options.purlins = one each side",
    );
    changed(&place, "purlins =", "skylight =");
    let said = place.run(&["parts", "changed.toml"]).err;
    let starts = "tallyard: changed.toml: options.skylight: there is no such option here; there is purlins\n";
    assert!(said.starts_with(starts), "{said}");
    assert!(said.contains("options without skylight"), "{said}");
}

#[test]
fn options_that_exclude_each_other_are_named_with_the_reason() {
    let place = Place::with_demo_files();
    changed(
        &place,
        "door = \"double\"",
        "door = \"double\"\nwall = \"open\"",
    );
    let ran = place.run(&["parts", "changed.toml"]);
    assert_eq!((ran.status, ran.out.as_str()), (Some(1), ""));
    assert!(
        ran.err.contains("a door hangs in a framed end wall"),
        "{}",
        ran.err
    );
    assert!(
        ran.err.contains("the nearest orders that can be built:"),
        "{}",
        ran.err
    );
    assert!(
        ran.err.contains("front.wall = framed") && ran.err.contains("front.door = none"),
        "{}",
        ran.err
    );
}

#[test]
fn an_order_of_no_known_family_is_told_which_there_are() {
    let place = Place::with_demo_files();
    changed(&place, "gothic-24", "gothic-99");
    place.refuses(
        &["parts", "changed.toml"],
        "changed.toml: family: no family is called `gothic-99`; there is: gothic-24, round-16, sidewall-30",
    );
}

#[test]
fn a_fault_of_form_points_at_its_line() {
    let place = Place::with_demo_files();
    changed(&place, "length =", "lenght =");
    place.refuses(
        &["parts", "changed.toml"],
        "changed.toml: the order file cannot be read: TOML parse error at line 7, column 1\n  \
         |\n7 | lenght = \"48 ft\"\n  | ^^^^^^\n\
         unknown field `lenght`, expected one of `name`, `family`, `length`, `bow_spacing`, `uneven`, `number`, \
         `sender`, `site`, `units`, `options`, `front`, `back`, `left`, `right`",
    );
}

#[test]
fn files_that_are_not_there_or_not_text_are_named() {
    let place = Place::with_demo_files();
    place.write("latin.toml", b"name = \"caf\xe9\"\n");
    place.write("big.toml", vec![b'#'; 65_537]);
    for (arguments, err) in [
        (
            &["parts", "none.toml"][..],
            "none.toml: No such file or directory (os error 2)",
        ),
        (
            &["list", "none.csv"],
            "none.csv: No such file or directory (os error 2)",
        ),
        (
            &["difference", "none.tallyard"],
            "none.tallyard: there is no such file",
        ),
        (
            &["papers", "none.tallyard"],
            "none.tallyard: there is no such file",
        ),
        (
            &["parts", "latin.toml"],
            "latin.toml: an order file is UTF-8 text; this is not, from byte 11",
        ),
        (
            &["parts", "big.toml"],
            "big.toml: it is bigger than 65536 bytes, the most that is read",
        ),
        (&["parts", "."], ".: Is a directory (os error 21)"),
    ] {
        place.refuses(arguments, err);
    }
}

#[test]
fn a_mark_that_the_order_lacks_is_told_which_it_has() {
    let place = Place::with_demo_files();
    place.refuses(
        &["parts", "order.toml", "--why", "R9"],
        "order.toml: this order has no mark `R9`; it has P1, B1, R1, S1, H1, H2, C1, C2, L1, W1, F1, F2, K1, X1, X2, \
         X3, X4, D1, D2, D3, N1, N2, N3, N4, N5, N6",
    );
}

#[test]
fn lists_that_cannot_be_read_are_refused_in_words() {
    let place = Place::with_demo_files();
    place.write("empty.csv", "");
    place.write("prose.csv", "Dear crew,\nthe kit comes on Tuesday.\n");
    let whole = fs::read(place.path("packing-list.xlsx")).unwrap();
    place.write("cut.xlsx", &whole[..whole.len() / 2]);
    place.write("noise.bin", [0u8, 255, 3, 7, 0, 0, 254].repeat(900));
    for (file, err) in [
        (
            "empty.csv",
            "empty.csv: the file is empty; a packing list has at least one row",
        ),
        (
            "prose.csv",
            "prose.csv: no table was found: no column holds quantities next to descriptions, and no line says a count with its thing, such as \"26 ground posts\" or \"Ground post - 26\"",
        ),
        (
            "noise.bin",
            "noise.bin: this is no kind of file that is read here; save the list as XLSX, XLS, ODS, CSV, PDF, HTML, a mail or text",
        ),
    ] {
        place.refuses(&["list", file], err);
    }
    let ran = place.run(&["list", "cut.xlsx", "--json"]);
    assert_eq!((ran.status, ran.out.as_str()), (Some(1), ""));
    assert!(
        ran.err
            .starts_with("tallyard: cut.xlsx: the workbook is damaged ("),
        "{}",
        ran.err
    );
    assert!(
        ran.err
            .ends_with("open it in a spreadsheet program and save it again\n"),
        "{}",
        ran.err
    );
}

/// The demo's workbook with its sheet blown up by 90 MiB of spaces, which pack to a thousandth.
#[test]
fn a_zip_bomb_is_refused_before_it_is_unpacked() {
    let place = Place::with_demo_files();
    let mut from =
        zip::ZipArchive::new(fs::File::open(place.path("packing-list.xlsx")).unwrap()).unwrap();
    let mut to = zip::ZipWriter::new(fs::File::create(place.path("bomb.xlsx")).unwrap());
    let deflated = zip::write::SimpleFileOptions::default()
        .compression_method(zip::CompressionMethod::Deflated);
    for i in 0..from.len() {
        let mut entry = from.by_index(i).unwrap();
        let name = entry.name().unwrap().into_owned();
        to.start_file(&name, deflated).unwrap();
        std::io::copy(&mut entry, &mut to).unwrap();
        if name.ends_with("sheet1.xml") {
            to.write_all(&vec![b' '; 90 << 20]).unwrap();
        }
    }
    to.finish().unwrap();
    assert!(fs::metadata(place.path("bomb.xlsx")).unwrap().len() < 200_000);
    let ran = place.run(&["list", "bomb.xlsx"]);
    assert_eq!((ran.status, ran.out.as_str()), (Some(1), ""));
    assert!(
        ran.err.starts_with(
            "tallyard: bomb.xlsx: the workbook's xl/worksheets/sheet1.xml unpacks to "
        ),
        "{}",
        ran.err
    );
    assert!(
        ran.err.ends_with("it is refused before unpacking\n"),
        "{}",
        ran.err
    );
}

#[test]
fn what_is_no_job_file_is_left_as_it_is() {
    let place = Place::with_demo_files();
    let before = fs::read(place.path("order.toml")).unwrap();
    for arguments in [
        &["difference", "order.toml"][..],
        &["papers", "order.toml"],
        &["yard", "order.toml", "--listen", "127.0.0.1:0"],
        &[
            "yard",
            "order.toml",
            "--order",
            "order.toml",
            "--listen",
            "127.0.0.1:0",
        ],
    ] {
        place.refuses(
            arguments,
            "order.toml: this is not a job file: it has another form altogether",
        );
    }
    assert_eq!(fs::read(place.path("order.toml")).unwrap(), before);
}

#[test]
fn a_job_without_an_order_says_what_is_missing() {
    let place = Place::new();
    drop(store::Job::create(&place.path("bare.tallyard")).unwrap());
    place.refuses(
        &["difference", "bare.tallyard"],
        "bare.tallyard: the job has no order yet; set it in the yard's pages",
    );
    place.refuses(
        &["papers", "bare.tallyard"],
        "bare.tallyard: papers need an order that can be built; set it in the yard's pages",
    );
}

#[test]
fn an_address_in_use_is_said() {
    let place = Place::new();
    let taken = std::net::TcpListener::bind("127.0.0.1:0").unwrap();
    let address = taken.local_addr().unwrap().to_string();
    place.refuses(
        &["yard", "a.tallyard", "--listen", &address],
        "the yard cannot open: Address already in use (os error 98)",
    );
}
