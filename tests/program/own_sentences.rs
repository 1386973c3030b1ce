//! The words of reasons: German where the plan is German, a school's own where it brings a file, and a
//! file that leaves a number out is refused before anything is marked.

use register::Register;
use tests::Room;

const EXAM: &str = "examples/evening-class";

/// The evening class, assembled, with one answer to the glass of its first candidate.
fn answered(language: &str) -> Room {
    let room = Room::with_example("evening-class");
    if language != "en" {
        room.replace(
            "question-banks/foundation/bank.yaml",
            "language: en",
            &format!("language: {language}"),
        );
    }
    room.run(&["assemble", EXAM, "--seed", &"11".repeat(32)])
        .exits(0);
    let register = Register::open(&room.path(&format!("{EXAM}/sitting.register"))).unwrap();
    let place = register.sitting().unwrap().places.remove(0);
    let (who, code) = (place.candidate, &place.glasses[0].code);
    room.put(
        &format!("{EXAM}/answers/a.csv"),
        format!("candidate,part,question,answer\n{who},tasting,{code} aroma,prune; oak; zzyx\n{who},tasting,{code} age,8\n"),
    );
    room
}

/// The sentence for this thing asked of the glass.
fn sentence(room: &Room, wanted: &str) -> String {
    let register = Register::open(&room.path(&format!("{EXAM}/sitting.register"))).unwrap();
    let awards = register.marks().unwrap();
    let award = awards.iter().find(|award| {
        matches!(&award.item, grader::Item::Tasting { asked, .. } if asked == wanted)
            && !award.answer.is_empty()
    });
    match &award.unwrap().outcome {
        grader::Outcome::Marked { reason, .. } => reason.clone(),
        grader::Outcome::ForAPerson { why, .. } => why.clone(),
    }
}

#[test]
fn a_german_bank_has_german_reasons_with_the_numbers_of_the_english_ones() {
    let (english, german) = (answered("en"), answered("de"));
    for room in [&english, &german] {
        room.run(&["mark", EXAM]).exits(0);
    }
    let (told, gesagt) = (sentence(&english, "aroma"), sentence(&german, "aroma"));
    assert!(told.contains("; so far found: "), "{told}");
    assert!(
        gesagt.contains("; bisher gefunden: ") && gesagt.contains("Punkten"),
        "{gesagt}"
    );
    let digits = |text: &str| {
        let text = text.replace(',', ".");
        let mut found: Vec<String> = text
            .split(|c: char| !(c.is_ascii_digit() || c == '.'))
            .map(|number| number.trim_matches('.').to_owned())
            .filter(|number| !number.is_empty())
            .collect();
        found.sort();
        found
    };
    assert_eq!(digits(&told), digits(&gesagt));
    // What a person decides goes on in the same language.
    let waiting = german.text(&format!("{EXAM}/to-decide.csv"));
    let of = waiting
        .lines()
        .nth(1)
        .unwrap()
        .split(',')
        .next()
        .unwrap()
        .to_owned();
    german.put(
        &format!("{EXAM}/decisions/d.csv"),
        format!("of,written,decision,by\n{of},zzyx,nothing,CE\n"),
    );
    german.run(&["mark", EXAM]).exits(0);
    let settled = sentence(&german, "aroma");
    assert!(
        settled.contains("zählt nichts nach Entscheidung von CE"),
        "{settled}"
    );
}

#[test]
fn a_school_brings_its_own_words_and_no_mark_changes() {
    let room = answered("en");
    room.run(&["mark", EXAM]).exits(0);
    let before = sentence(&room, "age");
    let shipped = std::fs::read_to_string(tests::top().join("templates/reasons.en.yaml")).unwrap();
    let own = shipped
        .replace("bands apart, {earned}", "bands away; you have {earned}")
        .replace("the next band, {earned}", "next door; you have {earned}")
        .replace(
            "\"{marks} of {of} {of?mark:marks}\"",
            "\"{marks} out of {of} {of?point:points}\"",
        );
    room.put(&format!("{EXAM}/templates/reasons.en.yaml"), &own);
    room.run(&["mark", EXAM]).exits(0);
    let after = sentence(&room, "age");
    assert_ne!(before, after);
    assert!(
        after.contains("you have") && after.contains("out of"),
        "{after}"
    );
    assert_eq!(
        before
            .split(' ')
            .filter(|word| word.parse::<f64>().is_ok())
            .collect::<Vec<_>>(),
        after
            .split(' ')
            .filter(|word| word.parse::<f64>().is_ok())
            .collect::<Vec<_>>()
    );
}

#[test]
fn a_file_that_leaves_a_number_out_is_refused_at_its_line() {
    let room = answered("en");
    let shipped = std::fs::read_to_string(tests::top().join("templates/reasons.en.yaml")).unwrap();
    let without = shipped.replace(
        "nearness {nearness} less the {guess} of a guess",
        "not quite",
    );
    assert_ne!(shipped, without);
    room.put(&format!("{EXAM}/templates/reasons.en.yaml"), &without);
    room.run(&["mark", EXAM])
        .exits(1)
        .says("the sentence \"node_near\" does not say {nearness}")
        .says("does not say {guess}")
        .says("reasons.en.yaml:");
    let register = Register::open(&room.path(&format!("{EXAM}/sitting.register"))).unwrap();
    assert!(register.marks().unwrap().is_empty(), "nothing was marked");
    room.put(
        &format!("{EXAM}/templates/reasons.en.yaml"),
        shipped.replace("language: en", "language: fr"),
    );
    room.run(&["mark", EXAM])
        .exits(1)
        .says("this file is named for \"en\"");
}
