//! One page for each sample: what the panel found, what the class named, what it was taken for.

use std::collections::BTreeMap;

use base::SampleId;
use exam_plan::plan::TastingPart;
use exam_plan::{Asked, Exam, TastingWay};
use grader::{Award, Item};
use question_bank::taxonomy::Taxonomy;
use question_bank::{SampleRecord, TastingKey};
use serde::Serialize;

use crate::answer_counts::{AnswerCount, Counts};
use crate::candidate_report::{named_words, was};
use crate::decide::{Outcome, per_mille};
use crate::script::Script;
use crate::summary::{SampleFigure, SittingSummary};

/// So many other words, and so many other answers, are shown at most.
const MOST_OTHERS: usize = 8;

/// One sample of a sitting. Holds the key.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SamplePage {
    /// Which.
    pub sample: SampleId,
    /// What it was: name, category, region, age, strength.
    pub was: String,
    /// The figures of the summary.
    pub figure: SampleFigure,
    /// Assessors of the panel.
    pub assessors: usize,
    /// How many wrote words about it.
    pub wrote: usize,
    /// The words of the key, heaviest first.
    pub words: Vec<WordNamed>,
    /// Words that the key does not ask for, most named first.
    pub others: Vec<OtherWord>,
    /// What it was taken for; empty where it was not asked.
    pub taken_for: Vec<AnswerCount>,
    /// Where it was thought to come from; empty where it was not asked.
    pub placed_in: Vec<AnswerCount>,
}

/// A word of the key and how many named it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WordNamed {
    /// The word.
    pub word: String,
    /// Its weight with the panel, 0 to 1.
    pub weight: f64,
    /// How many assessors cited it.
    pub cited_by: usize,
    /// How many candidates named it or a synonym.
    pub named_by: usize,
}

/// A word that the key does not ask for.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct OtherWord {
    /// The word.
    pub word: String,
    /// How many candidates named it.
    pub named_by: usize,
    /// What it is to the key.
    pub standing: WordStanding,
}

/// What a word is to the key that does not ask for it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum WordStanding {
    /// Cited by some of the panel.
    Accepted,
    /// Cited by one of the panel alone.
    OfOne,
    /// Contradicts the sample.
    Contradicts,
    /// Nobody on the panel said it.
    Unsaid,
}

impl WordStanding {
    /// In words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Accepted => "some of the panel found it",
            Self::OfOne => "one of the panel found it",
            Self::Contradicts => "contradicts the sample",
            Self::Unsaid => "nobody on the panel found it",
        }
    }
}

/// Every sample of the flight, in the order of the plan.
#[must_use]
pub fn per_sample(
    exam: &Exam,
    scripts: &[Script<'_>],
    summary: &SittingSummary,
) -> Vec<SamplePage> {
    let Some(part) = &exam.plan.tasting else {
        return Vec::new();
    };
    summary
        .samples
        .iter()
        .filter_map(|figure| {
            let record = exam.sample(&figure.sample)?;
            Some(page(exam, part, record, scripts, figure))
        })
        .collect()
}

fn page(
    exam: &Exam,
    part: &TastingPart,
    record: &SampleRecord,
    scripts: &[Script<'_>],
    figure: &SampleFigure,
) -> SamplePage {
    let key = part.aroma_key(record, TastingWay::Full);
    let mut named: BTreeMap<String, usize> = BTreeMap::new();
    let mut wrote = 0;
    let (mut taken_for, mut placed_in) = (Counts::default(), Counts::default());
    for script in scripts {
        if script.decision.outcome == Outcome::Absent {
            continue;
        }
        let total = &script.decision.total;
        let share = f64::from(per_mille(total.marks, total.of)) / 1000.0;
        for (award, asked) in about(part, script, &figure.sample) {
            match asked {
                Asked::Aroma { words } if !award.answer.trim().is_empty() => {
                    wrote += 1;
                    for word in named_words(exam, &award.answer, *words) {
                        *named.entry(word).or_default() += 1;
                    }
                }
                Asked::Category => {
                    let words = node_words(&exam.bank.categories, &award.answer);
                    taken_for.add(&words, award.marks() == award.of, share);
                }
                Asked::Region => {
                    let words = node_words(&exam.bank.regions, &award.answer);
                    placed_in.add(&words, award.marks() == award.of, share);
                }
                Asked::Aroma { .. }
                | Asked::Water { .. }
                | Asked::Age(_)
                | Asked::Strength { .. }
                | Asked::Colour
                | Asked::Body
                | Asked::Finish
                | Asked::Quality
                | Asked::Fault { .. }
                | Asked::Confidence(_)
                | Asked::Producer { .. } => {}
            }
        }
    }
    let words = key.required.iter().map(|word| WordNamed {
        named_by: named.remove(&word.word).unwrap_or(0),
        word: word.word.clone(),
        weight: word.weight,
        cited_by: word.cited_by,
    });
    let words: Vec<WordNamed> = words.collect();
    let mut others: Vec<OtherWord> = named
        .into_iter()
        .map(|(word, named_by)| OtherWord {
            standing: standing(&key, &word),
            word,
            named_by,
        })
        .collect();
    others.sort_by(|a, b| {
        b.named_by
            .cmp(&a.named_by)
            .then_with(|| a.word.cmp(&b.word))
    });
    others.truncate(MOST_OTHERS);
    SamplePage {
        sample: figure.sample.clone(),
        was: was(&exam.bank, record),
        figure: figure.clone(),
        assessors: key.assessors,
        wrote,
        words,
        others,
        taken_for: taken_for.most(MOST_OTHERS),
        placed_in: placed_in.most(MOST_OTHERS),
    }
}

/// What a script says about a sample, with what was asked.
fn about<'s>(
    part: &'s TastingPart,
    script: &'s Script<'_>,
    wanted: &'s SampleId,
) -> impl Iterator<Item = (&'s Award, &'s Asked)> {
    script.awards.iter().filter_map(move |award| {
        let Item::Tasting { sample, asked, .. } = &award.item else {
            return None;
        };
        let question = part.ask.iter().find(|q| q.asked.name() == asked)?;
        (sample == wanted).then_some((*award, &question.asked))
    })
}

/// The tree's name for an answer, or the answer as it was written.
fn node_words(tree: &Taxonomy, answer: &str) -> String {
    let written = answer.trim();
    if written.is_empty() {
        return "no answer".to_owned();
    }
    tree.find(written)
        .map_or_else(|| written.to_lowercase(), |node| node.name.clone())
}

fn standing(key: &TastingKey, word: &str) -> WordStanding {
    let within = |words: &[question_bank::tasting_key::KeyWord]| {
        words.iter().any(|known| known.word == word)
    };
    if key.contradicting.iter().any(|known| known == word) {
        WordStanding::Contradicts
    } else if within(&key.accepted) {
        WordStanding::Accepted
    } else if within(&key.alone) {
        WordStanding::OfOne
    } else {
        WordStanding::Unsaid
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::example::{Shape, awards, exam};
    use crate::per_question::per_question;
    use crate::{scripts, summarise};
    use exam_plan::plan::Join;

    #[test]
    fn pages_count_what_the_class_wrote() {
        let shape = Shape {
            questions: 3,
            samples: 1,
            candidates: 4,
        };
        let join = Join::Conjunctive {
            theory: 500,
            tasting: 0,
        };
        let (exam, sitting) = exam(shape, join);
        let awards = awards(&exam, &sitting, |candidate, item| match item {
            // All four mark the same letter of the first question; nobody answers the others.
            Item::Theory { number: 1, .. } => "A".to_owned(),
            Item::Theory { .. } => String::new(),
            Item::Tasting { asked, .. } => match (asked.as_str(), candidate) {
                ("aroma", 0) => "banana; juniper".to_owned(),
                ("aroma", 1) => "bananas; oak".to_owned(),
                ("category", 0..=2) => "Malt whisky".to_owned(),
                ("category", _) => "Molasses rum".to_owned(),
                _ => String::new(),
            },
        });
        let scripts = scripts(&exam, &sitting, &awards);
        let summary = summarise(&exam, &sitting, &scripts);
        let samples = per_sample(&exam, &scripts, &summary);
        assert_eq!((samples.len(), samples[0].wrote), (1, 2));
        let banana = samples[0]
            .words
            .iter()
            .find(|w| w.word == "banana")
            .unwrap();
        assert_eq!(banana.named_by, 2);
        let juniper = samples[0]
            .others
            .iter()
            .find(|w| w.word == "juniper")
            .unwrap();
        assert_eq!(juniper.standing, WordStanding::Contradicts);
        let taken: Vec<_> = samples[0]
            .taken_for
            .iter()
            .map(|one| (one.answer.as_str(), one.right, one.n))
            .collect();
        assert_eq!(
            taken,
            [("Malt whisky", false, 3), ("Molasses rum", true, 1)]
        );

        let questions = per_question(&exam, &sitting, &scripts, &summary);
        assert_eq!(questions.len(), 3);
        let first = questions.iter().find(|q| q.printed_as == ["A 1"]).unwrap();
        assert_eq!(first.answers[0].n, 4);
        assert!(first.answers.len() >= 3, "{:?}", first.answers);
        let other = questions.iter().find(|q| q.printed_as == ["A 2"]).unwrap();
        let open = other.answers.iter().find(|a| a.answer == "no answer");
        assert_eq!(open.map(|a| (a.n, a.right)), Some((4, false)));
    }
}
