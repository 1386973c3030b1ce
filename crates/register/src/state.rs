//! The digest of a table: what an entry says of the rest of the register.
//!
//! SHA-256 over `valinch table 1`, the table's name, the names of its columns, then every row in the
//! order of its primary key. Each text is led by its length as a 64-bit big-endian number; a cell is
//! led by one letter: `n` nothing, `i` a whole number (64-bit big-endian), `r` a real number (IEEE
//! 754, big-endian), `t` a text, `b` bytes; a row is led by `R`. The digest enters the ledger as a
//! commitment with a salt that is made from the exam seed, since one who sees an entry may not try out
//! what stands in a table. The details of an entry are in clear and have no salt.

use base::ExamSeed;
use rusqlite::Connection;
use rusqlite::types::ValueRef;
use sha2::{Digest, Sha256};

use crate::commitment::{commit, derive};
use crate::error::RegisterError;
use crate::hex::Digest32;
use crate::ledger::States;

const DOMAIN: &str = "valinch state 1";

/// Tables of which the ledger does not speak: itself and its head.
const NOT_SPOKEN_OF: [&str; 2] = ["ledger", "ledger_head"];

/// The tables of a register of which the ledger speaks, by name.
pub(crate) fn tables(connection: &Connection) -> Result<Vec<String>, RegisterError> {
    let mut select = connection.prepare(
        "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name",
    )?;
    let names: Vec<String> = select
        .query_map([], |row| row.get(0))?
        .collect::<Result<_, _>>()?;
    Ok(names
        .into_iter()
        .filter(|name| !NOT_SPOKEN_OF.contains(&name.as_str()))
        .collect())
}

/// The digests of these tables.
pub(crate) fn states(
    connection: &Connection,
    seed: &ExamSeed,
    tables: &[impl AsRef<str>],
) -> Result<States, RegisterError> {
    let salt = derive(seed.bytes(), DOMAIN.as_bytes(), b"state");
    tables
        .iter()
        .map(|table| {
            let table = table.as_ref();
            let digest = table_digest(connection, table)?;
            Ok((table.to_owned(), commit(DOMAIN, &salt, &digest)))
        })
        .collect()
}

fn put(hash: &mut Sha256, bytes: &[u8]) {
    hash.update((bytes.len() as u64).to_be_bytes());
    hash.update(bytes);
}

fn table_digest(connection: &Connection, table: &str) -> Result<Digest32, RegisterError> {
    let mut info = connection.prepare("SELECT name, pk FROM pragma_table_info(?1) ORDER BY cid")?;
    let columns: Vec<(String, u32)> = info
        .query_map([table], |row| Ok((row.get(0)?, row.get(1)?)))?
        .collect::<Result<_, _>>()?;
    let mut key: Vec<&(String, u32)> = columns.iter().filter(|(_, place)| *place > 0).collect();
    key.sort_by_key(|(_, place)| *place);
    let list = |names: Vec<&str>| {
        names
            .iter()
            .map(|n| format!("\"{n}\""))
            .collect::<Vec<_>>()
            .join(", ")
    };
    let order = if key.is_empty() {
        "rowid".to_owned()
    } else {
        list(key.iter().map(|(name, _)| name.as_str()).collect())
    };
    let mut hash = Sha256::new();
    put(&mut hash, b"valinch table 1");
    put(&mut hash, table.as_bytes());
    for (name, _) in &columns {
        put(&mut hash, name.as_bytes());
    }
    let all = list(columns.iter().map(|(name, _)| name.as_str()).collect());
    // Names come from the schema of a file of ours and are quoted; SQLite takes none as parameters.
    let mut select =
        connection.prepare(&format!("SELECT {all} FROM \"{table}\" ORDER BY {order}"))?;
    let mut rows = select.query([])?;
    while let Some(row) = rows.next()? {
        hash.update(b"R");
        for place in 0..columns.len() {
            match row.get_ref(place)? {
                ValueRef::Null => hash.update(b"n"),
                ValueRef::Integer(number) => {
                    hash.update(b"i");
                    hash.update(number.to_be_bytes());
                }
                ValueRef::Real(number) => {
                    hash.update(b"r");
                    hash.update(number.to_be_bytes());
                }
                ValueRef::Text(text) => {
                    hash.update(b"t");
                    put(&mut hash, text);
                }
                ValueRef::Blob(bytes) => {
                    hash.update(b"b");
                    put(&mut hash, bytes);
                }
            }
        }
    }
    Ok(hash.finalize().into())
}
