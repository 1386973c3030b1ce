//! An exact part of the full marks.

use std::num::NonZeroU32;

use base::Marks;

/// A fraction from 0 to 1, kept as whole numbers so that marks are rounded once.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Share {
    part: u32,
    whole: NonZeroU32,
}

impl Share {
    /// Nothing.
    pub const NONE: Self = Self {
        part: 0,
        whole: NonZeroU32::MIN,
    };
    /// Everything.
    pub const FULL: Self = Self {
        part: 1,
        whole: NonZeroU32::MIN,
    };
    /// One half.
    pub const HALF: Self = Self::FULL.halved();

    const fn halved(self) -> Self {
        Self {
            part: self.part,
            whole: self.whole.saturating_add(self.whole.get()),
        }
    }

    /// `part / whole`, at most 1; nothing where the whole is nothing.
    #[must_use]
    pub fn new(part: u32, whole: u32) -> Self {
        match NonZeroU32::new(whole) {
            Some(nonzero) => Self {
                part: part.min(whole),
                whole: nonzero,
            },
            None => Self::NONE,
        }
    }
    /// `part / whole` of counts, a part below 0 taken as 0.
    #[must_use]
    pub fn of_counts(part: i64, whole: usize) -> Self {
        Self::new(
            u32::try_from(part.max(0)).unwrap_or(u32::MAX),
            u32::try_from(whole).unwrap_or(u32::MAX),
        )
    }
    /// This part of these marks, rounded once, half to even.
    #[must_use]
    pub fn of(self, marks: Marks) -> Marks {
        marks.share(self.part, self.whole)
    }
    /// For figures.
    #[must_use]
    pub fn as_f64(self) -> f64 {
        f64::from(self.part) / f64::from(self.whole.get())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_share_stays_between_nothing_and_all() {
        assert_eq!(Share::new(3, 2).as_f64(), 1.0);
        assert_eq!(Share::new(3, 0), Share::NONE);
        assert_eq!(Share::of_counts(-2, 5).as_f64(), 0.0);
        assert_eq!(Share::HALF.of(Marks::ONE), Marks::from_thousandths(500));
        assert_eq!(Share::new(1, 3).of(Marks::ONE).to_string(), "0.333");
    }
}
