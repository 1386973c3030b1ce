//! Who chose which option of a question?
//!
//! Source: definitions: counts, Pearson's r of "chose this option" (0 or 1) with the total of the
//! other questions, and the mean total of those who chose it. A working distractor is chosen by some
//! and by weaker candidates. Missing: a blank is counted by itself. Invalid: with few candidates an
//! option chosen by three people says nothing.

use crate::descriptive::correlation_interval::{Correlation, correlation};
use crate::interval::Confidence;
use crate::refusal::Refusal;
use crate::sums::mean;

/// One option.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct OptionRow {
    /// How many chose it.
    pub chosen: usize,
    /// Correlation with the rest of the test; a refusal when nobody or everybody chose it.
    pub with_rest: Result<Correlation, Refusal>,
    /// Mean total of those who chose it; a refusal when nobody did.
    pub mean_total: Result<f64, Refusal>,
}

/// The options of one question.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct OptionTable {
    /// One row per option, in their order.
    pub options: Vec<OptionRow>,
    /// How many left it blank.
    pub blank: usize,
    /// Number of candidates.
    pub n: usize,
}

/// Counts the choices of one question. `choices` holds the place of the option that each candidate
/// chose, `None` for a blank; `rest` their totals without this question; `totals` with it.
///
/// # Errors
/// `Refusal::UnequalLengths`, or `Refusal::OutOfRange` for an option beyond `options`.
pub fn option_table(
    choices: &[Option<usize>],
    options: usize,
    rest: &[f64],
    totals: &[f64],
    confidence: Confidence,
) -> Result<OptionTable, Refusal> {
    for have in [rest.len(), totals.len()] {
        if have != choices.len() {
            return Err(Refusal::UnequalLengths {
                of: "totals beside choices",
                have,
                expected: choices.len(),
            });
        }
    }
    if let Some(beyond) = choices.iter().flatten().find(|choice| **choice >= options) {
        return Err(Refusal::OutOfRange {
            of: "place of an option",
            value: *beyond as f64,
            allowed: "below the number of options",
        });
    }
    let rows = (0..options)
        .map(|option| {
            let chose = |choice: &Option<usize>| *choice == Some(option);
            let marks: Vec<f64> = choices
                .iter()
                .map(|choice| if chose(choice) { 1.0 } else { 0.0 })
                .collect();
            let theirs: Vec<f64> = choices
                .iter()
                .zip(totals)
                .filter(|(choice, _)| chose(choice))
                .map(|(_, total)| *total)
                .collect();
            OptionRow {
                chosen: theirs.len(),
                with_rest: correlation(&marks, rest, confidence),
                mean_total: mean(&theirs),
            }
        })
        .collect();
    Ok(OptionTable {
        options: rows,
        blank: choices.iter().filter(|choice| choice.is_none()).count(),
        n: choices.len(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn everybody_is_in_one_row() {
        let choices = [Some(0), Some(1), None, Some(0), Some(0)];
        let totals = [5.0, 2.0, 1.0, 4.0, 3.0];
        let made = option_table(&choices, 3, &totals, &totals, Confidence::P95).unwrap();
        let counts: Vec<usize> = made.options.iter().map(|row| row.chosen).collect();
        assert_eq!((counts, made.blank), (vec![3, 1, 0], 1));
        assert_eq!(made.options[0].mean_total, Ok(4.0));
        assert!(made.options[2].mean_total.is_err() && made.options[2].with_rest.is_err());
        assert!(option_table(&choices, 1, &totals, &totals, Confidence::P95).is_err());
    }
}
