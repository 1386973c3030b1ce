//! Numbers for resampled errors: a named stream of no exam, from the seed of zero bytes, so that the
//! same table gives the same error on any machine.

use base::stream::Stream;
use base::{ExamSeed, Purpose};
use statistics::RandomInput;

/// A run of numbers from a fixed start.
pub struct Resampling(Stream);

impl Resampling {
    /// From the start of the stream of this purpose and index.
    #[must_use]
    pub fn new(purpose: Purpose, index: u64) -> Self {
        Self(Stream::new(&ExamSeed::from_bytes([0; 32]), purpose, index))
    }
}

impl RandomInput for Resampling {
    fn below(&mut self, bound: u32) -> u32 {
        if bound == 0 {
            return 0;
        }
        // Below a number of 32 bits.
        u32::try_from(self.0.below(u64::from(bound))).unwrap_or(0)
    }

    fn unit(&mut self) -> f64 {
        self.0.unit()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_keep_their_bounds_and_come_again() {
        let mut one = Resampling::new(Purpose::CandidateResample, 0);
        let mut same = Resampling::new(Purpose::CandidateResample, 0);
        assert_eq!(one.below(0), 0);
        for _ in 0..1000 {
            let number = one.below(7);
            assert!(number < 7);
            assert_eq!(number, same.below(7));
        }
        assert!((0..1000).all(|_| (0.0..1.0).contains(&one.unit())));
    }
}
