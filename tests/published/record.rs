//! Reading of reference records, and the book-keeping that no figure in them lies unused.

use serde_json::{Map, Value};
use std::cell::RefCell;
use std::collections::BTreeSet;
use std::path::PathBuf;

/// A file of the reference folder.
pub fn reference_path(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
        .join("published/reference")
        .join(name)
}

/// The text of a reference file.
pub fn reference_text(name: &str) -> String {
    let path = reference_path(name);
    std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// A reference file as JSON.
pub fn reference_json(name: &str) -> Value {
    serde_json::from_str(&reference_text(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
}

/// One record; it remembers which of its members were looked at.
pub struct Record {
    name: String,
    members: Map<String, Value>,
    used: RefCell<BTreeSet<String>>,
}

impl Record {
    pub fn new(name: String, value: &Value) -> Self {
        let members = value.as_object().cloned();
        Self {
            members: members.unwrap_or_else(|| panic!("{name} is no record")),
            name,
            used: RefCell::new(BTreeSet::new()),
        }
    }

    fn member(&self, key: &str) -> &Value {
        self.used.borrow_mut().insert(key.to_owned());
        self.members
            .get(key)
            .unwrap_or_else(|| panic!("{}: no member {key}", self.name))
    }

    /// A member as it stands; whoever takes it compares it.
    pub fn value(&self, key: &str) -> &Value {
        self.member(key)
    }

    pub fn number(&self, key: &str) -> f64 {
        self.member(key)
            .as_f64()
            .unwrap_or_else(|| panic!("{}: {key} is no number", self.name))
    }

    pub fn text(&self, key: &str) -> &str {
        self.member(key)
            .as_str()
            .unwrap_or_else(|| panic!("{}: {key} is no text", self.name))
    }

    /// Compares a computed figure with the member `key`.
    pub fn compare(&self, key: &str, computed: f64, tolerance: f64) {
        let expected = self.number(key);
        assert!(
            (computed - expected).abs() <= tolerance,
            "{}: {key} is {expected}, computed {computed}, tolerance {tolerance}",
            self.name
        );
    }

    /// Fails when a member was neither an input nor compared.
    pub fn finish(&self) {
        assert!(
            self.members.get("source").is_none_or(Value::is_string),
            "{}: source",
            self.name
        );
        let used = self.used.borrow();
        let unused: Vec<_> = self
            .members
            .keys()
            .filter(|key| *key != "source" && !used.contains(*key))
            .collect();
        assert!(
            unused.is_empty(),
            "{}: typed in, never compared: {unused:?}",
            self.name
        );
    }
}
