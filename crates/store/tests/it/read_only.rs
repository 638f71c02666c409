//! A job where it cannot be written.

use std::env;
use std::fs::{self, Permissions};
use std::os::unix::fs::PermissionsExt;
use std::os::unix::process::CommandExt;
use std::path::Path;
use std::process::Command;

use store::{Fault, Job};

use crate::samples::{Folder, count};

const FOLDER: &str = "STORE_TEST_READ_ONLY_FOLDER";
const NOBODY: u32 = 65_534;

/// What a person meets who may only read: the same three tries in both tests below.
fn try_all(folder: &Path) {
    let not_writable = |result: Result<Job, store::StoreError>, what: &str| {
        let refused = result.expect_err(what);
        assert!(
            matches!(refused.fault, Fault::NotWritable(_)),
            "{what}: {refused}"
        );
        let message = refused.to_string();
        assert!(
            message.contains("copy the job to a folder of your own"),
            "{message}"
        );
    };
    not_writable(
        Job::open(&folder.join("read-only.job")),
        "the file is read-only",
    );
    not_writable(
        Job::open(&folder.join("garden.job")),
        "the folder is read-only",
    );
    not_writable(
        Job::create(&folder.join("new.job")),
        "the folder takes no new file",
    );
    not_writable(
        Job::open(&folder.join("private.job")),
        "the file is another's",
    );
}

/// The visitor: this test binary, started anew by root as somebody who owns nothing.
#[test]
fn the_visitor() {
    if let Some(folder) = env::var_os(FOLDER) {
        try_all(Path::new(&folder));
    }
}

#[test]
fn what_cannot_be_written_is_said_plainly() {
    let folder = Folder::new();
    let yard = folder.path("yard");
    fs::create_dir(&yard).unwrap();
    for (name, mode) in [
        ("garden.job", 0o666),
        ("read-only.job", 0o444),
        ("private.job", 0o000),
    ] {
        let path = yard.join(name);
        let mut job = Job::create(&path).unwrap();
        count(&mut job, 1, "phone-1");
        drop(job);
        fs::set_permissions(&path, Permissions::from_mode(mode)).unwrap();
    }
    for path in [&folder.path(""), &yard] {
        fs::set_permissions(path, Permissions::from_mode(0o555)).unwrap();
    }
    // Root may write anywhere, so root sends somebody else.
    if fs::write(yard.join("probe"), "").is_ok() {
        fs::remove_file(yard.join("probe")).unwrap();
        let program = folder.path("visitor");
        fs::copy(env::current_exe().unwrap(), &program).unwrap();
        let visit = Command::new(&program)
            .args(["--exact", "read_only::the_visitor"])
            .env(FOLDER, &yard)
            .uid(NOBODY)
            .gid(NOBODY)
            .output()
            .unwrap();
        assert!(
            visit.status.success(),
            "{}",
            String::from_utf8_lossy(&visit.stdout)
        );
        let told = String::from_utf8_lossy(&visit.stdout);
        assert!(told.contains("1 passed"), "{told}");
    } else {
        try_all(&yard);
    }
    for path in [&folder.path(""), &yard] {
        fs::set_permissions(path, Permissions::from_mode(0o755)).unwrap();
    }
}
