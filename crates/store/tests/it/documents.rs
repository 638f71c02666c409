//! Documents.

use store::{Fault, MAX_DOCUMENT};
use tally::Digest;

use crate::samples::{Folder, tamper, wrong};

#[test]
fn a_document_is_found_by_its_bytes() {
    let folder = Folder::new();
    let mut job = folder.create("garden.job");
    let digest = job.put_document(b"abc").unwrap();
    assert_eq!(digest, Digest::of(b"abc"));
    assert_eq!(job.put_document(b"abc").unwrap(), digest);
    let empty = job.put_document(b"").unwrap();
    assert_eq!(job.document(&digest).unwrap().unwrap(), b"abc");
    assert_eq!(job.document(&empty).unwrap().unwrap(), b"");
    assert_eq!(job.document(&Digest::of(b"other")).unwrap(), None);
    assert_eq!(job.documents().unwrap(), [(digest, 3), (empty, 0)]);
    assert_eq!(job.document_size(&digest).unwrap(), Some(3));
    assert_eq!(job.document_size(&Digest::of(b"other")).unwrap(), None);
}

#[test]
fn a_document_that_is_too_big_is_refused() {
    let folder = Folder::new();
    let mut job = folder.create("garden.job");
    let mut bytes = vec![0; MAX_DOCUMENT + 1];
    let refused = job.put_document(&bytes).unwrap_err().fault;
    assert!(matches!(refused, Fault::DocumentTooBig(67_108_865)));
    bytes.pop();
    let digest = job.put_document(&bytes).unwrap();
    assert_eq!(job.document(&digest).unwrap().unwrap(), bytes);
}

#[test]
fn a_document_that_was_changed_is_not_handed_out() {
    let folder = Folder::new();
    let mut job = folder.create("garden.job");
    let digest = job.put_document(b"26 bows").unwrap();
    tamper(
        job.path(),
        "update document set bytes = cast('28 bows' as blob)",
    );
    let refused = job.document(&digest).unwrap_err().fault;
    assert!(matches!(refused, Fault::DocumentChanged(changed) if changed == digest));
    assert_eq!(
        wrong(&job),
        [format!(
            "document {digest}: its bytes do not match its digest"
        )]
    );
}
