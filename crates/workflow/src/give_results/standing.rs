//! What results may be used for, as it stands on every sheet of them.

use register::{Register, RegisterError};

/// What results may be used for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Standing<'n> {
    /// Of a rehearsal, with the words that say so.
    Rehearsed(&'n str),
    /// Made, and for the chief examiner alone.
    NotReleased,
    /// Released as they were first decided.
    Released,
    /// Released, and corrected since.
    Corrected,
}

/// Stands on every sheet until results are released.
pub(crate) const NOT_RELEASED: &str =
    "Not released: for the chief examiner alone, not to be handed out.";
/// Stands on the summary where results were corrected since.
const CORRECTED: &str = "Corrected since the results were released.";

impl Standing<'static> {
    /// That of a register's results.
    ///
    /// # Errors
    /// When the register cannot be read.
    pub(crate) fn of(register: &Register) -> Result<Self, RegisterError> {
        Ok(
            match (register.is_released()?, register.corrected_since_release()?) {
                (false, _) => Self::NotReleased,
                (true, false) => Self::Released,
                (true, true) => Self::Corrected,
            },
        )
    }
}

impl<'n> Standing<'n> {
    /// What stands on the sheets of the chief examiner.
    pub(crate) const fn on_summary(self) -> &'n str {
        match self {
            Self::Rehearsed(note) => note,
            Self::NotReleased => NOT_RELEASED,
            Self::Released => "",
            Self::Corrected => CORRECTED,
        }
    }
    /// What stands on each candidate's report: who gets one need not know of others' corrections.
    pub(crate) const fn on_reports(self) -> &'n str {
        match self {
            Self::Rehearsed(note) => note,
            Self::NotReleased => NOT_RELEASED,
            Self::Released | Self::Corrected => "",
        }
    }
    /// What stands in each line of the class list.
    pub(crate) const fn in_class_list(self) -> &'static str {
        match self {
            Self::Rehearsed(_) => "rehearsal",
            Self::NotReleased => "not released",
            Self::Released => "released",
            Self::Corrected => "corrected",
        }
    }
    /// What they are once they are released: whoever looks at results before says by this that they
    /// are what goes out.
    pub(crate) const fn once_released(self) -> Self {
        match self {
            Self::Rehearsed(_) | Self::NotReleased | Self::Released => Self::Released,
            Self::Corrected => Self::Corrected,
        }
    }
    /// Whether they may be handed out.
    pub(crate) const fn is_released(self) -> bool {
        match self {
            Self::Rehearsed(_) | Self::NotReleased => false,
            Self::Released | Self::Corrected => true,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_not_released_says_so_everywhere_and_what_is_says_it_nowhere() {
        for standing in [Standing::Rehearsed("a rehearsal"), Standing::NotReleased] {
            assert!(!standing.is_released());
            assert!(!standing.on_summary().is_empty());
            assert_eq!(standing.on_summary(), standing.on_reports());
            assert_ne!(standing.in_class_list(), Standing::Released.in_class_list());
        }
        assert!(Standing::Released.is_released() && Standing::Corrected.is_released());
        assert!(Standing::Corrected.on_reports().is_empty());
        assert!(!Standing::Corrected.on_summary().is_empty());
    }
}
