//! Data, pages and recognised words within every limit that are made to take long.

use crate::slow::{lines, timed};

#[test]
fn ship_notices_on_one_line() {
    let head = "ISA*00*          *00*          *ZZ*SENDER         *ZZ*RECEIVER       *260304*1200*U*00401*000000001*0*P*>~\
                GS*SH*S*R*20260304*1200*1*X*004010~ST*856*0001~BSN*00*SHIP1*20260304*1200*0001~HL*1**S~HL*2*1*O~PRF*40117~";
    let items = |n: usize| -> String {
        let item = |n| {
            format!(
                "HL*{}*2*I~LIN*{n}*VP*T-{n}~SN1**{}*EA~PID*F****GROUND POST~",
                n + 3,
                n % 90 + 1
            )
        };
        (0..n).map(item).collect()
    };
    timed(
        "a ship notice of 40 000 items on one line",
        format!("{head}{}SE*1*0001~", items(lines(40_000))).as_bytes(),
    )
    .unwrap();
    // Each inside the one before.
    let deep: String = (0..lines(40_000))
        .map(|n| format!("HL*{}*{}*I~LIN**VP*T-{n}~SN1**4*EA~", n + 3, n + 2))
        .collect();
    let _ = timed(
        "items in items in items",
        format!("{head}{deep}SE*1*0001~").as_bytes(),
    );
    // All the children of one that comes last, or of themselves.
    let late: String = (0..lines(40_000))
        .map(|n| format!("HL*{n}*39999*I~SN1**4*EA~"))
        .collect();
    let _ = timed(
        "items of a parent to come",
        format!("{head}{late}SE*1*0001~").as_bytes(),
    );
    let same = "HL*1*1*I~SN1**4*EA~".repeat(lines(40_000));
    let _ = timed(
        "items that are their own parents",
        format!("{head}{same}SE*1*0001~").as_bytes(),
    );
    let _ = timed(
        "segments of no kind",
        format!("{head}{}", "ZZ~".repeat(lines(900_000))).as_bytes(),
    );
    let _ = timed(
        "a segment of a million elements",
        format!("{head}LIN{}~", "*VP".repeat(lines(1_000_000))).as_bytes(),
    );
    let _ = timed(
        "marks and numbers",
        format!(
            "{head}HL*3*2*I~SN1**4*EA~{}",
            "MAN*GM*00006141411234567890~".repeat(lines(200_000))
        )
        .as_bytes(),
    );
    let _ = timed(
        "interchanges",
        format!("{head}SE*1*0001~GE*1*1~IEA*1*1~")
            .repeat(lines(60_000))
            .as_bytes(),
    );
    let _ = timed(
        "prose that begins like data",
        "ISA or not\nST then\n".repeat(lines(1_000_000)).as_bytes(),
    );
}

#[test]
fn despatch_advices_on_one_line() {
    let ubl = "urn:oasis:names:specification:ubl:schema:xsd";
    let head = format!(
        "<DespatchAdvice xmlns=\"{ubl}:DespatchAdvice-2\" xmlns:cac=\"{ubl}:CommonAggregateComponents-2\" \
         xmlns:cbc=\"{ubl}:CommonBasicComponents-2\"><cbc:ID>1</cbc:ID>"
    );
    let line = "<cac:DespatchLine><cbc:ID>1</cbc:ID><cbc:DeliveredQuantity unitCode=\"C62\">4</cbc:DeliveredQuantity>\
                <cac:Item><cbc:Name>Ridge clamp</cbc:Name></cac:Item></cac:DespatchLine>";
    timed(
        "a despatch advice of 40 000 lines on one line",
        format!("{head}{}</DespatchAdvice>", line.repeat(lines(40_000))).as_bytes(),
    )
    .unwrap();
    let note = "<cbc:Note>n</cbc:Note>".repeat(lines(300_000));
    let _ = timed(
        "notes",
        format!("{head}{note}{line}</DespatchAdvice>").as_bytes(),
    );
    let attributes: String = (0..lines(100_000)).map(|n| format!(" a{n}=\"\"")).collect();
    let _ = timed(
        "attributes",
        format!("{head}<cbc:Note{attributes}/>{line}</DespatchAdvice>").as_bytes(),
    );
    let names: String = (0..lines(50_000))
        .map(|n| format!(" xmlns:n{n}=\"{ubl}:CommonBasicComponents-2\""))
        .collect();
    let notes = "<cbc:Note>n</cbc:Note>".repeat(lines(10_000));
    let _ = timed(
        "namespaces",
        format!(
            "{}{names}>{notes}{line}</DespatchAdvice>",
            &head[..head.len() - "><cbc:ID>1</cbc:ID>".len()]
        )
        .as_bytes(),
    );
    let handling = "<cac:Shipment><cac:TransportHandlingUnit><cbc:ID>00006141411234567890</cbc:ID></cac:TransportHandlingUnit></cac:Shipment>".repeat(lines(50_000));
    let _ = timed(
        "handling units",
        format!("{head}{handling}{line}</DespatchAdvice>").as_bytes(),
    );
}

fn alto(words: &str) -> String {
    format!(
        "<alto xmlns=\"http://www.loc.gov/standards/alto/ns-v4#\"><Layout><Page WIDTH=\"1600\" HEIGHT=\"2200\">{words}</Page></Layout></alto>"
    )
}

fn word(text: &str, left: usize, top: usize) -> String {
    format!(
        "<String CONTENT=\"{text}\" HPOS=\"{left}\" VPOS=\"{top}\" WIDTH=\"{}\" HEIGHT=\"20\"/>",
        text.len() * 12
    )
}

#[test]
fn recognised_words() {
    let headings: String = (0..lines(40_000))
        .map(|n| word("Qty", 50, n * 30) + &word("Description", 300, n * 30))
        .collect();
    let _ = timed("headings on a page", alto(&headings).as_bytes());
    let rows: String = (0..lines(40_000))
        .map(|n| word("26", 50, n * 30) + &word("Clamp", 300, n * 30))
        .collect();
    let _ = timed(
        "rows on a page",
        alto(&(word("Qty", 50, 0) + &word("Description", 300, 0) + &rows)).as_bytes(),
    );
    let pile = word("Clamp", 300, 300).repeat(lines(100_000));
    let _ = timed("words on one place", alto(&pile).as_bytes());
    let line: String = (0..lines(100_000))
        .map(|n| word("x", n * 14, 300))
        .collect();
    let _ = timed("words in one line", alto(&line).as_bytes());
    let stairs: String = (0..lines(100_000))
        .map(|n| word("x4", n % 1_000 * 14, n * 3))
        .collect();
    let _ = timed("words on stairs", alto(&stairs).as_bytes());
    let column: String = (0..lines(100_000))
        .map(|n| word("clamp", 300, n * 30))
        .collect();
    let _ = timed("words in one column", alto(&column).as_bytes());
    let nested = "<Page WIDTH=\"1\" HEIGHT=\"1\"/>".repeat(lines(1_000_000));
    let _ = timed("empty pages", alto(&nested).as_bytes());
    let ruled = "<GraphicalElement HPOS=\"1\" VPOS=\"1\" WIDTH=\"900\" HEIGHT=\"1\"/>"
        .repeat(lines(100_000));
    let _ = timed(
        "rules",
        alto(&(rows[..200_000].rsplit_once('<').unwrap().0.to_owned() + &ruled)).as_bytes(),
    );
}

#[test]
fn pages_and_mails() {
    let page = |body: &str| format!("<!DOCTYPE html><html><body>{body}</body></html>").into_bytes();
    let _ = timed(
        "divisions in divisions",
        &page(&"<div>".repeat(lines(5_000_000))),
    );
    let _ = timed(
        "tables in tables",
        &page(&"<table><tr><td>4<td>".repeat(lines(1_000_000))),
    );
    let _ = timed(
        "cells that span",
        &page(&format!(
            "<table>{}",
            "<tr><td colspan=256 rowspan=65534>x".repeat(lines(100_000))
        )),
    );
    let _ = timed(
        "cells that never end",
        &page(&format!("<table><tr>{}", "<td>4".repeat(lines(3_000_000)))),
    );
    let _ = timed(
        "lines in one cell",
        &page(&format!(
            "<table><tr><td>{}",
            "4 clamps<br>".repeat(lines(1_000_000))
        )),
    );
    let _ = timed(
        "ends without beginnings",
        &page(&"</div></td></table></b>".repeat(lines(1_000_000))),
    );
    let _ = timed(
        "letters named",
        &page(&format!(
            "<p>{}",
            "&frac12;&#8243;&nope;&".repeat(lines(1_000_000))
        )),
    );
    let classes: String = (0..lines(2_000))
        .map(|n| format!(".c{n}{{text-decoration:line-through}}"))
        .collect();
    let struck = format!(
        "<p class=\"{}\">x",
        (0..lines(2_000))
            .map(|n| format!("c{n} "))
            .collect::<String>()
    );
    let _ = timed(
        "classes",
        &page(&format!(
            "<style>{classes}</style>{}",
            struck.repeat(lines(2_000))
        )),
    );
    let _ = timed(
        "an attribute without end",
        &page(&format!("<p style=\"{}", "a:b;".repeat(lines(5_000_000)))),
    );
    let attributes: String = (0..lines(200_000)).map(|n| format!(" a{n}=b")).collect();
    let _ = timed("attributes", &page(&format!("<p{attributes}>4 clamps")));

    let head = "From: a@example.org\r\nTo: b@example.org\r\nSubject: list\r\nMIME-Version: 1.0\r\n";
    let _ = timed(
        "header lines",
        format!(
            "{head}{}\r\n4 clamps\r\n",
            "X-A: b\r\n".repeat(lines(1_000_000))
        )
        .as_bytes(),
    );
    let _ = timed(
        "one folded header",
        format!(
            "{head}X-A: {}\r\n\r\n4 clamps\r\n",
            "b\r\n ".repeat(lines(1_000_000))
        )
        .as_bytes(),
    );
    let _ = timed(
        "encoded words",
        format!(
            "{head}X-B: {}\r\n\r\n4 clamps\r\n",
            "=?utf-8?Q?=C2=BD?= ".repeat(lines(300_000))
        )
        .as_bytes(),
    );
    let _ = timed(
        "receivers",
        format!(
            "{head}Cc: {}\r\n\r\n4 clamps\r\n",
            "a@example.org, ".repeat(lines(500_000))
        )
        .as_bytes(),
    );
    let nested: String = (0..lines(20_000))
        .map(|n| format!("Content-Type: multipart/mixed; boundary=b{n}\r\n\r\n--b{n}\r\n"))
        .collect();
    let _ = timed(
        "parts in parts",
        format!("{head}{nested}\r\n4 clamps\r\n").as_bytes(),
    );
    let parts = "--b\r\nContent-Type: text/csv; name=a.csv\r\n\r\nQty,Description\r\n4,Clamp\r\n"
        .repeat(lines(200_000));
    let _ = timed(
        "parts",
        format!("{head}Content-Type: multipart/mixed; boundary=b\r\n\r\n{parts}--b--\r\n")
            .as_bytes(),
    );
    let forwarded = "Content-Type: message/rfc822\r\n\r\nFrom: a@example.org\r\nSubject: x\r\n"
        .repeat(lines(100_000));
    let _ = timed(
        "mails in mails",
        format!("{head}{forwarded}\r\n4 clamps\r\n").as_bytes(),
    );
    let _ = timed(
        "quotation",
        format!("{head}\r\n{}", ">".repeat(20 << 20)).as_bytes(),
    );
    let _ = timed(
        "quoted lines",
        format!("{head}\r\n{}", "> > > 4 clamps\r\n".repeat(lines(120_000))).as_bytes(),
    );
}

#[test]
fn drawn_text() {
    let pipes = format!("{}\n", "|".repeat(250)).repeat(lines(100_000));
    let _ = timed("bars", pipes.as_bytes());
    let drawn = "+-----+-----+\n| 4   | Clamp |\n".repeat(lines(70_000));
    let _ = timed("a drawn table", drawn.as_bytes());
    let fixed = "  26  ea   Ground post        5 ft\n".repeat(lines(140_000));
    let _ = timed("set columns", fixed.as_bytes());
    let wide = format!("{}\n", "a  b ".repeat(lines(6_000))).repeat(lines(1_000));
    let _ = timed("wide set columns", wide.as_bytes());
    let ragged: String = (0..100_000_usize)
        .map(|n| format!("{}x\n", " ".repeat(n * 7 % 300)))
        .collect();
    let _ = timed("ragged text", ragged.as_bytes());
}
