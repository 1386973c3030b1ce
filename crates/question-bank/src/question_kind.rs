//! The kinds of question, one file each. Adding one is a file and its lines here: the module, the
//! member with its name and reader, and the arm that finds what it answers.

use std::borrow::Cow;

use base::tree::Tree;
use base::walk::Walk;
use base::{Fault, Marks, Stream, Text};

use crate::drawn_numbers::DrawnNumbers;
use crate::shape::Shape;

pub mod best_answer;
pub mod essay;
pub mod list;
pub mod matching;
pub mod multiple_response;
pub mod numeric;
pub mod ordering;
pub mod short_answer;
pub mod variant;

pub use best_answer::BestAnswer;
pub use essay::Essay;
pub use list::List;
pub use matching::{Matching, Pair};
pub use multiple_response::{MultipleResponse, MultipleResponseRule};
pub use numeric::Numeric;
pub use ordering::{Ordering, OrderingRule};
pub use short_answer::ShortAnswer;
pub use variant::Variant;

/// What a question asks and what is right. Holds the key and therefore has no `Serialize`: what a
/// candidate may see is built field by field elsewhere.
#[derive(Debug, Clone, PartialEq)]
pub enum QuestionKind {
    /// One of several options is right.
    BestAnswer(BestAnswer),
    /// Several of the options are right.
    MultipleResponse(MultipleResponse),
    /// A number with a unit.
    Numeric(Box<Numeric>),
    /// Numbers drawn for each form, the key computed.
    Variant(Box<Variant>),
    /// Steps to be put in order.
    Ordering(Ordering),
    /// Two columns to be joined.
    Matching(Matching),
    /// A word or two.
    ShortAnswer(ShortAnswer),
    /// Several of a list of right answers.
    List(List),
    /// Whole sentences, marked by a person.
    Essay(Essay),
}

/// What every kind answers. Whoever prints, lays out, explains or simulates a question asks these
/// and not for the kind.
pub trait Kind {
    /// What is asked.
    fn stem(&self) -> &str;
    /// How it is printed, answered and keyed.
    fn shape(&self) -> Shape<'_>;
    /// Why the right answer is right; empty where each option says it.
    fn why(&self) -> &str {
        ""
    }
    /// Whether what is lettered must be printed as written.
    fn keeps_order(&self) -> bool {
        false
    }
    /// Draws what differs from form to form, other than the drawings to avoid where that can be.
    ///
    /// # Errors
    /// Why nothing fit could be drawn.
    fn draw(&self, _: &mut Stream, _avoid: &[DrawnNumbers]) -> Result<DrawnNumbers, String> {
        Ok(DrawnNumbers::default())
    }
    /// The question that these drawn numbers make; none where nothing is drawn, the question being
    /// whole as it is.
    ///
    /// # Errors
    /// Why the numbers do not make one.
    fn realised(&self, _: &DrawnNumbers) -> Option<Result<QuestionKind, String>> {
        None
    }
    /// How many different drawings there are, counted up to so many; none where nothing is drawn.
    fn drawings(&self, _at_most: usize) -> Option<usize> {
        None
    }
    /// The same question in another language, read from a translation whose entries stand in the
    /// order of this one's.
    fn translated<'t>(&self, walk: &mut Walk<'t>, tree: &'t Tree) -> Option<QuestionKind>;
    /// What does not agree with the question's marks; its place is filled in by the reader.
    fn disagrees_with(&self, _: Marks) -> Option<Fault> {
        None
    }
}

impl QuestionKind {
    /// The names of all kinds as the text form writes them.
    pub const NAMES: [&'static str; 9] = [
        "best_answer",
        "multiple_response",
        "numeric",
        "variant",
        "ordering",
        "matching",
        "short_answer",
        "list",
        "essay",
    ];

    /// Reads the kind with this name.
    pub(crate) fn read<'t>(walk: &mut Walk<'t>, name: &str, tree: &'t Tree) -> Option<Self> {
        match name {
            "best_answer" => BestAnswer::read(walk, tree).map(Self::BestAnswer),
            "multiple_response" => MultipleResponse::read(walk, tree).map(Self::MultipleResponse),
            "numeric" => Numeric::read(walk, tree).map(Box::new).map(Self::Numeric),
            "variant" => Variant::read(walk, tree).map(Box::new).map(Self::Variant),
            "ordering" => Ordering::read(walk, tree).map(Self::Ordering),
            "matching" => Matching::read(walk, tree).map(Self::Matching),
            "short_answer" => ShortAnswer::read(walk, tree).map(Self::ShortAnswer),
            "list" => List::read(walk, tree).map(Self::List),
            "essay" => Essay::read(walk, tree).map(Self::Essay),
            _ => None,
        }
    }

    /// The name of this kind as the text form writes it, and what it answers.
    fn parts(&self) -> (&'static str, &dyn Kind) {
        match self {
            Self::BestAnswer(kind) => ("best_answer", kind),
            Self::MultipleResponse(kind) => ("multiple_response", kind),
            Self::Numeric(kind) => ("numeric", kind.as_ref()),
            Self::Variant(kind) => ("variant", kind.as_ref()),
            Self::Ordering(kind) => ("ordering", kind),
            Self::Matching(kind) => ("matching", kind),
            Self::ShortAnswer(kind) => ("short_answer", kind),
            Self::List(kind) => ("list", kind),
            Self::Essay(kind) => ("essay", kind),
        }
    }

    /// The name of this kind as the text form writes it.
    #[must_use]
    pub fn name(&self) -> &'static str {
        self.parts().0
    }
    fn kind(&self) -> &dyn Kind {
        self.parts().1
    }
    /// What is asked.
    #[must_use]
    pub fn stem(&self) -> &str {
        self.kind().stem()
    }
    /// How it is printed, answered and keyed.
    #[must_use]
    pub fn shape(&self) -> Shape<'_> {
        self.kind().shape()
    }
    /// How many things are lettered on paper and may be shuffled: options, steps, or the right
    /// column; 0 for kinds that letter nothing.
    #[must_use]
    pub fn lettered(&self) -> usize {
        self.shape().lettered()
    }
    /// Whether what is lettered must be printed as written.
    #[must_use]
    pub fn keeps_order(&self) -> bool {
        self.kind().keeps_order()
    }
    /// Why the right answer is right.
    #[must_use]
    pub fn why(&self) -> String {
        match self.shape() {
            Shape::Choice { options, .. } => {
                let keys = options.iter().filter(|o| o.key && !o.why.is_empty());
                let whys: Vec<&str> = keys.map(|option| option.why.as_str()).collect();
                whys.join(" ")
            }
            Shape::Number { .. }
            | Shape::Order { .. }
            | Shape::Columns { .. }
            | Shape::Words { .. }
            | Shape::Space { .. } => self.kind().why().to_owned(),
        }
    }
    /// Why each thing is right or wrong, one line each, for somebody who practises.
    #[must_use]
    pub fn whys(&self) -> Vec<String> {
        match self.shape() {
            Shape::Choice { options, .. } => {
                let line = |option: &AnswerOption| format!("{}: {}", option.text, option.why);
                options.iter().map(line).collect()
            }
            Shape::Number { .. }
            | Shape::Order { .. }
            | Shape::Columns { .. }
            | Shape::Words { .. }
            | Shape::Space { .. } => vec![self.kind().why().to_owned()],
        }
    }
    /// Draws what differs from form to form, other than the drawings to avoid where that can be.
    ///
    /// # Errors
    /// Why nothing fit could be drawn.
    pub fn draw(
        &self,
        stream: &mut Stream,
        avoid: &[DrawnNumbers],
    ) -> Result<DrawnNumbers, String> {
        self.kind().draw(stream, avoid)
    }
    /// The question as it stands on a form with these drawn numbers: itself where nothing is drawn.
    ///
    /// # Errors
    /// Why the numbers do not make a question.
    pub fn realised(&self, drawn: &DrawnNumbers) -> Result<Cow<'_, Self>, String> {
        match self.kind().realised(drawn) {
            Some(made) => made.map(Cow::Owned),
            None if drawn.is_empty() => Ok(Cow::Borrowed(self)),
            None => Err(format!("nothing is drawn for it, yet there is {drawn}")),
        }
    }
    /// How many different drawings there are, counted up to so many; none where nothing is drawn.
    #[must_use]
    pub fn drawings(&self, at_most: usize) -> Option<usize> {
        self.kind().drawings(at_most)
    }
    /// The same question in another language.
    pub(crate) fn translated<'t>(&self, walk: &mut Walk<'t>, tree: &'t Tree) -> Option<Self> {
        self.kind().translated(walk, tree)
    }
    /// What does not agree with the question's marks.
    pub(crate) fn disagrees_with(&self, marks: Marks) -> Option<Fault> {
        self.kind().disagrees_with(marks)
    }
}

/// One option of a choice.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AnswerOption {
    /// What is printed.
    pub text: Text,
    /// Whether it is right.
    pub key: bool,
    /// Why it is right or wrong.
    pub why: Text,
}
