//! Disks that do not take it: read-only, gone, full; and a backup while the register is open.

use std::path::Path;
use std::process::Command;

use register::{Register, RegisterError};

use crate::made;

#[test]
fn a_folder_that_is_gone_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let path = made::register(folder.path(), 3);
    std::fs::remove_dir_all(folder.path()).unwrap();
    assert!(matches!(
        Register::open(&path),
        Err(RegisterError::Missing(_))
    ));
}

#[test]
fn a_backup_while_open_is_whole_and_is_restored() {
    let folder = tempfile::tempdir().unwrap();
    let path = made::register(folder.path(), 3);
    let mut open = Register::open(&path).unwrap();
    made::note(&mut open, 50).unwrap();
    let backup = folder.path().join("backup.register");
    Register::back_up(&path, &backup).unwrap();
    // What happens after it is in the register and not in the backup.
    made::note(&mut open, 51).unwrap();
    open.close().unwrap();
    let head = Register::verify(&path, None).unwrap().head;
    let kept = Register::verify(&backup, None).unwrap();
    assert_eq!((kept.faults.len(), kept.head.size), (0, 4));
    std::fs::copy(&backup, &path).unwrap();
    let mut restored = Register::open(&path).unwrap();
    made::note(&mut restored, 52).unwrap();
    restored.close().unwrap();
    assert_eq!(Register::verify(&path, None).unwrap().faults, []);
    // The head from before the disaster shows that an act is missing.
    assert!(
        !Register::verify(&path, Some(&head))
            .unwrap()
            .faults
            .is_empty()
    );
    assert!(
        Register::back_up(&path, &backup).is_err(),
        "a backup is never overwritten"
    );
}

/// A small disk of its own; none where this is not root on Linux.
struct SmallDisk(tempfile::TempDir);

impl SmallDisk {
    fn new(options: &str) -> Option<Self> {
        let folder = tempfile::tempdir().unwrap();
        let mounted = Command::new("mount")
            .args(["-t", "tmpfs", "-o", options, "tmpfs"])
            .arg(folder.path())
            .output();
        let mounted = mounted.is_ok_and(|output| output.status.success());
        mounted.then_some(Self(folder))
    }
    fn path(&self) -> &Path {
        self.0.path()
    }
}

impl Drop for SmallDisk {
    fn drop(&mut self) {
        let _ = Command::new("umount").arg(self.0.path()).status();
    }
}

#[test]
fn a_full_disk_loses_no_acknowledged_act() {
    let Some(disk) = SmallDisk::new("size=400k") else {
        println!("full disk: skipped, a disk can be mounted by root alone");
        return;
    };
    let path = made::register(disk.path(), 2);
    let mut acknowledged = 0;
    let mut refused = None;
    for number in 0..2_000 {
        let done = Register::open(&path).and_then(|mut register| {
            let done = made::note(&mut register, number);
            // Without its write-ahead file folded in, each act needs more room than it will keep.
            let _ = register.close();
            done
        });
        match done {
            Ok(()) => acknowledged += 1,
            Err(error) => {
                refused = Some(error);
                break;
            }
        }
    }
    let refused = refused.expect("the disk never filled");
    let copy = tempfile::tempdir().unwrap();
    let moved = copy.path().join("sitting.register");
    std::fs::copy(&path, &moved).unwrap();
    for beside in ["-wal", "-shm"] {
        let name = format!("sitting.register{beside}");
        if disk.path().join(&name).is_file() {
            std::fs::copy(disk.path().join(&name), copy.path().join(&name)).unwrap();
        }
    }
    let found = Register::verify(&moved, None).unwrap();
    assert_eq!(found.faults, []);
    let lost = acknowledged + 2 - found.head.size.min(acknowledged + 2);
    println!("full disk: {acknowledged} acts acknowledged, then \"{refused}\"; {lost} lost");
    assert_eq!(lost, 0);
}

#[test]
fn a_disk_that_became_read_only_is_told_and_still_checked() {
    let Some(disk) = SmallDisk::new("size=4m") else {
        println!("read-only disk: skipped, a disk can be mounted by root alone");
        return;
    };
    let path = made::register(disk.path(), 3);
    let remount = Command::new("mount")
        .args(["-o", "remount,ro"])
        .arg(disk.path())
        .status()
        .unwrap();
    assert!(remount.success());
    let done = Register::open(&path).and_then(|mut register| made::note(&mut register, 9));
    assert!(
        matches!(done, Err(RegisterError::CannotWrite(_))),
        "{done:?}"
    );
    let found = Register::verify(&path, None).unwrap();
    assert_eq!((found.faults.len(), found.head.size), (0, 3));
    println!("read-only disk: told, and the register checked where it lies");
}
