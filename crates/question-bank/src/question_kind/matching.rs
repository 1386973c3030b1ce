//! Two columns to be joined.

/// A checked matching question: two to seven pairs, each left and each right entry different, and
/// right-hand entries that match nothing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Matching {
    /// What is asked.
    pub stem: String,
    /// The true pairs; the left column is printed in this order, numbered.
    pub pairs: Vec<Pair>,
    /// Right-hand entries that match nothing.
    pub distractors: Vec<String>,
    /// Why the pairs are right.
    pub why: String,
}

/// A true pair.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pair {
    /// The numbered entry.
    pub left: String,
    /// The lettered entry that belongs to it.
    pub right: String,
}

impl Matching {
    /// The right column before shuffling: the entries of the pairs, then the distractors. The entry
    /// at place i belongs to the left entry at place i.
    #[must_use]
    pub fn right_column(&self) -> Vec<&str> {
        let pairs = self.pairs.iter().map(|pair| pair.right.as_str());
        pairs
            .chain(self.distractors.iter().map(String::as_str))
            .collect()
    }
}
