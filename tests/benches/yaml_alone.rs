//! What the YAML library needs by itself: a text into a bare value without places.

use std::fmt;

use serde::de::{Deserialize, Deserializer, MapAccess, SeqAccess, Visitor};

/// A value and nothing else.
// What is kept is never read: it is there to be built.
#[derive(Debug)]
#[allow(dead_code)]
pub(crate) enum Bare {
    /// Nothing.
    Nothing,
    /// A truth value.
    Truth(bool),
    /// A number.
    Number(f64),
    /// A text.
    Text(String),
    /// A list.
    List(Vec<Bare>),
    /// Fields.
    Fields(Vec<(String, Bare)>),
}

impl<'de> Deserialize<'de> for Bare {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(BareVisitor)
    }
}

struct BareVisitor;

impl<'de> Visitor<'de> for BareVisitor {
    type Value = Bare;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a value")
    }
    fn visit_unit<E>(self) -> Result<Bare, E> {
        Ok(Bare::Nothing)
    }
    fn visit_bool<E>(self, truth: bool) -> Result<Bare, E> {
        Ok(Bare::Truth(truth))
    }
    fn visit_i64<E>(self, number: i64) -> Result<Bare, E> {
        Ok(Bare::Number(number as f64))
    }
    fn visit_u64<E>(self, number: u64) -> Result<Bare, E> {
        Ok(Bare::Number(number as f64))
    }
    fn visit_f64<E>(self, number: f64) -> Result<Bare, E> {
        Ok(Bare::Number(number))
    }
    fn visit_str<E>(self, text: &str) -> Result<Bare, E> {
        Ok(Bare::Text(text.to_owned()))
    }
    fn visit_string<E>(self, text: String) -> Result<Bare, E> {
        Ok(Bare::Text(text))
    }
    fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<Bare, A::Error> {
        let mut items = Vec::new();
        while let Some(item) = list.next_element()? {
            items.push(item);
        }
        Ok(Bare::List(items))
    }
    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Bare, A::Error> {
        let mut fields = Vec::new();
        while let Some(field) = map.next_entry()? {
            fields.push(field);
        }
        Ok(Bare::Fields(fields))
    }
}

/// Parses a text with the library alone.
pub(crate) fn parse(text: &str) -> Bare {
    let mut budget = serde_yaml::Budget::default();
    budget.max_nodes = budget.max_nodes.max(text.len());
    budget.max_events = budget.max_events.max(text.len() * 2 + 1000);
    budget.max_total_scalar_bytes = budget.max_total_scalar_bytes.max(text.len() * 2);
    let mut options = serde_yaml::Options::default();
    options.budget = Some(budget);
    options.with_snippet = false;
    serde_yaml::from_str_with_options(text, options).unwrap()
}
