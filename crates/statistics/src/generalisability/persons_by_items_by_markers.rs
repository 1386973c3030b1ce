//! How much of the spread of marks is persons, samples and markers, and what do they do together?
//!
//! Source: Brennan 2001, ch. 3 (p×i×j): mean squares and their expectations; negative estimates are
//! left as they are. Invalid: markers who did not all mark everything (see
//! [`super::persons_by_raters_in_tasks`]); gaps. Smallest: two of each; with two markers the
//! component of markers has one degree of freedom and says little. Ties: none. Missing: refused.

use crate::generalisability::crossed_scores::CrossedScores;
use crate::generalisability::decision_study::{DecisionStudy, ErrorPart, decision_study};
use crate::refusal::Refusal;

/// The seven components of persons by questions by markers.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct PersonsByItemsByMarkers {
    /// Variance of persons.
    pub person: f64,
    /// Variance of questions or samples.
    pub item: f64,
    /// Variance of markers: their severity.
    pub marker: f64,
    /// Persons with questions.
    pub person_item: f64,
    /// Persons with markers.
    pub person_marker: f64,
    /// Questions with markers.
    pub item_marker: f64,
    /// All three together, and all else.
    pub residual: f64,
    /// Mean of all marks.
    pub mean: f64,
    /// Number of persons, questions and markers.
    pub sizes: [usize; 3],
}

/// The components of a full table; the second way holds questions, the third markers.
///
/// # Errors
/// None beyond those of [`CrossedScores::new`]; the result is a `Result` like its neighbours'.
pub fn persons_by_items_by_markers(
    scores: &CrossedScores,
) -> Result<PersonsByItemsByMarkers, Refusal> {
    let squares = scores.squares();
    let [np, ni, nj] = scores.sizes.map(|size| size as f64);
    let (p, i, j) = (
        squares.first.mean(),
        squares.second.mean(),
        squares.third.mean(),
    );
    let (pi, pj, ij) = (
        squares.first_second.mean(),
        squares.first_third.mean(),
        squares.second_third.mean(),
    );
    let pij = squares.all.mean();
    Ok(PersonsByItemsByMarkers {
        person: (p - pi - pj + pij) / (ni * nj),
        item: (i - pi - ij + pij) / (np * nj),
        marker: (j - pj - ij + pij) / (np * ni),
        person_item: (pi - pij) / nj,
        person_marker: (pj - pij) / ni,
        item_marker: (ij - pij) / np,
        residual: pij,
        mean: scores.mean(),
        sizes: scores.sizes,
    })
}

impl PersonsByItemsByMarkers {
    /// What so many questions, each marked by so many markers, would yield.
    ///
    /// # Errors
    /// `Refusal::NotDefined` when persons show no variance; `Refusal::OutOfRange` below one of each.
    pub fn decision_study(&self, items: usize, markers: usize) -> Result<DecisionStudy, Refusal> {
        let (items, markers) = (items as f64, markers as f64);
        let part = |variance, conditions, with_persons| ErrorPart {
            variance,
            conditions,
            with_persons,
        };
        decision_study(
            self.person,
            &[
                part(self.person_item, items, true),
                part(self.person_marker, markers, true),
                part(self.residual, items * markers, true),
                part(self.item, items, false),
                part(self.marker, markers, false),
                part(self.item_marker, items * markers, false),
            ],
        )
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn a_second_marker_who_repeats_the_first_adds_nothing() {
        // Marker 2 gives the marks of marker 1 plus 1: all is persons, items and severity.
        let base = [[3.0, 1.0], [4.0, 4.0], [2.0, 3.0], [5.0, 2.0]];
        let cells = base
            .iter()
            .flatten()
            .flat_map(|mark| [*mark, mark + 1.0])
            .collect();
        let made =
            persons_by_items_by_markers(&CrossedScores::new(4, 2, 2, cells).unwrap()).unwrap();
        assert!(made.residual.abs() < 1e-14 && made.person_marker.abs() < 1e-14);
        assert!((made.marker - 0.5).abs() < 1e-14, "{made:?}");
        let one = made.decision_study(2, 1);
        let two = made.decision_study(2, 2);
        if let (Ok(one), Ok(two)) = (one, two) {
            assert!((one.generalisability - two.generalisability).abs() < 1e-14);
        }
        assert!(made.decision_study(0, 1).is_err());
    }
}
