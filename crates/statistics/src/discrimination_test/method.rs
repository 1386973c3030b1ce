//! The forced-choice methods: chance of guessing, and share correct at a distance d′.
//!
//! Sources: Ennis 1993; Brockhoff & Christensen 2010; tables of Frijters, Kooistra & Vereijken 1980.
//! 2-AFC Φ(d/√2); duo-trio 1 − Φ(d/√2) − Φ(d/√6) + 2Φ(d/√2)Φ(d/√6); 3-AFC ∫φ(z−d)Φ(z)²dz; triangle
//! 2∫₀^∞[Φ(−z√3 + d√⅔) + Φ(−z√3 − d√⅔)]φ(z)dz; tetrad 1 − 2∫φ(z)[2Φ(z)Φ(z−d) − Φ(z−d)²]dz. Invalid: for tasters who
//! differ much from each other, who remember the samples, or who use another rule of choice.

use crate::distribution::normal::{density, lower_tail};
use crate::refusal::Refusal;
use crate::sums::sum;

/// A method of asking.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
pub enum Method {
    /// Which of two is stronger in a named way?
    TwoChoice,
    /// Which of two is like the reference?
    DuoTrio,
    /// Which of three is stronger in a named way?
    ThreeChoice,
    /// Which of three is the odd one?
    Triangle,
    /// Sort four into two pairs.
    Tetrad,
}

impl Method {
    /// Every method.
    pub const ALL: [Self; 5] = [
        Self::TwoChoice,
        Self::DuoTrio,
        Self::ThreeChoice,
        Self::Triangle,
        Self::Tetrad,
    ];

    /// Share correct by guessing.
    #[must_use]
    pub const fn guess(self) -> f64 {
        match self {
            Self::TwoChoice | Self::DuoTrio => 0.5,
            Self::ThreeChoice | Self::Triangle | Self::Tetrad => 1.0 / 3.0,
        }
    }

    /// Share correct of tasters for whom the samples lie `d_prime` apart; below 0 counts as 0.
    #[must_use]
    pub fn share_correct(self, d_prime: f64) -> f64 {
        let d = d_prime.max(0.0);
        match self {
            Self::TwoChoice => lower_tail(d / 2.0_f64.sqrt()),
            Self::DuoTrio => {
                let (near, far) = (
                    lower_tail(d / 2.0_f64.sqrt()),
                    lower_tail(d / 6.0_f64.sqrt()),
                );
                1.0 - near - far + 2.0 * near * far
            }
            Self::ThreeChoice => integral(-REACH, REACH + d, |z| {
                let below = lower_tail(z);
                density(z - d) * below * below
            }),
            Self::Triangle => {
                let (scale, shift) = (3.0_f64.sqrt(), d * (2.0_f64 / 3.0).sqrt());
                2.0 * integral(0.0, REACH, |z| {
                    (lower_tail(shift - z * scale) + lower_tail(-shift - z * scale)) * density(z)
                })
            }
            Self::Tetrad => {
                1.0 - 2.0
                    * integral(-REACH, REACH, |z| {
                        let (own, other) = (lower_tail(z), lower_tail(z - d));
                        density(z) * (2.0 * own * other - other * other)
                    })
            }
        }
    }

    /// Share correct when a share `discriminators` of tasters always tell and the rest guess.
    ///
    /// # Errors
    /// `Refusal::OutOfRange` outside 0 to 1.
    pub fn share_correct_with_discriminators(self, discriminators: f64) -> Result<f64, Refusal> {
        if (0.0..=1.0).contains(&discriminators) {
            Ok(self.guess() + discriminators * (1.0 - self.guess()))
        } else {
            Err(Refusal::OutOfRange {
                of: "share of discriminators",
                value: discriminators,
                allowed: "0 to 1",
            })
        }
    }
}

/// Beyond nine standard deviations nothing is left to add.
const REACH: f64 = 9.0;

/// Simpson's rule in fixed order.
fn integral(from: f64, to: f64, height: impl Fn(f64) -> f64) -> f64 {
    const PANELS: u32 = 1200;
    let step = (to - from) / f64::from(PANELS);
    let terms = (0..=PANELS).map(|place| {
        let weight = match place {
            0 | PANELS => 1.0,
            inner if inner % 2 == 1 => 4.0,
            _ => 2.0,
        };
        weight * height(from + f64::from(place) * step)
    });
    sum(terms) * step / 3.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_distance_is_guessing_and_a_great_one_is_certainty() {
        for method in Method::ALL {
            assert!(
                (method.share_correct(0.0) - method.guess()).abs() < 1e-9,
                "{method:?}"
            );
            assert!(method.share_correct(30.0) > 0.999_999, "{method:?}");
            let mut before = method.guess() - 1e-9;
            for step in 0..20 {
                let here = method.share_correct(f64::from(step) * 0.25);
                assert!(here > before, "{method:?} at step {step}");
                before = here;
            }
        }
    }
}
