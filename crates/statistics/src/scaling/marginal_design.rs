//! Lays a table of answers out for the marginal likelihood: a curve per question, and where to start.

use super::curve_family::CurveFamily;
use super::estimate::Estimate;
use super::marginal_likelihood::{CurveDesign, Linear, MarginalLikelihood, Pattern};
use super::maximise::Maximum;
use super::response_table::ResponseTable;
use crate::distribution::normal;
use crate::refusal::{Refusal, at_least};

/// Whether each question has its own slope, or all share one (the spread of abilities).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Slopes {
    Own,
    Shared,
}

/// A likelihood with the place where the search starts.
pub(crate) struct MarginalDesign {
    pub(crate) likelihood: MarginalLikelihood,
    pub(crate) start: Vec<f64>,
    /// Candidates with at least one answer.
    pub(crate) persons: usize,
}

/// Lays out a table. Parameters: with a shared slope first that slope, then each question's raw
/// parameters but the slope; with own slopes each question's raw parameters.
///
/// # Errors
/// What `category_counts` refuses, and `Refusal::TooFew`.
pub(crate) fn marginal_design(
    table: &ResponseTable,
    family: CurveFamily,
    slopes: Slopes,
    (least, reason): (usize, &'static str),
) -> Result<MarginalDesign, Refusal> {
    let counts = table.category_counts()?;
    let questions = match slopes {
        Slopes::Own => (3, "slopes are identified from three on"),
        Slopes::Shared => (2, "the spread of abilities is identified from two on"),
    };
    at_least(questions.0, table.items(), "questions", questions.1)?;
    let mut start = Vec::new();
    if slopes == Slopes::Shared {
        start.push(1.0);
    }
    let mut designs = Vec::with_capacity(counts.len());
    for counts in &counts {
        let first = match slopes {
            Slopes::Shared => Linear::parameter(0),
            Slopes::Own => {
                start.push(starting_slope(family));
                Linear::parameter(start.len() - 1)
            }
        };
        let mut raw = vec![first];
        for value in starting_intercepts(family, counts) {
            start.push(value);
            raw.push(Linear::parameter(start.len() - 1));
        }
        designs.push(CurveDesign {
            family,
            categories: counts.len(),
            raw,
        });
    }
    let patterns = patterns(table);
    let persons = patterns.iter().map(|pattern| pattern.count as usize).sum();
    at_least(least, persons, "candidates with answers", reason)?;
    Ok(MarginalDesign {
        likelihood: MarginalLikelihood {
            designs,
            patterns,
            priors: Vec::new(),
            parameters: start.len(),
        },
        start,
        persons,
    })
}

/// The distinct rows with at least one answer.
fn patterns(table: &ResponseTable) -> Vec<Pattern> {
    table
        .patterns()
        .into_iter()
        .map(|(row, count)| Pattern {
            count: count as f64,
            answers: row
                .iter()
                .enumerate()
                .filter_map(|(item, answer)| answer.map(|category| (item, usize::from(category))))
                .collect(),
        })
        .filter(|pattern| !pattern.answers.is_empty())
        .collect()
}

fn starting_slope(family: CurveFamily) -> f64 {
    match family {
        CurveFamily::Adjacent | CurveFamily::Cumulative | CurveFamily::Guessed => 1.0,
        CurveFamily::Ogive => 0.6,
    }
}

/// Intercepts that give the observed shares at the mean ability, spread a little for the population.
pub(crate) fn starting_intercepts(family: CurveFamily, counts: &[f64]) -> Vec<f64> {
    let whole: f64 = counts.iter().sum();
    let thresholds = 1..counts.len();
    let at_least = |h: usize| -> f64 { counts.iter().skip(h).sum() };
    let logit = |h: usize| libm::log(at_least(h) / (whole - at_least(h)));
    match family {
        CurveFamily::Adjacent => thresholds
            .map(|h| libm::log(counts[h] / counts[h - 1]))
            .collect(),
        CurveFamily::Cumulative => thresholds.map(|h| 1.2 * logit(h)).collect(),
        CurveFamily::Ogive => thresholds
            .map(|h| 1.15 * normal::quantile_of_lower_tail(at_least(h) / whole))
            .collect(),
        CurveFamily::Guessed => {
            let mut start: Vec<f64> = thresholds.map(|h| 1.2 * logit(h) - 0.3).collect();
            start.push(-1.4);
            start
        }
    }
}

/// The parameter in one place, with its error.
pub(crate) fn estimate_at(top: &Maximum, place: usize) -> Estimate {
    Estimate {
        value: top.point[place],
        standard_error: top.standard_error(place),
    }
}

/// The parameter of one raw place of a question, where it is just one parameter.
pub(crate) fn raw_estimate(top: &Maximum, design: &CurveDesign, raw: usize) -> Estimate {
    let mut weights = vec![0.0; top.point.len()];
    for (place, coefficient) in &design.raw[raw].terms {
        weights[*place] += coefficient;
    }
    Estimate {
        value: design.raw[raw].at(&top.point),
        standard_error: top.variance_of(&weights).sqrt(),
    }
}

/// A quotient of two parameters with its error by the delta method: -intercept / slope.
pub(crate) fn location(top: &Maximum, slope: usize, intercept: usize) -> Result<Estimate, Refusal> {
    let (a, d) = (top.point[slope], top.point[intercept]);
    if a.abs() < 1e-6 {
        return Err(Refusal::NotDefined {
            of: "a difficulty",
            because: "the question has slope 0: it tells nobody apart",
        });
    }
    let mut weights = vec![0.0; top.point.len()];
    weights[slope] += d / (a * a);
    weights[intercept] -= 1.0 / a;
    Ok(Estimate {
        value: -d / a,
        standard_error: top.variance_of(&weights).sqrt(),
    })
}

/// The variance of abilities from a shared slope in place 0, with its error by the delta method.
///
/// # Errors
/// `Refusal::NoVariance` where the spread ran to 0.
pub(crate) fn ability_variance(top: &Maximum) -> Result<Estimate, Refusal> {
    let deviation = top.point[0].abs();
    if deviation < 1e-3 {
        return Err(Refusal::NoVariance { of: "abilities" });
    }
    Ok(Estimate {
        value: deviation * deviation,
        standard_error: 2.0 * deviation * top.standard_error(0),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn starts_reproduce_the_shares_they_come_from() {
        let counts = [10.0, 30.0];
        assert!(
            (starting_intercepts(CurveFamily::Adjacent, &counts)[0] - libm::log(3.0)).abs() < 1e-14
        );
        let falling = starting_intercepts(CurveFamily::Cumulative, &[1.0, 2.0, 3.0, 4.0]);
        assert!(falling.windows(2).all(|pair| pair[0] > pair[1]));
    }
}
