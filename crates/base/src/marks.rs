//! Marks in whole thousandths, so that the parts a candidate sees add up exactly to the total.

use std::fmt;
use std::iter::Sum;
use std::num::NonZeroU32;
use std::ops::{Add, AddAssign, Neg, Sub};
use std::str::FromStr;

use serde::{Deserialize, Serialize};

/// A number of marks in thousandths. Written as a decimal number with at most three places.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Marks(i64);

/// Why a text is no number of marks.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error(
    "\"{0}\" is not a number of marks: digits with at most three decimal places, up to 1000000"
)]
pub struct BadMarks(pub String);

/// The largest number of marks that one question, part or exam may have.
const MOST_THOUSANDTHS: i64 = 1_000_000_000;

impl Marks {
    /// No marks.
    pub const ZERO: Self = Self(0);
    /// One mark.
    pub const ONE: Self = Self(1000);

    /// Marks from whole thousandths, held within a million marks either way.
    #[must_use]
    pub const fn from_thousandths(thousandths: i64) -> Self {
        if thousandths > MOST_THOUSANDTHS {
            Self(MOST_THOUSANDTHS)
        } else if thousandths < -MOST_THOUSANDTHS {
            Self(-MOST_THOUSANDTHS)
        } else {
            Self(thousandths)
        }
    }

    /// The number of thousandths.
    #[must_use]
    pub const fn thousandths(self) -> i64 {
        self.0
    }

    /// As a floating number of marks, for statistics only.
    #[must_use]
    pub fn as_f64(self) -> f64 {
        // Exact: a million marks in thousandths lie far below 2^53.
        self.0 as f64 / 1000.0
    }

    /// `part / whole` of these marks, rounded once, half to even.
    #[must_use]
    pub fn share(self, part: u32, whole: NonZeroU32) -> Self {
        let scaled = i128::from(self.0) * i128::from(part);
        let whole = i128::from(whole.get());
        let (down, rest) = (scaled.div_euclid(whole), scaled.rem_euclid(whole));
        let up = 2 * rest > whole || (2 * rest == whole && down % 2 != 0);
        let rounded = down + i128::from(up);
        Self::from_thousandths(i64::try_from(rounded).unwrap_or(MOST_THOUSANDTHS))
    }

    /// This credit (a number from 0 to 1; less is taken as 0, more as 1) of these marks, rounded
    /// once, half to even. None when the credit is not a number.
    #[must_use]
    pub fn credit(self, credit: f64) -> Option<Self> {
        if credit.is_nan() {
            return None;
        }
        let exact = credit.clamp(0.0, 1.0) * self.0 as f64;
        // Credits are ratios of small numbers in floating point: what lies within a hundred
        // millionth of half a thousandth is meant to be the half.
        let floor = exact.floor();
        let rest = exact - floor;
        let up = if (rest - 0.5).abs() < 1e-8 {
            floor % 2.0 != 0.0
        } else {
            rest > 0.5
        };
        Some(Self::from_thousandths(floor as i64 + i64::from(up)))
    }

    /// The smaller of the two.
    #[must_use]
    pub fn at_most(self, most: Self) -> Self {
        self.min(most)
    }

    /// These marks as a share of `whole`, 0 where the whole is nothing; for figures only.
    #[must_use]
    pub fn fraction_of(self, whole: Self) -> f64 {
        if whole.0 == 0 {
            0.0
        } else {
            self.0 as f64 / whole.0 as f64
        }
    }

    /// Whether these marks reach `per_mille` thousandths of `whole`, decided without rounding.
    #[must_use]
    pub fn reaches(self, per_mille: u32, whole: Self) -> bool {
        i128::from(self.0) * 1000 >= i128::from(whole.0) * i128::from(per_mille)
    }
}

impl Add for Marks {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::from_thousandths(self.0.saturating_add(other.0))
    }
}
impl AddAssign for Marks {
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}
impl Sub for Marks {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::from_thousandths(self.0.saturating_sub(other.0))
    }
}
impl Neg for Marks {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}
impl Sum for Marks {
    fn sum<I: Iterator<Item = Self>>(iter: I) -> Self {
        iter.fold(Self::ZERO, Add::add)
    }
}
impl<'a> Sum<&'a Marks> for Marks {
    fn sum<I: Iterator<Item = &'a Marks>>(iter: I) -> Self {
        iter.copied().sum()
    }
}

impl fmt::Display for Marks {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.0 < 0 { "-" } else { "" };
        let (whole, part) = (self.0.abs() / 1000, self.0.abs() % 1000);
        let text = if part == 0 {
            format!("{sign}{whole}")
        } else {
            let decimals = format!("{part:03}");
            format!("{sign}{whole}.{}", decimals.trim_end_matches('0'))
        };
        f.pad(&text)
    }
}
impl fmt::Debug for Marks {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Marks({self})")
    }
}

impl FromStr for Marks {
    type Err = BadMarks;
    fn from_str(text: &str) -> Result<Self, BadMarks> {
        let bad = || BadMarks(text.to_owned());
        let (negative, digits) = match text.strip_prefix('-') {
            Some(rest) => (true, rest),
            None => (false, text),
        };
        let (whole, part) = digits.split_once('.').unwrap_or((digits, "0"));
        let all_digits = |t: &str| !t.is_empty() && t.bytes().all(|b| b.is_ascii_digit());
        if !all_digits(whole) || !all_digits(part) || part.len() > 3 || whole.len() > 7 {
            return Err(bad());
        }
        let whole: i64 = whole.parse().map_err(|_| bad())?;
        let part: i64 = format!("{part:0<3}").parse().map_err(|_| bad())?;
        let thousandths = whole * 1000 + part;
        if thousandths > MOST_THOUSANDTHS {
            return Err(bad());
        }
        Ok(Self(if negative { -thousandths } else { thousandths }))
    }
}
impl TryFrom<String> for Marks {
    type Error = BadMarks;
    fn try_from(text: String) -> Result<Self, BadMarks> {
        text.parse()
    }
}
impl From<Marks> for String {
    fn from(marks: Marks) -> Self {
        marks.to_string()
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn whole(n: u32) -> NonZeroU32 {
        NonZeroU32::new(n).unwrap()
    }

    #[test]
    fn a_share_is_rounded_half_to_even() {
        assert_eq!(Marks::from_thousandths(1).share(1, whole(2)), Marks::ZERO);
        assert_eq!(
            Marks::from_thousandths(3).share(1, whole(2)),
            Marks::from_thousandths(2)
        );
        assert_eq!(Marks::ONE.share(2, whole(3)).to_string(), "0.667");
        assert_eq!(
            Marks::from_thousandths(-1000)
                .share(1, whole(3))
                .to_string(),
            "-0.333"
        );
    }

    #[test]
    fn a_credit_that_is_not_a_number_is_no_mark() {
        assert_eq!(Marks::ONE.credit(f64::NAN), None);
        assert_eq!(Marks::ONE.credit(7.0), Some(Marks::ONE));
        assert_eq!(Marks::ONE.credit(-7.0), Some(Marks::ZERO));
        assert_eq!(Marks::from_thousandths(1).credit(0.5), Some(Marks::ZERO));
    }

    #[test]
    fn the_cut_is_met_without_rounding() {
        let whole = "3".parse::<Marks>().unwrap();
        assert!("1.8".parse::<Marks>().unwrap().reaches(600, whole));
        assert!(!"1.799".parse::<Marks>().unwrap().reaches(600, whole));
    }

    proptest! {
        #[test]
        fn what_is_written_is_read_again(n in -1_000_000_000_i64..=1_000_000_000) {
            let marks = Marks::from_thousandths(n);
            prop_assert_eq!(marks.to_string().parse::<Marks>().unwrap(), marks);
        }

        #[test]
        fn any_text_is_marks_or_refused(text in ".*") {
            if let Ok(marks) = text.parse::<Marks>() {
                prop_assert!(marks.thousandths().abs() <= MOST_THOUSANDTHS);
            }
        }

        #[test]
        fn credit_and_share_agree_on_ratios(n in 0_i64..20_000, part in 0_u32..40, of in 1_u32..40) {
            let part = part.min(of);
            let marks = Marks::from_thousandths(n);
            prop_assert_eq!(
                marks.credit(f64::from(part) / f64::from(of)).unwrap(),
                marks.share(part, whole(of))
            );
        }
    }
}
