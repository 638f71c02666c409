//! A bundle that somebody changed: every byte of it, and what stands between its files, after them or in their stead.

use std::fs::{self, File, OpenOptions};
use std::io::{Cursor, Read, Write};
use std::os::unix::fs::FileExt;
use std::path::PathBuf;

use store::{BundleReport, verify_bundle};
use tally::Digest;
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipArchive, ZipWriter};

use crate::bundle::{PHOTO, bundle, sample};
use crate::samples::{Folder, tamper};

type Files = Vec<(String, Vec<u8>)>;

struct Tampered {
    folder: Folder,
    path: PathBuf,
    whole: Vec<u8>,
}

impl Tampered {
    fn new() -> Self {
        let folder = Folder::new();
        let path = folder.path("bundle.zip");
        bundle(&sample(&folder), &path);
        let whole = fs::read(&path).unwrap();
        let this = Self {
            folder,
            path,
            whole,
        };
        assert!(this.look(&this.whole.clone()).is_well());
        this
    }

    fn look(&self, bytes: &[u8]) -> BundleReport {
        fs::write(&self.path, bytes).unwrap();
        verify_bundle(&self.path, None).unwrap()
    }

    /// What is found wrong with these bytes; it must be something, and say this.
    fn wrong(&self, bytes: &[u8], says: &str) -> String {
        let report = self.look(bytes);
        let said = report.wrong.join("\n");
        assert!(
            !report.is_well() && said.contains(says),
            "{says}: {report:?}"
        );
        said
    }

    /// The files with their content.
    fn files(&self) -> Files {
        let mut archive = ZipArchive::new(Cursor::new(&self.whole)).unwrap();
        let read = |index| {
            let mut file = archive.by_index(index).unwrap();
            let mut bytes = Vec::new();
            file.read_to_end(&mut bytes).unwrap();
            (file.name().unwrap().into_owned(), bytes)
        };
        (0..8).map(read).collect()
    }

    /// Packs files as another program would.
    fn packed(files: &[(String, Vec<u8>)], method: CompressionMethod) -> Vec<u8> {
        let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
        let options = SimpleFileOptions::default().compression_method(method);
        for (name, bytes) in files {
            zip.start_file(name.as_str(), options).unwrap();
            zip.write_all(bytes).unwrap();
        }
        zip.finish().unwrap().into_inner()
    }

    /// Flips bits of bytes, one byte at a time, each of which must be found.
    fn flip(&self, at: impl Iterator<Item = usize>, bits: u8) -> usize {
        let file = OpenOptions::new().write(true).open(&self.path).unwrap();
        file.write_all_at(&self.whole, 0).unwrap();
        file.set_len(self.whole.len() as u64).unwrap();
        let mut flipped = 0;
        for at in at {
            let byte = self.whole[at];
            file.write_all_at(&[byte ^ bits], at as u64).unwrap();
            let found = verify_bundle(&self.path, None).is_ok_and(|report| report.is_well());
            assert!(
                !found,
                "byte {at} of {} was changed and nobody saw",
                self.whole.len()
            );
            file.write_all_at(&[byte], at as u64).unwrap();
            flipped += 1;
        }
        flipped
    }

    /// Where the job file's content lies: most of a small bundle.
    fn job_file(&self) -> std::ops::Range<usize> {
        let start = self.find(b"SQLite format 3\0");
        let (_, job) = self.files().remove(6);
        start..start + job.len()
    }

    fn find(&self, what: &[u8]) -> usize {
        let mut windows = self.whole.windows(what.len());
        windows.position(|window| window == what).unwrap()
    }
}

/// Each byte of each header, name, time, sum, of the directory, its end, the manifest, the log, photos, papers; of the
/// job file every 61st here, and every one in the test below.
#[test]
fn a_flipped_bit_anywhere_is_found() {
    let tampered = Tampered::new();
    let job = tampered.job_file();
    let all = 0..tampered.whole.len();
    let flipped = tampered.flip(all.filter(|at| !job.contains(at) || at % 61 == 0), 0x01);
    assert!(flipped > tampered.whole.len() - job.len());
}

#[test]
#[ignore = "takes minutes: every byte, each bit"]
fn every_bit_of_every_byte_is_found() {
    let tampered = Tampered::new();
    let length = tampered.whole.len();
    for bit in 0..8 {
        assert_eq!(tampered.flip(0..length, 1 << bit), length);
    }
    println!(
        "{length} bytes, each of 8 bits: {} changes, all found",
        8 * length
    );
}

#[test]
fn bytes_before_between_and_after_the_files_are_found() {
    let t = Tampered::new();
    t.wrong(&[&t.whole[..], b"x"].concat(), "");
    t.wrong(&[b"x", &t.whole[..]].concat(), "");
    t.wrong(&[&t.whole[..], &[0; 70_000]].concat(), "");
    t.wrong(&t.whole[..t.whole.len() - 1], "");
    t.wrong(&t.whole[..100], "it is not a whole zip");
    t.wrong(b"", "it is not a whole zip");
    // A comment, of which the zip's end says how long it is.
    let mut comment = t.whole.clone();
    let length = comment.len();
    comment[length - 2] = 3;
    comment.extend(b"hey");
    t.wrong(&comment, "the end of the directory is another");
    // Between two files, with the directory moved on as it should be.
    let (photo, directory) = (t.find(PHOTO) + PHOTO.len(), t.find(b"PK\x01\x02"));
    let mut between = t.whole.clone();
    between.splice(directory..directory, *b"hidden");
    let end = between.len() - 6;
    let moved = (directory as u32 + 6).to_le_bytes();
    between[end..end + 4].copy_from_slice(&moved);
    t.wrong(&between, "the directory is another");
    assert!(photo < directory);
}

#[test]
fn files_that_were_added_taken_out_changed_or_moved_are_named() {
    let t = Tampered::new();
    let files = t.files();
    let stored = |files: &[(String, Vec<u8>)]| Tampered::packed(files, CompressionMethod::Stored);

    let mut added = files.clone();
    added.insert(1, ("papers/claim.pdf".into(), b"%PDF".to_vec()));
    t.wrong(&stored(&added), "`papers/claim.pdf` is not in SHA256SUMS");

    let mut less = files.clone();
    less.remove(2);
    let said = t.wrong(
        &stored(&less),
        "is in SHA256SUMS and cannot be read in the zip",
    );
    assert!(
        said.contains(&format!("photos/001-{}.jpg", Digest::of(PHOTO))),
        "{said}"
    );

    let mut changed = files.clone();
    changed[1].1.push(b' ');
    let says = "`papers/over-short-damaged.pdf` is not the file that was packed";
    t.wrong(&stored(&changed), says);

    let mut moved = files.clone();
    moved.swap(0, 1);
    t.wrong(
        &stored(&moved),
        "SHA256SUMS is not written as it was packed",
    );

    let mut none = files;
    none.remove(6);
    t.wrong(&stored(&none), "there is no `job.tallyard` in it");
}

/// Whoever makes the manifest anew still has to make it fit the job inside.
#[test]
fn a_manifest_made_anew_does_not_cover_what_the_job_tells() {
    let t = Tampered::new();
    let with = |change: &dyn Fn(&mut Files)| {
        let mut files = t.files();
        files.pop();
        change(&mut files);
        let sums: String = (files.iter())
            .map(|(name, bytes)| format!("{}  {name}\n", Digest::of(bytes)))
            .collect();
        files.push(("SHA256SUMS".into(), sums.into_bytes()));
        Tampered::packed(&files, CompressionMethod::Stored)
    };
    let same = t.wrong(&with(&|_| {}), "is another");
    assert_eq!(
        same.lines().count(),
        1,
        "only the zip's own bytes differ: {same}"
    );
    let log = with(&|files| files[5].1.extend(b"more\n"));
    t.wrong(&log, "`log.txt` is not the log of the job file");
    let photo = with(&|files| files[2].1 = b"another picture".to_vec());
    t.wrong(&photo, "has the name of another document");
    let gone = with(&|files| drop(files.remove(2)));
    let digest = Digest::of(PHOTO);
    t.wrong(
        &gone,
        &format!("document {digest} is in the job file and not beside it"),
    );
    let more = with(&|files| {
        let name = format!("photos/002-{}.jpg", Digest::of(b"invented"));
        files.insert(3, (name, b"invented".to_vec()));
    });
    t.wrong(&more, "is no document of the job, or stands there twice");
    let twice = with(&|files| {
        let name = format!("photos/002-{digest}.jpg");
        files.insert(3, (name, PHOTO.to_vec()));
    });
    t.wrong(&twice, "is no document of the job, or stands there twice");
    let strange = with(&|files| files.insert(1, ("../../up.pdf".into(), vec![])));
    t.wrong(&strange, "`../../up.pdf` is no file of a bundle");

    // The job file with it: the chain tells.
    let path = t.folder.path("forged.tallyard");
    fs::write(&path, &t.files()[6].1).unwrap();
    tamper(
        &path,
        r#"update event set wire = replace(wire, '"quantity":25', '"quantity":26')"#,
    );
    let forged = fs::read(&path).unwrap();
    let report = t.look(&with(&|files| files[6].1.clone_from(&forged)));
    let inside = report.job.unwrap();
    assert!(inside.wrong[0].starts_with("event row 2: from here on the chain no longer fits"));
}

/// Packed anew by a mail program: no byte of its files differs, and that is told apart.
#[test]
fn a_zip_that_was_packed_anew_is_not_as_it_was_but_its_files_are() {
    let t = Tampered::new();
    let again = Tampered::packed(&t.files(), CompressionMethod::Deflated);
    assert_ne!(again.len(), t.whole.len());
    let said = t.wrong(&again, "the zip is not as it was packed");
    assert_eq!(said.lines().count(), 1, "{said}");
    assert!(store::Job::open_to_read(&t.path).is_ok());
    let mut file = File::create(&t.path).unwrap();
    file.write_all(&t.whole).unwrap();
    assert!(verify_bundle(&t.path, None).unwrap().is_well());
}
