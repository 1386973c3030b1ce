//! L14: a best-answer question has another number of options than the bank's others, so that
//! guessing pays more or less there (HDR 18: three are enough; Rodriguez 2005, from memory).
//!
//! The usual number is three, until thirty best-answer questions or more say otherwise by their
//! majority.

use std::collections::BTreeMap;

use base::Fault;

use super::choice::choice;
use crate::question::Question;

const ADVISED: usize = 3;
const ENOUGH_TO_SAY: usize = 30;

/// Finds questions with an unusual number of options.
pub(super) fn find<'q>(questions: &[&'q Question]) -> Vec<(&'q Question, Fault)> {
    let numbers: Vec<(&Question, usize)> = questions
        .iter()
        .filter_map(|question| {
            let choice = choice(question).filter(|choice| choice.only_key.is_some())?;
            // The options of drawn numbers are as many as there are known mistakes.
            let drawn = question.kind.drawings(1).is_some();
            (!drawn).then_some((*question, choice.options.len()))
        })
        .collect();
    let mut counts: BTreeMap<usize, usize> = BTreeMap::new();
    for (_, number) in &numbers {
        *counts.entry(*number).or_default() += 1;
    }
    let usual = counts
        .iter()
        .find(|(_, count)| numbers.len() >= ENOUGH_TO_SAY && **count * 2 > numbers.len())
        .map_or(ADVISED, |(number, _)| *number);
    numbers
        .into_iter()
        .filter(|(_, number)| *number != usual)
        .map(|(question, number)| {
            let weakness = Fault::weakness(
                "L14-number-of-options",
                question.place.clone(),
                format!(
                    "\"{}\" has {number} options, the bank's best-answer questions have {usual} (L14, HDR 18)",
                    question.id
                ),
            )
            .hint(if number > usual {
                "strike out the distractor that deceives nobody"
            } else {
                "add a distractor that a candidate with a known mistake would choose"
            });
            (question, weakness)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::choice::tests::best_answer;

    #[test]
    fn three_are_usual_until_the_bank_says_otherwise() {
        let three = best_answer("What?", &["a", "b", "c"]);
        let four = best_answer("What?", &["a", "b", "c", "d"]);
        let found = |threes: usize, fours: usize| {
            let mut all: Vec<&Question> = std::iter::repeat_n(&three, threes).collect();
            all.extend(std::iter::repeat_n(&four, fours));
            find(&all).len()
        };
        assert_eq!(found(1, 1), 1, "the one with four");
        assert_eq!(found(2, 20), 20);
        assert_eq!(found(2, 28), 2, "now four are usual");
        assert_eq!(found(15, 15), 15, "no majority");
    }
}
