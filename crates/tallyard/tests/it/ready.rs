//! Whether the build can start: the page's answer turns as parts are counted, the forms that plan, and the command.

use serde_json::Value;
use store::Job;
use tally::{CrewDay, How, Ordered, ToolsSeen, WayStands, What};

use crate::browser::join;
use crate::driver::Browser;
use crate::program::{PROGRAM, Place, demo_file};
use crate::schema;
use crate::yard::{Running, id};

const JOB: &str = "garden.tallyard";

/// The first Saturday after today, by the calendar that the yard goes by (the tests run in UTC).
fn saturday() -> String {
    let (today, _) = yard::at_site(&tally::Affairs::default(), store::now());
    let mut day = today.tomorrow().unwrap();
    while day.weekday().to_sunday_zero_offset() != 6 {
        day = day.tomorrow().unwrap();
    }
    day.to_string()
}

/// A job in which every piece is counted but for so many of one mark, and a crew could come on a Saturday.
fn all_but(place: &Place, missing: i64, of: &str) -> i64 {
    let toml = std::fs::read_to_string(demo_file("order.toml")).unwrap();
    let ordered = Ordered::read(&toml).unwrap();
    let mut job = Job::create(&place.path(JOB)).unwrap();
    let device = job.writer().unwrap();
    let mut n = 0;
    let mut says = |what| {
        n += 1;
        let draft = tally::Draft {
            id: id(n).parse().unwrap(),
            device: device.clone(),
            at: store::now(),
            who: "Noor".into(),
            what,
        };
        job.append(draft).unwrap();
    };
    says(What::OrderSet { toml, family: None });
    let mut needed = 0;
    for line in &ordered.parts.lines {
        let mark = line.part.mark.0.clone();
        let lacks = if mark == of { missing } else { 0 };
        if mark == of {
            needed = line.supplied;
        }
        says(What::Counted {
            mark,
            pile: None,
            quantity: line.supplied - lacks,
            replaces: Vec::new(),
            how: How::Piece,
        });
    }
    says(What::CrewDay(CrewDay {
        day: saturday(),
        people: 8,
        minutes: 8 * 60,
        called: true,
        words: String::new(),
    }));
    needed
}

#[test]
fn the_answer_turns_when_the_last_part_is_counted() {
    let place = Place::new();
    let needed = all_but(&place, 1, "P1");
    let yard = Running::open(PROGRAM, &place.path(JOB));
    let watches = Browser::open(390, 844);
    join(&watches, &yard, "Noor");
    watches.go(&format!("{}/ready", yard.said("address")));
    let before = watches.text(".call .word");
    assert!(
        ["Wait", "Go as far as"].contains(&before.as_str()),
        "{before}"
    );
    let page = watches.text("main");
    assert!(page.contains("P1"), "what is missing is named: {page}");
    watches.run("window.stays = true");

    let counts = Browser::open(390, 844);
    join(&counts, &yard, "Ines");
    counts.go(&format!("{}/count/P1", yard.said("address")));
    counts.click("button[aria-label='One more']");
    counts.submit("form.adding button.main");
    assert_eq!(counts.text(".sofar .n"), needed.to_string());

    watches.wait(
        "the answer",
        "return document.querySelector('.call .word').textContent === 'Go'",
    );
    assert_eq!(watches.run("return window.stays"), true, "not read anew");
    let said = watches.text("[data-live-said]");
    assert!(said.starts_with("Now: Go"), "{said}");
    assert_eq!(watches.complaints(), Vec::<String>::new());
    // The glance says the same.
    watches.go(&format!("{}/", yard.said("address")));
    assert!(watches.text(".ready-line").starts_with("Go"));
    watches.click(".ready-line a");
    watches.wait("the page", "return location.pathname === '/ready'");
}

/// A form leads back to its own page: that page is read anew, goes to its part, and can be used again.
#[test]
fn a_form_of_the_page_shows_the_page_anew() {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let phone = Browser::open(390, 844);
    join(&phone, &yard, "Noor");
    // Once from the page, once from the page that already stands at that part.
    for (words, at) in [("the choir", "/ready"), ("the band", "/ready#days")] {
        phone.go("about:blank");
        phone.go(&format!("{}{at}", yard.said("address")));
        phone.run("window.stale = true");
        phone.click("#add summary");
        let day = saturday();
        let fill = format!(
            "document.querySelector('#add-day-day').value = '{day}'; \
             document.querySelector('#add-day-words').value = '{words}'"
        );
        phone.run(&fill);
        phone.click("#add form button");
        phone.wait(
            "the page, read anew",
            "return !window.stale && document.readyState === 'complete'",
        );
        assert_eq!(phone.run("return location.hash"), "#days");
        let table = phone.text("[data-live=days]");
        assert!(table.contains(words), "{table}");
        let usable = "return !document.querySelector('#add form button').disabled";
        assert_eq!(phone.run(usable), true);
        let seen = "const at = document.querySelector('#days').getBoundingClientRect(); \
                    return at.top < innerHeight && at.bottom > 0";
        assert_eq!(phone.run(seen), true, "the part is in sight");
    }
    assert_eq!(phone.complaints(), Vec::<String>::new());
}

/// The bows that the answer leaves out are those that the page and the command leave out. One half bow is missing, so one
/// bow waits.
#[test]
fn page_and_command_leave_out_the_same_bows() {
    let place = Place::new();
    all_but(&place, 1, "B1");
    let said = place.json(&["ready", JOB, "--json"]);
    schema::check("ready", &said);
    assert_eq!(said["call"]["is"], "go_as_far", "{said}");
    let bows = said["left_out"].as_array().unwrap();
    assert_eq!(bows.len(), 1, "{said}");
    let leave = format!("Leave out bow {} for now", bows[0]);
    let why = said["call"]["why"].to_string();
    assert!(why.contains(&leave), "{leave}: {why}");
    let words = place.ok(&["ready", JOB]);
    let line = format!("Leave out for now: bow {}.", bows[0]);
    assert!(words.contains(&line), "{line}: {words}");
    let yard = Running::open(PROGRAM, &place.path(JOB));
    let page = yard.joined("Ada").get("/ready").text();
    // Once among the reasons, once where the stages are told.
    assert_eq!(page.matches(&leave).count(), 2, "{leave}: {page}");
    assert_eq!(page.matches("Leave out bow").count(), 2, "{page}");
}

/// What a plan's form sends is one event, and shows on the page.
#[test]
fn plans_are_kept_and_taken_back() {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let phone = yard.joined("Ada");
    let mut n = 0;
    let mut post = |path: &str, fields: &[(&str, &str)], see: &str| {
        n += 1;
        let one = id(n);
        let own = [("id", one.as_str())];
        let form = [&own[..], fields].concat();
        let answer = phone.post(path, &form);
        assert_eq!(answer.status, 303, "{path}: {}", answer.text());
        assert_eq!(answer.header("location"), Some(see), "{path}");
        yard.log().pop().unwrap().what
    };
    let day = saturday();
    let fields = [
        ("day", day.as_str()),
        ("people", "5"),
        ("hours", "7,5"),
        ("called", "yes"),
        ("words", "the choir"),
    ];
    let kept = CrewDay {
        day: day.clone(),
        people: 5,
        minutes: 450,
        called: true,
        words: "the choir".into(),
    };
    assert_eq!(
        post("/crew-day", &fields, "/ready#days"),
        What::CrewDay(kept)
    );
    let page = phone.get("/ready").text();
    assert!(page.contains("they are called") && page.contains("the choir"));
    let What::CrewDay(gone) = post(
        "/crew-day",
        &[("day", &day), ("people", "0")],
        "/ready#days",
    ) else {
        panic!("no day")
    };
    assert_eq!((gone.people, gone.minutes), (0, 0));
    assert!(!phone.get("/ready").text().contains("the choir"));

    let fields = [
        ("shipment", "Load 2"),
        ("earliest", "2030-01-07"),
        ("latest", "2030-01-09"),
    ];
    let What::Expected(expected) = post("/expected", &fields, "/ready#coming") else {
        panic!("no days")
    };
    assert_eq!(expected.latest.as_deref(), Some("2030-01-09"));
    assert!(phone.get("/ready").text().contains("9 Jan 2030"));

    let fields = [
        ("mark", "R1"),
        ("way", "ask:any"),
        ("quantity", "2"),
        ("stands", "asked"),
        ("words", "by telephone"),
    ];
    let What::WaySaid(way) = post("/way", &fields, "/ways#R1") else {
        panic!("no way")
    };
    assert_eq!((way.quantity, way.stands), (2, WayStands::Asked));

    let fields = [
        ("stage", "posts"),
        ("people", "3"),
        ("hours", "2:30"),
        ("done", "yes"),
    ];
    let What::Worked(worked) = post("/worked", &fields, "/stages#posts") else {
        panic!("no work")
    };
    assert_eq!((worked.person_minutes, worked.done), (Some(450), true));
    let undoes = "Undo the last record";
    let page = phone.get("/stages").text();
    assert!(
        page.contains(undoes) && page.contains("7.5 person-hours"),
        "{page}"
    );
    let event = yard.log().pop().unwrap().id.to_string();
    post("/undo", &[("event", &event), ("to", "/stages")], "/stages");
    assert!(!phone.get("/stages").text().contains(undoes));

    let tools = What::ToolsSeen(ToolsSeen {
        tool: "step ladder".into(),
        quantity: 2,
    });
    let fields = [("tool", "step ladder"), ("quantity", "2")];
    assert_eq!(post("/tool", &fields, "/tools"), tools);
}

#[test]
fn plans_that_cannot_be_are_refused() {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let phone = yard.joined("Ada");
    let before = yard.log();
    /// A form's address, its fields, and a word of the answer.
    type Refused<'a> = (&'a str, &'a [(&'a str, &'a str)], &'a str);
    let refused: [Refused; 13] = [
        (
            "/crew-day",
            &[("day", "Saturday"), ("people", "8"), ("hours", "8")],
            "day",
        ),
        (
            "/crew-day",
            &[("day", "2030-01-05"), ("people", "many"), ("hours", "8")],
            "number of people",
        ),
        (
            "/crew-day",
            &[("day", "2030-01-05"), ("people", "1001"), ("hours", "8")],
            "people",
        ),
        (
            "/crew-day",
            &[("day", "2030-01-05"), ("people", "8"), ("hours", "")],
            "how many hours",
        ),
        (
            "/crew-day",
            &[("day", "2030-01-05"), ("people", "8"), ("hours", "25")],
            "minutes",
        ),
        (
            "/crew-day",
            &[("day", "2030-01-05"), ("people", "8"), ("hours", "8:75")],
            "8, 7.5 or 7:30",
        ),
        (
            "/expected",
            &[
                ("shipment", "Load 2"),
                ("earliest", "2030-01-09"),
                ("latest", "2030-01-07"),
            ],
            "first day is after",
        ),
        (
            "/expected",
            &[("shipment", ""), ("earliest", "2030-01-09")],
            "shipment",
        ),
        (
            "/way",
            &[
                ("mark", "R1"),
                ("way", "buy"),
                ("quantity", "1"),
                ("stands", "maybe"),
            ],
            "how it stands",
        ),
        (
            "/way",
            &[
                ("mark", "ZZ"),
                ("way", "buy"),
                ("quantity", "1"),
                ("stands", "meant"),
            ],
            "no such mark",
        ),
        (
            "/worked",
            &[("stage", "roof garden"), ("done", "yes")],
            "no such stage",
        ),
        (
            "/worked",
            &[("stage", "posts"), ("people", "3")],
            "both how many",
        ),
        ("/tool", &[("tool", ""), ("quantity", "1")], "tool"),
    ];
    for (n, (path, fields, says)) in refused.into_iter().enumerate() {
        let form_id = id(n as u64 + 1);
        let form = [&[("id", form_id.as_str())], fields].concat();
        let answer = phone.post(path, &form);
        assert!(
            (400..500).contains(&answer.status),
            "{path} {fields:?}: {}",
            answer.status
        );
        assert!(
            answer.text().contains(says),
            "{path} {fields:?}: {}",
            answer.text()
        );
    }
    assert_eq!(yard.log(), before);
}

#[test]
fn the_command_says_what_the_page_says() {
    let place = Place::with_demo_job();
    let said = place.json(&["ready", "demo.tallyard", "--json"]);
    schema::check("ready", &said);
    let words = place.ok(&["ready", "demo.tallyard"]);
    let call = &said["call"];
    let sentence = call["says"].as_str().unwrap();
    assert_eq!(words.lines().next(), Some(sentence));
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let page = yard.joined("Ada").get("/ready").text();
    let chance = call["chance_says"]
        .as_str()
        .unwrap()
        .replace(" %", "\u{a0}%");
    assert!(page.contains(&chance), "{chance}\n{page}");
    for line in call["why"].as_array().unwrap() {
        // The page makes links of marks; what stands before the first one is as it is.
        let begins: String = line
            .as_str()
            .unwrap()
            .chars()
            .take_while(|c| !c.is_ascii_digit())
            .take(12)
            .collect();
        assert!(page.contains(&begins), "{line}\n{page}");
    }
    // The film is in the second load, the frame is not: the stages say so.
    let stages = said["stages"].as_array().unwrap();
    assert!(stages.len() > 8, "{said}");
    assert_eq!(stages[1]["stage"], "posts");
    assert_eq!(
        stages[1]["units"], stages[1]["done"],
        "26 posts were counted"
    );
    let planned = |day: &&Value| day["planned"] == true;
    assert_eq!(
        said["days"]
            .as_array()
            .unwrap()
            .iter()
            .filter(planned)
            .count(),
        2
    );
}

#[test]
fn the_command_answers_for_any_day_to_come() {
    let place = Place::with_demo_job();
    let asked = ["ready", "demo.tallyard", "--day", "2099-06-06", "--json"];
    let said = place.json(&asked);
    schema::check("ready", &said);
    assert_eq!(said["day"], "2099-06-06");
    let past = place.run(&["ready", "demo.tallyard", "--day", "2001-01-01"]);
    assert_eq!(past.status, Some(1));
    assert!(past.err.contains("has passed"), "{}", past.err);
    let wrong = place.run(&["ready", "demo.tallyard", "--day", "soon"]);
    assert_eq!(wrong.status, Some(2));
    assert!(wrong.err.contains("a day is written as"), "{}", wrong.err);
}

/// Of an order alone nothing is here: its stages and what they take are told all the same.
#[test]
fn an_order_alone_is_enough() {
    let place = Place::with_demo_files();
    let said = place.json(&["ready", "order.toml", "--json"]);
    schema::check("ready", &said);
    assert_eq!(said["call"]["is"], "wait");
    let stages = said["stages"].as_array().unwrap();
    assert!(
        stages
            .iter()
            .any(|stage| stage["person_hours"][1].as_f64().unwrap_or(0.0) > 1.0)
    );
    place.write("nonsense.toml", "length = 3");
    let refused = place.run(&["ready", "nonsense.toml"]);
    assert_eq!((refused.status, refused.out.as_str()), (Some(1), ""));
    assert!(refused.err.contains("nonsense.toml"), "{}", refused.err);
}
