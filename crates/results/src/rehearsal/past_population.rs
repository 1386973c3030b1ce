//! The population that fits the marks of a past sitting: means and spreads of the two abilities.
//!
//! For each part the mean and the standard deviation of ability are those of a normal distribution
//! under which the model's expected shares have the observed mean, and, with the error variance of
//! one run added, the observed variance. The error variance is half the mean squared difference of
//! two runs of the same simulated people. The correlation is the observed one of the two parts,
//! raised for what error takes away from it (Spearman 1904). A class is small: a mean of 25 people
//! is known to a fifth of its standard deviation, and the fit says no more than that.

use assembler::Sitting;
use base::ExamSeed;
use exam_plan::Exam;
use grader::Award;
use statistics::halving::last_place;
use statistics::sums::{Divisor, correlation, mean, variance};

use super::forecast::{Extent, Simulated, sittings};
use super::marking::Marking;
use super::population::Population;
use super::prepared::Prepared;
use super::true_scores::ExpectedShare;
use crate::decide::{CandidateMarks, Part};
use crate::script::scripts;

/// Sittings simulated for the error variance.
const SITTINGS: u32 = 30;
/// Scripts for each ability of the expected shares.
const SCRIPTS: u64 = 60;
/// People of whom a spread can be told at all.
const FEWEST: usize = 5;

/// Fits the abilities to the marks of those who came; what the marks do not show stays as in
/// `usual`. Nothing where fewer than five came.
#[must_use]
pub fn population_of(
    exam: &Exam,
    sitting: &Sitting,
    awards: &[Award],
    seed: &ExamSeed,
    usual: &Population,
    marking: &dyn Marking,
) -> Option<Population> {
    let scripts = scripts(exam, sitting, awards);
    let came: Vec<CandidateMarks> = scripts
        .iter()
        .map(|script| script.marks)
        .filter(|marks| marks.answered_anything)
        .collect();
    if came.len() < FEWEST {
        return None;
    }
    let prepared = Prepared::new(exam, sitting);
    let extent = Extent {
        sittings: SITTINGS,
        ..Extent::default()
    };
    let simulated = sittings(&prepared, seed, usual, &extent, marking);
    let mut fitted = *usual;
    let mut kept = Vec::new();
    for part in Part::ALL {
        let shares: Vec<f64> = came.iter().filter_map(|marks| share(marks, part)).collect();
        let (Ok(observed), Ok(spread)) = (mean(&shares), variance(&shares, Divisor::CountLessOne))
        else {
            continue;
        };
        let error = error_variance(&simulated, part);
        let expected = ExpectedShare::simulated(part, SCRIPTS, &prepared, marking, seed, usual);
        let at = |ability: f64| expected.at(ability);
        let (centre, deviation) = fit(&at, observed, (spread - error).max(0.0));
        match part {
            Part::Theory => (fitted.theory_mean, fitted.theory_deviation) = (centre, deviation),
            Part::Tasting => (fitted.tasting_mean, fitted.tasting_deviation) = (centre, deviation),
        }
        kept.push(((spread - error) / spread.max(f64::MIN_POSITIVE)).clamp(0.05, 1.0));
    }
    let pairs: Vec<(f64, f64)> = came
        .iter()
        .filter_map(|marks| Some((share(marks, Part::Theory)?, share(marks, Part::Tasting)?)))
        .collect();
    let (theory, tasting): (Vec<f64>, Vec<f64>) = pairs.into_iter().unzip();
    if let (Ok(r), [one, other]) = (correlation(&theory, &tasting), kept.as_slice()) {
        fitted.correlation = (r / (one * other).sqrt()).clamp(-0.95, 0.95);
    }
    Some(fitted)
}

fn share(marks: &CandidateMarks, part: Part) -> Option<f64> {
    marks.part(part).map(|part| part.marks.fraction_of(part.of))
}

fn error_variance(simulated: &[Simulated], part: Part) -> f64 {
    let squares: Vec<f64> = simulated
        .iter()
        .filter_map(|one| {
            let apart = share(&one.first.marks, part)? - share(&one.second, part)?;
            Some(apart * apart / 2.0)
        })
        .collect();
    mean(&squares).unwrap_or(0.0)
}

/// Mean and variance of a rising function of a normal ability, by a sum over 161 points.
fn moments(at: &dyn Fn(f64) -> f64, centre: f64, deviation: f64) -> (f64, f64) {
    let (mut weights, mut sum, mut squares) = (0.0, 0.0, 0.0);
    for step in -80..=80 {
        let z = f64::from(step) / 20.0;
        let weight = libm::exp(-z * z / 2.0);
        let value = at(centre + deviation * z);
        weights += weight;
        sum += weight * value;
        squares += weight * value * value;
    }
    let mean = sum / weights;
    (mean, (squares / weights - mean * mean).max(0.0))
}

/// The centre and the deviation of ability that give this mean and variance of expected shares.
fn fit(at: &dyn Fn(f64) -> f64, wanted_mean: f64, wanted_variance: f64) -> (f64, f64) {
    let centre_for = |deviation: f64| {
        last_place(
            |centre| moments(at, centre, deviation).0 < wanted_mean,
            -4.0,
            4.0,
        )
    };
    let deviation = last_place(
        |deviation| moments(at, centre_for(deviation), deviation).1 < wanted_variance,
        0.05,
        3.0,
    );
    (centre_for(deviation), deviation)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::example::{Shape, awards, exam};
    use crate::rehearsal::{GraderMarking, simulate_answers};
    use exam_plan::plan::Join;

    #[test]
    fn a_fit_finds_what_moments_were_made_of() {
        let at = |ability: f64| 1.0 / (1.0 + libm::exp(-ability));
        let (mean, variance) = moments(&at, 0.7, 1.3);
        let (centre, deviation) = fit(&at, mean, variance);
        assert!((centre - 0.7).abs() < 1e-4 && (deviation - 1.3).abs() < 1e-4);
    }

    #[test]
    fn a_large_class_shows_its_population() {
        let shape = Shape {
            questions: 30,
            samples: 3,
            candidates: 600,
        };
        let each = Join::Conjunctive {
            theory: 600,
            tasting: 500,
        };
        let (exam, sitting) = exam(shape, each);
        let truth = Population {
            theory_mean: -0.3,
            theory_deviation: 0.8,
            tasting_mean: 0.9,
            tasting_deviation: 1.2,
            correlation: 0.6,
            ..Population::default()
        };
        let seed = ExamSeed::from_bytes([4; 32]);
        let written = simulate_answers(&exam, &sitting, &seed, &truth);
        let items = written.len() / 600;
        let awards = awards(&exam, &sitting, |candidate, item| {
            let of_one = &written[candidate * items..(candidate + 1) * items];
            of_one
                .iter()
                .find(|a| a.item == *item)
                .unwrap()
                .answer
                .clone()
        });
        let marking = GraderMarking::new(&exam);
        // Few people of other abilities are simulated for the error variance: the example's 600
        // places are enough.
        let usual = Population::default();
        let other = ExamSeed::from_bytes([5; 32]);
        let fitted = population_of(&exam, &sitting, &awards, &other, &usual, &marking).unwrap();
        // About four standard errors of means (1/sqrt 600) and spreads, and what the model's
        // straight lines and the error of another population's people add.
        for (found, expected) in [
            (fitted.theory_mean, -0.3),
            (fitted.theory_deviation, 0.8),
            (fitted.tasting_mean, 0.9),
            (fitted.tasting_deviation, 1.2),
        ] {
            assert!((found - expected).abs() < 0.3, "{fitted:?}");
        }
        assert!((fitted.correlation - 0.6).abs() < 0.2, "{fitted:?}");
    }
}
