//! Reads everything in a folder and lists every fault and weakness.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use assembler::{FormsBeside, Sitting};
use base::{ExamSeed, Fault, QuestionId};
use exam_plan::Exam;
use question_bank::check::{ProposedEnemies, check_sources, examine, key_balance};
use question_bank::{Bank, Question, Shape};
use serde::Serialize;

use crate::bank_history::{HistoryLine, of_bank};
use crate::bank_table::{BankTable, bank_table};
use crate::chance_lines::{ChanceLine, chance_lines};
use crate::failure::Failure;
use crate::forms_page::write_forms_page;
use crate::load;
use crate::planned_cover::{CoverLine, USUAL_KEPT, cover_of_bank, cover_of_exam};
use crate::pour::OrderLine;
use crate::pour::day::order_lines;
use crate::surroundings::Surroundings;
use crate::texts::{Sources, Texts};

/// What is to be checked, and how.
#[derive(Debug, Clone)]
pub struct CheckRequest {
    /// The folder of an exam or of a bank.
    pub folder: PathBuf,
    /// The day on which sources are looked at, `YYYY-MM-DD`; today where none is given.
    pub day: Option<String>,
    /// A source that was verified longer ago than so many years is stale.
    pub stale_after: u32,
    /// How many questions an exam takes of each cell, for a bank by itself: [`USUAL_TAKE`] where
    /// nothing is given. An exam's plan says it for itself.
    pub take: Option<u32>,
    /// The share of an exam's questions, in percent, that may have stood in the exam before.
    pub kept: Option<u32>,
    /// Where the forms of the draw that is tried are written side by side, as a page.
    pub page: Option<PathBuf>,
}

/// Years after which a source is stale, where nobody says. Common practice, no source.
pub const USUAL_STALE_AFTER: u32 = 3;

/// Questions that an exam takes of each cell, where nobody says.
pub const USUAL_TAKE: u32 = 4;

impl CheckRequest {
    /// A folder, and the usual of everything else.
    #[must_use]
    pub fn of(folder: &Path) -> Self {
        Self {
            folder: folder.to_owned(),
            day: None,
            stale_after: USUAL_STALE_AFTER,
            take: None,
            kept: None,
            page: None,
        }
    }
}

/// What was found.
#[derive(Debug, Clone, Serialize)]
pub struct CheckReport {
    /// What was read, in a word: `exam` or `bank`.
    pub read: &'static str,
    /// The day on which sources were looked at; none without a clock and a given day.
    pub day: Option<String>,
    /// Faults and weaknesses in the order of the texts.
    pub findings: Vec<Fault>,
    /// How many of them are faults.
    pub faults: usize,
    /// How many are weaknesses.
    pub weaknesses: usize,
    /// The bank as a table, where it could be read.
    pub bank: Option<BankTable>,
    /// How long the cells last, exam by exam.
    pub cover: Vec<CoverLine>,
    /// Questions that should be named as enemies of each other.
    pub enemies: Vec<EnemyLine>,
    /// Where the keys of the forms stand, of the forms drawn to see whether the bank fills the plan.
    pub forms: Vec<FormLine>,
    /// These forms side by side; none without a theory part.
    pub beside: Option<FormsBeside>,
    /// How far the serving orders of that draw are from balance, block by block.
    pub orders: Vec<OrderLine>,
    /// How well each sample's panel agrees.
    pub panels: Vec<PanelLine>,
    /// What somebody who tastes nothing gets for each glass of an exam.
    pub chance: Vec<ChanceLine>,
    /// What became of questions in earlier sittings, weakest discrimination first.
    pub history: Vec<HistoryLine>,
    /// What a draw of this plan cannot keep: neighbours, codes, wishes for seats.
    pub shortfalls: Vec<String>,
    /// The texts, for the snippets.
    #[serde(skip)]
    pub sources: Sources,
}

/// Two questions that should not stand on one form.
#[derive(Debug, Clone, Serialize)]
pub struct EnemyLine {
    /// The one.
    pub one: QuestionId,
    /// The other.
    pub other: QuestionId,
    /// The rule that found them.
    pub rule: &'static str,
}

/// Where the keys of one form stand.
#[derive(Debug, Clone, Serialize)]
pub struct FormLine {
    /// The form.
    pub form: String,
    /// How many options its best-answer questions of this line have.
    pub options: usize,
    /// How many keys stand at A, B, C …
    pub keys: Vec<usize>,
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
/// When the folder is neither, or a file cannot be read, or an option does not go with the folder.
/// Faults are no error here: they are what the report is for.
pub fn check(around: &dyn Surroundings, request: &CheckRequest) -> Result<CheckReport, Failure> {
    let folder = &request.folder;
    let mut report = CheckReport {
        read: "bank",
        day: request.day.clone().or_else(|| {
            let now = around.now()?;
            Some(now.as_str().get(..10)?.to_owned())
        }),
        findings: Vec::new(),
        faults: 0,
        weaknesses: 0,
        bank: None,
        cover: Vec::new(),
        enemies: Vec::new(),
        forms: Vec::new(),
        beside: None,
        orders: Vec::new(),
        panels: Vec::new(),
        chance: Vec::new(),
        history: Vec::new(),
        shortfalls: Vec::new(),
        sources: Sources::new(),
    };
    if around.has_file(&folder.join("plan.yaml")) {
        if request.take.is_some() {
            return Err(Failure::Refused {
                what: "how many questions an exam takes of each cell stands in its plan".to_owned(),
                hint: "leave --take out, or check the bank's folder".to_owned(),
            });
        }
        report.read = "exam";
        let texts = Texts::of_exam(around, folder, &mut report.findings)?;
        report.sources = texts.sources();
        if let Some((exam, _)) = load::named_exam(&texts, &mut report.findings) {
            look_at_exam(&mut report, &exam, request);
            if let (Some(to), Some(beside)) = (&request.page, &report.beside) {
                let title = (
                    exam.plan.title.as_str(),
                    "A draw to try the plan, not the sitting's.",
                );
                write_forms_page(around, folder, to, title, beside)?;
            }
        }
    } else if around.has_file(&folder.join("bank.yaml")) {
        let texts = Texts::of_bank(around, folder, &mut report.findings)?;
        report.sources = texts.sources();
        if let Some(bank) = load::bank(&texts, &mut report.findings) {
            look_at_bank(&mut report, &bank, &BTreeMap::new(), request);
            let take = request.take.unwrap_or(USUAL_TAKE);
            let take = usize::try_from(take).unwrap_or(usize::MAX);
            let kept = request.kept.unwrap_or(USUAL_KEPT);
            let (cover, dry) = cover_of_bank(&bank, take, kept);
            report.cover = cover;
            report.findings.extend(dry);
            for sample in bank.samples.values() {
                let support = question_bank::panel_support(sample, USUAL_THRESHOLD);
                report.findings.extend(support.faults);
                report.panels.push(panel_line(sample, USUAL_THRESHOLD));
            }
            let (history, tables) = of_bank(around, folder, &bank, &mut report.findings)?;
            report.history = history;
            report.sources.extend(tables);
        }
    } else {
        return Err(Failure::Refused {
            what: format!("{} is neither an exam nor a bank", folder.display()),
            hint: "an exam's folder holds plan.yaml, a bank's folder bank.yaml".to_owned(),
        });
    }
    report.findings.sort();
    report.findings.dedup();
    report.weaknesses = report.findings.iter().filter(|f| f.is_weakness()).count();
    report.faults = report.findings.len() - report.weaknesses;
    Ok(report)
}

/// What concerns the bank alone, whether it is checked by itself or for an exam.
fn look_at_bank(
    report: &mut CheckReport,
    bank: &Bank,
    own_samples: &BTreeMap<base::SampleId, question_bank::SampleRecord>,
    request: &CheckRequest,
) {
    let examined = examine(bank, own_samples);
    report.findings.extend(examined.weaknesses);
    if let Some(day) = &report.day {
        let stale = check_sources(bank, day, request.stale_after);
        report.findings.extend(stale);
    }
    report.enemies = examined.enemies.into_iter().map(enemy_line).collect();
    report.bank = Some(bank_table(bank));
}

fn enemy_line(pair: ProposedEnemies) -> EnemyLine {
    EnemyLine {
        one: pair.one,
        other: pair.other,
        rule: pair.because.number(),
    }
}

fn look_at_exam(report: &mut CheckReport, exam: &Exam, request: &CheckRequest) {
    look_at_bank(report, &exam.bank, &exam.own_samples, request);
    if let Some(part) = &exam.plan.tasting {
        let samples = part.samples.iter().filter_map(|(id, _)| exam.sample(id));
        report.panels = samples
            .map(|sample| panel_line(sample, part.threshold))
            .collect();
    }
    report.chance = chance_lines(exam);
    if let Some(theory) = &exam.plan.theory {
        let out_of_reach = assembler::targets_out_of_reach(&exam.bank, theory);
        report.findings.extend(out_of_reach);
    }
    // Whether the bank fills the plan is found by drawing once; the seed does not matter.
    let sitting = match assembler::assemble(exam, &ExamSeed::from_bytes([0; 32])) {
        Ok(sitting) => sitting,
        Err(found) => {
            report.findings.extend(found);
            return;
        }
    };
    report.orders = order_lines(exam, &sitting);
    report.shortfalls.clone_from(&sitting.shortfalls);
    if let Err(found) = assembler::pour_plan(exam, &sitting) {
        report.findings.extend(found);
    }
    report.beside = assembler::forms_beside(&exam.bank, &exam.plan, &sitting.forms);
    for line in form_lines(&exam.bank, &sitting) {
        let where_at = format!("on form {}", line.form);
        report.findings.extend(key_balance(&line.keys, &where_at));
        report.forms.push(line);
    }
    if let Some(theory) = &exam.plan.theory {
        let (cover, dry) = cover_of_exam(exam, theory, &sitting, request.kept);
        report.cover = cover;
        report.findings.extend(dry);
    }
}

/// Where the keys stand on each form, by number of options.
fn form_lines(bank: &Bank, sitting: &Sitting) -> Vec<FormLine> {
    let mut lines = Vec::new();
    for form in &sitting.forms {
        let mut by_options: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        for printed in &form.questions {
            let Some(written) = bank.questions.get(&printed.question).and_then(key_place) else {
                continue;
            };
            let options = printed.order.len();
            let keys = by_options
                .entry(options)
                .or_insert_with(|| vec![0; options]);
            let place = printed.order.printed_at(written);
            if let Some(count) = place.and_then(|place| keys.get_mut(place)) {
                *count += 1;
            }
        }
        lines.extend(by_options.into_iter().map(|(options, keys)| FormLine {
            form: form.name.to_string(),
            options,
            keys,
        }));
    }
    lines
}

/// The place of a best-answer question's key among its options as written.
fn key_place(question: &Question) -> Option<usize> {
    let Shape::Choice { options, one: true } = question.kind.shape() else {
        return None;
    };
    let drawn = question.kind.drawings(1).is_some();
    options.iter().position(|option| option.key && !drawn)
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
