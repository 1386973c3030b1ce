//! Which cells of the blueprint may be named to a candidate: those whose marks tell more about the
//! cell than the whole theory part does.
//!
//! Source: Haberman 2008 (statistics::reliability::subscore_value). Forms hold other questions for
//! the same cells, so every score is taken from the mean of its form, and a cell whose number of
//! questions differs between forms is not named. Reliability of a cell: coefficient alpha.

use std::collections::{BTreeMap, BTreeSet};

use base::{CellId, FormName};
use exam_plan::Exam;
use grader::Item;
use statistics::reliability::cronbach_alpha::cronbach_alpha;
use statistics::reliability::subscore_value::{FEWEST_CANDIDATES, subscore_value};
use statistics::{Confidence, Refusal, ScoreTable};

use crate::decide::Outcome;
use crate::script::Script;

/// Which cells may be named, or why none.
#[derive(Debug, Clone, PartialEq)]
pub enum CellWorth {
    /// There are too few candidates to tell.
    TooFew {
        /// So many sat the theory part, all their answers marked.
        have: usize,
        /// So many would do.
        need: usize,
    },
    /// The cells whose marks say more about the cell than the whole does; often none.
    Named(BTreeSet<CellId>),
}

impl CellWorth {
    /// Looks at all who were there and whose theory answers are all marked.
    #[must_use]
    pub fn of(exam: &Exam, scripts: &[Script<'_>]) -> Self {
        let papers: Vec<Paper> = scripts.iter().filter_map(|s| paper(exam, s)).collect();
        if papers.len() < FEWEST_CANDIDATES && papers.iter().any(|paper| !paper.cells.is_empty()) {
            return Self::TooFew {
                have: papers.len(),
                need: FEWEST_CANDIDATES,
            };
        }
        let mut by_form: BTreeMap<&FormName, Vec<&Paper>> = BTreeMap::new();
        for paper in &papers {
            by_form.entry(&paper.form).or_default().push(paper);
        }
        let totals = from_the_mean(&by_form, |paper| vec![paper.cells.values().flatten().sum()]);
        let totals: Vec<f64> = totals.unwrap_or_default().concat();
        let cells: BTreeSet<&CellId> = papers.iter().flat_map(|paper| paper.cells.keys()).collect();
        let mut named = BTreeSet::new();
        for cell in cells {
            let marks = from_the_mean(&by_form, |paper| {
                paper.cells.get(cell).cloned().unwrap_or_default()
            });
            // Refused: one question, or everybody alike; nothing that could be named.
            if marks.is_some_and(|marks| adds(&marks, &totals).unwrap_or(false)) {
                named.insert(cell.clone());
            }
        }
        Self::Named(named)
    }

    /// Whether this cell may be named.
    #[must_use]
    pub fn names(&self, cell: &CellId) -> bool {
        match self {
            Self::TooFew { .. } => false,
            Self::Named(cells) => cells.contains(cell),
        }
    }

    /// Why no cell is named; none where one is.
    #[must_use]
    pub fn why_none(&self) -> Option<String> {
        match self {
            Self::TooFew { have, need } => Some(format!(
                "No subject of the theory is named here as weak or strong: {have} papers were \
                 marked, and with fewer than {need} nobody can say whether the marks of one subject \
                 mean more than those of the whole paper. They stand question by question below."
            )),
            Self::Named(cells) if cells.is_empty() => Some(
                "No subject of the theory is named here as weak or strong: in this exam the marks \
                 of no single subject said more than those of the whole paper. They stand question \
                 by question below."
                    .to_owned(),
            ),
            Self::Named(_) => None,
        }
    }
}

/// One candidate's theory marks.
struct Paper {
    form: FormName,
    /// By cell, in the order of the form.
    cells: BTreeMap<CellId, Vec<f64>>,
}

fn paper(exam: &Exam, script: &Script<'_>) -> Option<Paper> {
    if script.decision.outcome == Outcome::Absent {
        return None;
    }
    let mut cells: BTreeMap<CellId, Vec<f64>> = BTreeMap::new();
    for award in script.awards.iter().filter(|award| award.counts) {
        let Item::Theory { question, .. } = &award.item else {
            continue;
        };
        if award.outcome.waits() {
            return None;
        }
        if let Some(known) = exam.bank.questions.get(question) {
            let marks = award.marks().as_f64();
            cells.entry(known.cell.clone()).or_default().push(marks);
        }
    }
    Some(Paper {
        form: script.place.form.clone()?,
        cells,
    })
}

/// Everybody's marks less the mean of their form, question by question; none where the forms ask
/// different numbers.
fn from_the_mean(
    by_form: &BTreeMap<&FormName, Vec<&Paper>>,
    marks: impl Fn(&Paper) -> Vec<f64>,
) -> Option<Vec<Vec<f64>>> {
    let mut rows = Vec::new();
    let mut width = None;
    for papers in by_form.values() {
        let of_form: Vec<Vec<f64>> = papers.iter().map(|paper| marks(paper)).collect();
        let columns = of_form.first()?.len();
        if *width.get_or_insert(columns) != columns
            || of_form.iter().any(|row| row.len() != columns)
        {
            return None;
        }
        #[allow(clippy::cast_precision_loss)]
        let n = of_form.len() as f64;
        let mut means = vec![0.0; columns];
        for row in &of_form {
            for (mean, mark) in means.iter_mut().zip(row) {
                *mean += mark / n;
            }
        }
        for mut row in of_form {
            for (mark, mean) in row.iter_mut().zip(&means) {
                *mark -= mean;
            }
            rows.push(row);
        }
    }
    Some(rows)
}

fn adds(marks: &[Vec<f64>], totals: &[f64]) -> Result<bool, Refusal> {
    let part: Vec<f64> = marks.iter().map(|row| row.iter().sum()).collect();
    let table = ScoreTable::new(marks)?;
    let alpha = cronbach_alpha(&table, Confidence::P95)?.alpha;
    if alpha <= 0.0 {
        return Ok(false);
    }
    Ok(subscore_value(&part, totals, alpha)?.worth.adds())
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::example::{Shape, awards, exam, right_letter};
    use crate::scripts;
    use exam_plan::plan::Join;

    /// What is named when a question of this cell is answered rightly by whom `knows` says.
    fn named(candidates: usize, knows: impl Fn(usize, &str, u32) -> bool) -> CellWorth {
        let shape = Shape {
            questions: 12,
            samples: 1,
            candidates,
        };
        let join = Join::Conjunctive {
            theory: 600,
            tasting: 500,
        };
        let (exam, sitting) = exam(shape, join);
        let awards = awards(&exam, &sitting, |candidate, item| match item {
            Item::Theory { question, number } => {
                let cell = exam.bank.questions[question].cell.as_str();
                let right = right_letter(&sitting, *number);
                if knows(candidate, cell, *number) {
                    right
                } else if right == "A" {
                    "B".to_owned()
                } else {
                    "A".to_owned()
                }
            }
            Item::Tasting { .. } => String::new(),
        });
        CellWorth::of(&exam, &scripts(&exam, &sitting, &awards))
    }

    #[test]
    fn subjects_that_go_their_own_ways_are_named() {
        // Who knows the law says nothing about who knows casks: each cell is its own best witness.
        let worth = named(40, |candidate, cell, _| {
            if cell == "law" {
                candidate % 2 == 0
            } else {
                candidate % 4 < 2
            }
        });
        let both: BTreeSet<CellId> = ["cask", "law"]
            .map(|cell| CellId::parse(cell).unwrap())
            .into();
        assert_eq!(worth, CellWorth::Named(both));
        assert_eq!(worth.why_none(), None);
    }

    #[test]
    fn one_ability_behind_all_names_none() {
        // The abler half is right more often, at other questions each time: the whole knows more.
        let worth = named(60, |candidate, _, number| {
            let luck = (candidate * 7919 + usize::try_from(number).unwrap() * 104_729) % 101;
            luck < if candidate % 2 == 0 { 70 } else { 40 }
        });
        assert_eq!(worth, CellWorth::Named(BTreeSet::new()));
        assert!(worth.why_none().unwrap().contains("said more than"));
    }

    #[test]
    fn few_candidates_name_none_and_the_number_is_said() {
        let worth = named(29, |candidate, _, _| candidate % 2 == 0);
        assert_eq!(worth, CellWorth::TooFew { have: 29, need: 30 });
        assert!(worth.why_none().unwrap().contains("fewer than 30"));
        assert!(!worth.names(&CellId::parse("law").unwrap()));
    }
}
