//! Thumbnails: this copy's own.

use std::fs;

use store::{Fault, Job, MAX_THUMBNAIL, Merged};
use tally::Digest;

use crate::samples::{Folder, wrong};

#[test]
fn a_thumbnail_is_kept_beside_its_photo_and_made_anew() {
    let folder = Folder::new();
    let mut job = folder.create("garden.job");
    let photo = job.put_photo(b"a photo", b"small").unwrap();
    assert_eq!(photo, Digest::of(b"a photo"));
    assert_eq!(job.document(&photo).unwrap().unwrap(), b"a photo");
    assert_eq!(job.thumbnail(&photo).unwrap().unwrap(), b"small");
    job.put_thumbnail(&photo, b"smaller").unwrap();
    drop(job);
    let mut job = Job::open(&folder.path("garden.job")).unwrap();
    assert_eq!(job.thumbnail(&photo).unwrap().unwrap(), b"smaller");
    let other = job.put_document(b"another").unwrap();
    assert_eq!(job.thumbnail(&other).unwrap(), None);
    assert_eq!(wrong(&job), Vec::<String>::new());
}

#[test]
fn what_is_no_thumbnail_is_refused_and_nothing_is_kept() {
    let folder = Folder::new();
    let mut job = folder.create("garden.job");
    let big = vec![0; MAX_THUMBNAIL + 1];
    let refused = job.put_photo(b"a photo", &big).unwrap_err();
    assert!(
        refused
            .to_string()
            .ends_with("garden.job: the thumbnail takes 262145 bytes; at most 262144 fit"),
        "{refused}"
    );
    assert_eq!(job.documents().unwrap(), []);
    let nowhere = Digest::of(b"nowhere");
    let refused = job.put_thumbnail(&nowhere, b"small").unwrap_err().fault;
    assert!(matches!(refused, Fault::NoDocument(digest) if digest == nowhere));
    job.put_photo(b"a photo", &big[1..]).unwrap();
}

/// A thumbnail that came with a file from elsewhere could show anything.
#[test]
fn copies_and_merges_carry_no_thumbnails() {
    let folder = Folder::new();
    let mut job = folder.create("garden.job");
    let mut before = folder.copy(&job, "before.job");
    let photo = job.put_photo(b"a photo", b"small").unwrap();
    let taken = Merged {
        documents: 1,
        ..Merged::default()
    };
    assert_eq!(before.merge(&job).unwrap(), taken);
    assert_eq!(before.thumbnail(&photo).unwrap(), None);
    job.copy_to(&folder.path("copy.job")).unwrap();
    drop(job);
    // Not even in the free pages of the copy.
    let holds = |name: &str, needle: &[u8]| {
        let bytes = fs::read(folder.path(name)).unwrap();
        bytes.windows(needle.len()).any(|window| window == needle)
    };
    assert!(holds("garden.job", b"small") && holds("copy.job", b"a photo"));
    assert!(!holds("copy.job", b"small"));

    // As the file manager copies it: another file, once the file system's clock has gone on.
    let (first, second) = (folder.path("garden.job"), folder.path("plain.job"));
    let born = |path| fs::metadata(path).unwrap().created().unwrap();
    loop {
        fs::copy(&first, &second).unwrap();
        if born(&second) != born(&first) {
            break;
        }
        fs::remove_file(&second).unwrap();
    }
    assert_eq!(Job::open(&second).unwrap().thumbnail(&photo).unwrap(), None);
    let job = Job::open(&first).unwrap();
    assert_eq!(job.thumbnail(&photo).unwrap().unwrap(), b"small");
}
