//! Who is behind the numbers: never in the tables that hold answers and marks.
//!
//! The plan says where it is kept. In a **separate file**, the roster as it was written: then the table
//! `person` holds for each number a commitment to the person, with a salt of its own, so that a name that
//! was changed or swapped is found, and nothing of it can be read. Or **locked** in the table `identity`,
//! as one text in the age format that only the chief examiner's passphrase opens.
//!
//! Erasing a person takes away the commitment with its salt, or locks the rest up anew without them:
//! what the ledger then still holds is a digest of what nobody can put together again.

use base::{CandidateNumber, ExamSeed};
use exam_plan::{People, Person};
use rusqlite::{Connection, OptionalExtension, params};
use serde_json::{Map, Value, json};
use zeroize::Zeroizing;

use crate::canonical;
use crate::commitment::{commit, derive};
use crate::error::RegisterError;
use crate::hex::{Digest32, digest_from_hex, to_hex};
use crate::schema;
use crate::seal::{CannotOpen, Locked, Opener, Secret, lock, open};

/// The domain of the commitments to persons.
const PERSON: &str = "valinch person 1";
/// What the locked text says it is.
const FORMAT: &str = "valinch people 1";

/// Where it is kept who is behind the numbers, with what the register holds of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Identity {
    /// In the text of the roster: so did registers of before version 6.
    InTexts,
    /// In a file of its own, bound to by these commitments. Who was erased has none.
    SeparateFile(Vec<Commitment>),
    /// Here, locked.
    Locked(Vec<u8>),
    /// Nowhere: its time was over.
    Removed,
}

/// What binds to one person and shows nothing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Commitment {
    /// The number.
    pub candidate: CandidateNumber,
    salt: Digest32,
    digest: Digest32,
}

/// A person as the commitment and the locked text have it.
fn person_value(number: &CandidateNumber, person: &Person) -> Value {
    let mut members = Map::new();
    members.insert("candidate".to_owned(), json!(number.as_str()));
    members.insert("name".to_owned(), json!(person.name));
    if let Some(note) = &person.note {
        members.insert("note".to_owned(), json!(note));
    }
    members.into()
}

fn digest(number: &CandidateNumber, person: &Person, salt: &Digest32) -> Digest32 {
    // It holds no number, so it has a canonical form.
    let text = Zeroizing::new(canonical::write(&person_value(number, person)).unwrap_or_default());
    commit(PERSON, salt, text.as_bytes())
}

impl Commitment {
    /// Binds a number to a person, with a salt made from a secret that is kept nowhere.
    #[must_use]
    pub fn to(number: &CandidateNumber, person: &Person, secret: &ExamSeed) -> Self {
        let salt = derive(
            secret.bytes(),
            PERSON.as_bytes(),
            number.as_str().as_bytes(),
        );
        Self {
            candidate: number.clone(),
            digest: digest(number, person, &salt),
            salt,
        }
    }
    /// Whether this is the person.
    #[must_use]
    pub fn is_of(&self, person: &Person) -> bool {
        digest(&self.candidate, person, &self.salt) == self.digest
    }
}

impl Identity {
    /// Binds everybody, for a file of its own.
    #[must_use]
    pub fn beside(people: &People, secret: &ExamSeed) -> Self {
        let all = people.all();
        Self::SeparateFile(
            all.map(|(number, person)| Commitment::to(number, person, secret))
                .collect(),
        )
    }
    /// Locks everybody up.
    ///
    /// # Errors
    /// When the machine does not do it.
    pub fn locked(people: &People, passphrase: &Secret) -> Result<Self, CannotOpen> {
        let all: Vec<Value> = people.all().map(|(n, p)| person_value(n, p)).collect();
        let value = json!({ "format": FORMAT, "people": all });
        let text = Zeroizing::new(canonical::write(&value).unwrap_or_default());
        lock(text.as_bytes(), &Locked::Passphrase(passphrase.clone())).map(Self::Locked)
    }
}

/// Opens a locked text.
///
/// # Errors
/// When the passphrase is another one, or the text is none of this format.
pub fn unlock(locked: &[u8], passphrase: &Secret) -> Result<People, CannotOpen> {
    let text = open(locked, &Opener::Passphrase(passphrase.clone()))?;
    read_people(&text).ok_or_else(|| CannotOpen("what is in it are no people".to_owned()))
}

fn read_people(text: &str) -> Option<People> {
    let value = canonical::read(text).ok()?;
    if value.get("format")?.as_str()? != FORMAT {
        return None;
    }
    let all = value.get("people")?.as_array()?.iter();
    all.map(|one| {
        let number = CandidateNumber::parse(one.get("candidate")?.as_str()?).ok()?;
        let note = match one.get("note") {
            None => None,
            Some(note) => Some(note.as_str()?.to_owned()),
        };
        let name = one.get("name")?.as_str()?.to_owned();
        Some((number, Person { name, note }))
    })
    .collect()
}

const IN_FILE: &str = "separate-file";
const LOCKED: &str = "locked";
const REMOVED: &str = "removed";

/// The tables in which this stands.
pub(crate) const TABLES: [&str; 2] = ["identity", "person"];

/// Puts it in the place of what stood there. Within a transaction of the caller.
pub(crate) fn write(connection: &Connection, identity: &Identity) -> Result<(), RegisterError> {
    connection.execute("DELETE FROM person", [])?;
    connection.execute("DELETE FROM identity", [])?;
    let (kept, locked): (&str, &[u8]) = match identity {
        Identity::InTexts => return Ok(()),
        Identity::SeparateFile(_) => (IN_FILE, &[]),
        Identity::Locked(bytes) => (LOCKED, bytes),
        Identity::Removed => (REMOVED, &[]),
    };
    connection.execute(
        "INSERT INTO identity (only, kept, locked) VALUES (1, ?1, ?2)",
        params![kept, locked],
    )?;
    if let Identity::SeparateFile(all) = identity {
        let mut insert = connection
            .prepare("INSERT INTO person (candidate, salt, digest) VALUES (?1, ?2, ?3)")?;
        for one in all {
            insert.execute(params![
                one.candidate.as_str(),
                to_hex(&one.salt),
                to_hex(&one.digest)
            ])?;
        }
    }
    Ok(())
}

/// Reads it; a register of before this table keeps people in its texts.
pub(crate) fn read(connection: &Connection) -> Result<Identity, RegisterError> {
    if schema::version_of(connection)? < schema::IDENTITY_SINCE {
        return Ok(Identity::InTexts);
    }
    let kept: Option<(String, Vec<u8>)> = connection
        .query_row("SELECT kept, locked FROM identity", [], |row| {
            Ok((row.get(0)?, row.get(1)?))
        })
        .optional()?;
    let damaged = |what: &str| RegisterError::Damaged(what.to_owned());
    let Some((kept, locked)) = kept else {
        return Ok(Identity::InTexts);
    };
    match kept.as_str() {
        LOCKED => Ok(Identity::Locked(locked)),
        REMOVED => Ok(Identity::Removed),
        IN_FILE => {
            let mut select = connection
                .prepare("SELECT candidate, salt, digest FROM person ORDER BY candidate")?;
            let rows = select.query_map([], |row| {
                Ok((
                    row.get::<_, String>(0)?,
                    row.get::<_, String>(1)?,
                    row.get::<_, String>(2)?,
                ))
            })?;
            let mut all = Vec::new();
            for row in rows {
                let (number, salt, digest) = row?;
                let read = CandidateNumber::parse(&number)
                    .ok()
                    .zip(digest_from_hex(&salt))
                    .zip(digest_from_hex(&digest));
                let ((candidate, salt), digest) =
                    read.ok_or_else(|| damaged("a person's commitment is not readable"))?;
                all.push(Commitment {
                    candidate,
                    salt,
                    digest,
                });
            }
            Ok(Identity::SeparateFile(all))
        }
        _ => Err(damaged("where people are kept is not readable")),
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn number(text: &str) -> CandidateNumber {
        CandidateNumber::parse(text).unwrap()
    }

    fn person(name: &str, note: Option<&str>) -> Person {
        Person {
            name: name.to_owned(),
            note: note.map(str::to_owned),
        }
    }

    #[test]
    fn a_commitment_binds_to_number_name_and_note() {
        let secret = ExamSeed::from_bytes([3; 32]);
        let ada = person("Ada", Some("late"));
        let bound = Commitment::to(&number("C-1"), &ada, &secret);
        assert!(bound.is_of(&ada));
        assert!(!bound.is_of(&person("Ada", None)));
        assert!(!bound.is_of(&person("Bo", Some("late"))));
        let other = Commitment::to(&number("C-2"), &ada, &secret);
        assert_ne!((bound.digest, bound.salt), (other.digest, other.salt));
    }

    #[test]
    fn who_was_locked_up_comes_back_for_the_passphrase_alone() {
        let people: People = [
            (number("C-1"), person("Ada \"the nose\"", None)),
            (number("C-2"), person("Bo", Some("hears badly"))),
        ]
        .into_iter()
        .collect();
        let secret = |text: &str| Secret::new(text.to_owned());
        let Identity::Locked(bytes) = Identity::locked(&people, &secret("heron")).unwrap() else {
            unreachable!("locked is locked");
        };
        assert!(bytes.starts_with(b"age-encryption.org/v1\n"));
        assert!(!bytes.windows(3).any(|three| three == b"Ada"));
        assert_eq!(unlock(&bytes, &secret("heron")).unwrap(), people);
        assert!(unlock(&bytes, &secret("hero")).is_err());
        for other in [
            "",
            "{}",
            "{\"format\":\"valinch people 1\",\"people\":[{}]}",
        ] {
            assert_eq!(read_people(other), None, "{other}");
        }
    }
}
