//! The class as a whole beside the panel, sample by sample: who found which word, and ratings.

use std::collections::{BTreeMap, BTreeSet};

use exam_plan::Class;
use exam_plan::class_plan::{GlassNotes, Noted};
use exam_plan::read::USUAL_THRESHOLD;
use question_bank::word_match::{Resolved, resolve_list};
use question_bank::{Lexicon, SampleRecord, TastingKey};
use serde::Serialize;
use statistics::descriptive::proportion::{Proportion, proportion};
use statistics::descriptive::summary::{Summary, summary};

use super::ratings::{compared, panels};
use crate::analysis::LEVEL;
use crate::candidate_report::was;

/// So many of the panel's words are shown.
const MOST_OF_PANEL: usize = 12;
/// So many words that learners alone wrote are shown.
const MOST_OF_CLASS: usize = 6;

/// One sample with the class as a whole.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SampleBesideClass {
    /// Its place in the flight, from 1.
    pub glass: usize,
    /// The name on the bottle.
    pub name: String,
    /// What it was.
    pub was: String,
    /// Learners who noted anything on it.
    pub learners: usize,
    /// Assessors of the panel.
    pub assessors: usize,
    /// The panel's words, heaviest first, then those that at least two learners wrote and the panel
    /// did not.
    pub words: Vec<ClassWord>,
    /// What to see.
    pub sentence: String,
    /// The ratings; liking is not among them.
    pub ratings: Vec<ClassRating>,
}

/// One word.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ClassWord {
    /// The lexicon's word.
    pub word: String,
    /// The panel's weight; none where fewer than two assessors said it.
    pub weight: Option<f64>,
    /// How many assessors said it.
    pub panel: Proportion,
    /// How many learners wrote it.
    pub class: Proportion,
}

/// One rating.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ClassRating {
    /// What was rated, as printed.
    pub what: &'static str,
    /// The scale in words.
    pub scale: &'static str,
    /// The class's ratings.
    pub class: Summary,
    /// The panel's mean, or what the record says.
    pub panels: Option<f64>,
    /// The same in words.
    pub beside: String,
}

/// One sample beside what the learners noted on it.
pub(super) fn sample(
    class: &Class,
    place: usize,
    record: &SampleRecord,
    notes: &[&GlassNotes],
) -> SampleBesideClass {
    let words = words(&class.bank.lexicon, record, notes);
    SampleBesideClass {
        glass: place + 1,
        name: record.name.clone(),
        was: was(&class.bank, record),
        learners: notes.len(),
        assessors: record.tasting.assessors.len(),
        sentence: sentence(&words, notes.len(), record.tasting.assessors.len()),
        words,
        ratings: Noted::ALL
            .into_iter()
            .filter_map(|noted| {
                let (what, scale) = compared(noted)?;
                let own: Vec<f64> = notes
                    .iter()
                    .filter_map(|glass| glass.ratings.get(&noted).copied())
                    .collect();
                let (panels, beside) = panels(record, noted);
                Some(ClassRating {
                    what,
                    scale,
                    class: summary(&own, LEVEL).ok()?,
                    panels,
                    beside,
                })
            })
            .collect(),
    }
}

/// The lexicon's words that one learner found neat.
fn found(lexicon: &Lexicon, notes: &GlassNotes) -> BTreeSet<String> {
    notes
        .words
        .iter()
        .filter(|(noted, _)| noted.neat_words())
        .flat_map(|(_, written)| resolve_list(lexicon, written))
        .filter_map(|(_, resolved)| match resolved {
            Resolved::Known { word, .. } => Some(word),
            Resolved::Negated { .. } | Resolved::Unknown { .. } => None,
        })
        .collect()
}

fn words(lexicon: &Lexicon, record: &SampleRecord, notes: &[&GlassNotes]) -> Vec<ClassWord> {
    let mut written: BTreeMap<String, usize> = BTreeMap::new();
    for glass in notes {
        for word in found(lexicon, glass) {
            *written.entry(word).or_default() += 1;
        }
    }
    let key = TastingKey::neat(record, USUAL_THRESHOLD);
    let (assessors, learners) = (key.assessors, notes.len());
    let line = |word: &str, weight: Option<f64>, cited_by: usize| {
        let own = written.get(word).copied().unwrap_or(0);
        Some(ClassWord {
            word: word.to_owned(),
            weight,
            panel: proportion(cited_by, assessors, LEVEL).ok()?,
            class: proportion(own, learners, LEVEL).ok()?,
        })
    };
    let of_panel = key.required.iter().chain(&key.accepted);
    let mut lines: Vec<ClassWord> = of_panel
        .clone()
        .take(MOST_OF_PANEL)
        .filter_map(|own| line(&own.word, Some(own.weight), own.cited_by))
        .collect();
    let panels: BTreeSet<&str> = of_panel.map(|own| own.word.as_str()).collect();
    let mut alone: Vec<(&String, usize)> = written
        .iter()
        .filter(|(word, number)| **number >= 2 && !panels.contains(word.as_str()))
        .map(|(word, number)| (word, *number))
        .collect();
    alone.sort_by(|a, b| b.1.cmp(&a.1).then_with(|| a.0.cmp(b.0)));
    lines.extend(
        alone
            .into_iter()
            .take(MOST_OF_CLASS)
            .filter_map(|(word, _)| {
                let one = key.alone.iter().find(|own| own.word == *word);
                line(word, None, one.map_or(0, |own| own.cited_by))
            }),
    );
    lines
}

/// What to see: the word on which class and panel agree most, the one most missed, the one that the
/// class alone has.
fn sentence(words: &[ClassWord], learners: usize, assessors: usize) -> String {
    if learners == 0 {
        return "No notes came in on this sample.".to_owned();
    }
    let said = |word: &ClassWord| {
        format!(
            "{} ({} of {learners} learners, {} of {assessors} assessors)",
            word.word, word.class.successes, word.panel.successes
        )
    };
    let panels = || words.iter().filter(|word| word.weight.is_some());
    let both = panels()
        .filter(|word| word.class.successes > 0)
        .max_by(|a, b| {
            let least = |word: &ClassWord| word.class.share.min(word.panel.share);
            least(a).total_cmp(&least(b)).then(b.word.cmp(&a.word))
        });
    let missed = panels()
        .filter(|word| word.panel.share - word.class.share > 0.25)
        .max_by(|a, b| {
            let gap = |word: &ClassWord| word.panel.share - word.class.share;
            gap(a).total_cmp(&gap(b)).then(b.word.cmp(&a.word))
        });
    let own = words.iter().find(|word| word.weight.is_none());
    let mut sentences = Vec::new();
    sentences.push(match both {
        Some(word) => format!("Class and panel meet most in {}.", said(word)),
        None => "Nobody of the class wrote a word of the panel's.".to_owned(),
    });
    if let Some(word) = missed {
        sentences.push(format!("Most missed: {}.", said(word)));
    }
    if let Some(word) = own {
        sentences.push(format!("The class alone has {}.", said(word)));
    }
    sentences.join(" ")
}
