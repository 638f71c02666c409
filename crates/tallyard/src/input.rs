//! Files that commands are given.

use std::fs::File;
use std::io::Read;
use std::path::{Path, PathBuf};

use frame::{Family, Order};
use store::{Fault, Job};
use tally::{Event, Known, Ordered, Standing, What};

use crate::failure::Failure;

/// Reads a file of at most so many bytes.
pub fn bytes(path: &Path, most: usize) -> Result<Vec<u8>, Failure> {
    let failed = |error| Failure::File {
        path: path.into(),
        error,
    };
    let mut bytes = Vec::new();
    let file = File::open(path).map_err(failed)?;
    file.take(most as u64 + 1)
        .read_to_end(&mut bytes)
        .map_err(failed)?;
    if bytes.len() > most {
        return Err(Failure::refused(
            path,
            format!("it is bigger than {most} bytes, the most that is read"),
        ));
    }
    Ok(bytes)
}

/// Reads an order file, of a family that comes with the program or of a family file, and expands it.
pub fn order(path: &Path, family: Option<&Path>) -> Result<Ordered, Failure> {
    let order = text(path, frame::MOST_ORDER_BYTES, "an order file")?;
    let Some(family) = family else {
        return Ordered::read(&order).map_err(|says| Failure::refused(path, says));
    };
    let house = text(family, frame::MOST_FAMILY_BYTES, "a family file")?;
    let house = Family::read(&house).map_err(|e| Failure::refused(family, e.to_string()))?;
    let order = Order::read(&order).map_err(|e| Failure::refused(path, e.to_string()))?;
    Ordered::of(order, house).map_err(|says| Failure::refused(path, says))
}

fn text(path: &Path, most: usize, what: &str) -> Result<String, Failure> {
    String::from_utf8(bytes(path, most)?).map_err(|e| {
        Failure::refused(
            path,
            format!(
                "{what} is UTF-8 text; this is not, from byte {}",
                e.utf8_error().valid_up_to()
            ),
        )
    })
}

/// Reads a packing list; its bytes come with it, for those who keep them.
pub fn list(path: &Path) -> Result<(Vec<u8>, list::PackingList), Failure> {
    let bytes = bytes(path, list::limits::MAX_FILE_BYTES)?;
    let list = list::read(&bytes, &name(path)).map_err(|e| Failure::refused(path, e.why))?;
    Ok((bytes, list))
}

/// Reads the one packing list of these files. Several files are pages of one list, which only photographs are.
pub fn one_list(files: &[PathBuf]) -> Result<list::PackingList, Failure> {
    if let Some(list) = photographed(files)? {
        return Ok(list);
    }
    match files {
        [one] => list(one).map(|(_, list)| list),
        [first, ..] => Err(Failure::refused(
            first,
            "several files can only be photographs of one list; read one list at a time",
        )),
        [] => Err(Failure::Says("no packing list was named".into())),
    }
}

/// Reads photographs of a list's pages, in their order; nothing where a file is none.
fn photographed(files: &[PathBuf]) -> Result<Option<list::PackingList>, Failure> {
    let mut pictures = Vec::new();
    // More are refused by their number, unread.
    for path in files.iter().take(ocr::MOST_PICTURES) {
        let bytes = bytes(path, list::limits::MAX_FILE_BYTES)?;
        if !ocr::is_picture(&bytes) {
            return Ok(None);
        }
        pictures.push((name(path), bytes));
    }
    let Some(first) = files.first() else {
        return Ok(None);
    };
    if files.len() > ocr::MOST_PICTURES {
        let why = ocr::Unread::HowMany(files.len());
        return Err(Failure::refused(first, why));
    }
    let read = ocr::list_of(&pictures).map_err(|why| Failure::refused(first, why))?;
    let list = list::read(&read.alto, &name(first));
    list.map(Some).map_err(|e| Failure::refused(first, e.why))
}

/// A file's own name, for people.
pub fn name(path: &Path) -> String {
    path.file_name()
        .map_or_else(|| "list".into(), |name| name.to_string_lossy().into_owned())
}

/// Opens a job. A bundle, and a job file where nothing can be written, are opened as a copy for reading.
pub fn job(path: &Path) -> Result<Job, Failure> {
    if store::is_bundle(path) {
        return Ok(Job::open_to_read(path)?);
    }
    Job::open(path).or_else(|error| match error.fault {
        Fault::NotWritable(_) => Job::open_to_read(path).map_err(|_| error.into()),
        _ => Err(error.into()),
    })
}

/// Opens a job and works out how it stands.
pub fn standing(path: &Path) -> Result<(Job, Standing), Failure> {
    let job = job(path)?;
    let log = job.events()?;
    for unread in &log.unread {
        eprintln!(
            "tallyard: {}: event {} could not be read: {}",
            path.display(),
            unread.row,
            unread.why
        );
    }
    let document = |digest: &tally::Digest| yard::document(&job, digest);
    let standing = Standing::of(&log.events, document, &mut Known::default());
    Ok((job, standing))
}

/// Works out how a job stands, or what an order alone needs while nothing of it is here.
pub fn standing_or_order(path: &Path) -> Result<Standing, Failure> {
    if store::is_bundle(path) || is_job(path)? {
        return standing(path).map(|(_, standing)| standing);
    }
    // Read first on its own, so that what is wrong with it is said as of any order.
    order(path, None)?;
    let toml = text(path, frame::MOST_ORDER_BYTES, "an order file")?;
    let event = Event {
        id: store::fresh_id(),
        device: "order".into(),
        seq: 1,
        at: store::now(),
        who: yard::THIS_COMPUTER.into(),
        what: What::OrderSet { toml, family: None },
    };
    let no_list = |_: &tally::Digest| Err("an order alone has no list".into());
    Ok(Standing::of(&[event], no_list, &mut Known::default()))
}

/// Whether a file is a database, as job files are (SQLite, "Database File Format", 1.3.1).
fn is_job(path: &Path) -> Result<bool, Failure> {
    let failed = |error| Failure::File {
        path: path.into(),
        error,
    };
    let mut head = Vec::new();
    let file = File::open(path).map_err(failed)?;
    file.take(16).read_to_end(&mut head).map_err(failed)?;
    Ok(head == b"SQLite format 3\0")
}
