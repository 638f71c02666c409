//! Copies made with the file manager.

use std::fs;

use store::{Device, Job};

use crate::samples::{Folder, count};

#[test]
fn a_plain_copy_is_another_copy_and_a_moved_file_is_not() {
    let folder = Folder::new();
    let (first, second) = (folder.path("garden.job"), folder.path("copy.job"));
    let mut job = folder.create("garden.job");
    job.set_join_code("7KQ2").unwrap();
    let name = "Ines's phone".to_owned();
    job.add_device(&Device {
        id: "phone-1".into(),
        token: [1; 32],
        name,
        revoked: false,
    })
    .unwrap();
    count(&mut job, 1, "phone-1");
    let writer = job.writer().unwrap();
    drop(job);

    // The file system's clock may be coarse: copy until it tells the two apart.
    let born = |path| fs::metadata(path).unwrap().created().unwrap();
    loop {
        fs::copy(&first, &second).unwrap();
        if born(&second) != born(&first) {
            break;
        }
        fs::remove_file(&second).unwrap();
    }
    let copy = Job::open(&second).unwrap();
    assert_ne!(copy.writer().unwrap(), writer);
    assert_eq!(
        (copy.join_code().unwrap(), copy.devices().unwrap()),
        (None, vec![])
    );
    assert_eq!(copy.events().unwrap().events.len(), 1);

    let moved = folder.path("moved.job");
    fs::rename(&first, &moved).unwrap();
    let moved = Job::open(&moved).unwrap();
    assert_eq!(moved.writer().unwrap(), writer);
    assert_eq!(moved.join_code().unwrap().as_deref(), Some("7KQ2"));
    assert_eq!(moved.devices().unwrap().len(), 1);
}
