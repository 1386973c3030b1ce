//! A YAML text as a tree in which everything knows its place, so that a reader can go on after a
//! fault and report all of them.

use std::fmt;
use std::ops::Range;

use serde::de::{self, Deserialize, Deserializer, MapAccess, SeqAccess, Visitor};
use serde_yaml::{Budget, DuplicateKeyPolicy, Options, Spanned};

use crate::fault::Fault;
use crate::place::SourceText;

/// One node of the tree with its bytes in the text.
#[derive(Debug, Clone, PartialEq)]
pub struct Tree {
    /// What stands there.
    pub value: Value,
    /// Where: from the first byte to the byte after the last that is known to belong to it.
    pub bytes: Range<usize>,
}

/// What can stand in a text.
#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    /// Nothing after the colon.
    Nothing,
    /// `true` or `false`.
    Truth(bool),
    /// A number, to be read from the text itself so that its digits are kept.
    Number,
    /// Any other text.
    Text(String),
    /// A list.
    List(Vec<Tree>),
    /// Fields in the order of the text.
    Fields(Vec<Field>),
}

/// One field: a name and what stands behind it.
#[derive(Debug, Clone, PartialEq)]
pub struct Field {
    /// The name.
    pub name: String,
    /// Where the name stands.
    pub bytes: Range<usize>,
    /// What stands behind it.
    pub tree: Tree,
}

impl Value {
    /// What it is, in words, with an article.
    #[must_use]
    pub const fn kind(&self) -> &'static str {
        match self {
            Self::Nothing => "nothing",
            Self::Truth(_) => "true or false",
            Self::Number => "a number",
            Self::Text(_) => "a text",
            Self::List(_) => "a list",
            Self::Fields(_) => "named fields",
        }
    }
}

/// The deepest nesting that any of the formats needs, with room to spare.
const DEEPEST: usize = 32;

/// Reads a text as a tree.
///
/// # Errors
/// One fault, where the text is no YAML, has two fields of one name, is nested deeper than 32, or
/// is built of aliases that would grow without bound.
pub fn read_tree(source: &SourceText) -> Result<Tree, Box<Fault>> {
    let text: &str = &source.text;
    let mut budget = Budget::default();
    budget.max_depth = DEEPEST;
    // A bank may be large: the limits grow with the text, so that only what multiplies is refused.
    budget.max_nodes = budget.max_nodes.max(text.len());
    budget.max_events = budget.max_events.max(text.len() * 2 + 1000);
    budget.max_total_scalar_bytes = budget.max_total_scalar_bytes.max(text.len() * 2);
    let mut options = Options::default();
    options.budget = Some(budget);
    options.strict_booleans = true;
    options.duplicate_keys = DuplicateKeyPolicy::Error;
    options.with_snippet = false;
    options.leading_zero_numbers_as_strings = true;
    options.underscored_numbers_as_strings = true;
    match serde_yaml::from_str_with_options::<Spanned<Built>>(text, options) {
        Ok(built) => Ok(placed(built, text)),
        Err(error) => {
            let bytes = error.location().map_or(0..0, |location| {
                let start = byte_of(text, location.line(), location.column());
                start..end_of_word(text, start)
            });
            let message = error.without_snippet().to_string();
            let (message, hint) = match doubled_field(&message) {
                Some(name) => (
                    format!("this field stands here a second time: {name}"),
                    "each field stands once: put the two together, or take one off",
                ),
                None => (plain_message(&message), NOT_YAML),
            };
            Err(Box::new(
                Fault::new("not-yaml", source.place(bytes), message).hint(hint),
            ))
        }
    }
}

/// What goes wrong most often.
const NOT_YAML: &str = "mind the indentation (spaces, no tabs), and put texts that hold \": \" or \
                        begin with a sign in double quotes";

/// The field that the library finds twice; its message goes on with advice to programmers.
fn doubled_field(message: &str) -> Option<&str> {
    let (_, after) = message.split_once("duplicate mapping key: ")?;
    let (name, _) = after.split_once(", set ")?;
    Some(name)
}

/// The library's message without its own account of the place.
fn plain_message(message: &str) -> String {
    let first = message
        .lines()
        .next()
        .unwrap_or("the text is no valid YAML");
    let cut = first
        .find(" at line ")
        .or_else(|| first.find(" (line "))
        .unwrap_or(first.len());
    let words = first.get(..cut).unwrap_or(first).trim();
    let words = words.strip_prefix("error: ").unwrap_or(words);
    let words = match words.strip_prefix("line ") {
        Some(rest) => rest.split_once(": ").map_or(words, |(_, after)| after),
        None => words,
    };
    if words.contains("recursion limit") || words.contains("max_depth") {
        return format!("this is nested deeper than any format needs, which is {DEEPEST} levels");
    }
    format!("this is no valid YAML: {words}")
}

/// The byte at which a line and a column in characters, both counted from 1, stand.
fn byte_of(text: &str, line: u64, column: u64) -> usize {
    let line = usize::try_from(line.max(1) - 1).unwrap_or(usize::MAX);
    let column = usize::try_from(column.max(1) - 1).unwrap_or(usize::MAX);
    let mut start = 0;
    for (number, content) in text.split_inclusive('\n').enumerate() {
        if number == line {
            let within = content
                .char_indices()
                .nth(column)
                .map_or(content.len(), |(byte, _)| byte);
            return start + within;
        }
        start += content.len();
    }
    text.len()
}

/// The end of the word that begins at this byte.
fn end_of_word(text: &str, start: usize) -> usize {
    let rest = text.get(start..).unwrap_or("");
    start
        + rest
            .find(char::is_whitespace)
            .unwrap_or(rest.len())
            .max(usize::from(!rest.is_empty()))
}

/// The tree as the library gives it; spans are wrapped around every node.
enum Built {
    Nothing,
    Truth(bool),
    Number,
    Text(String),
    List(Vec<Spanned<Built>>),
    Fields(Vec<(Spanned<String>, Spanned<Built>)>),
}

struct BuiltVisitor;

impl<'de> Deserialize<'de> for Built {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(BuiltVisitor)
    }
}

impl<'de> Visitor<'de> for BuiltVisitor {
    type Value = Built;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a value")
    }
    fn visit_unit<E: de::Error>(self) -> Result<Built, E> {
        Ok(Built::Nothing)
    }
    fn visit_none<E: de::Error>(self) -> Result<Built, E> {
        Ok(Built::Nothing)
    }
    fn visit_bool<E: de::Error>(self, truth: bool) -> Result<Built, E> {
        Ok(Built::Truth(truth))
    }
    fn visit_i64<E: de::Error>(self, _: i64) -> Result<Built, E> {
        Ok(Built::Number)
    }
    fn visit_u64<E: de::Error>(self, _: u64) -> Result<Built, E> {
        Ok(Built::Number)
    }
    fn visit_i128<E: de::Error>(self, _: i128) -> Result<Built, E> {
        Ok(Built::Number)
    }
    fn visit_u128<E: de::Error>(self, _: u128) -> Result<Built, E> {
        Ok(Built::Number)
    }
    fn visit_f64<E: de::Error>(self, _: f64) -> Result<Built, E> {
        Ok(Built::Number)
    }
    fn visit_str<E: de::Error>(self, text: &str) -> Result<Built, E> {
        Ok(Built::Text(text.to_owned()))
    }
    fn visit_string<E: de::Error>(self, text: String) -> Result<Built, E> {
        Ok(Built::Text(text))
    }
    fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<Built, A::Error> {
        let mut items = Vec::new();
        while let Some(item) = list.next_element()? {
            items.push(item);
        }
        Ok(Built::List(items))
    }
    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Built, A::Error> {
        let mut fields = Vec::new();
        while let Some(field) = map.next_entry()? {
            fields.push(field);
        }
        Ok(Built::Fields(fields))
    }
}

/// Turns line and column of the library into bytes and hands the spans to the nodes.
fn placed(built: Spanned<Built>, text: &str) -> Tree {
    let bytes = bytes_of(&built.referenced, text);
    let value = match built.value {
        Built::Nothing => Value::Nothing,
        Built::Truth(truth) => Value::Truth(truth),
        Built::Number => Value::Number,
        Built::Text(words) => Value::Text(words),
        Built::List(items) => Value::List(items.into_iter().map(|i| placed(i, text)).collect()),
        Built::Fields(fields) => Value::Fields(
            fields
                .into_iter()
                .map(|(name, tree)| Field {
                    bytes: bytes_of(&name.referenced, text),
                    name: name.value,
                    tree: placed(tree, text),
                })
                .collect(),
        ),
    };
    Tree { value, bytes }
}

fn bytes_of(location: &serde_yaml::Location, text: &str) -> Range<usize> {
    let span = location.span();
    let start = span
        .byte_offset()
        .and_then(|offset| usize::try_from(offset).ok())
        .unwrap_or_else(|| byte_of(text, location.line(), location.column()))
        .min(text.len());
    let length = span
        .byte_len()
        .and_then(|n| usize::try_from(n).ok())
        .unwrap_or(0);
    start..(start + length).min(text.len())
}
