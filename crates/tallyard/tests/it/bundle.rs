//! `tallyard bundle`, what its receiver does with it, and the pages of a copy for reading.

use std::fs;
use std::process::Command;

use serde_json::{Value, json};
use store::Job;

use crate::browser::join;
use crate::driver::Browser;
use crate::program::{PROGRAM, Place, in_repository};
use crate::schema;
use crate::yard::{Phone, Running, id};

const JOB: &str = "demo.tallyard";
const BUNDLE: &str = "garden.zip";
/// Made by tests/fixtures/make.py of the crate `photo` (our own): a picture with a place in its EXIF.
const PHOTO: &[u8] = include_bytes!("../../../photo/tests/fixtures/place.jpg");

/// The demo job with a photo in it.
fn photographed() -> Place {
    let place = Place::with_demo_job();
    let mut job = Job::open(&place.path(JOB)).unwrap();
    let photo = job.put_document(PHOTO).unwrap();
    let what = tally::What::Photographed {
        photo,
        shot: tally::Shot::Far,
        shipment: None,
        mark: Some("B1".into()),
        of: None,
        words: "kinked under the band".into(),
    };
    let (device, who) = (job.writer().unwrap(), "Tomasz".to_owned());
    job.append(tally::Draft {
        id: store::fresh_id(),
        device,
        at: 1_700_000_000_000,
        who,
        what,
    })
    .unwrap();
    place
}

/// The same, and a bundle of it; its paper is none, for to set all of them takes long. Returns the bundle's digest and
/// the head of its log.
fn bundled() -> (Place, String, String) {
    let place = photographed();
    let snapshot = Job::open(&place.path(JOB)).unwrap();
    let snapshot = snapshot.snapshot(&place.path("")).unwrap();
    let paper = store::BundledPaper {
        name: "over-short-damaged".into(),
        pdf: [b"%PDF-", &[b' '; 600][..]].concat(),
    };
    let file = fs::File::create(place.path(BUNDLE)).unwrap();
    let made = store::write_bundle(&snapshot, &[paper], |_| "jpg", file, &mut |_| {}).unwrap();
    (place, made.digest.to_string(), made.head.to_string())
}

#[test]
fn the_receiver_unpacks_it_and_checks_it_with_other_programs() {
    let place = photographed();
    let written = place.json(&["bundle", JOB, "--to", BUNDLE, "--json"]);
    schema::check("bundle", &written);
    let run = |script: &str| {
        let mut shell = Command::new("sh");
        let ran = shell
            .args(["-c", script])
            .current_dir(place.path(""))
            .output()
            .unwrap();
        let said = String::from_utf8_lossy(&ran.stdout).into_owned();
        assert!(
            ran.status.success(),
            "{said}{}",
            String::from_utf8_lossy(&ran.stderr)
        );
        said
    };
    let sum = run("sha256sum garden.zip");
    assert!(
        sum.starts_with(written["digest"].as_str().unwrap()),
        "{sum}"
    );
    let checked = run("unzip -q garden.zip -d out && cd out && sha256sum --strict -c SHA256SUMS");
    // No notice of concealed damage: nobody said that the load was handed over.
    let papers = [
        "over-short-damaged",
        "carrier-claim",
        "sender-notice",
        "replacement-order",
        "return-list",
        "tally-sheet",
        "tell-apart",
        "drawings",
        "build-day",
    ];
    for paper in papers {
        assert!(
            checked.contains(&format!("papers/{paper}.pdf: OK")),
            "{checked}"
        );
        let told = run(&format!("pdfinfo out/papers/{paper}.pdf"));
        assert!(told.contains("Tagged:          yes"), "{told}");
    }
    assert_eq!(checked.matches("photos/001-").count(), 1, "{checked}");
    assert_eq!(checked.matches("lists/001-").count(), 1, "{checked}");
    // Its numbers are those of the job.
    assert_eq!(
        (&written["documents"], &written["file"]),
        (&json!(2), &json!(BUNDLE))
    );
    let text = run("pdftotext -layout out/papers/over-short-damaged.pdf - | tr -d ' \\n'");
    assert!(text.contains(written["head"].as_str().unwrap()), "{text}");
    let readme = run("cat out/README.txt");
    assert!(
        readme.contains("events 20, documents 2, papers 9"),
        "{readme}"
    );
    let verified = place.json(&["verify", BUNDLE, "--json"]);
    assert_eq!(
        (&verified["well"], &verified["bundle"]["files"]),
        (&json!(true), &json!(15))
    );
    // By command the sender gets the same papers.
    let papers = place.json(&["papers", BUNDLE, "--to", "papers", "--json"]);
    schema::check("papers", &papers);
    assert_eq!(papers["papers"].as_array().unwrap().len(), 9);
}

#[test]
fn a_whole_bundle_is_said_to_be_whole() {
    let (place, digest, head) = bundled();
    let said = place.ok(&["verify", BUNDLE, "--head", &head, "--digest", &digest]);
    for line in [
        "Every byte is as it was packed: the files fit their sums, the log and the photos the job inside.\n",
        "It is the very file of which that SHA-256 was noted.\n",
        "20 events and 2 documents of",
        "The noted head is in this log: the 20 events it was noted for are unchanged, and none came after.\n",
    ] {
        assert!(said.contains(line), "{line}{said}");
    }
    let verified = place.json(&["verify", BUNDLE, "--json", "--digest", &digest]);
    schema::check("verify", &verified);
    let bytes = fs::metadata(place.path(BUNDLE)).unwrap().len();
    let bundle = json!({
        "digest": digest, "same": true, "bytes": bytes, "files": 7, "faults": 0, "wrong": []
    });
    assert_eq!(
        (&verified["well"], &verified["bundle"]),
        (&json!(true), &bundle)
    );

    let other = "0".repeat(64);
    let ran = place.run(&["verify", BUNDLE, "--digest", &other]);
    assert_eq!(ran.status, Some(1));
    assert!(
        ran.out.contains("WRONG: it is not the file of which"),
        "{}",
        ran.out
    );
    assert_eq!(
        ran.err,
        "tallyard: garden.zip: not all is well with this bundle\n"
    );
}

#[test]
fn what_was_changed_in_a_bundle_is_said() {
    let (place, ..) = bundled();
    let mut bytes = fs::read(place.path(BUNDLE)).unwrap();
    let at = bytes.windows(5).position(|five| five == b"%PDF-").unwrap();
    bytes[at + 500] ^= 1;
    place.write("changed.zip", &bytes);
    let ran = place.run(&["verify", "changed.zip"]);
    assert_eq!(ran.status, Some(1));
    let says = "`papers/over-short-damaged.pdf` cannot be read whole";
    assert!(
        ran.out.contains("WRONG with the bundle") && ran.out.contains(says),
        "{}",
        ran.out
    );
    let ran = place.run(&["verify", "changed.zip", "--json"]);
    let verified: Value = serde_json::from_str(&ran.out).unwrap();
    schema::check("verify", &verified);
    assert_eq!((ran.status, &verified["well"]), (Some(1), &json!(false)));

    place.write("half.zip", &bytes[..bytes.len() / 2]);
    let ran = place.run(&["verify", "half.zip"]);
    assert!(
        ran.status == Some(1) && ran.out.contains("it is not a whole zip"),
        "{}",
        ran.out
    );
    let ran = place.run(&["difference", "half.zip"]);
    let says = "tallyard: half.zip: this is not a bundle of a job: it is not a whole zip";
    assert!(
        ran.status == Some(1) && ran.err.starts_with(says),
        "{}",
        ran.err
    );
}

#[test]
fn nothing_takes_the_place_of_a_file_and_nothing_half_is_left() {
    let (place, ..) = bundled();
    let before = fs::read(place.path(BUNDLE)).unwrap();
    place.refuses(
        &["bundle", JOB, "--to", BUNDLE],
        "garden.zip: there is a file of this name already; it is left as it is",
    );
    assert_eq!(fs::read(place.path(BUNDLE)).unwrap(), before);
    let missing = "none.tallyard: there is no such file";
    place.refuses(&["bundle", "none.tallyard", "--to", "new.zip"], missing);
    place.refuses(
        &["verify", JOB, "--digest", &"0".repeat(64)],
        "demo.tallyard: a digest is noted of a bundle, and this is none; a job file goes on, and has --head",
    );
    let names: Vec<_> = (fs::read_dir(place.path("")).unwrap())
        .map(|file| file.unwrap().file_name().into_string().unwrap())
        .filter(|name| name.ends_with(".zip") || name.starts_with('.'))
        .collect();
    assert_eq!(names, [BUNDLE]);
}

/// The sender sees what the crew sees, by command too.
#[test]
fn the_other_commands_take_a_bundle() {
    let (place, ..) = bundled();
    assert_eq!(
        place.ok(&["difference", BUNDLE]),
        place.ok(&["difference", JOB])
    );
    place.refuses(
        &["yard", BUNDLE, "--list", "packing-list.csv"],
        "garden.zip: this is a copy for reading, so it takes no order and no list",
    );
}

/// A job without an order has no papers yet, and a bundle all the same.
#[test]
fn a_job_without_an_order_is_bundled_without_papers() {
    let place = Place::new();
    drop(store::Job::create(&place.path("new.tallyard")).unwrap());
    place.ok(&["bundle", "new.tallyard", "--to", "new.zip"]);
    assert!(
        place
            .ok(&["verify", "new.zip"])
            .contains("A bundle of 4 files")
    );
}

/// The paths of all forms, as the route table has them.
fn forms() -> Vec<String> {
    let table = fs::read_to_string(in_repository("crates/yard/src/serve.rs")).unwrap();
    let routes = table.split(".route(").skip(1);
    let forms: Vec<String> = routes
        .filter(|route| route.split(".route(").next().unwrap().contains("post("))
        .map(|route| route.split('"').nth(1).unwrap().replace("{mark}", "B1"))
        .filter(|path| !["/join", "/leave"].contains(&path.as_str()))
        .collect();
    assert!(
        forms.len() > 10 && forms.contains(&"/note".into()),
        "{forms:?}"
    );
    forms
}

/// Pages show everything, say that they are for reading, and take nothing.
fn only_reads(yard: &Running, phone: &Phone) {
    assert_eq!(yard.opened["for_reading"], true);
    schema::check("yard", &yard.opened);
    for path in [
        "/",
        "/order",
        "/list",
        "/count",
        "/count/B1",
        "/difference",
        "/photos",
        "/papers",
        "/piles",
    ] {
        let page = phone.get(path);
        assert_eq!(page.status, 200, "{path}");
        let text = page.text();
        assert!(
            text.contains("A copy for reading") && text.contains("data-for-reading"),
            "{path}"
        );
    }
    let digest = tally::Digest::of(PHOTO);
    assert_eq!(phone.get(&format!("/photo/{digest}?whole=1")).body, PHOTO);
    assert_eq!(phone.get(&format!("/photo/{digest}/small")).status, 200);
    assert_eq!(phone.get("/take-along").status, 200);
    for path in forms() {
        let note = [
            ("id", id(1)),
            ("words", "new".into()),
            ("mark", String::new()),
        ];
        let fields: Vec<(&str, &str)> = note.iter().map(|(k, v)| (*k, v.as_str())).collect();
        let answer = phone.post(&path, &fields);
        assert_eq!(answer.status, 403, "{path}");
        assert!(
            answer
                .text()
                .contains("This is a copy for reading, and nothing can be written"),
            "{path}"
        );
        // A phone that has something waiting keeps it for the job itself.
        assert_eq!(answer.header("tallyard-refused"), None);
    }
    for method in ["PUT", "DELETE", "PATCH"] {
        assert_eq!(
            phone.send(method, "/note", &[], Vec::new()).unwrap().status,
            403
        );
    }
}

#[test]
fn a_bundle_opens_for_reading() {
    let (place, ..) = bundled();
    let before = fs::read(place.path(BUNDLE)).unwrap();
    let yard = Running::open(PROGRAM, &place.path(BUNDLE));
    let phone = yard.joined("Marit");
    only_reads(&yard, &phone);
    // The sender sees what the crew saw.
    assert!(
        phone
            .get("/count/B1")
            .text()
            .contains("kinked two feet from the swaged end")
    );
    assert_eq!(phone.post("/leave", &[]).status, 303);
    assert!(yard.stop().success());
    assert_eq!(fs::read(place.path(BUNDLE)).unwrap(), before);
}

#[test]
fn a_job_file_opens_for_reading_when_it_is_asked_for() {
    let place = photographed();
    let before = fs::read(place.path(JOB)).unwrap();
    let yard = Running::open_with(PROGRAM, &place.path(JOB), &["--read-only".as_ref()]);
    only_reads(&yard, &yard.joined("Marit"));
    assert!(yard.stop().success());
    assert_eq!(fs::read(place.path(JOB)).unwrap(), before);
}

/// The same forms are taken where the job can be written, or the test above would prove nothing.
#[test]
fn a_yard_hands_out_the_bundle_while_it_counts() {
    let place = photographed();
    let yard = Running::open(PROGRAM, &place.path(JOB));
    assert_eq!(yard.opened["for_reading"], false);
    let phone = yard.joined("Noor");
    let note = [
        ("id", &*id(7)),
        ("words", "the ferry left at noon"),
        ("mark", ""),
    ];
    assert_eq!(phone.post("/note", &note).status, 303);
    assert!(!phone.get("/").text().contains("A copy for reading"));
    let page = phone.get("/papers").text();
    assert!(
        page.contains("/papers/bundle.zip") && page.contains("The bundle, about 1 MB"),
        "{page}"
    );
    let events = yard.log().len();
    let answer = phone.get("/papers/bundle.zip?sheet=a4");
    assert_eq!(answer.status, 200);
    assert_eq!(answer.header("content-type"), Some("application/zip"));
    let length = answer.header("content-length").unwrap().to_owned();
    assert_eq!(length, answer.body.len().to_string());
    place.write("served.zip", &answer.body);
    let verified = place.json(&["verify", "served.zip", "--json"]);
    assert_eq!(
        (&verified["well"], &verified["events"]),
        (&json!(true), &json!(events))
    );
    assert_eq!(
        verified["head"],
        place.json(&["verify", JOB, "--json"])["head"]
    );
    // Without the join code there is none.
    assert_eq!(yard.stranger().get("/papers/bundle.zip").status, 303);
}

/// The forms that can be seen on a page, by what they do; leaving is no writing.
const FORMS: &str = "return [...document.querySelectorAll('form[method=post]')]
    .filter((form) => form.getClientRects().length && form.getAttribute('action') !== '/leave')
    .map((form) => form.getAttribute('action'))";

#[test]
fn the_pages_of_a_bundle_offer_no_form_on_a_phone() {
    let (place, ..) = bundled();
    let seen = |job: &str| {
        let yard = Running::open(PROGRAM, &place.path(job));
        let browser = Browser::open(390, 844);
        join(&browser, &yard, "Marit");
        let mut forms = Vec::new();
        for path in [
            "/",
            "/order",
            "/list",
            "/count/B1",
            "/photos",
            "/piles",
            "/phones",
            "/papers",
        ] {
            browser.go(&format!("{}{path}", yard.said("address")));
            let wide = browser.run("return document.documentElement.scrollWidth");
            assert!(wide.as_u64().unwrap() <= 390, "{path}: {wide}");
            forms.extend(browser.run(FORMS).as_array().unwrap().clone());
        }
        forms
    };
    assert_eq!(seen(BUNDLE), Vec::<Value>::new());
    // Of the job itself they do.
    assert!(seen(JOB).len() > 8);
}
