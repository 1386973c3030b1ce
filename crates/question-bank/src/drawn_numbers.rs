//! The numbers drawn for one question on one form.

use std::collections::BTreeMap;
use std::fmt;

/// Drawn numbers by name, as they are printed; empty for a question in which nothing is drawn.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct DrawnNumbers(BTreeMap<String, String>);

impl DrawnNumbers {
    /// From names and numbers as printed; none unless each is a name and a plain decimal number.
    #[must_use]
    pub fn from_pairs(pairs: impl IntoIterator<Item = (String, String)>) -> Option<Self> {
        let mut numbers = BTreeMap::new();
        for (name, number) in pairs {
            let plain = number
                .bytes()
                .all(|b| b.is_ascii_digit() || matches!(b, b'.' | b'-'));
            let sound = is_name(&name) && plain && number.parse::<f64>().is_ok();
            if !sound || numbers.insert(name, number).is_some() {
                return None;
            }
        }
        Some(Self(numbers))
    }
    /// Whether nothing was drawn.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
    /// The numbers as printed, by name.
    pub fn printed(&self) -> impl Iterator<Item = (&str, &str)> {
        self.0.iter().map(|(n, v)| (n.as_str(), v.as_str()))
    }
    /// The numbers to compute with.
    #[must_use]
    pub fn values(&self) -> BTreeMap<String, f64> {
        let value = |(name, number): (&String, &String)| Some((name.clone(), number.parse().ok()?));
        self.0.iter().filter_map(value).collect()
    }
    /// Reads what [`fmt::Display`] writes: `strength=62.5 volume=140`.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let pairs: Option<Vec<(String, String)>> = text
            .split_whitespace()
            .map(|word| {
                let (name, number) = word.split_once('=')?;
                Some((name.to_owned(), number.to_owned()))
            })
            .collect();
        Self::from_pairs(pairs?)
    }
}

impl fmt::Display for DrawnNumbers {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (place, (name, number)) in self.0.iter().enumerate() {
            let space = if place > 0 { " " } else { "" };
            write!(f, "{space}{name}={number}")?;
        }
        Ok(())
    }
}

/// Whether something can name a drawn number: small letters, digits and `_`, a letter first.
pub(crate) fn is_name(text: &str) -> bool {
    text.starts_with(|c: char| c.is_ascii_lowercase())
        && text.len() <= 32
        && text
            .bytes()
            .all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'_')
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_is_read_again() {
        let text = "strength=62.5 volume=140";
        let numbers = DrawnNumbers::parse(text).unwrap();
        assert_eq!(numbers.to_string(), text);
        assert_eq!(numbers.values().get("strength"), Some(&62.5));
        assert!(DrawnNumbers::parse("").unwrap().is_empty());
        for bad in ["a=1 a=2", "a", "a=x", "A=1", "a=1e5", "a=nan", "=1"] {
            assert!(DrawnNumbers::parse(bad).is_none(), "{bad}");
        }
    }
}
