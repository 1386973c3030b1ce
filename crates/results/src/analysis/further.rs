//! Further figures: what else the answers tell about the paper, each with what to make of it.
//!
//! They stand in one table behind the first sentences. A figure that n, or the answers, do not carry
//! keeps its line, and says why.

mod at_the_cut;
mod halves_and_bounds;
mod markers;
pub(super) mod on_the_scale;
mod parts_together;
mod spread_of_marks;
mod table_of_figures;

pub use markers::marker_shares;
pub use parts_together::{PartOfTotal, parts_together};
pub use table_of_figures::FurtherFigure;

use super::reliability_by_set::SetReliability;
use super::responses::{QuestionSet, Responses};
use super::smallest::Need;

/// Figures of the largest set of questions that candidates had in common, and of all answers.
pub(super) fn further(
    responses: &Responses,
    sets: &[QuestionSet],
    reliability: &[SetReliability],
    pass_mark: Option<f64>,
) -> Vec<FurtherFigure> {
    let mut made = Vec::new();
    let (Some(set), Some(known)) = (sets.first(), reliability.first()) else {
        return made;
    };
    // Where so few sat that alpha is refused, its neighbours say no more than it would.
    if Need::Reliability.refused(set.candidates.len()).is_some() {
        return made;
    }
    let Ok(table) = responses.score_table(set) else {
        return made;
    };
    made.extend(halves_and_bounds::figures(responses, set, &table));
    made.extend(at_the_cut::figures(set, &table, known, pass_mark));
    made.extend(spread_of_marks::figures(responses, sets, pass_mark));
    made
}
