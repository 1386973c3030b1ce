//! Reads `bank.yaml`: what the bank is called and which cells its blueprint has.

use base::tree::{Tree, read_tree};
use base::walk::{Walk, shortened};
use base::{CellId, Fault, SourceText};

/// What `bank.yaml` says.
pub(crate) struct BankHead {
    pub(crate) title: Option<String>,
    pub(crate) language: Option<String>,
    pub(crate) licence: Option<String>,
    /// None where the cells could not be read, so that nothing is measured against them.
    pub(crate) cells: Option<Vec<(CellId, String)>>,
}

/// Reads the text. What could be read is handed out beside the faults.
pub(crate) fn read_bank_text(source: &SourceText, faults: &mut Vec<Fault>) -> Option<BankHead> {
    let tree = match read_tree(source) {
        Ok(tree) => tree,
        Err(fault) => {
            faults.push(*fault);
            return None;
        }
    };
    let mut walk = Walk::new(source);
    let head = read_head(&mut walk, &tree);
    faults.extend(walk.finish());
    head
}

/// Reads what stands in the text.
pub(crate) fn read_head<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<BankHead> {
    let mut fields = walk.fields(tree, "a bank")?;
    let title = fields.required(walk, "title").and_then(|t| walk.text(t));
    let language = fields.required(walk, "language").and_then(|t| {
        walk.of_form(t, LANGUAGE, "a BCP 47 tag such as en, en-GB or de");
        let language = walk.text(t)?;
        if !is_language(&language) {
            let place = walk.place(&t.bytes);
            walk.note(
                Fault::new(
                    "bad-language",
                    place,
                    format!("\"{}\" is no language tag", shortened(&language)),
                )
                .allowed("a BCP 47 tag such as en, en-GB or de"),
            );
        }
        Some(language)
    });
    let licence = fields.required(walk, "licence").and_then(|t| walk.text(t));
    let cells = fields.required(walk, "cells").map(|tree| {
        let mut cells = Vec::new();
        for cell in walk.named(tree, "the cells of the blueprint") {
            let id = walk.name_id::<CellId>(cell);
            if let (Some(id), Some(name)) = (id, walk.text(&cell.tree)) {
                cells.push((id, name));
            }
        }
        cells
    });
    fields.finish(walk);
    Some(BankHead {
        title,
        language,
        licence,
        cells,
    })
}

/// What [`is_language`] takes, as a pattern.
pub(super) const LANGUAGE: &str = "^[A-Za-z]{2,3}(-[A-Za-z0-9]{1,8})*$";

/// Whether a text has the shape of a language tag (BCP 47): subtags of one to eight letters or
/// digits, the first of two or three letters.
pub(super) fn is_language(text: &str) -> bool {
    let mut subtags = text.split('-');
    subtags.next().is_some_and(|first| {
        (2..=3).contains(&first.len()) && first.bytes().all(|b| b.is_ascii_alphabetic())
    }) && subtags
        .all(|s| (1..=8).contains(&s.len()) && s.bytes().all(|b| b.is_ascii_alphanumeric()))
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn a_bank_without_title_and_with_a_bad_cell_is_told_both() {
        let source = SourceText::new(
            "bank.yaml",
            "language: english\nlicence: CC0\ncells:\n  Law: Law\n  law: Law\n",
        );
        let mut faults = Vec::new();
        let head = read_bank_text(&source, &mut faults).unwrap();
        let rules: Vec<_> = faults.iter().map(|f| f.rule).collect();
        assert_eq!(rules, ["missing-field", "bad-language", "bad-id"]);
        assert_eq!(head.cells.unwrap().len(), 1);
    }
}
