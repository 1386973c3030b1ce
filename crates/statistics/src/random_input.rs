//! How resampling and simulation receive their numbers: no generator lives in this room.

/// Someone who hands in numbers. The exam's named seed streams do so in use; a written-down list
/// does so in tests.
pub trait RandomInput {
    /// A whole number from 0 to `bound` - 1, each equally likely; 0 when `bound` is 0.
    fn below(&mut self, bound: u32) -> u32;

    /// A number in 0 to 1, 1 left out.
    fn unit(&mut self) -> f64;
}

#[cfg(test)]
pub(crate) mod tests {
    use super::RandomInput;

    /// A linear congruential generator (Knuth's MMIX constants): good enough to test with.
    pub(crate) struct Numbers(pub u64);

    impl RandomInput for Numbers {
        fn below(&mut self, bound: u32) -> u32 {
            (self.unit() * f64::from(bound)) as u32
        }
        fn unit(&mut self) -> f64 {
            self.0 = self
                .0
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            (self.0 >> 11) as f64 / 9_007_199_254_740_992.0
        }
    }
}
