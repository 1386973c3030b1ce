//! The world behind one small trait: what a use case may ask of the machine.

use std::io::Read;
use std::path::{Path, PathBuf};

use base::ExamSeed;
use register::Moment;

use crate::failure::Failure;

/// The largest text that is read, in bytes. 16 MB hold some 25,000 questions; a bank may have any
/// number of texts.
pub const LARGEST_TEXT: u64 = 16 * 1024 * 1024;

/// What a use case may ask of the machine.
pub trait Surroundings {
    /// The bytes of a file.
    ///
    /// # Errors
    /// When there is no such file, it may not be read, or it is larger than [`LARGEST_TEXT`].
    fn read(&self, path: &Path) -> Result<Vec<u8>, Failure>;
    /// A file to be read piece by piece.
    ///
    /// # Errors
    /// When there is no such file or it may not be read.
    fn open(&self, path: &Path) -> Result<Box<dyn Read>, Failure>;
    /// Whether there is a file at this path.
    fn has_file(&self, path: &Path) -> bool;
    /// The names of the files in a folder, sorted; none where there is no such folder.
    ///
    /// # Errors
    /// When the folder may not be read.
    fn files_in(&self, folder: &Path) -> Result<Vec<String>, Failure>;
    /// Puts a file down, whole or not at all; folders above it are made.
    ///
    /// # Errors
    /// When the disk or the folder does not take it.
    fn write(&self, path: &Path, bytes: &[u8]) -> Result<(), Failure>;
    /// As `write`, for what its owner alone may read: an opened key, a custodian's share.
    ///
    /// # Errors
    /// When the disk or the folder does not take it.
    fn write_secret(&self, path: &Path, bytes: &[u8]) -> Result<(), Failure>;
    /// Takes a file away; no fault where there is none.
    ///
    /// # Errors
    /// When it may not be taken away.
    fn remove(&self, path: &Path) -> Result<(), Failure>;
    /// A fresh folder beside `folder` in which its successor grows. A folder that is there already
    /// and does not hold a file `mark` is not ours to replace.
    ///
    /// # Errors
    /// When `folder` is somebody else's, or cannot be written beside.
    fn begin_folder(&self, folder: &Path, mark: &str) -> Result<PathBuf, Failure>;
    /// Puts the grown folder into its place; the old one goes.
    ///
    /// # Errors
    /// When a file of the old folder cannot be taken away.
    fn finish_folder(&self, grown: &Path, folder: &Path) -> Result<(), Failure>;
    /// Takes away a folder that will not be finished, as far as that is possible.
    fn give_up_folder(&self, grown: &Path);
    /// A seed that nobody can foresee. Asked once, by `assemble`, then kept in the register.
    ///
    /// # Errors
    /// When the machine has no source of randomness.
    fn fresh_seed(&self) -> Result<ExamSeed, Failure>;
    /// What the clock says, in universal time; none where there is no clock. It enters the ledger,
    /// `check` counts from its day which sources are stale, and nothing else depends on it.
    fn now(&self) -> Option<Moment>;
}
