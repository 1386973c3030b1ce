//! What comes in wrong when a sitting is marked: each is listed with its place and a hint, and the rest
//! is marked.

use register::Register;
use tests::Room;

const EXAM: &str = "examples/certificate";
/// The seed of the recorded answers.
const SEED: &str = "6f1d2c3b4a59687706152433425160fedcba98765432100123456789abcdef00";

/// A sitting of the certificate without its recorded answers.
fn sitting() -> Room {
    let room = Room::with_example("certificate");
    for name in room.files(&format!("{EXAM}/answers")).keys() {
        std::fs::remove_file(room.path(&format!("{EXAM}/answers/{name}"))).unwrap();
    }
    room.run(&["assemble", EXAM, "--seed", &"11".repeat(32)])
        .exits(0);
    room
}

fn first_candidate(room: &Room) -> String {
    let roster = room.text(&format!("{EXAM}/roster.csv"));
    roster
        .lines()
        .nth(1)
        .unwrap()
        .split(',')
        .next()
        .unwrap()
        .to_owned()
}

/// What an item of the first candidate came to: marks, whether it waits, and why.
fn mark_of(room: &Room, item: &str) -> (String, bool, String) {
    let who = first_candidate(room);
    let register = Register::open(&room.path(&format!("{EXAM}/sitting.register"))).unwrap();
    let awards = register.marks().unwrap();
    let award = awards
        .iter()
        .find(|award| award.candidate.as_str() == who && name(&award.item) == item)
        .unwrap_or_else(|| panic!("{item}"));
    let why = match &award.outcome {
        grader::Outcome::Marked { reason, .. } => reason.clone(),
        grader::Outcome::ForAPerson { why, .. } => why.clone(),
    };
    (award.marks().to_string(), award.outcome.waits(), why)
}

fn name(item: &grader::Item) -> String {
    match item {
        grader::Item::Theory { number, .. } => format!("theory {number}"),
        grader::Item::Tasting { code, asked, .. } => format!("tasting {code} {asked}"),
    }
}

fn first_code(room: &Room) -> String {
    let register = Register::open(&room.path(&format!("{EXAM}/sitting.register"))).unwrap();
    let sitting = register.sitting().unwrap();
    let who = first_candidate(room);
    let place = sitting
        .places
        .iter()
        .find(|place| place.candidate.as_str() == who);
    place.unwrap().glasses[0].code.clone()
}

#[test]
fn answers_beyond_the_end_of_the_form_are_listed_by_line() {
    let room = sitting();
    let who = first_candidate(&room);
    room.put(
        "late.csv",
        format!("candidate,part,question,answer\n{who},theory,1,A\n{who},theory,41,B\n{who},theory,0,B\n{who},theory,-3,B\n"),
    );
    let run = room.run(&["mark", EXAM, "--answers", "late.csv"]).exits(1);
    let run = run.says("late.csv:3").says("late.csv:4").says("late.csv:5");
    assert!(
        run.out.contains("Marked 1 answer of 1 candidate"),
        "{}",
        run.out
    );
}

#[test]
fn answers_after_the_results_are_out_are_refused() {
    let room = sitting();
    let who = first_candidate(&room);
    let answers = format!("candidate,part,question,answer\n{who},theory,1,A\n");
    room.put(&format!("{EXAM}/answers/a.csv"), &answers);
    room.run(&["mark", EXAM]).exits(0);
    room.run(&["results", EXAM]).exits(0);
    room.run(&["results", "release", EXAM, "--confirmed-by", "assembler"])
        .exits(0);
    room.put(
        &format!("{EXAM}/answers/b.csv"),
        answers.replace(",1,A", ",2,B"),
    );
    room.run(&["mark", EXAM]).exits(3).says("released");
}

#[test]
fn numbers_that_are_none_wait_and_cost_nobody_else() {
    let room = sitting();
    let (who, code) = (first_candidate(&room), first_code(&room));
    // What the certificate asks as numbers of a glass: age and quality.
    for (asked, answer, why) in [
        ("age", "NaN", "cannot be read"),
        ("age", "-8", "cannot be read"),
        ("age", "12-8", "begins later than it ends"),
        ("quality", "NaN", "no number from 0 to 10"),
        ("quality", "inf", "no number from 0 to 10"),
        ("quality", "-3", "no number from 0 to 10"),
        ("quality", "1e400", "no number from 0 to 10"),
    ] {
        room.put(
            "odd.csv",
            format!("candidate,part,question,answer\n{who},tasting,{code} {asked},{answer}\n{who},tasting,{code} category,Rum\n"),
        );
        room.run(&["mark", EXAM, "--answers", "odd.csv"])
            .exits(0)
            .gives("For a person to decide")
            .gives(why);
        let (marks, waits, _) = mark_of(&room, &format!("tasting {code} {asked}"));
        assert_eq!((marks.as_str(), waits), ("0", true), "{asked} {answer}");
        let (_, waits, _) = mark_of(&room, &format!("tasting {code} category"));
        assert!(!waits, "the rest is marked");
    }
}

#[test]
fn ten_thousand_descriptors_in_one_cell_count_as_the_first_six() {
    let room = sitting();
    let (who, code) = (first_candidate(&room), first_code(&room));
    let six = "banana; vanilla; oak; raisin; peat smoke; honey";
    let lexicon = room.text("question-banks/foundation/lexicon.yaml");
    // A word's line stands ten spaces in: `          banana: [ripe banana]`.
    let words: Vec<&str> = lexicon
        .lines()
        .filter_map(|line| line.strip_prefix("          ")?.split_once(": ["))
        .map(|(word, _)| word)
        .filter(|word| !word.starts_with(' '))
        .collect();
    assert!(words.len() > 50, "{}", words.len());
    let many: Vec<&str> = words.iter().copied().cycle().take(10_000).collect();
    let marked = |answer: &str| {
        let table = format!(
            "candidate,part,question,answer\n{who},tasting,{code} aroma,\"{answer}\"\n{who},theory,1,A\n"
        );
        room.put("long.csv", table);
        let run = room.run(&["mark", EXAM, "--answers", "long.csv"]);
        assert!(
            run.out.contains("Marked 2 answers of 1 candidate"),
            "{}",
            run.err
        );
        mark_of(&room, &format!("tasting {code} aroma"))
    };
    let (short, _, _) = marked(six);
    let (long, waits, why) = marked(&format!("{six}; {}", many.join("; ")));
    assert_eq!((long, waits), (short, false));
    assert!(
        why.contains("only the first 6 count") && why.len() < 2000,
        "{why}"
    );
}

#[test]
fn a_bank_that_changed_after_assembly_is_told_and_does_not_count() {
    let room = sitting();
    let who = first_candidate(&room);
    room.put(
        &format!("{EXAM}/answers/a.csv"),
        format!("candidate,part,question,answer\n{who},theory,1,A\n{who},theory,2,B\n"),
    );
    room.run(&["mark", EXAM]).exits(0);
    let before = [1, 2].map(|number| mark_of(&room, &format!("theory {number}")));
    // Every key of the bank is turned round; the printed forms were drawn from the old one.
    let below = "question-banks/foundation/questions";
    for name in room
        .files(below)
        .into_keys()
        .filter(|name| name.ends_with(".yaml"))
    {
        let path = format!("{below}/{name}");
        let text = room.text(&path);
        room.put(&path, text.replace("key: true", "key: false"));
    }
    room.run(&["mark", EXAM])
        .exits(0)
        .says("is not what the sitting was assembled from")
        .says("results regrade");
    let after = [1, 2].map(|number| mark_of(&room, &format!("theory {number}")));
    assert_eq!(before, after);
}

#[test]
fn a_decision_about_what_was_never_printed_is_listed_and_the_rest_applied() {
    let room = sitting();
    let (who, code) = (first_candidate(&room), first_code(&room));
    room.put(
        &format!("{EXAM}/answers/a.csv"),
        format!("candidate,part,question,answer\n{who},tasting,{code} category,zzyx\n"),
    );
    room.run(&["mark", EXAM]).exits(0);
    let waiting = room.text(&format!("{EXAM}/to-decide.csv"));
    let of = waiting
        .lines()
        .nth(1)
        .unwrap()
        .split(',')
        .next()
        .unwrap()
        .to_owned();
    room.put(
        &format!("{EXAM}/decisions/d.csv"),
        format!("of,written,decision,by\nquestion never-printed,x,1 mark,CE\n{of},zzyx,as Rum,CE\nsample no-such-glass aroma,x,nothing,CE\n"),
    );
    let run = room.run(&["mark", EXAM]).exits(1);
    run.says("question never-printed was asked of nobody")
        .says("sample no-such-glass aroma was asked of nobody")
        .says("d.csv:2")
        .says("d.csv:4");
    let (_, waits, why) = mark_of(&room, &format!("tasting {code} category"));
    assert!(!waits && why.contains("by decision of CE"), "{why}");
}

#[test]
fn the_order_of_candidates_and_rows_changes_no_mark() {
    let marks = |reversed: bool| {
        let room = Room::with_example("certificate");
        let below = format!("{EXAM}/answers");
        let names: Vec<String> = room
            .files(&below)
            .into_keys()
            .filter(|n| n.ends_with(".csv"))
            .collect();
        for name in &names {
            let name = &format!("{below}/{name}");
            let text = room.text(name);
            let (head, rows) = text.split_once('\n').unwrap();
            let mut rows: Vec<&str> = rows.lines().collect();
            // Recorded answers hold no line breaks within cells, so that lines are rows.
            assert!(!rows.iter().any(|row| row.matches('"').count() % 2 == 1));
            if reversed {
                rows.reverse();
            }
            room.put(name, format!("{head}\n{}\n", rows.join("\n")));
        }
        room.run(&["assemble", EXAM, "--seed", SEED]).exits(0);
        room.run(&["mark", EXAM]);
        let register = Register::open(&room.path(&format!("{EXAM}/sitting.register"))).unwrap();
        let mut marks: Vec<String> = register
            .marks()
            .unwrap()
            .iter()
            // Which of two answers stands first is told by line, and lines are what was turned round.
            .filter(|award| !format!("{:?}", award.outcome).contains("answered twice"))
            .map(|award| format!("{} {:?} {:?}", award.candidate, award.item, award.outcome))
            .collect();
        marks.sort();
        marks
    };
    let (forwards, backwards) = (marks(false), marks(true));
    assert!(forwards.len() > 500, "{}", forwards.len());
    assert_eq!(forwards, backwards);
}
