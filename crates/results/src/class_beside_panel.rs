//! What learners noted in a class, set beside the reference panel: words, ratings, and no marks.
//!
//! A learner's word is looked up in the lexicon as a candidate's is; what is not known there is
//! listed for the instructor and judged by nobody. A word is compared with the panel's notes of its
//! stage, then with those of the other stages. Liking is the learner's own: it is handed on as it
//! was written and compared with nothing.

mod class_words;
mod ratings;
mod words;

use exam_plan::Class;
use exam_plan::class_plan::{GlassNotes, LearnerNotes, Noted};
use question_bank::SampleRecord;
use serde::Serialize;

use crate::candidate_report::was;

pub use class_words::{ClassRating, ClassWord, SampleBesideClass};
pub use ratings::RatingBeside;
pub use words::{StageBeside, Standing, WordBeside};

/// A class beside the panel.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ClassBesidePanel {
    /// One page for each learner of whom notes came in.
    pub learners: Vec<LearnerPage>,
    /// Learners of the roster of whom nothing came in.
    pub silent: Vec<String>,
    /// Each sample, in the order of tasting, with the class as a whole.
    pub samples: Vec<SampleBesideClass>,
    /// What is not in the lexicon, each once, with who wrote it.
    pub unknown: Vec<UnknownWord>,
}

/// A word that the lexicon does not know.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct UnknownWord {
    /// As it was written first.
    pub written: String,
    /// Words that may be meant.
    pub near: Vec<String>,
    /// Who wrote it.
    pub learners: Vec<String>,
}

/// One learner's page.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LearnerPage {
    /// The number.
    pub learner: String,
    /// The name; empty where no roster says it.
    pub name: String,
    /// The glasses of which notes came in.
    pub glasses: Vec<GlassBeside>,
}

/// One glass of one learner.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct GlassBeside {
    /// Its place in the flight, from 1.
    pub glass: usize,
    /// What it was: name, category, region, age, strength.
    pub was: String,
    /// The record's words on it.
    pub describe: String,
    /// Assessors of the panel.
    pub assessors: usize,
    /// How the words stand to the panel's, in a sentence.
    pub sentence: String,
    /// The words, stage by stage.
    pub stages: Vec<StageBeside>,
    /// The ratings.
    pub ratings: Vec<RatingBeside>,
    /// How much the learner liked it, as written; compared with nothing.
    pub liking: Option<f64>,
}

/// Sets a class beside the panel.
#[must_use]
pub fn class_beside_panel(class: &Class, notes: &[LearnerNotes]) -> ClassBesidePanel {
    let flight: Vec<&SampleRecord> = class.flight().collect();
    let mut learners = Vec::new();
    let mut silent = Vec::new();
    for learner in notes {
        let glasses: Vec<GlassBeside> = flight
            .iter()
            .zip(&learner.glasses)
            .enumerate()
            .filter(|(_, (_, notes))| !notes.is_empty())
            .map(|(place, (record, notes))| glass(class, place, record, notes))
            .collect();
        if glasses.is_empty() {
            silent.push(learner.learner.to_string());
        } else {
            learners.push(LearnerPage {
                learner: learner.learner.to_string(),
                name: learner.name.clone(),
                glasses,
            });
        }
    }
    ClassBesidePanel {
        unknown: unknown(&learners),
        samples: flight
            .iter()
            .enumerate()
            .map(|(place, record)| {
                let glasses: Vec<&GlassNotes> = notes
                    .iter()
                    .filter_map(|learner| learner.glasses.get(place))
                    .filter(|glass| !glass.is_empty())
                    .collect();
                class_words::sample(class, place, record, &glasses)
            })
            .collect(),
        learners,
        silent,
    }
}

fn glass(class: &Class, place: usize, record: &SampleRecord, notes: &GlassNotes) -> GlassBeside {
    let lexicon = &class.bank.lexicon;
    let stages = words::stages(lexicon, record, notes);
    GlassBeside {
        glass: place + 1,
        was: was(&class.bank, record),
        describe: record.describe.clone(),
        assessors: record.tasting.assessors.len(),
        sentence: words::sentence(lexicon, record, &stages),
        stages,
        ratings: ratings::ratings(record, notes),
        liking: notes.ratings.get(&Noted::Liking).copied(),
    }
}

/// Unknown words of all learners, in the order in which they come, spelling of case apart.
fn unknown(learners: &[LearnerPage]) -> Vec<UnknownWord> {
    let mut found: Vec<UnknownWord> = Vec::new();
    for page in learners {
        let words = page.glasses.iter().flat_map(|glass| &glass.stages);
        for word in words.flat_map(|stage| &stage.words) {
            let Standing::Unknown { near } = &word.standing else {
                continue;
            };
            let same = found
                .iter_mut()
                .find(|known| known.written.to_lowercase() == word.written.to_lowercase());
            match same {
                Some(known) if known.learners.contains(&page.learner) => {}
                Some(known) => known.learners.push(page.learner.clone()),
                None => found.push(UnknownWord {
                    written: word.written.clone(),
                    near: near.clone(),
                    learners: vec![page.learner.clone()],
                }),
            }
        }
    }
    found
}

#[cfg(test)]
mod tests;
