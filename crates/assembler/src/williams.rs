//! Serving orders in which every sample stands equally often in every place and equally often right
//! before every other.
//!
//! Source: E. J. Williams 1949, Australian Journal of Scientific Research A 2:149-168: balanced in t
//! sequences for an even number t of samples, in 2t for an odd one. The construction: the first row
//! runs 0, 1, t-1, 2, t-2, …; each further row adds 1 to every number, modulo t; for odd t the same
//! rows follow once more, each read backwards.

/// The rows of the design for so many samples, numbered from 0. One sample has one row.
#[must_use]
pub fn williams(samples: usize) -> Vec<Vec<usize>> {
    match samples {
        0 => Vec::new(),
        1 => vec![vec![0]],
        _ => {
            let first: Vec<usize> = (0..samples)
                .map(|place| {
                    if place % 2 == 1 {
                        place.div_ceil(2)
                    } else {
                        (samples - place / 2) % samples
                    }
                })
                .collect();
            let shifted = |shift: usize| first.iter().map(move |n| (n + shift) % samples);
            let mut rows: Vec<Vec<usize>> =
                (0..samples).map(|shift| shifted(shift).collect()).collect();
            if samples % 2 == 1 {
                rows.extend((0..samples).map(|shift| shifted(shift).rev().collect::<Vec<_>>()));
            }
            rows
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::order_balance::order_balance;

    #[test]
    fn balanced_for_two_to_twelve_samples() {
        for samples in 2..=12 {
            let rows = williams(samples);
            let round = if samples % 2 == 0 { 1 } else { 2 };
            assert_eq!(rows.len(), round * samples, "{samples}");
            for row in &rows {
                let mut sorted = row.clone();
                sorted.sort_unstable();
                assert_eq!(sorted, (0..samples).collect::<Vec<_>>());
            }
            let balance = order_balance(samples, &rows);
            for (sample, places) in balance.in_place.iter().enumerate() {
                assert!(places.iter().all(|&n| n == round), "{samples}: {sample}");
            }
            for (before, after) in balance.right_before.iter().enumerate() {
                for (other, &times) in after.iter().enumerate() {
                    assert_eq!(times, if before == other { 0 } else { round }, "{samples}");
                }
            }
        }
    }

    #[test]
    fn none_and_one() {
        assert!(williams(0).is_empty());
        assert_eq!(williams(1), [[0]]);
    }
}
