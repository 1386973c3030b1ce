//! One mark with its reason.

use std::borrow::Cow;

use base::{CandidateNumber, Marks, QuestionId, SampleId};

/// What was asked of whom: a question of the theory paper or one thing of one glass.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Item {
    /// A theory question.
    Theory {
        /// Its printed number on the candidate's form.
        number: u32,
        /// Which.
        question: QuestionId,
    },
    /// One thing asked of one glass.
    Tasting {
        /// The place of the glass in the candidate's serving order, from 1.
        glass: u32,
        /// The code on the glass.
        code: String,
        /// What was in it.
        sample: SampleId,
        /// What was asked, by its word in plans: `aroma`.
        asked: String,
    },
}

/// The outcome for one item of one candidate.
#[derive(Debug, Clone, PartialEq)]
pub struct Award {
    /// Who.
    pub candidate: CandidateNumber,
    /// For what.
    pub item: Item,
    /// What was answered, as written; empty for no answer.
    pub answer: String,
    /// The marks, or why a person must decide.
    pub outcome: Outcome,
    /// Marks for a full answer.
    pub of: Marks,
    /// Whether the marks count towards the parts; pretest questions do not.
    pub counts: bool,
    /// Whether the marks are extra credit.
    pub extra: bool,
}

/// Marked, or left for a person.
#[derive(Debug, Clone, PartialEq)]
pub enum Outcome {
    /// Marked by rule.
    Marked {
        /// The marks, between 0 and the full marks.
        marks: Marks,
        /// One plain sentence that says why.
        reason: String,
        /// The rule by its stable name, for the appeal file: `ordering tau`.
        rule: Cow<'static, str>,
    },
    /// Not finished: a person must look. Until then only what is certain counts, and it is listed.
    ForAPerson {
        /// One plain sentence that says why.
        why: String,
        /// Near words or other help.
        near: Vec<String>,
        /// What the readable part of the answer has earned so far.
        provisional: Marks,
        /// The words that a person must judge, each with the known words near it.
        words: Vec<UnknownWord>,
    },
}

/// A word of an answer that no list knows.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct UnknownWord {
    /// As written, without spaces around it.
    pub word: String,
    /// Known words near it, nearest first.
    pub near: Vec<String>,
}

impl Outcome {
    /// For a person, with nothing earned so far.
    #[must_use]
    pub fn for_a_person(why: impl Into<String>, near: Vec<String>) -> Self {
        Self::ForAPerson {
            why: why.into(),
            near,
            provisional: Marks::ZERO,
            words: Vec::new(),
        }
    }
    /// The marks so far: what is certain while a person must look.
    #[must_use]
    pub fn marks(&self) -> Marks {
        match self {
            Self::Marked { marks, .. } => *marks,
            Self::ForAPerson { provisional, .. } => *provisional,
        }
    }
    /// Whether a person must look.
    #[must_use]
    pub fn waits(&self) -> bool {
        match self {
            Self::Marked { .. } => false,
            Self::ForAPerson { .. } => true,
        }
    }
}

impl Award {
    /// The marks so far: what is certain while a person must look.
    #[must_use]
    pub fn marks(&self) -> Marks {
        self.outcome.marks()
    }
}
