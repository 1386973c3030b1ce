//! Proofs about a ledger that are checked without the register, as JSON.

use serde_json::{Value, json};

use crate::canonical;
use crate::hex::{Digest32, digest_from_hex, to_hex};
use crate::ledger::{Entry, Head};
use crate::merkle;

/// One entry stands in the ledger with this head.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct InclusionProof {
    /// The entry's text.
    pub entry: String,
    /// Its place, from 0.
    pub place: u64,
    /// The head.
    pub head: Head,
    /// The hashes on the way from the entry to the root.
    pub path: Vec<Digest32>,
}

/// The ledger with one head goes on from that with another.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ConsistencyProof {
    /// The earlier head.
    pub earlier: Head,
    /// The later head.
    pub later: Head,
    /// The hashes that lead from one to the other.
    pub path: Vec<Digest32>,
}

pub(crate) const INCLUSION: &str = "valinch inclusion 1";
pub(crate) const CONSISTENCY: &str = "valinch consistency 1";

impl InclusionProof {
    /// The proof for one entry of a ledger; none where there is no such entry.
    #[must_use]
    pub fn of(texts: &[String], place: usize) -> Option<Self> {
        let leaves: Vec<Digest32> = texts.iter().map(|text| Entry::leaf(text)).collect();
        Some(Self {
            entry: texts.get(place)?.clone(),
            place: place as u64,
            head: Head {
                size: leaves.len() as u64,
                root: merkle::root(&leaves),
            },
            path: merkle::inclusion(&leaves, place)?,
        })
    }
    /// Whether the proof holds.
    #[must_use]
    pub fn holds(&self) -> bool {
        let leaf = Entry::leaf(&self.entry);
        merkle::includes(
            &leaf,
            self.place,
            self.head.size,
            &self.path,
            &self.head.root,
        )
    }
    /// As JSON.
    #[must_use]
    pub fn to_json(&self) -> Value {
        json!({
            "format": INCLUSION,
            "entry": self.entry,
            "place": self.place,
            "size": self.head.size,
            "root": to_hex(&self.head.root),
            "path": hexes(&self.path),
        })
    }
    /// From JSON.
    ///
    /// # Errors
    /// When it is no such proof.
    pub fn read(text: &str) -> Result<Self, String> {
        let value = format_of(text, INCLUSION)?;
        Ok(Self {
            entry: text_of(&value, "entry")?.to_owned(),
            place: number_of(&value, "place")?,
            head: Head {
                size: number_of(&value, "size")?,
                root: digest_of(&value, "root")?,
            },
            path: path_of(&value)?,
        })
    }
}

impl ConsistencyProof {
    /// The proof that the ledger goes on from its first `earlier` entries; none where that is 0 or
    /// more than there are.
    #[must_use]
    pub fn of(texts: &[String], earlier: usize) -> Option<Self> {
        let leaves: Vec<Digest32> = texts.iter().map(|text| Entry::leaf(text)).collect();
        let path = merkle::consistency(&leaves, earlier)?;
        let head = |size: usize| {
            Some(Head {
                size: size as u64,
                root: merkle::root(leaves.get(..size)?),
            })
        };
        Some(Self {
            earlier: head(earlier)?,
            later: head(leaves.len())?,
            path,
        })
    }
    /// Whether the proof holds.
    #[must_use]
    pub fn holds(&self) -> bool {
        let Self {
            earlier,
            later,
            path,
        } = self;
        merkle::begins(earlier.size, &earlier.root, later.size, &later.root, path)
    }
    /// As JSON.
    #[must_use]
    pub fn to_json(&self) -> Value {
        json!({
            "format": CONSISTENCY,
            "size1": self.earlier.size,
            "root1": to_hex(&self.earlier.root),
            "size2": self.later.size,
            "root2": to_hex(&self.later.root),
            "path": hexes(&self.path),
        })
    }
    /// From JSON.
    ///
    /// # Errors
    /// When it is no such proof.
    pub fn read(text: &str) -> Result<Self, String> {
        let value = format_of(text, CONSISTENCY)?;
        let head = |size: &str, root: &str| -> Result<Head, String> {
            Ok(Head {
                size: number_of(&value, size)?,
                root: digest_of(&value, root)?,
            })
        };
        Ok(Self {
            earlier: head("size1", "root1")?,
            later: head("size2", "root2")?,
            path: path_of(&value)?,
        })
    }
}

pub(crate) fn hexes(path: &[Digest32]) -> Vec<String> {
    path.iter().map(|hash| to_hex(hash)).collect()
}

/// Reads JSON whose member `format` is this one.
pub(crate) fn format_of(text: &str, format: &str) -> Result<Value, String> {
    let value = canonical::read(text).map_err(|bad| format!("it is no JSON: {bad}"))?;
    match value.get("format").and_then(Value::as_str) {
        Some(found) if found == format => Ok(value),
        Some(found) => Err(format!("it says \"{found}\" and not \"{format}\"")),
        None => Err("it does not say its `format`".to_owned()),
    }
}

pub(crate) fn text_of<'v>(value: &'v Value, name: &str) -> Result<&'v str, String> {
    let found = value.get(name).and_then(Value::as_str);
    found.ok_or_else(|| format!("`{name}` is missing or no text"))
}

pub(crate) fn number_of(value: &Value, name: &str) -> Result<u64, String> {
    let found = value.get(name).and_then(Value::as_u64);
    found.ok_or_else(|| format!("`{name}` is missing or no whole number"))
}

pub(crate) fn digest_of(value: &Value, name: &str) -> Result<Digest32, String> {
    digest_from_hex(text_of(value, name)?).ok_or_else(|| format!("`{name}` is no digest"))
}

pub(crate) fn path_of(value: &Value) -> Result<Vec<Digest32>, String> {
    let list = value.get("path").and_then(Value::as_array);
    list.ok_or("`path` is missing")?
        .iter()
        .map(|hash| hash.as_str().and_then(digest_from_hex))
        .collect::<Option<_>>()
        .ok_or_else(|| "`path` holds something that is no digest".to_owned())
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::ledger::entry::tests::entry;

    #[test]
    fn proofs_go_through_json_and_hold_for_nothing_else() {
        let texts: Vec<String> = (0..9).map(|n| entry(n, [0; 32]).text()).collect();
        let proof = InclusionProof::of(&texts, 4).unwrap();
        let again = InclusionProof::read(&proof.to_json().to_string()).unwrap();
        assert_eq!(again, proof);
        assert!(again.holds());
        let other = InclusionProof {
            entry: texts[5].clone(),
            ..proof.clone()
        };
        assert!(!other.holds());
        let proof = ConsistencyProof::of(&texts, 4).unwrap();
        let again = ConsistencyProof::read(&proof.to_json().to_string()).unwrap();
        assert_eq!(again, proof);
        assert!(again.holds());
        assert!(InclusionProof::read(&proof.to_json().to_string()).is_err());
        assert_eq!(ConsistencyProof::of(&texts, 10), None);
    }
}
