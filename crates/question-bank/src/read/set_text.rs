//! Reads the texts that several questions of one file are about, and joins the questions to them.

use std::collections::BTreeMap;
use std::sync::Arc;

use base::tree::Tree;
use base::walk::Walk;
use base::{Fault, SetId};

use super::bank_text::{LANGUAGE, is_language};
use super::question_text::ReadQuestion;
use crate::question_set::{InSet, QuestionSet};

/// A shared text is worth reading for so many questions, where the author says nothing.
const USUAL_LEAST: u32 = 2;
/// The most questions of one set that can be asked for.
const MOST: u32 = 50;

/// Reads `sets:`.
pub(super) fn read_sets<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Vec<QuestionSet> {
    let mut sets = Vec::new();
    for field in walk.named(tree, "texts that questions share") {
        let id = walk.name_id::<SetId>(field);
        let Some(mut fields) = walk.fields(&field.tree, "a text that questions share") else {
            continue;
        };
        let text = fields.required(walk, "text").and_then(|t| walk.text(t));
        let at_least = fields
            .optional("at_least")
            .map_or(Some(USUAL_LEAST), |t| walk.whole(t, 1..=MOST));
        let most_tree = fields.optional("at_most");
        let at_most = most_tree.map(|t| walk.whole(t, 1..=MOST));
        let translations = fields
            .optional("translations")
            .map_or_else(BTreeMap::new, |t| read_translations(walk, t));
        fields.finish(walk);
        let place = walk.place(&field.bytes);
        if let (Some(least), Some(Some(most)), Some(tree)) = (at_least, at_most, most_tree)
            && least > most
        {
            let at = walk.place(&tree.bytes);
            walk.note(
                Fault::new(
                    "contradictory-bounds",
                    at,
                    format!("at least {least} and at most {most} cannot both be kept"),
                )
                .hint("let at_least be no larger than at_most; it is 2 where nothing is said"),
            );
            continue;
        }
        if let (Some(id), Some(text), Some(at_least)) = (id, text, at_least) {
            sets.push(QuestionSet {
                id,
                place,
                text,
                at_least,
                at_most: at_most.flatten(),
                translations,
            });
        }
    }
    sets
}

fn read_translations<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> BTreeMap<String, String> {
    let mut found = BTreeMap::new();
    for field in walk.named(tree, "the text in other languages") {
        walk.name_of_form(field, LANGUAGE);
        if !is_language(&field.name) {
            let place = walk.place(&field.bytes);
            let what = format!(
                "\"{}\" is no language tag",
                base::walk::shortened(&field.name)
            );
            walk.note(
                Fault::new("bad-language", place, what)
                    .allowed("a BCP 47 tag such as en, en-GB or de"),
            );
        }
        if let Some(text) = walk.text(&field.tree) {
            found.insert(field.name.clone(), text);
        }
    }
    found
}

/// Gives each question the set that it names, and tells what cannot stand together.
pub(super) fn join_sets(
    walk: &mut Walk<'_>,
    sets: Vec<QuestionSet>,
    questions: &mut [ReadQuestion<'_>],
) {
    let known: Vec<Arc<QuestionSet>> = sets.into_iter().map(Arc::new).collect();
    for question in questions.iter() {
        let Some((id, bytes)) = &question.set else {
            continue;
        };
        if !known.iter().any(|set| set.id == *id) {
            let place = walk.place(bytes);
            let what = format!("no set \"{id}\" stands in this text");
            walk.note(
                Fault::new("unknown-set", place, what)
                    .hint("write its text below \"sets:\" in the same file")
                    .near(id.as_str(), known.iter().map(|set| set.id.as_str())),
            );
        }
    }
    for set in known {
        let mut number = 0;
        let mut cell = None;
        for question in questions.iter_mut() {
            let Some((_, bytes)) = question.set.as_ref().filter(|(id, _)| *id == set.id) else {
                continue;
            };
            let here = question.cell.as_ref().map(|(cell, _)| cell.clone());
            let first = cell.get_or_insert_with(|| here.clone());
            if *first != here
                && let (Some(first), Some(here)) = (first.as_ref(), &here)
            {
                let place = walk.place(bytes);
                let what = format!(
                    "the questions of \"{}\" stand together, and this one is of cell {here}, the first of {first}",
                    set.id
                );
                walk.note(
                    Fault::new("set-in-two-cells", place, what)
                        .allowed("one cell for all questions of a set"),
                );
            }
            if let Some(read) = &mut question.question {
                read.set = Some(InSet {
                    set: Arc::clone(&set),
                    place: number,
                });
            }
            number += 1;
        }
        if (number as u64) < u64::from(set.at_least) {
            let what = format!(
                "the set \"{}\" has {number} of at least {} questions",
                set.id, set.at_least
            );
            walk.note(
                Fault::new("set-too-small", set.place.clone(), what)
                    .hint("name the set in more questions of this file, or lower at_least"),
            );
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::super::question_text::read_question_text;
    use base::SourceText;

    fn question(id: &str, cell: &str, set: &str) -> String {
        format!(
            "  - id: {id}\n    cell: {cell}\n    level: recall\n    state: operational\n    source: {{ work: Some law, clause: \"1\", evidence: read }}\n    verified: 2026-11-25\n    set: {set}\n    short_answer: {{ stem: What is it?, accept: [rum], why: It is. }}\n"
        )
    }

    fn read(
        sets: &str,
        questions: &[(&str, &str, &str)],
    ) -> (Vec<Option<(String, usize)>>, Vec<String>) {
        let body: String = questions
            .iter()
            .map(|(id, cell, set)| question(id, cell, set))
            .collect();
        let source = SourceText::new("q.yaml", &format!("sets:\n{sets}questions:\n{body}"));
        let mut faults = Vec::new();
        let found = read_question_text(&source, &mut faults)
            .into_iter()
            .map(|read| {
                let of = read.question?.set?;
                Some((of.set.text.clone(), of.place))
            })
            .collect();
        let told = faults
            .iter()
            .map(|f| format!("{}:{}", f.rule, f.place.as_ref().map_or(0, |p| p.line)))
            .collect();
        (found, told)
    }

    #[test]
    fn questions_stand_in_their_set_in_order() {
        let (found, told) = read(
            "  leak: { text: A cask leaks., translations: { de: Ein Fass leckt. } }\n",
            &[("a", "law", "leak"), ("b", "law", "leak")],
        );
        assert_eq!(told, [""; 0]);
        let text = || "A cask leaks.".to_owned();
        assert_eq!(found, [Some((text(), 0)), Some((text(), 1))]);
    }

    #[test]
    fn what_cannot_stand_together_is_told() {
        let (_, told) = read(
            "  leak: { text: A cask leaks., at_least: 3 }\n  other: { text: Another., at_least: 3, at_most: 2 }\n",
            &[
                ("a", "law", "leak"),
                ("b", "cask", "leak"),
                ("c", "law", "leek"),
            ],
        );
        assert_eq!(
            told,
            [
                "set-too-small:2",
                "contradictory-bounds:3",
                "set-in-two-cells:19",
                "unknown-set:27"
            ]
        );
    }
}
