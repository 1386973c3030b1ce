//! Shared wrong choices against a Poisson mean from all groups.
//!
//! Source: Sotaridona & Meijer 2003, S₁: the groups' mean numbers of wrong choices shared with the
//! source, log-linear in their number of wrong answers, each group counting once and the source left
//! out; then the Poisson tail from the choices that the copier shares up to the source's number of
//! wrong answers. Invalid: as [`super::regressed_k_index`]. Smallest: three groups. Missing: a blank
//! is wrong and shared with nobody.

use crate::p_value::{PValue, Side};
use crate::refusal::{Refusal, at_least};
use crate::similarity::answer_sheets::{AnswerSheets, Pair};
use crate::similarity::log_linear_mean::log_linear_mean;
use crate::sums::sum;

/// The S₁ index.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct SharedWrongPoisson {
    /// Probability of so many shared wrong choices or more.
    pub p_value: PValue,
    /// Wrong choices that are shared.
    pub shared: usize,
    /// Expected number of them.
    pub expected: f64,
    /// Different numbers of wrong answers that the regression rests on.
    pub groups: usize,
}

/// S₁ of a pair.
///
/// # Errors
/// `Refusal::OutOfRange` for the pair; `Refusal::NotDefined` when the source has no wrong answer or
/// nobody shares one; `Refusal::TooFew` groups; `Refusal::NotSettled`.
pub fn shared_wrong_poisson(
    sheets: &AnswerSheets,
    pair: Pair,
) -> Result<SharedWrongPoisson, Refusal> {
    let shared = sheets.shared_wrong(pair)?;
    let [_, source] = sheets.pair(pair)?;
    let groups = sheets.groups(source, |place| place != pair.source);
    at_least(
        3,
        groups.len(),
        "different numbers of wrong answers",
        "a regression needs more points than coefficients",
    )?;
    let wrong: Vec<f64> = groups.iter().map(|group| group.wrong as f64).collect();
    let means: Vec<f64> = groups.iter().map(|group| group.mean_shared).collect();
    let [first, second] = log_linear_mean(&wrong, &means)?;
    let log_mean = first + second * shared.copier_wrong as f64;
    let expected = libm::exp(log_mean);
    let tail = sum((shared.shared..=shared.source_wrong).map(|count| {
        let count = count as f64;
        libm::exp(count * log_mean - expected - libm::lgamma(count + 1.0))
    }));
    Ok(SharedWrongPoisson {
        p_value: PValue {
            probability: tail.min(1.0),
            side: Side::Upper,
        },
        shared: shared.shared,
        expected,
        groups: groups.len(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::similarity::answer_sheets::tests::sheets;

    #[test]
    fn more_shared_choices_are_less_probable() {
        let made = |copier| {
            let pair = Pair { copier, source: 1 };
            shared_wrong_poisson(&sheets(), pair).unwrap()
        };
        // Candidates 0 and 3 have three wrong answers each, of which 3 and 0 are the source's.
        let (many, none) = (made(0), made(3));
        assert!((many.expected - none.expected).abs() < 1e-12);
        assert!(many.p_value.probability < none.p_value.probability);
        // From 0 to 4 of a Poisson number nearly everything is counted.
        assert!(none.p_value.probability > 0.9 && none.p_value.probability <= 1.0);
    }
}
