//! Equating by curves: both forms on one scale by the questions that both have, then the mark that is
//! expected of the same ability, or the mark below which the same share is expected.
//!
//! Rasch: both forms calibrated at once. With slopes: each form by itself, and the line between the
//! two scales by the curves of the shared questions (Stocking and Lord); the other ways of finding that
//! line are told beside it, since lines far apart are a sign of questions that drifted.

use statistics::equating::curve_linking::{CurveCriterion, curve_linking};
use statistics::equating::moment_linking::{ScaleLink, mean_mean, mean_sigma};
use statistics::equating::observed_score::{AbilityPoint, observed_score_equating};
use statistics::equating::rasch_calibration::{concurrent_calibration, fixed_anchor_calibration};
use statistics::equating::three_parameter_curve::{CurveMetric, ThreeParameterCurve};
use statistics::equating::true_score::true_score_equating;
use statistics::scaling::response_table::ResponseTable;
use statistics::scaling::two_parameter::two_parameter;
use statistics::{Refusal, ScoreTable};

use super::{FormMarks, NotEquated};
use crate::analysis::Need;

/// The answers on one form, marked right or wrong.
#[derive(Debug, Clone, PartialEq)]
pub struct FormAnswers {
    /// The names of the questions.
    pub questions: Vec<String>,
    /// 0 or 1 for each, candidate by candidate.
    pub rows: Vec<Vec<f64>>,
    /// The names of those that both forms have.
    pub shared: Vec<String>,
}

/// Which score is made equal.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Score {
    /// The mark expected of the same ability.
    True,
    /// The mark below which the same share is expected.
    Observed,
}

/// The equivalents, and how the forms came onto one scale.
pub(super) struct ByCurves {
    pub(super) equivalents: Vec<f64>,
    pub(super) sentences: Vec<String>,
}

/// The ends and number of the points that stand for the population.
const POINTS: i32 = 80;

pub(super) fn convert_by_curves(
    x: &FormMarks,
    y: &FormMarks,
    slopes: bool,
    score: Score,
) -> Result<ByCurves, NotEquated> {
    let need = if slopes {
        Need::TwoParameter
    } else {
        Need::Rasch
    };
    let row = need.row();
    let n = x.totals.len().min(y.totals.len());
    if n < row.least {
        return Err(NotEquated {
            what: format!(
                "{} are not carried by {n} candidates: at least {} on each form are needed ({})",
                row.what, row.least, row.source
            ),
            instead: "a way that takes marks: leave --way out, and the advisor names one"
                .to_owned(),
        });
    }
    let (Some(of_x), Some(of_y)) = (&x.answers, &y.answers) else {
        return Err(NotEquated {
            what: "equating by curves wants each question marked right or wrong".to_owned(),
            instead:
                "tables with a column for each question, and no --total; or a way that takes marks"
                    .to_owned(),
        });
    };
    let refused = |refusal: Refusal| NotEquated {
        what: format!("no equating by curves: {refusal}"),
        instead: "tucker or levine, or a mark counts as the same mark (--way identity)".to_owned(),
    };
    let scale = if slopes {
        linked(of_x, of_y)
    } else {
        calibrated(of_x, of_y)
    }
    .map_err(refused)?;
    let metric = CurveMetric::Logistic;
    let equivalents = match score {
        Score::True => true_score_equating(&scale.x, &scale.y, metric),
        Score::Observed => observed_score_equating(&scale.x, &scale.y, &scale.population, metric),
    }
    .map_err(refused)?;
    let mut sentences = scale.sentences;
    sentences.push(match score {
        Score::True => {
            "Equal are marks that are expected of the same ability; nobody's own ability is known, so this is an approximation for the mark that was had."
                .to_owned()
        }
        Score::Observed => {
            "Equal are marks below which the same share of both groups together is expected.".to_owned()
        }
    });
    Ok(ByCurves {
        equivalents,
        sentences,
    })
}

/// Both forms on one scale.
struct OneScale {
    x: Vec<ThreeParameterCurve>,
    y: Vec<ThreeParameterCurve>,
    population: Vec<AbilityPoint>,
    sentences: Vec<String>,
}

/// The places of shared questions: in X and in Y.
fn shared(x: &FormAnswers, y: &FormAnswers) -> Vec<(usize, usize)> {
    x.questions
        .iter()
        .enumerate()
        .filter(|(_, name)| x.shared.contains(name))
        .filter_map(|(place, name)| {
            Some((place, y.questions.iter().position(|other| other == name)?))
        })
        .collect()
}

fn calibrated(x: &FormAnswers, y: &FormAnswers) -> Result<OneScale, Refusal> {
    let both = shared(x, y);
    let (of_x, of_y) = (ScoreTable::new(&x.rows)?, ScoreTable::new(&y.rows)?);
    let made = concurrent_calibration(&of_x, &of_y, &both)?;
    let curves = |difficulties: &[f64]| -> Result<Vec<ThreeParameterCurve>, Refusal> {
        difficulties
            .iter()
            .map(|b| ThreeParameterCurve::new(1.0, *b, 0.0))
            .collect()
    };
    let mut sentences = vec![format!(
        "By {} questions in common the group of the first form is {:+.2} logits abler than that of the other (both forms calibrated at once, Rasch).",
        both.len(),
        made.x_mean
    )];
    if let Ok(fixed) = fixed_anchor_calibration(&of_x, &of_y, &both) {
        sentences.push(format!(
            "With the shared questions held where the other form has them: {:+.2} logits{}.",
            fixed.x_mean,
            if (fixed.x_mean - made.x_mean).abs() > 0.2 {
                "; that is far from the figure above, so look whether a shared question was harder on one form"
            } else {
                ""
            }
        ));
    }
    Ok(OneScale {
        x: curves(&made.x_difficulties)?,
        y: curves(&made.y_difficulties)?,
        population: mixed([
            (made.x_mean, made.x_variance.sqrt()),
            (0.0, made.y_variance.sqrt()),
        ]),
        sentences,
    })
}

fn linked(x: &FormAnswers, y: &FormAnswers) -> Result<OneScale, Refusal> {
    let both = shared(x, y);
    let fitted = |rows: &[Vec<f64>]| -> Result<Vec<ThreeParameterCurve>, Refusal> {
        let made = two_parameter(&ResponseTable::from_scores(&ScoreTable::new(rows)?)?)?;
        made.slopes
            .iter()
            .zip(&made.difficulties)
            .map(|(slope, difficulty)| ThreeParameterCurve::new(slope.value, difficulty.value, 0.0))
            .collect()
    };
    let (of_x, of_y) = (fitted(&x.rows)?, fitted(&y.rows)?);
    let pick = |curves: &[ThreeParameterCurve], places: &dyn Fn(&(usize, usize)) -> usize| {
        both.iter()
            .filter_map(|pair| curves.get(places(pair)).copied())
            .collect::<Vec<_>>()
    };
    let (in_x, in_y) = (pick(&of_x, &|pair| pair.0), pick(&of_y, &|pair| pair.1));
    let metric = CurveMetric::Logistic;
    let link = curve_linking(&in_x, &in_y, metric, CurveCriterion::StockingLord)?.link;
    let line =
        |link: ScaleLink| format!("{:.2} times the ability {:+.2}", link.slope, link.intercept);
    let mut sentences = vec![format!(
        "By {} questions in common an ability on the scale of the first form is, on that of the other, {} (Stocking and Lord).",
        both.len(),
        line(link)
    )];
    let others = [
        (
            "Haebara",
            curve_linking(&in_x, &in_y, metric, CurveCriterion::Haebara).map(|m| m.link),
        ),
        ("mean and sigma", mean_sigma(&in_x, &in_y)),
        ("mean and mean", mean_mean(&in_x, &in_y)),
    ];
    let told: Vec<String> = others
        .iter()
        .map(|(name, made)| match made {
            Ok(link) => format!("{name}: {}", line(*link)),
            Err(why) => format!("{name}: not given ({why})"),
        })
        .collect();
    sentences.push(format!(
        "Other ways to that line: {}. Lines far apart are a sign of shared questions that drifted.",
        told.join("; ")
    ));
    Ok(OneScale {
        x: of_x
            .iter()
            .map(|curve| link.carry(curve))
            .collect::<Result<_, _>>()?,
        y: of_y,
        // Each form's own group is standard normal on its own scale.
        population: mixed([(link.intercept, link.slope), (0.0, 1.0)]),
        sentences,
    })
}

/// Both groups in halves, as points.
fn mixed(groups: [(f64, f64); 2]) -> Vec<AbilityPoint> {
    groups
        .iter()
        .flat_map(|(mean, deviation)| {
            (-POINTS / 2..=POINTS / 2).map(move |step| {
                let z = f64::from(step) * 10.0 / f64::from(POINTS);
                AbilityPoint {
                    ability: mean + deviation * z,
                    weight: libm::exp(-0.5 * z * z),
                }
            })
        })
        .collect()
}
