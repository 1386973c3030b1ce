//! One entry of the ledger, as canonical JSON (RFC 8785).
//!
//! | member | what it says |
//! |---|---|
//! | `act` | one of the words of `Act` |
//! | `after`, `before` | digests of the tables that the act changed, after and before it |
//! | `clock` | `set back` where the clock shows less than at the last entry that has a time; absent else |
//! | `confirmed_by` | the second role of an act that wants two; absent else |
//! | `details` | what else is said of the act, words by name |
//! | `number` | the place in the ledger, from 0 |
//! | `previous` | the leaf hash of the entry before, 64 zeros for the first |
//! | `role` | in which role it was done |
//! | `time` | the moment in universal time; null where no clock was at hand |

use std::collections::BTreeMap;

use serde_json::{Map, Value, json};

use crate::canonical;
use crate::hex::{Digest32, digest_from_hex, to_hex};
use crate::ledger::Act;
use crate::merkle::leaf_hash;
use crate::role::{By, Moment, Role};

/// Digests of tables by their names.
pub type States = BTreeMap<String, Digest32>;
/// Words by name.
pub type Details = BTreeMap<String, String>;

/// One entry.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    /// Its place, from 0.
    pub number: u64,
    /// The leaf hash of the entry before.
    pub previous: Digest32,
    /// What was done.
    pub act: Act,
    /// Who did it and when.
    pub by: By,
    /// Whether the clock shows less than at the last entry that has a time.
    pub clock_set_back: bool,
    /// What else is said.
    pub details: Details,
    /// The tables it changed, before.
    pub before: States,
    /// The tables it changed, after.
    pub after: States,
}

/// What `previous` is for the first entry.
pub(crate) const NOTHING_BEFORE: Digest32 = [0; 32];

impl Entry {
    /// The text that is stored and hashed.
    #[must_use]
    pub fn text(&self) -> String {
        let states = |of: &States| -> Value {
            of.iter()
                .map(|(table, digest)| (table.clone(), json!(to_hex(digest))))
                .collect::<Map<_, _>>()
                .into()
        };
        let mut members = Map::new();
        members.insert("act".to_owned(), json!(self.act.word()));
        members.insert("after".to_owned(), states(&self.after));
        members.insert("before".to_owned(), states(&self.before));
        if self.clock_set_back {
            members.insert("clock".to_owned(), json!("set back"));
        }
        if let Some(second) = self.by.confirmed_by {
            members.insert("confirmed_by".to_owned(), json!(second.word()));
        }
        let details: Map<_, _> = self
            .details
            .iter()
            .map(|(name, words)| (name.clone(), json!(words)))
            .collect();
        members.insert("details".to_owned(), details.into());
        members.insert("number".to_owned(), json!(self.number));
        members.insert("previous".to_owned(), json!(to_hex(&self.previous)));
        members.insert("role".to_owned(), json!(self.by.role.word()));
        members.insert(
            "time".to_owned(),
            json!(self.by.time.as_ref().map(Moment::as_str)),
        );
        // Nothing above has no canonical form: all numbers are whole and small.
        canonical::write(&Value::Object(members)).unwrap_or_default()
    }

    /// The entry in words, for whoever reads what was done: a decision as it was worded, another act
    /// with its details, role and time.
    #[must_use]
    pub fn in_words(&self) -> String {
        if let (Act::Decided, Some(decision)) = (self.act, self.details.get("decision")) {
            return decision.clone();
        }
        let details: Vec<String> = self
            .details
            .iter()
            .map(|(name, words)| format!("{name} {words}"))
            .collect();
        let mut words = self.act.to_string();
        if !details.is_empty() {
            words.push_str(&format!(" ({})", details.join(", ")));
        }
        words.push_str(&format!(", by the {}", self.by.role));
        if let Some(time) = &self.by.time {
            words.push_str(&format!(", {}", time.as_str()));
        }
        words
    }

    /// The leaf hash of a stored text.
    #[must_use]
    pub fn leaf(text: &str) -> Digest32 {
        leaf_hash(text.as_bytes())
    }

    /// Reads a stored text.
    ///
    /// # Errors
    /// Why it is no entry, in words: not canonical, a member too few or too many, a wrong word.
    pub fn read(text: &str) -> Result<Self, String> {
        let value = canonical::read(text).map_err(|bad| format!("it is no JSON: {bad}"))?;
        if canonical::write(&value).map_err(|bad| bad.0)? != text {
            return Err("it is not in its canonical form".to_owned());
        }
        let Value::Object(mut members) = value else {
            return Err("it is no record".to_owned());
        };
        let mut take = |name: &str| members.remove(name);
        let act = word(take("act"), "act")?;
        let role = word(take("role"), "role")?;
        let confirmed_by = match take("confirmed_by") {
            None => None,
            some => Some(read_role(&word(some, "confirmed_by")?)?),
        };
        let clock_set_back = match take("clock") {
            None => false,
            Some(Value::String(words)) if words == "set back" => true,
            Some(_) => return Err("`clock` says something unknown".to_owned()),
        };
        let time = match take("time") {
            Some(Value::Null) => None,
            other => {
                let text = word(other, "time")?;
                Some(Moment::parse(&text).ok_or("`time` is no moment")?)
            }
        };
        let entry = Self {
            number: take("number")
                .and_then(|n| n.as_u64())
                .ok_or("`number` is missing")?,
            previous: digest_from_hex(&word(take("previous"), "previous")?)
                .ok_or("`previous` is no digest")?,
            act: Act::ALL
                .into_iter()
                .find(|known| known.word() == act)
                .ok_or_else(|| format!("\"{act}\" is no act that this version knows"))?,
            by: By {
                role: read_role(&role)?,
                confirmed_by,
                time,
            },
            clock_set_back,
            details: words(take("details"), "details")?,
            before: states(take("before"), "before")?,
            after: states(take("after"), "after")?,
        };
        match members.keys().next() {
            Some(name) => Err(format!("`{name}` is no member of an entry")),
            None => Ok(entry),
        }
    }
}

fn read_role(word: &str) -> Result<Role, String> {
    word.parse()
        .map_err(|no: crate::role::NoRole| no.to_string())
}

fn word(value: Option<Value>, name: &str) -> Result<String, String> {
    match value {
        Some(Value::String(text)) => Ok(text),
        Some(_) | None => Err(format!("`{name}` is missing")),
    }
}

fn words(value: Option<Value>, name: &str) -> Result<Details, String> {
    let Some(Value::Object(members)) = value else {
        return Err(format!("`{name}` is missing"));
    };
    members
        .into_iter()
        .map(|(key, value)| Ok((key, word(Some(value), name)?)))
        .collect()
}

fn states(value: Option<Value>, name: &str) -> Result<States, String> {
    words(value, name)?
        .into_iter()
        .map(|(table, digest)| {
            let digest =
                digest_from_hex(&digest).ok_or_else(|| format!("`{name}` holds no digest"))?;
            Ok((table, digest))
        })
        .collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
pub(crate) mod tests {
    use super::*;

    pub(crate) fn entry(number: u64, previous: Digest32) -> Entry {
        Entry {
            number,
            previous,
            act: Act::Marked,
            by: By::new(Role::Marker, Moment::parse("2027-06-12T09:30:00Z")),
            clock_set_back: false,
            details: Details::from([("answers".to_owned(), "12".to_owned())]),
            before: States::from([("mark".to_owned(), [1; 32])]),
            after: States::from([("mark".to_owned(), [2; 32])]),
        }
    }

    #[test]
    fn an_entry_is_read_as_written() {
        let mut entry = entry(3, [9; 32]);
        entry.by.confirmed_by = Some(Role::ChiefExaminer);
        entry.clock_set_back = true;
        assert_eq!(Entry::read(&entry.text()).unwrap(), entry);
    }

    #[test]
    fn what_is_not_written_so_is_no_entry() {
        let text = entry(0, NOTHING_BEFORE).text();
        for (old, new, why) in [
            ("{\"act\"", "{ \"act\"", "canonical"),
            ("\"marked\"", "\"marred\"", "no act"),
            ("\"marker\"", "\"boss\"", "no role"),
            ("\"number\":0", "\"number\":0,\"odd\":1", "no member"),
            ("\"time\":\"2027", "\"time\":\"202x", "no moment"),
            ("0000\"", "000A\"", "no digest"),
        ] {
            assert!(text.contains(old), "{old}");
            let read = Entry::read(&text.replacen(old, new, 1)).unwrap_err();
            assert!(read.contains(why), "{read}");
        }
    }
}
