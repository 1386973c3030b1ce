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
    // A regrade knows of the glass as marking does, and marking again enters nothing twice.
    room.run(&["results", "regrade", EXAM])
        .exits(0)
        .gives("0 marks would differ");
    room.run(&mark).exits(0);
    let entries = entries(&room);
    let told = |words: &str| entries.iter().filter(|text| text.contains(words)).count();
    assert_eq!(told("broken: spilt by a neighbour"), 1, "{entries:#?}");
    assert_eq!(told("\"act\":\"incident\""), 2, "{entries:#?}");
    // A glass that was poured again in time is kept in the register and marked as any other.
    room.put(
        &format!("{EXAM}/incidents.csv"),
        format!("candidate,glass,what,note\n{candidate},{code},replaced,by the spare\n"),
    );
    let marked = room.run(&mark).exits(0);
    assert!(!marked.out.contains("not a nought") && !marked.err.contains("not a nought"));
    let register = std::fs::read(room.path(&format!("{EXAM}/sitting.register"))).unwrap();
    let words = b"replaced: by the spare";
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

#[test]
fn a_decision_about_what_was_answered_twice_outlives_a_regrade() {
    let room = Room::with_example("certificate");
    room.run(&["assemble", EXAM, "--seed", &"7e".repeat(32)])
        .exits(0);
    let roster = room.text(&format!("{EXAM}/roster.csv"));
    let candidate = roster.lines().nth(1).unwrap().split(',').next().unwrap();
    let path = room.path(&format!("{EXAM}/sitting.register"));
    let sitting = register::Register::open(&path).unwrap().sitting().unwrap();
    let place = sitting
        .places
        .iter()
        .find(|place| place.candidate.as_str() == candidate)
        .unwrap();
    let glass = &place.glasses[0];
    let row = |word: &str| format!("{candidate},tasting,{} category,{word}\n", glass.code);
    room.put(
        "answers.csv",
        format!(
            "candidate,part,question,answer\n{}{}",
            row("rum"),
            row("gin")
        ),
    );
    let mark = ["mark", EXAM, "--answers", "answers.csv"];
    room.run(&mark).exits(1).gives("answered twice");
    let regrade = ["results", "regrade", EXAM];
    room.run(&regrade).exits(0).gives("0 marks would differ");
    room.put(
        &format!("{EXAM}/decisions/twice.csv"),
        format!(
            "of,written,decision,why,by\nsample {} category,rum,1 marks,the script is plain,CE\n",
            glass.sample
        ),
    );
    // First shown, then marked by; and once it is marked by, a regrade still knows it.
    room.run(&regrade).exits(0).gives("by decision of CE");
    room.run(&mark).exits(1).gives("1 decision of persons");
    room.run(&regrade).exits(0).gives("0 marks would differ");
}

/// The ledger of the sitting.
fn entries(room: &Room) -> Vec<String> {
    let path = room.path(&format!("{EXAM}/sitting.register"));
    register::Register::open(&path).unwrap().ledger().unwrap()
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
