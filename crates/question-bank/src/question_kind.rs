//! The kinds of question, one file each. Adding one is a file, a line here and a line in the
//! list of readers.

pub mod best_answer;
pub mod matching;
pub mod multiple_response;
pub mod numeric;
pub mod ordering;
pub mod short_answer;

pub use best_answer::BestAnswer;
pub use matching::{Matching, Pair};
pub use multiple_response::{MultipleResponse, MultipleResponseRule};
pub use numeric::Numeric;
pub use ordering::{Ordering, OrderingRule};
pub use short_answer::ShortAnswer;

/// What a question asks and what is right. Holds the key and therefore has no `Serialize`: what a
/// candidate may see is built field by field elsewhere.
#[derive(Debug, Clone, PartialEq)]
pub enum QuestionKind {
    /// One of several options is right.
    BestAnswer(BestAnswer),
    /// Several of the options are right.
    MultipleResponse(MultipleResponse),
    /// A number with a unit.
    Numeric(Numeric),
    /// Steps to be put in order.
    Ordering(Ordering),
    /// Two columns to be joined.
    Matching(Matching),
    /// A word or two.
    ShortAnswer(ShortAnswer),
}

impl QuestionKind {
    /// The names of all kinds as the text form writes them.
    pub const NAMES: [&'static str; 6] = [
        "best_answer",
        "multiple_response",
        "numeric",
        "ordering",
        "matching",
        "short_answer",
    ];

    /// The name of this kind as the text form writes it.
    #[must_use]
    pub const fn name(&self) -> &'static str {
        match self {
            Self::BestAnswer(_) => "best_answer",
            Self::MultipleResponse(_) => "multiple_response",
            Self::Numeric(_) => "numeric",
            Self::Ordering(_) => "ordering",
            Self::Matching(_) => "matching",
            Self::ShortAnswer(_) => "short_answer",
        }
    }
    /// What is asked.
    #[must_use]
    pub fn stem(&self) -> &str {
        match self {
            Self::BestAnswer(kind) => &kind.stem,
            Self::MultipleResponse(kind) => &kind.stem,
            Self::Numeric(kind) => &kind.stem,
            Self::Ordering(kind) => &kind.stem,
            Self::Matching(kind) => &kind.stem,
            Self::ShortAnswer(kind) => &kind.stem,
        }
    }
    /// How many things are lettered on paper and may be shuffled: options, steps, or the right
    /// column; 0 for kinds that letter nothing.
    #[must_use]
    pub fn lettered(&self) -> usize {
        match self {
            Self::BestAnswer(kind) => kind.options.len(),
            Self::MultipleResponse(kind) => kind.options.len(),
            Self::Ordering(kind) => kind.steps.len(),
            Self::Matching(kind) => kind.right_column().len(),
            Self::Numeric(_) | Self::ShortAnswer(_) => 0,
        }
    }
    /// Whether what is lettered must be printed as written.
    #[must_use]
    pub fn keeps_order(&self) -> bool {
        match self {
            Self::BestAnswer(kind) => kind.keep_order,
            Self::MultipleResponse(kind) => kind.keep_order,
            Self::Ordering(_) | Self::Matching(_) | Self::Numeric(_) | Self::ShortAnswer(_) => {
                false
            }
        }
    }
}

/// One option of a choice.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AnswerOption {
    /// What is printed.
    pub text: String,
    /// Whether it is right.
    pub key: bool,
    /// Why it is right or wrong.
    pub why: String,
}
