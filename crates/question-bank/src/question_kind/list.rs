//! A list: "name three of …". Each accepted entry counts once, among the first so many answers.

use base::tree::{Tree, Value};
use base::walk::Walk;
use base::{Fault, Text};

use super::{Kind, QuestionKind};
use crate::read::{aligned, entries, note_doubled, texts_with_bytes, without_bytes};
use crate::shape::Shape;

/// The most answers that one question asks for: as many lines as an answer sheet has room for.
const MOST_WANTED: u32 = 10;

/// A checked list question.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct List {
    /// What is asked.
    pub stem: Text,
    /// How many answers count; the first so many.
    pub wanted: usize,
    /// Right answers, each with its other forms, the main one first. No form stands twice.
    pub accept: Vec<Vec<Text>>,
    /// Why they are right.
    pub why: Text,
}

impl Kind for List {
    fn stem(&self) -> &str {
        &self.stem
    }
    fn shape(&self) -> Shape<'_> {
        Shape::Words {
            lines: self.wanted,
            entries: self.accept.iter().map(Vec::as_slice).collect(),
        }
    }
    fn why(&self) -> &str {
        &self.why
    }
    fn translated<'t>(&self, walk: &mut Walk<'t>, tree: &'t Tree) -> Option<QuestionKind> {
        let mut fields = walk.fields(tree, "a translation")?;
        let stem = fields.required(walk, "stem").and_then(|t| walk.letters(t));
        let accept_tree = entries(walk, &mut fields, "accept");
        let accept = accept_tree.map(|t| read_accept(walk, t));
        let why = fields.optional("why").and_then(|t| walk.letters(t));
        fields.finish(walk);
        let accept = accept?;
        let count = self.accept.len();
        aligned(walk, accept_tree?, accept.len(), count, "right answers").then_some(())?;
        Some(QuestionKind::List(Self {
            stem: stem?,
            accept,
            why: why.unwrap_or_else(|| self.why.clone()),
            wanted: self.wanted,
        }))
    }
}

impl List {
    /// Reads one from a text.
    pub(crate) fn read<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<Self> {
        let mut fields = walk.fields(tree, "a list question")?;
        let stem = fields.required(walk, "stem").and_then(|t| walk.letters(t));
        let wanted_tree = fields.required(walk, "wanted");
        let wanted = wanted_tree.and_then(|t| walk.whole(t, 2..=MOST_WANTED));
        let wanted = wanted.map(|wanted| wanted as usize);
        let accept_tree = fields.required(walk, "accept");
        let accept = accept_tree.map(|t| read_accept(walk, t));
        let why = fields.required(walk, "why").and_then(|t| walk.letters(t));
        fields.finish(walk);
        if let (Some(wanted), Some(accept), Some(t)) = (wanted, &accept, accept_tree)
            && accept.len() < wanted
            && matches!(t.value, Value::List(_))
        {
            let place = walk.place(&t.bytes);
            walk.note(
                Fault::new(
                    "number-of-entries",
                    place,
                    format!("{} right answers, and {wanted} are wanted", accept.len()),
                )
                .allowed(format!("{wanted} or more right answers"))
                .hint("add right answers, or want fewer"),
            );
        }
        Some(Self {
            stem: stem?,
            wanted: wanted?,
            accept: accept?,
            why: why?,
        })
    }
}

/// Each entry a list of forms, or one form alone.
fn read_accept<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Vec<Vec<Text>> {
    let mut all = Vec::new();
    let mut entries = Vec::new();
    for item in walk.list(tree, "right answers") {
        let forms = match &item.value {
            Value::List(_) => texts_with_bytes(walk, item, "forms of one right answer"),
            Value::Text(_) | Value::Number => {
                let text = walk.letters(item);
                text.map(|text| (text, item.bytes.clone()))
                    .into_iter()
                    .collect()
            }
            Value::Nothing | Value::Truth(_) | Value::Fields(_) => {
                texts_with_bytes(walk, item, "forms of one right answer")
            }
        };
        if forms.is_empty() {
            if matches!(&item.value, Value::List(items) if items.is_empty()) {
                let place = walk.place(&item.bytes);
                walk.note(
                    Fault::new("number-of-entries", place, "a right answer without a form")
                        .allowed("one form or more, the main one first"),
                );
            }
            continue;
        }
        all.extend(forms.iter().cloned());
        entries.push(without_bytes(forms));
    }
    note_doubled(walk, &all, "accepted form");
    entries
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::panic)]
mod tests {
    use crate::question_kind::QuestionKind;
    use crate::read::question_tests::{faults_of, kind_of};

    #[test]
    fn entries_keep_their_forms() {
        let QuestionKind::List(kind) = kind_of(
            "list: { stem: a, wanted: 2, accept: [[barley, malted barley], [rye], maize], why: w }",
        ) else {
            panic!("another kind")
        };
        assert_eq!(kind.accept[0], ["barley", "malted barley"]);
        assert_eq!((kind.accept.len(), kind.wanted), (3, 2));
    }

    #[test]
    fn too_few_and_doubled_answers_are_faults() {
        let faults = |wanted: &str, accept: &str| {
            faults_of(&format!(
                "list: {{ stem: a, wanted: {wanted}, accept: {accept}, why: w }}"
            ))
        };
        assert_eq!(faults("3", "[[a], [b]]"), ["number-of-entries"]);
        assert_eq!(faults("1", "[[a], [b]]"), ["out-of-range"]);
        assert_eq!(faults("2", "[[a, B], [b]]"), ["doubled-entry"]);
        assert_eq!(faults("2", "[[a], [], [b]]"), ["number-of-entries"]);
        assert_eq!(faults("2", "[{ a: b }, c, d]"), ["wrong-type"]);
        assert_eq!(faults("2", "a"), ["wrong-type"]);
    }
}
