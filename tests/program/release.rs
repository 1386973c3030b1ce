//! Results are given out by an act of two roles: before it reports are marked, after it marks change by
//! corrections alone.

use register::{Act, Entry, Register};
use tests::Room;

const REGISTER: &str = "exam/sitting.register";
const RELEASE: [&str; 5] = ["results", "release", "exam", "--confirmed-by", "assembler"];

fn assembled() -> Room {
    let room = Room::empty();
    tests::copy(
        &tests::top().join("tests/papers/small-exam"),
        &room.path("exam"),
    );
    room.run(&["assemble", "exam", "--seed", &"3c".repeat(32)])
        .exits(0);
    room
}

fn answer(room: &Room, letter: &str, word: &str) {
    room.put(
        "exam/answers/answers.csv",
        format!(
            "candidate,part,question,answer\nS-1,theory,1,{letter}\nS-1,tasting,373 aroma,{word}\n"
        ),
    );
}

fn entries(room: &Room) -> Vec<Entry> {
    let register = Register::open(&room.path(REGISTER)).unwrap();
    let texts = register.ledger().unwrap();
    texts
        .iter()
        .map(|text| Entry::read(text).unwrap())
        .collect()
}

fn says(room: &Room, paper: &str, words: &str) -> bool {
    let output = std::process::Command::new("pdftotext")
        .arg("-layout")
        .arg(room.path(paper))
        .arg("-")
        .output()
        .unwrap();
    assert!(output.status.success(), "{paper}");
    let text = String::from_utf8_lossy(&output.stdout);
    let plain: Vec<&str> = text.split_whitespace().collect();
    plain.join(" ").contains(words)
}

const PAPERS: [&str; 2] = [
    "exam/results/02-class-summary_chief-examiner.pdf",
    "exam/results/reports/S-1.pdf",
];

#[test]
fn reports_are_marked_until_two_roles_release_what_was_looked_at() {
    let room = assembled();
    answer(&room, "B", "wet gravestone");
    room.run(&["mark", "exam"]).exits(0);
    room.run(&["results", "exam"])
        .exits(0)
        .says("decide before you release");
    for paper in PAPERS {
        assert!(says(&room, paper, "Not released"), "{paper}");
    }
    // What waits is decided first.
    room.run(&RELEASE).exits(3).says("1 do");
    room.put(
        "exam/decisions/words.csv",
        "of,written,decision,why,by\nsample cane-copper-8 aroma,wet gravestone,nothing,,CE\n",
    );
    room.run(&["mark", "exam"]).exits(0);
    // The marks changed since anybody looked.
    room.run(&RELEASE).exits(3).says("nobody has looked");
    room.run(&["results", "exam"])
        .exits(0)
        .says("not released yet. next: valinch results release exam");
    // One role alone does not release, nor does another than the chief examiner.
    room.run(&RELEASE[..3]).exits(3).says("two roles");
    room.run(&[&RELEASE[..], &["--role", "marker"]].concat())
        .exits(3)
        .says("the role marker may not release results");
    assert!(!entries(&room).iter().any(|e| e.act == Act::Released));
    room.run(&RELEASE)
        .exits(0)
        .says("from here on a change is a correction");
    for paper in PAPERS {
        assert!(!says(&room, paper, "Not released"), "{paper}");
    }
    let released = entries(&room).pop().unwrap();
    assert_eq!(released.act, Act::Released);
    assert_eq!(released.by.confirmed_by, Some(register::Role::Assembler));
    // The entry names the class list that stands in the folder, its names left out.
    let list = room.text("exam/results/01-class-list.csv");
    assert!(list.contains("Tomás Quirrel"));
    let list = ["Ilse Vandermoor", "Tomás Quirrel", "Aiko Brandt"]
        .iter()
        .fold(list, |list, name| list.replace(name, ""));
    assert_eq!(released.details["class list"], register::digest_of(&list));
    let tried = entries(&room);
    let tried = tried.iter().filter(|e| e.act == Act::Refused);
    assert_eq!(tried.count(), 2);
    room.run(&RELEASE).exits(3).says("released already");
    room.run(&["verify", "exam"]).exits(0);
}

/// The correction reads its decisions from a pipe, so that another program can enter something between
/// its looking and its writing.
#[cfg(unix)]
#[test]
fn a_correction_of_what_moved_meanwhile_is_refused_and_changes_nothing() {
    use std::io::Write;
    let room = assembled();
    answer(&room, "B", "banana");
    room.run(&["mark", "exam"]).exits(0);
    room.replace(
        "exam/plan.yaml",
        "quality: { marks: 1 }",
        "quality: { marks: 2 }",
    );
    let pipe = room.path("decisions.csv");
    let made = std::process::Command::new("mkfifo").arg(&pipe).status();
    assert!(made.unwrap().success());
    let correct = [
        "results",
        "regrade",
        "exam",
        "--decisions",
        "decisions.csv",
        "--apply",
        "--why",
        "quality was to count twice",
        "--confirmed-by",
        "marker",
    ];
    let outcome = std::thread::scope(|threads| {
        let correcting = threads.spawn(|| room.run(&correct));
        // Opens when the program opens it to read: by then it has read the register.
        let mut decisions = std::fs::OpenOptions::new().write(true).open(&pipe).unwrap();
        let mut other = Register::open(&room.path(REGISTER)).unwrap();
        let by = register::By::new(register::Role::Proctor, None);
        other
            .note(Act::Incident, &by, register::Details::new())
            .unwrap();
        drop(other);
        decisions
            .write_all(b"of,written,decision,why,by\n")
            .unwrap();
        drop(decisions);
        correcting.join().unwrap()
    });
    outcome
        .exits(3)
        .says("something was entered in the register since it was read; nothing was changed")
        .says("look at the difference again");
    assert!(!entries(&room).iter().any(|e| e.act == Act::Corrected));
    // Looked at again, it is applied.
    let again: Vec<&str> = correct[..3].iter().chain(&correct[5..]).copied().collect();
    room.run(&again).exits(0);
}

#[test]
fn after_the_release_a_change_is_a_correction_with_old_new_and_why() {
    let room = assembled();
    answer(&room, "B", "banana");
    room.run(&["mark", "exam"]).exits(0);
    room.run(&["results", "exam"]).exits(0);
    let appeal = [
        "results",
        "appeal",
        "exam",
        "--candidate",
        "S-1",
        "--item",
        "theory 1",
    ];
    room.run(&appeal).exits(0);
    assert!(says(&room, "exam/appeals/S-1.pdf", "Not released"));
    room.run(&RELEASE).exits(0);
    room.run(&appeal).exits(0);
    assert!(!says(&room, "exam/appeals/S-1.pdf", "Not released"));
    // Marking again is refused, and that it was tried is entered.
    answer(&room, "A", "banana");
    let before = Register::open(&room.path(REGISTER))
        .unwrap()
        .marks()
        .unwrap();
    room.run(&["mark", "exam"])
        .exits(3)
        .says("are released")
        .says("results regrade");
    let now = Register::open(&room.path(REGISTER)).unwrap();
    assert_eq!(now.marks().unwrap(), before);
    drop(now);
    let tried = entries(&room).pop().unwrap();
    assert_eq!(
        (tried.act, tried.details["tried"].as_str()),
        (Act::Refused, "mark answers after the release")
    );
    // A changed tariff is applied as a correction; reports stay out, the summary says so.
    room.replace(
        "exam/plan.yaml",
        "quality: { marks: 1 }",
        "quality: { marks: 2 }",
    );
    room.run(&[
        "results",
        "regrade",
        "exam",
        "--apply",
        "--why",
        "quality was to count twice",
        "--confirmed-by",
        "marker",
    ])
    .exits(0);
    let corrected = entries(&room).pop().unwrap();
    assert_eq!(corrected.act, Act::Corrected);
    assert_eq!(corrected.details["why"], "quality was to count twice");
    room.run(&["results", "exam"]).exits(0);
    assert!(says(&room, PAPERS[0], "Corrected since"));
    assert!(!says(&room, PAPERS[1], "Not released"));
    room.run(&["verify", "exam"]).exits(0);
}

/// The program itself refuses it; a ledger that another wrote is looked at too.
#[test]
fn a_ledger_that_marks_behind_the_release_is_told() {
    let room = assembled();
    answer(&room, "B", "banana");
    room.run(&["mark", "exam"]).exits(0);
    room.run(&["results", "exam"]).exits(0);
    room.run(&RELEASE).exits(0);
    room.run(&["verify", "exam", "--ledger", "--to", "ledger.jsonl"])
        .exits(0);
    room.run(&["verify", "ledger.jsonl"]).exits(0);
    let ledger = room.text("ledger.jsonl");
    let last = ledger.lines().last().unwrap();
    let mut marked = entries(&room)
        .into_iter()
        .find(|e| e.act == Act::Marked)
        .unwrap();
    let release = Entry::read(last).unwrap();
    assert_eq!(release.act, Act::Released);
    marked.number = release.number + 1;
    marked.previous = Entry::leaf(last);
    marked.by.time = release.by.time;
    // Everything else of it is in order: it changes no table.
    (marked.before, marked.after) = Default::default();
    room.put("ledger.jsonl", format!("{ledger}{}\n", marked.text()));
    room.run(&["verify", "ledger.jsonl"])
        .exits(4)
        .gives(&format!("entry {}: it marks", marked.number))
        .gives(&format!("released in entry {}", release.number));
    marked.act = Act::Corrected;
    room.put("ledger.jsonl", format!("{ledger}{}\n", marked.text()));
    room.run(&["verify", "ledger.jsonl"]).exits(0);
}
