//! A word or two, compared with a list of accepted forms; what is not recognised goes to a person.

use base::tree::{Tree, Value};
use base::walk::Walk;
use base::{Fault, Text};

use super::{Kind, QuestionKind};
use crate::read::{entries, note_doubled, texts_with_bytes, without_bytes};
use crate::shape::Shape;

/// A checked short-answer question.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ShortAnswer {
    /// What is asked.
    pub stem: Text,
    /// Accepted forms, the main one first.
    pub accept: Vec<Text>,
    /// Why it is right.
    pub why: Text,
}

impl Kind for ShortAnswer {
    fn stem(&self) -> &str {
        &self.stem
    }
    fn shape(&self) -> Shape<'_> {
        Shape::Words {
            lines: 1,
            entries: vec![&self.accept],
        }
    }
    fn why(&self) -> &str {
        &self.why
    }
    fn translated<'t>(&self, walk: &mut Walk<'t>, tree: &'t Tree) -> Option<QuestionKind> {
        let mut fields = walk.fields(tree, "a translation")?;
        let stem = fields.required(walk, "stem").and_then(|t| walk.letters(t));
        let accept = entries(walk, &mut fields, "accept").map(|t| {
            let accept = texts_with_bytes(walk, t, "accepted forms");
            note_doubled(walk, &accept, "accepted form");
            without_bytes(accept)
        });
        let why = fields.optional("why").and_then(|t| walk.letters(t));
        fields.finish(walk);
        Some(QuestionKind::ShortAnswer(Self {
            stem: stem?,
            accept: accept.filter(|accept| !accept.is_empty())?,
            why: why.unwrap_or_else(|| self.why.clone()),
        }))
    }
}

impl ShortAnswer {
    /// Reads one from a text.
    pub(crate) fn read<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<Self> {
        let mut fields = walk.fields(tree, "a short-answer question")?;
        let stem = fields.required(walk, "stem").and_then(|t| walk.letters(t));
        let accept = fields.required(walk, "accept").map(|t| {
            let accept = texts_with_bytes(walk, t, "accepted forms");
            note_doubled(walk, &accept, "accepted form");
            if matches!(&t.value, Value::List(items) if items.is_empty()) {
                let place = walk.place(&t.bytes);
                walk.note(
                    Fault::new("number-of-entries", place, "no accepted form")
                        .allowed("one or more, the main one first"),
                );
            }
            without_bytes(accept)
        });
        let why = fields.required(walk, "why").and_then(|t| walk.letters(t));
        fields.finish(walk);
        Some(Self {
            stem: stem?,
            accept: accept?,
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
    fn accepted_forms_keep_their_order() {
        let QuestionKind::ShortAnswer(kind) =
            kind_of("short_answer: { stem: a, accept: [low wines, low wine], why: w }")
        else {
            panic!("another kind")
        };
        assert_eq!(kind.accept, ["low wines", "low wine"]);
    }

    #[test]
    fn no_form_and_doubled_forms_are_faults() {
        let faults = |accept: &str| {
            faults_of(&format!(
                "short_answer: {{ stem: a, accept: {accept}, why: w }}"
            ))
        };
        assert_eq!(faults("[]"), ["number-of-entries"]);
        assert_eq!(faults("[rum, Rum]"), ["doubled-entry"]);
        assert_eq!(faults("['', {}]"), ["empty-text", "wrong-type"]);
    }
}
