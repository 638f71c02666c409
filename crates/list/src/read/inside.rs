//! Files that carry other files: a mail with attachments, a ZIP. One list is taken out of them, and the others are
//! named: two files in one mail are often the same list twice, and what was read together would be counted twice.

use std::io::{Cursor, Read};
use std::panic::{AssertUnwindSafe, catch_unwind};

use zip::ZipArchive;

use crate::error::Refusal;
use crate::grid::{Line, Sheets, Warning};
use crate::read::text::cut;
use crate::read::{archive, mail, xml};
use crate::row::PackingList;
use crate::table::header::{self, Header};
use crate::{limits, read};

/// A file inside another.
pub struct Inner {
    /// What it is called there.
    name: String,
    bytes: Vec<u8>,
}

impl Inner {
    /// A file with a name for people.
    pub fn new(name: &str, bytes: Vec<u8>) -> Self {
        let (name, _) = crate::read::text::clean(cut(name, 256));
        // A name may come with a path, which says nothing here.
        let short = name.rsplit(['/', '\\']).next().unwrap_or(&name).to_owned();
        Self { name: short, bytes }
    }
}

/// What is inside.
#[derive(Default)]
pub struct Opened {
    /// Files, in order.
    pub files: Vec<Inner>,
    /// The mail's own text, the fuller form first.
    pub bodies: Vec<Inner>,
    /// Who sent it.
    pub from: Option<String>,
    /// When, as year-month-day.
    pub date: Option<String>,
    /// What about.
    pub subject: Option<String>,
    /// It is a ZIP, in which no other is opened.
    pub packed: bool,
    /// What was not looked at.
    pub warnings: Vec<String>,
}

/// Opens the file if it is one that carries others.
pub fn open(bytes: &[u8]) -> Option<Result<Opened, Refusal>> {
    if read::is_plain_zip(bytes) {
        return Some(unzip(bytes));
    }
    if !mail::is_mail(bytes) {
        return None;
    }
    let opened = catch_unwind(AssertUnwindSafe(|| mail::open(bytes)));
    Some(opened.unwrap_or_else(|_| Err(Refusal::Damaged("its parts contradict each other".into()))))
}

fn unzip(bytes: &[u8]) -> Result<Opened, Refusal> {
    archive::check(bytes)?;
    let mut archive = ZipArchive::new(Cursor::new(bytes)).map_err(xml::damaged)?;
    let mut opened = Opened {
        packed: true,
        ..Opened::default()
    };
    let mut total = 0;
    for index in 0..archive.len() {
        let entry = archive.by_index(index).map_err(xml::damaged)?;
        let name = entry.name().map_err(xml::damaged)?.into_owned();
        let of_the_system = name.starts_with("__MACOSX/")
            || name.ends_with(".DS_Store")
            || name.ends_with("Thumbs.db");
        if entry.is_dir() || of_the_system {
            continue;
        }
        if opened.files.len() >= limits::MAX_ATTACHMENTS {
            let what = format!(
                "only the first {} files inside were looked at",
                limits::MAX_ATTACHMENTS
            );
            opened.warnings.push(what);
            break;
        }
        let mut bytes = Vec::new();
        // All files together are no more than one may be: they are held while they are read one by one.
        if total + entry.size() > limits::MAX_FILE_BYTES as u64 {
            let name = Inner::new(&name, Vec::new()).name;
            let most = limits::MAX_FILE_BYTES >> 20;
            opened.warnings.push(format!(
                "{name} inside was not looked at: the files come to more than {most} MiB"
            ));
            continue;
        }
        total += entry.size();
        let most = entry.size();
        entry
            .take(most)
            .read_to_end(&mut bytes)
            .map_err(xml::damaged)?;
        opened.files.push(Inner::new(&name, bytes));
    }
    Ok(opened)
}

/// Reads the list that is inside. Files come before the mail's own text, data before sheets, sheets before pages
/// and text, and these before paper.
pub fn list(opened: Opened, depth: usize) -> Result<PackingList, Refusal> {
    let Opened {
        files,
        bodies,
        from,
        date,
        subject,
        packed: zip,
        mut warnings,
    } = opened;
    let depth = if zip { limits::MAX_FILES_WITHIN } else { depth };
    let mut refused: Vec<(String, Refusal)> = Vec::new();
    // Only the best so far is held, since each may be as large as a list may; of equals the first.
    let mut best: Option<(u8, String, PackingList)> = None;
    let mut others: Vec<(String, usize)> = Vec::new();
    let mut found = |rank, name, list: PackingList| {
        let found = (rank, name, list);
        let lesser = match best.take() {
            Some(held) if held.0 <= found.0 => {
                best = Some(held);
                Some(found)
            }
            held => {
                best = Some(found);
                held
            }
        };
        others.extend(lesser.map(|(_, name, list)| (name, list.rows.len())));
    };
    let mut any = false;
    let mut spare = Vec::new();
    // Each of these may unpack to the most that one file may.
    let mut packed = 0;
    for file in files {
        packed += usize::from(file.bytes.starts_with(b"PK"));
        if packed > limits::MAX_PACKED_WITHIN && file.bytes.starts_with(b"PK") {
            warnings.push(format!(
                "{} inside was not looked at: too many packed files",
                file.name
            ));
            continue;
        }
        match crate::read_within(&file.bytes, depth + 1) {
            Ok(list) => {
                any = true;
                found(rank(&list, &file.bytes), file.name, list);
            }
            Err(why) => refused.push((file.name, why)),
        }
    }
    // The text of a mail that brings a list is shown, for what it says about it.
    for body in bodies {
        if !any {
            match crate::read_within(&body.bytes, depth + 1) {
                Ok(list) => {
                    any = true;
                    found(9, body.name, list);
                }
                Err(why) => refused.push((body.name, why)),
            }
        } else {
            spare.push(body);
        }
    }
    let Some((rank, name, mut list)) = best else {
        return Err(nothing(refused));
    };
    if rank < 9 {
        warnings.push(format!("the list is the file {name} inside"));
    }
    // This comes before all else that is said of the list: half of what was sent may be on the other.
    let others = others.into_iter().map(|(other, rows)| {
        let rows = if rows == 1 { "1 row".to_owned() } else { format!("{rows} rows") };
        format!("{other} inside is a list too, of {rows}; it was not read: read it by itself if it is not the same list")
    });
    let others: Vec<String> = others.collect();
    for (other, why) in refused
        .into_iter()
        .filter(|(other, _)| *other != "the message")
    {
        warnings.push(format!("{other} inside was not read: {why}"));
    }
    if rank < 9
        && let Some(body) = spare.pop()
    {
        let said = crate::read::text::decode(&body.bytes).unwrap_or_default();
        let (said, _) = crate::read::text::clean(cut(&said, 600));
        if !said.is_empty() {
            warnings.push(format!("the message itself says: {:?}", said.as_ref()));
        }
    }
    let warnings = warnings.into_iter().map(|what| Warning { at: None, what });
    list.warnings.extend(warnings);
    let first = others.into_iter().map(|what| Warning { at: None, what });
    list.warnings.splice(0..0, first);
    complete(&mut list.header, from, date, subject);
    Ok(list)
}

/// Reads the cells of the first file inside that has any.
pub fn sheets(opened: Opened, depth: usize) -> Result<Sheets, Refusal> {
    let mut refused = Vec::new();
    for file in opened.files.into_iter().chain(opened.bodies) {
        match read::sheets_within(&file.bytes, depth + 1) {
            Ok(sheets) => return Ok(sheets),
            Err(why) => refused.push((file.name, why)),
        }
    }
    Err(nothing(refused))
}

/// Which of several lists is taken: data first, paper last.
fn rank(list: &PackingList, bytes: &[u8]) -> u8 {
    let paged = || {
        list.rows
            .iter()
            .any(|row| row.at.sheet.starts_with("page "))
    };
    if list.despatch.is_some() {
        0
    } else if bytes.starts_with(b"PK") || bytes.starts_with(crate::read::compound::MAGIC) {
        1
    } else if !paged() {
        2
    } else {
        3
    }
}

/// Why nothing was found: the one file's own reason, or a word on each.
fn nothing(mut refused: Vec<(String, Refusal)>) -> Refusal {
    if refused.len() == 1
        && let Some((name, why)) = refused.pop()
    {
        return Refusal::Inside {
            name,
            why: Box::new(why),
        };
    }
    let said: Vec<String> = refused
        .iter()
        .take(8)
        .map(|(name, why)| format!("{name}: {why}"))
        .collect();
    if said.is_empty() {
        return Refusal::Empty;
    }
    Refusal::NoListInside(said.join("; "))
}

/// What the mail's headers say, where the list itself says nothing.
fn complete(
    header: &mut Header,
    from: Option<String>,
    date: Option<String>,
    subject: Option<String>,
) {
    header.sender = header.sender.take().or(from);
    header.date = header.date.take().or(date);
    let Some(subject) = subject.filter(|subject| !subject.is_empty()) else {
        return;
    };
    let line = Line {
        number: 1,
        cells: vec![subject.clone()],
        ..Line::default()
    };
    let said = header::read(&[line]);
    header.number = header.number.take().or(said.number);
    header.family = header.family.take().or(said.family);
    if header.width.is_none() && header.length.is_none() {
        (header.width, header.length) = (said.width, said.length);
    }
    header.spacing = header.spacing.or(said.spacing);
    header.shipment = header.shipment.take().or(said.shipment);
    header
        .options
        .entry("Subject".to_owned())
        .or_insert(subject);
}
