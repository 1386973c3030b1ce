//! The one plain sentence that says why a mark is what it is.
//!
//! A reason is data until it is written, so that every sentence of one kind says the same things
//! in the same order, with the numbers from which the mark can be computed by hand. The words come
//! from a file of sentences ([`crate::sentences`]).

use base::Marks;
use question_bank::question_kind::{MultipleResponseRule, OrderingRule};

use crate::tasting_rule::confidence::BeliefScore;
use crate::theory_rule::Choice;
use crate::verdict::Verdict;

mod descriptors;
#[cfg(test)]
mod recomputed;
#[cfg(test)]
mod tests;
mod wording;

pub use descriptors::{Descriptors, FoundWord};

/// Marks and full marks: "0.55 of 2 marks".
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Earned {
    /// The marks.
    pub marks: Marks,
    /// Marks for a full answer.
    pub of: Marks,
}

/// Where a number lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Limit {
    /// Within this distance: full marks.
    Within(f64),
    /// Within this wider distance: half marks.
    HalfWithin(f64),
    /// Farther than this: nothing.
    Beyond(f64),
}

/// What was counted in an order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OrderCount {
    /// Pairs of steps, neighbours or not, that stand in true order.
    PairsInOrder {
        /// So many.
        in_order: usize,
        /// Of so many.
        pairs: usize,
    },
    /// Places by which the steps were moved, summed.
    PlacesMoved {
        /// So many.
        moved: usize,
        /// At most so many.
        most: usize,
    },
    /// Squares of the places by which the steps were moved, summed.
    SquaresMoved {
        /// So many.
        squares: usize,
        /// From so many on nothing is earned.
        nothing_from: usize,
    },
    /// The longest series of steps in true order.
    LongestInOrder {
        /// So many steps.
        longest: usize,
        /// Of so many.
        steps: usize,
    },
    /// Steps in their true place.
    StepsInPlace {
        /// So many.
        in_place: usize,
        /// Of so many.
        steps: usize,
    },
    /// True neighbours kept next to each other in true order.
    NeighboursKept {
        /// So many.
        kept: usize,
        /// Of so many.
        pairs: usize,
    },
}

/// What a stated confidence came to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Beliefs {
    /// Names with their parts, those that were given any.
    pub given: Vec<(String, u32)>,
    /// The right name.
    pub truth: String,
    /// How far it is from the truth.
    pub score: BeliefScore,
    /// What it came to.
    pub earned: Earned,
}

/// Why an answer earned what it earned.
#[derive(Debug, Clone, PartialEq)]
pub enum Reason {
    /// Nothing was answered.
    NoAnswer,
    /// The right option.
    OptionRight {
        /// Its printed letter.
        marked: char,
    },
    /// Another option.
    OptionWrong {
        /// The letter marked.
        marked: char,
        /// The right one.
        right: char,
    },
    /// More than one option where one was asked for.
    SeveralOptionsMarked {
        /// The letters marked.
        marked: Vec<char>,
    },
    /// Options of a multiple-response question.
    OptionsChosen {
        /// The counts.
        choice: Choice,
        /// The rule.
        rule: MultipleResponseRule,
        /// What it came to.
        earned: Earned,
    },
    /// A number.
    Number {
        /// As read.
        given: f64,
        /// The right one as written.
        right: String,
        /// The unit.
        unit: String,
        /// Where it lies.
        limit: Limit,
        /// What it came to.
        earned: Earned,
    },
    /// A wrong number that tells which mistake was made.
    NumberByMistake {
        /// As read.
        given: f64,
        /// The right one as written.
        right: String,
        /// The unit.
        unit: String,
        /// What went wrong, one sentence.
        why: String,
        /// Full marks.
        of: Marks,
    },
    /// Entries of a list.
    EntriesFound {
        /// So many different right ones.
        right: usize,
        /// Of so many wanted.
        wanted: usize,
        /// So many named again.
        repeated: usize,
        /// So many beyond those that count.
        beyond: usize,
        /// What it came to.
        earned: Earned,
    },
    /// An order.
    StepsOrdered {
        /// What was counted.
        count: OrderCount,
        /// The rule.
        rule: OrderingRule,
        /// What it came to.
        earned: Earned,
    },
    /// Pairs.
    PairsMatched {
        /// So many are right.
        right: usize,
        /// Of so many.
        pairs: usize,
        /// What it came to.
        earned: Earned,
    },
    /// An accepted word.
    WordAccepted {
        /// The accepted form.
        accepted: String,
    },
    /// A small slip of an accepted word.
    WordSlip {
        /// As written.
        written: String,
        /// The accepted form.
        accepted: String,
    },
    /// The true node of a tree.
    NodeRight {
        /// Its name.
        name: String,
    },
    /// Another node that is accepted too.
    NodeAccepted {
        /// The answer.
        answer: String,
        /// The truth.
        truth: String,
    },
    /// A node that shares a branch with the truth.
    NodeNear {
        /// The answer.
        answer: String,
        /// The truth.
        truth: String,
        /// The smallest branch that holds both.
        common: String,
        /// How near the two are, from 0 to 1.
        nearness: f64,
        /// How near a guess is on average.
        guess: f64,
        /// What it came to.
        earned: Earned,
    },
    /// A node no nearer than a guess would be.
    NodeFar {
        /// The answer.
        answer: String,
        /// The truth.
        truth: String,
    },
    /// An age band.
    AgeBand {
        /// The answer.
        answer: String,
        /// The truth.
        truth: String,
        /// How many bands apart; none where one of the two is "no age stated".
        apart: Option<usize>,
        /// What it came to.
        earned: Earned,
    },
    /// "No age stated", rightly.
    NoAgeRight,
    /// An age was given for a sample without one, or the other way round.
    NoAgeWrong {
        /// What the label says.
        truth: String,
    },
    /// An age range.
    AgeRange {
        /// From.
        low: f64,
        /// To.
        high: f64,
        /// The age on the label.
        truth: u32,
        /// The interval score.
        score: f64,
        /// What it came to.
        earned: Earned,
    },
    /// A step on a scale.
    ScaleStep {
        /// The answer.
        given: u32,
        /// The record's step.
        truth: u32,
        /// Steps between the ends of the scale.
        length: u32,
        /// What it came to.
        earned: Earned,
    },
    /// A rating beside the panel's.
    PanelDistance {
        /// The answer.
        given: f64,
        /// The panel's mean.
        mean: f64,
        /// The panel's standard deviation as used.
        deviation: f64,
        /// What it came to.
        earned: Earned,
    },
    /// Parts shared out over a list.
    Beliefs(Box<Beliefs>),
    /// One name of a list, rightly.
    NameRight {
        /// The name.
        name: String,
    },
    /// Another name of the list.
    NameWrong {
        /// The name answered.
        name: String,
        /// The right one.
        truth: String,
    },
    /// A name that is not on the list.
    NotOnTheList {
        /// As written.
        written: String,
    },
    /// Descriptors.
    Descriptors(Box<Descriptors>),
}

impl Reason {
    /// The verdict with this reason.
    #[must_use]
    pub fn verdict(self, marks: Marks, rule: &'static str) -> Verdict {
        Verdict::Marked {
            marks,
            reason: self,
            rule,
        }
    }
}
