//! Invented figures of a class and of a rehearsal.

use crate::content::examiner::{
    CandidateLine, ClassSummary, QuestionNotice, RehearsalForecast, ReviewLine,
};
use crate::content::{Bar, Distribution, ExamHead, Figure};
use crate::samples::{exam, words};

use super::examiner::LEDGER_HEAD;

fn figure(what: &str, value: &str, interval: &str, n: &str, note: &str) -> Figure {
    let [what, value, interval, n, note] = [what, value, interval, n, note].map(str::to_owned);
    Figure {
        what,
        value,
        interval,
        n,
        note,
    }
}

fn distribution(sentence: &str, counts: &[u64], cut_from: usize) -> Distribution {
    Distribution {
        sentence: sentence.to_owned(),
        axis: "marks of 100".to_owned(),
        bars: counts
            .iter()
            .enumerate()
            .map(|(index, count)| Bar {
                label: format!(
                    "{}–{}",
                    index * 10,
                    if index == 9 { 100 } else { index * 10 + 9 }
                ),
                count: *count,
                at_or_above_cut: index >= cut_from,
            })
            .collect(),
    }
}

/// A summary of twelve candidates.
#[must_use]
pub fn class_summary() -> ClassSummary {
    ClassSummary {
        exam: exam(),
        ledger_head: LEDGER_HEAD.to_owned(),
        verdicts: words(&[
            "9 of 12 candidates pass.",
            "Candidate C-05 lies within one error of the cut: look at the script before release.",
            "The reliability rests on 12 candidates and is uncertain.",
        ]),
        figures: vec![
            figure("Mean total", "66.2", "58.9 to 73.5 (95 %)", "12", ""),
            figure("Standard deviation", "11.5", "8.1 to 19.5 (95 %)", "12", ""),
            figure(
                "Reliability (alpha)",
                "0.71",
                "0.38 to 0.90 (95 %)",
                "12",
                "theory and tasting together",
            ),
            figure(
                "Differential item functioning",
                "not given",
                "",
                "12",
                "needs at least 200 in each group",
            ),
        ],
        distribution: Some(distribution(
            "Totals run from 41 to 88; the cut is 60.",
            &[0, 0, 0, 0, 1, 2, 4, 3, 2, 0],
            6,
        )),
        parts: words(&["Theory", "Tasting"]),
        candidates: (1..=12)
            .map(|number: u32| CandidateLine {
                candidate_number: format!("C-{number:02}"),
                parts: vec![
                    format!("{}.0 of 40", 22 + number),
                    format!("{}.5 of 60", 28 + number * 2),
                ],
                total: format!("{}.5", 50 + number * 3),
                decision: if number > 3 { "pass" } else { "not passed" }.to_owned(),
                note: if number == 5 {
                    "within one error of the cut".to_owned()
                } else {
                    String::new()
                },
            })
            .collect(),
        review: vec![ReviewLine {
            candidate_number: "C-05".to_owned(),
            decision: "pass".to_owned(),
            near: words(&["tasting 0.5 marks above its cut of 60 %; one error is 2.4 marks"]),
            wrong: "42 in 100".to_owned(),
            look_at: "tasting 862 aroma (4.5 of 10), tasting 417 category (2.2 of 4)".to_owned(),
            reviewed: false,
        }],
        notices: vec![QuestionNotice {
            id: "density-004".to_owned(),
            why: "The best third chose A more often than the key; look at the key.".to_owned(),
        }],
        waiting: words(&["C-03, glass 862: the word “quincy” (near: quince)"]),
    }
}

/// A rehearsal's forecast.
#[must_use]
pub fn rehearsal_forecast() -> RehearsalForecast {
    RehearsalForecast {
        exam: ExamHead {
            note: "Rehearsal: every candidate here is simulated.".to_owned(),
            ..exam()
        },
        verdicts: words(&[
            "Three blind samples carry the tasting part; one alone would not.",
            "A guesser passes about once in two thousand sittings.",
            "About 2 of 24 candidates are likely to be decided wrongly at the cut.",
        ]),
        figures: vec![
            figure(
                "Mean total",
                "64.8",
                "63.9 to 65.7 (95 %)",
                "2400",
                "100 sittings of 24",
            ),
            figure(
                "Reliability (alpha)",
                "0.78",
                "0.75 to 0.81 (95 %)",
                "2400",
                "",
            ),
            figure(
                "Chance that a guesser passes",
                "0.0005",
                "0.0001 to 0.0012 (95 %)",
                "10000",
                "",
            ),
            figure(
                "Wrong decisions at the cut",
                "7.9 %",
                "6.9 to 9.0 % (95 %)",
                "2400",
                "pass or not, against the true ability",
            ),
        ],
        distribution: Some(distribution(
            "Half of the simulated totals lie between 55 and 74; the cut is 60.",
            &[2, 9, 31, 98, 240, 512, 688, 530, 231, 59],
            6,
        )),
        assumptions: words(&[
            "Abilities spread like a normal distribution with mean 0 and standard deviation 1.",
            "Panel members and candidates use words alike.",
        ]),
        shopping: words(&[
            "Five bottles of 70 cl: two each of samples 1 and 2, one of sample 3.",
            "1.3 litres of spirit are poured, spare and loss included.",
        ]),
    }
}
