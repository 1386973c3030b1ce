//! How far a panel supports the key of a sample: weights with intervals, agreement, who stands apart,
//! what the key would be without any one assessor, and how many more would settle it.

use std::path::PathBuf;

use base::{Fault, Purpose};
use question_bank::panel_support::{KeyFloor, column_is_required, panel_support_at};
use question_bank::reference_tasting::{IntensityTable, Stage};
use question_bank::tasting_key::FEWEST_CITING;
use question_bank::{SampleRecord, TastingKey};
use results::resampling::Resampling;
use serde::Serialize;
use statistics::panel::assessor_anova::assessor_anova;
use statistics::panel::assessor_standing::assessor_standing;
use statistics::panel::key_stability::{assessors_to_settle, key_stability};
use statistics::panel::key_weights::key_weights;
use statistics::{Confidence, Refusal};

use super::records::Records;
use crate::failure::Failure;
use crate::surroundings::Surroundings;
use crate::texts::Sources;

/// Resamples behind an interval.
const RESAMPLES: usize = 1000;

/// Which keys are studied.
#[derive(Debug, Clone)]
pub struct KeyRequest {
    /// The folder of an exam or a bank.
    pub folder: PathBuf,
    /// Only this sample; all where none is given.
    pub sample: Option<String>,
    /// The weight from which a word is required; the plan's where none is given.
    pub threshold: Option<f64>,
}

/// The keys of a folder. It says what is in the glasses: for examiners alone.
#[derive(Debug, Clone, Serialize)]
pub struct KeyReport {
    /// The weight from which a word is required.
    pub threshold: f64,
    /// One entry a sample.
    pub keys: Vec<KeyStudy>,
    /// What stands against keys, and what wants a look.
    pub findings: Vec<Fault>,
    /// The texts, for the snippets.
    #[serde(skip)]
    pub sources: Sources,
}

/// The key of one sample.
#[derive(Debug, Clone, Serialize)]
pub struct KeyStudy {
    /// The sample.
    pub sample: String,
    /// The name on the bottle.
    pub name: String,
    /// How many assessors.
    pub n: usize,
    /// How many sessions.
    pub sessions: usize,
    /// The stages together and one by one; the first is what counts neat.
    pub stages: Vec<StageKey>,
    /// Mean correlation of two assessors.
    pub mean_pair: Option<f64>,
    /// Reliability of the panel's mean profile, 0 to 1.
    pub reliability: Option<f64>,
    /// Mean share of the assessors that cite a required word.
    pub agreement: Option<f64>,
    /// Each assessor against the rest.
    pub assessors: Vec<AssessorLine>,
    /// The smallest share of the key that stays when one assessor is left out.
    pub least_common: Option<f64>,
    /// How many assessors in all would settle every word that can be settled.
    pub assessors_to_settle: Option<usize>,
    /// Words so near the threshold that no number of assessors settles them.
    pub at_the_threshold: Vec<String>,
    /// Figures that are not given, and why.
    pub not_given: Vec<String>,
}

/// The key of one stage, or of several.
#[derive(Debug, Clone, Serialize)]
pub struct StageKey {
    /// `neat`, `nose`, `palate`, `finish` or `water`.
    pub stage: &'static str,
    /// Heaviest first.
    pub words: Vec<WordLine>,
}

/// What a word is to the key.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum WordClass {
    /// At or above the threshold, cited by two or more.
    Required,
    /// Below it, cited by two or more.
    Accepted,
    /// Cited by one alone.
    NotExpected,
    /// Listed as contradicting the sample.
    Contradicting,
}

impl WordClass {
    /// The word for people.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Required => "required",
            Self::Accepted => "accepted",
            Self::NotExpected => "not expected",
            Self::Contradicting => "contradicting",
        }
    }
}

/// One word.
#[derive(Debug, Clone, Serialize)]
pub struct WordLine {
    /// The word.
    pub word: String,
    /// What it is to the key.
    pub class: WordClass,
    /// Its weight, 0 to 1.
    pub weight: f64,
    /// 95 % limits; none for a panel below five.
    pub interval: Option<[f64; 2]>,
    /// How many cite it.
    pub cited_by: usize,
}

/// One assessor.
#[derive(Debug, Clone, Serialize)]
pub struct AssessorLine {
    /// The name the panel gave.
    pub assessor: String,
    /// Correlation with the mean of the rest.
    pub agreement: Option<f64>,
    /// Whether it cannot be told from chance.
    pub stands_apart: bool,
    /// F of telling words apart against own repetition, where there are sessions.
    pub discrimination: Option<f64>,
    /// Its p-value.
    pub discrimination_p: Option<f64>,
    /// Standard deviation between sessions, as a share of the scale.
    pub repeatability: Option<f64>,
    /// Words the key would lose without this assessor.
    pub lost_without: Vec<String>,
    /// Words it would gain.
    pub gained_without: Vec<String>,
}

/// Studies the keys of a folder.
///
/// # Errors
/// When the folder cannot be read, or has no such sample.
pub fn study_keys(around: &dyn Surroundings, request: &KeyRequest) -> Result<KeyReport, Failure> {
    let records = Records::load(around, &request.folder, request.threshold)?;
    let mut keys = Vec::new();
    let mut findings = Vec::new();
    for record in &records.records {
        if request
            .sample
            .as_ref()
            .is_some_and(|wanted| wanted != record.id.as_str())
        {
            continue;
        }
        keys.push(study(record, records.threshold));
        findings.extend(panel_support_at(record, records.threshold, &records.floor).faults);
    }
    if keys.is_empty() {
        let known: Vec<&str> = records.records.iter().map(|r| r.id.as_str()).collect();
        return Err(Failure::Refused {
            what: match &request.sample {
                Some(wanted) => format!("there is no sample \"{wanted}\" here"),
                None => "there is no sample record here".to_owned(),
            },
            hint: format!("the records are: {}", known.join(", ")),
        });
    }
    findings.sort();
    findings.dedup();
    Ok(KeyReport {
        threshold: records.threshold,
        keys,
        findings,
        sources: records.sources,
    })
}

/// Studies one key.
#[must_use]
pub fn study(record: &SampleRecord, threshold: f64) -> KeyStudy {
    let mut not_given = Vec::new();
    let tasting = &record.tasting;
    let neat = tasting.intensities(Stage::neat);
    let mut stages = vec![stage_key(
        record,
        "neat",
        0,
        &neat,
        threshold,
        &mut not_given,
    )];
    for (place, stage) in (1_u64..).zip(Stage::ALL) {
        let table = tasting.intensities(|own| own == stage);
        if !table.words.is_empty() {
            let name = stage.word();
            stages.push(stage_key(
                record,
                name,
                place,
                &table,
                threshold,
                &mut not_given,
            ));
        }
    }
    let standing = assessor_standing(&neat.rows);
    let rule = |column: &[f64]| column_is_required(column, threshold);
    let stability = key_stability(&neat.rows, &rule);
    let repeated = repetition(record, &neat);
    for refusal in [
        standing.as_ref().err(),
        stability.as_ref().err(),
        repeated.as_ref().err(),
    ]
    .into_iter()
    .flatten()
    {
        not_given.push(refusal.to_string());
    }
    not_given.dedup();
    let word = |place: &usize| neat.words.get(*place).cloned().unwrap_or_default();
    let assessors = tasting
        .assessors
        .iter()
        .enumerate()
        .map(|(place, name)| {
            let own = standing.as_ref().ok().and_then(|s| s.assessors.get(place));
            let left_out = stability.as_ref().ok().and_then(|s| s.left_out.get(place));
            let performance = repeated.as_ref().ok().and_then(|r| r.assessors.get(place));
            let ratio = performance.and_then(|p| p.discrimination.as_ref().ok());
            AssessorLine {
                assessor: name.clone(),
                agreement: own.and_then(|o| o.agreement.as_ref().ok().copied()),
                stands_apart: own.is_some_and(|o| o.stands_apart),
                discrimination: ratio.map(|r| r.ratio),
                discrimination_p: ratio.map(|r| r.p_value.probability),
                repeatability: performance.map(|p| p.repeatability),
                lost_without: left_out.map_or_else(Vec::new, |l| l.lost.iter().map(word).collect()),
                gained_without: left_out
                    .map_or_else(Vec::new, |l| l.gained.iter().map(word).collect()),
            }
        })
        .collect();
    let (settle, at_the_threshold) = settling(record, &neat, threshold);
    KeyStudy {
        sample: record.id.to_string(),
        name: record.name.clone(),
        n: tasting.assessors.len(),
        sessions: tasting.sessions.len().max(1),
        stages,
        mean_pair: standing.as_ref().ok().map(|s| s.mean_pair),
        reliability: standing.as_ref().ok().map(|s| s.reliability),
        agreement: panel_support_at(record, threshold, &KeyFloor::default()).agreement,
        assessors,
        least_common: stability.as_ref().ok().map(|s| s.least_common),
        assessors_to_settle: settle,
        at_the_threshold,
        not_given,
    }
}

fn resampling(stage: u64) -> Resampling {
    Resampling::new(Purpose::PanelResample, stage)
}

fn stage_key(
    record: &SampleRecord,
    name: &'static str,
    stage: u64,
    table: &IntensityTable,
    threshold: f64,
    not_given: &mut Vec<String>,
) -> StageKey {
    let weights = key_weights(
        &table.rows,
        1.0,
        Confidence::P95,
        RESAMPLES,
        &mut resampling(stage),
    );
    let weights = match weights {
        Ok(weights) => weights,
        Err(refusal) => {
            not_given.push(refusal.to_string());
            Vec::new()
        }
    };
    let mut words: Vec<WordLine> = table
        .words
        .iter()
        .zip(weights)
        .map(|(word, figure)| {
            let required =
                question_bank::tasting_key::is_required(figure.weight, figure.cited_by, threshold);
            WordLine {
                word: word.clone(),
                class: if record.contradicts.contains(word) {
                    WordClass::Contradicting
                } else if figure.cited_by < FEWEST_CITING {
                    WordClass::NotExpected
                } else if required {
                    WordClass::Required
                } else {
                    WordClass::Accepted
                },
                weight: figure.weight,
                interval: figure.interval.map(|i| [i.lower, i.upper]),
                cited_by: figure.cited_by,
            }
        })
        .collect();
    words.sort_by(|a, b| {
        b.weight
            .total_cmp(&a.weight)
            .then_with(|| a.word.cmp(&b.word))
    });
    StageKey { stage: name, words }
}

/// Telling words apart against own repetition over sessions, for panels that all assessors sat twice.
fn repetition(
    record: &SampleRecord,
    neat: &IntensityTable,
) -> Result<statistics::panel::assessor_anova::AssessorAnova, Refusal> {
    let sessions = record.tasting.sessions.len();
    let tables: Vec<IntensityTable> = (0..sessions)
        .map(|session| record.tasting.intensities_of_session(session, Stage::neat))
        .collect();
    let scores: Vec<Vec<Vec<f64>>> = (0..record.tasting.assessors.len())
        .map(|assessor| {
            (0..neat.words.len())
                .map(|word| {
                    tables
                        .iter()
                        .map(|t| {
                            let row = t.rows.get(assessor);
                            row.and_then(|r| r.get(word)).copied().unwrap_or(0.0)
                        })
                        .collect()
                })
                .collect()
        })
        .collect();
    assessor_anova(&scores)
}

/// How many assessors would settle the words that can be settled, and which cannot.
fn settling(
    record: &SampleRecord,
    neat: &IntensityTable,
    threshold: f64,
) -> (Option<usize>, Vec<String>) {
    let Ok(weights) = key_weights(
        &neat.rows,
        1.0,
        Confidence::P95,
        RESAMPLES,
        &mut resampling(0),
    ) else {
        return (None, Vec::new());
    };
    let in_key: Vec<String> = {
        let key = TastingKey::neat(record, threshold);
        key.required
            .into_iter()
            .chain(key.accepted)
            .map(|word| word.word)
            .collect()
    };
    let mut most = None;
    let mut never = Vec::new();
    for (word, figure) in neat.words.iter().zip(&weights) {
        if !in_key.contains(word) || figure.interval.is_none() {
            continue;
        }
        match assessors_to_settle(figure, threshold) {
            Some(wanted) => most = Some(most.unwrap_or(0).max(wanted)),
            None => never.push(word.clone()),
        }
    }
    (most, never)
}
