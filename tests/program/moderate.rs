//! Essays are shared out, marked by two, by a third where they lie apart, and the marks go where
//! they belong, whatever comes in late.

use register::Register;
use tests::Room;

const FORMATS: &str = include_str!("../../question-banks/README.md");
const TABLE: &str = "exam/moderation/for-AB.csv";

/// A marked sitting of the exam with every kind of question: these essays by these candidates.
pub(crate) fn marked(essays: &[(&str, &str)]) -> Room {
    marked_class(&["Ada Weir", "Ben Holm", "Cleo Lund", "Dov Marsh"], essays)
}

/// The same with a class of one's own, `C-1` being the first.
fn marked_class(class: &[&str], essays: &[(&str, &str)]) -> Room {
    let room = Room::empty();
    for name in [
        "bank.yaml",
        "lexicon.yaml",
        "categories.yaml",
        "regions.yaml",
        "questions/all-kinds.yaml",
    ] {
        let block = FORMATS.split_once(&format!("```yaml {name}\n")).unwrap().1;
        let text = block.split_once("```").unwrap().0;
        let text = text.replace("state: reviewed", "state: operational");
        room.put(&format!("bank/{name}"), text);
    }
    room.put(
        "exam/plan.yaml",
        "title: Essays\nschool: Harbour Weir School\ndate: 2027-06-12\nbank: ../bank\ntheory:\n  forms: 2\n  minutes: 60\n  cells: { law-and-labels: 4, distillation: 5 }\n",
    );
    let roster: String = class
        .iter()
        .enumerate()
        .map(|(place, name)| format!("C-{},{name}\n", place + 1))
        .collect();
    room.put("exam/roster.csv", format!("candidate,name\n{roster}"));
    room.put(
        "exam/room.yaml",
        format!(
            "room: Library\ntables:\n  - {{ id: a, seats: {} }}\n",
            class.len()
        ),
    );
    room.run(&["assemble", "exam", "--seed", &"4d".repeat(32)])
        .exits(0);
    hand_in(&room, essays);
    room
}

/// Marks the sitting anew with these essays alone.
fn hand_in(room: &Room, essays: &[(&str, &str)]) {
    let register = Register::open(&room.path("exam/sitting.register")).unwrap();
    let sitting = register.sitting().unwrap();
    drop(register);
    let mut answers = String::from("candidate,part,question,answer\n");
    for (candidate, essay) in essays {
        let place = sitting
            .places
            .iter()
            .find(|place| place.candidate.as_str() == *candidate)
            .unwrap();
        let form = sitting.form(place.form.as_ref().unwrap()).unwrap();
        let number = 1 + form
            .questions
            .iter()
            .position(|q| q.question.as_str() == "why-copper")
            .unwrap();
        answers.push_str(&format!("{candidate},theory,{number},\"{essay}\"\n"));
    }
    room.put("exam/answers/theory.csv", answers);
    room.run(&["mark", "exam"]);
}

/// Fills a table in: for each answer that holds these words, the marks of each criterion.
fn fill_in(room: &Room, table: &str, marks: &[(&str, &[&str])]) {
    let text = room.text(table);
    let mut filled = String::new();
    let (mut own, mut row): (Option<&[&str]>, usize) = (None, 0);
    for (place, line) in text.lines().enumerate() {
        if place == 0 {
            filled = format!("{line}\n");
            continue;
        }
        // An answer stands in the first row of its script.
        if let Some((_, given)) = marks.iter().find(|(words, _)| line.contains(words)) {
            (own, row) = (Some(*given), 0);
        } else if !line.ends_with(',') {
            own = None;
        }
        let Some(given) = own.and_then(|given| given.get(row)) else {
            filled.push_str(&format!("{line}\n"));
            continue;
        };
        let cells: Vec<&str> = line.splitn(6, ',').collect();
        filled.push_str(&format!(
            "{},{},{},{},{given},{}\n",
            cells[0], cells[1], cells[2], cells[3], cells[5]
        ));
        row += 1;
    }
    room.put(table, filled);
}

/// The mark of a candidate's essay; none while it waits.
fn essay_mark(room: &Room, candidate: &str) -> Option<String> {
    let register = Register::open(&room.path("exam/sitting.register")).unwrap();
    let awards = register.marks().unwrap();
    let award = awards
        .iter()
        .find(|award| {
            award.candidate.as_str() == candidate
                && matches!(&award.item, grader::Item::Theory { question, .. } if question.as_str() == "why-copper")
        })
        .unwrap();
    (!award.outcome.waits()).then(|| award.marks().to_string())
}

const ADA: (&str, &str) = ("C-1", "Copper, as Ada says, takes sulphur out.");
const BEN: (&str, &str) = ("C-2", "Ben thinks it shines.");
const CLEO: (&str, &str) = ("C-3", "Cleo: reflux on copper, clean spirit.");

/// The criteria of the example's rubric with their most marks.
fn rubric(room: &Room) -> Vec<f64> {
    let text = room.text(TABLE);
    let first = text.lines().nth(1).unwrap().split(',').next().unwrap();
    text.lines()
        .filter(|line| line.starts_with(first))
        .map(|line| line.split(',').nth(3).unwrap().parse().unwrap())
        .collect()
}

#[test]
fn near_marks_are_averaged_and_far_ones_wait_for_a_third_whose_work_stays() {
    let room = marked(&[ADA, BEN, CLEO]);
    room.run(&["moderate", "exam"]).exits(3).says("two markers");
    room.run(&["moderate", "exam", "--markers", "CD,AB"])
        .exits(0)
        .gives("0 of 3 scripts finished");
    for table in [TABLE, "exam/moderation/for-CD.csv"] {
        let text = room.text(table);
        assert!(!text.contains("C-1") && !text.contains("Weir"), "{text}");
    }
    let full: Vec<String> = rubric(&room).iter().map(ToString::to_string).collect();
    let full: Vec<&str> = full.iter().map(String::as_str).collect();
    let none: Vec<&str> = full.iter().map(|_| "0").collect();
    // Ada: both full. Ben and Cleo: one full, one nothing.
    fill_in(
        &room,
        TABLE,
        &[("Ada", &full), ("Ben", &full), ("Cleo", &full)],
    );
    fill_in(
        &room,
        "exam/moderation/for-CD.csv",
        &[("Ada", &full), ("Ben", &none), ("Cleo", &none)],
    );
    room.run(&["moderate", "exam"])
        .exits(0)
        .gives("1 of 3 scripts finished, 2 for a third marker");
    let third = "exam/moderation/third.csv";
    fill_in(&room, third, &[("Ben", &none)]);
    room.run(&["moderate", "exam"])
        .exits(0)
        .gives("2 of 3 scripts finished, 1 for a third marker");
    // What a third has given stays, however often the command is given.
    room.run(&["moderate", "exam"])
        .exits(0)
        .gives("2 of 3 scripts finished, 1 for a third marker");
    fill_in(&room, third, &[("Cleo", &full)]);
    room.run(&["moderate", "exam"])
        .exits(0)
        .gives("3 of 3 scripts finished, 0 for a third marker");
    let before = room.files("exam/moderation");
    room.run(&["analyse", "exam"])
        .exits(0)
        .gives("AB shares 3 scripts with another marker: too few")
        .gives("3 scripts were marked twice, 10 would do");
    assert_eq!(room.files("exam/moderation"), before);
    room.run(&["mark", "exam"]);
    let most: f64 = rubric(&room).iter().sum();
    assert_eq!(essay_mark(&room, "C-1"), Some(most.to_string()));
    assert_eq!(essay_mark(&room, "C-2"), Some("0".to_owned()));
    assert_eq!(essay_mark(&room, "C-3"), Some(most.to_string()));
    room.run(&["verify", "exam"]).exits(0);
}

#[test]
fn what_comes_in_late_moves_no_mark_and_a_changed_answer_is_not_marked_by_the_old_one() {
    let room = marked(&[ADA, BEN]);
    room.run(&["moderate", "exam", "--markers", "AB,CD"])
        .exits(0);
    let full: Vec<String> = rubric(&room).iter().map(ToString::to_string).collect();
    let full: Vec<&str> = full.iter().map(String::as_str).collect();
    let none: Vec<&str> = full.iter().map(|_| "0").collect();
    for table in [TABLE, "exam/moderation/for-CD.csv"] {
        fill_in(&room, table, &[("Ada", &full), ("Ben", &none)]);
    }
    // Cleo's sheet is found a day later; its words need quotes in a table.
    hand_in(&room, &[ADA, BEN, CLEO]);
    room.run(&["moderate", "exam"])
        .exits(0)
        .gives("2 of 3 scripts finished")
        .says("late-AB.csv");
    room.run(&["mark", "exam"]);
    let most: f64 = rubric(&room).iter().sum();
    assert_eq!(essay_mark(&room, "C-1"), Some(most.to_string()));
    assert_eq!(essay_mark(&room, "C-2"), Some("0".to_owned()));
    assert_eq!(essay_mark(&room, "C-3"), None);
    // Ben's answer was keyed wrongly and is corrected: the old marks are not his any more.
    hand_in(&room, &[ADA, (BEN.0, "Ben: copper binds sulphur.")]);
    room.run(&["moderate", "exam"])
        .exits(1)
        .says("has another answer now than when it was given out")
        .gives("1 of 2 scripts finished");
    room.run(&["mark", "exam"]);
    assert_eq!(essay_mark(&room, "C-1"), Some(most.to_string()));
    assert_eq!(essay_mark(&room, "C-2"), None);
}

#[test]
fn marks_out_of_bounds_are_told_and_other_markers_are_refused() {
    let room = marked(&[ADA]);
    room.run(&["moderate", "exam", "--markers", "AB,CD"])
        .exits(0);
    fill_in(&room, TABLE, &[("Ada", &["99", "-1"])]);
    room.run(&["moderate", "exam"])
        .exits(1)
        .says("\"99\" cannot be given here")
        .says("\"-1\" cannot be given here");
    room.run(&["moderate", "exam", "--markers", "AB,EF"])
        .exits(3)
        .says("shared out to AB, CD already");
    room.run(&["moderate", "exam", "--role", "proctor"])
        .exits(3)
        .says("may not moderate marks");
}

#[test]
fn the_analysis_of_a_sitting_sets_its_markers_beside_each_other() {
    let class = [
        "Ada Weir",
        "Ben Holm",
        "Cleo Lund",
        "Dov Marsh",
        "Eve Quay",
        "Finn Pier",
        "Gil Dock",
        "Hal Moor",
    ];
    let words: Vec<String> = class
        .iter()
        .map(|name| format!("{name} says copper."))
        .collect();
    let numbers: Vec<String> = (1..=class.len())
        .map(|place| format!("C-{place}"))
        .collect();
    let essays: Vec<(&str, &str)> = numbers
        .iter()
        .zip(&words)
        .map(|(number, words)| (number.as_str(), words.as_str()))
        .collect();
    let room = marked_class(&class, &essays);
    room.run(&["moderate", "exam", "--markers", "AB,CD"])
        .exits(0);
    let full: Vec<String> = rubric(&room).iter().map(ToString::to_string).collect();
    let full: Vec<&str> = full.iter().map(String::as_str).collect();
    // AB gives everybody everything; CD takes the first criterion from all but one.
    let mut hard = full.clone();
    hard[0] = "0";
    let mild: Vec<(&str, &[&str])> = class.iter().map(|name| (*name, &full[..])).collect();
    fill_in(&room, TABLE, &mild);
    let mut strict: Vec<(&str, &[&str])> = class.iter().map(|name| (*name, &hard[..])).collect();
    strict[7].1 = &full;
    fill_in(&room, "exam/moderation/for-CD.csv", &strict);
    let report = room.run(&["analyse", "exam", "--json"]).exits(0).json();
    let made = &report["parts"][0]["moderation"]["markers"];
    let most: f64 = rubric(&room).iter().sum();
    let expected = rubric(&room)[0] / most * 7.0 / 8.0;
    let [mild, hard] = [0, 1].map(|place| made[place]["severity"].as_f64().unwrap());
    assert!((mild - expected).abs() < 1e-9 && (hard + expected).abs() < 1e-9);
    let run = room.run(&["analyse", "exam"]).exits(0);
    run.gives("than the others")
        .gives("8 scripts were marked twice");
    let page = room.text("exam/results/analysis.html");
    assert!(page.contains("Markers beside each other") && page.contains("milder to the right"));
}
