//! The computations that a question may name, each with its parameters, so that a key can be
//! computed from drawn numbers.
//!
//! Volumes are litres except where a parameter says millilitres; strengths are % vol at 20 °C. Each
//! is one function of this room under a name that does not change; its formula and source stand
//! with the function.

use std::collections::BTreeMap;

use crate::blend::{SpiritPart, blend};
use crate::bottle_yield::bottle_yield;
use crate::cask_loss::cask_remaining;
use crate::density::density_of_strength;
use crate::dilution::dilute;
use crate::ethanol_load::{grams_of_ethanol, pure_alcohol};
use crate::obscuration::obscured_strength;
use crate::problem::Problem;
use crate::quantities::{Celsius, Density, Millilitres, VolumePercent};
use crate::strength::mass_fraction;
use crate::strength_from_density::strength_from_density;
use crate::volume_at_temperature::volume_at_twenty;

/// A computation by name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Computation {
    /// Litres of water that bring a spirit to a target, contraction included.
    WaterToReduce,
    /// The strength of two spirits together, % vol.
    StrengthOfBlend,
    /// Litres of spirit after reduction to a target.
    VolumeAfterReduction,
    /// Per cent by mass of a strength by volume.
    MassStrength,
    /// The strength at 20 °C from a density measured at a temperature.
    StrengthFromDensity,
    /// The density at a temperature, kg/m³, of a strength at 20 °C.
    DensityOfStrength,
    /// Litres of pure alcohol.
    LitresPureAlcohol,
    /// Grams of ethanol in a pour.
    GramsEthanol,
    /// Standard drinks of so many grams in a pour.
    StandardDrinks,
    /// The true strength of a spirit with extract.
    ObscuredStrength,
    /// Litres left in a cask after years of loss.
    CaskRemaining,
    /// Whole bottles after reduction.
    BottleYield,
}

/// A number that a computation takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Parameter {
    /// Its name, fixed for ever.
    pub name: &'static str,
    /// Its unit.
    pub unit: &'static str,
    /// What is taken where it is not given; none where it must be.
    pub usual: Option<f64>,
}

const fn needed(name: &'static str, unit: &'static str) -> Parameter {
    Parameter {
        name,
        unit,
        usual: None,
    }
}

const VOLUME: Parameter = needed("volume", "L");
const MILLILITRES: Parameter = needed("volume", "ml");
const STRENGTH: Parameter = needed("strength", "% vol");
const TARGET: Parameter = needed("target", "% vol");
const TEMPERATURE: Parameter = Parameter {
    name: "temperature",
    unit: "°C",
    usual: Some(20.0),
};

impl Computation {
    /// All computations with their names.
    pub const ALL: [(&'static str, Self); 12] = [
        ("water_to_reduce", Self::WaterToReduce),
        ("strength_of_blend", Self::StrengthOfBlend),
        ("volume_after_reduction", Self::VolumeAfterReduction),
        ("mass_strength", Self::MassStrength),
        ("strength_from_density", Self::StrengthFromDensity),
        ("density_of_strength", Self::DensityOfStrength),
        ("litres_pure_alcohol", Self::LitresPureAlcohol),
        ("grams_ethanol", Self::GramsEthanol),
        ("standard_drinks", Self::StandardDrinks),
        ("obscured_strength", Self::ObscuredStrength),
        ("cask_remaining", Self::CaskRemaining),
        ("bottle_yield", Self::BottleYield),
    ];

    /// Its name.
    #[must_use]
    pub fn name(self) -> &'static str {
        Self::ALL
            .iter()
            .find(|(_, computation)| *computation == self)
            .map_or("", |(name, _)| name)
    }

    /// The numbers it takes.
    #[must_use]
    pub const fn parameters(self) -> &'static [Parameter] {
        match self {
            Self::WaterToReduce => const { &[VOLUME, STRENGTH, TARGET, TEMPERATURE] },
            Self::StrengthOfBlend => {
                const {
                    &[
                        needed("volume_a", "L"),
                        needed("strength_a", "% vol"),
                        needed("volume_b", "L"),
                        needed("strength_b", "% vol"),
                    ]
                }
            }
            Self::VolumeAfterReduction => const { &[VOLUME, STRENGTH, TARGET] },
            Self::MassStrength => const { &[STRENGTH] },
            Self::StrengthFromDensity => const { &[needed("density", "kg/m³"), TEMPERATURE] },
            Self::DensityOfStrength => const { &[STRENGTH, TEMPERATURE] },
            Self::LitresPureAlcohol => const { &[VOLUME, STRENGTH] },
            Self::GramsEthanol => const { &[MILLILITRES, STRENGTH] },
            Self::StandardDrinks => const { &[MILLILITRES, STRENGTH, needed("unit_grams", "g")] },
            Self::ObscuredStrength => {
                const { &[needed("apparent", "% vol"), needed("extract", "g/L")] }
            }
            Self::CaskRemaining => {
                const { &[VOLUME, needed("years", "years"), needed("loss", "% a year")] }
            }
            Self::BottleYield => const { &[VOLUME, STRENGTH, TARGET, needed("bottle", "ml")] },
        }
    }

    /// The result for these numbers, by the names of the parameters; others are left aside.
    ///
    /// # Errors
    /// A needed number that is not given, or whatever the computation refuses.
    pub fn compute(self, given: &BTreeMap<String, f64>) -> Result<f64, Problem> {
        let given = Given {
            numbers: given,
            parameters: self.parameters(),
        };
        match self {
            Self::WaterToReduce => {
                let measured = given.litres("volume")?;
                let strength = given.strength("strength")?;
                let at_twenty = volume_at_twenty(measured, strength, given.temperature()?)?;
                Ok(dilute(at_twenty, strength, given.strength("target")?)?
                    .water
                    .litres())
            }
            Self::StrengthOfBlend => {
                let part = |volume, strength| -> Result<SpiritPart, Problem> {
                    Ok(SpiritPart {
                        volume: given.litres(volume)?,
                        strength: given.strength(strength)?,
                    })
                };
                let (a, b) = (
                    part("volume_a", "strength_a")?,
                    part("volume_b", "strength_b")?,
                );
                Ok(blend(a, b)?.strength.value())
            }
            Self::VolumeAfterReduction => Ok(dilute(
                given.litres("volume")?,
                given.strength("strength")?,
                given.strength("target")?,
            )?
            .result
            .litres()),
            Self::MassStrength => Ok(mass_fraction(given.strength("strength")?).percent()),
            Self::StrengthFromDensity => Ok(strength_from_density(
                Density::new(given.number("density")?)?,
                given.temperature()?,
            )?
            .value()),
            Self::DensityOfStrength => {
                let strength = given.strength("strength")?;
                Ok(density_of_strength(strength, given.temperature()?)?.value())
            }
            Self::LitresPureAlcohol => {
                Ok(pure_alcohol(given.litres("volume")?, given.strength("strength")?)?.litres())
            }
            Self::GramsEthanol => Ok(grams_of_ethanol(
                given.millilitres("volume")?,
                given.strength("strength")?,
            )?
            .value()),
            Self::StandardDrinks => {
                let grams =
                    grams_of_ethanol(given.millilitres("volume")?, given.strength("strength")?)?;
                Ok(grams.value() / given.drink()?)
            }
            Self::ObscuredStrength => Ok(obscured_strength(
                given.strength("apparent")?,
                given.number("extract")?,
            )?
            .value()),
            Self::CaskRemaining => Ok(cask_remaining(
                given.litres("volume")?,
                given.number("years")?,
                given.number("loss")?,
            )?
            .litres()),
            Self::BottleYield => bottle_yield(
                given.litres("volume")?,
                given.strength("strength")?,
                given.strength("target")?,
                given.millilitres("bottle")?,
            ),
        }
    }
}

/// The numbers given to a computation.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Given<'g> {
    pub(crate) numbers: &'g BTreeMap<String, f64>,
    pub(crate) parameters: &'static [Parameter],
}

impl Given<'_> {
    pub(crate) fn number(&self, name: &'static str) -> Result<f64, Problem> {
        let usual = || {
            let parameter = self.parameters.iter().find(|p| p.name == name);
            parameter.and_then(|parameter| parameter.usual)
        };
        self.numbers
            .get(name)
            .copied()
            .or_else(usual)
            .ok_or(Problem::NotGiven(name))
    }
    pub(crate) fn litres(&self, name: &'static str) -> Result<Millilitres, Problem> {
        Millilitres::new(self.number(name)? * 1000.0)
    }
    pub(crate) fn millilitres(&self, name: &'static str) -> Result<Millilitres, Problem> {
        Millilitres::new(self.number(name)?)
    }
    pub(crate) fn strength(&self, name: &'static str) -> Result<VolumePercent, Problem> {
        VolumePercent::new(self.number(name)?)
    }
    pub(crate) fn temperature(&self) -> Result<Celsius, Problem> {
        Celsius::new(self.number("temperature")?)
    }
    /// Grams of ethanol in one standard drink.
    pub(crate) fn drink(&self) -> Result<f64, Problem> {
        let grams = self.number("unit_grams")?;
        if grams > 0.0 {
            Ok(grams)
        } else {
            Err(Problem::NoDrink(grams))
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
pub(crate) mod tests {
    use super::*;

    pub(crate) fn given(numbers: &[(&str, f64)]) -> BTreeMap<String, f64> {
        numbers
            .iter()
            .map(|(name, number)| ((*name).to_owned(), *number))
            .collect()
    }

    /// Numbers that every computation accepts.
    pub(crate) fn sound() -> BTreeMap<String, f64> {
        given(&[
            ("volume", 200.0),
            ("strength", 62.0),
            ("target", 43.0),
            ("temperature", 15.0),
            ("volume_a", 100.0),
            ("strength_a", 63.0),
            ("volume_b", 50.0),
            ("strength_b", 40.0),
            ("density", 940.0),
            ("unit_grams", 14.0),
            ("apparent", 43.0),
            ("extract", 5.0),
            ("years", 10.0),
            ("loss", 2.0),
            ("bottle", 700.0),
        ])
    }

    #[test]
    fn each_computation_answers_and_misses_what_it_needs() {
        for (name, computation) in Computation::ALL {
            assert_eq!(computation.name(), name);
            assert!(computation.compute(&sound()).unwrap() > 0.0, "{name}");
            for parameter in computation.parameters() {
                let mut without = sound();
                without.remove(parameter.name);
                let answer = computation.compute(&without);
                match parameter.usual {
                    Some(_) => assert!(answer.is_ok(), "{name} without {}", parameter.name),
                    None => assert_eq!(answer, Err(Problem::NotGiven(parameter.name)), "{name}"),
                }
            }
        }
    }

    #[test]
    fn a_computation_is_the_function_of_its_name() {
        let of = |computation: Computation, numbers: &[(&str, f64)]| {
            computation.compute(&given(numbers)).unwrap()
        };
        // By hand.
        let pure = of(
            Computation::LitresPureAlcohol,
            &[("volume", 200.0), ("strength", 63.5)],
        );
        assert!((pure - 127.0).abs() < 1e-9);
        let left = of(
            Computation::CaskRemaining,
            &[("volume", 200.0), ("years", 2.0), ("loss", 2.0)],
        );
        assert!((left - 192.08).abs() < 1e-9);
        // 30 ml at 40 % are 12 ml of ethanol, at 0.789239 g/ml 9.470868 g.
        let grams = of(
            Computation::GramsEthanol,
            &[("volume", 30.0), ("strength", 40.0)],
        );
        assert!((grams - 9.470_868).abs() < 1e-5);
        // OIML R 22, table: 40 % vol at 20 °C has 948.05 kg/m³ and 33.30 % mas (printed digits).
        let density = of(Computation::DensityOfStrength, &[("strength", 40.0)]);
        assert!((density - 948.05).abs() < 0.01, "{density}");
        let mass = of(Computation::MassStrength, &[("strength", 40.0)]);
        assert!((mass - 33.30).abs() < 0.005, "{mass}");
    }
}
