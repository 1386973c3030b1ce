//! Where in which text something stands.

use std::fmt;
use std::ops::Range;
use std::sync::Arc;

use serde::Serialize;

/// The name of a text as a person knows it: a path below the exam folder or the bank.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(into = "String")]
pub struct SourceName(Arc<str>);

impl SourceName {
    /// Names a text.
    #[must_use]
    pub fn new(name: &str) -> Self {
        Self(Arc::from(name))
    }
    /// The name.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}
impl From<SourceName> for String {
    fn from(name: SourceName) -> Self {
        name.0.as_ref().to_owned()
    }
}
impl fmt::Display for SourceName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// A text with its name: what every reader takes.
#[derive(Debug, Clone)]
pub struct SourceText {
    /// The name of the text.
    pub name: SourceName,
    /// The text itself.
    pub text: Arc<str>,
}

impl SourceText {
    /// A text with its name.
    #[must_use]
    pub fn new(name: &str, text: &str) -> Self {
        Self {
            name: SourceName::new(name),
            text: Arc::from(text),
        }
    }
    /// The place of these bytes of the text. What lies outside is drawn in.
    #[must_use]
    pub fn place(&self, bytes: Range<usize>) -> Place {
        Place::in_text(&self.name, &self.text, bytes)
    }
}

/// A stretch of a text. Lines and columns count from 1; columns count characters.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub struct Place {
    /// The text.
    pub source: SourceName,
    /// Line of the first character.
    pub line: u32,
    /// Column of the first character.
    pub column: u32,
    /// First byte.
    pub start: usize,
    /// Byte after the last.
    pub end: usize,
}

impl Place {
    /// The place of these bytes of a text.
    #[must_use]
    pub fn in_text(name: &SourceName, text: &str, bytes: Range<usize>) -> Self {
        let start = floor_boundary(text, bytes.start);
        let end = floor_boundary(text, bytes.end.max(bytes.start)).max(start);
        let before = text.get(..start).unwrap_or(text);
        let line = before.bytes().filter(|&b| b == b'\n').count() + 1;
        let column = before.rsplit('\n').next().unwrap_or("").chars().count() + 1;
        Self {
            source: name.clone(),
            line: u32::try_from(line).unwrap_or(u32::MAX),
            column: u32::try_from(column).unwrap_or(u32::MAX),
            start,
            end,
        }
    }

    /// The place of these bytes of a text whose lines are known, so that many places of one large
    /// text need not count its lines anew.
    #[must_use]
    pub fn in_lines(name: &SourceName, text: &str, lines: &Lines, bytes: Range<usize>) -> Self {
        let start = floor_boundary(text, bytes.start);
        let end = floor_boundary(text, bytes.end.max(bytes.start)).max(start);
        let line = lines.starts.partition_point(|&first| first <= start);
        let first = line
            .checked_sub(1)
            .and_then(|line| lines.starts.get(line))
            .copied()
            .unwrap_or(0);
        let column = text.get(first..start).unwrap_or("").chars().count() + 1;
        Self {
            source: name.clone(),
            line: u32::try_from(line).unwrap_or(u32::MAX),
            column: u32::try_from(column).unwrap_or(u32::MAX),
            start,
            end,
        }
    }

    /// The place of a whole text: its first character.
    #[must_use]
    pub fn whole(name: &SourceName) -> Self {
        Self {
            source: name.clone(),
            line: 1,
            column: 1,
            start: 0,
            end: 0,
        }
    }
}
/// The first bytes of all lines of one text.
#[derive(Debug, Clone)]
pub struct Lines {
    starts: Vec<usize>,
}

impl Lines {
    /// Counts the lines of a text.
    #[must_use]
    pub fn of(text: &str) -> Self {
        let ends = text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n');
        Self {
            starts: std::iter::once(0)
                .chain(ends.map(|(at, _)| at + 1))
                .collect(),
        }
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}:{}", self.source, self.line, self.column)
    }
}

/// The last character boundary at or before this byte.
fn floor_boundary(text: &str, byte: usize) -> usize {
    let mut at = byte.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_and_columns_count_from_one_in_characters() {
        let text = SourceText::new("plan.yaml", "a: é\nb: x\n");
        let place = text.place(9..10);
        assert_eq!((place.line, place.column), (2, 4));
        assert_eq!(
            text.place(4..5).start,
            3,
            "inside é is drawn back to its first byte"
        );
        assert_eq!(text.place(900..1000).line, 3);
    }

    #[test]
    fn known_lines_give_the_same_places() {
        for text in ["", "a", "\n", "a: é\nb: x\n", "\n\né\r\nx"] {
            let source = SourceText::new("plan.yaml", text);
            let lines = Lines::of(text);
            for start in 0..text.len() + 2 {
                for end in 0..text.len() + 2 {
                    let known = Place::in_lines(&source.name, text, &lines, start..end);
                    assert_eq!(known, source.place(start..end), "{text:?} {start} {end}");
                }
            }
        }
    }
}
