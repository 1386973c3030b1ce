//! In which order a candidate goes on when a glass must be poured again: broken, spilt or swapped.
//!
//! The glass concerned goes to the end of its block and the others move up, so that nobody waits for
//! the pourer and what carries over heavily still comes last. Common practice, no source.

use exam_plan::Exam;
use question_bank::sample_record::CarryOver;

use crate::sitting::CandidatePlace;

/// For each glass of a place, in serving order: the order of all glasses, by number from 0, that
/// holds when this one must be poured again.
#[must_use]
pub fn reserve_orders(exam: &Exam, place: &CandidatePlace) -> Vec<Vec<usize>> {
    let heavy: Vec<bool> = place
        .glasses
        .iter()
        .map(|glass| {
            exam.sample(&glass.sample)
                .is_some_and(|s| s.carry_over == CarryOver::Heavy)
        })
        .collect();
    (0..heavy.len())
        .map(|gone| put_last(&heavy, gone))
        .collect()
}

/// For each glass of a place, in serving order: the glass, by number from 0, after which this one is
/// tasted when it must be poured again; none where it keeps its place, being the last of its block.
#[must_use]
pub fn tasted_again_after(exam: &Exam, place: &CandidatePlace) -> Vec<Option<usize>> {
    let orders = reserve_orders(exam, place);
    let after = orders.iter().enumerate().map(|(glass, order)| {
        let at = order.iter().position(|&n| n == glass)?;
        let before = *order.get(at.checked_sub(1)?)?;
        (before + 1 != glass).then_some(before)
    });
    after.collect()
}

/// All numbers in order, with one moved behind the last of its block.
fn put_last(heavy: &[bool], gone: usize) -> Vec<usize> {
    let in_block = |wanted: bool| {
        let numbers = heavy.iter().enumerate();
        numbers.filter(move |(_, h)| **h == wanted).map(|(n, _)| n)
    };
    let mut order = Vec::with_capacity(heavy.len());
    for block in [false, true] {
        order.extend(in_block(block).filter(|n| *n != gone));
        order.extend(in_block(block).filter(|n| *n == gone));
    }
    order
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_glass_goes_to_the_end_of_its_block() {
        let heavy = [false, false, false, true, true];
        assert_eq!(put_last(&heavy, 0), [1, 2, 0, 3, 4]);
        assert_eq!(put_last(&heavy, 2), [0, 1, 2, 3, 4]);
        assert_eq!(put_last(&heavy, 3), [0, 1, 2, 4, 3]);
        assert_eq!(put_last(&[false], 0), [0]);
    }
}
