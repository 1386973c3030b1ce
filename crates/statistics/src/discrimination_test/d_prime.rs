//! How far apart are two samples, by the share of right answers?
//!
//! Source: the psychometric function of the method turned round (Brockhoff & Christensen 2010);
//! limits by Wilson's interval of the share, turned round likewise. At or below guessing d′ is 0.
//! Invalid: all answers right (d′ is infinite: refused; the interval's lower limit still holds, use
//! one right answer less); several answers of one taster.

use crate::descriptive::proportion::proportion;
use crate::discrimination_test::method::Method;
use crate::halving::last_place;
use crate::interval::{Confidence, Interval};
use crate::refusal::{Refusal, at_least};

/// The distance of two samples.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct DPrime {
    /// The distance, in standard deviations of perception.
    pub d_prime: f64,
    /// Its standard error, by the slope of the method's curve (Brockhoff & Christensen 2010); none at
    /// or below guessing, where the curve is flat.
    pub standard_error: Option<f64>,
    /// Its limits.
    pub interval: Interval,
    /// Share of right answers.
    pub share_correct: f64,
    /// Number of answers.
    pub n: usize,
}

/// The distance from right answers.
///
/// # Errors
/// `Refusal::TooFew` for no answers, `Refusal::OutOfRange` for more right answers than answers,
/// `Refusal::NotDefined` when all are right.
pub fn d_prime(
    right: usize,
    answers: usize,
    method: Method,
    confidence: Confidence,
) -> Result<DPrime, Refusal> {
    at_least(1, answers, "answers", "a share needs one")?;
    let share = proportion(right, answers, confidence)?;
    if right == answers {
        return Err(Refusal::NotDefined {
            of: "d-prime",
            because: "all answers are right",
        });
    }
    let d_prime = distance(share.share, method);
    // Half a thousandth to either side: the curve is smooth and known to ten digits.
    let step = 0.0005;
    let slope = (method.share_correct(d_prime + step) - method.share_correct(d_prime - step))
        / (2.0 * step);
    let spread = (share.share * (1.0 - share.share) / answers as f64).sqrt();
    Ok(DPrime {
        d_prime,
        standard_error: (d_prime > step && slope > 0.0).then(|| spread / slope),
        interval: Interval {
            lower: distance(share.interval.lower, method),
            upper: distance(share.interval.upper, method),
            ..share.interval
        },
        share_correct: share.share,
        n: answers,
    })
}

/// The distance at which a share correct below 1 is expected; 0 at or below guessing.
fn distance(share: f64, method: Method) -> f64 {
    if share <= method.guess() {
        return 0.0;
    }
    let mut high = 1.0;
    while method.share_correct(high) < share && high < 64.0 {
        high *= 2.0;
    }
    last_place(|d| method.share_correct(d) < share, 0.0, high)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn there_and_back() {
        for method in Method::ALL {
            let share = method.share_correct(1.3);
            assert!((distance(share, method) - 1.3).abs() < 1e-9, "{method:?}");
        }
        let none = d_prime(3, 12, Method::Triangle, Confidence::P95).unwrap();
        assert_eq!(none.d_prime, 0.0);
        assert!(none.interval.upper > 0.0);
        assert!(d_prime(12, 12, Method::Triangle, Confidence::P95).is_err());
        assert_eq!(none.standard_error, None);
    }

    #[test]
    fn the_standard_error_of_two_choices_is_the_known_one() {
        // d = √2 z(p), so its standard error is √2 √(p(1-p)/n) / φ(z(p)).
        let made = d_prime(60, 80, Method::TwoChoice, Confidence::P95).unwrap();
        let height = crate::distribution::normal::density(made.d_prime / 2.0_f64.sqrt());
        let known = 2.0_f64.sqrt() * (0.75 * 0.25 / 80.0_f64).sqrt() / height;
        assert!((made.standard_error.unwrap() - known).abs() < 1e-5);
    }
}
