//! Equating, with known truth: in random groups two forms of which one is two marks harder and a
//! tenth narrower; with an anchor two groups that differ by .3 in ability.

use base::Stream;
use statistics::equating::anchor_group::AnchorGroup;
use statistics::equating::braun_holland::braun_holland;
use statistics::equating::chained_equipercentile::chained_equipercentile;
use statistics::equating::chained_linear::chained_linear;
use statistics::equating::circle_arc::{Equivalent, circle_arc};
use statistics::equating::curve_linking::{CurveCriterion, curve_linking};
use statistics::equating::equipercentile::equipercentile_equating;
use statistics::equating::frequency_estimation::frequency_estimation;
use statistics::equating::levine::{AnchorPlace, levine_observed_score, levine_true_score};
use statistics::equating::linear::linear_equating;
use statistics::equating::mean::mean_equating;
use statistics::equating::moment_linking::{mean_mean, mean_sigma};
use statistics::equating::nominal_weights::nominal_weights;
use statistics::equating::presmoothing::presmoothing;
use statistics::equating::rasch_calibration::{concurrent_calibration, fixed_anchor_calibration};
use statistics::equating::score_distribution::ScoreDistribution;
use statistics::equating::synthetic_population::PopulationWeight;
use statistics::equating::three_parameter_curve::{CurveMetric, ThreeParameterCurve};
use statistics::equating::tucker::tucker;
use statistics::scaling::response_table::ResponseTable;
use statistics::scaling::two_parameter::two_parameter;
use statistics::{Confidence, ScoreTable};

use crate::tally::{Tally, normal, rasch_rows, spread, stream};

pub(crate) fn run() {
    for n in [25, 50, 100, 400] {
        random_groups(n);
    }
    for n in [100, 400, 1_600] {
        anchored(n);
    }
    for n in [100, 400] {
        linked(n);
    }
}

/// Marks of 40, normal, rounded.
fn marks(draws: &mut Stream, n: usize, mean: f64, deviation: f64) -> ScoreDistribution {
    let drawn: Vec<usize> = (0..n)
        .map(|_| (mean + deviation * normal(draws)).round().clamp(0.0, 40.0) as usize)
        .collect();
    ScoreDistribution::from_marks(&drawn, 40).unwrap()
}

/// The mark of 22 on X: 20 and 5.4 against 22 and 6, so Y has 22 + 2 x 6/5.4.
fn random_groups(n: usize) {
    let mut draws = stream(41);
    let truth = 22.0 + 2.0 * 6.0 / 5.4;
    let mut tallies: [Tally; 6] = Default::default();
    for _ in 0..1_000 {
        let (x, y) = (
            marks(&mut draws, n, 20.0, 5.4),
            marks(&mut draws, n, 22.0, 6.0),
        );
        tallies[0].add(22.0, truth, None);
        let mean = mean_equating(&x, &y, Confidence::P95);
        let reach = 1.96 * mean.standard_error;
        let at = mean.conversion.at(22.0);
        tallies[1].add(at, truth, Some((at - reach, at + reach)));
        let line = linear_equating(&x, &y);
        let at = line.conversion.at(22.0);
        let reach = 1.96 * line.standard_errors[22];
        tallies[2].add(at, truth, Some((at - reach, at + reach)));
        let whole = equipercentile_equating(&x, &y);
        let reach = 1.96 * whole.standard_errors[22];
        let at = whole.equivalents[22];
        tallies[3].add(at, truth, Some((at - reach, at + reach)));
        let point = |x, y| Equivalent { x, y };
        let arc = circle_arc(
            point(0.0, 0.0),
            point(x.mean(), y.mean()),
            point(40.0, 40.0),
        );
        tallies[4].take(arc.map(|arc| (arc.at(22.0), None)), truth);
        let smooth = presmoothing(&x, 3).and_then(|x| Ok((x.fitted, presmoothing(&y, 3)?.fitted)));
        tallies[5].take(
            smooth.map(|(x, y)| (equipercentile_equating(&x, &y).equivalents[22], None)),
            truth,
        );
    }
    for (tally, what) in tallies.iter().zip([
        "identity at 22 of 40 (truth 24.2)",
        "mean equating, the same",
        "linear equating, the same",
        "equipercentile, the same",
        "circle arc, the same",
        "equipercentile of smoothed marks, the same",
    ]) {
        tally.print(what, n);
    }
}

/// Rasch forms of 30 with 10 shared questions; form X is harder by .4, its group abler by .3. Truth at
/// 18 of 30 by the expected marks of the same ability.
fn anchored(n: usize) {
    let mut draws = stream(42);
    let shared = spread(10);
    let own: Vec<f64> = spread(20);
    let x_items: Vec<f64> = shared
        .iter()
        .copied()
        .chain(own.iter().map(|b| b + 0.4))
        .collect();
    let y_items: Vec<f64> = shared.iter().chain(&own).copied().collect();
    let expected = |items: &[f64], ability: f64| -> f64 {
        items
            .iter()
            .map(|b| crate::tally::logistic(ability - b))
            .sum()
    };
    let (mut low, mut high) = (-6.0, 6.0);
    for _ in 0..60 {
        let middle = (low + high) / 2.0;
        if expected(&x_items, middle) < 18.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    let truth = expected(&y_items, low);
    let half = PopulationWeight::HALVES;
    let mut tallies: [Tally; 8] = Default::default();
    for _ in 0..300 {
        let mut group = |items: &[f64], ability: f64| {
            let rows = rasch_rows(&mut draws, n, items, ability);
            let sum = |row: &[f64], to: usize| row.iter().take(to).sum::<f64>() as usize;
            let totals: Vec<usize> = rows.iter().map(|row| sum(row, 30)).collect();
            let anchors: Vec<usize> = rows.iter().map(|row| sum(row, 10)).collect();
            AnchorGroup::new(&totals, &anchors, 30, 10).unwrap()
        };
        let (x, y) = (group(&x_items, 0.3), group(&y_items, 0.0));
        let place = AnchorPlace::Internal;
        tallies[0].take(
            tucker(&x, &y, half).map(|m| (m.conversion.at(18.0), None)),
            truth,
        );
        tallies[1].take(
            levine_observed_score(&x, &y, place, half).map(|m| (m.conversion.at(18.0), None)),
            truth,
        );
        tallies[2].take(
            levine_true_score(&x, &y, place).map(|m| (m.at(18.0), None)),
            truth,
        );
        tallies[3].take(chained_linear(&x, &y).map(|m| (m.at(18.0), None)), truth);
        tallies[4].take(
            nominal_weights(&x, &y, half).map(|m| (m.at(18.0), None)),
            truth,
        );
        let mixed = frequency_estimation(&x, &y, half);
        tallies[5].take(
            mixed.as_ref().map(|m| (m.equipercentile()[18], None)),
            truth,
        );
        tallies[6].take(
            mixed
                .and_then(|m| braun_holland(&m))
                .map(|m| (m.at(18.0), None)),
            truth,
        );
        tallies[7].take(chained_equipercentile(&x, &y).map(|m| (m[18], None)), truth);
    }
    for (tally, what) in tallies.iter().zip([
        "Tucker at 18 of 30, groups .3 apart",
        "Levine, observed score",
        "Levine, true score",
        "chained linear",
        "nominal weights",
        "frequency estimation",
        "Braun and Holland",
        "chained equipercentile",
    ]) {
        tally.print(what, n);
    }
}

/// The group that took X is .3 abler: what each way of linking finds.
fn linked(n: usize) {
    let mut draws = stream(43);
    let items = spread(20);
    let pairs: Vec<(usize, usize)> = (0..10).map(|place| (2 * place, 2 * place)).collect();
    let mut tallies: [Tally; 6] = Default::default();
    for _ in 0..30 {
        let x = ScoreTable::new(&rasch_rows(&mut draws, n, &items, 0.3)).unwrap();
        let y = ScoreTable::new(&rasch_rows(&mut draws, n, &items, 0.0)).unwrap();
        tallies[0].take(
            concurrent_calibration(&x, &y, &pairs).map(|m| (m.x_mean, None)),
            0.3,
        );
        tallies[1].take(
            fixed_anchor_calibration(&x, &y, &pairs).map(|m| (m.x_mean, None)),
            0.3,
        );
        if n < 200 {
            continue;
        }
        let fitted = |table: &ScoreTable| -> Result<Vec<ThreeParameterCurve>, statistics::Refusal> {
            let made = two_parameter(&ResponseTable::from_scores(table)?)?;
            pairs
                .iter()
                .map(|(place, _)| {
                    let (a, b) = (made.slopes[*place].value, made.difficulties[*place].value);
                    ThreeParameterCurve::new(a, b, 0.0)
                })
                .collect()
        };
        let (Ok(x), Ok(y)) = (fitted(&x), fitted(&y)) else {
            for tally in &mut tallies[2..] {
                tally.refuse();
            }
            continue;
        };
        let metric = CurveMetric::Logistic;
        tallies[2].take(mean_mean(&x, &y).map(|m| (m.intercept, None)), 0.3);
        tallies[3].take(mean_sigma(&x, &y).map(|m| (m.intercept, None)), 0.3);
        for (tally, criterion) in [
            (4, CurveCriterion::Haebara),
            (5, CurveCriterion::StockingLord),
        ] {
            let made = curve_linking(&x, &y, metric, criterion);
            tallies[tally].take(made.map(|m| (m.link.intercept, None)), 0.3);
        }
    }
    for (tally, what) in tallies.iter().zip([
        "both forms at once, Rasch: how much abler (truth .3)",
        "shared questions held",
        "mean and mean, two parameters",
        "mean and sigma",
        "Haebara",
        "Stocking and Lord",
    ]) {
        if n >= 200 || !what.contains("mean") && !what.contains("H") && !what.contains("Stock") {
            tally.print(what, n);
        }
    }
}
