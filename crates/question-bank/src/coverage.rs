//! How many exams a bank can fill, cell by cell, before questions have to come again.

use base::CellId;

use crate::bank::Bank;
use crate::question::Level;

/// What every exam takes from one cell of the blueprint.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Quota {
    /// The cell.
    pub cell: CellId,
    /// Questions of this level only; any level where none is named.
    pub level: Option<Level>,
    /// How many questions an exam takes.
    pub questions: usize,
    /// How many of them may have stood in the exam before.
    pub kept: usize,
}

/// How long a cell lasts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CellCoverage {
    /// What is taken.
    pub quota: Quota,
    /// Questions that count, may be used in an exam, and belong there. Enemies are not allowed for:
    /// where two of them are counted, the cell may run dry an exam earlier.
    pub available: usize,
    /// How long that lasts.
    pub lasts: Lasts,
}

/// For how many exams a cell has questions.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Lasts {
    /// It runs dry after so many exams; 0: it does not fill even one.
    Exams(usize),
    /// It never runs dry: nothing new is taken each time.
    Always,
}

/// How long each cell lasts, in the order of the quotas.
///
/// The first exam takes `questions`, each later one only what it may not keep, so a cell of n
/// questions lasts for 1 + (n - questions) / (questions - kept) exams, rounded down. Quotas for
/// single levels and for the whole of one cell draw on the same questions: where both are given,
/// each is counted as if the other took nothing.
#[must_use]
pub fn coverage(bank: &Bank, quotas: &[Quota]) -> Vec<CellCoverage> {
    quotas
        .iter()
        .map(|quota| {
            let available = bank
                .questions
                .values()
                .filter(|question| question.cell == quota.cell)
                .filter(|question| quota.level.is_none_or(|level| question.level == level))
                .filter(|question| question.state.counts() && !question.practice_only)
                .count();
            CellCoverage {
                quota: quota.clone(),
                available,
                lasts: lasts(available, quota),
            }
        })
        .collect()
}

fn lasts(available: usize, quota: &Quota) -> Lasts {
    let Some(rest) = available.checked_sub(quota.questions) else {
        return Lasts::Exams(0);
    };
    match rest.checked_div(quota.questions.saturating_sub(quota.kept)) {
        Some(more) => Lasts::Exams(1 + more),
        None => Lasts::Always,
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn quota(questions: usize, kept: usize) -> Quota {
        Quota {
            cell: CellId::parse("law").unwrap(),
            level: None,
            questions,
            kept,
        }
    }

    #[test]
    fn a_cell_lasts_as_long_as_new_questions_are_left() {
        assert_eq!(lasts(10, &quota(4, 0)), Lasts::Exams(2));
        assert_eq!(lasts(10, &quota(4, 2)), Lasts::Exams(4));
        assert_eq!(lasts(3, &quota(4, 2)), Lasts::Exams(0));
        assert_eq!(lasts(4, &quota(4, 4)), Lasts::Always);
        assert_eq!(lasts(0, &quota(0, 0)), Lasts::Always);
    }

    proptest! {
        /// Taking questions exam by exam comes to the same.
        #[test]
        fn the_formula_is_what_taking_exam_by_exam_gives(
            available in 0_usize..200, questions in 1_usize..20, kept in 0_usize..19,
        ) {
            prop_assume!(kept < questions);
            let mut left = available;
            let mut exams = 0;
            let mut taken = questions;
            while left >= taken {
                left -= taken;
                exams += 1;
                taken = questions - kept;
            }
            prop_assert_eq!(lasts(available, &quota(questions, kept)), Lasts::Exams(exams));
        }
    }
}
