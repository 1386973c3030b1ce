//! A learner's words on one glass beside the panel's, stage by stage.

use std::collections::BTreeSet;

use exam_plan::class_plan::{GlassNotes, Noted};
use exam_plan::read::USUAL_THRESHOLD;
use question_bank::lexicon::Closeness;
use question_bank::reference_tasting::Stage;
use question_bank::tasting_key::KeyWord;
use question_bank::word_match::{Resolved, resolve_list};
use question_bank::{Lexicon, SampleRecord, TastingKey};
use serde::Serialize;

/// One stage: the learner's words, and the panel's main words that are not among them.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StageBeside {
    /// What it is, as printed: "Nose".
    pub stage: &'static str,
    /// The learner's words in the order written.
    pub words: Vec<WordBeside>,
    /// What the panel found besides, heaviest first, each with how many said it.
    pub besides: Vec<String>,
}

/// One of the learner's words.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WordBeside {
    /// As written.
    pub written: String,
    /// The lexicon's word; none where it is not known.
    pub word: Option<String>,
    /// How it stands to the panel's.
    pub standing: Standing,
    /// The same in words.
    pub how: String,
}

/// How a learner's word stands to the panel's notes.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub enum Standing {
    /// The panel said it at this stage.
    Same {
        /// So many of the assessors.
        cited_by: usize,
    },
    /// The panel said it at another stage.
    OtherStage {
        /// At which.
        stage: &'static str,
        /// So many of the assessors.
        cited_by: usize,
    },
    /// The panel said a word of the same group.
    Near {
        /// Which.
        panels: String,
    },
    /// One assessor alone said it.
    OneAssessor,
    /// It is not in the panel's notes.
    NotFound,
    /// The record says that it is not in this sample.
    Contradicts,
    /// The learner says that it is not there.
    Denied,
    /// For what faded: whether the panel still noted it with water.
    Faded {
        /// The panel noted it neat.
        neat: bool,
        /// The panel noted it with water.
        with_water: bool,
    },
    /// The lexicon does not know it.
    Unknown {
        /// Words that may be meant.
        near: Vec<String>,
    },
}

/// The panel's words that count here.
struct Panel {
    /// Words of two assessors or more, heaviest first.
    shared: Vec<KeyWord>,
    /// Words of one assessor.
    alone: Vec<KeyWord>,
    assessors: usize,
}

impl Panel {
    fn of(key: TastingKey) -> Self {
        let mut shared = key.required;
        shared.extend(key.accepted);
        Self {
            shared,
            alone: key.alone,
            assessors: key.assessors,
        }
    }
    fn cited_by(&self, word: &str) -> Option<usize> {
        let found = self.shared.iter().find(|own| own.word == word);
        found.map(|own| own.cited_by)
    }
}

/// Where the words of one note are looked up: the stage, its heading, and the stages beside it.
const fn looked_up(noted: Noted) -> Option<(&'static str, Option<Stage>, bool)> {
    match noted {
        Noted::Nose => Some(("Nose", Some(Stage::Nose), false)),
        Noted::Palate => Some(("Palate", Some(Stage::Palate), false)),
        Noted::Aftertaste => Some(("Finish", Some(Stage::Finish), false)),
        // Words that were not parted are compared with all that was found neat.
        Noted::Aroma => Some(("Neat", None, false)),
        Noted::Water => Some(("With water: grew or appeared", Some(Stage::Water), false)),
        Noted::Faded => Some(("With water: faded", None, true)),
        Noted::Colour | Noted::Body | Noted::Finish | Noted::Quality | Noted::Liking => None,
    }
}

/// All stages of which something was noted.
pub(super) fn stages(
    lexicon: &Lexicon,
    record: &SampleRecord,
    notes: &GlassNotes,
) -> Vec<StageBeside> {
    let mut stages = Vec::new();
    for (noted, written) in &notes.words {
        let Some((heading, stage, faded)) = looked_up(*noted) else {
            continue;
        };
        let panel = Panel::of(match stage {
            Some(stage) => TastingKey::of_stage(record, USUAL_THRESHOLD, stage),
            None => TastingKey::neat(record, USUAL_THRESHOLD),
        });
        let words: Vec<WordBeside> = resolve_list(lexicon, written)
            .into_iter()
            .map(|(written, resolved)| {
                let standing = if faded {
                    of_faded(record, &resolved)
                } else {
                    standing(lexicon, record, stage, &panel, &resolved)
                };
                WordBeside {
                    written: written.to_owned(),
                    how: in_words(&standing, panel.assessors),
                    word: match resolved {
                        Resolved::Known { word, .. } | Resolved::Negated { word, .. } => Some(word),
                        Resolved::Unknown { .. } => None,
                    },
                    standing,
                }
            })
            .collect();
        let said: BTreeSet<&str> = words.iter().filter_map(|w| w.word.as_deref()).collect();
        let besides = if faded {
            Vec::new()
        } else {
            panel
                .shared
                .iter()
                .filter(|own| !said.contains(own.word.as_str()))
                .filter(|own| own.weight >= USUAL_THRESHOLD || own.cited_by * 3 >= panel.assessors)
                .map(|own| format!("{} ({} of {})", own.word, own.cited_by, panel.assessors))
                .collect()
        };
        stages.push(StageBeside {
            stage: heading,
            words,
            besides,
        });
    }
    stages
}

fn of_faded(record: &SampleRecord, resolved: &Resolved) -> Standing {
    let word = match resolved {
        Resolved::Known { word, .. } | Resolved::Negated { word, .. } => word,
        Resolved::Unknown { near } => return Standing::Unknown { near: near.clone() },
    };
    let said = |neat: bool| {
        let mut notes = record.tasting.notes.iter();
        notes.any(|note| note.stage.neat() == neat && note.descriptor == *word)
    };
    Standing::Faded {
        neat: said(true),
        with_water: said(false),
    }
}

fn standing(
    lexicon: &Lexicon,
    record: &SampleRecord,
    stage: Option<Stage>,
    panel: &Panel,
    resolved: &Resolved,
) -> Standing {
    let word = match resolved {
        Resolved::Known { word, .. } => word,
        Resolved::Negated { .. } => return Standing::Denied,
        Resolved::Unknown { near } => return Standing::Unknown { near: near.clone() },
    };
    if record.contradicts.contains(word) {
        return Standing::Contradicts;
    }
    if let Some(cited_by) = panel.cited_by(word) {
        return Standing::Same { cited_by };
    }
    for other in Stage::ALL {
        // Words of no stage of their own were already looked up among all that is neat.
        if Some(other) == stage || (stage.is_none() && other.neat()) {
            continue;
        }
        let there = Panel::of(TastingKey::of_stage(record, USUAL_THRESHOLD, other));
        if let Some(cited_by) = there.cited_by(word) {
            return Standing::OtherStage {
                stage: other.word(),
                cited_by,
            };
        }
    }
    if panel.alone.iter().any(|own| own.word == *word) {
        return Standing::OneAssessor;
    }
    let near = panel
        .shared
        .iter()
        .find(|own| lexicon.closeness(word, &own.word) == Some(Closeness::Group));
    match near {
        Some(own) => Standing::Near {
            panels: own.word.clone(),
        },
        None => Standing::NotFound,
    }
}

fn in_words(standing: &Standing, assessors: usize) -> String {
    match standing {
        Standing::Same { cited_by } => format!("the panel too: {cited_by} of {assessors}"),
        Standing::OtherStage { stage, cited_by } => {
            let at = match *stage {
                "nose" => "on the nose",
                "palate" => "on the palate",
                "finish" => "on the finish",
                _ => "with water",
            };
            format!("the panel too, {at}: {cited_by} of {assessors}")
        }
        Standing::Near { panels } => format!("near: the panel says {panels}"),
        Standing::OneAssessor => "one assessor of the panel too".to_owned(),
        Standing::NotFound => "not in the panel’s notes".to_owned(),
        Standing::Contradicts => "not in this spirit, says its record: taste again".to_owned(),
        Standing::Denied => "you say that it is not there".to_owned(),
        Standing::Faded { neat, with_water } => match (neat, with_water) {
            (true, true) => "the panel still notes it with water",
            (true, false) => "the panel notes it neat and not with water",
            (false, true) => "the panel notes it with water only",
            (false, false) => "not in the panel’s notes",
        }
        .to_owned(),
        Standing::Unknown { near } if near.is_empty() => {
            "not in the word list: ask in class".to_owned()
        }
        Standing::Unknown { near } => {
            format!("not in the word list; near: {}", near.join(", "))
        }
    }
}

/// How a glass's neat words stand to the panel's main words.
pub(super) fn sentence(lexicon: &Lexicon, record: &SampleRecord, stages: &[StageBeside]) -> String {
    let main = TastingKey::neat(record, USUAL_THRESHOLD).required;
    let said: BTreeSet<&str> = stages
        .iter()
        .filter(|stage| !stage.stage.starts_with("With water"))
        .flat_map(|stage| &stage.words)
        .filter(|word| word.standing != Standing::Denied)
        .filter_map(|word| word.word.as_deref())
        .collect();
    if main.is_empty() {
        return "The panel has no word on which it agrees.".to_owned();
    }
    let same = |own: &&KeyWord| said.contains(own.word.as_str());
    let near = |own: &&KeyWord| {
        !said.contains(own.word.as_str())
            && said
                .iter()
                .any(|word| lexicon.closeness(word, &own.word) == Some(Closeness::Group))
    };
    let found = main.iter().filter(same).count();
    let close = main.iter().filter(near).count();
    let beside = match close {
        0 => String::new(),
        1 => "; another is near one of yours".to_owned(),
        more => format!("; {more} more are near yours"),
    };
    format!(
        "You wrote {found} of the panel’s {} main words{beside}.",
        main.len()
    )
}
