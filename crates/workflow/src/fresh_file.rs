//! Puts files down only where none stands: what a person typed or wrote is never written over.

use std::path::Path;

use crate::failure::Failure;
use crate::surroundings::Surroundings;

/// Refuses where one of these files is there already, naming all that are.
///
/// # Errors
/// When a file stands at one of the paths.
pub(crate) fn only_fresh<'p>(
    around: &dyn Surroundings,
    paths: impl IntoIterator<Item = &'p Path>,
) -> Result<(), Failure> {
    let standing: Vec<String> = paths
        .into_iter()
        .filter(|path| around.has_file(path))
        .map(|path| path.display().to_string())
        .collect();
    let are = match standing.len() {
        0 => return Ok(()),
        1 => "is",
        _ => "are",
    };
    Err(Failure::Refused {
        what: format!("{} {are} there already", standing.join(", ")),
        hint: "name another place with --to, or move away what stands there: somebody may have \
               written in it, and it is not written over"
            .to_owned(),
    })
}

/// Writes a file, or refuses where it stands already.
///
/// # Errors
/// When a file stands there, or it cannot be written.
pub(crate) fn write_fresh(
    around: &dyn Surroundings,
    path: &Path,
    bytes: &[u8],
) -> Result<(), Failure> {
    only_fresh(around, [path])?;
    around.write(path, bytes)
}
