//! The key of an exam as it is sealed, locked up, and released later: all leaves.

use base::ExamSeed;
use serde_json::{Value, json};

use crate::canonical;
use crate::hex::{Digest32, to_hex};
use crate::ledger::{digest_of, format_of, text_of};
use crate::merkle;
use crate::seal::leaf::clear;
use crate::seal::{Leaf, LeafProof};

/// Why a text is no key, or a key has no root.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct BadKey(pub String);

/// All leaves, in their order.
#[derive(Clone, PartialEq)]
pub struct Key {
    leaves: Vec<Leaf>,
}

impl std::fmt::Debug for Key {
    /// The names of the leaves alone: all else is secret.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Key ")?;
        f.debug_list().entries(&self.leaves).finish()
    }
}

pub(crate) const KEY: &str = "valinch key 1";

impl Key {
    /// The key of the exam with this seed: names and messages in their order.
    #[must_use]
    pub fn new(seed: &ExamSeed, messages: Vec<(String, Value)>) -> Self {
        let leaves = messages
            .into_iter()
            .map(|(name, message)| Leaf::new(seed, name, message))
            .collect();
        Self { leaves }
    }
    /// The leaves.
    #[must_use]
    pub fn leaves(&self) -> &[Leaf] {
        &self.leaves
    }
    fn hashes(&self) -> Result<Vec<Digest32>, BadKey> {
        self.leaves
            .iter()
            .map(|leaf| {
                leaf.hash()
                    .map_err(|bad| BadKey(format!("{}: {bad}", leaf.name)))
            })
            .collect()
    }
    /// The root.
    ///
    /// # Errors
    /// When a message has no canonical form.
    pub fn root(&self) -> Result<Digest32, BadKey> {
        Ok(merkle::root(&self.hashes()?))
    }
    /// One leaf with its proof; none where no leaf has this name.
    ///
    /// # Errors
    /// When a message has no canonical form.
    pub fn prove(&self, name: &str) -> Result<Option<LeafProof>, BadKey> {
        let Some(place) = self.leaves.iter().position(|leaf| leaf.name == name) else {
            return Ok(None);
        };
        let hashes = self.hashes()?;
        let (leaf, path) = (self.leaves.get(place), merkle::inclusion(&hashes, place));
        Ok(leaf.zip(path).map(|(leaf, path)| LeafProof {
            leaf: leaf.clone(),
            place: place as u64,
            size: hashes.len() as u64,
            root: merkle::root(&hashes),
            path,
        }))
    }
    /// As JSON text, canonical.
    ///
    /// # Errors
    /// When a message has no canonical form.
    pub fn to_json(&self) -> Result<String, BadKey> {
        let leaves: Vec<Value> = self
            .leaves
            .iter()
            .map(|leaf| json!({ "leaf": leaf.name, "holds": leaf.message, "salt": to_hex(&leaf.salt) }))
            .collect();
        let root = to_hex(&self.root()?);
        let whole = json!({ "format": KEY, "leaves": leaves, "root": root });
        let text = canonical::write(&whole).map_err(|bad| BadKey(bad.0));
        clear(whole);
        text
    }
    /// From JSON; the root that it names must be its own.
    ///
    /// # Errors
    /// When it is no key.
    pub fn read(text: &str) -> Result<Self, BadKey> {
        let value = format_of(text, KEY).map_err(BadKey)?;
        let leaves = value.get("leaves").and_then(Value::as_array);
        let leaves: Result<Vec<Leaf>, String> = leaves
            .ok_or_else(|| BadKey("`leaves` is missing".to_owned()))?
            .iter()
            .map(|leaf| {
                Ok(Leaf {
                    name: text_of(leaf, "leaf")?.to_owned(),
                    message: leaf.get("holds").cloned().ok_or("`holds` is missing")?,
                    salt: digest_of(leaf, "salt")?,
                })
            })
            .collect();
        let key = Self {
            leaves: leaves.map_err(BadKey)?,
        };
        let root = digest_of(&value, "root").map_err(BadKey);
        clear(value);
        if key.root()? == root? {
            Ok(key)
        } else {
            Err(BadKey(
                "its leaves do not give the root that it names".to_owned(),
            ))
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::panic)]
mod tests {
    use super::*;
    use crate::commitment::commit;
    use crate::seal::DOMAIN;

    fn key(seed: u8) -> Key {
        let seed = ExamSeed::from_bytes([seed; 32]);
        let question = |n: u32| {
            (
                format!("question A {n}"),
                json!({ "right": "B", "number": n }),
            )
        };
        Key::new(&seed, (1..=5).map(question).collect())
    }

    #[test]
    fn a_key_is_read_as_written_and_a_changed_one_is_refused() {
        let text = key(1).to_json().unwrap();
        assert_eq!(Key::read(&text).unwrap(), key(1));
        let changed = text.replacen("\"right\":\"B\"", "\"right\":\"C\"", 1);
        assert!(Key::read(&changed).unwrap_err().0.contains("root"));
        assert!(Key::read("{}").is_err());
    }

    #[test]
    fn a_leaf_is_proven_and_opens_nothing_else() {
        let key = key(1);
        let proof = key.prove("question A 3").unwrap().unwrap();
        let shown = proof.to_json().to_string();
        let again = LeafProof::read(&shown).unwrap();
        assert!(again.holds());
        assert_eq!(again.root, key.root().unwrap());
        for other in key
            .leaves()
            .iter()
            .filter(|leaf| leaf.name != "question A 3")
        {
            assert!(!shown.contains(&to_hex(&other.salt)), "{}", other.name);
            assert!(!shown.contains(&other.name));
        }
        let mut lie = again.clone();
        lie.leaf.message["right"] = json!("C");
        assert!(!lie.holds());
        let mut lie = again;
        lie.leaf.name = "question A 4".to_owned();
        assert!(!lie.holds());
        assert_eq!(key.prove("question B 1").unwrap(), None);
    }

    /// A question with three options has three possible keys. Who knows the hash of its leaf and
    /// everything but the salt tries all three, with no salt, with salts made from everything that is
    /// public and from other seeds, and with a salt from another leaf that was shown: nothing fits.
    #[test]
    fn a_question_of_three_options_is_not_guessed_without_its_salt() {
        let key = key(1);
        let [first, second, ..] = key.leaves() else {
            unreachable!("too few");
        };
        let wanted = first.hash().unwrap();
        let root = key.root().unwrap();
        let guessed = |salt: &[u8], right: &str| {
            let named = json!({ "leaf": first.name, "holds": { "right": right, "number": 1 } });
            let text = canonical::write(&named).unwrap();
            merkle::leaf_hash(&commit(DOMAIN, salt, text.as_bytes()))
        };
        let mut salts: Vec<Vec<u8>> =
            vec![vec![], vec![0; 32], root.to_vec(), second.salt.to_vec()];
        salts.push(
            crate::commitment::derive(&root, DOMAIN.as_bytes(), first.name.as_bytes()).to_vec(),
        );
        salts.push(
            crate::commitment::derive(&second.salt, DOMAIN.as_bytes(), first.name.as_bytes())
                .to_vec(),
        );
        for seed in 2..=255 {
            let other = ExamSeed::from_bytes([seed; 32]);
            salts.push(
                Leaf::new(&other, first.name.clone(), Value::Null)
                    .salt
                    .to_vec(),
            );
        }
        for salt in &salts {
            for right in ["A", "B", "C"] {
                assert_ne!(guessed(salt, right), wanted);
            }
        }
        // With the salt, the right one fits and no other.
        let fits: Vec<&str> = ["A", "B", "C"]
            .into_iter()
            .filter(|right| guessed(&first.salt, right) == wanted)
            .collect();
        assert_eq!(fits, ["B"]);
    }

    #[test]
    fn a_key_shown_to_whoever_looks_for_a_fault_tells_names_alone() {
        let key = key(1);
        let shown = format!("{key:?} {:?}", key.prove("question A 3").unwrap());
        assert!(shown.contains("question A 3"));
        let salt = key.leaves().get(2).unwrap().salt;
        assert!(!shown.contains("right") && !shown.contains(&format!("{salt:?}")));
        assert!(!shown.contains(&to_hex(&salt)), "{shown}");
    }

    #[test]
    fn the_same_key_of_another_seed_has_another_root() {
        assert_ne!(key(1).root().unwrap(), key(2).root().unwrap());
    }
}
