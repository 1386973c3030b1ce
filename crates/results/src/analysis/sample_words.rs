//! Which words of the panel a class found in which sample.

use std::collections::BTreeMap;

use assembler::Sitting;
use exam_plan::Exam;
use serde::Serialize;
use statistics::descriptive::proportion::{Proportion, proportion};

use super::LEVEL;
use crate::candidate_report::candidate_report;
use crate::cell_worth::CellWorth;
use crate::decide::Outcome;
use crate::script::Script;

/// One word of a sample's key.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SampleWord {
    /// The word.
    pub word: String,
    /// Its weight with the panel, 0 to 1.
    pub weight: f64,
    /// How many candidates found it.
    pub found: Proportion,
}

/// One sample.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SampleWords {
    /// The sample.
    pub sample: String,
    /// The panel's words, heaviest first.
    pub words: Vec<SampleWord>,
    /// What to see.
    pub sentence: String,
}

/// Each sample in the order of its id; nothing where no aroma was asked.
#[must_use]
pub fn sample_words(exam: &Exam, sitting: &Sitting, scripts: &[Script<'_>]) -> Vec<SampleWords> {
    let asks_aroma = exam.plan.tasting.as_ref().is_some_and(|part| {
        let mut asked = part.ask.iter().map(|question| question.asked.name());
        asked.any(|name| name == "aroma" || name == "water")
    });
    if !asks_aroma {
        return Vec::new();
    }
    // Sample, then word: weight, found, asked.
    let mut counts: BTreeMap<String, BTreeMap<String, (f64, usize, usize)>> = BTreeMap::new();
    let worth = CellWorth::of(exam, &[]);
    for script in scripts {
        if script.decision.outcome == Outcome::Absent {
            continue;
        }
        let report = candidate_report(exam, sitting, script, &worth);
        for (glass, poured) in report.glasses.iter().zip(&script.place.glasses) {
            let words = counts.entry(poured.sample.to_string()).or_default();
            for word in &glass.panel_words {
                let name = if word.with_water {
                    format!("{} (water)", word.word)
                } else {
                    word.word.clone()
                };
                let count = words.entry(name).or_insert((word.weight, 0, 0));
                count.1 += usize::from(word.found);
                count.2 += 1;
            }
        }
    }
    counts
        .into_iter()
        .map(|(sample, words)| {
            let mut words: Vec<SampleWord> = words
                .into_iter()
                .filter_map(|(word, (weight, found, asked))| {
                    Some(SampleWord {
                        word,
                        weight,
                        found: proportion(found, asked, LEVEL).ok()?,
                    })
                })
                .collect();
            words.sort_by(|a, b| b.weight.total_cmp(&a.weight).then(a.word.cmp(&b.word)));
            SampleWords {
                sentence: in_words(&sample, &words),
                sample,
                words,
            }
        })
        .collect()
}

fn in_words(sample: &str, words: &[SampleWord]) -> String {
    let by_share = |a: &&SampleWord, b: &&SampleWord| a.found.share.total_cmp(&b.found.share);
    let (Some(most), Some(least)) = (words.iter().max_by(by_share), words.iter().min_by(by_share))
    else {
        return format!("{sample}: the panel has no word above the threshold.");
    };
    format!(
        "{sample}: most found {} ({} of {}), fewest {} ({} of {}).",
        most.word,
        most.found.successes,
        most.found.n,
        least.word,
        least.found.successes,
        least.found.n
    )
}
