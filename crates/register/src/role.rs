//! Who acts: the roles of an examination.

use std::fmt;
use std::str::FromStr;

/// Whoever acts does so in one of these roles.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Role {
    /// Writes questions and sample records.
    Author,
    /// Makes the sitting, prints and seals.
    Assembler,
    /// Runs the day.
    Proctor,
    /// Marks answers.
    Marker,
    /// Answers for the exam: decides, releases, corrects.
    ChiefExaminer,
}

impl Role {
    /// Every role.
    pub const ALL: [Self; 5] = [
        Self::Author,
        Self::Assembler,
        Self::Proctor,
        Self::Marker,
        Self::ChiefExaminer,
    ];
    /// The word, as typed and as it stands in the ledger.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Author => "author",
            Self::Assembler => "assembler",
            Self::Proctor => "proctor",
            Self::Marker => "marker",
            Self::ChiefExaminer => "chief-examiner",
        }
    }
}

impl fmt::Display for Role {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}

/// A word that names no role.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("\"{0}\" is no role; there are author, assembler, proctor, marker and chief-examiner")]
pub struct NoRole(String);

impl FromStr for Role {
    type Err = NoRole;
    fn from_str(word: &str) -> Result<Self, NoRole> {
        Self::ALL
            .into_iter()
            .find(|role| role.word() == word)
            .ok_or_else(|| NoRole(word.to_owned()))
    }
}

/// A moment, in universal time and whole seconds: `2027-06-12T09:30:00Z`. Texts of this form sort
/// as the moments do.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Moment(String);

impl Moment {
    /// Reads a moment; none where the text has another form.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let shape = "dddd-dd-ddTdd:dd:ddZ";
        let fits = text.len() == shape.len()
            && text
                .chars()
                .zip(shape.chars())
                .all(|(c, wanted)| match wanted {
                    'd' => c.is_ascii_digit(),
                    _ => c == wanted,
                });
        fits.then(|| Self(text.to_owned()))
    }
    /// The text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

/// Who acts, and when.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct By {
    /// In which role.
    pub role: Role,
    /// Who confirms, where two must agree.
    pub confirmed_by: Option<Role>,
    /// When; none where no clock is at hand.
    pub time: Option<Moment>,
}

impl By {
    /// An act of one role.
    #[must_use]
    pub const fn new(role: Role, time: Option<Moment>) -> Self {
        Self {
            role,
            confirmed_by: None,
            time,
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn words_are_read_as_written() {
        for role in Role::ALL {
            assert_eq!(role.word().parse::<Role>().unwrap(), role);
        }
        assert!(
            "boss"
                .parse::<Role>()
                .unwrap_err()
                .to_string()
                .contains("marker")
        );
        assert!(Moment::parse("2027-06-12T09:30:00Z").is_some());
        assert!(Moment::parse("2027-06-12 09:30:00Z").is_none());
    }
}
