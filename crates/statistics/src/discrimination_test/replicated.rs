//! May the answers of tasters who answered several times be counted together?
//!
//! Against guessing alone they may: under guessing every answer is independent, so the exact binomial
//! p-value of all answers stands (Harries & Smith 1982; Ennis & Bi 1998). For everything else tasters
//! differ, and right answers lie further apart than a binomial lets them: the correlation within a
//! taster γ of the beta-binomial (moments, Kleinman 1973; from memory), and Tarone's 1979 Z for γ = 0
//! (from memory), say by how much; the effective number of answers is N / (1 + (m − 1) γ), m the mean
//! number of answers of a taster. Invalid: all answers right or wrong (γ is then taken as 0).

use crate::discrimination_test::critical_number::guessing_probability;
use crate::discrimination_test::method::Method;
use crate::distribution::normal;
use crate::p_value::{PValue, Side};
use crate::refusal::{Refusal, at_least};
use crate::sums::sum;

/// The answers of one taster.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TasterAnswers {
    /// Right ones.
    pub right: u32,
    /// All.
    pub answers: u32,
}

/// Answers counted together.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Replicated {
    /// Right answers of all tasters.
    pub right: u32,
    /// All answers.
    pub answers: u32,
    /// Number of tasters.
    pub tasters: usize,
    /// Probability of so many right answers, or more, by guessing.
    pub guessing: PValue,
    /// Correlation of the answers of one taster, 0 to 1.
    pub within_taster: f64,
    /// Tarone's Z against a correlation of 0; none where it is not defined.
    pub tarone: Option<PValue>,
    /// So many independent answers would say as much.
    pub effective_answers: f64,
}

/// Counts answers together.
///
/// # Errors
/// `Refusal::TooFew` below two tasters or without a taster who answered twice;
/// `Refusal::OutOfRange` for more right answers than answers.
pub fn replicated(tasters: &[TasterAnswers], method: Method) -> Result<Replicated, Refusal> {
    at_least(2, tasters.len(), "tasters", "a spread needs two")?;
    let repeated = tasters.iter().filter(|t| t.answers > 1).count();
    at_least(
        1,
        repeated,
        "tasters who answered more than once",
        "replication needs one",
    )?;
    for taster in tasters {
        if taster.right > taster.answers {
            return Err(Refusal::OutOfRange {
                of: "number of right answers",
                value: f64::from(taster.right),
                allowed: "up to the number of answers",
            });
        }
    }
    let total = |of: fn(&TasterAnswers) -> u32| {
        tasters
            .iter()
            .map(of)
            .try_fold(0_u32, u32::checked_add)
            .ok_or(Refusal::OutOfRange {
                of: "number of answers",
                value: f64::INFINITY,
                allowed: "up to 4294967295",
            })
    };
    let right = total(|t| t.right)?;
    let answers = total(|t| t.answers)?;
    let guessing = guessing_probability(right, answers, method)?;
    let (n, share) = (f64::from(answers), f64::from(right) / f64::from(answers));
    let spread = share * (1.0 - share);
    let squares = sum(tasters
        .iter()
        .map(|t| f64::from(t.answers) * f64::from(t.answers)));
    let (mut within_taster, mut tarone) = (0.0, None);
    if spread > 0.0 {
        // Weighted squares of the tasters' shares about the common one, and what they would be
        // without correlation.
        let k = tasters.len() as f64;
        let between = sum(tasters.iter().filter(|t| t.answers > 0).map(|t| {
            let own = f64::from(t.right) / f64::from(t.answers) - share;
            f64::from(t.answers) * own * own
        }));
        let mean_size = (n - squares / n) / (k - 1.0);
        let mean_square = between / (k - 1.0);
        let within = sum(tasters.iter().filter(|t| t.answers > 0).map(|t| {
            let own = f64::from(t.right) / f64::from(t.answers);
            f64::from(t.answers) * own * (1.0 - own)
        })) / (n - k).max(1.0);
        let all = mean_square + (mean_size - 1.0) * within;
        if all > 0.0 {
            within_taster = ((mean_square - within) / all).clamp(0.0, 1.0);
        }
        let statistic = sum(tasters.iter().map(|t| {
            let own = f64::from(t.right) - f64::from(t.answers) * share;
            own * own / spread
        }));
        let below = (2.0
            * sum(tasters
                .iter()
                .map(|t| f64::from(t.answers) * (f64::from(t.answers) - 1.0))))
        .sqrt();
        tarone = (below > 0.0).then(|| PValue {
            probability: normal::upper_tail((statistic - n) / below),
            side: Side::Upper,
        });
    }
    let mean_answers = squares / n;
    Ok(Replicated {
        right,
        answers,
        tasters: tasters.len(),
        guessing,
        within_taster,
        tarone,
        effective_answers: n / (1.0 + (mean_answers - 1.0) * within_taster),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn all(rows: &[(u32, u32)]) -> Vec<TasterAnswers> {
        rows.iter()
            .map(|&(right, answers)| TasterAnswers { right, answers })
            .collect()
    }

    #[test]
    fn tasters_who_tell_always_or_never_count_once_each() {
        let made = replicated(&all(&[(4, 4), (0, 4), (4, 4), (0, 4)]), Method::DuoTrio).unwrap();
        assert_eq!((made.right, made.answers, made.tasters), (8, 16, 4));
        assert!((made.within_taster - 1.0).abs() < 1e-12);
        assert!((made.effective_answers - 4.0).abs() < 1e-9);
        // Tarone: (Σ (x - n p)² / p(1-p) - N) / √(2 Σ n(n-1)) = (64 - 16) / √96.
        let z = made.tarone.unwrap().probability;
        assert!((z - normal::upper_tail(48.0 / 96.0_f64.sqrt())).abs() < 1e-15);
    }

    #[test]
    fn tasters_alike_count_every_answer() {
        let made = replicated(&all(&[(2, 4), (2, 4), (2, 4)]), Method::Triangle).unwrap();
        assert_eq!(made.within_taster, 0.0);
        assert!((made.effective_answers - 12.0).abs() < 1e-12);
        assert!(replicated(&all(&[(2, 4)]), Method::Triangle).is_err());
        assert!(replicated(&all(&[(1, 1), (0, 1)]), Method::Triangle).is_err());
        assert!(replicated(&all(&[(5, 4), (0, 4)]), Method::Triangle).is_err());
    }
}
