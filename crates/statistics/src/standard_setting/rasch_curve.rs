//! The Rasch curve: how probable a right answer is at an ability (Rasch 1960).

use crate::halving::last_place;
use crate::sums::sum;

/// Probability of a right answer.
pub(crate) fn probability(ability: f64, difficulty: f64) -> f64 {
    1.0 / (1.0 + libm::exp(difficulty - ability))
}

/// Expected total at an ability.
pub(crate) fn expected_total(ability: f64, difficulties: &[f64]) -> f64 {
    sum(difficulties.iter().map(|b| probability(ability, *b)))
}

/// The ability at which a total is expected, for totals strictly between 0 and their number.
pub(crate) fn ability_of_total(total: f64, difficulties: &[f64]) -> f64 {
    let (mut low, mut high) = (-50.0, 50.0);
    for difficulty in difficulties {
        low = f64::min(low, difficulty - 50.0);
        high = f64::max(high, difficulty + 50.0);
    }
    last_place(
        |ability| expected_total(ability, difficulties) < total,
        low,
        high,
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn half_of_equal_questions_is_their_difficulty() {
        assert!((ability_of_total(2.0, &[0.7, 0.7, 0.7, 0.7]) - 0.7).abs() < 1e-12);
        assert_eq!(probability(1.0, 1.0), 0.5);
    }
}
