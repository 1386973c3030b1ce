//! The ledger in the register: adds an entry within the act that it tells of, reads all.

use base::ExamSeed;
use rusqlite::{Connection, OptionalExtension, params};

use crate::error::RegisterError;
use crate::hex::{digest_from_hex, to_hex};
use crate::ledger::{Act, Details, Entry, Head, NOTHING_BEFORE, States};
use crate::merkle::Growing;
use crate::role::By;
use crate::state;

fn damaged(what: &str) -> RegisterError {
    RegisterError::Damaged(what.to_owned())
}

/// The tree as it was left.
fn tree(connection: &Connection) -> Result<Growing, RegisterError> {
    let stored: Option<(i64, String)> = connection
        .query_row("SELECT size, parts FROM ledger_head", [], |row| {
            Ok((row.get(0)?, row.get(1)?))
        })
        .optional()?;
    let Some((size, parts)) = stored else {
        return Ok(Growing::default());
    };
    let parts: Option<Vec<_>> = parts.split_whitespace().map(digest_from_hex).collect();
    u64::try_from(size)
        .ok()
        .zip(parts)
        .and_then(|(size, parts)| Growing::from_parts(size, parts))
        .ok_or_else(|| damaged("the head of the ledger is not readable"))
}

/// The head of the ledger.
pub(crate) fn head(connection: &Connection) -> Result<Head, RegisterError> {
    let tree = tree(connection)?;
    Ok(Head {
        size: tree.size(),
        root: tree.root(),
    })
}

/// The texts of all entries, in order.
pub(crate) fn texts(connection: &Connection) -> Result<Vec<String>, RegisterError> {
    let mut select = connection.prepare("SELECT entry FROM ledger ORDER BY number")?;
    let texts = select
        .query_map([], |row| row.get(0))?
        .collect::<Result<_, _>>()?;
    Ok(texts)
}

/// An act that is being done: the tables it will change, as they were before.
pub(crate) struct Begun<'a> {
    seed: &'a ExamSeed,
    tables: Vec<String>,
    before: States,
}

/// Before an act that changes these tables.
pub(crate) fn begin<'a>(
    connection: &Connection,
    seed: &'a ExamSeed,
    tables: &[&str],
) -> Result<Begun<'a>, RegisterError> {
    Ok(Begun {
        seed,
        tables: tables.iter().map(|table| (*table).to_owned()).collect(),
        before: state::states(connection, seed, tables)?,
    })
}

impl Begun<'_> {
    /// After the act: adds its entry. In the same transaction, so that there is no act without its
    /// entry and no entry without its act.
    pub(crate) fn enter(
        self,
        connection: &Connection,
        act: Act,
        by: &By,
        details: Details,
    ) -> Result<Head, RegisterError> {
        let after = state::states(connection, self.seed, &self.tables)?;
        append(connection, act, by, details, self.before, after)
    }
}

/// Adds an entry.
pub(crate) fn append(
    connection: &Connection,
    act: Act,
    by: &By,
    details: Details,
    before: States,
    after: States,
) -> Result<Head, RegisterError> {
    let mut tree = tree(connection)?;
    let number = tree.size();
    let last: Option<String> = connection
        .query_row(
            "SELECT entry FROM ledger ORDER BY number DESC LIMIT 1",
            [],
            |row| row.get(0),
        )
        .optional()?;
    let last_time = last_time(connection)?;
    let back = matches!((&by.time, &last_time), (Some(now), Some(last)) if now < last);
    let entry = Entry {
        number,
        previous: last.as_deref().map_or(NOTHING_BEFORE, Entry::leaf),
        act,
        by: by.clone(),
        clock_set_back: back,
        details,
        before,
        after,
    };
    let text = entry.text();
    connection.execute(
        "INSERT INTO ledger (number, entry) VALUES (?1, ?2)",
        params![
            i64::try_from(number).map_err(|_| damaged("the ledger is too long"))?,
            text
        ],
    )?;
    tree.push(Entry::leaf(&text));
    let parts: Vec<String> = tree.parts().iter().map(|part| to_hex(part)).collect();
    connection.execute(
        "INSERT INTO ledger_head (only, size, parts) VALUES (1, ?1, ?2)
         ON CONFLICT (only) DO UPDATE SET size = excluded.size, parts = excluded.parts",
        params![
            i64::try_from(tree.size()).unwrap_or(i64::MAX),
            parts.join(" ")
        ],
    )?;
    Ok(Head {
        size: tree.size(),
        root: tree.root(),
    })
}

/// The time of the last entry that has one.
fn last_time(connection: &Connection) -> Result<Option<crate::role::Moment>, RegisterError> {
    let mut select = connection.prepare("SELECT entry FROM ledger ORDER BY number DESC")?;
    let mut rows = select.query([])?;
    while let Some(row) = rows.next()? {
        let text: String = row.get(0)?;
        // What is no entry any more is told by the check; a new act is entered all the same.
        if let Ok(Entry {
            by: By {
                time: Some(time), ..
            },
            ..
        }) = Entry::read(&text)
        {
            return Ok(Some(time));
        }
    }
    Ok(None)
}
