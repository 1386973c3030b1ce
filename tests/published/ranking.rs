//! Ranking tests against sensory/expected/ranking.json.

use crate::record::reference_json;
use serde_json::Value;
use statistics::ScoreTable;
use statistics::panel::cochran_q::cochran_q;
use statistics::panel::friedman::friedman;
use statistics::panel::page_trend::critical_l;
use statistics::panel::rank_sum_difference::rank_sum_difference;
use std::collections::BTreeSet;

/// One record whose members are ticked off as they are used.
struct Ticked<'a> {
    record: &'a Value,
    left: BTreeSet<&'a String>,
}

impl<'a> Ticked<'a> {
    fn new(record: &'a Value) -> Self {
        let mut left: BTreeSet<&String> = record.as_object().unwrap().keys().collect();
        left.retain(|name| !["source", "note"].contains(&name.as_str()));
        Self { record, left }
    }

    fn take(&mut self, name: &str) -> Option<&'a Value> {
        self.left.retain(|key| *key != name);
        self.record.get(name)
    }

    fn number(&mut self, name: &str) -> f64 {
        self.take(name).unwrap().as_f64().unwrap()
    }

    fn near(&mut self, name: &str, computed: f64, tolerance: f64) {
        let expected = self.number(name);
        assert!(
            (expected - computed).abs() <= tolerance,
            "{name}: expected {expected}, computed {computed} in {}",
            self.record
        );
    }

    fn finish(self) {
        assert!(self.left.is_empty(), "never compared: {:?}", self.left);
    }
}

fn rows(value: &Value) -> Vec<Vec<f64>> {
    serde_json::from_value(value.clone()).unwrap()
}

#[test]
fn every_record_of_every_kind() {
    let file = reference_json("sensory/expected/ranking.json");
    for (kind, records) in file["checks"].as_object().unwrap() {
        let records = records.as_array().unwrap();
        assert!(!records.is_empty(), "{kind}");
        for record in records {
            let mut ticked = Ticked::new(record);
            match kind.as_str() {
                "friedman" => friedman_record(&mut ticked),
                "lsd_rank_sum" => {
                    let (n, k) = (ticked.number("n") as usize, ticked.number("k") as usize);
                    let made = rank_sum_difference(n, k, ticked.number("alpha")).unwrap();
                    // Four decimals are printed.
                    ticked.near("lsd", made, 0.000_051);
                }
                "page_L" => {
                    let (n, k) = (ticked.number("n") as usize, ticked.number("k") as usize);
                    let made = critical_l(k, n, ticked.number("alpha")).unwrap();
                    ticked.near("L_crit", made.unwrap() as f64, 0.0);
                }
                "cochran_q" => cochran_record(&mut ticked),
                _ => panic!("no check for kind {kind}"),
            }
            ticked.finish();
        }
    }
}

fn friedman_record(ticked: &mut Ticked) {
    let made = friedman(&ScoreTable::new(&rows(ticked.take("data").unwrap())).unwrap()).unwrap();
    let tolerance = ticked.number("tol");
    ticked.near("chi2", made.chi_square, tolerance);
    ticked.near("df", made.degrees_of_freedom as f64, 0.0);
    if let Some(sums) = ticked.take("rank_sums") {
        let sums: Vec<f64> = serde_json::from_value(sums.clone()).unwrap();
        assert_eq!(made.rank_sums, sums);
    }
    if ticked.take("W").is_some() {
        ticked.near("W", made.concordance, 0.000_000_51);
    }
    if ticked.take("p").is_some() {
        ticked.near("p", made.p_value.probability, 0.000_005_1);
    }
}

fn cochran_record(ticked: &mut Ticked) {
    let patterns = rows(ticked.take("patterns").unwrap());
    let counts: Vec<usize> =
        serde_json::from_value(ticked.take("counts").unwrap().clone()).unwrap();
    let mut all = Vec::new();
    for (pattern, count) in patterns.iter().zip(counts) {
        all.extend(std::iter::repeat_n(pattern.clone(), count));
    }
    let made = cochran_q(&ScoreTable::new(&all).unwrap()).unwrap();
    let tolerance = ticked.number("tol");
    ticked.near("Q", made.q, tolerance);
    ticked.near("df", made.degrees_of_freedom as f64, 0.0);
    ticked.near("p", made.p_value.probability, tolerance);
}
