//! Reads the options of a choice.

use base::Fault;
use base::tree::Tree;
use base::walk::Walk;

use super::note_doubled;
use crate::question_kind::AnswerOption;

/// The most options, steps or pairs that one question may have: what a person can weigh, and what
/// an answer sheet has letters for.
pub(crate) const MOST_ENTRIES: usize = 7;

/// Reads options: two to seven, each with a text, perhaps `key: true`, and why. None where one of
/// them could not be read.
pub(crate) fn read_options<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<Vec<AnswerOption>> {
    let items = walk.list(tree, "options");
    if !(2..=MOST_ENTRIES).contains(&items.len()) && !items.is_empty() {
        let place = walk.place(&tree.bytes);
        walk.note(
            Fault::new(
                "number-of-entries",
                place,
                format!("{} options", items.len()),
            )
            .allowed(format!("2 to {MOST_ENTRIES} options")),
        );
    }
    if items.is_empty() && matches!(tree.value, base::tree::Value::List(_)) {
        let place = walk.place(&tree.bytes);
        walk.note(
            Fault::new("number-of-entries", place, "no options")
                .allowed(format!("2 to {MOST_ENTRIES} options")),
        );
    }
    let mut texts = Vec::new();
    let mut options = Vec::with_capacity(items.len());
    for item in items {
        let Some(mut fields) = walk.fields(item, "an option") else {
            continue;
        };
        let text_tree = fields.required(walk, "text");
        let text = text_tree.and_then(|tree| walk.letters(tree));
        let key = match fields.optional("key") {
            Some(tree) => walk.truth(tree),
            None => Some(false),
        };
        let why = fields
            .required(walk, "why")
            .and_then(|tree| walk.letters(tree));
        fields.finish(walk);
        if let (Some(tree), Some(text)) = (text_tree, &text) {
            texts.push((text.clone(), tree.bytes.clone()));
        }
        if let (Some(text), Some(key), Some(why)) = (text, key, why) {
            options.push(AnswerOption { text, key, why });
        }
    }
    note_doubled(walk, &texts, "option");
    (options.len() == items.len() && options.len() >= 2).then_some(options)
}
