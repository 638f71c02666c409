//! What was received, written for other programs. How each format is written is held against others in `claim`.

use std::fs;

use serde_json::Value;

use crate::program::{PROGRAM, Place, Ran};
use crate::schema;
use crate::yard::Running;

#[test]
fn each_form_is_written_whole_and_named() {
    let place = Place::with_demo_job();
    for (form, file, begins) in [
        ("ubl", "advice.xml", &b"<?xml version=\"1.0\""[..]),
        ("csv", "advice.csv", b"\xef\xbb\xbf\"document\""),
        ("xlsx", "advice.xlsx", b"PK\x03\x04"),
        ("json", "advice.json", b"{"),
    ] {
        let said = place.ok(&["received", "demo.tallyard", "--form", form, "--to", file]);
        assert_eq!(said, format!("{file}\n"));
        assert!(
            fs::read(place.path(file)).unwrap().starts_with(begins),
            "{form}"
        );
    }
    let json: Value =
        serde_json::from_slice(&fs::read(place.path("advice.json")).unwrap()).unwrap();
    schema::check("received", &json);
    let document = json["document"].as_str().unwrap();
    assert!(document.starts_with("SG-117-"), "{document}");
    assert!(
        json["log_head"]
            .as_str()
            .unwrap()
            .starts_with(&document[7..])
    );
    // Each file is of the same numbers: the bent half bow of the demo.
    let bow = json["marks"]
        .as_array()
        .unwrap()
        .iter()
        .find(|m| m["mark"] == "B1")
        .unwrap();
    assert_eq!((&bow["received"], &bow["bent"]), (&26.into(), &1.into()));
    let xml = fs::read_to_string(place.path("advice.xml")).unwrap();
    assert!(xml.contains(&format!("<cbc:ID>{document}</cbc:ID>")));
    assert!(xml.contains("<cbc:RejectReason>bent</cbc:RejectReason>"));
}

#[test]
fn an_interchange_has_the_ids_and_the_number_that_were_agreed() {
    let place = Place::with_demo_job();
    let asks = [
        "received",
        "demo.tallyard",
        "--form",
        "x12",
        "--to",
        "advice.x12",
    ];
    let Ran { status, err, .. } = place.run(&asks);
    assert_eq!(status, Some(2), "{err}");
    assert!(
        err.contains("--our-id") && err.contains("--interchange"),
        "{err}"
    );
    let ids = ["--our-id", "OSPREYSCHOOL", "--their-id", "KITWORKS"];
    let all = |number: &'static str| [&asks[..], &ids, &["--interchange", number]].concat();
    place.ok(&all("41"));
    let text = fs::read_to_string(place.path("advice.x12")).unwrap();
    assert!(
        text.contains("*00501*000000041*0*P*:~GS*RC*OSPREYSCHOOL*KITWORKS*"),
        "{text}"
    );
    // Refused in words, and what stood there stays.
    place.refuses(
        &all("0"),
        "demo.tallyard: control number: must be a number from 1 to 999999999",
    );
    assert_eq!(fs::read_to_string(place.path("advice.x12")).unwrap(), text);
}

/// One state of the log is one document, whoever writes it.
#[test]
fn the_page_and_the_command_write_one_document() {
    let place = Place::with_demo_job();
    place.ok(&[
        "received",
        "demo.tallyard",
        "--form",
        "json",
        "--to",
        "a.json",
    ]);
    let by_command: Value =
        serde_json::from_slice(&fs::read(place.path("a.json")).unwrap()).unwrap();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let phone = yard.joined("Ada");
    let by_page: Value = serde_json::from_str(&phone.get("/papers/received.json").text()).unwrap();
    // Joining may have gone into the log: the number is that of the head that each names.
    for json in [&by_command, &by_page] {
        let (document, head) = (
            json["document"].as_str().unwrap(),
            json["log_head"].as_str().unwrap(),
        );
        assert_eq!(document, format!("SG-117-{}", &head[..8]));
    }
    let edi = "/papers/received.edi?from=OSPREYSCHOOL&to=KITWORKS";
    let trial = phone.get(&format!("{edi}&interchange=41&trial=1")).text();
    assert!(trial.contains("*00501*000000041*0*T*"), "{trial}");
    assert!(
        phone
            .get(&format!("{edi}&interchange=41"))
            .text()
            .contains("*000000041*0*P*")
    );
    assert_eq!(
        phone.get(edi).status,
        422,
        "an interchange has a number of its own"
    );
}
