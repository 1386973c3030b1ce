//! Reads everything in a folder and lists every fault and weakness.

use std::path::Path;

use base::{ExamSeed, Fault};
use question_bank::Bank;
use question_bank::question::{Level, ReviewState};
use serde::Serialize;

use crate::failure::Failure;
use crate::load;
use crate::surroundings::Surroundings;
use crate::texts::{Sources, Texts};

/// What was found.
#[derive(Debug, Clone, Serialize)]
pub struct CheckReport {
    /// What was read, in a word: `exam` or `bank`.
    pub read: &'static str,
    /// Faults and weaknesses in the order of the texts.
    pub findings: Vec<Fault>,
    /// How many of them are faults.
    pub faults: usize,
    /// How many are weaknesses.
    pub weaknesses: usize,
    /// The bank as a table, where it could be read.
    pub bank: Option<BankTable>,
    /// How well each sample's panel agrees.
    pub panels: Vec<PanelLine>,
    /// The texts, for the snippets.
    #[serde(skip)]
    pub sources: Sources,
}

/// The bank at a glance.
#[derive(Debug, Clone, Serialize)]
pub struct BankTable {
    /// Its title.
    pub title: String,
    /// One row a cell, in the order of the bank.
    pub cells: Vec<CellLine>,
    /// Questions in all.
    pub questions: usize,
    /// Sample records in all.
    pub samples: usize,
    /// Words of the lexicon.
    pub words: usize,
}

/// One cell of the bank.
#[derive(Debug, Clone, Serialize)]
pub struct CellLine {
    /// Its name.
    pub cell: String,
    /// Operational questions by level: recall, application, judgement.
    pub operational: [usize; 3],
    /// Pretest questions.
    pub pretest: usize,
    /// Drafts and reviewed questions.
    pub coming: usize,
    /// Retired questions.
    pub retired: usize,
}

/// One panel.
#[derive(Debug, Clone, Serialize)]
pub struct PanelLine {
    /// The sample.
    pub sample: String,
    /// How many assessors.
    pub assessors: usize,
    /// Mean share of the assessors that cite a required word; none where no word is required.
    pub agreement: Option<f64>,
    /// Words of the key.
    pub required: usize,
}

/// The panel weight from which a word is required, where no plan says it.
const USUAL_THRESHOLD: f64 = 0.25;

/// Checks an exam folder or a bank folder.
///
/// # Errors
/// When the folder is neither, or a file cannot be read. Faults are no error here: they are what
/// the report is for.
pub fn check(around: &dyn Surroundings, folder: &Path) -> Result<CheckReport, Failure> {
    let mut faults = Vec::new();
    if around.has_file(&folder.join("plan.yaml")) {
        let texts = Texts::of_exam(around, folder, &mut faults)?;
        let exam = load::exam(&texts, &mut faults);
        let mut panels = Vec::new();
        if let Some(exam) = &exam {
            if let Some(part) = &exam.plan.tasting {
                let samples = part.samples.iter().filter_map(|(id, _)| exam.sample(id));
                panels = samples
                    .map(|sample| panel_line(sample, part.threshold))
                    .collect();
            }
            // Whether the bank fills the plan is found by drawing once; the seed does not matter.
            if let Err(found) = assembler::assemble(exam, &ExamSeed::from_bytes([0; 32])) {
                faults.extend(found);
            }
        }
        Ok(report(
            "exam",
            faults,
            exam.as_ref().map(|e| table(&e.bank)),
            panels,
            texts.sources(),
        ))
    } else if around.has_file(&folder.join("bank.yaml")) {
        let texts = Texts::of_bank(around, folder, &mut faults)?;
        let bank = load::bank(&texts, &mut faults);
        let mut panels = Vec::new();
        if let Some(bank) = &bank {
            faults.extend(question_bank::check::check_questions(bank));
            for sample in bank.samples.values() {
                faults.extend(question_bank::panel_support(sample, USUAL_THRESHOLD).faults);
                panels.push(panel_line(sample, USUAL_THRESHOLD));
            }
        }
        Ok(report(
            "bank",
            faults,
            bank.as_ref().map(table),
            panels,
            texts.sources(),
        ))
    } else {
        Err(Failure::Refused {
            what: format!("{} is neither an exam nor a bank", folder.display()),
            hint: "an exam's folder holds plan.yaml, a bank's folder bank.yaml".to_owned(),
        })
    }
}

fn report(
    read: &'static str,
    mut findings: Vec<Fault>,
    bank: Option<BankTable>,
    panels: Vec<PanelLine>,
    sources: Sources,
) -> CheckReport {
    findings.sort();
    findings.dedup();
    let weaknesses = findings.iter().filter(|f| f.is_weakness()).count();
    CheckReport {
        read,
        faults: findings.len() - weaknesses,
        weaknesses,
        findings,
        bank,
        panels,
        sources,
    }
}

fn panel_line(sample: &question_bank::SampleRecord, threshold: f64) -> PanelLine {
    let support = question_bank::panel_support(sample, threshold);
    PanelLine {
        sample: sample.id.to_string(),
        assessors: support.assessors,
        agreement: support.agreement,
        required: support.required,
    }
}

fn table(bank: &Bank) -> BankTable {
    let cells = bank
        .cells
        .iter()
        .map(|(id, name)| {
            let of = |states: &[ReviewState], level: Option<Level>| {
                bank.questions
                    .values()
                    .filter(|q| {
                        q.cell == *id
                            && states.contains(&q.state)
                            && level.is_none_or(|l| q.level == l)
                    })
                    .count()
            };
            CellLine {
                cell: name.clone(),
                operational: Level::ALL.map(|level| of(&[ReviewState::Operational], Some(level))),
                pretest: of(&[ReviewState::Pretest], None),
                coming: of(&[ReviewState::Draft, ReviewState::Reviewed], None),
                retired: of(&[ReviewState::Retired], None),
            }
        })
        .collect();
    BankTable {
        title: bank.title.clone(),
        cells,
        questions: bank.questions.len(),
        samples: bank.samples.len(),
        words: bank.lexicon.words().count(),
    }
}
