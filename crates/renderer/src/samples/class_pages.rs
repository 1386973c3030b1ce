//! Invented pages about samples and questions.

use crate::content::Figure;
use crate::content::examiner::{
    AnswerRow, OtherWordRow, QuestionPages, QuestionSheet, SamplePages, SampleSheet, SampleWordRow,
};
use crate::samples::{exam, words};

/// A share of the class of twelve in per cent.
fn of_twelve(n: u8) -> u8 {
    u8::try_from(u32::from(n) * 100 / 12).unwrap_or(100)
}

fn answer(answer: &str, right: bool, n: u8) -> AnswerRow {
    AnswerRow {
        answer: answer.to_owned(),
        right,
        n: n.to_string(),
        percent: of_twelve(n),
        scored: if n == 0 {
            String::new()
        } else {
            "64 %".to_owned()
        },
    }
}

/// One sample of a class of twelve.
#[must_use]
pub fn sample_pages() -> SamplePages {
    let own = str::to_owned;
    let word = |word: &str, panel: u8, class: u8| SampleWordRow {
        word: own(word),
        panel: format!("{panel} of 10"),
        panel_percent: panel * 10,
        class: format!("{class} of 12"),
        class_percent: of_twelve(class),
    };
    SamplePages {
        exam: exam(),
        samples: vec![SampleSheet {
            name: own("Oberhag Six Years"),
            was: own("Perry brandy from Oberhag, 6 years, 42 % vol"),
            sentences: words(&["Most named pear, fewest ginger."]),
            figures: vec![Figure {
                what: own("The whole glass"),
                value: own("58 %"),
                interval: own("49 to 67 % (95 %)"),
                n: own("12"),
                note: String::new(),
            }],
            words: vec![
                word("pear", 9, 10),
                word("vanilla", 6, 4),
                word("ginger", 5, 1),
            ],
            others: vec![OtherWordRow {
                word: own("smoke"),
                class: own("2 of 12"),
                standing: own("contradicts the sample"),
            }],
            taken_for: vec![answer("Perry brandy", true, 7), answer("Grappa", false, 5)],
            placed_in: Vec::new(),
        }],
    }
}

/// Two questions of a class of twelve.
#[must_use]
pub fn question_pages() -> QuestionPages {
    let own = str::to_owned;
    let question = |id: &str, stem: &str| QuestionSheet {
        id: own(id),
        place: own("Distillation · form A 7, form B 12"),
        stem: own(stem),
        credit: own("5 of 12 right (42 %; 95 % interval 19 to 68 %)."),
        source: own("an invented handbook, page 12"),
        answers: vec![
            answer("the lyne arm", true, 5),
            answer("the worm tub", false, 6),
            answer("the wash charger", false, 1),
            answer("the spirit safe", false, 0),
        ],
    };
    QuestionPages {
        exam: exam(),
        sentences: words(&[
            "Hardest first. Beside each answer: how many gave it, and what they scored in all.",
        ]),
        questions: vec![
            question(
                "still-007",
                "Which part of a pot still is set to rise or fall to change reflux?",
            ),
            question("still-011", "Which part leads vapour to the condenser?"),
        ],
    }
}
