//! Numbers for resampled errors: the same table gives the same error, on any machine.
//!
//! SplitMix64 (Steele, Lea & Flood 2014) from a fixed start. It draws no exam and decides nothing
//! about anybody, so it needs no seed stream; a number below n is taken by multiplication, whose
//! bias (below n/2⁶⁴) no error of an error shows.

use statistics::RandomInput;

/// A run of numbers from a fixed start.
#[derive(Debug, Clone)]
pub(crate) struct Resampling(u64);

impl Resampling {
    /// From the start.
    #[must_use]
    pub(crate) const fn new() -> Self {
        Self(0x5EED)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }
}

impl Default for Resampling {
    fn default() -> Self {
        Self::new()
    }
}

impl RandomInput for Resampling {
    fn below(&mut self, bound: u32) -> u32 {
        ((u128::from(self.next()) * u128::from(bound)) >> 64) as u32
    }

    fn unit(&mut self) -> f64 {
        (self.next() >> 11) as f64 / 9_007_199_254_740_992.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_published_numbers_of_the_generator() {
        // First outputs from start 0: the generator's reference implementation (from memory).
        let mut zero = Resampling(0);
        assert_eq!(zero.next(), 0xE220_A839_7B1D_CDAF);
        assert_eq!(zero.next(), 0x6E78_9E6A_A1B9_65F4);
        let mut one = Resampling::new();
        assert!((0..1000).all(|_| one.below(7) < 7));
        assert_eq!(one.below(0), 0);
        assert!((0..1000).all(|_| (0.0..1.0).contains(&one.unit())));
    }
}
