//! A shape as a JSON Schema (draft 07, which the language servers of editors understand).

use std::collections::BTreeMap;

use base::shape::{FieldsShape, NamedShape, Shape};
use serde_json::{Map, Value, json};

use crate::format::Format;

/// The schema of a format as the text that is shipped.
pub fn text(format: Format, shape: &Shape) -> String {
    let words = words_of_fields(format);
    let mut schema = json!({
        "$schema": "http://json-schema.org/draft-07/schema#",
        "title": format.title(),
    });
    let body = of(shape, &words);
    if let (Some(schema), Value::Object(body)) = (schema.as_object_mut(), body) {
        schema.extend(body);
    }
    format!("{}\n", serde_json::to_string_pretty(&schema).unwrap())
}

/// What the paper on banks says about the fields of a question: its table, by field.
fn words_of_fields(format: Format) -> BTreeMap<String, String> {
    if format.file() != "questions.json" {
        return BTreeMap::new();
    }
    let paper = std::fs::read_to_string(tests::top().join("question-banks/README.md")).unwrap();
    let found: BTreeMap<String, String> = paper
        .lines()
        .skip_while(|line| !line.starts_with("| field | holds"))
        .skip(2)
        .take_while(|line| line.starts_with('|'))
        .filter_map(|line| {
            let mut cells = line.trim_matches('|').splitn(2, '|');
            let name = cells.next()?.trim().trim_matches('`').to_owned();
            Some((name, cells.next()?.trim().replace('`', "")))
        })
        .collect();
    assert!(found.len() > 10, "the table of a question's fields is gone");
    found
}

fn of(shape: &Shape, words: &BTreeMap<String, String>) -> Value {
    let mut ways: Vec<Value> = Vec::new();
    if !shape.choices.is_empty() {
        ways.push(json!({ "type": "string", "enum": shape.choices }));
    }
    for (pattern, (meaning, number)) in &shape.patterns {
        let kind = if *number {
            json!(["string", "number"])
        } else {
            json!("string")
        };
        ways.push(json!({ "type": kind, "pattern": pattern, "description": meaning }));
    }
    if shape.text {
        // A number is taken as written, since an author means a text.
        ways.push(json!({ "type": ["string", "number"], "pattern": "\\S" }));
    }
    if shape.truth {
        ways.push(json!({ "type": "boolean" }));
    }
    if let Some((from, to)) = shape.whole {
        ways.push(json!({ "type": "integer", "minimum": from, "maximum": to,
            "description": format!("a whole number from {from} to {to}") }));
    }
    if let Some((from, to, unit)) = &shape.number {
        ways.push(json!({ "type": "number", "minimum": from, "maximum": to,
            "description": format!("a number from {from} to {to} {unit}").trim() }));
    }
    if shape.marks {
        ways.push(json!({ "type": "number", "minimum": 0.001, "maximum": 1000,
            "description": "marks, with at most three decimal places" }));
    }
    if shape.nothing {
        ways.push(json!({ "type": "null" }));
    }
    if let Some(item) = &shape.list {
        ways.push(json!({ "type": "array", "items": of(item, words) }));
    }
    if let Some(fields) = &shape.fields {
        ways.push(of_fields(fields, words));
    }
    if let Some(named) = &shape.named {
        ways.push(of_named(named, words));
    }
    if ways.len() == 1 {
        ways.remove(0)
    } else {
        json!({ "anyOf": ways })
    }
}

fn of_fields(fields: &FieldsShape, words: &BTreeMap<String, String>) -> Value {
    let nothing = BTreeMap::new();
    let here = if fields.what == "a question" {
        words
    } else {
        &nothing
    };
    let mut properties = Map::new();
    for field in &fields.fields {
        let mut schema = of(&field.shape, words);
        if let (Some(said), Some(schema)) = (here.get(&field.name), schema.as_object_mut()) {
            schema.insert("description".to_owned(), json!(said));
        }
        properties.insert(field.name.clone(), schema);
    }
    let required: Vec<&str> = fields
        .fields
        .iter()
        .filter(|field| field.required)
        .map(|field| field.name.as_str())
        .collect();
    let mut schema = json!({
        "type": "object",
        "description": fields.what,
        "properties": properties,
        "additionalProperties": false,
    });
    if let Some(schema) = schema.as_object_mut() {
        if !required.is_empty() {
            schema.insert("required".to_owned(), json!(required));
        }
        if !fields.one_of.is_empty() {
            let one: Vec<Value> = fields
                .one_of
                .iter()
                .map(|name| json!({ "required": [name] }))
                .collect();
            schema.insert("oneOf".to_owned(), json!(one));
        }
    }
    schema
}

fn of_named(named: &NamedShape, words: &BTreeMap<String, String>) -> Value {
    if !named.among.is_empty() {
        let properties: Map<String, Value> = named
            .among
            .iter()
            .map(|(name, shape)| (name.clone(), of(shape, words)))
            .collect();
        return json!({ "type": "object", "properties": properties,
            "additionalProperties": false, "minProperties": 1 });
    }
    let mut schema = json!({ "type": "object", "additionalProperties": of(&named.each, words) });
    if let (Some(pattern), Some(schema)) = (named.pattern, schema.as_object_mut()) {
        schema.insert("propertyNames".to_owned(), json!({ "pattern": pattern }));
    }
    schema
}
