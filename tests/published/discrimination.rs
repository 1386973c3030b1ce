//! Discrimination tests against sensory/expected/discrimination.json and the guessing chances of
//! sensory/discrimination_formulas.json.

use crate::record::{Record, reference_json};
use statistics::Confidence;
use statistics::discrimination_test::a_not_a::{AnswerCounts, a_not_a};
use statistics::discrimination_test::critical_number::{
    critical_number, critical_number_two_sided,
};
use statistics::discrimination_test::d_prime::d_prime;
use statistics::discrimination_test::method::Method;
use statistics::discrimination_test::power::{answers_needed, power};
use statistics::discrimination_test::similarity::similarity_limit;

/// Guessing chances whose method is not built yet.
const NOT_YET: [&str; 1] = ["two-out-of-five"];

#[test]
fn every_record_of_every_kind() {
    let file = reference_json("sensory/expected/discrimination.json");
    for (kind, records) in file["checks"].as_object().unwrap() {
        let records = records.as_array().unwrap();
        assert!(!records.is_empty(), "{kind}");
        for (place, value) in records.iter().enumerate() {
            let record = Record::new(format!("discrimination.json {kind} {place}"), value);
            match kind.as_str() {
                "critical_numbers" => critical(&record),
                "paired_two_sided" => {
                    let made =
                        critical_number_two_sided(whole(&record, "n"), record.number("alpha"));
                    record.compare("min_larger", f64::from(made.unwrap().unwrap()), 0.0);
                }
                "psychometric" => {
                    let made = method(&record).share_correct(record.number("dprime"));
                    record.compare("pc", made, record.number("tol"));
                }
                "dprime_from_counts" => {
                    let (right, answers) = (whole(&record, "x"), whole(&record, "n"));
                    let made = d_prime(
                        right as usize,
                        answers as usize,
                        method(&record),
                        Confidence::P95,
                    )
                    .unwrap();
                    assert!(made.interval.contains(made.d_prime));
                    record.compare("dprime", made.d_prime, record.number("tol"));
                }
                "power" => powers(&record, value.get("target").is_some()),
                "sample_size_smallest_n" => {
                    let share = method(&record)
                        .share_correct_with_discriminators(record.number("pd"))
                        .unwrap();
                    let wanted = 1.0 - record.number("beta");
                    record.compare("pg", method(&record).guess(), 1e-15);
                    let alpha = record.number("alpha");
                    let made = answers_needed(method(&record), share, alpha, wanted).unwrap();
                    record.compare("n", f64::from(made), 0.0);
                }
                "similarity_max_correct" => {
                    let made = similarity_limit(
                        whole(&record, "n"),
                        method(&record),
                        record.number("pd"),
                        record.number("beta"),
                    )
                    .unwrap();
                    record.compare("exact", f64::from(made.exact.unwrap()), 0.0);
                    let limit = f64::from(made.confidence_limit.unwrap());
                    record.compare("confidence_limit", limit, 0.0);
                }
                "a_not_a" => {
                    let counts = AnswerCounts {
                        hits: whole(&record, "A_as_A"),
                        a_served: whole(&record, "nA"),
                        false_alarms: whole(&record, "notA_as_A"),
                        others_served: whole(&record, "nNotA"),
                    };
                    let made = a_not_a(counts, Confidence::P95).unwrap();
                    let tolerance = record.number("tol");
                    record.compare("dprime", made.d_prime, tolerance);
                    record.compare("se", made.standard_error, tolerance);
                    record.compare("chi2", made.chi_square, tolerance);
                    record.compare("fisher_one_sided", made.fisher_p.probability, tolerance);
                }
                _ => panic!("no check for kind {kind}"),
            }
            record.finish();
        }
    }
}

fn critical(record: &Record) {
    assert_eq!(record.text("kind"), "critical_number");
    assert!(record.text("status").starts_with("published"));
    record.compare("pg", method(record).guess(), 1e-15);
    let made = critical_number(whole(record, "n"), method(record), record.number("alpha"));
    let tolerance = record.number("tol");
    record.compare("min_correct", f64::from(made.unwrap().unwrap()), tolerance);
}

fn powers(record: &Record, target: bool) {
    let share = method(record).share_correct(record.number("dprime"));
    let alpha = record.number("alpha");
    if target {
        let made = answers_needed(method(record), share, alpha, record.number("target"));
        record.compare("n_exact", f64::from(made.unwrap()), 0.0);
    } else {
        let made = power(whole(record, "n"), method(record), share, alpha).unwrap();
        record.compare("power", made, record.number("tol"));
    }
}

fn whole(record: &Record, key: &str) -> u32 {
    record.number(key) as u32
}

fn method(record: &Record) -> Method {
    method_named(record.text("method")).unwrap()
}

fn method_named(name: &str) -> Option<Method> {
    match name {
        "twoAFC" | "2-AFC" => Some(Method::TwoChoice),
        "duotrio" | "duo-trio" => Some(Method::DuoTrio),
        "threeAFC" | "3-AFC" => Some(Method::ThreeChoice),
        "triangle" => Some(Method::Triangle),
        "tetrad" => Some(Method::Tetrad),
        _ => None,
    }
}

#[test]
fn guessing_chances_are_those_of_the_formula_file() {
    let file = reference_json("sensory/discrimination_formulas.json");
    let mut not_yet = NOT_YET.to_vec();
    for (name, guess) in file["guess"].as_object().unwrap() {
        match method_named(name) {
            Some(method) => assert!((method.guess() - guess.as_f64().unwrap()).abs() < 1e-15),
            None => {
                let listed = not_yet.iter().position(|listed| listed == name);
                not_yet.remove(listed.unwrap_or_else(|| panic!("{name}: not listed")));
            }
        }
    }
    assert!(
        not_yet.is_empty(),
        "listed, but not in the file: {not_yet:?}"
    );
}
