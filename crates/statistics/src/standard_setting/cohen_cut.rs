//! Which cut follows from what the best of this class could do?
//!
//! Source: Cohen-Schotanus & van der Vleuten 2010, Medical Teacher 32, 154-160: 60 per cent of the way
//! from the guessing score to the score of the candidate at the 95th per cent, guessing + share ×
//! (P95 − guessing); Taylor 2011, Medical Teacher 33, 678-682, takes the 90th. Both the per cent and the
//! share are the examiner's to name. The error is resampled over candidates. Invalid: a class whose
//! best are not as good as other years' (the cut sinks with them). Smallest: 20 candidates, below
//! which no candidate lies above the 95th per cent (our reckoning), and 100 for a steady cut (common
//! practice, no source). Ties: none. Missing: leave out.

use crate::bootstrap::{Bootstrap, bootstrap};
use crate::descriptive::quantile::quantile;
use crate::interval::Confidence;
use crate::random_input::RandomInput;
use crate::refusal::{Refusal, at_least};

/// How the cut is taken.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CohenRule {
    /// The share of candidates below the score that stands for the best; .95 in the source.
    pub best: f64,
    /// The share of the way from guessing to there; .60 in the source.
    pub way: f64,
    /// The marks that guessing yields; 0 where there is no guessing.
    pub guessing: f64,
}

/// The cut with its error.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct CohenCut {
    /// In marks.
    pub cut: f64,
    /// The score that stands for the best.
    pub best: f64,
    /// Limits over classes of the same kind.
    pub resampled: Bootstrap,
}

/// Cohen's cut of these scores.
///
/// # Errors
/// `Refusal::TooFew` below 20 candidates, `Refusal::OutOfRange` for shares outside 0 to 1,
/// `Refusal::NotDefined` where the best do no better than guessing.
pub fn cohen_cut(
    scores: &[f64],
    rule: CohenRule,
    confidence: Confidence,
    random: &mut dyn RandomInput,
) -> Result<CohenCut, Refusal> {
    at_least(
        20,
        scores.len(),
        "candidates",
        "fewer have nobody above the 95th per cent",
    )?;
    for (of, value) in [
        ("share of candidates", rule.best),
        ("share of the way", rule.way),
    ] {
        if !(0.0..=1.0).contains(&value) {
            return Err(Refusal::OutOfRange {
                of,
                value,
                allowed: "0 to 1",
            });
        }
    }
    if let Some(place) = scores.iter().position(|score| !score.is_finite()) {
        return Err(Refusal::NotANumber {
            row: place,
            column: 0,
        });
    }
    let best = quantile(scores, rule.best)?;
    if rule.guessing.is_nan() || best <= rule.guessing {
        return Err(Refusal::NotDefined {
            of: "Cohen's cut",
            because: "the best do no better than guessing",
        });
    }
    let at = |best: f64| rule.guessing + rule.way * (best - rule.guessing);
    let resampled = bootstrap(scores.len(), 1_000, confidence, random, &|places| {
        let drawn: Vec<f64> = places
            .iter()
            .filter_map(|p| scores.get(*p).copied())
            .collect();
        Ok(at(quantile(&drawn, rule.best)?))
    })?;
    Ok(CohenCut {
        cut: at(best),
        best,
        resampled,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::random_input::tests::Numbers;

    const RULE: CohenRule = CohenRule {
        best: 0.95,
        way: 0.6,
        guessing: 10.0,
    };

    #[test]
    fn sixty_per_cent_of_the_way_by_hand() {
        // 21 scores from 20 to 40: the 95th per cent is the twentieth, 39.
        let scores: Vec<f64> = (20..=40).map(f64::from).collect();
        let made = cohen_cut(&scores, RULE, Confidence::P95, &mut Numbers(5)).unwrap();
        assert!((made.best - 39.0).abs() < 1e-12 && (made.cut - 27.4).abs() < 1e-12);
        let limits = made.resampled.interval;
        assert!(limits.lower < made.cut && limits.upper <= 28.0 && limits.upper >= made.cut);
        // Marks that all count twice move the cut twice as far.
        let twice: Vec<f64> = scores.iter().map(|score| score * 2.0).collect();
        let rule = CohenRule {
            guessing: 20.0,
            ..RULE
        };
        let other = cohen_cut(&twice, rule, Confidence::P95, &mut Numbers(5)).unwrap();
        assert!((other.cut - 2.0 * made.cut).abs() < 1e-12);
    }

    #[test]
    fn few_candidates_and_a_class_of_guessers_are_refused() {
        let mut numbers = Numbers(5);
        let few: Vec<f64> = (0..19).map(f64::from).collect();
        assert!(cohen_cut(&few, RULE, Confidence::P95, &mut numbers).is_err());
        let weak = vec![9.0; 30];
        assert!(matches!(
            cohen_cut(&weak, RULE, Confidence::P95, &mut numbers),
            Err(Refusal::NotDefined { .. })
        ));
    }
}
