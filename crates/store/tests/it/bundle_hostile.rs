//! Bundles that somebody made to do harm, and jobs where nothing can be written.

use std::fs::{self, Permissions};
use std::io::{Cursor, Write};
use std::os::unix::fs::PermissionsExt;
use std::os::unix::process::CommandExt;
use std::process::Command;
use std::{env, path::Path};

use store::{Fault, Job, StoreError, verify_bundle};
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipWriter};

use crate::bundle::{bundle, sample};
use crate::samples::Folder;

fn zip(files: &[(&str, &[u8])], method: CompressionMethod) -> Vec<u8> {
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    let options = SimpleFileOptions::default().compression_method(method);
    for (name, bytes) in files {
        zip.start_file(*name, options).unwrap();
        zip.write_all(bytes).unwrap();
    }
    zip.finish().unwrap().into_inner()
}

fn refused(folder: &Folder, bytes: &[u8]) -> StoreError {
    let path = folder.path("hostile.zip");
    fs::write(&path, bytes).unwrap();
    let looked = verify_bundle(&path, None);
    assert!(!looked.is_ok_and(|report| report.is_well()));
    Job::open_to_read(&path).unwrap_err()
}

#[test]
fn a_bomb_is_refused_before_it_fills_the_disk() {
    let folder = Folder::new();
    let nothing = vec![0; 64 << 20];
    let bomb = zip(&[("job.tallyard", &nothing)], CompressionMethod::Deflated);
    assert!(bomb.len() < 100_000);
    let why = refused(&folder, &bomb).to_string();
    assert!(why.contains("to more than 100 times its size"), "{why}");

    // The sizes in the directory are lies: both say one byte.
    let mut liar = zip(
        &[("job.tallyard", &nothing[..5 << 20])],
        CompressionMethod::Deflated,
    );
    let size = (5_u32 << 20).to_le_bytes();
    while let Some(at) = liar.windows(4).position(|window| window == size) {
        liar[at..at + 4].copy_from_slice(&[1, 0, 0, 0]);
    }
    refused(&folder, &liar);

    // Many files that are each small enough to be said, and together are not.
    let mut many = zip(&[("a", b"xxxx"), ("b", b"xxxx")], CompressionMethod::Stored);
    let four = 4_u32.to_le_bytes();
    for at in 0..many.len() - 4 {
        if many[at..at + 4] == four && many[at - 4..at] == four {
            many[at..at + 4].copy_from_slice(&0xC000_0000_u32.to_le_bytes());
        }
    }
    let why = refused(&folder, &many);
    assert!(matches!(why.fault, Fault::BundleTooBig(_)), "{why}");
}

#[test]
fn too_many_files_are_refused() {
    let folder = Folder::new();
    let names: Vec<String> = (0..10_001).map(|n| n.to_string()).collect();
    let files: Vec<(&str, &[u8])> = names.iter().map(|name| (name.as_str(), &b""[..])).collect();
    let why = refused(&folder, &zip(&files, CompressionMethod::Stored)).to_string();
    assert!(
        why.contains("it holds 10001 files; at most 10000 are read"),
        "{why}"
    );
}

/// Names lead nowhere: only the job file is taken out, and that to a name of ours.
#[test]
fn names_that_lead_elsewhere_write_nothing_there() {
    let folder = Folder::new();
    let job = sample(&folder);
    let snapshot = job.snapshot(&folder.path("")).unwrap();
    snapshot.job().events().unwrap();
    let file = fs::read(job.path()).unwrap();
    drop(snapshot);
    let elsewhere = folder.path("elsewhere");
    let absolute = elsewhere.display().to_string();
    let hostile = zip(
        &[
            ("../elsewhere", b"x"),
            (&absolute, b"x"),
            ("a/../../../elsewhere", b"x"),
            ("other.tallyard", &file),
        ],
        CompressionMethod::Stored,
    );
    let why = refused(&folder, &hostile).to_string();
    assert!(why.contains("there is no `job.tallyard` in it"), "{why}");
    assert!(!elsewhere.exists());
}

/// A link in the job file's place is the text of a path, and no job.
#[test]
fn a_link_in_the_job_files_place_is_not_followed() {
    let folder = Folder::new();
    let job = sample(&folder);
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    let target = job.path().display().to_string();
    zip.add_symlink("job.tallyard", target, SimpleFileOptions::default())
        .unwrap();
    let why = refused(&folder, &zip.finish().unwrap().into_inner());
    assert!(matches!(why.fault, Fault::NotAJob(_)), "{why}");
}

#[test]
fn what_is_no_job_inside_is_said() {
    let folder = Folder::new();
    for inside in [&b""[..], b"hello", &[0xFF; 5000]] {
        let why = refused(
            &folder,
            &zip(&[("job.tallyard", inside)], CompressionMethod::Stored),
        );
        assert!(matches!(why.fault, Fault::NotAJob(_)), "{why}");
    }
    for bytes in [&b"PK\x03\x04"[..], b"PK\x03\x04 and no more", b"PK\x05\x06"] {
        let why = refused(&folder, bytes).to_string();
        assert!(why.contains("this is not a"), "{why}");
    }
}

const FOLDER: &str = "STORE_TEST_READ_FOLDER";
const NOBODY: u32 = 65_534;

/// The visitor: this test binary, started anew by root as somebody who owns nothing.
#[test]
fn the_reader() {
    if let Some(folder) = env::var_os(FOLDER) {
        read_all(Path::new(&folder));
    }
}

fn read_all(yard: &Path) {
    for (name, events) in [
        ("garden.tallyard", 3),
        ("bundle.zip", 3),
        ("open.tallyard", 3),
    ] {
        let job = Job::open_to_read(&yard.join(name)).unwrap();
        assert_eq!(job.events().unwrap().events.len(), events, "{name}");
    }
    assert!(
        verify_bundle(&yard.join("bundle.zip"), None)
            .unwrap()
            .is_well()
    );
    // Evidence is looked over where it lies.
    let evidence = Job::open_where_it_lies(&yard.join("garden.tallyard")).unwrap();
    assert!(evidence.verify(None).unwrap().is_well());
    // A log beside the file that cannot be read along would be passed over.
    let torn = Job::open_to_read(&yard.join("torn.tallyard")).unwrap_err();
    assert!(matches!(torn.fault, Fault::NotWritable(_)), "{torn}");
}

#[test]
fn a_job_is_read_where_nothing_can_be_written() {
    let folder = Folder::new();
    let yard = folder.path("yard");
    fs::create_dir(&yard).unwrap();
    let job = sample(&folder);
    bundle(&job, &yard.join("bundle.zip"));
    for name in ["garden.tallyard", "open.tallyard", "torn.tallyard"] {
        job.copy_to(&yard.join(name)).unwrap();
    }
    fs::write(yard.join("torn.tallyard-wal"), "something").unwrap();
    for file in fs::read_dir(&yard).unwrap() {
        fs::set_permissions(file.unwrap().path(), Permissions::from_mode(0o444)).unwrap();
    }
    fs::set_permissions(yard.join("open.tallyard"), Permissions::from_mode(0o666)).unwrap();
    for path in [&folder.path(""), &yard] {
        fs::set_permissions(path, Permissions::from_mode(0o555)).unwrap();
    }
    if fs::write(yard.join("probe"), "").is_ok() {
        fs::remove_file(yard.join("probe")).unwrap();
        let program = folder.path("visitor");
        fs::copy(env::current_exe().unwrap(), &program).unwrap();
        let visit = Command::new(&program)
            .args(["--exact", "bundle_hostile::the_reader"])
            .env(FOLDER, &yard)
            .uid(NOBODY)
            .gid(NOBODY)
            .output()
            .unwrap();
        let told = String::from_utf8_lossy(&visit.stdout);
        assert!(
            visit.status.success() && told.contains("1 passed"),
            "{told}"
        );
    } else {
        read_all(&yard);
    }
    for path in [&folder.path(""), &yard] {
        fs::set_permissions(path, Permissions::from_mode(0o755)).unwrap();
    }
}
