//! Reads the translations of a question: texts in other languages, aligned with its own, so that
//! options, steps and pairs stay beside their key.

use std::collections::BTreeMap;

use base::tree::{Tree, Value};
use base::walk::{Fields, Walk, shortened};
use base::{Fault, Text};

use super::bank_text::{LANGUAGE, is_language};
use super::{note_doubled, texts_with_bytes, without_bytes};
use crate::question_kind::{AnswerOption, QuestionKind};

/// The translations of a question by language tag.
pub(crate) fn read_translations<'t>(
    walk: &mut Walk<'t>,
    tree: &'t Tree,
    kind: &QuestionKind,
) -> BTreeMap<String, QuestionKind> {
    let mut found = BTreeMap::new();
    for field in walk.named(tree, "translations (a language each)") {
        walk.name_of_form(field, LANGUAGE);
        if !is_language(&field.name) {
            let place = walk.place(&field.bytes);
            let what = format!("\"{}\" is no language tag", shortened(&field.name));
            walk.note(Fault::new("bad-language", place, what).allowed("BCP 47: de, pt-BR"));
            continue;
        }
        if let Some(translated) = kind.translated(walk, &field.tree) {
            found.insert(field.name.clone(), translated);
        }
    }
    found
}

/// What a question of this kind needs in each translation: the entries that stand beside its own.
/// Not every kind has such a field, so a schema cannot ask for it; the reader does.
pub(crate) fn entries<'t>(
    walk: &mut Walk<'t>,
    fields: &mut Fields<'t>,
    name: &'static str,
) -> Option<&'t Tree> {
    let found = fields.optional(name);
    if found.is_none() {
        let place = walk.place(&fields.start());
        walk.note(
            Fault::new(
                "not-translated",
                place,
                format!("the translation has no \"{name}\""),
            )
            .hint(format!("add \"{name}: …\", in the order of the question")),
        );
    }
    found
}

/// A list of texts that stands beside one of `count` entries; none where it does not.
pub(crate) fn aligned_texts<'t>(
    walk: &mut Walk<'t>,
    tree: &'t Tree,
    what: &str,
    count: usize,
) -> Option<Vec<Text>> {
    let items = walk.list(tree, what);
    let texts = texts_with_bytes(walk, tree, what);
    note_doubled(walk, &texts, what);
    if !aligned(walk, tree, items.len(), count, what) {
        return None;
    }
    (texts.len() == count).then(|| without_bytes(texts))
}

/// Whether as many entries stand in a translation as in the question.
pub(crate) fn aligned(
    walk: &mut Walk<'_>,
    tree: &Tree,
    here: usize,
    count: usize,
    what: &str,
) -> bool {
    if matches!(tree.value, Value::List(_)) && here != count {
        let place = walk.place(&tree.bytes);
        walk.note(
            Fault::new(
                "not-aligned",
                place,
                format!("{here} {what}, and the question has {count}"),
            )
            .allowed(format!("{count}, in the order of the question"))
            .hint("an entry is translated at its own place, so that it stays beside its key"),
        );
    }
    here == count
}

/// Stem and options of a choice in another language.
pub(crate) fn translated_choice<'t>(
    walk: &mut Walk<'t>,
    tree: &'t Tree,
    options: &[AnswerOption],
) -> Option<(Text, Vec<AnswerOption>)> {
    let mut fields = walk.fields(tree, "a translation")?;
    let stem = fields.required(walk, "stem").and_then(|t| walk.letters(t));
    let translated =
        entries(walk, &mut fields, "options").and_then(|t| translated_options(walk, t, options));
    fields.finish(walk);
    Some((stem?, translated?))
}

/// Options in another language: a text each, or a text and why.
fn translated_options<'t>(
    walk: &mut Walk<'t>,
    tree: &'t Tree,
    options: &[AnswerOption],
) -> Option<Vec<AnswerOption>> {
    let items = walk.list(tree, "options");
    if !aligned(walk, tree, items.len(), options.len(), "options") {
        return None;
    }
    let mut texts = Vec::new();
    let mut translated = Vec::new();
    for (item, option) in items.iter().zip(options) {
        let (text, why) = match &item.value {
            Value::Fields(_) => {
                let mut fields = walk.fields(item, "an option")?;
                let text = fields.required(walk, "text").and_then(|t| walk.letters(t));
                let why = fields.optional("why").and_then(|t| walk.letters(t));
                fields.finish(walk);
                (text, why)
            }
            Value::Text(_) | Value::Number | Value::Nothing | Value::Truth(_) | Value::List(_) => {
                (walk.letters(item), None)
            }
        };
        if let Some(text) = text {
            texts.push((text.clone(), item.bytes.clone()));
            translated.push(AnswerOption {
                text,
                key: option.key,
                why: why.unwrap_or_else(|| option.why.clone()),
            });
        }
    }
    note_doubled(walk, &texts, "option");
    (translated.len() == options.len()).then_some(translated)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use crate::question_kind::QuestionKind;
    use crate::read::question_tests::{read_one_question, text_of};
    use crate::shape::Shape;

    fn read(kind: &str, translations: &str) -> (Option<QuestionKind>, Vec<String>) {
        let text = format!("{}    translations: {translations}\n", text_of(kind));
        let (question, faults) = read_one_question(&text);
        let rules = faults
            .iter()
            .map(|f| f.split(':').next().unwrap().to_owned())
            .collect();
        let german = question.and_then(|mut q| q.translations.remove("de"));
        (german, rules)
    }

    const CHOICE: &str = "best_answer: { stem: Which?, options: [{ text: rum, why: w }, { text: gin, key: true, why: v }] }";

    #[test]
    fn options_stay_beside_their_key() {
        let (german, faults) = read(
            CHOICE,
            "{ de: { stem: Welcher?, options: [Rum, { text: Wacholder, why: darum }] } }",
        );
        assert_eq!(faults, [""; 0]);
        let german = german.unwrap();
        assert_eq!(german.stem(), "Welcher?");
        let Shape::Choice { options, .. } = german.shape() else {
            unreachable!("a choice stays one")
        };
        assert!(!options[0].key && options[1].key);
        assert_eq!(
            (options[0].why.as_str(), options[1].why.as_str()),
            ("w", "darum")
        );
    }

    #[test]
    fn what_is_not_aligned_is_a_fault() {
        let rules = |translations: &str| read(CHOICE, translations).1;
        assert_eq!(
            rules("{ de: { stem: W, options: [Rum] } }"),
            ["not-aligned"]
        );
        assert_eq!(rules("{ de: { stem: W } }"), ["not-translated"]);
        assert_eq!(rules("{ 'd e': { stem: W } }"), ["bad-language"]);
        assert_eq!(
            rules("{ de: { stem: W, options: [Rum, rum] } }"),
            ["doubled-entry"]
        );
    }

    #[test]
    fn every_kind_can_be_translated() {
        for (kind, german) in [
            (
                "multiple_response: { stem: a, options: [{ text: b, key: true, why: w }, { text: c, why: w }] }",
                "{ stem: x, options: [y, z] }",
            ),
            (
                "numeric: { stem: a, answer: 1, unit: l, tolerance: 0, why: w }",
                "{ stem: x, why: y }",
            ),
            (
                "ordering: { stem: a, steps: [b, c, d], why: w }",
                "{ stem: x, steps: [r, s, t] }",
            ),
            (
                "matching: { stem: a, pairs: [{ left: b, right: c }, { left: d, right: e }], distractors: [f], why: w }",
                "{ stem: x, left: [l, m], right: [n, o, p] }",
            ),
            (
                "short_answer: { stem: a, accept: [b], why: w }",
                "{ stem: x, accept: [y, z] }",
            ),
            (
                "list: { stem: a, wanted: 2, accept: [b, c], why: w }",
                "{ stem: x, accept: [[y, z], u] }",
            ),
            (
                "essay: { stem: a, lines: 3, rubric: [{ criterion: c, marks: 1 }], model: m }",
                "{ stem: x, model: y }",
            ),
            (
                "variant: { stem: '{a}', draw: { a: { from: 1, to: 20, step: 1 } }, formula: a * 2, unit: l, decimals: 0, tolerance: 0, why: w }",
                "{ stem: 'x {a}' }",
            ),
        ] {
            let (translated, faults) = read(kind, &format!("{{ de: {german} }}"));
            assert_eq!(faults, [""; 0], "{kind}");
            assert!(translated.unwrap().stem().starts_with('x'), "{kind}");
            let (_, faults) = read(kind, "{ de: { stem: x, colour: y } }");
            assert!(faults.contains(&"unknown-key".to_owned()), "{kind}");
        }
        let text = "variant: { stem: '{a}', draw: { a: { from: 1, to: 20, step: 1 } }, formula: a * 2, unit: l, decimals: 0, tolerance: 0, why: w }";
        assert_eq!(read(text, "{ de: { stem: x } }").1, ["untold-number"]);
    }
}
