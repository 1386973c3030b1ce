//! Names of things as types, so that a sample can never stand where a question is meant.

use std::sync::Arc;

use serde::{Deserialize, Serialize};

/// Why a text is no id.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("\"{text}\" is not a valid {kind}: {allowed}")]
pub struct BadId {
    /// The text as written.
    pub text: String,
    /// What kind of id was wanted, in words.
    pub kind: &'static str,
    /// What is allowed, in words.
    pub allowed: &'static str,
}

/// The longest id, in bytes.
pub const LONGEST_ID: usize = 64;

/// Lower-case words joined by hyphens or full stops: `eu-rum-strength`.
fn is_slug(text: &str) -> bool {
    !text.is_empty()
        && text.len() <= LONGEST_ID
        && text.split(['-', '.']).all(|part| {
            !part.is_empty()
                && part
                    .bytes()
                    .all(|b| b.is_ascii_lowercase() || b.is_ascii_digit())
        })
}

/// What [`is_slug`] takes, as a pattern.
const SLUG: &str = "^(?=.{1,64}$)[a-z0-9]+([-.][a-z0-9]+)*$";
/// What [`is_label`] takes, as a pattern.
const LABEL: &str = "^[A-Za-z0-9][A-Za-z0-9_./-]{0,63}$";
/// What [`is_form_name`] takes, as a pattern.
const FORM_NAME: &str = "^[A-Z]{1,2}$";

/// Letters, digits, hyphen, underscore, full stop and slash: what schools use as candidate numbers.
fn is_label(text: &str) -> bool {
    !text.is_empty()
        && text.len() <= LONGEST_ID
        && text.starts_with(|c: char| c.is_ascii_alphanumeric())
        && text
            .bytes()
            .all(|b| b.is_ascii_alphanumeric() || matches!(b, b'-' | b'_' | b'.' | b'/'))
}

/// A form is named by one or two capital letters.
fn is_form_name(text: &str) -> bool {
    (1..=2).contains(&text.len()) && text.bytes().all(|b| b.is_ascii_uppercase())
}

// A bank holds an id in many places: copies share its letters.
macro_rules! id_type {
    ($(#[$meta:meta])* $name:ident, $kind:literal, $test:path, $pattern:path, $allowed:literal) => {
        $(#[$meta])*
        #[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[serde(try_from = "String", into = "String")]
        pub struct $name(Arc<str>);

        impl $name {
            /// What the id names, in words.
            pub const KIND: &'static str = $kind;
            /// What may be written, in words.
            pub const ALLOWED: &'static str = $allowed;

            /// Takes a text as an id.
            ///
            /// # Errors
            /// When the text has a character or a length that is not allowed.
            pub fn parse(text: &str) -> Result<Self, BadId> {
                if $test(text) {
                    Ok(Self(Arc::from(text)))
                } else {
                    Err(BadId { text: text.to_owned(), kind: $kind, allowed: $allowed })
                }
            }

            /// The id as text.
            #[must_use]
            pub fn as_str(&self) -> &str {
                &self.0
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.pad(&self.0)
            }
        }
        impl TryFrom<String> for $name {
            type Error = BadId;
            fn try_from(text: String) -> Result<Self, BadId> {
                Self::parse(&text)
            }
        }
        impl From<$name> for String {
            fn from(id: $name) -> Self {
                id.as_str().to_owned()
            }
        }
        impl Readable for $name {
            const KIND: &'static str = $kind;
            const ALLOWED: &'static str = $allowed;
            const PATTERN: &'static str = $pattern;
            fn read(text: &str) -> Result<Self, BadId> {
                Self::parse(text)
            }
        }
    };
}

/// An id that a text reader can take.
pub trait Readable: Sized {
    /// What the id names, in words.
    const KIND: &'static str;
    /// What may be written, in words.
    const ALLOWED: &'static str;
    /// The same as a pattern (ECMA 262), for editors.
    const PATTERN: &'static str;
    /// Takes a text as an id.
    ///
    /// # Errors
    /// When the text is not one.
    fn read(text: &str) -> Result<Self, BadId>;
}

id_type!(
    /// A question of a bank.
    QuestionId, "question id", is_slug, SLUG,
    "lower-case letters and digits, words joined by hyphens, at most 64 characters"
);
id_type!(
    /// A sample record.
    SampleId, "sample id", is_slug, SLUG,
    "lower-case letters and digits, words joined by hyphens, at most 64 characters"
);
id_type!(
    /// A cell of the blueprint.
    CellId, "cell id", is_slug, SLUG,
    "lower-case letters and digits, words joined by hyphens, at most 64 characters"
);
id_type!(
    /// A set of questions about one text.
    SetId, "set id", is_slug, SLUG,
    "lower-case letters and digits, words joined by hyphens, at most 64 characters"
);
id_type!(
    /// A node of the category or the region tree.
    NodeId, "node id", is_slug, SLUG,
    "lower-case letters and digits, words joined by hyphens, at most 64 characters"
);
id_type!(
    /// The number under which a candidate sits; the name stays in the roster.
    CandidateNumber, "candidate number", is_label, LABEL,
    "letters, digits and - _ . /, beginning with a letter or digit, at most 64 characters"
);
id_type!(
    /// A seat, such as `a3`.
    SeatName, "seat", is_label, LABEL,
    "letters, digits and - _ . /, beginning with a letter or digit, at most 64 characters"
);
id_type!(
    /// A form of the theory paper: `A`, `B`, …
    FormName, "form name", is_form_name, FORM_NAME, "one or two capital letters"
);

impl FormName {
    /// The name of the form with this number, counted from 0: A … Z, AA … ZZ; none beyond 702.
    #[must_use]
    pub fn nth(number: usize) -> Option<Self> {
        let letter = |n: usize| u8::try_from(n).ok().map(|n| char::from(b'A' + n));
        match number {
            0..=25 => Some(Self(letter(number)?.to_string().into())),
            26..=701 => {
                let rest = number - 26;
                Some(Self(
                    [letter(rest / 26)?, letter(rest % 26)?]
                        .into_iter()
                        .collect::<String>()
                        .into(),
                ))
            }
            _ => None,
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn slugs_are_lower_case_words() {
        assert!(QuestionId::parse("eu-rum-strength").is_ok());
        for bad in ["", "Rum", "a b", "-a", "a-", "a--b", "ä"] {
            assert!(QuestionId::parse(bad).is_err(), "{bad}");
        }
        assert!(QuestionId::parse(&"a".repeat(65)).is_err());
    }

    #[test]
    fn forms_run_from_a_to_zz() {
        assert_eq!(FormName::nth(0).unwrap().as_str(), "A");
        assert_eq!(FormName::nth(25).unwrap().as_str(), "Z");
        assert_eq!(FormName::nth(26).unwrap().as_str(), "AA");
        assert_eq!(FormName::nth(701).unwrap().as_str(), "ZZ");
        assert_eq!(FormName::nth(702), None);
    }
}
