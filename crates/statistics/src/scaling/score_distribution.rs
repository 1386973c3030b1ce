//! The distribution of a total over independent questions, with and without each of them.
//!
//! Source: Lord & Wingersky 1984, eq. 3, extended to several categories (Thissen et al. 1995). With
//! category weights in place of probabilities the same sums are the elementary symmetric functions of
//! conditional likelihood (Fischer & Molenaar 1995, ch. 3), here scaled so that nothing overflows.

/// The total of all questions, and of all but each one.
pub(crate) struct ScoreDistribution {
    /// Probability of each total.
    pub(crate) whole: Vec<f64>,
    /// Probability of each total of the other questions, by the question left out.
    pub(crate) without: Vec<Vec<f64>>,
}

/// Works out both from the category probabilities of each question.
pub(crate) fn score_distribution(items: &[Vec<f64>]) -> ScoreDistribution {
    let nothing = vec![1.0];
    // before[j]: questions 0 to j-1; after[j]: questions j to the last.
    let mut before = vec![nothing.clone()];
    for item in items {
        let next = before.last().map_or_else(Vec::new, |sum| joined(sum, item));
        before.push(next);
    }
    let mut after = vec![nothing; items.len() + 1];
    for (place, item) in items.iter().enumerate().rev() {
        after[place] = joined(&after[place + 1], item);
    }
    let without = (0..items.len())
        .map(|place| joined(&before[place], &after[place + 1]))
        .collect();
    ScoreDistribution {
        whole: after.swap_remove(0),
        without,
    }
}

/// The distribution of the sum of two independent counts.
pub(crate) fn joined(one: &[f64], other: &[f64]) -> Vec<f64> {
    let mut sum = vec![0.0; (one.len() + other.len()).saturating_sub(1)];
    for (low, a) in one.iter().enumerate() {
        for (high, b) in other.iter().enumerate() {
            sum[low + high] += a * b;
        }
    }
    sum
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fair_coins_and_a_die_of_three() {
        let made = score_distribution(&[vec![0.5, 0.5], vec![0.5, 0.5], vec![0.25, 0.25, 0.5]]);
        assert_eq!(made.whole, [0.0625, 0.1875, 0.3125, 0.3125, 0.125]);
        assert_eq!(made.without[2], [0.25, 0.5, 0.25]);
        assert_eq!(made.without[0], [0.125, 0.25, 0.375, 0.25]);
    }
}
