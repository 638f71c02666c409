//! Who gets in, and what every answer carries.

use crate::program::{PROGRAM, Place};
use crate::schema;
use crate::yard::{Answer, Running, id};

const READS: [&str; 39] = [
    "/",
    "/order",
    "/order/R1",
    "/drawings",
    "/drawings/back-left",
    "/list",
    "/list?rows=look",
    "/list?rows=all",
    "/list/codes.csv",
    "/count",
    "/count/P1",
    "/difference",
    "/papers",
    "/papers/osd.pdf",
    "/papers/tally-sheet.pdf",
    "/papers/drawings.pdf",
    "/papers/build-day.pdf",
    "/papers/sender-notice.pdf",
    "/papers/received.json",
    "/points",
    "/point?about=short&of=R1",
    "/prices",
    "/letters",
    "/phones",
    "/tailgate",
    "/dates",
    "/dates.ics",
    "/ready",
    "/lit?shows=can",
    "/lit?stage=posts",
    "/ways",
    "/stages",
    "/tools",
    "/stakes",
    "/lifting",
    "/unloading",
    "/count/P1?done=00000000-0000-7000-8000-000000000001",
    "/ground",
    "/laydown",
];

const WRITES: [&str; 39] = [
    "/order",
    "/list",
    "/list/row",
    "/list/drop",
    "/list/again",
    "/list/sent-anew",
    "/list/sender",
    "/list/undo",
    "/list/codes",
    "/count/P1",
    "/condition/P1",
    "/note",
    "/undo",
    "/shipment",
    "/freight",
    "/delivery",
    "/done",
    "/agreed",
    "/zone",
    "/day-off",
    "/crew-day",
    "/expected",
    "/way",
    "/worked",
    "/tool",
    "/stakes",
    "/letters",
    "/point/take",
    "/point/answer",
    "/point/close",
    "/close",
    "/price",
    "/phones/name",
    "/phones/shut-out",
    "/phones/let-in",
    "/phones/new-code",
    "/leave",
    "/ground",
    "/laydown/put",
];

fn opened() -> (Place, Running) {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    (place, yard)
}

#[test]
fn where_it_opened_is_as_the_schema_says() {
    let (_place, yard) = opened();
    schema::check("yard", &yard.opened);
    assert_eq!(
        yard.said("address"),
        format!("http://{}", yard.said("listening"))
    );
    let code = yard.said("join_code");
    assert!(
        code.len() == 10
            && code
                .bytes()
                .all(|b| b"23456789ABCDEFGHJKMNPQRSTVWXYZ".contains(&b)),
        "{code}"
    );
    assert_eq!(
        yard.said("join_address"),
        format!("{}/join?code={code}", yard.said("address"))
    );
}

#[test]
fn without_a_cookie_nothing_is_read() {
    let (_place, yard) = opened();
    for cookie in [
        None,
        Some("tallyard=".into()),
        Some(format!("tallyard={}", "0".repeat(64))),
        Some("tallyard=' or 1=1".into()),
    ] {
        let stranger = yard.showing(cookie);
        for path in READS {
            let answer = stranger.get(path);
            assert_eq!(
                (answer.status, answer.header("location")),
                (303, Some("/join")),
                "{path}"
            );
            assert!(answer.body.is_empty(), "{path}");
        }
        let join = stranger.get("/join");
        assert_eq!(join.status, 200);
        assert!(!join.text().contains("Osprey") && !join.text().contains(yard.said("join_code")));
        let trust = stranger.get("/trust");
        assert_eq!(trust.status, 200);
        assert!(!trust.text().contains("Osprey") && !trust.text().contains(yard.said("join_code")));
        let nowhere = stranger.get("/no/such/page");
        assert!(nowhere.status == 404 && !nowhere.text().contains("Osprey"));
    }
}

#[test]
fn without_a_cookie_nothing_is_written() {
    let (_place, yard) = opened();
    let before = yard.log();
    let form_id = id(1);
    let form = [
        ("id", form_id.as_str()),
        ("quantity", "1"),
        ("condition", "bent"),
        ("words", "x"),
        ("shipment", "Load 2"),
        ("toml", "x"),
        ("event", form_id.as_str()),
        ("back", "P1"),
        ("mark", "P1"),
        ("row", "0:9"),
    ];
    for path in WRITES {
        let answer = yard.stranger().post(path, &form);
        assert_eq!(answer.status, 403, "{path}");
        assert!(
            answer.text().contains("This phone has not joined."),
            "{path}"
        );
    }
    assert_eq!(
        yard.stranger()
            .upload(&id(2), "list.csv", b"qty,description\n1,post\n")
            .status,
        403
    );
    for (method, path) in [("PUT", "/count/P1"), ("DELETE", "/order"), ("PATCH", "/")] {
        let answer = yard.stranger().send(method, path, &[], Vec::new()).unwrap();
        assert!(
            [403, 405].contains(&answer.status),
            "{method} {path}: {}",
            answer.status
        );
    }
    assert_eq!(yard.log(), before);
}

#[test]
fn only_the_right_code_lets_in() {
    let (_place, yard) = opened();
    let code = yard.said("join_code");
    let other = if code.starts_with('2') { "3" } else { "2" };
    let wrong = format!("{other}{}", &code[1..]);
    for bad in ["", "0", &wrong, &code[..9], &format!("{code}2")] {
        let answer = yard
            .stranger()
            .post("/join", &[("code", bad), ("who", "Mallory")]);
        assert_eq!(answer.status, 403, "{bad}");
        assert_eq!(answer.header("set-cookie"), None);
        assert!(answer.text().contains("That is not this job's code."));
    }
    // As people type it: small letters, in groups.
    let typed = format!(" {}-{} ", code[..5].to_lowercase(), &code[5..]);
    let answer = yard
        .stranger()
        .post("/join", &[("code", &typed), ("who", "Ada")]);
    assert_eq!((answer.status, answer.header("location")), (303, Some("/")));
    for nameless in ["", "   ", "a\nb", &"x".repeat(81)] {
        let answer = yard
            .stranger()
            .post("/join", &[("code", code), ("who", nameless)]);
        assert_eq!(
            (answer.status, answer.header("set-cookie")),
            (422, None),
            "{nameless:?}"
        );
    }
}

#[test]
fn the_cookie_is_kept_from_scripts_and_other_sites() {
    let (_place, yard) = opened();
    let answer = yard
        .stranger()
        .post("/join", &[("code", yard.said("join_code")), ("who", "Ada")]);
    let cookie = answer.header("set-cookie").unwrap();
    let flags: Vec<&str> = cookie.split("; ").skip(1).collect();
    assert!(
        flags.contains(&"HttpOnly") && flags.contains(&"SameSite=Lax") && flags.contains(&"Path=/"),
        "{cookie}"
    );
    let secret = cookie
        .split(';')
        .next()
        .unwrap()
        .strip_prefix("tallyard=")
        .unwrap();
    assert!(
        secret.len() == 64 && secret.bytes().all(|b| b.is_ascii_hexdigit()),
        "{secret}"
    );
    assert_ne!(
        yard.joined("Ada").cookie,
        yard.joined("Ada").cookie,
        "each phone has a secret of its own"
    );
    let phone = yard.joined("Ada");
    let left = phone.post("/leave", &[]);
    assert!(
        left.header("set-cookie")
            .unwrap()
            .starts_with("tallyard=; Path=/; Max-Age=0; HttpOnly; SameSite=Lax")
    );
}

#[test]
fn every_answer_says_what_may_run() {
    let (_place, yard) = opened();
    let phone = yard.joined("Ada");
    let mut answers: Vec<(String, Answer)> = Vec::new();
    let page = phone.get("/count/P1").text();
    let files: Vec<&str> = (page.split('"'))
        .filter(|text| text.starts_with("/assets/"))
        .collect();
    assert!(files.len() > 3, "{files:?}");
    for path in READS.iter().chain(&files).chain(&[
        "/join",
        "/trust",
        "/trust/tallyard.crt",
        "/worker.js",
        "/take-along",
        "/assets/none/style.css",
        "/assets/none/none",
        "/none",
        "/count/none",
    ]) {
        answers.push((format!("GET {path}"), phone.get(path)));
        answers.push((
            format!("GET {path} as a stranger"),
            yard.stranger().get(path),
        ));
    }
    let leaves = yard.joined("Ben");
    for path in WRITES {
        let by = if path == "/leave" { &leaves } else { &phone };
        answers.push((format!("POST {path}"), by.post(path, &[])));
    }
    for (what, answer) in answers {
        let policy = answer
            .header("content-security-policy")
            .unwrap_or_else(|| panic!("{what}"));
        assert!(policy.starts_with("default-src 'none'"), "{what}: {policy}");
        assert!(
            !policy.contains("unsafe") && !policy.contains('*') && !policy.contains("data:"),
            "{what}: {policy}"
        );
        assert!(
            policy.contains("frame-ancestors 'none'") && policy.contains("base-uri 'none'"),
            "{what}: {policy}"
        );
        assert_eq!(
            answer.header("x-content-type-options"),
            Some("nosniff"),
            "{what}"
        );
        // Only our own files are kept, whose address holds their digest.
        let kept = answer.header("cache-control").unwrap();
        let file = files.iter().any(|file| what.contains(file));
        assert_eq!(kept == "max-age=31536000, immutable", file, "{what}");
        assert!(file || ["no-store", "no-cache"].contains(&kept), "{what}");
        // What a person meets is a page in words, whatever went wrong.
        if answer.status >= 400 && !what.contains("/assets/") {
            assert!(answer.text().contains("<h1>"), "{what}: {}", answer.text());
        }
    }
    for path in READS.iter().chain(&["/trust"]) {
        let page = phone.get(path);
        if page
            .header("content-type")
            .is_some_and(|kind| kind.starts_with("text/html"))
        {
            let text = page.text();
            assert!(
                !text.contains("<style")
                    && !text.contains(" style=")
                    && !text.contains(" onclick="),
                "{path}"
            );
            assert!(
                text.matches("<script").count()
                    == text
                        .matches("<script type=\"module\" src=\"/assets/")
                        .count()
            );
        }
    }
}

/// Against the published tool: what is compressed comes out of gunzip as it was (RFC 1952).
#[test]
fn text_goes_out_compressed_where_that_is_understood() {
    let (_place, yard) = opened();
    let phone = yard.joined("Ada");
    let asked = |accepts: &str| {
        let headers = [("accept-encoding", accepts)];
        phone
            .send("GET", "/difference", &headers, Vec::new())
            .unwrap()
    };
    let plain = asked("identity");
    for refuses in ["gzip;q=0", "br", "", "xgzip"] {
        assert_eq!(asked(refuses).header("content-encoding"), None, "{refuses}");
    }
    for takes in ["gzip", "br, gzip;q=0.5", "deflate , GZIP"] {
        let packed = asked(takes);
        assert_eq!(packed.header("content-encoding"), Some("gzip"), "{takes}");
        assert!(4 * packed.body.len() < plain.body.len());
        let place = Place::new();
        let file = place.path("page.gz");
        std::fs::write(&file, &packed.body).unwrap();
        let out = std::process::Command::new("gunzip")
            .arg("-c")
            .arg(&file)
            .output()
            .unwrap();
        assert!(out.stdout == plain.body, "{takes}");
    }
}

#[test]
fn forms_of_other_sites_are_refused() {
    let (_place, yard) = opened();
    let phone = yard.joined("Ada");
    let before = yard.log();
    let host = phone.address.strip_prefix("http://").unwrap().to_string();
    let port = host.rsplit(':').next().unwrap();
    let form = |n| format!("id={}&quantity=1", id(n)).into_bytes();
    let kind = ("content-type", "application/x-www-form-urlencoded");
    for origin in [
        "http://evil.example",
        "null",
        "",
        "https://evil.example",
        &format!("http://evil.example:{port}"),
        &format!("http://{host}.evil.example"),
    ] {
        let answer = phone
            .send("POST", "/count/P1", &[kind, ("origin", origin)], form(1))
            .unwrap();
        assert_eq!(answer.status, 403, "{origin}");
        assert!(answer.text().contains("another site"), "{origin}");
    }
    let join = [kind, ("origin", "http://evil.example")];
    let code = format!("code={}&who=Mallory", yard.said("join_code")).into_bytes();
    assert_eq!(
        phone.send("POST", "/join", &join, code).unwrap().status,
        403
    );
    assert_eq!(yard.log(), before);
    let own = [kind, ("origin", phone.address.as_str())];
    assert_eq!(
        phone
            .send("POST", "/count/P1", &own, form(1))
            .unwrap()
            .status,
        303
    );
    assert_eq!(yard.log().len(), before.len() + 1);
}

#[test]
fn bodies_that_are_too_big_are_refused_in_words() {
    let (_place, yard) = opened();
    let phone = yard.joined("Ada");
    let before = yard.log();
    let long = "x".repeat(140 * 1024);
    let form_id = id(1);
    for path in ["/count/P1", "/note", "/order", "/undo", "/list/row"] {
        let answer = phone.post(path, &[("id", &form_id), ("words", &long)]);
        assert_eq!(answer.status, 413, "{path}");
        assert!(answer.text().contains("<h1>"), "{path}: {}", answer.text());
    }
    let list = b"qty,description\n1,post\n".repeat(1_500_000);
    assert!(list.len() > list::limits::MAX_FILE_BYTES + 128 * 1024);
    let answer = phone.upload(&id(2), "long.csv", &list);
    // Photographs of its pages may be bigger together, so the reader says it.
    assert_eq!(answer.status, 422);
    assert!(
        answer.text().contains("lists up to 32 MiB are read"),
        "{}",
        answer.text()
    );
    assert_eq!(yard.log(), before);
}
