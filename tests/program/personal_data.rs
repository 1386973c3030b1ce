//! Who is behind a number: no table and nothing that a marker is given says it; a person is told what is
//! kept, put right or erased; names go when their time is over; and the ledger holds all the while.

use std::path::Path;
use std::process::Command;

use register::{Act, Entry, Register};
use tests::{Outcome, Room};

const REGISTER: &str = "exam/sitting.register";
const ROSTER: &str = "exam/roster.csv";
/// Whoever sits the exam here, under words that stand nowhere else in it.
const PEOPLE: [(&str, &str, &str); 3] = [
    ("S-1", "Xanthippe Quillfeather", "hears badly on Wednesdays"),
    ("S-2", "Ottokar Übelmesser", ""),
    ("S-3", "Wilhelmina Pfannkuch", ""),
];
const PASSPHRASE: &str = "heron lantern forty gravel";
/// The clock three years after the day of the small exam.
const LATER: (&str, &str) = ("SOURCE_DATE_EPOCH", "2025734400");
const AGREED: [&str; 2] = ["--confirmed-by", "assembler"];

fn exam(plan: &str) -> Room {
    let room = Room::empty();
    tests::copy(
        &tests::top().join("tests/papers/small-exam"),
        &room.path("exam"),
    );
    let text = room.text("exam/plan.yaml");
    room.put("exam/plan.yaml", format!("{text}{plan}"));
    let mut roster = "candidate,name,service,note\n".to_owned();
    for ((number, name, note), service) in PEOPLE.iter().zip(["room", "room", "kit"]) {
        roster.push_str(&format!("{number},{name},{service},{note}\n"));
    }
    room.put(ROSTER, roster);
    room.put("passphrase", format!("{PASSPHRASE}\n"));
    room
}

fn assembled(plan: &str) -> Room {
    let room = exam(plan);
    run(&room, &["assemble", "exam", "--seed", &"3c".repeat(32)]).exits(0);
    room
}

/// Runs the program with the passphrase at hand, where it is asked for.
fn run(room: &Room, arguments: &[&str]) -> Outcome {
    room.run_with(arguments, "", &[("VALINCH_PASSPHRASE", PASSPHRASE)])
}

fn person(room: &Room, act: &str, more: &[&str]) -> Outcome {
    run(
        room,
        &[&["results", "person", act, "exam", "S-2"], more].concat(),
    )
}

fn marked(plan: &str) -> Room {
    let room = assembled(plan);
    room.put(
        "exam/answers/answers.csv",
        "candidate,part,question,answer\nS-1,theory,1,B\nS-2,theory,1,A\nS-2,tasting,373 aroma,wet gravestone\n",
    );
    run(&room, &["mark", "exam"]);
    room
}

fn last(room: &Room) -> Entry {
    let register = Register::open(&room.path(REGISTER)).unwrap();
    Entry::read(register.ledger().unwrap().last().unwrap()).unwrap()
}

/// The words of a file as a person or a search finds them.
fn words(path: &Path) -> Vec<u8> {
    let mut found = std::fs::read(path).unwrap();
    if path.extension().is_some_and(|ending| ending == "pdf") {
        let output = Command::new("pdftotext")
            .arg(path)
            .arg("-")
            .output()
            .unwrap();
        assert!(output.status.success());
        found.extend(output.stdout);
    }
    found
}

/// Parts of names and notes that stand in these bytes.
fn named_in(bytes: &[u8]) -> Vec<&'static str> {
    PEOPLE
        .iter()
        .flat_map(|(_, name, note)| name.split(' ').chain([*note]))
        .filter(|part| !part.is_empty())
        .filter(|part| bytes.windows(part.len()).any(|w| w == part.as_bytes()))
        .collect()
}

/// Every row of every table, as another program reads it.
fn every_row(room: &Room) -> String {
    let script =
        "import sqlite3, sys\nfor line in sqlite3.connect(sys.argv[1]).iterdump(): print(line)";
    let output = Command::new("python3")
        .args(["-c", script])
        .arg(room.path(REGISTER))
        .output()
        .unwrap();
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    String::from_utf8(output.stdout).unwrap()
}

#[test]
fn no_table_and_nothing_that_markers_are_given_names_anybody() {
    for plan in ["", "identity: locked\n"] {
        let room = marked(plan);
        run(&room, &["seal", "exam"]).exits(0);
        run(&room, &["print", "exam"]).exits(0);
        run(&room, &["results", "exam"]).exits(0);
        run(
            &room,
            &[
                "results",
                "appeal",
                "exam",
                "--candidate",
                "S-2",
                "--item",
                "theory 1",
            ],
        )
        .exits(0);
        let rows = every_row(&room);
        // What is looked for is there to be found: the tables are full.
        assert!(rows.contains("S-2") && rows.contains("wet gravestone"));
        assert_eq!(named_in(rows.as_bytes()), [""; 0], "{plan}");
        let (mut seen, mut naming) = (0, Vec::new());
        for (name, _) in room.files("exam") {
            if named_in(&words(&room.path("exam").join(&name))).is_empty() {
                seen += 1;
            } else {
                naming.push(name);
            }
        }
        assert!(seen > 15, "{seen}");
        // A candidate's own cover and the chief examiner's results name people, and nothing else.
        let others: Vec<&String> = naming
            .iter()
            .filter(|name| *name != "roster.csv")
            .filter(|name| !name.starts_with("papers/01-candidate-covers"))
            .filter(|name| !name.starts_with("results/"))
            .collect();
        assert!(others.is_empty(), "{plan} {others:?}");
        assert!(
            naming
                .iter()
                .any(|name| name.starts_with("results/reports"))
        );
        // Nor do reports that a marker reads.
        let told = run(&room, &["mark", "exam", "--json"]);
        assert_eq!(named_in(told.out.as_bytes()), [""; 0]);
        run(&room, &["verify", "exam"]).exits(0);
    }
}

#[test]
fn names_that_were_changed_or_swapped_are_told() {
    let room = assembled("");
    let roster = room.text(ROSTER);
    let swapped = roster
        .replace("Xanthippe Quillfeather", "?")
        .replace("Ottokar Übelmesser", "Xanthippe Quillfeather")
        .replace('?', "Ottokar Übelmesser");
    room.put(ROSTER, swapped);
    room.run(&["print", "exam"])
        .exits(3)
        .says("S-1, S-2")
        .says("results person correct");
    room.put(ROSTER, &roster);
    room.run(&["print", "exam"]).exits(0);
    // Kept elsewhere, it is named.
    std::fs::rename(room.path(ROSTER), room.path("elsewhere.csv")).unwrap();
    room.run(&["print", "exam"]).exits(3).says("--names");
    room.run(&["print", "exam", "--names", "elsewhere.csv"])
        .exits(0);
    // What needs no names does not miss it.
    room.put("exam/answers/a.csv", "candidate,q1\nS-1,B\n");
    run(&room, &["mark", "exam"]);
    assert_eq!(last(&room).act, Act::Marked);
    room.run(&["results", "regrade", "exam"]).exits(0);
}

#[test]
fn locked_names_open_for_the_passphrase_alone() {
    let room = exam("identity: locked\n");
    let assemble = ["assemble", "exam", "--seed", &"3c".repeat(32)];
    room.run(&assemble).exits(3).says("--passphrase-file");
    room.put("weak", "whisky\n");
    room.run(&[&assemble[..], &["--passphrase-file", "weak"]].concat())
        .exits(3)
        .says("weak");
    assert!(!room.path(REGISTER).exists());
    let with = ["--passphrase-file", "passphrase"];
    room.run(&[&assemble[..], &with[..]].concat())
        .exits(0)
        .says("take it away");
    std::fs::remove_file(room.path(ROSTER)).unwrap();
    room.run(&["print", "exam"]).exits(3).says("passphrase");
    room.put("wrong", "heron lantern forty grovel\n");
    room.run(&["print", "exam", "--passphrase-file", "wrong"])
        .exits(3)
        .says("do not open");
    room.run(&[&["print", "exam"], &with[..]].concat()).exits(0);
    let cover = room
        .files("exam/papers")
        .into_keys()
        .find(|name| name.starts_with("01-"))
        .unwrap();
    let cover = words(&room.path("exam/papers").join(cover));
    assert!(named_in(&cover).contains(&"Quillfeather"));
}

#[test]
fn a_person_is_told_what_is_kept_and_nothing_about_others() {
    let room = marked("");
    person(&room, "export", &["--to", "s-2.json"]).exits(0);
    assert_eq!(last(&room).act, Act::PersonExported);
    let told: serde_json::Value = serde_json::from_str(&room.text("s-2.json")).unwrap();
    assert_eq!(told["person"]["name"], "Ottokar Übelmesser");
    assert_eq!(told["answers"].as_array().unwrap().len(), 2);
    assert_eq!(told["marks"], "not before the results are released");
    assert!(!room.text("s-2.json").contains("S-1"));
    assert_eq!(
        named_in(room.text("s-2.json").as_bytes()),
        ["Ottokar", "Übelmesser"]
    );
    run(
        &room,
        &["results", "person", "export", "exam", "S-9", "--to", "x"],
    )
    .exits(3)
    .says("S-9");
    person(&room, "export", &["--to", "x", "--role", "marker"])
        .exits(3)
        .says("may not");
    assert_eq!(last(&room).act, Act::Refused);
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        let about = std::fs::metadata(room.path("s-2.json")).unwrap();
        assert_eq!(about.permissions().mode() & 0o777, 0o600);
    }
}

#[test]
fn a_name_is_put_right_and_a_person_erased_by_two_roles() {
    for plan in ["", "identity: locked\n"] {
        let room = marked(plan);
        let right = ["--name", "Ottokar Wohlmesser"];
        person(&room, "correct", &right).exits(3).says("two roles");
        person(&room, "correct", &AGREED)
            .exits(3)
            .says("nothing is put right");
        person(&room, "correct", &[&right[..], &AGREED[..]].concat()).exits(0);
        let entry = last(&room);
        assert_eq!(entry.act, Act::PersonCorrected);
        assert_eq!(named_in(entry.text().as_bytes()), [""; 0]);
        run(&room, &["results", "exam"]).exits(0);
        let class = room.text("exam/results/01-class-list.csv");
        assert!(class.contains("Ottokar Wohlmesser") && !class.contains("Übelmesser"));
        person(&room, "erase", &[]).exits(3).says("two roles");
        person(&room, "erase", &AGREED)
            .exits(0)
            .says("exam/results");
        assert_eq!(last(&room).act, Act::PersonErased);
        // Results that are made now name the others; the number stays with its marks.
        run(&room, &["results", "exam"]).exits(0);
        let class = room.text("exam/results/01-class-list.csv");
        assert!(
            class.contains("S-2,,") && !class.contains("Ottokar"),
            "{class}"
        );
        assert!(class.contains("Wilhelmina Pfannkuch"));
        let register = std::fs::read(room.path(REGISTER)).unwrap();
        assert!(!register.windows(7).any(|w| w == b"Ottokar"));
        if plan.is_empty() {
            assert!(
                !room.text(ROSTER).contains("Ottokar"),
                "{}",
                room.text(ROSTER)
            );
            assert!(room.text(ROSTER).contains("hears badly"));
        }
        person(&room, "correct", &[&right[..], &AGREED[..]].concat())
            .exits(3)
            .says("was erased");
        run(&room, &["verify", "exam"]).exits(0);
    }
}

#[test]
fn names_go_when_their_time_is_over_and_the_ledger_holds() {
    for plan in ["", "identity: locked\n"] {
        let room = marked(plan);
        run(&room, &["results", "retention", "exam"])
            .exits(3)
            .says("does not say how long");
        let room = marked(&format!("{plan}retention: {{ months: 24 }}\n"));
        run(&room, &["results", "exam"]).exits(0);
        let retention = ["results", "retention", "exam"];
        run(&room, &retention).exits(3).says("until 2033-03-14");
        let before = run(&room, &["verify", "exam", "--json"]).exits(0).json();
        run(&room, &["verify", "exam"]).exits(0).gives("All is as");
        let later = || room.run_with(&["verify", "exam"], "", &[LATER]).exits(0);
        assert!(later().out.contains("kept until 2033-03-14"));
        room.run_with(&retention, "", &[LATER]).exits(0);
        assert!(!later().out.contains("kept until"));
        let entry = last(&room);
        assert_eq!(
            (entry.act, entry.details["kept until"].as_str()),
            (Act::Expired, "2033-03-14")
        );
        let register = std::fs::read(room.path(REGISTER)).unwrap();
        assert_eq!(named_in(&register), [""; 0]);
        if plan.is_empty() {
            assert_eq!(named_in(room.text(ROSTER).as_bytes()), [""; 0]);
        }
        let head = before["head"].as_str().unwrap();
        room.run(&["verify", "exam", "--head", head]).exits(0);
        // Marks stand, and are nobody's.
        room.run(&["results", "exam"]).exits(0);
        let class = room.text("exam/results/01-class-list.csv");
        assert!(class.contains("S-2,,"), "{class}");
        person(&room, "erase", &AGREED)
            .exits(3)
            .says("not kept any more");
    }
}
