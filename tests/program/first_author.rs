//! A new author follows the guide: five questions, then ten mistakes, each told so that the message
//! leads to the mending.

use tests::Room;

const BANK: &str = "question-banks/foundation";
const FIRST: &str = "mine/questions/first.yaml";

/// A bank as the guide makes it: the shipped one without its questions and samples, and the five
/// questions of the guide.
fn room() -> Room {
    let room = Room::with_example("evening-class");
    for name in [
        "bank.yaml",
        "lexicon.yaml",
        "categories.yaml",
        "regions.yaml",
    ] {
        room.put(
            &format!("mine/{name}"),
            room.text(&format!("{BANK}/{name}")),
        );
    }
    let guide = std::fs::read_to_string(tests::top().join("question-banks/GUIDE.md")).unwrap();
    let block = guide
        .split("```yaml questions/first.yaml\n")
        .nth(1)
        .and_then(|rest| rest.split("```").next())
        .unwrap();
    room.put(FIRST, block);
    room
}

#[test]
fn the_five_questions_of_the_guide_are_without_fault_or_weakness() {
    let report = room().run(&["check", "mine", "--json"]).exits(0).json();
    let cells = report["bank"]["cells"].as_array().unwrap();
    let questions: u64 = cells.iter().map(|c| c["questions"].as_u64().unwrap()).sum();
    assert_eq!(questions, 5, "{report:#}");
    // Five questions fill no exam, and that is all there is to say of them.
    for finding in report["findings"].as_array().unwrap() {
        assert_eq!(finding["rule"], "cell-runs-dry", "{finding:#}");
    }
}

/// The mistake, and what the message must hold for its author to know what to do: the rule, the
/// line as it was written, and the words that lead on.
const MISTAKES: [(&str, &str, &str, &[&str]); 10] = [
    // A misspelt field.
    (
        "    verified: 2026-11-25\n    best",
        "    verfied: 2026-11-25\n    best",
        "unknown-key",
        &["verfied", "did you mean \"verified\"?"],
    ),
    // A word that is none of the three.
    (
        "level: application",
        "level: apply",
        "unknown-word",
        &["recall, application, judgement"],
    ),
    // A date as one writes it at home.
    (
        "    verified: 2026-11-25\n    numeric",
        "    verified: 25.11.2026\n    numeric",
        "bad-date",
        &["YYYY-MM-DD"],
    ),
    // Two right options where one is meant.
    (
        "{ text: \"15 °C\", why",
        "{ text: \"15 °C\", key: true, why",
        "number-of-keys",
        &["2 options are the key", "exactly one", "multiple_response"],
    ),
    // A wrong option without its reason.
    (
        ", why: \"No table in use is based on 25 °C.\" }",
        " }",
        "missing-field",
        &["an option has no \"why\"", "add \"why: …\""],
    ),
    // An id with a capital and spaces.
    (
        "id: word-for-first-run",
        "id: Word for first run",
        "bad-id",
        &["lower-case letters"],
    ),
    // A cell that the bank does not have.
    (
        "cell: raw-materials",
        "cell: raw-material",
        "unknown-cell",
        &["did you mean \"raw-materials\"?"],
    ),
    // A colon in a text without quotes.
    (
        "stem: How many millilitres",
        "stem: Work it out: how many millilitres",
        "not-yaml",
        &["double quotes"],
    ),
    // A unit where a number is wanted.
    (
        "answer: 230",
        "answer: 230 ml",
        "wrong-type",
        &["230 ml", "a number"],
    ),
    // A tab for indentation.
    (
        "    ordering:\n      stem",
        "    ordering:\n\tstem",
        "not-yaml",
        &["no tabs"],
    ),
];

#[test]
fn ten_mistakes_are_told_so_that_they_can_be_mended() {
    let room = room();
    let sound = room.text(FIRST);
    for (right, wrong, rule, words) in MISTAKES {
        room.replace(FIRST, right, wrong);
        let outcome = room.run(&["check", "mine"]).exits(1).says(rule);
        // The line of the mistake is named and shown: it is the first that differs.
        let line = 1 + room
            .text(FIRST)
            .lines()
            .zip(sound.lines())
            .take_while(|(new, old)| new == old)
            .count();
        // A missing field is told where its thing begins; keys are counted over all options.
        let near = [line, line - 1, line - 2];
        assert!(
            near.iter()
                .any(|line| outcome.err.contains(&format!("first.yaml:{line}:"))),
            "{wrong}: line {line}\n{}",
            outcome.err
        );
        for word in words {
            assert!(
                outcome.err.contains(word),
                "{wrong}: {word:?} is not in\n{}",
                outcome.err
            );
        }
        // Nothing else is told than what follows from the one mistake.
        let told = outcome.err.matches("-->").count();
        assert!(told <= 2, "{wrong}: {told} messages\n{}", outcome.err);
        room.put(FIRST, &sound);
        room.run(&["check", "mine"]).exits(0);
    }
}
