//! In which role a command is given: options that several commands share.

use clap::Args;
use workflow::{Role, Stated};

/// Who acts.
#[derive(Debug, Args)]
pub(crate) struct ActingArguments {
    /// In which role you do this: author, assembler, proctor, marker or chief-examiner [default:
    /// whose task it is]
    #[arg(long, value_name = "ROLE")]
    role: Option<Role>,
}

impl ActingArguments {
    /// What is stated, nobody confirming it.
    pub(crate) const fn stated(&self) -> Stated {
        Stated {
            role: self.role,
            confirmed_by: None,
        }
    }
    /// What is stated, and who confirms it.
    pub(crate) const fn confirmed(&self, confirmed_by: Option<Role>) -> Stated {
        Stated {
            role: self.role,
            confirmed_by,
        }
    }
}
