//! Finds entries that stand twice in one list.

use std::collections::BTreeMap;
use std::ops::Range;

use base::tree::Tree;
use base::walk::{Walk, shortened};
use base::{Fault, Text};

/// Notes every entry that is the same as one before it, but for case and spaces.
pub(crate) fn note_doubled(walk: &mut Walk<'_>, entries: &[(Text, Range<usize>)], what: &str) {
    let mut seen: BTreeMap<String, &Range<usize>> = BTreeMap::new();
    for (text, bytes) in entries {
        let alike = text
            .to_lowercase()
            .split_whitespace()
            .collect::<Vec<_>>()
            .join(" ");
        if let Some(first) = seen.get(&alike) {
            let line = walk.place(first).line;
            let place = walk.place(bytes);
            walk.note(
                Fault::new(
                    "doubled-entry",
                    place,
                    format!(
                        "the {what} \"{}\" stands twice; it stands in line {line} already",
                        shortened(text)
                    ),
                )
                .hint("change or remove one of them"),
            );
        } else {
            seen.insert(alike, bytes);
        }
    }
}

/// The texts alone.
pub(crate) fn without_bytes(texts: Vec<(Text, Range<usize>)>) -> Vec<Text> {
    let mut alone = Vec::with_capacity(texts.len());
    alone.extend(texts.into_iter().map(|(text, _)| text));
    alone
}

/// The texts of a list with their bytes.
pub(crate) fn texts_with_bytes<'t>(
    walk: &mut Walk<'t>,
    tree: &'t Tree,
    what: &str,
) -> Vec<(Text, Range<usize>)> {
    walk.list(tree, what)
        .iter()
        .filter_map(|item| Some((walk.letters(item)?, item.bytes.clone())))
        .collect()
}
