//! Lists that come inside other files, from the bytes of the mail to rows. The lists themselves are those of the readers'
//! own tests.

use std::fs;
use std::io::{Cursor, Write as _};

use list::{PackingList, read};

fn file(path: &str) -> Vec<u8> {
    fs::read(format!("{}/tests/{path}", env!("CARGO_MANIFEST_DIR"))).unwrap()
}

/// RFC 4648, section 4, in lines as a mail has them.
fn base_64(bytes: &[u8]) -> String {
    const SIGNS: &[u8] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut out = String::new();
    for (index, group) in bytes.chunks(3).enumerate() {
        let all = (0..3).fold(0_u32, |all, n| {
            all << 8 | u32::from(*group.get(n).unwrap_or(&0))
        });
        for n in 0..4 {
            let sign = SIGNS[(all >> (18 - 6 * n) & 63) as usize];
            out.push(if n <= group.len() {
                char::from(sign)
            } else {
                '='
            });
        }
        if index % 19 == 18 {
            out.push_str("\r\n");
        }
    }
    out
}

/// A mail with a text and one file.
fn mail(kind: &str, name: &str, bytes: &[u8]) -> Vec<u8> {
    format!(
        "From: ines@example.org\r\nTo: noor@example.org\r\nSubject: Your house\r\nMIME-Version: 1.0\r\n\
         Content-Type: multipart/mixed; boundary=part\r\n\r\n--part\r\nContent-Type: text/plain\r\n\r\nThe list is attached.\r\n\
         --part\r\nContent-Type: {kind}; name=\"{name}\"\r\nContent-Disposition: attachment; filename=\"{name}\"\r\n\
         Content-Transfer-Encoding: base64\r\n\r\n{}\r\n--part--\r\n",
        base_64(bytes)
    )
    .into_bytes()
}

type Rows = Vec<(Option<i64>, String, String)>;

fn rows(list: &PackingList) -> Rows {
    let rows = list.rows.iter();
    rows.map(|row| (row.quantity, row.code.clone(), row.description.clone()))
        .collect()
}

fn said(list: &PackingList, words: &str) -> bool {
    list.warnings
        .iter()
        .any(|warning| warning.what.contains(words))
}

#[test]
fn a_pdf_attached_to_a_mail() {
    let pdf = file("pdf/plain.pdf");
    let alone = read(&pdf, "plain.pdf").unwrap();
    assert!(alone.rows.len() > 5);
    let list = read(&mail("application/pdf", "load 1.pdf", &pdf), "mail.eml").unwrap();
    assert_eq!(rows(&list), rows(&alone));
    assert!(list.rows.iter().all(|row| row.at.sheet.contains("page ")));
    assert!(said(&list, "load 1.pdf"), "{:?}", list.warnings);
    // One that was made of pictures is named as such, with its name.
    let scan = mail("application/pdf", "scan.pdf", &file("pdf/scan.pdf"));
    let error = read(&scan, "mail.eml").unwrap_err().to_string();
    assert!(
        error.contains("scan.pdf") && error.contains("picture"),
        "{error}"
    );
}

/// A despatch advice of two lines, its segments as ASC X12 856 orders them; segment names from memory.
const NOTICE: &str = "ISA*00*          *00*          *ZZ*SENDER         *ZZ*RECEIVER       *260304*1200*U*00401*000000001*0*P*>~\r\n\
GS*SH*SENDER*RECEIVER*20260304*1200*1*X*004010~\r\nST*856*0001~\r\nBSN*00*L-1*20260304*1200~\r\nHL*1**S~\r\n\
HL*2*1*O~\r\nPRF*40117~\r\nHL*3*2*I~\r\nLIN**VP*GP-60~\r\nSN1**26*EA~\r\nPID*F****Ground post~\r\n\
HL*4*2*I~\r\nLIN**VP*HB-24~\r\nSN1**24*EA~\r\nPID*F****Half bow~\r\nCTT*4~\r\nSE*15*0001~\r\nGE*1*1~\r\nIEA*1*000000001~\r\n";

#[test]
fn a_notice_written_into_a_mail() {
    let expected: Rows = vec![
        (Some(26), "GP-60".into(), "Ground post".into()),
        (Some(24), "HB-24".into(), "Half bow".into()),
    ];
    let head = "From: ines@example.org\r\nTo: noor@example.org\r\nSubject: 856\r\nContent-Type: text/plain\r\n\r\n";
    let body = format!("{head}{NOTICE}");
    let list = read(body.as_bytes(), "mail.eml").unwrap();
    assert_eq!(rows(&list), expected);
    assert!(list.despatch.is_some());
    let attached = mail("application/edi-x12", "notice.edi", NOTICE.as_bytes());
    let list = read(&attached, "mail.eml").unwrap();
    assert_eq!(rows(&list), expected);
    assert!(list.despatch.is_some());
}

#[test]
fn an_open_sheet_in_an_archive_in_a_mail() {
    let sheet = file("kinds/list.ods");
    let alone = read(&sheet, "list.ods").unwrap();
    assert!(alone.rows.len() > 5);
    let mut archive = zip::ZipWriter::new(Cursor::new(Vec::new()));
    let plain = zip::write::SimpleFileOptions::default();
    archive.start_file("papers/list.ods", plain).unwrap();
    archive.write_all(&sheet).unwrap();
    let packed = archive.finish().unwrap().into_inner();
    let list = read(&packed, "papers.zip").unwrap();
    assert_eq!(rows(&list), rows(&alone));
    assert!(said(&list, "list.ods"), "{:?}", list.warnings);
    let list = read(&mail("application/zip", "papers.zip", &packed), "mail.eml").unwrap();
    assert_eq!(rows(&list), rows(&alone));
}

#[test]
fn a_comma_list_attached_to_a_mail() {
    let csv = "Qty;Code;Description\r\n26;GP-60;Ground post\r\n24;HB-24;Half bow\r\n";
    let list = read(&mail("text/csv", "list.csv", csv.as_bytes()), "mail.eml").unwrap();
    let expected: Rows = vec![
        (Some(26), "GP-60".into(), "Ground post".into()),
        (Some(24), "HB-24".into(), "Half bow".into()),
    ];
    assert_eq!(rows(&list), expected);
}
