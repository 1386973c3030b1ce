//! Exit codes. Listed in the long help; a script may rely on them.

use workflow::{Failure, Fault, RegisterError};

/// How the program ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[repr(u8)]
pub(crate) enum Exit {
    /// Done.
    Done = 0,
    /// The texts have faults; they are listed.
    FaultsFound = 1,
    /// The arguments make no sense.
    BadArguments = 2,
    /// What was asked is refused; nothing was changed.
    Refused = 3,
    /// What was checked is not as it was written or sealed.
    NotAsWritten = 4,
    /// A file or the register cannot be read or written.
    CannotReadOrWrite = 5,
    /// A rehearsal does not show what was wanted of the exam.
    NotAsWanted = 6,
    /// A mistake of this program.
    Defect = 70,
}

impl Exit {
    /// Whether what was read was sound; weaknesses are no faults.
    pub(crate) fn of_findings(findings: &[Fault]) -> Self {
        if findings.iter().all(Fault::is_weakness) {
            Self::Done
        } else {
            Self::FaultsFound
        }
    }
}

/// The list for the help.
pub(crate) const CODES: &str = "\
Exit codes:
  0   done
  1   faults were found in what was read; they are listed
  2   the arguments make no sense
  3   refused; nothing was changed
  4   what was checked is not as it was written or sealed
  5   a file or the register cannot be read or written
  6   a rehearsal does not show what was wanted of the exam
  70  a mistake of this program";

impl From<Exit> for std::process::ExitCode {
    fn from(exit: Exit) -> Self {
        Self::from(exit as u8)
    }
}

impl From<&Failure> for Exit {
    fn from(failure: &Failure) -> Self {
        match failure {
            Failure::Faults { .. } => Self::FaultsFound,
            Failure::Refused { .. }
            | Failure::Register(RegisterError::Moved | RegisterError::Released) => Self::Refused,
            Failure::CannotRead { .. }
            | Failure::CannotWrite { .. }
            | Failure::Register(_)
            | Failure::Machine(_) => Self::CannotReadOrWrite,
            Failure::Defect(_) => Self::Defect,
        }
    }
}
