//! How much of the spread of marks is persons and tasks, when each task has markers of its own?
//!
//! Source: Brennan 2001, ch. 3 (p×(r:t)): σ²(prt) = MS(pr:t), σ²(pt) = (MS(pt) − MS(pr:t))/n_r,
//! σ²(r:t) = (MS(r:t) − MS(pr:t))/n_p, σ²(t) and σ²(p) likewise; negative estimates are left as
//! they are. Invalid: the same markers in several tasks (see [`super::persons_by_items_by_markers`]);
//! unequal numbers of markers; gaps. Smallest: two of each. Ties: none. Missing: refused.

use crate::generalisability::crossed_scores::CrossedScores;
use crate::generalisability::decision_study::{DecisionStudy, ErrorPart, decision_study};
use crate::refusal::Refusal;

/// The five components of persons by raters within tasks.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct PersonsByRatersInTasks {
    /// Variance of persons.
    pub person: f64,
    /// Variance of tasks.
    pub task: f64,
    /// Variance of raters within tasks.
    pub rater_in_task: f64,
    /// Persons with tasks.
    pub person_task: f64,
    /// Persons with raters within tasks, and all else.
    pub residual: f64,
    /// Mean of all marks.
    pub mean: f64,
    /// Number of persons, tasks and raters in each task.
    pub sizes: [usize; 3],
}

/// The components; the second way of the table holds tasks, the third the raters of that task.
///
/// # Errors
/// None beyond those of [`CrossedScores::new`]; the result is a `Result` like its neighbours'.
pub fn persons_by_raters_in_tasks(
    scores: &CrossedScores,
) -> Result<PersonsByRatersInTasks, Refusal> {
    let squares = scores.squares();
    let [np, nt, nr] = scores.sizes.map(|size| size as f64);
    let (p, t, pt) = (
        squares.first.mean(),
        squares.second.mean(),
        squares.first_second.mean(),
    );
    // Raters have no main effect across tasks: what would be one belongs to raters within tasks.
    let rt = squares.third.with(squares.second_third).mean();
    let prt = squares.first_third.with(squares.all).mean();
    Ok(PersonsByRatersInTasks {
        person: (p - pt) / (nt * nr),
        task: (t - rt - pt + prt) / (np * nr),
        rater_in_task: (rt - prt) / np,
        person_task: (pt - prt) / nr,
        residual: prt,
        mean: scores.mean(),
        sizes: scores.sizes,
    })
}

impl PersonsByRatersInTasks {
    /// What so many tasks with so many raters each would yield.
    ///
    /// # Errors
    /// `Refusal::NotDefined` when persons show no variance; `Refusal::OutOfRange` below one of each.
    pub fn decision_study(&self, tasks: usize, raters: usize) -> Result<DecisionStudy, Refusal> {
        let (tasks, raters) = (tasks as f64, raters as f64);
        let part = |variance, conditions, with_persons| ErrorPart {
            variance,
            conditions,
            with_persons,
        };
        decision_study(
            self.person,
            &[
                part(self.person_task, tasks, true),
                part(self.residual, tasks * raters, true),
                part(self.task, tasks, false),
                part(self.rater_in_task, tasks * raters, false),
            ],
        )
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn exchanging_the_raters_of_one_task_changes_nothing() {
        let cells = vec![
            5.0, 6.0, 5.0, 5.0, //
            9.0, 3.0, 7.0, 7.0, //
            3.0, 4.0, 3.0, 3.0,
        ];
        let exchanged = [
            5.0, 6.0, 5.0, 5.0, //
            9.0, 3.0, 7.0, 7.0, //
            3.0, 4.0, 3.0, 3.0,
        ]
        .chunks_exact(4)
        .flat_map(|row| [row[1], row[0], row[2], row[3]])
        .collect();
        let made = |cells| {
            persons_by_raters_in_tasks(&CrossedScores::new(3, 2, 2, cells).unwrap()).unwrap()
        };
        let (one, other) = (made(cells), made(exchanged));
        assert!((one.task - other.task).abs() < 1e-13);
        assert!((one.rater_in_task - other.rater_in_task).abs() < 1e-13);
        assert!((one.residual - other.residual).abs() < 1e-13);
    }
}
