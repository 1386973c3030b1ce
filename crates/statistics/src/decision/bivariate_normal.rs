//! How consistent would passes and fails be for a reliability and a cut, before anybody sat?
//!
//! Source: Peng & Subkoviak 1980; Subkoviak 1988: two sittings as a bivariate normal with the
//! reliability as correlation and the cut at z = (cut − ½ − M)/s; both below z has probability
//! Φ(z) − 2 T(z, √((1−ρ)/(1+ρ))), T of Owen 1956, so agreement is 1 − 4 T. Invalid: scores far from
//! normal, short tests.

use crate::decision::decision_figures::kappa;
use crate::distribution::normal;
use crate::refusal::Refusal;
use crate::sums::sum;
use std::f64::consts::PI;

/// Decision consistency under normal scores.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct NormalConsistency {
    /// Share of the same decisions on a second sitting.
    pub agreement: f64,
    /// Agreement beyond chance.
    pub kappa: f64,
}

/// Decision consistency at a standardised cut.
///
/// # Errors
/// `Refusal::OutOfRange` for a reliability outside 0 to 1 or a cut that is no number.
pub fn normal_consistency(
    standardised_cut: f64,
    reliability: f64,
) -> Result<NormalConsistency, Refusal> {
    if !(0.0..=1.0).contains(&reliability) {
        return Err(Refusal::OutOfRange {
            of: "reliability",
            value: reliability,
            allowed: "0 to 1",
        });
    }
    if standardised_cut.is_nan() {
        return Err(Refusal::OutOfRange {
            of: "standardised cut",
            value: standardised_cut,
            allowed: "a number",
        });
    }
    let width = ((1.0 - reliability) / (1.0 + reliability)).sqrt();
    let agreement = 1.0 - 4.0 * owen_t(standardised_cut, width);
    let (pass, fail) = (
        normal::upper_tail(standardised_cut),
        normal::lower_tail(standardised_cut),
    );
    Ok(NormalConsistency {
        agreement,
        kappa: kappa(agreement, pass * pass + fail * fail),
    })
}

/// Owen's T for widths up to 1, by Simpson's rule on a smooth integrand.
fn owen_t(height: f64, width: f64) -> f64 {
    const PANELS: u32 = 400;
    let step = width / f64::from(PANELS);
    let terms = (0..=PANELS).map(|place| {
        let x = f64::from(place) * step;
        let square = 1.0 + x * x;
        let weight = match place {
            0 | PANELS => 1.0,
            inner if inner % 2 == 1 => 4.0,
            _ => 2.0,
        };
        weight * libm::exp(-0.5 * height * height * square) / square
    });
    sum(terms) * step / 3.0 / (2.0 * PI)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn the_ends_of_reliability() {
        let none = normal_consistency(0.7, 0.0).unwrap();
        assert!(none.kappa.abs() < 1e-10, "independent sittings: {none:?}");
        let full = normal_consistency(0.7, 1.0).unwrap();
        assert_eq!(full.agreement, 1.0);
        // Sheppard: at the mean, 1/2 + arcsin(ρ)/π.
        let half = normal_consistency(0.0, 0.6).unwrap();
        assert!((half.agreement - (0.5 + libm::asin(0.6) / PI)).abs() < 1e-12);
        assert!(normal_consistency(0.0, 1.1).is_err());
    }
}
