//! How probable are so many equal choices of two candidates who answer independently?
//!
//! Source: van der Linden & Sotaridona 2006: the number of equal choices is a sum of independent
//! events with P = Σ P_copier(k) P_source(k); its upper tail, summed as a tail, by recursion. Copier
//! and source are exchangeable. Invalid: as [`super::wollack_omega`]. Smallest: one question answered
//! by both, since the tail is exact given the parameters. Missing: a question that either left blank
//! is left out.

use crate::p_value::{PValue, Side};
use crate::refusal::{Refusal, at_least};
use crate::similarity::answer_sheets::{AnswerSheets, Pair};
use crate::similarity::nominal_response::{NominalItem, fitting};
use crate::sums::sum;

/// The generalised binomial test.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct GeneralisedBinomial {
    /// Choices that are the same.
    pub matches: usize,
    /// How many were expected.
    pub expected: f64,
    /// Probability of so many or more.
    pub p_value: PValue,
    /// Questions that both answered.
    pub questions: usize,
}

/// Compares two candidates' choices, each at an ability of their own.
///
/// # Errors
/// `Refusal::TooFew` questions, `Refusal::UnequalLengths`, `Refusal::OutOfRange`.
pub fn generalised_binomial(
    sheets: &AnswerSheets,
    pair: Pair,
    items: &[NominalItem],
    [copier_ability, source_ability]: [f64; 2],
) -> Result<GeneralisedBinomial, Refusal> {
    fitting(items, sheets.questions(), &[copier_ability, source_ability])?;
    let [copier, source] = sheets.pair(pair)?;
    let mut matches = 0;
    let mut chances = Vec::new();
    for ((own, other), item) in copier.iter().zip(source).zip(items) {
        let (Some(own), Some(other)) = (own, other) else {
            continue;
        };
        matches += usize::from(own == other);
        let (one, two) = (
            item.probabilities(copier_ability),
            item.probabilities(source_ability),
        );
        chances.push(sum(one.iter().zip(&two).map(|(a, b)| a * b)));
    }
    at_least(
        1,
        chances.len(),
        "questions answered by both",
        "there is nothing else to compare",
    )?;
    let counts = sum_of_events(&chances);
    Ok(GeneralisedBinomial {
        matches,
        expected: sum(chances.iter().copied()),
        p_value: PValue {
            probability: sum(counts.iter().skip(matches).copied()).min(1.0),
            side: Side::Upper,
        },
        questions: chances.len(),
    })
}

/// Distribution of how many of some independent events happen.
fn sum_of_events(chances: &[f64]) -> Vec<f64> {
    let mut shares = vec![1.0];
    for chance in chances {
        let stays = shares.iter().map(|share| share * (1.0 - chance));
        let rises = shares.iter().map(|share| share * chance);
        shares = stays
            .chain([0.0])
            .zip([0.0].into_iter().chain(rises))
            .map(|(stays, rises)| stays + rises)
            .collect();
    }
    shares
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::distribution::binomial;

    #[test]
    fn equal_chances_give_the_binomial_tail_and_the_pair_can_be_exchanged() {
        let coin = NominalItem::new(vec![0.0; 3], vec![0.0; 3]).unwrap();
        let sheets = AnswerSheets::new(
            vec![
                [0, 1, 2, 0, 1, 2, 0].map(Some).to_vec(),
                [0, 1, 2, 0, 2, 1, 1].map(Some).to_vec(),
            ],
            vec![0; 7],
        )
        .unwrap();
        let made = |copier, source, abilities| {
            let pair = Pair { copier, source };
            generalised_binomial(&sheets, pair, &vec![coin.clone(); 7], abilities).unwrap()
        };
        let one = made(0, 1, [0.3, -0.2]);
        let tail = binomial::upper_tail(4, 7, 1.0 / 3.0);
        assert!((one.p_value.probability - tail).abs() < 1e-14);
        assert_eq!(one, made(1, 0, [-0.2, 0.3]));
    }
}
