//! How sure are passes and fails, once it is known how a true share leads to a score?
//!
//! Source: definitions as in Livingston & Lewis 1995 and Hanson & Brennan 1990: with P(τ) the
//! probability of passing at true share τ, agreement p = E[P² + (1−P)²], by chance p_c from the mean
//! P, kappa (p−p_c)/(1−p_c), accuracy against the true cut. Invalid: as the model behind P(τ).

use crate::decision::four_parameter_beta::FourParameterBeta;
use crate::sums::sum;

/// Decisions at a cut.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct DecisionFigures {
    /// Share of the same decisions on a second sitting.
    pub agreement: f64,
    /// What chance alone would give.
    pub by_chance: f64,
    /// Agreement beyond chance.
    pub kappa: f64,
    /// Share of decisions that fit the true share.
    pub accuracy: f64,
    /// Share of candidates who pass with a true share below the cut.
    pub wrongly_passed: f64,
    /// Share of candidates who fail with a true share at or above the cut.
    pub wrongly_failed: f64,
}

/// Adds up over the true shares; `passes` gives P(τ).
pub(crate) fn decision_figures(
    true_shares: &FourParameterBeta,
    true_cut: f64,
    passes: impl Fn(f64) -> f64,
) -> DecisionFigures {
    let pieces: Vec<(f64, f64, f64)> = true_shares
        .pieces(true_cut)
        .iter()
        .map(|piece| (piece.share, piece.probability, passes(piece.share)))
        .collect();
    let agreement = sum(pieces
        .iter()
        .map(|(_, weight, pass)| weight * (pass * pass + (1.0 - pass) * (1.0 - pass))));
    let pass_rate = sum(pieces.iter().map(|(_, weight, pass)| weight * pass));
    let by_chance = pass_rate * pass_rate + (1.0 - pass_rate) * (1.0 - pass_rate);
    let wrongly_passed = sum(pieces
        .iter()
        .filter(|(share, _, _)| *share < true_cut)
        .map(|(_, weight, pass)| weight * pass));
    let wrongly_failed = sum(pieces
        .iter()
        .filter(|(share, _, _)| *share >= true_cut)
        .map(|(_, weight, pass)| weight * (1.0 - pass)));
    DecisionFigures {
        agreement,
        by_chance,
        kappa: kappa(agreement, by_chance),
        accuracy: 1.0 - wrongly_passed - wrongly_failed,
        wrongly_passed,
        wrongly_failed,
    }
}

/// Agreement beyond chance; 0 where everybody passes (or fails) and there is nothing beyond.
pub(crate) fn kappa(agreement: f64, by_chance: f64) -> f64 {
    if 1.0 - by_chance < 1e-12 {
        0.0
    } else {
        (agreement - by_chance) / (1.0 - by_chance)
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn exact_scores_make_no_wrong_decision_and_coins_make_half() {
        let shares = FourParameterBeta::given(0.0, 1.0, 2.0, 2.0).unwrap();
        let exact = decision_figures(&shares, 0.6, |share| if share >= 0.6 { 1.0 } else { 0.0 });
        assert!((exact.accuracy - 1.0).abs() < 1e-14 && (exact.kappa - 1.0).abs() < 1e-12);
        let coins = decision_figures(&shares, 0.5, |_| 0.5);
        assert!((coins.accuracy - 0.5).abs() < 1e-12 && coins.kappa.abs() < 1e-12);
        assert!((coins.wrongly_passed - 0.25).abs() < 1e-12);
    }
}
