//! What a plan says of results beyond passing: grades, who is looked at before release, parts brought
//! along, nosing alone; and certificates that stand or are withdrawn.

use register::{Act, Entry, Register};
use tests::Room;

use crate::odd_candidates::words_of;

const EXAM: &str = "examples/certificate";
const SEED: &str = "6f1d2c3b4a59687706152433425160fedcba98765432100123456789abcdef00";
const RELEASE: [&str; 5] = ["results", "release", "exam", "--confirmed-by", "assembler"];

/// The full example with more rules, and other rows for some candidates.
fn example(rules: &str, rows: &[(&str, &str)]) -> Room {
    let room = Room::with_example("certificate");
    let plan = room.text("examples/certificate/plan.yaml");
    room.put(
        "examples/certificate/plan.yaml",
        format!("{}\n{rules}", plan.trim_end()),
    );
    let roster = room.text("examples/certificate/roster.csv");
    let lines: Vec<String> = roster
        .lines()
        .map(|line| {
            let number = line.split(',').next().unwrap();
            let more = match rows.iter().find(|(candidate, _)| *candidate == number) {
                Some((_, more)) => more,
                None if number == "candidate" => "tasting,brings",
                None => ",",
            };
            format!("{line},{more}\n")
        })
        .collect();
    room.put("examples/certificate/roster.csv", lines.concat());
    room
}

fn class(room: &Room, number: &str) -> serde_json::Value {
    let report = room.run(&["results", EXAM, "--json"]).exits(0).json();
    let lines = report["class"]["lines"].as_array().unwrap();
    lines
        .iter()
        .find(|line| line["candidate"] == number)
        .unwrap()["decision"]
        .clone()
}

#[test]
fn a_grade_stands_on_list_summary_and_report_and_only_for_who_passed() {
    let room = example("  grades: { with distinction: 85, with merit: 70 }\n", &[]);
    room.run(&["assemble", EXAM, "--seed", SEED]).exits(0);
    room.run(&["mark", EXAM]).exits(1);
    let graded = class(&room, "C-016");
    // 36 of 40 and 57.896 of 66 less 2 of extra credit: 88.5 % without it.
    assert_eq!(graded["grade"], "with distinction");
    assert_eq!(class(&room, "C-023")["grade"], "with merit");
    assert_eq!(class(&room, "C-004").get("grade"), None);
    assert_eq!(class(&room, "C-004")["outcome"], "pass");
    assert_eq!(class(&room, "C-011")["outcome"], "fail");
    assert_eq!(class(&room, "C-011").get("grade"), None);
    let list = room.text("examples/certificate/results/01-class-list.csv");
    assert!(list.contains(",pass,with distinction,"), "{list}");
    let report = words_of(&room, "examples/certificate/results/reports/C-016.pdf");
    assert!(report.contains("Passed, with distinction"), "{report}");
}

#[test]
fn who_noses_only_is_asked_what_a_nose_can_answer_and_has_another_cut() {
    let rules = "  nosing: 45\n";
    let room = example("", &[("C-003", "nosing,")]);
    room.run(&["check", EXAM]).exits(1).says("no-nosing-cut");
    let room = example(rules, &[("C-003", "nosing,"), ("C-004", "smelling,")]);
    room.run(&["check", EXAM])
        .exits(1)
        .says("\"smelling\" is no way to taste");
    let room = example(rules, &[("C-003", "nosing,"), ("C-022", "nosing,")]);
    room.run(&["assemble", EXAM, "--seed", SEED]).exits(0);
    // Answers to what was not asked of them are listed: quality and water of three glasses each.
    let outcome = room.run(&["mark", EXAM]).exits(1);
    assert!(
        outcome
            .err
            .contains("quality\" was not asked of the glasses")
    );
    let register = Register::open(&room.path("examples/certificate/sitting.register")).unwrap();
    let awards = register.marks().unwrap();
    let asked: std::collections::BTreeSet<&str> = awards
        .iter()
        .filter(|award| award.candidate.as_str() == "C-003")
        .filter_map(|award| match &award.item {
            grader::Item::Tasting { asked, .. } => Some(asked.as_str()),
            grader::Item::Theory { .. } => None,
        })
        .collect();
    assert_eq!(
        asked.into_iter().collect::<Vec<_>>(),
        ["age", "aroma", "category", "producer", "region"]
    );
    // The others' marks are what they were.
    let usual = Room::with_example("certificate");
    usual.run(&["assemble", EXAM, "--seed", SEED]).exits(0);
    usual.run(&["mark", EXAM]).exits(1);
    let theirs = Register::open(&usual.path("examples/certificate/sitting.register")).unwrap();
    let theirs = theirs.marks().unwrap();
    for award in awards
        .iter()
        .filter(|a| !matches!(a.candidate.as_str(), "C-003" | "C-022"))
    {
        assert!(theirs.contains(award), "{award:?}");
    }
    drop(register);
    let decided = class(&room, "C-003");
    let tasting = decided["parts"]
        .as_array()
        .unwrap()
        .iter()
        .find(|p| p["part"] == "tasting");
    assert_eq!(tasting.unwrap()["cut"], 450);
    room.run(&["print", EXAM]).exits(0);
    let papers = room.files("examples/certificate/papers");
    let paper = |begins: &str| {
        let name = papers.keys().find(|name| name.starts_with(begins)).unwrap();
        words_of(&room, &format!("examples/certificate/papers/{name}"))
    };
    assert!(paper("08-room-sheet").contains("Nose only, at f1"));
    assert!(paper("03-answer-sheets").contains("Aromas, by the nose alone"));
    assert_eq!(
        paper("01-candidate-covers")
            .matches("by eye and nose alone")
            .count(),
        2
    );
}

#[test]
fn a_part_brought_along_is_not_sat_again_and_lapses() {
    let rules = "  resit: { theory: 24, tasting: 12 }\n";
    let fault = |row: &str, words: &str| {
        let room = example(rules, &[("C-005", row)]);
        room.run(&["check", EXAM]).exits(1).says(words);
    };
    fault(",theory 2024-06-12 68.5", "lapsed-part");
    fault(",tasting 2026-06-11 68.5", "it lasted until 2027-06-11");
    fault(",theory 2027-06-12 68.5", "this sitting is on 2027-06-12");
    fault(",theory last year", "brought-part");
    let without = example("", &[("C-005", ",theory 2026-06-12 68.5")]);
    without.run(&["check", EXAM]).exits(1).says("no-resit-rule");
    let weak = example(rules, &[("C-005", ",theory 2026-06-12 55")]);
    weak.run(&["check", EXAM]).exits(0).says("below-this-cut");

    // To the day: twelve months on, it still counts.
    let rows = [
        ("C-005", ",theory 2026-06-12 68.5"),
        ("C-007", ",tasting 2026-06-12 71"),
    ];
    let room = example(rules, &rows);
    room.run(&["assemble", EXAM, "--seed", SEED]).exits(0);
    let register = Register::open(&room.path("examples/certificate/sitting.register")).unwrap();
    let sitting = register.sitting().unwrap();
    drop(register);
    let place = |number: &str| {
        let mut places = sitting.places.iter();
        places
            .find(|place| place.candidate.as_str() == number)
            .unwrap()
    };
    assert!(place("C-005").form.is_none() && place("C-005").glasses.len() == 3);
    assert!(place("C-007").form.is_some() && place("C-007").glasses.is_empty());
    room.run(&["mark", EXAM]).exits(1);
    let decided = class(&room, "C-005");
    assert_eq!(decided["outcome"], "pass");
    assert_eq!(decided["parts"].as_array().unwrap().len(), 1);
    assert_eq!(decided["brought"]["per_mille"], 685);
    let list = room.text("examples/certificate/results/01-class-list.csv");
    assert!(list.contains("theory of 2026-06-12 with 68.5 %"), "{list}");
    let report = words_of(&room, "examples/certificate/results/reports/C-005.pdf");
    assert!(
        report.contains("theory brought along from 2026-06-12 (68.5 %)"),
        "{report}"
    );
    room.run(&["results", EXAM])
        .exits(0)
        .gives("68.5 % (brought)");
    // Papers are printed and a rehearsal walks its way with such candidates, too.
    room.run(&["print", EXAM]).exits(0);
    room.run(&["rehearse", EXAM, "--sittings", "4"]).exits(0);
}

/// A small exam in which who answers anything passes, unless the theory's cut is another.
fn small(pass: &str) -> Room {
    let room = Room::empty();
    tests::copy(
        &tests::top().join("tests/papers/small-exam"),
        &room.path("exam"),
    );
    room.replace("exam/plan.yaml", "pass: { theory: 60, tasting: 50 }", pass);
    room.run(&["assemble", "exam", "--seed", &"3c".repeat(32)])
        .exits(0);
    room
}

/// Hands in these letters of questions by their numbers.
fn hand_in(room: &Room, letters: &[(u32, &str)]) {
    let mut rows = String::from("candidate,part,question,answer\nS-1,tasting,373 aroma,banana\n");
    for (number, letter) in letters {
        rows.push_str(&format!("S-1,theory,{number},{letter}\n"));
    }
    room.put("exam/answers/answers.csv", rows);
    room.run(&["mark", "exam"]).exits(0);
}

fn theory_marks(room: &Room) -> base::Marks {
    let register = Register::open(&room.path("exam/sitting.register")).unwrap();
    let awards = register.marks().unwrap();
    let theory = awards.iter().filter(|award| {
        award.candidate.as_str() == "S-1" && matches!(award.item, grader::Item::Theory { .. })
    });
    theory.map(grader::Award::marks).sum()
}

#[test]
fn a_decision_near_the_cut_is_looked_at_before_release_and_again_when_its_marks_change() {
    let room = small("pass: { theory: 20, tasting: 0, review: 1 }");
    // 1 of 7 marks beside a cut of 1.4. The error, with five questions of one mark and one of two:
    // 7 sqrt(.2 x .8 x 9/49 x 6/5) = 1.31 marks.
    hand_in(&room, &[(1, "B")]);
    assert_eq!(theory_marks(&room), base::Marks::ONE);
    room.run(&["results", "exam"]).exits(0);
    let summary = words_of(&room, "exam/results/02-class-summary_chief-examiner.pdf");
    assert!(summary.contains("To look at before release"), "{summary}");
    // In a table the second line of a cell follows the other cells of the first.
    for words in [
        "theory 0.4 marks below its cut of 20 %;",
        "one error is 1.3 marks",
    ] {
        assert!(summary.contains(words), "{words:?} is not in\n{summary}");
    }
    room.run(&RELEASE)
        .exits(3)
        .says("a decision near the cut was not looked at: S-1");
    let look = ["results", "review", "exam"];
    room.run(&look)
        .exits(0)
        .says("to be looked at before release: S-1");
    let stands = ["--candidate", "S-1", "--why", "read again by both"];
    room.run(&[&look[..], &stands[..2]].concat()).exits(2);
    room.run(&[&look[..], &["--candidate", "S-2", "--why", "x"]].concat())
        .exits(3)
        .says("within the band lie S-1");
    room.run(&[&look[..], &stands[..], &["--role", "marker"]].concat())
        .exits(3)
        .says("the role marker may not review a decision");
    room.run(&[&look[..], &stands[..]].concat())
        .exits(0)
        .says("the review is entered");
    // Other marks, another look; the first one speaks of what is no more.
    hand_in(&room, &[(1, "B"), (6, "A")]);
    room.run(&["results", "exam"]).exits(0);
    room.run(&RELEASE).exits(3).says("not looked at: S-1");
    room.run(&[&look[..], &stands[..]].concat()).exits(0);
    room.run(&RELEASE).exits(0);
    room.run(&[&look[..], &stands[..]].concat())
        .exits(3)
        .says("are released");
    let register = Register::open(&room.path("exam/sitting.register")).unwrap();
    let texts = register.ledger().unwrap();
    let reviews = texts.iter().map(|text| Entry::read(text).unwrap());
    assert_eq!(
        reviews.filter(|entry| entry.act == Act::Reviewed).count(),
        2
    );
    room.run(&["verify", "exam"]).exits(0);
}

#[test]
fn a_certificate_stands_until_a_correction_makes_it_untrue() {
    let room = small("pass: { theory: 0, tasting: 0 }");
    hand_in(&room, &[(1, "B")]);
    room.run(&["results", "exam"]).exits(0);
    let certificates = ["results", "certificates", "exam"];
    room.run(&certificates)
        .exits(3)
        .says("after the results are released");
    room.run(&RELEASE).exits(0);
    let given = room
        .run(&[&certificates[..], &["--json"]].concat())
        .exits(0)
        .json();
    // Two of three did not come.
    let all = given["given"].as_array().unwrap();
    assert_eq!((all.len(), all[0][0].as_str()), (1, Some("S-1")));
    let number = all[0][1].as_str().unwrap();
    let paper = "exam/results/certificates/S-1.pdf";
    let words = words_of(&room, paper);
    for said in [
        "Ilse Vandermoor",
        "has passed",
        "Small exam for golden papers",
        number,
    ] {
        assert!(words.contains(said), "{said:?} is not in\n{words}");
    }
    let verify = |number: &str| room.run(&["verify", "exam", "--certificate", number]);
    verify(number)
        .exits(0)
        .gives("it stands. Ilse Vandermoor (candidate S-1)");
    verify(&number.replace(' ', "")).exits(0);
    // A wrong digit and two swapped ones are a slip; a sound number of nobody is unknown.
    let digits: Vec<char> = number.chars().filter(char::is_ascii_digit).collect();
    let mut wrong = digits.clone();
    wrong[3] = if wrong[3] == '9' { '0' } else { '9' };
    verify(&wrong.iter().collect::<String>())
        .exits(4)
        .gives("one of them is wrong or two are swapped");
    verify("000000000000").exits(4).gives("never gave it");
    verify("nonsense").exits(4).gives("twelve digits");
    // Again: the same number, and no second entry.
    let again = room.run(&[&certificates[..], &["--json"]].concat()).json();
    assert_eq!(
        (&again["given"], &again["new"]),
        (&given["given"], &0.into())
    );

    room.replace("exam/plan.yaml", "theory: 0", "theory: 100");
    let correct = ["results", "regrade", "exam", "--apply", "--why"];
    let by_two = ["the cut was printed wrongly", "--confirmed-by", "marker"];
    room.run(&[&correct[..], &by_two[..]].concat())
        .exits(0)
        .gives("1 decision turns");
    // Withdrawn from the moment of the correction, whoever still holds the paper.
    verify(number).exits(4).gives("withdrawn");
    let after = room.run(&certificates).exits(0);
    assert!(
        after.out.contains(&format!("withdrawn: {number}")),
        "{}",
        after.out
    );
    assert!(!room.path(paper).exists());
    verify(number)
        .exits(4)
        .gives("withdrawn. It was given to candidate S-1");
    room.run(&["verify", "exam"]).exits(0);
}

#[test]
fn samples_and_questions_have_pages_of_their_own() {
    let room = example("", &[]);
    room.run(&["assemble", EXAM, "--seed", SEED]).exits(0);
    room.run(&["mark", EXAM]).exits(1);
    room.run(&["results", EXAM]).exits(0);
    let samples = words_of(
        &room,
        "examples/certificate/results/03-samples_chief-examiner.pdf",
    );
    for words in [
        "Corvey Gully Seven Years",
        "The panel’s words and the class",
        "What it was taken for",
    ] {
        assert!(samples.contains(words), "{words:?}");
    }
    let questions = words_of(
        &room,
        "examples/certificate/results/04-questions_chief-examiner.pdf",
    );
    let register = Register::open(&room.path("examples/certificate/sitting.register")).unwrap();
    for form in register.sitting().unwrap().forms {
        for question in form.questions {
            let id = question.question.to_string();
            assert!(questions.contains(&id), "{id} of form {}", form.name);
        }
    }
}
