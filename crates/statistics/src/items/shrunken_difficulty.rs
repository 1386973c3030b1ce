//! How hard is a question, when what the other questions did is counted in?
//!
//! Source: beta and binomial, empirical Bayes with prior by moments (Kleinman 1973; Morris 1983, both
//! from memory): with pᵢ = xᵢ/nᵢ, mean μ = Σx/Σn and spread of the questions
//! τ² = max(0, s² − mean(μ(1−μ)/nᵢ)), s² the variance of pᵢ (divisor k − 1), the prior is worth
//! m = μ(1−μ)/τ² − 1 answers; estimate (mμ + xᵢ)/(m + nᵢ), limits by the beta distribution of
//! mμ + xᵢ and m(1−μ) + nᵢ − xᵢ. Prior and data are given apart. Invalid: questions of unlike kinds in
//! one list (the prior is a mixture that fits none). Where questions differ no more than chance, the
//! prior weighs a million answers: all are the mean. Smallest: five questions (a spread of fewer is a
//! guess, common practice). Missing: an answer that was not asked for is in neither x nor n.

use crate::distribution::beta;
use crate::interval::Confidence;
use crate::refusal::{Refusal, at_least};
use crate::sums::sum;

/// Right answers among the answers of one question.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct RightOf {
    /// Right answers.
    pub right: usize,
    /// Answers.
    pub n: usize,
}

/// One question with prior and data apart.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct ShrunkenShare {
    /// The data alone.
    pub observed: f64,
    /// Answers in the data.
    pub n: usize,
    /// Share after shrinkage.
    pub share: f64,
    /// How much of it is data, 0 to 1.
    pub weight_of_data: f64,
    /// Lower limit.
    pub lower: f64,
    /// Upper limit.
    pub upper: f64,
}

/// All questions.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct ShrunkenDifficulty {
    /// Mean of the prior.
    pub prior_mean: f64,
    /// What the prior is worth, in answers.
    pub prior_answers: f64,
    /// In the order of the questions.
    pub questions: Vec<ShrunkenShare>,
    /// Level of the limits.
    pub confidence: Confidence,
}

/// What the prior weighs where questions do not differ beyond chance.
const HEAVIEST: f64 = 1e6;

/// Draws the shares of right answers towards their mean.
///
/// # Errors
/// `Refusal::TooFew` below five questions or for one without answers, `Refusal::OutOfRange` for more
/// right answers than answers, `Refusal::NoVariance` when all answers are right, or all wrong.
pub fn shrunken_difficulty(
    questions: &[RightOf],
    confidence: Confidence,
) -> Result<ShrunkenDifficulty, Refusal> {
    at_least(
        5,
        questions.len(),
        "questions",
        "a spread of fewer is a guess (common practice)",
    )?;
    for question in questions {
        at_least(1, question.n, "answers to a question", "a share needs one")?;
        if question.right > question.n {
            return Err(Refusal::OutOfRange {
                of: "number of right answers",
                value: question.right as f64,
                allowed: "up to the number of answers",
            });
        }
    }
    let k = questions.len() as f64;
    let answers = sum(questions.iter().map(|q| q.n as f64));
    let mean = sum(questions.iter().map(|q| q.right as f64)) / answers;
    let within = mean * (1.0 - mean);
    if within <= 0.0 {
        return Err(Refusal::NoVariance { of: "answers" });
    }
    let shares: Vec<f64> = questions
        .iter()
        .map(|q| q.right as f64 / q.n as f64)
        .collect();
    let middle = sum(shares.iter().copied()) / k;
    let spread = sum(shares.iter().map(|p| (p - middle) * (p - middle))) / (k - 1.0);
    let by_chance = sum(questions.iter().map(|q| within / q.n as f64)) / k;
    let between = spread - by_chance;
    let prior_answers = if between <= within / (HEAVIEST + 1.0) {
        HEAVIEST
    } else {
        // Questions all at the ends would make it fall below nothing.
        (within / between - 1.0).max(0.01)
    };
    let tail = confidence.each_tail();
    let questions = questions
        .iter()
        .zip(&shares)
        .map(|(question, observed)| {
            let n = question.n as f64;
            let a = prior_answers * mean + question.right as f64;
            let b = prior_answers * (1.0 - mean) + n - question.right as f64;
            ShrunkenShare {
                observed: *observed,
                n: question.n,
                share: a / (a + b),
                weight_of_data: n / (n + prior_answers),
                lower: beta::quantile_of_lower_tail(tail, a, b),
                upper: beta::quantile_of_lower_tail(1.0 - tail, a, b),
            }
        })
        .collect();
    Ok(ShrunkenDifficulty {
        prior_mean: mean,
        prior_answers,
        questions,
        confidence,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn list(right: &[usize], n: usize) -> Vec<RightOf> {
        right
            .iter()
            .map(|right| RightOf { right: *right, n })
            .collect()
    }

    #[test]
    fn prior_and_data_add_up_to_the_estimate() {
        let made = shrunken_difficulty(&list(&[3, 6, 9, 12, 15, 18], 20), Confidence::P95).unwrap();
        for question in &made.questions {
            let weight = question.weight_of_data;
            let put = weight * question.observed + (1.0 - weight) * made.prior_mean;
            assert!((question.share - put).abs() < 1e-12);
            assert!(question.lower < question.share && question.share < question.upper);
        }
        // By hand: s² = .07875, μ(1−μ)/n = .249375/20 = .01246875, m = .249375/.06628125 − 1.
        assert!((made.prior_answers - (0.249_375 / 0.066_281_25 - 1.0)).abs() < 1e-9);
    }

    #[test]
    fn many_answers_speak_for_themselves_and_chance_is_drawn_to_the_mean() {
        let many = shrunken_difficulty(
            &list(&[3000, 6000, 9000, 5000, 7000], 10_000),
            Confidence::P95,
        )
        .unwrap();
        assert!(
            many.questions
                .iter()
                .all(|q| (q.share - q.observed).abs() < 1e-3)
        );
        let alike = shrunken_difficulty(&list(&[10, 10, 10, 11, 9], 20), Confidence::P95).unwrap();
        assert!(alike.questions.iter().all(|q| (q.share - 0.5).abs() < 1e-4));
        assert!(shrunken_difficulty(&list(&[20, 20, 20, 20, 20], 20), Confidence::P95).is_err());
        assert!(shrunken_difficulty(&list(&[1, 2, 3, 4], 20), Confidence::P95).is_err());
    }
}
