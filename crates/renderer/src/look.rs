//! What one sheet's print depends on besides its content: the paper and the language.

use serde::{Serialize, Serializer};
use sheet_layout::Paper;

use crate::sheets::Audience;

/// Paper and language of a sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Look {
    /// The paper printed on.
    pub paper: Paper,
    /// The language of the texts; it steers hyphenation and screen readers.
    pub language: Language,
    /// The head of the ledger when the sheet was made, for its foot; empty where there is none.
    pub ledger_head: String,
}

impl Look {
    /// The look for whoever may see a sheet. The head of the ledger follows from everything that stands
    /// in the register, the key included: it tells nothing, and still no candidate's paper changes with it.
    #[must_use]
    pub(crate) fn for_audience(&self, audience: Audience) -> Self {
        match audience {
            Audience::Candidate => Self {
                ledger_head: String::new(),
                ..self.clone()
            },
            Audience::Proctor | Audience::Examiner | Audience::Released => self.clone(),
        }
    }
}

impl Default for Look {
    fn default() -> Self {
        Self {
            paper: Paper::A4,
            language: Language::english(),
            ledger_head: String::new(),
        }
    }
}

/// A language code of two or three small letters (ISO 639).
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Language(String);

impl Language {
    /// English, the language of the shipped templates.
    #[must_use]
    pub fn english() -> Self {
        Self("en".to_owned())
    }
    /// The language of this code; none unless it is two or three small letters.
    #[must_use]
    pub fn of_code(code: &str) -> Option<Self> {
        let sound =
            (2..=3).contains(&code.len()) && code.bytes().all(|byte| byte.is_ascii_lowercase());
        sound.then(|| Self(code.to_owned()))
    }
    /// The code.
    #[must_use]
    pub fn code(&self) -> &str {
        &self.0
    }
}

/// What the templates see of a look.
#[derive(Serialize)]
struct PrintedLook<'a> {
    paper: &'static str,
    language: &'a str,
    ledger_head: &'a str,
}

impl Serialize for Look {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let paper = match self.paper {
            Paper::A4 => "a4",
            Paper::Letter => "us-letter",
        };
        PrintedLook {
            paper,
            language: self.language.code(),
            ledger_head: &self.ledger_head,
        }
        .serialize(serializer)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_candidates_paper_shows_the_head_of_the_ledger() {
        let look = Look {
            ledger_head: "7:ABCD".to_owned(),
            ..Look::default()
        };
        assert_eq!(look.for_audience(Audience::Candidate), Look::default());
        assert_eq!(look.for_audience(Audience::Released), look);
    }

    #[test]
    fn only_language_codes_are_languages() {
        assert!(Language::of_code("de").is_some());
        for bad in ["", "e", "EN", "en-GB", "\"]#", "engl"] {
            assert!(Language::of_code(bad).is_none(), "{bad}");
        }
    }
}
