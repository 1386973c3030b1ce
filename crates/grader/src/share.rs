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
    /// What is left of this share when a share that chance alone brings is taken off, in
    /// thousandths below 1000: (share - chance) / (1 - chance), nothing where chance brings more.
    #[must_use]
    pub fn less(self, chance: u32) -> Self {
        let chance = u64::from(chance.min(999));
        let (part, whole) = (u64::from(self.part), u64::from(self.whole.get()));
        let mut left = (1000 * part).saturating_sub(chance * whole);
        let mut of = (1000 - chance) * whole;
        // Without a common divisor both fit for every rule; were one ever too long, its last digits
        // would matter less than a thousandth of a mark.
        let divisor = greatest_common_divisor(left, of).max(1);
        (left, of) = (left / divisor, of / divisor);
        while of > u64::from(u32::MAX) {
            (left, of) = (left / 2, of / 2);
        }
        Self::new(
            u32::try_from(left).unwrap_or(u32::MAX),
            u32::try_from(of).unwrap_or(u32::MAX),
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

const fn greatest_common_divisor(mut a: u64, mut b: u64) -> u64 {
    while b > 0 {
        (a, b) = (b, a % b);
    }
    a
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_share_stays_between_nothing_and_all() {
        assert_eq!(Share::new(3, 2).as_f64(), 1.0);
        assert_eq!(Share::new(3, 0), Share::NONE);
        assert_eq!(Share::of_counts(-2, 5).as_f64(), 0.0);
        assert_eq!(Share::new(1, 2).less(0), Share::new(1, 2));
        assert_eq!(Share::new(1, 2).less(200), Share::new(3, 8));
        assert_eq!(Share::new(1, 5).less(200), Share::NONE.less(0));
        assert_eq!(Share::new(1, 10).less(200).as_f64(), 0.0);
        assert_eq!(Share::FULL.less(143), Share::FULL);
        let long = Share::new(u32::MAX - 1, u32::MAX).less(333).as_f64();
        assert!((long - 1.0).abs() < 1e-6);
        assert_eq!(Share::HALF.of(Marks::ONE), Marks::from_thousandths(500));
        assert_eq!(Share::new(1, 3).of(Marks::ONE).to_string(), "0.333");
    }
}
