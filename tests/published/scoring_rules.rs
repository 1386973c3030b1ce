//! Scoring rules of theory questions and tastings against reference/assessment-standards/
//! scoring-rules.json: its figures were computed there from the stated formulas with exact
//! rational arithmetic; tolerance 1e-9 (the printed digits: 1e-10 / 2 and rounding).

use std::collections::BTreeSet;

use grader::assignment::{best_assignment, greedy_total};
use grader::tasting_rule::age_range;
use grader::tasting_rule::ordered_scale::ScaleCredit;
use grader::theory_rule::{matching, multiple_response, ordering};
use grader::word_overlap::{WordOverlap, chance_overlap};
use question_bank::question_kind::{MultipleResponseRule, OrderingRule};
use serde_json::Value;
use statistics::forecast::brier_decomposition::brier_decomposition;
use statistics::forecast::brier_score::brier_score;
use statistics::forecast::logarithmic_score::logarithmic_loss;
use statistics::forecast::spherical_score::spherical_credit;
use statistics::items::formula_score::formula_score;
use statistics::reliability::subscore_value::{PartFigures, part_worth};

use crate::record::reference_json;

const FILE: &str = "assessment-standards/scoring-rules.json";
const TOLERANCE: f64 = 1e-9;

/// The file, and which of its entries were compared or read as input.
struct Entries {
    file: Value,
    used: BTreeSet<String>,
}

impl Entries {
    fn read() -> Self {
        Self {
            file: reference_json(FILE),
            used: BTreeSet::new(),
        }
    }
    fn at(&self, path: &str) -> &Value {
        let pointer = format!("/{path}");
        self.file
            .pointer(&pointer)
            .unwrap_or_else(|| panic!("no entry {path}"))
    }
    fn length(&self, path: &str) -> usize {
        self.at(path)
            .as_array()
            .unwrap_or_else(|| panic!("{path} is no list"))
            .len()
    }
    fn number(&mut self, path: &str) -> f64 {
        self.used.insert(path.to_owned());
        self.at(path)
            .as_f64()
            .unwrap_or_else(|| panic!("{path} is no number"))
    }
    fn count(&mut self, path: &str) -> usize {
        self.used.insert(path.to_owned());
        let count = self
            .at(path)
            .as_u64()
            .unwrap_or_else(|| panic!("{path} is no count"));
        usize::try_from(count).unwrap()
    }
    fn counts(&mut self, path: &str) -> Vec<usize> {
        if self.length(path) == 0 {
            self.used.insert(path.to_owned());
        }
        (0..self.length(path))
            .map(|place| self.count(&format!("{path}/{place}")))
            .collect()
    }
    fn compare(&mut self, path: &str, computed: f64) {
        let expected = self.number(path);
        assert!(
            (computed - expected).abs() <= TOLERANCE,
            "{path} is {expected}, computed {computed}"
        );
    }
}

fn multiple_response_entries(entries: &mut Entries) {
    for case in 0..entries.length("multiple_response/cases") {
        let case = format!("multiple_response/cases/{case}");
        let key = entries.counts(&format!("{case}/key"));
        let response = entries.counts(&format!("{case}/response"));
        let choice = multiple_response::Choice {
            options: entries.count(&format!("{case}/n")),
            right: key.len(),
            right_marked: response
                .iter()
                .filter(|option| key.contains(option))
                .count(),
            wrong_marked: response
                .iter()
                .filter(|option| !key.contains(option))
                .count(),
        };
        for (name, rule) in MultipleResponseRule::ALL {
            let credit = multiple_response::credit(rule, choice).as_f64();
            entries.compare(&format!("{case}/expected/{name}"), credit);
        }
    }
    for (name, options, right) in [("n5_t2", 5, 2), ("n4_t1", 4, 1)] {
        for (rule_name, rule) in MultipleResponseRule::ALL {
            let place = format!("multiple_response/chance/{name}");
            entries.compare(
                &format!("{place}/any_subset/{rule_name}"),
                multiple_response::mean_over_any_choice(rule, options, right),
            );
            entries.compare(
                &format!("{place}/exactly_t/{rule_name}"),
                multiple_response::mean_over_right_number(rule, options, right),
            );
        }
    }
}

/// The file's name for a rule: the grader's tau and rho are those with floor 0.
fn ordering_name(name: &str) -> &str {
    match name {
        "tau" => "tau_credit_floor0",
        "tau_linear" => "tau_credit_linear",
        "rho" => "rho_credit_floor0",
        other => other,
    }
}

/// The coefficients that stand behind two of the rules.
type Coefficient = fn(&[usize]) -> f64;

fn coefficients() -> [(&'static str, Coefficient); 2] {
    fn value((part, whole): (i64, usize)) -> f64 {
        part as f64 / whole as f64
    }
    [
        ("tau", |ranks| value(ordering::kendall_tau(ranks))),
        ("spearman_rho", |ranks| value(ordering::spearman_rho(ranks))),
    ]
}

fn ordering_entries(entries: &mut Entries) {
    for case in 0..entries.length("ordering/cases") {
        let case = format!("ordering/cases/{case}");
        let ranks = entries.counts(&format!("{case}/ranks"));
        for (name, rule) in OrderingRule::ALL {
            let credit = ordering::credit(rule, &ranks).0.as_f64();
            entries.compare(&format!("{case}/expected/{}", ordering_name(name)), credit);
        }
        for (name, coefficient) in coefficients() {
            entries.compare(&format!("{case}/expected/{name}"), coefficient(&ranks));
        }
    }
    for (table, steps) in [("n4", 4), ("n3", 3)] {
        for (name, rule) in OrderingRule::ALL {
            entries.compare(
                &format!("ordering/chance/{table}/{}", ordering_name(name)),
                ordering::mean_over_every_order(rule, steps),
            );
        }
        for (name, coefficient) in coefficients() {
            entries.compare(
                &format!("ordering/chance/{table}/{name}"),
                ordering::mean_of_every_order(steps, coefficient),
            );
        }
    }
}

fn interval_entries(entries: &mut Entries) {
    for case in 0..entries.length("interval_score/cases") {
        let case = format!("interval_score/cases/{case}");
        let alpha = entries.number(&format!("{case}/alpha"));
        assert!(
            (alpha - age_range::ALPHA).abs() < 1e-15,
            "the grader's own alpha"
        );
        let score = age_range::interval_score(
            entries.number(&format!("{case}/lower")),
            entries.number(&format!("{case}/upper")),
            entries.number(&format!("{case}/truth")),
            alpha,
        );
        entries.compare(&format!("{case}/expected_interval_score"), score);
    }
}

fn ordinal_entries(entries: &mut Entries) {
    let small = |count: usize| u32::try_from(count).unwrap();
    for case in 0..entries.length("ordinal_bands/cases") {
        let case = format!("ordinal_bands/cases/{case}");
        let steps = small(entries.count(&format!("{case}/bands")));
        let truth = small(entries.count(&format!("{case}/truth")));
        let answer = small(entries.count(&format!("{case}/answer")));
        for (name, credit) in scale_credits() {
            let share = credit.of(steps, truth, answer).as_f64();
            entries.compare(&format!("{case}/expected/{name}"), share);
        }
    }
    for (name, truth) in [("K5_truth0", 0), ("K5_truth2", 2)] {
        for (of, credit) in scale_credits() {
            entries.compare(
                &format!("ordinal_bands/chance_uniform_answer/{name}/{of}"),
                credit.mean_over_every_step(5, truth),
            );
        }
    }
}

/// The file's names for the ways of credit.
fn scale_credits() -> [(&'static str, ScaleCredit); 4] {
    ScaleCredit::ALL.map(|credit| match credit {
        ScaleCredit::Linear => ("linear", credit),
        ScaleCredit::Quadratic => ("quadratic", credit),
        ScaleCredit::Exact => ("exact", credit),
        ScaleCredit::ExactOrAdjacent => ("exact_or_adjacent", credit),
    })
}

fn formula_entries(entries: &mut Entries) {
    for case in 0..entries.length("formula_scoring/cases") {
        let case = format!("formula_scoring/cases/{case}");
        let mut of = |name: &str| u32::try_from(entries.count(&format!("{case}/{name}"))).unwrap();
        let score = formula_score(of("right"), of("wrong"), of("omitted"), of("options")).unwrap();
        for (name, computed) in [
            ("number_right", score.number_right),
            ("formula", score.formula),
            ("omit_credit", score.omission_credit),
            ("chance_number_right", score.number_right_by_chance),
            ("chance_formula", score.formula_by_chance),
        ] {
            entries.compare(&format!("{case}/expected/{name}"), computed);
        }
    }
}

fn forecast_entries(entries: &mut Entries) {
    for case in 0..entries.length("probability_answers/cases") {
        let case = format!("probability_answers/cases/{case}");
        let stated = row(entries, &format!("{case}/p"));
        let outcome = entries.count(&format!("{case}/outcome"));
        let brier = brier_score(&stated, outcome).unwrap();
        let expected = format!("{case}/expected");
        entries.compare(&format!("{expected}/brier"), brier.distance);
        entries.compare(
            &format!("{expected}/quadratic_credit"),
            brier.quadratic_credit,
        );
        entries.compare(
            &format!("{expected}/brier_skill_vs_uniform"),
            brier.skill_against_equal,
        );
        entries.compare(
            &format!("{expected}/spherical"),
            spherical_credit(&stated, outcome).unwrap(),
        );
        entries.compare(
            &format!("{expected}/log_floor_1e_3"),
            logarithmic_loss(&stated, outcome, 1e-3).unwrap(),
        );
        let loss = logarithmic_loss(&stated, outcome, 0.0).unwrap();
        let path = format!("{expected}/log_nats");
        // The file writes no number for an infinite loss.
        if entries.at(&path).is_null() {
            entries.used.insert(path);
            assert_eq!(loss, f64::INFINITY, "{case}");
        } else {
            entries.compare(&path, loss);
        }
    }
    let case = "brier_decomposition/case";
    let forecasts = row(entries, &format!("{case}/forecast"));
    let came: Vec<bool> = entries
        .counts(&format!("{case}/outcome"))
        .into_iter()
        .map(|outcome| outcome == 1)
        .collect();
    let parts = brier_decomposition(&forecasts, &came).unwrap();
    for (name, computed) in [
        ("brier", parts.distance),
        ("reliability", parts.reliability),
        ("resolution", parts.resolution),
        ("uncertainty", parts.uncertainty),
    ] {
        entries.compare(&format!("{case}/expected/{name}"), computed);
    }
}

fn subscore_entries(entries: &mut Entries) {
    for case in 0..entries.length("subscore_value/cases") {
        let case = format!("subscore_value/cases/{case}");
        let mut of = |name: &str| entries.number(&format!("{case}/{name}"));
        let (part, total) = (of("sd_sub"), of("sd_total"));
        let figures = PartFigures {
            part_variance: part * part,
            total_variance: total * total,
            covariance: of("corr_sub_total") * part * total,
            reliability: of("rel_sub"),
        };
        // Given beside the others; Haberman's formula does not look at it.
        assert!(of("rel_total") > figures.reliability, "{case}");
        let worth = part_worth(figures).unwrap();
        let expected = format!("{case}/expected");
        entries.compare(&format!("{expected}/prmse_subscore"), worth.from_part);
        entries.compare(&format!("{expected}/prmse_total"), worth.from_total);
        let adds = format!("{expected}/added_value");
        entries.used.insert(adds.clone());
        assert_eq!(entries.at(&adds).as_bool(), Some(worth.adds()), "{case}");
    }
}

fn chance_overlap_entries(entries: &mut Entries) {
    for case in 0..entries.length("descriptor_matching/chance_exact_match") {
        let case = format!("descriptor_matching/chance_exact_match/{case}");
        let mut of = |name: &str| u32::try_from(entries.count(&format!("{case}/{name}"))).unwrap();
        let chance = chance_overlap(of("vocabulary"), of("reference"), of("listed"));
        entries.compare(&format!("{case}/expected_mean_f1"), chance.f1);
        entries.compare(&format!("{case}/expected_mean_recall"), chance.recall);
    }
}

/// Similarities as whole millionths, as the grader takes them.
fn millionths(value: f64) -> i64 {
    (value * 1e6).round() as i64
}

fn assignment_entries(entries: &mut Entries) {
    for case in 0..entries.length("descriptor_matching/cases") {
        let case = format!("descriptor_matching/cases/{case}");
        let matrix = numbers(entries, &format!("{case}/similarity"));
        let best = best_assignment(matrix.len(), matrix[0].len(), |row, column| {
            millionths(matrix[row][column])
        });
        let total = best.total as f64 / 1e6;
        entries.compare(&format!("{case}/expected/total"), total);
        let greedy = greedy_total(matrix.len(), matrix[0].len(), |row, column| {
            millionths(matrix[row][column])
        });
        entries.compare(
            &format!("{case}/expected/greedy_total"),
            greedy as f64 / 1e6,
        );
        let small = |count: usize| u32::try_from(count).unwrap();
        let overlap = WordOverlap::new(total, small(matrix.len()), small(matrix[0].len()));
        entries.compare(&format!("{case}/expected/precision"), overlap.precision);
        entries.compare(&format!("{case}/expected/recall"), overlap.recall);
        let beta = entries.number(&format!("{case}/beta"));
        entries.compare(&format!("{case}/expected/f_beta"), overlap.f_beta(beta));
    }
    let cost = numbers(entries, "descriptor_matching/assignment_example/cost");
    // A least cost is a largest value below a bound that lies above every cost.
    let bound = 10.0;
    let best = best_assignment(cost.len(), cost[0].len(), |row, column| {
        millionths(bound - cost[row][column])
    });
    assert!(best.column_of.iter().all(Option::is_some));
    entries.compare(
        "descriptor_matching/assignment_example/expected_min",
        bound * cost.len() as f64 - best.total as f64 / 1e6,
    );
}

fn row(entries: &mut Entries, path: &str) -> Vec<f64> {
    (0..entries.length(path))
        .map(|column| entries.number(&format!("{path}/{column}")))
        .collect()
}

fn numbers(entries: &mut Entries, path: &str) -> Vec<Vec<f64>> {
    (0..entries.length(path))
        .map(|place| row(entries, &format!("{path}/{place}")))
        .collect()
}

fn label_entries(entries: &mut Entries) {
    let n = entries.count("labels_without_replacement/n");
    let hits = matching::hits_without_replacement(n, n);
    let mean: f64 = hits.iter().enumerate().map(|(k, p)| k as f64 * p).sum();
    let squares: f64 = hits
        .iter()
        .enumerate()
        .map(|(k, p)| (k * k) as f64 * p)
        .sum();
    entries.compare("labels_without_replacement/mean", mean);
    entries.compare("labels_without_replacement/variance", squares - mean * mean);
    for least in 0..=n {
        let at_least: f64 = hits.iter().skip(least).sum();
        entries.compare(
            &format!("labels_without_replacement/p_at_least/{least}"),
            at_least,
        );
    }
}

/// Paths of all entries that hold a figure or a word, but for notes and definitions.
fn leaves(value: &Value, path: &str, found: &mut Vec<String>) {
    let below = |key: &str| {
        if path.is_empty() {
            key.to_owned()
        } else {
            format!("{path}/{key}")
        }
    };
    match value {
        Value::Object(members) => {
            for (key, member) in members {
                let speaks = [
                    "note",
                    "definition",
                    "definitions",
                    "source",
                    "rows",
                    "cols",
                ];
                if !speaks.contains(&key.as_str()) {
                    leaves(member, &below(key), found);
                }
            }
        }
        Value::Array(items) if !items.is_empty() => {
            for (place, item) in items.iter().enumerate() {
                leaves(item, &below(&place.to_string()), found);
            }
        }
        Value::Array(_) | Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => {
            found.push(path.to_owned());
        }
    }
}

#[test]
fn every_entry_is_compared() {
    let mut entries = Entries::read();
    multiple_response_entries(&mut entries);
    ordering_entries(&mut entries);
    interval_entries(&mut entries);
    ordinal_entries(&mut entries);
    assignment_entries(&mut entries);
    label_entries(&mut entries);
    formula_entries(&mut entries);
    forecast_entries(&mut entries);
    chance_overlap_entries(&mut entries);
    subscore_entries(&mut entries);

    let mut all = Vec::new();
    leaves(&entries.file, "", &mut all);
    let missing: Vec<&String> = all
        .iter()
        .filter(|path| !entries.used.contains(*path))
        .collect();
    assert!(missing.is_empty(), "not compared: {missing:#?}");
    for path in &entries.used {
        assert!(all.contains(path), "{path}: used, but no figure");
    }
}
