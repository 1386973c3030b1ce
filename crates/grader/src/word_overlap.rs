//! How much of a list of words fits the key, and how much of the key it finds.
//!
//! Source: precision and recall with their weighted harmonic mean F (van Rijsbergen 1979, from
//! memory), over the total of the best one-to-one pairing. Figures for a teacher; marks are given by
//! panel weights instead, since here each key word counts the same.
//! Chance: random words without replacement find a hypergeometric number of key words. F with
//! beta 1 is linear in that number, so its mean is exact.

/// Shares of what was listed and of what was to be found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WordOverlap {
    /// Total over the words listed; 0 where none were.
    pub precision: f64,
    /// Total over the words of the key; 0 where there are none.
    pub recall: f64,
}

impl WordOverlap {
    /// The overlap of a pairing worth `total`, with values from 0 to 1 a pair.
    #[must_use]
    pub fn new(total: f64, listed: u32, reference: u32) -> Self {
        let share = |of: u32| if of == 0 { 0.0 } else { total / f64::from(of) };
        Self {
            precision: share(listed),
            recall: share(reference),
        }
    }

    /// The harmonic mean in which recall counts `beta` times as much; 0 where nothing fits.
    #[must_use]
    pub fn f_beta(self, beta: f64) -> f64 {
        let square = beta * beta;
        let below = square * self.precision + self.recall;
        if below > 0.0 {
            (1.0 + square) * self.precision * self.recall / below
        } else {
            0.0
        }
    }
}

/// What random words reach on average.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ChanceOverlap {
    /// Mean F with beta 1.
    pub f1: f64,
    /// Mean recall.
    pub recall: f64,
}

/// The mean overlap of `listed` different random words of a vocabulary with `reference` key words
/// of it, where only the very word counts.
#[must_use]
pub fn chance_overlap(vocabulary: u32, reference: u32, listed: u32) -> ChanceOverlap {
    let (reference, listed) = (reference.min(vocabulary), listed.min(vocabulary));
    if reference == 0 || listed == 0 {
        return ChanceOverlap {
            f1: 0.0,
            recall: 0.0,
        };
    }
    let (r, l) = (f64::from(reference), f64::from(listed));
    let found = l * r / f64::from(vocabulary);
    ChanceOverlap {
        f1: 2.0 * found / (l + r),
        recall: found / r,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn who_lists_nothing_and_who_lists_all() {
        assert_eq!(WordOverlap::new(0.0, 0, 8).f_beta(1.0), 0.0);
        assert_eq!(WordOverlap::new(8.0, 8, 8).f_beta(2.0), 1.0);
        assert_eq!(chance_overlap(60, 8, 90).recall, 1.0);
        assert_eq!(chance_overlap(0, 8, 8).f1, 0.0);
    }

    #[test]
    fn the_mean_by_chance_is_the_mean_over_every_list() {
        // All lists of 2 out of 5 words, of which the first 3 are the key.
        let mut f1 = Vec::new();
        for first in 0..5_u32 {
            for second in first + 1..5 {
                let found = u32::from(first < 3) + u32::from(second < 3);
                f1.push(WordOverlap::new(f64::from(found), 2, 3).f_beta(1.0));
            }
        }
        let mean = f1.iter().sum::<f64>() / 10.0;
        assert!((chance_overlap(5, 3, 2).f1 - mean).abs() < 1e-12);
    }
}
