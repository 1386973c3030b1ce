//! Where names come from: options that commands share which must name people.

use std::path::{Path, PathBuf};

use anyhow::Result;
use clap::Args;
use workflow::{Names, Surroundings, names_are_locked};

use crate::secrets;

/// Where names come from.
#[derive(Debug, Args)]
pub(crate) struct NamesArguments {
    /// The roster with the names, where it is not FOLDER/roster.csv any more
    #[arg(long, value_name = "FILE")]
    names: Option<PathBuf>,
    /// Where the plan has names locked: a file with the chief examiner's passphrase in its first line
    /// [default: VALINCH_PASSPHRASE, else it is asked for]
    #[arg(long, value_name = "FILE")]
    passphrase_file: Option<PathBuf>,
}

impl NamesArguments {
    /// The file alone, for what opens nothing.
    pub(crate) fn file_alone(&self) -> Names {
        Names {
            file: self.names.clone(),
            passphrase: None,
        }
    }
    /// What is given; a passphrase is asked for where names are locked and nowhere else.
    pub(crate) fn names(&self, folder: &Path, around: &dyn Surroundings) -> Result<Names> {
        let passphrase = if names_are_locked(around, folder)? {
            Some(secrets::passphrase(
                self.passphrase_file.as_deref(),
                false,
                around,
            )?)
        } else {
            None
        };
        Ok(Names {
            file: self.names.clone(),
            passphrase,
        })
    }
}
