//! The quantities of this room as types: checked when made, never mixed up, no way around the check.

use crate::problem::Problem;

/// Alcoholic strength by volume at 20 °C, 0 to 100 per cent.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, serde::Serialize, serde::Deserialize)]
#[serde(try_from = "f64", into = "f64")]
pub struct VolumePercent(f64);

/// Mass of ethanol per mass of mixture, 0 to 1.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, serde::Serialize, serde::Deserialize)]
#[serde(try_from = "f64", into = "f64")]
pub struct MassFraction(f64);

/// A temperature in degrees Celsius.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, serde::Serialize, serde::Deserialize)]
#[serde(try_from = "f64", into = "f64")]
pub struct Celsius(f64);

/// A density in kilograms per cubic metre.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, serde::Serialize, serde::Deserialize)]
#[serde(try_from = "f64", into = "f64")]
pub struct Density(f64);

/// A volume in millilitres, at 20 °C where nothing else is said.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, serde::Serialize, serde::Deserialize)]
#[serde(try_from = "f64", into = "f64")]
pub struct Millilitres(f64);

/// A mass in grams.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, serde::Serialize, serde::Deserialize)]
#[serde(try_from = "f64", into = "f64")]
pub struct Grams(f64);

/// Volume that disappears on mixing, in millilitres. Positive: the mixture shrinks; negative: it
/// swells, as weak spirits do when water is added.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, serde::Serialize)]
pub struct VolumeLost(f64);

/// Writes what every checked quantity has: one checked way in, one way out, and the two
/// conversions by which a reader of text makes it.
macro_rules! checked_quantity {
    ($name:ident, $problem:ident, $unit:literal, $allowed:expr) => {
        impl $name {
            #[doc = concat!("Takes a number in ", $unit, "; refuses what cannot be one.")]
            ///
            /// # Errors
            #[doc = concat!("`Problem::", stringify!($problem), "` carries the number back.")]
            pub fn new(value: f64) -> Result<Self, Problem> {
                let allowed: fn(f64) -> bool = $allowed;
                if value.is_finite() && allowed(value) {
                    Ok(Self(value))
                } else {
                    Err(Problem::$problem(value))
                }
            }

            #[doc = concat!("The bare number, in ", $unit, ".")]
            #[must_use]
            pub const fn value(self) -> f64 {
                self.0
            }
        }

        impl TryFrom<f64> for $name {
            type Error = Problem;

            fn try_from(value: f64) -> Result<Self, Problem> {
                Self::new(value)
            }
        }

        impl From<$name> for f64 {
            fn from(quantity: $name) -> Self {
                quantity.0
            }
        }
    };
}

checked_quantity!(VolumePercent, NoStrength, "per cent by volume", |v| (0.0
    ..=100.0)
    .contains(&v));
checked_quantity!(MassFraction, NoMassFraction, "grams per gram", |v| (0.0
    ..=1.0)
    .contains(&v));
checked_quantity!(Celsius, NoTemperature, "degrees Celsius", |v| v >= -273.15);
checked_quantity!(Density, NoDensity, "kilograms per cubic metre", |v| v > 0.0);
checked_quantity!(Millilitres, NoVolume, "millilitres", |v| v >= 0.0);
checked_quantity!(Grams, NoMass, "grams", |v| v >= 0.0);

impl VolumePercent {
    /// Water.
    pub const WATER: Self = Self(0.0);
    /// Pure ethanol.
    pub const ETHANOL: Self = Self(100.0);

    /// The share of the volume, 0 to 1.
    #[must_use]
    pub const fn share(self) -> f64 {
        self.0 / 100.0
    }
}

impl MassFraction {
    /// Water.
    pub const WATER: Self = Self(0.0);
    /// Pure ethanol.
    pub const ETHANOL: Self = Self(1.0);

    /// The same in per cent by mass, as tables print it.
    #[must_use]
    pub const fn percent(self) -> f64 {
        self.0 * 100.0
    }
}

impl Celsius {
    /// The temperature at which strengths and volumes are stated.
    pub const TWENTY: Self = Self(20.0);
}

impl Millilitres {
    /// The same in litres.
    #[must_use]
    pub const fn litres(self) -> f64 {
        self.0 / 1000.0
    }

    /// The mass of this volume at a density.
    ///
    /// # Errors
    /// `Problem::NoMass` when the product is beyond a finite number.
    pub fn mass(self, density: Density) -> Result<Grams, Problem> {
        Grams::new(self.0 * density.0 / 1000.0)
    }
}

impl Grams {
    /// The volume that this mass takes at a density.
    ///
    /// # Errors
    /// `Problem::NoVolume` when the quotient is beyond a finite number.
    pub fn volume(self, density: Density) -> Result<Millilitres, Problem> {
        Millilitres::new(self.0 / density.0 * 1000.0)
    }
}

impl VolumeLost {
    /// What the parts took before mixing, less what the mixture takes.
    #[must_use]
    pub fn between(before: f64, after: Millilitres) -> Self {
        Self(before - after.0)
    }

    /// The bare number, in millilitres; negative when the mixture swells.
    #[must_use]
    pub const fn value(self) -> f64 {
        self.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_strength_is_zero_to_one_hundred() {
        assert!(VolumePercent::new(0.0).is_ok() && VolumePercent::new(100.0).is_ok());
        assert_eq!(
            VolumePercent::new(100.1),
            Err(Problem::NoStrength(100.1)),
            "the refused number comes back"
        );
        assert!(VolumePercent::new(-0.1).is_err());
        assert!(VolumePercent::new(f64::NAN).is_err());
        assert!(VolumePercent::new(f64::INFINITY).is_err());
    }

    #[test]
    fn volumes_and_masses_are_not_negative() {
        assert!(Millilitres::new(-1.0).is_err());
        assert!(Grams::new(-1.0).is_err());
        assert!(Grams::new(0.0).is_ok());
        assert!(Density::new(0.0).is_err());
        assert!(Celsius::new(-300.0).is_err());
        assert!(MassFraction::new(1.01).is_err());
    }
}
