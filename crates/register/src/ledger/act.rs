//! What can be done to a sitting.

use std::fmt;

/// What was done. The words stand in ledgers for ever: none is ever changed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Act {
    /// The register was brought to a later version of its tables.
    Migrated,
    /// Forms, codes, orders and seats were drawn.
    Assembled,
    /// The exam seed was made from an announced secret and a public value.
    PublicValueMixed,
    /// Papers were printed.
    Printed,
    /// The key was sealed.
    Sealed,
    /// The sealed key was opened again.
    Unsealed,
    /// One leaf of the seal was shown with its proof.
    LeafShown,
    /// Answers were taken in and marked.
    Marked,
    /// A person decided about an answer.
    Decided,
    /// A cut score was set by judges.
    CutSet,
    /// Decisions and reports were made.
    ResultsMade,
    /// The appeal file of one candidate was written.
    AppealFileMade,
    /// A decision near a cut was looked at and stands.
    Reviewed,
    /// Results were released.
    Released,
    /// Certificates were given out or withdrawn.
    Certified,
    /// Something that stood in the register was corrected.
    Corrected,
    /// What is known of one person was handed out.
    PersonExported,
    /// A name or a note of one person was put right.
    PersonCorrected,
    /// What is known of one person was erased.
    PersonErased,
    /// Personal data was removed after the time for which it was to be kept.
    Expired,
    /// Something happened on the day.
    Incident,
    /// Somebody tried what the role does not allow.
    Refused,
    /// Anything that an earlier version wrote down in words of its own.
    Noted,
}

impl Act {
    /// Every act.
    pub const ALL: [Self; 23] = [
        Self::Migrated,
        Self::Assembled,
        Self::PublicValueMixed,
        Self::Printed,
        Self::Sealed,
        Self::Unsealed,
        Self::LeafShown,
        Self::Marked,
        Self::Decided,
        Self::CutSet,
        Self::ResultsMade,
        Self::AppealFileMade,
        Self::Reviewed,
        Self::Released,
        Self::Certified,
        Self::Corrected,
        Self::PersonExported,
        Self::PersonCorrected,
        Self::PersonErased,
        Self::Expired,
        Self::Incident,
        Self::Refused,
        Self::Noted,
    ];
    /// The word that stands in the ledger.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Migrated => "migrated",
            Self::Assembled => "assembled",
            Self::PublicValueMixed => "public value mixed",
            Self::Printed => "printed",
            Self::Sealed => "sealed",
            Self::Unsealed => "unsealed",
            Self::LeafShown => "leaf shown",
            Self::Marked => "marked",
            Self::Decided => "decided",
            Self::CutSet => "cut set",
            Self::ResultsMade => "results made",
            Self::AppealFileMade => "appeal file made",
            Self::Reviewed => "reviewed",
            Self::Released => "released",
            Self::Certified => "certified",
            Self::Corrected => "corrected",
            Self::PersonExported => "person exported",
            Self::PersonCorrected => "person corrected",
            Self::PersonErased => "person erased",
            Self::Expired => "expired",
            Self::Incident => "incident",
            Self::Refused => "refused",
            Self::Noted => "noted",
        }
    }
}

impl fmt::Display for Act {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn each_act_has_a_word_of_its_own() {
        let words: BTreeSet<_> = Act::ALL.iter().map(|act| act.word()).collect();
        assert_eq!(words.len(), Act::ALL.len());
    }

    #[test]
    fn the_page_of_the_format_names_every_act_and_no_other() {
        let page = include_str!("../../FORMAT.md");
        let row = page
            .lines()
            .find(|line| line.starts_with("| `act` |"))
            .unwrap();
        let told: BTreeSet<&str> = row.split('`').skip(3).step_by(2).collect();
        let words: BTreeSet<&str> = Act::ALL.iter().map(|act| act.word()).collect();
        assert_eq!(told, words);
    }
}
