//! Why a figure is not given: an answer with a name, printed where the figure would stand.

/// The reason for which an estimator declines.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error, serde::Serialize)]
pub enum Refusal {
    /// There is less of something than the method can work with.
    #[error("{have} {of}: at least {need} are needed ({reason}); sittings can be pooled by form")]
    TooFew {
        /// What there is too little of.
        of: &'static str,
        /// How many there are.
        have: usize,
        /// The smallest number that would do.
        need: usize,
        /// Why that many, with its source.
        reason: &'static str,
    },
    /// Everybody has the same value, so nothing can be told apart.
    #[error("all {of} are equal: there is no variance to explain")]
    NoVariance {
        /// What has no variance.
        of: &'static str,
    },
    /// One column has the same value in every row.
    #[error("column {column} (counted from 0) has no variance")]
    ConstantColumn {
        /// Its place, counted from 0.
        column: usize,
    },
    /// A row is longer or shorter than the first.
    #[error("row {row} (counted from 0) has {have} values where {expected} are expected")]
    UnevenRows {
        /// Its place, counted from 0.
        row: usize,
        /// Its length.
        have: usize,
        /// The length of the first row.
        expected: usize,
    },
    /// A value is not a finite number.
    #[error("row {row}, column {column} (counted from 0) holds no finite number")]
    NotANumber {
        /// Row, counted from 0.
        row: usize,
        /// Column, counted from 0.
        column: usize,
    },
    /// Two lists that belong together differ in length.
    #[error("{of}: {have} values where {expected} are expected")]
    UnequalLengths {
        /// Which lists.
        of: &'static str,
        /// The length of the second.
        have: usize,
        /// The length of the first.
        expected: usize,
    },
    /// A value lies outside what the method allows.
    #[error("{of} is {value}; allowed is {allowed}")]
    OutOfRange {
        /// Which value.
        of: &'static str,
        /// What it was.
        value: f64,
        /// What is allowed, in words.
        allowed: &'static str,
    },
    /// The formula has no value for these data.
    #[error("{of} is not defined here: {because}")]
    NotDefined {
        /// Which figure.
        of: &'static str,
        /// Why, in words.
        because: &'static str,
    },
    /// A search did not settle.
    #[error("{of} did not settle within {steps} steps")]
    NotSettled {
        /// Which figure.
        of: &'static str,
        /// After how many steps the search was given up.
        steps: usize,
    },
}

/// Refuses when there is less than `need` of something.
pub(crate) fn at_least(
    need: usize,
    have: usize,
    of: &'static str,
    reason: &'static str,
) -> Result<(), Refusal> {
    if have < need {
        Err(Refusal::TooFew {
            of,
            have,
            need,
            reason,
        })
    } else {
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn says_what_is_missing_and_the_way_out() {
        let refusal = at_least(2, 1, "candidates", "a variance needs two");
        let words = refusal.map_err(|reason| reason.to_string());
        assert_eq!(
            words,
            Err(
                "1 candidates: at least 2 are needed (a variance needs two); \
                 sittings can be pooled by form"
                    .to_owned()
            )
        );
    }
}
