//! How resampling and simulation receive their numbers: no generator lives in this room.

/// Someone who hands in numbers. The exam's named seed streams do so in use; a written-down list
/// does so in tests.
pub trait RandomInput {
    /// A whole number from 0 to `bound` - 1, each equally likely; 0 when `bound` is 0.
    fn below(&mut self, bound: u32) -> u32;

    /// A number in 0 to 1, 1 left out.
    fn unit(&mut self) -> f64;
}
