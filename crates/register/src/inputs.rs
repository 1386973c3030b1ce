//! The texts from which a sitting was made.

use std::collections::BTreeMap;

use rusqlite::{Connection, params};
use sha2::{Digest, Sha256};

use crate::error::RegisterError;
use crate::hex::to_hex;
use crate::schema;

/// A text as it was when the sitting was assembled.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StoredText {
    /// Its name: a path below the exam folder, or `bank/…` for the bank's.
    pub name: String,
    /// The text.
    pub text: String,
}

/// The digests of texts by their names.
pub type Digests = BTreeMap<String, String>;

/// The digests of these texts.
#[must_use]
pub fn digests(texts: &[StoredText]) -> Digests {
    let all = texts.iter();
    all.map(|text| (text.name.clone(), digest_of(&text.text)))
        .collect()
}

/// SHA-256 of a text, 64 hexadecimal digits.
#[must_use]
pub fn digest_of(text: &str) -> String {
    to_hex(&Sha256::digest(text.as_bytes()))
}

pub(crate) fn write(connection: &Connection, inputs: &[StoredText]) -> Result<(), RegisterError> {
    let mut insert = connection
        .prepare("INSERT INTO input (place, name, digest, content) VALUES (?1, ?2, ?3, ?4)")?;
    for (place, input) in inputs.iter().enumerate() {
        insert.execute(params![
            place as i64,
            input.name,
            digest_of(&input.text),
            input.text
        ])?;
    }
    Ok(())
}

/// Adds corrected texts behind those that stand; nothing is written over.
pub(crate) fn amend(connection: &Connection, texts: &[StoredText]) -> Result<(), RegisterError> {
    let mut insert =
        connection.prepare("INSERT INTO amendment (name, digest, content) VALUES (?1, ?2, ?3)")?;
    for text in texts {
        insert.execute(params![text.name, digest_of(&text.text), text.text])?;
    }
    Ok(())
}

/// The texts as the sitting was drawn from them, whatever was corrected since.
pub(crate) fn read_as_drawn(connection: &Connection) -> Result<Vec<StoredText>, RegisterError> {
    read_from(connection, "input")
}

/// The digests of the texts as the sitting was drawn from them: to these a seal binds, whoever was
/// taken out of a text since.
pub(crate) fn digests_as_drawn(connection: &Connection) -> Result<Digests, RegisterError> {
    let mut select = connection.prepare("SELECT name, digest FROM input")?;
    let all = select
        .query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?
        .collect::<Result<_, _>>()?;
    Ok(all)
}

/// The texts as they count now: each as drawn, or as it was last corrected.
pub(crate) fn read(connection: &Connection) -> Result<Vec<StoredText>, RegisterError> {
    let mut inputs = read_as_drawn(connection)?;
    // A register that is only checked is not brought to this version first.
    if schema::version_of(connection)? < schema::AMENDMENTS_SINCE {
        return Ok(inputs);
    }
    for amended in read_from(connection, "amendment")? {
        match inputs.iter_mut().find(|input| input.name == amended.name) {
            Some(input) => *input = amended,
            None => inputs.push(amended),
        }
    }
    Ok(inputs)
}

fn read_from(connection: &Connection, table: &str) -> Result<Vec<StoredText>, RegisterError> {
    let parted = if schema::version_of(connection)? < schema::IDENTITY_SINCE {
        "0"
    } else {
        "parted"
    };
    let mut select = connection.prepare(&format!(
        "SELECT name, digest, content, {parted} FROM {table} ORDER BY place"
    ))?;
    let rows = select.query_map([], |row| {
        Ok((
            row.get::<_, String>(0)?,
            row.get::<_, String>(1)?,
            row.get::<_, String>(2)?,
            row.get::<_, bool>(3)?,
        ))
    })?;
    let mut inputs = Vec::new();
    for row in rows {
        let (name, digest, text, parted) = row?;
        // Of one from which people were taken, the ledger says what it must be.
        if !parted && digest_of(&text) != digest {
            return Err(RegisterError::Damaged(format!(
                "the stored text {name} does not fit its digest"
            )));
        }
        inputs.push(StoredText { name, text });
    }
    Ok(inputs)
}
