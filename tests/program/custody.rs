//! Custody: the ledger of a sitting is checked by the program, alone and with a head that was kept.

use register::{Entry, Head};
use tests::Room;

const EXAM: &str = "examples/evening-class";

fn assembled() -> Room {
    let room = Room::with_example("evening-class");
    room.run(&["assemble", EXAM, "--seed", &"5a".repeat(32)])
        .exits(0);
    room
}

fn head(room: &Room) -> String {
    let report = room.run(&["verify", EXAM, "--json"]).exits(0).json();
    report["head"].as_str().unwrap().to_owned()
}

#[test]
fn every_act_leaves_its_entry_and_its_head_on_paper() {
    let room = assembled();
    let before = head(&room);
    room.run(&["print", EXAM]).exits(0);
    let after = head(&room);
    assert_ne!(before, after);
    room.run(&["verify", EXAM, "--head", &before])
        .exits(0)
        .gives("All is as it was written");
    let heads: Head = before.parse().unwrap();
    assert_eq!(heads.size, 1);
    room.run(&["verify", EXAM, "--ledger", "--to", "ledger.txt"])
        .exits(0);
    let acts: Vec<String> = room
        .text("ledger.txt")
        .lines()
        .map(|line| Entry::read(line).unwrap().act.to_string())
        .collect();
    assert_eq!(acts, ["assembled", "printed"]);
    // The sheets that examiners hold show it; no candidate's paper does.
    let group = before.split(['-', ':']).nth(1).unwrap();
    let shows = |name: &str| {
        let path = room.path(EXAM).join("papers").join(name);
        let output = std::process::Command::new("pdftotext")
            .arg(path)
            .arg("-")
            .output()
            .unwrap();
        String::from_utf8_lossy(&output.stdout).contains(group)
    };
    let showing: Vec<String> = room
        .files(&format!("{EXAM}/papers"))
        .into_keys()
        .filter(|name| name.ends_with(".pdf") && shows(name))
        .collect();
    assert_eq!(showing.len(), 2, "{showing:?}");
    assert!(
        showing.iter().any(|n| n.contains("print-list"))
            && showing.iter().any(|n| n.contains("room-sheet"))
    );
}

#[test]
fn proofs_are_checked_without_the_register() {
    let room = assembled();
    room.run(&["print", EXAM]).exits(0);
    let head = head(&room);
    room.run(&["verify", EXAM, "--entry", "1", "--to", "entry.json"])
        .exits(0);
    room.run(&["verify", EXAM, "--growth", "1", "--to", "growth.json"])
        .exits(0);
    std::fs::remove_dir_all(room.path("examples")).unwrap();
    for proof in ["entry.json", "growth.json"] {
        room.run(&["verify", proof, "--head", &head]).exits(0);
    }
    room.replace("entry.json", "assembler", "proctor");
    room.run(&["verify", "entry.json"])
        .exits(4)
        .gives("does not hold");
    room.run(&[
        "verify",
        "growth.json",
        "--head",
        &format!("7:{}", "A".repeat(52)),
    ])
    .exits(4)
    .gives("other heads");
    room.run(&["verify", "nowhere"])
        .exits(3)
        .says("nothing to check");
}

#[test]
fn a_changed_register_is_told_with_its_own_exit_code() {
    let room = assembled();
    let path = room.path(EXAM).join("sitting.register");
    let bytes = std::fs::read(&path).unwrap();
    let sought = b"A1";
    let at = bytes.windows(2).rposition(|two| two == sought).unwrap();
    let mut changed = bytes.clone();
    changed[at + 1] = b'2';
    std::fs::write(&path, changed).unwrap();
    let code = room.run(&["verify", EXAM]).code;
    assert!(code == 4 || code == 5, "{code}");
    std::fs::write(&path, bytes).unwrap();
    room.run(&["verify", EXAM]).exits(0);
}
