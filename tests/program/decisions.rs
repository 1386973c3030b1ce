//! What the program may not decide goes to a person once, and the decision holds for all scripts.

use register::Register;
use tests::Room;

const EXAM: &str = "examples/certificate";
const SEED: &str = "6f1d2c3b4a59687706152433425160fedcba98765432100123456789abcdef00";

fn marked() -> Room {
    let room = Room::with_example("certificate");
    room.run(&["assemble", EXAM, "--seed", SEED]).exits(0);
    room.run(&["mark", EXAM])
        .exits(1)
        .says("to-decide.csv: fill in decision");
    room
}

fn name(item: &grader::Item) -> String {
    match item {
        grader::Item::Theory { number, .. } => format!("theory {number}"),
        grader::Item::Tasting { code, asked, .. } => format!("tasting {code} {asked}"),
    }
}

fn award(room: &Room, candidate: &str, item: &str) -> grader::Award {
    let register = Register::open(&room.path("examples/certificate/sitting.register")).unwrap();
    let mut awards = register.marks().unwrap();
    let at = awards
        .iter()
        .position(|award| award.candidate.as_str() == candidate && name(&award.item) == item)
        .unwrap_or_else(|| panic!("{candidate} was not asked {item}"));
    awards.swap_remove(at)
}

#[test]
fn a_word_decided_once_is_marked_as_the_word_it_stands_for() {
    let room = marked();
    let waiting = room.text("examples/certificate/to-decide.csv");
    assert!(waiting.starts_with("of,written,because,near,most,answers,decision,why,by\r\n"));
    let row = "sample rum-corvey-gully-7 aroma,wet gravestone,";
    assert!(waiting.contains(row), "{waiting}");
    assert!(!waiting.contains("C-0"), "names nobody:\n{waiting}");
    // Before: what is known counts so far. After: one word more, as "pineapple".
    let before = award(&room, "C-001", "tasting 915 aroma");
    assert!(before.outcome.waits());
    room.put(
        "examples/certificate/decisions/words.csv",
        "of,written,decision,why,by\n\
         sample rum-corvey-gully-7 aroma,wet gravestone,as pineapple,said so at the table,CE\n\
         sample rum-corvey-gully-7 aroma,never written,nothing,,CE\n",
    );
    room.run(&["mark", EXAM])
        .exits(1)
        .gives("1 decision of persons applied.")
        .says("met no answer that waited");
    let after = award(&room, "C-001", "tasting 915 aroma");
    assert!(!after.outcome.waits());
    assert!(after.marks() > before.marks());
    assert_eq!(after.answer, before.answer, "the answer stays as written");
    let grader::Outcome::Marked { reason, .. } = &after.outcome else {
        panic!("{after:?}");
    };
    assert!(
        reason.ends_with(
            "\"wet gravestone\" counts as \"pineapple\" by decision of CE (said so at the table)"
        ),
        "{reason}"
    );
    assert!(
        !room
            .text("examples/certificate/to-decide.csv")
            .contains("gravestone")
    );
}

#[test]
fn a_decision_can_be_for_one_script_and_faulty_ones_are_told_and_left_out() {
    let room = marked();
    room.put(
        "examples/certificate/decisions/scripts.csv",
        "of,written,decision,why,by,script\n\
         question heavy-rum-wash,B,1 mark,the crossed-out row is void,M1,C-005\n\
         question most-distillery-character,F,perhaps,,M1,\n\
         question most-distillery-character,F,nothing,,,\n",
    );
    room.run(&["mark", EXAM])
        .exits(1)
        .says("\"perhaps\" is no decision")
        .says("this decision says not by whom");
    assert_eq!(award(&room, "C-005", "theory 6").marks(), base::Marks::ONE);
    assert!(award(&room, "C-009", "theory 10").outcome.waits());
}
