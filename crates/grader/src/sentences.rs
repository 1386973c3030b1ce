//! The sentences that say why a mark is what it is: read from a template file, one for each
//! language, and filled with what a rule found.
//!
//! English and German ship with the program. Whoever wants other words copies a file and changes
//! it; a file that leaves out a value from which the mark is worked out is refused.

mod line;
mod pattern;
mod read;

use std::sync::LazyLock;

use base::SourceText;

pub(crate) use line::Line;
use pattern::Pattern;
pub(crate) use pattern::Value;
pub use read::read_sentences;

/// How the names of such files begin: `reasons.en.yaml`.
pub const FILE_START: &str = "reasons.";
/// How they end.
pub const FILE_END: &str = ".yaml";

/// The sentences of one language.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Sentences {
    language: String,
    /// What stands between a number's whole part and the rest.
    decimal: String,
    /// In the order of [`Line::ALL`].
    patterns: Vec<Pattern>,
}

/// The shipped files: language and text.
pub const SHIPPED: [(&str, &str); 2] = [
    ("en", include_str!("../../../templates/reasons.en.yaml")),
    ("de", include_str!("../../../templates/reasons.de.yaml")),
];

static READ: LazyLock<Vec<Sentences>> = LazyLock::new(|| {
    let read = |(language, text): &(&str, &str)| {
        let source = SourceText::new(&Sentences::file_name(language), text);
        // A test reads every shipped file without a fault.
        read_sentences(&source).value.unwrap_or_default()
    };
    SHIPPED.iter().map(read).collect()
});
static NONE: LazyLock<Sentences> = LazyLock::new(Sentences::default);

impl Sentences {
    /// The shipped sentences in English.
    #[must_use]
    pub fn english() -> &'static Self {
        READ.first().unwrap_or(&NONE)
    }

    /// The shipped sentences of a language; those of the language alone (`de`) for one of a country
    /// (`de-AT`).
    #[must_use]
    pub fn shipped(language: &str) -> Option<&'static Self> {
        let plain = language.split('-').next().unwrap_or(language);
        let of = |wanted: &str| {
            READ.iter()
                .find(|one| one.language.eq_ignore_ascii_case(wanted))
        };
        of(language).or_else(|| of(plain))
    }

    /// The name of a language's file: `reasons.de.yaml`.
    #[must_use]
    pub fn file_name(language: &str) -> String {
        format!("{FILE_START}{language}{FILE_END}")
    }

    /// The language, as the file states it.
    #[must_use]
    pub fn language(&self) -> &str {
        &self.language
    }

    /// A line filled with its values, in the order of [`Line::names`].
    pub(crate) fn fill(&self, line: Line, values: &[Value<'_>]) -> String {
        let mut text = String::new();
        if let Some(pattern) = self.patterns.get(line as usize) {
            pattern.fill(values, &self.decimal, &mut text);
        }
        text
    }

    /// "a, b, c"; at most twelve, then how many more.
    pub(crate) fn joined<T: AsRef<str>>(&self, words: impl ExactSizeIterator<Item = T>) -> String {
        const MOST: usize = 12;
        let more = words.len().saturating_sub(MOST);
        let mut text = String::new();
        for (place, word) in words.take(MOST).enumerate() {
            if place > 0 {
                text.push_str(", ");
            }
            text.push_str(word.as_ref());
        }
        if more > 0 {
            text = self.fill(Line::More, &[Value::words(&text), Value::Count(more)]);
        }
        text
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn every_shipped_file_reads_without_a_fault() {
        for (language, text) in SHIPPED {
            let name = Sentences::file_name(language);
            let checked = read_sentences(&SourceText::new(&name, text));
            assert_eq!(checked.faults, [], "{name}");
            assert_eq!(checked.value.unwrap().language(), language);
        }
        assert_eq!(Sentences::shipped("de-AT").unwrap().language(), "de");
        assert_eq!(Sentences::english().language(), "en");
        assert_eq!(Sentences::shipped("xx"), None);
    }

    #[test]
    fn long_lists_are_cut() {
        let words: Vec<String> = (0..15).map(|n| n.to_string()).collect();
        assert_eq!(
            Sentences::english().joined(words.iter()),
            "0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11 and 3 more"
        );
    }
}
