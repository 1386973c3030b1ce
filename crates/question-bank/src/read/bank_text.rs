//! Reads `bank.yaml`: what the bank is called and which cells its blueprint has.

use base::tree::read_tree;
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
    let head = walk.fields(&tree, "a bank").map(|mut fields| {
        let walk = &mut walk;
        let title = fields.required(walk, "title").and_then(|t| walk.text(t));
        let language = fields.required(walk, "language").and_then(|t| {
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
            let named = walk.named(tree, "the cells of the blueprint");
            let mut cells = Vec::new();
            for cell in named {
                let id = CellId::parse(&cell.name);
                if id.is_err() {
                    let place = walk.place(&cell.bytes);
                    walk.note(
                        Fault::new(
                            "bad-id",
                            place,
                            format!("\"{}\" is no {}", shortened(&cell.name), CellId::KIND),
                        )
                        .allowed(CellId::ALLOWED),
                    );
                }
                if let (Ok(id), Some(name)) = (id, walk.text(&cell.tree)) {
                    cells.push((id, name));
                }
            }
            cells
        });
        fields.finish(walk);
        BankHead {
            title,
            language,
            licence,
            cells,
        }
    });
    faults.extend(walk.finish());
    head
}

/// Whether a text has the shape of a language tag (BCP 47): subtags of one to eight letters or
/// digits, the first of two or three letters.
fn is_language(text: &str) -> bool {
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
