//! A sheet as printed.

/// A PDF and how many pages it has.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Printed {
    /// The file's bytes.
    pub pdf: Vec<u8>,
    /// How many pages it has.
    pub pages: usize,
}
