//! Reads ages as candidates write them: "12", "8-12", "8 to 12 years", "16+", "under 3", "none".

use crate::written_number::read_number;

/// A written age.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum WrittenAge {
    /// No age is stated on the label.
    NotStated,
    /// From one age to another, years; a single age has both alike.
    Between(f64, f64),
    /// This age or more.
    From(f64),
    /// Less than this age.
    Under(f64),
}

/// Why a text is no age.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoAge {
    /// It cannot be read.
    Unreadable,
    /// It begins later than it ends.
    UpsideDown,
}

/// The greatest age that is read, years.
pub const GREATEST: f64 = 200.0;

#[derive(Debug, Clone, Copy, PartialEq)]
enum Part {
    Number(f64),
    To,
    And,
    Or,
    More,
    Less,
}

/// Reads an age; "between 8 and 12" is a range, "8 or 12" is none.
///
/// # Errors
/// When it cannot be read, or the range is upside down.
pub fn read_age(text: &str) -> Result<WrittenAge, NoAge> {
    let lower = text.trim().to_lowercase();
    match lower.as_str() {
        "none" | "nas" | "no age" | "no age stated" | "no age statement" | "not stated"
        | "no statement" => return Ok(WrittenAge::NotStated),
        _ => {}
    }
    let parts = parts(&lower).ok_or(NoAge::Unreadable)?;
    match parts.as_slice() {
        [Part::Number(age)] => Ok(WrittenAge::Between(*age, *age)),
        [Part::Number(low), Part::To | Part::And, Part::Number(high)] => {
            if low <= high {
                Ok(WrittenAge::Between(*low, *high))
            } else {
                Err(NoAge::UpsideDown)
            }
        }
        [Part::Number(age), Part::More]
        | [Part::Number(age), Part::And | Part::Or, Part::More]
        | [Part::More, Part::Number(age)] => Ok(WrittenAge::From(*age)),
        [Part::Less, Part::Number(age)] => Ok(WrittenAge::Under(*age)),
        _ => Err(NoAge::Unreadable),
    }
}

fn parts(lower: &str) -> Option<Vec<Part>> {
    let mut parts = Vec::new();
    let mut rest = lower;
    while let Some(first) = rest.chars().next() {
        let run = |keep: fn(char) -> bool| -> usize {
            rest.char_indices()
                .find(|&(_, c)| !keep(c))
                .map_or(rest.len(), |(at, _)| at)
        };
        let length = if first.is_ascii_digit() {
            let length = run(|c| c.is_ascii_digit() || matches!(c, '.' | ','));
            let read = read_number(rest.get(..length)?)?;
            match read.readings.as_slice() {
                [one] if *one <= GREATEST => parts.push(Part::Number(*one)),
                _ => return None,
            }
            length
        } else if first.is_alphabetic() {
            let length = run(char::is_alphabetic);
            match rest.get(..length)? {
                "to" => parts.push(Part::To),
                "and" => parts.push(Part::And),
                "or" => parts.push(Part::Or),
                "over" | "more" | "older" | "above" | "plus" | "least" => parts.push(Part::More),
                "under" | "below" | "less" => parts.push(Part::Less),
                "year" | "years" | "yrs" | "yr" | "yo" | "y" | "old" | "aged" | "between"
                | "than" | "at" | "from" => {}
                _ => return None,
            }
            length
        } else {
            match first {
                '-' | '–' | '—' | '−' => parts.push(Part::To),
                '+' => parts.push(Part::More),
                '>' | '≥' => parts.push(Part::More),
                '<' => parts.push(Part::Less),
                '.' => {}
                c if c.is_whitespace() => {}
                _ => return None,
            }
            first.len_utf8()
        };
        rest = rest.get(length..)?;
    }
    Some(parts)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn ages_are_read_as_people_write_them() {
        for (text, age) in [
            ("12", WrittenAge::Between(12.0, 12.0)),
            ("12 years old", WrittenAge::Between(12.0, 12.0)),
            ("8-12", WrittenAge::Between(8.0, 12.0)),
            ("8 – 12 yo", WrittenAge::Between(8.0, 12.0)),
            ("between 8 and 12 years", WrittenAge::Between(8.0, 12.0)),
            ("2.5 to 3,5", WrittenAge::Between(2.5, 3.5)),
            ("16+", WrittenAge::From(16.0)),
            ("16 years and over", WrittenAge::From(16.0)),
            ("16 or more", WrittenAge::From(16.0)),
            ("under 3 years", WrittenAge::Under(3.0)),
            ("< 3", WrittenAge::Under(3.0)),
            ("No age stated", WrittenAge::NotStated),
            ("NAS", WrittenAge::NotStated),
        ] {
            assert_eq!(read_age(text), Ok(age), "{text}");
        }
        assert_eq!(read_age("12-8"), Err(NoAge::UpsideDown));
        for text in [
            "-5", "8 or 12", "old", "8-10-12", "", "999", "1e5", "NaN", "+", "8 12",
        ] {
            assert_eq!(read_age(text), Err(NoAge::Unreadable), "{text}");
        }
    }

    proptest! {
        #[test]
        fn any_text_is_an_age_within_bounds_or_none(text in ".{0,30}") {
            if let Ok(WrittenAge::Between(low, high)) = read_age(&text) {
                prop_assert!(0.0 <= low && low <= high && high <= GREATEST);
            }
        }
    }
}
