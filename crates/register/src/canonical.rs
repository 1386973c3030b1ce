//! JSON in its one canonical form (RFC 8785), and a reader that takes nothing else for granted.
//!
//! The writer is a well-kept library; what this file adds is the reader: RFC 8785 wants I-JSON
//! (RFC 7493), in which no member stands twice, and a reader that silently kept the last of two
//! would let one text mean two things.

use std::fmt;

use serde::de::{DeserializeSeed, Deserializer, Error, MapAccess, SeqAccess, Visitor};
use serde_json::{Map, Number, Value};

/// Why a text is no JSON that can be trusted.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct BadJson(pub String);

/// How deep a text may be nested.
const DEEPEST: u8 = 64;

/// Reads JSON. Members that stand twice, lone surrogates, numbers beyond all bounds and texts that
/// are nested too deep are refused.
///
/// # Errors
/// When the text is not such JSON.
pub fn read(text: &str) -> Result<Value, BadJson> {
    let mut reader = serde_json::Deserializer::from_str(text);
    let value = Strict(DEEPEST)
        .deserialize(&mut reader)
        .map_err(|error| BadJson(error.to_string()))?;
    reader.end().map_err(|error| BadJson(error.to_string()))?;
    Ok(value)
}

/// The canonical form, as text.
///
/// # Errors
/// When the value has none: numbers that are not finite.
pub fn write(value: &Value) -> Result<String, BadJson> {
    serde_json_canonicalizer::to_string(value).map_err(|error| BadJson(error.to_string()))
}

/// A number as RFC 8785 writes it. The printed numbers of the RFC are held against it.
///
/// # Errors
/// When it is not finite.
pub fn number(value: f64) -> Result<String, BadJson> {
    let number =
        Number::from_f64(value).ok_or_else(|| BadJson("not a finite number".to_owned()))?;
    write(&Value::Number(number))
}

struct Strict(u8);

impl<'de> DeserializeSeed<'de> for Strict {
    type Value = Value;
    fn deserialize<D: Deserializer<'de>>(self, reader: D) -> Result<Value, D::Error> {
        reader.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for Strict {
    type Value = Value;
    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("JSON")
    }
    fn visit_unit<E: Error>(self) -> Result<Value, E> {
        Ok(Value::Null)
    }
    fn visit_bool<E: Error>(self, value: bool) -> Result<Value, E> {
        Ok(Value::Bool(value))
    }
    fn visit_i64<E: Error>(self, value: i64) -> Result<Value, E> {
        Ok(Value::from(value))
    }
    fn visit_u64<E: Error>(self, value: u64) -> Result<Value, E> {
        Ok(Value::from(value))
    }
    fn visit_f64<E: Error>(self, value: f64) -> Result<Value, E> {
        Number::from_f64(value)
            .map(Value::Number)
            .ok_or_else(|| E::custom("not a finite number"))
    }
    fn visit_str<E: Error>(self, value: &str) -> Result<Value, E> {
        Ok(Value::from(value))
    }
    fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<Value, A::Error> {
        let deeper = self
            .0
            .checked_sub(1)
            .ok_or_else(|| A::Error::custom("nested too deep"))?;
        let mut values = Vec::new();
        while let Some(value) = list.next_element_seed(Strict(deeper))? {
            values.push(value);
        }
        Ok(Value::Array(values))
    }
    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Value, A::Error> {
        let deeper = self
            .0
            .checked_sub(1)
            .ok_or_else(|| A::Error::custom("nested too deep"))?;
        let mut members = Map::new();
        while let Some(name) = map.next_key::<String>()? {
            let value = map.next_value_seed(Strict(deeper))?;
            if members.contains_key(&name) {
                return Err(A::Error::custom(format!(
                    "the member \"{name}\" stands twice"
                )));
            }
            members.insert(name, value);
        }
        Ok(Value::Object(members))
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn what_could_mean_two_things_is_refused() {
        assert!(
            read(r#"{"a":1,"b":{"c":1,"c":2}}"#)
                .unwrap_err()
                .0
                .contains("twice")
        );
        assert!(read(r#"{"a":"\ud800"}"#).is_err());
        assert!(read("[1e999]").is_err());
        assert!(read("{} {}").is_err());
        assert!(read(&"[".repeat(100_000)).is_err());
        assert!(number(f64::NAN).is_err());
    }

    #[test]
    fn canonical_text_is_its_own_canonical_form() {
        let text = write(&read(r#"{"b": [1.0, "é\u000a"], "a": null}"#).unwrap()).unwrap();
        assert_eq!(text, "{\"a\":null,\"b\":[1,\"é\\n\"]}");
        assert_eq!(write(&read(&text).unwrap()).unwrap(), text);
    }
}
