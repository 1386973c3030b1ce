//! One question of a bank: what it asks, where it belongs and who vouches for it.

use std::borrow::Cow;
use std::collections::BTreeMap;

use base::{CellId, Marks, Place, QuestionId, Text};
use serde::Serialize;

use crate::check::Waiver;
use crate::drawn_numbers::DrawnNumbers;
use crate::picture::Picture;
use crate::question_kind::QuestionKind;
use crate::question_set::InSet;

/// A checked question.
#[derive(Debug, Clone, PartialEq)]
pub struct Question {
    /// Its id.
    pub id: QuestionId,
    /// Where it stands in its text.
    pub place: Place,
    /// The cell of the blueprint (content side).
    pub cell: CellId,
    /// The cognitive level (the other side of the blueprint).
    pub level: Level,
    /// The author's guess before data exist.
    pub difficulty: Difficulty,
    /// How far it has come.
    pub state: ReviewState,
    /// Who reviewed it: a role or initials of the author's choosing.
    pub reviewed_by: Option<Text>,
    /// Where its key can be looked up.
    pub source: Source,
    /// When the source was last looked at, as `YYYY-MM-DD`.
    pub verified: Text,
    /// Marks for a right answer.
    pub marks: Marks,
    /// Questions that must not stand on the same form. Mutual.
    pub enemies: Vec<QuestionId>,
    /// Whether it may link forms of different sittings.
    pub anchor: bool,
    /// Never drawn for an exam.
    pub practice_only: bool,
    /// On a form of a coming exam: never shown in practice.
    pub live: bool,
    /// Rules of item writing that the author sets aside here, each with the reason.
    pub waived: Vec<Waiver>,
    /// What it asks and what is right.
    pub kind: QuestionKind,
    /// The text that it is about together with other questions.
    pub set: Option<InSet>,
    /// The picture that it shows.
    pub picture: Option<Box<Picture>>,
    /// The same in other languages, by language tag.
    pub translations: BTreeMap<String, QuestionKind>,
}

impl Question {
    /// The text it is about, where it is of a set, and what is asked; and in words what the picture
    /// shows: for papers that print no drawing.
    #[must_use]
    pub fn in_words(&self) -> String {
        let stem = self.with_its_text();
        match &self.picture {
            None => stem,
            Some(picture) => format!("{stem} [Picture: {}]", picture.alternative),
        }
    }

    /// The text it is about, where it is of a set, and what is asked, as paragraphs: for a question
    /// that stands by itself.
    #[must_use]
    pub fn with_its_text(&self) -> String {
        let stem = self.kind.stem();
        match &self.set {
            None => stem.to_owned(),
            Some(of) => format!("{}\n\n{stem}", of.set.text),
        }
    }

    /// Whether it can be printed in this language too, the bank's own being another.
    #[must_use]
    pub fn speaks(&self, language: &str) -> bool {
        let set = self.set.as_ref();
        self.translations.contains_key(language)
            && set.is_none_or(|of| of.set.translations.contains_key(language))
    }

    /// The question as it stands on a form with these drawn numbers: itself where nothing is drawn.
    ///
    /// # Errors
    /// Why the numbers do not make a question.
    pub fn realised(&self, drawn: &DrawnNumbers) -> Result<Cow<'_, Self>, String> {
        Ok(match self.kind.realised(drawn)? {
            Cow::Borrowed(_) => Cow::Borrowed(self),
            Cow::Owned(kind) => Cow::Owned(Self {
                kind,
                ..self.clone()
            }),
        })
    }
}

/// What answering takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Level {
    /// To know it.
    Recall,
    /// To use it on a case.
    Application,
    /// To weigh and decide.
    Judgement,
}

impl Level {
    /// All levels, in order.
    pub const ALL: [Self; 3] = [Self::Recall, Self::Application, Self::Judgement];
    /// The word in texts.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Recall => "recall",
            Self::Application => "application",
            Self::Judgement => "judgement",
        }
    }
}

/// How hard the author thinks it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Difficulty {
    /// Most candidates have it right.
    Easy,
    /// About as many have it right as a prepared class should.
    Medium,
    /// Only well-prepared candidates have it right.
    Hard,
}

impl Difficulty {
    /// All difficulties, in order.
    pub const ALL: [Self; 3] = [Self::Easy, Self::Medium, Self::Hard];
    /// The word in texts.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Easy => "easy",
            Self::Medium => "medium",
            Self::Hard => "hard",
        }
    }
}

/// How far a question has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum ReviewState {
    /// Being written.
    Draft,
    /// Read by a second person.
    Reviewed,
    /// Printed on forms to learn its figures, not counted.
    Pretest,
    /// Printed and counted.
    Operational,
    /// No longer used.
    Retired,
}

impl ReviewState {
    /// All states, in order.
    pub const ALL: [Self; 5] = [
        Self::Draft,
        Self::Reviewed,
        Self::Pretest,
        Self::Operational,
        Self::Retired,
    ];
    /// The word in texts.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Draft => "draft",
            Self::Reviewed => "reviewed",
            Self::Pretest => "pretest",
            Self::Operational => "operational",
            Self::Retired => "retired",
        }
    }
    /// Whether a counted place on a form may be filled with it.
    #[must_use]
    pub const fn counts(self) -> bool {
        matches!(self, Self::Operational)
    }
}

/// Where something can be looked up.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Source {
    /// Law, standard, handbook or paper.
    pub work: Text,
    /// Clause, page or chapter.
    pub clause: Option<Text>,
    /// How the author knows.
    pub evidence: Evidence,
}

impl std::fmt::Display for Source {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.work)?;
        if let Some(clause) = &self.clause {
            write!(f, ", {clause}")?;
        }
        match self.evidence {
            Evidence::Read | Evidence::Computed | Evidence::CommonPractice => Ok(()),
            Evidence::Memory => f.write_str(" (from memory)"),
        }
    }
}

/// How the author knows that it is so.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Evidence {
    /// The text was read.
    Read,
    /// The value was computed from the work named.
    Computed,
    /// The trade does it so; no source.
    CommonPractice,
    /// From memory: to be looked up before anybody leans on it.
    Memory,
}
