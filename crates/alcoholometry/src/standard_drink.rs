//! How many standard drinks of a territory is a pour?
//!
//! Sources stand with each member and are of unequal worth, which [`Evidence`] says. The figures
//! are for information: drinking and driving limits are local law and are not given in these units.

use crate::ethanol_load::{grams_of_ethanol, pure_alcohol};
use crate::evidence::Evidence;
use crate::problem::Problem;
use crate::quantities::{Millilitres, VolumePercent};

/// A territory's (or body's) standard drink.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize, serde::Deserialize,
)]
#[serde(rename_all = "kebab-case")]
pub enum StandardDrink {
    /// The United Kingdom's unit of alcohol: 10 ml of ethanol.
    UnitedKingdom,
    /// The United States' standard drink: 14 g of ethanol.
    UnitedStates,
    /// The drink of the World Health Organization's AUDIT questionnaire: 10 g of ethanol.
    WhoAudit,
    /// Australia's standard drink: 10 g of ethanol.
    Australia,
}

/// How a standard drink is defined.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub enum DrinkMeasure {
    /// By volume of ethanol, ml.
    Millilitres(f64),
    /// By mass of ethanol, g.
    Grams(f64),
}

impl StandardDrink {
    /// Every member, in the order in which they are printed.
    pub const ALL: [Self; 4] = [
        Self::UnitedKingdom,
        Self::UnitedStates,
        Self::WhoAudit,
        Self::Australia,
    ];

    /// The definition.
    #[must_use]
    pub const fn measure(self) -> DrinkMeasure {
        match self {
            Self::UnitedKingdom => DrinkMeasure::Millilitres(10.0),
            Self::UnitedStates => DrinkMeasure::Grams(14.0),
            Self::WhoAudit | Self::Australia => DrinkMeasure::Grams(10.0),
        }
    }

    /// The unit's name as it is printed.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::UnitedKingdom => "UK unit of alcohol",
            Self::UnitedStates => "US standard drink",
            Self::WhoAudit => "WHO AUDIT drink",
            Self::Australia => "Australia standard drink",
        }
    }

    /// What the definition rests on, in words.
    #[must_use]
    pub const fn source(self) -> &'static str {
        match self {
            Self::UnitedKingdom => "10 ml of ethanol (8 g, rounded)",
            Self::UnitedStates => "14 g of ethanol (0.6 US fluid ounces, 17.7 ml)",
            Self::WhoAudit => "10 g of ethanol (12.7 ml)",
            Self::Australia => "10 g of ethanol (12.7 ml; 30 ml at 40 % vol is 0.95)",
        }
    }

    /// How well the definition is vouched for.
    #[must_use]
    pub const fn evidence(self) -> Evidence {
        match self {
            Self::UnitedKingdom | Self::UnitedStates | Self::WhoAudit | Self::Australia => {
                Evidence::SecondaryPageRead
            }
        }
    }
}

/// The number of standard drinks in a pour.
///
/// # Errors
/// None is reachable for checked quantities.
pub fn standard_drinks(
    volume: Millilitres,
    strength: VolumePercent,
    unit: StandardDrink,
) -> Result<f64, Problem> {
    match unit.measure() {
        DrinkMeasure::Millilitres(one) => Ok(pure_alcohol(volume, strength)?.value() / one),
        DrinkMeasure::Grams(one) => Ok(grams_of_ethanol(volume, strength)?.value() / one),
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn thirty_millilitres_at_forty_percent_in_australia() {
        // "30 ml at 40 % = 0.95" is the worked example of the page that was read.
        let drinks = standard_drinks(
            Millilitres::new(30.0).unwrap(),
            VolumePercent::new(40.0).unwrap(),
            StandardDrink::Australia,
        )
        .unwrap();
        assert!((drinks - 0.95).abs() < 0.005, "{drinks}");
    }

    #[test]
    fn every_member_is_listed_once() {
        let names: std::collections::BTreeSet<_> =
            StandardDrink::ALL.iter().map(|unit| unit.name()).collect();
        assert_eq!(names.len(), StandardDrink::ALL.len());
    }
}
