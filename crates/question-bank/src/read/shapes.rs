//! The shapes of a bank's texts, written down by their readers while they read examples.

use base::shape::Shape;
use base::tree::{Tree, read_tree};
use base::walk::Walk;
use base::{Fault, SourceText};

use super::bank_text::read_head;
use super::lexicon_text::read_families;
use super::question_text::read_questions;
use super::sample_text::{Surroundings, read_record};
use super::tree_text::read_nodes;
use crate::reference_tasting::ReferenceTasting;

/// A text of a bank that has a format of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum BankFormat {
    /// `bank.yaml`.
    Bank,
    /// `questions/*.yaml`.
    Questions,
    /// `lexicon.yaml`.
    Lexicon,
    /// `categories.yaml` and `regions.yaml`.
    Tree,
    /// `samples/ID.yaml`.
    Sample,
}

/// The shape of a format as its reader asks for it in this example.
///
/// # Errors
/// Where the example is not of the format: a shape is taken from sound texts only. References to
/// other texts are not followed.
pub fn shape_of(format: BankFormat, example: &SourceText) -> Result<Shape, Vec<Fault>> {
    let tree: Tree = read_tree(example).map_err(|fault| vec![*fault])?;
    let mut walk = Walk::recording(example);
    match format {
        BankFormat::Bank => drop(read_head(&mut walk, &tree)),
        BankFormat::Questions => drop(read_questions(&mut walk, example, &tree)),
        BankFormat::Lexicon => drop(read_families(&mut walk, &tree)),
        BankFormat::Tree => drop(read_nodes(&mut walk, &tree)),
        BankFormat::Sample => drop(read_record(
            &mut walk,
            &tree,
            Surroundings {
                lexicon: None,
                categories: None,
                regions: None,
            },
            ReferenceTasting::default(),
        )),
    }
    let shape = walk.shape(&tree).unwrap_or_default();
    let faults = walk.finish();
    if faults.iter().any(|fault| !fault.is_weakness()) {
        return Err(faults);
    }
    Ok(shape)
}
