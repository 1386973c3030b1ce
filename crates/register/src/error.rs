//! What can go wrong with a register, in words a person can act on.

use std::path::PathBuf;

use crate::holder::Holder;

/// Why a register cannot be used.
#[derive(Debug, thiserror::Error)]
pub enum RegisterError {
    /// There is already one.
    #[error("{} exists already", .0.display())]
    Exists(PathBuf),
    /// There is none.
    #[error("there is no register at {}", .0.display())]
    Missing(PathBuf),
    /// The file is no register, or one of a later version of this program.
    #[error("{} is no register that this program can read: {why}", path.display())]
    NotARegister {
        /// The file.
        path: PathBuf,
        /// Why not.
        why: String,
    },
    /// What stands in it contradicts itself.
    #[error("the register is damaged: {0}")]
    Damaged(String),
    /// Another program is writing to it.
    #[error("{0} is writing to the register; try again when it has finished")]
    Busy(Holder),
    /// Something was entered between reading and writing.
    #[error("something was entered in the register since it was read; nothing was changed")]
    Moved,
    /// Results are released: marks change by corrections alone.
    #[error("the results of this sitting are released; nothing was changed")]
    Released,
    /// The disk or the folder does not let it be written.
    #[error("the register cannot be written: {0}")]
    CannotWrite(String),
    /// Anything else that the store reports.
    #[error("the register cannot be used: {0}")]
    Store(String),
}

impl From<rusqlite::Error> for RegisterError {
    fn from(error: rusqlite::Error) -> Self {
        use rusqlite::ErrorCode;
        match error.sqlite_error_code() {
            Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => {
                Self::Busy(Holder::default())
            }
            Some(ErrorCode::DiskFull) => Self::CannotWrite("the disk is full".to_owned()),
            Some(ErrorCode::ReadOnly | ErrorCode::PermissionDenied | ErrorCode::CannotOpen) => {
                Self::CannotWrite("the file or its folder is not writable".to_owned())
            }
            Some(ErrorCode::DatabaseCorrupt | ErrorCode::NotADatabase) => {
                Self::Damaged(error.to_string())
            }
            _ => Self::Store(error.to_string()),
        }
    }
}
