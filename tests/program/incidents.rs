//! What happened on the day, end to end: a broken glass is no nought, and the register keeps it.

use tests::Room;

const EXAM: &str = "examples/certificate";

#[test]
fn a_broken_glass_waits_for_the_chief_examiner() {
    let room = Room::with_example("certificate");
    room.run(&["assemble", EXAM, "--seed", &"7e".repeat(32)])
        .exits(0);
    // Which candidates and codes there are is read from the sitting itself.
    let roster = room.text(&format!("{EXAM}/roster.csv"));
    let candidate = roster.lines().nth(1).unwrap().split(',').next().unwrap();
    let code = code_of(&room, candidate);
    room.put(
        "answers.csv",
        format!("candidate,g1.code,g1.category\n{candidate},{code},rum\n"),
    );
    let mark = ["mark", EXAM, "--answers", "answers.csv"];
    let before = room.run(&mark).exits(0);
    assert!(!before.out.contains("broken") && !before.err.contains("broken"));
    room.put(
        &format!("{EXAM}/incidents.csv"),
        format!("candidate,glass,what,note\n{candidate},{code},broken,spilt by a neighbour\n{candidate},,late,\n"),
    );
    let after = room.run(&mark).exits(0);
    let told = format!("{}{}", after.out, after.err);
    assert!(
        told.contains("not a nought") && told.contains("spilt by a neighbour"),
        "{told}"
    );
    let register = std::fs::read(room.path(&format!("{EXAM}/sitting.register"))).unwrap();
    let words = b"broken: spilt by a neighbour";
    assert!(register.windows(words.len()).any(|w| w == words));
    room.put(
        &format!("{EXAM}/incidents.csv"),
        format!("candidate,glass,what\n{candidate},1,broken\nX-99,{code},broken\n{candidate},{code},burst\n{candidate},,broken\n"),
    );
    room.run(&mark)
        .says("had no glass 1")
        .says("\"X-99\" is no candidate")
        .says("\"burst\" is no kind of incident")
        .says("which glass of");
}

/// The code of the first glass of a candidate, as the register has it.
fn code_of(room: &Room, candidate: &str) -> String {
    let path = room.path(&format!("{EXAM}/sitting.register"));
    let sitting = register::Register::open(&path).unwrap().sitting().unwrap();
    let place = sitting
        .places
        .iter()
        .find(|place| place.candidate.as_str() == candidate)
        .unwrap();
    place.glasses[0].code.clone()
}
