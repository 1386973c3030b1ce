//! A length on paper: whole thousandths of a millimetre, so that sums are exact on every machine.

use std::fmt;
use std::ops::{Add, Sub};

use serde::{Serialize, Serializer};

/// A length or position on paper, in millimetres, kept as whole thousandths.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Millimetres(i32);

impl Millimetres {
    /// Nothing.
    pub const ZERO: Self = Self(0);

    /// Whole millimetres.
    #[must_use]
    pub const fn whole(millimetres: i32) -> Self {
        Self(millimetres.saturating_mul(1000))
    }
    /// Thousandths of a millimetre; an inch is 25 400 of them.
    #[must_use]
    pub const fn thousandths(thousandths: i32) -> Self {
        Self(thousandths)
    }
    /// The length in thousandths of a millimetre.
    #[must_use]
    pub const fn in_thousandths(self) -> i32 {
        self.0
    }
    /// The length as a number of millimetres, for drawing.
    #[must_use]
    pub fn as_number(self) -> f64 {
        f64::from(self.0) / 1000.0
    }
    /// So many times this length.
    #[must_use]
    pub const fn times(self, count: i32) -> Self {
        Self(self.0.saturating_mul(count))
    }
    /// One of so many equal parts, rounded towards zero; a division by nothing gives the whole.
    #[must_use]
    pub const fn part_of(self, parts: i32) -> Self {
        match self.0.checked_div(parts) {
            Some(part) => Self(part),
            None => self,
        }
    }
}

impl Add for Millimetres {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }
}
impl Sub for Millimetres {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0.saturating_sub(other.0))
    }
}
impl fmt::Display for Millimetres {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} mm", self.as_number())
    }
}
impl Serialize for Millimetres {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_f64(self.as_number())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_inch_is_exact_and_sums_do_not_drift() {
        let inch = Millimetres::thousandths(25_400);
        assert_eq!(inch.times(10), Millimetres::whole(254));
        assert_eq!(inch.to_string(), "25.4 mm");
        assert_eq!(Millimetres::whole(7).part_of(0), Millimetres::whole(7));
    }
}
