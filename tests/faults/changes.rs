//! Bytes changed, entries put into another order: everything is detected.

use register::Register;
use register::ledger::check;

use crate::made;

/// A ledger of about this many bytes, and its head.
fn ledger() -> (Vec<u8>, register::Head) {
    let folder = tempfile::tempdir().unwrap();
    let mut entries = 20;
    loop {
        let path = folder.path().join(entries.to_string());
        std::fs::create_dir(&path).unwrap();
        let register = Register::open(&made::register(&path, entries)).unwrap();
        let text = format!("{}\n", register.ledger().unwrap().join("\n"));
        if text.len() >= 10_000 {
            return (text.into_bytes(), register.head().unwrap());
        }
        entries += 2;
    }
}

fn detected(bytes: &[u8], head: &register::Head) -> bool {
    let Ok(text) = std::str::from_utf8(bytes) else {
        return true;
    };
    // Line ends are those of the file as it is written: a line feed and nothing else.
    let Some(text) = text.strip_suffix('\n') else {
        return true;
    };
    !check(text.split('\n'), Some(head)).faults.is_empty()
}

#[test]
fn every_byte_of_a_ledger_is_changed_in_turn() {
    let (bytes, head) = ledger();
    assert!(!detected(&bytes, &head));
    let mut undetected = 0;
    for place in 0..bytes.len() {
        for change in [1, 0x80] {
            let mut changed = bytes.clone();
            changed[place] ^= change;
            undetected += u32::from(!detected(&changed, &head));
        }
    }
    println!(
        "{} bytes changed in 2 ways each: {undetected} undetected",
        bytes.len()
    );
    assert_eq!(undetected, 0);
}

#[test]
fn a_hundred_other_orders_are_told() {
    let (bytes, head) = ledger();
    let text = String::from_utf8(bytes).unwrap();
    let lines: Vec<&str> = text.lines().collect();
    let (mut tried, mut undetected) = (0, 0);
    let mut index = 0;
    while tried < 100 {
        let mut other = lines.clone();
        made::numbers(index).shuffle(&mut other);
        index += 1;
        if other != lines {
            tried += 1;
            undetected += u32::from(check(other.iter(), None).faults.is_empty());
            undetected += u32::from(check(other.iter(), Some(&head)).faults.is_empty());
        }
    }
    println!("{tried} orders: {undetected} undetected");
    assert_eq!(undetected, 0);
}

/// In the file itself a byte may lie where nothing is stored: then what is read stays the same.
#[test]
fn a_changed_byte_of_the_file_is_told_or_changes_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let path = made::register(folder.path(), 12);
    let bytes = std::fs::read(&path).unwrap();
    let kept = Register::verify(&path, None).unwrap().head;
    let texts = Register::ledger_of(&path).unwrap();
    let copy = folder.path().join("changed.register");
    let (mut told, mut nothing, mut undetected) = (0, 0, 0);
    for place in (0..bytes.len()).step_by(41) {
        let mut changed = bytes.clone();
        changed[place] ^= 1;
        std::fs::write(&copy, changed).unwrap();
        match Register::verify(&copy, Some(&kept)) {
            Ok(found) if found.faults.is_empty() => {
                let same = Register::ledger_of(&copy).is_ok_and(|read| read == texts);
                nothing += u32::from(same);
                undetected += u32::from(!same);
            }
            Ok(_) | Err(_) => told += 1,
        }
    }
    println!(
        "file: {told} changes told, {nothing} where nothing is stored, {undetected} undetected"
    );
    assert_eq!(undetected, 0);
    assert!(told > 0);
}
