//! An invented report.

use crate::content::released::{
    AppealEntry, AppealFile, AppealWord, CandidateReport, Certificate, PartResult, ReportGlass,
    ReportLine, Verdict, WordBeside,
};
use crate::samples::{exam, words};

/// The report of a candidate who did not pass.
#[must_use]
pub fn candidate_report() -> CandidateReport {
    let own = str::to_owned;
    let line = |number: &str, asked: &str, answered: &str, marks: &str, of: &str, reason: &str| {
        let [number, asked, answered, marks, of, reason] =
            [number, asked, answered, marks, of, reason].map(str::to_owned);
        ReportLine {
            number,
            asked,
            answered,
            marks,
            of,
            reason,
        }
    };
    let word = |yours: &str, panels: &str, how: &str, weight_percent| WordBeside {
        yours: own(yours),
        panels: own(panels),
        how: own(how),
        weight_percent,
        earned_percent: match how {
            "the same" => weight_percent,
            "near: half of the weight" => weight_percent / 2,
            _ => 0,
        },
    };
    CandidateReport {
        exam: exam(),
        candidate_number: own("C-07"),
        name: String::new(),
        verdict: Verdict::NotPassed,
        result: own("Not passed: the tasting part is 3.5 marks below its cut"),
        explanation: own(
            "Both parts must reach their own cut. Theory did, with 31 of 40 marks; tasting reached 32.5 of 60, its cut is 36.",
        ),
        parts: vec![
            PartResult {
                name: own("Theory"),
                marks: own("31"),
                of: own("40"),
                cut: own("24"),
                percent: 78,
                cut_percent: Some(60),
            },
            PartResult {
                name: own("Tasting"),
                marks: own("32.5"),
                of: own("60"),
                cut: own("36"),
                percent: 54,
                cut_percent: Some(60),
            },
        ],
        help: words(&[
            "Your words for fruit were near the panel’s; wood and spice were missed in both glasses.",
            "You named the category rightly twice: that is the harder part.",
            "You may sit the tasting part again within a year; the theory part stands.",
        ]),
        taste_next: words(&[
            "Two grain spirits side by side, one from new oak and one from used oak: look for clove and vanilla.",
            "Fresh ginger, nutmeg and cedar wood in covered glasses, nosed before each practice.",
        ]),
        glasses: vec![ReportGlass {
            code: own("417"),
            what: own("a single malt of 12 years, served at 46 % vol"),
            describe: own("Unpeated malt: orchard fruit and light oak, a short dry finish."),
            marks: own("17.5"),
            of: own("30"),
            words: vec![
                word("pear", "pear", "the same", 100),
                word("toffee", "vanilla", "near: half of the weight", 81),
                word("", "ginger", "missed", 57),
                word("smoke", "", "contradicts the panel’s notes", 0),
            ],
            lines: vec![
                line(
                    "Nose",
                    "Up to six words",
                    "pear, toffee, smoke",
                    "6.5",
                    "12",
                    "Pear in full, toffee half for vanilla; smoke takes away one mark.",
                ),
                line(
                    "Category",
                    "One of the list",
                    "blended malt",
                    "2.2",
                    "4",
                    "Blended malt for single malt: same branch, 0.55 of 4 marks.",
                ),
                line("Age", "One band", "", "0", "2", "No answer."),
            ],
        }],
        theory: vec![
            line(
                "1",
                "A cask sample of 60 % vol is reduced to 40 % vol with water. The volume of the mixture is",
                "A",
                "1",
                "1",
                "Right: spirit and water contract.",
            ),
            line(
                "2",
                "Which of these raise the share of copper contact in a pot still?",
                "A, B, D",
                "1",
                "2",
                "Two right, one wrong: the wrong cross takes back one of the right.",
            ),
        ],
        appeal: words(&[
            "Write to the chief examiner within 30 days, with this report’s number and the question.",
            "You will be shown your answer, its marks and reason, and the proof that the key was fixed before the sitting.",
        ]),
    }
}

/// An appeal about one question and one glass.
#[must_use]
pub fn appeal_file() -> AppealFile {
    let own = str::to_owned;
    let entry = |item: &str, asked: &str, answered: &str, right: &str, reason: &str| AppealEntry {
        item: own(item),
        asked: own(asked),
        answered: own(answered),
        right: own(right),
        marks: own("0"),
        of: own("1"),
        reason: own(reason),
        rule: own("best_answer (common practice, no source)"),
        evidence: own("Source of the key: a handbook, page 12."),
        origin: own("theory.csv, row 41"),
        words: Vec::new(),
    };
    let mut glass = entry(
        "Tasting 417 aroma",
        "Aroma and flavour",
        "pear, toffee, smoke",
        "pear, vanilla, ginger",
        "Pear in full, toffee half for vanilla; smoke contradicts.",
    );
    glass.words = vec![
        AppealWord {
            word: own("pear"),
            weight: own("0.759"),
            cited: own("8 of 10"),
            found: true,
        },
        AppealWord {
            word: own("ginger"),
            weight: own("0.441"),
            cited: own("5 of 10"),
            found: false,
        },
    ];
    AppealFile {
        exam: exam(),
        candidate_number: own("C-017"),
        scope: words(&[
            "This file holds what the marks in dispute were made from, and nothing about other questions or other people.",
        ]),
        items: vec![
            entry(
                "Theory 7",
                "Which of these raises copper contact in a pot still?",
                "B",
                "A",
                "B is not right.",
            ),
            glass,
        ],
        acts: words(&["assembled", "marked 1,403 answers"]),
    }
}

/// A certificate with a grade.
#[must_use]
pub fn certificate() -> Certificate {
    let own = str::to_owned;
    Certificate {
        exam: exam(),
        day: own("14 March 2031"),
        name: own("Rosalind Okonjo-Villaverde"),
        candidate_number: own("C-07"),
        grade: own("with distinction"),
        examined: own("a theory paper and a blind tasting of three spirits"),
        number: own("4711 2233 4450"),
        check: own("The school tells from its register whether this certificate stands."),
    }
}
