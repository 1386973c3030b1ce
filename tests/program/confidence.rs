//! How sure candidates are goes the whole way: checked, printed, marked, rehearsed, practised.

use register::Register;
use tests::Room;

const EXAM: &str = "examples/certificate";
const LIST: &str =
    "[Grain spirits, Sugar cane spirits, Grape spirits, Fruit and cider spirits, Agave spirits]";

fn asking(list: &str, score: &str) -> Room {
    let room = Room::with_example("certificate");
    room.replace(
        &format!("{EXAM}/plan.yaml"),
        "    quality: { marks: 1 }\n",
        &format!("    quality: {{ marks: 1 }}\n    confidence: {{ marks: 4, about: category, from: {list}, score: {score} }}\n"),
    );
    for name in room.files(&format!("{EXAM}/answers")).keys() {
        std::fs::remove_file(room.path(&format!("{EXAM}/answers/{name}"))).unwrap();
    }
    room
}

#[test]
fn stated_parts_are_marked_by_both_scores_and_reported() {
    // The certificate pours a rum, a calvados and a tequila. By hand, for 60 on the right one and 40
    // on another: quadratic 4 (1 - .32 / 2); logarithmic, three names held at 1, so 60 of 103 and at
    // most 104: 4 ln(60 / 103 · 104) / ln(100).
    let logarithmic = 4.0 * (60.0_f64 / 103.0 * 104.0).ln() / 100.0_f64.ln();
    for (score, by_hand) in [("quadratic", 3.36), ("logarithmic", logarithmic)] {
        let room = asking(LIST, score);
        room.run(&["check", EXAM])
            .exits(0)
            .gives("confidence, 4 marks");
        room.run(&["assemble", EXAM, "--seed", &"11".repeat(32)])
            .exits(0);
        let register = Register::open(&room.path(&format!("{EXAM}/sitting.register"))).unwrap();
        let place = register.sitting().unwrap().places.remove(0);
        drop(register);
        let mut answers = String::from("candidate,part,question,answer\n");
        for glass in &place.glasses {
            let stated = match glass.sample.as_str() {
                "rum-corvey-gully-7" => "Sugar cane spirits 60; Agave spirits 40",
                "calvados-herisson-8" => "A 10; D 80",
                _ => "0 0 0 0 100",
            };
            answers.push_str(&format!(
                "{},tasting,{} confidence,{stated}\n",
                place.candidate, glass.code
            ));
        }
        room.put(&format!("{EXAM}/answers/a.csv"), answers);
        room.run(&["mark", EXAM])
            .exits(0)
            .gives("the parts add up to 90, not to 100");
        let register = Register::open(&room.path(&format!("{EXAM}/sitting.register"))).unwrap();
        let of = |wanted: &str| {
            let awards = register.marks().unwrap();
            awards
                .into_iter()
                .find(|award| {
                    award.candidate == place.candidate
                        && matches!(&award.item, grader::Item::Tasting { sample, asked, .. } if asked == "confidence" && sample.as_str().starts_with(wanted))
                })
                .unwrap()
        };
        let rum = of("rum").marks().as_f64();
        assert!((rum - by_hand).abs() <= 0.0005, "{score}: {rum}");
        assert_eq!(of("tequila").marks().to_string(), "4");
        assert!(of("calvados").outcome.waits());
        drop(register);
        room.run(&["results", EXAM]).exits(0);
    }
}

#[test]
fn a_list_in_which_not_one_name_is_right_is_refused() {
    for (list, why) in [
        (
            "[Grain spirits, Sugar cane spirits, Fruit and cider spirits]",
            "no name of the printed list is right",
        ),
        (
            "[Sugar cane spirits, Rum, Fruit and cider spirits, Agave spirits]",
            "more than one name is right",
        ),
        (
            "[Moon spirits, Sugar cane spirits]",
            "\"Moon spirits\" stands in no tree",
        ),
    ] {
        asking(list, "quadratic")
            .run(&["check", EXAM])
            .exits(1)
            .says(why);
    }
    asking("[Rum]", "quadratic")
        .run(&["check", EXAM])
        .exits(1)
        .says("2 to 8 names");
    asking(LIST, "cubic")
        .run(&["check", EXAM])
        .exits(1)
        .says("logarithmic");
}

#[test]
fn a_rehearsal_marks_what_simulated_candidates_state() {
    let room = asking(LIST, "quadratic");
    room.run(&["rehearse", EXAM, "--sittings", "5"]).exits(0);
}

#[test]
fn practice_asks_how_sure_and_tells_what_it_earned() {
    let room = Room::with_example("certificate");
    let bank = "question-banks/foundation";
    let answers = "banana\nvanilla\nRum\nJamaica\n7\n0 100 0 0 0 0\n";
    let run = room.run_with(
        &["practise", bank, "--sample", "rum-corvey-gully-7"],
        answers,
        &[],
    );
    let out = format!("{}{}", run.out, run.err);
    assert!(out.contains("How sure are you?"), "{out}");
    assert!(
        out.contains("2 of 2: Sugar cane spirits 100 for Sugar cane spirits"),
        "{out}"
    );
}
