//! One report, read as its candidate reads it.
#![allow(clippy::unwrap_used)]

use exam_plan::plan::Join;
use grader::Item;

use super::*;
use crate::example::{Shape, awards, exam, right_letter};
use crate::scripts;
use crate::summary::summarise;

const SHAPE: Shape = Shape {
    questions: 10,
    samples: 2,
    candidates: 4,
};
const RULE: Join = Join::Conjunctive {
    theory: 600,
    tasting: 500,
};

/// Candidate 0 knows all, 1 the theory only, 2 hands in nothing, 3 writes one unknown word.
fn answer(sitting: &Sitting, candidate: usize, item: &Item) -> String {
    let tasting = |asked: &str, sample: &str| match (asked, sample) {
        ("aroma", "sample-0") => "banana; molasses; oak; vanilla; toffee; clove",
        ("aroma", _) => "apple; pear; raisin; honey; oak; hay",
        ("category", _) => "Molasses rum",
        ("region", _) => "Jamaica",
        ("age", _) => "6 to 9 years",
        ("producer", _) => "Copper Bay Estate",
        _ => "",
    };
    match (candidate, item) {
        (2, _) => String::new(),
        (_, Item::Theory { number, .. }) => right_letter(sitting, *number),
        (1, Item::Tasting { asked, .. }) => match asked.as_str() {
            "aroma" => "juniper; peat".to_owned(),
            "category" => "Malt whisky".to_owned(),
            _ => String::new(),
        },
        (
            3,
            Item::Tasting {
                asked, glass: 1, ..
            },
        ) if asked == "aroma" => "banana; wibblewobble".to_owned(),
        (_, Item::Tasting { asked, sample, .. }) => tasting(asked, sample.as_str()).to_owned(),
    }
}

#[test]
fn a_report_says_the_result_first_and_gives_reasons() {
    let (exam, sitting) = exam(SHAPE, RULE);
    let awards = awards(&exam, &sitting, |candidate, item| {
        answer(&sitting, candidate, item)
    });
    let scripts = scripts(&exam, &sitting, &awards);
    let worth = CellWorth::of(&exam, &scripts);
    let reports: Vec<_> = scripts
        .iter()
        .map(|script| candidate_report(&exam, &sitting, script, &worth))
        .collect();
    let results: Vec<_> = reports
        .iter()
        .map(|report| report.result.as_str())
        .collect();
    assert_eq!(
        results,
        ["Passed", "Not passed this time", "Absent", "Passed"]
    );
    for line in reports.iter().flat_map(|report| &report.theory) {
        assert!(!line.reason.is_empty() && line.right.ends_with(": right"));
    }
    let full = &reports[0];
    assert!(full.help.is_empty());
    assert!(full.theory.iter().all(|line| line.answered == line.right));
    assert!(full.glasses[0].panel_words.iter().all(|word| word.found));
    assert_eq!(
        full.glasses[0].was,
        "Copper Bay 0 (Copper Bay Estate): Molasses rum, Jamaica, 8 years, 43 % vol"
    );
    assert_eq!(
        full.made_of.last().unwrap().marks,
        full.made_of.last().unwrap().of.unwrap()
    );
}

#[test]
fn who_failed_finds_help_and_what_to_taste() {
    let (exam, sitting) = exam(SHAPE, RULE);
    let awards = awards(&exam, &sitting, |candidate, item| {
        answer(&sitting, candidate, item)
    });
    let scripts = scripts(&exam, &sitting, &awards);
    let worth = CellWorth::of(&exam, &scripts);
    let failed = candidate_report(&exam, &sitting, &scripts[1], &worth);
    assert!(failed.help[0].starts_with("Your theory part is above its cut"));
    assert!(
        failed
            .help
            .iter()
            .any(|line| line.contains("the panel found"))
    );
    assert_eq!(failed.glasses[0].contradicting, ["juniper"]);
    assert!(
        (2..=3).contains(&failed.taste_next.len()),
        "{:?}",
        failed.taste_next
    );
    assert!(failed.taste_next[1].starts_with("Taste Molasses rum beside Malt whisky"));
    assert!(failed.caution.contains("nobody drives"));
    assert!(failed.appeal[0].contains("Lantern Street School"));
    let absent = candidate_report(&exam, &sitting, &scripts[2], &worth);
    assert_eq!(absent.help.len(), 1);
    assert!(absent.taste_next.is_empty());
}

#[test]
fn a_summary_leaves_out_who_was_absent_and_gives_n_or_a_reason() {
    let (exam, sitting) = exam(SHAPE, RULE);
    let awards = awards(&exam, &sitting, |candidate, item| {
        answer(&sitting, candidate, item)
    });
    let scripts = scripts(&exam, &sitting, &awards);
    let made = summarise(&exam, &sitting, &scripts);
    assert_eq!(made.n, 3);
    assert_eq!(made.outcomes, "4 candidates: 2 pass, 1 fail, 1 absent.");
    assert!(
        made.pass_rate
            .sentence
            .starts_with("2 of 3 decided candidates passed (67 %;")
    );
    assert_eq!(made.scores.len(), 3);
    assert!(
        made.scores[0]
            .sentence
            .starts_with("Theory: n = 3, mean 10.0 of 10 marks")
    );
    // All have full marks in theory: alpha is refused by name.
    let reliability = made.reliability.unwrap();
    assert!(reliability.by_form[0].alpha.is_err());
    assert!(reliability.sentences[0].contains("no reliability (alpha) with n = 3"));
    assert_eq!(made.questions.len(), 10);
    assert_eq!(made.questions[0].credit.n, 3);
    assert_eq!(made.samples.len(), 2);
    assert_eq!(made.samples[0].by_asked.len(), 5);
    assert!(
        made.notes
            .iter()
            .any(|note| note.starts_with("1 candidate handed in nothing"))
    );
    assert!(made.notes.iter().any(|note| note.contains("for a person")));
}
