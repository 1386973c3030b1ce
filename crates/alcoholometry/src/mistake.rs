//! The wrong ways to a computation that are met in classes, by name, each with its own result.
//!
//! Which mistakes are met is common practice of teaching, no source; each says what is forgotten.

use std::collections::BTreeMap;

use crate::bottle_yield::whole_bottles;
use crate::computation::{Computation, Given};
use crate::density::{density, density_of_strength};
use crate::dilution::dilute;
use crate::ethanol_load::pure_alcohol;
use crate::problem::Problem;
use crate::quantities::{Celsius, MassFraction, Millilitres, VolumePercent};
use crate::strength::{mass_fraction, volume_percent};

/// A wrong way by name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Mistake {
    /// The rule of three, without contraction.
    RuleOfThree,
    /// Volume and mass taken for each other.
    MassForVolume,
    /// The temperature left aside.
    WrongTemperature,
    /// The loss of every year taken from the first filling.
    SimpleLoss,
    /// A difference of strengths taken as a share of the start.
    PercentOfStart,
    /// Volumes added as if nothing contracted.
    SumOfVolumes,
    /// What was lost given for what is left.
    LossForRest,
    /// Bottled without counting the water.
    NoReduction,
}

impl Mistake {
    /// All mistakes with their names.
    pub const ALL: [(&'static str, Self); 8] = [
        ("rule_of_three", Self::RuleOfThree),
        ("mass_for_volume", Self::MassForVolume),
        ("wrong_temperature", Self::WrongTemperature),
        ("simple_loss", Self::SimpleLoss),
        ("percent_of_start", Self::PercentOfStart),
        ("sum_of_volumes", Self::SumOfVolumes),
        ("loss_for_rest", Self::LossForRest),
        ("no_reduction", Self::NoReduction),
    ];

    /// Its name.
    #[must_use]
    pub fn name(self) -> &'static str {
        Self::ALL
            .iter()
            .find(|(_, mistake)| *mistake == self)
            .map_or("", |(name, _)| name)
    }

    /// Whether it makes sense for a computation.
    #[must_use]
    pub const fn is_of(self, computation: Computation) -> bool {
        use Computation as C;
        match self {
            Self::RuleOfThree => matches!(
                computation,
                C::WaterToReduce | C::StrengthOfBlend | C::DensityOfStrength
            ),
            Self::MassForVolume => matches!(
                computation,
                C::WaterToReduce
                    | C::StrengthOfBlend
                    | C::MassStrength
                    | C::StrengthFromDensity
                    | C::DensityOfStrength
                    | C::LitresPureAlcohol
                    | C::GramsEthanol
                    | C::StandardDrinks
            ),
            Self::WrongTemperature => matches!(
                computation,
                C::WaterToReduce | C::StrengthFromDensity | C::DensityOfStrength
            ),
            Self::SimpleLoss | Self::LossForRest => matches!(computation, C::CaskRemaining),
            Self::PercentOfStart => matches!(computation, C::WaterToReduce),
            Self::SumOfVolumes => {
                matches!(computation, C::VolumeAfterReduction | C::BottleYield)
            }
            Self::NoReduction => matches!(computation, C::BottleYield),
        }
    }

    /// What comes out of a computation in this wrong way; none where it makes no sense there.
    ///
    /// # Errors
    /// As the computation itself.
    pub fn result(
        self,
        computation: Computation,
        given: &BTreeMap<String, f64>,
    ) -> Option<Result<f64, Problem>> {
        let given = Given {
            numbers: given,
            parameters: computation.parameters(),
        };
        self.is_of(computation)
            .then(|| self.compute(computation, &given))
    }

    fn compute(self, computation: Computation, given: &Given<'_>) -> Result<f64, Problem> {
        use Computation as C;
        match self {
            Self::RuleOfThree => match computation {
                C::StrengthOfBlend => weighted(given, "strength_a", "strength_b"),
                C::DensityOfStrength => {
                    let celsius = given.temperature()?;
                    let share = given.strength("strength")?.share();
                    let water = density(MassFraction::WATER, celsius)?.value();
                    let ethanol = density(MassFraction::ETHANOL, celsius)?.value();
                    Ok(water * (1.0 - share) + ethanol * share)
                }
                C::WaterToReduce
                | C::VolumeAfterReduction
                | C::MassStrength
                | C::StrengthFromDensity
                | C::LitresPureAlcohol
                | C::GramsEthanol
                | C::StandardDrinks
                | C::ObscuredStrength
                | C::CaskRemaining
                | C::BottleYield => Ok(reduction(given)?.rule_of_three_water.litres()),
            },
            Self::MassForVolume => mass_for_volume(computation, given),
            Self::WrongTemperature => {
                let mut numbers = given.numbers.clone();
                numbers.insert("temperature".to_owned(), Celsius::TWENTY.value());
                computation.compute(&numbers)
            }
            Self::SimpleLoss => {
                let lost = given.number("loss")? * given.number("years")? / 100.0;
                Ok(given.litres("volume")?.litres() * (1.0 - lost).max(0.0))
            }
            Self::LossForRest => {
                Ok(given.litres("volume")?.litres() - computation.compute(given.numbers)?)
            }
            Self::PercentOfStart => {
                let made = reduction(given)?;
                let (source, target) = (made.source.value(), made.target.value());
                Ok(made.spirit.litres() * (source - target) / source)
            }
            Self::SumOfVolumes => {
                let made = reduction(given)?;
                let sum = Millilitres::new(made.spirit.value() + made.water.value())?;
                match computation {
                    C::BottleYield => whole_bottles(sum, given.millilitres("bottle")?),
                    C::WaterToReduce
                    | C::StrengthOfBlend
                    | C::VolumeAfterReduction
                    | C::MassStrength
                    | C::StrengthFromDensity
                    | C::DensityOfStrength
                    | C::LitresPureAlcohol
                    | C::GramsEthanol
                    | C::StandardDrinks
                    | C::ObscuredStrength
                    | C::CaskRemaining => Ok(sum.litres()),
                }
            }
            Self::NoReduction => {
                whole_bottles(given.litres("volume")?, given.millilitres("bottle")?)
            }
        }
    }
}

fn reduction(given: &Given<'_>) -> Result<crate::dilution::Dilution, Problem> {
    dilute(
        given.litres("volume")?,
        given.strength("strength")?,
        given.strength("target")?,
    )
}

/// Two strengths weighted by their volumes.
fn weighted(given: &Given<'_>, a: &'static str, b: &'static str) -> Result<f64, Problem> {
    let (volume_a, volume_b) = (given.litres("volume_a")?, given.litres("volume_b")?);
    let sum = volume_a.value() + volume_b.value();
    if sum == 0.0 {
        return Err(Problem::NothingToBlend);
    }
    let ethanol = volume_a.value() * given.strength(a)?.value()
        + volume_b.value() * given.strength(b)?.value();
    Ok(ethanol / sum)
}

fn mass_for_volume(computation: Computation, given: &Given<'_>) -> Result<f64, Problem> {
    use Computation as C;
    match computation {
        // % vol taken for % mas: the mass of the spirit times (s₁/s₂ − 1), its kilograms as litres.
        C::WaterToReduce => {
            let made = reduction(given)?;
            let share = made.source.value() / made.target.value() - 1.0;
            Ok(made.spirit_mass.value() / 1000.0 * share)
        }
        // Volumes taken for masses.
        C::StrengthOfBlend => {
            let (a, b) = (given.litres("volume_a")?, given.litres("volume_b")?);
            let sum = a.value() + b.value();
            if sum == 0.0 {
                return Err(Problem::NothingToBlend);
            }
            let ethanol = a.value() * mass_fraction(given.strength("strength_a")?).value()
                + b.value() * mass_fraction(given.strength("strength_b")?).value();
            Ok(volume_percent(MassFraction::new((ethanol / sum).min(1.0))?).value())
        }
        // One taken for the other.
        C::MassStrength => Ok(given.strength("strength")?.value()),
        C::StrengthFromDensity => {
            let strength = VolumePercent::new(computation.compute(given.numbers)?)?;
            Ok(mass_fraction(strength).percent())
        }
        C::DensityOfStrength => {
            let fraction = MassFraction::new(given.strength("strength")?.share())?;
            Ok(density(fraction, given.temperature()?)?.value())
        }
        // Kilograms of ethanol for litres.
        C::LitresPureAlcohol => {
            let ethanol = density_of_strength(VolumePercent::ETHANOL, Celsius::TWENTY)?;
            let litres = pure_alcohol(given.litres("volume")?, given.strength("strength")?)?;
            Ok(litres.mass(ethanol)?.value() / 1000.0)
        }
        // Millilitres of ethanol for grams.
        C::GramsEthanol => {
            Ok(pure_alcohol(given.millilitres("volume")?, given.strength("strength")?)?.value())
        }
        C::StandardDrinks => {
            let ethanol = pure_alcohol(given.millilitres("volume")?, given.strength("strength")?)?;
            Ok(ethanol.value() / given.drink()?)
        }
        C::VolumeAfterReduction | C::ObscuredStrength | C::CaskRemaining | C::BottleYield => {
            computation.compute(given.numbers)
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::computation::tests::sound;

    #[test]
    fn every_mistake_gives_another_result_than_the_right_way() {
        let mut met = std::collections::BTreeSet::new();
        for (name, computation) in Computation::ALL {
            let right = computation.compute(&sound()).unwrap();
            for (wrong_name, mistake) in Mistake::ALL {
                assert_eq!(mistake.name(), wrong_name);
                let Some(wrong) = mistake.result(computation, &sound()) else {
                    continue;
                };
                met.insert(mistake);
                let apart = (wrong.unwrap() - right).abs();
                assert!(apart > 1e-4 * right, "{name} by {wrong_name}: {apart}");
            }
        }
        assert_eq!(met.len(), Mistake::ALL.len(), "each has its computation");
    }

    #[test]
    fn mistakes_come_out_as_by_hand() {
        let wrong =
            |mistake: Mistake, computation| mistake.result(computation, &sound()).unwrap().unwrap();
        // 200 (62/43 − 1) = 88.3721; 200 × 19/62 = 61.2903; 200 (1 − 0.2) = 160.
        let by_hand = [
            (Mistake::RuleOfThree, Computation::WaterToReduce, 88.3721),
            (Mistake::PercentOfStart, Computation::WaterToReduce, 61.2903),
            (Mistake::SimpleLoss, Computation::CaskRemaining, 160.0),
            // (100 × 63 + 50 × 40) / 150.
            (Mistake::RuleOfThree, Computation::StrengthOfBlend, 55.3333),
            // 200 l in bottles of 0.7 l: 285.7.
            (Mistake::NoReduction, Computation::BottleYield, 285.0),
        ];
        for (mistake, computation, expected) in by_hand {
            assert!(
                (wrong(mistake, computation) - expected).abs() < 1e-4,
                "{mistake:?}: {}",
                wrong(mistake, computation)
            );
        }
        assert!(
            Mistake::SimpleLoss
                .result(Computation::BottleYield, &sound())
                .is_none()
        );
    }
}
