//! How are the candidates' true shares spread, as a beta distribution between two limits?
//!
//! Source: Hanson 1991; Lord 1965: the beta distribution on l to u that has the first four moments
//! of the true shares. Where four moments give no such distribution inside 0 to 1, the two-parameter
//! one (l = 0, u = 1) with the first two moments is used, and the result says so. Invalid: with few
//! candidates the third and fourth moment are mostly noise; resample to see how far it matters.

use crate::distribution::beta;
use crate::refusal::Refusal;

/// The distribution of true shares.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct FourParameterBeta {
    /// Lower limit of the true shares.
    pub lower: f64,
    /// Upper limit.
    pub upper: f64,
    /// First shape.
    pub alpha: f64,
    /// Second shape.
    pub beta: f64,
    /// How many moments were matched.
    pub moments: MomentsMatched,
}

/// How many moments were matched.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
pub enum MomentsMatched {
    /// Mean, variance, skewness, kurtosis.
    Four,
    /// Mean and variance on 0 to 1.
    Two,
    /// None: the parameters were given.
    Given,
}

/// A piece of the distribution: a share, and the probability around it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Piece {
    pub(crate) share: f64,
    pub(crate) probability: f64,
}

impl FourParameterBeta {
    /// A distribution with given parameters.
    ///
    /// # Errors
    /// `Refusal::OutOfRange` unless 0 <= lower < upper <= 1 and both shapes are above 0.
    pub fn given(lower: f64, upper: f64, alpha: f64, beta: f64) -> Result<Self, Refusal> {
        Self::checked(lower, upper, alpha, beta, MomentsMatched::Given)
    }

    fn checked(
        lower: f64,
        upper: f64,
        alpha: f64,
        beta: f64,
        moments: MomentsMatched,
    ) -> Result<Self, Refusal> {
        if !(lower >= 0.0 && lower < upper && upper <= 1.0) {
            return Err(Refusal::OutOfRange {
                of: "lower limit of true shares",
                value: lower,
                allowed: "0 or more, below an upper limit of at most 1",
            });
        }
        for shape in [alpha, beta] {
            if !(shape > 0.0 && shape.is_finite()) {
                return Err(Refusal::OutOfRange {
                    of: "shape of the beta distribution",
                    value: shape,
                    allowed: "above 0",
                });
            }
        }
        Ok(Self {
            lower,
            upper,
            alpha,
            beta,
            moments,
        })
    }

    /// The distribution with these first four moments about 0 of the true shares.
    ///
    /// # Errors
    /// `Refusal::NotDefined` when not even two moments give a distribution.
    pub fn from_moments(moments: [f64; 4]) -> Result<Self, Refusal> {
        let [first, second, third, fourth] = moments;
        let square = first * first;
        let variance = second - square;
        if !(variance > 0.0 && first > 0.0 && first < 1.0) {
            return Err(Refusal::NotDefined {
                of: "the distribution of true shares",
                because: "the true shares do not vary",
            });
        }
        let about_third = third - 3.0 * first * second + 2.0 * square * first;
        let about_fourth =
            fourth - 4.0 * first * third + 6.0 * square * second - 3.0 * square * square;
        let skew = about_third / (variance * variance.sqrt());
        let kurtosis = about_fourth / (variance * variance);
        if let Ok(four) = Self::with_four(first, variance, skew, kurtosis) {
            return Ok(four);
        }
        let shapes = first * (1.0 - first) / variance - 1.0;
        Self::checked(
            0.0,
            1.0,
            first * shapes,
            (1.0 - first) * shapes,
            MomentsMatched::Two,
        )
        .map_err(|_| Refusal::NotDefined {
            of: "the distribution of true shares",
            because: "the true shares would vary more than shares can",
        })
    }

    fn with_four(mean: f64, variance: f64, skew: f64, kurtosis: f64) -> Result<Self, Refusal> {
        let square = skew * skew;
        let both = 6.0 * (kurtosis - square - 1.0) / (6.0 + 3.0 * square - 2.0 * kurtosis);
        let lean = (both + 2.0)
            * (square / ((both + 2.0) * (both + 2.0) * square + 16.0 * (both + 1.0))).sqrt();
        // A negative skew has the larger shape first.
        let alpha = both / 2.0 * (1.0 - lean.copysign(skew));
        let beta = both / 2.0 * (1.0 + lean.copysign(skew));
        let span =
            variance.sqrt() * (alpha + beta) * (alpha + beta + 1.0).sqrt() / (alpha * beta).sqrt();
        let lower = mean - span * alpha / (alpha + beta);
        Self::checked(lower, lower + span, alpha, beta, MomentsMatched::Four)
    }

    /// Cuts the distribution into pieces for adding up over it; one boundary lies at `cut`, so that
    /// no piece is on both sides of it. Probabilities come from the distribution's own tails.
    pub(crate) fn pieces(&self, cut: f64) -> Vec<Piece> {
        const PIECES: u32 = 4000;
        let span = self.upper - self.lower;
        let inside = ((cut - self.lower) / span).clamp(0.0, 1.0);
        let mut bounds: Vec<f64> = (0..=PIECES)
            .map(|step| f64::from(step) / f64::from(PIECES))
            .collect();
        bounds.push(inside);
        bounds.sort_by(f64::total_cmp);
        bounds.dedup();
        let below: Vec<f64> = bounds
            .iter()
            .map(|x| beta::lower_tail(*x, self.alpha, self.beta))
            .collect();
        bounds
            .windows(2)
            .zip(below.windows(2))
            .filter_map(|(x, p)| match (x, p) {
                ([left, right], [low, high]) => Some(Piece {
                    share: self.lower + span * f64::midpoint(*left, *right),
                    probability: high - low,
                }),
                _ => None,
            })
            .collect()
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn gives_back_the_distribution_whose_moments_it_gets() {
        let made = FourParameterBeta::given(0.2, 0.9, 2.0, 3.0).unwrap();
        let moment = |power: f64| -> f64 {
            let pieces = made.pieces(0.5);
            pieces
                .iter()
                .map(|piece| piece.probability * libm::pow(piece.share, power))
                .sum()
        };
        let moments = [moment(1.0), moment(2.0), moment(3.0), moment(4.0)];
        assert!((moments[0] - (0.2 + 0.7 * 0.4)).abs() < 1e-7);
        let back = FourParameterBeta::from_moments(moments).unwrap();
        assert_eq!(back.moments, MomentsMatched::Four);
        assert!((back.lower - 0.2).abs() < 1e-3 && (back.upper - 0.9).abs() < 1e-3);
        assert!((back.alpha - 2.0).abs() < 2e-2 && (back.beta - 3.0).abs() < 2e-2);
    }

    #[test]
    fn falls_back_to_two_moments_and_says_so() {
        // Moments of a two-point distribution cannot be had from a beta inside 0 to 1.
        let made = FourParameterBeta::from_moments([0.5, 0.3, 0.21, 0.16]).unwrap();
        assert_eq!(made.moments, MomentsMatched::Two);
        assert!(FourParameterBeta::from_moments([0.5, 0.25, 0.125, 0.0625]).is_err());
    }
}
