//! Where an answer came from is kept with it: table and line, the picture of its sheet, who typed it in.

use register::Register;
use tests::Room;

const SEED: &str = "3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c";

#[test]
fn an_answer_keeps_its_table_line_picture_and_typist() {
    let room = Room::empty();
    let small = tests::top().join("tests/papers/small-exam");
    tests::copy(&small, &room.path("exam"));
    room.put(
        "exam/answers/wide.csv",
        "candidate,q1,sheet,by\nS-1,B,scan-01.png,R. Vane\nS-2,A,,\n",
    );
    room.put(
        "exam/answers/long.csv",
        "candidate,part,question,answer,by\nS-1,theory,2,A,M. Oake\n",
    );
    room.run(&["assemble", "exam", "--seed", SEED]).exits(0);
    let code = room.run(&["mark", "exam"]).code;
    assert!(code == 0 || code == 1, "{code}");
    let path = room.path("exam/sitting.register");
    let answers = Register::open(&path).unwrap().answers().unwrap();
    let origin = |who: &str, item: &str| {
        let answer = answers
            .iter()
            .find(|a| a.candidate.as_str() == who && a.item == item)
            .unwrap();
        let table = answer.source.rsplit('/').next().unwrap();
        let kept = [&answer.sheet, &answer.keyed_by].map(|text| text.as_deref().unwrap_or("-"));
        format!("{table} {} {} {}", answer.line, kept[0], kept[1])
    };
    assert_eq!(origin("S-1", "theory 1"), "wide.csv 2 scan-01.png R. Vane");
    assert_eq!(origin("S-2", "theory 1"), "wide.csv 3 - -");
    assert_eq!(origin("S-1", "theory 2"), "long.csv 2 - M. Oake");
    room.run(&["verify", "exam"]).exits(0);
}
