//! A number with a unit and a tolerance.

use base::tree::Tree;
use base::walk::Walk;
use base::{Fault, Text};

use super::{Kind, QuestionKind};
use crate::shape::{KnownMistake, Shape};

/// No question of this trade asks for a larger number.
const LARGEST: f64 = 1e9;

/// A checked numeric question.
#[derive(Debug, Clone, PartialEq)]
pub struct Numeric {
    /// What is asked.
    pub stem: Text,
    /// The right number, in the unit.
    pub answer: f64,
    /// The right number as the author wrote it.
    pub answer_as_written: Text,
    /// The unit printed beside the box.
    pub unit: Text,
    /// Full marks within this distance, in the unit.
    pub tolerance: f64,
    /// Half marks within this distance, in the unit; larger than the tolerance.
    pub half_within: Option<f64>,
    /// Wrong numbers that tell which mistake was made; those of a question with drawn numbers.
    pub mistakes: Vec<KnownMistake>,
    /// Why the number is right.
    pub why: Text,
}

impl Kind for Numeric {
    fn stem(&self) -> &str {
        &self.stem
    }
    fn shape(&self) -> Shape<'_> {
        Shape::Number {
            unit: &self.unit,
            answer: self.answer,
            written: &self.answer_as_written,
            tolerance: self.tolerance,
            half_within: self.half_within,
            mistakes: &self.mistakes,
        }
    }
    fn why(&self) -> &str {
        &self.why
    }
    fn translated<'t>(&self, walk: &mut Walk<'t>, tree: &'t Tree) -> Option<QuestionKind> {
        let mut fields = walk.fields(tree, "a translation")?;
        let stem = fields.required(walk, "stem").and_then(|t| walk.letters(t));
        let unit = fields.optional("unit").and_then(|t| walk.letters(t));
        let why = fields.optional("why").and_then(|t| walk.letters(t));
        fields.finish(walk);
        Some(QuestionKind::Numeric(Box::new(Self {
            stem: stem?,
            unit: unit.unwrap_or_else(|| self.unit.clone()),
            why: why.unwrap_or_else(|| self.why.clone()),
            ..self.clone()
        })))
    }
}

impl Numeric {
    /// Reads one from a text.
    pub(crate) fn read<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<Self> {
        let mut fields = walk.fields(tree, "a numeric question")?;
        let stem = fields.required(walk, "stem").and_then(|t| walk.letters(t));
        let unit = fields.required(walk, "unit").and_then(|t| walk.letters(t));
        let unit_words = unit.clone().unwrap_or_default();
        let answer_tree = fields.required(walk, "answer");
        let answer = answer_tree.and_then(|t| walk.number(t, -LARGEST..=LARGEST, &unit_words));
        let tolerance = fields
            .required(walk, "tolerance")
            .and_then(|t| walk.number(t, 0.0..=LARGEST, &unit_words));
        let half_tree = fields.optional("half_within");
        let half_within = half_tree.and_then(|t| walk.number(t, 0.0..=LARGEST, &unit_words));
        let why = fields.required(walk, "why").and_then(|t| walk.letters(t));
        fields.finish(walk);
        if let (Some(t), Some(half), Some(full)) = (half_tree, half_within, tolerance)
            && half <= full
        {
            let place = walk.place(&t.bytes);
            walk.note(
                Fault::new(
                    "tolerance-order",
                    place,
                    format!("half marks within {half} would never be given, since full marks are given within {full}"),
                )
                .allowed("half_within larger than tolerance")
                .hint("leave half_within out where no half marks are meant"),
            );
        }
        Some(Self {
            stem: stem?,
            answer: answer?,
            answer_as_written: Text::from(walk.written(answer_tree?)),
            unit: unit?,
            tolerance: tolerance?,
            half_within,
            mistakes: Vec::new(),
            why: why?,
        })
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::panic)]
mod tests {
    use crate::question_kind::QuestionKind;
    use crate::read::question_tests::{faults_of, kind_of};

    #[test]
    fn the_number_keeps_its_digits() {
        let QuestionKind::Numeric(kind) = kind_of(
            "numeric: { stem: a, answer: 46.90, unit: '% vol', tolerance: 0.5, half_within: 1, why: w }",
        ) else {
            panic!("another kind")
        };
        assert_eq!(kind.answer_as_written, "46.90");
        assert_eq!((kind.answer, kind.half_within), (46.9, Some(1.0)));
    }

    #[test]
    fn tolerances_out_of_order_and_texts_for_numbers_are_faults() {
        let faults = |answer: &str, tolerance: &str, half: &str| {
            faults_of(&format!(
                "numeric: {{ stem: a, answer: {answer}, unit: l, tolerance: {tolerance}, half_within: {half}, why: w }}"
            ))
        };
        assert_eq!(faults("1", "0.5", "0.5"), ["tolerance-order"]);
        assert_eq!(
            faults("about 1", "-1", "0.5"),
            ["wrong-type", "out-of-range"]
        );
        for odd in [".nan", ".inf", "1e400", "0x1F", "1_000"] {
            assert!(!faults(odd, "0.1", "0.2").is_empty(), "{odd}");
        }
    }
}
