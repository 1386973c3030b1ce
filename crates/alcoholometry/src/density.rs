//! What is the density of a mixture of ethanol and water at a temperature?
//!
//! Source: OIML R 22:1975, International alcoholometric tables, general formula; coefficients as in
//! Council Directive 76/766/EEC, Annex (OJ L 262, 27.9.1976, p. 149):
//! ρ(p, t) = Σ Aₖ pᵏ⁻¹ + Σ Bₖ (t−20)ᵏ + Σᵢ Σₖ Cᵢₖ pᵏ (t−20)ⁱ, with p the mass fraction, t in °C, ρ in kg/m³.
//! Invalid: below −20 °C and above 40 °C (refused); where the mixture is frozen the formula gives
//! the density of a liquid that is not there; a spirit with much sugar or extract is denser than
//! the formula says, and its strength is then not to be had from its density without distilling.

use crate::problem::Problem;
use crate::quantities::{Celsius, Density, MassFraction, VolumePercent};
use crate::strength::mass_fraction;

/// Lowest temperature for which the formula is stated, °C.
pub const COLDEST: f64 = -20.0;
/// Highest temperature for which the formula is stated, °C.
pub const WARMEST: f64 = 40.0;

/// Powers 0 to 11 of the mass fraction, at 20 °C.
const A: [f64; 12] = [
    998.20123,
    -192.9769495,
    389.1238958,
    -1668.103923,
    13522.15441,
    -88292.78388,
    306287.4042,
    -613838.1234,
    747017.2998,
    -547846.1354,
    223446.0334,
    -39032.85426,
];
/// Powers 1 to 6 of the temperature above 20 °C, in water.
const B: [f64; 6] = [
    -0.20618513,
    -0.0052682542,
    3.6130013e-05,
    -3.8957702e-07,
    7.169354e-09,
    -9.9739231e-11,
];
/// Powers 1 to 11 of the mass fraction, times power 1 of the temperature above 20 °C.
const C1: [f64; 11] = [
    0.1693443461530087,
    -10.46914743455169,
    71.96353469546523,
    -704.7478054272792,
    3924.090430035045,
    -12101.64659068747,
    22486.46550400788,
    -26055.62982188164,
    18523.73922069467,
    -7420.201433430137,
    1285.617841998974,
];
/// Powers 1 to 10 of the mass fraction, times power 2 of the temperature above 20 °C.
const C2: [f64; 10] = [
    -0.0119301300505701,
    0.2517399633803461,
    -2.170575700536993,
    13.53034988843029,
    -50.29988758547014,
    109.635566657757,
    -142.2753946421155,
    108.043594285623,
    -44.14153236817392,
    7.442971530188783,
];
/// Powers 1 to 9 of the mass fraction, times power 3 of the temperature above 20 °C.
const C3: [f64; 9] = [
    -0.0006802995733503803,
    0.01876837790289664,
    -0.2002561813734156,
    1.02299296671922,
    -2.895696483903638,
    4.810060584300675,
    -4.672147440794683,
    2.458043105903461,
    -0.5411227621436812,
];
/// Powers 1 to 4 of the mass fraction, times power 4 of the temperature above 20 °C.
const C4: [f64; 4] = [
    4.075376675622027e-06,
    -8.76305857347111e-06,
    6.515031360099368e-06,
    -1.51578483698721e-06,
];
/// Powers 1 to 2 of the mass fraction, times power 5 of the temperature above 20 °C.
const C5: [f64; 2] = [-2.788074354782409e-08, 1.345612883493354e-08];

/// Σ coefficients[k] xᵏ, from the highest power down.
fn polynomial(coefficients: &[f64], x: f64) -> f64 {
    coefficients
        .iter()
        .rev()
        .fold(0.0, |sum, coefficient| sum * x + coefficient)
}

/// The bare formula, without the check of its range: for the root finding, which has checked it.
pub(crate) fn formula(p: f64, t: f64) -> f64 {
    let above_twenty = t - 20.0;
    let at_twenty = polynomial(&A, p);
    let of_water = above_twenty * polynomial(&B, above_twenty);
    let cross_terms = polynomial(
        &[
            polynomial(&C1, p),
            polynomial(&C2, p),
            polynomial(&C3, p),
            polynomial(&C4, p),
            polynomial(&C5, p),
        ],
        above_twenty,
    );
    at_twenty + of_water + p * above_twenty * cross_terms
}

/// Refuses a temperature for which the formula is not stated.
pub(crate) fn within_formula(temperature: Celsius) -> Result<f64, Problem> {
    let celsius = temperature.value();
    if (COLDEST..=WARMEST).contains(&celsius) {
        Ok(celsius)
    } else {
        Err(Problem::OutsideFormulaRange { celsius })
    }
}

/// The density of a mixture, kg/m³.
///
/// # Errors
/// `Problem::OutsideFormulaRange` outside −20 to 40 °C.
pub fn density(mixture: MassFraction, temperature: Celsius) -> Result<Density, Problem> {
    let celsius = within_formula(temperature)?;
    Density::new(formula(mixture.value(), celsius))
}

/// The density of a spirit of known strength, kg/m³. The strength is the one at 20 °C, as printed
/// on a bottle; the density is the one at `temperature`.
///
/// # Errors
/// `Problem::OutsideFormulaRange` outside −20 to 40 °C.
pub fn density_of_strength(
    strength: VolumePercent,
    temperature: Celsius,
) -> Result<Density, Problem> {
    density(mass_fraction(strength), temperature)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn ends_of_the_formula_at_twenty_degrees() {
        let water = density(MassFraction::WATER, Celsius::TWENTY).unwrap();
        assert_eq!(water.value(), 998.20123, "A1 of the Directive");
        let ethanol = density(MassFraction::ETHANOL, Celsius::TWENTY).unwrap();
        assert!((ethanol.value() - 789.24).abs() < 0.005, "{ethanol:?}");
    }

    #[test]
    fn density_falls_as_strength_rises_over_the_whole_range() {
        // The search for a strength relies on this.
        for degree in -20..=40 {
            let mut before = f64::INFINITY;
            for step in 0..=1000 {
                let here = formula(f64::from(step) / 1000.0, f64::from(degree));
                assert!(here < before, "at {degree} °C, step {step}");
                before = here;
            }
        }
    }

    #[test]
    fn refuses_what_the_formula_does_not_cover() {
        let hot = Celsius::new(40.5).unwrap();
        assert_eq!(
            density(MassFraction::WATER, hot),
            Err(Problem::OutsideFormulaRange { celsius: 40.5 })
        );
        assert!(density(MassFraction::WATER, Celsius::new(-20.0).unwrap()).is_ok());
    }
}
