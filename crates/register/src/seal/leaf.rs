//! One leaf of the seal: a message that stays hidden until it is shown with its salt.
//!
//! The leaf of a message is `leaf(commit("valinch seal 1", salt, JCS(message)))`, where `leaf` is
//! that of RFC 6962, `commit` that of [`crate::commitment`], JCS the canonical form of RFC 8785. The
//! salt of a leaf is HKDF-SHA256 of the exam seed with the salt `valinch seal 1` and the leaf's name
//! as info. The seed has 32 random bytes: without it, nobody can try out what a leaf holds, however
//! few possibilities there are.

use base::ExamSeed;
use serde_json::{Value, json};
use zeroize::{Zeroize, Zeroizing};

use crate::canonical;
use crate::commitment::{commit, derive};
use crate::hex::{Digest32, to_hex};
use crate::ledger::{digest_of, format_of, hexes, number_of, path_of, text_of};
use crate::merkle;

/// The domain of this way of sealing.
pub const DOMAIN: &str = "valinch seal 1";

/// One leaf. Its salt and the texts that it holds are cleared from memory when it is dropped.
#[derive(Clone, PartialEq)]
pub struct Leaf {
    /// Its name: `seed`, `question A 7`, `sample rum-1`, `codes C-01`, `text plan.yaml`.
    pub name: String,
    /// What it holds.
    pub message: Value,
    /// Its salt.
    pub salt: Digest32,
}

impl std::fmt::Debug for Leaf {
    /// The name alone: what it holds and its salt are secret.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "Leaf {:?}", self.name)
    }
}

impl Leaf {
    /// A leaf of the exam with this seed.
    #[must_use]
    pub fn new(seed: &ExamSeed, name: String, message: Value) -> Self {
        let salt = derive(seed.bytes(), DOMAIN.as_bytes(), name.as_bytes());
        Self {
            name,
            message,
            salt,
        }
    }
    /// Its hash. The name stands in what is hashed, so that no leaf passes for another.
    ///
    /// # Errors
    /// When the message has no canonical form.
    pub fn hash(&self) -> Result<Digest32, canonical::BadJson> {
        let named = json!({ "leaf": self.name, "holds": self.message });
        let text = Zeroizing::new(canonical::write(&named)?);
        clear(named);
        Ok(merkle::leaf_hash(&commit(
            DOMAIN,
            &self.salt,
            text.as_bytes(),
        )))
    }
}

impl Drop for Leaf {
    fn drop(&mut self) {
        self.salt.zeroize();
        clear(std::mem::take(&mut self.message));
    }
}

/// Clears the texts of a value from memory.
pub(crate) fn clear(value: Value) {
    match value {
        Value::String(mut text) => text.zeroize(),
        Value::Array(values) => values.into_iter().for_each(clear),
        Value::Object(members) => members.into_iter().for_each(|(_, member)| clear(member)),
        Value::Null | Value::Bool(_) | Value::Number(_) => {}
    }
}

/// One leaf with the proof that it stands below a root: it opens nothing else.
#[derive(Debug, Clone, PartialEq)]
pub struct LeafProof {
    /// The leaf.
    pub leaf: Leaf,
    /// Its place, from 0.
    pub place: u64,
    /// How many leaves there are.
    pub size: u64,
    /// The root.
    pub root: Digest32,
    /// The hashes on the way from the leaf to the root.
    pub path: Vec<Digest32>,
}

pub(crate) const LEAF: &str = "valinch leaf 1";

impl LeafProof {
    /// Whether the proof holds for the root that it names; compare that with the printed one.
    #[must_use]
    pub fn holds(&self) -> bool {
        self.leaf.hash().is_ok_and(|hash| {
            merkle::includes(&hash, self.place, self.size, &self.path, &self.root)
        })
    }
    /// As JSON.
    #[must_use]
    pub fn to_json(&self) -> Value {
        json!({
            "format": LEAF,
            "leaf": self.leaf.name,
            "holds": self.leaf.message,
            "salt": to_hex(&self.leaf.salt),
            "place": self.place,
            "size": self.size,
            "root": to_hex(&self.root),
            "path": hexes(&self.path),
        })
    }
    /// From JSON.
    ///
    /// # Errors
    /// When it is no such proof.
    pub fn read(text: &str) -> Result<Self, String> {
        let value = format_of(text, LEAF)?;
        Ok(Self {
            leaf: Leaf {
                name: text_of(&value, "leaf")?.to_owned(),
                message: value.get("holds").cloned().ok_or("`holds` is missing")?,
                salt: digest_of(&value, "salt")?,
            },
            place: number_of(&value, "place")?,
            size: number_of(&value, "size")?,
            root: digest_of(&value, "root")?,
            path: path_of(&value)?,
        })
    }
}
