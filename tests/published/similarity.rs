//! Similar answers against t10_similarity.json.

use crate::data::Sheet;
use crate::expected::{Figure, check_file};
use serde_json::{Value, json};
use statistics::similarity::answer_sheets::{AnswerSheets, Pair};
use statistics::similarity::generalised_binomial::generalised_binomial;
use statistics::similarity::k_index::k_index;
use statistics::similarity::nominal_response::NominalItem;
use statistics::similarity::regressed_k_index::{Regression, regressed_k_index};
use statistics::similarity::shared_wrong_poisson::shared_wrong_poisson;
use statistics::similarity::wollack_omega::wollack_omega;

#[test]
fn every_record_of_the_similarity_file() {
    check_file("t10_similarity", compute, &[]);
}

fn compute(figure: &Figure) -> Option<Value> {
    let names = match figure.statistic.as_str() {
        "pair1" => ["c7", "c52"],
        "pair2" => ["c10", "c11"],
        "pair3" => ["c20", "c33"],
        "pair4" => ["c100", "c101"],
        _ => return None,
    };
    let [responses, key, parameters, abilities] =
        [0, 1, 2, 3].map(|at| Sheet::read(&figure.data[at]));
    let place = |name: &str| {
        responses
            .rows
            .iter()
            .position(|row| row[0] == name)
            .unwrap()
    };
    let [copier, source] = names.map(place);
    let pair = Pair { copier, source };
    // Choices are counted from 1 in the files.
    let choice = |cell: &String| -> usize { cell.parse::<usize>().unwrap() - 1 };
    let sheets = AnswerSheets::new(
        responses
            .rows
            .iter()
            .map(|row| row[1..].iter().map(|cell| Some(choice(cell))).collect())
            .collect(),
        key.rows.iter().map(|row| choice(&row[1])).collect(),
    )
    .unwrap();
    let items: Vec<NominalItem> = parameters
        .rows
        .iter()
        .map(|row| {
            let numbers: Vec<f64> = row[1..].iter().map(|cell| cell.parse().unwrap()).collect();
            let (slopes, intercepts) = numbers.split_at(4);
            NominalItem::new(slopes.to_vec(), intercepts.to_vec()).unwrap()
        })
        .collect();
    let theta = abilities.numbers("theta");
    let omega = wollack_omega(&sheets, pair, &items, theta[copier]).unwrap();
    let binomial =
        generalised_binomial(&sheets, pair, &items, [theta[copier], theta[source]]).unwrap();
    let regressed = |shape| regressed_k_index(&sheets, pair, shape).unwrap().p_value;
    Some(json!({
        "copier": names[0],
        "source": names[1],
        "omega_obs": omega.matches,
        "omega_exp": omega.expected,
        "omega_sd": omega.deviation,
        "omega": omega.omega,
        "gbt_p": binomial.p_value.probability,
        "K": k_index(&sheets, pair).unwrap().p_value.probability,
        "K1": regressed(Regression::Line).probability,
        "K2": regressed(Regression::Parabola).probability,
        "S1": shared_wrong_poisson(&sheets, pair).unwrap().p_value.probability,
    }))
}
