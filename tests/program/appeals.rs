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
    let plan = room.text("examples/certificate/plan.yaml");
    room.put(
        "examples/certificate/plan.yaml",
        plan.replace("question-banks/foundation", "question-banks/nowhere"),
    );
    let outcome = room.run(&["results", "regrade", EXAM]);
    assert_ne!(outcome.code, 0);
    assert_ne!(outcome.code, 70, "{}", outcome.err);
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
