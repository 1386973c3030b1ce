//! A class of thirty-six essays goes to three markers, one of whom teaches some of the writers, one of
//! whom grows mild and one of whom is hard; scripts with known marks are mixed in unseen. What is
//! expected was reasoned before it was run, and stands beside each assertion.

use std::collections::{BTreeMap, BTreeSet};

use tests::Room;

use crate::question_kinds::put_every_kind;

const CLASS: usize = 36;
const MARKERS: [&str; 3] = ["AB", "CD", "EF"];
/// Candidates C-1 to C-6 are pupils of AB.
const PUPILS: usize = 6;

/// What an essay is worth, in whole marks of 4: 3 for matter and 1 for structure.
fn worth(essay: usize) -> (i64, i64) {
    ((essay * 7 % 4) as i64, (essay * 5 % 3 % 2) as i64)
}

fn sitting() -> Room {
    let room = Room::empty();
    put_every_kind(&room);
    room.put(
        "exam/plan.yaml",
        "title: Essays\nschool: Harbour Weir School\ndate: 2027-06-12\nbank: ../bank\ntheory:\n  forms: 2\n  minutes: 60\n  cells: { law-and-labels: 4, distillation: 5 }\n",
    );
    let roster: String = (1..=CLASS)
        .map(|n| {
            let teacher = if n <= PUPILS { "ab" } else { "" };
            format!("C-{n},Pupil {n},{teacher}\n")
        })
        .collect();
    room.put(
        "exam/roster.csv",
        format!("candidate,name,teacher\n{roster}"),
    );
    room.put(
        "exam/room.yaml",
        format!("room: Hall\ntables:\n  - {{ id: a, seats: {CLASS} }}\n"),
    );
    room.run(&["assemble", "exam", "--seed", &"4d".repeat(32)])
        .exits(0);
    let register = register::Register::open(&room.path("exam/sitting.register")).unwrap();
    let sitting = register.sitting().unwrap();
    drop(register);
    let mut answers = String::from("candidate,part,question,answer\n");
    for place in &sitting.places {
        let form = sitting.form(place.form.as_ref().unwrap()).unwrap();
        let number = form
            .questions
            .iter()
            .position(|q| q.question.as_str() == "why-copper");
        let who = place.candidate.as_str();
        let essay: usize = who[2..].parse().unwrap();
        answers.push_str(&format!(
            "{who},theory,{},Essay {essay:02}.\n",
            number.unwrap() + 1
        ));
    }
    room.put("exam/answers/theory.csv", answers);
    room.run(&["mark", "exam"]);
    // Agreed at an earlier sitting: three of 4, one of 4, and all.
    room.put(
        "exam/known-marks.csv",
        "script,question,criterion,marks,answer\n\
         K-1,why-copper,matter,2,Known 1.\nK-1,why-copper,structure,1,\n\
         K-2,why-copper,matter,1,Known 2.\nK-2,why-copper,structure,0,\n\
         K-3,why-copper,matter,3,Known 3.\nK-3,why-copper,structure,1,\n",
    );
    room
}

/// The rows of a marker's table: code, criterion, most, and the answer of the script.
fn rows(text: &str) -> Vec<[String; 4]> {
    let mut answer = String::new();
    let lines = text.lines().skip(1);
    lines
        .map(|line| {
            let cells: Vec<&str> = line.split(',').collect();
            if let Some(written) = cells.last().filter(|cell| !cell.is_empty()) {
                answer = (*written).to_owned();
            }
            [cells[0], cells[2], cells[3], &answer].map(str::to_owned)
        })
        .collect()
}

/// What a marker gives for matter: `place` is that of the script among all of the table.
fn given(marker: &str, matter: i64, place: usize, scripts: usize) -> i64 {
    let shift = match marker {
        // Hard: one mark less of three.
        "AB" => -1,
        // Hard at first, mild in the end.
        "CD" if place * 3 < scripts => -1,
        "CD" if place * 3 >= 2 * scripts => 1,
        _ => 0,
    };
    (matter + shift).clamp(0, 3)
}

/// Fills a marker's table in, and says which essays stand in it.
fn fill_in(room: &Room, marker: &str) -> BTreeSet<String> {
    let table = format!("exam/moderation/for-{marker}.csv");
    let rows = rows(&room.text(&table));
    let codes: Vec<&String> = rows.iter().map(|[code, ..]| code).collect();
    let mut order: Vec<&String> = codes.clone();
    order.dedup();
    let mut filled = String::from("script,criterion,marks\n");
    let mut answers = BTreeSet::new();
    for [code, criterion, most, answer] in &rows {
        let place = order.iter().position(|other| *other == code).unwrap();
        let digits: usize = answer.split([' ', '.']).nth(1).unwrap().parse().unwrap();
        let (matter, structure) = if answer.starts_with("Known") {
            [(2, 1), (1, 0), (3, 1)][digits - 1]
        } else {
            worth(digits)
        };
        let marks = match criterion.as_str() {
            "matter" => given(marker, matter, place, order.len()),
            _ => structure,
        };
        assert!(marks <= most.parse().unwrap());
        filled.push_str(&format!("{code},{criterion},{marks}\n"));
        answers.insert(answer.clone());
    }
    room.put(&table, filled);
    answers
}

#[test]
fn a_class_is_marked_by_three_and_the_markers_are_set_side_by_side() {
    let room = sitting();
    room.run(&["moderate", "exam", "--markers", "AB,CD,EF"])
        .exits(0)
        .gives("0 of 36 scripts finished")
        .gives("6 scripts kept from markers who teach their writers");
    let mut tables: BTreeMap<&str, BTreeSet<String>> = BTreeMap::new();
    for marker in MARKERS {
        let text = room.text(&format!("exam/moderation/for-{marker}.csv"));
        // Nothing tells a known script from another: the same columns, codes of the same kind, and
        // no label of the chief examiner's.
        assert!(
            !text.contains("K-1") && !text.contains("known-marks"),
            "{text}"
        );
        let codes = rows(&text).into_iter().map(|[code, ..]| code);
        assert!(
            codes
                .into_iter()
                .all(|code| code.starts_with("S-") && code.len() == 5)
        );
        // Not all at the end or at the beginning.
        let answers: Vec<String> = rows(&text).into_iter().map(|[.., answer]| answer).collect();
        let half = answers.len() / 2;
        assert_eq!(
            answers
                .iter()
                .filter(|answer| answer.starts_with("Known"))
                .count(),
            6
        );
        assert!(
            answers[..half]
                .iter()
                .any(|answer| answer.starts_with("Essay"))
        );
        tables.insert(marker, fill_in(&room, marker));
    }
    // AB has none of the pupils' essays, and nobody's table is much longer than another's.
    for pupil in 1..=PUPILS {
        assert!(!tables["AB"].contains(&format!("Essay {pupil:02}.")));
    }
    let sizes: Vec<usize> = MARKERS.iter().map(|marker| tables[marker].len()).collect();
    assert_eq!(sizes.iter().sum::<usize>(), 2 * CLASS + 9);
    assert!(
        sizes.iter().all(|size| (23..=31).contains(size)),
        "{sizes:?}"
    );

    let report = room.run(&["moderate", "exam", "--json"]).exits(0).json();
    let moderation = &report["moderation"];
    let of = |marker: usize| &moderation["markers"][marker];
    // AB lies below the others, surely; CD's own shifts cancel out.
    let limits = |marker: usize| {
        let both = &of(marker)["limits"];
        (both[0].as_f64().unwrap(), both[1].as_f64().unwrap())
    };
    assert!(limits(0).1 < 0.0, "{}", of(0));
    // CD grows by two marks of four less what the ends of the scale hold back, surely upwards.
    let drift = &of(1)["drift"];
    assert!(drift["limits"][0].as_f64().unwrap() > 0.0, "{drift}");
    assert!(
        (0.15..0.60).contains(&drift["change"].as_f64().unwrap()),
        "{drift}"
    );
    // On the three known scripts AB gives a mark less of each: a quarter, which is not off yet.
    let known = &of(0)["known"];
    assert_eq!(known["scripts"], 3);
    assert!(
        (known["mean"].as_f64().unwrap() + 0.25).abs() < 1e-12,
        "{known}"
    );
    assert_eq!(of(2)["known"]["mean"].as_f64().unwrap(), 0.0);
    // Steadiness has an interval around it.
    let spread = of(2)["spread"].as_f64().unwrap();
    let ends = &of(2)["spread_limits"];
    assert!(ends[0].as_f64().unwrap() < spread && spread < ends[1].as_f64().unwrap());

    let words = room.run(&["moderate", "exam"]).exits(0);
    // EF does nothing but what the scripts are worth, and is not blamed for what the others do.
    assert!(!words.out.contains("Talk to EF"), "{}", words.out);
    words
        .gives("Talk to AB: marks hard")
        .gives("Talk to CD:")
        .gives("became milder from script to script")
        .gives("marked again by somebody who has not seen their marks: S-")
        .gives("kappa with quadratic weights")
        .gives("ICC(1,1)")
        .gives("Krippendorff's alpha")
        .gives("Severity by the many-facet model");

    // Where two lie more than a mark apart a third reads, who is none of the two and no teacher.
    let needed = report["third_needed"].as_array().unwrap().len();
    assert!(needed > 0, "AB at -1 beside CD at +1 lie two marks apart");
    let third = room.text("exam/moderation/third.csv");
    assert!(third.starts_with("script,question,criterion,most,marks,not_by,answer"));
    for line in third.lines().skip(1) {
        // A cell of several names stands in quotes; no answer here holds a comma before it.
        let cells: Vec<&str> = line.split(',').collect();
        let names: Vec<&str> = cells[5].trim_matches('"').split("; ").collect();
        assert!(
            names.len() >= 2
                && names
                    .iter()
                    .all(|name| MARKERS.contains(name) || *name == "ab"),
            "{line}"
        );
    }
    // The third gives what each is worth; all is finished, and no known script comes to a decision.
    let mut filled = String::from("script,criterion,marks\n");
    for [code, criterion, _, answer] in rows(&third) {
        let essay: usize = answer.split([' ', '.']).nth(1).unwrap().parse().unwrap();
        let (matter, structure) = worth(essay);
        let marks = if criterion == "matter" {
            matter
        } else {
            structure
        };
        filled.push_str(&format!("{code},{criterion},{marks}\n"));
    }
    room.put("exam/moderation/third.csv", filled);
    room.run(&["moderate", "exam"])
        .exits(0)
        .gives("36 of 36 scripts finished");
    let decisions = room.text("exam/decisions/moderated.csv");
    assert_eq!(decisions.lines().count(), 1 + CLASS);
    assert!(!decisions.contains("Known"), "{decisions}");
    room.run(&["mark", "exam"]);
    let register = register::Register::open(&room.path("exam/sitting.register")).unwrap();
    let essays: Vec<_> = register
        .marks()
        .unwrap()
        .into_iter()
        .filter(|award| {
            matches!(&award.item, grader::Item::Theory { question, .. } if question.as_str() == "why-copper")
        })
        .collect();
    assert!(essays.len() == CLASS && essays.iter().all(|award| !award.outcome.waits()));
}

#[test]
fn a_class_with_nobody_but_its_teachers_is_refused_by_name() {
    let room = sitting();
    room.run(&["moderate", "exam", "--markers", "AB,CD"])
        .exits(3)
        .says("no two markers are left for C-")
        .says("nobody marks those whom they teach");
}

#[test]
fn faults_of_the_known_marks_are_listed_and_the_rest_is_mixed_in() {
    let room = sitting();
    let text = room.text("exam/known-marks.csv");
    room.put(
        "exam/known-marks.csv",
        text.replace("K-2,why-copper,matter,1", "K-2,why-copper,matter,9"),
    );
    let run = room
        .run(&["moderate", "exam", "--markers", "AB,CD,EF"])
        .exits(1);
    run.says("\"9\" cannot be given here").says("0 to 3");
    let table = room.text("exam/moderation/for-EF.csv");
    assert!(table.contains("Known 1") && !table.contains("Known 2"));
}
