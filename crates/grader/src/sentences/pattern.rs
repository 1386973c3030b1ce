//! One sentence with places for values: `{value}`, `{value?one:many}`, `[left out where empty]`.

use std::borrow::Cow;

/// What stands in a place.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Value<'a> {
    /// Words, as they are.
    Words(Cow<'a, str>),
    /// A number of things.
    Count(usize),
    /// A number with digits after the point, which is written as the language writes it.
    Decimal(String),
}

impl<'a> Value<'a> {
    /// Words.
    pub(crate) fn words(words: &'a str) -> Self {
        Self::Words(Cow::Borrowed(words))
    }
    /// A number.
    pub(crate) fn decimal(number: impl ToString) -> Self {
        Self::Decimal(number.to_string())
    }
    /// Whether nothing is said by it.
    fn is_empty(&self) -> bool {
        match self {
            Self::Words(words) => words.is_empty(),
            Self::Count(count) => *count == 0,
            Self::Decimal(number) => number.is_empty(),
        }
    }
    /// Whether it is the number 1.
    fn is_one(&self) -> bool {
        match self {
            Self::Words(_) => false,
            Self::Count(count) => *count == 1,
            Self::Decimal(number) => number == "1",
        }
    }
    fn write(&self, decimal: &str, text: &mut String) {
        match self {
            Self::Words(words) => text.push_str(words),
            Self::Count(count) => text.push_str(&count.to_string()),
            Self::Decimal(number) => match number.split_once('.') {
                Some((whole, rest)) => text.extend([whole, decimal, rest]),
                None => text.push_str(number),
            },
        }
    }
}

/// A piece of a sentence.
#[derive(Debug, Clone, PartialEq)]
enum Piece {
    Text(String),
    /// The value of this number.
    Value(usize),
    /// One text where the value is 1, another where it is not.
    ByNumber(usize, String, String),
    /// Left out where a value in it is empty.
    Optional(Vec<Piece>),
}

/// A sentence with places for values.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Pattern {
    pieces: Vec<Piece>,
}

/// Why a text is no pattern.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum BadPattern {
    /// A bracket that is not closed, or closes nothing.
    Bracket(char),
    /// Brackets in brackets.
    Nested,
    /// A value that this sentence is not told.
    Unknown(String),
    /// A choice without its second text.
    Choice(String),
}

impl Pattern {
    /// Reads a pattern; `names` are the values that there are.
    pub(crate) fn read(text: &str, names: &[&str]) -> Result<Self, BadPattern> {
        let mut pieces = Vec::new();
        let mut optional: Option<Vec<Piece>> = None;
        let mut rest = text;
        while let Some(at) = rest.find(['{', '}', '[', ']']) {
            let (before, after) = rest.split_at(at);
            let open = optional.as_mut().unwrap_or(&mut pieces);
            if !before.is_empty() {
                open.push(Piece::Text(before.to_owned()));
            }
            let mut signs = after.chars();
            let sign = signs.next().unwrap_or_default();
            rest = signs.as_str();
            match sign {
                '{' => {
                    let (inner, behind) = rest.split_once('}').ok_or(BadPattern::Bracket('{'))?;
                    open.push(place(inner, names)?);
                    rest = behind;
                }
                '[' if optional.is_none() => optional = Some(Vec::new()),
                '[' => return Err(BadPattern::Nested),
                ']' => match optional.take() {
                    Some(inner) => pieces.push(Piece::Optional(inner)),
                    None => return Err(BadPattern::Bracket(']')),
                },
                other => return Err(BadPattern::Bracket(other)),
            }
        }
        if optional.is_some() {
            return Err(BadPattern::Bracket('['));
        }
        if !rest.is_empty() {
            pieces.push(Piece::Text(rest.to_owned()));
        }
        Ok(Self { pieces })
    }

    /// Whether the value of this number is shown: as itself, since a choice of words shows no number.
    pub(crate) fn shows(&self, value: usize) -> bool {
        let mut all = self.pieces.iter().flat_map(|piece| match piece {
            Piece::Optional(inner) => inner.as_slice(),
            one @ (Piece::Text(_) | Piece::Value(_) | Piece::ByNumber(..)) => {
                std::slice::from_ref(one)
            }
        });
        all.any(|piece| *piece == Piece::Value(value))
    }

    /// Writes the sentence with these values.
    pub(crate) fn fill(&self, values: &[Value<'_>], decimal: &str, text: &mut String) {
        fill(&self.pieces, values, decimal, text);
    }
}

fn fill(pieces: &[Piece], values: &[Value<'_>], decimal: &str, text: &mut String) {
    for piece in pieces {
        match piece {
            Piece::Text(words) => text.push_str(words),
            Piece::Value(number) => {
                if let Some(value) = values.get(*number) {
                    value.write(decimal, text);
                }
            }
            Piece::ByNumber(number, one, many) => {
                let is_one = values.get(*number).is_some_and(Value::is_one);
                text.push_str(if is_one { one } else { many });
            }
            Piece::Optional(inner) => {
                let said = inner.iter().all(|piece| match piece {
                    Piece::Value(number) => {
                        values.get(*number).is_some_and(|value| !value.is_empty())
                    }
                    Piece::Text(_) | Piece::ByNumber(..) | Piece::Optional(_) => true,
                });
                if said {
                    fill(inner, values, decimal, text);
                }
            }
        }
    }
}

/// What stands in braces.
fn place(inner: &str, names: &[&str]) -> Result<Piece, BadPattern> {
    let (name, choice) = match inner.split_once('?') {
        Some((name, choice)) => (name, Some(choice)),
        None => (inner, None),
    };
    let number = names
        .iter()
        .position(|known| known.trim_start_matches('?') == name.trim())
        .ok_or_else(|| BadPattern::Unknown(base::walk::shortened(name)))?;
    match choice {
        None => Ok(Piece::Value(number)),
        Some(choice) => match choice.split_once(':') {
            Some((one, many)) => Ok(Piece::ByNumber(number, one.to_owned(), many.to_owned())),
            None => Err(BadPattern::Choice(base::walk::shortened(inner))),
        },
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn values_choices_and_what_is_left_out() {
        let pattern = Pattern::read(
            "{n} {n?mark:marks}[ for {who}][, {n} again]",
            &["n", "?who"],
        );
        let pattern = pattern.unwrap();
        let said = |n: &str, who: &str| {
            let mut text = String::new();
            pattern.fill(&[Value::decimal(n), Value::words(who)], ",", &mut text);
            text
        };
        assert_eq!(said("1", ""), "1 mark, 1 again");
        assert_eq!(said("0.5", "Ada"), "0,5 marks for Ada, 0,5 again");
        assert!(pattern.shows(0) && pattern.shows(1));
        assert!(!Pattern::read("{n?a:b}", &["n"]).unwrap().shows(0));
    }

    #[test]
    fn what_is_no_pattern() {
        for (text, why) in [
            ("{n", BadPattern::Bracket('{')),
            ("n}", BadPattern::Bracket('}')),
            ("[{n}", BadPattern::Bracket('[')),
            ("{n}]", BadPattern::Bracket(']')),
            ("[[{n}]]", BadPattern::Nested),
            ("{m}", BadPattern::Unknown("m".to_owned())),
            ("{n?x}", BadPattern::Choice("n?x".to_owned())),
        ] {
            assert_eq!(Pattern::read(text, &["n"]), Err(why), "{text}");
        }
    }
}
