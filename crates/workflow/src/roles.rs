//! What each role may do: one table. What is not in it is refused, and that it was tried is entered.
//!
//! There are no accounts: a role is stated and enters the ledger, as a signature on a form would.

use register::{Act, By, Details, Register, Role};

use crate::failure::Failure;
use crate::surroundings::Surroundings;

/// Whatever changes a sitting, or shows what is secret.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Doing {
    /// Draw the sitting.
    Assemble,
    /// Commit to the key and lock it up.
    Seal,
    /// Print the papers.
    Print,
    /// See what is in the bottles and how it is poured.
    Pour,
    /// Take in answers and mark them.
    Mark,
    /// Share essays out and bring markers' marks together.
    Moderate,
    /// Note a cut that judges set.
    SetCut,
    /// Decide and write results.
    Results,
    /// Enter that a decision near a cut was looked at.
    Review,
    /// Release results: from then on a change is a correction.
    Release,
    /// Correct marks that stand.
    Correct,
    /// Write the appeal file of one candidate, with the keys in dispute.
    Appeal,
    /// Give certificates out, and withdraw those that a correction made untrue.
    Certify,
    /// Open the sealed key.
    Unseal,
    /// Show one leaf of the seal on appeal.
    ShowLeaf,
    /// Tell a person what is kept of them.
    ExportPerson,
    /// Put a person's name or note right.
    CorrectPerson,
    /// Erase who is behind a number.
    ErasePerson,
    /// Remove all names when their time is over.
    EndRetention,
}

impl Doing {
    /// All of it.
    pub const ALL: [Self; 19] = [
        Self::Assemble,
        Self::Seal,
        Self::Print,
        Self::Pour,
        Self::Mark,
        Self::Moderate,
        Self::SetCut,
        Self::Results,
        Self::Review,
        Self::Release,
        Self::Correct,
        Self::Appeal,
        Self::Certify,
        Self::Unseal,
        Self::ShowLeaf,
        Self::ExportPerson,
        Self::CorrectPerson,
        Self::ErasePerson,
        Self::EndRetention,
    ];

    /// In words: "may … ".
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Assemble => "assemble the sitting",
            Self::Seal => "seal the key",
            Self::Print => "print the papers",
            Self::Pour => "see the pour plan",
            Self::Mark => "mark answers",
            Self::Moderate => "moderate marks",
            Self::SetCut => "set a cut",
            Self::Results => "make results",
            Self::Review => "review a decision",
            Self::Release => "release results",
            Self::Correct => "correct marks",
            Self::Appeal => "write an appeal file",
            Self::Certify => "give certificates",
            Self::Unseal => "open the sealed key",
            Self::ShowLeaf => "show a leaf of the seal",
            Self::ExportPerson => "hand out what is kept of a person",
            Self::CorrectPerson => "put a person's name right",
            Self::ErasePerson => "erase a person",
            Self::EndRetention => "remove names after their time",
        }
    }

    /// Who may; the first is who does it where no role is stated. The table.
    #[must_use]
    pub const fn allowed(self) -> &'static [Role] {
        use Role::{Assembler, ChiefExaminer, Marker, Proctor};
        match self {
            Self::Assemble | Self::Seal | Self::Print => &[Assembler, ChiefExaminer],
            Self::Pour => &[Proctor, Assembler, ChiefExaminer],
            Self::Mark | Self::Moderate => &[Marker, ChiefExaminer],
            Self::SetCut
            | Self::Results
            | Self::Review
            | Self::Release
            | Self::Correct
            | Self::Appeal
            | Self::Certify
            | Self::Unseal
            | Self::ShowLeaf
            | Self::ExportPerson
            | Self::CorrectPerson
            | Self::ErasePerson
            | Self::EndRetention => &[ChiefExaminer],
        }
    }

    /// Whether a second role must agree.
    #[must_use]
    pub const fn wants_two(self) -> bool {
        match self {
            Self::SetCut
            | Self::Release
            | Self::Correct
            | Self::Unseal
            | Self::CorrectPerson
            | Self::ErasePerson => true,
            Self::Assemble
            | Self::Seal
            | Self::Print
            | Self::Pour
            | Self::Mark
            | Self::Moderate
            | Self::Results
            | Self::Review
            | Self::Appeal
            | Self::Certify
            | Self::ShowLeaf
            | Self::ExportPerson
            | Self::EndRetention => false,
        }
    }
}

/// Who says they act, and who agrees.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Stated {
    /// The role; the table's first where none is stated.
    pub role: Option<Role>,
    /// The second role.
    pub confirmed_by: Option<Role>,
}

/// Why not; none where it is allowed.
fn against(doing: Doing, role: Role, confirmed_by: Option<Role>) -> Option<(String, String)> {
    if !doing.allowed().contains(&role) {
        let may: Vec<&str> = doing.allowed().iter().map(|role| role.word()).collect();
        return Some((
            format!("the role {role} may not {}", doing.words()),
            format!("this may: {}", may.join(", ")),
        ));
    }
    if doing.wants_two() && confirmed_by.is_none_or(|second| second == role) {
        return Some((
            format!("to {} wants two roles", doing.words()),
            "name the second with --confirmed-by".to_owned(),
        ));
    }
    None
}

/// Whoever acts, where the table allows it. Where it does not, the attempt is entered in the
/// register, if there is one yet.
///
/// # Errors
/// When the table does not allow it.
pub fn acting(
    around: &dyn Surroundings,
    register: Option<&mut Register>,
    doing: Doing,
    stated: Stated,
) -> Result<By, Failure> {
    let first = doing.allowed().first().copied();
    let role = stated.role.or(first).unwrap_or(Role::ChiefExaminer);
    let by = By {
        role,
        confirmed_by: stated.confirmed_by,
        time: around.now(),
    };
    let Some((what, hint)) = against(doing, role, stated.confirmed_by) else {
        return Ok(by);
    };
    if let Some(register) = register {
        let details = Details::from([("tried".to_owned(), doing.words().to_owned())]);
        register.note(Act::Refused, &by, details)?;
    }
    Err(Failure::Refused { what, hint })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn everything_can_be_done_by_somebody_and_nothing_by_everybody() {
        for doing in Doing::ALL {
            assert!(!doing.allowed().is_empty(), "{doing:?}");
            assert!(doing.allowed().contains(&Role::ChiefExaminer), "{doing:?}");
            assert!(!doing.allowed().contains(&Role::Author), "{doing:?}");
        }
    }

    #[test]
    fn two_roles_are_two_and_not_one_twice() {
        let chief = Role::ChiefExaminer;
        assert!(against(Doing::Unseal, chief, None).is_some());
        assert!(against(Doing::Unseal, chief, Some(chief)).is_some());
        assert!(against(Doing::Unseal, chief, Some(Role::Proctor)).is_none());
        let two: Vec<Doing> = Doing::ALL.into_iter().filter(|d| d.wants_two()).collect();
        for named in [Doing::Release, Doing::SetCut, Doing::Unseal, Doing::Correct] {
            assert!(two.contains(&named), "{named:?}");
        }
        assert!(against(Doing::Mark, Role::Proctor, None).is_some());
        assert!(against(Doing::Mark, Role::Marker, None).is_none());
    }
}
