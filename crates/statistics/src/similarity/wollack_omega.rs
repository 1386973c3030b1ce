//! Does one candidate share more choices with another than ability explains?
//!
//! Source: Wollack 1997: ω = (matches − Σ P)/√Σ P(1 − P), P the probability that the copier at the
//! copier's ability makes the source's choice. The source's choices are taken as they are, so copier
//! and source are not exchangeable. Invalid: parameters or abilities from few candidates (some
//! hundreds are wanted; common practice, no source); many pairs looked at without
//! [`super::many_pairs`]. Smallest: 10 questions answered by both (common practice, no source), since
//! the normal tail is used. Missing: a question that either left blank is left out.

use crate::distribution::normal;
use crate::p_value::{PValue, Side};
use crate::refusal::{Refusal, at_least};
use crate::similarity::answer_sheets::{AnswerSheets, Pair};
use crate::similarity::nominal_response::{NominalItem, fitting};

/// Wollack's index.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct WollackOmega {
    /// The index.
    pub omega: f64,
    /// Choices that are the same.
    pub matches: usize,
    /// How many were expected.
    pub expected: f64,
    /// Standard deviation of that number.
    pub deviation: f64,
    /// Probability of an index so large or larger.
    pub p_value: PValue,
    /// Questions that both answered.
    pub questions: usize,
}

/// Compares a copier's choices with a source's, at the copier's ability.
///
/// # Errors
/// `Refusal::TooFew` questions, `Refusal::UnequalLengths`, `Refusal::OutOfRange`,
/// `Refusal::NotDefined` when the parameters leave no doubt about any choice.
pub fn wollack_omega(
    sheets: &AnswerSheets,
    pair: Pair,
    items: &[NominalItem],
    copier_ability: f64,
) -> Result<WollackOmega, Refusal> {
    fitting(items, sheets.questions(), &[copier_ability])?;
    let [copier, source] = sheets.pair(pair)?;
    let (mut matches, mut questions) = (0, 0);
    let (mut expected, mut variance) = (0.0, 0.0);
    for ((own, other), item) in copier.iter().zip(source).zip(items) {
        let (Some(own), Some(other)) = (own, other) else {
            continue;
        };
        let chance = item.probability(*other, copier_ability)?;
        questions += 1;
        matches += usize::from(own == other);
        expected += chance;
        variance += chance * (1.0 - chance);
    }
    at_least(
        10,
        questions,
        "questions answered by both",
        "a normal tail; common practice, no source",
    )?;
    if variance <= 0.0 {
        return Err(Refusal::NotDefined {
            of: "omega",
            because: "the parameters leave no doubt about any choice",
        });
    }
    let deviation = variance.sqrt();
    let omega = (matches as f64 - expected) / deviation;
    Ok(WollackOmega {
        omega,
        matches,
        expected,
        deviation,
        p_value: PValue {
            probability: normal::upper_tail(omega),
            side: Side::Upper,
        },
        questions,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn pair(blank: bool) -> Result<WollackOmega, Refusal> {
        let same: Vec<Option<usize>> = (0..12).map(|place| Some(place % 2)).collect();
        let mut own = same.clone();
        if blank {
            own[..3].fill(None);
        }
        let sheets = AnswerSheets::new(vec![own, same], vec![0; 12]).unwrap();
        let coin = NominalItem::new(vec![0.0, 0.0], vec![0.0, 0.0]).unwrap();
        let pair = Pair {
            copier: 0,
            source: 1,
        };
        wollack_omega(&sheets, pair, &vec![coin; 12], 0.0)
    }

    #[test]
    fn twelve_equal_tosses_are_six_above_six_expected() {
        let made = pair(false).unwrap();
        assert!((made.expected - 6.0).abs() < 1e-15);
        assert!((made.omega - 6.0 / 3.0_f64.sqrt()).abs() < 1e-14);
    }

    #[test]
    fn too_few_answered_questions_are_refused() {
        assert!(matches!(
            pair(true),
            Err(Refusal::TooFew {
                have: 9,
                need: 10,
                ..
            })
        ));
    }
}
