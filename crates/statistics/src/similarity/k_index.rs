//! Does one candidate share more wrong choices with another than those who did as well?
//!
//! Source: Holland 1996; Sotaridona & Meijer 2002: among all with the copier's number of wrong
//! answers, the copier included, the mean share p of the source's wrong choices; then the upper
//! binomial tail at p of the choices that the copier shares. Invalid: groups of few, where p is
//! uncertain and the copier is a large part of it: below 10 see [`super::regressed_k_index`] (common
//! practice, no source). Smallest: a group of two. Missing: a blank is wrong and shared with nobody.

use crate::distribution::binomial;
use crate::p_value::{PValue, Side};
use crate::refusal::{Refusal, at_least};
use crate::similarity::answer_sheets::{AnswerSheets, Pair};

/// An index of shared wrong choices.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct KIndex {
    /// Probability of so many shared wrong choices or more.
    pub p_value: PValue,
    /// Wrong choices that are shared.
    pub shared: usize,
    /// Wrong answers of the source.
    pub source_wrong: usize,
    /// Share of the source's wrong choices expected of the copier.
    pub expected_share: f64,
    /// Candidates with the copier's number of wrong answers.
    pub group: usize,
}

/// The K index of a pair.
///
/// # Errors
/// `Refusal::OutOfRange` for the pair; `Refusal::NotDefined` when the source has no wrong answer;
/// `Refusal::TooFew` when nobody else has as many wrong answers as the copier.
pub fn k_index(sheets: &AnswerSheets, pair: Pair) -> Result<KIndex, Refusal> {
    let shared = sheets.shared_wrong(pair)?;
    let [_, source] = sheets.pair(pair)?;
    let group = sheets
        .groups(source, |_| true)
        .into_iter()
        .find(|group| group.wrong == shared.copier_wrong);
    let size = group.map_or(0, |group| group.size);
    at_least(
        2,
        size,
        "candidates with as many wrong answers",
        "the copier alone is no comparison",
    )?;
    let expected_share = group.map_or(0.0, |group| group.mean_shared) / shared.source_wrong as f64;
    Ok(KIndex {
        p_value: tail(shared.shared, shared.source_wrong, expected_share),
        shared: shared.shared,
        source_wrong: shared.source_wrong,
        expected_share,
        group: size,
    })
}

/// Upper binomial tail of the shared wrong choices.
pub(crate) fn tail(shared: usize, source_wrong: usize, share: f64) -> PValue {
    // Numbers of questions fit by far.
    let count = |number: usize| u32::try_from(number).unwrap_or(u32::MAX);
    PValue {
        probability: binomial::upper_tail(count(shared), count(source_wrong), share),
        side: Side::Upper,
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::similarity::answer_sheets::tests::sheets;

    #[test]
    fn a_small_room_by_hand() {
        // Copier 0 and source 1: three wrong choices shared, four wrong of the source. Three others
        // have three wrong answers too: candidates 3, 5 and 6 share 0, 2 and 1 of the source's.
        let pair = Pair {
            copier: 0,
            source: 1,
        };
        let made = k_index(&sheets(), pair).unwrap();
        assert_eq!((made.shared, made.source_wrong, made.group), (3, 4, 4));
        assert!((made.expected_share - 6.0 / 16.0).abs() < 1e-15);
        let p: f64 = 6.0 / 16.0;
        let expected = 4.0 * p * p * p * (1.0 - p) + p * p * p * p;
        assert!((made.p_value.probability - expected).abs() < 1e-14);
    }

    #[test]
    fn a_copier_alone_in_the_group_is_refused() {
        // Candidate 1 alone has four wrong answers.
        let pair = Pair {
            copier: 1,
            source: 0,
        };
        assert!(matches!(
            k_index(&sheets(), pair),
            Err(Refusal::TooFew { have: 1, .. })
        ));
    }
}
