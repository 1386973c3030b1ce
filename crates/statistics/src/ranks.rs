//! Ranks of values, equal ones sharing the mean of their places.

/// One value's place among all.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Place {
    /// Mid-rank, counted from 1.
    pub(crate) rank: f64,
    /// How many values are equal to this one, itself included.
    pub(crate) tied: f64,
}

/// The place of each value.
pub(crate) fn mid_ranks(values: &[f64]) -> impl Iterator<Item = Place> + '_ {
    values.iter().map(|value| {
        let below = values.iter().filter(|other| *other < value).count() as f64;
        let tied = values.iter().filter(|other| *other == value).count() as f64;
        Place {
            rank: below + (tied + 1.0) / 2.0,
            tied,
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ties_share_their_places() {
        let ranks: Vec<f64> = mid_ranks(&[5.0, 1.0, 5.0, 9.0])
            .map(|place| place.rank)
            .collect();
        assert_eq!(ranks, [2.5, 1.0, 2.5, 4.0]);
    }
}
