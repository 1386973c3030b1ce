//! Finds entries that stand twice in one list.

use std::collections::BTreeMap;
use std::ops::Range;

use base::Fault;
use base::tree::Tree;
use base::walk::{Walk, shortened};

/// Notes every entry that is the same as one before it, but for case and spaces.
pub(crate) fn note_doubled(walk: &mut Walk<'_>, entries: &[(String, Range<usize>)], what: &str) {
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

/// The texts of a list with their bytes.
pub(crate) fn texts_with_bytes<'t>(
    walk: &mut Walk<'t>,
    tree: &'t Tree,
    what: &str,
) -> Vec<(String, Range<usize>)> {
    walk.list(tree, what)
        .iter()
        .filter_map(|item| Some((walk.text(item)?, item.bytes.clone())))
        .collect()
}
