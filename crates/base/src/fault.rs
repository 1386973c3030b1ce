//! One fault or weakness of a text: its place, what is wrong, what is allowed, and a hint.

use std::fmt;

use serde::Serialize;

use crate::place::Place;

/// How bad it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    /// The text cannot be used.
    Fault,
    /// The text can be used, but a person should look.
    Weakness,
}

/// One thing that is wrong with a text.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct Fault {
    /// Where, if in a text.
    pub place: Option<Place>,
    /// How bad.
    pub severity: Severity,
    /// A stable name of the rule, for scripts: `unknown-key`.
    pub rule: &'static str,
    /// What is wrong, in one sentence with the offending words.
    pub what: String,
    /// What is allowed.
    pub allowed: Option<String>,
    /// What to do.
    pub hint: Option<String>,
}

impl Fault {
    /// A fault: the text cannot be used.
    #[must_use]
    pub fn new(
        rule: &'static str,
        place: impl Into<Option<Place>>,
        what: impl Into<String>,
    ) -> Self {
        Self {
            place: place.into(),
            severity: Severity::Fault,
            rule,
            what: what.into(),
            allowed: None,
            hint: None,
        }
    }
    /// A weakness: a person should look.
    #[must_use]
    pub fn weakness(
        rule: &'static str,
        place: impl Into<Option<Place>>,
        what: impl Into<String>,
    ) -> Self {
        Self {
            severity: Severity::Weakness,
            ..Self::new(rule, place, what)
        }
    }
    /// Adds what is allowed.
    #[must_use]
    pub fn allowed(mut self, allowed: impl Into<String>) -> Self {
        self.allowed = Some(allowed.into());
        self
    }
    /// Adds what to do.
    #[must_use]
    pub fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = Some(hint.into());
        self
    }
    /// Adds "did you mean …" where a near name exists.
    #[must_use]
    pub fn near<'a>(self, word: &str, known: impl IntoIterator<Item = &'a str>) -> Self {
        match crate::near::nearest(word, known).first() {
            Some(name) => self.hint(format!("did you mean \"{name}\"?")),
            None => self,
        }
    }
    /// Whether this is a weakness only.
    #[must_use]
    pub fn is_weakness(&self) -> bool {
        self.severity == Severity::Weakness
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(place) = &self.place {
            write!(f, "{place}: ")?;
        }
        f.write_str(&self.what)?;
        if let Some(allowed) = &self.allowed {
            write!(f, "; allowed: {allowed}")?;
        }
        if let Some(hint) = &self.hint {
            write!(f, "; {hint}")?;
        }
        Ok(())
    }
}
