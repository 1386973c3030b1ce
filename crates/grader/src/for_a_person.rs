//! Collects what a person must decide: the same word of the same question only once, and nothing
//! that says whose answer it is.

use std::collections::BTreeMap;

use base::{Marks, QuestionId, SampleId};
use question_bank::word_match::fold;

use crate::award::{Award, Item, Outcome};

/// What a decision applies to.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Subject {
    /// Answers to a theory question.
    Theory(QuestionId),
    /// Answers to one thing asked about one sample: `aroma`.
    Tasting(SampleId, String),
}

/// One thing to decide, for all answers that have it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ToDecide {
    /// Of what.
    pub subject: Subject,
    /// The word, or the whole answer where it is not a matter of words.
    pub written: String,
    /// Why a person must look.
    pub why: String,
    /// Known words near it.
    pub near: Vec<String>,
    /// How many answers wait for it.
    pub answers: usize,
    /// The most marks that one of them can have.
    pub of: Marks,
}

/// Everything that waits, in order of subject and word. Two words are the same when they fold
/// alike; the first writing is shown.
#[must_use]
pub fn to_decide<'a>(awards: impl IntoIterator<Item = &'a Award>) -> Vec<ToDecide> {
    let mut found: BTreeMap<(Subject, String), ToDecide> = BTreeMap::new();
    for award in awards {
        let Outcome::ForAPerson {
            why, near, words, ..
        } = &award.outcome
        else {
            continue;
        };
        let subject = match &award.item {
            Item::Theory { question, .. } => Subject::Theory(question.clone()),
            Item::Tasting { sample, asked, .. } => Subject::Tasting(sample.clone(), asked.clone()),
        };
        let mut note = |written: &str, why: String, near: &[String]| {
            found
                .entry((subject.clone(), fold(written)))
                .or_insert_with(|| ToDecide {
                    subject: subject.clone(),
                    written: written.to_owned(),
                    why,
                    near: near.to_vec(),
                    answers: 0,
                    of: award.of,
                })
                .answers += 1;
        };
        if words.is_empty() {
            note(award.answer.trim(), why.clone(), near);
        }
        for word in words {
            note(
                &word.word,
                format!("\"{}\" is not known here", word.word),
                &word.near,
            );
        }
    }
    found.into_values().collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::UnknownWord;
    use base::CandidateNumber;

    fn award(candidate: &str, asked: &str, answer: &str, words: &[&str]) -> Award {
        Award {
            candidate: CandidateNumber::parse(candidate).unwrap(),
            item: Item::Tasting {
                glass: 1,
                code: "417".to_owned(),
                sample: SampleId::parse("s").unwrap(),
                asked: asked.to_owned(),
            },
            answer: answer.to_owned(),
            outcome: Outcome::ForAPerson {
                why: "cannot be read".to_owned(),
                near: Vec::new(),
                provisional: Marks::ZERO,
                words: words
                    .iter()
                    .map(|word| UnknownWord {
                        word: (*word).to_owned(),
                        near: vec!["oak".to_owned()],
                    })
                    .collect(),
            },
            of: Marks::ONE,
            counts: true,
            extra: false,
        }
    }

    #[test]
    fn the_same_word_comes_once_and_names_nobody() {
        let mut marked = award("C-4", "aroma", "oak", &[]);
        marked.outcome = Outcome::Marked {
            marks: Marks::ONE,
            reason: "so".to_owned(),
            rule: "aroma assignment".into(),
        };
        let awards = [
            award("C-1", "aroma", "oke; wax", &["oke", "Wax"]),
            award("C-2", "aroma", "wax", &["wax"]),
            award("C-2", "water", "wax", &["wax"]),
            award("C-3", "age", "8 to 20", &[]),
            award("C-5", "age", "8 to 20", &[]),
            marked,
        ];
        let list = to_decide(&awards);
        let told: Vec<(String, &str, usize)> = list
            .iter()
            .map(|one| match &one.subject {
                Subject::Tasting(_, asked) => (asked.clone(), one.written.as_str(), one.answers),
                Subject::Theory(question) => {
                    (question.to_string(), one.written.as_str(), one.answers)
                }
            })
            .collect();
        assert_eq!(
            told,
            [
                ("age".to_owned(), "8 to 20", 2),
                ("aroma".to_owned(), "oke", 1),
                ("aroma".to_owned(), "Wax", 2),
                ("water".to_owned(), "wax", 1),
            ]
        );
        assert!(!format!("{list:?}").contains("C-"));
    }
}
