//! What a rule finds, as data: marks with a reason, or why a person must look. It becomes an
//! [`Outcome`] when it is put into words.

use base::Marks;

use crate::award::{Outcome, UnknownWord};
use crate::reason::Reason;
use crate::sentences::{Line, Sentences, Value};

/// What a rule finds.
#[derive(Debug, Clone, PartialEq)]
pub enum Verdict {
    /// Marked by rule.
    Marked {
        /// The marks, between 0 and the full marks.
        marks: Marks,
        /// Why.
        reason: Reason,
        /// The rule by its stable name.
        rule: &'static str,
    },
    /// Not finished: a person must look.
    ForAPerson {
        /// Why.
        why: Why,
        /// Near words or other help.
        near: Vec<String>,
        /// What the readable part of the answer has earned so far.
        provisional: Marks,
        /// The words that a person must judge.
        words: Vec<UnknownWord>,
    },
}

/// Why a person must look.
#[derive(Debug, Clone, PartialEq)]
pub enum Why {
    /// In the words in which a marker reads it.
    Said(String),
    /// Words that the lexicon does not know, beside what counts so far.
    NotInTheLexicon(Reason),
    /// A name that the tree does not know.
    NotInTheTree(String),
    /// A word that is not accepted.
    NotAccepted(String),
    /// Entries that are not accepted, beside what counts so far.
    EntriesNotAccepted(Reason),
}

impl Verdict {
    /// For a person, with nothing earned so far.
    #[must_use]
    pub fn for_a_person(why: impl Into<String>, near: Vec<String>) -> Self {
        Self::ForAPerson {
            why: Why::Said(why.into()),
            near,
            provisional: Marks::ZERO,
            words: Vec::new(),
        }
    }
    /// The marks so far: what is certain while a person must look.
    #[must_use]
    pub const fn marks(&self) -> Marks {
        match self {
            Self::Marked { marks, .. } => *marks,
            Self::ForAPerson { provisional, .. } => *provisional,
        }
    }
    /// Whether a person must look.
    #[must_use]
    pub const fn waits(&self) -> bool {
        match self {
            Self::Marked { .. } => false,
            Self::ForAPerson { .. } => true,
        }
    }
    /// In the words of these sentences.
    #[must_use]
    pub fn told(self, sentences: &Sentences) -> Outcome {
        match self {
            Self::Marked {
                marks,
                reason,
                rule,
            } => Outcome::Marked {
                marks,
                reason: reason.told(sentences),
                rule: rule.into(),
            },
            Self::ForAPerson {
                why,
                near,
                provisional,
                words,
            } => Outcome::ForAPerson {
                why: why.told(&words, sentences),
                near,
                provisional,
                words,
            },
        }
    }
}

impl Why {
    fn told(&self, unknown: &[UnknownWord], sentences: &Sentences) -> String {
        let quoted: Vec<String> = unknown
            .iter()
            .map(|unknown| format!("\"{}\"", unknown.word))
            .collect();
        let quoted = quoted.join(", ");
        match self {
            Self::Said(words) => words.clone(),
            Self::NotInTheLexicon(so_far) => {
                let so_far = so_far.told(sentences);
                let values = [Value::words(&quoted), Value::words(&so_far)];
                sentences.fill(Line::NotInTheLexicon, &values)
            }
            Self::NotInTheTree(word) => sentences.fill(Line::NotInTheTree, &[Value::words(word)]),
            Self::NotAccepted(word) => sentences.fill(Line::NotAccepted, &[Value::words(word)]),
            Self::EntriesNotAccepted(so_far) => {
                let so_far = so_far.told(sentences);
                let count = Value::Count(unknown.len());
                let values = [Value::words(&quoted), count, Value::words(&so_far)];
                sentences.fill(Line::EntriesNotAccepted, &values)
            }
        }
    }
}
