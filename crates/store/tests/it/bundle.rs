//! The bundle as other programs see it: unzip, zipinfo, Python's zipfile and sha256sum, none of which is ours.

use std::fs::{self, File};
use std::path::Path;
use std::process::Command;

use store::{Bundled, BundledPaper, Fault, Job, is_bundle, verify_bundle, write_bundle};
use tally::{Digest, Shot, What};

use crate::samples::{Folder, counted, draft};

/// Not a whole picture; the job keeps bytes and asks no more.
pub const PHOTO: &[u8] = b"\xFF\xD8\xFF\xE0 a picture of a bent bow";
const LIST: &[u8] = b"qty,mark\n26,B1\n";

fn photographed(digest: Digest) -> What {
    What::Photographed {
        photo: digest,
        shot: Shot::Near,
        shipment: None,
        mark: Some("B1".into()),
        of: None,
        words: "kinked".into(),
    }
}

/// A small job with a photo, a list from a path that leads elsewhere, and a document that no event names.
pub fn sample(folder: &Folder) -> Job {
    let mut job = folder.create("garden.tallyard");
    let photo = job.put_document(PHOTO).unwrap();
    let list = job.put_document(LIST).unwrap();
    job.put_document(b"nobody names this").unwrap();
    let log = [
        What::ListAdded {
            digest: list,
            name: "../../etc/passwd.CSV".into(),
            shipment: None,
        },
        counted(25),
        photographed(photo),
    ];
    for (n, what) in log.into_iter().enumerate() {
        job.append(draft(n as u128 + 1, "phone-1", what)).unwrap();
    }
    job
}

pub fn papers() -> Vec<BundledPaper> {
    vec![BundledPaper {
        name: "over-short-damaged".into(),
        pdf: b"%PDF-1.7 not a whole paper".to_vec(),
    }]
}

/// Bundles a job as it stands.
pub fn bundle(job: &Job, to: &Path) -> Bundled {
    let snapshot = job.snapshot(to.parent().unwrap()).unwrap();
    let file = File::create(to).unwrap();
    write_bundle(&snapshot, &papers(), |_| "jpg", file, &mut |_| {}).unwrap()
}

fn run(folder: &Folder, program: &str, arguments: &[&str]) -> String {
    let ran = Command::new(program)
        .args(arguments)
        .current_dir(folder.path(""))
        .output()
        .unwrap();
    let (out, err) = (
        String::from_utf8_lossy(&ran.stdout),
        String::from_utf8_lossy(&ran.stderr),
    );
    assert!(ran.status.success(), "{program}: {out}{err}");
    out.into_owned()
}

#[test]
fn other_programs_unpack_it_and_its_sums_hold() {
    let folder = Folder::new();
    let bundled = bundle(&sample(&folder), &folder.path("bundle.zip"));
    let tested = run(&folder, "unzip", &["-tq", "bundle.zip"]);
    assert!(tested.starts_with("No errors detected"), "{tested}");
    run(&folder, "python3", &["-m", "zipfile", "-t", "bundle.zip"]);
    run(&folder, "unzip", &["-q", "bundle.zip", "-d", "out"]);
    let sums = "cd out && sha256sum --strict -c SHA256SUMS";
    let said = run(&folder, "sh", &["-c", sums]);
    let names: Vec<&str> = said
        .lines()
        .filter_map(|l| l.strip_suffix(": OK"))
        .collect();
    let (photo, list) = (Digest::of(PHOTO), Digest::of(LIST));
    let other = Digest::of(b"nobody names this");
    let expected = [
        "README.txt".to_owned(),
        "papers/over-short-damaged.pdf".to_owned(),
        format!("photos/001-{photo}.jpg"),
        format!("lists/001-{list}.csv"),
        format!("others/001-{other}.bin"),
        "log.txt".to_owned(),
        "job.tallyard".to_owned(),
    ];
    assert_eq!(names, expected);
    let photo = fs::read(folder.path(&format!("out/{}", names[2]))).unwrap();
    assert_eq!(photo, PHOTO);
    // The whole file's digest, as another program has it.
    let whole = run(&folder, "sha256sum", &["bundle.zip"]);
    assert!(whole.starts_with(&bundled.digest.to_string()), "{whole}");
}

/// The program that docs/verify.md gives to whoever has none of ours.
#[test]
fn the_log_can_be_held_against_the_chain_by_another_program() {
    let folder = Folder::new();
    let job = sample(&folder);
    bundle(&job, &folder.path("bundle.zip"));
    let page = include_str!("../../../../docs/verify.md");
    let (_, program) = page.rsplit_once("```python\n").unwrap();
    let (program, _) = program.split_once("```").unwrap();
    let head = run(&folder, "python3", &["-c", program, "bundle.zip"]);
    assert_eq!(head.trim(), job.head().unwrap().to_string());
    let page = page.split_once("```python\n").unwrap().1;
    let (program, _) = page.split_once("```").unwrap();
    run(&folder, "unzip", &["-q", "bundle.zip"]);
    let head = run(&folder, "python3", &["-c", program, "job.tallyard"]);
    assert_eq!(head.trim(), job.head().unwrap().to_string());
}

#[test]
fn the_same_job_makes_the_same_bytes() {
    let folder = Folder::new();
    let mut job = sample(&folder);
    let first = bundle(&job, &folder.path("1.zip"));
    // What belongs to one copy alone does not go into it.
    job.set_join_code("23456789AB").unwrap();
    job.put_thumbnail(&Digest::of(PHOTO), &[7; 9_000]).unwrap();
    let again = bundle(&job, &folder.path("2.zip"));
    assert_eq!(first, again);
    let same = fs::read(folder.path("1.zip")).unwrap() == fs::read(folder.path("2.zip")).unwrap();
    assert!(same);
    // Nor the order in which documents came into it, nor the pages that are free.
    let copy = folder.copy(&job, "copy.tallyard");
    assert_eq!(first, bundle(&copy, &folder.path("3.zip")));
    job.append(draft(9, "phone-1", counted(1))).unwrap();
    assert_ne!(first.digest, bundle(&job, &folder.path("4.zip")).digest);
}

#[test]
fn a_whole_bundle_is_well_and_the_noted_head_is_found() {
    let folder = Folder::new();
    let mut job = sample(&folder);
    let noted = job.head().unwrap();
    job.append(draft(9, "phone-1", counted(1))).unwrap();
    let path = folder.path("bundle.zip");
    let bundled = bundle(&job, &path);
    assert!(is_bundle(&path) && !is_bundle(job.path()));
    let report = verify_bundle(&path, Some(&noted)).unwrap();
    assert!(report.is_well(), "{report:?}");
    assert_eq!(
        (report.digest, report.bytes),
        (bundled.digest, bundled.bytes)
    );
    assert_eq!(report.files, 8);
    let inside = report.job.unwrap();
    assert_eq!((inside.events, inside.documents), (4, 3));
    assert_eq!(inside.head, job.head().unwrap());
    let held = store::Noted::Held {
        events: 3,
        since: 1,
    };
    assert_eq!(inside.noted, Some(held));
    let other = verify_bundle(&path, Some(&Digest::of(b"another"))).unwrap();
    assert!(!other.is_well());
}

/// Papers, photos and log are of one moment, though a phone counts meanwhile.
#[test]
fn what_comes_after_the_snapshot_is_not_in_it() {
    let folder = Folder::new();
    let mut job = sample(&folder);
    let before = job.head().unwrap();
    let snapshot = job.snapshot(&folder.path("")).unwrap();
    job.append(draft(9, "phone-1", counted(1))).unwrap();
    assert_eq!(snapshot.job().head().unwrap(), before);
    let path = folder.path("bundle.zip");
    let file = File::create(&path).unwrap();
    let bundled = write_bundle(&snapshot, &[], |_| "jpg", file, &mut |_| {}).unwrap();
    assert_eq!(bundled.head, before);
    assert!(verify_bundle(&path, None).unwrap().is_well());
}

#[test]
fn a_bundle_opens_as_a_job_for_reading() {
    let folder = Folder::new();
    let job = sample(&folder);
    let path = folder.path("bundle.zip");
    bundle(&job, &path);
    let before = fs::read(&path).unwrap();
    let mut read = Job::open_to_read(&path).unwrap();
    assert!(read.is_for_reading());
    assert_eq!(read.id(), job.id());
    assert_eq!(read.events().unwrap().events, job.events().unwrap().events);
    assert_eq!(
        read.document(&Digest::of(PHOTO)).unwrap().as_deref(),
        Some(PHOTO)
    );
    let refused = |error: store::StoreError| {
        assert!(matches!(error.fault, Fault::ForReading), "{error}");
        // The file that was opened is named, not the place that it was taken out to.
        assert!(error.to_string().starts_with(&path.display().to_string()));
    };
    refused(read.append(draft(9, "phone-2", counted(1))).unwrap_err());
    refused(read.put_document(b"new").unwrap_err());
    refused(read.put_photo(b"new", b"small").unwrap_err());
    refused(read.merge(&job).unwrap_err());
    assert_eq!(read.head().unwrap(), job.head().unwrap());
    assert_eq!(read.documents().unwrap().len(), 3);
    // A bundle of a copy for reading is the bundle that it came in.
    assert_eq!(
        bundle(&read, &folder.path("again.zip")).digest,
        Digest::of(&before)
    );
    assert_eq!(fs::read(&path).unwrap(), before);
}

/// A job file that phones write to now: the copy is of this moment, and nothing is left beside the file.
#[test]
fn a_job_file_opens_for_reading_as_it_stands() {
    let folder = Folder::new();
    let mut job = sample(&folder);
    let read = Job::open_to_read(job.path()).unwrap();
    job.append(draft(9, "phone-1", counted(1))).unwrap();
    assert_eq!(read.events().unwrap().events.len(), 3);
    assert_eq!(
        Job::open_to_read(job.path())
            .unwrap()
            .events()
            .unwrap()
            .events
            .len(),
        4
    );
    let writer = read.writer().unwrap();
    assert_ne!(writer, job.writer().unwrap());
    let beside = read.beside().unwrap();
    assert!(beside.is_for_reading());
    assert_eq!(beside.head().unwrap(), read.head().unwrap());
}

#[test]
fn a_bad_name_of_a_paper_and_a_changed_document_stop_it() {
    let folder = Folder::new();
    let job = sample(&folder);
    let snapshot = job.snapshot(&folder.path("")).unwrap();
    let paper = BundledPaper {
        name: "../up".into(),
        pdf: vec![],
    };
    let refused = write_bundle(&snapshot, &[paper], |_| "jpg", Vec::new(), &mut |_| {});
    assert!(refused.unwrap_err().to_string().contains("`../up`"));
    let sql = "update document set bytes = cast('nothing' as blob)";
    crate::samples::tamper(job.path(), sql);
    let snapshot = job.snapshot(&folder.path("")).unwrap();
    let refused = write_bundle(&snapshot, &[], |_| "jpg", Vec::new(), &mut |_| {});
    let fault = refused.unwrap_err().fault;
    assert!(matches!(fault, Fault::DocumentChanged(_)), "{fault}");
}
