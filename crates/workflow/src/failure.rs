//! Why a use case could not be carried out.

use std::path::{Path, PathBuf};

use base::Fault;
use register::RegisterError;

use crate::texts::Sources;

/// Why a use case could not be carried out.
#[derive(Debug, thiserror::Error)]
pub enum Failure {
    /// The texts have faults.
    #[error("{} in what was read", count(faults))]
    Faults {
        /// All of them.
        faults: Vec<Fault>,
        /// The texts they stand in.
        sources: Sources,
    },
    /// What was asked is refused.
    #[error("{what}")]
    Refused {
        /// What and why, in a sentence.
        what: String,
        /// What to do.
        hint: String,
    },
    /// A file cannot be read.
    #[error("{} cannot be read: {why}", path.display())]
    CannotRead {
        /// Which.
        path: PathBuf,
        /// Why.
        why: String,
    },
    /// A file cannot be written.
    #[error("{} cannot be written: {why}", path.display())]
    CannotWrite {
        /// Which.
        path: PathBuf,
        /// Why.
        why: String,
    },
    /// The register cannot be used.
    #[error("{0}")]
    Register(#[from] RegisterError),
    /// The machine does not do what a machine should.
    #[error("{0}")]
    Machine(String),
    /// A mistake of this program.
    #[error("a mistake of this program: {0}")]
    Defect(String),
}

fn count(faults: &[Fault]) -> String {
    match faults.iter().filter(|f| !f.is_weakness()).count() {
        1 => "1 fault".to_owned(),
        n => format!("{n} faults"),
    }
}

impl Failure {
    /// What was asked is refused: what and why, and what to do.
    ///
    /// # Errors
    /// Always.
    pub(crate) fn refused<T>(what: impl Into<String>, hint: impl Into<String>) -> Result<T, Self> {
        Err(Self::Refused {
            what: what.into(),
            hint: hint.into(),
        })
    }
    /// A file that cannot be read.
    #[must_use]
    pub fn cannot_read(path: &Path, error: &std::io::Error) -> Self {
        Self::CannotRead {
            path: path.to_owned(),
            why: in_words(error),
        }
    }
    /// A file that cannot be written.
    #[must_use]
    pub fn cannot_write(path: &Path, error: &std::io::Error) -> Self {
        Self::CannotWrite {
            path: path.to_owned(),
            why: in_words(error),
        }
    }
}

/// What the system reports, in words without numbers.
fn in_words(error: &std::io::Error) -> String {
    use std::io::ErrorKind;
    match error.kind() {
        ErrorKind::NotFound => "there is no such file or folder".to_owned(),
        ErrorKind::PermissionDenied => "you may not do this here".to_owned(),
        ErrorKind::StorageFull => "the disk is full".to_owned(),
        ErrorKind::ReadOnlyFilesystem => "the disk is read-only".to_owned(),
        ErrorKind::NotADirectory | ErrorKind::AlreadyExists => {
            "a file stands where a folder is wanted".to_owned()
        }
        ErrorKind::IsADirectory => "a folder stands where a file is wanted".to_owned(),
        _ => error.to_string(),
    }
}
