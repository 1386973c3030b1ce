//! A text as a bank keeps it: a stretch of the file that it was read from, or letters of its own.
//!
//! A bank of a hundred thousand questions has a million and a half of them. Most stand in their
//! file as they are, so the file's letters serve for all.

use std::borrow::Borrow;
use std::cmp::Ordering;
use std::fmt;
use std::hash::{Hash, Hasher};
use std::ops::Deref;
use std::sync::Arc;

use serde::{Serialize, Serializer};

/// A text that is not changed any more. Reads as a `str`.
#[derive(Clone)]
pub struct Text(Letters);

#[derive(Clone)]
enum Letters {
    /// Letters of its own.
    Own(Box<str>),
    /// From one byte to another of a larger text, both at boundaries of characters.
    Within {
        source: Arc<str>,
        start: u32,
        end: u32,
    },
}

impl Text {
    /// These words, which may stand in the source at this byte, or one behind it, after a quotation
    /// mark. Where they do not, as when the file writes them over several lines, they are copied.
    #[must_use]
    pub fn within(source: &Arc<str>, at: usize, words: &str) -> Self {
        let found = [at, at.saturating_add(1)].into_iter().find(|start| {
            source
                .get(*start..)
                .is_some_and(|rest| rest.starts_with(words))
        });
        let ends = found.and_then(|start| {
            let end = u32::try_from(start.checked_add(words.len())?).ok()?;
            Some((u32::try_from(start).ok()?, end))
        });
        match ends {
            Some((start, end)) => Self(Letters::Within {
                source: Arc::clone(source),
                start,
                end,
            }),
            None => Self::from(words),
        }
    }
    /// The letters.
    #[must_use]
    pub fn as_str(&self) -> &str {
        match &self.0 {
            Letters::Own(letters) => letters,
            Letters::Within { source, start, end } => {
                source.get(*start as usize..*end as usize).unwrap_or("")
            }
        }
    }
}

impl Deref for Text {
    type Target = str;
    fn deref(&self) -> &str {
        self.as_str()
    }
}
impl AsRef<str> for Text {
    fn as_ref(&self) -> &str {
        self.as_str()
    }
}
impl Borrow<str> for Text {
    fn borrow(&self) -> &str {
        self.as_str()
    }
}
impl From<&str> for Text {
    fn from(letters: &str) -> Self {
        Self(Letters::Own(letters.into()))
    }
}
impl From<String> for Text {
    fn from(letters: String) -> Self {
        Self(Letters::Own(letters.into_boxed_str()))
    }
}
impl From<&String> for Text {
    fn from(letters: &String) -> Self {
        Self::from(letters.as_str())
    }
}
impl From<Text> for String {
    fn from(text: Text) -> Self {
        text.as_str().to_owned()
    }
}
impl Default for Text {
    fn default() -> Self {
        Self::from("")
    }
}
impl fmt::Debug for Text {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Debug::fmt(self.as_str(), f)
    }
}
impl fmt::Display for Text {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self.as_str(), f)
    }
}
impl PartialEq for Text {
    fn eq(&self, other: &Self) -> bool {
        self.as_str() == other.as_str()
    }
}
impl Eq for Text {}
impl PartialEq<str> for Text {
    fn eq(&self, other: &str) -> bool {
        self.as_str() == other
    }
}
impl PartialEq<&str> for Text {
    fn eq(&self, other: &&str) -> bool {
        self.as_str() == *other
    }
}
impl PartialEq<String> for Text {
    fn eq(&self, other: &String) -> bool {
        self.as_str() == other
    }
}
impl PartialEq<Text> for String {
    fn eq(&self, other: &Text) -> bool {
        self == other.as_str()
    }
}
impl PartialOrd for Text {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}
impl Ord for Text {
    fn cmp(&self, other: &Self) -> Ordering {
        self.as_str().cmp(other.as_str())
    }
}
impl Hash for Text {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.as_str().hash(state);
    }
}
impl Serialize for Text {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.as_str())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn is_shared(text: &Text) -> bool {
        matches!(text.0, Letters::Within { .. })
    }

    #[test]
    fn what_stands_in_the_file_is_not_copied() {
        let source: Arc<str> = Arc::from("stem: Où?\nwhy: \"It is: so\"\nlong: \"two\n  lines\"\n");
        let at = |words: &str| source.find(words).unwrap_or(0);
        let stem = Text::within(&source, at("Où?"), "Où?");
        assert!(is_shared(&stem) && stem == "Où?");
        let why = Text::within(&source, at("\"It is"), "It is: so");
        assert!(is_shared(&why) && why == "It is: so");
        let folded = Text::within(&source, at("\"two"), "two lines");
        assert!(!is_shared(&folded) && folded == "two lines");
    }

    #[test]
    fn it_is_no_larger_than_a_string() {
        assert_eq!(size_of::<Text>(), size_of::<String>());
    }

    proptest! {
        #[test]
        fn any_place_is_taken_without_panic(source in ".{0,40}", at in 0_usize..60, words in ".{0,10}") {
            let text = Text::within(&Arc::from(source.as_str()), at, &words);
            prop_assert_eq!(text.as_str(), words.as_str());
        }
    }
}
