//! What a p-value is: a probability that knows its side.

/// Which side of the distribution was counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Side {
    /// As large as seen, or larger.
    Upper,
    /// As small as seen, or smaller.
    Lower,
    /// As far from the middle as seen, or farther.
    Both,
}

/// A probability under the null hypothesis.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct PValue {
    /// The probability, 0 to 1.
    pub probability: f64,
    /// The side.
    pub side: Side,
}
