//! Key position: among best-answer questions whose options keep their order, the key stands in one
//! place too often (or too seldom), so that a guess at that place pays.
//!
//! Where options are shuffled, the draw sees to it. For the others, of one number of options at a
//! time: the chi-square statistic of the counts against equal ones (Pearson 1900), taken as a
//! weakness where chance alone gives as much in fewer than one bank of a hundred. Fewer than five
//! questions expected in a place say nothing (Cochran 1954, from memory).

use std::collections::BTreeMap;

use base::Fault;
use statistics::distribution::chi_square::upper_tail;

use super::choice::choice;
use crate::question::Question;

const RARER_THAN: f64 = 0.01;
const FEWEST_IN_A_PLACE: usize = 5;

/// Finds numbers of options for which keys stand out of balance.
pub(super) fn find(questions: &[&Question]) -> Vec<Fault> {
    let mut counts: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for question in questions {
        let Some(choice) = choice(question).filter(|choice| choice.only_key.is_some()) else {
            continue;
        };
        // Where numbers are drawn, the place of the key is drawn with them.
        let drawn = question.kind.drawings(1).is_some();
        let key = choice.options.iter().position(|option| option.key);
        let (true, false, Some(key)) = (choice.keep_order, drawn, key) else {
            continue;
        };
        let options = choice.options.len();
        let places = counts.entry(options).or_insert_with(|| vec![0; options]);
        if let Some(count) = places.get_mut(key) {
            *count += 1;
        }
    }
    counts
        .into_values()
        .filter_map(|places| key_balance(&places, "in a fixed order"))
        .collect()
}

/// Whether keys stand in some places too often, by how often they stand in each; `where_at` says
/// of which questions: "in a fixed order", "on form A".
#[must_use]
pub fn key_balance(places: &[usize], where_at: &str) -> Option<Fault> {
    let questions: usize = places.iter().sum();
    if places.len() < 2 || questions < FEWEST_IN_A_PLACE * places.len() {
        return None;
    }
    let expected = questions as f64 / places.len() as f64;
    let chi_square: f64 = places
        .iter()
        .map(|count| {
            let difference = *count as f64 - expected;
            difference * difference / expected
        })
        .sum();
    if upper_tail(chi_square, (places.len() - 1) as f64) >= RARER_THAN {
        return None;
    }
    let told: Vec<String> = places
        .iter()
        .zip('A'..)
        .map(|(count, letter)| format!("{letter} in {count}"))
        .collect();
    Some(
        Fault::weakness(
            "key-position",
            None,
            format!(
                "of {questions} best-answer questions with {} options {where_at} the key is {}",
                places.len(),
                told.join(", ")
            ),
        )
        .allowed(format!("about {expected:.0} in each place"))
        .hint("choose other distractors, so that the key moves, or let the options be shuffled"),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::choice::tests::best_answer;
    use crate::question_kind::QuestionKind;

    fn unbalanced(places: &[usize]) -> Option<Fault> {
        key_balance(places, "in a fixed order")
    }

    #[test]
    fn counts_that_chance_gives_are_let_be() {
        assert!(unbalanced(&[18, 18, 12]).is_none());
        assert!(unbalanced(&[2, 0, 10]).is_none(), "too few to say");
        // By hand: expected 10, chi-square (100 + 25 + 25) / 10 = 15, chance 0.00055.
        assert!(unbalanced(&[20, 5, 5]).is_some());
        // Chi-square (49 + 9 + 16) / 10 = 7.4, chance 0.025.
        assert!(unbalanced(&[17, 7, 6]).is_none());
        assert!(unbalanced(&[]).is_none());
    }

    #[test]
    fn only_fixed_orders_count() {
        let first = best_answer("What?", &["a", "b", "c"]);
        let many: Vec<&Question> = std::iter::repeat_n(&first, 30).collect();
        assert_eq!(find(&many).len(), 1);
        let mut shuffled = first.clone();
        if let QuestionKind::BestAnswer(kind) = &mut shuffled.kind {
            kind.keep_order = false;
        }
        let many: Vec<&Question> = std::iter::repeat_n(&shuffled, 30).collect();
        assert!(find(&many).is_empty());
    }
}
