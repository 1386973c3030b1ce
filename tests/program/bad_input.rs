//! Bad input: a clear message with its place, an exit code, and nothing lost or half-written.

use tests::Room;

const EXAM: &str = "examples/evening-class";
const PLAN: &str = "examples/evening-class/plan.yaml";
const ROSTER: &str = "examples/evening-class/roster.csv";

fn room() -> Room {
    Room::with_example("evening-class")
}

/// Breaks one file in one way and expects the fault's rule and words.
#[track_caller]
fn broken(file: &str, old: &str, new: &str, rule: &str, words: &str) {
    let room = room();
    room.replace(file, old, new);
    let outcome = room.run(&["check", EXAM]).exits(1).says(rule).says(words);
    let json = room.run(&["check", EXAM, "--json"]).exits(1).json();
    let found = json["findings"]
        .as_array()
        .unwrap()
        .iter()
        .any(|f| f["rule"] == rule);
    assert!(found, "{json:#}");
    assert!(
        outcome.err.contains("-->"),
        "the line is shown:\n{}",
        outcome.err
    );
    // A faulty exam is not assembled.
    room.run(&["assemble", EXAM]).exits(1);
    assert!(
        !room
            .path("examples/evening-class/sitting.register")
            .exists()
    );
}

#[test]
fn faults_of_a_plan_are_placed_and_hinted() {
    broken(
        PLAN,
        "title:",
        "tittle:",
        "unknown-key",
        "did you mean \"title\"?",
    );
    broken(
        PLAN,
        "forms: 2",
        "forms: two",
        "wrong-type",
        "a whole number from 1 to 26",
    );
    broken(
        PLAN,
        "date: 2027-03-18",
        "date: 2027-02-30",
        "bad-date",
        "YYYY-MM-DD",
    );
    broken(
        PLAN,
        "law-and-labels: 3",
        "law-and-lables: 3",
        "unknown-cell",
        "did you mean \"law-and-labels\"?",
    );
    broken(
        PLAN,
        "[armagnac-pouychauvet-12]",
        "[armagnac-pouychauvet-21]",
        "unknown-sample",
        "armagnac-pouychauvet-12",
    );
    broken(
        PLAN,
        "rule: compensatory",
        "rule: compensatry",
        "unknown-word",
        "conjunctive, compensatory",
    );
    broken(PLAN, "title:", "title: [a", "not-yaml", "no valid YAML");
}

#[test]
fn all_faults_are_told_at_once() {
    let room = room();
    room.replace(PLAN, "title:", "tittle:");
    room.replace(PLAN, "forms: 2", "forms: 0");
    room.replace(ROSTER, ",room", ",roam");
    let outcome = room.run(&["check", EXAM]).exits(1);
    for rule in [
        "missing-field",
        "unknown-key",
        "out-of-range",
        "unknown-word",
    ] {
        assert!(outcome.err.contains(rule), "{rule}\n{}", outcome.err);
    }
}

#[test]
fn a_plan_that_the_bank_cannot_fill_says_which_cells_lack_how_many() {
    let room = room();
    room.replace(PLAN, "fermentation: 2", "fermentation: 150");
    room.replace(PLAN, "maturation: 2", "maturation: { judgement: 40 }");
    let outcome = room.run(&["check", EXAM]).exits(1);
    for words in ["fermentation", "maturation", "judgement", "150", "40"] {
        assert!(outcome.err.contains(words), "{words}\n{}", outcome.err);
    }
}

#[test]
fn rosters_are_read_where_they_are_clear_and_refused_where_not() {
    let text = room().text(ROSTER);
    let with = |text: Vec<u8>| {
        let room = room();
        room.put(ROSTER, text);
        room.run(&["check", EXAM])
    };
    with(text.replace(',', ";").into_bytes()).exits(0);
    with(text.replace(',', "\t").into_bytes()).exits(0);
    with(format!("\u{feff}{}", text.replace('\n', "\r\n")).into_bytes()).exits(0);
    with(text.replacen("name,", "name;", 1).into_bytes())
        .exits(1)
        .says("unclear-separator");
    let first = text.lines().nth(1).unwrap();
    with(format!("{text}{first}\n").into_bytes())
        .exits(1)
        .says("stands twice")
        .says("line 2");
    let number = first.split(',').next().unwrap();
    with(format!("candidate,name\n{number},\n").into_bytes())
        .exits(1)
        .says("has no name");
    let mut broken = text.into_bytes();
    broken.extend(b"C-999,\xff\xfe,room,\n");
    with(broken).exits(1).says("no UTF-8");
    with(b"".to_vec()).exits(1).says("is empty");
}

#[test]
fn trees_with_cycles_and_dangling_references_are_listed() {
    let categories = "question-banks/foundation/categories.yaml";
    let room = room();
    let text = room.text(categories);
    room.put(categories, format!("{text}  - {{ id: x-one, name: One, parent: x-two }}\n  - {{ id: x-two, name: Two, parent: x-one }}\n  - {{ id: x-three, name: Three, parent: nowhere }}\n"));
    room.run(&["check", EXAM])
        .exits(1)
        .says("x-one")
        .says("nowhere");
}

#[test]
fn answers_to_nothing_are_listed_and_the_rest_is_marked() {
    let room = room();
    room.run(&["assemble", EXAM, "--seed", &"11".repeat(32)])
        .exits(0);
    room.run(&["mark", EXAM, "--answers", "nowhere.csv"])
        .exits(5)
        .says("no such file");
    let numbers: Vec<String> = room
        .text(ROSTER)
        .lines()
        .skip(1)
        .map(|l| l.split(',').next().unwrap().to_owned())
        .collect();
    let first = &numbers[0];
    room.put(
        "answers.csv",
        format!(
            "candidate,part,question,answer\n\
             {first},theory,1,A\n{first},theory,2,B\n{first},theory,2,C\n{first},theory,99,A\n\
             NOBODY,theory,1,A\n{first},tasting,000 aroma,smoke\n{first},taste,1,A\n{first},theory,3,A,B\n"
        ),
    );
    let outcome = room
        .run(&["mark", EXAM, "--answers", "answers.csv"])
        .exits(1)
        .gives("Marked 2 answers of 1 candidate");
    for words in [
        "answered twice: first in line 3",
        "theory 99",
        "NOBODY",
        "no such glass",
        "no part of an exam",
        "5 cells under 4 columns",
    ] {
        assert!(outcome.err.contains(words), "{words}\n{}", outcome.err);
    }
    assert!(
        outcome.out.contains("look at the script"),
        "{}",
        outcome.out
    );
    for number in &numbers[1..] {
        assert!(
            outcome.out.contains(number.as_str()),
            "absent are named: {}",
            outcome.out
        );
    }
}

#[test]
fn an_unknown_word_waits_for_a_person_with_near_words() {
    let room = room();
    room.run(&["assemble", EXAM, "--seed", &"11".repeat(32)])
        .exits(0);
    let number = room
        .text(ROSTER)
        .lines()
        .nth(1)
        .unwrap()
        .split(',')
        .next()
        .unwrap()
        .to_owned();
    room.put(
        "wide.csv",
        format!("candidate,q1,g1.aroma\n{number},A,prune; wet slatestone; oak\n"),
    );
    room.run(&["mark", EXAM, "--answers", "wide.csv"])
        .exits(0)
        .gives("wet slatestone");
}

#[test]
fn folders_that_are_nothing_or_not_writable_are_told() {
    let room = room();
    room.run(&["check", "examples"])
        .exits(3)
        .says("neither an exam nor a bank");
    room.run(&["print", EXAM])
        .exits(3)
        .says("not assembled yet");
    room.run(&["results", EXAM]).exits(3);
    room.run(&["assemble", EXAM]).exits(0);
    room.run(&["results", EXAM]).exits(3).says("not marked yet");
    // A file stands where the folder of papers should be.
    room.put("examples/evening-class/papers", "in the way");
    room.run(&["print", EXAM])
        .exits(5)
        .says("cannot be written");
    assert_eq!(room.text("examples/evening-class/papers"), "in the way");
    room.put("mine/notes.txt", "my own notes");
    room.run(&["rehearse", EXAM, "--to", "mine"])
        .exits(3)
        .says("holds something else");
    assert_eq!(room.text("mine/notes.txt"), "my own notes");
}

#[test]
fn a_register_that_is_none_is_left_alone() {
    let room = room();
    room.put(
        "examples/evening-class/sitting.register",
        "this is no register at all, only a text",
    );
    room.run(&["print", EXAM]).exits(5).says("register");
    room.run(&["assemble", EXAM]).exits(5);
    assert!(
        room.text("examples/evening-class/sitting.register")
            .starts_with("this is no register")
    );
}

#[test]
fn a_full_disk_leaves_nothing_half_written() {
    // /dev/full takes nothing: the report's own output cannot be written, and that is no panic.
    let room = room();
    room.run(&["check", EXAM]).exits(0);
    let status = std::process::Command::new(tests::program())
        .args(["check", EXAM])
        .current_dir(room.path(""))
        .stdout(
            std::fs::OpenOptions::new()
                .write(true)
                .open("/dev/full")
                .unwrap(),
        )
        .stderr(std::process::Stdio::piped())
        .output()
        .unwrap();
    assert!(!String::from_utf8_lossy(&status.stderr).contains("panicked"));
}
