//! How many exams the cells of a bank last: by the forms that a plan draws, or by a number of
//! questions that each exam takes of every cell.

use std::collections::BTreeSet;

use assembler::Sitting;
use base::{CellId, Fault, Place, QuestionId};
use exam_plan::Exam;
use exam_plan::plan::{TheoryPart, Wanted};
use question_bank::coverage::Lasts;
use question_bank::question::Level;
use question_bank::{Bank, Quota, coverage};
use serde::Serialize;

/// How long one line of the blueprint lasts.
#[derive(Debug, Clone, Serialize)]
pub struct CoverLine {
    /// The cell.
    pub cell: CellId,
    /// Questions of this level only; any level where none is named.
    pub level: Option<Level>,
    /// Different questions that one exam takes, over all its forms.
    pub takes: usize,
    /// How many of them may have stood in the exam before.
    pub kept: usize,
    /// Questions that may be used in an exam and count.
    pub available: usize,
    /// For how many exams they last; none where they never run out.
    pub exams: Option<usize>,
}

/// The share of an exam's questions that may have stood in the exam before, in percent, where
/// nobody says: a quarter. Common practice, no source.
pub const USUAL_KEPT: u32 = 25;

/// The lines of a bank by itself, each exam taking so many questions of every cell.
#[must_use]
pub fn cover_of_bank(bank: &Bank, takes: usize, kept_percent: u32) -> (Vec<CoverLine>, Vec<Fault>) {
    let quotas = bank.cells.iter().map(|(cell, _)| Quota {
        cell: cell.clone(),
        level: None,
        questions: takes,
        kept: share(takes, kept_percent),
    });
    lines(bank, quotas.map(|quota| (quota, None)).collect())
}

/// The lines of an exam, each exam taking as many different questions as the forms that were drawn
/// have. The planned overlap between two exams is that which the plan allows between two forms,
/// unless a share is given.
#[must_use]
pub fn cover_of_exam(
    exam: &Exam,
    theory: &TheoryPart,
    sitting: &Sitting,
    kept_percent: Option<u32>,
) -> (Vec<CoverLine>, Vec<Fault>) {
    let drawn: BTreeSet<&QuestionId> = sitting
        .forms
        .iter()
        .flat_map(|form| &form.questions)
        .filter(|question| question.counts)
        .map(|question| &question.question)
        .collect();
    let taken = |cell: &CellId, level: Option<Level>| {
        drawn
            .iter()
            .filter_map(|id| exam.bank.questions.get(id))
            .filter(|q| q.cell == *cell && level.is_none_or(|level| q.level == level))
            .count()
    };
    let percent = kept_percent.unwrap_or_else(|| match theory.overlap {
        Some(overlap) => (overlap * 100).checked_div(theory.counted()).unwrap_or(0),
        None => USUAL_KEPT,
    });
    let mut quotas = Vec::new();
    for quota in &theory.cells {
        let levels: Vec<Option<Level>> = match &quota.wanted {
            Wanted::AnyLevel(_) => vec![None],
            Wanted::ByLevel(numbers) => numbers
                .iter()
                .filter(|(_, number)| number.most() > 0)
                .map(|(level, _)| Some(*level))
                .collect(),
        };
        for level in levels {
            let questions = taken(&quota.cell, level);
            let line = Quota {
                cell: quota.cell.clone(),
                level,
                questions,
                kept: share(questions, percent),
            };
            quotas.push((line, Some(quota.place.clone())));
        }
    }
    lines(&exam.bank, quotas)
}

fn share(questions: usize, percent: u32) -> usize {
    let percent = usize::try_from(percent.min(100)).unwrap_or(0);
    questions * percent / 100
}

fn lines(bank: &Bank, quotas: Vec<(Quota, Option<Place>)>) -> (Vec<CoverLine>, Vec<Fault>) {
    let (quotas, places): (Vec<Quota>, Vec<Option<Place>>) = quotas.into_iter().unzip();
    let covered = coverage(bank, &quotas);
    let dry = covered
        .iter()
        .zip(places)
        .filter_map(|(cell, place)| {
            let exams = match cell.lasts {
                Lasts::Exams(exams) if exams < 2 => exams,
                Lasts::Exams(_) | Lasts::Always => return None,
            };
            let level = cell
                .quota
                .level
                .map_or(String::new(), |l| format!(" at the level {}", l.word()));
            let what = format!(
                "\"{}\"{level} has {} and an exam takes {}: it {}",
                cell.quota.cell,
                match cell.available {
                    1 => "1 question that counts".to_owned(),
                    n => format!("{n} questions that count"),
                },
                cell.quota.questions,
                if exams == 0 {
                    "does not fill one exam"
                } else {
                    "runs dry after one exam"
                }
            );
            // Enough for one exam, or for a second that keeps what it may.
            let wanted = match exams {
                0 => cell.quota.questions,
                _ => 2 * cell.quota.questions - cell.quota.kept,
            };
            let more = wanted.saturating_sub(cell.available);
            Some(Fault::weakness("cell-runs-dry", place, what).hint(format!(
                "write {} more, let exams keep more questions, or take fewer",
                more
            )))
        })
        .collect();
    let lines = covered
        .into_iter()
        .map(|cell| CoverLine {
            cell: cell.quota.cell,
            level: cell.quota.level,
            takes: cell.quota.questions,
            kept: cell.quota.kept,
            available: cell.available,
            exams: match cell.lasts {
                Lasts::Exams(exams) => Some(exams),
                Lasts::Always => None,
            },
        })
        .collect();
    (lines, dry)
}
