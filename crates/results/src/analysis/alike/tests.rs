//! Likeness of answers with known truth: who worked alone, and who did not.

use base::{ExamSeed, Purpose, Stream};

use super::super::responses::{AskedQuestion, CandidateAnswers};
use super::*;

/// Candidates who work alone on 40 questions of four options; the key is the first.
fn alone(n: usize, index: u64) -> Responses {
    let mut stream = Stream::new(
        &ExamSeed::from_bytes([9; 32]),
        Purpose::RehearsalCandidate,
        index,
    );
    let questions: Vec<AskedQuestion> = (1..=40)
        .map(|number| AskedQuestion {
            name: format!("q{number}"),
            stem: String::new(),
            key: Some(0),
            options: ["A", "B", "C", "D"].map(str::to_owned).to_vec(),
            full: 1.0,
            counts: true,
        })
        .collect();
    let candidates = (0..n)
        .map(|place| {
            let ability = (0..12).map(|_| stream.unit()).sum::<f64>() - 6.0;
            let answers = (0..40)
                .map(|question| {
                    let hard = f64::from(question) / 13.0 - 1.5;
                    let right = 1.0 / (1.0 + libm::exp(hard - ability));
                    let (draw, other) = (stream.unit(), stream.unit());
                    // Of the wrong options one draws half of those who miss the key.
                    let option = match () {
                        () if draw < right => 0,
                        () if other < 0.5 => 1,
                        () if other < 0.8 => 2,
                        () => 3,
                    };
                    Answer::Given {
                        marks: if option == 0 { 1.0 } else { 0.0 },
                        option: Some(option),
                    }
                })
                .collect();
            CandidateAnswers {
                candidate: format!("C-{:03}", place + 1),
                sitting: String::new(),
                form: String::new(),
                group: String::new(),
                answers,
            }
        })
        .collect();
    Responses {
        what: "theory".to_owned(),
        questions,
        candidates,
    }
}

/// The candidate of the middle of the class copies all but every fifth answer of the neighbour.
fn with_a_copier(n: usize) -> Responses {
    let mut made = alone(n, 7);
    let source = made.candidates[n / 2].answers.clone();
    let own = &mut made.candidates[n / 2 + 1].answers;
    for (place, answer) in own.iter_mut().enumerate() {
        if place % 5 != 0 {
            *answer = source[place];
        }
    }
    made
}

fn in_a_row(n: usize) -> Vec<SideBySide> {
    (1..n).map(|place| (place - 1, place)).collect()
}

#[test]
fn who_copied_is_named_by_seats_and_among_all_pairs_and_nobody_else() {
    let answers = with_a_copier(120);
    for beside in [Some(in_a_row(120)), None] {
        let made = alikeness(&answers, beside.as_deref()).unwrap();
        let named: Vec<&AlikePair> = made.pairs.iter().filter(|pair| pair.named).collect();
        assert_eq!(named.len(), 1, "{named:#?}");
        assert_eq!(named[0].candidates, ["C-061", "C-062"]);
        assert!(named[0].sentence.contains("C-061 and C-062"));
        assert!(made.caution.contains("never a verdict"));
        let pairs = if beside.is_some() { 119 } else { 120 * 119 / 2 };
        assert_eq!(made.looked_at, pairs);
    }
}

#[test]
fn of_those_who_worked_alone_nobody_is_named() {
    for index in 20..24 {
        let made = alikeness(&alone(100, index), None).unwrap();
        assert!(
            made.pairs.iter().all(|pair| !pair.named),
            "{}",
            made.sentence
        );
        assert!(
            made.sentence.contains("no answers are more alike"),
            "{}",
            made.sentence
        );
        // Ten are shown even so, the least probable first.
        assert_eq!(made.pairs.len(), 10);
        assert!(
            made.pairs
                .windows(2)
                .all(|two| two[0].adjusted <= two[1].adjusted)
        );
    }
}

#[test]
fn few_candidates_few_questions_and_no_options_are_told() {
    let why = alikeness(&alone(99, 1), None).unwrap().refused;
    assert!(
        why[0].contains("99 candidates") && why[0].contains("side by side"),
        "{why:?}"
    );
    let mut short = alone(100, 1);
    short.questions.truncate(9);
    for candidate in &mut short.candidates {
        candidate.answers.truncate(9);
    }
    assert!(alikeness(&short, None).unwrap().refused[0].contains("9 questions"));
    let mut without = alone(100, 1);
    for question in &mut without.questions {
        question.key = None;
    }
    assert!(alikeness(&without, None).is_none());
}

#[test]
fn neighbours_with_different_forms_have_nothing_to_compare() {
    let mut made = alone(200, 3);
    for (place, candidate) in made.candidates.iter_mut().enumerate() {
        for (question, answer) in candidate.answers.iter_mut().enumerate() {
            if (question < 20) == (place % 2 == 0) && question >= 4 {
                *answer = Answer::NotAsked;
            }
        }
    }
    let told = alikeness(&made, Some(&in_a_row(200))).unwrap();
    assert_eq!((told.looked_at, told.without), (199, 199));
    assert!(
        told.sentence.contains("nothing to compare"),
        "{}",
        told.sentence
    );
    // Two sittings do not sit side by side, whatever a table says.
    for candidate in made.candidates.iter_mut().skip(100) {
        candidate.sitting = "spring".to_owned();
    }
    let told = alikeness(&made, Some(&[(99, 100), (0, 2), (2, 0), (5, 5)])).unwrap();
    assert_eq!(told.looked_at, 1);
}

#[test]
fn chances_are_told_as_people_say_them() {
    assert_eq!(one_in(0.5), "about 50 in 100");
    assert_eq!(one_in(0.0042), "about 1 in 240");
    assert_eq!(one_in(1e-9), "less than 1 in a million");
}
