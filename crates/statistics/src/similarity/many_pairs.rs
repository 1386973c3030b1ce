//! Which of many pairs stand out when each had its chance to do so by accident?
//!
//! Source: Holm 1979: probabilities in rising order, the i-th times (m − i + 1), never falling, at
//! most 1; whatever the dependence of the pairs, the chance of one false finding stays below the
//! level. Invalid: pairs picked after seeing their answers: `looked_at` counts every pair that was or
//! could have been looked at (all neighbours of the seat map, or all n(n − 1)/2). Ties: equal
//! probabilities stay equal. Missing: pairs without a figure are not in the list, but are counted.

use crate::refusal::Refusal;

/// Adjusts the probabilities of pairs, in the order given.
///
/// # Errors
/// `Refusal::OutOfRange` for what is no probability, or when fewer pairs were looked at than listed.
pub fn many_pairs(probabilities: &[f64], looked_at: usize) -> Result<Vec<f64>, Refusal> {
    if let Some(wrong) = probabilities.iter().find(|p| !(0.0..=1.0).contains(*p)) {
        return Err(Refusal::OutOfRange {
            of: "a probability",
            value: *wrong,
            allowed: "0 to 1",
        });
    }
    if looked_at < probabilities.len() {
        return Err(Refusal::OutOfRange {
            of: "number of pairs looked at",
            value: looked_at as f64,
            allowed: "at least those listed",
        });
    }
    let mut order: Vec<(usize, f64)> = probabilities.iter().copied().enumerate().collect();
    order.sort_by(|one, other| one.1.total_cmp(&other.1));
    let mut reached: f64 = 0.0;
    let mut adjusted: Vec<(usize, f64)> = order
        .iter()
        .enumerate()
        .map(|(rank, (place, p))| {
            reached = reached.max((p * (looked_at - rank) as f64).min(1.0));
            (*place, reached)
        })
        .collect();
    adjusted.sort_by_key(|(place, _)| *place);
    Ok(adjusted.into_iter().map(|(_, p)| p).collect())
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn holm_s_steps_by_hand() {
        let made = many_pairs(&[0.01, 0.04, 0.03, 0.005], 4).unwrap();
        for (one, expected) in made.iter().zip([0.03, 0.06, 0.06, 0.02]) {
            assert!((one - expected).abs() < 1e-15, "{made:?}");
        }
        assert!(many_pairs(&[0.001], 1225).unwrap()[0] > 0.99);
        assert!(many_pairs(&[1.2], 1).is_err() && many_pairs(&[0.1, 0.2], 1).is_err());
    }
}
