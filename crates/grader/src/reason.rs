//! The one plain sentence that says why a mark is what it is.
//!
//! A reason is data until it is written, so that every sentence of one kind says the same things
//! in the same order, with the numbers from which the mark can be computed by hand.

use std::fmt;

use base::Marks;
use question_bank::question_kind::{MultipleResponseRule, OrderingRule};

use crate::award::Outcome;
use crate::theory_rule::Choice;

mod descriptors;
#[cfg(test)]
mod tests;

pub use descriptors::{Descriptors, FoundWord};

/// Marks and full marks: "0.55 of 2 marks".
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Earned {
    /// The marks.
    pub marks: Marks,
    /// Marks for a full answer.
    pub of: Marks,
}

impl fmt::Display for Earned {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let noun = if self.of == Marks::ONE {
            "mark"
        } else {
            "marks"
        };
        write!(f, "{} of {} {noun}", self.marks, self.of)
    }
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
    /// The outcome with this reason.
    #[must_use]
    pub fn outcome(&self, marks: Marks, rule: &'static str) -> Outcome {
        Outcome::Marked {
            marks,
            reason: self.to_string(),
            rule: rule.into(),
        }
    }
}

impl fmt::Display for Reason {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoAnswer => f.write_str("no answer"),
            Self::OptionRight { marked } => write!(f, "{marked} is right"),
            Self::OptionWrong { marked, right } => {
                write!(f, "{marked} is marked, {right} is right")
            }
            Self::SeveralOptionsMarked { marked } => write!(
                f,
                "{} are marked, and one option only counts: no marks",
                joined(marked.iter().map(char::to_string))
            ),
            Self::OptionsChosen {
                choice,
                rule,
                earned,
            } => write!(
                f,
                "{} of {} right options and {} of {} wrong ones are marked{}: {earned}",
                choice.right_marked,
                choice.right,
                choice.wrong_marked,
                choice.options.saturating_sub(choice.right),
                what_counts(*rule)
            ),
            Self::Number {
                given,
                right,
                unit,
                limit,
                earned,
            } => {
                let (verb, distance) = match limit {
                    Limit::Within(distance) => ("lies within", distance),
                    Limit::HalfWithin(distance) => ("earns half by lying within", distance),
                    Limit::Beyond(distance) => ("lies farther than", distance),
                };
                let unit = if unit.is_empty() {
                    String::new()
                } else {
                    format!(" {unit}")
                };
                let from = match limit {
                    Limit::Within(_) | Limit::HalfWithin(_) => "of",
                    Limit::Beyond(_) => "from",
                };
                write!(
                    f,
                    "{given} {verb} {distance} {from} {right}{unit}: {earned}"
                )
            }
            Self::NumberByMistake {
                given,
                right,
                unit,
                why,
                of,
            } => {
                let space = if unit.is_empty() { "" } else { " " };
                let earned = Earned {
                    marks: Marks::ZERO,
                    of: *of,
                };
                write!(
                    f,
                    "{given} for {right}{space}{unit}: {earned}; a known mistake: {why}"
                )
            }
            Self::EntriesFound {
                right,
                wanted,
                repeated,
                beyond,
                earned,
            } => {
                let are = if *right == 1 { "is" } else { "are" };
                write!(f, "{right} of {wanted} wanted entries {are} right")?;
                if *repeated > 0 {
                    write!(f, ", {repeated} named again")?;
                }
                if *beyond > 0 {
                    write!(f, ", {beyond} beyond the first {wanted} not counted")?;
                }
                write!(f, ": {earned}")
            }
            Self::StepsOrdered {
                count,
                rule,
                earned,
            } => order_sentence(f, *count, *rule, *earned),
            Self::PairsMatched {
                right,
                pairs,
                earned,
            } => write!(f, "{right} of {pairs} pairs are right: {earned}"),
            Self::WordAccepted { accepted } => write!(f, "\"{accepted}\" is accepted"),
            Self::WordSlip { written, accepted } => {
                write!(f, "\"{written}\" is a slip of the pen for \"{accepted}\"")
            }
            Self::NodeRight { name } => write!(f, "{name} is right"),
            Self::NodeAccepted { answer, truth } => {
                write!(f, "{answer} for {truth}: accepted, full marks")
            }
            Self::NodeNear {
                answer,
                truth,
                common,
                earned,
            } => write!(f, "{answer} for {truth}: same branch ({common}), {earned}"),
            Self::NodeFar { answer, truth } => {
                write!(f, "{answer} for {truth}: no nearer than a guess, no marks")
            }
            Self::AgeBand {
                answer,
                truth,
                apart,
                earned,
            } => match apart {
                Some(0) => write!(f, "{answer} is right"),
                Some(1) => write!(f, "{answer} for {truth}: the next band, {earned}"),
                Some(apart) => write!(f, "{answer} for {truth}: {apart} bands apart, {earned}"),
                None => write!(f, "{answer} for {truth}: {earned}"),
            },
            Self::NoAgeRight => f.write_str("no age is stated on the label: right"),
            Self::NoAgeWrong { truth } => write!(f, "the label says: {truth}; no marks"),
            Self::AgeRange {
                low,
                high,
                truth,
                score,
                earned,
            } => write!(
                f,
                "{low} to {high} years for {truth}: interval score {score:.1} \
                 (full marks up to 4, none from 30), {earned}"
            ),
            Self::ScaleStep {
                given,
                truth,
                length,
                earned,
            } => match given.abs_diff(*truth) {
                0 => write!(f, "{given} is right"),
                apart => write!(
                    f,
                    "{given} for {truth}: {apart} of {length} steps apart, {earned}"
                ),
            },
            Self::PanelDistance {
                given,
                mean,
                deviation,
                earned,
            } => write!(
                f,
                "{given} beside the panel's mean of {mean:.2}: {:.2} standard deviations of \
                 {deviation:.2} apart (full marks up to 1, none from 3), {earned}",
                (given - mean).abs() / deviation
            ),
            Self::NameRight { name } => write!(f, "{name} is right"),
            Self::NameWrong { name, truth } => write!(f, "{name} for {truth}: no marks"),
            Self::NotOnTheList { written } => {
                write!(f, "\"{written}\" is not on the printed list: no marks")
            }
            Self::Descriptors(all) => all.fmt(f),
        }
    }
}

/// What a multiple-response rule looks at, where the counts alone do not say it.
const fn what_counts(rule: MultipleResponseRule) -> &'static str {
    match rule {
        MultipleResponseRule::Dichotomous => ", and only a choice without any error counts",
        MultipleResponseRule::TrueFalse => ", and each option judged rightly counts alike",
        MultipleResponseRule::HalfPoint => ", and one error leaves half the marks",
        MultipleResponseRule::Ps50 => ", and half of the options judged rightly earns half",
        MultipleResponseRule::PlusMinusFloor0 => ", and a wrong one takes back a right one",
        MultipleResponseRule::Ripkey => ", and more marks than right options earn nothing",
        MultipleResponseRule::BalancedPenaltyFloor0 => {
            ", and the share of wrong ones is taken from the share of right ones"
        }
        MultipleResponseRule::Jaccard => {
            ", and right ones count among all that are right or marked"
        }
        MultipleResponseRule::F1 => ", and right ones count twice among right and marked ones",
    }
}

fn order_sentence(
    f: &mut fmt::Formatter<'_>,
    count: OrderCount,
    rule: OrderingRule,
    earned: Earned,
) -> fmt::Result {
    match count {
        OrderCount::PairsInOrder { in_order, pairs } => write!(
            f,
            "of {pairs} pairs of steps {in_order} stand in true order and {} do not: {earned}",
            pairs.saturating_sub(in_order)
        ),
        OrderCount::PlacesMoved { moved, most } => write!(
            f,
            "the steps stand {moved} places from their own, of {most} at most: {earned}"
        ),
        OrderCount::SquaresMoved {
            squares,
            nothing_from,
        } => write!(
            f,
            "the places by which the steps were moved, squared, add up to {squares}, and from \
             {nothing_from} on nothing is earned: {earned}"
        ),
        OrderCount::LongestInOrder { longest, steps } => write!(
            f,
            "the longest series in true order has {longest} of {steps} steps: {earned}"
        ),
        OrderCount::StepsInPlace { in_place, steps } => match rule {
            OrderingRule::AllOrNothing => write!(
                f,
                "{in_place} of {steps} steps stand in their place, and only a whole order counts: \
                 {earned}"
            ),
            OrderingRule::Tau
            | OrderingRule::TauLinear
            | OrderingRule::Rho
            | OrderingRule::Lis
            | OrderingRule::Footrule
            | OrderingRule::Positions
            | OrderingRule::AdjacentPairs => {
                write!(
                    f,
                    "{in_place} of {steps} steps stand in their place: {earned}"
                )
            }
        },
        OrderCount::NeighboursKept { kept, pairs } => write!(
            f,
            "{kept} of {pairs} true neighbours stand next to each other in true order: {earned}"
        ),
    }
}

/// "a, b, c"; at most twelve, then how many more.
pub(crate) fn joined<T: AsRef<str>>(words: impl ExactSizeIterator<Item = T>) -> String {
    const MOST: usize = 12;
    let more = words.len().saturating_sub(MOST);
    let mut text = String::new();
    for (place, word) in words.take(MOST).enumerate() {
        if place > 0 {
            text.push_str(", ");
        }
        text.push_str(word.as_ref());
    }
    if more > 0 {
        text.push_str(&format!(" and {more} more"));
    }
    text
}
