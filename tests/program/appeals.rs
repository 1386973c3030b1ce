//! A changed key is looked at before anything is applied, and an appeal is shown what it is about.

use tests::Room;

const EXAM: &str = "examples/certificate";
const SEED: &str = "6f1d2c3b4a59687706152433425160fedcba98765432100123456789abcdef00";

fn marked() -> Room {
    let room = Room::with_example("certificate");
    room.run(&["assemble", EXAM, "--seed", SEED]).exits(0);
    room.run(&["mark", EXAM]).exits(1);
    room
}

#[test]
fn a_regrade_says_who_changes_and_by_how_much_and_writes_nothing() {
    let room = marked();
    let path = "examples/certificate/sitting.register";
    let before = std::fs::read(room.path(path)).unwrap();
    room.run(&["results", "regrade", EXAM])
        .exits(0)
        .gives("0 marks would differ, for 0 of 24 candidates; 0 decisions would turn.");
    room.put(
        "examples/certificate/decisions/words.csv",
        "of,written,decision,why,by\n\
         sample rum-corvey-gully-7 aroma,wet gravestone,as pineapple,,CE\n",
    );
    let outcome = room.run(&["results", "regrade", EXAM]).exits(0);
    assert!(
        outcome
            .out
            .contains("1 mark would differ, for 1 of 24 candidates"),
        "{}",
        outcome.out
    );
    assert!(outcome.out.contains("C-001") && outcome.out.contains("tasting 915 aroma"));
    assert_eq!(std::fs::read(room.path(path)).unwrap(), before);
}

#[test]
fn a_changed_key_that_no_longer_fits_the_printed_form_is_refused() {
    let room = marked();
    let sitting = register::Register::open(&room.path("examples/certificate/sitting.register"))
        .unwrap()
        .sitting()
        .unwrap();
    let printed = sitting.forms[0].questions.iter();
    let bank = "question-banks/foundation/questions/blending-and-finishing.yaml";
    let text = room.text(bank);
    // One more option in a question with options that was printed.
    let (before, block) = printed
        .filter_map(|question| text.split_once(&format!("  - id: {}\n", question.question)))
        .find(|(_, block)| block.split("\n\n").next().unwrap().contains("best_answer:"))
        .unwrap();
    let id = &text[before.len()..text.len() - block.len()];
    let more = "      options:\n        - { text: \"The label is changed\", why: \"That comes later.\" }\n";
    room.put(
        bank,
        format!(
            "{before}{id}{}",
            block.replacen("      options:\n", more, 1)
        ),
    );
    let path = "examples/certificate/sitting.register";
    let register = std::fs::read(room.path(path)).unwrap();
    room.run(&["results", "regrade", EXAM])
        .exits(1)
        .says("form A");
    assert_eq!(std::fs::read(room.path(path)).unwrap(), register);
}

#[test]
fn a_text_that_is_gone_is_refused() {
    let room = marked();
    // A bottle that nobody was poured: the bank is sound without it.
    for ending in ["yaml", "panel.csv"] {
        let name = format!("question-banks/foundation/samples/gin-quillfeather.{ending}");
        std::fs::remove_file(room.path(&name)).unwrap();
    }
    room.run(&["results", "regrade", EXAM])
        .exits(3)
        .says("texts that are gone: bank/samples/gin-quillfeather.panel.csv");
}

/// An incident of each, a mark decided for each script alone, and both corrected: of all that, only
/// what is the candidate's own.
#[test]
fn an_appeal_file_names_nobody_else_whatever_happened() {
    let (ada, ben) = ("Copper takes sulphur up, said Ada.", "It shines, said Ben.");
    let room = crate::moderate::marked(&[("C-1", ada), ("C-2", ben)]);
    room.put(
        "exam/incidents.csv",
        "candidate,glass,what,note\nC-1,,late,the tram\nC-2,,late,the ferry\n",
    );
    let decide = |marks: &str| {
        let row = |script: &str, essay: &str| {
            format!("question why-copper,\"{essay}\",{marks} marks,,CD,{script}\n")
        };
        let rows = [row("C-1", ada), row("C-2", ben)].concat();
        room.put(
            "exam/decisions/moderated.csv",
            format!("of,written,decision,why,by,script\n{rows}"),
        );
    };
    decide("1");
    room.run(&["mark", "exam"]).gives("2 decisions of persons");
    decide("2");
    let correct = ["results", "regrade", "exam", "--apply", "--why"];
    let by_two = ["as C-2 asked", "--confirmed-by", "marker"];
    room.run(&[&correct[..], &by_two[..]].concat())
        .exits(0)
        .gives("2 marks differ, for 2 of 4 candidates");
    let register = register::Register::open(&room.path("exam/sitting.register")).unwrap();
    let awards = register.marks().unwrap();
    let item = awards
        .iter()
        .find_map(|award| match &award.item {
            grader::Item::Theory { number, .. } if award.answer == ada => {
                Some(format!("theory {number}"))
            }
            _ => None,
        })
        .unwrap();
    let before = register.head().unwrap();
    drop(register);
    let appeal = [
        "results",
        "appeal",
        "exam",
        "--candidate",
        "C-1",
        "--item",
        &item,
    ];
    room.run(&[&appeal[..], &["--role", "marker"]].concat())
        .exits(3)
        .says("may not write an appeal file");
    room.run(&appeal).exits(0);
    let text = std::process::Command::new("pdftotext")
        .arg("-layout")
        .arg(room.path("exam/appeals/C-1.pdf"))
        .arg("-")
        .output()
        .unwrap();
    let text = String::from_utf8(text.stdout).unwrap();
    let plain = text.split_whitespace().collect::<Vec<_>>().join(" ");
    for own in [
        "the tram",
        "decided by CD",
        "said Ada",
        "from 1 to 2",
        "assembled",
    ] {
        assert!(plain.contains(own), "{own:?} is not in\n{text}");
    }
    for other in ["C-2", "Ben", "the ferry", "shines"] {
        assert!(!plain.contains(other), "{other:?} is in\n{text}");
    }
    // Both the attempt and the file are entered.
    let register = register::Register::open(&room.path("exam/sitting.register")).unwrap();
    let acts = register.acts().unwrap();
    let last = acts.last().unwrap();
    assert!(
        last.starts_with("appeal file made") && last.contains("candidate C-1"),
        "{last}"
    );
    assert_ne!(register.head().unwrap(), before);
    assert!(acts[acts.len() - 2].starts_with("refused"), "{acts:#?}");
}

#[test]
fn an_appeal_file_holds_what_is_disputed_and_nothing_else() {
    let room = marked();
    room.run(&[
        "results",
        "appeal",
        EXAM,
        "--candidate",
        "C-001",
        "--item",
        "theory 3",
        "--item",
        "tasting 915 aroma",
    ])
    .exits(0)
    .gives("theory 3:")
    .says("appeals/C-001.pdf");
    let text = std::process::Command::new("pdftotext")
        .arg("-layout")
        .arg(room.path("examples/certificate/appeals/C-001.pdf"))
        .arg("-")
        .output()
        .unwrap();
    let text = String::from_utf8(text.stdout).unwrap();
    for words in [
        "Theory 3",
        "Tasting 915 aroma",
        "wet gravestone",
        "assessors of the",
        "theory.csv, line",
    ] {
        assert!(text.contains(words), "{words:?} is not in\n{text}");
    }
    assert!(
        !text.contains("Theory 4") && !text.contains("C-002"),
        "{text}"
    );
    room.run(&[
        "results",
        "appeal",
        EXAM,
        "--candidate",
        "C-0001",
        "--item",
        "theory 3",
    ])
    .exits(3)
    .says("did you mean \"C-001\"?");
    room.run(&[
        "results",
        "appeal",
        EXAM,
        "--candidate",
        "C-001",
        "--item",
        "theory 99",
    ])
    .exits(3)
    .says("was not asked: theory 99");
}

#[test]
fn a_correction_wants_a_reason_and_two_roles_and_stays_in_the_ledger() {
    let room = marked();
    room.put(
        "examples/certificate/decisions/words.csv",
        "of,written,decision,why,by\n\
         sample rum-corvey-gully-7 aroma,wet gravestone,as pineapple,,CE\n",
    );
    let apply = ["results", "regrade", EXAM, "--apply"];
    room.run(&apply).exits(2);
    let with_why = [&apply[..], &["--why", "said so at the table"]].concat();
    room.run(&with_why).exits(3).says("two roles");
    let with_two = [&with_why[..], &["--confirmed-by", "marker"]].concat();
    room.run(&with_two)
        .exits(0)
        .gives("1 mark differs, for 1 of 24 candidates")
        .says("the marks are corrected");
    // Applied once; nothing is left to correct, and the ledger holds.
    room.run(&with_two).exits(3).says("nothing differs");
    room.run(&["verify", EXAM]).exits(0);
    let acts = register::Register::open(&room.path("examples/certificate/sitting.register"))
        .unwrap()
        .acts()
        .unwrap();
    let last = acts
        .iter()
        .find(|act| act.contains("pineapple") || act.contains("said so at the table"));
    assert!(last.is_some(), "{acts:#?}");
}
