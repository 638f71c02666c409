//! Lists sent anew, codes that go from one job to the next, and rows that are pasted: as a phone's forms send them.

use crate::program::{PROGRAM, Place};
use crate::schema;
use crate::yard::{Answer, Phone, Running, id};

const HEAD: &str = "Shipped by,The Office,\n,,\nCode,Qty,Description\n";

/// Sends a form with files, as the list page's forms do.
fn sends(
    phone: &Phone,
    path: &str,
    fields: &[(&str, &str)],
    files: &[(&str, &str, &str)],
) -> Answer {
    let edge = "----edge";
    let mut body = String::new();
    for (name, value) in fields {
        body += &format!(
            "--{edge}\r\nContent-Disposition: form-data; name=\"{name}\"\r\n\r\n{value}\r\n"
        );
    }
    for (name, file, content) in files {
        body += &format!(
            "--{edge}\r\nContent-Disposition: form-data; name=\"{name}\"; filename=\"{file}\"\r\n\
             Content-Type: application/octet-stream\r\n\r\n{content}\r\n"
        );
    }
    body += &format!("--{edge}--\r\n");
    let kind = format!("multipart/form-data; boundary={edge}");
    let headers = [("content-type", kind.as_str())];
    phone.send("POST", path, &headers, body.into()).unwrap()
}

fn brings(phone: &Phone, n: u64, corrects: &str, name: &str, csv: &str) -> Answer {
    let id = id(n);
    let fields = [("id", &*id), ("corrects", corrects)];
    sends(phone, "/list", &fields, &[("file", name, csv)])
}

/// What the page's form of an address has in a hidden field.
fn named(page: &str, action: &str, field: &str) -> String {
    let form = page.split(&format!("action=\"{action}\"")).nth(1);
    let value = form.and_then(|form| form.split(&format!("name=\"{field}\" value=\"")).nth(1));
    let value = value.unwrap_or_else(|| panic!("no {field} of {action}"));
    value.split('"').next().unwrap().into()
}

/// A job of the demo's order whose own list is set aside, and a list with one row that a person put right.
fn with_one_list() -> (Place, Running, Phone, String) {
    let place = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &place.path("demo.tallyard"));
    let phone = yard.joined("Ada");
    let demo = named(&phone.get("/list").text(), "/list/drop", "list");
    assert_eq!(
        phone
            .post("/list/drop", &[("id", &id(1)), ("list", &demo)])
            .status,
        303
    );
    let csv = format!("{HEAD}ZQ-1,26,Long stake\nZQ-2,20,Aluminum track\n");
    assert_eq!(brings(&phone, 2, "", "first.csv", &csv).status, 303);
    let page = phone.get("/list").text();
    let list = named(&page, "/list/drop", "list");
    for (n, row, mark) in [(3, "Long stake", "P1"), (4, "Aluminum track", "C1")] {
        let of = page.split(row).nth(1).unwrap();
        let key = named(of, "/list/row", "row");
        let fields = [
            ("id", &*id(n)),
            ("list", &*list),
            ("row", &*key),
            ("mark", mark),
        ];
        assert_eq!(phone.post("/list/row", &fields).status, 303, "{row}");
    }
    (place, yard, phone, list)
}

#[test]
fn a_list_sent_anew_says_what_changed_keeps_peoples_words_and_can_be_set_aside() {
    let (_place, _yard, phone, list) = with_one_list();
    let csv =
        format!("{HEAD}ZQ-1,24,Long stake\nZQ-2,20,Aluminum locking track\nZQ-3,4,Name plate\n");
    let answer = brings(&phone, 5, &list, "anew.csv", &csv);
    assert_eq!(answer.status, 303, "{}", answer.text());
    let page = phone.get("/list").text();
    for says in [
        "Sent anew.",
        "It takes the place of first.csv",
        "<td class=\"half\" data-label=\"Was\">26</td><td class=\"half\" data-label=\"Is\">24</td>",
        "ZQ-2 Aluminum locking track",
        "look once",
        "said by a person",
        "3 changes",
    ] {
        assert!(page.contains(says), "{says} in {page}");
    }
    assert!(!page.contains("no longer there"));
    // The form sent twice is one correction.
    assert_eq!(brings(&phone, 5, &list, "anew.csv", &csv).status, 303);
    let event = named(&page, "/list/undo", "event");
    assert_eq!(
        phone
            .post("/list/undo", &[("id", &id(6)), ("event", &event)])
            .status,
        303
    );
    let page = phone.get("/list").text();
    assert!(
        !page.contains("Sent anew.") && page.contains("first.csv"),
        "{page}"
    );
    // A row that is gone does not take along what was said of it unseen.
    let csv = format!("{HEAD}ZQ-1,24,Long stake\n");
    assert_eq!(brings(&phone, 7, &list, "short.csv", &csv).status, 303);
    let page = phone.get("/list").text();
    assert!(
        page.contains("said of a row that is no longer there"),
        "{page}"
    );
    assert!(page.contains("“ZQ-2 Aluminum track”"), "{page}");
}

#[test]
fn a_list_that_cannot_take_anothers_place_is_refused_in_words() {
    let (_place, _yard, phone, list) = with_one_list();
    let first = format!("{HEAD}ZQ-1,26,Long stake\nZQ-2,20,Aluminum track\n");
    let anew = format!("{HEAD}ZQ-1,24,Long stake\n");
    let same = brings(&phone, 5, &list, "first.csv", &first);
    assert!(same.status == 422 && same.text().contains("very list that it is to correct"));
    let none = brings(&phone, 6, &"0".repeat(64), "anew.csv", &anew);
    assert!(none.status == 422 && none.text().contains("no such list"));
    assert_eq!(brings(&phone, 7, &list, "anew.csv", &anew).status, 303);
    let old = brings(&phone, 8, "", "first.csv", &first);
    assert!(old.status == 422 && old.text().contains("was corrected by anew.csv already"));
    let two = sends(
        &phone,
        "/list",
        &[("id", &id(9))],
        &[("file", "a.csv", &first), ("file", "b.csv", &anew)],
    );
    assert!(two.status == 422 && two.text().contains("one list at a time"));
}

#[test]
fn codes_are_taken_along_to_another_job() {
    let (_place, _yard, phone, _) = with_one_list();
    let file = phone.get("/list/codes.csv");
    assert_eq!(file.status, 200);
    let codes = file.text();
    assert!(
        codes.starts_with("sender,code,means,said by\r\n"),
        "{codes}"
    );
    assert!(
        codes.contains("\"The Office\",\"ZQ1\",\"Ground post"),
        "{codes}"
    );

    let other = Place::with_demo_job();
    let yard = Running::open(PROGRAM, &other.path("demo.tallyard"));
    let phone = yard.joined("Ben");
    let fields = [("id", &*id(1))];
    let answer = sends(
        &phone,
        "/list/codes",
        &fields,
        &[("codes", "codes.csv", &codes)],
    );
    assert_eq!(answer.status, 303, "{}", answer.text());
    let broken = sends(
        &phone,
        "/list/codes",
        &[("id", &id(2))],
        &[("codes", "x.csv", "a,b\n")],
    );
    assert!(
        broken.status == 422 && broken.text().contains("sender is missing"),
        "{}",
        broken.text()
    );
    let csv = "Code,Qty,Description\nZQ-1,26,Something long\n";
    let id3 = id(3);
    let fields = [("id", &*id3), ("sender", "THE OFFICE")];
    assert_eq!(
        sends(&phone, "/list", &fields, &[("file", "next.csv", csv)]).status,
        303
    );
    let page = phone.get("/list").text();
    assert!(
        page.contains("codes.csv") && page.contains("Sent by THE OFFICE."),
        "{page}"
    );
    assert!(page.contains("2 codes were known"), "{page}");
    // And by the command line.
    let printed = other.ok(&["codes", "demo.tallyard"]);
    assert!(printed.contains("\"ZQ1\""), "{printed}");
}

#[test]
fn a_pasted_table_keeps_its_columns_and_plain_rows_are_there_beside_it() {
    let (_place, _yard, phone, _) = with_one_list();
    let plain = "Code\tQty\tDescription\nZQ-5\t7\tCorner plate\n";
    // A browser says that it was a table, and it is none that can be read.
    let fields = [
        ("id", &*id(5)),
        ("pasted", plain),
        ("pasted_table", "<table></table>"),
    ];
    assert_eq!(sends(&phone, "/list", &fields, &[]).status, 303);
    assert!(phone.get("/list").text().contains("Corner plate"));
    let nothing = sends(&phone, "/list", &[("id", &id(6)), ("pasted", " ")], &[]);
    assert!(nothing.status == 422 && nothing.text().contains("Choose a file, or paste the rows."));
}

#[test]
fn the_rows_to_look_at_can_be_shown_alone() {
    let (_place, _yard, phone, _) = with_one_list();
    let csv = "Code,Qty,Description\nP1,26,Ground post\n,some,Thing nobody knows\n";
    assert_eq!(brings(&phone, 5, "", "two.csv", csv).status, 303);
    let look = phone.get("/list?rows=look").text();
    let second = look.split("two.csv</h2>").nth(1).unwrap();
    assert!(second.contains("Thing nobody knows") && second.contains("1 other row is not shown"));
    let all = phone.get("/list?rows=all").text();
    let second = all.split("two.csv</h2>").nth(1).unwrap();
    let at = |words: &str| second.find(words).unwrap();
    assert!(at("Ground post") < at("Thing nobody knows"));
}

#[test]
fn a_long_list_is_shown_a_part_at_a_time() {
    let (_place, _yard, phone, _) = with_one_list();
    let mut csv = "Code,Qty,Description\n".to_string();
    for row in 2..=451 {
        csv += &format!("P1,{row},Ground post\n");
    }
    assert_eq!(brings(&phone, 5, "", "long.csv", &csv).status, 303);
    let part = |path: &str| {
        let page = phone.get(path).text();
        let of = page.split("long.csv</h2>").nth(1).unwrap();
        of.split("</section>").next().unwrap().to_string()
    };
    let first = part("/list?rows=all");
    assert_eq!(first.matches("<tr id=").count(), 200);
    assert!(first.contains("Rows 1 to 200 of 450"), "{first}");
    // Its buttons stand before its rows.
    assert!(first.find("/list/drop") < first.find("<table"));
    let next = first.split("<a class=\"button\" href=\"").nth(1).unwrap();
    let next = next.split('"').next().unwrap().replace("&amp;", "&");
    let path = |link: &str| link.split('#').next().unwrap().to_string();
    let second = part(&path(&next));
    assert!(second.contains("Rows 201 to 400 of 450"), "{second}");
    assert!(second.contains("row 202<") && !second.contains("row 201<"));
    // Whoever is led to a row finds it on the page; a mark that is none leads back to it.
    let last = part(&format!(
        "{}&from=400",
        path(&next).replace("&from=200", "")
    ));
    assert!(last.contains("Rows 401 to 450 of 450"), "{last}");
    let row = last.split("row 451<").nth(1).unwrap();
    let (list, key) = (
        named(row, "/list/row", "list"),
        named(row, "/list/row", "row"),
    );
    let says = |n, mark| {
        let id = id(n);
        let fields = [
            ("id", &*id),
            ("list", &*list),
            ("row", &*key),
            ("mark", mark),
        ];
        phone.post("/list/row", &fields)
    };
    let wrong = says(6, "Z9");
    assert!(wrong.status == 422 && wrong.text().contains("row 451 of long.csv"));
    let back = wrong.text();
    let back = back.split("class=\"button\" href=\"").nth(1).unwrap();
    let back = back.split('"').next().unwrap();
    assert!(back.contains('#'), "{back}");
    assert!(part(&path(back)).contains("row 451<"), "{back}");
}

#[test]
fn a_list_set_aside_is_taken_up_again_with_what_was_said_of_it() {
    let (_place, _yard, phone, list) = with_one_list();
    let said = |page: &str| page.matches("said by a person").count();
    assert_eq!(said(&phone.get("/list").text()), 2);
    let fields = [("id", &*id(5)), ("list", &*list)];
    assert_eq!(phone.post("/list/drop", &fields).status, 303);
    let page = phone.get("/list").text();
    assert!(
        said(&page) == 0 && page.contains("Set aside</h2>"),
        "{page}"
    );
    let fields = [("id", &*id(6)), ("list", &*list)];
    assert_eq!(phone.post("/list/again", &fields).status, 303);
    // Sent twice it is the same; of a list in use there is nothing to take up.
    assert_eq!(phone.post("/list/again", &fields).status, 303);
    let fields = [("id", &*id(7)), ("list", &*list)];
    assert_eq!(phone.post("/list/again", &fields).status, 422);
    let page = phone.get("/list").text();
    assert!(
        said(&page) == 2 && page.contains("first.csv</h2>"),
        "{page}"
    );
}

#[test]
fn what_is_brought_in_twice_is_said() {
    let (_place, _yard, phone, list) = with_one_list();
    let first = format!("{HEAD}ZQ-1,26,Long stake\nZQ-2,20,Aluminum track\n");
    let same = brings(&phone, 5, "", "second.csv", &first);
    let says = "This list is here already, as first.csv.";
    assert!(
        same.status == 422 && same.text().contains(says),
        "{}",
        same.text()
    );
    // A form's id with another file, as a browser's way back sends it.
    let other = brings(
        &phone,
        2,
        "",
        "other.csv",
        "Code,Qty,Description\nP1,3,Ground post\n",
    );
    let says = "This form was already sent. Open the list page again and choose the file anew.";
    assert!(
        other.status == 422 && other.text().contains(says),
        "{}",
        other.text()
    );
    let empty = brings(&phone, 6, "", "empty.csv", "");
    assert!(empty.status == 422 && empty.text().contains("empty.csv is empty"));

    // The same goods in other words: four of five rows.
    let rows = "P1,26,Ground post\nR1,4,Ridge\nC1,20,Track\nX3,8,Cross connector\n";
    let head = "Code,Qty,Description\n";
    let one = brings(
        &phone,
        7,
        "",
        "one.csv",
        &format!("{head}{rows}P1,2,Ground post\n"),
    );
    let two = brings(
        &phone,
        8,
        "",
        "two.csv",
        &format!("{head}{rows}P1,3,Ground post\n"),
    );
    assert_eq!((one.status, two.status), (303, 303));
    let page = phone.get("/list").text();
    assert!(
        page.contains("4 of 5 rows say the same as one.csv"),
        "{page}"
    );
    assert_eq!(page.matches("say the same as").count(), 1);
    let (old, new) = (
        named(&page, "/list/sent-anew", "old"),
        named(&page, "/list/sent-anew", "list"),
    );
    assert!(old != list && new != list);
    let fields = [("id", &*id(9)), ("old", &*old), ("list", &*new)];
    assert_eq!(phone.post("/list/sent-anew", &fields).status, 303);
    let page = phone.get("/list").text();
    assert!(page.contains("It takes the place of one.csv") && !page.contains("say the same as"));
}

#[test]
fn the_command_says_what_changed() {
    let place = Place::with_demo_files();
    let old = std::fs::read_to_string(place.path("packing-list.csv")).unwrap();
    place.write("anew.csv", old.replace("1,GS-60,26,", "1,GS-60,24,"));
    let arguments = ["list", "anew.csv", "--before", "packing-list.csv"];
    let words = place.ok(&arguments);
    assert!(words.contains("quantity 26 → 24"), "{words}");
    assert!(
        words.ends_with("29 rows are in both, 1 changes\n"),
        "{words}"
    );
    let list = place.json(&[&arguments[..], &["--json"]].concat());
    schema::check("list", &list);
    assert_eq!(list["changes"][0]["was"], "26");
    place.write(
        "codes.csv",
        "sender,code,means,said by\nThe Office,GS-60,Ground post,a person\n",
    );
    place.ok(&[
        "list",
        "anew.csv",
        "--order",
        "order.toml",
        "--codes",
        "codes.csv",
        "--sender",
        "the office",
    ]);
    place.refuses(
        &["list", "anew.csv", "packing-list.csv"],
        "anew.csv: several files can only be photographs of one list; read one list at a time",
    );
}
