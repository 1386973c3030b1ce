//! What can make a computation of this room impossible, by name.

/// Why there is no answer. Every variant carries the numbers that a message needs.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum Problem {
    /// A strength outside 0 to 100 % vol, or not a number.
    #[error("{0} is no strength: a strength is 0 to 100 % vol")]
    NoStrength(f64),
    /// A mass fraction outside 0 to 1, or not a number.
    #[error("{0} is no mass fraction: a mass fraction is 0 to 1")]
    NoMassFraction(f64),
    /// A temperature that is not a finite number or lies below absolute zero.
    #[error("{0} is no temperature in degrees Celsius")]
    NoTemperature(f64),
    /// A density that is not a positive finite number.
    #[error("{0} is no density in kilograms per cubic metre")]
    NoDensity(f64),
    /// A volume that is negative or not finite.
    #[error("{0} is no volume in millilitres")]
    NoVolume(f64),
    /// A mass that is negative or not finite.
    #[error("{0} is no mass in grams")]
    NoMass(f64),
    /// A proof outside the scale that was asked for.
    #[error("{proof} is no proof on this scale: it runs from 0 to {highest}")]
    NoProof {
        /// What was given.
        proof: f64,
        /// The proof of pure ethanol on that scale.
        highest: f64,
    },
    /// The density formula holds from -20 to 40 °C.
    #[error("the density formula holds from -20 to 40 °C, not at {celsius} °C")]
    OutsideFormulaRange {
        /// The temperature that was asked for.
        celsius: f64,
    },
    /// No mixture of ethanol and water has this density at this temperature.
    #[error(
        "no mixture of ethanol and water has {density} kg/m³ at {celsius} °C: \
         pure ethanol has {lowest:.3}, water {highest:.3}"
    )]
    NoMixtureOfThisDensity {
        /// The density that was asked for, kg/m³.
        density: f64,
        /// The temperature, °C.
        celsius: f64,
        /// The density of ethanol there, kg/m³.
        lowest: f64,
        /// The density of water there, kg/m³.
        highest: f64,
    },
    /// Water does not make a spirit stronger.
    #[error("the target of {target} % vol is above the source of {source_strength} % vol")]
    TargetAboveSource {
        /// Strength of the spirit at hand, % vol.
        source_strength: f64,
        /// Strength asked for, % vol.
        target: f64,
    },
    /// No finite amount of water brings a spirit to 0 % vol.
    #[error("no amount of water brings a spirit of {source_strength} % vol to 0 % vol")]
    TargetIsWater {
        /// Strength of the spirit at hand, % vol.
        source_strength: f64,
    },
    /// A blend of nothing has no strength.
    #[error("both parts of the blend are empty")]
    NothingToBlend,
    /// A yearly loss outside 0 to 100 %.
    #[error("{0} is no yearly loss: a loss is 0 to 100 % a year")]
    NoYearlyLoss(f64),
    /// A time that is negative or not finite.
    #[error("{0} is no number of years")]
    NoYears(f64),
    /// A bottle that holds nothing.
    #[error("a bottle of {0} ml holds nothing")]
    NoBottle(f64),
    /// Whether the last bottle is full would be decided by rounding.
    #[error("{0} bottles: whether the last one is full would be decided by rounding")]
    LastBottle(f64),
    /// A standard drink of no ethanol.
    #[error("{0} g is no standard drink")]
    NoDrink(f64),
    /// The rule for obscuration holds within its limits only.
    #[error(
        "the rule for obscuration holds from 40 to 50 % vol and from 4 to 6 g/l of extract, not for \
         {apparent} % vol with {extract} g/l"
    )]
    OutsideObscurationRule {
        /// The apparent strength, % vol.
        apparent: f64,
        /// The extract, g/l.
        extract: f64,
    },
    /// A number that a computation needs was not given.
    #[error("\"{0}\" is not given")]
    NotGiven(&'static str),
}
