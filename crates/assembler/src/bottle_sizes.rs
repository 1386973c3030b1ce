//! In which sizes of bottle are spirits sold, and where?
//!
//! Sources: Directive 2007/45/EC, Annex (nine sizes within 100 to 2,000 ml; the United Kingdom kept
//! them); 27 CFR 5.203 before 2021, T.D. TTB-165 (2021) and 90 FR 1868 (2025) for the United States.
//! All lists are from memory but for the titles: look them up before relying on them. They are for a
//! shopping list, and no statement of law.

/// A territory whose sizes are known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Territory {
    /// The European Union.
    EuropeanUnion,
    /// The United Kingdom.
    UnitedKingdom,
    /// The United States.
    UnitedStates,
}

/// Sizes of the European Union and the United Kingdom within 100 to 2,000 ml.
const EUROPE: [u32; 9] = [100, 200, 350, 500, 700, 1000, 1500, 1750, 2000];
/// Sizes of the United States, old and new.
const STATES: [u32; 24] = [
    50, 100, 187, 200, 250, 331, 350, 355, 375, 475, 500, 570, 700, 710, 720, 750, 900, 945, 1000,
    1500, 1750, 1800, 2000, 3000,
];

impl Territory {
    /// Every member.
    pub const ALL: [Self; 3] = [Self::EuropeanUnion, Self::UnitedKingdom, Self::UnitedStates];

    /// The short name that is printed.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::EuropeanUnion => "EU",
            Self::UnitedKingdom => "UK",
            Self::UnitedStates => "US",
        }
    }

    /// Whether a bottle of this size, ml, may be sold there. Sizes outside the range that a rule
    /// covers are not bound by it.
    #[must_use]
    pub fn has(self, size: u32) -> bool {
        match self {
            Self::EuropeanUnion | Self::UnitedKingdom => {
                !(100..=2000).contains(&size) || EUROPE.contains(&size)
            }
            Self::UnitedStates => STATES.contains(&size) || size == 3750,
        }
    }
}

/// Where bottles of this size are sold, in words: "EU, UK, US", or "no usual size".
#[must_use]
pub fn sold_in(size: u32) -> String {
    let places: Vec<&str> = Territory::ALL
        .into_iter()
        .filter(|territory| territory.has(size))
        .map(Territory::name)
        .collect();
    if places.is_empty() {
        "no usual size".to_owned()
    } else {
        places.join(", ")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_usual_bottle_of_each_side_of_the_ocean() {
        assert_eq!(sold_in(700), "EU, UK, US");
        assert_eq!(sold_in(750), "US");
        assert_eq!(sold_in(650), "no usual size");
        assert_eq!(
            sold_in(50),
            "EU, UK, US",
            "below 100 ml the rule binds nobody"
        );
        assert_eq!(sold_in(1750), "EU, UK, US");
    }
}
