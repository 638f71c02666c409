//! What belongs to one copy alone.

use store::{Device, Fault, Job};

use crate::samples::Folder;

fn device(id: &str, token: u8) -> Device {
    Device {
        id: id.into(),
        token: [token; 32],
        name: "Ines's phone".into(),
        revoked: false,
    }
}

#[test]
fn code_and_devices_stay_with_the_file() {
    let folder = Folder::new();
    let mut job = folder.create("garden.job");
    assert_eq!(job.join_code().unwrap(), None);
    job.set_join_code("7KQ2").unwrap();
    job.set_join_code("9XR4").unwrap();
    job.add_device(&device("phone-1", 1)).unwrap();
    job.add_device(&device("phone-2", 2)).unwrap();
    let writer = job.writer().unwrap();
    drop(job);
    let mut job = Job::open(&folder.path("garden.job")).unwrap();
    assert_eq!(job.writer().unwrap(), writer);
    assert_eq!(job.join_code().unwrap().as_deref(), Some("9XR4"));
    assert_eq!(
        job.device_by_token(&[2; 32]).unwrap(),
        Some(device("phone-2", 2))
    );
    assert_eq!(job.device_by_token(&[3; 32]).unwrap(), None);
    assert!(job.revoke_device("phone-2", true).unwrap());
    assert!(!job.revoke_device("phone-3", true).unwrap());
    let revoked = Device {
        revoked: true,
        ..device("phone-2", 2)
    };
    assert_eq!(
        job.device_by_token(&[2; 32]).unwrap().as_ref(),
        Some(&revoked)
    );
    assert_eq!(job.devices().unwrap(), [device("phone-1", 1), revoked]);
    assert!(job.revoke_device("phone-2", false).unwrap());
    assert_eq!(
        job.devices().unwrap(),
        [device("phone-1", 1), device("phone-2", 2)]
    );
}

#[test]
fn a_device_takes_another_name_and_keeps_its_key() {
    let folder = Folder::new();
    let mut job = folder.create("garden.job");
    job.add_device(&device("phone-1", 1)).unwrap();
    assert!(job.rename_device("phone-1", "Tomasz").unwrap());
    assert!(!job.rename_device("phone-2", "Tomasz").unwrap());
    assert!(job.rename_device("phone-1", "a\nb").is_err());
    drop(job);
    let job = Job::open(&folder.path("garden.job")).unwrap();
    let renamed = Device {
        name: "Tomasz".into(),
        ..device("phone-1", 1)
    };
    assert_eq!(job.device_by_token(&[1; 32]).unwrap(), Some(renamed));
}

#[test]
fn ids_and_tokens_are_used_once_and_names_are_names() {
    let folder = Folder::new();
    let mut job = folder.create("garden.job");
    job.add_device(&device("phone-1", 1)).unwrap();
    for again in [
        device("phone-1", 2),
        device("phone-2", 1),
        device("", 3),
        device("a\nb", 3),
    ] {
        let refused = job.add_device(&again).unwrap_err().fault;
        assert!(matches!(refused, Fault::Setting(_)), "{refused}");
    }
    assert!(job.set_join_code(" ").is_err());
    assert_eq!(job.devices().unwrap(), [device("phone-1", 1)]);
}

#[test]
fn a_copy_and_a_merge_carry_neither_code_nor_devices() {
    let folder = Folder::new();
    let mut job = folder.create("garden.job");
    job.set_join_code("SECRETCODE").unwrap();
    job.add_device(&device("phone-1", b'T')).unwrap();
    let mut copy = folder.copy(&job, "copy.job");
    assert_eq!(
        (copy.join_code().unwrap(), copy.devices().unwrap()),
        (None, vec![])
    );
    assert_ne!(copy.writer().unwrap(), job.writer().unwrap());
    copy.merge(&job).unwrap();
    assert_eq!(
        (copy.join_code().unwrap(), copy.devices().unwrap()),
        (None, vec![])
    );
    drop(copy);
    // Nor do they lie about in its free pages.
    let bytes = std::fs::read(folder.path("copy.job")).unwrap();
    let holds = |needle: &[u8]| bytes.windows(needle.len()).any(|window| window == needle);
    assert!(
        holds(b"events are never changed"),
        "the search finds what is there"
    );
    assert!(!holds(b"SECRETCODE") && !holds(&[b'T'; 32]));
}
