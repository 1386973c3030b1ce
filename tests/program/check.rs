//! The command `check`: what it finds in a bank and in an exam, as text, as JSON, by exit code.

use serde_json::Value;
use tests::Room;

const BANK: &str = "question-banks/foundation";
const EXAM: &str = "examples/certificate";
/// A day on which no source of the shipped bank is stale, whatever the clock says.
const DAY: [&str; 2] = ["--day", "2026-11-25"];

fn room() -> Room {
    Room::with_example("certificate")
}

fn check(room: &Room, arguments: &[&str], code: i32) -> tests::Outcome {
    let mut all = vec!["check"];
    all.extend(arguments);
    all.extend(DAY.iter().filter(|_| !arguments.contains(&"--day")));
    room.run(&all).exits(code)
}

fn rules(report: &Value) -> Vec<&str> {
    let findings = report["findings"].as_array().unwrap();
    findings
        .iter()
        .map(|f| f["rule"].as_str().unwrap())
        .collect()
}

#[test]
fn the_shipped_bank_is_sound_and_shows_itself_as_a_table() {
    let room = room();
    let outcome = check(&room, &[BANK], 0).says("Sound: no faults, no weaknesses.");
    for words in [
        "Law and labels",
        "operational",
        "R recall ",
        "lasts",
        "best_answer",
        "█",
    ] {
        assert!(
            outcome.out.contains(words),
            "{words:?} is not in\n{}",
            outcome.out
        );
    }
    let report = check(&room, &[BANK, "--json"], 0).json();
    let bank = &report["bank"];
    let questions = bank["questions"].as_u64().unwrap();
    let sum = |lines: &Value| -> u64 {
        let lines = lines.as_array().unwrap().iter();
        lines.map(|line| line["questions"].as_u64().unwrap()).sum()
    };
    assert_eq!(sum(&bank["cells"]), questions);
    assert_eq!(sum(&bank["kinds"]), questions);
    let counted: u64 = bank["cells"]
        .as_array()
        .unwrap()
        .iter()
        .flat_map(|cell| cell["counts"].as_object().unwrap().values())
        .flat_map(|levels| levels.as_object().unwrap().values())
        .map(|number| number.as_u64().unwrap())
        .sum();
    assert_eq!(counted, questions);
    let kinds: Vec<&str> = bank["kinds"]
        .as_array()
        .unwrap()
        .iter()
        .map(|line| line["kind"].as_str().unwrap())
        .collect();
    assert_eq!(kinds, question_bank::QuestionKind::NAMES);
    assert_eq!(report["day"], "2026-11-25");
}

/// No line of the table is wider than the terminal.
#[test]
fn the_table_keeps_to_the_width_of_the_terminal() {
    let room = room();
    // All five states in use, so that the table is at its widest.
    for (number, state) in ["draft", "reviewed", "pretest", "retired"]
        .iter()
        .enumerate()
    {
        let files = ["service", "maturation", "distillation", "fermentation"];
        room.replace(
            &format!("{BANK}/questions/{}.yaml", files[number]),
            "state: operational",
            &format!("state: {state}"),
        );
    }
    for columns in ["80", "100", "160"] {
        let outcome = room.run_with(
            &["check", BANK, "--day", "2026-11-25"],
            "",
            &[("COLUMNS", columns)],
        );
        let outcome = outcome.exits(0).gives("retired");
        let width: usize = columns.parse().unwrap();
        for line in outcome.out.lines() {
            assert!(line.chars().count() <= width, "{columns}: {line}");
        }
    }
}

#[test]
fn stale_sources_are_told_by_the_day_and_the_years() {
    let room = room();
    let late = ["--day", "2036-06-12"];
    let outcome = check(&room, &[BANK, late[0], late[1]], 0);
    let outcome = outcome.says("stale-source").says("2033-06-12 or later");
    assert!(outcome.err.contains("Usable: no faults"), "{}", outcome.err);
    check(&room, &[BANK, late[0], late[1], "--stale-after", "30"], 0).says("Sound");
    // An exam's bank grows stale as well.
    let report = check(&room, &[EXAM, late[0], late[1], "--json"], 0).json();
    assert!(rules(&report).contains(&"stale-source"));
    check(&room, &[BANK, "--day", "2026-02-30"], 1).says("bad-date");
}

#[test]
fn cells_that_run_dry_are_told_by_the_planned_overlap() {
    let room = room();
    let report = check(&room, &[BANK, "--take", "15", "--kept", "0", "--json"], 0).json();
    assert!(rules(&report).contains(&"cell-runs-dry"), "{report:#}");
    for line in report["cover"].as_array().unwrap() {
        let number = |name: &str| line[name].as_u64().unwrap();
        assert_eq!((number("takes"), number("kept")), (15, 0));
        // Nothing is kept: whole exams are taken out one after the other.
        assert_eq!(number("exams"), number("available") / 15);
    }
    // Keeping everything, nothing runs dry once it fills one exam.
    let report = check(&room, &[BANK, "--take", "15", "--kept", "100", "--json"], 0).json();
    for line in report["cover"].as_array().unwrap() {
        let fills = line["available"].as_u64().unwrap() >= 15;
        assert_eq!(line["exams"].is_null(), fills, "{line}");
    }
    check(&room, &[BANK, "--take", "0"], 2);
    check(&room, &[BANK, "--kept", "101"], 2);
    // A plan says for itself how many it takes.
    check(&room, &[EXAM, "--take", "5"], 3).says("stands in its plan");
}

#[test]
fn an_exam_shows_its_cover_and_where_its_keys_stand() {
    let room = room();
    let outcome = check(&room, &[EXAM], 0);
    outcome
        .gives("keys of the best-answer questions")
        .gives("lasts");
    let report = check(&room, &[EXAM, "--json"], 0).json();
    let forms = report["forms"].as_array().unwrap();
    assert!(!forms.is_empty());
    for form in forms {
        let keys: Vec<u64> = form["keys"]
            .as_array()
            .unwrap()
            .iter()
            .map(|k| k.as_u64().unwrap())
            .collect();
        assert_eq!(keys.len() as u64, form["options"].as_u64().unwrap());
        assert!(keys.iter().sum::<u64>() > 0);
    }
    assert!(!report["cover"].as_array().unwrap().is_empty());
    assert!(!rules(&report).contains(&"key-position"));
}

/// Two questions that ask the same, and one that says the key of another: found in a bank and in
/// the exam that draws from it, and proposed as enemies.
#[test]
fn alike_questions_and_those_that_tell_a_key_are_proposed_as_enemies() {
    let room = room();
    let question = |id: &str, stem: &str, key: &str| {
        format!(
            "  - id: {id}\n    cell: maturation\n    level: recall\n    state: operational\n    source: {{ work: Common practice, evidence: common-practice }}\n    verified: 2026-11-25\n    best_answer:\n      stem: {stem}\n      options:\n        - {{ text: {key}, key: true, why: It is so. }}\n        - {{ text: Plain larch, why: It leaks. }}\n        - {{ text: Stained beech, why: It warps. }}\n"
        )
    };
    let text = format!(
        "questions:\n{}{}{}",
        question(
            "alike-one",
            "Which wood does the cooper of Tannvik take for a small herring barrel?",
            "Juniper heartwood"
        ),
        question(
            "alike-two",
            "Which wood does the cooper of Tannvik take for the small herring barrel?",
            "Juniper heartwood"
        ),
        question(
            "telling",
            "How long does the cooper of Tannvik season juniper heartwood for a herring barrel?",
            "Two winters"
        ),
    );
    room.put(&format!("{BANK}/questions/zz-more.yaml"), text);
    for folder in [BANK, EXAM] {
        let report = check(&room, &[folder, "--json"], 0).json();
        let found = rules(&report);
        assert!(found.contains(&"similar-stem"), "{folder}: {found:?}");
        assert!(found.contains(&"key-in-other-stem"), "{folder}: {found:?}");
        let pairs: Vec<(&str, &str, &str)> = report["enemies"]
            .as_array()
            .unwrap()
            .iter()
            .map(|pair| {
                let text = |name: &str| pair[name].as_str().unwrap();
                (text("one"), text("other"), text("rule"))
            })
            .collect();
        assert!(
            pairs.contains(&("alike-one", "alike-two", "similar")),
            "{pairs:?}"
        );
        assert!(
            pairs.contains(&("alike-one", "telling", "gives-away")),
            "{pairs:?}"
        );
    }
    check(&room, &[BANK], 0)
        .gives("to be named as enemies of each other")
        .says("weaknesses to look at");
}

/// A question that names a sample takes the blindness from its glass, be it the bank's or the
/// exam's own.
#[test]
fn a_question_that_names_a_sample_is_found() {
    let room = room();
    let samples = question_bank_samples(&room);
    let (file, name) = samples.first().unwrap();
    room.replace(
        &format!("{BANK}/questions/service.yaml"),
        "stem: ",
        &format!("stem: Beside {name} stands a glass of water. "),
    );
    let report = check(&room, &[BANK, "--json"], 0).json();
    assert!(
        rules(&report).contains(&"L19-sample-named"),
        "{file}: {report:#}"
    );
}

/// Files and names of the shipped samples whose name needs no quotes in YAML.
fn question_bank_samples(room: &Room) -> Vec<(String, String)> {
    let files = room.files(&format!("{BANK}/samples"));
    files
        .into_iter()
        .filter(|(file, _)| file.ends_with(".yaml"))
        .filter_map(|(file, bytes)| {
            let text = String::from_utf8(bytes).unwrap();
            let name = text.lines().find_map(|l| l.trim().strip_prefix("name: "))?;
            let name = name.trim_matches('"');
            let plain = name.chars().all(|c| c.is_alphanumeric() || c == ' ');
            plain.then(|| (file, name.to_owned()))
        })
        .collect()
}

#[test]
fn a_fault_in_a_bank_ends_with_its_code() {
    let room = room();
    room.replace(
        &format!("{BANK}/questions/service.yaml"),
        "cell: service",
        "cell: servise",
    );
    let outcome = check(&room, &[BANK], 1).says("unknown-cell");
    outcome.says("did you mean");
    let report = check(&room, &[BANK, "--json"], 1).json();
    assert_eq!(report["faults"], 1);
    assert!(report["bank"].is_null());
}

/// What guessing pays is told for each glass and thing asked; the figures that a hand can work out
/// are those of the ages and of the list of producers.
#[test]
fn an_exam_tells_what_is_earned_without_tasting() {
    let room = room();
    let outcome = check(&room, &[EXAM], 0);
    let outcome = outcome.gives("what is earned without tasting");
    for words in ["aroma, 10 marks", "producer, 1 extra", "glass"] {
        assert!(outcome.out.contains(words), "{words} in\n{}", outcome.out);
    }
    let report = check(&room, &[EXAM, "--json"], 0).json();
    let glasses = report["chance"].as_array().unwrap();
    let samples: Vec<&str> = glasses
        .iter()
        .map(|glass| glass["sample"].as_str().unwrap())
        .collect();
    assert_eq!(
        samples,
        [
            "rum-corvey-gully-7",
            "calvados-herisson-8",
            "tequila-tlaquemor-3"
        ]
    );
    for glass in glasses {
        let asked = glass["asked"].as_array().unwrap();
        let names: Vec<&str> = asked.iter().map(|a| a["asked"].as_str().unwrap()).collect();
        let planned = [
            "aroma", "category", "region", "age", "water", "quality", "producer",
        ];
        assert_eq!(names, planned);
        let of = |name: &str, figure: &str| {
            let found = asked.iter().find(|a| a["asked"] == name).unwrap();
            found[figure].as_f64().unwrap()
        };
        // Six answers, of which one is right and two are next to it at half; the age 3 to 5 has
        // "under 3" below it. One name of eight.
        assert!((of("age", "guesser") - 2.0 / 6.0).abs() < 1e-12);
        assert!((of("producer", "guesser") - 1.0 / 8.0).abs() < 1e-12);
        assert_eq!(of("category", "lister"), 0.0);
        assert!(of("aroma", "standard_error") > 0.0 && of("age", "standard_error") == 0.0);
        // 22 marks without the extra one.
        let marks = [
            ("aroma", 10.0),
            ("category", 4.0),
            ("region", 2.0),
            ("age", 2.0),
        ];
        let more = [("water", 3.0), ("quality", 1.0)];
        let sum: f64 = marks
            .iter()
            .chain(&more)
            .map(|(name, marks)| marks * of(name, "guesser"))
            .sum();
        assert!((glass["guesser"].as_f64().unwrap() - sum / 22.0).abs() < 1e-12);
    }
    // A bank by itself asks nothing.
    let report = check(&room, &[BANK, "--json"], 0).json();
    assert_eq!(report["chance"].as_array().unwrap().len(), 0);
}

/// With `less_chance` the sheets and the marks say so; without it nothing is different.
#[test]
fn what_guessing_earns_is_taken_off_where_the_plan_says_so() {
    let room = room();
    let plan = format!("{EXAM}/plan.yaml");
    room.replace(
        &plan,
        "  threshold: 0.25",
        "  threshold: 0.25\n  less_chance: perhaps",
    );
    check(&room, &[EXAM], 1);
    room.replace(&plan, "less_chance: perhaps", "less_chance: true");
    let with = check(&room, &[EXAM, "--json"], 0).json();
    room.replace(&plan, "less_chance: true", "less_chance: false");
    let without = check(&room, &[EXAM, "--json"], 0).json();
    // What guessing earns is told before anything is taken off.
    assert_eq!(with["chance"], without["chance"]);
}
