//! A value and all faults found on the way to it.

use crate::fault::Fault;

/// What checking gives: a value where no fault stood in the way, and everything that was found.
#[derive(Debug, Clone, PartialEq)]
pub struct Checked<T> {
    /// The checked value; none where a fault was found.
    pub value: Option<T>,
    /// Faults and weaknesses in the order of the text.
    pub faults: Vec<Fault>,
}

impl<T> Checked<T> {
    /// A value, kept only where all that was found are weaknesses.
    #[must_use]
    pub fn new(value: Option<T>, faults: Vec<Fault>) -> Self {
        let sound = faults.iter().all(Fault::is_weakness);
        Self {
            value: value.filter(|_| sound),
            faults,
        }
    }
    /// Moves the faults to a common list and hands out the value.
    pub fn collect_into(self, faults: &mut Vec<Fault>) -> Option<T> {
        faults.extend(self.faults);
        self.value
    }
}
