//! Two columns to be joined.

use base::tree::Tree;
use base::walk::Walk;
use base::{Fault, Text};

use super::{Kind, QuestionKind};
use crate::read::{
    MOST_ENTRIES, aligned_texts, entries, note_doubled, texts_with_bytes, without_bytes,
};
use crate::shape::Shape;

/// The most lettered entries of the right column, distractors included.
const MOST_LETTERED: usize = 10;

/// A checked matching question: two to seven pairs, each left and each right entry different, and
/// right-hand entries that match nothing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Matching {
    /// What is asked.
    pub stem: Text,
    /// The true pairs; the left column is printed in this order, numbered.
    pub pairs: Vec<Pair>,
    /// Right-hand entries that match nothing.
    pub distractors: Vec<Text>,
    /// Why the pairs are right.
    pub why: Text,
}

/// A true pair.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pair {
    /// The numbered entry.
    pub left: Text,
    /// The lettered entry that belongs to it.
    pub right: Text,
}

impl Matching {
    /// The right column before shuffling: the entries of the pairs, then the distractors. The entry
    /// at place i belongs to the left entry at place i.
    #[must_use]
    pub fn right_column(&self) -> Vec<&str> {
        let pairs = self.pairs.iter().map(|pair| pair.right.as_str());
        pairs
            .chain(self.distractors.iter().map(Text::as_str))
            .collect()
    }
}

impl Kind for Matching {
    fn stem(&self) -> &str {
        &self.stem
    }
    fn shape(&self) -> Shape<'_> {
        Shape::Columns {
            left: self.pairs.iter().map(|pair| pair.left.as_str()).collect(),
            right: self.right_column(),
        }
    }
    fn why(&self) -> &str {
        &self.why
    }
    fn translated<'t>(&self, walk: &mut Walk<'t>, tree: &'t Tree) -> Option<QuestionKind> {
        let mut fields = walk.fields(tree, "a translation")?;
        let stem = fields.required(walk, "stem").and_then(|t| walk.letters(t));
        let left = entries(walk, &mut fields, "left")
            .and_then(|t| aligned_texts(walk, t, "left entries", self.pairs.len()));
        let count = self.right_column().len();
        let right = entries(walk, &mut fields, "right")
            .and_then(|t| aligned_texts(walk, t, "right entries", count));
        let why = fields.optional("why").and_then(|t| walk.letters(t));
        fields.finish(walk);
        let mut right = right?.into_iter();
        let pairs = left?
            .into_iter()
            .zip(right.by_ref())
            .map(|(left, right)| Pair { left, right })
            .collect();
        Some(QuestionKind::Matching(Self {
            stem: stem?,
            pairs,
            distractors: right.collect(),
            why: why.unwrap_or_else(|| self.why.clone()),
        }))
    }
}

impl Matching {
    /// Reads one from a text.
    pub(crate) fn read<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<Self> {
        let mut fields = walk.fields(tree, "a matching question")?;
        let stem = fields.required(walk, "stem").and_then(|t| walk.letters(t));
        let pairs_tree = fields.required(walk, "pairs");
        let (mut pairs, mut left_column, mut right_column) = (Vec::new(), Vec::new(), Vec::new());
        for item in pairs_tree.map_or(&[][..], |t| walk.list(t, "pairs")) {
            let Some(mut pair) = walk.fields(item, "a pair") else {
                continue;
            };
            let left_tree = pair.required(walk, "left");
            let left = left_tree.and_then(|t| walk.letters(t));
            let right_tree = pair.required(walk, "right");
            let right = right_tree.and_then(|t| walk.letters(t));
            pair.finish(walk);
            if let (Some(left), Some(t)) = (&left, left_tree) {
                left_column.push((left.clone(), t.bytes.clone()));
            }
            if let (Some(right), Some(t)) = (&right, right_tree) {
                right_column.push((right.clone(), t.bytes.clone()));
            }
            if let (Some(left), Some(right)) = (left, right) {
                pairs.push(Pair { left, right });
            }
        }
        let distractors = match fields.optional("distractors") {
            Some(t) => texts_with_bytes(walk, t, "distractors"),
            None => Vec::new(),
        };
        right_column.extend(distractors.iter().cloned());
        note_doubled(walk, &left_column, "left entry");
        note_doubled(walk, &right_column, "right entry");
        let why = fields.required(walk, "why").and_then(|t| walk.letters(t));
        fields.finish(walk);
        let written = pairs_tree?;
        if let base::tree::Value::List(items) = &written.value
            && (!(2..=MOST_ENTRIES).contains(&items.len()) || right_column.len() > MOST_LETTERED)
        {
            let place = walk.place(&written.bytes);
            walk.note(
                Fault::new(
                    "number-of-entries",
                    place,
                    format!("{} pairs and {} distractors", items.len(), distractors.len()),
                )
                .allowed(format!(
                    "2 to {MOST_ENTRIES} pairs, and at most {MOST_LETTERED} right entries with the distractors"
                )),
            );
        }
        Some(Self {
            stem: stem?,
            pairs,
            distractors: without_bytes(distractors),
            why: why?,
        })
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::panic)]
mod tests {
    use crate::question_kind::QuestionKind;
    use crate::read::question_tests::{faults_of, kind_of};

    fn text(pairs: &[(&str, &str)], distractors: &str) -> String {
        let pairs: Vec<_> = pairs
            .iter()
            .map(|(l, r)| format!("{{ left: {l}, right: {r} }}"))
            .collect();
        format!(
            "matching: {{ stem: a, pairs: [{}], distractors: [{distractors}], why: w }}",
            pairs.join(", ")
        )
    }

    #[test]
    fn the_right_column_begins_with_the_true_entries() {
        let QuestionKind::Matching(kind) = kind_of(&text(&[("a", "x"), ("b", "y")], "z")) else {
            panic!("another kind")
        };
        assert_eq!(kind.right_column(), ["x", "y", "z"]);
    }

    #[test]
    fn doubled_entries_and_too_many_are_faults() {
        assert_eq!(
            faults_of(&text(&[("a", "x"), ("a", "y")], "")),
            ["doubled-entry"]
        );
        assert_eq!(
            faults_of(&text(&[("a", "x"), ("b", "y")], "X")),
            ["doubled-entry"]
        );
        assert_eq!(faults_of(&text(&[("a", "x")], "")), ["number-of-entries"]);
        assert_eq!(
            faults_of(&text(
                &[("a", "x"), ("b", "y")],
                "c, d, e, f, g, h, i, j, k"
            )),
            ["number-of-entries"]
        );
    }
}
