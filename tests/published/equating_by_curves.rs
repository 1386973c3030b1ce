//! Equating by given parameters of questions, for the records of t06_equating.json that ask it.

use crate::data::Sheet;
use crate::expected::Figure;
use serde_json::{Value, json};
use statistics::equating::curve_linking::{CurveCriterion, curve_linking};
use statistics::equating::moment_linking::{ScaleLink, mean_mean, mean_sigma};
use statistics::equating::observed_score::{AbilityPoint, observed_score_equating};
use statistics::equating::three_parameter_curve::{CurveMetric, ThreeParameterCurve};
use statistics::equating::true_score::true_score_equating;

pub fn compute(figure: &Figure) -> Option<Value> {
    let all: Vec<usize> = (1..=12).map(|third| 3 * third).collect();
    let without: Vec<usize> = all.iter().copied().filter(|item| *item != 27).collect();
    match figure.statistic.as_str() {
        "linking_D1" => Some(four_links(figure, &all, CurveMetric::Logistic)),
        "linking_D1.7" => Some(four_links(figure, &all, CurveMetric::NormalOgive)),
        "linking_D1.7_without27" => Some(four_links(figure, &without, CurveMetric::NormalOgive)),
        "true_score_equating" => {
            let (x, y) = on_one_scale(figure, &without);
            let old = true_score_equating(&x, &y, CurveMetric::NormalOgive).unwrap();
            let new: Vec<usize> = (0..=36).collect();
            Some(json!({ "new": new, "old": old }))
        }
        "observed_score_equating" => {
            let (x, y) = on_one_scale(figure, &without);
            let population = POPULATION.map(|(ability, weight)| AbilityPoint { ability, weight });
            let made = observed_score_equating(&x, &y, &population, CurveMetric::NormalOgive);
            // The record sets negative values to 0.
            let above = made.unwrap().into_iter().map(|mark| mark.max(0.0));
            Some(above.collect())
        }
        _ => None,
    }
}

/// The ten nodes of Weeks 2010, appendix A.2, on the scale of form Y. The record names them without
/// giving them: from memory, and confirmed by its 37 values, which come out with none of the others tried.
const POPULATION: [(f64, f64); 10] = [
    (-5.21, 0.0001),
    (-4.16, 0.0028),
    (-3.12, 0.0302),
    (-2.07, 0.1420),
    (-1.03, 0.3149),
    (0.02, 0.3158),
    (1.06, 0.1542),
    (2.11, 0.0359),
    (3.15, 0.0039),
    (4.20, 0.0002),
];

fn form(file: &str) -> Vec<ThreeParameterCurve> {
    let sheet = Sheet::read(file);
    let (a, b, c) = (sheet.numbers("a"), sheet.numbers("b"), sheet.numbers("c"));
    a.iter()
        .zip(b.iter().zip(&c))
        .map(|(a, (b, c))| ThreeParameterCurve::new(*a, *b, *c).unwrap())
        .collect()
}

fn shared(figure: &Figure, items: &[usize]) -> [Vec<ThreeParameterCurve>; 2] {
    [&figure.data[0], &figure.data[1]].map(|file| {
        let form = form(file);
        items.iter().map(|item| form[item - 1]).collect()
    })
}

fn four_links(figure: &Figure, items: &[usize], metric: CurveMetric) -> Value {
    let [x, y] = shared(figure, items);
    let pair = |link: ScaleLink| json!([link.slope, link.intercept]);
    let by_curves = |criterion| pair(curve_linking(&x, &y, metric, criterion).unwrap().link);
    json!({
        "mean_mean": pair(mean_mean(&x, &y).unwrap()),
        "mean_sigma": pair(mean_sigma(&x, &y).unwrap()),
        "haebara": by_curves(CurveCriterion::Haebara),
        "stocking_lord": by_curves(CurveCriterion::StockingLord),
    })
}

/// Form X carried to the scale of form Y by mean/sigma, and form Y.
fn on_one_scale(
    figure: &Figure,
    items: &[usize],
) -> (Vec<ThreeParameterCurve>, Vec<ThreeParameterCurve>) {
    let [x, y] = shared(figure, items);
    let link = mean_sigma(&x, &y).unwrap();
    let carried = form(&figure.data[0])
        .iter()
        .map(|item| link.carry(item).unwrap())
        .collect();
    (carried, form(&figure.data[1]))
}
