//! Puts down the schemas of all text formats, so that an editor completes and checks in a folder
//! that was copied away from the project.

use std::path::{Path, PathBuf};

use serde::Serialize;

use crate::failure::Failure;
use crate::surroundings::Surroundings;

/// The shipped schemas, and the files for which each is meant. A test makes them anew from the
/// readers and compares.
const SHIPPED: [(&str, &str, &str); 8] = [
    (
        "bank.json",
        "bank.yaml",
        include_str!("../../../question-banks/schemas/bank.json"),
    ),
    (
        "questions.json",
        "questions/*.yaml",
        include_str!("../../../question-banks/schemas/questions.json"),
    ),
    (
        "lexicon.json",
        "lexicon.yaml",
        include_str!("../../../question-banks/schemas/lexicon.json"),
    ),
    (
        "tree.json",
        "categories.yaml, regions.yaml",
        include_str!("../../../question-banks/schemas/tree.json"),
    ),
    (
        "sample.json",
        "samples/*.yaml",
        include_str!("../../../question-banks/schemas/sample.json"),
    ),
    (
        "plan.json",
        "plan.yaml",
        include_str!("../../../question-banks/schemas/plan.json"),
    ),
    (
        "room.json",
        "room.yaml",
        include_str!("../../../question-banks/schemas/room.json"),
    ),
    (
        "class.json",
        "class.yaml",
        include_str!("../../../question-banks/schemas/class.json"),
    ),
];

/// One schema that was put down.
#[derive(Debug, Clone, Serialize)]
pub struct SchemaFile {
    /// Where it lies.
    pub path: PathBuf,
    /// The files it is meant for.
    pub meant_for: &'static str,
}

/// Puts all schemas into a folder.
///
/// # Errors
/// When a file cannot be written.
pub fn put_schemas(around: &dyn Surroundings, folder: &Path) -> Result<Vec<SchemaFile>, Failure> {
    SHIPPED
        .iter()
        .map(|(name, meant_for, text)| {
            let path = folder.join(name);
            around.write(&path, text.as_bytes())?;
            Ok(SchemaFile { path, meant_for })
        })
        .collect()
}
