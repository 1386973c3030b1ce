//! A question whose numbers are drawn for each form, the key being computed from them.
//!
//! A drawing is fit for a form when the key can be computed and lies at least `apart` from the
//! result of every named mistake, when no two options would be printed alike, and when rounding
//! leaves no doubt: a result within a thousandth of the last printed place from the middle between
//! two printed numbers is refused, since half-up and half-even would part there. How level the
//! difficulty stays from form to form is up to the author's ranges.
//!
//! A form holds the drawn numbers; [`Kind::realised`] makes the plain question from them, a choice
//! or a number, and all that prints, marks or explains sees that one.

use base::tree::Tree;
use base::walk::Walk;
use base::{Stream, Text};

use alcoholometry::{Computation, Mistake};

use super::{AnswerOption, BestAnswer, Kind, Numeric, QuestionKind};
use crate::drawn_numbers::DrawnNumbers;
use crate::formula::Formula;
use crate::shape::{KnownMistake, Shape};

mod number_range;
mod read;
mod rounding;
#[cfg(test)]
mod tests;

pub use number_range::NumberRange;
use rounding::printed;

/// Fewer different drawings make no question of its own for each form.
pub const FEWEST_DRAWINGS: usize = 8;
/// A draw is tried so many times before it is given up.
const TRIES: usize = 1000;
/// So many places of the ranges are looked at when drawings are counted.
const PLACES_LOOKED_AT: u64 = 4096;

/// A checked variant question: at least [`FEWEST_DRAWINGS`] drawings are fit.
#[derive(Debug, Clone, PartialEq)]
pub struct Variant {
    /// What is asked, with `{name}` where a drawn number stands. Every name of `draw` stands in it.
    pub stem: Text,
    /// The ranges, in the order of their names.
    pub draw: Vec<NumberRange>,
    /// How the key is computed.
    pub key: Recipe,
    /// The unit printed beside the box or in the options.
    pub unit: Text,
    /// Decimal places of the key and of the options.
    pub decimals: usize,
    /// Full marks within this distance, in the unit.
    pub tolerance: f64,
    /// Half marks within this distance.
    pub half_within: Option<f64>,
    /// Wrong ways, each with what went wrong.
    pub mistakes: Vec<WrongWay>,
    /// Printed as a choice of the key and the results of the mistakes.
    pub options: bool,
    /// The least distance between the key and the result of each mistake.
    pub apart: f64,
    /// Why the key is right.
    pub why: Text,
    /// The question of one fit drawing, for what looks at a question before any form is drawn.
    typical: Box<QuestionKind>,
}

/// How a number is computed from the drawn ones.
#[derive(Debug, Clone, PartialEq)]
pub enum Recipe {
    /// By a computation of the trade.
    Named(Computation),
    /// By plain arithmetic.
    Written(Formula),
}

/// A wrong way to the key.
#[derive(Debug, Clone, PartialEq)]
pub struct WrongWay {
    /// How its result is computed.
    pub recipe: WrongRecipe,
    /// What went wrong, for the person who made the mistake.
    pub why: Text,
}

/// How a wrong result is computed.
#[derive(Debug, Clone, PartialEq)]
pub enum WrongRecipe {
    /// A named mistake of the key's computation.
    Named(Computation, Mistake),
    /// By plain arithmetic.
    Written(Formula),
}

impl Kind for Variant {
    fn stem(&self) -> &str {
        &self.stem
    }
    /// The shape of the question of one fit drawing.
    fn shape(&self) -> Shape<'_> {
        self.typical.shape()
    }
    fn why(&self) -> &str {
        &self.why
    }
    fn keeps_order(&self) -> bool {
        true
    }
    fn draw(&self, stream: &mut Stream, avoid: &[DrawnNumbers]) -> Result<DrawnNumbers, String> {
        let mut fit_before = None;
        let mut last = String::new();
        for _ in 0..TRIES {
            let drawn = self.numbers_at(|range| stream.below(range.steps()));
            match self.question_of(&drawn) {
                Ok(_) if !avoid.contains(&drawn) => return Ok(drawn),
                Ok(_) => fit_before = Some(drawn),
                Err(why) => last = why,
            }
        }
        // Another form has the same numbers: better than no question at all.
        fit_before.ok_or_else(|| format!("of {TRIES} drawings none is fit; the last: {last}"))
    }
    fn realised(&self, drawn: &DrawnNumbers) -> Option<Result<QuestionKind, String>> {
        Some(self.question_of(drawn))
    }
    fn drawings(&self, at_most: usize) -> Option<usize> {
        // By a copy, so that a bank does not keep what its formulas computed with.
        let copy = self.clone();
        Some(copy.fit_drawings().take(at_most).count())
    }
    fn translated<'t>(&self, walk: &mut Walk<'t>, tree: &'t Tree) -> Option<QuestionKind> {
        self.read_translation(walk, tree)
    }
}

impl Variant {
    /// Drawn numbers from a place in each range.
    fn numbers_at(&self, mut place: impl FnMut(&NumberRange) -> u64) -> DrawnNumbers {
        let pairs = self.draw.iter().map(|range| {
            let place = place(range);
            (range.name.clone(), range.printed_at(place))
        });
        DrawnNumbers::from_pairs(pairs.collect::<Vec<_>>()).unwrap_or_default()
    }

    /// Different fit drawings: all of small ranges, those found at 4,096 scattered places of large
    /// ones.
    fn fit_drawings(&self) -> impl Iterator<Item = QuestionKind> {
        self.scattered_drawings()
            .filter_map(|drawn| self.question_of(&drawn).ok())
    }

    fn scattered_drawings(&self) -> impl Iterator<Item = DrawnNumbers> {
        let all = self
            .draw
            .iter()
            .fold(1_u64, |all, range| all.saturating_mul(range.steps()));
        let stride = stride_through(all);
        (0..all.min(PLACES_LOOKED_AT)).map(move |number| {
            let mut place =
                u64::try_from(u128::from(number) * u128::from(stride) % u128::from(all))
                    .unwrap_or(0);
            self.numbers_at(|range| {
                let here = place % range.steps();
                place /= range.steps();
                here
            })
        })
    }

    /// The plain question that drawn numbers make.
    fn question_of(&self, drawn: &DrawnNumbers) -> Result<QuestionKind, String> {
        let values = drawn.values();
        for range in &self.draw {
            if !values.contains_key(&range.name) {
                return Err(format!("\"{}\" is not drawn", range.name));
            }
        }
        let exact = match &self.key {
            Recipe::Named(computation) => {
                computation.compute(&values).map_err(|why| why.to_string())
            }
            Recipe::Written(formula) => formula.value(&values),
        }?;
        let key = printed(exact, self.decimals)?;
        let mut wrong = Vec::new();
        for way in &self.mistakes {
            let value = match &way.recipe {
                WrongRecipe::Named(computation, mistake) => mistake
                    .result(*computation, &values)
                    .ok_or_else(|| "the mistake does not belong to the computation".to_owned())?
                    .map_err(|why| why.to_string()),
                WrongRecipe::Written(formula) => formula.value(&values),
            }?;
            let text = printed(value, self.decimals)?;
            if (value - exact).abs() < self.apart || text == key {
                return Err(format!(
                    "a mistake gives {text}, too near to the key of {key}"
                ));
            }
            wrong.push((value, text, &way.why));
        }
        let mut stem = self.stem.to_string();
        for (name, number) in drawn.printed() {
            stem = stem.replace(&format!("{{{name}}}"), number);
        }
        if !self.options {
            return Ok(QuestionKind::Numeric(Box::new(Numeric {
                stem: stem.into(),
                answer: key.parse().unwrap_or(exact),
                answer_as_written: key.into(),
                unit: self.unit.clone(),
                tolerance: self.tolerance,
                half_within: self.half_within,
                mistakes: wrong
                    .into_iter()
                    .map(|(value, _, why)| KnownMistake {
                        value,
                        why: why.clone(),
                    })
                    .collect(),
                why: self.why.clone(),
            })));
        }
        let mut options = vec![(exact, key, &self.why, true)];
        options.extend(
            wrong
                .into_iter()
                .map(|(v, text, why)| (v, text, why, false)),
        );
        options.sort_by(|a, b| a.0.total_cmp(&b.0));
        let alike = options.windows(2).any(|two| match two {
            [one, other] => one.1 == other.1,
            _ => false,
        });
        if alike {
            return Err("two options would be printed alike".to_owned());
        }
        Ok(QuestionKind::BestAnswer(BestAnswer {
            stem: stem.into(),
            options: options
                .into_iter()
                .map(|(_, text, why, key)| AnswerOption {
                    text: format!("{text} {}", self.unit).trim_end().into(),
                    key,
                    why: why.clone(),
                })
                .collect(),
            keep_order: true,
        }))
    }
}

/// A step through so many places that comes to each of them once, in no order a person would see.
fn stride_through(all: u64) -> u64 {
    let golden = (all as f64 * 0.618_033_988_749_895) as u64;
    let divides = |mut a: u64, mut b: u64| {
        while b != 0 {
            (a, b) = (b, a % b);
        }
        a
    };
    (golden.max(1)..=golden.saturating_add(1000))
        .find(|stride| divides(*stride, all) == 1)
        .unwrap_or(1)
}
