//! Item response models, persons on the scale, fit, with known truth.

use base::Stream;
use statistics::Confidence;
use statistics::ScoreTable;
use statistics::scaling::ability_prior::AbilityPrior;
use statistics::scaling::estimate::Estimate;
use statistics::scaling::generalised_partial_credit::generalised_partial_credit;
use statistics::scaling::graded_response::graded_response;
use statistics::scaling::item_curve::ItemCurve;
use statistics::scaling::many_facet::{Rating, many_facet};
use statistics::scaling::normal_ogive::normal_ogive;
use statistics::scaling::partial_credit_conditional::partial_credit_conditional;
use statistics::scaling::partial_credit_marginal::partial_credit_marginal;
use statistics::scaling::person_measure::PersonMeasure;
use statistics::scaling::person_measure::expected_posterior::expected_posterior;
use statistics::scaling::person_measure::maximum_likelihood::maximum_likelihood;
use statistics::scaling::person_measure::maximum_posterior::maximum_posterior;
use statistics::scaling::person_measure::weighted_likelihood::weighted_likelihood;
use statistics::scaling::rasch_conditional::rasch_conditional;
use statistics::scaling::rasch_joint::rasch_joint;
use statistics::scaling::rasch_marginal::rasch_marginal;
use statistics::scaling::response_table::ResponseTable;
use statistics::scaling::three_parameter::{ThreeParameterPriors, three_parameter};
use statistics::scaling::two_parameter::two_parameter;

use crate::tally::{Tally, logistic, normal, rasch_rows, spread, stream};

const P95: Confidence = Confidence::P95;

pub(crate) fn run() {
    for n in [30, 60, 200, 500] {
        rasch(n);
    }
    for n in [200, 500, 1_000] {
        slopes(n);
    }
    guessing(1_000);
    for n in [100, 500] {
        categories(n);
    }
    for n in [30, 60] {
        markers(n);
    }
    for items in [20, 60] {
        persons(items);
    }
}

fn limits(made: &Estimate) -> Option<(f64, f64)> {
    let limits = made.interval(P95);
    Some((limits.lower, limits.upper))
}

fn responses(rows: &[Vec<f64>]) -> ResponseTable {
    ResponseTable::from_scores(&ScoreTable::new(rows).unwrap()).unwrap()
}

/// The hardest of ten questions.
fn rasch(n: usize) {
    let mut draws = stream(31);
    let difficulties = spread(10);
    let mut tallies: [Tally; 3] = Default::default();
    for _ in 0..300 {
        let table = responses(&rasch_rows(&mut draws, n, &difficulties, 0.0));
        tallies[0].take(
            rasch_marginal(&table).map(|m| {
                let last = m.intercepts.last().unwrap();
                let of = last.interval(P95);
                (-last.value, Some((-of.upper, -of.lower)))
            }),
            1.5,
        );
        tallies[1].take(
            rasch_conditional(&table).map(|m| {
                let last = m.difficulties.last().unwrap();
                (last.value, limits(last))
            }),
            1.5,
        );
        tallies[2].take(
            rasch_joint(&table).map(|m| (*m.corrected.last().unwrap(), None)),
            1.5,
        );
    }
    tallies[0].print("Rasch difficulty, the hardest of 10, marginal", n);
    tallies[1].print("the same, conditional (mean difficulty 0)", n);
    tallies[2].print("the same, joint, corrected by (k - 1)/k", n);
}

/// Slopes 1.2 on fifteen questions.
fn slopes(n: usize) {
    let mut draws = stream(32);
    let difficulties = spread(15);
    let mut tallies: [Tally; 3] = Default::default();
    for _ in 0..60 {
        let mut rows: Vec<Vec<f64>> = Vec::new();
        let mut normals: Vec<Vec<f64>> = Vec::new();
        for _ in 0..n {
            let ability = normal(&mut draws);
            let draw: Vec<f64> = difficulties.iter().map(|_| draws.unit()).collect();
            let right = |curve: &dyn Fn(f64) -> f64| -> Vec<f64> {
                let cells = difficulties.iter().zip(&draw);
                cells
                    .map(|(b, u)| f64::from(u8::from(*u < curve(ability - b))))
                    .collect()
            };
            rows.push(right(&|x| logistic(1.2 * x)));
            normals.push(right(&|x| {
                statistics::distribution::normal::lower_tail(0.7 * x)
            }));
        }
        let made = two_parameter(&responses(&rows));
        let middle = made
            .as_ref()
            .map(|m| (m.slopes[7].value, limits(&m.slopes[7])));
        tallies[0].take(middle, 1.2);
        let hardest = made
            .as_ref()
            .map(|m| (m.difficulties[14].value, limits(&m.difficulties[14])));
        tallies[1].take(hardest, 1.5);
        let made = normal_ogive(&responses(&normals));
        tallies[2].take(made.map(|m| (m.slopes[7].value, limits(&m.slopes[7]))), 0.7);
    }
    tallies[0].print("slope of two parameters (truth 1.2)", n);
    tallies[1].print("difficulty of two parameters, the hardest of 15", n);
    tallies[2].print("slope of the normal ogive (truth .7)", n);
}

/// Guessing .25 on fifteen questions.
fn guessing(n: usize) {
    let mut draws = stream(33);
    let difficulties = spread(15);
    let priors = ThreeParameterPriors::for_options(4).unwrap();
    let mut tallies: [Tally; 2] = Default::default();
    for _ in 0..20 {
        let rows: Vec<Vec<f64>> = (0..n)
            .map(|_| {
                let ability = normal(&mut draws);
                difficulties
                    .iter()
                    .map(|b| {
                        let p = 0.25 + 0.75 * logistic(1.2 * (ability - b));
                        f64::from(u8::from(draws.unit() < p))
                    })
                    .collect()
            })
            .collect();
        let made = three_parameter(&responses(&rows), priors);
        let of = |estimate: &Estimate| (estimate.value, limits(estimate));
        tallies[0].take(made.as_ref().map(|m| of(&m.slopes[7])), 1.2);
        tallies[1].take(made.as_ref().map(|m| of(&m.guessing[14])), 0.25);
    }
    tallies[0].print("slope of three parameters with priors (truth 1.2)", n);
    tallies[1].print("guessing, the hardest of 15 (truth .25)", n);
}

/// Answers by curves, as categories.
fn answered(draws: &mut Stream, curves: &[ItemCurve], ability: f64) -> Vec<Option<u8>> {
    curves
        .iter()
        .map(|curve| {
            let mut left = draws.unit();
            let shares = curve.probabilities(ability);
            let place = shares.iter().position(|share| {
                left -= share;
                left < 0.0
            });
            Some(place.unwrap_or(shares.len() - 1) as u8)
        })
        .collect()
}

/// Eight questions of three categories: thresholds about their middle by .8.
fn categories(n: usize) {
    let mut draws = stream(34);
    let middles = spread(8);
    let credit = |slope: f64| -> Vec<ItemCurve> {
        middles
            .iter()
            .map(|b| ItemCurve::PartialCredit {
                slope,
                intercepts: vec![-slope * (b - 0.4), -slope * (b + 0.4)],
            })
            .collect()
    };
    let graded: Vec<ItemCurve> = middles
        .iter()
        .map(|b| ItemCurve::Graded {
            slope: 1.2,
            intercepts: vec![-1.2 * (b - 0.8), -1.2 * (b + 0.8)],
        })
        .collect();
    let mut tallies: [Tally; 4] = Default::default();
    for _ in 0..60 {
        let mut table = |curves: &[ItemCurve]| {
            let rows: Vec<Vec<Option<u8>>> = (0..n)
                .map(|_| {
                    let ability = normal(&mut draws);
                    answered(&mut draws, curves, ability)
                })
                .collect();
            ResponseTable::new(&rows).unwrap()
        };
        let rasch = table(&credit(1.0));
        let first = |m: &[Vec<Estimate>]| (m[0][0].value, limits(&m[0][0]));
        tallies[0].take(
            partial_credit_marginal(&rasch).map(|m| first(&m.thresholds)),
            -1.9,
        );
        tallies[1].take(
            partial_credit_conditional(&rasch).map(|m| first(&m.thresholds)),
            -1.9,
        );
        let own = table(&credit(1.2));
        tallies[2].take(
            generalised_partial_credit(&own).map(|m| (m.slopes[3].value, limits(&m.slopes[3]))),
            1.2,
        );
        let made = graded_response(&table(&graded));
        tallies[3].take(made.map(|m| (m.slopes[3].value, limits(&m.slopes[3]))), 1.2);
    }
    for (tally, what) in tallies.iter().zip([
        "partial credit, first threshold, marginal (truth -1.9)",
        "partial credit, first threshold, conditional (mean threshold 0)",
        "slope of the generalised partial credit model (truth 1.2)",
        "slope of the graded model (truth 1.2)",
    ]) {
        tally.print(what, n);
    }
}

/// Three markers of severities -.5, 0 and .5 on four questions of three categories.
fn markers(n: usize) {
    let mut draws = stream(35);
    let mut tally = Tally::default();
    for _ in 0..60 {
        let mut ratings = Vec::new();
        for person in 0..n {
            let ability = normal(&mut draws);
            for (marker, severity) in [-0.5, 0.0, 0.5].into_iter().enumerate() {
                let curves: Vec<ItemCurve> = [-0.6, -0.2, 0.2, 0.6]
                    .iter()
                    .map(|b| ItemCurve::PartialCredit {
                        slope: 1.0,
                        intercepts: vec![0.5 - b - severity, -0.5 - b - severity],
                    })
                    .collect();
                for (item, category) in answered(&mut draws, &curves, ability)
                    .into_iter()
                    .enumerate()
                {
                    ratings.push(Rating {
                        person,
                        marker,
                        item,
                        category: category.unwrap(),
                    });
                }
            }
        }
        let made = many_facet(&ratings);
        tally.take(
            made.map(|m| (m.severities[2].value, limits(&m.severities[2]))),
            0.5,
        );
    }
    tally.print("severity of a marker, many facets (truth .5)", n);
}

/// Abilities of 2,000 candidates with known curves.
fn persons(items: usize) {
    let mut draws = stream(36);
    let curves: Vec<ItemCurve> = spread(items).into_iter().map(ItemCurve::rasch).collect();
    let mut tallies: [Tally; 4] = Default::default();
    let of = |made: PersonMeasure| {
        let limits = made.interval(P95);
        (made.ability, Some((limits.lower, limits.upper)))
    };
    for _ in 0..2_000 {
        let ability = normal(&mut draws);
        let answers = answered(&mut draws, &curves, ability);
        let standard = AbilityPrior::STANDARD;
        tallies[0].take(maximum_likelihood(&curves, &answers).map(of), ability);
        tallies[1].take(weighted_likelihood(&curves, &answers).map(of), ability);
        tallies[2].take(
            maximum_posterior(&curves, &answers, standard).map(of),
            ability,
        );
        tallies[3].take(
            expected_posterior(&curves, &answers, standard).map(of),
            ability,
        );
    }
    for (tally, what) in tallies.iter().zip([
        "ability, maximum likelihood (n questions)",
        "ability, weighted likelihood (n questions)",
        "ability, maximum posterior (n questions)",
        "ability, expected posterior (n questions)",
    ]) {
        tally.print(what, items);
    }
}
